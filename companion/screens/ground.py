"""What shows nothing but its ground, and lies under the parts that cover it: it has one blank line to paint."""

from __future__ import annotations

from rich.style import Style
from textual.color import Color
from textual.containers import Vertical
from textual.geometry import Region, Size
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widget import Widget


class Ground(Widget):
    """Every line of it is blank; it is asked for them at every paint, though none of them may be seen."""

    _colour: Color | None = None
    _blank = Strip([])

    def render_lines(self, crop: Region) -> list[Strip]:
        """The same line as often as it is wanted, kept until the theme or the width changes."""
        if self._colour is None or self._blank.cell_length != crop.width:
            self._colour = self.background_colors[1]
            self._blank = Strip.blank(crop.width, Style(bgcolor=self._colour.rich_color))
        strip = self._blank
        for each in self.get_line_filters():
            strip = strip.apply_filter(each, self._colour)
        return [strip] * crop.height

    def notify_style_update(self) -> None:
        """The theme changed."""
        super().notify_style_update()
        self._colour = None


class Column(Vertical, Ground):
    """Parts one after the other. It never scrolls, so that another size of its own asks for no second layout."""

    virtual_size: Reactive[Size] = Reactive(Size(0, 0), repaint=False)
