"""Colours as spreadsheets name them: by a number of the theme's or of an old table, lightened or darkened."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from colorsys import hls_to_rgb, rgb_to_hls

from companion.knitting.cloth.colour import channels

THEME = ("lt1", "dk1", "lt2", "dk2", *(f"accent{number}" for number in range(1, 7)), "hlink", "folHlink")
"""Colours of a theme in the order of their numbers: light goes before dark, unlike in the theme's own file."""

_EIGHT = "000000 ffffff ff0000 00ff00 0000ff ffff00 ff00ff 00ffff"
INDEXED = tuple(f"#{code}" for code in f"""{_EIGHT} {_EIGHT}
    800000 008000 000080 808000 800080 008080 c0c0c0 808080 9999ff 993366 ffffcc ccffff 660066 ff8080 0066cc ccccff
    000080 ff00ff ffff00 00ffff 800080 800000 008080 0000ff 00ccff ccffff ccffcc ffff99 99ccff ff99cc cc99ff ffcc99
    3366ff 33cccc 99cc00 ffcc00 ff9900 ff6600 666699 969696 003366 339966 003300 333300 993300 993366 333399 333333
    000000 ffffff""".split())
"""The old table, and after it the system's colours of text and of paper (ECMA-376-1, 18.8.27)."""

_CODE = re.compile(r"(?:[0-9a-f]{2})?([0-9a-f]{6})", re.ASCII | re.IGNORECASE)


def colour_of(said: Mapping[str, str], theme: Sequence[str], indexed: Sequence[str] = INDEXED) -> str:
    """The colour that a fill says, as "#rrggbb"; "" where it says none."""
    found = ""
    if code := _CODE.fullmatch(said.get("rgb", "")):
        found = f"#{code[1].lower()}"
    elif "theme" in said:
        found = _numbered(theme, said["theme"])
    elif "indexed" in said:
        found = _numbered(indexed, said["indexed"])
    return tinted(found, _tint(said.get("tint", "0"))) if found else ""


def _numbered(colours: Sequence[str], number: str) -> str:
    is_one = number.isascii() and number.isdecimal() and len(number) < 4 and int(number) < len(colours)
    return colours[int(number)] if is_one else ""


def _tint(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return 0.0


def tinted(colour: str, tint: float) -> str:
    """A colour with its lightness, in HLS, moved towards black (-1) or white (1) by this part of the way
    (ECMA-376-1, 18.8.19, the attribute tint). What is no such part is no tint."""
    if not -1 <= tint <= 1 or not tint:  # nor is what is no number
        return colour
    hue, light, strength = rgb_to_hls(*(value / 255 for value in channels(colour)))
    light = light * (1 + tint) if tint < 0 else light * (1 - tint) + tint
    return "#" + "".join(f"{round(255 * value):02x}" for value in hls_to_rgb(hue, light, strength))
