"""The working screen: the run in work, the row, the chart, the strands, the row's end.

A step is on disk before it is shown.
"""

from __future__ import annotations

from typing import Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType

from companion.dialogue.questions import Find, Leave, Request, Scroll, ToNeedles
from companion.dialogue.sitting import FOLLOWED_EVERY, Sitting
from companion.dialogue.telling import Telling
from companion.dialogue.working import foresee
from companion.knitting import words
from companion.screens.bound import bound
from companion.screens.chart import ChartPanel
from companion.screens.fitting import fitted, heights
from companion.screens.ground import Column, Ground
from companion.screens.hanging import HangingPanel
from companion.screens.head import HeadLine
from companion.screens.key_line import KeyLine
from companion.screens.layout import GUTTER, HEAD, KEYS, LENT, LENT_IN_ROW, PARTS, Arrangement, main_width
from companion.screens.lines import Lines
from companion.screens.now import NowPanel
from companion.screens.one_by_one import OneByOne
from companion.screens.row_end import RowEndPanel, lines_above
from companion.screens.row_panel import RowPanel, RowStrip
from companion.screens.touch import LargePlace


class KnittingScreen(OneByOne, LargePlace, Ground):
    """One piece being knitted. What is on disk is all that the parts show."""

    BINDINGS: ClassVar[list[BindingType]] = bound("work")
    large = frozenset({"now", "whole"})

    def __init__(self, sitting: Sitting) -> None:
        super().__init__(sitting)
        self.here = sitting
        self._plan: Arrangement | None = None
        self._place: tuple[object, ...] = ()
        self._row: int | None = None
        self._given: dict[str | None, int] = {}
        self._seen = ""
        self._head, self._now, self._whole = HeadLine(id="head"), NowPanel(id="now"), RowPanel(id="whole")
        self._end, self._chart, self._keys = RowEndPanel(id="end"), ChartPanel(id="chart"), KeyLine(id="keys")
        self._strip, self._hanging = RowStrip(id="runs"), HangingPanel(id="hanging")
        self.parts: tuple[Lines, ...] = (
            self._head, self._now, self._whole, self._strip, self._end, self._chart, self._hanging, self._keys
        )
        self._work, self._main = Column(id="work"), Column(id="main")
        self._head.is_look_only = self._keys.is_look_only = sitting.knitting.is_look_only
        self._keys.deeds = sitting.knitter.deeds
        self._take_up()

    def compose(self) -> ComposeResult:
        """All parts; how much room each gets is set by the size of the screen."""
        with self._work:
            with self._main:
                yield from self.parts[:5]
            with Column(id="beside"):
                yield from (self._chart, self._hanging)
        yield self._keys

    def on_mount(self) -> None:
        """Take the keys one by one."""
        self.show()
        self.run_worker(self.take_turns(), exclusive=True, group="turns")
        if self.sitting.knitting.is_followed:
            self.set_interval(FOLLOWED_EVERY, self._follow)

    def on_resize(self, event: events.Resize) -> None:
        """Divide the screen anew."""
        self._arrange()

    def show(self) -> None:
        """What is on disk now, what is to be said once, in the knitter's terms and as she looks at it."""
        super().show()
        sitting = self.sitting
        self._keys.deeds = sitting.knitter.deeds
        self._take_up()
        self._arrange()

    def _take_up(self) -> None:
        """Let every part have what it shows."""
        sitting, view = self.sitting, self.sitting.view
        session, terms, saying = sitting.session, sitting.terms, sitting.saying
        if self._chart.session is not session:
            self._chart.looked_at = None  # a step: it comes back to the needles
        for part in self.parts:
            part.session, part.terms, part.saying = session, terms, saying
        self._end.notice, self._end.pace = sitting.notice, sitting.pace
        self._end.more = self._now.more = words.shown_by(sitting.knitter.key_of("why"))
        self._chart.is_far, self._chart.is_held = view.is_far, view.is_held
        self._head.is_held, self._head.is_offered = view.is_held, sitting.is_offered

    def _arrange(self) -> None:
        """Give every part its lines, and draw those anew that look otherwise now."""
        self._divide()
        for part in self.parts:
            part.redraw()

    def _divide(self) -> None:
        """Give every part its lines, unless they are as they were."""
        width, height = self.size or self.app.size  # before the first layout, so that it is the only one
        if not width:
            return
        sitting = self.sitting
        session, view = sitting.session, sitting.view
        told = sitting.telling
        plan, is_row_mode = self._fitted(told, sitting.notice, sitting.pace), view.tells_row(told)
        if not view.is_chart_large:
            self._seen = sitting.notice
        is_new = view.is_chart_large and sitting.notice != self._seen
        notice = sitting.notice if view.is_alone or is_new else ""
        looks = is_row_mode, view.is_chart_large, view.is_alone, notice or bool(sitting.notice)
        place = width, height, *looks
        lent = LENT_IN_ROW if self._row == session.row else LENT
        self._row = session.row
        if self._plan and self._place == place and self._plan.holds(plan, lent):
            return  # nothing moves that need not
        self._plan, self._place = plan, place
        is_wide = plan.is_wide and not view.is_chart_large and not view.is_alone
        self._work.set_class(is_wide, "-wide")
        self._main.styles.width = main_width(width, height) + GUTTER if is_wide else width
        self._now.sizes, self._now.is_row = plan.sizes, is_row_mode
        self._end.act_line = 0 if is_row_mode and not plan.row else None
        self._now.is_alone, self._now.notice = view.is_alone, notice
        self._end.is_alone = view.is_chart_large
        self._whole.set_class(plan.is_wide and not is_row_mode and not view.is_alone, "-list")
        shown = heights(plan)
        if view.is_chart_large:
            above = lines_above(notice, width, self._end.more)
            shown = dict.fromkeys(shown, 0) | {"chart": height - HEAD - KEYS - above, "end": above}
        if view.is_alone:
            shown = {**dict.fromkeys(PARTS, 0), "now": height}
        for part in self.parts:
            lines = shown.get(part.id, 1)
            if self._given.get(part.id) != lines:  # not its size: a new one is taken up with the next layout
                self._given[part.id] = part.styles.height = lines
                part.display = lines > 0

    def _fitted(self, told: Telling, notice: str = "", pace: tuple[str, ...] = ()) -> Arrangement:
        """How the screen is divided for what is told."""
        size, is_row_mode = self.size or self.app.size, self.sitting.view.tells_row(told)
        return fitted(told, *size, is_row_mode=is_row_mode, notice=notice, pace=pace, is_asked=self._lent > 0)

    @property
    def is_notice_cut(self) -> bool:
        """Whether there is no room for all that must be said once."""
        return (self._now if self.sitting.view.is_alone else self._end).is_cut

    def foresee(self) -> None:
        """Work out what the next On will show, while the hands are busy."""
        if told := foresee(self.sitting):
            self._fitted(told)

    def _follow(self) -> None:
        """Show what another window did, as long as nothing lies over this."""
        if self.is_active and not self.is_taking_turn and self.sitting.follow_all():
            self.show()

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
