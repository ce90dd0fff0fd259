"""What is asked before a picture is drafted, among the questions for a plan and on the command line, each with the
answer that stands there."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from companion.dialogue.new import answers
from companion.dialogue.new.steps import Step
from companion.dialogue.questions import Words
from companion.knitting.value import Record
from companion.plan.amount import whole

EXTRA = 'To draft from pictures install numpy and Pillow: pip install "rowside[draft]"'


class Question(Record):
    """``usual``: the answer that is taken if none is typed; ``meant`` raises ``AmissError``."""

    text: str
    usual: str
    meant: Callable[[str], Any]

    @property
    def step(self) -> Step:
        """It as one of several."""
        return Step(Words(f"{self.text}:", self.usual), answers.stripped(self.meant))


def _number_or_word(least: int, most: int) -> Callable[[str], int | str]:
    number = whole(least, most)

    def meant(typed: str) -> int | str:
        word = typed.strip()
        return number(word) if word.isdecimal() else word

    return meant


WIDE = Question("How wide: a length, or so many stitches", "40cm", _number_or_word(1, 4_000))
YARNS = Question("How many colours, 1 to 12; or the file of the yarns at hand", "6", _number_or_word(1, 12))
PRICE = Question("What sparing a strand is worth: 0 keeps every speck, 160 hardly any", "40", whole(0, 10_000))
