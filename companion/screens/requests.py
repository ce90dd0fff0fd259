"""Which screen shows what is asked for; each is imported when it is needed first."""

from __future__ import annotations

from typing import Any

from textual.screen import Screen

from companion.dialogue.pictured import Pictured
from companion.dialogue.questions import Choice, Lasting, PressKey, Reading, Request, Words, YesNo
from companion.dialogue.sitting import Sitting


def screen_for(request: Request) -> Screen[Any]:
    """The screen of a question, of something to read, of a list, of a marking, of a piece or of a drawing."""
    if isinstance(request, Sitting):
        from companion.screens.knitting import KnittingScreen

        return KnittingScreen(request)
    from companion.screens import asking

    match request:
        case Words():
            return asking.AskWords(request)
        case PressKey():
            return asking.AskKey(request)
        case YesNo():
            return asking.AskYes(request)
        case Choice():
            return asking.Choose(request)
        case Reading():
            return asking.ReadingScreen(request)
        case Lasting():
            from companion.screens.waiting import WaitingScreen

            return WaitingScreen(request)
    from companion.dialogue.listing import Listing

    if isinstance(request, Listing):
        from companion.screens import lists

        return lists.screen_for(request)
    from companion.dialogue.marking import Marking
    from companion.screens.marking import MarkingScreen

    if isinstance(request, Pictured):
        from companion.screens.fabric import FabricScreen

        return FabricScreen(request)
    if isinstance(request, Marking):
        return MarkingScreen(request)
    from companion.dialogue.painting import Painting
    from companion.screens.drawing import DrawingScreen

    assert isinstance(request, Painting), f"{request} is for a screen that is open"
    return DrawingScreen(request)
