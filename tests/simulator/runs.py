"""A row worked on the needles run by run, as it is told: how strands come in, what is made and lost, what rests.

Beside what cannot be done at all, this refuses a change without a cross, an edge not held, a strand that is told
where it does not hang or taken up twice, a step that hands need and is not told where all are.
"""

from __future__ import annotations

from itertools import groupby
from typing import NamedTuple

from tests.simulator.needles import Needles
from tests.simulator.stitches import OTHER_EDGE, Edge, Hung, Made, Note, Strand
from tests.simulator.told import (
    BindOff,
    CastOn,
    CastOnBefore,
    Catch,
    Cross,
    Decrease,
    Do,
    Doing,
    JoinRound,
    LayIn,
    Lift,
    Loops,
    Renew,
    Resting,
    Run,
    Share,
    Slip,
    Steady,
    Take,
    Under,
    WrittenRow,
)


class Cell(NamedTuple):
    """A stitch as it lies in the fabric. ``face``: knit or purl as the right side looks, "" where what was told
    leaves it open. ``is_slipped``: it is one of the row below."""

    column: int
    yarn: str
    face: str
    is_slipped: bool


class Decreased(NamedTuple):
    """Stitches worked together: ``inward`` so many stitches of the row lie between it and its edge, ``of`` all."""

    how: str
    inward: int
    of: int
    is_of_seam: bool


EDGES: dict[str, Edge] = {
    "ssk": "right", "ssp": "right", "sssk": "right", "sssp": "right", "m1R": "right",
    "k2tog": "left", "p2tog": "left", "k3tog": "left", "p3tog": "left", "m1L": "left",
}  # fmt: skip
"""Which way each leans, or lifts the bar, and so at which edge it is worked; the other one by a mirrored knitter."""


class Runs:
    """Hands at the runs of a row."""

    def __init__(self, needles: Needles, is_full: bool) -> None:
        self._needles = needles
        self._must = needles.must
        self._is_full = is_full
        self._is_ring = self._is_round = False
        self._is_joined = False
        self._start: Edge = "right"
        self._waits_to_be_joined = False
        self._halves: dict[str, list[tuple[int, int | None]]] = {}
        self._runs: list[Strand] = []
        self._made: list[tuple[str, int]] = []  # the yarn and the stitches of every run of the row
        self._shares: list[tuple[int, Share]] = []
        self._rests: list[str] = []  # told where the next stitches are worked together, and hang between those
        self._caught: list[tuple[str, int]] = []
        self._edge: Strand | None = None
        self._edge_that_waits: Strand | None = None
        self._edge_set_aside: Strand | None = None
        self._joined: tuple[str, ...] = ()
        self._hand_last: str = ""
        self._looped = 1
        self._rows: dict[tuple[str, int], int] = {}
        self.counts: list[tuple[int, int]] = []
        self._decreases: list[tuple[str, int]] = []

    def cast_on(self, told: CastOn) -> None:
        needles = self._needles
        needles.cast_on(told.sections, told.strands, is_long_tail=told.method == "long-tail")
        self._is_joined, self._waits_to_be_joined = told.is_joined, told.waits
        if told.is_cut:
            assert needles.hand is not None
            needles.cut(needles.hand)
            needles.hand = None

    # A row

    def row(self, row: WrittenRow) -> tuple[Cell, ...]:
        """Work a row's runs; its stitches from right to left as the right side looks."""
        needles = self._needles
        if isinstance(row.runs[0].leads[0], CastOn):
            self.cast_on(row.runs[0].leads[0])
        self._must(needles.facing == row.side, f"told as a {row.side} row, and the {needles.facing} faces")
        self._must(row.kind == "Row" or row.side == "RS", "a round on the wrong side")
        self._check_joined(row)
        needles.begin_row(is_ring=self._is_ring, **self._changes(row))
        self._rows[row.part, row.number] = needles.row
        self._is_round = row.kind == "Round"
        self._start = needles.start
        self._runs, self._caught, self._hand_last = [], [], ""
        self._made, self._shares = [], []
        self.counts, self._decreases = [], []
        resting = self._resting()
        for run in row.runs:
            self._run(run, is_first=run is row.runs[0])
        self._must(not any(self._halves.values()), "a length begun at its middle has one half")
        passed = sum(isinstance(doing, Resting) for run in row.runs for doing in run.doings)
        self._must(not self._rests, f"no {self._rests} rests {needles.tips} in ({needles.lie()})")
        self._must(passed <= resting[1], f"{passed} resting strands are told, {resting[1]} rest")
        if passed < resting[0]:
            needles.notes.append(Note("rest untold", f"{passed} resting strands are told, {resting[0]} rest"))
        self._check_catches()
        self._check_shares()
        stitches = needles.end_row()
        self._joined = ()
        self._edge = needles.hand
        return tuple(Cell(one.column, one.yarn, one.face, one.row < needles.row) for one in stitches)

    def _check_joined(self, row: WrittenRow) -> None:
        """The first round of all is worked on a cast-on that was joined, or is to be joined at its end."""
        if self._needles.row == 0:
            is_round = self._is_joined or any(isinstance(end, JoinRound) for end in row.ends)
            self._must((row.kind == "Round") == is_round, f"the first row is a {row.kind}, joined: {is_round}")
            self._must(not self._waits_to_be_joined or not self._is_joined, "joined, and not yet")

    def _changes(self, row: WrittenRow) -> dict[Edge, int]:
        """So many stitches are made at each edge, or with a minus lost."""
        found: dict[Edge, int] = {"right": 0, "left": 0}
        start = self._needles.start
        end = OTHER_EDGE[start]
        is_begun, between = False, self._needles.between
        for doing in (doing for run in row.runs for doing in run.doings):
            match doing:
                case BindOff(number):
                    found[start] -= number
                case CastOnBefore(number):
                    found[start] += number
                case Loops(number):
                    inner = min(number, between)  # they lie between two parts that are joined, and at no edge
                    between -= inner
                    found[end if is_begun else start] += number - inner
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
        *before, take = [lead for lead in run.leads if not isinstance(lead, CastOn)]
        assert isinstance(take, Take)
        crosses = sum(isinstance(lead, Cross) for lead in before)
        self._must(crosses == (0 if is_first else 1), f"{crosses} crosses into run {needles.run + 1}")
        unders = [lead.old for lead in before if isinstance(lead, Under)]
        steady = [lead.yarn for lead in before if isinstance(lead, Steady)]
        shares = [lead for lead in before if isinstance(lead, Share)]
        self._must(len(before) == crosses + len(unders) + len(steady) + len(shares), "told twice how it comes in")
        self._shares += ((len(self._runs), share) for share in shares)
        is_on = bool(self._made) and self._made[-1][0] == take.yarn and take.how == "with"
        self._must(take.is_other == is_on, f"the other {take.yarn}: {take.is_other}, it goes on with a run: {is_on}")
        if self._is_full:
            self._check_steady(steady, is_first=is_first)
        first = next(doing for doing in run.doings if not isinstance(doing, Catch | Resting | LayIn | Renew))
        self._take(take, self._edge if is_first else None, first, is_under=bool(unders))
        assert needles.hand is not None
        self._check_hold("".join(unders), is_first=is_first)
        self._runs.append(needles.hand)
        begun, self._looped = needles.tips, 1
        self.counts.append((len(needles.stitches) - begun, begun))
        for doing in run.doings:
            self._do(doing, needles.tips - begun)
        self._must(needles.tips > begun, "a run without a stitch")
        self._made.append((take.yarn, needles.tips - begun))
        needles.leave()

    def _check_steady(self, steady: list[str], *, is_first: bool) -> None:
        """After a purl on a right-side row, or a knit on a wrong-side one, the strand lies on the right side of the
        fabric, and is taken to the wrong side before it is crossed."""
        needles = self._needles
        wrong = {"RS": "p", "WS": "k"}[needles.facing]
        if self._hand_last == "?" and not is_first:
            return  # a loop, or the stitch left of a bind-off: words leave open how it lies
        asked = [needles.hand.yarn] if needles.hand and self._hand_last == wrong and not is_first else []
        self._must(steady == asked, f"told to steady {steady}, after a {self._hand_last or 'turn'}")

    def _take(self, take: Take, edge: Strand | None, first: Doing, *, is_under: bool) -> None:
        """``first``: what the strand works first."""
        needles = self._needles
        if take.how == "with":
            together = _together(first.how) if isinstance(first, Decrease) else 1
            hung = Hung(take.yarn, take.on_needle, take.over, take.strand, take.is_other)
            strand = needles.take(hung, edge=edge, is_under=is_under, together=together)
            self._must(take.rested in (None, strand.floats[-1][1]), f"rested {take.rested}, {strand.floats[-1][1]}")
            return
        needles.hand = needles.new_strand(
            take.yarn, take.strand or None, has_tail=take.how == "join",
            is_before=isinstance(first, BindOff | CastOnBefore),
        )  # fmt: skip
        halves = self._halves.setdefault(take.yarn, [])
        if take.how == "middle":
            halves.append((needles.tips, take.apart))
        elif take.how == "other half":
            self._must(halves, f"no length of {take.yarn} was begun at its middle")
            at, apart = halves.pop(0)
            is_so = apart == take.apart and take.apart in (None, needles.tips - at)
            self._must(is_so, f"the halves begin {needles.tips - at} apart, told are {apart} and {take.apart}")

    def _check_hold(self, under: str, *, is_first: bool) -> None:
        """At a row's start, where another strand worked the edge last, the new one comes up from under it."""
        needles = self._needles
        edge = self._edge if is_first else None
        if edge is None or edge is needles.hand:
            self._must(not under, f"told to go under {under}, which did not work the edge")
        else:
            self._must(under == edge.yarn, f"{edge.yarn} worked the edge last, told is {under or 'nothing'}")

    def _do(self, doing: Doing, done: int) -> None:
        """``done``: so many of the run's stitches are there."""
        needles = self._needles
        match doing:
            case Do(hand, number):
                needles.work(hand, number)
            case Slip(number):
                self._must(needles.tips == 0 and number == 1, "slipped elsewhere than at a row's start")
                needles.slip(number)
            case Decrease(how):
                self._decreases.append((how, needles.tips))
                needles.decrease("k" if "k" in how else "p", _together(how), self._leans(how), how)
            case Lift(how):
                needles.lift("p" if how.endswith("purlwise") else "k", self._leans(how.split()[0]), how)
            case Loops(number):
                needles.loops(number, "loop")
                self._looped = number
            case CastOnBefore(number):
                needles.cast_on_before(number)
            case BindOff(number):
                needles.bind_off(number)
            case Catch(yarn):
                self._caught.append((yarn, needles.tips))
            case Resting(yarn):
                self._rests += [] if needles.rests_here(yarn) else [yarn]
            case LayIn():
                self._lay_in(doing)
            case Renew(yarn, is_spliced):
                self._must(needles.hand is not None and needles.hand.yarn == yarn, f"{yarn} is not in hand")
                needles.renew(is_spliced=is_spliced, after=done)
        if _lies(doing):
            back = 1 if isinstance(doing, BindOff) else 0  # before the stitch that is left of it
            for yarn in self._rests:
                self._must(needles.rests_here(yarn, back), f"no {yarn} rests {needles.tips} in ({needles.lie()})")
            self._rests = []
        self._hand_last = _lies(doing) or self._hand_last

    def _leans(self, how: str) -> Edge:
        return OTHER_EDGE[EDGES[how]] if self._needles.is_mirrored else EDGES[how]

    def decreased(self, stitches: int, is_round: bool) -> list[Decreased]:
        """How far in the decreases of a row of so many stitches lie."""
        starts = [self._leans(how) == self._start for how, _ in self._decreases]
        return [
            Decreased(how, at if is_at_start else stitches - 1 - at, stitches, is_round)
            for is_at_start, (how, at) in zip(starts, self._decreases, strict=True)
        ]

    def _lay_in(self, told: LayIn) -> None:
        """A tail that hangs one stitch back is laid in, in its own colour; loops made before it lie between too. One
        at an edge that was worked together hangs at what that edge is now."""
        needles = self._needles
        low, high = needles.range_now
        self._must(needles.hand is not None and needles.hand.yarn == told.yarn, f"a tail of {told.yarn} elsewhere")
        here = {needles.gap_at(needles.tips - back) for back in (1, self._looped)}
        loose = [
            tail for tail in needles.tails
            if tail.strand.yarn == told.yarn and not tail.is_laid_in and min(max(tail.gap, low), high) in here
            and tail.at.row in (needles.row, *self._rows_below())
        ]  # fmt: skip
        if told.end is not None:
            part, number, run, kind = told.end
            at = Made(self._rows[part, number], run)
            loose = [tail for tail in loose if (tail.at, tail.kind) == (at, kind)]
        self._must(loose, f"no tail of {told.yarn} hangs one stitch back")
        loose[0].is_laid_in = True

    def _rows_below(self) -> list[int]:
        """The last rows of both parts where they are joined, else the row below."""
        if self._joined:
            return [max(row for (part, _), row in self._rows.items() if part == own) for own in self._joined]
        rows = {stitch.row for one in self._needles.stitches for stitch in one.below}
        return [max(rows - {self._needles.row}, default=0)]  # what it cast on first is worked in the row itself

    def _check_shares(self) -> None:
        """Where strands of one yarn work side by side, it is told what each of them works."""
        if not self._is_full:
            return
        asked, at = list[tuple[int, Share]](), 0
        for yarn, runs in groupby(self._made, key=lambda made: made[0]):
            works = tuple(stitches for _, stitches in runs)
            asked += [(at, Share(yarn, works))] if len(works) > 1 else []
            at += len(works)
        self._must(self._shares == asked, f"told to share {self._shares}, shared are {asked}")

    def _check_catches(self) -> None:
        """Every catch lies within a float of its yarn."""
        for yarn, position in self._caught:
            passed = [p for p in self._needles.passed if p.yarn == yarn and p.first < position <= p.last]
            self._must(passed, f"{yarn} is caught after {position} stitches, where none of it is carried")
            if all(p.last == position for p in passed):
                self._needles.notes.append(Note("catch at a change", f"{yarn} is caught with a run's last stitch"))


def _together(how: str) -> int:
    return 3 if how.startswith("sss") or "3" in how else 2


def _lies(doing: Doing) -> str:
    """How the strand lies after a doing: as after a knit or a purl, not moved ("-"), open ("?"), as before ("")."""
    match doing:
        case Do(hand, _):
            return hand
        case Decrease(how):
            return "k" if "k" in how else "p"
        case Lift(how):
            return "p" if how.endswith("purlwise") else "k"
        case Slip():
            return "-"
        case Loops() | BindOff():
            return "?"
        case _:
            return ""
