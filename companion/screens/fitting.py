"""What every part of the working screen wants at a session, and the arrangement that follows from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from companion.dialogue.telling import Telling
from companion.screens.figures import CLOSE, SMALL, Scale
from companion.screens.large import large_lines
from companion.screens.large_row import EVERY_RUN, FIRST_RUN, is_too_wide, row_in_letters, row_letters_lines
from companion.screens.layout import (
    HEAD,
    KEYS,
    LEAST_CHART,
    LEAST_END,
    Arrangement,
    Sizes,
    Wants,
    arrange,
    arrange_below,
    arrange_row,
    is_wide_screen,
    main_width,
    row_scales,
    sizes,
    with_more_at_end,
)
from companion.screens.now import fewest_lines, sentence_lines
from companion.screens.row_end import end_lines, fewest_end_lines
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
    if is_row_mode:
        plan = _row_fitted(telling, width, height, notice, is_asked=is_asked)
        return with_more_at_end(plan, end_lines(telling, across, notice, pace))
    ways, free = sizes(width, height), height - HEAD - KEYS
    runs, most = strip_lines(telling, across), free - min(1, end_lines(telling, across, notice, is_short=True))

    def now(way: Sizes) -> int:
        lines = large_lines(telling, way, across)
        if len(lines) > most and way == ways[-1]:  # what has no room is told in words, and they need some
            lines = large_lines(telling, way, across, free - 1 - fewest_lines(telling, across))
        return len(lines)

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


def _row_fitted(telling: Telling, width: int, height: int, notice: str, *, is_asked: bool) -> Arrangement:
    """The same in row mode: what is best of all that has room."""
    across, is_wide = main_width(width, height), is_wide_screen(width, height)
    free = height - HEAD - KEYS - (LEAST_CHART if is_asked and not is_wide else 0)
    least = LEAST_END if is_wide else 1
    texts = [*row_lines(telling, across)]
    ends = [max(least, end_lines(telling, across, notice, is_short=is_short)) for is_short in (False, True)]
    fewest = max(least, fewest_end_lines(telling, across, notice))
    choices = _row_choices(telling, row_scales(width, height), across, texts, ends, fewest)
    for letters, now, row, end, spare in choices:
        if now + row + end + (0 if is_wide else spare) <= free:
            now = len(row_in_letters(telling, letters, across, free - row - end))
            return arrange_row(width, height, letters, now, row, end)
    return arrange_row(width, height, CLOSE, 0, max(1, free - fewest), fewest)


def _row_choices(
    telling: Telling, scales: Sequence[Scale], across: int, texts: Sequence[int], ends: Sequence[int], fewest: int
) -> Iterator[tuple[Scale, int, int, int, int]]:
    """The size of the letters, the lines they take, those of the row as text and of what is said at its end, and how
    many more are to be left for a chart, what is best first: neither a line a run nor letters larger than need be are
    worth the chart or many words. Letters stand close before they leave anything of the row to words. Where they tell
    of every run, the text may be the one in work alone, or none as long as they tell where strands hang; where they
    have no room for that, the text tells it, and they the first run. Last comes the text alone."""
    for scale in scales:
        if scale == SMALL or not is_too_wide(telling, scale, across):
            now = row_letters_lines(telling, scale, across)
            yield from ((scale, now, row, end, LEAST_CHART) for end, row in product(ends, texts[:3]))
    said = [*product(ends, texts[1:])]
    now = row_letters_lines(telling, SMALL, across)
    yield from ((SMALL, now, row, end, 0) for end, row in said)
    said.append((fewest, texts[-1]))
    for part in EVERY_RUN:
        now = row_letters_lines(telling, CLOSE, across, part)
        yield from ((CLOSE, now, row, end, 0) for end, row in said)
        if part != "needed":
            yield CLOSE, now, 0, fewest, 0
    *_, strip, _ = texts
    for rows, first in product((texts[1:-2], [strip]), (*FIRST_RUN, None)):
        now = row_letters_lines(telling, CLOSE, across, first) if first else 0
        yield from ((CLOSE, now, row, end, 0) for end, row in product(ends, rows))


def heights(plan: Arrangement) -> dict[str | None, int]:
    """The lines of every part of the working screen."""
    return {
        "now": plan.now,
        "whole": plan.row,
        "runs": plan.runs,
        "end": plan.end,
        "chart": plan.chart,
        "hanging": plan.strands,
    }
