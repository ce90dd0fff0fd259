"""The drawing board: the chart of a plan, what it costs, the tools. Every stroke is saved as soon as it is painted,
and before the board is left."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Container
from textual.worker import get_current_worker

from companion.dialogue.deed import Where
from companion.dialogue.deeds import by_key
from companion.dialogue.finding import Finding
from companion.dialogue.keys import KeyTold
from companion.dialogue.painting import Painting
from companion.dialogue.painting_costs import News, Wanted
from companion.dialogue.painting_keys import PAINTING_GROUPS, keys_at_the_board, painting_deeds
from companion.dialogue.questions import Leave, Request
from companion.screens.canvas import Canvas
from companion.screens.costs_panel import CostsPanel
from companion.screens.lines import Lines
from companion.screens.notice_line import NoticeLine
from companion.screens.plain_parts import STYLES
from companion.screens.rowside import Answering
from companion.screens.tool_bar import ToolBar
from companion.screens.whole_pictures import can_paint_at_once, paint_at_once

PAINTED = 0.02
"""Seconds after a stroke in which it is painted, and shown by the terminal; then it is saved, if nothing that is done
has saved it before."""

REST = 0.2
"""Seconds without a key or a move of the mouse after which what takes time is begun."""

LOOKED = 2.0
"""Seconds between two looks at the file, whether somebody else changed it."""

WIDE, BESIDE, BESIDE_WIDE = 72, 24, 32
"""From so many columns on the costs stand beside the chart, so many columns wide; more where there is room."""

SAID, LOW = 2, 20
"""Lines for what is said; on fewer than so many the tools have a single one, and nothing stands beside the chart."""


class _Frame(Container):
    """Holds the chart and what it costs, which cover it."""

    BLANK = True


class DrawingScreen(Answering[None]):
    """One plan on the board until it is left. Its parts cover it."""

    BLANK = True

    CSS_PATH: ClassVar[str] = STYLES
    where: Where = "drawing"

    def __init__(self, painting: Painting) -> None:
        super().__init__()
        self.here = self.painting = painting
        self._canvas, self._costs = Canvas(painting, id="canvas"), CostsPanel(painting, id="costs")
        self._notice = NoticeLine(painting, self._canvas, id="notice")
        self._tools = ToolBar(painting, id="tools")
        self._board = _Frame(id="board")
        self._given: tuple[int, ...] = ()
        self._arranged_for: tuple[object, ...] = ()
        self._is_working = False
        self._held: list[events.Key] = []

    def compose(self) -> ComposeResult:
        """The costs, the chart, what is said, the tools."""
        with self._board:
            yield self._costs
            yield self._canvas
        yield self._notice
        yield self._tools

    def on_mount(self) -> None:
        """Show it; look at the file now and then."""
        self._painted = self.set_interval(PAINTED, self._when_painted, pause=True)
        self._rest = self.set_interval(REST, self._work, pause=True)
        self.set_interval(LOOKED, self._look)
        self.show()

    def on_resize(self, event: events.Resize) -> None:
        """Divide the screen anew."""
        self._arrange()

    # What can be done

    def keys(self) -> Sequence[KeyTold]:
        """Those of the tool bar."""
        return keys_at_the_board(self.painting)

    def finding(self) -> Finding:
        """All of them, to find one."""
        deeds = painting_deeds(self.rowside.knitter.deeds, len(self.painting.board.yarns))
        return Finding(self.where, deeds, PAINTING_GROUPS)

    def do_at_once(self, request: Request) -> bool:
        """It is left once all is saved; that ends the app where there is nothing below."""
        match request:
            case Leave() if not self.painting.save():
                self.show()
            case Leave() if len(self.app.screen_stack) == 1:
                self.app.exit()
            case _:
                return super().do_at_once(request)
        return True

    def on_key(self, event: events.Key) -> None:
        """A key does its deed before the next one is looked at; one that comes before what is asked is there is meant
        for that."""
        name = by_key("drawing", self.rowside.knitter.deeds).get(event.key)
        if name or self.is_asking:
            event.stop()
            event.prevent_default()
        if self.is_asking:
            self._held.append(event)
        elif name:
            self.action_deed(name)

    def on_screen_suspend(self) -> None:
        """What is asked is there: it gets the keys that came before it was."""
        held, self._held = self._held, []
        for key in held:
            self.rowside.keep(key)

    def _take_held(self) -> None:
        """What was asked is done, or nothing was: they are for the board."""
        if self._held and self.is_asking:
            self.call_after_refresh(self._take_held)
            return
        held, self._held = self._held, []
        for key in held:
            self.on_key(key)

    # What is shown

    def show(self) -> None:
        """What is so now; what takes time comes when the knitter rests."""
        super().show()
        is_arranged = self._arrange()
        if self._held:
            self.call_after_refresh(self._take_held)
        if not self.painting.board.is_saved or self.painting.slow.is_slow:
            self._rest.pause()
            self._painted.reset()
            self._painted.resume()
        self._redraw((self._canvas, self._costs, self._notice, self._tools), is_alone=not is_arranged)

    def _redraw(self, parts: Sequence[Lines], *, is_alone: bool) -> None:
        """Draw the parts again; where that ``is_alone`` what changes and no messages wait, paint them at once.
        Textual's own way to a paint, by messages and a timer, takes half as long as all else that a stroke is."""
        if not is_alone or self.message_queue_size or not can_paint_at_once(self):
            for part in parts:
                part.redraw()
        elif [part for part in parts if part.draw_anew()]:
            paint_at_once(self, parts)  # all of them: something of one may wait from before

    def _when_painted(self) -> None:
        """All is painted: save the stroke, and look whether the knitter rests."""
        self._painted.pause()
        if not self.painting.save():
            self.show()
        if self.painting.slow.is_slow:
            self._rest.reset()
            self._rest.resume()

    def _arrange(self) -> bool:
        """Give every part its room: first the names of yarns give way, then what stands beside the chart, then the
        tools; what it costs never. Whether that is another one now."""
        width, height = size = self.size or self.app.size
        if not width:
            return False
        fabric = self.painting.fabric
        asked = size, fabric.columns, fabric.levels, self.painting.width, self.keys(), self.painting.board.yarns
        if asked == self._arranged_for and self._costs.is_beside:
            return False  # above the chart the costs take as many lines as they are long
        self._arranged_for = asked
        is_low = height < LOW
        is_beside = width >= WIDE and not is_low
        self._costs.is_beside, self._notice.is_telling = is_beside, not is_beside
        beside = BESIDE_WIDE if width >= 110 else BESIDE
        tools = 1 if is_low else min(self._tools.lines_for(width), max(2, height // 8))
        above = 0 if is_beside else min(self._costs.lines_above(width), max(2, height // 4))
        if is_beside:  # what stands beside the chart begins where it ends
            beside = max(beside, width - self._canvas.width_for(width - beside, height - tools - SAID))
        self._canvas.given = width - beside if is_beside else width
        given = int(is_beside), beside, above, tools
        if is_other := given != self._given:
            self._given = given
            self._board.set_class(is_beside, "-beside")
            self._costs.styles.width = beside if is_beside else "100%"
            self._costs.styles.height = "100%" if is_beside else above
            self._notice.styles.height, self._tools.styles.height = SAID, tools
        return is_other

    # What takes time

    def _work(self) -> None:
        """The knitter rests: begin, unless it is begun already."""
        self._rest.pause()
        if self.painting.slow.is_slow and not self._is_working and self.is_active:
            self._is_working = True
            self.run_worker(partial(self._work_out, self.painting.slow.wanted), thread=True, group="costs")

    def _work_out(self, wanted: Wanted) -> None:
        worker = get_current_worker()
        try:
            tell = partial(self.app.call_from_thread, self._take_up)
            self.painting.slow.work_out(wanted, lambda: worker.is_cancelled, tell)
        finally:
            self._is_working = False
        if not worker.is_cancelled:
            self.app.call_from_thread(self.show)

    def _take_up(self, news: News) -> None:
        self.painting.take_up(news)
        self.show()

    def _look(self) -> None:
        """Whether somebody else changed the file."""
        if self.is_active and self.painting.look():
            self.show()

    # The mouse

    def on_canvas_pressed(self, event: Canvas.Pressed) -> None:
        """Paint, or look."""
        if event.is_look:
            self.painting.mouse.look(event.cells)
        else:
            self.painting.mouse.press(event.cells)
        self.show()

    def on_canvas_dragged(self, event: Canvas.Dragged) -> None:
        """Paint on."""
        self.painting.mouse.drag(event.cells)
        self.show()

    def on_canvas_released(self) -> None:
        """The stroke is done."""
        self.painting.mouse.release()
        self.show()
