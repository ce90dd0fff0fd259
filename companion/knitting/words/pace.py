"""What is said of how long the rest takes: about, and in round figures, as a person would say it."""

from __future__ import annotations


def pace_told(
    row: float, piece: float, stitches_an_hour: float, is_next: bool, is_last: bool, is_round: bool
) -> tuple[str, str]:
    """How long it takes to the end of a row and of the piece, in seconds, and how fast that is: "About 6 min to the
    end of this row, about 9 h left, 1200 stitches an hour."; and the same without how fast. ``is_next``: that row is
    not begun; ``is_last``: there is none after it."""
    to_end = row_time(row, is_next=is_next, is_last=is_last, is_round=is_round)
    times = to_end if is_last else f"{to_end[:-1]}, {about_time(piece)} left."
    return f"{times[:-1]}, {speed(stitches_an_hour)}.", times


def row_time(seconds: float, *, is_next: bool, is_last: bool, is_round: bool) -> str:
    """How long a row takes: "About 6 min to the end of this row.", "About 8 min for the next row."."""
    name = "round" if is_round else "row"
    if not is_next:
        return f"About {time_in_round(seconds)} to the end of this {name}."
    return f"About {time_in_round(seconds)} for the {'last' if is_last else 'next'} {name}."


def about_time(seconds: float) -> str:
    """How long something takes, in a list: "about 9 h"."""
    return f"about {time_in_round(seconds)}"


_STEPS = ((10, 1), (60, 5), (3 * 60, 10), (5 * 60, 30), (20 * 60, 60), (100 * 60, 5 * 60))
"""Below so many minutes a time is told to so many."""

_LONGEST = 10 * 60
"""Beyond them, to so many."""


def time_in_round(seconds: float) -> str:
    """A time as one would say it: "1 min", "25 min", "1 h 20", "9 h", "120 h"."""
    told = (_to(seconds / 60, step) for below, step in _STEPS if _to(seconds / 60, step) < below)
    minutes = max(1, next(told, _to(seconds / 60, _LONGEST)))
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {rest}" if rest else f"{hours} h"


def speed(stitches_an_hour: float) -> str:
    """How many stitches an hour, in round figures: "340 stitches an hour", "1200 stitches an hour"."""
    step = 10 if stitches_an_hour < 500 else 50 if stitches_an_hour < 1000 else 100
    return f"{max(10, _to(stitches_an_hour, step))} stitches an hour"


def _to(value: float, step: int) -> int:
    """The nearest multiple of a step."""
    return int(value / step + 0.5) * step
