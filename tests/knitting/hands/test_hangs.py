"""Where the strands hang at any moment, found by walking through the piece run by run."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import assume, given

from companion.knitting.cloth.rows import Place
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.runs import run_steps
from companion.knitting.hands.steps import Fetch
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.knitting.cloth.test_shaping import outlines
from tests.knitting.meetings import may_share_runs, with_meetings
from tests.knitting.parted import parted


def ahead_of_the_tips(chart: Chart, row: int, tips: int, gap: int) -> int:
    """Stitches from the needles' tips on to a gap, the way a row is worked, that is not shaped; below 0 back."""
    is_ahead = (gap > tips) == (chart.side(row) == "RS")
    lie = {column for column, _ in chart.worked(row)}
    low, high = sorted((tips, gap))
    between = sum(low < column <= high for column in lie)
    return between if is_ahead else -between


STRAIGHT = charts(max_rows=6, max_columns=9, ways=("flat", "round", "mixed"), has_gaps=False)


@given(STRAIGHT | outlines() | parted(max_rows=6), may_share_runs(limits()))
def test_every_strand_at_work_hangs_where_it_worked_last(chart: Chart, carry: Carry) -> None:
    assume(not list(troubles(chart.rows())))
    strands = plan_strands(chart.rows(), carry).strands
    strands = with_meetings(strands) if carry.share_runs else strands
    rows = strands.rows
    last: dict[int, Place] = {}
    assert hangs(strands, 0, 0) == ()
    for place in rows.places():
        last[strands.at(place)] = place
        runs = chart.runs(place.row, rows.meetings.get(place.row, ()))
        is_turn = place.segment + 1 == len(runs) and place.row + 1 < len(chart.grid)
        held = place.row + is_turn
        # At the turn the tips are where the next row is entered.
        tips = rows.segment(Place(held, 0)).entry if is_turn else rows.segment(place).exit
        found = hangs(strands, place.row, place.segment + 1)
        still = {n for n in last if any(strands.at(p) == n for p in rows.places() if p > place or p.row == place.row)}
        assert {hang.strand: hang.worked for hang in found} == {n: p for n, p in last.items() if n in still}
        assert [hang.is_in_hand for hang in found].count(True) == 1
        assert [hang.away for hang in found] == sorted(hang.away for hang in found)
        for hang in found:
            later = [p for p in rows.places() if p > hang.worked and strands.at(p) == hang.strand]
            assert hang.next == (later[0] if later else None)
            assert hang.yarn == rows.segment(hang.worked).yarn
            assert hang.is_in_hand == (hang.worked == place)
            way = [row for row in range(hang.worked.row + 1, held + 1) if shapings(rows, row)]
            if not way:  # where rows are shaped stitches do not lie as they are drawn: test_needles
                away = ahead_of_the_tips(chart, held, tips, rows.segment(hang.worked).exit)
                assert hang.away == away


@given(outlines() | parted(max_rows=6, ways=("flat",)), may_share_runs(limits()))
def test_a_strand_hangs_where_the_next_run_is_told_to_find_it(chart: Chart, carry: Carry) -> None:
    assume(not list(troubles(chart.rows())))
    strands = plan_strands(chart.rows(), carry).strands
    strands = with_meetings(strands) if carry.share_runs else strands
    for before, place in pairwise(strands.rows.places()):
        origin = strands.before(place)
        if origin is not None and origin.row < place.row:
            [away] = [h.away for h in hangs(strands, before.row, before.segment + 1) if h.strand == strands.at(place)]
            told = [step for step in run_steps(strands, place).into if isinstance(step, Fetch)]
            assert away == sum(step.on_needle if step.where == "ahead" else -step.on_needle for step in told)


def test_a_strand_that_is_cut_hangs_no_more() -> None:
    strands = plan_strands(drawn("ssss", "bbss").rows(), Carry(3)).strands
    assert [hang.yarn for hang in hangs(strands, 0, 2)] == ["brick", "sand"]
    assert [hang.yarn for hang in hangs(strands, 0, 2, cut={2})] == ["sand"]


def test_a_strand_that_is_not_needed_any_more_hangs_until_it_is_cut() -> None:
    strands = plan_strands(drawn("ssss", "ssss", "ssss", "bbss").rows(), Carry(3)).strands
    hanging = [(hang.yarn, hang.next) for hang in hangs(strands, 2, 1, cut=())]
    assert hanging == [("sand", Place(3, 0)), ("brick", None)]
    assert [hang.yarn for hang in hangs(strands, 2, 1, cut={2})] == ["sand"]


def test_strands_are_told_from_the_furthest_back_to_the_furthest_ahead() -> None:
    strands = plan_strands(drawn("kkkbbbsss", "kkkbbbsss").rows(), Carry(3)).strands
    told = [(hang.yarn, hang.away, hang.is_in_hand) for hang in hangs(strands, 0, 3)]
    assert told == [("kelp", 0, True), ("brick", 3, False), ("sand", 6, False)]
    told = [(hang.yarn, hang.away, hang.is_in_hand) for hang in hangs(strands, 0, 2)]
    assert told == [("sand", -3, False), ("brick", 0, True)]
    told = [(hang.yarn, hang.away, hang.is_in_hand) for hang in hangs(strands, 1, 1)]
    assert told == [("kelp", 0, True), ("brick", 0, False), ("sand", 3, False)]
