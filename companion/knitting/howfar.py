"""How far a long computation is: whoever asks for it hands in what is to be told, and shows it or not. And that it
would be too long."""

from __future__ import annotations

from collections.abc import Callable

HowFar = Callable[[float], object]
"""Is told now and then what part is done, from 0 to 1."""


def untold(part: float) -> None:
    """For whoever does not ask."""


def part_of(told: HowFar, first: float, last: float) -> HowFar:
    """What a computation that goes from ``first`` to ``last`` of a longer one tells."""
    return lambda part: told(first + part * (last - first))


class TooMuchToWeigh(Exception):
    """It cannot be done in half a minute and a few hundred megabytes: a piece's strands could go on in too many ways,
    or what the message says, one sentence for the knitter."""

    def __init__(
        self,
        message: str = "Under these limits there are too many ways for the strands of this piece to go on: "
        "lower rest first, then behind and reach.",
    ) -> None:
        super().__init__(message)
