"""The shape of a section in the trade's words to its outline: which stitches every row has, row by row, each line of
words with the stitches after it.

Rows are counted from the line above: "every 6th row" is the 6th one after it, the 12th and so on. An outline lies in
columns counted from the right edge of all that the section, or the row it is worked on, takes up at its widest. Hands
bind off where a row begins, decrease up to two at an edge, increase one, and cast on as many as they like.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from companion.knitting.cloth.edges import EVEN, Change
from companion.knitting.value import Record
from companion.plan.chart import WIDEST
from companion.plan.edge_words import ACT, VERB, Act, When, act_of, count_of, even_rows, rows_of, verb_of
from companion.plan.phrases import NUMBERS, ORDINALS, STS, Amiss, Phrases
from companion.problems import nearest, quoted

MOST_ROWS = 10_000
"""So many rows a shape may have."""


class ShapeRow(Record):
    """One row: so many ``stitches``, and so many columns to the ``right`` of them; ``line``: the line of words, from
    0, and ``at`` the offset in it that tell of it."""

    right: int
    stitches: int
    line: int
    at: int


class Outline(Record):
    """All rows of a section. ``begins``: the stitches that it is worked on, and ``base`` the columns to the right of
    those; ``wide``: all columns."""

    rows: tuple[ShapeRow, ...]
    begins: int
    base: int
    wide: int


class After(Record):
    """What lies behind a line of words: so many ``rows`` of the section, and so many ``stitches``."""

    rows: int
    stitches: int


class Misread(Record):
    """What is amiss at an offset in a line of words, from 0."""

    line: int
    amiss: Amiss


class ShapeReader:
    """Reads lines of words. ``begins``: so many stitches lie below; ``is_first``: nothing but the cast-on does;
    ``is_right``: the first row is a right-side row; ``rows``: so many the section has, None = as many as are told."""

    def __init__(self, begins: int, *, is_first: bool, is_right: bool, rows: int | None = None) -> None:
        self.amiss: list[Misread] = []
        self.after: list[After] = []
        self._begins, self._is_first, self._is_right, self._most = begins, is_first, is_right, rows
        self._right = self._left = 0  # stitches that are gone at either edge, with a minus those that came
        self._rows: list[ShapeRow] = []
        self._line, self._has_sums = 0, True

    @property
    def stitches(self) -> int:
        """So many are on the needle."""
        return self._begins - self._right - self._left

    @property
    def is_right_side(self) -> bool:
        """Whether the next row is a right-side row."""
        return self._is_right == (len(self._rows) % 2 == 0)

    def read(self, lines: Sequence[str]) -> Outline:
        """The outline; what is amiss is kept, and reading ends there, since nobody knows what follows."""
        try:
            for self._line, line in enumerate(lines):
                self._sentences(Phrases(line, 0, len(line)))
                self.after.append(After(len(self._rows), self.stitches))
            if self._most is not None:
                self._even(self._most - len(self._rows), 0)
        except Amiss as amiss:
            self.amiss.append(Misread(self._line, amiss))
        base = max(0, -min((row.right for row in self._rows), default=0))
        past = max((row.right + row.stitches for row in self._rows), default=0)
        rows = tuple(row._replace(right=row.right + base) for row in self._rows)
        return Outline(rows, self._begins, base, base + max(past, self._begins))

    def _sentences(self, words: Phrases) -> None:
        while not words.is_over:
            at = words.here
            if words.may(r"[.;,]+|(?:and )?then\b|and\b"):
                continue
            if (stitches := count_of(words)) is not None:
                self._check(stitches, at)
            elif self._is_first and not self._rows and (found := _cast_on(words)):
                self._begins = found
            elif rows := even_rows(words):
                self._even(rows, at)
            else:
                acts = list(_acts(words))
                if not acts:
                    raise _why(words)
                for when in _whens(words):
                    self._work(acts, when)

    def widens(self, lines: Sequence[str]) -> int:
        """So many columns beyond those that it begins with, whatever sums are said."""
        self._has_sums = False
        outline = self.read(lines)
        return outline.wide - outline.begins

    def _check(self, said: int, at: int) -> None:
        if self._has_sums and said != self.stitches:
            what = f"Here are {self.stitches:,} stitches, and this line says {said:,}."
            raise Amiss(at, what, "Mend the words before it, or the number.")

    def _work(self, acts: Sequence[Act], when: When) -> None:
        times = when.times or self._times(acts, when)
        self._room(times * when.every, when.at)
        for _ in range(times):
            left = when.every
            while left:
                is_meant = not when.side or (when.side == "RS") == self.is_right_side
                left -= is_meant
                self._row(self._change(acts) if is_meant and not left else EVEN, acts[0].at)

    def _times(self, acts: Sequence[Act], when: When) -> int:
        """How often until there are so many stitches."""
        each = sum(act.more * (2 if act.place == "each end" else 1) for act in acts)
        times, rest = divmod(when.until - self.stitches, each or 1)
        if each and not rest and times > 0:
            return times
        how = f"{abs(each):,} {'fewer' if each < 0 else 'more'}"
        what = f"From {self.stitches:,} stitches, {how} each time, nobody comes to {when.until:,}."
        raise Amiss(when.at, what, "Mend the number, or say how many times.")

    def _room(self, rows: int, at: int) -> None:
        """There are so many rows more, at the least."""
        if len(self._rows) + rows > MOST_ROWS:
            raise Amiss(at, f"With these rows the shape has more than {MOST_ROWS:,}.")
        if self._most is not None and len(self._rows) + rows > self._most:
            mend = "Let the shape end there, or give the section more rows."
            raise Amiss(at, f"The section has {self._most:,} rows, and these words go on.", mend)

    def _even(self, rows: int, at: int) -> None:
        """Rows that have the stitches of the one below."""
        self._room(rows, at)
        self._rows += [ShapeRow(self._right, self.stitches, self._line, at)] * rows

    def _change(self, acts: Sequence[Act]) -> Change:
        """What is done in the next row."""
        start = end = 0
        for act in acts:
            at_start = act.place in ("beginning", "each end") or act.place == self._starts_at
            at_end = act.place in ("end", "each end") or act.place not in ("beginning", self._starts_at)
            if act.is_off and at_end:
                what = (
                    f"Row {len(self._rows) + 1:,} of the section begins at the {self._starts_at}, and stitches are "
                    "bound off where a row begins."
                )
                raise Amiss(act.at, what, 'Bind them off a row later, or write "at the beginning".')
            if (at_start and start) or (at_end and end):
                what = "Two things are done at one edge of a row."
                raise Amiss(act.at, what, "Say one of them in a row of its own.")
            start, end = start + act.more * at_start, end + act.more * at_end
        return Change(start, end)

    @property
    def _starts_at(self) -> str:
        return "right edge" if self.is_right_side else "left edge"

    def _row(self, change: Change, at: int) -> None:
        if change == EVEN:
            self._even(1, at)
            return
        self._room(1, at)
        number = len(self._rows) + 1
        if self._is_first and number == 1:
            what = "Row 1 of the piece is worked on the cast-on, and has just those stitches."
            raise Amiss(at, what, 'Begin with "work 1 row even", or cast on more or fewer.')
        lost = -min(change.start, 0) - min(change.end, 0)
        if lost >= self.stitches:
            what = f"Row {number:,} of the section is worked on {_stitches(self.stitches)}, and {lost:,} would go."
            raise Amiss(at, what, "One at least must be left.")
        right, left = (change.start, change.end) if self.is_right_side else (change.end, change.start)
        self._right, self._left = self._right - right, self._left - left
        if self.stitches > WIDEST:
            raise Amiss(at, f"Row {number:,} has {self.stitches:,} stitches; a piece may be {WIDEST:,} wide.")
        self._rows.append(ShapeRow(self._right, self.stitches, self._line, at))


def _cast_on(words: Phrases) -> int:
    """The stitches that a piece is cast on with, read; 0 where they are not told here."""
    found = None if words.look(ACT) else words.may(rf"(?:cast on|co)\b (\d{{1,9}})\b(?: {STS})?")
    return int(found[1]) if found else 0


def _acts(words: Phrases) -> Iterator[Act]:
    """What is done in a row, joined by "and"."""
    while act := act_of(words):
        yield act
        if words.look(rf",? ?and {VERB}") is None:
            return
        words.may(r",? ?and\b")


def _whens(words: Phrases) -> list[When]:
    """In which rows it is done."""
    try:
        whens = list(rows_of(words))
    except Amiss as amiss:
        raise _strange(words) or amiss from None
    if whens:
        return whens
    what = "It is not said in which rows."
    raise _strange(words) or Amiss(words.here, what, 'Such as "of the next 2 rows" or "of every RS row 3 times".')


def _stitches(number: int) -> str:
    return "1 stitch" if number == 1 else f"{number:,} stitches"


_VERBS = ("bind off", "cast off", "cast on", "decrease", "increase", "work")
_KNOWN = frozenset(re.findall(
    r"\w+",
    "bo co dec decrease inc increase bind cast off on work continue cont even straight plain without shaping any all "
    "st sts stitch stitches at the beg beginning start end ends each both edge edges side sides right left hand "
    "of in next following foll this these every other alt alternate row rows round rounds rnd rnds rs ws wrong "
    "for over times time once twice thrice more until to there are you have only rem remain remaining and then "
    "needle needles",
)).union(NUMBERS, ORDINALS)  # fmt: skip
_WORD = re.compile(r"[^\W\d_]\w*")
_SUCH = 'Such as "bind off 3 at the beginning of the next 2 rows", "dec 1 at each end of every RS row 3 times".'


def _why(words: Phrases) -> Amiss:
    """Why nothing can be read here: a word that is not known, or what is missing."""
    at = words.here
    if strange := _strange(words):
        return strange
    if (verb := words.may(VERB)) is None:
        near = nearest(" ".join(words.text[at:words.end].split()[:2]), _VERBS)
        mend = f'Did you mean "{near}"?' if near else _SUCH
        return Amiss(at, f"{quoted(words.rest())} is not understood here.", mend)
    which = verb_of(verb[0])
    done = {"bind off": "bound off", "cast on": "cast on", "dec": "decreased", "inc": "increased"}[which]
    if words.look(r"all\b|(?:the )?rem(?:aining)?\b"):
        return Amiss(at, "All stitches are bound off after the last row of the piece.", "Leave this line out.")
    if which in ("bind off", "cast on") and not words.look(r"\d|" + r"\b|".join(NUMBERS)):
        return Amiss(at, f"It is not said how many stitches are {done}.", f"Such as: {verb[0].lower()} 3 sts ...")
    what = f"It is not said at which edge stitches are {done}."
    return Amiss(at, what, 'Such as "at the beginning", "at each end", "at the left edge".')


def _strange(words: Phrases) -> Amiss | None:
    """The first word from here on that is none of the trade's words for shaping."""
    for found in _WORD.finditer(words.text, words.here, words.end):
        word = found[0]
        is_digits = words.text[found.start() - 1:found.start()].isdigit()  # "4th", "3x"
        if word.casefold() not in _KNOWN and not is_digits:
            near = nearest(word, _KNOWN)
            mend = f'Did you mean "{near}"?' if near else _SUCH
            return Amiss(found.start(), f"{quoted(word)} is not understood here.", mend)
    return None
