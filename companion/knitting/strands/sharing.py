"""Shared starts: two joins of one yarn in the same row that are the two halves of one length, started at its middle,
so that neither leaves an end there.

As many pairs as possible for strands that are chosen already; nothing is claimed beyond that.
"""

from __future__ import annotations

from collections.abc import Collection, Container, Iterable, Iterator

from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Place
from companion.knitting.strands.moves import START
from companion.knitting.strands.strands import Pair, Strands


def shared_starts(
    strands: Strands, reach: int, position: Place = START, kept: Iterable[Pair] = (), not_free: Container[Place] = ()
) -> tuple[Pair, ...]:
    """As many pairs of joins as possible, in working order, whose entry gaps lie within ``reach`` stitches.

    ``kept``: pairs of which a half is on the needles; they stay where both are joins still. Of the others only joins
    from ``position`` on are paired, and none of ``not_free``. A strand begun in the cast-on is never one of them: it
    starts at its tail, which a long-tail cast-on uses up. On a line the two nearest the start may always be
    paired when they are near enough, so that taking them as they come gives the most.
    """
    joins = set(strands.first.values())
    pairs = [pair for pair in kept if joins.issuperset(pair)]
    settled = {place for pair in pairs for place in pair}
    free = sorted(
        place for place in joins
        if place >= position and not is_begun(strands.rows, place) and place not in settled and place not in not_free
    )
    return tuple(sorted([*pairs, *_paired(strands, free, reach)]))


def _paired(strands: Strands, free: Collection[Place], reach: int) -> Iterator[Pair]:
    waiting: dict[tuple[int, str], Place] = {}
    for place in free:
        row, segment = strands.rows[place.row], strands.rows.segment(place)
        key = place.row, segment.yarn
        other = waiting.pop(key, None)
        if other is not None:
            away = abs(row.upto(segment.entry) - row.upto(strands.rows.segment(other).entry))
            if away <= reach:
                yield other, place
                continue
        waiting[key] = place
