"""How far a long computation is: whoever asks for it hands in what is to be told, and shows it or not."""

from __future__ import annotations

from collections.abc import Callable

HowFar = Callable[[float], object]
"""Is told now and then what part is done, from 0 to 1."""


def untold(part: float) -> None:
    """For whoever does not ask."""


def part_of(told: HowFar, first: float, last: float) -> HowFar:
    """What a computation that goes from ``first`` to ``last`` of a longer one tells."""
    return lambda part: told(first + part * (last - first))
