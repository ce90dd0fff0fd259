"""One opened piece. An action is decided, saved, and only then done; one that cannot be saved did not happen."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from types import TracebackType
from typing import TYPE_CHECKING

from companion.knitting.value import Record
from companion.progress.actions import Action, Refused
from companion.progress.card import Card, card_of
from companion.progress.deciding import decide
from companion.progress.edited import FOLLOWED, PlanState, knitted_like
from companion.progress.events import Entry
from companion.progress.fold import apply
from companion.progress.journal import Journal
from companion.progress.lock import Lock
from companion.progress.session import Session
from companion.progress.stored import RECENT, Timed

if TYPE_CHECKING:
    from companion.progress.following import Following, News
    from companion.progress.pace import Forecast


class LookOnly(Refused):
    """The piece is open in another window, or cannot be written: here one may only look."""


def utc_now() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)


class Writer(Record):
    """What a piece is saved with: its journal, open, and its lock, held."""

    journal: Journal
    lock: Lock

    def close(self) -> None:
        """The journal first: nobody else may write before it is closed."""
        self.journal.close()
        self.lock.free()


class Knitting:
    """One piece, opened by a shelf. Close it, or use it in a ``with`` statement: a writer holds the piece's lock.

    ``opened_plan``: how the plan file stood to the stored plan on opening. ``look_only_reason``: a sentence that
    says why one may only look; "" for a writer. ``card``: what the work basket tells about the piece now. ``past``:
    the newest steps of its journal, by which its pace is reckoned.
    """

    def __init__(
        self, session: Session, card: Card, opened_plan: PlanState, writer: Writer | None, look_only_reason: str = "",
        now: Callable[[], datetime] = utc_now, past: Iterable[Timed] = (), following: Following | None = None,
    ) -> None:
        self.session, self.card, self.opened_plan = session, card, opened_plan
        self.look_only_reason, self.now = look_only_reason, now
        self._writer = writer
        self._newest: deque[Timed] = deque(past, RECENT)
        self._following = following
        self._foreseen: tuple[Session, Action, tuple[Entry, Session]] | None = None

    @property
    def name(self) -> str:
        """The piece's name on its shelf."""
        return self.card.name

    @property
    def is_look_only(self) -> bool:
        """Actions are refused here."""
        return self._writer is None

    @property
    def forecast(self) -> Forecast | None:
        """How long what is left takes, reckoned when it is asked for; None where too little is known."""
        from companion.progress.pace import forecast

        return forecast(self.session, tuple(self._newest))

    def do(self, action: Action) -> Session:
        """Decide, save durably, then keep. Returns the session after it, which is ``session`` from then on.

        Raises:
            Refused: the action is not possible now (``LookOnly``: not from here). Nothing changed.
            Trouble: it could not be saved. Nothing changed.
        """
        if self._writer is None:
            raise LookOnly(self.look_only_reason)
        (entry, after), at = self._decided(action), self.now()
        card = card_of(after, self.card.name, self.card.plan_path, at)
        self._writer.journal.append(entry, card, at)
        self.session, self.card = after, card
        self._newest.append((at.isoformat(), entry))
        return after

    def foresee(self, action: Action) -> Session:
        """The session after an action that is not done yet, and kept, so that ``do`` need not work it out.

        Raises:
            Refused: the action is not possible now.
        """
        self._foreseen = self.session, action, self._decided(action)
        return self._foreseen[2][1]

    def _decided(self, action: Action) -> tuple[Entry, Session]:
        """An action's events, and the session after them."""
        if self._foreseen is not None:
            session, foreseen, decided = self._foreseen
            if session is self.session and foreseen == action:
                return decided
        entry = decide(self.session, action)
        return entry, apply(self.session, entry)

    @property
    def is_followed(self) -> bool:
        """Another window may write it meanwhile, and ``catch_up`` tells what."""
        return self._following is not None

    def catch_up(self) -> News | None:
        """Take up one thing that another window did since, a step as a rule; what it was, None: nothing was."""
        if self._following is None or (news := self._following.news(self.session)) is None:
            return None
        self.session, self.card = news.session, news.card
        if news.step is not None:
            self._newest.append(news.step)
        return news

    def follow_edited(self) -> Session:
        """What is worked was worked like the plan file has it now, which is followed from now on. ``Back`` takes it
        back.

        Raises:
            Refused: it cannot have been, or one may only look. Nothing changed.
            Trouble: it could not be saved. Nothing changed.
        """
        version = self.opened_plan.version
        if self._writer is None:
            raise LookOnly(self.look_only_reason)
        if version is None:
            raise Refused("There is no edited plan like which this can have been worked.")
        known = self.session.changed(versions={**self.session.versions, version.number: version.piece})
        entry = knitted_like(known, version)
        after, at = apply(known, entry), self.now()
        card = card_of(after, self.card.name, self.opened_plan.path, at)
        plans = {} if version.is_stored else {version.number: version.stored}
        self._writer.journal.append(entry, card, at, plans)
        self.session, self.card, self.opened_plan = after, card, PlanState("adopted", FOLLOWED)
        self._newest.append((at.isoformat(), entry))
        return after

    def close(self) -> None:
        """Let go of the file and the lock. Twice does no harm."""
        if self._writer is not None:
            self._writer.close()
            self._writer = None
            self.look_only_reason = "The piece is closed."

    def __enter__(self) -> Knitting:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
