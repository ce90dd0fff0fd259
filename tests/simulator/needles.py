"""Two needles, the stitches on them, and the strands that hang between the stitches: what hands would hold.

Nothing here knows how a piece is planned. A stitch knows its yarn, its strand, how it was made and, once its row is
done, its column in the finished fabric. A strand hangs in a gap: before the first stitch, between two, after the last.
Whatever cannot be done to the letter raises ``CannotBeDone``.

The stitches lie in working order, ``tips`` of them worked already: those before it are on the needle that the work
goes to, those after it on the one it comes from. ``gaps[i]`` lies before ``stitches[i]``; in a tube the first and the
last gap are one and the same list.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

Side = Literal["RS", "WS"]
Edge = Literal["right", "left"]
Face = Literal["knit", "purl", ""]
"""How a stitch looks from the right side; "" where what was told leaves it open."""

OTHER_SIDE: dict[Side, Side] = {"RS": "WS", "WS": "RS"}
OTHER_EDGE: dict[Edge, Edge] = {"right": "left", "left": "right"}


class CannotBeDone(AssertionError):
    """What was told cannot be done with what is on the needles."""


class Made(NamedTuple):
    """The row, as a counter, and the run in it, from 0, in which something was made."""

    row: int
    run: int


@dataclass(eq=False)
class Strand:
    """One length of yarn at work. ``used``: the run it worked last; it was left at ``gap``, that many columns from the
    right edge of the chart. ``first_worked``: its first run in a row. ``level``: the row it worked last, and ``due`` the one in which it works next, counted from
    the cast-on up, so that two parts count alike. ``spent``: how many stitches it worked, cast on and bound off;
    ``floats``: stitches passed and rows rested on the way to a run."""

    number: int
    yarn: str
    joined: Made
    used: Made
    due: int
    level: int = 0
    gap: int = 0
    is_cut: bool = False
    first_worked: Made = Made(1, 0)
    spent: Counter[str] = field(default_factory=Counter)
    floats: list[tuple[int, int]] = field(default_factory=list)


@dataclass(eq=False)
class Tail:
    """A loose end: of a strand's "start" or "finish", in the run where it came about, ``after`` so many stitches of it
    where one length ended inside it. It hangs at ``gap``."""

    strand: Strand
    kind: Literal["start", "finish"]
    at: Made
    gap: int
    after: int = 0
    is_laid_in: bool = False


@dataclass(eq=False)
class Stitch:
    """One loop on a needle. ``below``: the stitches that hang in it. ``row``: counted as rows are worked, 0 = cast
    on; ``level``: from the cast-on up."""

    yarn: str
    strand: Strand
    face: Face
    how: str
    row: int
    level: int
    below: tuple[Stitch, ...] = ()
    column: int = 0


Gap = list[Strand]


class Held(NamedTuple):
    """Stitches off the needles, from right to left as the right side looks; the column of the first, and how many rows
    lie below them."""

    stitches: list[Stitch]
    gaps: list[Gap]
    column: int
    level: int


class Note(NamedTuple):
    """Something that can be done, and not well."""

    kind: Literal["distance", "bar at a change", "no bar", "slipped twice", "leans outward", "rest untold", "on needle", "catch at a change"]
    what: str


class Passed(NamedTuple):
    """A strand carried in this row over the stitches between two positions, counted in stitches worked."""

    yarn: str
    first: int
    last: int


@dataclass
class Needles:
    """The work as it is held. ``column``: that of the rightmost stitch. ``hand``: the strand worked with last.
    ``row`` counts the rows as they are worked, ``level`` from the cast-on up. ``range_below``, ``range_now``: the outer
    gaps, by columns, of the row below and of the one that is worked. ``ambiguous``: where words fit two strands of one
    yarn, so that one may stand for the other."""

    is_mirrored: bool = False
    facing: Side = "RS"
    stitches: list[Stitch] = field(default_factory=list)
    gaps: list[Gap] = field(default_factory=list)
    tips: int = 0
    column: int = 1
    hand: Strand | None = None
    is_ring: bool = False
    range_below: tuple[int, int] = (0, 0)
    range_now: tuple[int, int] = (0, 0)
    was_shaped: bool = False
    row: int = 0
    level: int = 0
    run: int = 0
    hung: int = 0
    strands: list[Strand] = field(default_factory=list)
    tails: list[Tail] = field(default_factory=list)
    holder: dict[str, Held] = field(default_factory=dict)
    passed: list[Passed] = field(default_factory=list)
    ambiguous: list[str] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    changes: dict[Edge, int] = field(default_factory=dict)

    # What is seen

    @property
    def goes_left(self) -> bool:
        """Whether the work goes toward the left as the right side looks."""
        return (self.facing == "RS") != self.is_mirrored

    @property
    def start(self) -> Edge:
        """The edge, as the right side looks, where a row begins that is worked now."""
        return "right" if self.goes_left else "left"

    @property
    def now(self) -> Made:
        return Made(self.row, self.run)

    @property
    def is_shaped(self) -> bool:
        """Whether this row makes or loses stitches."""
        return self.range_now != self.range_below

    @property
    def made_here(self) -> int:
        """So many stitches more than before this row, or with a minus fewer."""
        return sum(self.changes.values())

    def right_to_left(self) -> list[Stitch]:
        return self.stitches if self.goes_left else self.stitches[::-1]

    def must(self, is_so: object, what: str) -> None:
        if not is_so:
            raise CannotBeDone(what)

    # Strands

    def new_strand(
        self, yarn: str, number: int | None = None, *, has_tail: bool = True, is_before: bool = False
    ) -> Strand:
        """A strand that begins at the tips, numbered as told. ``is_before``: for what a row binds off or casts on
        before its first stitch, at the edge of the row below."""
        number = len(self.strands) + 1 if number is None else number
        strand = Strand(number, yarn, self.now, self.now, self.level, self.level)
        self.strands.append(strand)
        if has_tail:
            edge = self.range_below[0 if self.goes_left else 1]
            self.tails.append(Tail(strand, "start", self.now, edge if is_before else self.gap_at(self.tips)))
        return strand

    def take(
        self, yarn: str, away: int = 0, number: int = 0, *, edge: Strand | None = None, is_under: bool = False
    ) -> Strand:
        """Take up the strand of this yarn that hangs ``away`` stitches ahead of the tips, or with a minus back, counted
        in the row that is worked; one that worked in this row already only if no other hangs there. ``edge``: the
        one that worked the edge last; ``is_under``: that one is brought under it, and so is another one.
        ``number``: which of several, where it is told."""
        there = [s for gap in self.each_gap() for s in gap if s.yarn == yarn and self._is_away(s, away)]
        there = [s for s in there if is_under != (s is edge)] or ([] if is_under else there)
        due = [s for s in there if s.used.row < self.row and s.due <= self.level]
        again = [s for s in there if s.used.row == self.row]
        found = [s for s in due + again if s.number == number] or due or again
        self.must(found, f"no {yarn} hangs {_told_away(away)} ({self.lie()})")
        if len(found) > 1:
            self.ambiguous.append(f"{len(found)} strands of {yarn} hang {_told_away(away)}")
        strand = found[0]
        hangs = self._on_the_needles(strand)
        self.hung = hangs
        if not self.hangs_so(away):
            told = f"{yarn} is told {_told_away(away)}, on the needles it hangs {_told_away(hangs)}"
            self.must(self.was_shaped, told)
            self.notes.append(Note("distance", told))
        strand.floats.append((abs(away), max(0, self.level - strand.level - 1)))
        self._gone(strand)
        if away:
            low, high = sorted((self.tips, self.tips + away))
            self.passed.append(Passed(yarn, low, high))
        self.hand = strand
        return strand

    def hangs_so(self, away: int) -> bool:
        """Whether the strand taken last hung so many stitches ahead of the tips; round a tube either way is good."""
        return (self.hung - away) % len(self.stitches) == 0 if self.is_ring else self.hung == away

    def each_gap(self) -> list[Gap]:
        """Every gap once."""
        return self.gaps[1:] if self.is_ring and self.gaps[0] is self.gaps[-1] else self.gaps

    def _is_away(self, strand: Strand, away: int) -> bool:
        """Whether it hangs so far from the tips by the columns of the row that is worked. What the row makes beyond the
        edges of the row below is not there yet and not counted, unless the strand worked in this row; round a tube
        either way is good."""
        low, high = self.range_now
        if strand.used.row < self.row:
            low, high = max(low, self.range_below[0]), min(high, self.range_below[1])
        hang, entry = (min(max(gap, low), high) for gap in (strand.gap, self.gap_at(self.tips)))
        there = hang - entry if self.goes_left else entry - hang
        if self.is_ring:
            return (there - away) % (self.range_below[1] - self.range_below[0]) == 0
        return there == away

    def gap_at(self, position: int) -> int:
        """The gap, by columns, that lies after so many stitches of the row that is worked."""
        low, high = self.range_now
        return low + position if self.goes_left else high - position

    def _on_the_needles(self, strand: Strand) -> int:
        """How far ahead a strand hangs, in stitches as they lie on the needles."""
        return next(place for place, gap in enumerate(self.gaps) if strand in gap) - self.tips

    def lie(self) -> str:
        """What hangs where, for a message."""
        told = [f"{s.yarn} {place - self.tips}" for place, gap in enumerate(self.gaps) for s in gap]
        return "; ".join(told) or "nothing hangs"

    def rests_here(self, yarn: str) -> bool:
        """Whether a strand of this yarn rests at the tips, by the columns of the row that is worked."""
        resting = (s for gap in self.gaps for s in gap if s.yarn == yarn and s.due > self.level)
        low, high = self.range_now
        return any(min(max(s.gap, low), high) == self.gap_at(self.tips) for s in resting)

    def cut(self, strand: Strand) -> None:
        """Cut a strand where it hangs, leaving a tail."""
        self.must(not strand.is_cut, f"the {strand.yarn} is cut already")
        strand.is_cut = True
        self.tails.append(Tail(strand, "finish", strand.used, strand.gap))
        self._gone(strand)

    def _gone(self, strand: Strand) -> None:
        """It hangs no longer where it hung; at the edge of a part that waits neither."""
        for gap in [*self.gaps, *(gap for held in self.holder.values() for gap in held.gaps)]:
            if strand in gap:
                gap.remove(strand)

    def waits(self, strand: Strand) -> bool:
        """Whether it hangs, too, at the edge of a part that waits."""
        return any(strand in gap for held in self.holder.values() for gap in held.gaps)

    # Casting on

    def cast_on(self, sections: Sequence[tuple[str, int]], numbers: Sequence[int], *, is_long_tail: bool) -> None:
        """So many stitches in each yarn, in the order in which the hands cast them on; row 1 goes back over them. Each
        strand is left at the last stitch cast on with it; its tail there too (long-tail), or at the first. ``numbers``:
        theirs, where told."""
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
        """A stitch on the right needle for ``takes`` from the left one; what hung between those hangs after it."""
        at = self.tips
        between = [strand for gap in self.gaps[at + 1:at + takes] for strand in gap]
        self.stitches[at:at + takes] = [stitch]
        del self.gaps[at + 1:at + takes]
        self.gaps[at + 1] += between
        self.tips += 1

    def decrease(self, hand: Literal["k", "p"], together: int, edge: Edge, how: str) -> None:
        """Some stitches worked together, at an edge as the right side looks."""
        between = self.gaps[self.tips + 1:self.tips + together]
        if edge == self.start and len(between) == together - 1:  # what hung between them hangs at the edge then
            for gap in between:
                self.gaps[self.tips] += gap
                gap.clear()
        self.work(hand, 1, together, how)
        self._change(edge, 1 - together)

    def lift(self, hand: Literal["k", "p"], edge: Edge, how: str) -> None:
        """A stitch made from the bar between the needles; the bar at a change of strands is its crossing."""
        self.must(self.tips, f"{how}: there is no bar before the first stitch")
        self._make(self._stitch(self._face(hand), how))
        self._look_at_bar(how)
        self._change(edge, 1)

    def _look_at_bar(self, how: str) -> None:
        """The bar lies in the row below, between the stitch under the one worked last and the one to be worked next."""
        if self.tips == len(self.stitches):
            self.notes.append(Note("no bar", f"{how}: no stitch is left, and a bar lies between two"))
            return
        before, after = self.stitches[self.tips - 2], self.stitches[self.tips]
        under = before if before.row < self.row else before.below[-1] if before.below else None
        if under is not None and under.strand is not after.strand:
            self.notes.append(Note("bar at a change", f"{how}: in the row below {under.yarn} meets {after.yarn} there"))

    def loops(self, number: int, how: str) -> None:
        """Loops on the right needle, made at a row's start or after all other stitches of it."""
        is_start = self.tips == 0
        self.must(is_start or self.tips == len(self.stitches), f"{how}: in the middle of a row")
        for _ in range(number):
            self._make(self._stitch("", how))
        self._change(self.start if is_start else OTHER_EDGE[self.start], number)

    def _make(self, stitch: Stitch) -> None:
        self.stitches.insert(self.tips, stitch)
        self.gaps.insert(self.tips + 1, [])
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
        over = [strand for gap in self.gaps[:number] for strand in gap if not self.waits(strand)]
        self.must(not over, f"strands hang over stitches that are bound off: {', '.join(s.yarn for s in over)}")
        del self.stitches[:number]
        del self.gaps[:number]
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
        self.tips += number

    def renew(self, *, is_spliced: bool, after: int) -> None:
        """The strand in hand ends here, and its next length goes on."""
        assert self.hand is not None
        if not is_spliced:
            self.tails += [Tail(self.hand, kind, self.now, self.gap_at(self.tips), after) for kind in ("finish", "start")]

    def _change(self, edge: Edge, more: int) -> None:
        if edge == self.start and OTHER_EDGE[edge] in self.changes:
            self.notes.append(Note("leans outward", f"what belongs to the {edge} edge comes after the other edge's"))
        self.changes[edge] = self.changes.get(edge, 0) + more

    # Between runs and rows

    def leave(self) -> None:
        """The strand in hand is left hanging where its run ends."""
        assert self.hand is not None
        if not self.hand.used.row:
            self.hand.first_worked = self.now
        self.hand.used = self.now
        self.hand.due = self.level + 1
        self.hand.gap = self.gap_at(self.tips)
        self.hand.level = self.level
        self.gaps[self.tips].append(self.hand)

    def begin_row(self, *, is_ring: bool, right: int, left: int) -> None:
        """Begin a row on the stitches as they lie. ``is_ring``: they go round without a gap between end and start.
        ``right``, ``left``: so many stitches are made at that edge in it, or with a minus lost."""
        low, high = self.column - 1, self.column - 1 + len(self.stitches)
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
            self.gaps[-1] = self.gaps[0]

    def end_row(self) -> list[Stitch]:
        """All are worked: every stitch has its column now, from right to left."""
        self.must(self.tips == len(self.stitches), f"{len(self.stitches) - self.tips} stitches are not worked")
        self.column -= self.changes.get("right", 0)
        self.must(self.range_now == (self.column - 1, self.column - 1 + len(self.stitches)), "the row's edges")
        row = self.right_to_left()
        for column, stitch in enumerate(row, self.column):
            stitch.column = column
        if self.is_ring:
            self.gaps[0] = []  # all that hangs at the join was left where a row ended
        self.is_ring = False
        return list(row)

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
        self.must(sum(numbers) == len(self.stitches), f"{sum(numbers)} stitches are told, {len(self.stitches)} are there")
        stitches = self.right_to_left()
        gaps = self.gaps if self.goes_left else self.gaps[::-1]
        at = 0
        for name, number in zip(names, numbers, strict=True):
            own = [list(gap) for gap in gaps[at:at + number + 1]]
            self.holder[name] = Held(stitches[at:at + number], own, self.column + at, self.level)
            at += number
        self.stitches, self.gaps, self.tips = [], [], 0

    def take_back(self, names: Sequence[str], facing: Side, *, is_done: bool = False) -> None:
        """Stitches that were held, from right to left, on the needle again, this side toward the knitter. ``is_done``:
        the row is worked, and the work is not turned yet."""
        self.must(not self.stitches, "other stitches are on the needles")
        self.facing = facing
        held = [self.holder.pop(name) for name in names]
        self.column, self.level = held[0].column, held[0].level
        self.stitches = [stitch for one in held for stitch in one.stitches]
        self.gaps = list(held[0].gaps)
        for one in held[1:]:
            self.gaps[-1] += [strand for strand in one.gaps[0] if strand not in self.gaps[-1]]
            self.gaps += one.gaps[1:]
        if not self.goes_left:
            self.stitches.reverse()
            self.gaps.reverse()
        self.tips = len(self.stitches) if is_done else 0

    def bind_off_all(self, *, is_round: bool) -> None:
        """Every stitch of a row that is done is bound off with the strand in hand: back over a flat row, to where it
        began; round a tube, to where rounds end."""
        self.must(self.tips == len(self.stitches), "bind off: the row is not done")
        self.must(self.hand is not None and not self.hand.is_cut, "bind off: no strand is in hand")
        assert self.hand is not None
        self.must(self.hand in self.gaps[self.tips], "bind off: the strand in hand does not hang at the last stitch")
        hand = self.hand
        self.gaps[self.tips].remove(hand)
        left = [strand for gap in self.gaps for strand in gap if not self.waits(strand)]
        self.must(not left, f"strands still hang there: {', '.join(s.yarn for s in left)}")
        bound_off = len(self.stitches)
        self.stitches, self.gaps, self.tips = [], [], 0
        hand.is_cut = True
        hand.spent["bind off"] += bound_off
        self.tails.append(Tail(hand, "finish", hand.used, self.gap_at(bound_off if is_round else 0)))
        self.hand = None


def _told_away(away: int) -> str:
    if not away:
        return "at the tips"
    return f"{abs(away)} {'ahead' if away > 0 else 'back'}"
