"""What a change of a few rows makes of the fewest strands of a yarn, whatever the limits and the outline: only what
it touches is looked at.

A largest matching of exits to entries stays one while nothing changes. Where an exit or an entry goes, at most its
partner can be matched anew, and where one comes, at most itself: by a path of moves not made and made in turn that
ends at another one that is free (Berge, Two theorems in graph theory, PNAS 43, 1957). Looked for one after the other,
with those still to come held back, what is found is a largest matching again. What was come to on the way to none is
not looked at again meanwhile: a path through it would have been one then.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from copy import copy

from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.ways import Gap, Ways

Mates = dict[Gap, Gap | None]


class YarnMoves:
    """The moves of one yarn in a piece, and a largest matching of them; ``strands``: its entries that take no exit.

    Raises:
        TooMuchToWeigh: the limits allow more than can be weighed.
    """

    def __init__(self, rows: Rows, limits: Carry, yarn: str) -> None:
        self._ways = ways = Ways(rows, limits, yarn)
        every = [ways.gaps(row) for row in range(len(rows))]
        own = {meeting: meeting for gaps in every for meeting in gaps.meetings}
        self._entry_of: Mates = {exit_: own.get(exit_) for gaps in every for exit_ in gaps.exits}
        self._exit_of: Mates = {entry: own.get(entry) for gaps in every for entry in gaps.entries}
        begun = [entry for entry, exit_ in self._exit_of.items() if exit_ is None]
        self.strands = len(begun) - _matched(begun, ways.into, self._entry_of, self._exit_of, ())
        self._known: tuple[object, YarnMoves] | None = None

    def in_rows(self, rows: Rows, changed: Collection[int]) -> YarnMoves:
        """The same for a piece in which the yarns of these rows are others. The answer to the last question is kept:
        whatever yarns are tried in the place of this one, it loses the same."""
        ways = self._ways.of(rows, changed)
        before, after = ([each.gaps(row) for row in sorted(changed)] for each in (self._ways, ways))
        gone_exits, new_exits = _differing([one.exits for one in before], [one.exits for one in after])
        gone_entries, new_entries = _differing([one.entries for one in before], [one.entries for one in after])
        question = gone_exits, new_exits, gone_entries, new_entries
        if not any(question):
            return self
        if self._known is None or self._known[0] != question:
            found = copy(self)
            found._ways, found._known = ways, None
            found._exit_of, found._entry_of = self._exit_of.copy(), self._entry_of.copy()
            found._change(*question, [entry for one in after for entry in one.entries])
            self._known = question, found
        return self._known[1]

    def _change(
        self, gone_exits: list[Gap], new_exits: list[Gap], gone_entries: list[Gap], new_entries: list[Gap],
        entries_there: Iterable[Gap],
    ) -> None:  # fmt: skip
        entry_of, exit_of = self._entry_of, self._exit_of
        free = len([entry for entry in gone_entries if exit_of[entry] is None])
        exits = [exit_ for exit_ in _without(gone_entries, exit_of, entry_of) if exit_ not in gone_exits] + new_exits
        entries = _without(gone_exits, entry_of, exit_of) + new_entries
        entry_of.update(dict.fromkeys(new_exits))
        exit_of.update(dict.fromkeys(new_entries))
        for entry in entries_there:  # the end of a run may lie inside one now, where no strand passes behind
            exit_ = exit_of[entry]
            if exit_ is not None and exit_ not in self._ways.into(entry):
                exit_of[entry] = entry_of[exit_] = None
                entries.append(entry)
                exits.append(exit_)
        self.strands += len(entries) - free
        self.strands -= _matched(exits, self._ways.onto, exit_of, entry_of, entries)
        self.strands -= _matched(entries, self._ways.into, entry_of, exit_of, ())


def _differing(before: Iterable[list[Gap]], after: Iterable[list[Gap]]) -> tuple[list[Gap], list[Gap]]:
    """The gaps that are no more, and those that are new."""
    old, new = {gap for row in before for gap in row}, {gap for row in after for gap in row}
    return sorted(old - new), sorted(new - old)


def _without(gone: Iterable[Gap], mates: Mates, back: Mates) -> list[Gap]:
    """Takes these out; those they were matched with, which are free now."""
    free = [mate for gap in gone if (mate := mates.pop(gap)) is not None]
    back.update(dict.fromkeys(free))
    return free


def _matched(
    free: Collection[Gap], others: Callable[[Gap], Iterable[Gap]], mates: Mates, back: Mates, held: Iterable[Gap]
) -> int:
    """Matches as many of these as can be, one after the other, others being matched anew along paths; how many.
    ``mates``: those of the other side, of which none of ``held`` is taken; ``back``: those of their own."""
    made, closed = 0, set(held)
    for start in free:
        reached_from: dict[Gap, Gap] = {}
        if _is_matched(start, others, mates, back, closed, reached_from):
            made += 1
        else:
            closed |= reached_from.keys()
    return made


def _is_matched(
    start: Gap, others: Callable[[Gap], Iterable[Gap]], mates: Mates, back: Mates, closed: Collection[Gap],
    reached_from: dict[Gap, Gap],
) -> bool:  # fmt: skip
    """Whether a free one can be matched, and it is then. ``reached_from``: from which of its own side each of the
    other side was come to; none of ``closed``."""
    waiting = [start]
    for own in waiting:
        for other in others(own):
            if other in reached_from or other in closed:
                continue
            reached_from[other] = own
            mate = mates[other]
            if mate is not None:
                waiting.append(mate)
                continue
            while True:
                own = reached_from[other]
                given_up = back[own]
                mates[other], back[own] = own, other
                if given_up is None:
                    return True
                other = given_up
    return False
