"""One piece at the needles: what is done, what is then said, what is offered. A step is saved before it is shown."""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING

from companion.dialogue.coming_back import is_ready, where_held
from companion.dialogue.pedal import Pedal
from companion.dialogue.resting import Resting
from companion.dialogue.saying import UNPICKING, Saying
from companion.dialogue.telling import Telling, plan_says, telling
from companion.knitting import words
from companion.knitting.hands.row_ends import turn_tip
from companion.knitting.value import Record
from companion.progress.actions import Action, AtRow, Back, On, Refused, RipBack, TrapTails, Unpick, WholeRow
from companion.progress.ends import ready_ends
from companion.progress.events import Unwove
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.dialogue.knitter import Knitter
    from companion.dialogue.questions import Asking
    from companion.dialogue.speaking import Speaking

FOLLOWED_EVERY = 0.25
"""Seconds after which to ask again what another window did."""


class View(Record):
    """How the knitter looks at it. ``is_row_mode``: a press is a row; ``is_alone``: nothing but what is done now, as
    large as it goes; of the chart: alone on the screen, its stitches small, wrong-side rows as they are held."""

    is_row_mode: bool = False
    is_alone: bool = False
    is_chart_large: bool = False
    is_far: bool = False
    is_held: bool = False

    def tells_row(self, told: Telling) -> bool:
        """Whether a whole row is told; what else is done is told alone."""
        return self.is_row_mode and told.run is not None


class Sitting:
    """What happens from opening a piece to leaving it. ``notice`` is to be said once, ``is_cut`` where who shows it
    has no room for all of it; ``pace``: how long the rest takes, at a turn, where there is room to say it, in full
    and in short; ``is_offered``: ends were offered just now; ``is_asked_on_leaving``: they were when she wanted to
    leave; ``terms``: whose words everything is told in. ``clock`` tells seconds that only go forward."""

    def __init__(
        self, knitting: Knitting, knitter: Knitter, notice: str = "", clock: Callable[[], float] = time.monotonic
    ) -> None:
        self.knitting, self.knitter, self.notice = knitting, knitter, notice
        self.pace: tuple[str, ...] = ()
        self.view = View()
        self.is_offered = self.is_asked_on_leaving = self.is_cut = False
        self.resting = Resting(clock)
        self.terms = knitter.terms_for(knitting.session.piece)
        self._saying = Saying(knitter.say, key=knitter.key_of("on"))
        self._came_back = [knitting.session.last]
        self._speaking: Speaking | None = None
        self._pedal = Pedal()

    @property
    def session(self) -> Session:
        """What is on disk."""
        return self.knitting.session

    @property
    def saying(self) -> Saying:
        """How much is said at a change, and what was said in this sitting; the very same as long as it holds."""
        how, ready = self.knitter.say, is_ready(self.session, self._came_back)
        if (self._saying.how, self._saying.is_ready) != (how, ready):
            self._saying = self._saying._replace(how=how, is_ready=ready)
        return self._saying

    @property
    def telling(self) -> Telling:
        """What is to be shown now."""
        return telling(self.session, self.terms, self.saying)

    def counts(self, name: str, at: float) -> bool:
        """Whether a deed counts that was asked for at that time, in seconds that only go forward: with a pedal that
        is held down On does once."""
        return name != "on" or self.knitter.settings.pedal == "off" or self._pedal.counts(at)

    def press(self, name: str) -> Asking[None]:
        """Do the deed of this name."""
        return next(deed for deed in self.knitter.deeds if deed.name == name).begin(self)

    def picture(self) -> Asking[None]:
        """The fabric as it will look."""
        from companion.dialogue.pictured import picture

        return picture(self.session)

    def do(self, action: Action) -> None:
        """Decide and save; say in one line why not, where it cannot be; at a turn offer what is to be offered."""
        self.notice, self.pace, now = "", (), self.telling
        try:
            session = self.knitting.do(action)
            self._saying = now.saying.after(now.run)
            if isinstance(action, AtRow):
                self._came_back.append(session.last)
            if not isinstance(action, Back):
                self.notice = " ".join(filter(None, (self._undone(action, now), self._came_out())))
        except (Refused, Trouble) as reason:
            self.notice = str(reason)
        session, settings = self.session, self.knitter.settings
        is_turn = session.is_at_turn and session.act is None
        self.is_offered = False
        if is_turn and settings.pace == "turn" and isinstance(action, On | WholeRow):
            self.pace = self._how_long()
        if not self.notice and is_turn and isinstance(action, On | WholeRow):
            ready = ready_ends(session)
            self.is_offered = 0 < settings.offer_at <= ready and turn_tip(session.rows, session.row) == "toward"
            if self.is_offered:
                self.notice = words.ends_offered(ready, self.terms, self.knitter.key_of("ends"))
        if self.resting.is_due(settings.break_after, is_at_turn=is_turn):
            self.notice = f"{self.notice} {words.BREAK}".strip()
        if session is not now.session:
            self.notice = f"{self.notice} {plan_says(session)}".strip()
        self.speak()

    def foresee(self, action: Action) -> Telling | None:
        """What will be told once an action is done, as far as it does not depend on whether it can be saved; kept for
        who asks then. None where it is not possible now."""
        now = self.telling
        with suppress(Refused):
            after = self.knitting.foresee(action)
            saying = now.saying.after(now.run)
            if (ready := is_ready(after, self._came_back)) != saying.is_ready:
                saying = saying._replace(is_ready=ready)
            return telling(after, self.terms, saying)
        return None

    def speak(self) -> None:
        """Have what is new said aloud, where that is wanted; or why it cannot be, once."""
        how, voice = self.knitter.settings.speak, self.knitter.voice
        if how == "off" or voice is None:
            return
        if self._speaking is None:
            from companion.dialogue.speaking import Speaking

            self._speaking = Speaking(self)
        voice.say(self._speaking.text(how))
        self.notice = f"{self.notice} {voice.taken_trouble()}".strip()

    def follow(self) -> bool:
        """Take up one thing that was done in another window, to be shown and said like one's own; whether there was
        one."""
        if not self.knitting.is_followed:
            return False
        now, name = self.telling, self.knitting.name
        if (news := self.knitting.catch_up()) is None:
            return False
        from companion.dialogue.watched import what_happened

        self._saying = now.saying.after(now.run)
        self.pace, self.notice = (), what_happened(news, name)
        self.terms = self.knitter.terms_for(self.session.piece)
        self.speak()
        return True

    def follow_all(self) -> bool:
        """The same with all that was done there meanwhile."""
        said = list[str]()
        while self.follow():
            said.append(self.notice)
        if said:
            self.notice = " ".join(filter(None, dict.fromkeys(said)))
        return bool(said)

    def _undone(self, action: Action, was: Telling) -> str:
        """What is said once work is undone on the needles: how to unpick, and where the hands are then."""
        if not isinstance(action, Unpick | RipBack):
            return ""
        said = [where_held(self.session, self.terms)]
        if isinstance(action, Unpick):
            saying, before = was.saying, was.session
            if saying.how == "full" or (saying.how == "first" and not saying.known >= UNPICKING):
                said.insert(0, words.how_to_unpick(self.terms))
            if saying.is_ready and turn_tip(before.rows, before.row):
                said.insert(0, words.TURN_BACK)
            self._saying = self._saying.knowing(UNPICKING)
        return " ".join(said)

    def _came_out(self) -> str:
        """How many woven ends were lost with what was done last."""
        return words.came_out(sum(isinstance(event, Unwove) for event in self.session.last), self.terms)

    def _how_long(self) -> tuple[str, ...]:
        """How long the next row takes, and all that is left; nothing where too little is known."""
        from companion.knitting.words.pace import pace_told

        forecast = self.knitting.forecast
        return pace_told(*forecast) if forecast else ()

    def do_asked(self, asking: Asking[Action | None]) -> Asking[Action | None]:
        """The same with an action that the knitter is asked for, which is returned; None where nothing was done. Who
        may only look is not asked first."""
        before = self.session
        if self.knitting.is_look_only:
            self.notice = self.knitting.look_only_reason
            asking.close()
            return None
        try:
            action = yield from asking
        except Refused as reason:
            self.notice = str(reason)
            return None
        if action is not None:
            self.do(action)
        return action if self.session is not before else None

    def take_up_settings(self) -> None:
        """Say everything in the knitter's terms; lay tails in, or not."""
        session, settings = self.session, self.knitter.settings
        terms = self.knitter.terms_for(session.piece)
        if terms != self.terms:
            self.terms = terms
        is_trapping = settings.tails == "trap"
        if not self.knitting.is_look_only and is_trapping != session.is_trapping:
            try:
                self.knitting.do(TrapTails(is_trapping))
            except Trouble as reason:
                self.notice = str(reason)
