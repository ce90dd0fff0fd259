"""Keys at the working screen: they go through one queue, and the next is taken only when the one before is painted.

n keys are n steps, each of them seen, even when they arrive all at once. Those that come after a key that asks
something are for what it asks.
"""

from __future__ import annotations

import asyncio

from textual import events

from companion.dialogue.deeds import by_key
from companion.dialogue.sitting import Sitting
from companion.screens.lines import Lines
from companion.screens.rowside import Answering, carry_out

FORESEES_AFTER = 0.02
"""Seconds from one key's paint until what the next will show is worked out: then its last byte is written."""


class OneByOne(Answering[None]):
    """Carries out what the keys mean at a ``sitting``, one after the other. ``parts``: what a step is painted in;
    ``is_taking_turn``: a key is carried out, or painted."""

    parts: tuple[Lines, ...] = ()

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting
        self.is_taking_turn = False
        self._waiting: asyncio.Queue[str | events.Key] = asyncio.Queue()

    @property
    def is_notice_cut(self) -> bool:
        """Whether not all that must be said once is shown."""
        raise NotImplementedError(f"{type(self).__name__} shows no notice")

    def foresee(self) -> None:
        """Work out what the next step will show."""
        raise NotImplementedError(f"{type(self).__name__} foresees nothing")

    def action_deed(self, name: str) -> None:
        """A deed was clicked, or found: it takes its turn."""
        self._waiting.put_nowait(name)

    def on_key(self, event: events.Key) -> None:
        """A key takes its turn, too. One that does nothing here may be meant for what is being opened."""
        is_busy = self.is_taking_turn or not self._waiting.empty()
        deed = self._deed_of(event)
        if deed and not self.sitting.counts(deed, event.time):
            event.stop()
            event.prevent_default()
        elif deed or (is_busy and not event.key.startswith("ctrl+")):
            event.stop()
            event.prevent_default()
            if self.is_active:
                self._waiting.put_nowait(event)
            else:
                self._pass_on(event)

    def _deed_of(self, event: events.Key) -> str:
        """What a key does here, by name; "" = nothing."""
        return by_key("work", self.sitting.knitter.deeds).get(event.key, "")

    def on_screen_suspend(self) -> None:
        """Another screen is opened: keys that came before it was there are meant for it."""
        while not self._waiting.empty():
            if isinstance(key := self._waiting.get_nowait(), events.Key):
                self._pass_on(key)

    def _pass_on(self, key: events.Key) -> None:
        """To the screen that is opened over this one; where this one was left, to nobody."""
        if self in self.app.screen_stack:
            self.rowside.keep(key)

    async def take_turns(self) -> None:
        """One key after the other, each painted before the next.

        A part that is still busy with its own beginnings would paint the first key's step late, maybe together
        with the second's: the first key waits for all of them, and so does the second.
        """
        await self._parts_are_painted()
        is_first = True
        while True:
            self.is_taking_turn = False
            asyncio.get_running_loop().call_later(FORESEES_AFTER, self._while_nothing_waits)
            waited = await self._waiting.get()
            name = waited if isinstance(waited, str) else self._deed_of(waited)
            if not name:
                continue
            self.is_taking_turn = True
            self.sitting.is_cut = self.is_notice_cut
            await carry_out(self.rowside.deed(name).begin(self.sitting), self.answer)
            self.show()
            self.rowside.let_go()
            if is_first:
                await self._parts_are_painted()
                is_first = False
            painted = asyncio.Event()
            self.call_after_refresh(painted.set)
            await painted.wait()

    def _while_nothing_waits(self) -> None:
        if self.is_active and not self.is_taking_turn and self._waiting.empty():
            self.foresee()

    async def _parts_are_painted(self) -> None:
        for part in self.parts:
            await part.wait_for_refresh()
