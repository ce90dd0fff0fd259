"""The written rows: a piece told row by row, as patterns are printed.

Lines come one at a time, so that a long piece starts to print at once. Figures are shown rounded and never
taken from here; every sentence about the hands is told by ``words.py``.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from companion.knitting import words
from companion.knitting.cloth.areas import sewing
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.cloth.tubes import stitches_across, tube_seams
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.piece import Piece
from companion.knitting.reckoning.sewing import lengths_of
from companion.knitting.reckoning.size import size as reckoned
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms
from companion.knitting.words.yarn import yarn_length
from companion.knitting.yarn.winding import INCH
from companion.problems import plain

OVER = {(Fraction(10), True): "10 cm (4 in)", (4 * INCH, False): "4 in (10 cm)"}
"""A gauge is given over 10 cm or 4 inches, which the trade takes for the same (common practice, no source): the one
in which it was measured stands first."""


def whole(piece: Piece, strands: Strands, terms: Terms = US) -> Iterator[str]:
    """Every line of the written piece, without line ends: what it is, all its rows, what is sewn on and sewn up."""
    yield from heading(piece, strands, terms)
    yield ""
    yield from rows(piece, strands, 1, len(piece.rows), terms)
    if areas := sewing(piece.fabric):
        yield ""
        yield f"Sewn on afterwards in {terms.duplicate_stitch}:"
        for area in areas:
            yield plain(f"  {words.area_to_sew(piece.fabric, area, lengths_of(piece, area.stitches))}")
    if seams := tube_seams(piece.fabric):
        yield ""
        yield f"{words.sew_tube(seams)}."


def part(piece: Piece, strands: Strands, first: int, last: int, terms: Terms = US) -> Iterator[str]:
    """Rows ``first`` to ``last`` of one part (places in working order, from 1) under a line that says which."""
    one, other = piece.rows[first - 1], piece.rows[last - 1]
    some = words.rows_span(one, other) if not one.part else (
        f"row {one.number}" if first == last else f"rows {one.number} to {other.number}"
    )
    where = f"{one.part} part, " if one.part else ""
    yield plain(f"{piece.title}: {where}{some} of {piece.rows.in_part(first - 1)}")
    yield ""
    yield from rows(piece, strands, first, last, terms)


def shape(piece: Piece, terms: Terms = US) -> Iterator[str]:
    """The shape of a piece: its rows taken together, a line for those that do the same."""
    from companion.knitting.words.shape import rows_shaped, shape_heading, shape_of  # what other pages do not need

    yield plain(shape_heading(piece.title))
    for one in shape_of(piece.rows, terms):
        if isinstance(one, str):
            yield from ("", one)
            continue
        yield f"  {words.sentence(rows_shaped(piece.rows, one))}"


def heading(piece: Piece, strands: Strands, terms: Terms) -> Iterator[str]:
    """What the piece is and what it needs."""
    yield plain(piece.title)
    yield ""
    yield gauge(piece, terms)
    yield size(piece, terms)
    yield plain(words.cast_on_heading(casting_on(strands), terms, is_round=piece.rows[0].is_round))
    yield "Yarns:"
    yield from (_yarn(yarn, terms) for yarn in piece.yarns)
    yield ""
    yield from how_to_read(piece, strands, terms)


def how_to_read(piece: Piece, strands: Strands, terms: Terms) -> Iterator[str]:
    """What a reader of this piece's rows must know once."""
    yield from words.how_to_read(terms, is_round=words.rows_noun(piece.rows) == "round")
    if strands.total.carried:
        yield words.how_to_fetch(terms)
    if strands.rows.meetings:
        yield words.how_to_share()
    yield from (words.worked_flat(seam) for seam in tube_seams(piece.fabric))
    if piece.has_slipped_edges:
        yield words.how_to_slip()
    if piece.is_for_baby:
        yield words.for_baby(terms)


def gauge(piece: Piece, terms: Terms = US) -> str:
    """The gauge, as a line."""
    gauge = piece.gauge
    own = f"{number(gauge.over_cm / INCH)} in" if terms.is_inches else f"{number(gauge.over_cm)} cm"
    over = OVER.get((gauge.over_cm, terms.is_inches), own)
    return f"{words.sentence(terms.gauge)}: {number(gauge.stitches)} sts and {number(gauge.rows)} rows over {over}"


def size(piece: Piece, terms: Terms = US) -> str:
    """How large the piece is by its gauges, and of how many stitches and rows. A tube is measured around."""
    stitches, levels = max(stitches_across(row) for row in piece.fabric.picture), len(piece.fabric.levels)
    first, other = measures(piece, terms)
    return f"Size: {first} ({other}), {stitches} sts x {levels} {words.rows_noun(piece.rows)}s"


def measures(piece: Piece, terms: Terms) -> tuple[str, str]:
    """Width and height in centimetres and in inches, those first in which lengths are told."""
    found = reckoned(piece)
    around = " around" if any(row.is_round for row in piece.rows) else ""
    cm, inches = (
        f"{float(found.width_cm / unit):.1f}{around} x {float(found.height_cm / unit):.1f} {name}"
        for unit, name in ((Fraction(1), "cm"), (INCH, "in"))
    )
    return (inches, cm) if terms.is_inches else (cm, inches)


def rows(piece: Piece, strands: Strands, first: int, last: int, terms: Terms = US) -> Iterator[str]:
    """Rows ``first`` to ``last`` (numbers, from 1), a line each, what the plan says above its row."""
    if first == 1:
        yield from cast_on(piece, strands)
    for index in range(first - 1, last):
        yield from row(piece, strands, index, terms)


def cast_on(piece: Piece, strands: Strands) -> Iterator[str]:
    """The cast-on, where it has a line of its own."""
    if told := words.written_cast_on(casting_on(strands), is_round=piece.rows[0].is_round):
        yield plain(told)


def row(piece: Piece, strands: Strands, index: int, terms: Terms = US) -> Iterator[str]:
    """What the plan says at a row (its index, from 0), where it says something; and the row, the last line."""
    if said := piece.said_at(index):
        yield plain(words.plan_says(said))
    runs = row_runs(strands, index, piece.catching)
    yield plain(words.written_row(strands.rows[index], runs, row_end(strands, index), terms))


def number(value: Fraction) -> str:
    """A number without needless zeros, two decimals at most."""
    return f"{float(value):.2f}".rstrip("0").rstrip(".")


def _yarn(yarn: Yarn, terms: Terms) -> str:
    metres, grams = yarn.ball.metres, yarn.ball.grams
    sold = [] if metres is None else [yarn_length(metres * 100, is_inches=terms.is_inches)]
    sold += [] if grams is None else [f"{number(grams)} g"]
    ball = f", in balls of {' / '.join(sold)}" if sold else ""
    return plain(f"  {yarn.symbol}  {yarn.name} ({yarn.colour}{ball})")
