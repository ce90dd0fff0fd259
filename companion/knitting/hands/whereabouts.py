"""Where am I? The rows of a piece whose runs are those on the needle, told from what lies beside them in the picture.

The runs on the needle show the row that was worked last: its colours and counts, which are read in the order in which
they lie; a stitch slipped at its start is still of the row below. Rows that are really alike cannot be told apart by
them, so all of them are given.
"""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.slipped import is_slipped, kept_yarn
from companion.knitting.value import Record


class OnNeedle(Record):
    """One run on the needle: so many stitches of a yarn; 0 = not counted."""

    yarn: str
    stitches: int = 0


class Landmark(Record):
    """The nearest row, at or below a row, in which a yarn comes into the picture, and how many rows below it."""

    yarn: str
    rows: int


def seen_from(rows: Rows, index: int, *, is_right_side: bool) -> tuple[OnNeedle, ...]:
    """The runs on the needle from left to right when a row is worked, with one side facing."""
    row = rows[index]
    runs = [OnNeedle(*run) for run in row.seen]
    if is_slipped(rows, index) and (kept := kept_yarn(rows, index)) != runs[0].yarn:
        runs[:1] = [OnNeedle(kept, 1), runs[0]._replace(stitches=runs[0].stitches - 1)]
    return tuple(runs if is_right_side == (row.toward == "right") else runs[::-1])


def rows_like(rows: Rows, runs: Sequence[OnNeedle], *, is_right_side: bool | None = None) -> tuple[int, ...]:
    """The rows, from 0, that may have been worked last when these runs lie on the needle from left to right.
    ``is_right_side``: whether the right side faces the knitter; None: not known."""
    faces = (True, False) if is_right_side is None else (is_right_side,)
    return tuple(
        index for index in range(len(rows))
        if any(_fits(seen_from(rows, index, is_right_side=face), runs) for face in faces)
    )


def _fits(there: Sequence[OnNeedle], told: Sequence[OnNeedle]) -> bool:
    return len(there) == len(told) and all(
        one.yarn == other.yarn and other.stitches in (0, one.stitches)
        for one, other in zip(there, told, strict=True)
    )


def landmark(rows: Rows, row: int) -> Landmark | None:
    """What a row lies above: the last yarn that came into the picture at or below it, having not been in the row
    before. None where nothing came in after row 1."""
    index = row
    while under := rows.before(index):
        before = {segment.yarn for low in under for segment in rows[low].segments}
        new = next((segment.yarn for segment in rows[index].segments if segment.yarn not in before), "")
        if new:
            return Landmark(new, rows.between(index, row) + (index != row))
        index = under[0]
    return None
