"""What every part of the working screen wants at a session, and the arrangement that follows from it."""

from __future__ import annotations

from companion.knitting.words import Terms
from companion.progress.session import Session
from companion.screens.figures import PLAIN
from companion.screens.layout import HEAD, KEYS, Arrangement, Wants, arrange, main_width, scales
from companion.screens.now import change_lines
from companion.screens.row_end import end_lines
from companion.screens.row_panel import row_lines, strip_lines


def fitted(
    session: Session, width: int, height: int, terms: Terms, *, is_row_mode: bool = False, notice: str = ""
) -> Arrangement:
    """How a screen of ``width`` by ``height`` cells is divided for this session."""
    across = main_width(width, height)
    end = end_lines(session, across, terms, notice)
    if is_row_mode:
        room = height - HEAD - KEYS - max(end, 3)
        return arrange(width, height, Wants(row=row_lines(session, across, room, terms), end=end))
    change = change_lines(session, across, scales(width, height), terms)
    runs = strip_lines(session, across, terms)
    plan = arrange(width, height, Wants(change, runs, end=end))
    if plan.end < end or plan.scale == PLAIN:
        end = end_lines(session, across, terms, notice, is_short=True)
        plan = arrange(width, height, Wants(change, runs, end=end))
    if session.act is not None and (plan.end < end or plan.scale == PLAIN):
        change = change_lines(session, across, scales(width, height), terms, is_short=True)
        plan = arrange(width, height, Wants(change, runs, end=end))
    return plan


def heights(plan: Arrangement, *, is_row_mode: bool) -> dict[str | None, int]:
    """The lines of every part of the working screen."""
    return {
        "now": 0 if is_row_mode else plan.now,
        "whole": plan.row,
        "runs": plan.runs,
        "end": plan.end,
        "chart": plan.chart,
        "hanging": plan.strands,
    }
