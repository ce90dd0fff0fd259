"""Lines of a chart that are no rows of it: keys, comments, row numbers, words. Looked for when a chart cannot be read
as it stands; each kind is told once, and nothing else is then told of the lines it is in.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise

from companion.knitting.value import Record
from companion.plan.lines import Lines
from companion.problems import Problem

_KEY = re.compile(
    r" *(?:- +)?(?:chart|plain|field|motifs|mirror|rows_per_square|plain_first|edges|opening|worked|seam_stitches"
    r"|repeat|across|rows|symbols|yarns|carry|cast_on|title) *:(?: |$)"
)
_NUMBERED = (re.compile(r" *(\d{1,5})[.:)]? +\S.*"), re.compile(r" *\S.*? +(\d{1,5}) *"))
_WORD = re.compile(r"[^\W\d_]{3,}")
_WORDS = {"knit", "purl", "with", "then", "stitch", "stitches", "sts", "row", "rows", "round", "repeat", "and"}
_NOTE = re.compile(r"(?:^|\s)(#)")
_RUN = re.compile(r"(\d+) +([^\W\d_]+)")


class Sorted(Record):
    """What is told of the lines that are no rows; the others; and the indices of those that are told of already."""

    problems: Sequence[Problem]
    rows: Lines
    told: frozenset[int] = frozenset()


def sort_out(lines: Lines, symbols: Mapping[str, str]) -> Sorted:
    """The lines of a chart, and what is among them by a slip. ``symbols``: each with its yarn."""
    problems = list[Problem]()
    if keys := [index for index, text in enumerate(lines.texts) if _KEY.match(text)]:
        first, last = lines.numbers[keys[0]], lines.numbers[keys[-1]]
        is_one = first == last
        what = f"{'This line is a key' if is_one else f'Lines {first} to {last} are keys'} and inside the chart."
        mend = f'Move {"it" if is_one else "these lines"} left, to begin in the column in which "chart" begins.'
        problems.append(lines.line_problem(keys[0], what, mend))
        lines = lines.among(range(keys[0]))
    if "#" not in symbols and (notes := [index for index, text in enumerate(lines.texts) if _NOTE.search(text)]):
        at = lines.texts[notes[0]].index("#")
        what = f"has a comment, and in a chart every sign is a stitch{_more(notes)}."
        problems.append(lines.problem(notes[0], at, what, "Write it above the chart."))
        texts = [_NOTE.split(text)[0] for text in lines.texts]
        lines = lines._replace(texts=texts).among(index for index, text in enumerate(texts) if text.strip())
    if symbols.keys().isdisjoint("0123456789") and any(_are_numbered(lines.texts, form) for form in _NUMBERED):
        what = "The lines of this chart bear row numbers, which would be stitches."
        problems.append(lines.line_problem(0, what, "Leave them out: the bottom line is row 1."))
        return Sorted(problems, lines, frozenset(range(len(lines.texts))))
    words = [index for index, text in enumerate(lines.texts) if _is_worded(text, symbols)]
    if words:
        named = {yarn: symbol for symbol, yarn in reversed([*symbols.items()])}
        runs = [f"{count}{named[yarn]}" for count, yarn in _RUN.findall(lines.texts[words[0]]) if yarn in named]
        what = f"is told in words; a chart is drawn in symbols, or told in run lengths{_more(words)}."
        problems.append(lines.problem(words[0], 0, what, f"Write {' '.join(runs) or 'run lengths such as 6s 8b'}"))
    return Sorted(problems, lines, frozenset(words))


def _are_numbered(texts: Sequence[str], form: re.Pattern[str]) -> bool:
    """Whether every line has a number, and they rise or fall by one step."""
    found = [form.fullmatch(text) for text in texts]
    steps = {int(one[1]) - int(other[1]) for one, other in pairwise(found) if one and other}
    return all(found) and len(steps) == 1 and abs(steps.pop()) in (1, 2)


def _is_worded(text: str, symbols: Mapping[str, str]) -> bool:
    words = _WORDS.union(symbols.values())
    return any(word.lower() in words and not symbols.keys() >= set(word) for word in _WORD.findall(text))


def _more(indices: Iterable[int]) -> str:
    rows = len(list(indices)) - 1
    return f"; so it is in {rows:,} more row{'' if rows == 1 else 's'}" if rows else ""
