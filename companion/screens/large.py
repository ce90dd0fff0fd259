"""The acts of one press set in large letters: rows of blocks, each a word, a number or a yarn on a chip of its own.

The main act has the largest letters; what is done before it stands above it, what comes after it below. Nothing that
is needed for the next act is drawn smaller than two and a half lines.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from itertools import product

from companion.dialogue.acts import ActTold
from companion.dialogue.telling import Telling
from companion.knitting.cloth.fabric import Yarn
from companion.problems import plain, shorten
from companion.screens.figures import SMALL, Scale, can_draw, drawn
from companion.screens.flowing import Line, cells
from companion.screens.layout import Sizes
from companion.screens.lines import inked

GAP = 2
"""Cells between what stands beside each other."""

BETWEEN = 4
"""The same between two acts."""

LARGEST = 12
"""Cells of a dot where nothing else is on the screen; with more no word has room."""

Block = list[Line]
"""Something large: lines of one width, but for a row of several, whose lines end where its blocks do."""


def large_lines(telling: Telling, sizes: Sizes, width: int, room: int = 999) -> list[Line]:
    """The acts in these sizes, those after the main one as far as there is ``room``; the sentence has them all."""
    before, main, after = _large(telling, sizes, width)
    return _as_many([*before, main], after, room)


def row_in_letters(telling: Telling, scale: Scale, width: int, room: int) -> list[Line]:
    """All acts to the end of the row in letters of one size; where they have no ``room`` without those that can wait,
    and where not even the others have, the first of them; none, if those say no stitches."""
    for is_whole in (True, False):
        lines = _stacked(_row_acts(telling, scale, width, is_whole))
        if len(lines) <= room:
            return lines
    some = _as_many([], _row_acts(telling, scale, width, False), room)
    return some if len(some) >= len(_stacked(_row_acts(telling, scale, width, False, True))) else []


def row_letters_lines(telling: Telling, scale: Scale, width: int) -> tuple[int, int]:
    """How many lines that takes with the acts that can wait, and without them."""
    whole, without = (_row_acts(telling, scale, width, is_whole) for is_whole in (True, False))
    return len(_stacked(whole)), len(_stacked(without))


def _as_many(rows: Sequence[Block], more: Sequence[Block], room: int) -> list[Line]:
    """These rows, and as many more as have room."""
    lines = _stacked(rows)
    for row in more:
        longer = _stacked([lines, row])
        if len(longer) > room:
            break
        lines = longer
    return lines


def lines_alone(telling: Telling, width: int, room: int) -> list[Line]:
    """The row and the acts in the largest letters with which all of them have room; more lines than that where not
    even the smallest do."""
    lines: list[Line] = []
    for size, down in (*((size, max(2, -(-size // 2))) for size in range(LARGEST, 1, -1)), (2, 1), (1, 1)):
        other = Scale(down, down)
        head = _words([telling.row_in_large], other, width)
        before, main, after = _large(telling, Sizes(Scale(size, size), other, keeps_room=False), width)
        lines = _stacked([*head, *before, main, *after])
        if len(lines) <= room:
            break
    return lines


@lru_cache(maxsize=16)
def _large(telling: Telling, sizes: Sizes, width: int) -> tuple[list[Block], Block, list[Block]]:
    """Row by row what comes before the main act, that act, and what comes after it."""
    acts, other, side = telling.acts, sizes.other, telling.side_in_large
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


@lru_cache(maxsize=32)
def _row_acts(
    telling: Telling, scale: Scale, width: int, is_whole: bool, is_first_run: bool = False
) -> list[Block]:
    """The rows of what is done to the row's end, without what can wait where that is not ``is_whole``; of
    ``is_first_run`` up to the first stitches that are worked."""
    acts = [act for act in telling.row_acts if is_whole or not act.can_wait]
    if is_first_run:
        acts = acts[:next(i for i, act in enumerate(acts) if act.stitches) + 1]
    return _rows(_beside_each_other(telling, acts, scale, width, GAP * scale.across), width, BETWEEN * scale.across)


def _acts(telling: Telling, acts: Sequence[ActTold], side: str, scale: Scale, width: int) -> list[Block]:
    """Acts before or after the main one in rows; in narrow letters where that saves a row."""
    ways = list[list[Block]]()
    for one in dict.fromkeys((scale, scale.narrow)) if acts else ():
        blocks = _beside_each_other(telling, acts, one, width, GAP)
        ways.append(_rows([*blocks, *_words([side], one, width)], width, BETWEEN))
        if len(ways[-1]) == 1:
            break
    return min(ways, key=len, default=[])


def _beside_each_other(
    telling: Telling, acts: Sequence[ActTold], scale: Scale, width: int, gap: int
) -> list[Block]:
    """Blocks of acts that follow each other: the last of an act's words and the first of its yarns are one, where
    they have room, so that no yarn is taken for that of what follows."""
    blocks = list[Block]()
    for act in acts:
        text = f"{act.stitches or ''} {act.text}".strip()
        *words, last = _words([text if act.yarns or act is acts[-1] else f"{text},"], scale, width)
        chips = _chips(act.yarns, [telling.marks_of(yarn)[-1] for yarn in act.yarns], scale)
        if chips and _wide(last) + gap + _wide(chips[0]) <= width:
            last = _row([last, chips.pop(0)], gap)
        blocks += [*words, last, *chips]
    return blocks


def _main(telling: Telling, act: ActTold, side: str, sizes: Sizes, width: int) -> Block:
    """The count or the words in the largest letters; beside them, else below, how it is worked, its yarns, side."""
    first = _words([str(act.stitches) if act.stitches else act.text], sizes.main, width)
    verb = act.text if act.stitches else ""
    ways = _ways(telling, act)
    if len(first) == 1:
        beside = width - _wide(first[0]) - GAP
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
                return _row([first[0], lines], GAP)
    start, above = (first, []) if len(first) > 1 else ([], first[0])
    scales = dict.fromkeys((sizes.other, sizes.other.narrow))
    different = dict.fromkeys(tuple(marks) for marks, _ in ways)
    below = (_together(start, act, verb, side, marks, scale, width) for scale in scales for marks in different)
    return _stacked([above, min(below, key=len)])


def _together(
    start: list[Block], act: ActTold, verb: str, side: str, marks: Sequence[str], scale: Scale, width: int
) -> Block:
    chips = _chips(act.yarns, marks, scale)
    blocks = [*start, *_words([verb], scale, width), *chips, *_words([side], scale, width)]
    return _stacked(_rows(blocks, width, BETWEEN if start else GAP))


def _ways(telling: Telling, act: ActTold) -> list[tuple[Sequence[str], tuple[Line, ...]]]:
    """What may stand on the chips, to be preferred first, each with what is then told as text."""
    needle: tuple[Line, ...] = ([(telling.needle, "quiet")],) if telling.needle else ()
    marks = [telling.marks_of(yarn) for yarn in act.yarns]
    short = [each[-1] for each in marks]
    if len(marks) != 1:
        return [(short, needle), (short, ())]
    name: Line = [(plain(act.yarns[0].name), "strong")]
    return [(marks[0][:1], needle), (short, (name, *needle)), (marks[0][:1], ()), (short, ())]


def _words(texts: Sequence[str], scale: Scale, width: int) -> list[Block]:
    """Each text in one block, or word by word where no letters are small enough for that."""
    blocks = list[Block]()
    for text in filter(None, texts):
        blocks += [_word(one, scale, width) for one in ([text] if SMALL.columns(text) <= width else text.split())]
    return blocks


@lru_cache(maxsize=1024)
def _word(text: str, scale: Scale, width: int) -> Block:
    """A text in letters of this size, in narrower ones or, last, in smaller ones where it would be too wide."""
    squares = (Scale(size, size) for size in range(scale.down, 0, -1))
    sizes = (one for square in squares for one in (square, square.narrow) if one.across <= scale.across)
    fitting = next((one for one in sizes if one.columns(text) <= width), SMALL)
    return [[(line, "strong")] for line in drawn(text, fitting)]


def _chips(yarns: Sequence[Yarn], marks: Sequence[str], scale: Scale) -> list[Block]:
    return [_chip(yarn, mark, scale) for yarn, mark in zip(yarns, marks, strict=True)]


def _chip(yarn: Yarn, mark: str, scale: Scale) -> Block:
    """The yarn's colour with its mark on it, framed so that its edges are seen on a ground of the same colour too. A
    mark in another script stands there as it is written."""
    text = "".join(one for one in unicodedata.normalize("NFKD", mark) if not unicodedata.combining(one))
    if can_draw(text):
        inside = list(drawn(text, scale))
    else:
        short = shorten(plain(yarn.symbol), 5 * scale.across)
        inside = [" " * (5 * scale.across)] * scale.lines
        inside[scale.lines // 2] = short.center(5 * scale.across - (cells([(short, "")]) - len(short)))
    return [[(f"▏{line}▕", inked(yarn.colour, bold=True))] for line in inside]


def _rows(blocks: Sequence[Block], width: int, gap: int) -> list[Block]:
    """Blocks set one after the other, a new row where the next has no room."""
    rows: list[list[Block]] = []
    free = 0
    for block in blocks:
        if not rows or free < gap + _wide(block):
            rows.append([])
            free = width + gap
        rows[-1].append(block)
        free -= gap + _wide(block)
    return [_row(row, gap) for row in rows]


def _stacked(rows: Sequence[Block]) -> Block:
    """Rows below each other, an empty line between them where letters would touch."""
    lines: Block = []
    for row in filter(None, rows):
        if lines and any(character in "█▄" for text, _ in lines[-1] for character in text):
            lines.append([])
        lines += row
    return lines


def _row(blocks: Sequence[Block], gap: int) -> Block:
    """Blocks beside each other, their upper edges on one line."""
    lines: Block = []
    for y in range(max(map(len, blocks))):
        line: Line = []
        for i, block in enumerate(blocks):
            if i:
                line.append((" " * gap, "strong"))  # as its neighbours: one segment is painted faster than three
            line += block[y] if y < len(block) else [(" " * _wide(block), "strong")]
        lines.append(line)
    return lines


def _wide(block: Block) -> int:
    return max(map(cells, block), default=0)
