"""What is said of a piece at the needles, line by line, whoever says it: what happened, the row where it is another
one, what is to be done now. Nothing of it is abbreviated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from companion.dialogue.saying import How, kinds_of
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling
from companion.knitting import words
from companion.knitting.cloth.rows import Row
from companion.knitting.words.for_the_ear import spelled_out_but_quoted

BRIEF: tuple[How, ...] = ("short", "mark")
"""In these ways nothing is said in full."""


class Aloud:
    """Says each step of one sitting once. ``tell`` gives what is told of it now, in terms that are heard; ``last`` is
    what was told of last."""

    def __init__(self, sitting: Sitting, tell: Callable[[], Telling]) -> None:
        self._sitting, self._tell = sitting, tell
        self.last: Telling | None = None
        self._row: Row | None = None
        self._done: Row | None = None
        self._note = ""

    def lines(self, *lead: str) -> list[str]:
        """What is new since it was asked for last, what must be said once among it, and what is to be done now."""
        before, self.last = self.last, self._tell()
        now, is_moved = self.last, not (before and _place_of(before) == _place_of(self.last))
        done = self._row_done(now) if before and is_moved else ()  # who comes back is told which side faces her
        begun = self._row_begun(now) if is_moved else ()
        noted, self._note = "" if now.note == self._note else now.note, now.note
        once = spelled_out_but_quoted(self._sitting.notice)
        lines = (*lead, *done, once, *begun, noted, *self._to_do(now))
        return [line for line in lines if line]

    def _row_done(self, now: Telling) -> Iterator[str]:
        """The row is worked: that it is, once; what belongs to its turn; how long the rest takes."""
        if not now.is_turn or now.session.is_bound_off:
            self._done = None
            return
        row = now.session.rows[now.session.row]
        lead, self._done = "" if row is self._done else now.end_lead, row
        turn = now.end_in_short if now.saying.how in BRIEF else now.end
        pace = map(spelled_out_but_quoted, self._sitting.pace[:1])
        yield " ".join(filter(None, [lead, *(turn if now.act != "row end" else ()), *pace]))

    def _row_begun(self, now: Telling) -> Iterator[str]:
        if now.act == "run" and now.row is not self._row:
            self._row = now.row
            yield f"{now.row_of}, {now.side}."

    def _to_do(self, now: Telling) -> Iterator[str]:
        """In row mode the row's runs one by one, else what is to be done with the next press."""
        if self._sitting.view.is_row_mode and now.act == "run":
            yield from row_lines(now)
        else:
            yield now.short if _is_in_short(now) else now.full
            if now.act == "row end":
                yield from now.end


def _is_in_short(now: Telling) -> bool:
    """Whether all of it was told in full before, where that is wanted once."""
    saying = now.saying
    if saying.how == "first" and now.run:
        return kinds_of(now.run.into) <= saying.known
    return saying.how in BRIEF


def _place_of(now: Telling) -> tuple[object, ...]:
    """What changes with a step that is done or taken back, and with no note, list or setting."""
    return now.session.row, now.session.done, now.act, now.doing


def row_lines(now: Telling) -> Iterator[str]:
    """What is left of the row in work, run by run, each with the change into it."""
    for one, change in zip(now.runs, now.changes, strict=True):
        if not one.is_done:
            work = f"{words.work_in_full(one.run, now.terms)} in {one.yarn.name}"
            yield " ".join(f"{words.sentence(part)}." for part in (change, work) if part)
