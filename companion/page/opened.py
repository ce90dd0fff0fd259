"""What is open, the last on top: a piece at the needles and, over it, a question, a list or something to read.

A deed is done to what is on top, and an answer leaves it. What is no deed or no answer there changes nothing.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from companion.dialogue.deed import Deed, Where
from companion.dialogue.deeds import deeds_of
from companion.dialogue.finding import Finding
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.marking import Marking
from companion.dialogue.questions import Asking, Choice, Find, Lasting, Leave, Reading, Request, Submit, Words, YesNo
from companion.dialogue.sitting import Sitting
from companion.knitting.howfar import untold
from companion.problems import plain, quoted

PLACES: Mapping[type, Where] = {
    Sitting: "work", Words: "question", Choice: "question", YesNo: "yes or no", Reading: "reading",
    Marking: "marking",
}  # fmt: skip

ON_SCREENS_ALONE = frozenset({
    "alone", "chart", "zoom", "held", "scroll_up", "scroll_down", "scroll_left", "scroll_right", "follow", "light",
    "map", "page_up", "page_down", "picture",
})  # fmt: skip
"""Deeds that change what a terminal shows and nothing else."""

ELSEWHERE = "This is not done on the page, but at the needles' own screen."

LONGEST = 500
"""So many characters are in an answer."""


class Tapper(Knitter):
    """A knitter who taps what is called so, and may have no keys."""

    def key_of(self, name: str) -> str:
        """What a deed's button is called, as it stands in sentences."""
        return quoted(next(deed.title for deed in self.deeds if deed.name == name))


class NotHere(Exception):
    """What was pressed or answered is nothing that can be done now, in a sentence."""


class Open:
    """Something that is open, and the asking that waits for it. ``at``: which of its lines is meant."""

    def __init__(self, request: Request, asking: Asking[object]) -> None:
        self.request, self.asking = request, asking
        self.at = 0

    @property
    def where(self) -> Where:
        """Its place in the table of deeds."""
        return self.request.where if isinstance(self.request, Listing) else PLACES[type(self.request)]

    def mean(self, at: int) -> None:
        """This line of a list, from 0.

        Raises:
            NotHere: it has no such line.
        """
        if not isinstance(self.request, Listing) or not 0 <= at < len(self.request.table.rows):
            raise NotHere("There is no such line here.")
        if self.request.table.is_heading(at):
            raise NotHere("That line is a heading.")
        self.at = self.request.at = at

    def fill(self) -> None:
        """Put the lines of a list in, and what takes time to work out; one of them is meant."""
        if not isinstance(listing := self.request, Listing):
            return
        listing.at = self.at
        listing.fill()
        if listing.is_slow:
            listing.work_out(lambda: False)
        lines = [at for at in range(len(listing.table.rows)) if not listing.table.is_heading(at)]
        self.at = next((at for at in lines if at >= self.at), lines[-1] if lines else 0)
        listing.at = self.at if lines else None


class Opened:
    """Carries out ``first``, and then whatever is pressed. ``said``: why something is not served, until the next
    thing is done."""

    def __init__(self, knitter: Knitter, first: Asking[object]) -> None:
        self.knitter = knitter
        self.open: list[Open] = []
        self.said = ""
        self._go_on(first, None)

    @property
    def top(self) -> Open | None:
        """What is done goes to this; None where everything is left."""
        return self.open[-1] if self.open else None

    @property
    def sitting(self) -> Sitting | None:
        """The piece at the needles, whatever lies over it."""
        return next((one.request for one in reversed(self.open) if isinstance(one.request, Sitting)), None)

    @property
    def deeds(self) -> Sequence[Deed]:
        """What can be done to what is on top, by this page."""
        here = self._top().where
        there = [*deeds_of(here, self.knitter.deeds), *deeds_of("anywhere", self.knitter.deeds)]
        return [deed for deed in there if deed.name not in ON_SCREENS_ALONE]

    def do(self, name: str, at: int | None = None) -> None:
        """The deed of this name, to line ``at`` of a list where that is said.

        Raises:
            NotHere: there is no such deed or line here.
        """
        top = self._top()
        deed = next((deed for deed in self.deeds if deed.name == name), None)
        if deed is None:
            raise NotHere(f"Nothing here is called {quoted(name)}.")
        if at is not None:
            top.mean(at)
        self.said = ""
        self._go_on(deed.begin(top.request), None)
        self._fill()

    def mean(self, at: int) -> None:
        """This line of the list, of which more is told then.

        Raises:
            NotHere: there is none.
        """
        self._top().mean(at)

    def answer(self, answer: object) -> None:
        """Leave what is on top with this answer; None leaves a question as it is.

        Raises:
            NotHere: nothing is asked, or this is no answer to it.
        """
        top = self._top()
        if isinstance(top.request, Sitting):
            raise NotHere("Nothing is asked now.")
        checked = _checked(top.request, answer)
        self.said = ""
        self._leave(checked)

    def follow(self) -> bool:
        """Take up what another window did to the piece, where one may only look here; whether there was something."""
        is_new = self.sitting is not None and self.sitting.follow_all()
        if is_new:
            self._fill()
        return is_new

    def close(self) -> None:
        """Let go of everything that is held open."""
        while self.open:
            self.open.pop().asking.close()

    def _top(self) -> Open:
        if not self.open:
            raise NotHere("The piece is left.")
        return self.open[-1]

    def _go_on(self, asking: Asking[object], answer: Any) -> None:
        """Send it an answer, and see to what it asks next."""
        while True:
            try:
                request = asking.send(answer)
            except StopIteration:
                return
            answer = None
            match request:
                case Leave(left_with):
                    asking.close()
                    self._leave(left_with)
                    return
                case Submit():
                    return  # what stands in a field comes as an answer
                case Find() if self._top().where != "finding":
                    self._go_on(self._found(), None)
                case Find():
                    pass  # it is open
                case Lasting(_, do):
                    answer = do(untold)
                case Words() | Choice() | YesNo() | Reading() | Listing() | Marking() | Sitting():
                    self.open.append(Open(request, asking))
                    self._fill()
                    return
                case _:
                    self.said = ELSEWHERE

    def _found(self) -> Asking[None]:
        """Have a deed of what is on top looked for, and do it."""
        top = self._top()
        name = yield Finding(top.where, self.deeds)
        if name is not None:
            yield from next(deed for deed in self.deeds if deed.name == name).begin(top.request)

    def _leave(self, answer: object) -> None:
        done = self.open.pop()
        self._go_on(done.asking, answer)
        self._fill()

    def _fill(self) -> None:
        if self.open:
            self.open[-1].fill()


def _checked(request: Request, answer: object) -> object:
    """An answer as what was asked takes it.

    Raises:
        NotHere: it is none.
    """
    match request:
        case YesNo():
            return answer is True
        case Choice() if isinstance(answer, int) and not isinstance(answer, bool):
            if 0 <= answer < len(request.lines):
                return answer
        case Words() if isinstance(answer, str):
            text = plain(answer.strip())
            if len(text) > LONGEST:
                raise NotHere(f"That is longer than {LONGEST} characters.")
            if request.is_number and text and not (text.isascii() and text.isdigit()):
                raise NotHere(f"This takes a number, not {quoted(text)}.")
            return text
        case _ if answer is None:
            return None
    raise NotHere("That is no answer to what is asked.")
