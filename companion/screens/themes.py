"""The lights in which a screen is shown: dark, light, and one of high contrast; and 16 colours, where a terminal has
no more. Text has a contrast of at least 4.5 to 1 with its ground, in the high one of 7 to 1 (WCAG 2.2, success
criteria 1.4.3 and 1.4.6).
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from rich.color import Color as TerminalColour
from rich.color import ColorSystem
from rich.segment import Segment
from rich.style import Style
from textual.color import Color
from textual.filter import LineFilter
from textual.theme import Theme

FEW_COLOURS = ("standard", "windows")
"""What Rich calls terminals of 16 colours."""


def _theme(
    name: str, *, ground: str, raised: str, held: str, ink: str, quiet: str, alert: str, line: str,
    is_dark: bool = True,
) -> Theme:
    """A theme of so few colours. ``raised`` is the ground of what stands over a screen, ``held`` that of the line
    chosen in a list while keys go elsewhere (while they go there it has ground and ink exchanged), ``line`` a frame.
    """
    own = {
        "quiet": quiet, "alert": alert, "text": ink, "text-muted": quiet, "text-disabled": quiet,
        "foreground-muted": quiet, "foreground-disabled": quiet, "warning-muted": alert, "error-muted": alert,
        "border": line, "border-blurred": line, "scrollbar": quiet, "scrollbar-background": raised,
        "scrollbar-hover": ink, "scrollbar-active": ink, "block-hover-background": raised,
        "input-selection-background": quiet, "input-selection-foreground": ground, "button-color-foreground": ground,
        "link-color": ink, "link-background-hover": ink, "link-color-hover": ground,
        **{f"text-{kind}": ink for kind in ("primary", "secondary", "warning", "error", "success", "accent")},
        "block-cursor-foreground": ground, "block-cursor-background": ink, "block-cursor-text-style": "bold",
        "block-cursor-blurred-foreground": ink, "block-cursor-blurred-background": held,
    }  # fmt: skip
    return Theme(
        name, primary=ink, secondary=quiet, warning=ink, error=ink, success=ink, accent=ink, foreground=ink,
        background=ground, surface=raised, panel=raised, dark=is_dark, variables=own,
    )  # fmt: skip


THEMES: Mapping[str, Theme] = MappingProxyType({
    theme.name: theme for theme in (
        _theme(
            "dark", ground="#121212", raised="#1f1f1f", held="#3d3d3d", ink="#e6e6e6", quiet="#a8a8a8",
            alert="#4a3508", line="#8a8a8a",
        ),
        _theme(
            "light", ground="#f2f2f0", raised="#e4e4e1", held="#c8c8c4", ink="#1a1a1a", quiet="#505050",
            alert="#ffd98a", line="#6a6a6a", is_dark=False,
        ),
        _theme(
            "contrast", ground="#000000", raised="#000000", held="#00004d", ink="#ffffff", quiet="#d0d0d0",
            alert="#00004d", line="#ffffff",
        ),
    )
})  # fmt: skip
"""By the word with which a knitter chooses one."""


_OTHER_GROUND = {3: 11, 8: 7, 12: 4, 13: 5}
"""Of the 16 colours (by number: black, red, green, yellow, blue, magenta, cyan, white, then the same bright) these
are so unlike from terminal to terminal that neither black nor white reads well on all of them."""

_WHITE_INK = {0, 1, 4, 5}
"""Grounds on which white reads better than black."""


class SixteenColours(LineFilter):
    """Black or white on a ground of 16 colours, whatever the ink was in more of them."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The same line in colours that can be read."""
        return [
            Segment(text, style if style is None or _is_drawn(text) else _in_sixteen(style), control)
            for text, style, control in segments
        ]


def _is_drawn(text: str) -> bool:
    """Nothing but blocks, whose ink is a colour to be seen."""
    return not text.isspace() and not text.strip(" ▀▄█")


@lru_cache(maxsize=1024)
def _in_sixteen(style: Style) -> Style:
    if style.bgcolor is None or style.bgcolor.is_default:
        return style
    ground = style.bgcolor.downgrade(ColorSystem.STANDARD).number or 0
    ground = _OTHER_GROUND.get(ground, ground)
    ink = 15 if ground in _WHITE_INK else 0
    return style + Style(color=TerminalColour.from_ansi(ink), bgcolor=TerminalColour.from_ansi(ground))
