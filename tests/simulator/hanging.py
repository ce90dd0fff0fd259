"""Where stitches lie on two needles and strands hang between them, and how a strand is found where it is told to
hang.

The stitches lie in working order, ``tips`` of them worked already: those before it are on the needle that the work
goes to, those after it on the one it comes from. ``gaps[i]`` lies before ``stitches[i]``; in a tube the first and the
last gap are one and the same list.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from tests.simulator.stitches import (
    CannotBeDone,
    Edge,
    Gap,
    Held,
    Hung,
    Made,
    Note,
    Passed,
    Side,
    Stitch,
    Strand,
    Tail,
)


@dataclass
class Hanging:
    """The work as it is held. ``column``: that of the rightmost stitch. ``hand``: the strand worked with last.
    ``row`` counts the rows as they are worked, ``level`` from the cast-on up. ``range_below``, ``range_now``: the
    outer gaps, by columns, of the row below and of the one that is worked. Where two parts are joined ``between``
    stitches are still to be cast on after ``between_at`` in the row, ``made_between`` in all, from the gap
    ``between_gap`` on, by columns; what hangs ``beyond`` hangs at the part that comes after them. ``known``: the run
    that a run's strand worked before, for where words fit two strands and the planned one is taken."""

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
    strands: list[Strand] = field(default_factory=list)
    tails: list[Tail] = field(default_factory=list)
    holder: dict[str, Held] = field(default_factory=dict)
    passed: list[Passed] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    changes: dict[Edge, int] = field(default_factory=dict)
    known: Mapping[Made, Made] = field(default_factory=dict)
    _join: Gap = field(default_factory=list)
    between: int = 0
    between_at: int = 0
    between_gap: int = 0
    made_between: int = 0
    beyond: Gap = field(default_factory=list)

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
        return sum(self.changes.values()) + self.made_between

    def right_to_left(self) -> list[Stitch]:
        return self.stitches if self.goes_left else self.stitches[::-1]

    def must(self, is_so: object, what: str) -> None:
        if not is_so:
            raise CannotBeDone(what)

    def new_strand(
        self, yarn: str, number: int | None = None, *, has_tail: bool = True, is_before: bool = False
    ) -> Strand:
        """A strand that begins at the tips, numbered as told. ``is_before``: for what a row binds off or casts on
        before its first stitch, at the edge of the row below."""
        number = len(self.strands) + 1 if number is None else number
        strand = Strand(number, yarn, self.now, self.level, self.level)
        self.strands.append(strand)
        if has_tail:
            edge = self.range_below[0 if self.goes_left else 1]
            self.tails.append(Tail(strand, "start", self.now, edge if is_before else self.gap_at(self.tips)))
        return strand

    def take(self, told: Hung, *, edge: Strand | None = None, is_under: bool = False, together: int = 1) -> Strand:
        """Take up a strand that hangs where it is told. ``edge``: the one that worked the edge last; ``is_under``:
        another one is brought under it. ``together``: so many stitches are worked together first, and it may hang
        between those."""
        there = [s for gap in self.each_gap() for s in gap if s.yarn == told.yarn]
        there = [s for s in there if not (told.is_other and s is self.hand)]
        there = [s for s in there if is_under != (s is edge)] or ([] if is_under else there)
        due = [s for s in there if s.used.row < self.row and s.due <= self.level]
        again = [s for s in there if s.used.row == self.row]  # a strand may pass behind runs of its own row
        if told.number:
            found = [s for s in due + again if s.number == told.number]
        else:
            fitting = ([s for s in some if self._fits(s, told, together)] for some in (due, again))
            found = next(filter(None, fitting), [])
            if len(found) > 1:
                self.notes.append(Note("fits two", f"{len(found)} strands of {told}"))
                found = [s for s in found if s.used == self.known.get(self.now)] or found
        if not found and self.was_shaped:
            found = sorted(due or again, key=lambda s: abs(self._ahead(s) - told.on_needle))
        self.must(found, f"no {told.yarn} hangs {told.on_needle} ahead ({self.lie()})")
        strand = found[0]
        if not self._fits(strand, told, together):
            what = f"{told.yarn} is told to hang {told.on_needle} ahead, and hangs {self._ahead(strand)} ahead"
            self.must(self.was_shaped, what)
            self.notes.append(Note("on needle", what))
        over = abs(told.on_needle) if told.over is None else told.over
        is_so = told.over is None or self._is_so(strand, told)
        self.must(is_so, f"{told.yarn} does not pass {told.over} ({self.lie()})")
        strand.floats.append((over, max(0, self.level - strand.level - 1)))
        self._gone(strand)
        if told.on_needle:
            low, high = sorted((self.tips, self.tips + (over if told.on_needle > 0 else -over)))
            self.passed.append(Passed(told.yarn, low, high))
        self.hand = strand
        return strand

    def _ahead(self, strand: Strand) -> int:
        """How far ahead of the tips a strand hangs, in stitches as they lie on the needles."""
        return next(place for place, gap in enumerate(self.gaps) if strand in gap) - self.tips

    def _fits(self, strand: Strand, told: Hung, together: int) -> bool:
        """Whether it hangs so far from the tips as stitches lie on the needles; round a tube either way is good."""
        sides = {self._ahead(strand)}
        if strand.behind in self.stitches:  # made of several: it may be said to hang on either side of that
            at = self.stitches.index(strand.behind) - self.tips
            sides |= {at, at + 1}
        offs = {side - told.on_needle - n for side in sides for n in range(together)}
        return any(off % len(self.stitches) == 0 if self.is_ring else off == 0 for off in offs)

    def _is_so(self, strand: Strand, told: Hung) -> bool:
        """Whether it passes so many stitches of the row that is worked, by columns. What the row makes beyond the
        edges of the row below is not there yet and not counted, unless the strand worked in this row already."""
        low, high = self.range_now
        made = range(0)
        if strand.used.row < self.row:
            low, high = max(low, self.range_below[0]), min(high, self.range_below[1])
            made = range(self.between_gap, self.between_gap + self.made_between)
        hang, entry = sorted(min(max(gap, low), high) for gap in (strand.gap, self.gap_at(self.tips)))
        there = entry - hang - sum(hang <= gap < entry for gap in made)
        around = self.range_below[1] - self.range_below[0]
        return told.over in ((there, around - there) if self.is_ring else (there,))

    def each_gap(self) -> list[Gap]:
        """Every gap once."""
        return self.gaps[1:] if self.is_ring and self.gaps[0] is self.gaps[-1] else self.gaps

    def gap_at(self, position: int) -> int:
        """The gap, by columns, that lies after so many stitches of the row that is worked."""
        low, high = self.range_now
        return low + position if self.goes_left else high - position

    def lie(self) -> str:
        """What hangs where, for a message."""
        told = [f"{s.yarn} {place - self.tips}" for place, gap in enumerate(self.gaps) for s in gap]
        return "; ".join(told) or "nothing hangs"

    def rests_here(self, yarn: str, back: int = 0) -> bool:
        """Whether a strand of this yarn rests at the tips, or so many stitches back."""
        resting = (s for gap in self.each_gap() for s in gap if s.yarn == yarn and s.due > self.level)
        return any(self._fits(s, Hung(yarn, -back), 1) for s in resting)

    def cut(self, strand: Strand) -> None:
        """Cut a strand where it hangs, leaving a tail."""
        self.must(not strand.is_cut, f"the {strand.yarn} is cut already")
        strand.is_cut = True
        self.tails.append(Tail(strand, "finish", strand.used, strand.gap))
        self._gone(strand)

    def _gone(self, strand: Strand) -> None:
        """It hangs no longer where it hung; at the edge of a part that waits neither."""
        for gap in [self.beyond, *self.gaps, *(gap for held in self.holder.values() for gap in held.gaps)]:
            if strand in gap:
                gap.remove(strand)

    def waits(self, strand: Strand) -> bool:
        """Whether it hangs, too, at the edge of a part that waits."""
        return any(strand in gap for held in self.holder.values() for gap in held.gaps)
