"""Doing on the needles what is told, row by row, to the letter; what comes out is the fabric as it was knitted.

Beside what cannot be done at all, this refuses what no reader could do safely: a change without a cross, a strand that
is neither worked, cut nor left to rest, a count that does not hold, a row told with the wrong side facing.
"""

from __future__ import annotations

from typing import NamedTuple

from tests.simulator.needles import OTHER_EDGE, CannotBeDone, Edge, Needles, Note, Stitch, Strand
from tests.simulator.told import (
    BindOff,
    BindOffAll,
    CastOn,
    CastOnBefore,
    Catch,
    Cross,
    Cut,
    Decrease,
    Divide,
    Do,
    Doing,
    Goes,
    LayIn,
    Leave,
    Lift,
    Loops,
    Resting,
    RowEnd,
    Run,
    Slip,
    StrandAt,
    Take,
    TakeUp,
    Turn,
    Under,
    Written,
    WrittenRow,
)


class Cell(NamedTuple):
    """A stitch as it lies in the fabric. ``face``: knit or purl as the right side looks, "" where what was told leaves
    it open. ``is_slipped``: it is one of the row below."""

    column: int
    yarn: str
    face: str
    is_slipped: bool


class Worked(NamedTuple):
    """A row as it lies in the fabric, from right to left as the right side looks."""

    kind: str
    part: str
    number: int
    side: str
    cells: tuple[Cell, ...]
    stitches: tuple[Stitch, ...]


class Knitted(NamedTuple):
    """The whole piece, and the needles that it was worked on."""

    rows: list[Worked]
    needles: Needles


_EDGES: dict[str, Edge] = {"ssk": "right", "ssp": "right", "sssk": "right", "sssp": "right", "m1R": "right",
                           "k2tog": "left", "p2tog": "left", "k3tog": "left", "p3tog": "left", "m1L": "left"}  # fmt: skip
"""Which way each leans, or lifts the bar, and so at which edge it is worked; the other one by a mirrored knitter."""


def knit(told: Written, *, is_mirrored: bool, column: int = 1) -> Knitted:
    """Work a whole piece as it is told. ``column``: of row 1's rightmost stitch."""
    needles = Needles(is_mirrored=is_mirrored, column=column)
    worker = Worker(needles)
    rows: list[Worked] = []
    if told.cast_on:
        worker.cast_on(told.cast_on)
    for row, following in zip(told.rows, [*told.rows[1:], None], strict=True):
        name = f"{row.kind} {row.number} {row.part}".strip()
        try:
            rows.append(worker.row(row))
            worker.after(row, following)
        except CannotBeDone as fault:
            raise CannotBeDone(f"{name}: {fault}") from None
    needles.must(not needles.stitches, f"{len(needles.stitches)} stitches are left on the needles")
    left = [strand.yarn for strand in needles.strands if not strand.is_cut]
    needles.must(not left, f"never cut: {', '.join(left)}")
    needles.must(set(needles.holder) <= {"middle for good"}, "a part is left on its holder")
    return Knitted(rows, needles)


class Worker:
    """The hands."""

    def __init__(self, needles: Needles) -> None:
        self._needles = needles
        self._must = needles.must
        self._halves: dict[str, int] = {}
        self._is_round = False
        self._last: list[Strand] = []
        self._caught: list[tuple[str, int]] = []
        self._edge: Strand | None = None
        self._edge_that_waits: Strand | None = None

    def cast_on(self, told: CastOn) -> None:
        needles = self._needles
        needles.cast_on(list(told.sections), is_long_tail=told.method == "long-tail")
        if told.is_cut:
            assert needles.hand is not None
            needles.cut(needles.hand)
            needles.hand = None

    # A row

    def row(self, row: WrittenRow) -> Worked:
        """Work a row's runs."""
        needles = self._needles
        if isinstance(row.runs[0].leads[0], CastOn):
            self.cast_on(row.runs[0].leads[0])
        self._must(needles.facing == row.side, f"told as a {row.side} row, and the {needles.facing} faces")
        self._must(row.kind == "Row" or row.side == "RS", "a round on the wrong side")
        needles.begin_row(is_ring=self._is_round, **self._changes(row))
        self._last, self._caught = [], []
        resting = self._resting()
        for run in row.runs:
            self._run(run, is_first=run is row.runs[0])
        self._must(not any(self._halves.values()), "a length begun at its middle has one half")
        passed = sum(isinstance(doing, Resting) for run in row.runs for doing in run.doings)
        self._must(passed <= resting[1], f"{passed} resting strands are told, {resting[1]} rest")
        if passed < resting[0]:
            needles.notes.append(Note("rest untold", f"{passed} resting strands are told, {resting[0]} rest"))
        self._check_catches()
        stitches = needles.end_row()
        self._must(row.count == len(stitches), f"told ({row.count} sts), {len(stitches)} are on the needle")
        self._edge = needles.hand
        cells = (Cell(one.column, one.yarn, one.face, one.row < needles.row) for one in stitches)
        return Worked(row.kind, row.part, row.number, row.side, tuple(cells), tuple(stitches))

    def _changes(self, row: WrittenRow) -> dict[Edge, int]:
        """So many stitches are made at each edge, or with a minus lost."""
        found: dict[Edge, int] = {"right": 0, "left": 0}
        start = self._needles.start
        end = OTHER_EDGE[start]
        is_begun = False
        for doing in (doing for run in row.runs for doing in run.doings):
            match doing:
                case BindOff(number):
                    found[start] -= number
                case CastOnBefore(number):
                    found[start] += number
                case Loops(number):
                    found[end if is_begun else start] += number
                case Decrease(how):
                    found[self._leans(how)] -= _together(how) - 1
                case Lift(how):
                    found[self._leans(how.split()[0])] += 1
            is_begun = is_begun or isinstance(doing, Do | Slip | Decrease | BindOff)
        return found

    def _resting(self) -> tuple[int, int]:
        """How many strands rest over this row, at least and at most: one between two parts may belong to either."""
        needles = self._needles
        rests = [s for gap in needles.each_gap() for s in gap if s.due > needles.level]
        return sum(not needles.waits(s) for s in rests), len(rests)

    def _run(self, run: Run, *, is_first: bool) -> None:
        needles = self._needles
        needles.run += 1
        leads = [lead for lead in run.leads if not isinstance(lead, CastOn)]
        crosses = sum(isinstance(lead, Cross) for lead in leads)
        self._must(crosses == (0 if is_first else 1), f"{crosses} crosses into run {needles.run + 1}")
        under = next((lead.old for lead in leads if isinstance(lead, Under)), "")
        take = leads[-1]
        assert isinstance(take, Take)
        self._must(len(leads) == 1 + crosses + bool(under), "told twice how the strand comes in")
        self._take(take, self._edge if is_first else None, is_under=bool(under))
        assert needles.hand is not None
        self._check_hold(under, is_first=is_first)
        self._last.append(needles.hand)
        before = needles.tips
        for doing in run.doings:
            self._do(doing)
        self._must(needles.tips > before, "a run without a stitch")
        needles.leave()

    def _take(self, take: Take, edge: Strand | None, *, is_under: bool) -> None:
        needles = self._needles
        if take.how == "with":
            needles.take(take.yarn, take.away, edge=edge, is_under=is_under)
            return
        needles.hand = needles.new_strand(take.yarn, has_tail=take.how == "join")
        if take.how == "middle":
            self._halves[take.yarn] = self._halves.get(take.yarn, 0) + 1
        elif take.how == "other half":
            self._must(self._halves.get(take.yarn), f"no length of {take.yarn} was begun at its middle")
            self._halves[take.yarn] -= 1

    def _check_hold(self, under: str, *, is_first: bool) -> None:
        """At a row's start, where another strand worked the edge last, the new one comes up from under it."""
        needles = self._needles
        edge = self._edge if is_first and needles.tips == 0 else None
        if edge is None or edge is needles.hand:
            self._must(not under, f"told to go under {under}, which did not work the edge")
        else:
            self._must(under == edge.yarn, f"{edge.yarn} worked the edge last, told is {under or 'nothing'}")

    def _do(self, doing: Doing) -> None:
        needles = self._needles
        match doing:
            case Do(hand, number):
                needles.work(hand, number)
            case Slip(number):
                self._must(needles.tips == 0 and number == 1, "slipped elsewhere than at a row's start")
                needles.slip(number)
            case Decrease(how):
                needles.decrease("k" if "k" in how else "p", _together(how), self._leans(how), how)
            case Lift(how):
                needles.lift("p" if how.endswith("purlwise") else "k", self._leans(how.split()[0]), how)
            case Loops(number):
                needles.loops(number, "loop")
            case CastOnBefore(number):
                needles.cast_on_before(number)
            case BindOff(number):
                needles.bind_off(number)
            case Catch(yarn):
                self._caught.append((yarn, needles.tips))
            case Resting(yarn):
                self._must(needles.rests_here(yarn), f"no {yarn} rests {needles.tips} in ({needles.lie()})")
            case LayIn(yarn, under):
                self._lay_in(yarn, under)

    def _leans(self, how: str) -> Edge:
        edge = _EDGES[how]
        if not self._needles.is_mirrored:
            return edge
        return "left" if edge == "right" else "right"

    def _lay_in(self, yarn: str, under: int) -> None:
        """A tail that was left one stitch back is laid in."""
        needles = self._needles
        self._must(needles.hand is not None and needles.hand.yarn == yarn, f"a tail of {yarn} in another colour")
        rows = (needles.row - 1, needles.row)
        loose = [t for t in needles.tails if t.strand.yarn == yarn and not t.is_laid_in and t.at.row in rows]
        self._must(loose, f"no tail of {yarn} hangs there")
        loose[-1].is_laid_in = True
        self._must(under >= 1, "laid in under nothing")

    def _check_catches(self) -> None:
        """Every catch lies within a float of its yarn."""
        for yarn, position in self._caught:
            passed = any(p.yarn == yarn and p.first < position < p.last for p in self._needles.passed)
            self._must(passed, f"{yarn} is caught after {position} stitches, where none of it is carried")

    # After it

    def after(self, row: WrittenRow, following: WrittenRow | None) -> None:
        """What is told at the row's end, and getting ready for the next."""
        needles = self._needles
        is_bound_off = False
        for end in row.ends:
            self._must(not is_bound_off or isinstance(end, TakeUp), "told after everything is bound off")
            self._end(end)
            is_bound_off = is_bound_off or isinstance(end, BindOffAll)
        if following is None:
            return
        self._nothing_forgotten()
        self._must((following.part != row.part) == any(isinstance(end, Divide | TakeUp) for end in row.ends),
                   "another part is worked, and nothing is told of it")  # fmt: skip
        goes = next((end.how for end in row.ends if isinstance(end, Goes)), "")
        change = "" if row.kind == following.kind else "round" if following.kind == "Round" else "flat"
        self._must(goes == change, f"told to go {goes or 'on'}, the next is a {following.kind}")
        self._is_round = row.kind == "Round"
        if row.kind == "Row" and not any(isinstance(end, Divide | TakeUp) for end in row.ends):
            needles.turn()
        elif row.kind == "Round":
            needles.tips = 0

    def _nothing_forgotten(self) -> None:
        """Every strand at these stitches worked in this row, or is left to rest; or it waits with another part."""
        needles = self._needles
        for gap in needles.gaps:
            for strand in list(gap):
                if strand.used.row == needles.row or strand.due > needles.level:
                    continue
                self._must(needles.waits(strand), f"a {strand.yarn} is neither worked, cut nor left to rest")
                gap.remove(strand)

    def _end(self, end: RowEnd) -> None:
        needles = self._needles
        match end:
            case Cut(places):
                for place in places:
                    needles.cut(self._at(place))
            case Leave(places):
                for place, rows in places:
                    self._at(place).due = needles.level + 1 + rows
            case BindOffAll(yarn):
                self._must(needles.hand is not None and needles.hand.yarn == yarn, f"{yarn} is not in hand")
                needles.bind_off_all()
            case Divide():
                self._divide(end)
            case TakeUp(part, stitches, middle, side):
                self._take_up(part, stitches, middle, side)
            case Turn() | Goes():
                pass

    def _at(self, place: StrandAt) -> Strand:
        """The strand that worked a run of this row, told by its place; its neighbours must be as told."""
        yarns = [strand.yarn for strand in self._last]
        run = place.run
        told = (place.before, place.yarn, place.after)
        there = (yarns[run - 1] if run else "", yarns[run], yarns[run + 1] if run + 1 < len(yarns) else "")
        self._must(told == there, f"told {told}, found {there}")
        return self._last[run]

    def _divide(self, told: Divide) -> None:
        """The first part's stitches stay on the needle, the others go on holders."""
        needles = self._needles
        middle = told.middle
        names, numbers = ["right", "middle", "left"], [told.works, middle, told.waits]
        if told.first == "left":
            numbers.reverse()
        if not middle:
            del names[1], numbers[1]
        side = "WS" if needles.facing == "RS" else "RS"
        needles.put_on_holders(names, numbers)
        if told.is_held:
            needles.holder["middle for good"] = needles.holder.pop("middle")
        needles.take_back([told.first], side)
        is_at_edge = (told.first == "right") == needles.goes_left  # it begins where the row before ended
        self._edge, self._edge_that_waits = (self._edge, None) if is_at_edge else (None, self._edge)

    def _take_up(self, part: str, stitches: int, middle: int, side: str) -> None:
        needles = self._needles
        names = [part]
        if middle:
            names = ["middle", part] if part == "left" else [part, "middle"]
        there = [len(needles.holder[name].stitches) for name in names if name in needles.holder]
        self._must(sum(there) == stitches + middle and len(there) == len(names), f"{there} are held")
        needles.take_back(names, "RS" if side == "RS" else "WS")
        self._edge = self._edge_that_waits


def _together(how: str) -> int:
    return 3 if how.startswith("sss") or "3" in how else 2
