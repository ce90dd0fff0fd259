"""Wrong stitches of one row, named by row and stitch, or looked for stitch by stitch."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from companion.dialogue.deed import Deed, Where
from companion.dialogue.marking import Marking
from companion.knitting import words
from companion.knitting.cloth.areas import Cell, stitch_number
from companion.lines.commands import Command
from companion.lines.place import Place
from companion.progress.actions import Refused
from companion.progress.mishaps import is_worked
from companion.progress.typed import row_named, row_typed

if TYPE_CHECKING:
    from companion.lines.conversation import Conversation

_NAMED = re.compile(r"((?:(?:left|right) +)?[0-9]{1,9}) +([0-9]{1,9}(?:-[0-9]{1,9})?(?:,[0-9]{1,9}(?:-[0-9]{1,9})?)*)"
                    r"(?: +(.*))?", re.IGNORECASE)


class MarkingPlace(Place):
    """Stitches are counted from the right edge, as one sees the right side."""

    where: Where = "marking"

    def __init__(self, conversation: Conversation, marking: Marking) -> None:
        super().__init__(conversation, marking)
        self.marking = marking

    def begin(self) -> None:
        """How they are named."""
        noun = words.rows_noun(self.marking.session.rows)
        how = f"Type the {noun} and its stitches from the right, such as 12 3,4 or 12 5-8."
        self.talk.ask(words.mark_wrong(self.marking.session.rows), how, f"Enter: {self._here}.")

    def after(self, deed: Deed) -> None:
        """Where one is, and whether it is marked."""
        self.talk.say(f"{self._here}.")

    def obey(self, command: Command, rest: str) -> None:
        """None is of marking alone."""

    def take(self, line: str) -> None:
        """Row and stitches, or a step on the fabric."""
        found = _NAMED.fullmatch(re.sub(r" *([,-]) *", r"\1", " ".join(line.split())))
        if found is None:
            super().take(line)
            return
        try:
            row, columns = self._named(found[1], found[2])
        except Refused as reason:
            self.talk.ask_again(str(reason))
            return
        self.talk.waiting = found[3] or ""
        self.marking.at, self.marking.columns = Cell(row, min(columns)), columns
        self.leave(self.marking.answer)

    def _named(self, row_words: str, stitches: str) -> tuple[int, frozenset[int]]:
        """The row, from 0, and the columns of the stitches.

        Raises:
            Refused: one of them is not worked.
        """
        session = self.marking.session
        row = row_typed(row_words, session.rows, may_be_past=False) - 1
        worked = [
            column for column in range(1, session.piece.fabric.columns + 1) if is_worked(session, row, column)
        ]
        columns = {stitch_number(session.piece.fabric, Cell(row, column)): column for column in worked}
        wanted = set[int]()
        for span in stitches.split(","):
            first, _, last = span.partition("-")
            if int(last or first) - int(first) > len(columns):
                raise Refused(f"That row has {words.stitches_in_full(len(columns))} that are worked.")
            wanted |= set(range(int(first), int(last or first) + 1))
        missing = sorted(wanted - set(columns))
        if missing or not wanted:
            which = f"stitch {missing[0]}" if missing else "stitch"
            noun = words.sentence(words.rows_noun(session.rows))
            raise Refused(f"{noun} {row_words} has no {which} that is worked.")
        return row, frozenset(columns[number] for number in wanted)

    @property
    def _here(self) -> str:
        session, cell = self.marking.session, self.marking.at
        number = stitch_number(session.piece.fabric, cell)
        stitch = session.rows[cell.row].stitch_at(cell.column)
        yarn = f", {stitch.yarn}" if stitch else ""
        wrong = ", marked as wrong" if cell.column in self.marking.columns else ""
        noun = words.rows_noun(session.rows)
        return f"{noun} {row_named(cell.row + 1, session.rows)}, stitch {number} from the right{yarn}{wrong}"
