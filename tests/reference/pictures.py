"""Other people's bitmaps as charts, and what was counted on them outside this project.

A picture is a list of strings, the top line first as it is drawn, one character a stitch. Where each bitmap
comes from, its licence and how its file was made stand in ``bitmaps/README.md``.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

BITMAPS = Path(__file__).parent / "bitmaps"

GLYPHS = ("0026", "0041", "2603", "2665")
ICONS = ("anchor", "fish", "lightbulb", "moon", "ship", "snail", "star", "sun")
DIGITS = 60

Picture = list[str]


def glyph(code: str, symbols: str = "-#") -> Picture:
    """A glyph by its code point in four hex digits: 16 lines of 8 or 16, ``symbols`` for background and ink.
    In the file each line is ``code:bits``, the rows from the top, the most significant bit at the left."""
    lines = (BITMAPS / "unifont.hex").read_text("ascii").split()
    bits = dict(line.split(":") for line in lines)[code]
    digits = len(bits) // 16
    rows = [bits[at : at + digits] for at in range(0, len(bits), digits)]
    return ["".join(symbols[int(bit)] for bit in f"{int(row, 16):0{4 * digits}b}") for row in rows]


def icon(name: str, symbols: str = "-#") -> Picture:
    """An icon by its name: 24 lines of 24, ``symbols`` for background and ink."""
    text = (BITMAPS / "icons" / f"{name}.txt").read_text("ascii")
    return [line.translate(str.maketrans("-#", symbols)) for line in text.split()]


def grey_digit(number: int) -> list[list[int]]:
    """A handwritten digit by its place in the set, 0 to 59: 8 rows from the top of 8 greys from 0 to 16."""
    blocks = (BITMAPS / "digits.txt").read_text("ascii").strip().split("\n\n")
    return [[int(grey) for grey in line.split()] for line in blocks[number].split("\n")]


def digit(number: int, symbols: str = "-#") -> Picture:
    """A handwritten digit in two colours: ink where the grey is above 7."""
    return [_shaded(row, (7,), symbols) for row in grey_digit(number)]


def three_grey_digit(number: int, symbols: str = "-+#") -> Picture:
    """A handwritten digit in three colours, parted at 5.5 and 10.5."""
    return [_shaded(row, (5.5, 10.5), symbols) for row in grey_digit(number)]


def _shaded(greys: Sequence[int], bounds: Sequence[float], symbols: str) -> str:
    return "".join(symbols[bisect_left(bounds, grey)] for grey in greys)


def all_pictures() -> dict[str, Picture]:
    """Every bitmap there is in two colours, by a name to show; and ten of the digits in three."""
    return {
        **{f"glyph {code}": glyph(code) for code in GLYPHS},
        **{f"icon {name}": icon(name) for name in ICONS},
        **{f"digit {number}": digit(number) for number in range(DIGITS)},
        **{f"digit {number} in three greys": three_grey_digit(number) for number in range(10)},
    }


@dataclass(frozen=True)
class Counted:
    """What two matching libraries and a closed form agreed on for a picture: row 1 at the bottom, a
    right-side row, worked flat; moves to the next row only. ``strands`` maps a reach to the fewest strands,
    None to no limit."""

    draw: Callable[[], Picture]
    segments: int
    most_in_a_row: int
    changes: int
    strands: dict[int | None, int]


def _reaches(*strands: int) -> dict[int | None, int]:
    return dict(zip((0, 1, 2, 3, 5, None), strands, strict=True))


COUNTED = {
    "the letter A": Counted(lambda: glyph("0041"), 52, 5, 36, _reaches(13, 7, 7, 7, 7, 7)),
    "the ampersand": Counted(lambda: glyph("0026"), 53, 6, 37, _reaches(27, 10, 8, 8, 8, 8)),
    "the heart": Counted(lambda: glyph("2665"), 32, 5, 16, _reaches(14, 6, 6, 6, 6, 6)),
    "the snowman": Counted(lambda: glyph("2603"), 106, 11, 90, _reaches(79, 47, 31, 25, 23, 21)),
    "digit 0": Counted(lambda: digit(0), 34, 5, 26, _reaches(12, 5, 5, 5, 5, 5)),
    "digit 1": Counted(lambda: digit(1), 24, 3, 16, _reaches(8, 3, 3, 3, 3, 3)),
    "digit 8": Counted(lambda: digit(8), 28, 5, 20, _reaches(14, 7, 7, 7, 7, 7)),
    "digit 0 in three greys": Counted(
        lambda: three_grey_digit(0), 42, 6, 34, _reaches(20, 12, 10, 10, 10, 10)
    ),
}
"""Made once with networkx 3.6.1 and scipy 1.17.1 and, without a limit, by the sum over colours and rows of
the segments that a row has more than the row below it."""
