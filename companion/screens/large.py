"""The acts of one press set in large letters: rows of blocks, each a word, a number or a yarn on a chip of its own.

The main act has the largest letters; what is done before it stands above it, what comes after it below. Nothing that
is needed for the next act is drawn smaller than two and a half lines.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import product

from companion.dialogue.acts import ActTold
from companion.dialogue.telling import Telling
from companion.problems import plain
from companion.screens.blocks import (
    BETWEEN,
    GAP,
    Block,
    act_blocks,
    as_many,
    chips_of,
    in_rows,
    side_by_side,
    stacked,
    wide,
    words_in,
)
from companion.screens.figures import Scale
from companion.screens.flowing import Line, cells
from companion.screens.layout import Sizes

LARGEST = 12
"""Cells of a dot where nothing else is on the screen; with more no word has room."""


def large_lines(telling: Telling, sizes: Sizes, width: int, room: int = 999) -> list[Line]:
    """The acts in these sizes, those after the main one as far as there is ``room``; the sentence has them all. Where
    not even the main one has room, what is before it and can wait is told in words alone."""
    before, main, after = _large(telling, sizes, width)
    if len(stacked([*before, main])) > room:
        before, main, after = _large(telling, sizes, width, is_all=False)
    return as_many([*before, main], after, room)


def lines_alone(telling: Telling, width: int, room: int) -> list[Line]:
    """The row and the acts in the largest letters with which all of them have room; in the smallest those that can
    wait are left out where they have none. More lines than that where not even the others do."""
    lines: list[Line] = []
    ways = (*((size, max(2, -(-size // 2))) for size in range(LARGEST, 1, -1)), (2, 1), (1, 1))
    for (size, down), is_all in (*((way, True) for way in ways), (ways[-1], False)):
        other = Scale(down, down)
        head = words_in([telling.row_in_large], other, width)
        sizes = Sizes(Scale(size, size), other, keeps_room=False)
        before, main, after = _large(telling, sizes, width, is_all=is_all)
        lines = stacked([*head, *before, main, *after])
        if len(lines) <= room:
            break
    return lines


@lru_cache(maxsize=16)
def _large(
    telling: Telling, sizes: Sizes, width: int, *, is_all: bool = True
) -> tuple[list[Block], Block, list[Block]]:
    """Row by row what comes before the main act, that act, and what comes after it; of all acts, or of those that
    cannot wait."""
    acts, other, side = telling.acts, sizes.other, telling.side_in_large
    if not is_all:
        acts = tuple(act for act in acts if act.is_main or not act.waits)
    at = next(i for i, act in enumerate(acts) if act.is_main)
    before = _acts(telling, acts[:at], "", other, width)
    if not before and sizes.keeps_room and telling.run:
        before = [[[]] * other.lines]
    main = _main(telling, acts[at], side, sizes, width)
    if side and at and len(main) > sizes.main.lines + 1:
        above, without = _acts(telling, acts[:at], side, other, width), _main(telling, acts[at], "", sizes, width)
        if len(above) == len(before) and len(without) < len(main):
            before, main = above, without
    return before, main, _acts(telling, acts[at + 1:], "", other, width)


def _acts(telling: Telling, acts: Sequence[ActTold], side: str, scale: Scale, width: int) -> list[Block]:
    """Acts before or after the main one in rows; in narrow letters where that saves a row."""
    ways = list[list[Block]]()
    for one in dict.fromkeys((scale, scale.narrow)) if acts else ():
        blocks = act_blocks(telling, acts, one, width, GAP)
        ways.append(in_rows([*blocks, *words_in([side], one, width)], width, BETWEEN))
        if len(ways[-1]) == 1:
            break
    return min(ways, key=len, default=[])


def _main(telling: Telling, act: ActTold, side: str, sizes: Sizes, width: int) -> Block:
    """The count or the words in the largest letters; beside them, else below, how it is worked, its yarns, side."""
    first = words_in([str(act.stitches) if act.stitches else act.text], sizes.main, width)
    verb = act.text if act.stitches else ""
    ways = _ways(telling, act)
    if len(first) == 1:
        beside = width - wide(first[0]) - GAP
        squares = [Scale(size, size) for size in range(sizes.main.across, 0, -1)]
        scales = dict.fromkeys(one for each in squares for one in (each, each.narrow))
        for scale, (marks, text) in product(scales, ways):
            if len(first[0]) < scale.lines + len(text) or any(cells(line) > beside for line in text):
                continue
            if verb and scale.columns(verb) > beside:
                continue
            lines = [*_together([], act, verb, side, marks, scale, beside), *text]
            room = len(first[0]) + (not text)  # the line that keeps two rows apart may go beyond
            if len(lines) <= room and all(cells(line) <= beside for line in lines):
                return side_by_side([first[0], lines], GAP)
    start, above = (first, []) if len(first) > 1 else ([], first[0])
    scales = dict.fromkeys((sizes.other, sizes.other.narrow))
    different = dict.fromkeys(tuple(marks) for marks, _ in ways)
    below = (_together(start, act, verb, side, marks, scale, width) for scale in scales for marks in different)
    return stacked([above, min(below, key=len)])


def _together(
    start: list[Block], act: ActTold, verb: str, side: str, marks: Sequence[str], scale: Scale, width: int
) -> Block:
    chips = chips_of(act.yarns, marks, scale)
    blocks = [*start, *words_in([verb], scale, width), *chips, *words_in([side], scale, width)]
    return stacked(in_rows(blocks, width, BETWEEN if start else GAP))


def _ways(telling: Telling, act: ActTold) -> list[tuple[Sequence[str], tuple[Line, ...]]]:
    """What may stand on the chips, to be preferred first, each with what is then told as text."""
    needle: tuple[Line, ...] = ([(telling.needle, "quiet")],) if telling.needle else ()
    marks = [telling.marks_of(yarn) for yarn in act.yarns]
    short = [each[-1] for each in marks]
    if len(marks) != 1:
        return [(short, needle), (short, ())]
    name: Line = [(plain(act.yarns[0].name), "strong")]
    return [(marks[0][:1], needle), (short, (name, *needle)), (marks[0][:1], ()), (short, ())]
