"""What is sewn on afterwards: every area, ticked off as they go."""

from __future__ import annotations

from typing import ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.listing import Listing, ticking
from companion.dialogue.sitting import Sitting
from companion.dialogue.table import Cell, Column, Row, Table
from companion.knitting import words
from companion.knitting.cloth.areas import Area, stitch_number
from companion.knitting.reckoning.sewing import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.progress.actions import Sew, Unsew
from companion.progress.mishaps import left_to_sew, to_sew

_COLUMNS = (
    Column("State", " ", order="up"), Column("Yarn", least=9, order="up"),
    Column("Stitches", "sts", is_number=True, order="down"), Column("From row", "row", is_number=True),
    Column("Stitch from the right", "from right", is_number=True, yields=1),
    Column("Lengths", is_number=True, yields=2),
)  # fmt: skip


class SewingList(Listing):
    """The plan's areas and the mistakes to sew over, as they lie."""

    where: ClassVar[Where] = "sewing"

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting
        self.verbs = ticking(sitting, "sewn on")
        self._areas: tuple[Area, ...] = ()

    def fill(self) -> None:
        """All areas."""
        session = self.sitting.session
        self._areas = tuple(sorted(to_sew(session), key=lambda area: area.first))
        self.title = words.sewing_title(len(left_to_sew(session)), self.sitting.terms)
        title, short = words.begins_title(session.rows)
        *before, row, stitch, lengths = _COLUMNS
        row = row._replace(title=title, short=short)
        self.put(Table((*before, row, stitch, lengths), [self._row(area) for area in self._areas]))

    def _row(self, area: Area) -> Row:
        session = self.sitting.session
        fabric, is_sewn, yarn = session.piece.fabric, area.first in session.sewn, session.piece.yarn(area.yarn)
        row = f"{fabric.rows[area.first.row].part} {fabric.level(area.first.row) + 1}".strip()
        named = words.row_listed(row, fabric.rows[area.first.row], session.rows)
        lengths = lengths_of(session.piece, area.stitches)
        return (
            Cell("✓ done" if is_sewn else "○ to do", "✓" if is_sewn else "○", by=is_sewn),
            Cell(yarn.name, yarn=yarn), Cell(str(area.stitches), by=area.stitches), Cell(named, row),
            Cell(str(stitch_number(fabric, area.first))), Cell(str(lengths)),
        )  # fmt: skip

    def in_full(self) -> str:
        """What it is, and where."""
        session, area = self.sitting.session, self.area
        if area is None:
            return ""
        lengths = lengths_of(session.piece, area.stitches)
        return words.sewing_line(session.piece.fabric, area, lengths, is_sewn=area.first in session.sewn)

    @property
    def area(self) -> Area | None:
        """The one that is meant."""
        return None if self.meant is None else self._areas[self.meant]

    def about(self) -> list[str]:
        """How this one is sewn."""
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=self.sitting.terms.is_inches)
        return [] if self.area is None else list(words.how_to_sew(self.area, tail, self.sitting.terms))

    def choose(self) -> None:
        """Mark an area as sewn on, or not; saved before it is shown."""
        assert self.area is not None
        cell, knitting = self.area.first, self.sitting.knitting
        self.try_to(lambda: knitting.do(Unsew(cell) if cell in knitting.session.sewn else Sew(cell)))
