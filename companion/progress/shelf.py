"""The shelf: every piece on the needles, each in a file of its own; one damaged file costs one piece."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from companion.knitting.limits import Carry
from companion.progress.card import Card
from companion.progress.session import Action, Refused, Session

if TYPE_CHECKING:
    from companion.plan.read import Loaded
    from companion.progress.edited import PlanState


class LookOnly(Refused):
    """The piece is open in another window, or cannot be written: here one may only look."""


class NameTaken(Refused):
    """Another piece has this name."""


class NoSuchPiece(Refused):
    """No piece on the shelf has this name."""


def utc_now() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)


class Knitting:
    """One opened piece. Close it, or use it in a ``with`` statement: a writer holds the piece's lock."""

    name: str
    session: Session
    opened_plan: PlanState
    """How the plan file stands to the stored plan, as found on opening."""
    look_only_reason: str
    """Why one may only look, a sentence; "" for a writer."""

    @property
    def is_look_only(self) -> bool:
        """Actions are refused here."""
        return bool(self.look_only_reason)

    @property
    def card(self) -> Card:
        """What the work basket tells about the piece now."""
        raise NotImplementedError

    def do(self, action: Action) -> Session:
        """Decide, save durably, then apply. Returns (and keeps as ``session``) the session after it.

        Raises:
            Refused: the action is not possible now (``LookOnly``: not from this window). Nothing changed.
            Trouble: it could not be saved. Nothing changed.
        """
        raise NotImplementedError

    def close(self) -> None:
        """Let go of the file and the lock. Twice does no harm."""
        raise NotImplementedError

    def __enter__(self) -> Knitting:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class Shelf:
    """The pieces in one folder. Nothing is made there before a piece is started."""

    def __init__(self, folder: Path, now: Callable[[], datetime] = utc_now) -> None:
        self.folder = folder
        self._now = now

    def cards(self) -> tuple[Card, ...]:
        """Every piece, the one worked last first. A file that cannot be read is a card that says so.

        Raises:
            Trouble: the folder itself cannot be read.
        """
        raise NotImplementedError

    def find(self, plan_path: Path) -> tuple[Card, ...]:
        """The cards of the pieces that follow this plan file, the one worked last first.

        Raises:
            Trouble: the folder itself cannot be read.
        """
        raise NotImplementedError

    def start(
        self, loaded: Loaded, plan_path: Path, name: str | None = None, limits: Carry | None = None
    ) -> Knitting:
        """Begin a new piece and open it for writing. Without a name it is called by the plan's title, numbered
        from 2 where a piece has that name. ``limits`` None: those of the plan.

        Raises:
            NameTaken: another piece has the name that was asked for.
            Trouble: it could not be saved.
        """
        raise NotImplementedError

    def resume(self, name: str, look_only: bool = False) -> Knitting:
        """Open a piece where it was left. When another window has it, or its folder cannot be written, it opens
        look-only. An edited plan is dealt with here: see ``Knitting.opened_plan``.

        Raises:
            NoSuchPiece: no piece has this name.
            Trouble: it could not be read.
        """
        raise NotImplementedError
