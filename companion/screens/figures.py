"""Very large figures and letters, drawn with block elements from dots: five high, as wide as each of them needs."""

from __future__ import annotations

from functools import lru_cache

from companion.knitting.value import Record

DOTS_HIGH = 5

_DOTS = {
    "0": ".#### #..## #.#.# ##..# ####.", "1": ".#. ##. .#. .#. ###", "2": "###. ...# .##. #... ####",
    "3": "###. ...# .##. ...# ###.", "4": "#.#. #.#. #### ..#. ..#.", "5": "#### #... #### ...# ####",
    "6": ".### #... ###. #..# .##.", "7": "#### ...# ..#. .#.. .#..", "8": ".##. #..# .##. #..# .##.",
    "9": ".##. #..# .### ...# ###.",
    "A": ".##. #..# #### #..# #..#", "B": "###. #..# ###. #..# ###.", "C": ".### #... #... #... .###",
    "D": "###. #..# #..# #..# ###.", "E": "#### #... ###. #... ####", "F": "#### #... ##.. #... #...",
    "G": ".### #... #.## #..# .###", "H": "#..# #..# #### #..# #..#", "I": "### .#. .#. .#. ###",
    "J": "...# ...# ...# #..# .##.", "K": "#..# #.#. ##.. #.#. #..#", "L": "#... #... #... #... ####",
    "M": "##.## #.#.# #.#.# #...# #...#", "N": "#...# ##..# #.#.# #..## #...#", "O": ".###. #...# #...# #...# .###.",
    "P": "###. #..# ###. #... #...", "Q": ".###. #...# #.#.# #..#. .##.#", "R": "####. #...# ####. #..#. #...#",
    "S": ".### #... .##. ...# ###.", "T": "##### ..#.. ..#.. ..#.. ..#..", "U": "#..# #..# #..# #..# .##.",
    "V": "#...# #...# #...# .#.#. ..#..", "W": "#...# #.#.# #.#.# #.#.# .#.#.", "X": "#...# .#.#. ..#.. .#.#. #...#",
    "Y": "#...# .#.#. ..#.. ..#.. ..#..", "Z": "##### ...#. ..#.. .#... #####",
    "-": "... ... ### ... ...", "+": "... .#. ### .#. ...", "/": "...# ..#. ..#. .#.. #...", ".": ".. .. .. ## ##",
    ",": ".. .. .# .# #.", " ": ".. .. .. .. ..",
}
"""Five rows of dots each, from the top. What is easily taken for another is drawn apart from it: the nought is
crossed, R is wider than P, 5 has corners where S is round, 4 is open."""

_CLOSE = _DOTS | {
    "2": "##. ..# .#. #.. ###", "3": "##. ..# .#. ..# ##.", "4": "#.# #.# ### ..# ..#", "5": "### #.. ##. ..# ##.",
    "6": ".## #.. ##. #.# .#.", "7": "### ..# ..# .#. .#.", "8": "### #.# ### #.# ###", "9": ".#. #.# .## ..# ##.",
    "A": ".#. #.# ### #.# #.#", "C": ".## #.. #.. #.. .##", "D": "##. #.# #.# #.# ##.", "E": "### #.. ##. #.. ###",
    "F": "### #.. ##. #.. #..", "H": "#.# #.# ### #.# #.#", "J": "..# ..# ..# #.# .#.", "L": "#.. #.. #.. #.. ###",
    "N": "#..# ##.# #.## #..# #..#", "O": ".##. #..# #..# #..# .##.", "P": "##. #.# ##. #.. #..",
    "R": "###. #..# ###. #.#. #..#", "T": "### .#. .#. .#. .#.", "U": "#.# #.# #.# #.# .#.",
    "Y": "#.# #.# .#. .#. .#.", " ": ". . . . .",
}
"""The same, narrower in all that is still told apart that way."""

_WIDEST = 5


class Scale(Record):
    """Size of a dot: ``across`` columns by ``down`` half lines; two half lines make a line of the terminal.
    ``is_close``: in the narrower drawings."""

    across: int
    down: int
    is_close: bool = False

    @property
    def lines(self) -> int:
        """Lines that a figure takes."""
        return -(-DOTS_HIGH * self.down // 2)

    @property
    def narrow(self) -> Scale:
        """As high and half as wide."""
        return self._replace(across=(self.across + 1) // 2)

    def columns(self, text: str) -> int:
        """Columns that a text takes; a character without a drawing counts as a wide one."""
        dots = _CLOSE if self.is_close else _DOTS
        wide = (dots[one].index(" ") if one in dots else _WIDEST for one in text.upper())
        return (sum(wide) + len(text) - 1) * self.across if text else 0


CLOSE = Scale(1, 1, is_close=True)
SMALL = Scale(1, 1)
MIDDLE = Scale(2, 2)
LARGE = Scale(4, 4)
HUGE = Scale(6, 6)

_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def can_draw(text: str) -> bool:
    """Every character of the text has a drawing."""
    return all(character in _DOTS for character in text.upper())


@lru_cache(maxsize=512)
def drawn(text: str, scale: Scale) -> tuple[str, ...]:
    """The text in large figures, ``scale.lines`` lines of equal width.

    Raises:
        KeyError: a character has no drawing.
    """
    halves = [_dot_row(text.upper(), row, scale) for row in range(DOTS_HIGH) for _ in range(scale.down)]
    if len(halves) % 2:
        halves.append([False] * len(halves[0]))
    pairs = zip(halves[::2], halves[1::2], strict=True)
    return tuple("".join(_HALVES[dots] for dots in zip(upper, lower, strict=True)) for upper, lower in pairs)


def _dot_row(text: str, row: int, scale: Scale) -> list[bool]:
    """One row of dots across the whole text, every dot ``across`` wide, a dot's space between characters."""
    drawings = _CLOSE if scale.is_close else _DOTS
    dots = ".".join(drawings[character].split()[row] for character in text)
    return [dot == "#" for dot in dots for _ in range(scale.across)]
