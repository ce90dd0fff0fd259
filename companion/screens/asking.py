"""Small questions over another screen: a number or some words, yes or no, one of some lines, something to read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen, ScreenResultType
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from companion.problems import plain
from companion.screens.rowside import Answering

STYLES = "other_screens.tcss"
"""What all screens but the working one look like."""


def safe(text: str) -> Content:
    """Text shown as it is: no markup read, no control character obeyed."""
    return Content("\n".join(plain(line) for line in text.split("\n")))


def shown(text: str, manner: str = "", *, id: str | None = None) -> Static:
    """Such a text as a part of a screen; ``manner``: "strong", "quiet" or neither."""
    return Static(safe(text), id=id, markup=False, classes=manner)


def lines_to_choose(lines: Iterable[str]) -> list[Option]:
    """Such texts as the lines of a list."""
    return [Option(safe(line)) for line in lines]


class PlainInput(Input):
    """A field whose text is always visible: control characters that are pasted stand in it as they are shown."""

    def replace(self, text: str, start: int, end: int) -> None:
        """Every way of typing comes through here."""
        super().replace(plain(text), start, end)


class Question(Answering[ScreenResultType], ModalScreen[ScreenResultType]):
    """What is asked, what it is answered with, and the keys for that."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS = [("escape", "dismiss(None)", "leave it")]
    keys = "enter: answer   escape: leave it"

    def __init__(self, *asked: str) -> None:
        super().__init__()
        self._asked = "\n".join(asked)

    def answers(self) -> Iterable[Widget]:
        """Fields or lists below the question."""
        return ()

    def compose(self) -> ComposeResult:
        """One below the other."""
        with Vertical(classes="question"):
            yield shown(self._asked)
            yield from self.answers()
            yield shown(self.keys, "quiet")


class AskWords(Question[str | None]):
    """Asks for one line. Enter answers, escape leaves it; the answer may be empty."""

    def __init__(self, question: str, answer: str = "", kind: str = "text") -> None:
        super().__init__(question)
        digits = r"[0-9]*" if kind == "number" else None
        self.field = PlainInput(plain(answer), max_length=500, restrict=digits)

    def answers(self) -> Iterable[Widget]:
        """The field."""
        return (self.field,)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Answered."""
        self.dismiss(event.value)


class AskYes(Question[bool]):
    """Asks a question that only ``y`` says yes to; everything else leaves things as they are."""

    BINDINGS = [("y", "dismiss(True)", "yes"), ("n,escape", "dismiss(False)", "no")]

    def __init__(self, lines: Sequence[str], yes: str, no: str) -> None:
        super().__init__(*lines)
        self.keys = f"y: {yes}   n: {no}"


class Choose(Question[int | None]):
    """Asks which of some lines is meant; escape leaves it."""

    keys = "enter: choose   escape: leave it"

    def __init__(self, question: Sequence[str], lines: Sequence[str]) -> None:
        super().__init__(*question)
        self._lines = lines

    def answers(self) -> Iterable[Widget]:
        """The lines."""
        yield OptionList(*lines_to_choose(self._lines), markup=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Chosen."""
        self.dismiss(event.option_index)


class Reading(Question[None]):
    """Something to read and put away again."""

    BINDINGS = [("escape,q,question_mark,f1,enter,space", "dismiss(None)", "put away")]

    @staticmethod
    def room(width: int) -> int:
        """Cells of a line to read on a screen of so many columns: the frame, its padding and the scroll bar off."""
        return min(84, width * 95 // 100) - 6

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__(*lines)
        self._title = title

    def compose(self) -> ComposeResult:
        """The title and the lines, scrolling where they must."""
        with VerticalScroll(classes="reading"):
            yield shown(self._title, "strong")
            yield shown(self._asked)
            yield shown("escape: put away", "quiet")
