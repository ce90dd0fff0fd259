"""What is sewn on afterwards: every area with a chart of its own, ticked off as they go."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Cell
from companion.knitting.cloth.fabric import Stitch
from companion.knitting.reckoning.savings import SEWN_TAIL_CM, lengths_of
from companion.knitting.words import yarn as yarn_words
from companion.progress.actions import Sew, Unsew
from companion.progress.knitting import Knitting
from companion.progress.mishaps import left_to_sew, to_sew
from companion.progress.session import Session
from companion.screens.asking import safe
from companion.screens.chart import EMPTY
from companion.screens.lines import Bit, inked
from companion.screens.picking import LOW, WIDE, PicturedScreen
from companion.screens.stitch_map import StitchMap


class SewingChart(StitchMap):
    """An area on the right side, with what lies around it: its own stitches by the symbol of ``yarn``, in which they
    are sewn, all others quiet."""

    yarn = ""

    def stitch(self, session: Session, cell: Cell, stitch: Stitch | None) -> Bit:
        """The area's own stitches in brackets."""
        if stitch is None:
            return EMPTY, "quiet"
        if cell not in self.cells:
            return session.piece.yarn(stitch.yarn).symbol, "quiet"
        yarn = session.piece.yarn(self.yarn)
        return f"[{yarn.symbol}]", inked(yarn.colour)


class SewingScreen(PicturedScreen):
    """Space marks the area under the highlight as sewn on, or not."""

    keys = "space: sewn on, or not   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms) -> None:
        self._chart = SewingChart(id="sewing")
        super().__init__(self._chart)
        self._knitting = knitting
        self._terms = terms
        self._areas: tuple[Area, ...] = ()

    def give_room(self) -> None:
        """The chart beside the list where there is room, or below it."""
        self.query("#beside_each_other").set_class(self.size.width < WIDE, "-below")
        self.how.display = self.size.height >= LOW

    def fill(self) -> None:
        """The plan's areas and the mistakes to sew over, as they lie."""
        session = self._knitting.session
        self._chart.session, self._chart.top = session, len(session.rows.fabric.levels) - 1
        self._areas = tuple(sorted(to_sew(session), key=lambda area: area.first))
        title = words.sewing_title(len(left_to_sew(session)), self._terms)
        self.put(title, [self._line(area) for area in self._areas])
        self.tell()

    def _line(self, area: Area) -> str:
        session = self._knitting.session
        lengths = lengths_of(session.piece, area.stitches)
        return words.sewing_line(session.piece.fabric, area, lengths, is_sewn=area.first in session.sewn)

    def tell(self) -> None:
        """How this one is done, and where it lies."""
        at = self.options.highlighted
        area = self._areas[at] if at is not None and at < len(self._areas) else None
        self._chart.cells, self._chart.yarn = (tuple(area.cells), area.yarn) if area else ((), "")
        self._chart.redraw()
        tail = yarn_words.yarn_length(SEWN_TAIL_CM, is_inches=self._terms.is_inches)
        self.how.update(safe("\n".join(words.how_to_sew(area, tail) if area else [])))

    def choose(self, at: int) -> None:
        """Mark an area as sewn on, or not; saved before it is shown."""
        cell = self._areas[at].first
        self.try_to(lambda: self._knitting.do(Unsew(cell) if cell in self._knitting.session.sewn else Sew(cell)))
        self.fill()
