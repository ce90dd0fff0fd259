"""Every move that the limits allow: from the segment where a strand hangs to the segment it works next."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from itertools import chain

from companion.knitting.cloth.outlines import Bars
from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.cloth.segments import Segment
from companion.knitting.howfar import HowFar, TooMuchToWeigh, untold
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.meetings import Meeting, Node, inside, is_taken_over
from companion.knitting.value import Record

START = Place(0, 0)
NO_EXIT = -1

MOST_MOVES = 2_500_000
"""So many moves are weighed against each other; each takes about seventy bytes of memory."""

MOST_LOOKS = 10_000_000
"""So often it is looked on a row below whether a strand hangs there that a segment could take."""


MovesInto = list[tuple[int, int]]
"""The exits that may lead to an entry, each with its carry; those of the same row first, then the nearest rows'."""

Hanging = dict[str, tuple[list[int], list[int]]]
"""Where strands hang after a row, by yarn: gaps in rising order, and the number of each one's exit."""


class Moves(Record):
    """The legal moves of a piece, by number: ``into[v]`` are those that lead from ``exits`` to ``entries[v]``.

    Every segment still to come is an entry; every one that can still be left by a strand is an exit. Where strands
    may share runs, so is every place where they could meet on some way from a run up to a run: ``meetings`` has the
    number of its entry, and for it that of its exit.
    """

    entries: list[Node]
    exits: list[Node]
    into: list[MovesInto]
    meetings: dict[int, int]


def legal_moves(
    rows: Rows, limits: Carry, position: Place = START, alive: Collection[Place] = frozenset(),
    settled: Mapping[Place, bool] | None = None, yarns: Collection[str] | None = None,
    done: HowFar = untold, until: int | None = None,
) -> Moves:  # fmt: skip
    """The moves that design allows, from ``position`` on, up to the row ``until`` and without it; None: to the end.

    Segments before it are worked: of those only the places in ``alive`` have a strand hanging on them. ``settled``
    are places to come whose strand is known already, with whether it may go on from there: no move leads to them.
    Where strands may share runs they could meet in any that is not settled.
    Of a run that stays divided the strand that began it may always go on with the rest.
    Within row 1 there is none where every run of it is cast on in a strand of its own, nor within a row whose runs
    are bound off like that.
    ``yarns``: only their moves; the problem separates by yarn.

    Raises:
        TooMuchToWeigh: there are more than ``MOST_MOVES``, or it would take more than ``MOST_LOOKS`` to find them.
    """
    settled = settled or {}
    indices = range(position.row, len(rows) if until is None else until)
    if looks(rows, limits, indices) > MOST_LOOKS:
        raise TooMuchToWeigh
    moves = Moves([], sorted(alive), [], {})
    exit_of: dict[int, list[int]] = {}
    doors_of: dict[int, Sequence[Segment]] = {}
    for number, place in enumerate(moves.exits):
        exit_of.setdefault(place.row, [NO_EXIT] * len(rows[place.row].segments))[place.segment] = number
    hanging: dict[int, Hanging] = {}
    bars = Bars(rows, min([position.row, *exit_of]), until)
    room = MOST_MOVES
    for index in indices:
        row = rows[index]
        start = position.segment if index == position.row else 0
        numbers = exit_of.setdefault(index, [NO_EXIT] * len(row.segments))
        targets = []
        for segment in range(start, len(row.segments)):
            if yarns is not None and row.segments[segment].yarn not in yarns:
                continue
            place = Place(index, segment)
            if settled.get(place, True):
                numbers[segment] = len(moves.exits)
                moves.exits.append(place)
            if place not in settled:
                targets.append(segment)
                moves.entries.append(place)
        into: list[MovesInto] = [[] for _ in range(start, len(row.segments))]
        if may_pass_behind(rows, index, limits):
            room = moves_behind(row, start, numbers, limits.behind, into, room)
        if index in rows.meetings:
            for segment in targets:
                if is_taken_over(row, segment) and numbers[segment - 1] != NO_EXIT:
                    into[segment - start].append((numbers[segment - 1], 0))
        meetings = list(_could_meet(row, index, targets)) if limits.share_runs else []
        doors: Sequence[Segment] = [*row.segments, *(door for _, door in meetings)] if meetings else row.segments
        into += [[] for _ in meetings]
        below = list(rows_below(rows, index, limits.rest))
        if len(hanging) > 2 * len(below) + 2:  # of the rows further down no strand is taken any more
            hanging = {low: hanging[low] for low, _ in below if low in hanging}
        for low, is_round in below:
            if low not in hanging:
                hanging[low] = _hanging(doors_of.get(low, rows[low].segments), exit_of.get(low, ()))
            may = bars.may_go_on(low, index)
            room = moves_from_below(hanging[low], row, doors, start, limits.reach, is_round, into, may, room)
        moves.into.extend(into[segment - start] for segment in targets)
        if meetings:
            doors_of[index] = [*row.segments, *_come_to(moves, numbers, meetings, into[len(row.segments) - start:])]
        done((index + 1) / len(rows))
    return passable(moves) if moves.meetings else moves


def _could_meet(row: Row, index: int, runs: Iterable[int]) -> Iterator[tuple[Meeting, Segment]]:
    """Every place between two stitches of these runs, and as a run that is entered and left."""
    for run in runs:
        yield from ((Meeting(index, run, after), door) for after, door in enumerate(inside(row, run), 1))


def _come_to(
    moves: Moves, numbers: list[int], meetings: Iterable[tuple[Meeting, Segment]], into: Iterable[MovesInto]
) -> Iterator[Segment]:
    """Takes up those meetings to which a strand can come, and gives their exits numbers."""
    for (meeting, door), found in zip(meetings, into, strict=True):
        if found:
            numbers.append(len(moves.exits))
            moves.meetings[len(moves.entries)] = len(moves.exits)
            moves.entries.append(meeting)
            moves.exits.append(meeting)
            moves.into.append(found)
            yield door


def passable(moves: Moves, *, is_shared: bool = True) -> Moves:
    """The same without those meetings to which no way leads from a run, or from which none leads to one; without all
    where no run is shared."""
    left = [not isinstance(node, Meeting) for node in moves.exits]
    if is_shared:
        for entry, into in enumerate(moves.into):
            own = moves.meetings.get(entry)
            if own is not None:
                left[own] = any(left[exit_] for exit_, _ in into)
    goes_up = [False] * len(moves.exits)
    for entry in range(len(moves.entries) - 1, -1, -1):
        own = moves.meetings.get(entry)
        if own is None or (left[own] and goes_up[own]):
            for exit_, _ in moves.into[entry]:
                goes_up[exit_] = True
        elif own is not None:
            left[own] = False
    numbers, kept = [NO_EXIT] * len(left), Moves([], [], [], {})
    for exit_, node in enumerate(moves.exits):
        if left[exit_]:
            numbers[exit_] = len(kept.exits)
            kept.exits.append(node)
    for entry, (node, into) in enumerate(zip(moves.entries, moves.into, strict=True)):
        own = moves.meetings.get(entry)
        if own is not None:
            if not left[own]:
                continue
            kept.meetings[len(kept.entries)] = numbers[own]
        kept.entries.append(node)
        kept.into.append([(numbers[exit_], cost) for exit_, cost in into if left[exit_]])
    return kept


def may_pass_behind(rows: Rows, index: int, limits: Carry) -> bool:
    """Whether a strand may pass behind others of a row: not where every run of it is cast on, or bound off, in a
    strand of its own."""
    return bool(limits.behind) and (index > 0 or not rows.cast_on.is_each) and not rows.ends_in_each(index)


def looks(rows: Rows, limits: Carry, indices: range) -> int:
    """How often it is to be looked on a row below for strands to take."""
    fabric = rows.fabric
    many = (fabric.rows[index].columns if limits.share_runs else len(fabric.rows[index].runs) for index in indices)
    return sum(min(limits.rest + 1, fabric.level(index)) * each for index, each in zip(indices, many, strict=True))


def within(moves: Moves, rows: Rows, limits: Carry) -> Moves:
    """Those of the moves that keep ``limits``, where ``moves`` are all that looser ones allow."""
    row_of = [place.row for place in moves.exits]
    allowed: dict[int, dict[int, int]] = {}
    into: list[MovesInto] = []
    for node, found in zip(moves.entries, moves.into, strict=True):
        row = node.row
        most = allowed.get(row)
        if most is None:
            below = (under for under, _ in rows_below(rows, row, limits.rest))
            most = allowed[row] = {**dict.fromkeys(below, limits.reach), row: limits.behind or -1}
        kept = [move for move in found if move[1] <= most.get(row_of[move[0]], -1)]
        if row in rows.meetings and isinstance(node, Place) and is_taken_over(rows[row], node.segment):
            kept += [move for move in found if moves.exits[move[0]] == (row, node.segment - 1)]
        into.append(kept)
    left = moves._replace(into=into)
    return passable(left, is_shared=limits.share_runs) if moves.meetings else left


def rows_below(rows: Rows, index: int, rest: int) -> Iterator[tuple[int, bool]]:
    """The rows on whose stitches row ``index`` is worked, directly or with up to ``rest`` rows between, nearest
    first; each with whether the work is nowhere turned on the way there. Of an opening that is joined again those
    above it alone: a strand that rests does not pass a whole one."""
    at: tuple[int, ...] = (index,)
    is_round, is_joined = True, False
    for _ in range(rest + 1):
        is_round = is_round and rows.goes_on_round(at[0])
        if is_joined and rows.begins_part(at[0]):
            return
        is_joined = is_joined or rows.is_joining(at[0])
        at = tuple(low for row in at for low in rows.before(row))
        if not at:
            return
        yield from ((low, is_round) for low in at)


def moves_behind(
    row: Row, start: int, numbers: Sequence[int], behind: int, into: Sequence[MovesInto], room: int
) -> int:
    """Moves behind other segments of the same row, the nearest first. ``room``: there may be so many; so many more
    there may be then."""
    passed: dict[str, list[tuple[int, int]]] = {}
    for index, segment in enumerate(row.segments):
        earlier = passed.setdefault(segment.yarn, [])
        if index >= start and earlier and not is_taken_over(row, index):
            entry = row.upto(segment.entry)
            for number, exit_ in reversed(earlier):
                carried = abs(exit_ - entry)
                if carried > behind:
                    break
                into[index - start].append((number, carried))
            room = _less(room, into[index - start])
        if numbers[index] != NO_EXIT and not is_taken_over(row, index + 1):
            earlier.append((numbers[index], row.upto(segment.exit)))
    return room


def _less(room: int, moves: MovesInto) -> int:
    if len(moves) > room:
        raise TooMuchToWeigh
    return room - len(moves)


def _hanging(doors: Sequence[Segment], numbers: Sequence[int]) -> Hanging:
    found: dict[str, list[tuple[int, int]]] = {}
    for number, segment in zip(numbers, doors, strict=False):
        if number != NO_EXIT:
            found.setdefault(segment.yarn, []).append((segment.exit, number))
    hanging: Hanging = {}
    for yarn, hung in found.items():
        hung.sort()
        hanging[yarn] = [gap for gap, _ in hung], [number for _, number in hung]
    return hanging


def moves_from_below(
    hanging: Hanging, row: Row, doors: Sequence[Segment], start: int, reach: int, is_round: bool,
    into: Sequence[MovesInto], may: Callable[[int, int], bool] | None, room: int,
) -> int:  # fmt: skip
    """Moves from a row below of the strands that may go on, to runs and meetings (``doors``), by gap from the edge
    where right-side rows begin, so that a mirrored knitter is told what a mirrored chart would. Only those near
    enough are looked at: between them and the entry lie no more stitches than there are before the one and not before
    the other. ``room`` as for ``moves_behind``."""
    stitches = row.fabric.columns if row.base is None and row.inner is None and not row.has_gaps else -1
    around = row.stitches_around if is_round else 0
    step = -1 if row.is_mirrored else 1
    reached: dict[str, list[int]] = {}
    for index in range(start, len(doors)):
        segment = doors[index]
        hung = hanging.get(segment.yarn)
        if hung is None:
            continue
        gaps, numbers = hung
        moves, before = into[index - start], len(into[index - start])
        if gaps[0] >= 0 and gaps[-1] <= stitches:  # gaps count stitches
            at, entry = gaps, segment.entry
        else:
            if segment.yarn not in reached:
                reached[segment.yarn] = [row.reached(gap) for gap in gaps]
            at, entry = reached[segment.yarn], row.reached(segment.entry)
        low, high = bisect_left(at, entry - reach), bisect_right(at, entry + reach)
        near: Sequence[int] = range(low, high)
        if is_round:  # the other way round the tube it is near those at the other end of the row
            first = range(min(low, bisect_right(at, entry + reach - around)))
            last = range(max(high, bisect_left(at, entry - reach + around)), len(at))
            near = list(chain(first, near, last))
        if may is not None:
            near = [i for i in near if may(gaps[i], index)]
        if len(near) > room:
            raise TooMuchToWeigh
        for i in near[::step]:
            passed = abs(at[i] - entry)
            moves.append((numbers[i], min(passed, around - passed) if is_round else passed))
        room -= len(moves) - before
    return room
