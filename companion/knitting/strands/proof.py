"""Whether a plan of strands keeps its limits, and whether its proof shows that none has fewer or carries less.

Believes nothing that the planning found out: every legal move is looked for anew, segment against segment, from the
definitions of a carry and of what a row is worked on.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from companion.knitting.cloth.outlines import Bars
from companion.knitting.cloth.rows import Place, Rows, carry
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import Proof
from companion.knitting.strands.strands import Past, Strands, hanging, position_of

Carries = Mapping[tuple[Place, Place], int]
"""Every legal move from one segment to another, with its carry in stitches."""


def fault_in(strands: Strands, limits: Carry, proof: Proof, past: Past | None = None) -> str:
    """The first thing that is wrong with a plan or its proof, "" when both hold. ``past``: as it was planned from.

    The fewest strands: as many exits and entries as moves made touch every legal move, so no plan can make more moves
    (König 1931). The least carry: no legal move is cheaper than its prices, and every move made is exactly so
    (duality of linear programmes).
    """
    past = past or Past()
    if fault := _does_not_fit(strands, past):
        return fault
    ends = _ends(strands.rows, past)
    moves = dict(_legal_moves(strands.rows, limits, ends))
    made = {(origin, place) for origin, place in _made(strands) if place in ends.entries}
    for origin, place in sorted(made):
        if (origin, place) not in moves:
            return f"the strand may not go from {origin} to {place}"
    return _cover_fails(moves, made, proof) or _prices_fail(moves, made, ends, proof)


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
    stopped = {
        place for place, strand in past.again.items() if strand in past.cut or again_until[strand] != place
    }
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


def _legal_moves(rows: Rows, limits: Carry, ends: _Ends) -> Iterator[tuple[tuple[Place, Place], int]]:
    bars = Bars(rows)
    for v in ends.entries:
        for row in _rows_to_look_in(rows, v.row, limits.rest):
            is_same = row == v.row
            if is_same and not row and rows.cast_on.is_each:
                continue  # every run of row 1 has the strand it was cast on in
            may = None if is_same else bars.may_go_on(row, v.row)
            for segment in range(v.segment if is_same else len(rows[row].segments)):
                u = Place(row, segment)
                if may is not None and not may(rows.segment(u).exit, v.segment):
                    continue
                if u in ends.exits and rows.segment(u).yarn == rows.segment(v).yarn:
                    cost = carry(rows, u, v)
                    if cost <= (limits.behind if is_same else limits.reach) and (limits.behind or not is_same):
                        yield (u, v), cost


def _rows_to_look_in(rows: Rows, row: int, rest: int) -> set[int]:
    """The row itself and those below it along ``after``, with at most ``rest`` rows between."""
    found, level = {row}, {row}
    for _ in range(rest + 1):
        level = {below for above in level for below in rows.before(above)}
        found |= level
    return found


def _cover_fails(moves: Carries, made: set[tuple[Place, Place]], proof: Proof) -> str:
    for u, v in moves:
        if u not in proof.exits and v not in proof.entries:
            return f"the legal move from {u} to {v} is not touched"
    if len(proof.exits) + len(proof.entries) != len(made):
        return f"{len(proof.exits) + len(proof.entries)} exits and entries for {len(made)} moves made"
    return ""


def _prices_fail(moves: Carries, made: set[tuple[Place, Place]], ends: _Ends, proof: Proof) -> str:
    left, arrived = {u for u, _ in made}, {v for _, v in made}
    if set(proof.exit_prices) != ends.exits or set(proof.entry_prices) != ends.entries:
        return "not every exit and entry has its price, or others have one"
    if proof.dear <= len(ends.entries) * max(moves.values(), default=0):
        return "a strand too many is not dear enough"
    for u, price in proof.exit_prices.items():
        if price > 0 or (price and u not in left):
            return f"the price of the exit {u} is {price}"
    for v, price in proof.entry_prices.items():
        if price > proof.dear or (price != proof.dear and v not in arrived):
            return f"the price of the entry {v} is {price}"
    for (u, v), cost in moves.items():
        prices = proof.exit_prices[u] + proof.entry_prices[v]
        if cost < prices or (cost != prices and (u, v) in made):
            return f"the move from {u} to {v} costs {cost}, its prices are {prices}"
    return ""
