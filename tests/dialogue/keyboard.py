"""A front end without a screen: keys go in, and what is asked is answered with keys.

It knows the table of deeds and the kinds of request, and no piece of knitting; whatever else is shown, a line of text
could show.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from companion.dialogue.deed import Deed, Where
from companion.dialogue.deeds import deeds_of
from companion.dialogue.finding import Finding
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.marking import Marking
from companion.dialogue.pictured import Pictured
from companion.dialogue.questions import (
    Asking,
    Choice,
    Find,
    Kept,
    Lasting,
    Leave,
    PressKey,
    Reading,
    Request,
    Submit,
    Words,
    YesNo,
)
from companion.dialogue.sitting import Sitting
from companion.knitting.howfar import untold

PLACES: dict[type, Where] = {
    Sitting: "work", Words: "question", PressKey: "question", Choice: "question", YesNo: "yes or no",
    Reading: "reading", Pictured: "reading", Marking: "marking",
}  # fmt: skip
CHARACTERS = {"space": " ", "comma": ",", "full_stop": ".", "minus": "-"}


class Open:
    """Something that is open, and the asking that waits for it. ``field``: what is typed so far; ``at``: the line."""

    def __init__(self, request: Request, asking: Asking[object]) -> None:
        self.request, self.asking = request, asking
        self.field = request.answer if isinstance(request, Words) else ""
        self.at = request.at if isinstance(request, Choice) else 0

    @property
    def where(self) -> Where:
        """Its place in the table."""
        return self.request.where if isinstance(self.request, Listing) else PLACES[type(self.request)]

    @property
    def lines(self) -> Sequence[object]:
        """The lines to choose from, where there are some."""
        if isinstance(self.request, Listing):
            return self.request.table.rows
        return self.request.lines if isinstance(self.request, Choice) else ()

    def move(self, to: int, step: int) -> None:
        """To this line, round at either end, or from there on to the next that is no heading."""
        lines = self.lines
        self.at = to % len(lines) if lines else 0
        while any(not isinstance(line, str) for line in lines) and isinstance(lines[self.at], str):
            if not isinstance(self.request, Listing):
                break
            self.at = (self.at + step) % len(lines)


class Keyboard:
    """Carries out ``first`` and then whatever the keys say. ``open``: what is open, the last on top."""

    def __init__(self, knitter: Knitter, first: Asking[object]) -> None:
        self.knitter = knitter
        self.open: list[Open] = []
        self._go_on(first, None)

    @property
    def top(self) -> Open:
        """What the next key goes to."""
        return self.open[-1]

    @property
    def sitting(self) -> Sitting:
        """The piece at the needles."""
        return next(one.request for one in reversed(self.open) if isinstance(one.request, Sitting))

    def press(self, *keys: str) -> None:
        """Press these one after the other."""
        for key in keys:
            self._press(key)

    def _press(self, key: str) -> None:
        top = self.top
        if isinstance(top.request, Words):
            character = CHARACTERS.get(key, key if len(key) == 1 else "")
            if character and (character.isdigit() or not top.request.is_number):
                top.field += character
            if character or key == "backspace":
                top.field = top.field[:-1] if key == "backspace" else top.field
                return
        if isinstance(top.request, Finding) and (character := CHARACTERS.get(key, key if len(key) == 1 else "")):
            top.request.typed += character
            top.at = 0
            self._fill()
            return
        if isinstance(top.request, PressKey):
            leaves = next(deed for deed in self.knitter.deeds if deed.name == "leave_it")
            self._leave(None if key in leaves.keys else key)
            return
        deed = next((deed for deed in self._deeds(top.where) if key in deed.keys), None)
        if deed is not None:
            self._do(deed)
        elif top.lines and key in ("up", "down", "home", "end"):
            last = len(top.lines) - 1
            to, step = {"up": (top.at - 1, -1), "down": (top.at + 1, 1), "home": (0, 1), "end": (last, -1)}[key]
            top.move(to, step)

    def _deeds(self, where: Where) -> list[Deed]:
        return [*deeds_of(where, self.knitter.deeds), *deeds_of("anywhere", self.knitter.deeds)]

    def _do(self, deed: Deed) -> None:
        top = self.top
        if isinstance(top.request, Listing):
            top.request.at = top.at if top.lines else None
        self._go_on(deed.begin(top.request), None)
        self._fill()

    def _go_on(self, asking: Asking[object], answer: Any) -> None:
        """Send it an answer, and see to what it asks next."""
        try:
            request = asking.send(answer)
        except StopIteration:
            return
        match request:
            case Leave(answer):
                self._leave(answer)
            case Submit(keeps_rest):
                top = self.top
                stands = top.field if isinstance(top.request, Words) else top.at
                self._leave(Kept(stands) if keeps_rest else stands)
            case Find():
                self._go_on(asking, None)
                self._go_on(self._found(), None)
            case Lasting(_, do):
                self._go_on(asking, do(untold))
            case (
                Words() | PressKey() | Choice() | YesNo() | Reading() | Pictured() | Listing() | Marking() | Sitting()
            ):
                self.open.append(Open(request, asking))
                self._fill()
            case _:
                self._go_on(asking, None)

    def _found(self) -> Asking[None]:
        """Have a deed of what is on top looked for, and do it."""
        top = self.top
        name = yield Finding(top.where, self.knitter.deeds)
        if name is not None:
            yield from next(deed for deed in self.knitter.deeds if deed.name == name).begin(top.request)

    def _leave(self, answer: object) -> None:
        done = self.open.pop()
        self._go_on(done.asking, answer)
        self._fill()

    def _fill(self) -> None:
        if self.open and isinstance(listing := self.top.request, Listing):
            listing.fill()
            if listing.is_slow:
                listing.work_out(lambda: False)
            if listing.go_to is not None:
                self.top.at, listing.go_to = listing.go_to, None
            self.top.move(min(self.top.at, max(0, len(listing.table.rows) - 1)), 1)
