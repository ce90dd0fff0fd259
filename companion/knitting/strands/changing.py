"""What a change of a few rows makes of the fewest strands of a yarn, whatever the limits and the outline: only what
it touches is looked at.

A largest matching of exits to entries stays one while nothing changes. Where an exit or an entry goes, at most its
partner can be matched anew, and where one comes, at most itself: by a path of moves not made and made in turn that
ends at another one that is free (Berge, Two theorems in graph theory, PNAS 43, 1957). Looked for one after the other,
with those still to come held back, what is found is a largest matching again.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Container, Iterable, Iterator, Mapping, Sequence

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.matching import NONE, match
from companion.knitting.strands.meetings import Node
from companion.knitting.strands.moves import Moves, legal_moves
from companion.knitting.strands.plan import fewest

Gap = tuple[int, int]
"""Where a run is entered or left: its row in working order, and the gap. It stays the same when runs beside it go."""

Mates = dict[Gap, Gap | None]


class YarnMoves:
    """The moves of one yarn in a piece, and a largest matching of them.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """

    def __init__(self, rows: Rows, limits: Carry, yarn: str) -> None:
        self._rows, self._limits, self._yarn = rows, limits, yarn
        moves = legal_moves(rows, limits, yarns={yarn})
        self._into = _into(moves, rows)
        self._onto = _onto(self._into)
        exits = [_exit(rows, place) for place in moves.exits]
        taken = match(moves.into, len(exits)).exit_of
        self._exit_of: Mates = {
            entry: None if number == NONE else exits[number]
            for entry, number in zip(self._into, taken, strict=True)
        }
        self._entry_of: Mates = dict.fromkeys(exits)
        self._entry_of.update((exit_, entry) for entry, exit_ in self._exit_of.items() if exit_ is not None)

    def fewer_in(self, rows: Rows, changed: Collection[int]) -> int:
        """How many strands of the yarn fewer it takes when the yarns of these rows are as in ``rows``."""
        gone_exits, new_exits = self._differing(rows, changed, _exit)
        gone_entries, new_entries = self._differing(rows, changed, _entry)
        if not (gone_exits or new_exits or gone_entries or new_entries):
            return 0
        within = _above(rows, changed, self._limits.rest)
        alive = [place for row in _below(rows, within, self._limits.rest) for place in self._places(rows, row)]
        moves = legal_moves(rows, self._limits, Place(within.start, 0), alive, yarns={self._yarn}, until=within.stop)
        into = _into(moves, rows)
        onto = _onto(into)

        def entries_of(exit_: Gap) -> Iterator[Gap]:
            yield from onto.get(exit_, ())
            yield from (entry for entry in self._onto.get(exit_, ()) if entry[0] not in within)

        def exits_of(entry: Gap) -> Sequence[Gap]:
            return into[entry] if entry[0] in within else self._into[entry]

        entry_of, exit_of = self._entry_of.copy(), self._exit_of.copy()
        free_exits = [exit_ for exit_ in _without(gone_entries, exit_of, entry_of) if exit_ not in gone_exits]
        free_entries = _without(gone_exits, entry_of, exit_of)
        made = -len(free_entries) - len([entry for entry in gone_entries if self._exit_of[entry] is not None])
        entry_of.update(dict.fromkeys(new_exits))
        exit_of.update(dict.fromkeys(new_entries))
        held_exits, held_entries = {*free_exits, *new_exits}, {*free_entries, *new_entries}
        for exit_ in [*free_exits, *new_exits]:
            held_exits.remove(exit_)
            made += _is_matched(exit_, entries_of, exit_of, entry_of, held_entries)
        for entry in [*free_entries, *new_entries]:
            held_entries.remove(entry)
            made += _is_matched(entry, exits_of, entry_of, exit_of, held_exits)
        return made - len(new_entries) + len(gone_entries)

    def _differing(
        self, rows: Rows, changed: Iterable[int], gap: Callable[[Rows, Node], Gap]
    ) -> tuple[list[Gap], list[Gap]]:
        """The gaps that are no more in these rows, and those that are new."""
        before = {gap(self._rows, place) for row in changed for place in self._places(self._rows, row)}
        after = {gap(rows, place) for row in changed for place in self._places(rows, row)}
        return sorted(before - after), sorted(after - before)

    def _places(self, rows: Rows, row: int) -> Iterator[Place]:
        """The runs of the yarn in a row."""
        return (Place(row, index) for index, run in enumerate(rows[row].segments) if run.yarn == self._yarn)


class SharedMoves:
    """The same where strands may share runs: a yarn of which a row changes is matched anew, since a place where two
    could meet comes and goes with every stitch.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """

    def __init__(self, rows: Rows, limits: Carry, yarn: str) -> None:
        self._limits, self._yarn = limits, yarn
        self._strands = fewest(rows, limits, {yarn})

    def fewer_in(self, rows: Rows, _changed: Collection[int]) -> int:
        """How many strands of the yarn fewer ``rows`` take."""
        return self._strands - fewest(rows, self._limits, {self._yarn})


def changing(rows: Rows, limits: Carry, yarn: str) -> YarnMoves | SharedMoves:
    """What tells what a change of a few rows makes of the strands of a yarn.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """
    return (SharedMoves if limits.share_runs else YarnMoves)(rows, limits, yarn)


def _entry(rows: Rows, place: Node) -> Gap:
    return place.row, rows[place.row].segments[place.segment].entry


def _exit(rows: Rows, place: Node) -> Gap:
    return place.row, rows[place.row].segments[place.segment].exit


def _into(moves: Moves, rows: Rows) -> dict[Gap, list[Gap]]:
    """For every entry the exits it may take."""
    exits = [_exit(rows, place) for place in moves.exits]
    return {
        _entry(rows, place): [exits[number] for number, _ in found]
        for place, found in zip(moves.entries, moves.into, strict=True)
    }


def _onto(into: Mapping[Gap, Sequence[Gap]]) -> dict[Gap, list[Gap]]:
    """For every exit the entries that may take it."""
    found: dict[Gap, list[Gap]] = {}
    for entry, exits in into.items():
        for exit_ in exits:
            found.setdefault(exit_, []).append(entry)
    return found


def _above(rows: Rows, changed: Collection[int], rest: int) -> range:
    """From the first of these rows to the last one to which a strand may go on from them."""
    found = at = set(changed)
    for _ in range(min(rest + 1, len(rows))):
        at = {above for row in at for above in rows.following(row)}
        found = found | at
    return range(min(found), max(found) + 1)


def _below(rows: Rows, within: range, rest: int) -> list[int]:
    """The rows below from which a strand may go on to these."""
    found, at = set[int](), set(within)
    for _ in range(min(rest + 1, len(rows))):
        at = {low for row in at for low in rows.before(row)}
        found |= at
    return sorted(row for row in found if row < within.start)


def _without(gone: Iterable[Gap], mates: Mates, back: Mates) -> list[Gap]:
    """Takes these out; those they were matched with, which are free now."""
    free = [mate for gap in gone if (mate := mates.pop(gap)) is not None]
    back.update(dict.fromkeys(free))
    return free


def _is_matched(
    start: Gap, others: Callable[[Gap], Iterable[Gap]], mates: Mates, back: Mates, held: Container[Gap]
) -> bool:
    """Whether a free one can be matched, others being matched anew along a path; it is then. ``mates``: those of the
    other side; ``back``: those of its own."""
    reached_from: dict[Gap, Gap] = {}
    waiting = [start]
    for own in waiting:
        for other in others(own):
            if other in reached_from or other in held:
                continue
            reached_from[other] = own
            mate = mates[other]
            if mate is not None:
                waiting.append(mate)
                continue
            while True:
                own = reached_from[other]
                mates[other], back[own], other = own, other, back[own] or start
                if own == start:
                    return True
    return False
