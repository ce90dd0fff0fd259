"""Which strands hang where along the row, told by place."""

from __future__ import annotations

from companion.dialogue.telling import Telling
from companion.knitting import words
from companion.knitting.hands.hangs import Hang
from companion.screens.lines import Line, Lines, flowed
from companion.screens.now import swatch


class HangingPanel(Lines):
    """A line a strand where they fit, from the furthest back to the furthest ahead; else all on few lines."""

    def draw(self, width: int, height: int) -> list[Line]:
        """The strands in the order in which they lie along the needles, from the hand the work comes from."""
        telling = self.telling
        if telling is None or not telling.hanging:
            return []
        found = telling.hanging
        if len(found) < height:
            title: Line = [(words.strands_title(len(found), self.terms), "quiet")]
            places: list[Line] = [[(f"  {telling.place_of(hang)}", "quiet")] for hang in found]
            shorts = (_in_short(telling, hang) for hang in found)
            return [title, *([*short, *place] for short, place in zip(shorts, places, strict=True))]
        groups = [_in_short(telling, hang) for hang in found]
        lead: Line = [("Strands ", "quiet")]
        groups[0] = [*lead, *groups[0]]
        return flowed(groups, width)[:height]


def _in_short(telling: Telling, hang: Hang) -> Line:
    yarn = telling.session.piece.yarn(hang.yarn)
    manner = "now" if hang.is_in_hand else ""
    return [(yarn.symbol, swatch(yarn)), (" " + words.hanging_at(hang), manner)]
