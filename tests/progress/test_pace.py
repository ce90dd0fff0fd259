"""How fast a piece is worked: laws that hold for every journal, and journals reckoned by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.progress import events as did
from companion.progress.pace import pace_of

BREAK = 300
"""Five minutes in seconds."""

Press = tuple[float, int]
"""Seconds since the step before, and stitches."""

START = datetime(2031, 3, 1, 18, tzinfo=UTC)
PLANNED: did.Entry = (did.Planned(0, Carry(3), ()),)
NOTE: did.Entry = (did.Noted(0, "tea"),)


def run(stitches: int, row: int = 0) -> did.Entry:
    """A run of one row or another is worked."""
    return (did.Worked(row, 0, "sand", stitches, 1),)


def timed(steps: Iterable[tuple[float, did.Entry]], start: datetime = START) -> list[tuple[str, did.Entry]]:
    """Steps, each so many seconds after the one before, as a journal has them; the piece is begun at the start."""
    found, at = [(start.isoformat(timespec="milliseconds"), PLANNED)], start
    for seconds, entry in steps:
        at += timedelta(seconds=seconds)
        found.append((at.isoformat(timespec="milliseconds"), entry))
    return found


def pace(presses: Iterable[Press]) -> float | None:
    """Of runs alone."""
    return pace_of(timed((seconds, run(stitches)) for seconds, stitches in presses))


@st.composite
def knitted(draw: st.DrawFn, slowest: int = 5000) -> list[Press]:
    """Runs that hands can have worked: 0.6 seconds a stitch or more, up to a hundred seconds a run."""
    runs = st.tuples(st.integers(600, slowest), st.integers(1, 20))
    return [(ms * stitches / 1000, stitches) for ms, stitches in draw(st.lists(runs, max_size=80))]


# Laws.


@given(knitted(), st.integers(1, 3))
def test_whoever_takes_so_many_times_as_long_is_so_many_times_as_slow(presses: list[Press], times: int) -> None:
    once, slower = pace(presses), pace((times * seconds, stitches) for seconds, stitches in presses)
    assert slower == (None if once is None else pytest.approx(times * once))


@given(knitted(), st.data())
def test_how_long_a_break_is_makes_no_difference(presses: list[Press], data: st.DataObject) -> None:
    at = data.draw(st.sets(st.integers(0, 80)))
    longer = st.integers(BREAK + 1, 10_000_000)
    one, other = (
        pace((data.draw(longer) if n in at else seconds, stitches) for n, (seconds, stitches) in enumerate(presses))
        for _ in range(2)
    )
    assert one == other


@given(knitted(), st.data())
def test_of_a_break_no_more_is_known_than_where_something_else_was_done(
    presses: list[Press], data: st.DataObject
) -> None:
    at = data.draw(st.sets(st.integers(0, 80)))
    rested, noted = list[tuple[float, did.Entry]](), list[tuple[float, did.Entry]]()
    for n, (seconds, stitches) in enumerate(presses):
        rested.append((seconds + BREAK if n in at else seconds, run(stitches)))
        noted += [(seconds, NOTE), (1.0, run(stitches))] if n in at else [(seconds, run(stitches))]
    assert pace_of(timed(rested)) == pace_of(timed(noted))


@given(st.lists(st.integers(1, 20), min_size=60, max_size=80), st.sets(st.integers(0, 30)), st.integers(600, 5000))
def test_breaks_change_nothing_for_whoever_works_evenly(runs: list[int], at: set[int], ms: int) -> None:
    presses = [(ms * stitches / 1000 + (7200 if n in at else 0), stitches) for n, stitches in enumerate(runs)]
    if sum(stitches for n, stitches in enumerate(runs) if n not in at and n) >= 200:
        assert pace(presses) == pytest.approx(ms / 1000)


@given(knitted(), st.integers(-10**8, 10**8))
def test_when_it_was_worked_makes_no_difference(presses: list[Press], shift: int) -> None:
    steps = [(seconds, run(stitches)) for seconds, stitches in presses]
    assert pace_of(timed(steps, START + timedelta(seconds=shift))) == pace_of(timed(steps))


@given(knitted())
def test_nothing_is_known_below_two_hundred_stitches_and_a_pace_between_the_fastest_and_slowest_from_there(
    presses: list[Press],
) -> None:
    found, known = pace(presses), presses[1:]  # how long the first run took, nobody knows
    assert (found is not None) == (sum(stitches for _, stitches in known) >= 200)
    if found is not None:
        paces = [seconds / stitches for seconds, stitches in known]
        assert min(paces) - 0.001 <= found <= max(paces) + 0.001


@given(st.lists(st.lists(st.integers(5, 20), min_size=1, max_size=4), min_size=30, max_size=40))
def test_several_presses_at_once_are_worth_as_many_runs(together: list[list[int]]) -> None:
    """Two seconds a stitch, told once one run or several are worked, five presses a second."""
    presses = []
    for runs in together:
        presses.append((2.0 * sum(runs) - 0.2 * (len(runs) - 1), runs[0]))
        presses += [(0.2, stitches) for stitches in runs[1:]]
    known = sum(sum(runs) for runs in together[1:])
    assert pace(presses) == (pytest.approx(2) if known >= 200 else None)


@given(st.lists(st.integers(1, 40), max_size=100), st.integers(0, 400))
def test_keys_faster_than_hands_are_no_knitting(runs: list[int], ms: int) -> None:
    assert pace((ms * stitches / 1000, stitches) for stitches in runs) is None


@given(knitted(), st.sets(st.integers(0, 80), max_size=8), st.integers(1, 90))
def test_what_was_taken_back_is_not_counted(presses: list[Press], at: set[int], stitches: int) -> None:
    back: list[tuple[float, did.Entry]] = []
    noted: list[tuple[float, did.Entry]] = []
    for n, (seconds, worked) in enumerate(presses):
        odd: list[tuple[float, did.Entry]] = [(40.0, run(stitches)), (1.0, (did.WentBack(),))]
        back += [*(odd if n in at else []), (seconds, run(worked))]
        noted += [*([(40.0, NOTE)] if n in at else []), (seconds, run(worked))]
    assert pace_of(timed(back)) == pace_of(timed(noted))


# By hand.


EVEN: Sequence[Press] = [(20.0, 10)] * 25
"""Two seconds a stitch."""


def with_odd(*odd: tuple[float, did.Entry]) -> float | None:
    """The pace of an even evening with something in the middle."""
    even = [(seconds, run(stitches)) for seconds, stitches in EVEN]
    return pace_of(timed([*even, *odd, *even]))


@pytest.mark.parametrize(("runs", "found"), [(20, None), (21, 2.0)])
def test_two_hundred_stitches_whose_time_is_known_are_enough(runs: int, found: float | None) -> None:
    assert pace(EVEN[:runs]) == found


@pytest.mark.parametrize("seconds", [299.0, 300.0, 301.0, 86_400.0, -5.0, -86_400.0, 0.0])
def test_one_odd_time_changes_nothing(seconds: float) -> None:
    assert with_odd((seconds, run(10))) == 2.0


def test_five_minutes_count_and_more_do_not() -> None:
    assert pace([(300.0, 100)] * 3) == 3.0
    assert pace([(300.1, 100)] * 30) is None


@pytest.mark.parametrize("entry", [
    (*run(300, 0), *run(300, 1)),
    (did.Unpicked(0, 0),),
    (did.RippedBack(0),),
    (did.Wove(End(Place(0, 0), "start")),),
    (did.WentBack(),),
    (did.Trapping(True),),
    NOTE,
    PLANNED,
])  # fmt: skip
def test_after_anything_that_is_no_work_the_next_step_tells_nothing(entry: did.Entry) -> None:
    """The run after it would be one of eleven seconds a stitch; the two after that are of two. Taken back, it takes
    the last of them along."""
    steps: list[tuple[float, did.Entry]] = []
    for _ in range(30):
        steps += [(200.0, entry), (110.0, run(10)), (20.0, run(10)), (20.0, run(10))]
    assert pace_of(timed(steps)) == 2.0


def test_keys_faster_than_hands_spoil_the_run_that_they_follow() -> None:
    assert pace([(1.0, 10), (20.0, 10), *[(0.1, 20)] * 100]) is None
    assert pace([*EVEN, *[(0.1, 20)] * 100, *EVEN]) == 2.0


def test_a_rows_end_told_at_once_with_the_runs_beside_it_is_no_step_of_its_own() -> None:
    """Two runs and a cut between them in forty seconds, told when all is done."""
    cut: did.Entry = (did.Cut(0, (1,)),)
    assert pace_of(timed([(39.6, run(10)), (0.2, cut), (0.2, run(10))] * 15)) == pytest.approx(2.0)


def test_a_setting_is_not_what_is_taken_back() -> None:
    """The run of ten seconds a stitch is. Of the two after it the first is not known."""
    back: did.Entry = (did.WentBack(),)
    odd: list[tuple[float, did.Entry]] = [(100.0, run(10)), (1.0, (did.Trapping(True),)), (1.0, back)]
    assert pace_of(timed([*odd, (20.0, run(10)), (20.0, run(10))] * 25)) == 2.0


def test_a_row_told_to_be_worked_at_once_counts_with_all_its_stitches() -> None:
    row: did.Entry = tuple(did.Worked(3, n, "sand", 20, 1) for n in range(4))
    assert pace_of(timed([(120.0, row)] * 5)) == 1.5


def test_what_is_done_at_a_rows_end_takes_its_time_and_a_tail_laid_in_is_no_weaving() -> None:
    """Rows of two runs of ten: twenty seconds each, and ten for what is cut. 50 seconds for 20 stitches, each of
    twelve rows; two of them are a block."""
    laid: did.Entry = (*run(10), did.Wove(End(Place(0, 0), "start")))
    last: did.Entry = (*run(10), did.RowEndBegun(0))
    cut: did.Entry = (did.Cut(0, (1,)),)
    steps = timed([(20.0, laid), (20.0, last), (10.0, cut)] * 12)
    assert pace_of(steps) == 2.5


def test_changes_weigh_as_they_do_in_the_piece() -> None:
    """Rows of 18 stitches and 2: a stitch is a second, each change eleven. 13 seconds for 2 stitches are no pace."""
    assert pace([(29.0, 18), (13.0, 2)] * 20) == pytest.approx(42 / 20)


def test_the_pace_is_that_of_the_middle_stitch() -> None:
    """Blocks of 50 and 100 stitches: 100 at one second, 150 at two, 250 at four. As many are slower than two as are
    faster than four: it is between them. With 50 more at one second it is two."""
    fast, usual, slow = (50.0, 50), (200.0, 100), (200.0, 50)
    steps = [(9000.0, 50), fast, fast, (100.0, 50), usual, slow, slow, slow, slow, slow]
    assert pace(steps) == 3.0
    assert pace([*steps, fast]) == 2.0


def test_an_hour_of_another_evening_passes_out_of_sight() -> None:
    """Of 600 steps the last 600 count: those before them were slower."""
    assert pace([*[(100.0, 10)] * 2000, *[(20.0, 10)] * 301]) == 2.0
    assert pace([*[(100.0, 10)] * 2000, *[(20.0, 10)] * 250]) == 10.0
    assert pace([*[(100.0, 10)] * 2000, *[(20.0, 10)] * 700]) == 2.0


@pytest.mark.parametrize("at", ["", "yesterday", "2031-03-01T18:00:00", "9999-99-99T00:00:00+00:00"])
def test_a_time_that_is_missing_or_none_costs_two_steps_and_no_more(at: str) -> None:
    steps = timed((seconds, run(stitches)) for seconds, stitches in EVEN)
    steps[10] = at, steps[10][1]
    assert pace_of(steps) == 2.0
    assert pace_of(steps[:22]) is None  # 200 stitches without those two
    assert pace_of([(at, entry) for _, entry in steps]) is None
