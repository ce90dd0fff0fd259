"""Where a piece divides and is joined again: the rows that a plan draws side by side, put into the order in which
they are worked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate, pairwise

from companion.knitting.cloth.fabric import FabricRow, Part, Run, merged
from companion.knitting.value import Record
from companion.plan.schema.sections import OpeningShape
from companion.plan.sections import Section


class Undivided(Exception):
    """The piece cannot be divided as section ``section`` (from 0) says, and why."""

    def __init__(self, section: int, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.section, self.what, self.mend = section, what, mend


def divided(
    sections: Sequence[Section], rows: Sequence[FabricRow]
) -> tuple[tuple[FabricRow, ...], frozenset[int]]:
    """The rows in working order: where a section has an opening, from there on those of the part that is worked
    first, then those of the other, up to the row that joins them, if any does. And which openings, from 0, have their
    middle held.

    A slit that is drawn is joined again by the first row that has no "." between its parts; one with a height by the
    row above that. An opening holds for all slits that are drawn in its section.

    Raises:
        Undivided: an opening is amiss.
    """
    found, held, number, placed = list[FabricRow](), set[int](), 0, 0
    for index, (section, first) in enumerate(zip(sections, _starts(sections), strict=False)):
        shape, stop = section.shape.opening, first + section.rows
        if shape and placed == len(rows):
            what = "The parts of the opening below are not joined again, and a part does not divide."
            mend = 'Join them first: draw a row with no "." between them, or say with "rows" how high that one is.'
            raise Undivided(index, what, mend)
        is_to_come = shape is not None
        while shape and is_to_come:
            slit = _slit(index, shape, rows, first, stop, placed)
            found += rows[placed:slit.start]
            found += _parts(index, shape, rows, slit)
            held |= {number} if shape.middle == "held" else set()
            number, placed = number + 1, slit.stop
            is_to_come = shape.at is None and any(map(_gap, rows[placed:stop]))
    return (*found, *rows[placed:]), frozenset(held)


class _Slit(Record):
    """The rows of an opening, from ``start`` up to ``stop`` and without it; where that is the number of rows, its
    parts are not joined again. ``splits``: the last column of the right part in each of these rows."""

    start: int
    stop: int
    splits: tuple[int, ...]


def _starts(sections: Sequence[Section]) -> Iterator[int]:
    return accumulate((section.rows for section in sections), initial=0)


def _slit(index: int, shape: OpeningShape, rows: Sequence[FabricRow], first: int, stop: int, placed: int) -> _Slit:
    """Where the next opening of a section lies, whose rows are ``first`` to ``stop``; below ``placed`` they have
    their place already."""
    low = first if shape.at is not None else max(first, placed)
    try:
        start, split = _division(shape, rows[low:stop])
    except ValueError as error:
        mend = 'Say where: "at" is the number of stitches to the right of it.'
        raise Undivided(index, str(error), mend) from None
    start += low
    if not start:
        raise Undivided(index, "Row 1 of the piece lies in the opening.", "Work at least one row below it.")
    if start <= placed and placed:
        what = f"Row {start + 1:,} of the piece lies in an opening, and joins the parts of the one below it."
        raise Undivided(index, what, "Work at least one row between two openings.")
    if rows[start - 1].is_round:
        what = "The row below the opening is a round, and the rows of its parts go to and fro."
        raise Undivided(index, what, "Work at least one flat row below it.")
    splits = list(_splits(rows[start:], split))
    high = len(splits)
    if shape.rows is not None:
        high = shape.rows
        if start + high >= len(rows):
            above = len(rows) - start - 1
            rows_high = "1 row" if high == 1 else f"{high:,} rows"
            what = f"The opening is {rows_high} high, and of the piece {above:,} lie above its first row."
            raise Undivided(index, what, 'Without "rows" it is open to the top.')
    elif shape.at is None and 0 in splits:
        high = splits.index(0)
    return _Slit(start, start + high, tuple(here or split for here in splits[:high]))


def _parts(index: int, shape: OpeningShape, rows: Sequence[FabricRow], slit: _Slit) -> Iterator[FabricRow]:
    """The rows of the parts beside an opening, those of the one that is worked first before those of the other."""
    parts = {part: list(_part(rows[slit.start:slit.stop], slit.splits, part)) for part in _BOTH}
    for part, own in parts.items():
        if trouble := _amiss(part, own):
            raise Undivided(index, *trouble)
    if slit.stop < len(rows) and (trouble := _not_joined(parts, rows[slit.stop], slit.stop)):
        raise Undivided(index, *trouble)
    order: list[Part] = [shape.first, "left" if shape.first == "right" else "right"]
    yield from (row for part in order for row in parts[part] if row.stitches)


def _not_joined(parts: Mapping[Part, Sequence[FabricRow]], above: FabricRow, number: int) -> tuple[str, str] | None:
    """Why a row, from 0, cannot join these parts."""
    row = f"Row {number + 1:,} of the piece"
    for part, own in parts.items():
        if not own[-1].stitches:
            return f"{row} joins the parts, and the {part} part ends below it.", "Draw both up to the row below it."
    if above.is_round:
        return f"{row} joins the parts, and is a round.", "Work at least one flat row above the opening."
    (_, right), (left, _) = parts["right"][-1].stretches[-1], parts["left"][-1].stretches[0]
    if not any(first <= right and left <= last for first, last in above.stretches):
        return f'{row} is to join the parts, and has "." between them.', 'Mend "rows", or leave it out.'
    return None


_BOTH: tuple[Part, ...] = ("right", "left")


def _division(shape: OpeningShape, rows: Sequence[FabricRow]) -> tuple[int, int]:
    """Where it lies: from which of these rows on (from 0), and the last column of the right part there.

    Raises:
        ValueError: it lies nowhere, and why.
    """
    if shape.at is None:
        gaps = (_gap(row) for row in rows)
        found = next(((number, gap) for number, gap in enumerate(gaps) if gap), None)
        if found is None:
            raise ValueError('The section has an opening, and no row of it has "." between its stitches.')
        return found
    if shape.row > len(rows):
        raise ValueError(f"The opening begins in row {shape.row:,} of the section, which has {len(rows):,}.")
    row = rows[shape.row - 1]
    if not 0 < shape.at < row.stitches:
        raise ValueError(f"The opening lies {shape.at:,} stitches from the right, and the row has {row.stitches:,}.")
    return shape.row - 1, _column(row, shape.at)


def _splits(rows: Sequence[FabricRow], split: int) -> Iterator[int]:
    """For every row the last column of the right part, which is divided first at ``split``; 0 where its stitches lie
    side by side with those of the left one. A part may grow toward the other while "." is drawn between them."""
    right, left = split, split + 1  # the parts' columns nearest to each other
    for row in rows:
        stretches = row.stretches
        beside = ((one[1], other[0]) for one, other in pairwise(stretches) if one[0] <= right and left <= other[1])
        if gap := next(beside, None):
            right, left = gap
            yield right
        elif any(first <= right and left <= last for first, last in stretches):
            right, left = split, split + 1
            yield 0
        else:  # one part alone goes on
            yield max((last for _, last in stretches if last < left), default=right)


def _gap(row: FabricRow) -> int | None:
    """The last column before the first "no stitch" cells between stitches."""
    stretches = row.stretches
    return stretches[0][1] if len(stretches) > 1 else None


def _column(row: FabricRow, stitches: int) -> int:
    """The column of the stitch with this number, from the right."""
    column = 0
    for run in row.runs:
        if run.stitch is not None:
            if stitches <= run.columns:
                return column + stitches
            stitches -= run.columns
        column += run.columns
    return column


def _part(rows: Sequence[FabricRow], splits: Sequence[int], part: Part) -> Iterator[FabricRow]:
    """The rows with the stitches of one part alone. Equal rows go on being one."""
    made: dict[tuple[int, int], FabricRow] = {}
    for row, split in zip(rows, splits, strict=True):
        key = id(row), split
        if key not in made:
            made[key] = FabricRow(merged(_kept(row, split, part)), row.is_round, part)
        yield made[key]


def _kept(row: FabricRow, split: int, part: Part) -> Iterator[Run]:
    column = 0
    for run in row.runs:
        right = min(run.columns, max(0, split - column))
        yield Run(right, run.stitch if part == "right" else None)
        yield Run(run.columns - right, run.stitch if part == "left" else None)
        column += run.columns


def _amiss(part: Part, rows: Sequence[FabricRow]) -> tuple[str, str] | None:
    if not rows[0].stitches:
        return f"The {part} part has no stitch in the row where the opening begins.", ""
    if any(row.is_round for row in rows):
        return "The rows of a part are worked flat, and a section above the opening is worked round.", ""
    ended = next((number for number, row in enumerate(rows) if not row.stitches), len(rows))
    if any(row.stitches for row in rows[ended:]):
        return f'The {part} part has stitches above a row in which it has only ".".', "Draw it without a break."
    return None
