"""The acts to the end of the row in large letters of one size, for who works a row at a press."""

from __future__ import annotations

from functools import lru_cache

from companion.dialogue.telling import Telling
from companion.screens.blocks import BETWEEN, GAP, Block, act_blocks, act_texts, as_many, in_rows, stacked
from companion.screens.figures import Scale
from companion.screens.flowing import Line


def row_in_letters(telling: Telling, scale: Scale, width: int, room: int) -> list[Line]:
    """All acts to the end of the row in letters of one size; where they have no ``room`` without those that can wait,
    and where not even the others have, the first of them; none, if those say no stitches."""
    for is_whole in (True, False):
        lines = stacked(_row_acts(telling, scale, width, is_whole))
        if len(lines) <= room:
            return lines
    some = as_many([], _row_acts(telling, scale, width, False), room)
    return some if len(some) >= len(stacked(_row_acts(telling, scale, width, False, True))) else []


def is_too_wide(telling: Telling, scale: Scale, width: int) -> bool:
    """There are words in it that would be drawn smaller than the others."""
    return any(scale.columns(text) > width for text in act_texts(telling.row_acts))


def row_letters_lines(telling: Telling, scale: Scale, width: int, *, is_whole: bool = True) -> int:
    """How many lines that takes, or without the acts that can wait."""
    return len(stacked(_row_acts(telling, scale, width, is_whole)))


@lru_cache(maxsize=32)
def _row_acts(
    telling: Telling, scale: Scale, width: int, is_whole: bool, is_first_run: bool = False
) -> list[Block]:
    """The rows of what is done to the row's end, without what can wait where that is not ``is_whole``; of
    ``is_first_run`` up to the first stitches that are worked."""
    acts = [act for act in telling.row_acts if is_whole or not act.can_wait]
    if is_first_run:
        acts = acts[:next(i for i, act in enumerate(acts) if act.stitches) + 1]
    return in_rows(act_blocks(telling, acts, scale, width, GAP * scale.across), width, BETWEEN * scale.across)
