"""The strands, in order of joining, told by place; and whether what is left of one will last."""

from __future__ import annotations

from typing import ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, Reading, Words
from companion.dialogue.sitting import Sitting
from companion.dialogue.table import Cell, Column, Row, Table
from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.reckoning.lasting import lasts
from companion.knitting.strands.strands import StrandSummary
from companion.knitting.words import row_key
from companion.knitting.words.yarn import will_it_last

_COLUMNS = (
    Column("Yarn", least=9, order="up"), Column("Rows"),
    Column("Stitches", "sts", is_number=True, order="down"),
    Column("Carried", "carried", is_number=True, yields=2, order="down"),
    Column("Joined as, the row as held", "As held", least=16, yields=1),
)  # fmt: skip


class StrandsList(Listing):
    """Every strand of the piece: where it is joined, its rows, its stitches. One that is chosen is asked about, and
    told how far what is left of it goes, before the row and not after."""

    where: ClassVar[Where] = "strands"
    verbs = {"choose": "will what is left of it last?"}

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self._session, self._terms = sitting.session, sitting.terms

    def fill(self) -> None:
        """All strands; the totals on top."""
        strands = self._session.strands
        self.title = words.strand_totals(strands.total)
        yarn, _, *others = _COLUMNS
        name = words.rows_title(strands.rows, are_many=True)
        self.put(Table((yarn, Column(name), *others), [self._row(summary) for summary in strands.summaries]))

    def _row(self, summary: StrandSummary) -> Row:
        rows, piece = self._session.strands.rows, self._session.piece
        joined, cut = rows[summary.joined.row], rows[summary.cut.row]
        place = words.strand_place(joined, summary.joined.segment, self._terms)
        span = row_key(joined) if joined is cut else f"{row_key(joined)} to {row_key(cut)}"
        return (
            Cell(summary.yarn, yarn=piece.yarn(summary.yarn)),
            Cell(words.span_listed(joined, cut, rows), span),
            Cell(str(summary.stitches), by=summary.stitches),
            Cell(str(summary.carried), by=summary.carried),
            Cell(place, words.place_in_short(place)),
        )

    def in_full(self) -> str:
        """Where it is joined, its rows, its stitches."""
        strands = self._session.strands
        return "" if self.meant is None else words.strand_line(strands, strands.summaries[self.meant], self._terms)

    def choose(self) -> Asking[None]:
        """Ask how much is left of it."""
        from companion.plan.amount import AmissError, yarn_cm

        assert self.meant is not None
        session = self._session
        strand = session.strands.summaries[self.meant].strand
        such_as = "60 in" if self._terms.is_inches else "150 cm"
        answer = yield Words(f"How much of it is left, such as {such_as}?")
        if not answer:
            return
        try:
            left = yarn_cm(answer.strip())
        except AmissError as amiss:
            lines = [f"The length {amiss.what}", amiss.mend]
        else:
            place = session.next_place or Place(len(session.rows), 0)
            found = lasts(session.piece, session.strands, place, strand, left)
            lines = [will_it_last(found, session.rows, left, self._terms)]
        yield Reading("Will it last?", [line for line in lines if line])
