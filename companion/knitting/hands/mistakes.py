"""A mistake some rows down, and the four ways to live with it: sew over it, ladder down to it, leave it, or rip back.

A mistake is cells of one row that are wrong. What cannot be done is told as data, ``words`` say why.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import groupby
from typing import Literal

from companion.knitting.cloth.areas import Area, Strip
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, as_knitted, cells, merged
from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.cloth.segments import divided, segments
from companion.knitting.hands.needles import makes
from companion.knitting.hands.runs import own_steps
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record

MOST_SEWN = 3
"""So many stitches are sewn over and no more, since duplicate stitch makes the fabric thick and stiff ("Duplicate
stitch tips": one or two stray stitches; no limit is published, three are common practice, no source)."""

Remedy = Literal["sew", "ladder", "leave", "rip"]
REMEDIES: tuple[Remedy, ...] = ("sew", "ladder", "leave", "rip")


class Mistake(Record):
    """Cells of one row that are wrong: ``row`` from 0, ``columns`` rising. ``yarn``: worked in this one instead of
    the plan's; "" = in the right yarn, but not the right stitch."""

    row: int
    columns: tuple[int, ...]
    yarn: str = ""


class Sewing(Record):
    """Sewing over it afterwards. ``why_not``: "many" stitches, or not the "colour" is wrong."""

    stitches: int
    why_not: Literal["", "many", "colour"] = ""


class Laddering(Record):
    """Dropping the columns down to the row and hooking them up again: so many ``columns``, over so many ``rows``, the
    wrong one included. ``why_not``: it cannot mend a "colour", it is at the "edge", or not in one strand's "area", or
    its columns are bound "off" above it."""

    columns: int
    rows: int
    why_not: Literal["", "colour", "edge", "area", "off"] = ""


class Ripping(Record):
    """Ripping back to one row above, then unpicking. ``whole``: so many rows are whole then; ``rows`` rows are ripped
    (0: nothing is to be ripped); ``on_needle`` stitches must be there after it. ``runs`` and ``stitches`` are then
    unpicked, the first wrong run the last of them."""

    whole: int
    rows: int
    on_needle: int
    runs: int
    stitches: int


def sewing_over(mistake: Mistake) -> Sewing:
    """Whether and how it is sewn over."""
    stitches = len(mistake.columns)
    return Sewing(stitches, "colour" if not mistake.yarn else "many" if stitches > MOST_SEWN else "")


def laddering(mistake: Mistake, strands: Strands, row: int, done: int) -> Laddering:
    """Whether its columns can be dropped down to it when ``done`` segments of row ``row`` are worked: only in one
    strand's area, with that strand's stitches on both sides in every row, since a change must stay crossed."""
    columns = mistake.columns
    around = sorted({near for column in columns for near in (column - 1, column, column + 1)})
    owners, dropped, is_at_edge = set[int](), set[int](), False
    ways = {_upward(mistake.row, column, strands.rows.fabric, row) for column in columns}
    if any(is_ended for _, is_ended in ways) or len(ways) > 1:
        return Laddering(len(columns), 0, "colour" if mistake.yarn else "off")
    [(upward, _)] = ways
    for index in upward:
        worked = done if index == row else len(strands.rows[index].segments)
        for column in around:
            segment = segment_at(strands.rows[index], column)
            if segment is None:
                is_at_edge = True
            elif segment < worked:
                owners.add(strands.strand_of[index][segment])
                dropped.update([index] if column in columns else [])
    why_not: Literal["", "colour", "edge", "area"] = (
        "colour" if mistake.yarn else "edge" if is_at_edge else "area" if len(owners) > 1 else ""
    )
    return Laddering(len(columns), len(dropped), why_not)


def _upward(low: int, column: int, fabric: Fabric, row: int) -> tuple[tuple[int, ...], bool]:
    """The rows from row ``low`` upward in a column, as far as they are begun, and whether it ends there below the
    needles: bound off."""
    found, at = [low], fabric.above(low, column)
    while at is not None and at <= row:
        found.append(at)
        at = fabric.above(at, column)
    return tuple(found), at is None and found[-1] != row


def ripping(mistake: Mistake, rows: Rows, row: int, done: int) -> Ripping:
    """How far down it is when ``done`` segments of row ``row`` are worked."""
    above = next((one for one in rows.following(mistake.row) if one <= row), None)
    last = mistake.row if above is None else above  # so far down; past the end of a part to the wrong row itself
    first = place_of(mistake, rows).segment
    unpicked = [*own_steps(rows, mistake.row)][first:] + ([*own_steps(rows, above)] if above else [])
    to_come = len(rows[row].segments) - done if row == last else 0
    unpicked = unpicked[:len(unpicked) - to_come]
    stitches = sum(makes(step) for run in unpicked for step in run)
    return Ripping(last + (not to_come), row - last, rows[last].stitches, len(unpicked), stitches)


def place_of(mistake: Mistake, rows: Rows) -> Place:
    """The first wrong run, in working order.

    Raises:
        ValueError: no cell of it is a stitch.
    """
    row = rows[mistake.row]
    return Place(mistake.row, min(at for at in (segment_at(row, c) for c in mistake.columns) if at is not None))


def segment_at(row: Row, column: int) -> int | None:
    """The segment, in working order, that has a stitch in a column; None where there is no stitch."""
    if row.upto(column) == row.upto(column - 1):
        return None
    for index, segment in enumerate(row.segments):
        if min(segment.first, segment.last) <= column <= max(segment.first, segment.last):
            return index
    return None


def to_sew_over(mistake: Mistake, rows: Rows) -> Iterator[Area]:
    """What is sewn over a mistake in colour: its cells in the yarn that the plan has there."""
    planned = list(cells(rows.fabric.rows[mistake.row]))
    for yarn, columns in groupby(mistake.columns, key=lambda column: getattr(planned[column - 1], "yarn", "")):
        yield Area(yarn, tuple(Strip(mistake.row, column, 1) for column in columns))


def as_worked(rows: Rows, mistakes: Iterable[Mistake]) -> Rows:
    """The rows as they really are with these mistakes left in them.

    Only a change worked a few stitches early or late is drawn in, since strands then hang elsewhere; where a row
    would have other runs than planned, or none where strands met, it stays as planned: a stray stitch moves no strand
    that matters.
    """
    changed = dict[int, FabricRow]()
    for mistake in mistakes:
        if mistake.yarn and mistake.row < len(rows):
            planned = changed.get(mistake.row, rows.fabric.rows[mistake.row])
            drawn = _with_yarn(planned, mistake)
            if _yarns(drawn) == _yarns(planned) and _is_divided_alike(rows, mistake.row, drawn):
                changed[mistake.row] = drawn
    if not changed:
        return rows
    real = tuple(changed.get(index, row) for index, row in enumerate(rows.fabric.rows))
    return rows.of(replace(rows.fabric, rows=real))


def _with_yarn(row: FabricRow, mistake: Mistake) -> FabricRow:
    wrong = set(mistake.columns)
    real = (
        stitch._replace(yarn=mistake.yarn) if stitch is not None and column in wrong else stitch
        for column, stitch in enumerate(cells(row), 1)
    )
    return row._replace(runs=merged(Run(1, stitch) for stitch in real))


def _is_divided_alike(rows: Rows, index: int, drawn: FabricRow) -> bool:
    """Whether every strand that shares a run of the row still has a part of it."""
    if index not in rows.meetings:
        return True
    runs = divided(tuple(segments(as_knitted(drawn), rows[index].toward)), rows.meetings[index])
    return [run.yarn for run in runs] == [run.yarn for run in rows[index].segments]


def _yarns(row: FabricRow) -> list[str]:
    """The yarns of the row's runs, from column 1 upward."""
    return [yarn for yarn, _ in groupby(run.stitch.yarn for run in row.runs if run.stitch is not None)]
