"""Bind-offs drawn at a row's end, done where the next row starts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.knitting.cloth.fabric import Fabric, cells
from companion.knitting.cloth.row_starts import bound_off_at_starts
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.plan.outline import for_hands
from tests.plan.plans import HEAD, read
from tests.simulator.charts import wanted
from tests.simulator.checking import as_listed, as_printed, from_chart, from_ledger, from_reckoning
from tests.simulator.words import Manner


def drawn(*lines: str, more: str = "") -> Piece:
    return read(f"{HEAD}rows:\n  - chart: |\n" + "".join(f"      {line}\n" for line in lines) + more).piece


def picture(fabric: Fabric) -> list[str]:
    """Rows in working order, the last one first, as they are drawn."""
    return ["".join(cell.yarn[0] if cell else "." for cell in cells(row))[::-1] for row in fabric.rows[::-1]]


ARMHOLES = (
    "...ssbb....",
    "...ssbb....",
    "...ssbb....",  # row 4: three at the left edge, where right hands begin a wrong-side row
    "sssssbb....",  # row 3: four at the right edge, where they begin a right-side row
    "sssssbbbbbb",
    "sssssbbbbbb",
)


def test_left_hands_bind_off_a_row_later() -> None:
    piece = drawn(*ARMHOLES)
    assert picture(bound_off_at_starts(piece.fabric, is_mirrored=False)) == picture(piece.fabric) == list(ARMHOLES)
    mirrored = for_hands(piece, is_mirrored=True)
    assert picture(mirrored.fabric) == [
        "...ssbb....",
        "...ssbb....",  # row 5, a right-side row, begins at the left edge: three
        "sssssbb....",  # row 4, a wrong-side row, at the right edge: four
        "sssssbbbbbb",
        "sssssbbbbbb",
        "sssssbbbbbb",
    ]
    assert for_hands(mirrored, is_mirrored=True) == mirrored
    with pytest.raises(ValueError, match="read anew"):
        mirrored.for_hands(is_mirrored=False)


def test_what_is_gone_in_the_last_row_goes_with_its_bind_off() -> None:
    piece = drawn("ssbb...", "ssbbbbb", "ssbbbbb")
    assert picture(for_hands(piece, is_mirrored=True).fabric) == ["ssbbbbb"] * 3


def test_what_is_kept_is_worked_like_the_edge_and_nothing_is_sewn_on_it() -> None:
    head = HEAD.replace("  b: brick\n", "  b: brick\n  k: {yarn: sand, sewn: brick}\n")
    piece = read(f"{head}rows:\n  - chart: |\n      bbk...\n      bbk...\n      bbbbbb\n      bbbbbb\n").piece
    row = for_hands(piece, is_mirrored=True).fabric.rows[2]
    assert [(run.columns, run.stitch and (run.stitch.yarn, run.stitch.sewn)) for run in row.runs] == [
        (3, ("sand", "")), (1, ("sand", "brick")), (2, ("brick", "")),
    ]  # fmt: skip


def test_two_are_decreased_where_they_are_drawn_and_a_plan_without_bind_offs_stays_itself() -> None:
    piece = drawn("ssbb..", "ssbbbb", "ssbbbb")
    assert for_hands(piece, is_mirrored=True).fabric is piece.fabric


def test_parts_bind_off_at_their_outer_edges_a_row_later_and_the_middle_where_they_begin() -> None:
    opening = "    opening: {first: right}\n"
    piece = drawn("sssss....bbb....", "sssss....bbb....", "sssssbbbbbbbbbbb", "sssssbbbbbbbbbbb", more=opening)
    mirrored = for_hands(piece, is_mirrored=True)
    # Row 1 of the right part, a right-side row, begins at the opening for left hands, and ends where four would go.
    assert picture(mirrored.fabric)[2:4] == [".........bbb....", ".........bbbbbbb"]
    held(mirrored)


@pytest.mark.parametrize("shape", [ARMHOLES, ("...ssb...", "...ssb...", "sssssb...", "sssssbbbb", "sssssbbbb")])
def test_they_are_knitted_as_such_hands_have_them(shape: tuple[str, ...]) -> None:
    held(for_hands(drawn(*shape), is_mirrored=True))


def held(piece: Piece) -> None:
    """The simulator's left hands knit it, by its printed rows and by its steps."""
    for each in (piece, replace(piece, is_off_each=True)):
        strands, asked = plan_strands(each.rows, each.carry).strands, wanted(each.fabric)
        listed = as_listed(each, strands, asked)
        for knitted in (listed, as_printed(each, strands, asked, Manner(is_mirrored=True))):
            assert list(from_chart(asked, knitted)) == []
            assert knitted.needles.notes == []
        assert list(from_ledger(strands, listed)) == []
        assert list(from_reckoning(each, strands, listed)) == []
