"""Every demo plan worked to its end, run by run, until nothing is left to do."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from companion.knitting.fabric import cells
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import BindOff, Finish, On, Sew, Weave
from companion.progress.ends import all_ends
from companion.progress.events import Worked
from companion.progress.finishing import TOLD, is_finished, next_step
from companion.progress.mending import to_sew
from companion.progress.session import Session
from tests.progress.test_finishing import cast_on, does


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_a_demo_is_worked_to_its_end_and_finished(path: Path) -> None:
    piece = load(path).piece
    session = cast_on(piece)
    worked: Counter[str] = Counter()
    while not session.is_worked:
        session = does(session, On())
        [event] = [event for event in session.last if isinstance(event, Worked)]
        worked[event.yarn] += event.stitches
        if session.is_at_turn:
            assert session.rows[session.row].stitches == piece.fabric.rows[session.row].stitches
    drawn = Counter(cell.yarn for row in piece.fabric.rows for cell in cells(row) if cell is not None)
    assert worked == drawn
    session = finished(does(session, BindOff()))
    assert is_finished(session)
    assert session.cut == set(session.strands.first)
    assert len(session.woven) == session.strands.total.ends


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
