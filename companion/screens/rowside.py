"""What the app is to its screens, and what its screens have in common: how a deed is done and asks what it must."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping, Sequence
from functools import partial
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, ClassVar, cast

from textual import events
from textual.await_complete import AwaitComplete
from textual.filter import LineFilter
from textual.reactive import Reactive
from textual.screen import Screen, ScreenResultType
from textual.theme import Theme

from companion.dialogue.deed import Deed, Where
from companion.dialogue.deeds import by_name
from companion.dialogue.keys import KeyTold, keys_of
from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, Find, Leave, Request
from companion.screens.clicks import Clicks
from companion.screens.themes import FEW_COLOURS, THEMES, SixteenColours
from companion.screens.whole_pictures import WholePictures
from companion.settings import Settings

if TYPE_CHECKING:
    from companion.dialogue.finding import Finding

_THEMES = dict(THEMES)
"""As the app wants them; it asks some ninety times a key."""

_FEW = SixteenColours()
"""Always the same one, so that what it made of a line is known again."""

ASKING = "asking"
"""The workers that wait for a question's answer."""


async def carry_out(
    asking: Asking[object], answer: Callable[[Request], Awaitable[object]], request: Request | None = None
) -> None:
    """Answer all that is asked, from ``request`` on where that is asked already. What holds something open lets go of
    it, whatever ends the asking."""
    try:
        answered = None if request is None else await answer(request)
        while True:
            answered = await answer(asking.send(answered))
    except StopIteration:
        return
    finally:
        asking.close()


class Rowside(WholePictures):
    """``knitter``: whose settings and keys it follows."""

    theme: Reactive[str] = Reactive("dark")

    def __init__(self, knitter: Knitter) -> None:
        super().__init__()
        self.knitter = knitter
        self.clicks = Clicks()
        self._deeds: tuple[Deed, ...] = ()
        self._kept: list[events.Key] = []

    async def on_event(self, event: events.Event) -> None:
        """A key that comes while a screen is on its way is kept for it; so are all that come after one that is."""
        if isinstance(event, events.Key) and not event.is_forwarded and (self._kept or self._is_on_its_way):
            self.keep(event)
        else:
            await super().on_event(event)

    @property
    def _is_on_its_way(self) -> bool:
        """What is asked over the working screen is not there yet."""
        below, top = [None, None, *self.screen_stack][-2:]
        is_over_work = isinstance(below, Answering) and below.where in ("work", "drawing")
        return is_over_work and isinstance(top, Answering) and not top.takes_keys

    def keep(self, key: events.Key) -> None:
        """Keep a key for the screen that is on its way; where none is any more, it is for the one that is there."""
        self._kept.append(key)
        if not self._is_on_its_way:
            self.call_later(self.hand_on)

    async def hand_on(self) -> None:
        """The screen is there: it gets the keys that were kept for it, in their order and before all others."""
        kept, self._kept = self._kept, []
        for key in kept:
            await super().on_event(events.Key(key.key, key.character))

    @property
    def settings(self) -> Settings:
        """The knitter's settings."""
        return self.knitter.settings

    def deed(self, name: str) -> Deed:
        """The deed of this name, with the knitter's keys."""
        return by_name(self.knitter.deeds)[name]

    def take_up(self) -> None:
        """The light that the knitter wants, and her keys."""
        self.theme = self.knitter.light
        if self._deeds is not self.knitter.deeds:
            self._deeds, own = self.knitter.deeds, self.settings.keys
            self.set_keymap({deed.name: ",".join(deed.keys) for deed in self._deeds if deed.name in own})
            for screen in self.screen_stack:
                for line in screen.query("KeyLine"):
                    line.refresh(layout=True)

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Our own alone."""
        return _THEMES

    def get_line_filters(self) -> Sequence[LineFilter]:
        """What is done to every line before it is painted."""
        few = [_FEW] if self.console.color_system in FEW_COLOURS else []
        return [*super().get_line_filters(), *few]

    async def answer(self, request: Request) -> Any:
        """Show what is asked for until it is answered or left."""
        from companion.screens.requests import screen_for

        screen = screen_for(request)
        if not (isinstance(screen, Answering) and screen.stands_at_foot):
            self.let_go()
        return await self.push_screen_wait(screen)


class Answering(Screen[ScreenResultType]):
    """Left once: its first answer counts, and keys that come with it are ignored. ``lines--...``: how ``Lines`` are
    shown. ``where`` it is in the table of deeds; ``here`` is what they are done to."""

    COMPONENT_CLASSES = {"lines--strong", "lines--quiet", "lines--now", "lines--done", "lines--alert"}
    where: Where = "work"
    here: object = None
    verbs: Mapping[str, str] = MappingProxyType({})
    """What some of its deeds are called here."""
    is_there = False
    """Its parts are there: what is pressed from then on can be meant for it."""
    takes_keys = False
    """It is painted, and what keys go to first has them."""
    stands_at_foot: ClassVar[bool] = False
    """It asks at the foot of the screen below, which makes room for it."""

    @property
    def rowside(self) -> Rowside:
        """The app; there is no other one."""
        return cast(Rowside, self.app)

    def keys(self) -> Sequence[KeyTold]:
        """The keys of the place."""
        return keys_of(self.where, self.rowside.knitter.deeds, self.verbs)

    def deed(self, name: str) -> Deed:
        """The deed of this name, with the knitter's keys."""
        return self.rowside.deed(name)

    def is_meant(self, event: events.Click) -> bool:
        """Whether a click counts."""
        return self.rowside.clicks.counts(event.time, event.screen_x, event.screen_y)

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """Leave with this answer. A screen that is left already, or lies below another one, stays as it is: left
        now, it would take another screen with it."""
        return super().dismiss(result) if self.is_active else AwaitComplete()

    def _on_mount(self, event: events.Mount) -> None:
        """Its parts are there."""
        self.is_there = True
        self.call_after_refresh(self._take_keys)

    def _take_keys(self) -> None:
        self.takes_keys = True
        self.rowside.call_later(self.rowside.hand_on)

    def action_deed(self, name: str) -> None:
        """A key was pressed, or a deed chosen by its name."""
        if not self.is_active or not self.is_there:
            return
        asking = self.deed(name).begin(self.here)
        request = next(asking, None)
        if request is None:
            self.show()
        elif self.do_at_once(request):
            asking.close()
        else:
            self.ask(partial(self._go_on, asking, request))

    async def _go_on(self, asking: Asking[object], request: Request | None = None) -> None:
        await carry_out(asking, self.answer, request)
        self.show()
        self.rowside.let_go()

    async def answer(self, request: Request) -> Any:
        """What comes back for a request."""
        return None if self.do_at_once(request) else await self.rowside.answer(request)

    def do_at_once(self, request: Request) -> bool:
        """Whether it was for this screen, and is done."""
        match request:
            case Leave(answer):
                self.dismiss(cast(ScreenResultType, answer))
            case Find():
                self.ask(self.find)
            case _:
                return False
        return True

    async def find(self) -> None:
        """Have one of the deeds of this place looked for, and do it."""
        if self.where == "finding":
            return
        if (name := await self.rowside.answer(self.finding())) is not None:
            await self.do_found(name)

    def finding(self) -> Finding:
        """All that can be done here, to find one of it."""
        from companion.dialogue.finding import Finding

        return Finding(self.where, self.rowside.knitter.deeds)

    async def do_found(self, name: str) -> None:
        """Do a deed that was looked for."""
        await self._go_on(self.deed(name).begin(self.here))

    def show(self) -> None:
        """Something was done: show what is so now."""
        self.rowside.take_up()

    def ask(self, asking: Callable[[], Awaitable[Any]]) -> None:
        """Ask something over this screen, unless something is asked already."""
        if not self.is_asking:
            self.run_worker(asking, group=ASKING)

    @property
    def is_asking(self) -> bool:
        """Something is asked, or about to be."""
        return any(not one.is_finished for one in self.workers if one.node is self and one.group == ASKING)
