"""From the bind-off to the piece that is really finished, step by step."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from companion.knitting import words
from companion.knitting.cloth.seams import Seams
from companion.knitting.cloth.tubes import TubeSeam, with_seam_stitches
from companion.knitting.hands.steps import SewUp, Trim, Wash, WeaveAtSeams, name_of
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import Action, BindOff, Finish, On, Refused, Unweave, Weave
from companion.progress.deciding import allowed, decide
from companion.progress.ends import all_ends, ready_ends
from companion.progress.events import Planned
from companion.progress.finishing import finishing, next_step, phase_of
from companion.progress.fold import apply, begin
from companion.progress.session import Phase, Session
from tests.knitting.charts import Chart, drawn, piece_of

PLANS = Path(__file__).parents[2] / "plans"
FLAG = piece_of(drawn("ssbb", "ssbb", "sbbb"))
SEWN_UP = replace(FLAG, seams=Seams(left=1, right=1))


def cast_on(piece: Piece) -> Session:
    strands = plan_strands(piece.rows, piece.carry).strands
    return begin({0: piece}, (Planned.of(0, piece.carry, strands),))


def does(session: Session, *actions: Action) -> Session:
    for action in actions:
        session = apply(session, decide(session, action))
    return session


def bound_off(piece: Piece) -> Session:
    session = cast_on(piece)
    while not session.is_worked or session.act is not None:
        session = does(session, On())
    return does(session, BindOff())


def woven_where_it_can_be(session: Session) -> Session:
    return does(session, *(Weave(end) for end, state in all_ends(session) if state == "ready"))


def steps(session: Session) -> list[str]:
    """The steps still to do, in their order."""
    return [name_of(todo.doing) for todo in finishing(session) if not todo.is_done]


def test_the_steps_in_their_order_and_none_before_the_one_below_it() -> None:
    """Weaving before washing, trimming after it: "Changing colors and weaving in loose ends"; the rest of the order
    is common practice, no source."""
    session = bound_off(SEWN_UP)
    assert steps(session) == ["weave in", "wash", "trim", "sew up", "weave at seams"]
    with pytest.raises(Refused, match="There are ends to weave in yet"):
        decide(session, Finish())
    session = woven_where_it_can_be(session)
    waiting = [end for end, state in all_ends(session) if state == "for the seam"]
    assert waiting
    assert ready_ends(session) == 0
    told = []
    while (todo := next_step(session)) is not None and Finish in allowed(session):
        told.append(todo.doing)
        session = does(session, Finish())
    assert told == [Wash(), Trim(), SewUp(2, ())]
    assert next_step(session) == (WeaveAtSeams(len(waiting)), False)
    assert {state for end, state in all_ends(session) if end in waiting} == {"ready"}
    assert ready_ends(session) == len(waiting)
    session = does(session, *(Weave(end) for end in waiting))
    assert phase_of(session) is Phase.FINISHED
    with pytest.raises(Refused, match="The piece is finished"):
        decide(session, Finish())


def test_the_flat_part_of_a_tube_is_sewn_up_like_side_edges() -> None:
    chart = drawn("ssss", "sbbs", "sbbs", "ssss")
    fabric = with_seam_stitches(Chart(chart.grid, (True, False, False, True)).fabric(), [0, 1, 1, 0])
    session = woven_where_it_can_be(bound_off(replace(FLAG, fabric=fabric)))
    assert steps(session) == ["wash", "trim", "sew up", "weave at seams"]
    session = does(session, Finish(), Finish())
    sewing = SewUp(0, (TubeSeam(1, 2, 1),))
    assert next_step(session) == (sewing, False)
    # Both strands of sand are joined and cut beside brick or in the rounds, so no end waits at the edges.
    told = "Sew the side edges of rows 2 to 3 together, half a stitch from each edge."
    assert words.tell(sewing, "full", words.US) == told
    both = SewUp(2, sewing.tubes)
    assert words.tell(both, "full", words.US) == (
        "Sew up the side edges: to each other, or to the pieces that lie beside this one. "
        f"{told}"
    )
    session = woven_where_it_can_be(does(session, Finish()))
    assert phase_of(session) is Phase.FINISHED


def test_a_piece_that_is_not_sewn_up_has_no_seams_to_do() -> None:
    session = woven_where_it_can_be(bound_off(FLAG))
    assert steps(session) == ["wash", "trim"]
    assert phase_of(does(session, Finish(), Finish())) is Phase.FINISHED


def test_before_the_bind_off_nothing_is_finished() -> None:
    session = cast_on(FLAG)
    assert steps(session) == ["bind off", "weave in", "wash", "trim"]
    with pytest.raises(Refused, match="not bound off yet"):
        decide(session, Finish())


def test_an_end_that_came_out_again_is_woven_before_anything_else() -> None:
    session = woven_where_it_can_be(bound_off(FLAG))
    end = all_ends(session)[0][0]
    session = does(session, Finish(), Unweave(end))
    assert steps(session) == ["weave in", "wash", "trim"]
    assert steps(does(session, Weave(end))) == ["trim"]
