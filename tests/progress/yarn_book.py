"""A book of the yarn itself, kept run by run: how many stitches each strand has worked, after how many of them a
length of it ended, and what is done at the end of the row.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.hands.mistakes import Mistake, as_worked
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import BindOff as BindOffStep
from companion.knitting.hands.steps import CastOn, CutCastOn, Join, Renew
from companion.knitting.hands.steps import Cut as CutStep
from companion.knitting.strands.strands import StrandOf, Strands
from companion.progress.events import (
    Broke,
    Cut,
    Event,
    JoinedNew,
    Mistook,
    Planned,
    RanOut,
    RippedBack,
    RowEndBegun,
    RowEndDone,
    Unpicked,
    WentOn,
    Worked,
)
from companion.progress.session import Session
from tests.progress.row_ends_reckoned import RowEnds, drawn_rows


@dataclass
class Yarn:
    """One strand's yarn, measured in stitches from its start: where a new length was joined or spliced, and where the
    last length ends (None: it is on its ball)."""

    joined: set[int] = field(default_factory=set)
    spliced: set[int] = field(default_factory=set)
    ends: int | None = None

    def upto(self, stitches: int) -> Yarn:
        """What is known of its first stitches; its end is not."""
        return Yarn({n for n in self.joined if n < stitches}, {n for n in self.spliced if n < stitches})


@dataclass
class Book:
    """What was worked, run by run: place, strand, stitches; and the yarn of every strand. ``done``: what is done at
    the end of the row in work, where something is still to be done there (None: nothing is)."""

    worked: list[tuple[Place, int, int]] = field(default_factory=list)
    yarns: dict[int, Yarn] = field(default_factory=dict)
    at_turn: set[int] = field(default_factory=set)
    done: set[str] | None = None

    def total(self, strand: int) -> int:
        """Stitches worked with a strand."""
        return sum(stitches for _, number, stitches in self.worked if number == strand)

    def take(self, session: Session, event: Event) -> None:
        """What an event does to the yarn; ``session`` as it was before its entry."""
        match event:
            case Worked(row, segment, _, stitches, strand):
                self.worked.append((Place(row, segment), strand, stitches))
                self.yarns.setdefault(strand, Yarn())
                self.at_turn, self.done = set(), None
            case RowEndBegun(_, done):
                self.done = set(done)
            case RowEndDone(_, act):
                assert self.done is not None
                self.done.add(act)
            case Cut(_, strands):
                self.at_turn |= set(strands)
                for strand in strands:
                    self.yarns[strand].ends = self.total(strand)
            case Unpicked(row, segment):
                self.worked = [run for run in self.worked if run[0] < (row, segment)]
                self.at_turn, self.done = set(), None
            case RippedBack(row):
                self.worked = [run for run in self.worked if run[0].row <= row]
                self.at_turn, self.done = set(), None
            case Broke(row, segment, after, is_spliced):
                self._break(session.strands.at(Place(row, segment)), after, is_spliced)
            case RanOut(strand):
                self.yarns[strand].ends = self.total(strand)
            case JoinedNew(row, segment, strand):
                self.yarns[strand] = Yarn()
                self._replace(session, Place(row, segment), strand)
            case WentOn(row, segment, strand):
                yarn = self.yarns[strand]
                self.yarns[strand] = Yarn(yarn.upto(self.total(strand)).joined, yarn.spliced)
                self.at_turn.discard(strand)
                self._replace(session, Place(row, segment), strand)
            case Planned(version, _, new, _, start):
                met = event.met(session.rows.meetings)
                rows, old = session.as_worked(session.versions[version], met), session.strands.strand_of
                self._forget(session, (old[:start] + new + old[start + len(new):])[:len(rows)], rows)
            case Mistook(row, columns, yarn, "leave"):
                self._count_anew(as_worked(session.rows, [Mistake(row, columns, yarn)]), row)
            case _:
                pass

    def row_ends(self, session: Session) -> RowEnds:
        """What the strands as the session has them ask for at the rows' ends."""
        order = list(session.rows.places())
        halves = {order.index(Place(*max(pair))) for pair in session.strands.shared}
        runs = [n for row in session.strands.strand_of for n in row]
        return RowEnds(drawn_rows(session.rows), runs, session.piece.cast_on.is_each, halves)

    def asked(self, session: Session) -> list[str]:
        """What is to be done at the end of the row just worked, but for what is cut already."""
        row = self.worked[-1][0].row
        return self.row_ends(session).acts(row, {n for n, yarn in self.yarns.items() if yarn.ends is not None})

    def pending(self, session: Session) -> list[str]:
        """What is still to be done there now."""
        return [] if self.done is None else [act for act in self.asked(session) if act not in self.done]

    def _break(self, strand: int, after: int, is_spliced: bool) -> None:
        at = self.total(strand) + after
        yarn = self.yarns.setdefault(strand, Yarn())
        if is_spliced:
            yarn.spliced.add(at)
        else:
            self.yarns[strand] = replace(yarn.upto(at), joined={*yarn.upto(at).joined, at})

    def _replace(self, session: Session, place: Place, strand: int) -> None:
        """The run is the strand's: with the run go the ends that lie in it. What was told of the run in work stays
        in that run."""
        if not self.worked or self.worked[-1][0] != place:
            return
        _, old, stitches = self.worked.pop()
        start, new_start = self.total(old), self.total(strand)
        yarn, new = self.yarns[old], self.yarns.setdefault(strand, Yarn())
        with_the_run = [{n for n in facts if start <= n < start + stitches} for facts in (yarn.joined, yarn.spliced)]
        yarn.joined -= with_the_run[0]
        yarn.spliced -= with_the_run[1]
        if session.is_begun and session.next_place is not None:
            settled = session.strands.at(session.next_place)
            length = session.rows.segment(session.next_place).stitches
            if settled == old:
                self._shift(old, start + stitches, length, -stitches)
            if settled == strand:
                self._shift(strand, new_start, length, stitches)
        new.joined |= {n - start + new_start for n in with_the_run[0]}
        new.spliced |= {n - start + new_start for n in with_the_run[1]}
        self.worked.append((place, strand, stitches))
        following = session.next_place
        goes_on = session.is_begun and following is not None and session.strands.at(following) == strand
        if old in self.at_turn and not goes_on:
            new.ends = new_start + stitches
            self.at_turn.add(strand)

    def _shift(self, strand: int, start: int, length: int, by: int) -> None:
        """What lies in so many stitches of the yarn lies further on or back."""
        yarn = self.yarns[strand]
        for facts in (yarn.joined, yarn.spliced):
            moved = {n for n in facts if start <= n < start + length}
            facts -= moved
            facts |= {n + by for n in moved}

    def _count_anew(self, real: Rows, row: int) -> None:
        """Runs of a row had other stitches than was thought, and their strands were that much longer or shorter."""
        for i, (place, strand, stitches) in enumerate(self.worked):
            if place.row == row:
                more = real.segment(place).stitches - stitches
                self.worked[i] = place, strand, stitches + more
                ends = self.yarns[strand].ends
                self.yarns[strand].ends = None if ends is None else ends + more

    def _forget(self, session: Session, strand_of: StrandOf, rows: Rows) -> None:
        """The number of a strand that was ripped out altogether may name another one; but of the length that begins
        with the run in work, what was told in this very run is still so, unless it is drawn too short for a join."""
        hanging = {strand for _, strand, _ in self.worked}
        kept = {strand: yarn for strand, yarn in self.yarns.items() if strand in hanging}
        begun = session.next_place
        if begun is not None and begun.row < len(strand_of):
            strand, old = session.strands.at(begun), session.rows.segment(begun)
            is_same = strand_of[begun.row][begun.segment:begun.segment + 1] == (strand,)
            new = rows.segment(begun) if is_same else old
            if is_same and new.yarn == old.yarn and strand in self.yarns and strand not in hanging:
                kept[strand] = self.yarns[strand].upto(old.stitches)
            if is_same and strand in kept and new.stitches < old.stitches:
                start = self.total(strand)
                past_its_end = range(start + new.stitches, start + old.stitches)
                kept[strand] = replace(kept[strand], joined=kept[strand].joined.difference(past_its_end))
        self.yarns = kept
        self.at_turn &= hanging


def offsets(strands: Strands) -> dict[int, tuple[set[int], set[int]]]:
    """Where the session has the joins and splices of every strand, counted along the strand's own path."""
    found: dict[int, tuple[set[int], set[int]]] = {}
    so_far: dict[int, int] = {}
    for place in strands.rows.places():
        strand = strands.at(place)
        start = so_far.get(strand, 0)
        for broken in strands.breaks:
            if broken.place == place:
                joined, spliced = found.setdefault(strand, (set(), set()))
                (spliced if broken.is_spliced else joined).add(start + broken.after)
        so_far[strand] = start + strands.rows.segment(place).stitches
    return found


def tails(strands: Strands) -> int:
    """Tails that the steps leave: one for every section cast on, two for a cast-on that is cut, one at every join
    told but at a middle, at every cut and bind-off told, and at both sides where a length is joined on inside a
    run."""
    found = 0
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            found += sum(isinstance(step, CastOn | CutCastOn | Join) for step in run.steps)
            found += 2 * sum(isinstance(step, Renew) for step in run.inside)
        found += sum(len(step.spots) for step in row_end(strands, row) if isinstance(step, CutStep))
        found += sum(isinstance(step, BindOffStep) for step in row_end(strands, row))
    return found
