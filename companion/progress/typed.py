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
    start = rows.fabric.starts.get(part)
    if start is None:
        raise Refused(f"The piece has no {part} part.")
    last = rows.in_part(start)
    if number > last + may_be_past and len(rows.fabric.starts) > 1:
        raise Refused(f"{f'The {part} part' if part else 'The whole piece'} has {last} rows.")
    return start + number


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
    ends = [start for start in sorted(rows.fabric.starts.values()) if 0 < start < place]
    return [row_named(end, rows) for end in [*ends, place]]
