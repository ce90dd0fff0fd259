"""An address as a square code that a camera reads (ISO/IEC 18004, QR code), two of its squares in a character."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TextIO

QUIET_ZONE = 4
"""Light squares round it (ISO/IEC 18004, 6.3.8)."""

_HALVES = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}
_BLACK_ON_WHITE, _AS_BEFORE = "\x1b[30;107m", "\x1b[0m"


def drawn(text: str, screen: TextIO) -> list[str]:
    """The code line by line, black on white; nothing where ``screen`` is no terminal that can show it, or where the
    library that makes codes is not installed (the extra ``page``)."""
    if not screen.isatty() or (screen.encoding or "").lower().replace("-", "") != "utf8":
        return []
    try:
        import segno
    except ImportError:
        return []
    matrix = segno.make_qr(text, error="m").matrix_iter(border=QUIET_ZONE)
    return [f"{_BLACK_ON_WHITE}{line}{_AS_BEFORE}" for line in halves([[bool(one) for one in row] for row in matrix])]


def halves(squares: Sequence[Sequence[bool]]) -> list[str]:
    """Squares as lines of half blocks, True = dark; an odd last row stands over light."""
    lines = list[str]()
    for at in range(0, len(squares), 2):
        lower = squares[at + 1] if at + 1 < len(squares) else [False] * len(squares[at])
        lines.append("".join(_HALVES[pair] for pair in zip(squares[at], lower, strict=True)))
    return lines
