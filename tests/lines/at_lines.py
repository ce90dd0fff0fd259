"""Line mode without a terminal: lines go in, what is said is read back; and a screen's keys as the lines that a
knitter would type for them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from companion.dialogue.finding import Finding
from companion.dialogue.listing import Listing
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, Choice, PressKey, Reading, Words
from companion.dialogue.sitting import Sitting
from companion.lines.commands import Typist
from companion.lines.conversation import Conversation
from companion.lines.talk import Ended, Talk
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import SWATCH, shelf


class AtLines:
    """Line mode at what ``first`` opens; nobody types any more after ``lines``.

    ``said``: after each line what came of it, what was said on opening first. ``is_left``: it was left before that.
    """

    def __init__(self, first: Asking[object], lines: Iterable[str], knitter: Typist) -> None:
        self.said: list[list[str]] = [[]]
        self._lines = iter(lines)
        try:
            Conversation(Talk(self._read, self._write), knitter).carry_out(first)
            self.is_left = True
        except Ended:
            self.is_left = False
        self.unread = list(self._lines)

    def _read(self) -> str:
        self.said.append([])
        line = next(self._lines, None)
        return "" if line is None else f"{line}\n"

    def _write(self, lines: str) -> None:
        assert lines.endswith("\n")
        self.said[-1] += lines[:-1].split("\n")

    @property
    def text(self) -> str:
        """All that was said."""
        return "\n".join(line for lines in self.said for line in lines)


def typed(home: Path, *lines: str, plan: Path = SWATCH, settings: Settings | None = None) -> AtLines:
    """Line mode at a plan's piece, with these lines."""
    knitter = Typist(settings)
    return AtLines(open_plan(knitter, shelf(home), plan), lines, knitter)


def as_lines(board: Keyboard, keys: Iterable[str]) -> Iterator[str]:
    """Press keys one by one, and give the lines that say the same: a question's words as one line, a found deed by
    its name, what is only read and put away not at all."""
    for key in keys:
        line = _line_for(board, key)
        board.press(key)
        if line is not None:
            yield line


def _line_for(board: Keyboard, key: str) -> str | None:
    top, keys_of = board.top, {deed.name: deed.keys for deed in board.knitter.deeds}
    match top.request:
        case Reading():
            return None
        case Finding():
            return _found(board) if key == "enter" else None
        case Words() | PressKey() | Choice() if key in keys_of["leave_it"]:
            return key
        case Words(answer=answer):
            is_answer, text = key in keys_of["answer"], "" if top.field == answer else top.field or "-"
            return text if is_answer else None
        case Choice() if key in keys_of["answer"]:
            return ""
        case Sitting() | Listing() if key in keys_of["palette"] + keys_of["help"]:
            return None
    return {"space": " ", "enter": ""}.get(key, key)


def _found(board: Keyboard) -> str:
    """The name of the deed under the highlight of what was looked for."""
    finding = board.top.request
    assert isinstance(finding, Finding)
    finding.at = board.top.at
    assert finding.meant is not None
    deed = finding._listed[finding.meant]
    assert deed is not None
    return deed.name
