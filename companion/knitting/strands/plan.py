"""Which strand works which segment: the fewest strands, and among those the least total carry, with the proof.

A strand is a sequence of segments in working order, each reached by a legal move from the one before. The
fewest strands are a smallest path cover, which is segments minus a largest matching of exits to entries. Where
strands may share runs they meet in as few places as so few strands allow, and with as few meetings carry least.
"""

from __future__ import annotations

import sys
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from functools import cached_property

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.howfar import HowFar, part_of, untold
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.matching import NONE, Costs, Matching, cover, match
from companion.knitting.strands.meetings import Division, Meeting, Node, in_places_of, whole_ahead
from companion.knitting.strands.moves import Moves, legal_moves
from companion.knitting.strands.sharing import shared_starts
from companion.knitting.strands.strands import Pair, Past, StrandOf, Strands, hanging, position_of
from companion.knitting.value import Record

END = Place(sys.maxsize, 0)
"""Past every segment."""


class Proof(Record):
    """Why no plan under the same limits has fewer strands, with as few fewer meetings or, with as few of them, less
    carry; from the past on.

    ``exits`` and ``entries``, as many as the moves made and the places where strands could meet and do not, touch
    every legal move. No legal move costs less than the prices of its exit and entry, every move made costs exactly
    that; exit prices are <= 0, and 0 where no move leaves; entry prices are <= ``dear``, and ``dear`` where no move
    arrives; ``dear`` is more than all moves of any plan cost together. A move costs its carry, and ``weight``, which
    is more than all carries of any plan, for either end of it at which strands meet; where they do not meet though
    they could, going on without a meeting costs nothing.

    Places are those of the plan's rows, divided where strands meet; meetings lie in its runs, and nobody meets there.
    """

    exits: frozenset[Node]
    entries: frozenset[Node]
    exit_prices: Mapping[Node, int]
    entry_prices: Mapping[Node, int]
    dear: int
    weight: int = 0


class StrandPlan:
    """The answer of ``plan_strands``: the strands, and the moves and prices from which their proof is made. ``past``:
    what it was planned from, in the places of the strands' rows."""

    def __init__(self, strands: Strands, past: Past, chosen: Chosen) -> None:
        self.strands, self.past, self._chosen = strands, past, chosen

    @property
    def carries(self) -> Iterator[tuple[Place, int]]:
        """Every segment still to come whose strand was chosen, with the carry to it."""
        moves, found, lies, _ = self._chosen
        for node, exit_, into in zip(moves.entries, found.exit_of, moves.into, strict=True):
            if isinstance(place := lies.entered(node), Place):
                yield place, next((cost for origin, cost in into if origin == exit_), 0)

    @cached_property
    def proof(self) -> Proof:
        """That the strands are the fewest, and so on."""
        moves, found, lies, weight = self._chosen
        exits, entries = cover(weighed(moves, weight), found)
        return Proof(
            frozenset(lies.left(moves.exits[i]) for i in exits),
            frozenset(lies.entered(moves.entries[i]) for i in entries),
            {lies.left(node): price for node, price in zip(moves.exits, found.exit_price, strict=True)},
            {lies.entered(node): price for node, price in zip(moves.entries, found.entry_price, strict=True)},
            found.dear,
            weight,
        )


class Chosen(Record):
    """The moves that were chosen, by number, and where their ends lie in the divided rows; ``weight``: what either
    end of a move costs at which strands meet."""

    moves: Moves
    found: Matching
    lies: Division
    weight: int


def plan_strands(rows: Rows, limits: Carry, past: Past | None = None, done: HowFar = untold) -> StrandPlan:
    """The fewest strands for the segments still to come, and among those the least total carry. Where strands may
    share runs the plan's rows are divided where they meet; runs to come that ``rows`` has divided are whole again
    first.

    What is worked stays as it hangs in ``past``; strands hanging there may be worked on, cut ones never, but for
    what ``past.again`` says. New strands are numbered on from the highest number of the past, in order of joining.
    Deterministic.

    Raises:
        TooMuchToWeigh: the limits allow more moves than can be weighed against each other.
    """
    rows, past = whole_ahead(rows, past or Past())
    moves = moves_from(rows, limits, past, part_of(done, 0, 0.5))
    return chosen(rows, limits, past, moves, part_of(done, 0.5, 1))


def chosen(rows: Rows, limits: Carry, past: Past, moves: Moves, done: HowFar = untold) -> StrandPlan:
    """The same, from the legal moves themselves; the runs to come are whole."""
    weight = len(moves.entries) * max(cost for into in moves.into for _, cost in into) + 1 if moves.meetings else 0
    found = match(weighed(moves, weight), len(moves.exits), done)
    used = (moves.entries[entry] for entry, own in moves.meetings.items() if found.exit_of[entry] != own)
    lies = Division(rows, used)
    past = in_places_of(lies.rows, rows, past)
    strands = Strands(lies.rows, _numbered(lies, past, moves, found))
    if limits.share or past.shared:
        strands = replace(strands, shared=_shared(strands, limits, past))
    return StrandPlan(strands, past, Chosen(moves, found, lies, weight))


def fewest(rows: Rows, limits: Carry, yarns: Collection[str] | None = None) -> int:
    """How many strands a piece takes, or these yarns in it.

    Raises:
        TooMuchToWeigh: the limits allow more moves than can be weighed against each other.
    """
    moves = legal_moves(rows, limits, yarns=yarns)
    return match(weighed(moves, 0), len(moves.exits)).exit_of.count(NONE)


def weighed(moves: Moves, weight: int) -> Costs:
    """What moves cost in a matching: their carry, and ``weight`` for either end at which strands meet. Where they
    could meet and do not, the entry takes its own exit at no cost."""
    if not moves.meetings:
        return moves.into
    more = [weight * isinstance(node, Meeting) for node in moves.exits]
    costs: list[list[tuple[int, int]]] = []
    for entry, into in enumerate(moves.into):
        own = moves.meetings.get(entry)
        if own is None:
            costs.append([(exit_, cost + more[exit_]) for exit_, cost in into])
        else:
            costs.append([(own, 0), *((exit_, cost + weight + more[exit_]) for exit_, cost in into)])
    return costs


def moves_from(rows: Rows, limits: Carry, past: Past, done: HowFar = untold) -> Moves:
    """Every legal move of what is still to come, its runs whole."""
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


def _numbered(lies: Division, past: Past, moves: Moves, found: Matching) -> StrandOf:
    """Strand numbers along the chosen moves."""
    numbers = [list(strands) for strands in past.worked]
    newest = max((strand for strands in past.worked for strand in strands), default=0)
    numbers += [[] for _ in range(len(lies.rows) - len(numbers))]
    exit_of = {lies.entered(node): exit_ for node, exit_ in zip(moves.entries, found.exit_of, strict=True)}
    to_come = [place for place in exit_of if isinstance(place, Place)]
    for place in sorted([*to_come, *past.again]) if past.again or lies.rows.meetings else to_come:
        if place in past.again:
            numbers[place.row].append(past.again[place])
        elif exit_of[place] == NONE:
            newest += 1
            numbers[place.row].append(newest)
        else:
            origin = lies.left(moves.exits[exit_of[place]])
            numbers[place.row].append(numbers[origin.row][origin.segment])
    return tuple(tuple(strands) for strands in numbers)
