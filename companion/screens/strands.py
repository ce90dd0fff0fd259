"""The list of strands, in order of joining, told by place; and whether what is left of one will last."""

from __future__ import annotations

from functools import partial

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.reckoning.lasting import lasts
from companion.knitting.words.yarn import will_it_last
from companion.progress.session import Session
from companion.screens.asking import AskWords, Reading
from companion.screens.picking import PickingScreen


class StrandsScreen(PickingScreen):
    """Every strand of the piece: where it is joined, its rows, its stitches. Enter asks how much of one is left and
    tells how far that goes, before the row and not after."""

    keys = "enter: will what is left of it last?   escape: back"

    def __init__(self, session: Session, terms: words.Terms) -> None:
        super().__init__()
        self._session = session
        self._terms = terms

    def fill(self) -> None:
        """All strands; the totals on top."""
        strands = self._session.strands
        lines = [words.strand_line(strands, summary, self._terms) for summary in strands.summaries]
        self.put(words.strand_totals(strands.total), lines)

    def choose(self, at: int) -> None:
        """Ask how much is left of it."""
        self.ask(partial(self._ask, at))

    async def _ask(self, index: int) -> None:
        from companion.plan.amount import AmissError, yarn_cm

        session = self._session
        strand = session.strands.summaries[index].strand
        such_as = "60 in" if self._terms.is_inches else "150 cm"
        told = await self.app.push_screen_wait(AskWords(f"How much of it is left, such as {such_as}?"))
        if not told:
            return
        try:
            left = yarn_cm(told.strip())
        except AmissError as amiss:
            lines = [f"The length {amiss.what}", amiss.mend]
        else:
            place = session.next_place or Place(len(session.rows), 0)
            found = lasts(session.piece, session.strands, place, strand, left)
            lines = [will_it_last(found, session.rows, left, self._terms)]
        await self.app.push_screen_wait(Reading("Will it last?", [line for line in lines if line]))
