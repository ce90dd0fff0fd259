"""Which strand works which segment: the fewest strands, and among those the least total carry, with the proof.

A strand is a sequence of segments in working order, each reached by a legal move from the one before. The
fewest strands are a smallest path cover, which is segments minus a largest matching of exits to entries.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.howfar import HowFar, part_of, untold
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.matching import NONE, Matching, cover, match
from companion.knitting.strands.moves import Moves, legal_moves
from companion.knitting.strands.sharing import shared_starts
from companion.knitting.strands.strands import Pair, Past, StrandOf, Strands, hanging, position_of
from companion.knitting.value import Record

END = Place(sys.maxsize, 0)
"""Past every segment."""


class Proof(Record):
    """Why no plan under the same limits has fewer strands or, with as few, less carry; from the past on.

    ``exits`` and ``entries``, as many as the moves made, touch every legal move. No legal move is cheaper than
    the prices of its exit and entry, every move made is exactly so; exit prices are <= 0, and 0 where no move
    leaves; entry prices are <= ``dear``, and ``dear`` where no move arrives; ``dear`` is more than all the
    carries of any plan together.
    """

    exits: frozenset[Place]
    entries: frozenset[Place]
    exit_prices: Mapping[Place, int]
    entry_prices: Mapping[Place, int]
    dear: int


class StrandPlan:
    """The answer of ``plan_strands``: the strands, and the moves and prices from which their proof is made."""

    def __init__(self, strands: Strands, moves: Moves, found: Matching) -> None:
        self.strands, self._moves, self._found = strands, moves, found

    @property
    def carries(self) -> Iterator[tuple[Place, int]]:
        """Every segment still to come whose strand was chosen, in working order, with the carry to it."""
        moves = self._moves
        for place, exit_, into in zip(moves.entries, self._found.exit_of, moves.into, strict=True):
            yield place, next((cost for origin, cost in into if origin == exit_), 0)

    @cached_property
    def proof(self) -> Proof:
        """That the strands are the fewest, at the least carry with so few."""
        moves, found = self._moves, self._found
        exits, entries = cover(moves.into, found)
        return Proof(
            frozenset(moves.exits[i] for i in exits),
            frozenset(moves.entries[i] for i in entries),
            dict(zip(moves.exits, found.exit_price, strict=True)),
            dict(zip(moves.entries, found.entry_price, strict=True)),
            found.dear,
        )


def plan_strands(rows: Rows, limits: Carry, past: Past | None = None, done: HowFar = untold) -> StrandPlan:
    """The fewest strands for the segments still to come, and among those the least total carry.

    What is worked stays as it hangs in ``past``; strands hanging there may be worked on, cut ones never, but for
    what ``past.again`` says. New strands are numbered on from the highest number of the past, in order of joining.
    Deterministic.

    Raises:
        TooMuchToWeigh: the limits allow more moves than can be weighed against each other.
    """
    past = past or Past()
    moves = moves_from(rows, limits, past, part_of(done, 0, 0.5))
    return chosen(rows, limits, past, moves, part_of(done, 0.5, 1))


def chosen(rows: Rows, limits: Carry, past: Past, moves: Moves, done: HowFar = untold) -> StrandPlan:
    """The same, from the legal moves themselves."""
    found = match(moves.into, len(moves.exits), done)
    strands = Strands(rows, _numbered(rows, past, moves, found))
    if limits.share or past.shared:
        strands = replace(strands, shared=_shared(strands, limits, past))
    return StrandPlan(strands, moves, found)


def moves_from(rows: Rows, limits: Carry, past: Past, done: HowFar = untold) -> Moves:
    """Every legal move of what is still to come."""
    again_until = {strand: place for place, strand in sorted(past.again.items())}
    alive = {place for strand, place in hanging(past).items() if strand not in again_until}
    is_left = {place: strand not in past.cut and again_until[strand] == place for place, strand in past.again.items()}
    return legal_moves(rows, limits, position_of(past, rows), alive, is_left, done=done)


def _shared(strands: Strands, limits: Carry, past: Past) -> tuple[Pair, ...]:
    position = position_of(past, strands.rows)
    kept = tuple(pair for pair in past.shared if pair[0] < position or pair[0] in past.again)
    if not limits.share:
        position = END
    return shared_starts(strands, limits.reach, position, kept, past.again)


def _numbered(rows: Rows, past: Past, moves: Moves, found: Matching) -> StrandOf:
    """Strand numbers along the chosen moves."""
    numbers = [list(strands) for strands in past.worked]
    newest = max((strand for strands in past.worked for strand in strands), default=0)
    numbers += [[] for _ in range(len(rows) - len(numbers))]
    exit_of = dict(zip(moves.entries, found.exit_of, strict=True))
    for place in sorted([*moves.entries, *past.again]) if past.again else moves.entries:
        if place in past.again:
            numbers[place.row].append(past.again[place])
        elif exit_of[place] == NONE:
            newest += 1
            numbers[place.row].append(newest)
        else:
            origin = moves.exits[exit_of[place]]
            numbers[place.row].append(numbers[origin.row][origin.segment])
    return tuple(tuple(strands) for strands in numbers)
