"""The card of a piece: what the work basket tells about it, without opening the piece."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Literal

from companion.knitting import words
from companion.knitting.value import Record
from companion.progress.ends import ready_ends
from companion.progress.finishing import phase_of
from companion.progress.mishaps import left_to_sew
from companion.progress.session import Phase, Session

State = Literal["not begun", "on the needles", "worked", "bound off", "finished", "damaged", "cannot be opened"]
"""``worked``: every row is, and it waits for its bind-off. ``finished``: every step of finishing is done."""

_STATES: Mapping[Phase, State] = {
    Phase.NOT_BEGUN: "not begun",
    Phase.IN_ROW: "on the needles",
    Phase.AT_ROW_END: "on the needles",
    Phase.WORKED: "worked",
    Phase.BOUND_OFF: "bound off",
    Phase.FINISHED: "finished",
}


class Card(Record):
    """One piece. ``rows_done`` of ``rows`` are whole, ``runs_done`` runs of the row on the needles (0 between rows).

    ``ends_left`` counts every end of the piece that is not woven in, those to come included; ``areas_left`` what is
    still to be sewn on. ``trouble`` is "" unless the state is ``damaged`` or ``cannot be opened``: then it is
    the sentence to show, ``name`` is the file's name and nothing else is known. ``worked_at`` is in UTC.
    """

    name: str
    title: str = ""
    plan_path: str = ""
    rows_done: int = 0
    rows: int = 0
    runs_done: int = 0
    state: State = "not begun"
    ready_ends: int = 0
    ends_left: int = 0
    areas_left: int = 0
    worked_at: datetime | None = None
    trouble: str = ""

    @property
    def told(self) -> tuple[str, int, int, str, int, int]:
        """What ``words.card_line`` tells."""
        return self.name, self.rows_done, self.rows, self.state, self.ends_left, self.areas_left

    def told_in_full(self, now: datetime, in_row: str = "") -> str:
        """How far it is, to the run, or as ``in_row`` says, and when it was worked last."""
        told = [words.card_line(*self.told) if not self.trouble else f"{self.name}: {self.state}"]
        told += [in_row or f"{words.how_many(self.runs_done, 'run')} of the next"] if self.runs_done else []
        told += [f"ends ready: {self.ready_ends}"] if self.ready_ends else []
        return ", ".join([*told, *([when] if (when := self.worked_when(now)) else [])])

    def worked_when(self, now: datetime) -> str:
        """When it was worked last: "yesterday"; "" where it is not known."""
        if self.worked_at is None or self.state == "not begun":
            return ""
        return words.days_ago((now.date() - self.worked_at.date()).days)


def card_of(session: Session, name: str, plan_path: str, worked_at: datetime) -> Card:
    """The card of a piece at this position."""
    return Card(
        name, session.piece.title, plan_path, session.rows_done, len(session.rows), session.runs_done,
        _STATES[phase_of(session)], ready_ends(session), session.ends_left, len(left_to_sew(session)), worked_at,
    )
