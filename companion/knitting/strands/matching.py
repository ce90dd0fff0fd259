"""Exits matched to entries: as many as possible, and among those the cheapest. Integers only, deterministic.

An entry that takes no exit pays ``dear``, more than any set of moves can cost, so that the cheapest choice is
also the largest one. Entries are taken one by one; each new one is fitted in along a shortest augmenting path
(Dijkstra on costs reduced by prices), which ends at a free exit or leaves one entry without: the usual primal
and dual method for the assignment problem (Jonker and Volgenant, Computing 38, 1987).
"""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush

from companion.knitting.howfar import HowFar, TooMuchToWeigh, untold
from companion.knitting.value import Record

NONE = -1

MOST_WEIGHED = 60_000_000
"""So often a move is weighed, all augmenting paths together: some ten seconds. A picture of 800 rows by 1,000
stitches with usual limits takes a tenth of it."""

SETTLED = 50
"""An entry on the way takes as long as so many moves."""


class Matching(Record):
    """``exit_of[v]`` is the exit that entry v takes (``NONE``: it starts anew), ``entry_of[u]`` the reverse.

    The prices prove it cheapest: no move costs less than its exit's plus its entry's price, every move made
    costs exactly that; exit prices are <= 0 and 0 where free, entry prices <= ``dear`` and ``dear`` where
    unmatched.
    """

    exit_of: list[int]
    entry_of: list[int]
    exit_price: list[int]
    entry_price: list[int]
    dear: int


Costs = Sequence[Sequence[tuple[int, int]]]
"""For every entry the exits it may take, each with its cost."""


def match(moves: Costs, exits: int, done: HowFar = untold) -> Matching:
    """The cheapest among the largest matchings of entries to ``exits`` exits, numbered from 0.

    Raises:
        TooMuchToWeigh: it takes more than ``MOST_WEIGHED``.
    """
    largest = max((cost for legal in moves for _, cost in legal), default=0)
    dear = (len(moves) + exits + 1) * (largest + 1)
    found = Matching([NONE] * len(moves), [NONE] * exits, [0] * exits,
                     [min((cost for _, cost in legal), default=dear) for legal in moves], dear)
    waiting = _greedy(moves, found)
    weighed = 0
    for number, entry in enumerate(waiting):
        weighed += _fit_in(moves, found, entry)
        if weighed > MOST_WEIGHED:
            raise TooMuchToWeigh
        if not number % 256:
            done(number / len(waiting))
    return found


def _greedy(moves: Costs, found: Matching) -> list[int]:
    """Give every entry a free exit at its lowest cost where there is one; the entries left over."""
    waiting = []
    for entry, legal in enumerate(moves):
        lowest = found.entry_price[entry]
        for exit_, cost in legal:
            if cost == lowest and found.entry_of[exit_] == NONE:
                found.exit_of[entry], found.entry_of[exit_] = exit_, entry
                break
        else:
            if legal:
                waiting.append(entry)
    return waiting


def _fit_in(moves: Costs, found: Matching, root: int) -> int:
    """Fit one more entry in along the shortest augmenting path, and set the prices anew along the way; how many moves
    were weighed for it."""
    exit_price, entry_price, entry_of = found.exit_price, found.entry_price, found.entry_of
    distance = {root: 0}
    came_by: dict[int, int] = {}          # exit -> the entry it was reached from
    reached: dict[int, int] = {}          # exit -> shortest distance so far
    heap: list[tuple[int, int]] = []
    settled: list[int] = []
    end_distance, end_entry, end_exit = found.dear - entry_price[root], root, NONE
    entry, so_far, weighed = root, 0, 0
    while True:
        weighed += SETTLED + len(moves[entry])
        base = so_far - entry_price[entry]
        if base + found.dear < end_distance:
            end_distance, end_entry, end_exit = base + found.dear, entry, NONE
        for exit_, cost in moves[entry]:
            here = base + cost - exit_price[exit_]
            if here < end_distance and here < reached.get(exit_, end_distance):
                reached[exit_] = here
                came_by[exit_] = entry
                if entry_of[exit_] == NONE:
                    end_distance, end_entry, end_exit = here, entry, exit_
                else:
                    heappush(heap, (here, exit_))
        while heap and heap[0][0] > reached[heap[0][1]]:
            heappop(heap)
        if not heap or heap[0][0] >= end_distance:
            break
        so_far, exit_ = heappop(heap)
        settled.append(exit_)
        entry = entry_of[exit_]
        distance[entry] = so_far
    for exit_ in settled:
        exit_price[exit_] -= end_distance - reached[exit_]
    for entry, so_far in distance.items():
        entry_price[entry] += end_distance - so_far
    _turn_over(found, came_by, root, end_entry, end_exit)
    return weighed


def _turn_over(found: Matching, came_by: dict[int, int], root: int, entry: int, exit_: int) -> None:
    """Let every entry along the path, from its end back to the root, take the exit before it."""
    while True:
        given_up = found.exit_of[entry]
        found.exit_of[entry] = exit_
        if exit_ != NONE:
            found.entry_of[exit_] = entry
        if entry == root:
            return
        exit_, entry = given_up, came_by[given_up]


def cover(moves: Costs, found: Matching) -> tuple[list[int], list[int]]:
    """Exits and entries, as many as the moves made, that together touch every move (König 1931).

    Every exit reachable from an unmatched entry by alternating moves, and every matched entry that is not.
    """
    reached_exits: set[int] = set()
    open_entries = [entry for entry, exit_ in enumerate(found.exit_of) if exit_ == NONE]
    reached_entries = set(open_entries)
    while open_entries:
        entry = open_entries.pop()
        for exit_, _ in moves[entry]:
            if exit_ not in reached_exits:
                reached_exits.add(exit_)
                other = found.entry_of[exit_]
                reached_entries.add(other)
                open_entries.append(other)
    kept = [entry for entry in range(len(moves)) if entry not in reached_entries]
    return sorted(reached_exits), kept
