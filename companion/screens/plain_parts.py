"""Texts, fields and lists of which other screens are made: nothing in them is read as markup, and what is done with
them is in the table of deeds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar, Literal

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from companion.problems import plain
from companion.screens.bound import bound_to
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


def but_enter(part: type[Widget]) -> Iterable[BindingType]:
    """The keys with which one moves about in a field or a list; that for what is done with it is the table's."""
    return (key for key in part.BINDINGS if not (isinstance(key, Binding) and key.key == "enter"))


class PlainInput(Input, inherit_bindings=False):
    """A field whose text is always visible: control characters that are pasted stand in it as they are shown."""

    BINDINGS: ClassVar[list[BindingType]] = [*but_enter(Input), *bound_to("submit", "answer")]

    def replace(self, text: str, start: int, end: int) -> None:
        """Every way of typing comes through here."""
        super().replace(plain(text), start, end)


class PlainList(OptionList, inherit_bindings=False):
    """A list whose lines are chosen with the keys of the table."""

    BINDINGS: ClassVar[list[BindingType]] = [*but_enter(OptionList), *bound_to("select", "choose", "answer")]

    def on_click(self, event: events.Click) -> None:
        """A line is chosen with one click, and two quick ones choose one."""
        if isinstance(self.screen, Answering) and not self.screen.is_meant(event):
            event.stop()
            event.prevent_default()

    def turn_page(self, step: int) -> None:
        """A page down, or up."""
        self._move_page(1 if step > 0 else -1)

    def _move_page(self, direction: Literal[-1, 1]) -> None:
        """A list that has no room has no pages."""
        if self._index_to_line:
            super()._move_page(direction)
