"""Rows as they were worked, laid side by side and above one another: which stitch lies in which column, as the right
side looks. Right-side rows go from right to left, wrong-side rows from left to right; for left hands the other way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from companion.drafts.rows.doings import Hand, Label
from companion.drafts.rows.working import RowWorked
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.outlines import MOST_DECREASED
from companion.knitting.value import Record
from companion.plan.phrases import Amiss

Face = Literal["k", "p", ""]
"""How a stitch looks on the right side; "" = that is not told."""

Cell = tuple[str, Face]


class Laid(Record):
    """One row. ``first``: the column of its first cell, from the right; ``cells`` upward from there; ``level``: so
    many rows lie below it; ``below``: the place of the row it is worked on, None for the first."""

    label: Label
    first: int
    cells: tuple[Cell, ...]
    level: int
    below: int | None

    @property
    def last(self) -> int:
        """The column of its last cell."""
        return self.first + len(self.cells) - 1


def sided(labels: Sequence[Label]) -> Iterator[Label | Amiss]:
    """The rows with their sides: those that say one must have it."""
    below: Label | None = None
    whole: Label | None = None
    for label in labels:
        if label.begins == "part":
            below = whole
        side: Literal["RS", "WS"] = "RS"
        if below is not None and not label.is_round and not below.is_round and below.side == "RS":
            side = "WS"
        follows = below is None or (label.part, label.number) == (below.part, below.number + 1)
        is_next = follows or bool(label.begins) or label.number == 1
        if label.side and label.side != side and is_next:
            yield _wrong_side(label, side, below)
        below = label._replace(side=label.side or side)
        if not label.part:
            whole = below
        yield below


def _wrong_side(label: Label, side: str, below: Label | None) -> Amiss:
    long = {"RS": "right-side", "WS": "wrong-side"}
    if below is None:
        what = f"Row 1 is a {long[label.side]} row here; a plan begins with a right-side row."
        return Amiss(label.at, what, "Work one row more below it, or one less.", "side")
    if label.is_round:
        return Amiss(label.at, f"Round {label.number} is a round, and those are right-side rows all.", cause="side")
    before = f"{'round' if below.is_round else 'row'} {below.number}"
    what = (
        f"{before} below it is one, too: flat work is turned after every row."
        if label.side == below.side else
        f"above {before} comes a {long[side]} row."
    )
    mend = 'Name the side of row 1 alone; rows that are worked round are called "Round 1".'
    return Amiss(label.at, f"Row {label.number} is a {long[label.side]} row here, and {what}", mend, "side")


def laid(rows: Sequence[RowWorked], *, is_mirrored: bool) -> list[Laid]:
    """All rows, moved so that the lowest column is 1."""
    found: list[Laid] = []
    last: dict[Part, int] = {}
    for index, row in enumerate(rows):
        found.append(_row(row, found, index, last, is_mirrored=is_mirrored))
        last[row.label.part] = index
        if row.as_below:
            found[index] = _gone_on(found, index)
    least = min(row.first for row in found)
    return [row._replace(first=row.first - least + 1) for row in found]


def _row(
    row: RowWorked, found: Sequence[Laid], index: int, last: Mapping[Part, int], *, is_mirrored: bool
) -> Laid:
    """A row above those that are found; ``last``: the last one of each part. Of parts that are joined the one where
    it begins lies below it."""
    label = row.label
    goes_left = (label.side == "RS") != is_mirrored
    below: int | None = None
    low, high, level = 1, row.taken, 0
    if index:
        right_part, left_part = last.get("right", index - 1), last.get("left", index - 1)
        below = index - 1 if not label.begins else last[""] if label.begins == "part" else (
            right_part if goes_left else left_part
        )
        low, high, level = found[below].first, found[below].last, found[below].level + 1
        if label.begins == "part":
            low, high = (low, low + row.taken - 1) if label.part == "right" else (high - row.taken + 1, high)
        elif label.begins == "whole":
            low, high = found[right_part].first, found[left_part].last
    start, end = row.start, row.end
    low, high = (low - start, high + end) if goes_left else (low - end, high + start)
    cells = [(run.yarn, _face(run.hand, label.side)) for run in row.runs for _ in range(run.number)]
    upward = cells if goes_left else cells[::-1]
    return Laid(label, low, tuple(upward), level, below)


def _face(hand: Hand, side: str) -> Face:
    match hand:
        case "k" | "p":
            return hand if side == "RS" else "p" if hand == "k" else "k"
        case "":
            return "k"
        case _:
            return ""


def _gone_on(rows: Sequence[Laid], index: int) -> Laid:
    """A row of which only its edges are told, its stitches as those two rows below, or below."""
    row = rows[index]
    below = rows[row.below] if row.below is not None else row
    under = rows[below.below] if below.below is not None else below
    looks: list[Cell] = []
    for column, (yarn, _) in enumerate(row.cells, row.first):
        here: Face = ""
        for one in (under, below):
            if not here and one.first <= column <= one.last:
                here = one.cells[column - one.first][1]
        looks.append((yarn, here))
    return row._replace(cells=tuple(looks))


def as_drawn(rows: Sequence[Laid], *, is_mirrored: bool) -> list[Laid]:
    """The rows as a plan draws them. Of a left-handed knitter's rows what is bound off where a row begins is drawn a
    row earlier, since a plan is read for right hands, and hers bind it off a row later."""
    found = list(rows)
    if not is_mirrored:
        return found
    for row in rows:
        goes_left = row.label.side == "WS"
        begins = row.label.begins == "part"
        if row.below is None or row.label.is_round or (begins and (row.label.part == "right") != goes_left):
            continue
        under = found[row.below]
        lost = row.first - under.first if goes_left else under.last - row.last
        if lost > MOST_DECREASED and under.below is not None and not under.label.is_round:
            cells = under.cells[lost:] if goes_left else under.cells[:-lost]
            found[row.below] = under._replace(first=under.first + (lost if goes_left else 0), cells=cells)
    return found
