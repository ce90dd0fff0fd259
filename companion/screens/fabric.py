"""The fabric as a picture of half blocks, as large as there is room, or larger and scrolled to the needles."""

from __future__ import annotations

from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import ScrollableContainer
from textual.widgets import Static

from companion.dialogue.pictured import Pictured
from companion.pages import fabric_picture, half_blocks
from companion.progress.made import made
from companion.screens.bound import bound
from companion.screens.key_line import Foot
from companion.screens.plain_parts import STYLES, shown
from companion.screens.rowside import Answering

_NEAR = 2
"""So many cells is a stitch wide round the needles."""


class FabricScreen(Answering[None]):
    """Shows one side of the fabric until it is put away; arrows scroll it."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = bound("reading")
    where = "reading"

    def __init__(self, pictured: Pictured) -> None:
        super().__init__()
        self._pictured = pictured
        session = pictured.session
        drawn = fabric_picture.drawing(session.piece, session.strands, pictured.side, made=made(session))
        self._picture = fabric_picture.in_half_blocks(drawn, session.piece)
        self._cloth = Static(id="cloth")
        self._meaning = Static(classes="quiet", markup=False)

    def compose(self) -> ComposeResult:
        """Which side, the fabric, what its signs mean, the keys."""
        yield shown(self._pictured.title, "strong", id="title")
        with ScrollableContainer(id="fabric"):
            yield self._cloth
        if self._picture.marks:
            yield self._meaning
        yield Foot(self.keys)

    def on_mount(self) -> None:
        """Arrows go to what scrolls."""
        self.query_one("#fabric").focus()

    def on_resize(self, event: events.Resize) -> None:
        """Draw it for the room that there is now."""
        self.call_after_refresh(self._draw)

    def _draw(self) -> None:
        gauge, stitches = self._pictured.session.piece.gauge, len(self._picture.rows[0])
        around = self.query_one("#fabric")
        room = around.content_size
        is_coloured = not self.app.no_color
        wide = half_blocks.whole(self._picture, gauge, room.width, room.height, is_coloured=is_coloured)
        if self._pictured.is_near:
            wide = max(wide, _NEAR * stitches)
        lines = list(half_blocks.lines(self._picture, gauge, wide, is_coloured=is_coloured))
        self._meaning.update(half_blocks.foot(self._picture, wide))
        self._cloth.update(Text("\n", no_wrap=True).join(lines))
        self._cloth.styles.width, self._cloth.styles.height = wide, len(lines)
        if self._pictured.is_near:
            session, levels = self._pictured.session, len(self._picture.rows)
            line = int((1 - (session.rows[session.row].level + 0.5) / levels) * len(lines))
            left, top = (wide - room.width) // 2, line - room.height // 2
            self.call_after_refresh(around.scroll_to, left, top, animate=False)
