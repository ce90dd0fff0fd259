"""A list to pick from: a title above it, its table, its keys below it; every line is plain text."""

from __future__ import annotations

from collections.abc import Iterator
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widget import Widget
from textual.widgets import OptionList
from textual.widgets.option_list import Option
from textual.worker import get_current_worker

from companion.dialogue.listing import Listing
from companion.dialogue.questions import Page, Reading, Request
from companion.screens.asking import ReadingScreen
from companion.screens.key_line import Foot
from companion.screens.lines import Lines
from companion.screens.plain_parts import STYLES, PlainList, safe, shown
from companion.screens.rowside import Answering
from companion.screens.table import Drawn, TableLine

WIDE, LOW = 100, 20
"""From so many columns on a picture stands beside its list; on fewer lines what is told gives way."""

LEAST_WIDTH, LEAST_HEIGHT = 10, 5
"""A smaller screen has no room for a list."""


class PickingScreen(Answering[None]):
    """Shows a list until it is left. Subclasses have the keys of theirs."""

    CSS_PATH: ClassVar[str] = STYLES

    def __init__(self, listing: Listing) -> None:
        super().__init__()
        self.here = self.listing = listing
        self.where, self.verbs = listing.where, listing.verbs
        self.heading, self.columns, self.full = shown("", id="title"), shown("", id="columns"), shown("", id="full")
        self.options = PlainList(id="list", markup=False)
        self._drawn = Drawn(listing.table)

    def compose(self) -> ComposeResult:
        """Title, list, keys."""
        yield from self.top()
        yield self.columns
        yield self.options
        yield self.full
        yield from self.bottom()

    def top(self) -> Iterator[Widget]:
        """Above the list."""
        yield self.heading

    def bottom(self) -> Iterator[Widget]:
        """Below it; and what stands in place of all where there is no room."""
        yield Foot(self.keys)
        yield shown("too small", id="too_small")

    def on_mount(self) -> None:
        """Fill the list."""
        self.show()
        self.taking_keys.focus()

    @property
    def taking_keys(self) -> Widget:
        """The part that keys go to first."""
        return self.options

    def on_resize(self, event: events.Resize) -> None:
        """The screen's corner was dragged."""
        width, height = event.size
        self.set_class(width < LEAST_WIDTH or height < LEAST_HEIGHT, "-too-small")
        self.give_room()
        self.call_after_refresh(self.tell)

    def give_room(self) -> None:
        """Divide the screen anew."""

    def show(self) -> None:
        """Fill the list anew; what takes time comes when it is worked out."""
        super().show()
        self.listing.fill()
        self.put()
        if self.listing.trouble:
            self.call_after_refresh(self.app.push_screen, ReadingScreen(Reading("Trouble", [self.listing.trouble])))
        if self.listing.is_slow:
            self.run_worker(self._work_out, thread=True, exclusive=True)

    def _work_out(self) -> None:
        worker = get_current_worker()
        self.listing.work_out(lambda: worker.is_cancelled)
        if not worker.is_cancelled:
            self.app.call_from_thread(self.put)

    def put(self) -> None:
        """Show title and lines, the highlight where it was."""
        table, options = self.listing.table, self.options
        self._drawn = Drawn(table)
        self.heading.update(safe(self.listing.heading))
        at, self.listing.go_to = self.listing.go_to or options.highlighted, None
        options.clear_options()
        options.add_options(
            Option(TableLine(self._drawn, line), disabled=table.is_heading(line)) for line in range(len(table.rows))
        )
        choices = [line for line in range(len(table.rows)) if not table.is_heading(line)]
        if choices:
            at = min(at or 0, len(table.rows) - 1)
            options.highlighted = at if at in choices else choices[0]
        self.give_room()
        self.tell()
        self.call_after_refresh(self.tell)  # when the list has the room that it keeps

    def tell(self) -> None:
        """The columns' titles; of the line under the highlight what had no room in it, and what is told of it."""
        self.listing.at = self.options.highlighted
        width = self.options.scrollable_content_region.width  # that of the lines
        if width <= 0 or self.has_class("-too-small"):
            self.columns.display = self.full.display = False
            return
        head = self._drawn.head(width)
        self.columns.display = bool(head.plain)
        self.columns.update(head)
        at = self.listing.at
        is_whole = self._drawn.fit(width).is_whole if at is None else self._drawn.is_whole(at, width)
        in_full = "" if is_whole else self.listing.in_full()
        self.full.display = bool(in_full)
        self.full.update(safe(in_full))

    def on_click(self, event: events.Click) -> None:
        """A click on the columns' titles sorts."""
        if event.widget is self.columns and self.is_meant(event):
            self.action_deed("sort")

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell of this one."""
        event.stop()
        self.tell()

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter, or a click on a line; one that came while the list was filled anew may be there no more."""
        event.stop()
        if event.option_index < self.options.option_count:
            self.options.highlighted = event.option_index
            self.action_deed("choose")

    def action_deed(self, name: str) -> None:
        """What is done is done to the line under the highlight."""
        self.listing.at = self.options.highlighted
        super().action_deed(name)

    def do_at_once(self, request: Request) -> bool:
        """A page up or down, too."""
        if isinstance(request, Page):
            self.options.turn_page(request.step)
            return True
        return super().do_at_once(request)


class PicturedScreen(PickingScreen):
    """A list, what is told of the line under the highlight below it, and a picture of that beside or below it."""

    def __init__(self, listing: Listing, picture: Lines) -> None:
        super().__init__(listing)
        self.how, self._picture = shown("", id="how"), picture

    def picture(self) -> None:
        """Draw the line under the highlight."""
        raise NotImplementedError(f"{type(self).__name__} pictures nothing")

    def about(self) -> list[str]:
        """What is told of it."""
        return self.listing.about()

    def compose(self) -> ComposeResult:
        """The title; the list and what is told; the picture; the keys."""
        yield from self.top()
        with Horizontal(id="beside_each_other"):
            with Vertical(id="told"):
                yield self.columns
                yield self.options
                yield self.full
                yield self.how
            yield self._picture
        yield from self.bottom()

    def tell(self) -> None:
        """Tell of the line under the highlight, and show it."""
        super().tell()
        self.picture()
        self.how.update(safe("\n".join(self.about())))
