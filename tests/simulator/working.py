"""Doing on the needles what is told, row by row, to the letter; what comes out is the fabric as it was knitted.

Beside what cannot be done at all, this refuses what no reader could do safely: a change without a cross, a strand that
is neither worked, cut nor left to rest, a count that does not hold, a row told with the wrong side facing. Where every
step is told and not only the rows (``Written.is_full``), the steps that a reader of rows does unasked must be there too.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from tests.simulator.needles import OTHER_EDGE, CannotBeDone, Edge, Made, Needles, Note, Strand
from tests.simulator.told import (
    BindOff,
    BindOffAll,
    CastOn,
    CastOnBefore,
    Catch,
    Count,
    Cross,
    Cut,
    Decrease,
    Divide,
    Do,
    Doing,
    Goes,
    HaveReady,
    JoinRound,
    LayIn,
    Leave,
    Lift,
    Loops,
    Renew,
    Resting,
    RowEnd,
    Run,
    Slip,
    Steady,
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


class Hanging(NamedTuple):
    """Where a strand hangs after a row: the run it worked last, and the gap, by columns, where that left it."""

    used: Made
    gap: int


class Worked(NamedTuple):
    """A row as it lies in the fabric, from right to left as the right side looks, and what hangs once it is done."""

    kind: str
    part: str
    number: int
    side: str
    cells: tuple[Cell, ...]
    hanging: dict[int, Hanging]


class Knitted(NamedTuple):
    """The whole piece, and the needles that it was worked on."""

    rows: list[Worked]
    needles: Needles


_EDGES: dict[str, Edge] = {"ssk": "right", "ssp": "right", "sssk": "right", "sssp": "right", "m1R": "right",
                           "k2tog": "left", "p2tog": "left", "k3tog": "left", "p3tog": "left", "m1L": "left"}  # fmt: skip
"""Which way each leans, or lifts the bar, and so at which edge it is worked; the other one by a mirrored knitter."""

FOR_GOOD = "middle for good"
"""The holder of stitches that are to stay there."""


def knit(told: Written, *, is_mirrored: bool, column: int = 1) -> Knitted:
    """Work a whole piece as it is told. ``column``: of row 1's rightmost stitch."""
    needles = Needles(is_mirrored=is_mirrored, column=column)
    worker = _Worker(needles, told.is_full)
    rows: list[Worked] = []
    if told.cast_on:
        worker.cast_on(told.cast_on)
    for row, following in zip(told.rows, [*told.rows[1:], None], strict=True):
        try:
            cells = worker.row(row)
            worker.after(row, following)
        except CannotBeDone as fault:
            raise CannotBeDone(f"{row.kind} {row.number} {row.part}: {fault}") from None
        hanging = {s.number: Hanging(s.used, s.gap) for s in needles.strands if not s.is_cut}
        rows.append(Worked(row.kind, row.part, row.number, row.side, cells, hanging))
    needles.must(not needles.stitches, f"{len(needles.stitches)} stitches are left on the needles")
    left = [strand.yarn for strand in needles.strands if not strand.is_cut]
    needles.must(not left, f"never cut: {', '.join(left)}")
    needles.must(set(needles.holder) <= {FOR_GOOD}, "a part is left on its holder")
    loose = sum(not tail.is_laid_in for tail in needles.tails)
    needles.must(told.ends in (None, loose), f"{told.ends} ends are told to be woven in, {loose} are there")
    return Knitted(rows, needles)


class _Worker:
    """The hands."""

    def __init__(self, needles: Needles, is_full: bool) -> None:
        self._needles = needles
        self._must = needles.must
        self._is_full = is_full
        self._is_ring = self._is_round = False
        self._is_joined = False
        self._waits_to_be_joined = False
        self._halves: dict[str, list[tuple[int, int | None]]] = {}
        self._runs: list[Strand] = []
        self._caught: list[tuple[str, int]] = []
        self._edge: Strand | None = None
        self._edge_that_waits: Strand | None = None
        self._hand_last: str = ""
        self._rows: dict[tuple[str, int], int] = {}

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
        self._runs, self._caught, self._hand_last = [], [], ""
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
        *before, take = [lead for lead in run.leads if not isinstance(lead, CastOn)]
        assert isinstance(take, Take)
        crosses = sum(isinstance(lead, Cross) for lead in before)
        self._must(crosses == (0 if is_first else 1), f"{crosses} crosses into run {needles.run + 1}")
        unders = [lead.old for lead in before if isinstance(lead, Under)]
        steady = [lead.yarn for lead in before if isinstance(lead, Steady)]
        self._must(len(before) == crosses + len(unders) + len(steady), "told twice how the strand comes in")
        if self._is_full:
            self._check_steady(steady, is_first=is_first)
        first = next(doing for doing in run.doings if not isinstance(doing, Catch | Resting | LayIn | Renew))
        self._take(take, self._edge if is_first else None, first, is_under=bool(unders))
        assert needles.hand is not None
        self._check_hold("".join(unders), is_first=is_first)
        self._runs.append(needles.hand)
        begun = needles.tips
        for doing in run.doings:
            self._do(doing, needles.tips - begun)
        self._must(needles.tips > begun, "a run without a stitch")
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
            strand = needles.take(take.yarn, take.away, take.strand, edge=edge, is_under=is_under)
            self._must(take.strand in (0, strand.number), f"strand {take.strand} is told, {strand.number} hangs there")
            together = range(_together(first.how)) if isinstance(first, Decrease) else range(1)
            if take.on_needle is not None and not any(needles.hangs_so(take.on_needle + n) for n in together):
                told = f"{take.yarn} is told to lie {take.on_needle} ahead on the needle, and {needles.hung} it does"
                needles.notes.append(Note("on needle", told))
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
            self._must(is_so, f"the halves begin {needles.tips - at} stitches apart, told are {apart} and {take.apart}")

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
            case LayIn():
                self._lay_in(doing)
            case Renew(yarn, is_spliced):
                self._must(needles.hand is not None and needles.hand.yarn == yarn, f"{yarn} is not in hand")
                needles.renew(is_spliced=is_spliced, after=done)
        self._hand_last = _lies(doing) or self._hand_last

    def _leans(self, how: str) -> Edge:
        return OTHER_EDGE[_EDGES[how]] if self._needles.is_mirrored else _EDGES[how]

    def _lay_in(self, told: LayIn) -> None:
        """A tail that hangs one stitch back is laid in, in its own colour."""
        needles = self._needles
        self._must(needles.hand is not None and needles.hand.yarn == told.yarn, f"a tail of {told.yarn} elsewhere")
        back = needles.gap_at(needles.tips - 1)
        loose = [
            tail for tail in needles.tails
            if tail.strand.yarn == told.yarn and not tail.is_laid_in and tail.gap == back
            and tail.at.row in (needles.row, self._row_below())
        ]  # fmt: skip
        if told.end is not None:
            part, number, run, kind = told.end
            at = Made(self._rows[part, number], run)
            loose = [tail for tail in loose if (tail.at, tail.kind) == (at, kind)]
        self._must(loose, f"no tail of {told.yarn} hangs one stitch back")
        loose[0].is_laid_in = True

    def _row_below(self) -> int:
        below = [stitch for one in self._needles.stitches for stitch in one.below]
        return max((stitch.row for stitch in below), default=0)

    def _check_catches(self) -> None:
        """Every catch lies within a float of its yarn."""
        for yarn, position in self._caught:
            passed = [p for p in self._needles.passed if p.yarn == yarn and p.first < position <= p.last]
            self._must(passed, f"{yarn} is caught after {position} stitches, where none of it is carried")
            if all(p.last == position for p in passed):
                self._needles.notes.append(Note("catch at a change", f"{yarn} is caught with a run's last stitch"))

    # After it

    def after(self, row: WrittenRow, following: WrittenRow | None) -> None:
        """What is told at the row's end, and getting ready for the next."""
        ends = row.ends
        self._must(isinstance(ends[0], Count), "the count does not come first")
        for number, end in enumerate(ends):
            is_off = any(isinstance(before, BindOffAll) for before in ends[:number])
            self._must(not is_off or isinstance(end, TakeUp | HaveReady), "told after everything is bound off")
            self._end(end)
        parts = any(isinstance(end, Divide | TakeUp) for end in ends)
        if following is None:
            self._must(not parts, "another part is told of, and none is worked")
            return
        self._must((following.part != row.part) == parts, "another part is worked, and nothing is told of it")
        self._check_goes(row, following)
        self._check_ready(ends, following)
        self._is_ring = row.kind == "Round"
        is_turned = any(isinstance(end, Turn) for end in ends)
        if row.kind == "Round":
            self._must(not is_turned, "a turn after a round")
            self._needles.tips = 0
        elif not self._is_full and not is_turned and not any(isinstance(end, TakeUp) for end in ends):
            self._needles.turn()  # a reader of rows turns unasked
        self._nothing_forgotten()

    def _check_goes(self, row: WrittenRow, following: WrittenRow) -> None:
        told = [end for end in row.ends if isinstance(end, Goes)]
        if row.kind == following.kind:
            self._must(not told, f"told to go {told}, and the next is a {following.kind}")
            return
        self._must([end.how for end in told] == ["round" if following.kind == "Round" else "flat"], f"goes {told}")
        if told[0].how == "round":
            self._must(told[0].is_again == self._is_joined, f"round again: {told[0].is_again}")
            self._must(any(isinstance(end, Turn) for end in row.ends), "rounds begin after a turn that is not told")
            self._is_joined = True

    def _check_ready(self, ends: Iterable[RowEnd], following: WrittenRow) -> None:
        """What is told to have ready is what the next row joins."""
        if not self._is_full:
            return
        joins = [lead for run in following.runs for lead in run.leads if isinstance(lead, Take)]
        asked = [Counter(lead.yarn for lead in joins if lead.how == how) for how in ("join", "middle")]
        told = [end for end in ends if isinstance(end, HaveReady)]
        ready = [Counter(told[0].yarns), Counter(told[0].shared)] if told else [Counter[str](), Counter[str]()]
        self._must(ready == asked and len(told) < 2, f"told to have ready {ready}, joined are {asked}")

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
            case Count(stitches, more):
                there = len(needles.stitches)
                self._must(stitches == there, f"{stitches} are told, {there} are on the needle")
                self._must(more in (None, needles.made_here), f"{more} more are told, {needles.made_here} are")
            case Cut(places, stays):
                for place in places:
                    needles.cut(self._at(place))
                self._check_stays(places, stays)
            case Leave(places):
                for place, rows in places:
                    self._at(place).due = needles.level + 1 + rows
            case BindOffAll():
                self._bind_off(end)
            case Divide():
                self._divide(end)
            case TakeUp():
                self._take_up(end)
            case Turn(tip):
                self._must(tip in ("", "toward" if needles.facing == "RS" else "away"), f"the tip {tip} you")
                needles.turn()
            case JoinRound():
                self._must(not self._is_joined and needles.row == 1, "joined again")
                self._is_joined = True
            case Goes() | HaveReady():
                pass

    def _bind_off(self, told: BindOffAll) -> None:
        needles = self._needles
        hand = needles.hand
        self._must(hand is not None and hand.yarn == told.yarn, f"{told.yarn} is not in hand")
        assert hand is not None
        self._must(told.strand in (0, hand.number), f"strand {told.strand} is not in hand")
        self._must(told.stitches in (None, len(needles.stitches)), f"{told.stitches} are told to be bound off")
        is_last = not set(needles.holder) - {FOR_GOOD}
        held = len(needles.holder[FOR_GOOD].stitches) if is_last and FOR_GOOD in needles.holder else 0
        self._must(told.held in (None, held), f"{told.held} are told to stay held, {held} do")
        needles.bind_off_all(is_round=self._is_round)

    def _at(self, place: StrandAt) -> Strand:
        """The strand that worked a run of this row, told by its place; its neighbours must be as told."""
        yarns = [strand.yarn for strand in self._runs]
        run = place.run
        told = (place.before, place.yarn, place.after)
        there = (yarns[run - 1] if run else "", yarns[run], yarns[run + 1] if run + 1 < len(yarns) else "")
        self._must(told == there, f"told {told}, found {there}")
        strand = self._runs[run]
        self._must(strand not in self._runs[run + 1:], f"the {strand.yarn} worked on after that")
        self._must(place.strand in (0, strand.number), f"strand {place.strand} is told, {strand.number} hangs there")
        return strand

    def _check_stays(self, places: tuple[StrandAt, ...], stays: tuple[StrandAt, ...] | None) -> None:
        """Of the yarns that are cut, every strand of this row that is not."""
        if stays is None:
            return
        yarns = {place.yarn for place in places}
        asked = {strand.number for strand in self._runs if strand.yarn in yarns and not strand.is_cut}
        self._must({self._at(place).number for place in stays} == asked, f"told to stay: {stays}, not cut: {asked}")

    def _divide(self, told: Divide) -> None:
        """Everything goes on holders but the first part's stitches; the work is not turned yet."""
        needles = self._needles
        names, numbers = ["right", "middle", "left"], [told.works, told.middle, told.waits]
        if told.first == "left":
            numbers.reverse()
        if not told.middle:
            del names[1], numbers[1]
        needles.put_on_holders(names, numbers)
        if told.is_held and told.middle:
            needles.holder[FOR_GOOD] = needles.holder.pop("middle")
        ends_there = (told.first == "left") == needles.goes_left
        self._edge, self._edge_that_waits = (self._edge, None) if ends_there else (None, self._edge)
        needles.take_back([told.first], needles.facing, is_done=True)

    def _take_up(self, told: TakeUp) -> None:
        needles = self._needles
        names = [told.part]
        if told.middle:
            names = ["middle", told.part] if told.part == "left" else [told.part, "middle"]
        there = [len(needles.holder[name].stitches) for name in names if name in needles.holder]
        self._must(sum(there) == told.stitches + told.middle and len(there) == len(names), f"{there} are held")
        needles.take_back(names, "RS" if told.side == "RS" else "WS")
        self._edge = self._edge_that_waits


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
