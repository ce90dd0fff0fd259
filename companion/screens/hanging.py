"""Which strands hang where along the row, told by place."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.hands.hangs import Hang, hangs
from companion.progress.session import Session
from companion.screens.lines import Line, Lines, flowed
from companion.screens.now import swatch


class HangingPanel(Lines):
    """A line a strand where they fit, from the furthest back to the furthest ahead; else all on few lines."""

    def draw(self, width: int, height: int) -> list[Line]:
        """The strands in the order in which they lie along the needles, from the hand the work comes from."""
        session = self.session
        if session is None:
            return []
        found = hangs(session.strands, session.row, session.done, session.cut, is_turned=session.act is None)
        if not found:
            return []
        if len(found) < height:
            title: Line = [(words.strands_title(len(found), self.terms), "quiet")]
            return [title, *(self._by_place(session, hang) for hang in found)]
        groups = [self._in_short(session, hang) for hang in found]
        lead: Line = [("Strands ", "quiet")]
        groups[0] = [*lead, *groups[0]]
        return flowed(groups, width)[:height]

    def _by_place(self, session: Session, hang: Hang) -> Line:
        told = words.hanging_place(session.strands, hang, session.at.row, self.terms)
        return [*self._in_short(session, hang), (f"  {told}", "quiet")]

    def _in_short(self, session: Session, hang: Hang) -> Line:
        yarn = session.piece.yarn(hang.yarn)
        manner = "now" if hang.is_in_hand else ""
        return [(yarn.symbol, swatch(yarn)), (" " + words.hanging_at(hang), manner)]
