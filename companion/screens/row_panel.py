"""The whole row, readable at once: every run in working order with the change into it."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.runs import RunSteps, row_runs
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
    told = [words.cross_rule(row.side, terms)] if len(row.segments) > 1 else []
    return paragraphs(told, width, "strong")


def _listed(session: Session, width: int, terms: words.Terms) -> tuple[list[Line], int]:
    """A line or more for every run, and the line on which the run in work stands."""
    place = session.at
    runs = row_runs(session.strands, place.row, session.catching)
    works = [_work(session, run, place, terms) for run in runs]
    indent = min(max(cells(work) for work in works) + 2, width // 3)
    lines: list[Line] = []
    at = 0
    for run, work in zip(runs, works, strict=True):
        if run.place == place:
            at = len(lines)
        lines += _beside(work, words.change_in_short(run, terms), indent, width, "done" if run.place < place else "")
    return lines, at


def _beside(work: Line, change: str, indent: int, width: int, manner: str) -> list[Line]:
    """A run with its change beside it, the change going on below itself where it is long; below the run where there
    is little room beside it."""
    start = max(indent, cells(work) + 2)
    if width - start < 12:
        below: list[Line] = [[(" " * INDENT, ""), (line, manner)] for line in wrapped(change, width - INDENT)]
        return [*broken(work, width), *below]
    told = wrapped(change, width - start) or [""]
    first: Line = [*work, (" " * (start - cells(work)), ""), (told[0], manner)]
    more: list[Line] = [[(" " * start, ""), (line, manner)] for line in told[1:]]
    return [first, *more]


def _work(session: Session, run: RunSteps, now: Place, terms: words.Terms) -> Line:
    """A run's stitches: whether done, now or to come, its yarn, knits and purls."""
    yarn = session.piece.yarn(run.segment.yarn)
    mark, manner = ("✓", "done") if run.place < now else ("▶", "now") if run.place == now else (" ", "strong")
    return [
        (f"{mark} ", manner),
        (f" {yarn.symbol} ", swatch(yarn)),
        (f" {words.work_in_short(run, terms)} {yarn.name}", manner),
    ]


def _flowing(session: Session, width: int, terms: words.Terms) -> tuple[list[Line], int]:
    """All runs one after the other, both yarns of each cross named, and the line of the run in work."""
    place = session.at
    groups = [_told(session, run, place, terms) for run in row_runs(session.strands, place.row, session.catching)]
    return flowed(groups, width), len(flowed(groups[:place.segment], width))


def _told(session: Session, run: RunSteps, now: Place, terms: words.Terms) -> Line:
    """One run for a flowing row."""
    yarn = session.piece.yarn(run.segment.yarn)
    mark, manner = ("✓", "done") if run.place < now else ("▶", "now") if run.place == now else ("", "strong")
    change = words.change_in_short(run, terms)
    return [
        (f"{mark}{change}{': ' if change else ' ' * bool(mark)}", manner),
        (yarn.symbol, swatch(yarn)),
        (f" {words.work_in_short(run, terms)} {yarn.name}", manner),
    ]
