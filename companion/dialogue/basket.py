"""The work basket: pieces on the needles, plans in the folder, demo plans. Choose one and you are at the stitch."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import CLOSED, Start, look, look_at_fabric, open_plan, pieces_of
from companion.dialogue.questions import Asking, Choice, Reading, Words, YesNo, show
from companion.dialogue.table import Cell, Column, Row, Table
from companion.knitting import words
from companion.knitting.value import Record
from companion.plan.demo import TOLD, demo_plans
from companion.problems import Problems, count_of, quoted
from companion.progress.actions import Refused
from companion.progress.card import Card
from companion.progress.knitting import utc_now
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.progress.pace import Forecast

_NEWEST = "Just written"
ON_THE_NEEDLES, NOT_BEGUN = "On the needles", words.OPENED.rstrip(":")

_COLUMNS = (
    Column("Piece", least=14), Column("State", yields=1), Column("Rows", is_number=True),
    Column("Ends ready", "ready", is_number=True, yields=2), Column("Worked", yields=4),
    Column("Left", yields=3),
)  # fmt: skip


class _Looked(Record):
    """What is known of a piece once it was looked into: where it is in its row, and how long the rest takes."""

    in_row: str = ""
    forecast: Forecast | None = None


class Item(Record):
    """A line of the basket: a piece, or a plan, or a heading that cannot be chosen, for which it has a title."""

    title: str
    card: Card | None = None
    plan: Path | None = None


class BasketList(Listing):
    """Pieces first, then the plans of this folder, then the demo plans."""

    where: ClassVar[Where] = "basket"
    verbs = {"choose": "open", "leave": "leave"}

    def __init__(
        self, knitter: Knitter, shelf: Shelf, folder: Path, demos: tuple[Path, ...],
        now: Callable[[], datetime] = utc_now,
    ) -> None:
        super().__init__()
        self.knitter = knitter
        self._now = now
        self._shelf = shelf
        self._folder = folder
        self._demos = demos
        self._items: list[Item] = []
        self._looked: dict[Card, _Looked] = {}
        self._amiss: dict[Path, tuple[str, int]] = {}
        self.newest: Path | None = None

    def take_up_settings(self) -> None:
        """Nothing of it stands here."""

    def fill(self) -> None:
        """Each under its heading."""
        self.trouble, cards = "", tuple[Card, ...]()
        try:
            cards = self._shelf.cards()
        except Trouble as trouble:
            self.trouble = str(trouble)
        items = list[Item]()
        opened = [card for card in cards if card.state == "not begun"]
        for heading, found in ((ON_THE_NEEDLES, [card for card in cards if card not in opened]), (NOT_BEGUN, opened)):
            if found:
                items += [Item(heading), *(Item(card.name, card) for card in found)]
        newest = [plan for plan in (self.newest,) if plan and not any(Path(card.plan_path) == plan for card in cards)]
        if newest:
            items = [Item(_NEWEST), *(Item(plan.stem, plan=plan) for plan in newest), *items]
        here = tuple(plan for plan in plans_in(self._folder) if plan not in newest)
        for heading, plans in (("Plans in this folder", here), ("Demo plans", self._demos)):
            if plans:
                items += [Item(heading), *(Item(plan.stem, plan=plan) for plan in plans)]
        self._items = items
        self.title = "Rowside: the work basket"
        self._put()

    def _put(self) -> None:
        self.put(Table(_COLUMNS, [self._row(item) for item in self._items]))

    @property
    def is_slow(self) -> bool:
        """Of some pieces it is not known yet how long the rest takes, of some plans not whether they can be knitted:
        for that they are looked into, one by one."""
        return bool(self._unknown or self._unread)

    @property
    def _unknown(self) -> list[Card]:
        cards = [item.card for item in self._items if item.card and item.card.state == "on the needles"]
        return [card for card in cards if card not in self._looked]

    @property
    def _unread(self) -> list[Path]:
        plans = [item.plan for item in self._items if item.plan and item.plan not in self._demos]
        return [plan for plan in plans if self._amiss.get(plan, ("", 0))[1] != _changed(plan)]

    def work_out(self, is_left: Callable[[], bool]) -> None:
        """Where each is in its row, and how long the rest of it takes, from its journal; what is wrong in plans."""
        for card in self._unknown:
            if is_left():
                return
            self._looked[card] = _Looked()
            with suppress(Refused, Trouble):
                found = self._shelf.resume(card.name, look_only=True)
                session = found.session
                in_row = words.in_row(session.rows[session.at.row], session.runs_done)
                self._looked[card] = _Looked(in_row, found.forecast)
        for plan in self._unread:
            if is_left():
                return
            self._amiss[plan] = _amiss_in(plan), _changed(plan)
        self._put()

    def _row(self, item: Item) -> Row:
        """A line of the table."""
        if (card := item.card) is None:
            return self._plan(item.plan) if item.plan else item.title
        state = Cell(words.card_state(card.state, card.ends_left, card.areas_left))
        if card.state in CLOSED:
            return Cell(card.name), state
        ready = str(card.ready_ends) if card.ready_ends else ""
        rows = f"{card.rows_done} of {card.rows}"
        in_row, worked = self._looked.get(card, _Looked()).in_row, Cell(card.worked_when(self._now()))
        far = Cell(f"{rows}; {in_row}" if in_row else rows, rows)
        return Cell(card.name), state, far, Cell(ready), worked, Cell(self._time_left(card))

    def _plan(self, plan: Path) -> Row:
        """A plan, and what it is where that is known, or that something in it is to be mended."""
        about = TOLD.get(plan.stem, "") if plan in self._demos else self._amiss.get(plan, ("", 0))[0]
        return Cell(plan.stem), Cell(about)

    def _time_left(self, card: Card) -> str:
        """How long the rest takes; "" where that is not known."""
        from companion.knitting.words.pace import about_time

        forecast = self._looked.get(card, _Looked()).forecast
        return about_time(forecast.piece) if forecast else ""

    def in_full(self) -> str:
        """How far it is."""
        if self.meant is None or (card := self._items[self.meant].card) is None:
            return super().in_full()
        left = f"{time} left" if (time := self._time_left(card)) else ""
        in_row = self._looked.get(card, _Looked()).in_row
        return ", ".join(filter(None, (card.told_in_full(self._now(), in_row), left)))

    def choose(self) -> Asking[None]:
        """Open what was chosen."""
        return self._open(is_new=False)

    def new_piece(self) -> Asking[None] | None:
        """A new piece of the plan that is meant, even where one is on the needles."""
        return None if self.meant is None else self._begin_new(self._items[self.meant])

    def make(self) -> Asking[None]:
        """A plan of her own, by questions; it stands first, and what comes next is offered."""
        from companion.dialogue.new.piece import new_plan, what_next

        plan = yield from new_plan(self.knitter, self._folder)
        if plan is not None:
            self.show_newest(plan)
            yield from what_next(self.knitter, self._shelf, plan)

    def show_newest(self, plan: Path) -> None:
        """A plan that was written just now stands first, and is the one that is meant."""
        self.newest, self.go_to = plan, 1

    def _begin_new(self, item: Item) -> Asking[None]:
        plan = Path(item.card.plan_path) if item.card else item.plan
        others = pieces_of(self._shelf, plan) if plan else ()
        names = ", ".join(quoted(card.name) for card in others)
        asked = (f"On the needles from this plan: {names}. Begin another piece of it?",)
        if not others or (yield YesNo(asked, "begin another", "leave it")):
            yield from self._open(is_new=True)

    def look(self) -> Asking[None] | None:
        """The chart of what is meant; nothing is begun."""
        return self._seen_by(look)

    def picture(self) -> Asking[None] | None:
        """The fabric of what is meant; nothing is begun."""
        return self._seen_by(look_at_fabric)

    def draw(self) -> Asking[None] | None:
        """The plan of what is meant on the drawing board; of a demo plan a copy, if the knitter wants that."""
        from companion.dialogue.at_the_board import draw

        item = self._item
        plan = item and (item.plan or (Path(item.card.plan_path) if item.card else None))
        return draw(self.knitter, plan, self._folder) if plan else None

    def _seen_by(self, look: Callable[[Knitter, Shelf, Path, str | None], Asking[None]]) -> Asking[None] | None:
        item = self._item
        if item is None or (item.card and item.card.state in CLOSED):
            return None
        return look(self.knitter, self._shelf, item.plan or Path(), item.card.name if item.card else None)

    def rename(self) -> Asking[None]:
        """Another name for the piece that is meant."""
        card = self._card
        if card is None or card.state in CLOSED:
            return
        name = yield Words("What is this piece called from now on?", card.name)
        if name is not None and name != card.name:
            self.try_to(lambda: self._shelf.rename(card.name, name))

    def remove(self) -> Asking[None]:
        """The piece that is meant is put away, if the knitter wants that."""
        if (card := self._card) is None:
            return
        kept = f"Its file is kept in {self._shelf.removed.folder}, and it can be brought back from there."
        if not (yield YesNo((f"Put {quoted(card.name)} away?", kept), "put it away", "leave it")):
            return
        if self.try_to(lambda: self._shelf.remove(card.name)):
            self.said = f"{quoted(card.name)} is put away."

    def bring_back(self) -> Asking[None]:
        """A piece that was put away comes back."""
        self.said = ""
        try:
            removed = self._shelf.removed.listed()
        except Trouble as trouble:
            self.said = str(trouble)
            return
        if not removed:
            self.said = "No piece was put away."
            return
        at = yield Choice(("Which piece comes back?",), tuple(card.told_in_full(self._now()) for card, _ in removed))
        if at is not None:
            back = list[str]()
            if self.try_to(lambda: back.append(self._shelf.bring_back(removed[at][1]))):
                self.said = f"{quoted(back[0])} is back."

    @property
    def _item(self) -> Item | None:
        return None if self.meant is None else self._items[self.meant]

    @property
    def _card(self) -> Card | None:
        """The piece that is meant."""
        return self._item.card if self._item else None

    def _open(self, *, is_new: bool) -> Asking[None]:
        assert self.meant is not None
        item = self._items[self.meant]
        card = None if is_new else item.card
        plan = item.plan or (Path(item.card.plan_path) if item.card else None)
        if card and card.state == "damaged":
            yield from self._set_aside(card)
        elif card and card.state in CLOSED:
            yield Reading("Trouble", [card.trouble])
        elif plan:
            start = Start(is_mirrored=self.knitter.is_mirrored)
            name = card.name if card else None
            yield from open_plan(self.knitter, self._shelf, plan, start, name, is_new=is_new)

    def _set_aside(self, card: Card) -> Asking[None]:
        """A damaged piece is kept under another name, if the knitter wants that, to make room for a copy."""
        asked = (card.trouble, "Keep it under another name, so that the copy can take its place?")
        if not (yield YesNo(asked, "keep it aside", "leave it")):
            return
        try:
            said = f'It is kept as "{self._shelf.set_aside(card.name)}".'
        except (Refused, Trouble) as error:
            said = str(error)
        yield Reading("Trouble", [said])


def new_here(knitter: Knitter, shelf: Shelf, file: str = "") -> Asking[None]:
    """A plan by questions, what is done with it, and then the basket. ``file``: the name that stands there for it."""
    from companion.dialogue.new.piece import new_plan, what_next

    plan = yield from new_plan(knitter, Path.cwd(), file)
    if plan is not None:
        yield from what_next(knitter, shelf, plan)
        basket = BasketList(knitter, shelf, Path.cwd(), demo_plans())
        basket.show_newest(plan)
        yield basket


def basket_here(knitter: Knitter, shelf: Shelf) -> Asking[None]:
    """The work basket with the plans of the folder one is in."""
    return show(BasketList(knitter, shelf, Path.cwd(), demo_plans()))


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
    keys = {line.partition(b":")[0] for line in start.splitlines()}
    return b"plan" in keys and b"class" not in keys  # a class names its plan


def _changed(plan: Path) -> int:
    """When it was written last; -1 where it is gone."""
    try:
        return plan.stat().st_mtime_ns
    except OSError:
        return -1


def _amiss_in(plan: Path) -> str:
    """How much is to mend in a plan before it can be knitted; "" where nothing is."""
    from companion.plan.read import load

    try:
        load(plan)
    except Problems as found:
        return count_of(found.problems)
    return ""
