"""Every demo plan worked to its end, run by run, until nothing is left to do."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from companion.knitting.cloth.fabric import cells
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import AtRow, BindOff, Finish, Note, On, RipBack, Sew, Weave
from companion.progress.ends import all_ends
from companion.progress.events import Worked
from companion.progress.exported import read, written
from companion.progress.finishing import TOLD, is_finished, next_step
from companion.progress.repairs import to_sew
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.progress.test_finishing import cast_on, does


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_a_demo_is_worked_to_its_end_and_finished(path: Path) -> None:
    piece = load(path).piece
    session = cast_on(piece)
    worked: Counter[str] = Counter()
    while not session.is_worked or session.act is not None:
        session = does(session, On())
        for event in session.last:
            if isinstance(event, Worked):
                worked[event.yarn] += event.stitches
        if session.is_at_turn:
            assert session.rows[session.row].stitches == piece.fabric.rows[session.row].stitches
    drawn = Counter(cell.yarn for row in piece.fabric.rows for cell in cells(row) if cell is not None)
    assert worked == drawn
    session = finished(does(session, BindOff()))
    assert is_finished(session)
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
        if todo.step in TOLD:
            session = does(session, Finish())
        elif todo.step == "sew":
            session = does(session, *(Sew(area.first) for area in to_sew(session)))
        else:
            ends = [end for end, state in all_ends(session) if state in ("ready", "for the seam")]
            session = does(session, *(Weave(end) for end in ends))
    return session
