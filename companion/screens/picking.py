"""A list to pick from: every line is plain text, a title above it and its keys below."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import OptionList, Static
from textual.worker import get_current_worker

from companion.dialogue.deeds import foot
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Page, Reading, Request
from companion.screens.asking import STYLES, PlainList, ReadingScreen, lines_to_choose, safe, shown
from companion.screens.lines import Lines
from companion.screens.rowside import Answering

WIDE, LOW = 100, 20
"""From so many columns on a picture stands beside its list; on fewer lines what is told gives way."""


class PickingScreen(Answering[None]):
    """Shows a list until it is left. Subclasses have the keys of theirs."""

    CSS_PATH: ClassVar[str] = STYLES

    def __init__(self, listing: Listing) -> None:
        super().__init__()
        self.here = self.listing = listing
        self.where = listing.where
        self.heading = shown("", id="title")
        self.options = PlainList(id="list", markup=False)

    def compose(self) -> ComposeResult:
        """Title, list, keys."""
        yield self.heading
        yield self.options
        yield self.foot()

    def foot(self) -> Static:
        """The keys."""
        keys = foot(self.listing.where, self.rowside.knitter.deeds, self.listing.verbs)
        return shown(keys, "quiet", id="foot")

    def on_mount(self) -> None:
        """Fill the list."""
        self.show()
        self.options.focus()

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
        listing, options = self.listing, self.options
        self.heading.update(safe(listing.heading))
        at = options.highlighted
        options.clear_options()
        options.add_options(lines_to_choose(listing.lines))
        for heading in listing.headings:
            options.disable_option_at_index(heading)
        choices = [at for at in range(len(listing.lines)) if at not in listing.headings]
        if choices:
            at = min(at or 0, len(listing.lines) - 1)
            options.highlighted = at if at in choices else choices[0]
        listing.at = options.highlighted

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
            options = self.options
            options.call_next(options.action_page_down if request.step > 0 else options.action_page_up)
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
        yield self.foot()

    def on_resize(self, event: events.Resize) -> None:
        """The screen's corner was dragged."""
        self.give_room()

    def put(self) -> None:
        """The list, and what belongs to it."""
        super().put()
        self.give_room()
        self.tell()

    def tell(self) -> None:
        """Tell of the line under the highlight, and show it."""
        self.listing.at = self.options.highlighted
        self.picture()
        self.how.update(safe("\n".join(self.about())))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Tell of this one."""
        event.stop()
        self.tell()
