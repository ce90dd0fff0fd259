"""What is to be done at a row's end, reckoned from the chart's rows and the numbers of the strands alone."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise
from typing import NamedTuple

from companion.knitting.cloth.fabric import Part, cells
from companion.knitting.cloth.rows import Rows

HEAVY = frozenset({"cut", "bind off", "divide", "set aside", "take up", "join parts", "join round", "go round"})
"""What cuts, binds off, divides or joins: it takes a press of its own in row mode too."""


class DrawnRow(NamedTuple):
    """A row as the chart has it: how many runs it has, whether it is worked round, its part."""

    runs: int
    is_round: bool
    part: Part


def drawn_rows(rows: Rows) -> list[DrawnRow]:
    """The rows of a chart: a run goes on as long as its yarn does, cells without a stitch passed over, or until
    another strand takes over."""
    found = []
    for index, row in enumerate(rows.fabric.rows):
        yarns = [cell.yarn for cell in cells(row) if cell is not None]
        runs = 1 + sum(a != b for a, b in pairwise(yarns)) + len(rows.meetings.get(index, ()))
        found.append(DrawnRow(runs, row.is_round, row.part))
    return found


class RowEnds(NamedTuple):
    """The rows of a piece, and by its number the strand of every run, in working order. ``second_halves``: the runs,
    by their index from 0, at which the second half of a length is started."""

    rows: Sequence[DrawnRow]
    strands: Sequence[int]
    is_cast_on_in_sections: bool = False
    second_halves: Collection[int] = ()

    def upto(self, row: int) -> int:
        """How many runs the rows 1 to ``row`` have."""
        return sum(drawn.runs for drawn in self.rows[:row])

    def height(self, row: int) -> int:
        """How many rows lie below row ``row``, from 0: both parts begin on the last whole one."""
        height = whole = -1
        parts: list[Part] = ["", *(drawn.part for drawn in self.rows[:row + 1])]
        for before, part in pairwise(parts):
            height = whole + 1 if before and part and part != before else height + 1
            whole = whole if part else height
        return height

    def is_worked_on(self, row: int) -> bool:
        """Whether a row is worked on the stitches of this one: it is not the last of the piece, nor of a part that is
        not joined to the other."""
        above = [drawn.part for drawn in self.rows[row + 1:]]
        part = self.rows[row].part
        if not part or above[:1] == [part]:
            return bool(above)
        other = next((at for at, one in enumerate(above) if not one or one == part), None)
        return other is not None and not above[other]

    def in_hand(self, row: int) -> int:
        """The strand of a row's last run."""
        return self.strands[self.upto(row + 1) - 1]

    def to_cut(self, row: int, cut: Collection[int]) -> set[int]:
        """The strands that hang uncut and work no later run, but for the one that is still to bind off."""
        end = self.upto(row + 1)
        found = set(self.strands[:end]) - set(self.strands[end:]) - set(cut)
        return found if self.is_worked_on(row) else found - {self.in_hand(row)}

    def acts(self, row: int, cut: Collection[int]) -> list[str]:
        """What is to be done at the end of a row, in the order in which it is done."""
        there, more, end = self.rows[row], self.rows[row + 1:], self.upto(row + 1)
        goes_on = self.is_worked_on(row)
        told = {
            "cut": self.to_cut(row, cut),
            "join round": row == 0 and there.is_round and there.runs > 1 and self.is_cast_on_in_sections,
            "bind off": more and not goes_on,
            "leave": any(self._rests(row, strand) for strand in self.strands[self.upto(row):end]),
            "divide": more and more[0].part and not there.part,
            "set aside": goes_on and there.part and more[0].part not in ("", there.part),
            "take up": more and there.part and more[0].part not in ("", there.part),
            "join parts": more and there.part and not more[0].part,
            "go flat": goes_on and there.is_round and not more[0].is_round,
            "have ready": more and any(
                self.strands[run] not in self.strands[:run] and run not in self.second_halves
                for run in range(end, self.upto(row + 2))
            ),
            "go round": goes_on and not there.is_round and more[0].is_round,
        }
        return [act for act, is_asked in told.items() if is_asked]

    def _rests(self, row: int, strand: int) -> bool:
        """Whether the strand's next run lies further up than in the next row."""
        later = (r for r in range(row + 1, len(self.rows)) if strand in self.strands[self.upto(r):self.upto(r + 1)])
        following = next(later, None)
        return following is not None and self.height(following) > self.height(row) + 1
