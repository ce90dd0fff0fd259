"""What to wind: every strand with its length, what lengths hold, and how the supplies lie."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting import words
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.reckoning.supplies import layouts
from companion.knitting.words import yarn as yarn_words
from companion.pages import tables
from companion.pages.hand_out.markup import paragraphs, telling, text
from companion.pages.hand_out.request import HandOut


def winding(hand_out: HandOut) -> Iterator[str]:
    """The list as HTML."""
    piece, strands, terms = hand_out.piece, hand_out.strands, hand_out.terms
    told = telling(yarn.name for yarn in piece.yarns)
    wound = lengths(piece, strands, is_inches=terms.is_inches)
    yield paragraphs(map(told, tables.figures(strands, terms)))
    noun = words.rows_noun(strands.rows)
    heads = (
        f"{words.sentence(noun)}s", "Runs", "Stitches", "Carried", "Length", "Wind",
        f"Joined in (as that {noun} is held)",
    )  # fmt: skip
    yield '<table><thead><tr><th scope="col">Wound</th>'
    yield "".join(f'<th scope="col">{text(head)}</th>' for head in heads)
    yield "</tr></thead><tbody>"
    for line in tables.strand_lines(strands, wound, terms):
        *cells, joined = map(told, line)
        shown = "".join(f"<td>{cell}</td>" for cell in cells)
        yield f'<tr><td><span class="box"></span></td>{shown}<th scope="row">{joined}</th></tr>'
    yield "</tbody></table>"
    yield paragraphs(map(told, yarn_words.what_lengths_hold(
        wound, piece.sample, terms, piece.cast_on, is_off_each=piece.is_off_each
    )))  # fmt: skip
    yield f"<h3>{text(yarn_words.supplies_title(None, terms))}</h3><ul>"
    yield from (f"<li>{told(yarn_words.supplies(layout, strands))}</li>" for layout in layouts(strands))
    yield "</ul>"
