"""The ends on the screen: the list, how the one under the highlight is woven in, and the map of the back."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from companion.dialogue.ends import EndsList
from companion.knitting import words
from companion.screens.back_map import BackMap
from companion.screens.bound import bound
from companion.screens.picking import LOW, WIDE, PicturedScreen


class EndsScreen(PicturedScreen):
    """The map stands beside the list where there is room, in its place where it is asked for."""

    BINDINGS: ClassVar[list[BindingType]] = bound("ends")

    def __init__(self, ends: EndsList) -> None:
        self._back, self._ends = BackMap(id="back"), ends
        super().__init__(ends, self._back)

    def give_room(self) -> None:
        """The map or the list, or both."""
        is_wide = self.size.width >= WIDE
        self.set_class(self.size.height < LOW, "-low")
        self.query("#told").set(display=is_wide or not self._ends.is_map)
        self._back.display = is_wide or self._ends.is_map

    def about(self) -> list[str]:
        """That the work is turned over is the same for every end: on few lines it gives way."""
        about = super().about()
        if not about:
            return []
        return [" ".join(about)] if self.size.height < LOW else [words.TURNED_OVER, *about, words.NOT_TRIMMED]

    def picture(self) -> None:
        """Where they hang, and the way of this one."""
        session, back = self._ends.sitting.session, self._back
        back.hung, back.cells = self._ends.hung, self._ends.route
        back.top = max((session.rows.fabric.level(row) for row in range(session.rows_done)), default=0)
        back.session = session
        back.redraw()
