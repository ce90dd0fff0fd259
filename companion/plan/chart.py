"""Chart text to rows of runs: what is drawn, and nothing else, becomes a row.

A chart line is drawn, one symbol a stitch, or told in run lengths, left to right as drawn. Blank lines and
spaces are ignored. The two kinds of line may be mixed; which one a line is, is decided so:

- No digit is a symbol of the plan: a line that holds a digit 0-9 is in run lengths, ``6s 8b s`` or ``6*s 8*b s``.
  A symbol without a count is one stitch.
- A digit is a symbol: a line that holds ``*`` is in run lengths, ``6*0 8*1 0``. The digits straight before ``*``
  are its count, spaces end a count (``1 6*0`` is one stitch, then six), the one character after ``*`` is its
  symbol, and digits without ``*`` after them are a stitch each.
- A digit and ``*`` are both symbols: every line is drawn, because ``6*s`` could be read two ways.
"""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby, islice
from operator import itemgetter

from companion.knitting.value import Record
from companion.plan.lines import Lines
from companion.plan.source import MOST_PROBLEMS, Found
from companion.problems import nearest, quoted

WIDEST = 4_000
"""The widest row, in columns."""

GROUND = "."
"""What a motif shows where it draws nothing: the ground it is placed on."""

_SAME = re.compile(r"(.)\1*", re.DOTALL)
_DIGITS = re.compile(r"[0-9]+")
_SPACES = re.compile(r"\s*")

Runs = tuple[tuple[int, str], ...]


class Drawn(Record):
    """A chart read: its rows from the bottom up, each as (count, symbol) from left to right as drawn.

    ``width`` is that of most rows; ``is_even``: every row has it.
    """

    rows: tuple[Runs, ...]
    width: int
    is_even: bool


class _Fault(Record):
    """What is wrong at an offset of a line: ``kind`` is "unknown", "wide", "count" or "none"."""

    kind: str
    offset: int
    text: str


class _Read(Record):
    runs: Runs
    width: int
    faults: tuple[_Fault, ...] = ()

    @property
    def is_counted(self) -> bool:
        return all(fault.kind == "unknown" for fault in self.faults)


class _RunsDrawn(dict[str, tuple[int, str]]):
    """Equal symbols in a row, as drawn, to their (count, symbol): one value for equal runs, and no work the second
    time, because a chart may be millions of them."""

    def __missing__(self, drawn: str) -> tuple[int, str]:
        run = self[drawn] = (len(drawn), drawn[0])
        return run


class ChartReader:
    """Reads charts of one plan. Equal lines are read once and share their runs.

    ``symbols`` are the declared ones, each with its yarn; ``line`` is where they are declared (0 = nowhere).
    ``mend``: what to do about a sign that is none of them; "" = it can be declared.
    """

    def __init__(self, symbols: Mapping[str, str], line: int, found: Found, mend: str = "") -> None:
        self.symbols = frozenset(symbols)
        self._yarns = symbols
        self.used: set[str] = set()
        self._names = sorted(symbol for symbol in symbols if len(symbol) == 1)
        self._line = line
        self._unknown = mend
        self._found = found
        self._read: dict[str, _Read] = {}
        self._run_of = _RunsDrawn()
        self._digits_are_cells = not self.symbols.isdisjoint("0123456789")
        self._star_is_cell = "*" in self.symbols

    def read(self, lines: Lines) -> Drawn | None:
        """The rows of a chart; what is wrong is added to the problems found. None for a chart without rows.
        ``GROUND`` lets the ground of a motif show, and is no stitch in a chart of its own."""
        if not lines.texts:
            return None
        read = [self._line_read(text) for text in lines.texts]
        is_sound = all(fault == ("unknown", fault.offset, GROUND) for row in read for fault in row.faults)
        if is_sound and len({row.width for row in read}) == 1:
            return Drawn(tuple(row.runs for row in reversed(read)), read[0].width, True)
        return self._amiss(lines)

    def signs(self, text: str) -> list[str]:
        """The symbol of every stitch of a sound line, from the left."""
        return [symbol for count, symbol in self._line_read(text).runs for _ in range(count)]

    def redrawn(self, text: str, changed: Mapping[int, str]) -> str:
        """A sound line with these stitches, from 0 at the left, in other symbols; drawn, or in run lengths, as it
        was."""
        if not self._is_counted(text):
            places = _places(text)
            signs = list(text)
            for at, symbol in changed.items():
                signs[places[at]] = symbol
            return "".join(signs)
        return self._in_lengths(text, [changed.get(at, symbol) for at, symbol in enumerate(self.signs(text))])

    def respelled(self, text: str, first: int, past: int, signs: Sequence[str]) -> str:
        """A sound line with these signs in place of some of its stitches, from the one at ``first`` (from 0 at the
        left) to the one before ``past``; drawn, or in run lengths, as it was."""
        if self._is_counted(text):
            own = self.signs(text)
            return self._in_lengths(text, [*own[:first], *signs, *own[past:]])
        places = _places(text)
        begin = places[first]
        gone = set(places[first:past])
        after = "".join(sign for at, sign in enumerate(text) if at >= begin and at not in gone)
        return text[:begin] + "".join(signs) + after

    def _in_lengths(self, text: str, signs: Iterable[str]) -> str:
        """These signs in run lengths, as far in as a line."""
        star = "*" if self._digits_are_cells else ""
        runs = ((len(list(same)), symbol) for symbol, same in groupby(signs))
        start = text[:len(text) - len(text.lstrip())]
        return start + " ".join(symbol if count == 1 else f"{count}{star}{symbol}" for count, symbol in runs)

    def _amiss(self, lines: Lines) -> Drawn:
        """A chart with something to tell."""
        from companion.plan.chart_slips import sort_out  # what a sound chart has no need of is not loaded for it

        problems, lines, told = sort_out(lines, self._yarns)
        for problem in problems:
            self._found.add(problem)
        read = [self._line_read(text) for text in lines.texts]
        left = {index: row for index, row in enumerate(read) if index not in told}
        self._tell_faults(lines, left)
        # A row that cannot be counted has its own problem; its length would be told twice.
        counted = [row.width for row in reversed(left.values()) if row.is_counted]
        width = Counter(counted).most_common(1)[0][0] if counted else 0
        is_even = self._tell_lengths(lines, left, width) and len(counted) == len(read) and not problems
        return Drawn(tuple(row.runs for row in reversed(read)), width, is_even)

    def _line_read(self, text: str) -> _Read:
        if text not in self._read:
            self._read[text] = self._counted(text) if self._is_counted(text) else self._drawn(text)
        return self._read[text]

    def _is_counted(self, text: str) -> bool:
        if not self._digits_are_cells:
            return _DIGITS.search(text) is not None
        return "*" in text and not self._star_is_cell

    def _drawn(self, text: str) -> _Read:
        compact = "".join(text.split())
        symbols = set(compact)
        self.used |= symbols
        if len(compact) > WIDEST:
            return _Read((), len(compact), (_Fault("wide", 0, f"{len(compact):,}"),))
        unknown = islice((symbol for symbol in dict.fromkeys(compact) if symbol not in self.symbols), MOST_PROBLEMS)
        faults = tuple(_Fault("unknown", text.index(symbol), symbol) for symbol in unknown)
        runs = tuple(map(self._run_of.__getitem__, map(itemgetter(0), _SAME.finditer(compact))))
        return _Read(runs, len(compact), faults)

    def _counted(self, text: str) -> _Read:
        runs: list[tuple[int, str]] = []
        faults: dict[str, _Fault] = {}
        width = 0
        for offset, digits, at, symbol in self._tokens(text):
            if not symbol:
                faults.setdefault("none", _Fault("none", offset, digits))
                continue
            size = _size(digits)
            self.used.add(symbol)
            width += size
            if width > WIDEST:
                faults["wide"] = _Fault("wide", offset, f"{width:,}" if size < WIDEST else quoted(digits, 12))
                break
            if not size:
                faults.setdefault("count", _Fault("count", offset, digits + symbol))
            elif symbol not in self.symbols:
                faults.setdefault("unknown" + symbol, _Fault("unknown", at, symbol))
            if size:
                runs.append(self._run_of[size * symbol])
        return _Read(tuple(runs), width, tuple(faults.values()))

    def _tokens(self, text: str) -> Iterator[tuple[int, str, int, str]]:
        """(offset, count as digits, offset of the symbol, symbol); "" for no count, "" for no symbol."""
        at = _skip(text, 0)
        while at < len(text):
            digits = _DIGITS.match(text, at)
            if digits is None:
                yield at, "", at, text[at]
                at = _skip(text, at + 1)
                continue
            after = _skip(text, digits.end())
            is_starred = text[after : after + 1] == "*" and not self._star_is_cell
            if is_starred:
                after = _skip(text, after + 1)
            elif self._digits_are_cells:
                yield from ((at + i, "", at + i, digit) for i, digit in enumerate(digits[0]))
                at = after
                continue
            if self._is_symbol_at(text, after):
                yield at, digits[0], after, text[after]
                at = _skip(text, after + 1)
            else:
                yield at, digits[0], after, ""
                at = after

    def _is_symbol_at(self, text: str, at: int) -> bool:
        """Whether a symbol, not the next count, stands here."""
        if at >= len(text) or (text[at] == "*" and not self._star_is_cell):
            return False
        return self._digits_are_cells or text[at] not in "0123456789"

    def _tell_faults(self, lines: Lines, read: Mapping[int, _Read]) -> None:
        first: dict[tuple[str, str], tuple[int, _Fault]] = {}
        rows: Counter[tuple[str, str]] = Counter()
        for index, row in read.items():
            for fault in row.faults:
                if fault == ("unknown", fault.offset, GROUND):
                    continue
                key = (fault.kind, fault.text if fault.kind == "unknown" else "")
                first.setdefault(key, (index, fault))
                rows[key] += 1
        for key, (index, fault) in first.items():
            what, mend = self._fault_words(fault)
            more = rows[key] - 1
            also = "" if not more else f" So does {_more(more)}." if more == 1 else f" So do {_more(more)}."
            self._found.add(lines.problem(index, fault.offset, what + also, mend))

    def _fault_words(self, fault: _Fault) -> tuple[str, str]:
        if fault.kind == "wide":
            return f"has {fault.text} stitches; a piece may be {WIDEST:,} wide.", ""
        if fault.kind == "count":
            return f"has a run without stitches, {quoted(fault.text)}.", "Give it a count from 1 up or delete it."
        if fault.kind == "none":
            return f"has no symbol after the count {quoted(fault.text)}.", self._digit_hint()
        if self._unknown:
            return f"uses the sign {_named(fault.text)}, which is none of this plan.", self._unknown
        under = f' (line {self._line})' if self._line else ""
        return f'uses the symbol {_named(fault.text)}, which is not under "symbols"{under}.', self._mend(fault.text)

    def _digit_hint(self) -> str:
        if self._digits_are_cells:
            return 'In this plan "*" counts stitches: 6*0 is six of the symbol 0.'
        return 'A line with digits is in run lengths, such as "6s 8b"; a digit drawn as a stitch must be a symbol.'

    def _mend(self, symbol: str) -> str:
        if symbol in "0123456789" and symbol:
            return self._digit_hint()
        near = nearest(symbol, self._names)
        did = f"Did you mean {quoted(near)}? " if near else ""
        if symbol in ",;":
            return "Leave it out: runs are parted by spaces."
        if symbol == "#":
            return 'Among the symbols it needs quotes, "#": sand, or YAML takes it for a comment.'
        names = ", ".join(self._names[:40])
        known = f"Symbols of this plan: {names}. " if names else ""
        return f"{did}{known}Add {_named(symbol, '')} there, or mend the row."

    def _tell_lengths(self, lines: Lines, read: Mapping[int, _Read], width: int) -> bool:
        odd = [index for index, row in read.items() if row.is_counted and row.width != width]
        others = "the other has" if len(read) == 2 else "most others have"
        for index in odd:
            own = read[index].width
            what = f"has {own:,} stitch{'' if own == 1 else 'es'}, {others} {width:,}."
            told = lines.problem(index, 0, what, "Every row of a chart needs the same number of stitches.")
            self._found.add(told, cause=(lines.source.name, lines.numbers[0]))
        return not odd


def _skip(text: str, at: int) -> int:
    found = _SPACES.match(text, at)
    return found.end() if found else at


def _places(text: str) -> Sequence[int]:
    """Where the signs of a drawn line stand in it."""
    if text.split() == [text]:
        return range(len(text))
    return [at for at, sign in enumerate(text) if not sign.isspace()]


def _size(digits: str) -> int:
    """The count these digits tell, no count being 1; a count beyond every limit is not worked out."""
    if not digits:
        return 1
    digits = digits.lstrip("0")
    return WIDEST + 1 if len(digits) > len(str(WIDEST)) else int(digits or "0")


def _named(symbol: str, quote: str = '"') -> str:
    """The symbol in quotes; one that cannot stand alone is told by its number."""
    if unicodedata.category(symbol)[0] in "CMZ":
        return f"U+{ord(symbol):04X}"
    return f"{quote}{symbol}{quote}"


def _more(number: int) -> str:
    return f"{number:,} more row{'' if number == 1 else 's'}"
