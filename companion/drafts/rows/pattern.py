"""A whole text of written rows: what stands above them, every row by its number, and what lies between and after."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from companion.drafts.rows import heading
from companion.drafts.rows.doings import End, Label, RowTold, Words
from companion.drafts.rows.edges import edge_of, edges_of_rows
from companion.drafts.rows.heading import CastOnTold, Said
from companion.drafts.rows.labels import MOST_ROWS, labels, span_of
from companion.drafts.rows.ordering import in_order, row_named
from companion.drafts.rows.row import RowReader
from companion.drafts.rows.scanner import MOST_YARNS, Scanner, Yarns
from companion.drafts.rows.statements import Statement, statements
from companion.knitting.cloth.fabric import Gauge, Part
from companion.knitting.value import Record
from companion.plan.phrases import NUMBER, Amiss
from companion.plan.source import MOST_PROBLEMS, Found, Source
from companion.problems import quoted

_ROWS = r"(?:rows?|rounds?|rnds?)\b\.?"
_REPEATS = r"(?:rep(?:eat)?\b\.?|as(?: for)?\b|(?:the )?same as(?: for)?\b|work(?:ed)?(?: as(?: for)?)?\b|like\b)"
_FINISHING = (
    r"(?:sewn? on\b|sew\b|weave\b|darn\b|block\b|wash\b|press\b|steam\b|finish|fasten off|making up|to make up"
    r"|break\b)"
)
_AFTER = r"(?:[\s,;.]|\b(?:in|keeping) (?:to )?(?:patt(?:ern)?|stockinette|st st|stocking stitch)\b|\bas set\b)*"

_WORKS = re.compile(r"\s*(?:work|knit|purl|[kp]\s?\d|continue|beg|begin|beginning|change|join)\b", re.IGNORECASE)
"""How a line begins that has something done."""

_PLAN_SAYS = re.compile(r"^The plan says:.*(?:\n[ \t]+\S.*)*", re.MULTILINE)
"""Sentences of a plan, on a page of Rowside's: whatever words they have, they are no rows."""


class Pattern(Record):
    """What a text says. ``hands`` "" = not said; ``is_own``: it is a page of Rowside's; ``off``: how the last
    stitches are bound off; ``left_out``: offsets of lines that are not read, and why."""

    title: str
    gauge: Gauge | None
    yarns: tuple[str, ...]
    said: Mapping[str, Said]
    cast_on: CastOnTold
    rows: tuple[RowTold, ...]
    hands: Literal["", "left", "right"]
    is_uk: bool
    is_for_baby: bool
    left_out: tuple[tuple[int, str], ...]

    @property
    def is_own(self) -> bool:
        """Whether it is a page of Rowside's."""
        return bool(self.hands)


def pattern_of(source: Source, found: Found) -> Pattern:
    """What the text says; what is amiss is added to the problems found."""
    return _Reading(source, found).pattern()


class _Reading:
    """One text on its way to a pattern."""

    def __init__(self, source: Source, found: Found) -> None:
        self._said_at = [found.start() for found in _PLAN_SAYS.finditer(source.text)]
        text = _PLAN_SAYS.sub(lambda found: re.sub(r"[^\r\n]", " ", found[0]), source.text)
        self._source, self._text, self._found = Source(source.name, text), text, found
        self._yarns, self._said = Yarns(), dict[str, Said]()
        self._title, self._cast_on = "", CastOnTold()
        self._gauge: Gauge | None = None
        self._rows: dict[tuple[Part, int], RowTold] = {}
        self._last = 0
        self._part: Part = ""
        self._left_out: list[tuple[int, str]] = []
        self._is_numbered = True
        self._amiss = 0

    def pattern(self) -> Pattern:
        """Everything."""
        self._left_out += [(at, "says") for at in self._said_at]
        parts = statements(self._source)
        self._heading([part for part in parts if part.is_heading])
        below = [part for part in parts if not part.is_heading]
        for part in below:
            try:
                if part.is_row:
                    self._row(part)
                elif not self._between(part):
                    is_sewn = self._scanner(part.start, part.end).look("sewn on") is not None
                    self._left_out.append((part.start, "sewn" if is_sewn else "after"))
            except Amiss as amiss:
                self.tell(amiss)
                if not part.is_row and self._rows:  # so that nobody knows how many stitches the next row begins with
                    key = next(reversed(self._rows))
                    self._rows[key] = self._rows[key]._replace(words=None)
        words = self._text.casefold()
        is_uk = re.search(r"\bcast\s+off\b|\btension\b", words) is not None and not re.search(
            r"\bbind\s+off\b|\bbo\b|\bgauge\b", words
        )
        return Pattern(
            self._title, self._gauge, tuple(self._yarns.names), self._said, self._cast_on, tuple(self._ordered()),
            heading.hands(self._text), is_uk,
            "For a baby: floats" in self._text, tuple(self._left_out),
        )  # fmt: skip

    def _ordered(self) -> Iterator[RowTold]:
        for row in in_order(self._rows):
            if isinstance(row, RowTold):
                yield row
            elif self._is_numbered:
                self.tell(row)

    def tell(self, amiss: Amiss) -> None:
        """Add what is amiss to the problems found.

        Raises:
            Problems: so much is amiss that reading on would help nobody.
        """
        self._amiss += 1
        place = self._source.place(min(amiss.at, len(self._text)))
        self._found.add(self._source.problem(*place, amiss.what, amiss.mend), cause=amiss.cause)
        if self._amiss >= MOST_PROBLEMS:
            self._found.stop()

    def _heading(self, parts: Sequence[Statement]) -> None:
        later: list[Statement] = []
        for part in parts:
            words = self._text[part.start:part.end]
            try:
                if (told := heading.gauge(words, part.start)) is not None:
                    self._gauge = told
                elif not self._lists_yarns(words, part.start) and not heading.is_rule(words):
                    later.append(part)
            except Amiss as amiss:
                self.tell(amiss)
        for number, part in enumerate(later):
            words = self._text[part.start:part.end]
            try:
                if heading.HOLDS.match(words):
                    scanner = self._scanner(part.start, part.end)
                    self._cast_on = heading.cast_on(scanner)
                    scanner.may(r"[.,;]")
                    if not scanner.is_over:
                        self._left_out.append((scanner.here, "above"))
                elif _WORKS.match(words):
                    raise _no_row(self._scanner(part.start, part.end))
                elif not number and "\n" not in words.strip() and len(words) <= 200:
                    self._title = words.strip()
                else:
                    self._left_out.append((part.start, "above"))
            except Amiss as amiss:
                self.tell(amiss)

    def _lists_yarns(self, words: str, at: int) -> bool:
        """Lines of a list of yarns, each read; whether they are any."""
        are_some = False
        for line in words.splitlines():
            told = heading.own_yarn(line) or heading.yarn(line)
            if told is None:
                continue
            if len(self._yarns.names) == MOST_YARNS:
                raise Amiss(at, f"More than {MOST_YARNS} yarns are listed.", cause="yarns")
            name = self._yarns.declare(told[0])
            self._said.setdefault(name, told[1])
            are_some = self._yarns.is_closed = True
        return are_some

    def _scanner(self, start: int, end: int) -> Scanner:
        return Scanner(self._text, start, end, self._yarns)

    def _row(self, part: Statement) -> None:
        """A row, or several that are told together."""
        scanner = self._scanner(part.start, part.end)
        try:
            named = labels(scanner, self._last)
        except Amiss:
            self._is_numbered = False  # so that nobody knows which rows are missing
            raise
        if len(self._rows) + len(named) > MOST_ROWS:
            raise Amiss(part.start, f"A piece of written rows has {MOST_ROWS:,} rows at most.", cause="rows")
        self._last = named[-1].number
        if self._cast_on.is_joined and named[0].number == 1 and not named[0].is_round:
            what = "The cast-on is joined into a round, and row 1 may be worked round, or flat all the same."
            raise Amiss(
                part.start, what, 'Call what is worked round by that name: "Round 1:".', "round"
            )
        for label in named:
            self._keep(RowTold(label, None))
        told = self._same(scanner, named) or self._edged(scanner, named) or self._read(scanner, named)
        for one in told:
            self._rows[one.label.part, one.label.number] = one

    def _keep(self, row: RowTold) -> None:
        """A row that was not told before."""
        key = row.label.part, row.label.number
        if key in self._rows:
            line = self._source.place(self._rows[key].label.at)[0]
            raise Amiss(row.label.at, f"{row_named(row.label)} is told twice: here, and in line {line}.",
                        "Give one of them its own number.", "twice")  # fmt: skip
        self._rows[key] = row

    def _read(self, scanner: Scanner, named: Sequence[Label]) -> list[RowTold]:
        """Rows that are told stitch by stitch."""
        reader = RowReader(scanner, is_first=named[0].number == 1 and not named[0].part)
        words = reader.read()
        if reader.cast_on:
            yarn, stitches, method, at = reader.cast_on
            self._cast_on = self._cast_on._replace(
                stitches=stitches, yarn=yarn, method=method or self._cast_on.method, at=at
            )
        if not words.items:
            raise Amiss(named[0].at, f"{row_named(named[0])} has no stitches.", cause="empty")
        return [RowTold(label, words) for label in named]

    def _same(self, scanner: Scanner, named: Sequence[Label]) -> list[RowTold]:
        """Rows that are worked like others: "As Row 1", "rep Rows 1-8"."""
        start = scanner.at
        if not scanner.may(rf"{_REPEATS} (?=(?:{_ROWS} ?\d|\d{{1,7}}(?:st|nd|rd|th)|first|second|third))"):
            return []
        span = span_of(scanner)
        keys = [(span.part or named[0].part, number) for number in span.numbers]
        rows = self._sources(keys, start, before=named[0].at)
        if found := scanner.may(rf"({NUMBER}) times?\b|(once|twice|thrice)\b"):
            times = scanner.number(found[1]) if found[1] else {"once": 1, "twice": 2, "thrice": 3}[found[2].lower()]
            if times * len(rows) != len(named):
                what = f"These are {len(named)} rows, and {len(rows)} rows {times} times are {times * len(rows)}."
                mend = "Leave the number of times out: the numbers of the rows tell it."
                raise Amiss(start, what, mend, "span")
        if len(named) % len(rows):
            what = f"These are {len(named)} rows, and the {len(rows)} that they are worked like do not fill them."
            mend = f'Such as "Rows {named[0].number}-{named[0].number + len(rows) - 1}:".'
            raise Amiss(start, what, mend, "span")
        ends = self._only_ends(scanner)
        copies = [self._copy(rows[n % len(rows)], label) for n, label in enumerate(named)]
        return self._with_ends(copies, ends)

    def _sources(self, keys: Sequence[tuple[Part, int]], at: int, *, before: int) -> list[RowTold]:
        for key in keys:
            row = self._rows.get(key)
            if row is None or row.label.at >= before:
                raise Amiss(at, f"Row {key[1]} is not told before this.", "Tell a row first, and then say it again.",
                            "not before")  # fmt: skip
        return [self._rows[key] for key in keys]

    def _copy(self, row: RowTold, label: Label) -> RowTold:
        words = row.words and row.words._replace(ends=())
        return RowTold(label, words)

    def _only_ends(self, scanner: Scanner) -> tuple[End, ...]:
        """What may stand behind a row that is told in one phrase."""
        words = RowReader(scanner, is_first=False).read()
        if words.items:
            raise Amiss(words.items[0].at, "These stitches stand behind a row that is told already.",
                        "Tell the row stitch by stitch.", "behind")  # fmt: skip
        return words.ends

    def _with_ends(self, rows: list[RowTold], ends: tuple[End, ...]) -> list[RowTold]:
        last = rows[-1]
        if ends and last.words:
            rows[-1] = last._replace(words=last.words._replace(ends=(*last.words.ends, *ends)))
        return rows

    def _edged(self, scanner: Scanner, named: Sequence[Label]) -> list[RowTold]:
        """Rows that are told by their edges alone: "bind off 3 at the beginning of the next 2 rows"."""
        start = scanner.at
        edge = edge_of(scanner)
        if edge is None:
            return []
        if found := scanner.may(
            rf"of (?:the )?(?:(?:next|following|foll)\b\.?(?: ({NUMBER}))? ?|this |each |these )?{_ROWS}"
        ):
            rows = scanner.number(found[1]) if found[1] else len(named)
            if rows != len(named):
                raise Amiss(start, f"These are {len(named)} rows, and the words tell of {rows}.",
                            "Number as many rows as are meant.", "span")  # fmt: skip
        scanner.may(_AFTER)
        if not scanner.is_over and not scanner.look(r"[(\[—–=-]"):
            scanner.at = start
            return []
        ends = self._only_ends(scanner)
        return self._with_ends([RowTold(label, Words((), (), edge)) for label in named], ends)

    def _between(self, part: Statement) -> bool:
        """What stands between rows, or after them; False: it says nothing of the fabric."""
        scanner = self._scanner(part.start, part.end)
        if scanner.look(_FINISHING):
            return False
        if scanner.look(r"cast on\b"):
            raise Amiss(part.start, "Stitches are cast on here, and rows stand above.",
                        'Cast on above row 1; at an edge, in a row: "Row 9: cast on 4, ...".', "cast on")  # fmt: skip
        if scanner.look(r"rep(?:eat)?\b"):
            self._again(scanner)
            return True
        if self._edges_between(scanner):
            return True
        if scanner.look(r"bind off|cast off|bo\b") and self._rows:
            ends = self._only_ends(scanner)
            key = next(reversed(self._rows))
            [self._rows[key]] = self._with_ends([self._rows[key]], ends)
            return True
        raise _no_row(scanner)

    def _edges_between(self, scanner: Scanner) -> bool:
        at = scanner.here
        edges = edges_of_rows(scanner, self._last)
        if not edges:
            return False
        scanner.may(_AFTER)
        named = zip(self._following(len(edges), at), edges, strict=True)
        rows = [RowTold(label, Words((), (), edge)) for label, edge in named]
        self._add(self._with_ends(rows, self._only_ends(scanner)))
        return True

    def _following(self, many: int, at: int) -> list[Label]:
        if not self._rows:
            raise Amiss(at, "No row is told before this.", cause="not before")
        if many + len(self._rows) > MOST_ROWS:
            raise Amiss(at, f"A piece of written rows has {MOST_ROWS:,} rows at most.", cause="rows")
        last = self._rows[next(reversed(self._rows))].label
        return [Label(last.part, self._last + n, last.is_round, "", at) for n in range(1, many + 1)]

    def _add(self, rows: Sequence[RowTold]) -> None:
        for row in rows:
            self._keep(row)
        self._last = rows[-1].label.number

    def _again(self, scanner: Scanner) -> None:
        """Rows that are worked again above themselves, as often as is said."""
        at = scanner.here
        scanner.may(r"rep(?:eat)?\b\.?(?: the\b| these\b)?")
        if found := scanner.may(rf"last (?:({NUMBER}) )?{_ROWS}"):
            many = scanner.number(found[1]) if found[1] else 1
            keys = [(self._part_of_last(), self._last - many + n) for n in range(1, many + 1)]
        else:
            span = span_of(scanner)
            keys = [(span.part or self._part_of_last(), number) for number in span.numbers]
        rows = self._sources(keys, at, before=at)
        scanner.may(r",")
        if found := scanner.may(rf"({NUMBER}) (?:more times?|times? more)\b|(once|twice) more\b|(once)\b"):
            word = (found[2] or found[3] or "").lower()
            more = scanner.number(found[1]) if found[1] else {"once": 1, "twice": 2}[word]
        else:
            raise self._how_often(scanner, keys, at)
        ends = self._only_ends(scanner)
        named = self._following(more * len(rows), at)
        copies = [self._copy(rows[n % len(rows)], label) for n, label in enumerate(named)]
        self._add(self._with_ends(copies, ends))

    def _part_of_last(self) -> Part:
        return next(reversed(self._rows))[0] if self._rows else ""

    def _how_often(self, scanner: Scanner, keys: Sequence[tuple[Part, int]], at: int) -> Amiss:
        """Why it is not known how often rows are repeated."""
        first, many = self._last + 1, len(keys)
        rows = f"Row {keys[0][1]}" if many == 1 else f"Rows {keys[0][1]}-{keys[-1][1]}"
        found = scanner.may(rf"({NUMBER}) times?\b|(twice|thrice)\b")
        if found is None:
            such = f'Number the rows that come: "Rows {first}-{first + many - 1}: rep {rows}".'
            return Amiss(at, "It is not said how often these rows are repeated.", such, "how often")
        times = scanner.number(found[1]) if found[1] else {"twice": 2, "thrice": 3}[found[2].lower()]
        words = " ".join(self._text[at:scanner.at].split())
        fewer, more = _spoken(first, (times - 1) * many), _spoken(first, times * many)
        return Amiss(
            at, f"{quoted(words, 60)} can be read two ways: {times} times in all, the rows above counted, or "
            f"{times} times more.", f'Number the rows that come: "{fewer}: rep {rows}", or "{more}: rep {rows}".',
            "how often",
        )  # fmt: skip


def _no_row(scanner: Scanner) -> Amiss:
    return Amiss(
        scanner.here, f"{quoted(scanner.rest())} is not understood: here begins no row.",
        'A row is called like this: "Row 1:", "Row 2 (WS):", "Rows 3-8:".', "no row",
    )  # fmt: skip


def _spoken(first: int, many: int) -> str:
    return f"Rows {first}-{first + many - 1}" if many > 1 else f"Row {first}"
