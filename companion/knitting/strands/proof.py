"""Whether a plan of strands keeps its limits, and whether its proof shows that none has fewer or carries less.

Believes nothing that the planning found out: every legal move is looked for anew, segment against segment, from the
definitions of a carry and of what a row is worked on; and so is every place where strands could share a run.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise
from typing import Literal

from companion.knitting.cloth.outlines import MOST_DECREASED, is_held
from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.howfar import HowFar, untold
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.meetings import Meeting, Node
from companion.knitting.strands.plan import Proof
from companion.knitting.strands.strands import Past, Strands, hanging, position_of


def fault_in(
    strands: Strands, limits: Carry, proof: Proof, past: Past | None = None, done: HowFar = untold
) -> str:
    """The first thing that is wrong with a plan or its proof, "" when both hold. ``past``: as it was planned from, in
    the places of the plan's rows.

    The fewest strands: as many exits and entries as moves made touch every legal move, so no plan can make more moves
    (König 1931). The fewest meetings and the least carry: no legal move is cheaper than its prices, and every move
    made is exactly so (duality of linear programmes). Where strands could meet and do not, going on without a meeting
    counts as a move that is made.
    """
    past = past or Past()
    if fault := _does_not_fit(strands, past):
        return fault
    ends = _ends(strands.rows, limits, past)
    if ends.met and not limits.share_runs:
        return f"a run is shared at {min(ends.met)}"
    made: set[_Move] = {(origin, place) for origin, place in _made(strands) if place in ends.entries}
    made |= {(node, node) for node in ends.entries if isinstance(node, Meeting)}
    if fault := _is_no_proof(proof, ends, made):
        return fault
    barred, untouched, cheaper, longest, most, can_meet = set(made), "", "", 0, 0, False
    for (u, v), carried, meetings in _legal_moves(strands.rows, limits, ends, done):
        barred.discard((u, v))
        cost = carried + meetings * proof.weight
        longest, most, can_meet = max(longest, carried), max(most, cost), can_meet or meetings > 0
        prices = proof.exit_prices[u] + proof.entry_prices[v]
        if not untouched and u not in proof.exits and v not in proof.entries:
            untouched = f"the legal move from {u} to {v} is not touched"
        if not cheaper and (cost < prices or (cost != prices and (u, v) in made)):
            cheaper = f"the move from {u} to {v} costs {cost}, its prices are {prices}"
    for u, v in sorted(barred):
        return f"the strand may not go from {u} to {v}"
    if proof.dear <= len(ends.entries) * most:
        return "a strand too many is not dear enough"
    if can_meet and proof.weight <= len(ends.entries) * longest:
        return "a meeting is not dear enough"
    return untouched or cheaper


_Move = tuple[Node, Node]
_Kind = Literal["entry", "exit"]
_Hung = tuple[str, int, Node]
"""The yarn of what is left or entered, the gap, and what it is."""


@dataclass(frozen=True)
class _Ends:
    """The segments that a strand may still leave, and those still to come whose strand is to be chosen; and where
    strands may share runs, the places at which they could meet in them and do not. ``met``: the segments that take
    over from another strand where it was free to be chosen whether they do."""

    exits: frozenset[Node]
    entries: frozenset[Node]
    met: frozenset[Place]

    def meetings(self, u: Node, v: Node) -> int:
        """At how many ends of a move strands meet."""
        after = isinstance(u, Meeting) or Place(u.row, u.segment + 1) in self.met
        return after + (isinstance(v, Meeting) or v in self.met)


def _ends(rows: Rows, limits: Carry, past: Past) -> _Ends:
    position = position_of(past, rows)
    again_until = {strand: place for place, strand in sorted(past.again.items())}
    to_come = {place for place in rows.places() if place >= position}
    alive = {place for strand, place in hanging(past).items() if strand not in again_until}
    stopped = {place for place, strand in past.again.items() if strand in past.cut or again_until[strand] != place}
    exits, entries = frozenset(alive | to_come - stopped), frozenset(to_come.difference(past.again))
    met = frozenset(
        place for place in entries
        if place != position and _is_rest(rows, place) and Place(place.row, place.segment - 1) not in past.again
    )
    ends = _Ends(exits, entries, met)
    return _with_meetings(rows, limits, ends) if limits.share_runs else ends


def _is_rest(rows: Rows, place: Place) -> bool:
    """Whether a segment is the rest of a run that another strand began."""
    runs = rows[place.row].segments
    return 0 < place.segment < len(runs) and runs[place.segment - 1].yarn == runs[place.segment].yarn


def _is_at_meeting(rows: Rows, u: Node, v: Node) -> bool:
    """Whether strands meet, or could, where one is left or the other is entered: none passes behind from there, nor
    to it."""
    if isinstance(u, Meeting) or isinstance(v, Meeting):
        return True
    return _is_rest(rows, v) or _is_rest(rows, Place(u.row, u.segment + 1))


def _with_meetings(rows: Rows, limits: Carry, ends: _Ends) -> _Ends:
    """The same with the places where strands could meet: between any two stitches of a run to come, if a way leads
    there from a run, and from there to one, from meeting to meeting."""
    hung, wanted, ways = _by_row(rows, ends.exits, "exit"), _by_row(rows, ends.entries, "entry"), list[_Move]()
    for high in range(len(rows)):
        could = [
            Meeting(high, segment, after)
            for segment, run in enumerate(rows[high].segments) if Place(high, segment) in ends.entries
            for after in range(1, run.stitches)
        ]
        entries = [*wanted.get(high, ()), *_at(rows, could, "entry")]
        found = [move for move, _ in _moves_into(rows, limits, hung, entries, high)]
        arrived = {v for _, v in found}
        hung[high] = [*hung.get(high, ()), *_at(rows, [one for one in could if one in arrived], "exit")]
        ways += found
    leads_on: set[Node] = set()
    for u, v in reversed(ways):
        if isinstance(u, Meeting) and (isinstance(v, Place) or v in leads_on):
            leads_on.add(u)
    return replace(ends, exits=ends.exits | leads_on, entries=ends.entries | leads_on)


def _by_row(rows: Rows, nodes: Collection[Node], kind: _Kind) -> dict[int, list[_Hung]]:
    found: dict[int, list[_Hung]] = {}
    for each in _at(rows, sorted(nodes), kind):
        found.setdefault(each[2].row, []).append(each)
    return found


def _at(rows: Rows, nodes: Iterable[Node], kind: _Kind) -> Iterator[_Hung]:
    """The yarn of each, and the gap where it is entered or left: a meeting right after the stitch before it."""
    columns: dict[tuple[int, int], list[int]] = {}
    for node in nodes:
        row, segment, *after = node
        run = rows[row].segments[segment]
        if not after:
            yield run.yarn, run.entry if kind == "entry" else run.exit, node
            continue
        if (row, segment) not in columns:
            columns[row, segment] = run.columns
        yield run.yarn, columns[row, segment][after[0] - 1] - (rows[row].toward == "right"), node


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


def _legal_moves(rows: Rows, limits: Carry, ends: _Ends, done: HowFar) -> Iterator[tuple[_Move, int, int]]:
    """Every move that the limits allow, its carry and at how many of its ends strands meet; first those of strands
    that go on where another one could take over, which carry nothing."""
    for node in ends.entries:
        if isinstance(node, Meeting):
            yield (node, node), 0, 0
    for place in ends.entries:
        before = Place(place.row, place.segment - 1)
        if isinstance(place, Place) and _is_rest(rows, place) and before in ends.exits:
            yield (before, place), 0, 0
    hung, wanted = _by_row(rows, ends.exits, "exit"), _by_row(rows, ends.entries, "entry")
    for high in range(len(rows)):
        done(high / len(rows))
        for (u, v), carried in _moves_into(rows, limits, hung, wanted.get(high, ()), high):
            yield (u, v), carried, ends.meetings(u, v)


def _moves_into(
    rows: Rows, limits: Carry, hung: Mapping[int, Sequence[_Hung]], entries: Sequence[_Hung], high: int
) -> Iterator[tuple[_Move, int]]:
    """Every move to what is entered in a row: within it, then from those below, nearest first."""
    if limits.behind and not _is_each_its_own(rows, high):
        stitches = _upto(rows, high, ())
        for u, v, cost in _near(hung.get(high, ()), entries, stitches, limits.behind, None):
            if u.segment < v.segment and not _is_at_meeting(rows, u, v):
                yield (u, v), cost
    if not entries:
        return
    stitches = _upto(rows, high, rows.before(high))
    for way in _ways(rows, [high], limits.rest + 2):
        around = stitches[-1] if all(rows[row].side == "RS" for row in way) else None
        exits = hung.get(way[-1], ())
        gap_of = {u: gap for _, gap, u in exits}
        bounds = {is_first: list(_bounds(rows, way, is_first=is_first)) for is_first in (False, True)}
        for u, v, cost in _near(exits, entries, stitches, limits.reach, around):
            if _hangs_on(bounds[isinstance(v, Place) and not v.segment], gap_of[u]):
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
    exits: Sequence[_Hung], entries: Sequence[_Hung], stitches: Sequence[int], most: int, around: int | None
) -> Iterator[tuple[Node, Node, int]]:
    """Every exit of one row with every entry of another that is of its yarn and no more than ``most`` stitches away.
    ``stitches``: those before every gap. ``around``: so many are in a round, in which a strand may go either way, so
    that it hangs that many stitches further on and further back as well."""
    hung: dict[str, list[tuple[int, Node]]] = {}
    for yarn, gap, u in exits:
        at = stitches[min(gap, len(stitches) - 1)]
        there = [at] if around is None else [at - around, at, at + around]
        hung.setdefault(yarn, []).extend((each, u) for each in there)
    for waiting in hung.values():
        waiting.sort()
    for yarn, gap, v in entries:
        if strands := hung.get(yarn):
            entry = stitches[gap]
            found: dict[Node, int] = {}
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


_Bound = tuple[int, int, int, int]
"""The gaps at the edges of a row, and the first and the last one of those from which a strand can go on."""


def _hangs_on(bounds: Iterable[_Bound], gap: int) -> bool:
    """Whether a strand left at a gap can be carried over all rows of a way. What was left outside the stitches of a
    row hangs at its edge."""
    return all(first <= min(max(gap, low), high) <= last for low, high, first, last in bounds)


def _bounds(rows: Rows, way: Sequence[int], *, is_first: bool) -> Iterator[_Bound]:
    """From where strands can be carried over each row of a way up to its first one, ``is_first``: to its first
    segment. Where a row binds off at its start, only the strand that does so goes on over those stitches; where the
    piece divides, each part takes up the stitches on its side, and the one that begins beside the opening those in
    the middle, unless they are held."""
    for upper, lower in pairwise(way):
        (first, last), own = _columns(rows, lower), _columns(rows, upper)
        low, high, row = first - 1, last, rows[upper]
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
        yield low, high, first - 1, last


def _is_no_proof(proof: Proof, ends: _Ends, made: set[_Move]) -> str:
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
