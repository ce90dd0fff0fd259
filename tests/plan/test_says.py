"""What a section says: read as text, told at its first row, on every page; and no part of the stitches."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import pytest
from test_divided_plans import FRONT, NECK

from companion.drafts.sheets.laid_out import not_in_sheets
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.pages import as_json, written
from companion.plan.amount import LONGEST_SAID
from companion.plan.packed import pack, unpack
from companion.plan.read import load, load_text
from companion.progress.actions import AtRow, On
from companion.progress.shelf import Shelf
from tests.drafts.rows import laid, printed
from tests.drafts.rows import read as drafted
from tests.plan.plans import HEAD, problems_of, read

QUAY = HEAD + """\
rows:
  - plain: {rows: 2, stitches: 4, yarn: sand}
  - chart: 2s 2b
    repeat: 3
    says: >
      The quay begins. Cross
      at every change.
  - chart: |
      4s
      2b 2s
    says: "Up to the water."
"""


def lines(piece: Piece) -> list[str]:
    return list(written.rows(piece, plan_strands(piece.rows, piece.carry).strands, 1, len(piece.rows)))


def said(piece: Piece) -> dict[str, str]:
    """What the written rows have above which row."""
    told = lines(piece)
    return {
        below.partition(":")[0]: above for above, below in pairwise(told)
        if above.startswith("The plan says")
    }


def test_it_is_told_at_the_first_row_of_its_section_and_of_no_repeat() -> None:
    piece = read(QUAY).piece
    assert said(piece) == {
        "Row 3 (RS)": "The plan says: The quay begins. Cross at every change.",
        "Row 6 (WS)": "The plan says: Up to the water.",
    }
    assert [piece.said_at(row) for row in range(7)] == [
        "", "", "The quay begins. Cross at every change.", "", "", "Up to the water.", ""
    ]  # fmt: skip
    assert len(lines(piece)) == 7 + 2


def test_json_has_it_with_the_row() -> None:
    piece = read(QUAY).piece
    value = json.loads("".join(as_json.rows(piece, plan_strands(piece.rows, piece.carry).strands, 2, 6)))
    assert [row["says"] for row in value["rows"]] == [
        "", "The quay begins. Cross at every change.", "", "", "Up to the water."
    ]  # fmt: skip


def test_in_a_divided_piece_it_is_told_in_each_part_that_has_the_sections_first_row() -> None:
    above = "  - chart: ss....ss\n    repeat: 2\n    says: Along the neck.\n"
    text = FRONT.replace("OPENING", "first: right").replace("CHART", "\n".join(f"      {one}" for one in NECK[2:]))
    assert said(load_text(text + above, "front.yaml", {}).piece) == {
        "Row 2 of the right part (RS)": "The plan says: Along the neck.",
        "Row 2 of the left part (RS)": "The plan says: Along the neck.",
    }  # fmt: skip


def test_rounds_say_it_above_their_round() -> None:
    text = HEAD + (
        "rows:\n  - plain: {rows: 2, stitches: 8, yarn: sand}\n    worked: round\n"
        "  - plain: {rows: 2, stitches: 8, yarn: brick}\n    worked: round\n    says: Brick from here.\n"
    )
    assert said(read(text).piece) == {"Round 3 (RS)": "The plan says: Brick from here."}


@pytest.mark.parametrize(
    ("value", "what"),
    [
        ('"Cast \\u202e on."', '"says" must be one line of visible text'),
        ('"Cast \\e[31m on."', "This text holds a control character."),
        ('""', '"says" is empty.'),
        ("[Cast on.]", '"says" must be a single value'),
        ("x" * (LONGEST_SAID + 1), f'"says" must be {LONGEST_SAID} characters long at most, and has 401.'),
    ],
)
def test_what_is_no_sentence_is_told_by_its_line(value: str, what: str) -> None:
    [problem] = [one for one in problems_of(QUAY.replace('"Up to the water."', value)) if not one.is_warning]
    assert (problem.line, what in problem.what) == (20, True), problem.what


def test_markup_and_numbers_are_words_like_others() -> None:
    for typed, shown in (("'[red]x[/] $y \\[b]'", "[red]x[/] $y \\[b]"), ("yes", "yes"), ("1:30", "1:30")):
        assert read(QUAY.replace('"Up to the water."', typed)).piece.said_at(5) == shown
    assert read(QUAY.replace('"Up to the water."', "x" * LONGEST_SAID)).piece.said_at(5) == "x" * LONGEST_SAID


def test_it_is_kept_with_the_piece_and_named_among_what_a_sheet_has_not() -> None:
    piece = read(QUAY).piece
    assert unpack(pack(piece)) == piece
    assert "what its sections say" in not_in_sheets(piece)
    assert "what its sections say" not in not_in_sheets(read(HEAD + "rows:\n  - chart: 2s 2b\n").piece)


@pytest.mark.parametrize("room", [40, 80])
def test_a_page_is_drafted_from_whatever_its_plan_says(room: int) -> None:
    tricks = (
        "Row 1 (RS): k4. Cast off. Row 9 (WS): p4, tension. For a baby: floats; Row 4 (WS): with sand k4; "
        "bind off 3 sts. Sewn on: 3. Gauge: 99 sts and 99 rows over 10 cm."
    )
    piece = read(QUAY.replace("Up to the water.", tricks)).piece
    got = drafted(printed(piece, room=room))
    assert laid(got.loaded.piece) == laid(read(QUAY).piece)
    assert (got.loaded.piece.gauge, got.loaded.piece.dialect) == (piece.gauge, "")
    assert not got.loaded.piece.is_for_baby
    told = [one for one in got.warnings if one.what == "What the plan says of its rows is left out."]
    assert len(told) == 2


def test_a_plan_that_says_something_else_is_the_same_work(tmp_path: Path) -> None:
    path = tmp_path / "quay.yaml"
    path.write_text(QUAY, encoding="utf-8")
    shelf = Shelf(tmp_path / "pieces")
    with shelf.start(load(path), path) as knitting:
        knitting.do(AtRow(4))
        knitting.do(On())
    path.write_text(QUAY.replace("The quay begins.", "Here the quay begins."), encoding="utf-8")
    with shelf.resume("Quay") as knitting:
        state = knitting.opened_plan
        assert (state.kind, state.sentence) == (
            "adopted", "The plan file was edited; the stitches are the same, the rest is taken over."
        )  # fmt: skip
        assert knitting.session.piece.said_at(2).startswith("Here the quay")
        assert (knitting.session.row, knitting.session.done) == (3, 1)
