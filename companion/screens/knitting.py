"""The working screen: the run in work, the row, the chart, the strands, the row's end.

Every key that changes something goes through one queue, and the next is taken only when the one before is
painted: n keys are n steps, each of them seen, even when they arrive all at once. A step is on disk before it
is shown.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Awaitable, Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container, Vertical
from textual.reactive import reactive
from textual.screen import Screen

from companion.knitting import words
from companion.knitting.hands.row_ends import turn_tip
from companion.knitting.hands.steps import SewOn
from companion.progress.actions import Action, Back, BindOff, Finish, On, Refused, TrapTails, Unpick, WholeRow
from companion.progress.deciding import allowed
from companion.progress.ends import ready_ends
from companion.progress.events import Unwove
from companion.progress.finishing import next_step
from companion.progress.knitting import Knitting
from companion.progress.mishaps import to_sew
from companion.progress.session import Session
from companion.progress.trouble import Trouble
from companion.screens import asked
from companion.screens.actions import DEEDS, Deed
from companion.screens.asked import Asking
from companion.screens.chart import ChartPanel
from companion.screens.fitting import fitted, heights
from companion.screens.hanging import HangingPanel
from companion.screens.head import HeadLine
from companion.screens.key_line import KeyLine, key_lines
from companion.screens.layout import HEAD, KEYS, main_width
from companion.screens.lines import Lines
from companion.screens.now import NowPanel
from companion.screens.resting import Resting
from companion.screens.row_end import RowEndPanel
from companion.screens.row_panel import RowPanel, RowStrip
from companion.screens.rowside import Answering

Doing = Callable[[], Awaitable[object] | None]
"""What a key does; some of it takes time, or asks."""


class KnittingScreen(Answering[None]):
    """One piece being knitted. ``session`` is what is on disk, and all that the parts show."""

    BINDINGS = [
        Binding(",".join(deed.keys), f"deed('{deed.name}')", deed.title, id=deed.name, show=False) for deed in DEEDS
    ]
    session: reactive[Session | None] = reactive(None, repaint=False)
    notice: reactive[str] = reactive("", repaint=False)

    def __init__(
        self, knitting: Knitting, terms: words.Terms = words.US, notice: str = "", deeds: Sequence[Deed] = DEEDS
    ) -> None:
        super().__init__()
        self._knitting = knitting
        self._terms = terms
        self._waiting: asyncio.Queue[str] = asyncio.Queue()
        self._is_offered = self._is_row_mode = self._is_chart_large = False
        self._resting = Resting(time.monotonic)
        self._arranged: tuple[object, ...] = ()
        self._given: dict[str | None, int] = {}
        self._head, self._now, self._whole = HeadLine(id="head"), NowPanel(id="now"), RowPanel(id="whole")
        self._end, self._chart, self._keys = RowEndPanel(id="end"), ChartPanel(id="chart"), KeyLine(id="keys")
        self._work, self._main = Container(id="work"), Vertical(id="main")
        self._head.is_look_only = knitting.is_look_only
        self._keys.deeds = deeds
        self._doing = self._deeds()
        self.set_reactive(KnittingScreen.session, knitting.session)
        self.set_reactive(KnittingScreen.notice, notice)

    def compose(self) -> ComposeResult:
        """All parts; how much room each gets is set by the size of the screen."""
        with self._work:
            with self._main:
                for part in (self._head, self._now, self._whole, RowStrip(id="runs")):
                    yield part.data_bind(KnittingScreen.session)
                yield self._end.data_bind(KnittingScreen.session, KnittingScreen.notice)
            with Vertical(id="beside"):
                yield self._chart.data_bind(KnittingScreen.session)
                yield HangingPanel(id="hanging").data_bind(KnittingScreen.session)
        yield self._keys.data_bind(KnittingScreen.session)

    def on_mount(self) -> None:
        """Take the keys one by one."""
        self._take_up_settings()
        self.run_worker(self._take_turns(), exclusive=True, group="turns")

    def on_resize(self, event: events.Resize) -> None:
        """Divide the screen anew."""
        self._arrange()

    def _show(self, notice: str) -> None:
        """What is on disk now, and what is to be said once."""
        self.notice, self.session = notice, self._knitting.session
        self._arrange()

    def _arrange(self) -> None:
        """Give every part its lines, unless they are as they were."""
        width, height = self.size
        if self.session is None or not width:
            return
        is_row_mode = self._is_row_mode and self.session.act is None  # what is to be done at its end is told alone
        plan = fitted(self.session, width, height, self._terms, is_row_mode=is_row_mode, notice=self.notice)
        arranged = (plan, width, height, is_row_mode, self._is_chart_large)
        if self._arranged == arranged:
            return
        self._arranged = arranged
        is_wide = plan.is_wide and not self._is_chart_large
        self._work.set_class(is_wide, "-wide")
        self._main.styles.width = main_width(width, height) if is_wide else width
        self._now.scale, self._now.name_lines = plan.scale, plan.name
        self._now.redraw()
        self._whole.set_class(plan.is_wide and not is_row_mode, "-list")
        shown = heights(plan, is_row_mode=is_row_mode)
        if self._is_chart_large:
            shown = dict.fromkeys(shown, 0) | {"chart": height - HEAD - KEYS}
        for part in self.query(Lines):
            lines = shown.get(part.id, 1)
            if self._given.get(part.id) != lines:  # not its size: a new one is taken up with the next layout
                self._given[part.id] = part.styles.height = lines
                part.display = lines > 0

    def action_deed(self, name: str) -> None:
        """A key was pressed: it takes its turn."""
        self._waiting.put_nowait(name)

    def on_screen_suspend(self) -> None:
        """Another screen is opened: keys that came before it was there were meant for it, and do nothing here."""
        while not self._waiting.empty():
            self._waiting.get_nowait()

    async def _take_turns(self) -> None:
        """One key after the other, each painted before the next.

        A part that is still busy with its own beginnings would paint the first key's step late, maybe together
        with the second's: the first key waits for all of them.
        """
        for part in self.query(Lines):
            await part.wait_for_refresh()
        while True:
            name = await self._waiting.get()
            if (doing := self._doing[name]()) is not None:
                await doing
            painted = asyncio.Event()
            self.call_after_refresh(painted.set)
            await painted.wait()

    def _deeds(self) -> dict[str, Doing]:
        """What each deed of the table does here."""
        return {
            "on": self._on,
            "back": lambda: self._do(Back()),
            "row": lambda: self._do(WholeRow()),
            "mode": self._change_mode,
            "unpick": lambda: self._do(Unpick()),
            "rip": lambda: self._do_asked(asked.rip_back),
            "at": lambda: self._do_asked(asked.at_row),
            "where": self._where,
            "happened": self._happened,
            "note": lambda: self._do_asked(asked.note),
            "ends": self._ends,
            "sew": self._sew,
            "strands": self._strands,
            "techniques": self._techniques,
            "chart": self._change_chart,
            "zoom": self._zoom,
            "held": self._turn_chart,
            "scroll_up": lambda: self._scroll(0, 1),
            "scroll_down": lambda: self._scroll(0, -1),
            "scroll_left": lambda: self._scroll(8, 0),
            "scroll_right": lambda: self._scroll(-8, 0),
            "follow": self._follow,
            "settings": self._settings,
            "light": lambda: self.rowside.action_change_light(),
            "help": self._help,
            "quit": self._quit,
        }

    def _do(self, action: Action) -> None:
        """Decide, save, then show; say in one line why not, where it cannot be."""
        notice = ""
        try:
            session = self._knitting.do(action)
            if not isinstance(action, Back):
                notice = words.came_out(sum(isinstance(event, Unwove) for event in session.last), self._terms)
        except (Refused, Trouble) as reason:
            notice = str(reason)
        session, settings = self._knitting.session, self.rowside.settings
        self._is_offered = False
        is_turn = session.is_at_turn and session.act is None
        if not notice and is_turn and isinstance(action, On | WholeRow):
            ready, key = ready_ends(session), next(deed.key for deed in self._keys.deeds if deed.name == "ends")
            self._is_offered = 0 < settings.offer_at <= ready and turn_tip(session.rows, session.row) == "toward"
            notice = words.ends_offered(ready, self._terms, key) if self._is_offered else ""
        if self._resting.is_due(settings.break_after, is_at_turn=is_turn):
            notice = f"{notice} {words.BREAK}".strip()
        self._show(notice)

    async def _do_asked(self, asking: Asking) -> Action | None:
        """The same with an action that the knitter is asked for, which is returned."""
        try:
            action = await asking(self.rowside, self._knitting.session, self._terms)
        except Refused as reason:
            self._show(str(reason))
            return None
        if action is not None:
            self._do(action)
        return action

    async def _on(self) -> None:
        session = self._knitting.session
        if session.act is None and session.is_worked and not session.is_bound_off:
            self._do(BindOff())
        elif session.is_bound_off and Finish in allowed(session):
            self._do(Finish())
        elif session.is_bound_off and (step := next_step(session)):
            await (self._sew() if isinstance(step.doing, SewOn) else self._ends())
        else:
            self._do(WholeRow() if self._is_row_mode else On())

    def _change_mode(self) -> None:
        self._is_row_mode = not self._is_row_mode
        self._arrange()

    def _change_chart(self) -> None:
        self._is_chart_large = not self._is_chart_large
        self._arrange()

    def _zoom(self) -> None:
        self._chart.is_far = not self._chart.is_far
        self._chart.redraw()

    def _turn_chart(self) -> None:
        self._chart.is_held = self._head.is_held = not self._chart.is_held
        self._chart.redraw()
        self._head.redraw()

    def _scroll(self, left: int, pages: int) -> None:
        self._chart.scroll_by(left, pages * max(1, self._chart.size.height // 2))

    def _follow(self) -> None:
        self._chart.looked_at = None
        self._chart.redraw()

    async def _open(self, screen: Screen[None]) -> None:
        await self.app.push_screen_wait(screen)
        self._show(self.notice)

    async def _ends(self, only_ready: bool = False) -> None:
        from companion.screens.ends import EndsScreen

        only_ready = only_ready or self._is_offered
        await self._open(EndsScreen(self._knitting, self._terms, self.rowside.settings.shows_by, only_ready))

    async def _sew(self) -> None:
        from companion.screens.sewing import SewingScreen

        if to_sew(self._knitting.session):
            await self._open(SewingScreen(self._knitting, self._terms))
        else:
            self._show(words.NOTHING_SEWN_ON)

    async def _strands(self) -> None:
        from companion.screens.strands import StrandsScreen

        await self._open(StrandsScreen(self._knitting.session, self._terms))

    async def _techniques(self) -> None:
        from companion.screens.techniques import TechniquesScreen

        if not self._knitting.session.is_worked:
            await self._open(TechniquesScreen(self._knitting, self._terms))

    async def _settings(self) -> None:
        await self._open(self.rowside.settings_screen())
        self._take_up_settings()

    def _take_up_settings(self) -> None:
        """Say everything in the knitter's terms; lay tails in, or not."""
        self._terms = self.rowside.terms_for(self._knitting.session.piece)
        for part in self.query(Lines):
            part.terms = self._terms
            part.redraw()
        is_trapping = self.rowside.settings.tails == "trap"
        if not self._knitting.is_look_only and is_trapping != self._knitting.session.is_trapping:
            try:
                self._knitting.do(TrapTails(is_trapping))
            except Trouble as reason:
                self.notice = str(reason)
        self._show(self.notice)

    async def _where(self) -> None:
        from companion.screens.whereabouts import tell_where

        await tell_where(self.app, self._knitting.session)

    async def _happened(self) -> None:
        from companion.screens.mishaps import told_after, what_happened

        before = self._knitting.session
        action, after = await self._do_asked(what_happened), self._knitting.session
        if action is not None and after is not before:
            self._show(told_after(action, before, after, self._terms))

    async def _help(self) -> None:
        from companion.screens.asking import Reading

        lines = key_lines(Reading.room(self.size.width), self._keys.deeds)
        await self.app.push_screen_wait(Reading("Keys", [*lines, "", *words.CAUTION]))

    async def _quit(self) -> None:
        from companion.screens.asking import AskYes

        session = self._knitting.session
        if session.done and not session.is_at_turn:
            row = session.rows[session.row]
            left = row.stitches - sum(segment.stitches for segment in row.segments[:session.done])
            following = next((session.rows[at] for at in session.rows.following(session.row)), None)
            told = [words.best_stop(row, left, following), "Everything is saved. Stop here?"]
            if not await self.app.push_screen_wait(AskYes(told, "stop here", "go on")):
                return
        ready = ready_ends(session) if self.rowside.settings.offer_at and not self._knitting.is_look_only else 0
        offered = AskYes([words.ends_offered_on_leaving(ready, self._terms)], "show them", "stop here")
        if ready > 0 and await self.app.push_screen_wait(offered):
            await self._ends(only_ready=True)
        elif len(self.app.screen_stack) > 1:
            self.dismiss(None)
        else:
            self.app.exit()
