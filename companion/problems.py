"""A problem is data: where it stands, what is wrong, what was expected, how to mend it.

Nothing here prints. ``show`` makes the report; whoever caught the problems decides where it goes.
"""

# Annotations are values in this file: a named tuple compiles each one that is text, in every start of the program.
import difflib
import unicodedata
from collections.abc import Iterable, Sequence
from typing import NamedTuple

SNIPPET_CELLS = 100
"""Widest part of a source line that is quoted, in terminal cells."""

MARGIN_CELLS = 9
"""What stands before it: its number, and the mark that something is left out."""

QUOTED_CELLS = 40
"""Widest name or value that is quoted inside a sentence, in terminal cells."""


class Problem(NamedTuple):
    """One thing that is wrong, in the knitter's words.

    ``line`` and ``column`` count from 1 and are 0 where the problem has no place in the file (a missing
    file, say); ``text`` is the source line as it stands in the file, ``mend`` one sentence that helps.
    """

    what: str
    file: str = ""
    line: int = 0
    column: int = 0
    text: str = ""
    mend: str = ""
    is_warning: bool = False


class Problems(Exception):
    """Raised with every problem found, sorted by place. Never empty; holds at least one non-warning."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = in_order(problems)
        super().__init__("\n".join(show(problem) for problem in self.problems))


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems by file, line and column."""
    return tuple(sorted(problems, key=lambda p: (p.file, p.line, p.column)))


def plain(text: str) -> str:
    """The text with every control, format and surrogate character shown, none obeyed.

    Covers C0 and C1 controls, bidirectional marks and overrides (Unicode categories Cc, Cf, Cs, Zl, Zp).
    A tab becomes a space, and so does every other space.
    """
    if text.isprintable():
        return text
    return "".join(_visible(character) for character in text)


def _visible(character: str) -> str:
    category = unicodedata.category(character)
    if character == "\t" or category == "Zs":
        return " "
    if category in ("Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"):
        return f"<{ord(character):04X}>"
    return character


def cells_of(text: str) -> int:
    """How many terminal cells a text takes."""
    if text.isascii() and text.isprintable():
        return len(text)
    from rich.cells import cell_len  # only here: what is printed as lines starts without it

    return cell_len(text)


def nearest(word: str, known: Iterable[str]) -> str:
    """The known name that is most like ``word``, or "" when none is near."""
    names = list(known)
    folded = {name.casefold(): name for name in names}
    near = difflib.get_close_matches(word.casefold()[:100], list(folded), n=1, cutoff=0.6)
    return folded[near[0]] if near else ""


def shorten(text: str, cells: int) -> str:
    """The text cut to at most ``cells`` terminal cells, with an ellipsis where it was cut."""
    if len(text) <= 4 * cells and cells_of(text) <= cells:
        return text
    kept, room = [], cells - 1
    # Characters of no width must not make the text endless, so their number is limited too.
    for character in text[: 4 * cells]:
        room -= cells_of(character)
        if room < 0:
            break
        kept.append(character)
    return "".join(kept) + "…"


def quoted(text: str, cells: int = QUOTED_CELLS) -> str:
    """The text made visible, shortened and in quotes, as messages name what stands in a file."""
    return f'"{shorten(plain(text[: 4 * cells + 1]), cells)}"'


def show(problem: Problem, room: int = MARGIN_CELLS + SNIPPET_CELLS) -> str:
    """The report: place and sentence, the line with a caret, the mend. Several lines, no colour. The line from the
    file takes up at most ``room`` cells; sentences are as long as they are."""
    place = ":".join([plain(problem.file), *(str(n) for n in (problem.line, problem.column) if n)])
    what = f"{'Warning: ' if problem.is_warning else ''}{plain(problem.what)}"
    lines = [f"{place}  {what}" if place else what]
    if problem.text and problem.line:
        lines += _snippet(problem, max(10, min(SNIPPET_CELLS, room - MARGIN_CELLS)))
    if problem.mend:
        lines.append(f"  {plain(problem.mend)}")
    return "\n".join(lines)


def _snippet(problem: Problem, cells: int) -> list[str]:
    """The quoted line and the caret under its column; a long line is cut around the column."""
    number = f"{problem.line:>5} | "
    text = problem.text.rstrip("\r\n")
    at = min(max(problem.column - 1, 0), len(text))
    start = _start(text, at, cells)
    mark = "…" if start else ""
    lines = [number + mark + shorten(plain(text[start : start + 4 * cells]), cells)]
    if problem.column:
        before = mark + plain(text[start:at])
        lines.append(" " * (len(number) - 2) + "| " + " " * cells_of(before) + "^")
    return lines


def _start(text: str, at: int, cells: int) -> int:
    """Where the quoted part begins, so that the caret stands in its first half. 0 where nothing is cut."""
    start, room = at, cells // 2
    while start > max(0, at - cells):
        room -= cells_of(plain(text[start - 1]))
        if room < 0:
            break
        start -= 1
    return start


def count_of(problems: Sequence[Problem]) -> str:
    """How many problems and warnings, in words for one line."""
    warnings = sum(problem.is_warning for problem in problems)
    wrong = len(problems) - warnings
    parts = [f"{wrong} to mend" if wrong else "", f"{warnings} warning{'s' * (warnings > 1)}" if warnings else ""]
    return ", ".join(filter(None, parts))
