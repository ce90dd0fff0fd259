"""What every part of the working screen wants at a session, and the arrangement that follows from it."""

from __future__ import annotations

from companion.dialogue.telling import Telling
from companion.screens.figures import PLAIN
from companion.screens.layout import HEAD, KEYS, Arrangement, Wants, arrange, main_width, scales
from companion.screens.now import change_lines
from companion.screens.row_end import end_lines
from companion.screens.row_panel import row_lines, strip_lines


def fitted(
    telling: Telling, width: int, height: int, *, is_row_mode: bool = False, notice: str = ""
) -> Arrangement:
    """How a screen of ``width`` by ``height`` cells is divided for what is told."""
    across = main_width(width, height)
    end = end_lines(telling, across, notice)
    if is_row_mode:
        room = height - HEAD - KEYS - max(end, 3)
        return arrange(width, height, Wants(row=row_lines(telling, across, room), end=end))
    change = change_lines(telling, across, scales(width, height))
    runs = strip_lines(telling, across)
    plan = arrange(width, height, Wants(change, runs, end=end))
    if plan.end < end or plan.scale == PLAIN:
        end = end_lines(telling, across, notice, is_short=True)
        plan = arrange(width, height, Wants(change, runs, end=end))
    if telling.act == "row end" and (plan.end < end or plan.scale == PLAIN):
        change = change_lines(telling, across, scales(width, height), is_short=True)
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
