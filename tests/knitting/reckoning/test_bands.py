"""Rows worked alike, their share of the rows at another gauge, and outlines that hands can work."""

from __future__ import annotations

from fractions import Fraction
from itertools import groupby

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Fabric
from companion.knitting.reckoning.bands import Band, Outline, Slit, bands, repeat_round, scaled, slits
from companion.plan.outline import troubles
from tests.knitting.reckoning.grids import drawn, grid
from tests.plan.plans import HEAD, charted, read


def workable(*lines: str) -> list[str]:
    return drawn(Outline(grid(*lines), [Band(len(lines))]).rows)


def fabric(sections: str) -> Fabric:
    return read(f"{HEAD}rows:\n{sections}").piece.fabric


# Outlines


def test_what_is_lost_where_a_row_ends_goes_a_row_later() -> None:
    """Row 1 is worked from the right. In row 2, worked from the left, five go at the left edge and none can at the
    right; there they go in row 3."""
    assert workable(".....a....", ".....a....", "aaaaaaaaaa") == [".....a....", ".....aaaaa", "aaaaaaaaaa"]


def test_an_outline_that_hands_can_work_stays_as_it_is() -> None:
    lines = ("..aaaa..", ".aaaaaa.", ".aaaaaa.", "aaaaaaaa", "..aaaa..")
    assert workable(*lines) == list(lines)


@settings(max_examples=40)
@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), min_size=2, max_size=9))
def test_every_outline_around_a_middle_becomes_one_that_hands_can_work(edges: list[tuple[int, int]]) -> None:
    lines = ["." * left + "s" * (26 - left - right) + "." * right for left, right in edges]
    new = workable(*lines)
    assert not list(troubles(charted(*new).piece.rows))
    assert new[-1] == lines[-1]


def test_a_part_loses_many_stitches_where_it_begins_a_row() -> None:
    """Row 2, worked from the left, divides: the left part ends at the opening, the right one begins there. In row 3
    the left one begins there, and three go; those of the right part go in row 4, which begins there again."""
    lines = ["aaa.......bbb", "aaa.......bbb", "aaaaaa.bbbbbb", "aaaaaabbbbbbb"]
    outline = Outline(grid(*lines), [Band(1), Band(3, first="right", at=Fraction(13, 2))])
    assert drawn(outline.rows) == ["aaa.......bbb", "aaa....bbbbbb", "aaaaaa.bbbbbb", "aaaaaabbbbbbb"]
    assert outline.slits == [Slit("right", 1, 0, 0, False)]


def test_parts_that_touch_are_cut_where_the_opening_lies() -> None:
    lines = ["aaaabb", "aaaabb", "aaaabb", "aaaabb"]
    outline = Outline(grid(*lines), [Band(1), Band(2, first="left", at=Fraction(2)), Band(1)])
    assert (drawn(outline.rows), outline.slits) == (lines, [Slit("left", 1, 2, 2, False)])


def test_parts_that_meet_elsewhere_than_they_began_keep_a_gap_of_a_stitch() -> None:
    lines = ["aaaaabbb", "aaa.bbbb", "aaa..bbb", "aaaaabbb"]
    outline = Outline(grid(*lines), [Band(1), Band(3, first="right", at=Fraction(4))])
    assert drawn(outline.rows) == ["aaa.abbb", *lines[1:]]
    assert outline.slits == [Slit("right", 1, 0, 0, False)]


def test_a_row_that_joins_parts_with_a_gap_keeps_their_outer_edges() -> None:
    lines = [".aaaaaa.", "aaa..bbb", "aaaabbbb"]
    outline = Outline(grid(*lines), [Band(1), Band(1, first="right", at=Fraction(4)), Band(1)])
    assert drawn(outline.rows)[0] == "aaaaaaaa"


parts = st.lists(st.tuples(*[st.integers(0, 4)] * 4), min_size=1, max_size=7)


@settings(max_examples=60)
@given(parts, st.integers(1, 2), st.sampled_from(["right", "left"]), st.booleans(), st.booleans())
def test_every_outline_of_two_parts_becomes_one_that_hands_can_work(
    edges: list[tuple[int, int, int, int]], below: int, first: str, is_held: bool, is_joined: bool
) -> None:
    """Two parts of 12 stitches, of which so many are missing at each of the four edges."""
    beside = [
        "." * a + "s" * (12 - a - b) + "." * b + "." * c + "b" * (12 - c - d) + "." * d for a, b, c, d in edges
    ]
    lines = [*["s" * 24] * is_joined, *beside, *["s" * 24] * below]
    part = "right" if first == "right" else "left"
    divided = Band(len(beside), first=part, is_held=is_held, at=Fraction(12))
    outline = Outline(grid(*lines), [Band(below), divided, *[Band(1)] * is_joined])
    [slit] = outline.slits
    new = drawn(outline.rows)
    held, at = ", middle: held" if slit.is_held else "", f", at: {slit.at}" if slit.at else ""
    high = f", rows: {slit.high}" if slit.high else ""
    section = "".join(f"      {line}\n" for line in new[:len(new) - below])
    piece = read(
        f"{HEAD}rows:\n  - plain: {{rows: {below}, stitches: 24, yarn: sand}}\n"
        f"  - opening: {{first: {first}{at}{high}{held}}}\n    chart: |\n{section}"
    ).piece
    assert slits(piece.fabric) == outline.slits
    assert [block.part for block in piece.fabric.blocks][1] == first


# Bands


TUBE = """\
  - plain: {rows: 4, stitches: 12, yarn: sand, stitch: {rib: [2, 2]}}
    worked: round
  - plain: {rows: 3, stitches: 12, yarn: brick}
    worked: round
  - chart: 6s 6b
    repeat: 6
    seam_stitches: 1
  - plain: {rows: 5, stitches: 12, yarn: sand}
    worked: round
"""

DIVIDED = """\
  - plain: {rows: 2, stitches: 12, yarn: sand}
  - opening: {first: left, middle: held}
    chart: |
      5s 2. 5s
      5s 2. 5s
  - opening: {first: right, at: 4, row: 2, rows: 3}
    plain: {rows: 6, stitches: 12, yarn: sand}
"""


def test_rows_that_are_worked_alike_are_a_band() -> None:
    assert bands(fabric(TUBE)) == [Band(4, True), Band(3, True), Band(6, seam=1), Band(5, True)]
    assert bands(fabric(DIVIDED)) == [
        Band(2), Band(2, first="left", is_held=True, at=Fraction(6)), Band(1),
        Band(3, first="right", at=Fraction(4)), Band(2),
    ]  # fmt: skip


def test_openings_are_told_as_a_plan_has_them() -> None:
    assert slits(fabric(DIVIDED)) == [Slit("left", 2, 0, 0, True), Slit("right", 5, 4, 3, False)]


def test_ribs_go_on_where_a_round_ends() -> None:
    assert repeat_round(fabric(TUBE)) == 4
    assert repeat_round(fabric(TUBE.replace("stitches: 12", "stitches: 14").replace("6s 6b", "7s 7b"))) == 1
    assert repeat_round(fabric(TUBE.replace("stitch: {rib: [2, 2]}", "stitch: seed"))) == 2
    assert repeat_round(fabric(DIVIDED)) == 1


@pytest.mark.parametrize(("rows", "shares"), [
    (18, [4, 3, 6, 5]), (9, [2, 2, 2, 3]), (15, [3, 3, 4, 5]), (21, [5, 3, 8, 5]), (6, [1, 1, 2, 2]),
])  # fmt: skip
def test_each_band_has_its_share_and_flat_rows_between_rounds_are_even(rows: int, shares: list[int]) -> None:
    """By hand: of 15 rows the bands end at 3.33, 5.83, 10.83 and 15. Flat rows 7 to 11 would be five; 11 lies above
    10.83, so they are four. Of 21: at 4.67, 8.17, 15.17 and 21; seven flat rows end below 15.17, so they are eight.
    Of 9: at 2, 3.5 (as near to 4, the even one), 6.5, 9. Of 6: at 1.33, 2.33, 4.33, 6."""
    new = scaled(bands(fabric(TUBE)), Fraction(1, 2), rows)
    assert [band.rows for band in new] == shares
    assert scaled(bands(fabric(DIVIDED)), Fraction(3, 2), 10)[3].at == 6


kinds = st.lists(st.tuples(st.integers(1, 9), st.booleans()).map(lambda one: Band(*one)), min_size=1, max_size=6)


@settings(max_examples=60)
@given(kinds, st.integers(1, 120))
def test_rounds_begin_where_flat_rows_end_at_every_gauge(old: list[Band], rows: int) -> None:
    new = scaled(old, Fraction(1), rows)
    runs = [(is_round, sum(band.rows for band in run)) for is_round, run in groupby(new, lambda one: one.is_round)]
    assert [is_round for is_round, _ in runs] == [is_round for is_round, _ in groupby(old, lambda one: one.is_round)]
    assert all(high for _, high in runs)
    assert all(high % 2 == 0 for is_round, high in runs[1:-1] if not is_round)
    if rows >= 2 * sum(band.rows for band in old):
        assert abs(sum(high for _, high in runs) - rows) <= 1
