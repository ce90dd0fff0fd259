"""What must stay as the picture has it: stitches by row and place, and in which yarn, if that is said."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from companion.knitting.value import Record
from companion.plan.files import plan_text
from companion.plan.source import Found, Source
from companion.problems import Problem, Problems, plain, quoted

_HOLD = re.compile(r"(\d{1,6})(?:-(\d{1,6}))?\s*,\s*(\d{1,6})(?:-(\d{1,6}))?(?:\s*=\s*(\S.*))?", re.ASCII)
_SUCH_AS = (
    "Write rows,stitches such as 40-44,20-26 or 41,22=navy: rows from the cast-on, stitches from the right edge."
)


class Held(Record):
    """Stitches that stay: rows and stitches from 1, both ends counted. ``yarn``: that one; "" = that which each wants
    most."""

    first_row: int
    last_row: int
    first: int
    last: int
    yarn: str = ""


def held(word: str) -> tuple[Held, ...]:
    """What a word says: one hold, or the file of several, a line each, "#" beginning a note.

    Raises:
        Problems: it is neither, or lines of the file are amiss.
    """
    one = _read(word)
    if one is not None:
        return (one,)
    path = Path(word)
    if not path.exists() and re.match(r"[\d,=-]", word):
        raise Problems([Problem(f"{quoted(word)} holds no stitches.", mend=_SUCH_AS)])
    source, found = Source(str(path), plan_text(path)), Found()
    lines = list(_lines(source, found))
    found.stop()
    return tuple(lines)


def _lines(source: Source, found: Found) -> Iterator[Held]:
    for number, line in enumerate(source.lines, 1):
        said = line.partition("#")[0].strip()
        if not said:
            continue
        one = _read(said)
        if one is None:
            found.add(source.problem(number, 1, "This line holds no stitches.", _SUCH_AS), cause="line")
        else:
            yield one


def _read(text: str) -> Held | None:
    match = _HOLD.fullmatch(text.strip())
    if match is None:
        return None
    first_row, last_row, first, last, yarn = match.groups()
    one = Held(int(first_row), int(last_row or first_row), int(first), int(last or first), (yarn or "").strip())
    return one if 0 < one.first_row <= one.last_row and 0 < one.first <= one.last else None


def check_inside(holds: tuple[Held, ...], rows: int, stitches: int) -> None:
    """Nothing is held that the chart does not have.

    Raises:
        Problems: something is.
    """
    beyond = [hold for hold in holds if hold.last_row > rows or hold.last > stitches]
    if beyond:
        size = f"The chart has {rows:,} rows of {stitches:,} stitches"
        raise Problems(
            Problem(f"{size}; row {hold.last_row:,}, stitch {hold.last:,} cannot be held.") for hold in beyond
        )


def unknown_yarn(name: str, known: list[str]) -> Problems:
    """A yarn to be held that the plan does not have."""
    what = f"No yarn {quoted(name)} is there to hold stitches in."
    return Problems([Problem(what, mend=plain(f"Yarns of this draft: {', '.join(known)}."))])
