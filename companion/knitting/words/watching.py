"""What is said to those who watch a piece that somebody else is at."""

from __future__ import annotations

from companion.knitting.cloth.rows import Rows
from companion.knitting.words.places import row_named

GONE = "The piece is not there any more: it was put away, moved or deleted. This is how it was last."
READ_ANEW = "The piece was read anew: it has another past or another plan now."
TAKEN_BACK = "What was done last is taken back."
UNPICKED = "A run is unpicked."
PLANNED = "The strands of the rows to come are planned anew."
MISTAKE = "A mistake is told of."


def called(name: str) -> str:
    """It has another name."""
    return f'The piece is called "{name}" now.'


def ripped_back(row: int, rows: Rows) -> str:
    """To which row, from 0; -1 = to the cast-on."""
    return f"It is ripped back to {row_named(rows[row]) if row >= 0 else 'the cast-on'}."
