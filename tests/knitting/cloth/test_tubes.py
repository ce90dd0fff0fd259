"""Tubes with flat parts: stitches for the seam made, worked together and sewn up; nothing is lost from the count."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Strip, sewn_on
from companion.knitting.cloth.carries import carry as carried_over
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, Texture, cells, cells_across
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.cloth.seams import SeamTrouble
from companion.knitting.cloth.shaping import shapings
from companion.knitting.cloth.slipped import is_slipped
from companion.knitting.cloth.tubes import (
    TubeSeam,
    as_drawn,
    left_open,
    tube_seam_troubles,
    tube_seams,
    with_seam_stitches,
)
from companion.knitting.hands.needles import makes
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Count, GoFlat, GoRound, Hold, Shape, Turn
from companion.knitting.reckoning.savings import small_areas
from companion.knitting.reckoning.size import size
from companion.knitting.strands.floats import Float, float_into
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from companion.knitting.words import Terms
from tests import oracles
from tests.knitting.charts import Chart, drawn, limits, piece_of
from tests.oracles import PlainRow

LEFT_HANDED = Terms(is_mirrored=True)


def floats_of(strands: Strands) -> list[Float]:
    return [found for place in strands.rows.places() if (found := float_into(strands, place))]


@dataclass(frozen=True)
class Tube:
    """A chart as drawn, and how many stitches for a seam each row has besides."""

    chart: Chart
    seam_stitches: tuple[int, ...]

    def fabric(self) -> Fabric:
        return with_seam_stitches(self.chart.fabric(), self.seam_stitches)

    def rows(self, *, is_mirrored: bool = False, inward: int = 0) -> Rows:
        return Rows(self.fabric(), is_mirrored=is_mirrored, inward=inward)

    def yarns(self, row: int) -> list[str | None]:
        """Column 1 upward, and column 1 again for the seam: the tube goes round."""
        yarns = [cell and cell.yarn for cell in self.chart.grid[row]]
        return yarns + [yarns[0]] * self.seam_stitches[row]


def tube(*lines: str) -> Tube:
    """Lines as the fabric looks, each with its number of stitches for a seam or "o" for a round: "1 ssbb"."""
    ways = [line.split()[0] for line in reversed(lines)]
    chart = drawn(*(line.split()[1] for line in lines))
    rounds = tuple(way == "o" for way in ways)
    return Tube(Chart(chart.grid, rounds), tuple(0 if way == "o" else int(way) for way in ways))


def textured(one: Tube, texture: Texture) -> Tube:
    grid = tuple(tuple(cell and cell._replace(texture=texture) for cell in row) for row in one.chart.grid)
    return Tube(Chart(grid, one.chart.rounds), one.seam_stitches)


def told(one: Tube, row: int, terms: Terms = words.US) -> list[str]:
    rows = one.rows(is_mirrored=terms.is_mirrored)
    strands = plan_strands(rows, Carry(3)).strands
    return [words.work_in_full(run, terms) for run in row_runs(strands, row - 1)]


ONE = tube("o ssssss", "1 ssbbss", "1 ssbbss", "o ssssss")
TWO = tube("o ssssss", "2 ssbbss", "2 ssbbss", "o ssssss")


@pytest.mark.parametrize(
    ("one", "row", "done"),
    [
        # Row 2 goes on where round 1 ended, from the right; its end is the left edge.
        (ONE, 2, ["knit 2", "knit 2", "knit 2, cast on 1 (backward loop)"]),
        (ONE, 3, ["purl 3", "purl 2", "purl 2"]),
        (ONE, 4, ["knit 5, k2tog"]),
        (TWO, 2, ["knit 2", "knit 2", "knit 2, cast on 2 (backward loop)"]),
        (TWO, 3, ["purl 4", "purl 2", "purl 2"]),
        (TWO, 4, ["knit 5, k3tog"]),
        (textured(ONE, Texture("reverse")), 4, ["purl 5, p2tog"]),
        (textured(TWO, Texture("reverse")), 4, ["purl 5, p3tog"]),
        # Columns 1, 3, 5 are knit, 2, 4, 6 purl: the last one of the round is purled.
        (textured(TWO, Texture("rib", (1, 1))), 4, ["(knit 1, purl 1) 2 times, knit 1, p3tog"]),
        # The loops are of column 1's yarn, a run of their own where the last column has another.
        (tube("1 bsssss", "1 bsssss", "o ssssss"), 2, ["knit 5", "knit 1", "cast on 1 (backward loop)"]),
        # A flat part goes on with the same number: nothing is made. With another one the edge changes by so many.
        (tube("1 ssssss", "1 ssssss", "1 ssssss", "1 ssssss"), 3, ["knit 7"]),
        (tube("2 ssssss", "1 ssssss", "1 ssssss"), 3, ["knit 7, cast on 1 (backward loop)"]),
        (tube("1 ssssss", "0 ssssss"), 2, ["cast on 1 (knitted or cable), purl 7"]),
        (tube("0 ssssss", "2 ssssss", "2 ssssss"), 3, ["knit 5, k3tog"]),
        (tube("0 ssssss", "1 ssssss"), 2, ["p2tog, purl 5"]),
    ],
)  # fmt: skip
def test_by_hand(one: Tube, row: int, done: list[str]) -> None:
    assert told(one, row) == done


@pytest.mark.parametrize(
    ("one", "row", "done"),
    [
        # Worked mirrored a round begins at the left edge: the loops come before the row, and there they are lost.
        (ONE, 2, ["cast on 1 (backward loop), knit 2", "knit 2", "knit 2"]),
        (ONE, 3, ["purl 2", "purl 2", "purl 3"]),
        (ONE, 4, ["ssk, knit 5"]),
        (TWO, 2, ["cast on 2 (backward loop), knit 2", "knit 2", "knit 2"]),
        (TWO, 4, ["sssk, knit 5"]),
        (textured(ONE, Texture("reverse")), 4, ["ssp, purl 5"]),
        (textured(TWO, Texture("reverse")), 4, ["sssp, purl 5"]),
    ],
)  # fmt: skip
def test_by_hand_worked_mirrored(one: Tube, row: int, done: list[str]) -> None:
    assert told(one, row, LEFT_HANDED) == done


def test_shaping_further_in_leaves_the_seam_at_the_edge() -> None:
    assert [(one.how, one.after) for one in shapings(ONE.rows(inward=2), 3)] == [("k2tog", 5)]
    away = tube("0 ssssss", "2 ssssss", "2 ssssss")
    assert [(one.how, one.after) for one in shapings(away.rows(inward=2), 2)] == [("k3tog", 5)]


def test_edges_that_are_sewn_together_are_not_slipped() -> None:
    one = tube("0 ssssss", "0 ssssss", "1 ssssss", "1 ssssss", "o ssssss")
    rows = Rows(one.fabric(), has_slipped_edges=True)
    assert [is_slipped(rows, row) for row in range(5)] == [False, False, False, True, True]


def test_counts_stand_at_the_end_of_every_row() -> None:
    strands = plan_strands(TWO.rows(), Carry(3)).strands
    ends = [row_end(strands, row) for row in range(4)]
    assert [end[0] for end in ends] == [Count(6, 0), Count(8, 2), Count(8, 0), Count(6, -2)]
    assert [[step for step in end if isinstance(step, Turn | GoFlat | GoRound)] for end in ends] == [
        [GoFlat()], [Turn("toward")], [Turn("away"), GoRound(is_again=True)], [],
    ]  # fmt: skip


def test_picked_up_in_mid_row_loops_to_come_are_not_on_the_needle_yet() -> None:
    def waiting(row: int, done: int, terms: Terms = words.US) -> str:
        rows = ONE.rows(is_mirrored=terms.is_mirrored)
        left = row_runs(plan_strands(rows, Carry(3)).strands, row)[done].left
        return words.where_you_are(rows[row], done, left, terms)

    assert "2 stitches on the right needle, 4 on the left." in waiting(1, 1)
    assert "3 stitches on the right needle, 4 on the left." in waiting(2, 1)
    assert "3 stitches on the left needle, 4 on the right." in waiting(1, 1, LEFT_HANDED)
    assert "7 stitches on the left needle;" in waiting(3, 0)
    assert "6 stitches on the left needle;" in waiting(1, 0)
    assert "6 stitches on the right needle;" in waiting(1, 0, LEFT_HANDED)


def test_the_strand_of_the_round_goes_on_into_the_flat_part() -> None:
    """The last stitch of a round lies beside the first of the next row: nothing is cut there, nothing carried. By
    hand: sand goes through from the first round to the last, brick and the sand left of it have a strand each."""
    for mirrored in (False, True):
        plan = plan_strands(ONE.rows(is_mirrored=mirrored), Carry(3))
        assert plan.strands.strand_of == ((1,), (1, 2, 3), (3, 2, 1), (1,))
        assert plan.strands.total.carried == 0
        steps = [step for run in row_runs(plan.strands, 1) for step in run.steps]
        assert not any(isinstance(step, Hold) for step in steps)


@st.composite
def tubes(draw: st.DrawFn) -> Tube:
    """Rounds and flat parts of an even number of rows, with 0, 1 or 2 stitches for a seam each."""
    parts = draw(st.lists(st.tuples(st.sampled_from(["o", 0, 1, 2]), st.integers(1, 2)), min_size=1, max_size=5))
    ways = [way for way, pairs in parts for _ in range(pairs if way == "o" else 2 * pairs)]
    width = draw(st.integers(1, 10))
    textures = st.sampled_from([Texture(), Texture("reverse"), Texture("garter"), Texture("rib", (2, 1))])
    cell = st.builds(Stitch, st.sampled_from(["sand", "brick", "kelp"]), textures, st.sampled_from(["", "", "lamp"]))
    few = draw(st.lists(st.lists(cell, min_size=width, max_size=width).map(tuple), min_size=1, max_size=4))
    grid = tuple(draw(st.sampled_from(few)) for _ in ways)
    return Tube(Chart(grid, tuple(way == "o" for way in ways)), tuple(0 if way == "o" else int(way) for way in ways))


@given(tubes(), st.booleans(), st.integers(0, 3))
def test_before_and_made_and_lost_are_after_and_the_runs_tile_the_row(
    one: Tube, is_mirrored: bool, inward: int
) -> None:
    rows = one.rows(is_mirrored=is_mirrored, inward=inward)
    width = len(one.chart.grid[0])
    counts = [width + more for more in one.seam_stitches]
    for index, row in enumerate(rows):
        assert sum(segment.stitches for segment in row.segments) == row.stitches == counts[index]
        if not index:
            continue
        found = shapings(rows, index)
        assert counts[index - 1] + sum(shaping.stitches for shaping in found) == counts[index]
        assert {shaping.edge for shaping in found} <= {"left"}
        for shaping in found:
            assert 0 <= shaping.after <= shaping.after + shaping.takes <= row.segments[shaping.segment].stitches


@given(tubes(), st.booleans())
def test_a_row_read_back_from_its_words_has_every_stitch_once(one: Tube, is_mirrored: bool) -> None:
    strands = plan_strands(one.rows(is_mirrored=is_mirrored), Carry(3)).strands
    for index in range(len(strands.rows)):
        for run in row_runs(strands, index):
            short = words.work_in_short(run, words.US)
            if " times" in short:
                continue  # a rib, told as a repeat
            parts = short.split(", ")
            worked = sum(int(part[1:]) for part in parts if part[0] in "kp" and part[1:].isdigit())
            assert worked + sum(makes(step) for step in run.inside if isinstance(step, Shape)) == run.segment.stitches


def plain(one: Tube, rows: Rows) -> list[PlainRow]:
    """The tube as the oracle reads it, from its drawing alone."""
    return [
        PlainRow(tuple(one.yarns(index)), rows[index].toward, is_round)
        for index, is_round in enumerate(one.chart.rounds)
    ]


@given(tubes(), limits(6), st.booleans())
def test_the_strands_are_the_fewest_and_their_carry_the_least_by_the_oracle(
    one: Tube, carry: Carry, is_mirrored: bool
) -> None:
    rows = one.rows(is_mirrored=is_mirrored)
    plan = plan_strands(rows, carry)
    seen = plain(one, rows)
    asked = (carry.reach, carry.behind, carry.rest)
    assert plan.strands.total.strands == oracles.fewest_strands(seen, *asked)
    assert plan.strands.total.carried == oracles.least_carry(seen, *asked)
    assert fault_in(plan.strands, carry, plan.proof) == ""
    for carried in floats_of(plan.strands):
        assert carried.stitches == carried_over(plan.strands.rows, carried.origin, carried.place)


@given(tubes())
def test_the_seam_has_column_1s_yarn_and_texture_and_no_column_is_renumbered(one: Tube) -> None:
    fabric = one.fabric()
    for index, row in enumerate(fabric.rows):
        stitches = list(cells(row))
        assert tuple(stitches[:len(one.chart.grid[index])]) == one.chart.grid[index]
        first = one.chart.grid[index][0]
        assert first is not None
        assert stitches[len(one.chart.grid[index]):] == [first._replace(sewn="")] * one.seam_stitches[index]
        assert as_drawn(row) == one.chart.fabric().rows[index]
        assert len(cells_across(fabric, index)) == fabric.columns


def test_equal_rows_stay_one_value() -> None:
    row = FabricRow((Run(6, Stitch("sand")),))
    made = with_seam_stitches(Fabric((row, row, row)), [0, 1, 1]).rows
    assert made[0] is row
    assert made[1] is made[2]


def test_garter_in_the_round_is_a_round_knit_and_a_round_purled_all_the_way() -> None:
    garter = textured(tube(*["o ssssss"] * 4, "1 ssssss", "1 ssssss", *["o ssssss"] * 4), Texture("garter"))
    rows = garter.rows()
    hands = ["".join(hand for hand, _ in work(row, row.segments[0])) for row in rows]
    assert hands == ["k", "p", "k", "p", "k", "k", "k", "p", "k", "p"]  # flat: knit on both sides
    faces = [(hand == "k") == (row.side == "RS") for hand, row in zip(hands, rows, strict=True)]
    assert faces == [True, False] * 5


def test_a_tube_is_no_wider_where_it_is_worked_flat() -> None:
    """6 stitches at 20 to 10 cm are 3 cm; what is added for the seam goes into it."""
    for one in (ONE, TWO):
        piece = replace(piece_of(one.chart), fabric=one.fabric())
        assert size(piece).width_cm == 3


def test_each_flat_part_with_stitches_for_it_is_a_seam() -> None:
    one = tube("2 ss", "1 ss", "1 ss", "o ss", "1 ss", "1 ss", "o ss")
    assert tube_seams(one.fabric()) == (TubeSeam(1, 2, 1), TubeSeam(4, 5, 1), TubeSeam(6, 6, 2))
    assert [seam.taken for seam in tube_seams(one.fabric())] == [Fraction(1, 2), Fraction(1, 2), 1]
    assert words.sew_tube(tube_seams(one.fabric())[1:]) == (
        "Sew the side edges of rows 5 to 6 together, half a stitch from each edge; those of row 7 together, a whole "
        "stitch from each edge"
    )


def test_flat_rows_between_rounds_without_a_seam_are_left_open() -> None:
    one = tube("0 ss", "0 ss", "o ss", "0 ss", "0 ss", "1 ss", "1 ss", "o ss", "0 ss", "o ss", "0 ss", "0 ss")
    assert list(left_open(one.fabric())) == [(7, 8)]


@pytest.mark.parametrize(
    ("line", "found"),
    [
        # Half a stitch: a change after column 1 lies within a stitch of the line, one after column 2 does not.
        ("1 sssssb", [SeamTrouble("right", "beside", (0, 1)), SeamTrouble("left", "beside", (0, 1))]),
        ("1 ssssbb", [SeamTrouble("left", "beside", (0, 1))]),
        ("1 bssssb", [SeamTrouble("right", "beside", (0, 1))]),
        ("1 bbssbb", []),
        ("1 ssssss", []),
        # A whole one: column 1 goes in, and the stitch beside the line is the next one.
        ("2 sssssb", [SeamTrouble("right", "beside", (0, 1))]),
        ("2 bbssbb", []),
        ("2 ssssbb", []),
    ],
)  # fmt: skip
def test_changes_of_colour_at_the_seam_are_told(line: str, found: list[SeamTrouble]) -> None:
    fabric = tube("o bbbbbs", line, line).fabric()
    [seam] = tube_seams(fabric)
    assert list(tube_seam_troubles(fabric, seam)) == found


def test_what_is_sewn_over_column_1_changes_what_the_seam_is_knitted_in() -> None:
    fabric = tube("1 ssssbb", "1 ssssbb").fabric()
    sewn = sewn_on(fabric, [(Area("brick", (Strip(0, 1, 2),)), "sand")])
    assert list(cells(sewn.rows[0])) == [Stitch("sand", sewn="brick")] * 2 + [Stitch("sand")] * 5
    assert sewn.rows[1] == fabric.rows[1]


def test_stitches_for_the_seam_are_no_small_area() -> None:
    one = tube("1 ssssssbb", "1 ssssssbb", "o ssssssss")
    piece = replace(piece_of(one.chart), fabric=one.fabric())
    assert [area.first for area in small_areas(piece, 8)] == [(1, 1)]


def test_rows_told_above_the_pattern_are_those_worked_flat() -> None:
    assert words.worked_flat(TubeSeam(10, 29, 2)) == (
        "Rows 11 to 30 are worked flat, turning after every row, with 2 stitches more for the seam, at the left edge "
        "as the right side looks."
    )


def test_one_row_told_above_the_pattern_is_one() -> None:
    assert words.worked_flat(TubeSeam(3, 3, 1)) == (
        "Row 4 is worked flat, with 1 stitch more for the seam, at the left edge as the right side looks."
    )


def test_a_row_knows_its_stitches_round_the_tube() -> None:
    row: Row = TWO.rows()[1]
    assert (row.stitches, row.stitches_around) == (8, 6)


def test_a_strand_that_rests_passes_no_stitches_for_a_seam_that_are_not_made_yet() -> None:
    """Brick hangs past the last stitch of row 1, of which the seam's two are brick. In row 4, the first above the
    round, it is wanted at column 6: one stitch lies between; the two for the seam are made where that row ends."""
    one = tube("o ssssss", "2 ssssss", "2 bsssss", "o ssssss", "2 ssssss", "2 sssssb")
    strands = plan_strands(one.rows(), Carry(1, 0, 2)).strands
    assert strands.at(Place(3, 1)) == strands.at(Place(0, 2))
    [found] = [each for each in floats_of(strands) if each.place == (3, 1)]
    assert (found.stitches, found.is_ahead, found.rows) == (1, True, 2)


def test_the_first_round_may_lie_on_a_right_side_row_and_goes_on_where_that_ends() -> None:
    """Three flat rows end at the left edge, and joined into a tube column 1 comes next: nothing is turned or cut."""
    one = tube("o ssssss", "0 ssssss", "0 ssssss", "0 ssssss")
    strands = plan_strands(one.rows(), Carry(0)).strands
    assert (strands.total.strands, strands.total.carried) == (1, 0)
    ends = [[step for step in row_end(strands, row) if isinstance(step, Turn | GoRound)] for row in range(4)]
    assert ends == [[Turn("toward")], [Turn("away")], [GoRound(is_again=False)], []]
