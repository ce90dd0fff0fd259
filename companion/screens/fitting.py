"""What every part of the working screen wants at a session, and the arrangement that follows from it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import product

from companion.dialogue.telling import Telling
from companion.screens.figures import CLOSE, SMALL, Scale
from companion.screens.large import large_lines
from companion.screens.large_row import MANY, is_too_wide, row_in_letters, row_letters_lines
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
from companion.screens.now import sentence_lines
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


def _row_fitted(telling: Telling, width: int, height: int, notice: str, *, is_asked: bool) -> Arrangement:
    """The same in row mode, by what is best of all that has room; where nothing has, the first of the acts beside the
    fullest text that leaves room for them, or the text alone."""
    across, is_wide = main_width(width, height), is_wide_screen(width, height)
    free = height - HEAD - KEYS - (LEAST_CHART if is_asked and not is_wide else 0)
    least = LEAST_END if is_wide else 1
    texts = [*row_lines(telling, across)]
    ends = [max(least, end_lines(telling, across, notice, is_short=is_short)) for is_short in (False, True)]
    fewest = max(least, fewest_end_lines(telling, across, notice))
    for letters, now, row, end, spare in _row_choices(telling, row_scales(width, height), across, texts, ends, fewest):
        if now + row + end + (0 if is_wide else spare) <= free:
            return arrange_row(width, height, letters, now, row, end)
    *texts, _ = texts
    for row, end in product(texts[1:], (*ends, fewest)):
        if now := len(row_in_letters(telling, CLOSE, across, free - row - end)):
            return arrange_row(width, height, CLOSE, now, row, end)
    least_row = max(1, min(texts[-1], free - fewest))
    row, end = next(((row, end) for row in texts for end in ends if row + end <= free), (least_row, fewest))
    return arrange_row(width, height, CLOSE, 0, row, end)


def _row_choices(
    telling: Telling, scales: Sequence[Scale], across: int, texts: Sequence[int], ends: Sequence[int], fewest: int
) -> Iterator[tuple[Scale, int, int, int, int]]:
    """The size of the letters, the lines they take, those of the row as text and of what is said at its end, and how
    many more are to be left for a chart, what is best first: neither a line a run nor letters larger than need be are
    worth the chart or many words. Since the letters tell of every run, the text may at last be the one in work alone,
    or none; and before letters do not tell of all, they stand close."""
    for scale in scales:
        if scale == SMALL or not is_too_wide(telling, scale, across):
            now = row_letters_lines(telling, scale, across)
            yield from ((scale, now, row, end, LEAST_CHART) for row, end in product(texts[:3], ends))
    *_, in_work = texts
    whole = [(scale, row_letters_lines(telling, scale, across)) for scale in (SMALL, CLOSE)]
    for scale, now in whole:
        yield from ((scale, now, row, end, 0) for row, end in product(texts[1:], ends))
    for row in (in_work, 0):
        yield from ((scale, now, row, fewest, 0) for scale, now in whole)
    for part in MANY[1:]:
        some = [(scale, row_letters_lines(telling, scale, across, part)) for scale in (SMALL, CLOSE)]
        for row, end in (*product(texts[1:], ends), (in_work, fewest)):
            yield from ((scale, now, row, end, 0) for scale, now in some)


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
