"""Every run of the row in working order: done, now and to come, told apart without colour."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.runs import RunSteps, row_runs
from companion.progress.session import Session
from companion.screens.lines import Line, Lines, flowed
from companion.screens.now import swatch


class RowStrip(Lines):
    """The row's runs, flowing over the lines there are; what is done gives way to the run in work."""

    def draw(self, width: int, height: int) -> list[Line]:
        """Runs from the first worked to the last; the lines shown hold the run in work."""
        if self.session is None or (self.session.next_place is None and self.session.act is None):
            return []
        now = self.session.at
        groups = _marks(self.session, now, self.terms)
        lines = flowed(groups, width)
        if len(lines) <= height:
            return lines
        at = len(flowed(groups[:now.segment + 1], width)) - 1
        start = max(0, min(at, len(lines) - height))
        return lines[start:start + height]


def strip_lines(session: Session, width: int, terms: words.Terms) -> int:
    """How many lines all runs of the row take."""
    if session.next_place is None and session.act is None:
        return 0
    return len(flowed(_marks(session, session.at, terms), width))


def _marks(session: Session, now: Place, terms: words.Terms) -> list[Line]:
    runs = row_runs(session.strands, now.row, session.catching)
    return [run_mark(session, run, now, terms) for run in runs]


def run_mark(session: Session, run: RunSteps, now: Place, terms: words.Terms) -> Line:
    """One run as a short mark: done "✓8 sand", now "▶8 sand◀", to come "8 sand", a new strand "+"."""
    yarn = session.piece.yarn(run.segment.yarn)
    join = "+" if run.is_joined else ""
    text = f"{join}{words.work_in_short(run, terms)} {yarn.name}"
    symbol = (yarn.symbol, swatch(yarn))
    if run.place < now:
        return [("✓", "done"), symbol, (f" {text}", "done")]
    if run.place == now:
        return [("▶", "now"), symbol, (f" {text}◀", "now")]
    return [(" ", ""), symbol, (f" {text}", "")]
