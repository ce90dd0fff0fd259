"""How much is said at a change of strands: all of it, a short sentence, or what the large letters do not say.

As a rule each kind of change is told in full once in a sitting, and in short from then on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Literal, get_args

from companion.knitting.hands import steps as do
from companion.knitting.hands.runs import RunSteps
from companion.knitting.value import Record

How = Literal["first", "full", "short", "mark"]

SAYINGS: Mapping[str, str] = MappingProxyType({
    "first": "the first of each kind in full, then in short", "full": "all of it", "short": "in short",
    "mark": "what the large letters do not say",
})  # fmt: skip
"""What each is called."""

WAYS: tuple[How, ...] = get_args(How)

Kind = tuple[str, ...]
"""What is done alike: the step's name, on which side, from where or with which half, to strands of one yarn."""

_SAID_LARGE = (do.Steady, do.Join, do.Hold, do.Cross)
"""Of these the large letters, the yarn's chip and the runs of the row say all that must be known."""


class Saying(Record):
    """``how`` much she wants to be told; ``known`` are the kinds that were told in this sitting. ``key``: the one
    that marks done what is told, as it stands in sentences. ``is_ready``: the hands hold a row's start ready for its
    first stitch, so that neither turn nor cast-on is told."""

    how: How = "full"
    known: frozenset[Kind] = frozenset()
    key: str = "space"
    is_ready: bool = False

    def register_of(self, step: do.Step) -> Literal["full", "short", ""]:
        """How a step is told."""
        match self.how:
            case "full":
                return "full"
            case "first":
                return "short" if kind_of(step) in self.known else "full"
            case "short":
                return "short"
            case "mark":
                return "" if isinstance(step, _SAID_LARGE) else "short"

    def after(self, run: RunSteps | None) -> Saying:
        """What is known once a run was told; the very same where nothing in it was new."""
        return self.knowing(kinds_of(run.into)) if run else self

    def knowing(self, kinds: frozenset[Kind]) -> Saying:
        """What is known once these were told; the very same where none is new."""
        return _knowing(self, kinds) if self.how == "first" and kinds - self.known else self


@lru_cache(maxsize=2)
def _knowing(saying: Saying, kinds: frozenset[Kind]) -> Saying:
    """The very same for the same things: what was told in foresight is found by it."""
    return saying._replace(known=saying.known | kinds)


UNPICKING = frozenset({("Unpick",)})
"""How it is done, which is told as a change is."""

IN_FULL = Saying()
"""Everything, always."""


def kinds_of(steps: Iterable[do.Step]) -> frozenset[Kind]:
    """The kinds of several steps."""
    return frozenset(map(kind_of, steps))


def kind_of(step: do.Step) -> Kind:
    """The kind of a step."""
    asked = (getattr(step, name, "") for name in ("side", "where", "half"))
    is_of_one_yarn = isinstance(step, do.Cross) and step.old == step.new
    return (type(step).__name__, *map(str, asked), *["of one yarn"] * is_of_one_yarn)
