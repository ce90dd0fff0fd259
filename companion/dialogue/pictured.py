"""The fabric to be looked at, either side, whole or round the needles."""

from __future__ import annotations

from typing import TYPE_CHECKING

from companion.dialogue.questions import Choice
from companion.knitting.cloth.rows import Side
from companion.knitting.value import Record
from companion.progress.session import Session

if TYPE_CHECKING:
    from companion.dialogue.questions import Asking


class Pictured(Record):
    """One side of the fabric. ``is_near``: the rows round the needles, large; otherwise all of it."""

    session: Session
    side: Side
    is_near: bool

    @property
    def title(self) -> str:
        """What stands above it."""
        return f"{self.session.piece.title}: {_SIDES[self.side]}"


_SIDES: dict[Side, str] = {"RS": "the right side", "WS": "the wrong side"}
_VIEWS: tuple[tuple[str, Side, bool], ...] = (
    ("The right side", "RS", False), ("The wrong side", "WS", False),
    ("The right side, large, round the needles", "RS", True),
    ("The wrong side, large, round the needles", "WS", True),
)  # fmt: skip


def picture(session: Session) -> Asking[None]:
    """Ask which side, and show it."""
    at = yield Choice(("The fabric as it will look:",), tuple(line for line, *_ in _VIEWS))
    if at is not None:
        _, side, is_near = _VIEWS[at]
        yield Pictured(session, side, is_near)
