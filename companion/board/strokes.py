"""What was done on the drawing board: what a stroke did, and as a change of the plan's text, which can be taken back,
and done again. Pure."""

from __future__ import annotations

import re
from itertools import takewhile

from companion.knitting.cloth.areas import Cell
from companion.knitting.value import Record
from companion.problems import Problem

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")


def lines_of(text: str) -> list[str]:
    """The lines of a text with their ends, which are those of YAML."""
    return _LINE.findall(text)


class Stroke(Record):
    """What a stroke did. ``cells``: the stitches that have another sign now, or another look; ``is_whole``: the piece
    has another outline now, so all is to be shown anew. ``left``: so many stitches that were asked for cannot be
    painted, and why the first of them cannot; None where there is none."""

    cells: frozenset[Cell]
    is_whole: bool = False
    left: int = 0
    why: Problem | None = None


class Change(Record):
    """Lines of a text, from the one at ``at`` (from 0) on, that were ``before`` and are ``after``, their ends among
    them."""

    at: int
    before: tuple[str, ...]
    after: tuple[str, ...]

    @property
    def back(self) -> Change:
        """What takes it back."""
        return Change(self.at, self.after, self.before)


def change(old: str, new: str) -> Change:
    """What makes one text of another."""
    before, after = lines_of(old), lines_of(new)
    first = len(list(takewhile(lambda pair: pair[0] == pair[1], zip(before, after, strict=False))))
    room = min(len(before), len(after)) - first
    ends = zip(before[::-1][:room], after[::-1][:room], strict=True)
    last = len(list(takewhile(lambda pair: pair[0] == pair[1], ends)))
    return Change(first, tuple(before[first:len(before) - last]), tuple(after[first:len(after) - last]))


def changed(text: str, one: Change) -> str | None:
    """The text with a change; None where it does not say there what the change begins with."""
    lines = lines_of(text)
    here = slice(one.at, one.at + len(one.before))
    if tuple(lines[here]) != one.before or one.at > len(lines):
        return None
    lines[here] = one.after
    return "".join(lines)
