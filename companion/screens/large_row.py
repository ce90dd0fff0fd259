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
"""The same between two acts that would have no room on one line else: a comma or a yarn keeps them apart, too."""

Part = Literal["whole", "most", "needed", "begun", "side and run", "run", "stitches"]
"""Which acts: all; without what waits first; without all that waits; of these up to the first stitches; the side and
what is worked in the first run; that alone; of that up to the first stitches."""

EVERY_RUN: tuple[Part, ...] = "whole", "most", "needed"
"""Parts of the row that tell of all its runs, what says most first."""

FIRST_RUN: tuple[Part, ...] = "side and run", "run", "stitches"
"""The same of those that tell of the first one."""


def row_in_letters(telling: Telling, scale: Scale, width: int, room: int) -> list[Line]:
    """All acts to the end of the row in letters of one size; where they have no ``room`` without those that can wait,
    and where not even the others have, the first of them; if those say no stitches, the side and the first run, or as
    much of that as has room."""
    return next((lines for lines in _ways(telling, scale, width, room) if len(lines) <= room), [])


def _ways(telling: Telling, scale: Scale, width: int, room: int) -> Iterator[list[Line]]:
    """What may stand there, what says most first."""
    for part in EVERY_RUN:
        yield stacked(_row_acts(telling, scale, width, part))
    begun = as_many([], _row_acts(telling, scale, width, "needed"), room)
    if len(begun) >= len(stacked(_row_acts(telling, scale, width, "begun"))):
        yield begun
    for part in FIRST_RUN:
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
    gap, widest = (CLOSE_GAP if scale.is_close else GAP * scale.across), BETWEEN * scale.across
    blocks = act_blocks(telling, _acts(telling.row_acts, part), scale, width, gap)
    return in_rows(blocks, width, CLOSE_BETWEEN if scale.is_close else widest, widest)


def _acts(acts: Sequence[ActTold], part: Part) -> Sequence[ActTold]:
    needed, first = [act for act in acts if not act.waits], [act for act in acts if act.is_main]
    match part:
        case "whole":
            return acts
        case "most":
            return [act for act in acts if act.waits < 2]
        case "needed":
            return needed
        case "begun":
            return _to_stitches(needed)
        case "side and run":
            return first
        case "run":
            return first[1:]
        case "stitches":
            return _to_stitches(first[1:])


def _to_stitches(acts: Sequence[ActTold]) -> Sequence[ActTold]:
    """Up to the first stitches; all of them where no stitches are told."""
    return acts[:next((at for at, act in enumerate(acts) if act.stitches), len(acts)) + 1]
