"""What is told at a row's end, done: the count, cuts, what rests, parts, rounds, the turn.

This refuses a count that does not hold, a strand told at a place where it is not, and one that is neither worked, cut
nor left to rest. Where every step is told and not only the rows, the turns must be told too; a reader of rows turns
unasked, but for the turn before rounds.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from tests.simulator.runs import Runs
from tests.simulator.stitches import OTHER_EDGE, OTHER_SIDE, Held, Strand
from tests.simulator.told import (
    BindOffAll,
    Count,
    Cut,
    Divide,
    Goes,
    HaveReady,
    JoinParts,
    JoinRound,
    Leave,
    RowEnd,
    SetAside,
    StrandAt,
    Take,
    TakeUp,
    Turn,
    WrittenRow,
)

FOR_GOOD = "middle for good"
"""The holder of stitches that are to stay there."""


class RowEnds(Runs):
    """Hands at a row's end."""

    def after(self, row: WrittenRow, following: WrittenRow | None) -> None:
        """What is told at the row's end, and getting ready for the next."""
        ends = row.ends
        self._must(isinstance(ends[0], Count), "the count does not come first")
        for number, end in enumerate(ends):
            is_off = any(isinstance(before, BindOffAll) for before in ends[:number])
            self._must(not is_off or isinstance(end, TakeUp | HaveReady), "told after everything is bound off")
            self._end(end)
        parts = any(isinstance(end, Divide | TakeUp | JoinParts) for end in ends)
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
                self._must(needles.waits(strand), f"a {strand.yarn} is not worked, cut or left")
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
            case SetAside():
                self._set_aside(end)
            case TakeUp():
                self._take_up(end)
            case JoinParts():
                self._join(end)
            case Turn(tip):
                self._must(tip in ("", "toward" if needles.facing == "RS" else "away"), f"the tip {tip} you")
                needles.turn()
            case JoinRound():
                self._must(not self._is_joined and needles.row == 1, "joined again")
                self._is_joined = True
            case Goes() | HaveReady():
                pass

    def _bind_off(self, told: BindOffAll) -> None:
        needles, there = self._needles, len(self._needles.stitches)
        hand, (first, *others) = needles.hand, (told.first, *told.others)
        self._must(hand is not None and hand.yarn == first.yarn, f"{first.yarn} is not in hand")
        assert hand is not None
        self._must(first.strand in (0, hand.number), f"strand {first.strand} is not in hand")
        self._must(first.stitches is not None or not others, "how many are bound off in hand is not told")
        numbers = [first.stitches if first.stitches is not None else there, *(one.stitches or 0 for one in others)]
        self._must(sum(numbers) == there, f"{sum(numbers)} are told to be bound off")
        self._must(not (others and self._is_round), "rounds are bound off in one strand")
        facing = needles.facing if self._is_round else OTHER_SIDE[needles.facing]
        self._must(told.side == facing, f"bound off with the {told.side} toward the knitter, and it is the {facing}")
        is_last = not set(needles.holder) - {FOR_GOOD}
        held = len(needles.holder[FOR_GOOD].stitches) if is_last and FOR_GOOD in needles.holder else 0
        self._must(told.held in (None, held), f"{told.held} are told to stay held, {held} do")
        needles.bind_off_first(numbers[0], is_round=self._is_round)
        for one, number in zip(others, numbers[1:], strict=True):
            needles.bind_off_next(one.yarn, number, one.strand)
        needles.nothing_left()

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
            middle = needles.holder.pop("middle")
            needles.holder.setdefault(FOR_GOOD, Held([], [], 0, 0)).stitches.extend(middle.stitches)
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

    def _set_aside(self, told: SetAside) -> None:
        """The part goes on its holder, as it lies once its last row is worked."""
        needles = self._needles
        waits = [strand for gap in needles.gaps for strand in gap if not needles.waits(strand)]
        self._must(told.is_hung == bool(waits), f"strands hang at it: {told.is_hung}, there are {len(waits)}")
        needles.put_on_holders([told.part], [told.stitches])
        self._edge_set_aside = self._edge

    def _join(self, told: JoinParts) -> None:
        """Both parts on the needle, before the turn; the row then begins at the edge to which it was worked."""
        needles = self._needles
        begins = OTHER_EDGE[needles.start]
        self._must(told.first == begins != told.then, f"across the {told.first} first, and it begins at the {begins}")
        self._must(told.held in needles.holder, f"the {told.held} part is not held")
        in_hand, there = OTHER_EDGE[begins] if told.held == begins else begins, len(needles.stitches)
        numbers = {in_hand: there, told.held: len(needles.holder[told.held].stitches)}
        self._must(
            [told.waited, told.stitches, told.then_stitches]
            == [numbers[told.held], numbers[told.first], numbers[told.then]], f"{numbers} are joined",
        )
        self._must(told.held != in_hand, "the part in hand is held")
        needles.put_on_holders([in_hand], [there])
        needles.join(told.first, told.then, told.between)
        self._joined = told.first, told.then
        if told.first == told.held:
            self._edge = self._edge_set_aside
