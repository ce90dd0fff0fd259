"""The last answer of a function, kept for whoever asks it again and again while one row is worked."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar, TypeVarTuple

R = TypeVar("R")
Ts = TypeVarTuple("Ts")


def latest(work_out: Callable[[*Ts], R]) -> Callable[[*Ts], R]:
    """The same function, which works its answer out anew only when it is asked about other things than last time. The
    very same, not equal ones: strands and fabrics are too large to be compared."""
    kept: tuple[tuple[object, ...], R] | None = None

    @wraps(work_out)
    def answer(*asked: *Ts) -> R:
        nonlocal kept
        things: tuple[object, ...] = asked
        if kept is None or any(one is not other for one, other in zip(kept[0], things, strict=True)):
            kept = things, work_out(*asked)
        return kept[1]

    return answer
