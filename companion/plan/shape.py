"""The shape of a section in the trade's words to its outline: which stitches every row has, row by row, each line of
words with the stitches after it.

Rows are counted from the line above: "every 6th row" is the 6th one after it, the 12th and so on. An outline lies in
columns counted from the right edge of all that the section, or the row it is worked on, takes up at its widest. Hands
bind off where a row begins, decrease up to two at an edge, increase one, and cast on as many as they like.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting.cloth.edges import EVEN, Change
from companion.knitting.cloth.fabric import Part
from companion.knitting.value import Record
from companion.plan.chart import WIDEST
from companion.plan.edge_words import ACT, VERB, Act, When, act_of, count_of, even_rows, rows_of
from companion.plan.phrases import STS, Amiss, Phrases
from companion.plan.shape_headings import Heading, heading_of
from companion.plan.shape_parts import (
    NECK,
    Astray,
    Below,
    Division,
    Edge,
    Middle,
    Opened,
    ShapeRow,
    Stretch,
    stitches_told,
)
from companion.plan.shape_slips import even_to_row, strange, why_not

MOST_ROWS = 10_000
"""So many rows a shape may have."""

_OF_ROWS = {
    "beginning": "where a row begins", "end": "where a row ends",
    "right edge": "at its right", "left edge": "at its left",
}  # fmt: skip
"""Places that are not the same edge of two parts."""

_OVER = r"[.;,:(\[=→—–-]|then\b|and\b|\Z"
"""What stands behind words that are over."""


class Outline(Record):
    """All rows of a section. ``begins``: the columns that it is worked on, and ``base`` those to the right of them;
    ``wide``: all columns. ``opened``: where it divides."""

    rows: tuple[ShapeRow, ...]
    begins: int
    base: int
    wide: int
    opened: tuple[Opened, ...] = ()


class After(Record):
    """What lies behind a line of words, in a ``part`` or ("") in all: so many ``rows`` of the section, and so many
    ``stitches``."""

    part: Part
    rows: int
    stitches: int


class Misread(Record):
    """What is amiss at an offset in a line of words, from 0."""

    line: int
    amiss: Amiss


class ShapeReader:
    """Reads lines of words. ``begins``: so many stitches lie below; ``is_first``: nothing but the cast-on does;
    ``is_right``: the first row is a right-side row; ``rows``: so many the section has, None = as many as are told;
    ``parts``: the two that lie below, if any do."""

    def __init__(
        self, begins: int, *, is_first: bool, is_right: bool, rows: int | None = None,
        parts: Below | None = None,
    ) -> None:  # fmt: skip
        self.amiss: list[Misread] = []
        self.after: list[tuple[After, ...]] = []
        self._begins, self._is_first, self._is_right, self._most = begins, is_first, is_right, rows
        self._done: list[ShapeRow] = []  # up to the last row that divides or joins
        self._opened: list[Opened] = []
        self._division = Division.going_on(parts) if parts else None
        self._middle: Middle | None = None
        self._whole = Stretch("", 0, begins, 0)
        self._on: tuple[Stretch, ...] = () if parts else (self._whole,)
        self._line, self._has_sums = 0, True

    def read(self, lines: Sequence[str]) -> Outline:
        """The outline; what is amiss is kept, and reading ends there, since nobody knows what follows."""
        try:
            for self._line, line in enumerate(lines):
                self._sentences(Phrases(line, 0, len(line)))
                self.after.append(self._behind())
            self._end()
        except Amiss as amiss:
            self.amiss.append(Misread(self._line, amiss))
        except Astray as astray:
            self.amiss.append(Misread(astray.line, astray.amiss))
        base = max(0, -min((row.right for row in self._done), default=0))
        past = max((row.past for row in self._done), default=0)
        rows = tuple(row.moved(base) for row in self._done)
        return Outline(rows, self._begins, base, base + max(past, self._begins), tuple(self._opened))

    def _behind(self) -> tuple[After, ...]:
        if self._middle and not self._division:
            return (After("", self._whole.row, self._whole.stitches - self._middle.stitches),)
        return tuple(After(one.part, one.row, one.stitches) for one in self._on)

    def widens(self, lines: Sequence[str]) -> int:
        """So many columns beyond those that it begins with, whatever sums are said."""
        self._has_sums = False
        outline = self.read(lines)
        return outline.wide - outline.begins

    def _sentences(self, words: Phrases) -> None:
        verb = ""
        while not words.is_over:
            at = words.here
            if found := words.may(r"[.;,:]+|(?:and )?then\b|and\b"):
                verb = "" if found[0][0] in ".;:" else verb
            elif (stitches := count_of(words)) is not None:
                self._check(stitches, at)
            elif heading := heading_of(words):
                self._head(heading)
            elif not self._on:
                raise strange(words) or Amiss(at, *_partless(self._division))
            elif self._may_cast_on and (cast := _cast_on(words)):
                self._begins, self._whole = cast, Stretch("", 0, cast, 0)
                self._on = (self._whole,)
            elif rows := even_rows(words):
                for on in self._on:
                    self._even(on, rows, at)
            elif slip := even_to_row(words, self._on[0].row):
                raise slip
            else:
                verb = self._done_at_edges(words, verb)

    @property
    def _may_cast_on(self) -> bool:
        return self._is_first and not self._division and not any(one.row for one in self._on)

    def _done_at_edges(self, words: Phrases, verb: str) -> str:
        """What is made or lost, and in which rows; the verb of it."""
        acts = list(_acts(words, verb))
        if not acts:
            raise why_not(words)
        if len(self._on) > 1 and (unclear := [act for act in acts if act.place in _OF_ROWS]):
            what = f'Of two parts one has its neck edge {_OF_ROWS[unclear[0].place]}, and the other its outer edge.'
            raise Amiss(unclear[0].at, what, 'Write "at the neck edge" or "at the outer edge".')
        is_at_once = all(act.is_off and act.place.endswith("edge") for act in acts) and words.look(_OVER)
        whens = [] if is_at_once else _whens(words)
        for on in self._on:
            if not whens:
                self._at_once(on, acts)
            for when in whens:
                self._work(on, acts, when)
        return "" if words.text[words.at - 1] == "." else acts[-1].verb  # which belongs to "row." and ends a sentence

    # Where it divides, and is joined

    def _head(self, heading: Heading) -> None:
        at = heading.at
        if heading.kind == "joined":
            self._join(heading)
        elif heading.kind == "all off":
            self._bind_all_off(heading)
        elif heading.kind == "middle":
            if self._division or self._middle:
                raise Amiss(at, "The piece is divided already.", "Leave it out.")
            there, middle = self._whole.stitches, heading.stitches or 0
            if not 0 < middle < there - 1:
                what = f"Here are {stitches_told(there)}, and {middle:,} in the middle leave no two parts."
                raise Amiss(at, what, "Mend the number.")
            self._middle, self._on = Middle(middle, heading.is_held, self._line, at), ()
        else:
            self._division = self._division or self._divided(at)
            parts: tuple[Part, ...] = ("right", "left") if heading.kind == "both" else (heading.kind,)
            self._on = tuple(self._division.part(part, heading.stitches, at) for part in parts)

    def _bind_all_off(self, heading: Heading) -> None:
        """A part ends below the section's last row, or there."""
        if not self._on or not self._on[0].part:
            what = "All stitches are bound off after the last row of the piece."
            raise Amiss(heading.at, what, "Leave this line out.")
        if heading.stitches is not None:
            self._check(heading.stitches, heading.at)
        self._level_up()
        for on in self._on:
            on.is_over = True

    def _divided(self, at: int) -> Division:
        whole = self._whole
        if self._is_first and not whole.row:
            raise Amiss(at, "Row 1 of the piece lies in the opening.", "Work at least one row below it.")
        self._done += whole.rows
        return Division(whole.row, whole.low, whole.high, self._middle or Middle(0, False, self._line, at))

    def _join(self, heading: Heading) -> None:
        if self._division is None:
            raise Amiss(heading.at, "Here the piece is whole, and no parts are joined.", "Leave it out.")
        self._level_up()
        self._whole = self._division.joined(heading)
        self._close(is_joined=True)
        self._on, self._division, self._middle = (self._whole,), None, None

    def _close(self, *, is_joined: bool) -> None:
        division = self._division
        assert division is not None
        is_at_once = division.split is not None and is_joined and not any(one.rows for one in division.parts.values())
        self._done += division.closed() if not is_at_once else []
        if division.split is None:
            self._opened.append(division.opened(is_joined=is_joined))

    def _end(self) -> None:
        """What the words say nothing of is worked even."""
        self._level_up()
        parts = list(self._division.parts.values()) if self._division else list(self._on)
        for on in parts:
            if self._most is not None and not on.is_over:
                self._even(on, self._most - on.row, 0)
        if self._division:
            self._close(is_joined=False)
        elif self._middle:
            raise Astray(self._middle.line, Amiss(self._middle.at, *_partless(None)))
        else:
            self._done += self._whole.rows

    def _level_up(self) -> None:
        """Parts that are told together end at one height."""
        highest = max((on.row for on in self._on), default=0)
        for on in self._on:
            self._even(on, highest - on.row, 0)

    # Rows

    def _check(self, said: int, at: int) -> None:
        for on in self._on:
            if self._has_sums and said != on.stitches:
                there = f" in the {on.part} part" if len(self._on) > 1 else ""
                are = "is" if on.stitches == 1 else "are"
                what = f"Here {are} {stitches_told(on.stitches)}{there}, and this line says {said:,}."
                raise Amiss(at, what, "Mend the words before it, or the number.")

    def _starts_at(self, on: Stretch) -> Edge:
        return "right edge" if self._is_right == (on.row % 2 == 0) else "left edge"

    def _at_once(self, on: Stretch, acts: Sequence[Act]) -> None:
        """In the first row in which it can be done; not where the middle is bound off."""
        for _ in range(2):
            edges = {_edge_of(on, act) for act in acts}
            if edges == {self._starts_at(on)} and not (on.is_dividing and acts[0].place == "neck edge"):
                break
            self._even(on, 1, acts[0].at)
        self._row(on, self._change(on, acts), acts[0].at)

    def _work(self, on: Stretch, acts: Sequence[Act], when: When) -> None:
        times = when.times or _times(on, acts, when)
        self._room(on, times * when.every, when.at)
        for _ in range(times):
            left = when.every
            while left:
                is_meant = not when.side or (when.side == "RS") == (self._starts_at(on) == "right edge")
                left -= is_meant
                self._row(on, self._change(on, acts) if is_meant and not left else EVEN, acts[0].at)

    def _room(self, on: Stretch, rows: int, at: int) -> None:
        """There are so many rows more, at the least."""
        if on.is_over and rows:
            raise Amiss(at, f"All of the {on.part} part is bound off above.", "Leave these words out.")
        if on.row + rows > MOST_ROWS:
            raise Amiss(at, f"With these rows the shape has more than {MOST_ROWS:,}.")
        if self._most is not None and on.row + rows > self._most:
            mend = "Let the shape end there, or give the section more rows."
            raise Amiss(at, f"The section has {self._most:,} rows, and these words go on.", mend)

    def _even(self, on: Stretch, rows: int, at: int) -> None:
        """Rows that have the stitches of the one below."""
        self._room(on, rows, at)
        on.work(rows, self._line, at)

    def _change(self, on: Stretch, acts: Sequence[Act]) -> Change:
        """What is done in the next row."""
        start = end = 0
        starts_at = self._starts_at(on)
        for act in acts:
            edge = _edge_of(on, act)
            at_start = edge in ("beginning", "each end", starts_at)
            at_end = edge not in ("beginning", starts_at)
            if act.is_off and at_end:
                where = f"the {starts_at}"
                if on.part:
                    where = f"the {'neck' if starts_at == NECK[on.part] else 'outer'} edge of the {on.part} part"
                what = (
                    f"Row {on.row + 1:,} of the section begins at {where}, and stitches are bound off where a row "
                    "begins."
                )
                raise Amiss(act.at, what, 'Bind them off a row later, or write "at the beginning".')
            if (at_start and start) or (at_end and end):
                what = "Two things are done at one edge of a row."
                raise Amiss(act.at, what, "Say one of them in a row of its own.")
            start, end = start + act.more * at_start, end + act.more * at_end
        return Change(start, end)

    def _row(self, on: Stretch, change: Change, at: int) -> None:
        if change == EVEN:
            self._even(on, 1, at)
            return
        self._room(on, 1, at)
        number = on.row + 1
        if self._is_first and number == 1:
            what = "Row 1 of the piece is worked on the cast-on, and has just those stitches."
            raise Amiss(at, what, 'Begin with "work 1 row even", or cast on more or fewer.')
        lost = -min(change.start, 0) - min(change.end, 0)
        if lost >= on.stitches:
            what = f"Row {number:,} of the section is worked on {stitches_told(on.stitches)}, and {lost:,} would go."
            raise Amiss(at, what, "One at least must be left.")
        if on.is_dividing and self._is_beside_the_opening(on, change):
            what = (
                "The row that divides the piece has the stitches of its part: beside the opening nothing comes or "
                "goes in it."
            )
            raise Amiss(at, what, 'Begin with "work 1 row even".')
        on.shape(change, self._starts_at(on))
        if on.stitches > WIDEST:
            raise Amiss(at, f"Row {number:,} has {on.stitches:,} stitches; a piece may be {WIDEST:,} wide.")
        on.work(1, self._line, at)

    def _is_beside_the_opening(self, on: Stretch, change: Change) -> bool:
        """Whether something is done there in a row that divides, but for the binding off of the middle."""
        if self._starts_at(on) != NECK[on.part]:
            return change.end != 0
        return change.start > 0 or (change.start < 0 and self._middle is not None)


def _edge_of(on: Stretch, act: Act) -> str:
    """Where something is done, in a part its edges as seen from the right side.

    Raises:
        Amiss: it has no such edge.
    """
    if act.place not in ("neck edge", "outer edge"):
        return act.place
    if not on.part:
        what = f"Here the piece is whole, and has no {act.place}."
        raise Amiss(act.at, what, 'Say it below a line "Right part:", "Left part:" or "Both parts:".')
    inner = NECK[on.part]
    return inner if act.place == "neck edge" else "left edge" if inner == "right edge" else "right edge"


def _partless(division: Division | None) -> tuple[str, str]:
    what = "Two parts lie below, and it" if division else "Here the piece divides, and it"
    mend = 'Write "Right part:", "Left part:" or "Both parts:" before.'
    return f"{what} is not said which of them these words tell of.", mend


def _times(on: Stretch, acts: Sequence[Act], when: When) -> int:
    """How often until there are so many stitches."""
    each = sum(act.more * (2 if act.place == "each end" else 1) for act in acts)
    times, rest = divmod(when.until - on.stitches, each or 1)
    if each and not rest and times > 0:
        return times
    how = f"{abs(each):,} {'fewer' if each < 0 else 'more'}"
    what = f"From {on.stitches:,} stitches, {how} each time, nobody comes to {when.until:,}."
    raise Amiss(when.at, what, "Mend the number, or say how many times.")


def _cast_on(words: Phrases) -> int:
    """The stitches that a piece is cast on with, read; 0 where they are not told here."""
    found = None if words.look(ACT) else words.may(rf"(?:cast on|co)\b (\d{{1,9}})\b(?: {STS})?")
    return int(found[1]) if found else 0


def _acts(words: Phrases, verb: str) -> Iterator[Act]:
    """What is done in a row, joined by "and". ``verb``: of what was done before it, "" = nothing."""
    while act := act_of(words, verb):
        yield act
        if words.look(rf",? ?and {VERB}") is None:
            return
        words.may(r",? ?and\b")


def _whens(words: Phrases) -> list[When]:
    """In which rows it is done."""
    try:
        whens = list(rows_of(words))
    except Amiss as amiss:
        raise strange(words) or amiss from None
    if whens:
        return whens
    what = "It is not said in which rows."
    raise strange(words) or Amiss(words.here, what, 'Such as "of the next 2 rows" or "of every RS row 3 times".')
