"""The runs of a row in working order, done, now and to come told apart without colour: all of it readable at once,
each run with the change into it, or all runs in short."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.hands.runs import RunSteps, row_runs
from companion.knitting.latest import latest
from companion.progress.session import Session
from companion.screens.lines import Line, Lines, broken, cells, flowed, paragraphs, wrapped
from companion.screens.now import swatch, to_do_lines

INDENT = 6
"""Cells before a change that stands below its run."""


class RowPanel(Lines):
    """A line a run where they fit, else all runs flowing with their crosses in short. Where not even those fit, the
    lines around the run in work."""

    def draw(self, width: int, height: int) -> list[Line]:
        """The rule for every cross on top, the runs below it."""
        session = self.session
        if session is None:
            return []
        is_list = self.has_class("-list")
        if session.next_place is None and session.act is None:
            return [] if is_list else to_do_lines(session, width, self.terms)
        rule = [] if is_list else _rule(session, width, self.terms)
        room = height - len(rule)
        lines, at = _listed(session, width, self.terms)
        if len(lines) > room and not is_list:
            lines, at = _flowing(session, width, self.terms)
        start = max(0, min(at - 1, len(lines) - room))
        return [*rule, *lines[start:start + room]]


class RowStrip(Lines):
    """All runs in short, flowing over the lines there are; what is done gives way to the run in work."""

    def draw(self, width: int, height: int) -> list[Line]:
        """Runs from the first worked to the last; the lines shown hold the run in work."""
        if self.session is None:
            return []
        lines = _strip(self.session, width, self.terms)
        if len(lines) <= height:
            return lines
        at = len(flowed(_in_short(self.session, self.terms)[:self.session.at.segment + 1], width)) - 1
        start = max(0, min(at, len(lines) - height))
        return lines[start:start + height]


def strip_lines(session: Session, width: int, terms: words.Terms) -> int:
    """How many lines all runs of the row take in short."""
    return len(_strip(session, width, terms))


def row_lines(session: Session, width: int, room: int, terms: words.Terms) -> int:
    """How many lines the whole row takes: a line a run where there is room for that, else flowing."""
    if session.next_place is None:
        return len(to_do_lines(session, width, terms))
    rule = len(_rule(session, width, terms))
    listed = rule + len(_listed(session, width, terms)[0])
    return listed if listed <= room else rule + len(_flowing(session, width, terms)[0])


def _rule(session: Session, width: int, terms: words.Terms) -> list[Line]:
    """How every change of the row is made; nothing where there is none."""
    row = session.rows[session.at.row]
    return paragraphs([words.cross_rule(row.side, terms)] if len(row.segments) > 1 else [], width, "strong")


def _runs(session: Session, terms: words.Terms) -> Iterator[tuple[RunSteps, Yarn, str, bool | None]]:
    """Each run of the row with its yarn, its stitches in words, and whether it is done (None: it is in work)."""
    at = session.at
    runs = row_runs(session.strands, at.row, session.catching)
    for run, work in zip(runs, _works(runs, terms), strict=True):
        yield run, session.piece.yarn(run.segment.yarn), work, None if run.place == at else run.place < at


@latest
def _works(runs: tuple[RunSteps, ...], terms: words.Terms) -> tuple[str, ...]:
    return tuple(words.work_in_short(run, terms) for run in runs)


def _mark(is_done: bool | None, to_come: tuple[str, str]) -> tuple[str, str]:
    """What stands before a run, and the manner in which it is shown."""
    return ("▶", "now") if is_done is None else ("✓", "done") if is_done else to_come


def _listed(session: Session, width: int, terms: words.Terms) -> tuple[list[Line], int]:
    """A line or more for every run, and the line on which the run in work stands."""
    found: list[tuple[Line, str, str]] = []
    for run, yarn, work, is_done in _runs(session, terms):
        mark, manner = _mark(is_done, (" ", "strong"))
        line: Line = [(f"{mark} ", manner), (f" {yarn.symbol} ", swatch(yarn)), (f" {work} {yarn.name}", manner)]
        found.append((line, words.change_in_short(run, terms), "done" if manner == "done" else ""))
    indent = min(max(cells(line) for line, *_ in found) + 2, width // 3)
    each = [_beside(*one, indent, width) for one in found]
    return [line for lines in each for line in lines], sum(len(lines) for lines in each[:session.at.segment])


def _beside(work: Line, change: str, manner: str, indent: int, width: int) -> list[Line]:
    """A run with its change beside it, the change going on below itself where it is long; below the run where there
    is little room beside it."""
    start = max(indent, cells(work) + 2)
    if width - start < 12:
        below: list[Line] = [[(" " * INDENT, ""), (line, manner)] for line in wrapped(change, width - INDENT)]
        return [*broken(work, width), *below]
    told = wrapped(change, width - start) or ("",)
    first: Line = [*work, (" " * (start - cells(work)), ""), (told[0], manner)]
    more: list[Line] = [[(" " * start, ""), (line, manner)] for line in told[1:]]
    return [first, *more]


def _flowing(session: Session, width: int, terms: words.Terms) -> tuple[list[Line], int]:
    """All runs one after the other, both yarns of each cross named, and the line of the run in work."""
    groups: list[Line] = []
    for run, yarn, work, is_done in _runs(session, terms):
        (mark, manner), change = _mark(is_done, ("", "strong")), words.change_in_short(run, terms)
        lead = f"{mark}{change}{': ' if change else ' ' * bool(mark)}"
        groups.append([(lead, manner), (yarn.symbol, swatch(yarn)), (f" {work} {yarn.name}", manner)])
    return flowed(groups, width), len(flowed(groups[:session.at.segment], width))


@latest
def _in_short(session: Session, terms: words.Terms) -> list[Line]:
    """Runs as short marks: done "✓8 sand", now "▶8 sand◀", to come "8 sand", a new strand "+"; none in the end."""
    groups: list[Line] = []
    for run, yarn, work, is_done in _runs(session, terms) if session.next_place or session.act else ():
        mark, manner = _mark(is_done, (" ", ""))
        text = f" {'+' * run.is_joined}{work} {yarn.name}{'◀' * (is_done is None)}"
        groups.append([(mark, manner), (yarn.symbol, swatch(yarn)), (text, manner)])
    return groups


@latest
def _strip(session: Session, width: int, terms: words.Terms) -> list[Line]:
    return flowed(_in_short(session, terms), width)
