"""What is large on the working screen: words and yarns as blocks of lines, set beside and below each other."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from functools import lru_cache

from companion.dialogue.acts import ActTold
from companion.dialogue.telling import Telling
from companion.knitting.cloth.fabric import Yarn
from companion.problems import plain, shorten
from companion.screens.figures import CLOSE, SMALL, Scale, can_draw, drawn
from companion.screens.flowing import Line, cells
from companion.screens.lines import inked

GAP = 2
"""Cells between what stands beside each other."""

BETWEEN = 4
"""The same between two acts."""

Block = list[Line]
"""Something large: lines of one width, but for a row of several, whose lines end where its blocks do."""


def act_blocks(telling: Telling, acts: Sequence[ActTold], scale: Scale, width: int, gap: int) -> list[Block]:
    """Blocks of acts that follow each other: the last of an act's words and the first of its yarns are one, where
    they have room, so that no yarn is taken for that of what follows."""
    blocks = list[Block]()
    for act, text in zip(acts, act_texts(acts), strict=True):
        *words, last = words_in([text], scale, width)
        chips = chips_of(act.yarns, [telling.marks_of(yarn)[-1] for yarn in act.yarns], scale)
        if chips and wide(last) + gap + wide(chips[0]) <= width:
            last = side_by_side([last, chips.pop(0)], gap)
        blocks += [*words, last, *chips]
    return blocks


def act_texts(acts: Sequence[ActTold]) -> list[str]:
    """What stands in letters of each; what no yarn keeps apart from the next has a comma."""
    texts = [f"{act.stitches or ''} {act.text}".strip() for act in acts]
    return [text if act.yarns or act is acts[-1] else f"{text}," for act, text in zip(acts, texts, strict=True)]


def words_in(texts: Sequence[str], scale: Scale, width: int) -> list[Block]:
    """Each text in one block, or word by word where no letters are small enough for that."""
    blocks, least = list[Block](), _least(scale)
    for text in filter(None, texts):
        blocks += [_word(one, scale, width) for one in ([text] if least.columns(text) <= width else text.split())]
    return blocks


def _least(scale: Scale) -> Scale:
    """The smallest letters in the drawings of these."""
    return CLOSE if scale.is_close else SMALL


@lru_cache(maxsize=1024)
def _word(text: str, scale: Scale, width: int) -> Block:
    """A text in letters of this size, in narrower ones or, last, in smaller ones where it would be too wide."""
    squares = (Scale(size, size, scale.is_close) for size in range(scale.down, 0, -1))
    sizes = (one for square in squares for one in (square, square.narrow) if one.across <= scale.across)
    fitting = next((one for one in sizes if one.columns(text) <= width), _least(scale))
    return [[(line, "strong")] for line in drawn(text, fitting)]


def chips_of(yarns: Sequence[Yarn], marks: Sequence[str], scale: Scale) -> list[Block]:
    """Each yarn in a block of its own, with its mark."""
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


def in_rows(blocks: Sequence[Block], width: int, gap: int, widest: int = 0) -> list[Block]:
    """Blocks set one after the other, a new row where the next has no room. ``widest``: the gaps of a row that has
    room for them."""
    rows: list[list[Block]] = []
    free = 0
    for block in blocks:
        if not rows or free < gap + wide(block):
            rows.append([])
            free = width + gap
        rows[-1].append(block)
        free -= gap + wide(block)
    return [side_by_side(row, max(gap, min(widest, _spare(row, width)))) for row in rows]


def _spare(blocks: Sequence[Block], width: int) -> int:
    """How wide the gaps between them can be."""
    return (width - sum(map(wide, blocks))) // max(1, len(blocks) - 1)


def stacked(rows: Sequence[Block]) -> Block:
    """Rows below each other, an empty line between them where letters would touch."""
    lines: Block = []
    for row in filter(None, rows):
        if lines and any(character in "█▄" for text, _ in lines[-1] for character in text):
            lines.append([])
        lines += row
    return lines


def side_by_side(blocks: Sequence[Block], gap: int) -> Block:
    """Blocks beside each other, their upper edges on one line."""
    lines: Block = []
    for y in range(max(map(len, blocks))):
        line: Line = []
        for i, block in enumerate(blocks):
            if i:
                line.append((" " * gap, "strong"))  # as its neighbours: one segment is painted faster than three
            line += block[y] if y < len(block) else [(" " * wide(block), "strong")]
        lines.append(line)
    return lines


def wide(block: Block) -> int:
    """How many cells its widest line takes."""
    return max(map(cells, block), default=0)


def as_many(rows: Sequence[Block], more: Sequence[Block], room: int) -> list[Line]:
    """These rows, and as many more as have room."""
    lines = stacked(rows)
    for row in more:
        longer = stacked([lines, row])
        if len(longer) > room:
            break
        lines = longer
    return lines
