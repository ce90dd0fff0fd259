"""Whether a plan of strands keeps its limits, and whether its proof shows that none has fewer or carries less.

Believes nothing that the planning found out: every legal move is looked for anew, segment against segment, from the
definitions of a carry and of what a row is worked on.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from companion.knitting.cloth.outlines import MOST_DECREASED, is_held
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.howfar import HowFar, untold
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import Proof
from companion.knitting.strands.strands import Past, Strands, hanging, position_of


def fault_in(
    strands: Strands, limits: Carry, proof: Proof, past: Past | None = None, done: HowFar = untold
) -> str:
    """The first thing that is wrong with a plan or its proof, "" when both hold. ``past``: as it was planned from.

    The fewest strands: as many exits and entries as moves made touch every legal move, so no plan can make more moves
    (König 1931). The least carry: no legal move is cheaper than its prices, and every move made is exactly so
    (duality of linear programmes).
    """
    past = past or Past()
    if fault := _does_not_fit(strands, past):
        return fault
    ends = _ends(strands.rows, past)
    made = {(origin, place) for origin, place in _made(strands) if place in ends.entries}
    if fault := _is_no_proof(proof, ends, made):
        return fault
    barred, untouched, cheaper, most = set(made), "", "", 0
    for (u, v), cost in _legal_moves(strands.rows, limits, ends, done):
        barred.discard((u, v))
        most = max(most, cost)
        prices = proof.exit_prices[u] + proof.entry_prices[v]
        if not untouched and u not in proof.exits and v not in proof.entries:
            untouched = f"the legal move from {u} to {v} is not touched"
        if not cheaper and (cost < prices or (cost != prices and (u, v) in made)):
            cheaper = f"the move from {u} to {v} costs {cost}, its prices are {prices}"
    for u, v in sorted(barred):
        return f"the strand may not go from {u} to {v}"
    if proof.dear <= len(ends.entries) * most:
        return "a strand too many is not dear enough"
    return untouched or cheaper


@dataclass(frozen=True)
class _Ends:
    """The segments that a strand may still leave, and those still to come whose strand is to be chosen."""

    exits: frozenset[Place]
    entries: frozenset[Place]


def _ends(rows: Rows, past: Past) -> _Ends:
    position = position_of(past, rows)
    again_until = {strand: place for place, strand in sorted(past.again.items())}
    to_come = {place for place in rows.places() if place >= position}
    alive = {place for strand, place in hanging(past).items() if strand not in again_until}
    stopped = {place for place, strand in past.again.items() if strand in past.cut or again_until[strand] != place}
    return _Ends(frozenset(alive | to_come - stopped), frozenset(to_come.difference(past.again)))


def _does_not_fit(strands: Strands, past: Past) -> str:
    """What is worked must have the strands that worked it, every segment one of its own yarn."""
    for row, worked in enumerate(past.worked):
        if strands.strand_of[row][:len(worked)] != worked:
            return f"row {row} is not worked as it was"
    for place, strand in past.again.items():
        if strands.at(place) != strand:
            return f"{place} is not worked by strand {strand} again"
    if len(strands.strand_of) != len(strands.rows):
        return "not every row has strands"
    yarns: dict[int, str] = {}
    for row, numbers in enumerate(strands.strand_of):
        segments = strands.rows[row].segments
        if len(numbers) != len(segments):
            return f"not every segment of row {row} has a strand"
        for strand, segment in zip(numbers, segments, strict=True):
            if yarns.setdefault(strand, segment.yarn) != segment.yarn:
                return f"strand {strand} is of two yarns"
    return ""


def _made(strands: Strands) -> Iterator[tuple[Place, Place]]:
    hangs: dict[int, Place] = {}
    for place in strands.rows.places():
        strand = strands.at(place)
        if strand in hangs:
            yield hangs[strand], place
        hangs[strand] = place


def _legal_moves(
    rows: Rows, limits: Carry, ends: _Ends, done: HowFar
) -> Iterator[tuple[tuple[Place, Place], int]]:
    """Every move that the limits allow, row by row: within it, then from those below, nearest first."""
    for high in range(len(rows)):
        done(high / len(rows))
        if limits.behind and not _is_each_its_own(rows, high):
            stitches = _upto(rows, high, ())
            for u, v, cost in _near(rows, high, high, ends, stitches, limits.behind, None):
                if u.segment < v.segment:
                    yield (u, v), cost
        for way in _ways(rows, [high], limits.rest + 2):
            stitches = _upto(rows, high, rows.before(high))
            around = stitches[-1] if all(rows[row].side == "RS" for row in way) else None
            for u, v, cost in _near(rows, way[-1], high, ends, stitches, limits.reach, around):
                if _hangs_on(rows, way, rows.segment(u).exit, is_first=not v.segment):
                    yield (u, v), cost


def _ways(rows: Rows, way: list[int], most: int) -> Iterator[list[int]]:
    """Every way on down from the last row of a way, of up to ``most`` rows in all, shorter ones first. One that came
    down into a part where it is joined to another does not leave that part."""
    if len(way) == most:
        return
    is_in_part = any(len(rows.before(row)) > 1 for row in way)
    if is_in_part and rows[way[-1]].part and not rows[rows.before(way[-1])[0]].part:
        return
    for below in rows.before(way[-1]):
        yield [*way, below]
        yield from _ways(rows, [*way, below], most)


def _is_each_its_own(rows: Rows, index: int) -> bool:
    """Whether every run of a row has a strand of its own: it was cast on in it, or is bound off in it."""
    if index == 0 and rows.cast_on.is_each:
        return True
    if not rows.is_off_each or rows.fabric.rows[index].is_round:
        return False
    return all(rows[index].key not in above.after for above in rows)


def _near(
    rows: Rows, low: int, high: int, ends: _Ends, stitches: Sequence[int], most: int, around: int | None
) -> Iterator[tuple[Place, Place, int]]:
    """Every exit of one row with every entry of another that is of its yarn and no more than ``most`` stitches away.
    ``stitches``: those before every gap. ``around``: so many are in a round, in which a strand may go either way, so
    that it hangs that many stitches further on and further back as well."""
    hung: dict[str, list[tuple[int, Place]]] = {}
    for index, segment in enumerate(rows[low].segments):
        if (u := Place(low, index)) in ends.exits:
            at = stitches[min(segment.exit, len(stitches) - 1)]
            there = [at] if around is None else [at - around, at, at + around]
            hung.setdefault(segment.yarn, []).extend((each, u) for each in there)
    for waiting in hung.values():
        waiting.sort()
    for index, segment in enumerate(rows[high].segments):
        if (v := Place(high, index)) in ends.entries and (strands := hung.get(segment.yarn)):
            entry = stitches[segment.entry]
            found: dict[Place, int] = {}
            for at, u in strands[bisect_left(strands, (entry - most,)):]:
                if at > entry + most:
                    break
                found[u] = min(abs(at - entry), found.get(u, most))
            yield from ((u, v, cost) for u, cost in found.items())


def _upto(rows: Rows, index: int, below: Sequence[int]) -> list[int]:
    """For every gap of a row the stitches before it, from column 1 on; of a row that is worked on others, those alone
    that lie in their columns: what is made beyond and between them is not there yet."""
    row = rows.fabric.rows[index]
    under = [(1, row.columns)] if not below or row.is_round else [_columns(rows, low) for low in below]
    cells = [run.stitch is not None for run in row.runs for _ in range(run.columns)]
    there = (is_there and any(a <= c <= b for a, b in under) for c, is_there in enumerate(cells, 1))
    return list(accumulate(map(int, there), initial=0))


def _columns(rows: Rows, index: int) -> tuple[int, int]:
    """The first and the last column in which a row has a stitch."""
    stretches = rows.fabric.rows[index].stretches
    return stretches[0][0], stretches[-1][1]


def _hangs_on(rows: Rows, way: Sequence[int], gap: int, *, is_first: bool) -> bool:
    """Whether a strand left at a gap of the last row of a way can be carried up to its first one, ``is_first``: to
    its first segment. Where a row binds off at its start, only the strand that does so goes on over those stitches;
    where the piece divides, each part takes up the stitches on its side, and the one that begins beside the opening
    those in the middle, unless they are held. What was left outside the stitches of a row hangs at its edge."""
    for upper, lower in pairwise(way):
        (first, last), own = _columns(rows, lower), _columns(rows, upper)
        row, at = rows[upper], min(max(gap, first - 1), last)
        for other in rows.following(lower):
            if other != upper and row.part == "right":
                is_inside = row.toward == "right" and not is_held(rows, upper)
                last = _columns(rows, other)[0] - 1 if is_inside else own[1]
            elif other != upper:
                is_inside = row.toward == "left" and not is_held(rows, upper)
                first = _columns(rows, other)[1] + 1 if is_inside else own[0]
        edge, lost = (first - 1, own[0] - first) if row.toward == "left" else (last, last - own[1])
        if lost > MOST_DECREASED and not row.is_round and not rows[lower].is_round:
            if is_first and upper == way[0]:
                first, last = edge + 1, edge
            else:
                first, last = (own[0], last) if row.toward == "left" else (first, own[1])
        if not first - 1 <= at <= last:
            return False
    return True


def _is_no_proof(proof: Proof, ends: _Ends, made: set[tuple[Place, Place]]) -> str:
    """What is wrong with a proof whatever moves are legal."""
    left, arrived = {u for u, _ in made}, {v for _, v in made}
    if len(proof.exits) + len(proof.entries) != len(made):
        return f"{len(proof.exits) + len(proof.entries)} exits and entries for {len(made)} moves made"
    if set(proof.exit_prices) != ends.exits or set(proof.entry_prices) != ends.entries:
        return "not every exit and entry has its price, or others have one"
    for u, price in proof.exit_prices.items():
        if price > 0 or (price and u not in left):
            return f"the price of the exit {u} is {price}"
    for v, price in proof.entry_prices.items():
        if price > proof.dear or (price != proof.dear and v not in arrived):
            return f"the price of the entry {v} is {price}"
    return ""
