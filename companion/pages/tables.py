"""The table of strands: what each one does, in order of joining, and the piece's figures.

Strands are told by place, because yarn carries no number.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting import words
from companion.knitting.piece import Piece
from companion.knitting.strands import Strands, StrandSummary
from companion.problems import plain

COLUMNS = f"{'Rows':>11}  {'Runs':>5}  {'Stitches':>8}  {'Carried':>7}  Joined in (places as that row is held)"


def strand_table(piece: Piece, strands: Strands) -> Iterator[str]:
    """Every line of the table, without line ends: figures first, then a line for each strand."""
    yield plain(piece.title)
    yield ""
    yield from figures(strands)
    yield ""
    yield COLUMNS
    for summary in strands.summaries:
        yield _line(strands, summary)


def summary(piece: Piece, strands: Strands) -> str:
    """A piece in a few words: its size, yarns and strands."""
    stitches = max(row.stitches for row in piece.fabric.rows)
    yarns, needed = words.how_many(len(piece.yarns), "yarn"), words.how_many(strands.total.strands, "strand")
    return f"{words.count(stitches)} x {words.how_many(len(piece.rows), 'row')}, {yarns}, {needed}"


def figures(strands: Strands) -> Iterator[str]:
    """How many strands and ends, how far they are carried, how many hang at once and where that begins."""
    total = strands.total
    fullest = next(index for index, alive in enumerate(strands.alive) if len(alive) == total.most_at_once)
    row = strands.rows[fullest]
    carried = f"{words.stitches_in_full(total.carried)} carried in all" if total.carried else "nothing carried"
    yield f"{words.how_many(total.strands, 'strand')}, {words.how_many(total.ends, 'end')} to weave in, {carried}."
    yield f"Most at once: {total.most_at_once}, first in {'round' if row.is_round else 'row'} {row.number}."


def _line(strands: Strands, summary: StrandSummary) -> str:
    first, last = strands.rows[summary.joined.row], strands.rows[summary.cut.row]
    spanned = f"{first.number}-{last.number}" if first is not last else str(first.number)
    joined = words.strand_joined(first, summary.joined.segment)
    figures = f"{spanned:>11}  {summary.segments:>5}  {summary.stitches:>8}  {summary.carried:>7}"
    return plain(f"{figures}  {joined}")
