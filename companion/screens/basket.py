"""The work basket: pieces on the needles, plans in the folder, demo plans. Choose one and you are at the stitch."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import ClassVar

from textual.binding import Binding, BindingType

from companion.knitting import words
from companion.progress.actions import Refused
from companion.progress.card import Card
from companion.progress.knitting import utc_now
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble
from companion.screens.asking import AskYes, Reading
from companion.screens.picking import PickingScreen
from companion.screens.starting import CLOSED, open_plan, start_of


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the basket: a piece, or a plan, or a heading that cannot be chosen."""

    line: str
    card: Card | None = None
    plan: Path | None = None


class BasketScreen(PickingScreen):
    """Enter opens what is chosen; n starts a new piece of a plan even where one is on the needles."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "new_piece", "new piece"),
        Binding("l", "app.change_light", "light or dark"),
    ]
    keys = "enter: open   n: new piece of this plan   l: light or dark   q: leave"

    def __init__(
        self, shelf: Shelf, folder: Path, demos: tuple[Path, ...], now: Callable[[], datetime] = utc_now
    ) -> None:
        super().__init__()
        self._now = now
        self._shelf = shelf
        self._folder = folder
        self._demos = demos
        self._items: list[Item] = []

    def fill(self) -> None:
        """Pieces first, then the plans of this folder, then the demo plans; headings cannot be chosen."""
        try:
            cards = self._shelf.cards()
        except Trouble as trouble:
            cards = ()
            self.call_after_refresh(self._tell, str(trouble))
        items = [Item("On the needles")] if cards else []
        items += [Item(f"  {_told(card, self._now())}", card) for card in cards]
        for heading, plans in (("Plans in this folder", plans_in(self._folder)), ("Demo plans", self._demos)):
            if plans:
                items += [Item(heading), *(Item(f"  {plan.stem}", plan=plan) for plan in plans)]
        self._items = items
        self.put("Rowside: the work basket", [item.line for item in items])
        choices = [i for i, item in enumerate(items) if item.card or item.plan]
        for heading_at in set(range(len(items))).difference(choices):
            self.options.disable_option_at_index(heading_at)
        if choices and self.options.highlighted not in choices:
            self.options.highlighted = choices[0]

    def _tell(self, text: str) -> None:
        self.app.push_screen(Reading("Trouble", [text]))

    async def _set_aside(self, card: Card) -> None:
        """A damaged piece is kept under another name, if the knitter wants that, to make room for a copy."""
        told = [card.trouble, "Keep it under another name, so that the copy can take its place?"]
        if not await self.app.push_screen_wait(AskYes(told, "keep it aside", "leave it")):
            return
        try:
            self._tell(f'It is kept as "{self._shelf.set_aside(card.name)}".')
        except (Refused, Trouble) as error:
            self._tell(str(error))

    def choose(self, at: int) -> None:
        """Open what was chosen."""
        self.ask(partial(self._open, self._items[at], is_new=False))

    def action_new_piece(self) -> None:
        """A new piece of the plan under the highlight."""
        if (at := self.options.highlighted) is not None:
            self.ask(partial(self._open, self._items[at], is_new=True))

    async def _open(self, item: Item, is_new: bool) -> None:
        card = None if is_new else item.card
        plan = item.plan or (Path(item.card.plan_path) if item.card else None)
        if card and card.state == "damaged":
            await self._set_aside(card)
        elif card and card.state in CLOSED:
            self._tell(card.trouble)
        elif plan:
            app, name = self.rowside, card.name if card else None
            await open_plan(app, self._shelf, plan, start_of(app), name, is_new=is_new)
        self.fill()


def plans_in(folder: Path) -> tuple[Path, ...]:
    """Files in a folder that look like plans: YAML whose first lines say which version of plan they are."""
    try:
        found = sorted(path for path in folder.iterdir() if path.suffix in (".yaml", ".yml"))
    except OSError:
        return ()
    return tuple(path for path in found[:500] if _looks_like_plan(path))


def _looks_like_plan(path: Path) -> bool:
    try:
        if not path.is_file():
            return False
        with path.open("rb") as file:
            start = file.read(4096)
    except OSError:
        return False
    return any(line.startswith(b"plan:") for line in start.splitlines())


def _told(card: Card, now: datetime) -> str:
    """One piece in one line."""
    if card.state in CLOSED:
        return f"{card.name}: {card.state}"
    told = words.card_line(*card.told)
    if card.ready_ends:
        told += f", ends ready: {card.ready_ends}"
    if card.worked_at is not None:
        told += f", {words.days_ago((now.date() - card.worked_at.date()).days)}"
    return told
