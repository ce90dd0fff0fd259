"""Tails trapped while knitting: which, where in the run, and told as counts."""

from __future__ import annotations

from hypothesis import given

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import exists
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import End, LayIn
from companion.knitting.hands.trapping import FEWEST, MOST, laid_in
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US
from tests.knitting.charts import Chart, charts, drawn, piece_of, shared_or_not


def test_a_new_strands_tail_is_laid_in_after_its_first_stitch_under_up_to_eight() -> None:
    chart = drawn("b" * 12 + "s" * 12, "s" * 24)
    strands = plan_strands(chart.rows(), Carry(3)).strands
    # Row 2 comes from the left: brick joins there, and then another sand, since the first hangs at the left edge.
    assert laid_in(strands, Place(1, 0)) == ((1, LayIn(End(Place(1, 0), "start"), "brick", 8)),)
    assert laid_in(strands, Place(1, 1)) == ((1, LayIn(End(Place(1, 1), "start"), "sand", 8)),)
    assert laid_in(strands, Place(0, 0)) == ()  # its tail is the cast-on's


def test_where_fewer_than_six_have_room_the_end_stays() -> None:
    for stitches, wanted in ((7, ()), (8, (6,)), (9, (7,)), (10, (8,)), (11, (8,))):
        strands = plan_strands(drawn("b" * stitches + "s" * 12, "s" * (12 + stitches)).rows(), Carry(3)).strands
        assert tuple(step.stitches for _, step in laid_in(strands, Place(1, 0))) == wanted


def test_a_cut_tail_is_laid_in_where_its_colour_passes_over_it_in_the_next_row() -> None:
    """Two sands close over a brick: of the two one goes on, and the tail of the other lies under its stitches."""
    chart = drawn("s" * 30, "s" * 12 + "b" * 6 + "s" * 12, "s" * 12 + "b" * 6 + "s" * 12)
    strands = plan_strands(chart.rows(), Carry(3)).strands
    # Row 3 comes from the right and is worked by the sand that hangs at the right edge; the other, of the left part,
    # hangs at column 19, its gap 18: 18 stitches on. The brick's tail is of another colour.
    assert strands.strand_of[2] == (strands.strand_of[1][2],)
    assert laid_in(strands, Place(2, 0)) == ((19, LayIn(End(Place(1, 0), "finish"), "sand", 8)),)
    piece = piece_of(chart)
    [run] = row_runs(strands, 2, piece.catching._replace(is_trapping=True))
    assert words.work_in_full(run, US) == "knit 19, lay the sand tail in under the next 8, knit 11"
    assert words.work_in_short(run, US) == "k19, lay the sand tail in under the next 8, k11"
    assert [step for step in run.inside if isinstance(step, LayIn)] == [
        LayIn(End(Place(1, 0), "finish"), "sand", 8),
    ]  # fmt: skip
    [run] = row_runs(strands, 2, piece.catching)
    assert words.work_in_full(run, US) == "knit 30"


def test_the_tail_of_a_strand_that_binds_off_first_stays_behind_at_the_edge() -> None:
    """Row 3 binds off 3 in a new sand: its tail hangs at the edge of row 2, beyond what is bound off."""
    strands = plan_strands(drawn("s" * 9 + "...", "s" + "b" * 11, "b" * 12).rows(), Carry(0)).strands
    assert strands.first[strands.at(Place(2, 0))] == (2, 0)
    assert laid_in(strands, Place(2, 0)) == ()


def test_the_tail_of_a_strand_that_casts_on_first_is_laid_in_after_what_it_cast_on() -> None:
    """Row 3 casts on 3 in a new sand, whose tail hangs at the edge of row 2, after three of its stitches."""
    strands = plan_strands(drawn("s" * 15, "b" * 12 + "...", "b" * 12 + "...").rows(), Carry(0)).strands
    assert laid_in(strands, Place(2, 0)) == ((4, LayIn(End(Place(2, 0), "start"), "sand", 8)),)


@given(charts(max_columns=40, max_rows=6, ways=("flat", "round", "mixed")), shared_or_not())
def test_every_trap_lies_under_its_own_colour_one_after_the_other(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    taken: list[End] = []
    for place in strands.rows.places():
        segment, at = strands.rows.segment(place), 0
        worked = place.row, place.segment + 1
        for after, trap in laid_in(strands, place):
            assert FEWEST <= trap.stitches <= MOST
            assert at < after
            assert after + trap.stitches < segment.stitches
            assert strands.rows.segment(trap.end.place).yarn == segment.yarn
            assert exists(trap.end, *worked, strands)
            assert trap.end.place == place or trap.end.place.row == place.row - 1
            at = after + trap.stitches - 1
            taken.append(trap.end)
    assert len(taken) == len(set(taken))


@given(charts(max_columns=40, max_rows=6))
def test_a_tail_is_met_where_it_hangs(chart: Chart) -> None:
    strands = plan_strands(chart.rows(), Carry(3)).strands
    every = [(place, *tail) for place in strands.rows.places() for tail in laid_in(strands, place)]
    for place, after, trap in every:
        if trap.end.kind == "finish":
            columns = [column for column, _ in chart.runs(place.row)[place.segment]]
            exit_ = strands.rows.segment(trap.end.place).exit
            met = columns[after - 1]
            toward = strands.rows[place.row].toward
            real = [c for c, cell in enumerate(chart.grid[place.row], 1) if cell is not None]
            ahead = [c for c in real if (c > exit_ if toward == "left" else c <= exit_)]
            assert met == (min(ahead) if toward == "left" else max(ahead))
