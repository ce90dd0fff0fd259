"""Where no colours are wanted (``NO_COLOR``) every colour is shown as the grey that is as light: what can be read in
colours can be read without them. A grey by the channels alone would make a red dark under black letters.
"""

from __future__ import annotations

from functools import lru_cache

from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter

from companion.knitting.cloth.colour import grey_of


class Greys(LineFilter):
    """Colours as greys, line by line."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same text in greys."""
        return [Segment(text, _in_greys(style) if style else style, None) for text, style, _ in segments]


@lru_cache(maxsize=1024)
def _in_greys(style: Style) -> Style:
    return style + Style.from_color(_grey(style.color), _grey(style.bgcolor))


def _grey(colour: RichColor | None) -> RichColor | None:
    """A colour's grey; that of the terminal, and none, stay as they are."""
    if colour is None or colour.is_default:
        return colour
    return RichColor.parse(grey_of(colour.get_truecolor().hex))
