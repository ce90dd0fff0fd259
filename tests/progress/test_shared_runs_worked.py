"""A run that two strands share, worked at the needles: what is saved of it, and what life does to it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from plans_on_disk import QUAY, plan, shelf

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.mistakes import Mistake
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    EndLength,
    GoOn,
    JoinNew,
    Mend,
    MissCross,
    On,
    Replan,
    RipBack,
    Unpick,
)
from companion.progress.alike import differing_rows, meet_alike
from companion.progress.deciding import decide
from companion.progress.edited import can_be_knitted_like
from companion.progress.events import Entry, MissedCross, Planned, Worked, from_json, to_json
from companion.progress.exported import read, written
from companion.progress.fold import apply, begin, replay
from companion.progress.legality import check, why_not
from companion.progress.mishaps import closes, others
from companion.progress.replanning import planned
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.knitting.charts import drawn, piece_of

SHARED, ALONE = Carry(1, share_runs=True), Carry(1)
LINES = ("ssbss", "ssbss", "sssss", "sssss", "ssbss", "ssbss")
PIECE = piece_of(drawn(*LINES), SHARED)
FIRST = Planned.of(0, SHARED, plan_strands(PIECE.rows, SHARED).strands)
"""Strands 1 and 3 meet in gap 3 in rows 3 and 4, as in ``tests/knitting/hands/test_steps_of_shared_runs.py``."""


def opened(*todo: Action) -> Session:
    return after(begin({0: PIECE}, (FIRST,)), *todo)


def after(session: Session, *todo: Action) -> Session:
    for action in todo:
        session = apply(session, decide(session, action))
    return session


BETWEEN = AtRow(3), On()
"""The first part of row 3 is worked, the second one is to come."""


def test_a_plan_is_saved_with_its_meetings_and_read_again_as_it_was() -> None:
    assert to_json((FIRST,)) == (
        '[["Planned",0,[1,0,0,false,true],[[1,2,3],[3,2,1],[1,3],[3,1],[1,4,3],[3,4,1]],[],0,[[2,[3]],[3,[3]]]]]'
    )
    assert from_json(to_json((FIRST,))) == (FIRST,)
    session = opened()
    assert session.rows.meetings == {2: (3,), 3: (3,)}
    assert session.strands == plan_strands(PIECE.rows, SHARED).strands


def test_the_next_plan_says_only_which_rows_are_others() -> None:
    session = opened(*BETWEEN)
    entry = decide(session, Replan(SHARED._replace(reach=2)))
    assert [event.meetings for event in entry if isinstance(event, Planned)] == [()]
    assert apply(session, entry).rows.meetings == {2: (3,), 3: (3,)}


def test_only_where_strands_meet_may_a_plan_differ_from_the_one_before() -> None:
    """Row 4 is shared in gap 2 instead, by the same strands."""
    old = plan_strands(PIECE.rows, SHARED).strands
    new = replace(old, rows=old.rows.divided_at({2: (3,), 3: (2,)}))
    plan = Planned.of(0, SHARED, new, old)
    assert (plan.start, plan.strand_of, plan.meetings) == (3, ((3, 1),), ((3, (2,)),))
    session = apply(opened(AtRow(3)), (plan,))
    assert session.rows.meetings == {2: (3,), 3: (2,)}
    assert Planned.of(0, SHARED, old, old) == Planned(0, SHARED, (), (), 6, ())


def test_what_was_worked_is_saved_part_by_part_with_its_strands() -> None:
    session = opened(AtRow(3))
    worked = [decide(session, On()), decide(after(session, On()), On())]
    assert [entry[0] for entry in worked] == [Worked(2, 0, "sand", 3, 1), Worked(2, 1, "sand", 2, 3)]
    assert after(session, On()).next_place == Place(2, 1)


def test_the_limits_are_changed_in_the_middle_of_a_shared_run_and_what_is_worked_stays() -> None:
    """The second part must be worked still; what is above it is shared no more."""
    session = opened(*BETWEEN, Replan(ALONE))
    assert session.rows.meetings == {2: (3,)}
    assert session.strands.strand_of[2][0] == 1
    assert session.past.worked[2] == (1,)
    assert len(session.rows[3].segments) == 1
    before = opened(AtRow(3), Replan(ALONE))
    assert before.rows.meetings == {}


def test_a_new_strand_joined_where_the_other_should_take_over_stays_there() -> None:
    session = opened(*BETWEEN, On(), JoinNew(Place(2, 1)))
    assert session.past.worked[2] == (1, 4)
    assert session.rows.meetings[2] == (3,)
    assert End(Place(2, 1), "start") in ends_of(session.strands)
    assert after(session, Back()) == opened(*BETWEEN, On())


def test_the_strand_that_began_the_run_may_have_worked_all_of_it() -> None:
    session = opened(*BETWEEN, On())
    assert 1 in others(session, Place(2, 1))
    alone = after(session, GoOn(Place(2, 1), 1))
    assert alone.past.worked[2] == (1, 1)
    assert alone.strands.last[3] == Place(1, 0), "nobody took the other one up"


def test_a_length_may_end_in_either_part() -> None:
    session = opened(*BETWEEN, EndLength(1, is_spliced=False), On())
    assert [(one.place, one.after) for one in session.strands.breaks] == [(Place(2, 1), 1)]
    first = opened(AtRow(3), EndLength(2, is_spliced=False), On(), On())
    assert [(one.place, one.after) for one in first.strands.breaks] == [(Place(2, 0), 2)]


def test_a_cross_missed_where_they_meet_leaves_a_hole_that_an_end_closes() -> None:
    session = opened(AtRow(4), MissCross(Place(2, 1)))
    assert session.missed == {Place(2, 1)}
    assert closes(session)[Place(2, 1)] is not None
    alone = opened(*BETWEEN, On(), GoOn(Place(2, 1), 1))
    assert why_not(alone, MissedCross(2, 1)) == "There is no change there that is worked."
    told_late = after(opened(*BETWEEN, On(), MissCross(Place(2, 1))), GoOn(Place(2, 1), 1))
    assert closes(told_late) == {}, "one strand worked all of it, so that there is no hole"


def test_a_shared_run_is_unpicked_part_by_part_and_ripped_back_whole() -> None:
    session = opened(AtRow(4), Unpick())
    assert (session.row, session.done, session.next_place) == (2, 1, Place(2, 1))
    assert after(session, Unpick()).next_place == Place(2, 0)
    back = opened(AtRow(5), RipBack(3))
    assert (back.rows_done, back.rows.meetings) == (3, {2: (3,), 3: (3,)})


def test_a_mistake_that_is_left_beside_a_shared_run_keeps_its_meeting() -> None:
    """Row 3 begins with one stitch of brick by mistake: it would have other runs, so that it stays as planned."""
    session = opened(AtRow(4), Mend(Mistake(2, (1,), "brick"), "leave"))
    assert session.rows.meetings[2] == (3,)
    assert session.past.worked[2] == (1, 3)


def test_it_counts_as_the_same_work_where_nobody_meets() -> None:
    """The second plan draws the last stitch of row 3 otherwise: in the middle of row 3 it is the same so far."""
    session = opened(*BETWEEN)
    other = piece_of(drawn(*LINES[:3], "bssss", *LINES[4:]))
    worked = PIECE.rows.divided_at(session.rows.meetings)
    assert differing_rows(worked, other.rows, 2, 1) == ()
    assert differing_rows(worked, other.rows, 2, 2) == (2,)
    assert not can_be_knitted_like(session, other), "its run does not end where the first strand stopped"
    entry: Entry = (planned(session, version=(1, other), limits=SHARED),)
    adopted = apply(session.changed(versions={0: PIECE, 1: other}), entry)
    assert [(run.yarn, run.stitches) for run in adopted.rows[2].segments] == [
        ("sand", 3), ("sand", 1), ("brick", 1)
    ]  # fmt: skip
    assert adopted.past == session.past


@pytest.mark.parametrize(
    ("meetings", "told"),
    [
        (((2, (3,)), (3, (3,))), ""),
        (((2, (3,)), (3, (5,))), "Strands meet where no run is."),
        (((2, (3,)), (3, (0,))), "Strands meet where no run is."),
        (((2, (3,)), (3, ())), "Strands meet where no run is."),
        (((2, (3,)), (3, (3, 3))), "Strands meet where no run is."),
        (((2, (3,)), (3, (3, 2))), "Strands meet where no run is."),
        (((2, (3,)), (2, (3,)), (3, (3,))), "Strands meet where no run is."),
        (((2, (3,)), (9, (3,))), "Strands meet where no run is."),
        (((0, (2,)), (2, (3,)), (3, (3,))), "Strands meet where no run is."),
        (((2, (3,)),), "Its strands are not those of the plan."),
        (((2, (3,)), (3, (2,))), ""),
    ],
)
def test_a_journal_from_elsewhere_has_meetings_only_where_strands_can_meet(
    meetings: tuple[tuple[int, tuple[int, ...]], ...], told: str
) -> None:
    plan = Planned(0, SHARED, FIRST.strand_of, (), 0, meetings)
    assert why_not(opened(), plan) == told


def test_a_journal_from_elsewhere_moves_no_meeting_of_what_is_worked() -> None:
    session = opened(AtRow(4))
    moved = Planned(0, SHARED, FIRST.strand_of, (), 0, ((2, (2,)), (3, (3,))))
    assert why_not(session, moved) == "In what was worked strands met elsewhere."
    assert why_not(opened(*BETWEEN), moved) == "In what was worked strands met elsewhere."
    assert why_not(opened(AtRow(3)), moved) == ""
    with pytest.raises(ValueError, match="step 3: Planned: In what was worked strands met elsewhere"):
        replay({0: PIECE}, [(FIRST,), decide(opened(), AtRow(4)), (moved,)], check)


def test_another_meeting_in_the_row_in_work_is_none_of_what_is_worked() -> None:
    rows = PIECE.rows
    assert meet_alike(rows.divided_at({2: (1, 3)}), rows.divided_at({2: (1, 4)}), 2, 1)
    assert not meet_alike(rows.divided_at({2: (1, 3)}), rows.divided_at({2: (2, 3)}), 2, 1)
    assert not meet_alike(rows.divided_at({2: (3,)}), rows, 3, 0)


def test_a_plan_that_was_made_shorter_meets_nowhere_above_its_last_row() -> None:
    session, short = opened(AtRow(3)), piece_of(drawn(*LINES[3:]), SHARED)
    plan = planned(session, version=(1, short), limits=SHARED)
    adopted = apply(session.changed(versions={0: PIECE, 1: short}), (plan,))
    assert (len(adopted.rows), adopted.rows.meetings) == (3, {})
    assert why_not(session.changed(versions={0: PIECE, 1: short}), plan) == ""


def test_back_into_a_shared_run_keeps_where_they_met_in_it_whatever_was_planned_since() -> None:
    """The first part of row 4 is worked, and unpicked; then row 4 is to be shared in gap 2 instead."""
    mid = opened(AtRow(4), On())
    session = after(mid, Unpick())
    strands = session.strands
    moved = replace(strands, rows=strands.rows.divided_at({2: (3,), 3: (2,)}))
    session = apply(session, (Planned.of(0, SHARED, moved, strands),))
    entry = decide(session, Back())
    assert len(entry) == 2, "planned anew from what was worked"
    back = apply(session, entry)
    assert (back.row, back.done, back.rows.meetings) == (3, 1, {2: (3,), 3: (3,)})


def test_back_into_a_shared_run_is_possible_where_its_other_part_was_edited_since() -> None:
    session = opened(*BETWEEN, Unpick())
    other = piece_of(drawn(*LINES[:3], "bssss", *LINES[4:]), SHARED)
    entry: Entry = (planned(session, version=(1, other), limits=SHARED),)
    back = after(apply(session.changed(versions={0: PIECE, 1: other}), entry), Back())
    assert (back.row, back.done, back.past.worked[2]) == (2, 1, (1,))
    assert [run.yarn for run in back.rows[2].segments] == ["sand", "sand", "brick"]


CHART = "".join(f"      {line}\n" for line in LINES)
TEXT = QUAY.partition("rows:\n")[0] + f"carry: {{reach: 1, share_runs: true}}\nrows:\n  - chart: |\n{CHART}"


def test_a_piece_left_in_a_shared_run_is_taken_up_there_edited_and_on_another_machine(tmp_path: Path) -> None:
    here, path = shelf(tmp_path), plan(tmp_path, TEXT)
    with here.start(load(path), path) as knitting:
        knitting.do(AtRow(3))
        knitting.do(On())
        left = knitting.session
    assert (left.done, left.rows.meetings) == (1, {2: (3,), 3: (3,)})
    with here.resume("Quay") as knitting:
        assert knitting.session == left
    plan(tmp_path, TEXT.replace("      sssss\n      ssbss", "      bssss\n      ssbss"))
    with here.resume("Quay") as knitting:
        assert knitting.opened_plan.kind == "adopted"
        assert [run.yarn for run in knitting.session.rows[2].segments] == ["sand", "sand", "brick"]
        assert knitting.session.past == left.past
        now = knitting.session
    there = Shelf(tmp_path / "there")
    there.take_in(read("".join(written(here.contents("Quay"))), "quay.txt"), tmp_path)
    with there.resume("Quay") as knitting:
        assert knitting.session.strands == now.strands
        knitting.do(On())
        assert knitting.session.past.worked[2] == (1, 3)
