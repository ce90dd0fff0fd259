"""What is sewn on afterwards: every area, ticked off as they go."""

from __future__ import annotations

from typing import ClassVar

from companion.dialogue.deeds import Where
from companion.dialogue.listing import Listing
from companion.dialogue.sitting import Sitting
from companion.knitting import words
from companion.knitting.cloth.areas import Area
from companion.knitting.reckoning.savings import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.progress.actions import Sew, Unsew
from companion.progress.mishaps import left_to_sew, to_sew


class SewingList(Listing):
    """The plan's areas and the mistakes to sew over, as they lie."""

    where: ClassVar[Where] = "sewing"
    verbs = {"choose": "", "tick": "sewn on, or not"}

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self.sitting = sitting
        self._areas: tuple[Area, ...] = ()

    def fill(self) -> None:
        """All areas."""
        session = self.sitting.session
        self._areas = tuple(sorted(to_sew(session), key=lambda area: area.first))
        self.title = words.sewing_title(len(left_to_sew(session)), self.sitting.terms)
        self.lines = tuple(self._line(area) for area in self._areas)

    def _line(self, area: Area) -> str:
        session = self.sitting.session
        lengths = lengths_of(session.piece, area.stitches)
        return words.sewing_line(session.piece.fabric, area, lengths, is_sewn=area.first in session.sewn)

    @property
    def area(self) -> Area | None:
        """The one that is meant."""
        return self._areas[self.at] if self.at is not None and self.at < len(self._areas) else None

    def about(self) -> list[str]:
        """How this one is sewn."""
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=self.sitting.terms.is_inches)
        return [] if self.area is None else list(words.how_to_sew(self.area, tail))

    def choose(self) -> None:
        """Mark an area as sewn on, or not; saved before it is shown."""
        assert self.area is not None
        cell, knitting = self.area.first, self.sitting.knitting
        self.try_to(lambda: knitting.do(Unsew(cell) if cell in knitting.session.sewn else Sew(cell)))
