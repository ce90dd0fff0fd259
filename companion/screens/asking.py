"""Small questions over the working screen: a number or some words, yes or no, something to read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen, ScreenResultType
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from companion.problems import plain
from companion.screens.answering import Answering

STYLES = "other_screens.tcss"
"""What all screens but the working one look like."""


def safe(text: str) -> Content:
    """Text shown as it is: no markup read, no control character obeyed."""
    return Content("\n".join(plain(line) for line in text.split("\n")))


class PlainInput(Input):
    """A field whose text is always visible: control characters that are pasted stand in it as they are shown."""

    def replace(self, text: str, start: int, end: int) -> None:
        """Every way of typing comes through here."""
        super().replace(plain(text), start, end)


class Question(Answering[ScreenResultType], ModalScreen[ScreenResultType]):
    """Stands over another screen until it is answered."""

    CSS_PATH: ClassVar[str] = STYLES


class AskWords(Question[str | None]):
    """Asks for one line. Enter answers, escape leaves it; the answer may be empty."""

    BINDINGS = [("escape", "dismiss(None)", "leave it")]

    def __init__(self, question: str, answer: str = "", kind: str = "text") -> None:
        super().__init__()
        self._question, self._answer, self._kind = question, answer, kind

    def compose(self) -> ComposeResult:
        """The question and the field."""
        with Vertical(classes="question"):
            yield Static(safe(self._question), markup=False)
            digits = r"[0-9]*" if self._kind == "number" else None
            yield PlainInput(plain(self._answer), max_length=500, restrict=digits)
            yield Static("enter: answer   escape: leave it", markup=False, classes="quiet")

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Answered."""
        self.dismiss(event.value)


class AskYes(Question[bool]):
    """Asks a question that only ``y`` says yes to; everything else leaves things as they are."""

    BINDINGS = [("y", "dismiss(True)", "yes"), ("n,escape", "dismiss(False)", "no")]

    def __init__(self, lines: Sequence[str], yes: str = "yes", no: str = "no") -> None:
        super().__init__()
        self._lines, self._yes, self._no = lines, yes, no

    def compose(self) -> ComposeResult:
        """The question and its two keys."""
        with Vertical(classes="question"):
            yield Static(safe("\n".join(self._lines)), markup=False)
            yield Static(safe(f"y: {self._yes}   n: {self._no}"), markup=False, classes="quiet")


class Reading(Question[None]):
    """Something to read and put away again."""

    BINDINGS = [("escape,q,question_mark,f1,enter,space", "dismiss(None)", "put away")]

    @staticmethod
    def room(width: int) -> int:
        """Cells of a line to read on a screen of so many columns: the frame, its padding and the scroll bar off."""
        return min(84, width * 95 // 100) - 6

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self._title, self._lines = title, lines

    def compose(self) -> ComposeResult:
        """The title and the lines, scrolling where they must."""
        with VerticalScroll(classes="reading"):
            yield Static(safe(self._title), markup=False, classes="strong")
            yield Static(safe("\n".join(self._lines)), markup=False)
            yield Static("escape: put away", markup=False, classes="quiet")


class Choose(Question[int | None]):
    """Asks which of some lines is meant; escape leaves it."""

    BINDINGS = [("escape", "dismiss(None)", "leave it")]

    def __init__(self, question: Sequence[str], lines: Sequence[str]) -> None:
        super().__init__()
        self._question, self._lines = question, lines

    def compose(self) -> ComposeResult:
        """The question and the lines."""
        with Vertical(classes="question"):
            yield Static(safe("\n".join(self._question)), markup=False)
            yield OptionList(*[Option(safe(line)) for line in self._lines], markup=False)
            yield Static("enter: choose   escape: leave it", markup=False, classes="quiet")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Chosen."""
        self.dismiss(event.option_index)
