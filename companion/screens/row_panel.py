"""The whole row, readable at once: every run in working order with the change into it."""

from __future__ import annotations

from rich.cells import cell_len
from textual.reactive import reactive

from companion.knitting import words
from companion.knitting.rows import Place
from companion.knitting.steps import RunSteps, row_runs
from companion.progress.session import Session
from companion.screens.lines import Line, Lines, flowed, paragraphs
from companion.screens.now import after_the_last_row, swatch


def row_lines(session: Session, width: int, terms: words.Terms) -> int:
    """How many lines the whole row takes, a line a run."""
    place = session.next_place
    if place is None:
        return 4
    rule = paragraphs([words.cross_rule(session.rows[place.row].side, terms)], width)
    return len(rule) + len(session.rows[place.row].segments)


class RowPanel(Lines):
    """A line a run where they fit, else all runs flowing with their crosses in short."""

    terms: reactive[words.Terms] = reactive(words.US, repaint=False)

    def draw(self, width: int, height: int) -> list[Line]:
        """The rule for every cross on top, the runs below it."""
        session = self.session
        if session is None:
            return []
        place = session.next_place
        if place is None:
            return paragraphs(after_the_last_row(session, self.terms), width, "strong")
        row = session.rows[place.row]
        rule = paragraphs([words.cross_rule(row.side, self.terms)], width, "strong") if len(row.segments) > 1 else []
        runs = row_runs(session.strands, place.row)
        listed = [self._listed(session, run, place, width) for run in runs]
        told = [self._told(session, run, place) for run in runs]
        for lines in (listed, flowed(told, width, "  "), flowed([line[1:] for line in told], width, " ")):
            if len(rule) + len(lines) <= height:
                return [*rule, *lines]
        at = place.segment * len(lines) // max(len(runs), 1)
        start = max(0, min(at, len(lines) - (height - len(rule))))
        return [*rule, *lines[start:start + height - len(rule)]]

    def _listed(self, session: Session, run: RunSteps, now: Place, width: int) -> Line:
        """One run on a line of its own: count and stitches first, then the change into it."""
        line = self._work(session, run, now)
        change = words.cross_in_short(run, self.terms)
        used = sum(cell_len(text) for text, _ in line)
        gap = " " * max(2, min(34, width // 3) - used)
        return [*line, (gap, ""), (change, "done" if run.place < now else "")]

    def _work(self, session: Session, run: RunSteps, now: Place) -> Line:
        yarn = session.piece.yarn(run.segment.yarn)
        mark, manner = ("✓", "done") if run.place < now else ("▶", "now") if run.place == now else (" ", "strong")
        return [
            (f"{mark} ", manner),
            (f" {yarn.symbol} ", swatch(yarn)),
            (f" {words.in_full(run.work.hands)} {yarn.name}", manner),
        ]

    def _told(self, session: Session, run: RunSteps, now: Place) -> Line:
        """One run for a flowing row: both yarns of its cross, then the stitches."""
        yarn = session.piece.yarn(run.segment.yarn)
        manner = "done" if run.place < now else "now" if run.place == now else "strong"
        cross = ""
        if run.place.segment:
            old = session.rows.segment(Place(run.place.row, run.place.segment - 1)).yarn
            cross = f"× {old} over {yarn.name}: "
        join = "new " if run.start == "join" else ""
        return [
            (cross, manner),
            (yarn.symbol, swatch(yarn)),
            (f" {words.in_short(run.work.hands)} {join}{yarn.name}", manner),
        ]
