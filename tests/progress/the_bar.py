"""A bar of brick in the first two rows of sand, and what is asked for at the ends of its rows."""

from __future__ import annotations

from companion.knitting.hands.steps import Cut as CutAct
from companion.knitting.hands.steps import name_of
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.progress.actions import Action, AtRow, On
from companion.progress.deciding import decide
from companion.progress.events import Cut, Entry, Planned
from companion.progress.fold import apply, begin
from companion.progress.session import Session
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
