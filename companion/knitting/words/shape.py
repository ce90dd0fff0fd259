"""The shape of a piece in the trade's words: "Bind off 3 sts at the beginning of the next 2 rows. (56 sts)". What is
said here is read again as the same outline, by the words under ``shape`` in a plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from companion.knitting.cloth.edges import EVEN, Change, Stint, change_beside, change_of, stints
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.outlines import MOST_DECREASED, is_held, opening_at, taken
from companion.knitting.cloth.rows import Rows
from companion.knitting.value import Record
from companion.knitting.words.places import row_noun
from companion.knitting.words.terms import Terms, count, how_many, ordinal, sentence

__all__ = ["ShapeTold", "line_shaped", "rows_shaped", "shape_heading", "shape_of", "stint_told"]


class ShapeTold(Record):
    """Rows ``first`` to ``last`` (places in working order, from 0) as one sentence; ``stitches``: so many then."""

    first: int
    last: int
    text: str
    stitches: int


def line_shaped(text: str, after: Sequence[tuple[Part, int, int]]) -> str:
    """A line of a plan that shapes a section, and what lies behind it: the part, or "", so many rows of the section,
    so many stitches."""
    told = [(part, f"{count(stitches)} after {how_many(rows, 'row')}") for part, rows, stitches in after]
    if len({what for _, what in told}) == 1:
        return f"{text} -> {told[0][1]}{', in each part' * (len(told) > 1)}"
    return f"{text} -> {', '.join(f'{part} part {what}' for part, what in told)}"


def shape_heading(title: str) -> str:
    """What the shape stands under."""
    return f"{title}: its shape"


def rows_shaped(rows: Rows, told: ShapeTold) -> str:
    """Which rows a sentence tells of, and the sentence: "rows 59 to 60: bind off 3 sts at ..."."""
    first, last = rows[told.first], rows[told.last]
    which = f" {first.number}" if first is last else f"s {first.number} to {last.number}"
    return f"{row_noun(first)}{which}: {told.text[:1].lower()}{told.text[1:]}"


def shape_of(rows: Rows, terms: Terms, levels: range | None = None) -> Iterator[ShapeTold | str]:
    """The shape of a piece, rows taken together; as a text what it is cast on with, and what a part is worked
    on, or a row that joins two. ``levels``: of those alone that have so many rows below them, counted from the first
    of these on."""
    level = rows.fabric.level
    joined = {_opening(rows, below) for at in range(len(rows)) if rows.is_joining(at) for below in rows.before(at)}
    asked = [at for at in range(len(rows)) if levels is None or level(at) in levels]
    for number, ((part, is_round), group) in enumerate(
        groupby(asked, key=lambda at: (rows[at].part, rows[at].is_round))
    ):
        indices = list(group)
        first, opening = indices[0], opening_at(rows, indices[0])
        if opening and first == opening.parts[0] and is_held(rows, first) and opening.middle:
            yield f"Leave the middle {count(opening.middle)} on a holder."
        if not first or rows.begins_part(first) or rows.is_joining(first):
            yield _begun(rows, first, part)
        elif levels is not None and (part or not number):
            yield _on(part, rows.beneath(first).stitches)
        at, of, places = first, change_of, OF_A_ROW
        if part:
            of, places = change_beside, OF_A_JOINED_PART if _opening(rows, first) in joined else OF_A_PART
        for stint in stints([of(rows, index) for index in indices], [rows[index].side for index in indices]):
            last = at + stint.rows - 1
            stitches = rows[last].stitches
            yield ShapeTold(at, last, stint_told(stint, stitches, terms, places, is_round=is_round), stitches)
            at = last + 1


def _opening(rows: Rows, index: int) -> int:
    """The number of the opening beside which a row lies."""
    return rows.fabric.block_of(index).opening


def _begun(rows: Rows, first: int, part: Part) -> str:
    if not first:
        return f"Cast on {count(rows[first].stitches)}."
    if not part:
        inner = rows[first].inner
        between = f", {inner[1] - inner[0]} of them cast on between them" if inner else ""
        return f"Both parts joined, on {count(rows[first].stitches)}{between}:"
    right, left = taken(rows, first)
    [below] = rows.before(first)
    return _on(part, sum(right <= at <= left for at in _columns(rows, below)))


def _on(part: Part, stitches: int) -> str:
    return sentence(f"{part} part, on {count(stitches)}:" if part else f"on {count(stitches)}:")


def _columns(rows: Rows, index: int) -> Iterator[int]:
    return (column for segment in rows[index].segments for column in segment.columns)


OF_A_ROW = "beginning", "end"
OF_A_PART, OF_A_JOINED_PART = ("neck edge", "outer edge"), ("inner edge", "outer edge")
"""What the two edges of a change are called: beside what stays open lies the neck, as a rule."""


def stint_told(
    stint: Stint, stitches: int, terms: Terms, places: tuple[str, str] = OF_A_ROW, *, is_round: bool = False
) -> str:
    """Rows taken together; ``stitches``: so many when they are done; ``places``: what their edges are called."""
    noun = "round" if is_round else "row"
    if stint.change == EVEN:
        return f"Work {how_many(stint.rows, noun)} {terms.even}."
    return f"{sentence(_acts(stint.change, terms, places))} {_when(stint, noun, terms)}. ({count(stitches)})"


def _acts(change: Change, terms: Terms, places: tuple[str, str]) -> str:
    if change.start == change.end:
        return f"{_act(change.start, terms)} at each end of"
    done = zip(change, places, strict=True)
    return " and ".join(f"{_act(more, terms)} at the {place}" for more, place in done if more) + " of"


def _act(more: int, terms: Terms) -> str:
    if more < -MOST_DECREASED:
        return f"{terms.bind_off} {count(-more)}"
    return f"dec {count(-more)}" if more < 0 else "inc 1 st" if more == 1 else f"cast on {count(more)}"


def _when(stint: Stint, noun: str, terms: Terms) -> str:
    if stint.every == 1 or stint.times == 1:
        return f"the next {noun}" if stint.times == 1 else f"the next {stint.times} {noun}s"
    if stint.side:
        return f"every {stint.side} {noun} {_often(stint.times)}"
    every = f"every {terms.other if stint.every == 2 else ordinal(stint.every)} {noun}"
    if stint.is_next:
        return f"the next {noun}, then of {every} {_often(stint.times - 1)}"
    return f"{every} {_often(stint.times)}"


def _often(times: int) -> str:
    return {1: "once", 2: "twice"}.get(times, f"{times} times")
