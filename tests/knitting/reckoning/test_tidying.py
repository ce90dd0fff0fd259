"""Few stitches in another yarn that spare strands: priced as the solver prices them, and nothing held is touched."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.reckoning.tidying import MOST_SOLVED, Patch, patches, strands_with
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load_text

HEAD = """\
plan: 1
title: Quay
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, ink: {colour: black}, brick: {colour: brown}}
symbols: {s: sand, i: ink, b: brick}
"""


def piece_of(*lines: str, keys: str = "", worked: str = "flat"):
    drawn = "".join(f"      {line}\n" for line in lines)
    return load_text(f"{HEAD}{keys}rows:\n  - chart: |\n{drawn}    worked: {worked}\n", "quay.yaml", {}).piece


def everywhere(piece) -> set[Cell]:
    return {Cell(index, at) for index, row in enumerate(piece.fabric.rows) for at in range(1, row.columns + 1)}


def solved(piece, taken: list[Patch]) -> int:
    yarns = {cell: yarn for patch in taken for cell, yarn in patch.yarns.items()}
    changed = replace(piece, fabric=in_other_yarns(piece.fabric, yarns))
    return plan_strands(changed.rows, changed.carry).strands.total.strands


CHARTS = st.integers(2, 9).flatmap(
    lambda wide: st.lists(st.text("sssiib", min_size=wide, max_size=wide), min_size=2, max_size=7)
)


@given(CHARTS, st.integers(1, 8), st.data())
def test_a_patch_spares_what_the_solver_says_alone_and_with_the_others(
    lines: list[str], worth: int, data: st.DataObject
) -> None:
    piece = piece_of(*lines)
    free = {cell for cell in sorted(everywhere(piece)) if data.draw(st.integers(0, 9))}
    before = solved(piece, [])
    found = patches(piece, free, worth)
    for patch in found:
        assert set(patch.cells) <= free
        assert {lines[-1 - cell.row][-cell.column] for cell in patch.cells} == {patch.yarn[0]}
        assert patch.yarn != patch.instead
        assert before - solved(piece, [patch]) == patch.strands
        assert 0 < len(patch.cells) < patch.strands * worth
    assert strands_with(piece, found) == solved(piece, found)
    cells = [cell for patch in found for cell in patch.cells]
    assert len(cells) == len(set(cells))


def test_a_speck_is_found_and_stays_where_it_is_held() -> None:
    """A speck of ink in sand is a strand of its own and cuts the sand in two: by hand."""
    piece = piece_of("sssssssss", "ssssissss", "sssssssss")
    [speck] = patches(piece, everywhere(piece))
    assert speck == Patch("ink", "sand", (Cell(1, 5),), 2)
    assert patches(piece, everywhere(piece) - {Cell(1, 5)}) == []


def test_what_is_sewn_over_stays() -> None:
    keys = "sewn_on: [{yarn: ink, over: brick, row: 2, stitch: 5}]\n"
    piece = piece_of("sssssssss", "ssssissss", "sssssssss", keys=keys)
    assert piece.fabric.rows[1].runs[1].stitch.yarn == "brick"
    assert patches(piece, everywhere(piece)) == []


LIMITS = ("reach: 3", "behind: 3", "rest: 2", "share: true", "behind: 1, rest: 1", "share_runs: true")


@settings(max_examples=60)
@given(CHARTS, st.integers(1, 8), st.sampled_from(LIMITS), st.booleans())
def test_where_strands_are_not_counted_a_patch_is_solved(
    lines: list[str], worth: int, limits: str, is_round: bool
) -> None:
    piece = piece_of(*lines, keys=f"carry: {{{limits}}}\n", worked="round" if is_round else "flat")
    before = solved(piece, [])
    found = patches(piece, everywhere(piece), worth)
    for patch in found:
        assert before - solved(piece, [patch]) == patch.strands
        assert 0 < len(patch.cells) < patch.strands * worth
    assert strands_with(piece, found) == solved(piece, found)


def test_in_a_shaped_piece_no_stitch_stays_none() -> None:
    """The slopes are bound off; in the middle lies a speck."""
    piece = piece_of("..ssiss..", "sssssssss", "ssssissss", "sssssssss")
    assert piece.fabric.is_shaped
    assert [patch.cells for patch in patches(piece, everywhere(piece))] == [(Cell(1, 5),), (Cell(3, 5),)]


def test_many_patches_are_solved_the_smallest_first_and_no_more_than_is_said() -> None:
    lines = ["sssisss" * 30, "sssssss" * 30] * 3
    piece = piece_of(*lines, keys="carry: {behind: 1}\n")
    assert len(patches(piece, everywhere(piece))) == MOST_SOLVED
