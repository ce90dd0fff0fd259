"""Where strands could meet in a run that they share: one is left inside it, another one takes it over there.

A run to come is worked once, by one strand or by several, one after the other. Where a strand would hang above the
middle of a run it could go on up without working it: then the two exchange their parts. The one that came to the
run's beginning is left in the middle and goes on from there, the one that came to the middle works on to the run's
end. So a meeting is a place that at most one strand passes, on its way from a run below to a run above, and that is
left again where it was come to; every run itself is passed by exactly one (a flow with lower bounds). As exits
matched to entries: a meeting is both, and where nobody meets its entry takes its own exit, at no cost.

Several strands may meet in one run, each at a place of its own; no strand passes behind others of the row to a
meeting or from one, and none begins or ends there, which would gain nothing. What stays divided of a run, since some
of it is worked, is runs of their own; the strand that began it may always go on with the rest.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence

from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.cloth.segments import Segment
from companion.knitting.strands.strands import Past, position_of
from companion.knitting.value import Record


class Meeting(Record):
    """A place inside a run, ``after`` so many of its stitches in working order. Among places it comes where it is met
    in working order."""

    row: int
    segment: int
    after: int


Node = Place | Meeting
"""What a strand goes on from, and what it goes on to: a run, or a place where it meets another."""


def inside(row: Row, segment: int) -> Iterator[Segment]:
    """The places between two stitches of a run in working order, as runs of no stitches: each is entered and left in
    the gap after the first of them."""
    run = row.segments[segment]
    for column in run.columns[:-1]:
        gap = _after(row, column)
        yield Segment(run.yarn, 0, 0, 0, gap, gap, ())


def is_taken_over(row: Row, segment: int) -> bool:
    """Whether a run is the rest of one that another strand began."""
    return 0 < segment < len(row.segments) and row.segments[segment - 1].yarn == row.segments[segment].yarn


def whole_ahead(rows: Rows, past: Past) -> tuple[Rows, Past]:
    """The same rows with the runs to come whole again, and the past in their places. What was begun stays divided as
    it was worked, and so do runs that are worked again in part."""
    if not rows.meetings:
        return rows, past
    position, kept = position_of(past, rows), dict[int, tuple[int, ...]]()
    for index in rows.meetings:
        row = rows[index]
        stays = [
            row.segments[segment - 1].exit for segment in range(1, len(row.segments))
            if is_taken_over(row, segment) and (
                Place(index, segment) <= position or not past.again.keys().isdisjoint(
                    (Place(index, segment - 1), Place(index, segment))
                )
            )
        ]  # fmt: skip
        if stays:
            kept[index] = tuple(sorted(stays))
    whole = rows.divided_at(kept)
    return whole, in_places_of(whole, rows, past)


def in_places_of(rows: Rows, before: Rows, past: Past) -> Past:
    """The past in the places of rows that are otherwise divided in what is to come. Of shared starts those are left
    that are still where a run is entered."""
    if rows is before or not (past.again or past.shared):
        return past
    known: dict[int, dict[int, int]] = {}

    def moved(place: Place) -> Place | None:
        entries = known.get(place.row)
        if entries is None:
            found = ((run.entry, segment) for segment, run in enumerate(rows[place.row].segments))
            entries = known[place.row] = dict(found)
        segment = entries.get(before.segment(place).entry)
        return None if segment is None else Place(place.row, segment)

    again = {new: strand for place, strand in past.again.items() if (new := moved(place)) is not None}
    shared = ((moved(one), moved(other)) for one, other in past.shared)
    return past._replace(again=again, shared=tuple((a, b) for a, b in shared if a is not None and b is not None))


class Division:
    """Whole rows, divided where strands meet, and where in them everything lies: ``used`` are the meetings."""

    def __init__(self, rows: Rows, used: Iterable[Node]) -> None:
        gaps = {index: set(known) for index, known in rows.meetings.items()}
        self._cuts: dict[int, list[tuple[int, int]]] = {}
        for row, segment, after in sorted(node for node in used if isinstance(node, Meeting)):
            gaps.setdefault(row, set()).add(_after(rows[row], rows[row].segments[segment].columns[after - 1]))
            self._cuts.setdefault(row, []).append((segment, after))
        self.rows = rows.divided_at({index: tuple(sorted(gaps[index])) for index in sorted(gaps)})

    def entered(self, node: Node) -> Node:
        """What is entered where a whole run was, or a meeting."""
        cuts = self._cuts.get(node.row)
        if cuts is None:
            return node
        if isinstance(node, Place):
            return Place(node.row, node.segment + bisect_left(cuts, (node.segment, 0)))
        return self._met(node, cuts, 1)

    def left(self, node: Node) -> Node:
        """What is left where a whole run was, or a meeting."""
        cuts = self._cuts.get(node.row)
        if cuts is None:
            return node
        if isinstance(node, Place):
            return Place(node.row, node.segment + bisect_left(cuts, (node.segment + 1, 0)))
        return self._met(node, cuts, 0)

    @staticmethod
    def _met(meeting: Meeting, cuts: Sequence[tuple[int, int]], more: int) -> Node:
        """The run that a meeting begins, or ends; where nobody meets it lies in one."""
        row, segment, after = meeting
        at = bisect_left(cuts, (segment, after))
        if at < len(cuts) and cuts[at] == (segment, after):
            return Place(row, segment + at + more)
        passed = cuts[at - 1][1] if at and cuts[at - 1][0] == segment else 0
        return Meeting(row, segment + at, after - passed)


def _after(row: Row, column: int) -> int:
    """The gap in which a strand hangs that has just worked this stitch."""
    return column - (row.toward == "right")
