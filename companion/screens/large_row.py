"""The acts to the end of the row in large letters of one size, for who works a row at a press."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Literal

from companion.dialogue.acts import ActTold
from companion.dialogue.telling import Telling
from companion.screens.blocks import BETWEEN, GAP, Block, act_blocks, act_texts, as_many, in_rows, stacked
from companion.screens.figures import Scale
from companion.screens.flowing import Line

CLOSE_GAP = 1
"""Cells between a count and its yarn in letters that stand close."""

CLOSE_BETWEEN = 2
"""The same between two acts: a comma or a yarn is between them as well."""

Part = Literal["whole", "most", "needed", "begun", "first", "first stitches"]
"""Which acts: all; without what waits first; without all that waits; of these up to the first stitches; of these the
side and those stitches; those stitches alone."""

MANY: tuple[Part, ...] = "whole", "most", "needed"
"""Those that tell of every run."""


def row_in_letters(telling: Telling, scale: Scale, width: int, room: int) -> list[Line]:
    """All acts to the end of the row in letters of one size; where they have no ``room`` without those that can wait,
    and where not even the others have, the first of them; if those say no stitches, the first stitches and the side;
    none, if not even those have room."""
    return next((lines for lines in _ways(telling, scale, width, room) if len(lines) <= room), [])


def _ways(telling: Telling, scale: Scale, width: int, room: int) -> Iterator[list[Line]]:
    """What may stand there, what says most first."""
    for part in MANY:
        yield stacked(_row_acts(telling, scale, width, part))
    begun = as_many([], _row_acts(telling, scale, width, "needed"), room)
    if len(begun) >= len(stacked(_row_acts(telling, scale, width, "begun"))):
        yield begun
    for part in ("first", "first stitches"):
        yield stacked(_row_acts(telling, scale, width, part))


def is_too_wide(telling: Telling, scale: Scale, width: int) -> bool:
    """There are words in it that would be drawn smaller than the others."""
    return any(scale.columns(text) > width for text in act_texts(telling.row_acts))


def row_letters_lines(telling: Telling, scale: Scale, width: int, part: Part = "whole") -> int:
    """How many lines these acts take."""
    return len(stacked(_row_acts(telling, scale, width, part)))


@lru_cache(maxsize=32)
def _row_acts(telling: Telling, scale: Scale, width: int, part: Part) -> list[Block]:
    """The acts in rows of blocks."""
    gap, between = (CLOSE_GAP, CLOSE_BETWEEN) if scale.is_close else (GAP * scale.across, BETWEEN * scale.across)
    return in_rows(act_blocks(telling, _acts(telling.row_acts, part), scale, width, gap), width, between)


def _acts(acts: Sequence[ActTold], part: Part) -> Sequence[ActTold]:
    needed = [act for act in acts if not act.waits]
    match part:
        case "whole":
            return acts
        case "most":
            return [act for act in acts if act.waits < 2]
        case "needed":
            return needed
        case "begun":
            return needed[:next(at for at, act in enumerate(needed) if act.stitches) + 1]
        case "first":
            return [act for act in acts if act.is_main]
        case "first stitches":
            return [act for act in acts if act.is_main][1:]
