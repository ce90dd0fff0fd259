"""Carries out what is done and answers all that is asked for on the way, with lines.

What holds something open lets go of it, whatever ends the talk.
"""

from __future__ import annotations

from typing import Any

from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.marking import Marking
from companion.dialogue.questions import (
    Asking,
    Choice,
    Lasting,
    Leave,
    PressKey,
    Reading,
    Request,
    Words,
    YesNo,
)
from companion.dialogue.sitting import Sitting
from companion.knitting.howfar import untold
from companion.lines.answering import Answering
from companion.lines.needles import Needles
from companion.lines.place import Place
from companion.lines.talk import Talk


class Conversation:
    """One knitter at her lines."""

    def __init__(self, talk: Talk, knitter: Knitter) -> None:
        self.talk, self.knitter = talk, knitter
        self._answering = Answering(talk, knitter)

    def carry_out(self, asking: Asking[object], place: Place | None = None) -> None:
        """Answer all that is asked; ``place`` is where it is done, and what it may leave.

        Raises:
            Ended: nobody types any more.
        """
        answered = None
        try:
            while True:
                try:
                    request = asking.send(answered)
                except StopIteration:
                    return
                answered = self._answer(request, place)
        finally:
            asking.close()

    def _answer(self, request: Request, place: Place | None) -> Any:
        match request:
            case Leave(answer):
                if place:
                    place.leave(answer)
                return None
            case Sitting():
                return self._stay(Needles(self, request))
            case Listing():
                from companion.lines.lists import ListPlace

                return self._stay(ListPlace(self, request))
            case Marking():
                from companion.lines.marking import MarkingPlace

                return self._stay(MarkingPlace(self, request))
            case Lasting(what, do):
                self.talk.say(what)
                return do(untold)
            case Words() | Choice() | YesNo() | PressKey() | Reading():
                return self._answering.answer(request)
            case _ if getattr(request, "where", "") == "drawing":
                from companion.dialogue.at_the_board import NEEDS_A_SCREEN

                return self._answering.answer(Reading("The drawing board", [NEEDS_A_SCREEN]))
            case _:
                return None  # of the chart and of what is drawn nothing is to be said

    def _stay(self, place: Place) -> object:
        place.begin()
        while not place.is_left:
            place.take(self.talk.line())
        return place.answer
