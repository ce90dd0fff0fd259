"""In the middle of a row's end: undone, planned anew, put away and taken up there, taken along to another machine."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from old_journals import make_old
from plans_on_disk import plan, resume, shelf, start, state

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import Cut as CutAct
from companion.knitting.hands.steps import End, HaveReady, name_of
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    EndLength,
    GoOn,
    JoinNew,
    On,
    Refused,
    Replan,
    RipBack,
    Unpick,
    Weave,
    WholeRow,
)
from companion.progress.deciding import allowed, decide
from companion.progress.events import (
    BoundOff,
    Cut,
    Entry,
    Planned,
    RowEndBegun,
    RowEndDone,
    Worked,
)
from companion.progress.exported import read, written
from companion.progress.fold import apply, begin, replay
from companion.progress.legality import check
from companion.progress.mishaps import others
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.knitting.charts import Chart, drawn, piece_of

BAR = drawn(
    "ssssskkkss",
    "ssssskkkss",
    "bbssssssss",
    "bbssssssss",
)
"""Row 2, a wrong-side row, begins at the left: brick over 2 stitches, sand over 8. In row 3 the brick is gone, and
from the right there are sand, new kelp and new sand."""


def opened(chart: Chart = BAR, carry: Carry = Carry(3)) -> Session:  # noqa: B008
    piece = piece_of(chart, carry)
    return begin({0: piece}, (Planned.of(0, carry, plan_strands(piece.rows, carry).strands),))


def after(session: Session, *todo: Action) -> Session:
    for action in todo:
        session = apply(session, decide(session, action))
    return session


def left(session: Session) -> list[str]:
    """What is still to be done at the row's end."""
    return [name_of(group[-1]) for group in session.row_end[:-1]]


def to_cut(session: Session) -> list[int]:
    """The strands that are told to be cut now or soon at this row's end."""
    acts = [group[-1] for group in session.row_end[:-1]]
    return [n for act in acts if isinstance(act, CutAct)
            for n in (*(spot.strand for spot in act.spots), *(one.spot.strand for one in act.left_over))]  # fmt: skip


def cut_in(entry: Entry) -> list[int]:
    """The strands that are cut in an entry."""
    return [strand for event in entry if isinstance(event, Cut) for strand in event.strands]


AT_THE_END = (AtRow(2), On(), On())
"""Row 2 of the bar is worked run by run."""


def test_the_bar_asks_for_a_cut_and_for_yarns_at_the_end_of_row_2() -> None:
    session = after(opened(), *AT_THE_END)
    assert (left(session), to_cut(session)) == (["cut", "have ready"], [2])
    assert session.at == (1, 2)
    assert left(after(session, On())) == ["have ready"]
    assert left(after(session, On(), On())) == []
    assert after(session, On(), On()).at == (2, 0)


# Undoing ----------------------------------------------------------------------------------------------------------


def test_back_leads_through_a_row_end_act_by_act() -> None:
    mid = after(opened(), AtRow(2), On())
    stations = [mid]
    for _ in range(4):
        stations.append(after(stations[-1], On()))
    assert [left(station) for station in stations] == [[], ["cut", "have ready"], ["have ready"], [], []]
    session = stations.pop()
    while stations:
        session = after(session, Back())
        assert session == stations.pop()


@pytest.mark.parametrize("done", [0, 1, 2])
def test_unpicking_from_a_row_end_leads_into_the_row_and_to_its_end_again(done: int) -> None:
    """What is cut stays cut and is not told again; all else is asked for with the run that is worked again."""
    session = after(opened(), *AT_THE_END, *[On()] * done)
    undone = after(session, Unpick())
    assert (undone.next_place, left(undone), undone.cut) == (Place(1, 1), [], session.cut)
    again = after(undone, On())
    assert left(again) == (["cut", "have ready"] if not done else ["have ready"])
    assert again.cut == session.cut


def test_ripping_back_from_a_row_end_leaves_the_row_below_with_its_end_done() -> None:
    session = after(opened(), *AT_THE_END, On(), RipBack(1))
    assert (session.rows_done, session.act, session.next_place) == (1, None, Place(1, 0))
    assert left(after(session, On(), On())) == ["have ready"]
    with pytest.raises(Refused, match=r"Say a row from 0 \(the cast-on\) to 1\."):
        decide(after(opened(), *AT_THE_END), RipBack(2))  # nothing above row 2 is on the needles


def test_what_was_done_at_the_turn_below_is_not_asked_for_again_when_the_first_run_is_unpicked() -> None:
    session = after(opened(), *AT_THE_END, On(), On(), On(), Unpick())
    assert (session.next_place, session.act, left(session)) == (Place(2, 0), None, [])


# I am at row ...  -------------------------------------------------------------------------------------------------


def test_i_am_at_the_next_row_does_what_is_left_and_cuts_nothing_twice() -> None:
    session = after(opened(), *AT_THE_END)
    assert AtRow in allowed(session)
    assert decide(session, AtRow(3)) == (Cut(1, (2,)), RowEndDone(1, "have ready"))
    assert after(session, AtRow(3)) == after(session, On(), On())
    assert cut_in(decide(session, AtRow(5))).count(2) == 1
    assert after(session, On(), AtRow(3)) == after(session, On(), On())
    with pytest.raises(Refused, match="Say a row from 4 to 5"):
        decide(after(session, On(), On()), AtRow(3))


def test_at_the_last_row_the_others_are_cut_first_and_then_it_is_bound_off() -> None:
    session = after(opened(), AtRow(4), WholeRow())
    in_hand = session.strands.strand_of[3][-1]
    others_there = sorted(set(session.strands.strand_of[3]) - {in_hand})
    assert (left(session), sorted(to_cut(session))) == (["cut"], others_there)
    assert {On, AtRow, BindOff} <= allowed(session)
    assert sorted(cut_in(decide(session, On()))) == sorted(cut_in(decide(session, AtRow(5)))) == others_there
    cut = after(session, On())
    assert (cut.is_worked, cut.act) == (True, None)
    assert decide(cut, BindOff()) == (Cut(3, (in_hand,)), BoundOff())
    assert sorted(cut_in(decide(session, BindOff()))) == sorted([*others_there, in_hand])
    with pytest.raises(Refused, match=r"Every row is worked\."):
        decide(cut, AtRow(5))


# Another plan for the rest ----------------------------------------------------------------------------------------

STEP = drawn(
    "bbbbssssss",
    "ssssssbbbb",
)
"""Row 1 from the right: brick 4, sand 6; row 2 from the left: brick 4, sand 6. The sand hangs at the left edge, six
stitches from where it is needed; the brick hangs where it ended, four stitches from the right edge."""


def test_a_strand_that_is_needed_by_the_new_plan_is_not_told_to_be_cut_any_more() -> None:
    near, far = Carry(0), Carry(6)
    session = after(opened(STEP, near), On(), On())
    assert left(session) == ["cut", "have ready"]
    again = after(session, Replan(far))
    needed = set(again.strands.strand_of[1])
    assert not set(to_cut(again)) & needed
    assert len(to_cut(again)) < len(to_cut(session))
    # And the other way round: what the new plan does not need is told to be cut.
    back = after(again, Replan(near))
    assert sorted(to_cut(back)) == sorted(to_cut(session))


def test_what_is_cut_already_is_neither_told_again_nor_worked_on_by_a_new_plan() -> None:
    session = after(opened(STEP, Carry(0)), On(), On(), On())
    gone = session.cut
    assert gone
    assert left(session) == ["have ready"]
    again = after(session, Replan(Carry(6)))
    assert (again.cut, to_cut(again)) == (gone, [])
    assert not gone & set(again.strands.strand_of[1])
    assert left(again) == ["have ready"]


@pytest.mark.parametrize("is_new", [True, False])
def test_what_is_done_is_not_asked_for_again_by_a_new_plan_nor_what_is_left_forgotten(is_new: bool) -> None:
    session = divided_at_its_end()
    assert left(session) == ["bind off", "take up", "have ready"]
    for done, names in enumerate((["bind off", "take up", "have ready"], ["take up", "have ready"], ["have ready"])):
        at = after(session, *[On()] * done)
        limits = Carry(1) if is_new else session.limits._replace(behind=2)
        assert left(after(at, Replan(limits))) == names


def test_when_all_is_done_a_new_plan_opens_the_row_end_only_for_what_must_be_cut() -> None:
    """The limits are widened, so that the first brick hangs ready for row 2; and narrowed again."""
    wide = after(opened(STEP, Carry(6)), On(), On())
    while wide.act is not None:
        wide = after(wide, On())
    kept = set(wide.strands.strand_of[1]) & set(wide.strands.strand_of[0])
    assert kept
    narrow = after(wide, Replan(Carry(0)))
    assert left(narrow) == ["cut"]
    assert set(to_cut(narrow)) == kept
    assert left(after(narrow, On())) == []
    assert after(narrow, Back()) == wide
    assert left(after(wide, Replan(Carry(7)))) == []


def divided_at_its_end() -> Session:
    """At the end of the first part of the ferry jumper: it is to be bound off, and the left part taken up."""
    [path] = [path for path in demo_plans() if path.stem == "ferry-jumper-front"]
    piece = load(path).piece
    session = begin({0: piece}, (Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands),))
    return after(session, AtRow(98), WholeRow())


def test_where_the_first_part_ends_it_is_bound_off_once_and_the_second_one_taken_up_once() -> None:
    session = divided_at_its_end()
    in_hand = session.strands.strand_of[97][-1]
    assert decide(session, On()) == (RowEndDone(97, "bind off"), Cut(97, (in_hand,)))
    assert decide(after(session, On()), On()) == (RowEndDone(97, "take up"),)
    at_once = decide(session, AtRow(99))
    assert cut_in(at_once) == [in_hand]
    assert [event.act for event in at_once if isinstance(event, RowEndDone)] == ["bind off", "take up", "have ready"]


# What happened ----------------------------------------------------------------------------------------------------


def test_a_new_strand_told_at_a_row_end_has_the_one_it_stands_for_cut_with_the_others() -> None:
    """The sand of row 2 was joined new after all: that of row 1 is not needed any more."""
    session = after(opened(), *AT_THE_END)
    told = after(session, JoinNew(Place(1, 1)))
    old, new = session.strands.at(Place(1, 1)), told.strands.at(Place(1, 1))
    assert sorted(to_cut(told)) == sorted([2, old])
    assert new not in to_cut(told)
    assert sorted(cut_in(decide(told, On()))) == sorted([2, old])
    # When the cuts are made already, the old one alone is still to be cut, and nothing else is asked for again.
    late = after(session, On(), On(), JoinNew(Place(1, 1)))
    assert (left(late), to_cut(late)) == (["cut"], [old])


def test_a_strand_gone_on_with_at_a_row_end_is_not_told_to_be_cut() -> None:
    """In row 2 the brick is worked with the strand of row 1, which had been planned to be cut."""
    session = after(opened(drawn("ssss", "bbss", "ssbb"), Carry(0)), AtRow(2), On())
    brick = Place(1, 0)
    [old] = others(session, brick)
    planned = session.strands.at(brick)
    assert old in session.cut
    gone_on = after(session, GoOn(brick, old), On())
    assert old in to_cut(gone_on)  # after row 2 it has no more to do
    assert planned not in to_cut(gone_on)
    assert old not in gone_on.cut


def test_a_strand_that_ran_out_where_it_hangs_is_not_told_to_be_cut_but_a_new_one_to_be_had_ready() -> None:
    session = after(opened(drawn("ssbb", "ssbb", "ssbb")), AtRow(2), On(), On())
    first = session.strands.at(Place(2, 0))
    assert left(session) == []
    ended = after(session, EndLength(0, is_spliced=False))
    assert first in ended.cut
    assert first not in to_cut(ended)
    assert ended.strands.at(Place(2, 0)) != first


def test_weaving_in_the_tail_of_a_strand_that_is_to_be_cut_is_cutting_it() -> None:
    session = after(opened(), *AT_THE_END, Weave(End(Place(1, 0), "finish")))
    assert session.cut == {2}
    assert left(session) == ["have ready"]


def test_what_is_planned_anew_while_yarns_are_to_be_had_ready_tells_those_of_the_new_plan() -> None:
    session = after(opened(STEP, Carry(0)), On(), On(), On())
    assert session.act == HaveReady(("brick", "sand"), ())
    brick = session.strands.at(Place(0, 0))
    gone_on = after(session, GoOn(Place(1, 0), brick))
    assert gone_on.act == HaveReady(("sand",), ())


# Put away and taken up --------------------------------------------------------------------------------------------

QUAY_BAR = """\
plan: 1
title: Quay
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  brick: {colour: brown}
  kelp: {colour: green}
symbols:
  s: sand
  b: brick
  k: kelp
carry: {reach: 3}
rows:
  - chart: |
      ssssskkkss
      ssssskkkss
      bbssssssss
      bbssssssss
"""


@pytest.mark.parametrize("done", [0, 1, 2])
def test_a_position_in_a_row_end_survives_putting_away_and_taking_up(tmp_path: Path, done: int) -> None:
    with start(tmp_path, QUAY_BAR) as knitting:
        for action in (*AT_THE_END, *[On()] * done):
            knitting.do(action)
        was = knitting.session
    with resume(tmp_path) as knitting:
        assert knitting.session == was
        assert left(knitting.session) == ["cut", "have ready"][done:]
        assert knitting.card.rows_done == 2
        assert knitting.do(Back()) == was.before
        knitting.do(On())
    with resume(tmp_path) as knitting:
        while not knitting.session.is_worked:
            knitting.do(On())


def test_it_goes_to_another_machine_in_the_middle_of_a_row_end(tmp_path: Path) -> None:
    with start(tmp_path, QUAY_BAR) as knitting:
        for action in (*AT_THE_END, On()):
            knitting.do(action)
        was = knitting.session
    away = Shelf(tmp_path / "elsewhere")
    away.take_in(read("".join(written(shelf(tmp_path).contents("Quay"))), "quay.txt"), tmp_path)
    with away.resume("Quay") as knitting:
        assert state(knitting.session) == state(was)
        assert left(knitting.session) == ["have ready"]


def test_a_plan_edited_in_the_middle_of_a_row_end_asks_for_what_it_needs_there(tmp_path: Path) -> None:
    """The kelp is taken out of rows 3 and 4, so that nothing is to be had ready; the brick goes on in one of two."""
    without_kelp = QUAY_BAR.replace("kkk", "sss")
    with_brick = without_kelp.replace("      ssssssssss\n", "      bbssssssss\n", 2)
    for edited, asked in ((without_kelp, ["cut"]), (with_brick, [])):
        with start(tmp_path, QUAY_BAR, name=f"Quay {len(asked)}") as knitting:
            for action in AT_THE_END:
                knitting.do(action)
            name = knitting.name
        plan(tmp_path, edited)
        with resume(tmp_path, name) as knitting:
            assert knitting.opened_plan.kind == "adopted"
            assert left(knitting.session) == asked
            knitting.do(On())


def test_a_plan_edited_when_all_is_done_asks_for_nothing_again(tmp_path: Path) -> None:
    with start(tmp_path, QUAY_BAR) as knitting:
        for action in (*AT_THE_END, On(), On()):
            knitting.do(action)
    plan(tmp_path, QUAY_BAR.replace("kkk", "bbb"))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
        assert left(knitting.session) == []
        assert knitting.session.next_place == Place(2, 0)


# From elsewhere ---------------------------------------------------------------------------------------------------

HISTORY: tuple[Entry, ...] = (
    (Worked(0, 0, "sand", 8, 1),),
    (Worked(0, 1, "brick", 2, 2),),
    (Worked(1, 0, "brick", 2, 2),),
    (Worked(1, 1, "sand", 8, 1), RowEndBegun(1)),
    (Cut(1, (2,)),),
    (RowEndDone(1, "have ready"),),
    (Worked(2, 0, "sand", 2, 1),),
)


def replayed(*entries: Entry) -> Session:
    piece = piece_of(BAR)
    first = Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands)
    return replay({0: piece}, [(first,), *entries], check)


def test_a_history_through_a_row_end_is_that_of_the_hands() -> None:
    session = after(opened(), *[On()] * 7)
    assert replayed(*HISTORY) == session
    assert [station.last for station in stations(session)] == [*HISTORY]


def stations(session: Session) -> list[Session]:
    """The session and all that Back leads to, the oldest first, but for the first."""
    found = []
    while session.before is not None:
        found.append(session)
        session = session.before
    return found[::-1]


BEGUN, CUT, READY, ON = HISTORY[3:]


@pytest.mark.parametrize(
    ("entries", "event"),
    [
        ((*HISTORY[:2], (RowEndBegun(0),)), "RowEndBegun"),  # nothing is to be done there
        ((*HISTORY[:3], (RowEndBegun(1),)), "RowEndBegun"),  # the row is not whole
        ((*HISTORY[:4], (RowEndBegun(1),)), "RowEndBegun"),  # it is begun already
        ((*HISTORY[:3], (BEGUN[0], RowEndBegun(2))), "RowEndBegun"),  # of another row
        ((*HISTORY[:3], (BEGUN[0], RowEndBegun(1, ("divide",)))), "RowEndBegun"),  # there is nothing to divide
        ((*HISTORY[:3], (BEGUN[0], RowEndBegun(1, ("cut", "have ready")))), "RowEndBegun"),  # then none is left
        ((*HISTORY[:4], READY), "RowEndDone"),  # the cut comes first
        ((*HISTORY[:5], (RowEndDone(1, "leave"),)), "RowEndDone"),  # nothing rests
        ((*HISTORY[:5], (RowEndDone(0, "have ready"),)), "RowEndDone"),  # of another row
        ((*HISTORY[:6], READY), "RowEndDone"),  # it is done already
        ((*HISTORY[:3], (BEGUN[0],), READY), "RowEndDone"),  # it was done with the row
        ((*HISTORY[:4], ON), "Worked"),  # the row's end is still to be worked
        ((*HISTORY[:5], ON), "Worked"),
        ((*HISTORY[:4], (Cut(1, (1,)),)), "Cut"),  # not the strand that is told
        ((*HISTORY[:5], CUT), "Cut"),  # it is cut already
    ],
)
def test_a_history_with_a_row_end_out_of_order_is_refused(entries: tuple[Entry, ...], event: str) -> None:
    replayed(*entries[:-1])
    with pytest.raises(ValueError, match=f"^step {len(entries) + 1}: {event}: It cannot have happened there$"):
        replayed(*entries)


def test_a_piece_is_not_bound_off_in_a_history_before_the_others_are_cut() -> None:
    session = after(opened(), AtRow(4), WholeRow())
    history = [station.last for station in stations(session)]
    replayed(*history, decide(session, BindOff()))
    with pytest.raises(ValueError, match="BoundOff: It cannot have happened there"):
        replayed(*history, (BoundOff(),))


# Older journals ---------------------------------------------------------------------------------------------------


def make_older(tmp_path: Path, version: int, *events: str) -> None:
    """The piece's file as the program of that version wrote it, with these entries after the first: at a row's end
    all that is cut there came with the last run."""
    [file] = (tmp_path / "pieces").glob("*.rowside")
    make_old(file, version)
    with closing(sqlite3.connect(file, isolation_level=None)) as db:
        [(at,)] = db.execute("SELECT at FROM entry WHERE seq = 0")
        db.execute("DELETE FROM entry WHERE seq > 0")
        db.executemany("INSERT INTO entry VALUES (?, ?, ?)", [(seq, at, text) for seq, text in enumerate(events, 1)])


OLDER = (
    '[["Worked",0,0,"sand",8,1]]',
    '[["Worked",0,1,"brick",2,2]]',
    '[["Worked",1,0,"brick",2,2]]',
    '[["Worked",1,1,"sand",8,1],["Cut",1,[2]]]',
)


@pytest.mark.parametrize("version", [1, 2])
def test_an_older_journal_is_taken_up_with_its_row_end_done(tmp_path: Path, version: int) -> None:
    start(tmp_path, QUAY_BAR).close()
    make_older(tmp_path, version, *OLDER)
    with resume(tmp_path) as knitting:
        session = knitting.session
        assert (session.act, session.next_place, session.cut) == (None, Place(2, 0), {2})
        assert [name_of(step) for step in session.row_end[-1]] == ["count", "have ready", "turn"]
        assert knitting.do(On()).last_place == Place(2, 0)
        # Undone and worked again, what was cut is not cut again, and the rest is asked for.
        for action in (Unpick(), Unpick(), On()):
            knitting.do(action)
        assert left(knitting.session) == ["have ready"]
    with resume(tmp_path) as knitting:
        assert left(knitting.session) == ["have ready"]
        assert decide(knitting.session, On()) == (RowEndDone(1, "have ready"),)


@pytest.mark.parametrize("version", [1, 2])
def test_an_older_journal_in_which_the_strand_in_hand_was_cut_before_the_bind_off_is_bound_off(
    tmp_path: Path, version: int
) -> None:
    with start(tmp_path, QUAY_BAR) as knitting:
        third, fourth = knitting.session.strands.strand_of[2:]
    rows = [
        [f'["Worked",{row},{i},"{yarn}",{stitches},{strand}]'
         for i, (yarn, stitches, strand) in enumerate(zip(yarns, counts, strands, strict=True))]
        for row, yarns, counts, strands in (
            (2, ("sand", "kelp", "sand"), (2, 3, 5), third), (3, ("sand", "kelp", "sand"), (5, 3, 2), fourth)
        )
    ]  # fmt: skip
    cut = ",".join(map(str, fourth))
    make_older(tmp_path, version, *OLDER, f'[{",".join(rows[0])}]', f'[{",".join(rows[1])},["Cut",3,[{cut}]]]')
    with resume(tmp_path) as knitting:
        assert (knitting.session.is_worked, knitting.session.act) == (True, None)
        assert knitting.session.cut == set(knitting.session.strands.first)
        assert decide(knitting.session, BindOff()) == (BoundOff(),)
