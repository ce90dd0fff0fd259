"""Every demo plan worked to its end, run by run, until nothing is left to do."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from companion.knitting.cloth.fabric import cells
from companion.knitting.hands.steps import SewOn, name_of
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import Action, AtRow, BindOff, Finish, Note, On, RipBack, Sew, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.progress.events import Cut, Worked
from companion.progress.exported import read, written
from companion.progress.finishing import SAID, next_step, phase_of
from companion.progress.mishaps import to_sew
from companion.progress.session import Phase, Session
from companion.progress.shelf import Shelf
from tests.progress.row_ends_reckoned import HEAVY, RowEnds, drawn_rows
from tests.progress.test_finishing import cast_on, does


def reckoned(session: Session) -> list[tuple[str, ...]]:
    """What is to be done at the end of every row, reckoned apart."""
    ends = RowEnds(
        drawn_rows(session.rows), [n for row in session.strands.strand_of for n in row],
        session.piece.cast_on.is_each,
    )  # fmt: skip
    found, cut = list[tuple[str, ...]](), set[int]()
    for row in range(len(ends.rows)):
        found.append(tuple(ends.acts(row, cut)))
        cut |= ends.to_cut(row, cut) | (set() if ends.is_worked_on(row) else {ends.in_hand(row)})
    return found


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
@pytest.mark.parametrize("press", [On(), WholeRow()], ids=["run by run", "row by row"])
def test_a_demo_is_worked_press_by_press_to_its_end_and_finished(path: Path, press: Action) -> None:
    """A press for every run, or for every row; and one for everything that is to be done at a row's end, but for what
    goes with a row that is worked at once."""
    piece = load(path).piece
    session = cast_on(piece)
    asked = reckoned(session)
    presses = [len(row.segments) if press == On() else 1 for row in session.rows]
    expected = [(row, "") for row, times in enumerate(presses) for _ in range(times)]
    expected += [
        (row, act) for row, acts in enumerate(asked) for act in acts if press == On() or HEAVY.intersection(acts)
    ]
    worked, cut, pressed = Counter[str](), Counter[int](), list[tuple[int, str]]()
    while not session.is_worked or session.act is not None:
        act = name_of(session.act) if session.act is not None else ""
        session = does(session, press)
        pressed.append((session.row, act))
        for event in session.last:
            if isinstance(event, Worked):
                worked[event.yarn] += event.stitches
            cut.update(event.strands if isinstance(event, Cut) else ())
        if session.is_at_turn:
            assert session.rows[session.row].stitches == piece.fabric.rows[session.row].stitches
    assert sorted(pressed) == sorted(expected)
    assert [act for _, act in pressed if act] == [act for _, act in expected if act]
    drawn = Counter(cell.yarn for row in piece.fabric.rows for cell in cells(row) if cell is not None)
    assert worked == drawn
    session = does(session, BindOff())
    cut.update(strand for event in session.last if isinstance(event, Cut) for strand in event.strands)
    assert cut == Counter(session.strands.first.keys())
    session = finished(session)
    assert phase_of(session) is Phase.FINISHED
    assert session.cut == set(session.strands.first)
    assert len(session.woven) == session.strands.total.ends


def test_a_divided_piece_is_taken_up_where_it_was_left_here_and_on_another_machine(tmp_path: Path) -> None:
    [path] = [path for path in demo_plans() if path.stem == "ferry-jumper-front"]
    here, there = Shelf(tmp_path / "here"), Shelf(tmp_path / "there")
    with here.start(load(path), path) as knitting:
        knitting.do(AtRow(100))  # row 2 of the left part
        knitting.do(On())
        knitting.do(RipBack(90))  # row 6 of the right part stays
        assert knitting.session.rows[knitting.session.row].key == ("right", 6)
        knitting.do(AtRow(100))
        knitting.do(Note(99, "begun at the neck"))
        name, left = knitting.card.name, knitting.session
    with here.resume(name) as knitting:
        assert knitting.session == left
    there.take_in(read("".join(written(here.contents(name))), "jumper.txt"), tmp_path)
    with there.resume(name) as knitting:
        assert knitting.session == left
        assert knitting.session.rows[knitting.session.row].key == ("left", 1)
        knitting.do(On())


def finished(session: Session) -> Session:
    """Every step of finishing done in its order."""
    while (todo := next_step(session)) is not None:
        if type(todo.doing) in SAID.values():
            session = does(session, Finish())
        elif isinstance(todo.doing, SewOn):
            session = does(session, *(Sew(area.first) for area in to_sew(session)))
        else:
            ends = [end for end, state in all_ends(session) if state in ("ready", "for the seam")]
            session = does(session, *(Weave(end) for end in ends))
    return session
