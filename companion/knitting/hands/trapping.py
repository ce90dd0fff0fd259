"""Tails trapped while knitting: laid in under the next stitches of their own colour, so that no end is left.

"Weave while knitting": the tail goes over and under alternate stitches for several of them, as a float is caught
("Intarsia", technique page); six to eight of them, and neither the first one past where it hangs nor the last of the
run, so that eight must follow (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import corner
from companion.knitting.hands.steps import End, LayIn
from companion.knitting.strands.strands import Strands

FEWEST, MOST = 6, 8
"""So many stitches are a tail's hold: with fewer it comes out again, more are not needed."""


def laid_in(strands: Strands, place: Place) -> tuple[tuple[int, LayIn], ...]:
    """The tails that are laid in while a run is worked, one after the other, each after how many of its stitches: its
    own strand's where that is joined, and those cut in the row below that hang where the run, in their colour, passes
    over them."""
    found, free, yarn = list[tuple[int, LayIn]](), 0, strands.rows.segment(place).yarn
    for at, end in sorted(_tails(strands, place)):
        start = at + 1
        room = strands.rows.segment(place).stitches - 1 - start
        if at >= free and room >= FEWEST:
            found.append((start, LayIn(end, yarn, min(MOST, room))))
            free = start + min(MOST, room)
    return tuple(found)


def _tails(strands: Strands, place: Place) -> Iterator[tuple[int, End]]:
    """The tails within a run's own colour, each with how many of the run's stitches are worked when it is met; not
    one that lies beyond what the run binds off first."""
    row, run = strands.rows[place.row], strands.rows.segment(place)
    for end in _ends(strands, place):
        at = corner(end, strands)
        passed = row.upto(at.gap) - row.upto(run.entry)
        met = passed if row.toward == "left" else -passed
        if at.made != "bind-off" and 0 <= met < run.stitches:
            yield met, end


def _ends(strands: Strands, place: Place) -> Iterator[End]:
    """The ends in a run's own colour: where it is joined, and of strands cut in the row below that could go on."""
    rows, run = strands.rows, strands.rows.segment(place)
    is_joined = strands.first[strands.at(place)] == place and not is_begun(rows, place)
    if is_joined and place not in strands.other_half:
        yield End(place, "start")
    for below in rows.before(place.row):
        may = strands.bars.may_go_on(below, place.row)
        for index, strand in enumerate(strands.strand_of[below]):
            last = Place(below, index)
            is_cut = strands.last[strand] == last and rows.segment(last).yarn == run.yarn
            if is_cut and (may is None or may(rows.segment(last).exit, place.segment)):
                yield End(last, "finish")
