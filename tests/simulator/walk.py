"""Many thousands of random plans, each knitted as its rows are printed and as its steps are listed: what was in them,
and every kind of fault with the smallest plan that shows it.

``python -m tests.simulator.walk 20000``
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable
from typing import NamedTuple

from hypothesis import HealthCheck, Phase, find, given, settings
from hypothesis.errors import NoSuchExample

from tests.knitting.meetings import with_meetings
from tests.simulator.looking import Fault, Refused, look
from tests.simulator.plans import Drawn, plans

FOR_SMALLEST = 3000
"""So many plans are tried on the way to the smallest one."""


class Walked(NamedTuple):
    """How many plans, what was in them, why some were refused, and faults by what they are of and their kind."""

    plans: int
    held: Counter[str]
    refused: Counter[str]
    faults: Counter[tuple[str, str]]


def walk(number: int) -> Walked:
    """So many plans, every second one with strands that meet wherever they can."""
    held, refused, faults = Counter[str](), Counter[str](), Counter[tuple[str, str]]()

    def one(drawn: Drawn) -> None:
        try:
            is_even = sum(held.values()) % 2 == 0
            looked = look(drawn, is_uk=is_even, changed=with_meetings if is_even else lambda same: same)
        except Refused as why:
            refused[str(why)] += 1
            return
        held.update(looked.held)
        held["plans"] += 1
        faults.update({(fault.of, fault.kind) for fault in looked.faults})

    _every(number)(given(plans())(one))()
    return Walked(number, held, refused, faults)


def smallest(of: str, kind: str) -> tuple[Drawn, Fault] | None:
    """The smallest plan with a fault of this kind, and the fault; None where it is not met again."""
    try:
        found = find(plans(), lambda drawn: bool(_of_kind(drawn, of, kind)), settings=_settings(FOR_SMALLEST))
    except NoSuchExample:
        return None
    return found, _of_kind(found, of, kind)[0]


def _of_kind(drawn: Drawn, of: str, kind: str) -> list[Fault]:
    try:
        return [fault for fault in look(drawn).faults if (fault.of, fault.kind) == (of, kind)]
    except Refused:
        return []


def _settings(number: int) -> settings:
    return settings(
        max_examples=number, deadline=None, database=None, derandomize=False,
        suppress_health_check=list(HealthCheck), phases=(Phase.generate, Phase.shrink),
    )  # fmt: skip


def _every(number: int) -> Callable[[Callable[[], None]], Callable[[], None]]:
    return _settings(number)


def main(number: int) -> None:
    """So many plans, and what came of them."""
    walked = walk(number)
    print(f"{walked.plans} plans, {walked.held.pop('plans')} of them worked:")
    for name, count in walked.held.most_common():
        print(f"  {count:>8} {name}")
    print("Refused:", "; ".join(f"{count} {why}" for why, count in walked.refused.most_common()) or "none")
    print("Plans with faults:" if walked.faults else "No fault.")
    for (of, kind), count in walked.faults.most_common():
        print(f"\n{count} {of}: {kind}")
        if found := smallest(of, kind):
            drawn, fault = found
            hands = "left hands" if drawn.is_mirrored else "right hands"
            print(f"{drawn.text}({hands}{', tails laid in' if drawn.is_trapping else ''})\n{fault.what}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
