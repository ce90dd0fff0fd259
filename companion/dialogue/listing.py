"""A list to pick from: a title, a table of lines, what is told of one of them, and what choosing it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.questions import Asking
from companion.dialogue.table import Cell, Table
from companion.progress.actions import Refused
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.dialogue.sitting import Sitting


def ticking(sitting: Sitting, done: str) -> Mapping[str, str]:
    """What the keys that tick a line off are called; nothing where one may only look."""
    word = "" if sitting.knitting.is_look_only else f"{done}, or not"
    return {"choose": word, "tick": word}


class Listing:
    """``at`` is the line that is meant, as the front end has it (None: there is none); ``go_to``: the one that it is
    to have from now on. ``said`` is why something
    could not be done, until the next thing is done; ``trouble`` is to be read before anything else.

    ``where`` its deeds are in the table; ``verbs``: what some of them are called here.
    """

    where: ClassVar[Where]
    verbs: Mapping[str, str] = MappingProxyType({})

    def __init__(self) -> None:
        self.title = self.said = self.trouble = ""
        self.table = Table()
        self.at: int | None = None
        self.go_to: int | None = None
        self._sorted_by: int | None = None
        self._order: list[int] = []

    @property
    def heading(self) -> str:
        """What stands above the lines."""
        return self.said or self.title

    @property
    def meant(self) -> int | None:
        """The line that is meant, counted as ``put`` was given them; None where there is none to choose."""
        if self.at is None or self.at >= len(self._order) or self.table.is_heading(self.at):
            return None
        return self._order[self.at]

    def fill(self) -> None:
        """Put title and lines in."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing")

    def put(self, table: Table) -> None:
        """These are the lines; they are shown in the order that was asked for."""
        self._order = table.order(self._sorted_by)
        self.table = table._replace(rows=tuple(table.rows[at] for at in self._order), sorted_by=self._sorted_by)

    def sort(self) -> None:
        """By the next column that sorts; after the last one as they are."""
        columns = [at for at, column in enumerate(self.table.columns) if column.order]
        ways: list[int | None] = [None, *columns]
        self._sorted_by = ways[(ways.index(self._sorted_by) + 1) % len(ways)]
        self.said = ""

    def in_full(self) -> str:
        """The line that is meant in full, in one sentence; "" where there is none."""
        if self.meant is None or self.at is None:
            return ""
        return ", ".join(cell.text for cell in self.table.rows[self.at] if isinstance(cell, Cell) and cell.text)

    @property
    def is_slow(self) -> bool:
        """Something that takes time is still to be worked out; what is known before that stands there."""
        return False

    def work_out(self, is_left: Callable[[], bool]) -> None:
        """What takes time, until it is done or the list is left."""

    def about(self) -> list[str]:
        """What is told of the line that is meant."""
        return []

    def choose(self) -> Asking[None] | None:
        """The line that is meant was chosen."""
        raise NotImplementedError(f"{type(self).__name__} lists nothing to choose")

    def try_to(self, do: Callable[[], object]) -> bool:
        """Whether something that may not be possible was done; why it was not is said."""
        self.said = ""
        try:
            do()
        except (Refused, Trouble) as reason:
            self.said = str(reason)
        return not self.said
