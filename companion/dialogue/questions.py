"""What a front end is asked for on the way: questions and their answers, something to read, a list, another view.

A deed that asks is a generator. It yields one of these, is sent the answer, and goes on from there; what an answer
does stands where it was asked for. A front end that cannot do what a view wants sends None all the same.
"""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from companion.knitting.howfar import HowFar
from companion.knitting.value import Record

if TYPE_CHECKING:
    from companion.dialogue.listing import Listing
    from companion.dialogue.marking import Marking
    from companion.dialogue.painting import Painting
    from companion.dialogue.pictured import Pictured
    from companion.dialogue.sitting import Sitting

T = TypeVar("T")


class Words(Record):
    """One line of words, answered with it, or with None where it is left. ``answer`` stands there already;
    ``is_number``: digits alone; ``is_row``: a row, before its number perhaps its part; ``offered``: words that are
    likely, each with what it means, put one after the other with ``joined_by`` between them; None: one takes the
    place of what stands there; ``colours``: colours by name, each with its "#rrggbb", shown as chips, one of which
    may take that place. ``goes_back``: it is one of several, and there is one before."""

    text: str
    answer: str = ""
    is_number: bool = False
    is_row: bool = False
    offered: tuple[tuple[str, str], ...] = ()
    joined_by: str | None = ", "
    colours: tuple[tuple[str, str], ...] = ()
    goes_back: bool = False


class PressKey(Record):
    """A key is to be pressed, whichever; answered with its name, or with None for one of those that leave a question.
    """

    text: tuple[str, ...]


class YesNo(Record):
    """A question that only yes says yes to, answered with whether it was; ``yes`` and ``no`` say what they do."""

    text: tuple[str, ...]
    yes: str
    no: str


class Choice(Record):
    """Which of some lines is meant, answered with its index, or with None where it is left. ``at``: the line that is
    meant before another is; ``goes_back``: it is one of several, and there is one before."""

    text: tuple[str, ...]
    lines: tuple[str, ...]
    at: int = 0
    goes_back: bool = False


class Reading(Record):
    """Something to read and put away again. ``is_file``: the lines are those of a file, as they stand in it."""

    title: str
    lines: Sequence[str]
    is_file: bool = False


class Lasting(Record):
    """Something that takes long. It is done while what it is called stands there, and a bar with how far it is, where
    that is told; the answer is what came of it."""

    what: str
    do: Callable[[HowFar], object]


class Leave(Record):
    """What is shown now is left, a question or a marking with this answer."""

    answer: object = None


class Before:
    """In place of an answer: the question before is to be asked again."""


BEFORE = Before()


class Kept(Record):
    """This answer, and at every question that comes after it what stands there."""

    answer: object


class Submit(Record):
    """What stands there is the answer; where it ``keeps_rest``, so is what stands at every question after it."""

    keeps_rest: bool = False


class Find(Record):
    """A deed of this place is to be found (``finding.Finding``), and done."""


class Page(Record):
    """A list goes so many pages on."""

    step: int


class Scroll(Record):
    """The chart moves so many stitches to the left and so many halves of what is seen of it up."""

    left: int
    up: int


class ToNeedles(Record):
    """The chart comes back to the needles."""


Request: TypeAlias = (
    "Words | PressKey | YesNo | Choice | Reading | Lasting | Pictured | Listing | Marking | Sitting | Painting"
    " | Leave | Submit | Find | Page | Scroll | ToNeedles"
)
"""A list and an opened piece are shown until they are left; a marking is answered with what is marked."""

Asking: TypeAlias = Generator[Request, Any, T]
"""Asks on the way and returns what came of it."""


def show(request: Request) -> Asking[None]:
    """This alone."""
    yield request
