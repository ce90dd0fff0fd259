"""A list to pick from: every line is plain text, a filter and a foot line around it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from companion.screens.answering import Answering
from companion.screens.asking import STYLES, safe
from companion.screens.lines import Lines


class PickingScreen(Answering[None]):
    """A titled list. Subclasses say what stands in it; escape puts it away."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "put_away", "back"),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
    ]
    foot = "escape: back"

    def compose(self) -> ComposeResult:
        """Title, list, keys."""
        yield Static("", id="title", markup=False)
        yield OptionList(id="list", markup=False)
        yield Static(safe(self.foot), id="foot", markup=False, classes="quiet")

    def on_mount(self) -> None:
        """Fill the list."""
        self.fill()
        self.query_one(OptionList).focus()

    def fill(self) -> None:
        """Put the lines in; subclasses call ``put``."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing")

    def put(self, title: str, lines: Sequence[str]) -> None:
        """Show these lines, the highlight where it was."""
        self.query_one("#title", Static).update(safe(title))
        options = self.query_one(OptionList)
        at = options.highlighted
        options.clear_options()
        options.add_options([Option(safe(line)) for line in lines])
        if lines:
            options.highlighted = min(at or 0, len(lines) - 1)

    @property
    def picked(self) -> int | None:
        """The line in the list that is highlighted; None before there is a list."""
        found = self.query(OptionList)
        return found.first().highlighted if found else None

    def action_page(self, step: int) -> None:
        """A page up or down."""
        options = self.query_one(OptionList)
        options.call_next(options.action_page_down if step > 0 else options.action_page_up)

    def action_put_away(self) -> None:
        """Back to where one came from."""
        self.dismiss(None)


class PicturedScreen(PickingScreen):
    """A list, what is told of the line under the highlight below it, and a picture of that beside or below it."""

    def picture(self) -> Lines:
        """The picture, made once."""
        raise NotImplementedError(f"{type(self).__name__} has no picture")

    def tell(self) -> None:
        """Tell of the line under the highlight, and show it."""
        raise NotImplementedError(f"{type(self).__name__} tells nothing")

    def give_room(self) -> None:
        """Divide the screen anew."""
        raise NotImplementedError(f"{type(self).__name__} gives no room")

    def compose(self) -> ComposeResult:
        """The title; the list and what is told; the picture; the keys."""
        yield Static("", id="title", markup=False)
        with Horizontal(id="beside_each_other"):
            with Vertical(id="told"):
                yield OptionList(id="list", markup=False)
                yield Static("", id="how", markup=False)
            yield self.picture()
        yield Static(safe(self.foot), id="foot", markup=False, classes="quiet")

    def on_mount(self) -> None:
        """Fill the list, and find room for all."""
        super().on_mount()
        self.give_room()

    def on_resize(self, event: events.Resize) -> None:
        """The screen's corner was dragged."""
        self.give_room()

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell of this one."""
        event.stop()
        self.tell()
