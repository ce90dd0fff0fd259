"""The acts of one press set in large letters: rows of blocks, each a word, a number or a yarn on a chip of its colour.

The main act has the largest letters; what is done before it stands above it, what comes after it below. Nothing that is
needed for the next act is drawn smaller than two and a half lines.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from itertools import product

from companion.dialogue.telling import ActTold, Telling
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.latest import latest
from companion.problems import plain, shorten
from companion.screens.figures import SMALL, Scale, can_draw, drawn
from companion.screens.layout import Sizes
from companion.screens.lines import Line, cells, inked

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
    lines = [*before, *main]
    for row in after:
        if len(lines) + len(row) > room:
            break
        lines += row
    return lines


def lines_alone(telling: Telling, width: int, room: int) -> list[Line]:
    """The row and the acts in the largest letters with which all of them have room."""
    lines: list[Line] = []
    for size in range(LARGEST, 0, -1):
        other = Scale(-(-size // 2), -(-size // 2))
        head = [_word(telling.row_in_large, other, width)] if telling.row_in_large else []
        before, main, after = _large(telling, Sizes(Scale(size, size), other, keeps_room=False), width)
        lines = [line for block in (*head, before, main, *after) for line in block]
        if len(lines) <= room:
            return lines
    return lines[:room]


@latest
def _large(telling: Telling, sizes: Sizes, width: int) -> tuple[Block, Block, list[Block]]:
    """What comes before the main act, that act, and row by row what comes after it."""
    acts = telling.acts
    at = next(i for i, act in enumerate(acts) if act.is_main)
    lead = [block for act in acts[:at] for block in _act(telling, act, act is acts[at - 1], sizes.other, width)]
    after = [block for act in acts[at + 1:] for block in _act(telling, act, act is acts[-1], sizes.other, width)]
    before = _rows(lead, width, BETWEEN) or ([[[]] * sizes.other.lines] if sizes.keeps_room and telling.run else [])
    side = [_word(telling.side_in_large, sizes.other, width)] if telling.side_in_large else []
    main = _main(telling, acts[at], side, sizes, width)
    above = _rows([*lead, *side], width, BETWEEN)
    if side and lead and len(above) == len(before):
        without = _main(telling, acts[at], [], sizes, width)
        if len(without) < len(main):
            before, main = above, without
    return [line for row in before for line in row], main, _rows(after, width, BETWEEN)


def _main(telling: Telling, act: ActTold, side: list[Block], sizes: Sizes, width: int) -> Block:
    """The count or the words in the largest letters; beside them, else below, how it is worked, its yarns, the side."""
    first = _word(str(act.stitches) if act.stitches else act.text, sizes.main, width)
    verb = [act.text] if act.stitches else []
    beside = width - _wide(first) - GAP
    ways = _ways(telling, act)
    for is_text_wanted, size, (marks, text) in product((True, False), range(sizes.main.across, 0, -1), ways):
        scale = Scale(size, size)
        shown = text if is_text_wanted else ()
        if len(first) < scale.lines + len(shown) or any(cells(line) > beside for line in shown):
            continue
        words = [_word(word, scale, beside) for word in verb]
        rows = _rows([*words, *_chips(act.yarns, marks, scale), *side], beside, GAP)
        lines = [line for row in rows for line in row] + list(shown)
        if len(lines) <= len(first) and all(cells(line) <= beside for line in lines):
            return _row([first, lines], GAP)
    words = [_word(word, sizes.other, width) for word in verb]
    ends = (_rows([*words, *_chips(act.yarns, marks, sizes.other), *side], width, GAP) for marks, _ in ways)
    return [*first, *(line for row in min(ends, key=len) for line in row)]


def _ways(telling: Telling, act: ActTold) -> list[tuple[Sequence[str], tuple[Line, ...]]]:
    """What may stand on the chips, to be preferred first, each with what is then told as text."""
    needle: tuple[Line, ...] = ([(telling.needle, "quiet")],) if telling.needle else ()
    marks = [telling.marks_of(yarn) for yarn in act.yarns]
    short: list[str] = [each[-1] for each in marks]
    if len(marks) != 1:
        return [(short, needle)]
    [yarn] = act.yarns
    name: Line = [(plain(yarn.name), "strong")]
    return [(marks[0][:1], needle), (short, (name, *needle)), (short, needle)]


def _act(telling: Telling, act: ActTold, is_last: bool, scale: Scale, width: int) -> Iterator[Block]:
    """An act before or after the main one, its yarns beside it."""
    text = f"{act.stitches} {act.text}" if act.stitches else act.text
    yield _word(text if is_last or act.yarns else f"{text},", scale, width)
    yield from _chips(act.yarns, [telling.marks_of(yarn)[-1] for yarn in act.yarns], scale)


def _word(text: str, scale: Scale, width: int) -> Block:
    """A text in letters of this size; narrower, then smaller ones where it would be too wide, on several lines in the
    smallest ones."""
    for size in range(scale.across, 0, -1):
        for one in (Scale(size, size), *([Scale(size // 2, size)] if size > 1 else [])):
            if one.columns(text) <= width:
                return [[(line, "strong")] for line in drawn(text, one)]
    *some, last = text.rpartition(" ")
    if not some[0]:
        return [[(shorten(plain(text), width), "strong")]]
    parts = [_word(some[0], SMALL, width), _word(last, SMALL, width)]
    across = max(map(_wide, parts))
    return [[*line, (" " * (across - cells(line)), "")] for part in parts for line in part]


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


def _row(blocks: Sequence[Block], gap: int) -> Block:
    """Blocks beside each other, their upper edges on one line."""
    lines: Block = []
    for y in range(max(map(len, blocks))):
        line: Line = []
        for i, block in enumerate(blocks):
            if i:
                line.append((" " * gap, ""))
            line += block[y] if y < len(block) else [(" " * _wide(block), "")]
        lines.append(line)
    return lines


def _wide(block: Block) -> int:
    return max(map(cells, block), default=0)
