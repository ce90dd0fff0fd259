"""The working screen: the run in work, the row, the chart, the strands, the row's end.

Every key goes through one queue, and the next is taken only when the one before is painted: n keys are n steps, each
of them seen, even when they arrive all at once. Those that come after a key that asks something are for what it asks.
A step is on disk before it is shown.
"""

from __future__ import annotations

import asyncio
from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.reactive import reactive

from companion.dialogue.deeds import deeds_of
from companion.dialogue.questions import Find, Leave, Request, Scroll, ToNeedles
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import telling
from companion.progress.session import Session
from companion.screens.chart import ChartPanel
from companion.screens.fitting import fitted, heights
from companion.screens.hanging import HangingPanel
from companion.screens.head import HeadLine
from companion.screens.key_line import KeyLine
from companion.screens.layout import HEAD, KEYS, LENT, LENT_IN_ROW, PARTS, Arrangement, main_width
from companion.screens.lines import Lines
from companion.screens.now import NowPanel
from companion.screens.row_end import RowEndPanel, lines_above
from companion.screens.row_panel import RowPanel, RowStrip
from companion.screens.rowside import bound, carry_out
from companion.screens.touch import LargePlace


class KnittingScreen(LargePlace):
    """One piece being knitted. ``session`` is what is on disk, and all that the parts show."""

    BINDINGS: ClassVar[list[BindingType]] = bound("work")
    large = frozenset({"now", "whole"})
    session: reactive[Session | None] = reactive(None, repaint=False)
    notice: reactive[str] = reactive("", repaint=False)
    pace: reactive[tuple[str, ...]] = reactive((), repaint=False)

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.here = self.sitting = sitting
        self._waiting: asyncio.Queue[str | events.Key] = asyncio.Queue()
        self._is_taking_turn = False
        self._plan: Arrangement | None = None
        self._place: tuple[object, ...] = ()
        self._row: int | None = None
        self._given: dict[str | None, int] = {}
        self._seen = ""
        self._deeds = deeds_of("work", sitting.knitter.deeds)
        self._terms, self._saying = Lines.terms, Lines.saying
        self._head, self._now, self._whole = HeadLine(id="head"), NowPanel(id="now"), RowPanel(id="whole")
        self._end, self._chart, self._keys = RowEndPanel(id="end"), ChartPanel(id="chart"), KeyLine(id="keys")
        self._work, self._main = Container(id="work"), Vertical(id="main")
        self._head.is_look_only = self._keys.is_look_only = sitting.knitting.is_look_only
        self._keys.deeds = sitting.knitter.deeds
        self.set_reactive(KnittingScreen.session, sitting.session)
        self.set_reactive(KnittingScreen.notice, sitting.notice)

    def compose(self) -> ComposeResult:
        """All parts; how much room each gets is set by the size of the screen."""
        with self._work:
            with self._main:
                for part in (self._head, self._now, self._whole, RowStrip(id="runs")):
                    yield part.data_bind(KnittingScreen.session)
                yield self._end.data_bind(KnittingScreen.session, KnittingScreen.notice, KnittingScreen.pace)
            with Vertical(id="beside"):
                yield self._chart.data_bind(KnittingScreen.session)
                yield HangingPanel(id="hanging").data_bind(KnittingScreen.session)
        yield self._keys.data_bind(KnittingScreen.session)

    def on_mount(self) -> None:
        """Take the keys one by one."""
        self.show()
        self.run_worker(self._take_turns(), exclusive=True, group="turns")

    def on_resize(self, event: events.Resize) -> None:
        """Divide the screen anew."""
        self._arrange()

    def show(self) -> None:
        """What is on disk now, what is to be said once, in the knitter's terms and as she looks at it."""
        super().show()
        sitting, view = self.sitting, self.sitting.view
        if self._keys.deeds is not sitting.knitter.deeds:
            self._keys.deeds = sitting.knitter.deeds
            self._deeds = deeds_of("work", sitting.knitter.deeds)
            self._keys.redraw()
        saying, is_new = sitting.saying, self.session is not sitting.session
        if self._terms is not sitting.terms or self._saying is not saying:
            self._terms, self._saying = sitting.terms, saying
            for part in self.query(Lines):
                part.terms, part.saying = sitting.terms, saying
                if not is_new:
                    part.redraw()
        self.notice, self.pace = sitting.notice, sitting.pace
        if is_new:
            self.session = sitting.session
        self._arrange()
        if (self._chart.is_far, self._chart.is_held) != (view.is_far, view.is_held):
            self._chart.is_far, self._chart.is_held = view.is_far, view.is_held
            self._chart.redraw()
        if (self._head.is_held, self._head.is_offered) != (view.is_held, sitting.is_offered):
            self._head.is_held, self._head.is_offered = view.is_held, sitting.is_offered
            self._head.redraw()

    def _arrange(self) -> None:
        """Give every part its lines, unless they are as they were."""
        width, height = self.size or self.app.size  # before the first layout, so that it is the only one
        if self.session is None or not width:
            return
        view = self.sitting.view
        is_row_mode = view.is_row_mode and self.session.act is None  # what is to be done at its end is told alone
        now = telling(self.session, self._terms, self._saying)
        plan = fitted(
            now, width, height, is_row_mode=is_row_mode, notice=self.notice, pace=self.pace, is_asked=self._lent > 0
        )
        if not view.is_chart_large:
            self._seen = self.notice
        is_new = view.is_chart_large and self.notice != self._seen
        notice = self.notice if view.is_alone or is_new else ""
        looks = is_row_mode, view.is_chart_large, view.is_alone, notice or bool(self.notice)
        place = width, height, *looks
        lent = LENT_IN_ROW if self._row == self.session.row else LENT
        self._row = self.session.row
        if self._plan and self._place == place and self._plan.holds(plan, lent):
            return  # nothing moves that need not
        self._plan, self._place = plan, place
        is_wide = plan.is_wide and not view.is_chart_large and not view.is_alone
        self._work.set_class(is_wide, "-wide")
        self._main.styles.width = main_width(width, height) if is_wide else width
        self._now.sizes, self._now.is_alone, self._now.notice = plan.sizes, view.is_alone, notice
        self._now.redraw()
        if self._end.is_alone != view.is_chart_large:
            self._end.is_alone = view.is_chart_large
            self._end.redraw()
        self._whole.set_class(plan.is_wide and not is_row_mode and not view.is_alone, "-list")
        shown = heights(plan, is_row_mode=is_row_mode)
        if view.is_chart_large:
            above = lines_above(notice, width)
            shown = dict.fromkeys(shown, 0) | {"chart": height - HEAD - KEYS - above, "end": above}
        if view.is_alone:
            shown = {**dict.fromkeys(PARTS, 0), "whole" if is_row_mode else "now": height}
        for part in self.query(Lines):
            lines = shown.get(part.id, 1)
            if self._given.get(part.id) != lines:  # not its size: a new one is taken up with the next layout
                self._given[part.id] = part.styles.height = lines
                part.display = lines > 0

    def action_deed(self, name: str) -> None:
        """A deed was clicked, or found: it takes its turn."""
        self._waiting.put_nowait(name)

    def on_key(self, event: events.Key) -> None:
        """A key takes its turn, too. One that does nothing here may be meant for what is being opened."""
        is_busy = self._is_taking_turn or not self._waiting.empty()
        if self._deed_of(event) or (is_busy and not event.key.startswith("ctrl+")):
            event.stop()
            event.prevent_default()
            if self.is_current:
                self._waiting.put_nowait(event)
            else:
                self._pass_on(event)

    def _deed_of(self, event: events.Key) -> str:
        """What a key does here, by name; "" = nothing."""
        return next((deed.name for deed in self._deeds if event.key in deed.keys), "")

    def on_screen_suspend(self) -> None:
        """Another screen is opened: keys that came before it was there are meant for it."""
        while not self._waiting.empty():
            if isinstance(key := self._waiting.get_nowait(), events.Key):
                self._pass_on(key)

    def _pass_on(self, key: events.Key) -> None:
        """To the screen that is opened over this one; where this one was left, to nobody."""
        if self in self.app.screen_stack:
            self.rowside.keep(key)

    async def _take_turns(self) -> None:
        """One key after the other, each painted before the next.

        A part that is still busy with its own beginnings would paint the first key's step late, maybe together
        with the second's: the first key waits for all of them, and so does the second.
        """
        await self._parts_are_painted()
        is_first = True
        while True:
            self._is_taking_turn = False
            waited = await self._waiting.get()
            name = waited if isinstance(waited, str) else self._deed_of(waited)
            if not name:
                continue
            self._is_taking_turn = True
            await carry_out(self.rowside.deed(name).begin(self.sitting), self.answer)
            self.show()
            if is_first:
                await self._parts_are_painted()
                is_first = False
            painted = asyncio.Event()
            self.call_after_refresh(painted.set)
            await painted.wait()

    async def _parts_are_painted(self) -> None:
        for part in self.query(Lines):
            await part.wait_for_refresh()

    async def answer(self, request: Request) -> Any:
        """What comes back for a request. What is looked for is part of the turn."""
        return await self.find() if isinstance(request, Find) else await super().answer(request)

    def do_at_once(self, request: Request) -> bool:
        """What the chart shows; leaving, which ends the app where there is nothing below."""
        match request:
            case Scroll(left, up):
                self._chart.scroll_by(left, up * max(1, self._chart.size.height // 2))
            case ToNeedles():
                self._chart.looked_at = None
                self._chart.redraw()
            case Leave() if len(self.app.screen_stack) == 1:
                self.app.exit()
            case _:
                return super().do_at_once(request)
        return True
