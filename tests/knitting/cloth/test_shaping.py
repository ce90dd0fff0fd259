"""Stitches made and lost at the edges: which, where, told how; nothing is lost from the count."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.shaping import Shaping, shapings
from companion.knitting.hands.needles import makes, taken_up, takes
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Shape
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import Terms
from tests.knitting.charts import Chart, charts, drawn


def told(*lines: str, row: int = 2, terms: Terms = words.US) -> list[str]:
    strands = plan_strands(drawn(*lines).rows(), Carry(3)).strands
    return [words.work_in_full(run, terms) for run in row_runs(strands, row - 1)]


@pytest.mark.parametrize(
    ("lines", "row", "done"),
    [
        # Row 1 is a right-side row from the right; row 2 comes from the left. Leans: common practice, no source.
        (("sssss.", "ssssss"), 2, ["purl 4, ssp"]),
        ((".sssss", "ssssss"), 2, ["p2tog, purl 4"]),
        ((".ssss.", "ssssss"), 2, ["p2tog, purl 2, ssp"]),
        (("sssss.", "ssssss", "ssssss"), 3, ["ssk, knit 4"]),
        ((".sssss", "ssssss", "ssssss"), 3, ["knit 4, k2tog"]),
        (("..ssss", "ssssss"), 2, ["p3tog, purl 3"]),
        (("ssss..", "ssssss", "ssssss"), 3, ["sssk, knit 3"]),
        # More is bound off at a row's start; the stitch left on the needle is the row's first.
        (("sssssss...", "ssssssssss", "ssssssssss"), 3, ["bind off 3 (1 on the right needle), knit 6 more"]),
        (("...sssssss", "ssssssssss"), 2, ["bind off 3 (1 on the right needle), purl 6 more"]),
        (("sbbbbb...", "sbbbbbbbb", "ssssssss."), 3, ["bind off 3 (1 on the right needle), knit 4 more", "knit 1"]),
        # One is lifted between two stitches of its colour, more are cast on.
        (("ssssss", "sssss."), 2, ["purl 4, m1R purlwise, purl 1"]),
        (("ssssss", ".sssss"), 2, ["purl 1, m1L purlwise, purl 4"]),
        (("ssssss", "sssss.", "sssss."), 3, ["knit 1, m1R, knit 4"]),
        (("ssssss", ".sssss", ".sssss"), 3, ["knit 4, m1L, knit 1"]),
        (("ssssss", "ssss..", "ssss.."), 3, ["cast on 2 (knitted or cable), knit 6"]),
        (("ssssss", "..ssss", "..ssss"), 3, ["knit 4, cast on 2 (backward loop)"]),
        (("bbsssss", "..sssss", "..sssss"), 3, ["knit 5", "cast on 2 (backward loop)"]),
        # Never at a change, where the bar is the crossing: another bar of the run at the edge, or a loop.
        (("ssssbbb", "ssssbb.", "ssssbb."), 3, ["knit 1, m1R, knit 1", "knit 4"]),
        (("ssssssb", "ssssss.", "ssssss."), 3, ["make 1 by a backward loop", "knit 6"]),
        (("sbsbsb", "sbsbs.", "sbsbs."), 3, ["make 1 by a backward loop", *["knit 1"] * 5]),
    ],
)  # fmt: skip
def test_by_hand(lines: tuple[str, ...], row: int, done: list[str]) -> None:
    assert told(*lines, row=row) == done


def test_told_in_the_knitters_terms_and_hands() -> None:
    assert told("...sssssss", "ssssssssss", terms=Terms("uk")) == ["cast off 3 (1 on the right needle), purl 6 more"]


def test_more_than_can_be_decreased_at_a_rows_end_is_marked_as_lost() -> None:
    [one] = shapings(drawn("...sssssss", "ssssssssss", "ssssssssss").rows(), 2)
    assert (one.how, one.stitches, one.edge) == ("lost", -3, "left")


def test_inward_they_lie_so_many_stitches_in() -> None:
    rows = drawn(".ssssssss.", "ssssssssss").rows(inward=2)
    assert [(one.how, one.after) for one in shapings(rows, 1)] == [("p2tog", 2), ("ssp", 5)]


def test_rounds_have_no_edges() -> None:
    assert shapings(drawn("sssss.", "ssssss", is_round=True).rows(), 1) == ()


@st.composite
def outlines(draw: st.DrawFn, *, has_textures: bool = False) -> Chart:
    """A chart whose edges come in and go out."""
    size = {"max_rows": 8, "max_columns": 14}
    chart = draw(charts(**size, ways=("flat",), has_gaps=False, has_textures=has_textures))
    width = chart.width
    grid = []
    for row in chart.grid:
        right = draw(st.integers(0, max(0, width - 1)))
        left = draw(st.integers(0, max(0, width - 1 - right)))
        grid.append(tuple(cell if right <= c < width - left else None for c, cell in enumerate(row)))
    return Chart(tuple(grid), chart.rounds)


@given(outlines(), st.integers(0, 3))
def test_before_and_made_and_lost_are_after(chart: Chart, inward: int) -> None:
    """For an outline that overlaps the row below; a row that lies wholly beside it is made and lost altogether."""
    rows = chart.rows(inward)
    counts = [sum(cell is not None for cell in row) for row in chart.grid]
    for index in range(1, len(rows)):
        found = shapings(rows, index)
        now, below = ({c for c, cell in enumerate(row) if cell} for row in (chart.grid[index], chart.grid[index - 1]))
        if not now & below:
            continue
        assert counts[index - 1] + sum(one.stitches for one in found) == counts[index]
        for one in found:
            _lies_in_its_run(rows[index].segments[one.segment].stitches, one)


def _lies_in_its_run(stitches: int, one: Shaping) -> None:
    assert 0 <= one.after <= stitches
    assert one.after + one.takes <= stitches
    if one.how.startswith("m1"):
        assert one.after > 0


@given(outlines())
def test_a_row_read_back_from_its_words_is_the_chart_row(chart: Chart) -> None:
    """Every stitch of the chart is worked once: as a knit or purl, or made by what is told in its place."""
    strands = plan_strands(chart.rows(), Carry(3)).strands
    for index in range(len(strands.rows)):
        for run in () if _is_too_narrow(strands.rows, index) else row_runs(strands, index):
            shaped = [step for step in run.inside if isinstance(step, Shape)]
            made = sum(map(makes, shaped))
            counted = 0
            for part in words.work_in_short(run, words.US).replace(" more", "").split(", "):
                if part[0] in "kp" and part[1:].isdigit():
                    counted += int(part[1:])
            assert counted + made == run.segment.stitches


@given(outlines())
def test_mirrored_twice_is_the_same(chart: Chart) -> None:
    turned = Chart(tuple(row[::-1] for row in chart.grid), chart.rounds)
    again = Chart(tuple(row[::-1] for row in turned.grid), turned.rounds)
    for index in range(len(chart.grid)):
        assert shapings(again.rows(), index) == shapings(chart.rows(), index)
        edges = [(one.edge, one.stitches) for one in shapings(chart.rows(), index) if one.how != "loops"]
        assert {("left" if e == "right" else "right", n) for e, n in edges} == {
            (one.edge, one.stitches) for one in shapings(turned.rows(), index) if one.how != "loops"
        } or any(one.how == "loops" for one in (*shapings(chart.rows(), index), *shapings(turned.rows(), index)))



def test_stitches_made_at_an_edge_are_not_passed_by_the_strand_that_makes_them() -> None:
    """Worked out by hand: the strand in hand at the edge casts on five and goes on, whatever the limit is."""
    strands = plan_strands(drawn("sssssssssssss", "....sssss....", "....sssss....").rows(), Carry(0)).strands
    assert (strands.total.strands, strands.total.carried) == (1, 0)
    [run] = row_runs(strands, 2)
    assert (run.start, run.carry) == ("turn", 0)


@given(outlines(), st.integers(0, 3))
def test_a_row_takes_up_what_lies_on_the_needles_and_leaves_its_own_stitches(chart: Chart, inward: int) -> None:
    """At a row's start those of the row below lie there, at its end its own."""
    rows = chart.rows(inward)
    strands = plan_strands(rows, Carry(3)).strands
    counts = [sum(cell is not None for cell in row) for row in chart.grid]
    for index in range(1, len(rows)):
        now, below = ({c for c, cell in enumerate(row) if cell} for row in (chart.grid[index], chart.grid[index - 1]))
        runs = row_runs(strands, index)
        assert taken_up(rows, index) == runs[0].left == counts[index - 1]
        if now & below and not _is_too_narrow(rows, index):
            inside = [step for run in runs for step in run.inside]
            assert sum(map(takes, inside)) == counts[index - 1]
            assert sum(map(makes, inside)) == counts[index]


def _is_too_narrow(rows: Rows, index: int) -> bool:
    """It is shaped from both sides in one stitch; plans with such a row are refused."""
    found = [(one.segment, one.after) for one in shapings(rows, index)]
    return len(set(found)) < len(found)


def placed(chart: Chart, row: int, inward: int = 0, *, is_mirrored: bool = False) -> list[tuple[str, int]]:
    """How each stitch is made or lost in a row, by number, and after how many of the row's stitches."""
    rows = Rows(chart.fabric(), inward=inward, is_mirrored=is_mirrored)
    runs = [segment.stitches for segment in rows[row - 1].segments]
    return [(one.how, sum(runs[:one.segment]) + one.after) for one in shapings(rows, row - 1)]


@pytest.mark.parametrize(
    ("lines", "inward", "done"),
    [
        # Row 3 comes from the right. Of four stitches two are left: the decreases lie side by side, each at its edge.
        ((".bs.", "bbss", "bbss"), 1, [("ssk", 0), ("k2tog", 1)]),
        ((".ss.", "ssss", "ssss"), 1, [("ssk", 0), ("k2tog", 1)]),
        ((".sss.", "sssss", "sssss"), 1, [("ssk", 0), ("k2tog", 2)]),
        ((".ssss.", "ssssss", "ssssss"), 3, [("ssk", 1), ("k2tog", 2)]),
        ((".ssssss.", "ssssssss", "ssssssss"), 2, [("ssk", 2), ("k2tog", 3)]),
        # Two bars are lifted only with a stitch of the row below between them, each in the run at its edge, none at a
        # change of colour: else a loop is made there.
        (("sssss", ".sss.", ".sss."), 1, [("m1R", 1), ("m1L", 3)]),
        (("ssss", ".ss.", ".ss."), 1, [("m1R", 1), ("loop", 3)]),
        (("ssssss", ".ssss.", ".ssss."), 2, [("m1R", 1), ("m1L", 4)]),
        (("bsssb", ".sss.", ".sss."), 1, [("loop", 0), ("loop", 4)]),
        (("bssssb", ".ssss.", ".ssss."), 1, [("loop", 0), ("loop", 5)]),
        (("bbbsbbb", ".bbsbb.", ".bbsbb."), 1, [("m1R", 1), ("m1L", 5)]),
        # A decrease at one edge and a bar at the other keep their order too.
        (("ssss.", ".ssss", ".ssss"), 3, [("ssk", 1), ("m1L", 2)]),
        (("ssss.", ".ssss", ".ssss"), 0, [("ssk", 0), ("m1L", 2)]),
        # What is decreased lies among stitches that are there: past those cast on or bound off, before the loops.
        ((".ssssss", "ssss...", "ssss..."), 9, [("cast on", 0), ("k2tog", 3)]),
        (("ssssss.", "...ssss", "...ssss"), 9, [("ssk", 2), ("loops", 3)]),
        ((".ss....", "sssssss", "sssssss"), 9, [("bind off", 0), ("k2tog", 1)]),
        # The bar belongs to the row below: where that one changes colour, it is the crossing.
        (("sssssss", "ssssss.", "ssssss."), 2, [("m1R", 2)]),
        (("sssssss", "ssssbs.", "ssssss."), 1, [("loop", 0)]),
        (("sssssss", "sssbss.", "ssssss."), 2, [("m1R", 1)]),
        # Nor beside a change in the row itself, as the last stitch of its run.
        (("bbbs", ".bbs", ".bbs"), 1, [("m1L", 2)]),
        (("bbbs", ".bbs", ".bbs"), 2, [("m1L", 2)]),
        (("bbss", ".bss", ".bss"), 1, [("loop", 3)]),
        # A decrease lies no farther in than keeps every change over the one below: in the run at the edge where the
        # change goes straight up, beyond the change where that goes inward with the edge.
        ((".ssbbb", "sssbbb", "sssbbb"), 2, [("k2tog", 3)]),
        ((".bssssss", "bbssssss", "bbssssss"), 4, [("k2tog", 6)]),
        (("ssssbb.", "ssssbbb", "ssssbbb"), 4, [("ssk", 1)]),
        ((".bbsssss", "bbssssss", "bbssssss"), 2, [("k2tog", 4)]),
        ((".bbsssss", "bbssssss", "bbssssss"), 4, [("k2tog", 2)]),
        (("sssbb..", "sssssbb", "sssssbb"), 3, [("sssk", 3)]),
        (("bsbsbs.", "sbsbsbs", "sbsbsbs"), 2, [("ssk", 2)]),
        # One stitch has no bar beside it.
        (("sss", ".s.", ".s."), 1, [("loop", 0), ("loop", 2)]),
    ],
)
def test_where_both_edges_are_shaped_or_there_is_little_room(
    lines: tuple[str, ...], inward: int, done: list[tuple[str, int]]
) -> None:
    """Worked out by hand, stitch by stitch, from the row below; a knitter who works it turned round, mirrored,
    does the same."""
    chart = drawn(*lines)
    assert placed(chart, 3, inward) == done
    turned = Chart(tuple(row[::-1] for row in chart.grid), chart.rounds)
    assert placed(turned, 3, inward, is_mirrored=True) == done
