"""What every part of the working screen wants at a session, and the arrangement that follows from it."""

from __future__ import annotations

from functools import lru_cache
from itertools import product

from companion.dialogue.telling import Telling
from companion.screens.large import large_lines
from companion.screens.layout import (
    HEAD,
    KEYS,
    Arrangement,
    Sizes,
    Wants,
    arrange,
    arrange_below,
    main_width,
    sizes,
    with_more_at_end,
)
from companion.screens.now import sentence_lines
from companion.screens.row_end import end_lines
from companion.screens.row_panel import row_lines, strip_lines


@lru_cache(maxsize=1)
def fitted(
    telling: Telling, width: int, height: int, *, is_row_mode: bool = False, notice: str = "",
    pace: tuple[str, ...] = (), is_asked: bool = False,
) -> Arrangement:
    """How a screen of ``width`` by ``height`` cells is divided for what is told: in few words where that leaves more
    room for the letters, and on coming back, where a ``notice`` takes it, for chart and strands. ``is_asked``: a
    question stands below it. The last is kept: as a rule the one that was foreseen."""
    across = main_width(width, height)
    end = end_lines(telling, across, notice)
    if is_row_mode:
        room = height - HEAD - KEYS - max(end, 3)
        plan = arrange(width, height, Wants(row=row_lines(telling, across, room), end=end))
        return with_more_at_end(plan, end_lines(telling, across, notice, pace))
    ways = sizes(width, height)
    runs = strip_lines(telling, across)

    def now(way: Sizes) -> int:
        return len(large_lines(telling, way, across))

    whole = list[tuple[Arrangement, bool]]()
    for is_end_short, is_short in product((False, True), repeat=2):
        end = end_lines(telling, across, notice, is_short=is_end_short)
        change = len(sentence_lines(telling, across, is_short=is_short))
        found = arrange(width, height, Wants(now, change, runs, end=end))
        if found.sizes in ways[:max(1, len(ways) - 2)] and found.change >= change and found.end >= end:
            whole.append((found, is_end_short))
            if found.strands or not notice:
                break
    found, is_end_short = max(whole or [(found, True)], key=lambda one: (one[0].chart > 0, one[0].strands > 0))
    if is_asked and not found.chart:
        return arrange_below(width, height, Wants(now, change, end=end))
    return with_more_at_end(found, end_lines(telling, across, notice, pace, is_short=is_end_short))


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
