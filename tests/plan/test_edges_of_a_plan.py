"""How a plan says to cast on and to slip edge stitches, and what is said where it does not fit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.knitting.cloth.rows import LONG_TAIL, Casting
from companion.plan.packed import pack, unpack
from companion.plan.schema.values import METHODS
from companion.problems import show
from tests.plan.plans import HEAD, read, told

CHART = """\
rows:
  - chart: |
      sssbb
      sssbb
      bssbb
"""


def plan(*lines: str, chart: str = CHART) -> str:
    """A plan with these lines at its top level, the first of them line 10."""
    return HEAD + "".join(f"{line}\n" for line in lines) + chart


@pytest.mark.parametrize(
    ("line", "cast_on"),
    [
        ("cast_on: {}", LONG_TAIL),
        ("cast_on: {method: long-tail, colours: one}", LONG_TAIL),
        ("cast_on: {method: knitted}", Casting("knitted")),
        ("cast_on: {method: cable, colours: each}", Casting("cable", is_each=True)),
        ("cast_on: {yarn: sand}", Casting(yarn="sand")),
    ],
)
def test_a_plan_says_how_it_is_cast_on(line: str, cast_on: Casting) -> None:
    loaded = read(plan(line))
    assert loaded.piece.cast_on == loaded.piece.rows.cast_on == cast_on
    assert loaded.warnings == ()
    assert unpack(pack(loaded.piece)) == loaded.piece


def test_a_plan_that_says_nothing_is_cast_on_long_tail_in_one_yarn_and_worked_at_the_edges() -> None:
    piece = read(plan()).piece
    assert (piece.cast_on, piece.has_slipped_edges) == (LONG_TAIL, False)
    assert read(plan("slipped_edges: false")).piece == piece


def test_a_packed_piece_keeps_its_slipped_edges() -> None:
    piece = replace(read(plan()).piece, has_slipped_edges=True, cast_on=Casting("cable", is_each=False, yarn="brick"))
    assert unpack(pack(piece)) == piece
    assert unpack(pack(piece)).rows.has_slipped_edges


def test_a_yarn_that_is_cast_on_alone_is_used() -> None:
    brick = "  brick: {colour: brown}\n"
    text = plan("cast_on: {yarn: tar}").replace(brick, f"{brick}  tar: {{colour: black}}\n")
    assert read(text).warnings == ()


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (
            "cast_on: {method: longtail}",
            'quay.yaml:10:19  "method" must be long-tail, knitted or cable, and is "longtail".\n'
            "   10 | cast_on: {method: longtail}\n"
            "      |                   ^\n"
            '  Did you mean "long-tail"?',
        ),
        (
            "cast_on: {colours: two}",
            'quay.yaml:10:20  "colours" must be one or each, and is "two".\n'
            "   10 | cast_on: {colours: two}\n"
            "      |                    ^\n"
            "  one: all in one yarn. each: every run of its row in its own.",
        ),
        (
            "cast_on: {colours: each, yarn: sand}",
            'quay.yaml:10:1  "cast_on" has a "yarn", and each section has its own.\n'
            "   10 | cast_on: {colours: each, yarn: sand}\n"
            "      | ^\n"
            '  Leave out "yarn", or "colours: each".',
        ),
        (
            "cast_on: {yarn: tar}",
            'quay.yaml:10:17  The yarn "tar" is not under "yarns" (line 4).\n'
            "   10 | cast_on: {yarn: tar}\n"
            "      |                 ^\n"
            "  Yarns of this plan: sand, brick.",
        ),
        (
            "cast_on: knitted",
            'quay.yaml:10:10  "cast_on" is told key by key, and is "knitted".\n'
            "   10 | cast_on: knitted\n"
            "      |          ^\n"
            "  Write it like this: cast_on: {method: knitted}",
        ),
        (
            "slipped_edges: maybe",
            'quay.yaml:10:16  "slipped_edges" must be yes or no, and is "maybe".\n'
            "   10 | slipped_edges: maybe\n"
            "      |                ^",
        ),
    ],
)
def test_what_does_not_fit_is_told_at_its_place_with_how_to_mend_it(line: str, message: str) -> None:
    assert told(plan(line)) == message


def test_the_editor_is_offered_the_methods_that_there_are() -> None:
    assert METHODS == ("long-tail", "knitted", "cable")


def warnings(*lines: str, chart: str = CHART) -> list[str]:
    """What is said of the edges."""
    said = [show(problem) for problem in read(plan(*lines, chart=chart)).warnings]
    return [one for one in said if "edge" in one]


def test_rows_are_named_in_which_the_edge_changes_colour() -> None:
    """Row 1 has brick at its left edge, where row 2 begins, in sand."""
    assert warnings("slipped_edges: true") == [
        "quay.yaml:10:1  Warning: The edge changes colour at the start of row 2: the stitch slipped there keeps the "
        "colour of the row below, so that the new one shows a row late.\n"
        "   10 | slipped_edges: true\n"
        "      | ^\n"
        '  Work that stitch instead of slipping, or keep the edge in one colour: give the section "edges".'
    ]
    assert warnings() == []


def test_an_edge_in_one_colour_gives_no_warning() -> None:
    edged = CHART + "    edges: {stitches: 1, yarn: sand}\n"
    assert warnings("slipped_edges: true", chart=edged) == []


def test_many_rows_are_named_in_stretches_and_the_rest_counted() -> None:
    """Of 32 rows in stripes 2 high every second one changes: rows 3, 5 ... 31; of 15 the first 8 are named. Two rows
    that both change are a stretch."""
    stripes = "rows:\n" + "".join(
        f"  - plain: {{rows: 2, stitches: 4, yarn: {yarn}}}\n" for yarn in ["sand", "brick"] * 8
    )
    (one,) = warnings("slipped_edges: true", chart=stripes)
    assert "at the start of rows 3, 5, 7, 9, 11, 13, 15, 17 and 7 more: the stitch" in one
    in_turn = "rows:\n  - chart: |\n      sss\n      bbb\n      sss\n      sss\n"
    (one,) = warnings("slipped_edges: true", chart=in_turn)
    assert "at the start of rows 3 to 4: the stitch" in one
    assert "Work those stitches instead of slipping" in one
