"""What is asked at the drawing board: words to be written, a motif's file, how often it is repeated, what comes or
goes, a yarn."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from companion.dialogue.questions import Asking, Choice, Reading, Words
from companion.problems import Problems, plain, show

if TYPE_CHECKING:
    from companion.board.motifs import Motif
    from companion.dialogue.painting import Painting

OFFERED = range(2, 7)
"""Numbers that can be clicked; others are typed."""

ANOTHER = "The file of the motif: rows drawn in the signs of this plan (.txt), or another plan (.yaml):"

MOST_REPEATS = 200
"""So many times a motif is repeated at most."""


def repeat(painting: Painting) -> Asking[None]:
    """What is selected or in hand, so many times."""
    if painting.parts.floating is None and painting.parts.selected is None:
        painting.parts.turned(lambda motif: motif)  # which says what is missing
        return
    across = yield from _number("How many side by side?")
    if across is None:
        return
    up = yield from _number("How many one above the other?")
    if up is not None:
        painting.parts.repeated(across, up)


def _number(text: str) -> Asking[int | None]:
    """A number from 1 on; None where it is not said."""
    offered = tuple((str(number), "") for number in OFFERED)
    answer = yield Words(text, "1", is_number=True, offered=offered, joined_by=None)
    return max(1, min(int(answer or 1), MOST_REPEATS)) if answer is not None else None


def text(painting: Painting) -> Asking[None]:
    """Words in the yarn in hand."""
    from companion.board.letters import SIGNS, written

    signs = tuple((sign, "") for sign in SIGNS)
    answer = yield Words("What is to be written, in the yarn in hand?", offered=signs, joined_by="")
    if answer:
        yield from _floating(painting, lambda: written(answer, painting.yarn))


def motif(painting: Painting) -> Asking[None]:
    """The chart of a plan, or one alone in a text file: one of this folder, or another one by its name."""
    from companion.board.motif_files import motif_in
    from companion.dialogue.basket import plans_in
    from companion.dialogue.new.answers import path_in

    folder = painting.board.path.resolve().parent
    plans = [path for path in (*plans_in(folder), *_charts_in(folder)) if path.name != painting.board.path.name]
    lines = (*(path.name for path in plans), "Another one, by its name")
    at = (yield Choice(("The chart in which file?",), lines)) if plans else 0
    if at is None:
        return
    if at < len(plans):
        yield from _floating(painting, partial(motif_in, plans[at], painting.board.loaded))
        return
    answer: str | None = ""
    while painting.parts.floating is None:  # a name that was mistyped is asked for again
        answer = yield Words(ANOTHER, answer or "")
        if not answer:
            return
        yield from _floating(painting, partial(motif_in, path_in(folder, answer), painting.board.loaded))


def _charts_in(folder: Path) -> list[Path]:
    """Text files in a folder, which may be charts."""
    try:
        return sorted(path for path in folder.iterdir() if path.suffix == ".txt" and path.is_file())[:100]
    except OSError:
        return []


def _floating(painting: Painting, made: Callable[[], Motif]) -> Asking[None]:
    """A motif in hand, or to be read why there is none."""
    try:
        painting.parts.float(made())
    except Problems as found:
        yield Reading("This cannot be done", [show(problem) for problem in found.problems])


def insert(painting: Painting) -> Asking[None]:
    """A row or a column like the one that is meant, as often as is wanted."""
    at = yield Choice((f"{painting.told}. What is inserted?",), ("Rows like this one", "Columns like this one"))
    if at is None:
        return
    many = yield from _number("How many?")
    if many is not None and at == 0:
        painting.resize(lambda board, cell: board.insert_rows(cell.row, many))
    elif many is not None:
        painting.resize(lambda board, cell: board.insert_columns(cell.column, many))


def delete(painting: Painting) -> Asking[None]:
    """The row or the column that is meant, or those that are selected."""
    is_part, part, rows = painting.parts.selected is not None, painting.parts.chosen, painting.parts.rows
    which = "that are selected" if is_part else "here"
    lines = (f"The row{'s' * is_part} {which}", f"The column{'s' * is_part} {which}")
    at = yield Choice((f"{painting.told}. What is deleted?",), lines)
    if at == 0 and rows:
        painting.resize(lambda board, _: board.delete_rows(min(rows), max(rows)))
    elif at == 1:
        painting.resize(lambda board, _: board.delete_columns(part.right, part.left))


def why(painting: Painting) -> Asking[None]:
    """Why the stitch that is meant cannot be painted, in full."""
    problem = painting.why_not
    if problem is None:
        painting.notice = f"{painting.told}. It can be painted."
    else:
        yield Reading(painting.told, [show(problem)])


def yarn(painting: Painting) -> Asking[None]:
    """One of all yarns, with what the stitch that is meant would cost in it."""
    from companion.dialogue.painting_words import yarn_told

    yarns = painting.board.yarns
    at = yield Choice(("Which yarn?",), tuple(plain(yarn_told(painting, name)) for name in yarns))
    if at is not None:
        painting.pick(yarns[at])
