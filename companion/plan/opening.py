"""Where a piece divides: the rows that a plan draws side by side, put into the order in which they are worked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from companion.knitting.cloth.fabric import FabricRow, Part, Run, merged
from companion.plan.schema.sections import OpeningShape
from companion.plan.sections import Section


class Undivided(Exception):
    """The piece cannot be divided as section ``section`` (from 0) says, and why."""

    def __init__(self, section: int, what: str, mend: str = "") -> None:
        super().__init__(what)
        self.section, self.what, self.mend = section, what, mend


def divided(sections: Sequence[Section], rows: Sequence[FabricRow]) -> tuple[FabricRow, ...]:
    """The rows in working order: where a section has an opening, from there on those of the part that is worked
    first, then those of the other.

    Raises:
        Undivided: the opening is amiss.
    """
    having = [index for index, section in enumerate(sections) if section.shape.opening]
    if not having:
        return tuple(rows)
    if len(having) > 1:
        raise Undivided(having[1], "A piece divides once, and a section below has an opening too.")
    index = having[0]
    shape = sections[index].shape.opening
    assert shape is not None
    first = sum(section.rows for section in sections[:index])
    try:
        start, split = _division(shape, rows[first:first + sections[index].rows])
    except ValueError as error:
        mend = 'Say where: "at" is the number of stitches to the right of it.'
        raise Undivided(index, str(error), mend) from None
    start += first
    if not start:
        raise Undivided(index, "Row 1 of the piece lies in the opening.", "Work at least one row below it.")
    if rows[start - 1].is_round:
        what = "The row below the opening is a round, and the rows of its parts go to and fro."
        raise Undivided(index, what, "Work at least one flat row below it.")
    splits = list(_splits(rows[start:], split))
    if shape.at is None and 0 in splits:
        row = start + splits.index(0) + 1
        what = f"Row {row:,} of the piece has no \".\" between the parts, and parts are not joined again."
        raise Undivided(index, what, 'Draw "." between them, or say with "at" where a slit without a gap lies.')
    parts = {part: list(_part(rows[start:], [here or split for here in splits], part)) for part in _BOTH}
    for part, own in parts.items():
        if trouble := _amiss(part, own):
            raise Undivided(index, *trouble)
    order: list[Part] = [shape.first, "left" if shape.first == "right" else "right"]
    return (*rows[:start], *(row for part in order for row in parts[part] if row.stitches))


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
