"""What is sewn on afterwards, on the screen: every area with a chart of its own."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from companion.dialogue.sewing import SewingList
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import Stitch
from companion.progress.session import Session
from companion.screens.bound import bound
from companion.screens.chart import EMPTY
from companion.screens.flowing import Bit
from companion.screens.lines import inked
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
    """The areas, and the one under the highlight as it lies."""

    BINDINGS: ClassVar[list[BindingType]] = bound("sewing")

    def __init__(self, sewing: SewingList) -> None:
        self._chart, self._sewing = SewingChart(id="sewing"), sewing
        super().__init__(sewing, self._chart)

    def give_room(self) -> None:
        """The chart beside the list where there is room, or below it."""
        self.query("#beside_each_other").set_class(self.size.width < WIDE, "-below")
        self.how.display = self.size.height >= LOW

    def picture(self) -> None:
        """Where it lies."""
        session, area = self._sewing.sitting.session, self._sewing.area
        self._chart.session, self._chart.top = session, len(session.rows.fabric.levels) - 1
        self._chart.cells, self._chart.yarn = (tuple(area.cells), area.yarn) if area else ((), "")
        self._chart.redraw()
