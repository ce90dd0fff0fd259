"""Strands that meet in runs which they share, made from strands that do not: where one ends below a run of its yarn
that another one works, both work it, and the one that came from below goes on. So there are meetings of every kind,
and nobody has looked for the best ones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from companion.knitting.cloth.rows import Place
from companion.knitting.strands.strands import Strands


def with_meetings(strands: Strands, is_wanted: Callable[[], bool] = lambda: True) -> Strands:
    """The same piece with strands that meet wherever one ends below a run of its yarn, if that ``is_wanted``. As many
    are joined, at the same places."""
    for index in range(1, len(strands.rows)):
        for strand, last in strands.last.items():
            at = _may_meet(strands, strand, last, index)
            if at is not None and is_wanted():
                strands = _exchanged(strands, Place(index, at), strand, strands.rows.segment(last).exit)
    return strands


def _may_meet(strands: Strands, strand: int, last: Place, index: int) -> int | None:
    """The run of a row inside which a strand hangs that ends in the row below."""
    rows, gap = strands.rows, strands.rows.segment(last).exit
    may = strands.bars.may_go_on(last.row, index) if last.row in rows.before(index) else (lambda *_: False)
    for at, run in enumerate(rows[index].segments):
        columns = run.columns
        inside = [column - (rows[index].toward == "right") for column in columns[:-1]]
        is_of_it = run.yarn == rows.segment(last).yarn and gap in inside
        if is_of_it and strand not in strands.strand_of[index] and (may is None or may(gap, at)):
            return at
    return None


def _exchanged(strands: Strands, place: Place, comes: int, gap: int) -> Strands:
    """At a gap inside a run another strand takes over, and works what was to be worked after it."""
    row, at = place
    met = strands.rows.meetings
    rows = strands.rows.divided_at({**met, row: tuple(sorted((*met.get(row, ()), gap)))})
    goes = strands.at(place)
    numbers = list(map(list, strands.strand_of))
    for number, later in enumerate(numbers[row:], row):
        start = at + 1 if number == row else 0
        later[start:] = [comes if strand == goes else strand for strand in later[start:]]
    numbers[row].insert(at + 1, comes)
    return replace(strands, rows=rows, strand_of=tuple(map(tuple, numbers)))
