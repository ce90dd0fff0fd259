"""An alphabet for knitting, drawn for this project: strokes two stitches wide and two rows high, since a stitch is
wider than high, and a stroke of one stitch would be a strand for a speck."""

from __future__ import annotations

from companion.board.motifs import Motif
from companion.problems import Problem, Problems, quoted

BETWEEN = 2
"""So many stitches of ground lie between two signs."""

_SPACE = 4

_DRAWN = (
    ("ABCDEFGH", """
..##.. #####. .####. #####. ###### ###### .####. ##..##
.####. ###### ###### ###### ###### ###### ###### ##..##
.####. ##..## ##..## ##..## ##.... ##.... ##.... ##..##
##..## ##..## ##.... ##..## ##.... ##.... ##.... ##..##
##..## #####. ##.... ##..## #####. #####. ##.### ######
###### #####. ##.... ##..## #####. #####. ##.### ######
###### ##..## ##.... ##..## ##.... ##.... ##..## ##..##
##..## ##..## ##..## ##..## ##.... ##.... ##..## ##..##
##..## ###### ###### ###### ###### ##.... ###### ##..##
##..## #####. .####. #####. ###### ##.... .####. ##..##
"""),
    ("IJKLMNOP", """
## ....## ##..## ##.... ##....## ##..## .####. #####.
## ....## ##..## ##.... ###..### ###.## ###### ######
## ....## ##.### ##.... ######## ###.## ##..## ##..##
## ....## #####. ##.... ##.##.## ###### ##..## ##..##
## ....## ####.. ##.... ##.##.## ###### ##..## ######
## ....## ####.. ##.... ##....## ###### ##..## #####.
## ##..## #####. ##.... ##....## ##.### ##..## ##....
## ##..## ##.### ##.... ##....## ##.### ##..## ##....
## ###### ##..## ###### ##....## ##..## ###### ##....
## .####. ##..## ###### ##....## ##..## .####. ##....
"""),
    ("QRSTUVWX", """
.####. #####. .##### ###### ##..## ##..## ##....## ##..##
###### ###### ###### ###### ##..## ##..## ##....## ##..##
##..## ##..## ##.... ..##.. ##..## ##..## ##....## .####.
##..## ##..## ##.... ..##.. ##..## ##..## ##....## .####.
##..## ###### #####. ..##.. ##..## ##..## ##....## ..##..
##..## #####. .##### ..##.. ##..## ##..## ##.##.## ..##..
##..## ####.. ....## ..##.. ##..## .####. ##.##.## .####.
##.### ##.##. ....## ..##.. ##..## .####. ######## .####.
###### ##..## ###### ..##.. ###### ..##.. ###..### ##..##
.##### ##..## #####. ..##.. .####. ..##.. ##....## ##..##
"""),
    ("YZ012345", """
##..## ###### .####. ..## .####. #####. ##..## ######
##..## ###### ###### .### ###### ###### ##..## ######
##..## ....## ##..## #### ##..## ....## ##..## ##....
.####. ...##. ##.### ..## ....## ....## ##..## #####.
.####. ..##.. ##.### ..## ...### ..#### ###### ######
..##.. ..##.. ###.## ..## ..###. ..#### ###### ....##
..##.. .##... ###.## ..## .###.. ....## ....## ....##
..##.. ##.... ##..## ..## ###... ....## ....## ##..##
..##.. ###### ###### ..## ###### ###### ....## ######
..##.. ###### .####. ..## ###### #####. ....## .####.
"""),
    ("6789&?+/", """
.####. ###### .####. .####. .####... .####. ...... ....##
###### ###### ###### ###### ######.. ###### ...... ....##
##.... ....## ##..## ##..## ##..##.. ##..## ..##.. ...##.
##.... ...### ##..## ##..## #####... ....## ..##.. ...##.
#####. ...##. .####. ###### .###.... ...### ###### ..##..
###### ..###. .####. .##### #####.## ..###. ###### ..##..
##..## ..##.. ##..## ....## ##.##### ..##.. ..##.. .##...
##..## ..##.. ##..## ....## ##..###. ...... ..##.. .##...
###### ..##.. ###### ###### ######## ..##.. ...... ##....
.####. ..##.. .####. .####. .####.## ..##.. ...... ##....
"""),
    ("!.,-':", """
## .. ... .... ## ..
## .. ... .... ## ..
## .. ... .... ## ##
## .. ... .... .. ##
## .. ... #### .. ..
## .. ... #### .. ..
.. .. ... .... .. ##
.. .. .## .... .. ##
## ## .## .... .. ..
## ## ##. .... .. ..
"""),
)  # fmt: skip
"""Signs, and their rows from the top, a blank between two of them."""


def _read() -> dict[str, tuple[str, ...]]:
    """Every sign with its rows from the bottom, each from the right."""
    found: dict[str, tuple[str, ...]] = {}
    for signs, drawn in _DRAWN:
        rows = [line.split() for line in drawn.split("\n") if line]
        for at, sign in enumerate(signs):
            found[sign] = tuple(row[at][::-1] for row in reversed(rows))
    return found


_SIGNS = _read()
HIGH = len(_SIGNS["A"])
"""Every sign has so many rows."""

SIGNS = "".join(_SIGNS) + " "
"""Every character that can be written."""


def written(text: str, yarn: str) -> Motif:
    """A line of text as a motif in one yarn, letters as capitals.

    Raises:
        Problems: a character is not in the alphabet, or nothing is to be written.
    """
    capitals = " ".join(text.upper().split())
    unknown = [sign for sign in dict.fromkeys(capitals) if sign not in SIGNS]
    if unknown or not capitals:
        what = f"This alphabet has no sign for {quoted(unknown[0])}." if unknown else "Nothing is to be written."
        raise Problems([Problem(what, mend=f"It has {SIGNS.strip()}")])
    rows = [""] * HIGH
    for sign in reversed(capitals):
        drawn = _SIGNS.get(sign, ("." * (_SPACE - BETWEEN),) * HIGH)
        rows = [row + ("." * BETWEEN if row else "") + own for row, own in zip(rows, drawn, strict=True)]
    return Motif(tuple(tuple(yarn if spot == "#" else None for spot in row) for row in rows))
