"""The first page: how the piece looks, what it is, what it needs, and what to bear in mind."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting import words
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.words import paper
from companion.knitting.words import yarn as yarn_words
from companion.knitting.yarn.weights import classes_by_gauge
from companion.pages import written
from companion.pages.hand_out.chart import swatch
from companion.pages.hand_out.markup import name, paragraphs, telling, text
from companion.pages.hand_out.picture import picture
from companion.pages.hand_out.request import HandOut


def title(hand_out: HandOut) -> Iterator[str]:
    """The page as HTML, below its heading."""
    piece, strands, terms = hand_out.piece, hand_out.strands, hand_out.terms
    told = telling(yarn.name for yarn in piece.yarns)
    yield picture(hand_out)
    about = (
        written.size(piece, terms), written.gauge(piece, terms), paper.needles(piece.gauge, piece.rows),
        words.cast_on_heading(casting_on(strands), terms, is_round=piece.rows[0].is_round),
    )  # fmt: skip
    yield '<ul class="about">' + "".join(f"<li>{told(line)}</li>" for line in about) + "</ul>"
    wound = lengths(piece, strands, is_inches=terms.is_inches)
    yield "<h2>Yarn, spare included</h2>"
    yield paragraphs([text(yarn_words.gauge_class(classes_by_gauge(piece.gauge), terms))])
    yield '<ul class="yarns">'
    for total in totals(piece, wound):
        needed = yarn_words.yarn_needed(total, terms).removeprefix(f"{total.yarn.name}: ")
        yarn = f"{swatch(hand_out, total.yarn.name)} {name(total.yarn.name)} ({total.yarn.colour})"
        yield f"<li>{yarn}: {told(needed)}</li>"
    yield "</ul><h2>Abbreviations</h2><dl>"
    for short, full in paper.abbreviations_in(written.whole(piece, strands, terms)):
        yield f"<div><dt>{text(short)}</dt><dd>{text(full)}</dd></div>"
    yield "</dl><h2>Cautions</h2>"
    yield paragraphs(map(text, _cautions(hand_out)))


def _cautions(hand_out: HandOut) -> Iterator[str]:
    """Those that apply."""
    yield words.CAUTION[0]
    if hand_out.piece.is_for_baby:
        yield words.for_baby(hand_out.terms)
