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
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    Finish,
    Note,
    On,
    Refused,
    RipBack,
    TrapTails,
    Unpick,
    WholeRow,
)
from companion.progress.deciding import allowed, would_rip
from companion.progress.events import Unwove
from companion.progress.finishing import next_step
from companion.progress.knitting import Knitting
from companion.progress.repairs import to_sew
from companion.progress.session import Session
from companion.progress.trouble import Trouble
from companion.progress.typed import row_typed, rows_upto
from companion.screens import offers
from companion.screens.actions import DEEDS, Deed
from companion.screens.answering import Answering
from companion.screens.chart import ChartPanel
from companion.screens.fitting import chart_alone, fitted, heights
from companion.screens.hanging import HangingPanel
from companion.screens.head import HeadLine
from companion.screens.key_line import KeyLine, key_lines
from companion.screens.layout import Arrangement, main_width
from companion.screens.lines import Lines
from companion.screens.now import NowPanel
from companion.screens.resting import Resting
from companion.screens.row_end import RowEndPanel
from companion.screens.row_panel import RowPanel
from companion.screens.row_strip import RowStrip

Doing = Callable[[], Awaitable[None]]


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
        self._arranged_for: tuple[Session | None, tuple[object, ...]] = (None, ())
        self._arrangement: tuple[Arrangement, tuple[object, ...]] | None = None
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
        self._speak(self._terms)
        self._trap_as_set()
        self._arrange()
        self.run_worker(self._take_turns(), exclusive=True, group="turns")

    def on_resize(self, event: events.Resize) -> None:
        """Divide the screen anew."""
        self._arrange()

    def _arrange(self) -> None:
        """Give every part its lines, unless nothing that they depend on has changed."""
        width, height = self.size
        ways = (width, height, self._is_row_mode, self._is_chart_large, self.notice)
        session, ways_before = self._arranged_for
        if self.session is None or not width or (self.session is session and ways == ways_before):
            return
        self._arranged_for = self.session, ways
        plan = fitted(
            self.session, width, height, self._terms, is_row_mode=self._is_row_mode, notice=self.notice
        )
        if self._arrangement == (plan, ways[:-1]):
            return
        self._arrangement = plan, ways[:-1]
        is_wide = plan.is_wide and not self._is_chart_large
        self._work.set_class(is_wide, "-wide")
        self._main.styles.width = main_width(width, height) if is_wide else width
        self._now.scale, self._now.name_lines = plan.scale, plan.name
        self._now.redraw()
        self._whole.set_class(plan.is_wide and not self._is_row_mode, "-list")
        shown = chart_alone(height) if self._is_chart_large else heights(plan, is_row_mode=self._is_row_mode)
        for part in self.query(Lines):
            lines = shown.get(part.id, 1)
            if part.styles.height is None or part.size.height != lines or part.display != (lines > 0):
                part.styles.height = lines
                part.display = lines > 0

    def watch_notice(self) -> None:
        """Something to say needs room, and gives it back."""
        self._arrange()

    def watch_session(self) -> None:
        """What stands at a turn, and in row mode every row, needs its own room."""
        self._arrange()

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
            await self._doing[name]()
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
            "rip": self._rip_back,
            "at": self._at_row,
            "where": self._where,
            "happened": self._happened,
            "note": self._note,
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
            "light": self._change_light,
            "help": self._help,
            "quit": self._quit,
        }

    async def _do(self, action: Action) -> None:
        """Decide, save, then show; say in one line why not, where it cannot be."""
        notice = ""
        try:
            session = self._knitting.do(action)
            if not isinstance(action, Back):
                notice = words.came_out(sum(isinstance(event, Unwove) for event in session.last), self._terms)
        except (Refused, Trouble) as reason:
            notice = str(reason)
        session = self._knitting.session
        self._is_offered = False
        if not notice and session.act is None and isinstance(action, On | WholeRow):
            key = next(deed.key for deed in self._keys.deeds if deed.name == "ends")
            notice = offers.at_the_turn(session, self.rowside.settings, self._terms, key)
            self._is_offered = bool(notice)
        if self._resting.is_due(self.rowside.settings.break_after, is_at_turn=session.is_at_turn):
            notice = f"{notice} {words.BREAK}".strip()
        self.notice = notice
        self.session = session

    async def _on(self) -> None:
        session = self._knitting.session
        if session.act is None and session.is_worked and not session.is_bound_off:
            await self._do(BindOff())
        elif session.is_bound_off and Finish in allowed(session):
            await self._do(Finish())
        elif session.is_bound_off and (step := next_step(session)):
            await (self._sew() if step.step == "sew" else self._ends())
        else:
            await self._do(WholeRow() if self._is_row_mode else On())

    async def _change_mode(self) -> None:
        self._is_row_mode = not self._is_row_mode
        self._arrange()

    async def _change_chart(self) -> None:
        self._is_chart_large = not self._is_chart_large
        self._arrange()

    async def _change_light(self) -> None:
        self.rowside.action_change_light()

    async def _zoom(self) -> None:
        self._chart.is_far = not self._chart.is_far
        self._chart.redraw()

    async def _turn_chart(self) -> None:
        self._chart.is_held = self._head.is_held = not self._chart.is_held
        self._chart.redraw()
        self._head.redraw()

    async def _scroll(self, left: int, pages: int) -> None:
        self._chart.scroll_by(left, pages * max(1, self._chart.size.height // 2))

    async def _follow(self) -> None:
        self._chart.looked_at = None
        self._chart.redraw()

    async def _open(self, screen: Screen[None]) -> None:
        await self.app.push_screen_wait(screen)
        self.session = self._knitting.session

    async def _ends(self, only_ready: bool = False) -> None:
        from companion.screens.ends import EndsScreen

        only_ready = only_ready or self._is_offered
        await self._open(EndsScreen(self._knitting, self._terms, self.rowside.settings.shows_by, only_ready))

    async def _sew(self) -> None:
        from companion.screens.sewing import SewingScreen

        if to_sew(self._knitting.session):
            await self._open(SewingScreen(self._knitting, self._terms))
        else:
            self.notice = words.NOTHING_SEWN_ON

    async def _strands(self) -> None:
        from companion.screens.strands import StrandsScreen

        await self._open(StrandsScreen(self._knitting.session, self._terms))

    async def _techniques(self) -> None:
        from companion.screens.techniques import TechniquesScreen

        if not self._knitting.session.is_worked:
            await self._open(TechniquesScreen(self._knitting, self._terms))

    def _trap_as_set(self) -> None:
        """Tails are laid in, or not, as the settings have it."""
        is_on = self.rowside.settings.tails == "trap"
        if self._knitting.is_look_only or is_on == self._knitting.session.is_trapping:
            return
        try:
            self.session = self._knitting.do(TrapTails(is_on))
        except Trouble as reason:
            self.notice = str(reason)

    async def _settings(self) -> None:
        await self._open(self.rowside.settings_screen())
        self._trap_as_set()
        self._speak(self.rowside.terms_for(self._knitting.session.piece))

    def _speak(self, terms: words.Terms) -> None:
        """Say everything in these terms."""
        self._terms = terms
        for part in self.query(Lines):
            part.terms = terms
            part.redraw()

    async def _ask_row(self, question: str, *, may_be_past: bool = False) -> int | None:
        """A row's place in working order, from 1; None when there is none to be told."""
        from companion.screens.asking import AskWords

        rows = self._knitting.session.rows
        kind = "text" if len(rows.fabric.starts) > 1 else "number"
        answer = await self.app.push_screen_wait(AskWords(question, kind=kind))
        try:
            return row_typed(answer, rows, may_be_past=may_be_past) if answer else None
        except Refused as reason:
            self.notice = str(reason)
            return None

    async def _rip_back(self) -> None:
        from companion.screens.asking import AskYes

        session = self._knitting.session
        row = await self._ask_row(words.rip_question(rows_upto(session.rows_done, session.rows)))
        if row is None:
            return
        try:
            undone = would_rip(session, row)
        except Refused as reason:
            self.notice = str(reason)
            return
        told = words.rip_told(
            undone.rows, undone.stitches, undone.on_needle, undone.woven, self._terms,
            from_part=session.rows[session.row].part, to_part=session.rows[row - 1].part if row else "",
        )
        if await self.app.push_screen_wait(AskYes(told, "rip back", "leave it")):
            await self._do(RipBack(row))

    async def _at_row(self) -> None:
        row = await self._ask_row(words.AT_ROW_QUESTION, may_be_past=True)
        if row is not None:
            await self._do(AtRow(row))

    async def _where(self) -> None:
        from companion.screens.whereabouts import tell_where

        await tell_where(self.app, self._knitting.session)

    async def _happened(self) -> None:
        from companion.screens.mishaps import told_after, what_happened

        before = self._knitting.session
        action = await what_happened(self.app, before, self._terms)
        if action is None:
            return
        await self._do(action)
        after = self._knitting.session
        if after is not before:
            self.notice = told_after(action, before, after, self._terms)

    async def _note(self) -> None:
        from companion.screens.asking import AskWords

        session = self._knitting.session
        row = session.row if session.is_at_turn or session.done else 0
        answer = await self.app.push_screen_wait(
            AskWords(words.note_question(session.rows[row]), session.notes.get(row, ""))
        )
        if answer is not None:
            await self._do(Note(row + 1, answer))

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
        offered = offers.on_leaving(session, self.rowside.settings, self._terms)
        if offered and not self._knitting.is_look_only:
            wants_to_see: bool = await self.app.push_screen_wait(AskYes([offered], "show them", "stop here"))
            if wants_to_see:
                await self._ends(only_ready=True)
                return
        if len(self.app.screen_stack) > 1:
            self.dismiss(None)
        else:
            self.app.exit()


