"""What the hands do at a row's end, worked out by hand."""

from __future__ import annotations

import pytest

from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.hands.row_ends import by_press, pressed, row_end
from companion.knitting.hands.steps import (
    BindOff,
    Count,
    Cut,
    GoFlat,
    GoRound,
    HaveReady,
    JoinRound,
    Leave,
    Spot,
    Turn,
    name_of,
)
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, tell
from companion.plan.demo import demo_folder
from companion.plan.read import load
from tests.knitting.charts import Chart, drawn


def demo(name: str) -> tuple[Piece, Strands]:
    folder = demo_folder()
    assert folder is not None
    piece = load(folder / f"{name}.yaml").piece
    return piece, plan_strands(piece.rows, piece.carry).strands


def planned(*lines: str, rest: int = 0) -> Strands:
    return plan_strands(drawn(*lines).rows(), Carry(3, 0, rest)).strands


def test_of_two_strands_of_one_yarn_the_one_that_stays_is_named_when_the_other_is_cut() -> None:
    """The mat's bar ends with row 34, a wrong-side row: the ground on both sides of it is tide, and row 35 is worked
    on with the strand at the far edge. Before the turn the strands lie as they were worked, first at the right."""
    _, strands = demo("mooring-mat")
    [cut] = [step for step in row_end(strands, 33) if isinstance(step, Cut)]
    assert [(spot.yarn, spot.nth) for spot in cut.spots] == [("tide", 1), ("sailcloth", 2)]
    assert [(spot.yarn, spot.nth) for spot in cut.stays] == [("tide", 3)]
    assert tell(cut, "full", US) == (
        "Cut, leaving a tail: the tide beside sailcloth, first from the right; the sailcloth between tide and tide, "
        "second from the right. Counted from the right, tide third stays."
    )
    before = [hang.worked.segment for hang in hangs(strands, 33, 3, is_turned=False)]
    after = [hang.worked.segment for hang in hangs(strands, 33, 3)]
    assert before == [0, 1, 2]
    assert after == [2, 1, 0]


@pytest.mark.parametrize("name", ["breakwater-cowl", "wrist-warmer-left", "wrist-warmer-right"])
def test_a_tube_is_joined_once_and_not_twisted(name: str) -> None:
    _, strands = demo(name)
    assert isinstance(casting_on(strands)[-1], JoinRound)
    assert "not twisted" in tell(JoinRound(), "written", US)
    again = [step for row in range(len(strands.rows)) for step in row_end(strands, row) if isinstance(step, GoRound)]
    assert [step.is_again for step in again] == [True]


def test_a_tube_that_begins_flat_is_joined_where_its_rounds_begin() -> None:
    flat = drawn("ssss", "ssss", "ssss")
    strands = plan_strands(Chart(flat.grid, (False, False, True)).rows(), Carry(3)).strands
    assert not any(isinstance(step, JoinRound) for step in casting_on(strands))
    assert row_end(strands, 1) == (Count(4, 0), Turn("away"), GoRound(is_again=False))
    assert "join the row into a round, nothing twisted" in tell(GoRound(is_again=False), "full", US)
    assert "again" not in tell(GoRound(is_again=False), "full", US)


def test_below_rounds_the_turn_comes_before_the_round_begins() -> None:
    """Row 44 of the cowl is a wrong-side row, so it is turned, and then the rounds go on."""
    _, strands = demo("breakwater-cowl")
    kinds = [type(step) for step in row_end(strands, 43)]
    assert kinds.index(Turn) + 1 == kinds.index(GoRound)
    assert GoFlat in [type(step) for step in row_end(strands, 9)]


def test_a_row_that_asks_for_nothing_else_is_turned_without_a_press() -> None:
    strands = planned("ssss", "ssss", "ssss")
    assert row_end(strands, 0) == (Count(4, 0), Turn("toward"))
    assert row_end(strands, 1) == (Count(4, 0), Turn("away"))
    assert pressed(strands, 0) == ()
    assert by_press(strands, 0) == (row_end(strands, 0),)


def test_every_other_act_is_pressed_in_the_order_in_which_it_is_done() -> None:
    """Row 2, from the left: brick over 2 stitches and sand over 6; row 3 has kelp, and no brick any more."""
    strands = planned("sssskkss", "bbssssss", "bbssssss")
    assert [name_of(step) for step in row_end(strands, 1)] == ["count", "cut", "have ready", "turn"]
    assert pressed(strands, 1) == (
        Cut((Spot(2, "brick", 1, 2, "", "sand"),), (), ()),
        HaveReady(("kelp", "sand"), ()),
    )
    first, second, rest = by_press(strands, 1)
    assert [name_of(step) for step in first] == ["count", "cut"]
    assert [name_of(step) for step in second] == ["have ready"]
    assert rest == (Turn("away"),)


def test_a_strand_that_rests_is_left_hanging() -> None:
    """Brick waits over row 2 and works row 3 again; of the two sands one works row 2, and the other waits too."""
    strands = planned("ssbbss", "ssssss", "ssbbss", rest=2)
    [leave] = [step for step in row_end(strands, 0) if isinstance(step, Leave)]
    assert [(spot.yarn, spot.nth, rows) for spot, rows in leave.rests] == [("sand", 1, 1), ("brick", 2, 1)]


def test_a_part_is_bound_off_and_the_other_one_taken_up() -> None:
    piece, strands = demo("ferry-jumper-front")
    last = max(index for index, row in enumerate(piece.rows) if row.part == piece.rows[84].part)
    acts = pressed(strands, last)
    assert [name_of(act) for act in acts] == ["bind off", "take up", "have ready"]
    bind_off = acts[0]
    assert isinstance(bind_off, BindOff)
    assert (bind_off.stitches, bind_off.held) == (piece.rows[last].stitches, 0)
    assert bind_off.strand == strands.strand_of[last][-1]


def test_the_piece_itself_is_bound_off_by_an_action_of_its_own() -> None:
    strands = planned("ssss", "sbbb")
    assert row_end(strands, 1) == (Count(4, 0), BindOff(strands.strand_of[1][-1], "sand", 4, 0, "RS", ()))
    assert not any(isinstance(act, BindOff) for act in pressed(strands, 1))
