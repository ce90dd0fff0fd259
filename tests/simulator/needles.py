"""Two needles, the stitches on them, and the strands that hang between the stitches: what hands would hold.

Nothing here knows how a piece is planned. A stitch knows its yarn, its strand, how it was made and, once its row is
done, its column in the finished fabric. A strand hangs in a gap: before the first stitch, between two, after the
last. Whatever cannot be done to the letter raises ``CannotBeDone``.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from tests.simulator.hanging import Hanging
from tests.simulator.stitches import OTHER_EDGE, OTHER_SIDE, Edge, Face, Gap, Held, Note, Side, Stitch, Strand, Tail


class Needles(Hanging):
    """What hands do on them."""

    # Casting on

    def cast_on(self, sections: Sequence[tuple[str, int]], numbers: Sequence[int], *, is_long_tail: bool) -> None:
        """So many stitches in each yarn, in the order in which the hands cast them on; row 1 goes back over them.
        Each strand is left at the last stitch cast on with it; its tail there too (long-tail), or at the first.
        ``numbers``: theirs, where told."""
        self.must(not self.stitches, "something is on the needles already")
        self.gaps = [[]]
        for index, (yarn, number) in enumerate(sections):
            self.must(number > 0, "no stitch is cast on")
            strand = self.new_strand(yarn, numbers[index] if numbers else None)
            strand.spent["cast on"] += number
            for _ in range(number):
                self.stitches.insert(0, Stitch(yarn, strand, "", "cast on", 0, 0))
                self.gaps.insert(0, [])
            self.gaps[0].append(strand)
            self.hand = strand
        low, high = self.column - 1, self.column - 1 + len(self.stitches)
        for place, gap in enumerate(self.gaps):
            for strand in gap:
                strand.gap = low + place if self.goes_left else high - place
        for tail, (_, number) in zip(self.tails, sections, strict=True):
            ahead = 0 if is_long_tail else number
            tail.gap = tail.strand.gap + (ahead if self.goes_left else -ahead)

    # Working

    def work(self, hand: Literal["k", "p"], number: int, takes: int = 1, how: str = "") -> None:
        """Knit or purl so many stitches with the strand in hand, each into ``takes`` of those below together."""
        for _ in range(number):
            ahead = self.stitches[self.tips:self.tips + takes]
            self.must(len(ahead) == takes, f"{how or hand}: {len(ahead)} stitches are left to work")
            self._put(self._stitch(self._face(hand), how or hand, tuple(ahead)), takes)

    def _face(self, hand: Literal["k", "p"]) -> Face:
        return "knit" if (hand == "k") == (self.facing == "RS") else "purl"

    def _stitch(self, face: Face, how: str, below: tuple[Stitch, ...] = ()) -> Stitch:
        self.must(self.hand is not None, "no strand is in hand")
        assert self.hand is not None
        self.hand.spent["stitch" if how != "cast on" else how] += 1
        return Stitch(self.hand.yarn, self.hand, face, how, self.row, self.level, below)

    def _put(self, stitch: Stitch, takes: int) -> None:
        """A stitch on the right needle for ``takes`` from the left one; what hung between those hangs behind it."""
        at = self.tips
        between = [strand for gap in self.gaps[at + 1:at + takes] for strand in gap]
        for strand in [*between, *(s for s in self.strands if s.behind in stitch.below)]:
            strand.behind = stitch
        self.stitches[at:at + takes] = [stitch]
        del self.gaps[at + 1:at + takes]
        self.gaps[at + 1] += between
        self.tips += 1

    def decrease(self, hand: Literal["k", "p"], together: int, edge: Edge, how: str) -> None:
        """Some stitches worked together, at an edge as the right side looks."""
        self.work(hand, 1, together, how)
        self._change(edge, 1 - together)

    def lift(self, hand: Literal["k", "p"], edge: Edge, how: str) -> None:
        """A stitch made from the bar between the needles; the bar at a change of strands is its crossing."""
        self.must(self.tips, f"{how}: there is no bar before the first stitch")
        self._make(self._stitch(self._face(hand), how))
        self._look_at_bar(how)
        self._change(edge, 1)

    def _look_at_bar(self, how: str) -> None:
        """It lies in the row below, between the stitch under the one worked last and the one to be worked next."""
        if self.tips == len(self.stitches):
            self.notes.append(Note("no bar", f"{how}: no stitch is left, and a bar lies between two"))
            return
        before, after = self.stitches[self.tips - 2], self.stitches[self.tips]
        under = before if before.row < self.row else before.below[-1] if before.below else None
        if under is not None and self._ran_past(under) is not self._ran_past(after):
            what = f"{how}: in the row below {under.yarn} meets {after.yarn} there"
            self.notes.append(Note("bar at a change", what))

    def _ran_past(self, stitch: Stitch) -> Strand:
        """The strand that ran through a stitch in the row below, or past it where it was slipped there."""
        row, strand = stitch.slipped or (0, stitch.strand)
        return strand if row > stitch.row and row < self.row else stitch.strand

    def loops(self, number: int, how: str) -> None:
        """Loops on the right needle, made at a row's start, between parts that are joined, or after all other
        stitches of the row."""
        inner = min(number, self.between) if self.tips == self.between_at else 0
        for _ in range(inner):
            self._make(self._stitch("", how))
            here = self.gaps[self.tips - 1]
            self.gaps[self.tips] += [strand for strand in here if strand in self.beyond]
            here[:] = [strand for strand in here if strand not in self.beyond]
        if inner:
            self.between, self.between_at, number = self.between - inner, self.tips, number - inner
        if not number:
            return
        is_start = self.tips == 0
        self.must(is_start or self.tips == len(self.stitches), f"{how}: in the middle of a row")
        for _ in range(number):
            self._make(self._stitch("", how), is_at_start=is_start)
        self._change(self.start if is_start else OTHER_EDGE[self.start], number)

    def _make(self, stitch: Stitch, *, is_at_start: bool = False) -> None:
        """A stitch on the right needle that hangs in none below. At a row's start it lies beyond all that hangs at
        the edge, which comes out of the stitches below; elsewhere after it. Where rounds end it opens the join: what
        comes out of the round's last stitch hangs before it, and all else after it."""
        between: Gap = []
        if self.tips == 0 and is_at_start and self.gaps[0] is self.gaps[-1]:
            last = self.range_below[1 if self.goes_left else 0]
            between = self._join = self.gaps[-1] = [strand for strand in self.gaps[0] if strand.gap == last]
            self.gaps[0] = [strand for strand in self.gaps[0] if strand not in between]
        self.stitches.insert(self.tips, stitch)
        self.gaps.insert(self.tips + (not is_at_start), between)
        self.tips += 1

    def cast_on_before(self, number: int) -> None:
        """Stitches onto the left needle before a row's first stitch, in the strand in hand."""
        self.must(self.tips == 0, "cast on: some of the row is worked already")
        made = [self._stitch("", "cast on") for _ in range(number)]
        self.stitches[:0] = made
        self.gaps[:0] = [[] for _ in made]
        self._change(self.start, number)

    def bind_off(self, number: int) -> None:
        """So many stitches bound off at a row's start; the next one is worked and lies on the right needle."""
        self.must(self.tips == 0, "bind off: some of the row is worked already")
        self.must(len(self.stitches) > number, f"bind off {number}: {len(self.stitches)} stitches are there")
        inside = {s: number - at for at, gap in enumerate(self.gaps[:number]) for s in gap if not self.waits(s)}
        hung = list(inside)
        # Behind the last one it may be beyond; by its column one that rested over rows shaped further in is beyond.
        over = [
            strand for strand, stitches in inside.items()
            if strand.behind is not self.stitches[number - 1] and stitches > 2 * max(0, self.level - strand.level - 1)
        ]
        told = f"strands hang over stitches that are bound off: {', '.join(s.yarn for s in over)}"
        resting = all(strand.due > self.level for strand in over)  # by its column a strand may have come past them
        self.must(not over or (resting and self.was_shaped), told)
        if over:
            self.notes.append(Note("on needle", told))
        del self.stitches[:number]
        del self.gaps[:number]
        self.gaps[0] += hung
        assert self.hand is not None
        self.hand.spent["bind off"] += number
        self._put(self._stitch("", "bind off", (self.stitches[0],)), 1)
        self._change(self.start, -number)

    def slip(self, number: int) -> None:
        """Slip stitches unworked."""
        slipped = self.stitches[self.tips:self.tips + number]
        self.must(len(slipped) == number, "slip: no stitch is left")
        if any(stitch.level < self.level - 1 for stitch in slipped):
            self.notes.append(Note("slipped twice", "the stitch was slipped in the row below"))
        assert self.hand is not None
        self.hand.spent["stitch"] += number
        for stitch in slipped:
            stitch.slipped = self.row, self.hand
        self.tips += number

    def renew(self, *, is_spliced: bool, after: int) -> None:
        """The strand in hand ends here, and its next length goes on."""
        assert self.hand is not None
        if not is_spliced:
            gap = self.gap_at(self.tips)
            self.tails += [Tail(self.hand, kind, self.now, gap, after) for kind in ("finish", "start")]

    def _change(self, edge: Edge, more: int) -> None:
        if edge == self.start and OTHER_EDGE[edge] in self.changes:
            self.notes.append(Note("leans outward", f"what belongs to the {edge} edge comes after the other edge's"))
        self.changes[edge] = self.changes.get(edge, 0) + more

    # Between runs and rows

    def leave(self) -> None:
        """The strand in hand is left hanging where its run ends."""
        assert self.hand is not None
        if not self.hand.used.row:
            self.hand.first = self.now
        self.hand.used = self.now
        self.hand.behind = None
        self.hand.due = self.level + 1
        self.hand.gap = self.gap_at(self.tips)
        self.hand.level = self.level
        self.gaps[self.tips].append(self.hand)

    def begin_row(self, *, is_ring: bool, right: int, left: int) -> None:
        """Begin a row on the stitches as they lie. ``is_ring``: they go round without a gap between end and start.
        ``right``, ``left``: so many stitches are made at that edge in it, or with a minus lost."""
        low, high = self.column - 1, self.column - 1 + len(self.stitches) + self.between
        self.made_between = self.between
        self.range_below, self.range_now = (low, high), (low - right, high + left)
        self.was_shaped = self.was_shaped or self.is_shaped
        self.row += 1
        self.level += 1
        self.run = -1
        self.tips = 0
        self.passed = []
        self.changes = {}
        self.is_ring = is_ring
        if is_ring:
            self.gaps[0] += [s for s in self.gaps[-1] if s not in self.gaps[0]]
            self.gaps[-1] = self._join = self.gaps[0]

    def end_row(self) -> list[Stitch]:
        """All are worked: every stitch has its column now, from right to left."""
        self.must(self.tips == len(self.stitches), f"{len(self.stitches) - self.tips} stitches are not worked")
        self.must(not self.between, f"{self.between} stitches between the parts are not cast on")
        self.beyond = []
        self.column -= self.changes.get("right", 0)
        self.must(self.range_now == (self.column - 1, self.column - 1 + len(self.stitches)), "the row's edges")
        row = self.right_to_left()
        for column, stitch in enumerate(row, self.column):
            stitch.column = column
        if self.is_ring:
            self._part_at_join()
        self.is_ring = False
        return list(row)

    def _part_at_join(self) -> None:
        """What hangs where rounds begin and end was left at either edge, and hangs there when the work is open; what
        is made after the round's last stitch lies beyond it, in whichever column it was left."""
        left, self._join[:] = list(self._join), []
        if self.gaps[0] is self._join:
            self.gaps[0] = []
        for strand in left:
            (self.gaps[0] if strand.gap == self.gap_at(0) else self._join).append(strand)

    def turn(self) -> None:
        """The other side toward the knitter; what was worked last is worked first."""
        self.must(self.tips == len(self.stitches), "turn: the row is not done")
        self.stitches.reverse()
        self.gaps.reverse()
        self.facing = OTHER_SIDE[self.facing]
        self.tips = 0

    # Parts

    def put_on_holders(self, names: Sequence[str], numbers: Sequence[int]) -> None:
        """Everything off the needles: so many stitches under each name, from right to left as the right side looks.
        What hangs between two of them hangs at the edge of both."""
        there = len(self.stitches)
        self.must(sum(numbers) == there, f"{sum(numbers)} stitches are told, {there} are there")
        stitches = self.right_to_left()
        gaps = self.gaps if self.goes_left else self.gaps[::-1]
        at = 0
        for name, number in zip(names, numbers, strict=True):
            own = [list(gap) for gap in gaps[at:at + number + 1]]
            self.holder[name] = Held(stitches[at:at + number], own, self.column + at, self.level)
            at += number
        self.stitches, self.gaps, self.tips = [], [], 0
        for strand in self.strands:
            self._by_column(strand, [self.holder[name] for name in names])

    def _by_column(self, strand: Strand, parts: Sequence[Held]) -> None:
        """Which part a strand goes on with is planned by columns. Where one rested over a row shaped further in than
        at its edge, it may hang inside another part, no more than two stitches for every such row, and is brought
        over to the edge of its own."""
        here = [part for part in parts if any(strand in gap for gap in part.gaps)]
        own = [part for part in parts if 0 <= strand.gap - part.column + 1 <= len(part.stitches)]
        for part in here if own else ():
            if part not in own:
                at = next(place for place, gap in enumerate(part.gaps) if strand in gap)
                inside = at if own[0].column < part.column else len(part.stitches) - at
                most = 2 * (self.level - strand.level)
                self.must(inside <= most, f"{strand.yarn} hangs {inside} inside another part ({most})")
                part.gaps[:] = [[other for other in gap if other is not strand] for gap in part.gaps]
        for part in own if here else ():
            if part not in here:
                part.gaps[-1 if part.column < here[0].column else 0].append(strand)

    def take_back(self, names: Sequence[str], facing: Side, *, is_done: bool = False) -> None:
        """Stitches that were held, from right to left, on the needle again, this side toward the knitter.
        ``is_done``: the row is worked, and the work is not turned yet."""
        self.must(not self.stitches, "other stitches are on the needles")
        self.facing = facing
        held = [self.holder.pop(name) for name in names]
        self.column, self.level = held[0].column, held[0].level
        self.stitches = [stitch for one in held for stitch in one.stitches]
        self.gaps = list(held[0].gaps)
        for one in held[1:]:
            self.gaps[-1] += [strand for strand in one.gaps[0] if strand not in self.gaps[-1]]
            between = self.gaps[-1]
            self.gaps += one.gaps[1:]
            elsewhere = [strand for gap in self.gaps if gap is not between for strand in gap]
            between[:] = [strand for strand in between if strand not in elsewhere]  # none is brought over any more
        if not self.goes_left:
            self.stitches.reverse()
            self.gaps.reverse()
        self.tips = len(self.stitches) if is_done else 0

    def join(self, first: str, then: str, between: int) -> None:
        """Two parts on the needle, the row of each done and the work not turned yet. After the turn the work goes
        across the ``first``, then the other, with so many stitches cast on between them."""
        edge = self.holder[then].gaps[0 if then == "left" else -1]
        self.beyond, self.between, self.between_at = list(edge), between, len(self.holder[first].stitches)
        right, left = self.holder["right"], self.holder["left"]
        self.must(right.level == left.level, f"{right.level} rows lie below one part, {left.level} below the other")
        self.between_gap = right.column - 1 + len(right.stitches)
        apart = left.column - 1 - self.between_gap
        self.must(between == apart, f"{between} are told to be cast on, {apart} columns lie between the parts")
        self.take_back(["right", "left"], self.facing, is_done=True)

    def bind_off_first(self, number: int, *, is_round: bool) -> None:
        """So many stitches of a row that is done are bound off with the strand in hand: back over a flat row; round a
        tube, all of them, to where rounds end."""
        self.must(self.tips == len(self.stitches), "bind off: the row is not done")
        self.must(self.hand is not None and not self.hand.is_cut, "bind off: no strand is in hand")
        assert self.hand is not None
        self.must(self.hand in self.gaps[self.tips], "bind off: the strand in hand does not hang at the last stitch")
        self._off(self.hand, number, self.gap_at(number) if is_round else None)

    def bind_off_next(self, yarn: str, number: int, told: int) -> None:
        """The next ones with the one strand of this yarn that hangs where the last bind-off ended."""
        there = [strand for strand in self.gaps[self.tips] if strand.yarn == yarn and not self.waits(strand)]
        self.must(len(there) == 1, f"bind off: {len(there)} strands of {yarn} hang at the next stitch")
        self.must(told in (0, there[0].number), f"bind off: strand {told} does not hang at the next stitch")
        self._off(there[0], number, None)

    def _off(self, strand: Strand, number: int, at: int | None) -> None:
        """Bound off back from the tips; ``at``: the gap where the tail hangs (None: before the last of them)."""
        self.must(0 < number <= self.tips, f"bind off {number}: {self.tips} stitches are there")
        self.gaps[self.tips].remove(strand)
        passed = self.gaps[self.tips - number + 1:]
        left = [one for gap in passed for one in gap if not self.waits(one)]
        self.must(not left, f"strands still hang there: {', '.join(s.yarn for s in left)}")
        del self.stitches[self.tips - number:], self.gaps[self.tips - number + 1:]
        self.tips -= number
        strand.is_cut = True
        strand.spent["bind off"] += number
        self.tails.append(Tail(strand, "finish", strand.used, self.gap_at(self.tips) if at is None else at))
        self.hand = None

    def nothing_left(self) -> None:
        """All is bound off, and no strand hangs there any more."""
        left = [strand for gap in self.gaps for strand in gap if not self.waits(strand)]
        self.must(not left and not self.stitches, f"still there: {', '.join(s.yarn for s in left)}")
        self.gaps = []

