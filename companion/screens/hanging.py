"""Which strands hang where along the row, told by place; none is left out without a word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from companion.dialogue.telling import Telling
from companion.knitting import words
from companion.knitting.hands.hangs import Hang
from companion.screens.flowing import Bit, Line, cells, flowed
from companion.screens.lines import Lines
from companion.screens.now import swatch


class HangingPanel(Lines):
    """A line a strand where they fit, from the furthest back to the furthest ahead; else all on few lines, in words
    or in figures; where not even these fit, those nearest to the hand and how many more hang."""

    def draw(self, width: int, height: int) -> list[Line]:
        """The strands in the order in which they lie along the needles, from the hand the work comes from."""
        telling = self.telling
        if telling is None or not telling.hanging or not width or not height:
            return []
        ways = self._ways(telling, width, height)
        return next(lines for lines in ways if len(lines) <= height and all(cells(line) <= width for line in lines))

    def _ways(self, telling: Telling, width: int, height: int) -> Iterator[list[Line]]:
        """From the fullest to the shortest."""
        found = telling.hanging
        if len(found) < height:
            title: Line = [(words.strands_title(len(found), self.terms), "quiet")]
            yield [title, *([*_in_short(telling, hang), (_place(telling, hang), "quiet")] for hang in found)]
        yield flowed([[("Strands", "quiet")], *(_in_short(telling, hang) for hang in found)], width)
        by_distance = sorted(found, key=lambda hang: (not hang.is_in_hand, abs(hang.away)))
        for number in range(len(found), 0, -1):
            nearest = set(by_distance[:number])
            left_out = len(found) - number
            more: list[Line] = [[(f"{left_out} more", "strong")]] if left_out else []
            yield flowed([*_in_figures(telling, [hang for hang in found if hang in nearest]), *more], width, " ")
        yield []


def _place(telling: Telling, hang: Hang) -> str:
    """Where it hangs, unless it is the only one of its yarn there, which is named already."""
    place = telling.place_of(hang)
    return "" if place == f"the {hang.yarn}" else f"  {place}"


def _in_short(telling: Telling, hang: Hang) -> Line:
    manner = "now" if hang.is_in_hand else ""
    return [_chip(telling, hang), (" " + words.hanging_at(hang), manner)]


def _in_figures(telling: Telling, shown: Sequence[Hang]) -> list[Line]:
    """How many stitches away each hangs, those of one side after its name: "back 25  21  2"."""
    groups: list[Line] = []
    for side, those in groupby(shown, _side):
        manner = "now" if side == "in hand" else "quiet"
        each = [[_chip(telling, hang), (f" {abs(hang.away)}" if hang.away else "", "")] for hang in those]
        groups += [[(f"{side} ", manner), *each[0]], *each[1:]]
    return groups


def _side(hang: Hang) -> str:
    if hang.is_in_hand:
        return "in hand"
    return "at the tips" if hang.away == 0 else "ahead" if hang.away > 0 else "back"


def _chip(telling: Telling, hang: Hang) -> Bit:
    """The yarn's symbol on its colour; its edges are seen on a ground of the same colour too."""
    yarn = telling.session.piece.yarn(hang.yarn)
    return f"▏{yarn.symbol}▕", swatch(yarn)
