"""Texts and bits of them set out in lines of so many cells."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from rich.cells import cell_len
from rich.style import Style

from companion.problems import plain

Bit = tuple[str, str | Style]
"""A text and how it is shown: the name of a manner ("strong", "quiet", "now", "done", "alert", "") or a style."""

Line = list[Bit]


def cells(line: Line) -> int:
    """How many cells a line takes as it is shown."""
    return sum(_cells(text) for text, _ in line)


@lru_cache(maxsize=4096)
def _cells(text: str) -> int:
    return cell_len(plain(text))


@lru_cache(maxsize=256)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The text as it is shown, in lines of at most ``width`` cells, broken at spaces; a longer word is broken where
    it must be. Kept, since the same text is measured, drawn, and drawn again at the next step."""
    lines: list[str] = []
    line = ""
    for word in plain(text).split():
        while cell_len(word) > width:
            head = word[:max(1, width // 2 if cell_len(word[:width]) > width else width)]
            lines += [line, head] if line else [head]
            word, line = word[len(head):], ""
        joined = f"{line} {word}" if line else word
        if cell_len(joined) > width:
            lines.append(line)
            line = word
        else:
            line = joined
    return (*lines, line) if line else tuple(lines)


def broken(line: Line, width: int) -> list[Line]:
    """One line as several of at most ``width`` cells, broken at spaces or, where a word is too long, inside it."""
    lines: list[Line] = [[]]
    for text, manner in line:
        for word in re.findall(r" *[^ ]+ *$| *[^ ]+|^ +$", plain(text)):
            if cells(lines[-1]) + cell_len(word.rstrip()) > width and lines[-1]:
                last, style = lines[-1][-1]
                lines[-1][-1] = (last.rstrip(), style)
                lines.append([])
                word = word.lstrip()
            *whole, rest = wrapped(word, width) if cell_len(word.rstrip()) > width else (word,)
            for part in whole:
                lines[-1].append((part, manner))
                lines.append([])
            lines[-1].append((rest, manner))
    return [line for line in lines if line]


def flowed(bits: Sequence[Line], width: int, gap: str = "  ") -> list[Line]:
    """Groups of bits set one after the other, a new line where the next group does not fit; a group longer than a
    line is broken."""
    lines: list[Line] = []
    for group in bits:
        if lines and cells(lines[-1]) + cell_len(gap) + cells(group) <= width:
            lines[-1] += [(gap, ""), *group]
        else:
            lines += [list(group)] if cells(group) <= width else broken(group, width)
    return lines


def paragraphs(texts: Iterable[str], width: int, manner: str = "") -> list[Line]:
    """Texts as wrapped lines, empty texts left out."""
    return [[(line, manner)] for text in texts if text for line in wrapped(text, width)]


def sentences(text: str) -> list[str]:
    """The sentences of a text."""
    return re.split(r"(?<=[.?!]) (?=[A-Z\"(])", text)


def whole_sentences(text: str, height: int, width: int, manner: str = "", more: str = "...") -> list[Line]:
    """As many of a text's sentences, from the first on, as have room, the first one cut off where not even that has;
    ``more`` after them where they are not all."""
    every = sentences(text)
    for number in range(len(every), 0, -1):
        said = [*every[:number], *[more] * (number < len(every))]
        if len(lines := paragraphs([" ".join(said)], width, manner)) <= height:
            return lines
    return _ended(paragraphs(every[:1], width, manner)[:max(0, height)], width, more)


def cut_off(lines: list[Line], height: int, width: int) -> list[Line]:
    """The first lines, three dots after their last whole word where there are more."""
    return lines if len(lines) <= height else _ended(lines[:max(0, height)], width, "...")


def _ended(lines: list[Line], width: int, more: str) -> list[Line]:
    """Lines with ``more`` after the last word beside which it has room."""
    if not lines:
        return []
    *kept, last = lines
    text, room = "".join(bit for bit, _ in last), width - cell_len(more) - 1
    short = text if cell_len(text) <= room else (wrapped(text, max(1, room)) or ("",))[0]
    return [*kept, [(f"{short} {more}", last[-1][1] if last else "")]]
