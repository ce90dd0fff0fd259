"""A row's end that is only half done: put away and taken up there, met by an edited plan, taken along to another
machine, read from a history or from an older journal.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from old_journals import make_old
from plans_on_disk import plan, resume, shelf, start, state

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import name_of
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import AtRow, Back, BindOff, On, Unpick, WholeRow
from companion.progress.deciding import decide
from companion.progress.events import BoundOff, Cut, Entry, Planned, RowEndBegun, RowEndDone, Worked
from companion.progress.exported import read, written
from companion.progress.fold import replay
from companion.progress.legality import check
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.knitting.charts import piece_of
from tests.progress.the_bar import AT_THE_END, BAR, after, left, opened

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
