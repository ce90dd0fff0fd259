"""What browsers press, done one after the other in the thread that opened the piece: its journal belongs to that one.

A press names what its page showed. Where that is not what is so now, another page was quicker, and nothing is done.
What is told to pages is told after it is saved.
"""

from __future__ import annotations

import json
import os
from queue import Empty, SimpleQueue
from threading import Condition, Event

from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking
from companion.dialogue.sitting import FOLLOWED_EVERY
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.page.chart import Part, parts
from companion.page.opened import NotHere, Opened
from companion.page.shown import Data, shown

STOPPED = "Stopped here. Everything is saved."


class Behind(Exception):
    """The page from which it was pressed shows something else than is so now."""


class Gone(Exception):
    """The piece is left."""


class Press(Record):
    """What was pressed on a page that showed ``seen``: a ``deed`` by name ("" = none), at line ``at`` of a list; that
    line alone, to be told more of it; or an ``answer`` to what ``is_answer``."""

    seen: str
    deed: str = ""
    at: int | None = None
    answer: object = None
    is_answer: bool = False


class State(Record):
    """What pages show: its name, all of it as JSON, and the charts that may be asked for. ``is_over``: the piece is
    left, and nothing comes after it."""

    seen: str
    data: bytes
    charts: tuple[Part, ...] = ()
    piece: Piece | None = None
    is_over: bool = False


class _Turn:
    """A press that waits for its turn, and what came of it."""

    def __init__(self, press: Press) -> None:
        self.press, self.is_done = press, Event()
        self.error: Exception | None = None


class Turns:
    """``run`` belongs to the thread that opens the piece; all else to any thread."""

    def __init__(self) -> None:
        self._waiting: SimpleQueue[_Turn | None] = SimpleQueue()
        self._changed = Condition()
        self._name, self._count, self._drawn = os.urandom(4).hex(), 0, 0
        self._state = State("", b"")

    def run(self, knitter: Knitter, first: Asking[object]) -> None:
        """Open the piece and do what is pressed until it is left or ``stop`` is called."""
        opened = Opened(knitter, first)
        try:
            self._tell(opened)
            while opened.top is not None and (turn := self._next(opened)) is not None:
                self._take(opened, turn)
        finally:
            opened.close()
            self._end()

    def stop(self) -> None:
        """Take no more turns."""
        self._waiting.put(None)

    @property
    def state(self) -> State:
        """What is so now."""
        return self._state

    def press(self, press: Press) -> State:
        """Have it done, and give what is so after it.

        Raises:
            Behind: the page does not show what is so. Nothing is done.
            NotHere: it is nothing that can be done now. Nothing is done.
            Gone: nothing can be done any more.
        """
        turn = _Turn(press)
        if self._state.is_over:
            raise Gone
        self._waiting.put(turn)
        while not turn.is_done.wait(0.5):
            if self._state.is_over:
                raise Gone
        if turn.error:
            raise turn.error
        return self._state

    def after(self, seen: str, patience: float) -> State | None:
        """What is so, as soon as that is not what is ``seen``; None where nothing changes for so many seconds."""
        with self._changed:
            self._changed.wait_for(lambda: self._state.seen != seen, patience)
            return self._state if self._state.seen != seen else None

    def _next(self, opened: Opened) -> _Turn | None:
        """The next turn, as soon as there is one; meanwhile what another window does is told. A Ctrl-C that comes
        just before Python begins to wait does not end the waiting: it is always for a short time."""
        while True:
            try:
                return self._waiting.get(timeout=FOLLOWED_EVERY)
            except Empty:
                if opened.follow():
                    self._tell(opened)

    def _take(self, opened: Opened, turn: _Turn) -> None:
        press = turn.press
        try:
            if press.seen != self._state.seen:
                raise Behind
            if press.is_answer:
                opened.answer(press.answer)
            elif press.deed:
                opened.do(press.deed, press.at)
            elif press.at is not None:
                opened.mean(press.at)
            self._tell(opened)
        except (Behind, NotHere) as error:
            turn.error = error
        except BaseException:
            turn.error = Gone()
            raise
        finally:
            turn.is_done.set()

    def _tell(self, opened: Opened) -> None:
        """What is so now, to every page."""
        sitting, before = opened.sitting, self._state
        piece = sitting.session.piece if sitting else before.piece
        charts = tuple(parts(sitting.session.piece, sitting.session.rows)) if sitting else ()
        self._drawn += charts != before.charts
        self._count += 1
        seen = f"{self._name}-{self._count}"
        data = {"seen": seen, "drawn": f"{self._name}-{self._drawn}", **shown(opened), "over": ""}
        self._say(State(seen, json.dumps(data, separators=(",", ":")).encode(), charts, piece))

    def _end(self) -> None:
        seen = f"{self._name}-over"
        data: Data = {"seen": seen, "drawn": "", "work": None, "asked": None, "keys": {}, "over": STOPPED}
        self._say(State(seen, json.dumps(data).encode(), is_over=True))

    def _say(self, state: State) -> None:
        with self._changed:
            self._state = state
            self._changed.notify_all()
