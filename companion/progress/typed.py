"""Rows as a knitter types them, and as they are named to be typed: "5", in a divided piece "left 5" too."""

from __future__ import annotations

import re

from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Rows
from companion.knitting.words.places import row_key, rows_noun
from companion.progress.actions import Refused

_PARTS: dict[str, Part] = {"": "", "left": "left", "right": "right"}


def row_typed(text: str, rows: Rows, *, may_be_past: bool = True) -> int:
    """The row's place in working order, from 1; 0 is the cast-on. ``may_be_past``: one past the last row of a part
    may be typed, too.

    Raises:
        Refused: it is no row of this piece.
    """
    found = re.fullmatch(r"(?:(left|right)\s+)?([0-9]{1,9})", text.strip(), re.IGNORECASE)
    if found is None:
        raise Refused(f"Type a {rows_noun(rows)}'s number, and before it left or right for one of a part.")
    part, number = _PARTS[(found[1] or "").lower()], int(found[2])
    own = [block for block in rows.fabric.blocks if block.part == part]
    if not own:
        raise Refused(f"The piece has no {part} part.")
    last = rows.in_part(own[-1].start)
    if number > last + may_be_past and len(rows.fabric.blocks) > 1:
        raise Refused(f"{f'The {part} part' if part else 'The whole piece'} has {last} rows.")
    block = max((one for one in own if one.number <= max(number, 1)), key=lambda one: one.number)
    on = number - block.number
    if len(rows.fabric.blocks) > 1 and on > block.stop - block.start - (not may_be_past and block is not own[-1]):
        raise Refused(f"Row {number} lies beside an opening: type a row of a part, such as left 1.")
    return block.start + on + 1


def row_named(place: int, rows: Rows) -> str:
    """What is typed for a row, by its place in working order, from 1; past the last one, the number after it."""
    if 1 <= place <= len(rows):
        return row_key(rows[place - 1])
    if place < 1:
        return str(place)
    last = rows[len(rows) - 1]
    return f"{last.part} {last.number + place - len(rows)}".strip()


def rows_upto(place: int, rows: Rows) -> list[str]:
    """The last row of every part as far as a place in working order, from 1; before the first, "0"."""
    ends = [block.start for block in rows.fabric.blocks if 0 < block.start < place]
    return [row_named(end, rows) for end in [*ends, place]]
