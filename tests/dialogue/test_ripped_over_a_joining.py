"""Ripping back into parts that are joined above, and out of them: what is told of the stitches, and where one is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.dialogue.questions import YesNo
from companion.dialogue.rows_asked import rip_back
from companion.knitting.cloth.rows import Place
from companion.knitting.strands.limits import Carry
from companion.knitting.words import US
from companion.progress.actions import AtRow
from companion.progress.deciding import decide
from companion.progress.fold import apply
from companion.progress.mishaps import others
from companion.progress.typed import row_typed
from tests.knitting.charts import drawn, piece_of
from tests.knitting.cloth.test_joined import JOINED
from tests.knitting.cloth.test_parts import Told, fabric_of
from tests.progress.runs_counted import starting


@pytest.mark.parametrize(
    ("done", "to", "told"),
    [
        (5, "left 1", ["The parts come apart; put the stitches of the right part on a holder."]),
        (5, "right 1", ["The parts come apart; put the stitches of the left part on a holder."]),
        (4, "left 1", ["The left part comes back from its holder; put the stitches of the right part on a holder."]),
        (5, "2", []),
        (7, "5", ["Stitches on a holder come back on the needle; what was bound off between is undone."]),
        (8, "left 1", ["The parts come apart; put the stitches of the right part on a holder."]),
        (8, "left 2", ["Undo the bind-off of the left part; put the stitches of the right part on a holder."]),
    ],
)
def test_ripping_back_over_a_joining_tells_where_the_stitches_go(done: int, to: str, told: list[str]) -> None:
    piece = replace(piece_of(drawn("s"), Carry(3), 28), fabric=fabric_of(JOINED))
    _, session, _ = starting(piece)
    for row in range(1, done + 1):
        session = apply(session, decide(session, AtRow(row + 1)))
    asking = rip_back(session, US)
    next(asking)
    asked = asking.send(to)
    assert isinstance(asked, YesNo)
    assert [line for line in asked.text if "holder" in line] == told
    with pytest.raises(StopIteration) as answer:
        asking.send(True)
    after = apply(session, decide(session, answer.value.value))
    assert after.rows_done == row_typed(to, session.rows)
    # Where a part ends it is set aside, taken up, joined or bound off once more; where row 5 ends it divides.
    assert after.acts_done is not None


def test_a_strand_that_hangs_below_a_whole_opening_cannot_have_worked_a_run_above_it() -> None:
    """The kelp of row 1 hangs in reach of row 3, by which the parts are joined: another one is joined there."""
    told: list[Told] = [("", "sssskk"), ("left", "sss..."), ("right", "...sss"), ("", "sssskk")]
    piece = replace(piece_of(drawn("s"), Carry(9, rest=3), 28), fabric=fabric_of(told))
    _, session, _ = starting(piece)
    session = apply(session, decide(session, AtRow(4)))
    assert others(session, Place(3, 0)) == ()
    assert session.strands.first[session.strands.at(Place(3, 0))] == Place(3, 0)
