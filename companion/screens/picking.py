"""A list to pick from: every line is plain text, a title above it and its keys below."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import OptionList

from companion.progress.actions import Refused
from companion.progress.trouble import Trouble
from companion.screens.asking import STYLES, lines_to_choose, safe, shown
from companion.screens.lines import Lines
from companion.screens.rowside import Answering

WIDE, LOW = 100, 20
"""From so many columns on a picture stands beside its list; on fewer lines what is told gives way."""


class PickingScreen(Answering[None]):
    """A titled list. Subclasses say what stands in it, and what choosing a line does; escape puts it away.

    ``said`` stands in the title's place: why something could not be done.
    """

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "dismiss(None)", "back"),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
    ]
    keys = "escape: back"

    def __init__(self) -> None:
        super().__init__()
        self.heading, self.foot = shown("", id="title"), shown(self.keys, "quiet", id="foot")
        self.options = OptionList(id="list", markup=False)
        self.said = ""

    def compose(self) -> ComposeResult:
        """Title, list, keys."""
        yield self.heading
        yield self.options
        yield self.foot

    def on_mount(self) -> None:
        """Fill the list."""
        self.fill()
        self.options.focus()

    def fill(self) -> None:
        """Put the lines in; subclasses call ``put``."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing")

    def choose(self, at: int) -> None:
        """Line ``at`` was chosen."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing to choose")

    def put(self, title: str, lines: Sequence[str]) -> None:
        """Show these lines, the highlight where it was."""
        self.heading.update(safe(self.said or title))
        at = self.options.highlighted
        self.options.clear_options()
        self.options.add_options(lines_to_choose(lines))
        if lines:
            self.options.highlighted = min(at or 0, len(lines) - 1)

    def try_to(self, do: Callable[[], object]) -> bool:
        """Whether something that may not be possible was done; why it was not is said."""
        self.said = ""
        try:
            do()
        except (Refused, Trouble) as reason:
            self.said = str(reason)
        return not self.said

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter, or a click on a line; one that came while the list was filled anew may be there no more."""
        event.stop()
        if event.option_index < self.options.option_count:
            self.choose(event.option_index)

    def action_page(self, step: int) -> None:
        """A page up or down."""
        self.options.call_next(self.options.action_page_down if step > 0 else self.options.action_page_up)


class PicturedScreen(PickingScreen):
    """A list, what is told of the line under the highlight below it, and a picture of that beside or below it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("space", "choose", "choose", priority=True)]

    def __init__(self, picture: Lines) -> None:
        super().__init__()
        self.how, self._picture = shown("", id="how"), picture

    def tell(self) -> None:
        """Tell of the line under the highlight, and show it."""
        raise NotImplementedError(f"{type(self).__name__} tells nothing")

    def give_room(self) -> None:
        """Divide the screen anew."""
        raise NotImplementedError(f"{type(self).__name__} gives no room")

    def compose(self) -> ComposeResult:
        """The title; the list and what is told; the picture; the keys."""
        yield self.heading
        with Horizontal(id="beside_each_other"):
            with Vertical(id="told"):
                yield self.options
                yield self.how
            yield self._picture
        yield self.foot

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

    def action_choose(self) -> None:
        """The line under the highlight."""
        self.options.action_select()
