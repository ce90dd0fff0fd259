"""The runs of a row in working order, done, now and to come told apart without colour: all of it readable at once,
each run with the change into it, or all runs in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.dialogue.telling import Telling
from companion.knitting.latest import latest
from companion.screens.flowing import Line, broken, cells, flowed, paragraphs, wrapped
from companion.screens.lines import Lines
from companion.screens.now import swatch

INDENT = 6
"""Cells before a change that stands below its run."""


class RowPanel(Lines):
    """The row in the fullest way that fits. Where none does, and as a list beside the acts, the lines around the run
    in work."""

    def draw(self, width: int, height: int) -> list[Line]:
        """The rule for every cross on top, the runs below it."""
        telling = self.telling
        if telling is None or telling.act in ("finishing", "finished"):
            return []
        is_list = self.has_class("-list")
        rule, lines, at = ([], *_listed(telling, width)) if is_list else _fitting(telling, width, height)
        room = height - len(rule)
        start = max(0, min(at - (room > 1), len(lines) - room))
        self.act_line = None if is_list else len(rule) + at - start
        return [*rule, *lines[start:start + room]]


class RowStrip(Lines):
    """All runs in short, flowing over the lines there are; what is done gives way to the run in work."""

    def draw(self, width: int, height: int) -> list[Line]:
        """Runs from the first worked to the last; the lines shown hold the run in work."""
        telling = self.telling
        if telling is None:
            return []
        lines = _strip(telling, width)
        if len(lines) <= height:
            return lines
        start = max(0, min(_line_in_strip(telling, width), len(lines) - height))
        return lines[start:start + height]


def strip_lines(telling: Telling, width: int) -> int:
    """How many lines all runs of the row take in short."""
    return len(_strip(telling, width))


def row_lines(telling: Telling, width: int) -> Iterator[int]:
    """How many lines the whole row takes in each way, the fullest first; at last the rule and the run in work."""
    for rule, lines, _ in _ways(telling, width):
        yield len(rule) + len(lines)
    yield len(rule) + 1


Way = tuple[list[Line], list[Line], int]


def _fitting(telling: Telling, width: int, height: int) -> Way:
    """The fullest way that has room, or the shortest."""
    for way in _ways(telling, width):
        if len(way[0]) + len(way[1]) <= height:
            break
    return way


def _ways(telling: Telling, width: int) -> Iterator[Way]:
    """The rule, the runs below it, and on which of their lines the run in work stands: a line a run; all runs
    flowing; the rule in short; runs without the crosses, which it tells of; runs as short marks."""
    rule = paragraphs([telling.rule], width, "strong")
    yield rule, *_listed(telling, width)
    yield rule, *_flowing(telling, width, telling.changes)
    rule = paragraphs([telling.rule_in_short], width, "strong")
    yield rule, *_flowing(telling, width, telling.changes)
    yield rule, *_flowing(telling, width, telling.changes_below_rule)
    yield rule, _strip(telling, width), _line_in_strip(telling, width)


def _mark(is_done: bool | None, to_come: tuple[str, str]) -> tuple[str, str]:
    """What stands before a run, and the manner in which it is shown."""
    return ("▶", "now") if is_done is None else ("✓", "done") if is_done else to_come


@latest
def _listed(telling: Telling, width: int) -> tuple[list[Line], int]:
    """A line or more for every run, and the line on which the run in work stands."""
    found: list[tuple[Line, str, str]] = []
    for (_, yarn, work, is_done), change in zip(telling.runs, telling.changes, strict=True):
        mark, manner = _mark(is_done, (" ", "strong"))
        line: Line = [(f"{mark} ", manner), (f" {yarn.symbol} ", swatch(yarn)), (f" {work} {yarn.name}", manner)]
        found.append((line, change, "done" if manner == "done" else ""))
    short = [cells(line) for line, *_ in found if cells(line) <= width * 2 // 5]  # longer ones stand out alone
    indent = max(short, default=0) + 2
    each = [_beside(*one, indent, width) for one in found]
    at = telling.session.at.segment
    return [line for lines in each for line in lines], sum(len(lines) for lines in each[:at])


def _beside(work: Line, change: str, manner: str, indent: int, width: int) -> list[Line]:
    """A run with its change beside it, the change going on below itself where it is long; below the run where there
    is little room beside it."""
    start = max(indent, cells(work) + 2)
    if width - start < 12:
        below: list[Line] = [[(" " * INDENT, ""), (line, manner)] for line in wrapped(change, width - INDENT)]
        return [*broken(work, width), *below]
    beside = wrapped(change, width - start) or ("",)
    first: Line = [*work, (" " * (start - cells(work)), ""), (beside[0], manner)]
    more: list[Line] = [[(" " * start, ""), (line, manner)] for line in beside[1:]]
    return [first, *more]


@latest
def _flowing(telling: Telling, width: int, changes: Sequence[str]) -> tuple[list[Line], int]:
    """All runs one after the other, each after the change into it, and the line of the run in work."""
    groups: list[Line] = []
    for (_, yarn, work, is_done), change in zip(telling.runs, changes, strict=True):
        mark, manner = _mark(is_done, ("", "strong"))
        lead = f"{mark}{change}{': ' if change else ' ' * bool(mark)}"
        groups.append([(lead, manner), (yarn.symbol, swatch(yarn)), (f" {work} {yarn.name}", manner)])
    return flowed(groups, width), len(flowed(groups[:telling.session.at.segment], width))


@latest
def _in_short(telling: Telling) -> list[Line]:
    """Runs as short marks: done "✓8 sand", now "▶8 sand◀", to come "8 sand", a new strand "new 8 sand"; none in the
    end."""
    groups: list[Line] = []
    for run, yarn, work, is_done in telling.runs if telling.act in ("run", "row end") else ():
        mark, manner = _mark(is_done, (" ", ""))
        text = f" {'new ' * run.is_joined}{work} {yarn.name}{'◀' * (is_done is None)}"
        groups.append([(mark, manner), (yarn.symbol, swatch(yarn)), (text, manner)])
    return groups


@latest
def _strip(telling: Telling, width: int) -> list[Line]:
    return flowed(_in_short(telling), width)


def _line_in_strip(telling: Telling, width: int) -> int:
    """On which of them the run in work stands."""
    return len(flowed(_in_short(telling)[:telling.session.at.segment + 1], width)) - 1
