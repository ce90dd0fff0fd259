"""Where am I? What is asked and answered."""

from __future__ import annotations

from collections.abc import Sequence

from companion.knitting.cloth.rows import Rows
from companion.knitting.hands.whereabouts import landmark
from companion.knitting.words.places import row_number
from companion.knitting.words.terms import how_many, sentence

WHERE_QUESTION = (
    "What lies on the needle, from left to right? Colours by name or symbol, counts if you have them: s 12, b 6, s 22"
)


def rows_found(rows: Rows, found: Sequence[int]) -> list[str]:
    """The rows that fit, each with its landmark."""
    if not found:
        return ["No row of this piece has such runs. Count again, or leave counts out that you are not sure of."]
    heading = "One row fits:" if len(found) == 1 else f"{how_many(len(found), 'row')} are alike in this:"
    return [heading, *(_row(rows, index) for index in found)]


def _row(rows: Rows, index: int) -> str:
    row = rows[index]
    name = "round" if row.is_round else "row"
    mark = landmark(rows, index)
    if mark is None:
        above = "above nothing but the first colours"
    elif mark.rows:
        above = f"{how_many(mark.rows, name)} above the first {mark.yarn} there"
    else:
        above = f"the first {name} with this {mark.yarn}"
    return f"{sentence(name)} {row_number(row)} ({row.side}) is on the needle, {above}."
