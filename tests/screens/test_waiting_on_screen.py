"""What takes long on the screen: it is named after a while, with a bar, and keys that come meanwhile do nothing."""

from __future__ import annotations

from threading import Event

from at_the_needles import opened, until
from textual.widgets import ProgressBar

from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, Lasting, Reading
from companion.knitting.howfar import HowFar
from companion.screens.waiting import WaitingScreen
from tests.patience import PATIENCE

WHAT = "Drafting [red] the picture ..."


class Draft:
    """Something that takes until it is let go; ``came``: what was sent for it."""

    def __init__(self) -> None:
        self.is_half, self.may_end, self.came = Event(), Event(), list[object]()

    def work(self, told: HowFar) -> object:
        self.is_half.wait(PATIENCE)
        told(0.5)
        self.may_end.wait(PATIENCE)
        return "a chart"

    def asking(self, knitter: Knitter) -> Asking[None]:
        self.came.append((yield Lasting(WHAT, self.work)))
        yield Reading("Drafted", ["It is ready."])


async def test_what_takes_long_is_named_with_a_bar_until_it_is_done() -> None:
    draft = Draft()
    async with opened(draft.asking) as at:
        assert isinstance(at.app.screen, WaitingScreen)
        bar = at.app.screen.query_one(ProgressBar)
        await until(lambda: WHAT in at.text)
        assert bar.percentage is None, "nobody told how far it is"
        await at.press("enter", "q", "escape", "space")
        assert WHAT in at.text
        draft.is_half.set()
        await until(lambda: bar.percentage == 0.5)
        assert draft.came == []
        draft.may_end.set()
        await until(lambda: "It is ready." in at.text)
    assert draft.came == ["a chart"]


async def test_what_does_not_take_long_is_not_seen() -> None:
    draft = Draft()
    draft.is_half.set()
    draft.may_end.set()
    async with opened(draft.asking) as at:
        await until(lambda: bool(draft.came))
        assert WHAT not in at.text
        await until(lambda: "It is ready." in at.text)
