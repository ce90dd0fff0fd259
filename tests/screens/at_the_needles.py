"""The app as a knitter sees it: opened on a real shelf at a position, keys pressed, what is painted read back."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import textual.app
import textual.pilot
from textual.pilot import Pilot
from textual.widgets import OptionList

from companion.dialogue.opening import open_plan
from companion.plan.read import load
from companion.progress.actions import Action, AtRow, On
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from companion.screens.app import First, RowsideApp
from companion.screens.knitting import KnittingScreen
from tests.patience import NAP, Patience
from tests.screens.settled import settled

PLANS = Path(__file__).resolve().parents[2] / "plans"
SWATCH = PLANS / "swatch.yaml"
MAT = PLANS / "mooring-mat.yaml"
CUSHION = PLANS / "harbour-light-cushion.yaml"
JUMPER = PLANS / "ferry-jumper-front.yaml"
COWL = PLANS / "breakwater-cowl.yaml"
SIZES = ((40, 15), (60, 20), (80, 24), (120, 40), (200, 60))

textual.app.wait_for_idle = textual.pilot.wait_for_idle = settled

_FRAMES = dict.fromkeys(map(ord, "│┌┐└┘─▔▁▊▎"), " ")

EVENING = datetime(2031, 3, 1, 18, 0, tzinfo=UTC)


def evening() -> datetime:
    """A clock that stands still."""
    return EVENING


def shelf(tmp_path: Path) -> Shelf:
    """The shelf of this test."""
    return Shelf(tmp_path / "pieces", evening)


def begun(tmp_path: Path, plan: Path = SWATCH, row: int = 1, runs: int = 0, name: str | None = None) -> str:
    """A piece of the plan with everything below row ``row`` and the first ``runs`` runs of it worked; its name."""
    with shelf(tmp_path).start(load(plan), plan, name) as knitting:
        work(knitting, *([AtRow(row)] if row > 1 else []), *[On()] * runs)
        return knitting.name


def work(knitting: Knitting, *actions: Action) -> None:
    """Do these one after the other."""
    for action in actions:
        knitting.do(action)


def on_disk(tmp_path: Path, name: str = "Harbour practice swatch") -> Session:
    """The piece as the disk has it."""
    return shelf(tmp_path).resume(name, look_only=True).session


def where(session: Session) -> tuple[int, int]:
    """Row number and runs done of it."""
    return session.row + 1, session.done


@dataclass
class At:
    """A running app."""

    app: RowsideApp
    pilot: Pilot[None]

    async def press(self, *keys: str) -> None:
        """Press keys and wait until all of them are done and painted."""
        await self.pilot.press(*keys)
        screen = self.app.screen
        if isinstance(screen, KnittingScreen):
            await until(screen._waiting.empty)
        await self.pilot.pause()

    @property
    def lines(self) -> list[str]:
        """The lines of the terminal as they are now."""
        return painted(self.app)

    @property
    def text(self) -> str:
        """All that is on the terminal without its frames, lines joined and spaces made one; where a question stands
        over a part of it, that question."""
        lines = self.lines
        for box in self.app.screen.query(".question"):
            x, y, width, height = box.region
            lines = [line[x:x + width] for line in lines[y:y + height]]
        return " ".join(" ".join(lines).translate(_FRAMES).split())

    @property
    def letters(self) -> str:
        """The same without any space, for words that are broken at the end of a line."""
        return self.text.replace(" ", "")

    def part(self, name: str) -> str:
        """What one part of the working screen shows; "" where it is not shown."""
        widget = self.app.screen.query_one(f"#{name}")
        if not widget.display:
            return ""
        x, y, width, height = widget.region
        strips = self.app.screen._compositor.render_strips()[y:y + height]
        return " ".join(" ".join(strip.crop(x, x + width).text for strip in strips).split())

    async def type(self, text: str) -> None:
        """Type into the question that stands open, and answer."""
        await self.press(*text, "enter")

    async def choose(self, start: str) -> None:
        """Choose the line of a list that begins with these words."""
        options = self.app.screen.query_one(OptionList)
        prompts = [str(option.prompt).strip() for option in options.options]
        options.highlighted = next(i for i, prompt in enumerate(prompts) if prompt.startswith(start))
        await self.press("enter")


def painted(app: RowsideApp) -> list[str]:
    """The lines of the terminal."""
    return [strip.text for strip in app.screen._compositor.render_strips()]


@asynccontextmanager
async def opened(first: First, size: tuple[int, int] = (80, 24)) -> AsyncIterator[At]:
    """The app with what it opens first."""
    app = RowsideApp(first)
    async with app.run_test(size=size) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        await pilot.pause()
        yield At(app, pilot)
        app.exit()


@asynccontextmanager
async def at_the_needles(
    tmp_path: Path, plan: Path = SWATCH, row: int = 1, runs: int = 0, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[At]:
    """The working screen of a piece of the plan, at a position."""
    begun(tmp_path, plan, row, runs)
    async with reopened(tmp_path, plan, size) as at:
        yield at


@asynccontextmanager
async def reopened(tmp_path: Path, plan: Path = SWATCH, size: tuple[int, int] = (80, 24)) -> AsyncIterator[At]:
    """The working screen of a plan whose piece may be on the shelf."""
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=plan), size) as at:
        yield at


async def until(true: Callable[[], bool]) -> None:
    """Wait until something is so."""
    patience = Patience()
    while not true():
        assert not patience.is_over, "waited in vain"
        await asyncio.sleep(NAP)
