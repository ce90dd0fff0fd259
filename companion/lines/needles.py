"""At the needles: what is to be done now in one line, saved before it is said; and the row where that changes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from companion.dialogue.aloud import Aloud
from companion.dialogue.deed import Deed, Where
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling, telling
from companion.knitting import words
from companion.knitting.cloth.rows import Row
from companion.lines.commands import Command, Meant
from companion.lines.place import Place
from companion.progress.actions import Action, BindOff, Finish, Refused, Sew, Weave
from companion.progress.deciding import may
from companion.progress.session import Session
from companion.progress.typed import row_typed

if TYPE_CHECKING:
    from companion.lines.conversation import Conversation

_ROWS = re.compile(r"((?:left|right)\s+)?([0-9]+)(?:\s*-\s*([0-9]+))?", re.IGNORECASE)
_AT_ONCE: tuple[type[Action], ...] = (BindOff, Finish, Weave, Sew)
"""What On does where no run is to be worked."""


class Needles(Place):
    """One piece at work."""

    where: Where = "work"

    def __init__(self, conversation: Conversation, sitting: Sitting) -> None:
        super().__init__(conversation, sitting)
        self.sitting = sitting
        self._aloud = Aloud(sitting, lambda: sitting.telling)
        self._is_row_mode = sitting.view.is_row_mode

    def begin(self) -> None:
        """The piece, what must be said of it, where she is."""
        self._tell(f"{self.sitting.session.piece.title}.")

    def take(self, line: str) -> None:
        """Where another window writes, what it did goes first; where that is new, On asks for no more than that."""
        is_new = False
        while self.sitting.follow():
            is_new = True
            self._tell()
        meant = self.vocabulary.meant(line) if is_new else None
        if meant is None or meant.what.name != "on":
            super().take(line)

    def do(self, meant: Meant) -> None:
        """A deed, unless it comes of a pedal that is held down."""
        typed_at = self.talk.typed_at
        if typed_at is None or self.sitting.counts(meant.what.name, typed_at):
            super().do(meant)

    def after(self, deed: Deed) -> None:
        """What is to be done now, with all that is new; where nothing changed, why."""
        sitting, is_row_mode = self.sitting, self.sitting.view.is_row_mode
        if is_row_mode != self._is_row_mode:
            self._is_row_mode = is_row_mode
            self._tell("Enter is a whole row now." if is_row_mode else "Enter is a run now.")
        elif self._aloud.last and sitting.session is self._aloud.last.session and sitting.notice:
            self.talk.say(self._noticed())
        else:
            self._tell()

    def obey(self, command: Command, rest: str) -> None:
        """What is told when it is asked for."""
        match command.name:
            case "full":
                saying = self.sitting.saying._replace(how="full")
                self.talk.say(telling(self.sitting.session, self.sitting.terms, saying).full)
            case "place":
                self.talk.read_out(_placed(self.sitting.telling))
            case _:
                self._read(rest)

    def can(self, deed: Deed) -> bool:
        """Whether what it needs is possible."""
        session = self.sitting.session
        kinds = _AT_ONCE if deed.name == "on" else ()
        return deed.needs is None or any(may(session, kind) for kind in (deed.needs, *kinds))

    def _tell(self, *lead: str) -> None:
        """What must be said once, the row where it is another one, and what is to be done now."""
        self.talk.tell(*self._aloud.lines(*lead))
        self.sitting.notice = ""

    def _noticed(self) -> str:
        notice, self.sitting.notice = self.sitting.notice, ""
        return notice

    def _read(self, rest: str) -> None:
        """Rows of the chart in runs."""
        session = self.sitting.session
        try:
            rows = _rows_typed(rest, session)
        except Refused as reason:
            self.talk.say(str(reason))
            return
        self.talk.read_out(chart_line(session.rows[row]) for row in rows)


def chart_line(row: Row) -> str:
    """A row of the chart in the order in which it is worked: "Row 12, from the right: 4 shell, 10 tide."."""
    runs = ", ".join(f"{stitches} {yarn}" for yarn, stitches in row.seen)
    start = "right" if row.toward == "left" else "left"
    return f"{words.sentence(words.row_named(row))}, from the {start}: {runs}."


def _rows_typed(text: str, session: Session) -> range:
    """The rows that are named, from 0; the one in work where none is.

    Raises:
        Refused: there are no such rows.
    """
    if not text:
        return range(session.at.row, session.at.row + 1)
    found = _ROWS.fullmatch(text.strip())
    if found is None:
        raise Refused("Type a row or several, such as 12, 12-15 or left 3.")
    part, first, last = found[1] or "", found[2], found[3] or found[2]
    start, stop = (row_typed(f"{part}{number}", session.rows, may_be_past=False) for number in (first, last))
    if not 0 < start <= stop <= len(session.rows):
        raise Refused(f"The piece has no such {words.rows_noun(session.rows)}s: {len(session.rows)} is the last.")
    return range(start - 1, stop)


def _placed(now: Telling) -> Iterator[str]:
    """Where the hands are, and every strand, from the hand that the work comes from."""
    facts = now.row_of, now.side, now.needle, now.height, now.ready
    yield f"{', '.join(filter(None, facts))}."
    if now.hanging:
        hung = ((words.hanging_at(hang), now.place_of(hang)) for hang in now.hanging)
        yield words.strands_title(len(now.hanging), now.terms)
        yield from (f"{number}. {at}: {place}." for number, (at, place) in enumerate(hung, 1))
