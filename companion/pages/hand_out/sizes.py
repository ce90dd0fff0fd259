"""Which sizes a plan has: how large each comes out, and what it takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from companion.knitting import words
from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.words import yarn as yarn_words
from companion.pages import written
from companion.pages.hand_out.markup import telling, text
from companion.pages.hand_out.request import HandOut


def sizes_table(of_sizes: Mapping[str, HandOut]) -> Iterator[str]:
    """The sizes by name as a table in HTML, a size in each row. They are of one plan: the same yarns in all."""
    first = next(iter(of_sizes.values()))
    told = telling([*of_sizes, *(yarn.name for yarn in first.piece.yarns)])
    noun = words.sentence(words.rows_noun(first.rows))
    heads = ("Width and height", "Stitches", f"{noun}s", "Strands", "Yarn, spare included")
    yield '<table><thead><tr><th scope="col">Size</th>'
    yield "".join(f'<th scope="col">{text(head)}</th>' for head in heads)
    yield "</tr></thead><tbody>"
    for size, hand_out in of_sizes.items():
        piece, strands, terms = hand_out.piece, hand_out.strands, hand_out.terms
        stitches = max(stitches_across(row) for row in piece.fabric.picture)
        wound = lengths(piece, strands, is_inches=terms.is_inches)
        yarns = "<br>".join(told(yarn_words.yarn_needed(total, terms)) for total in totals(piece, wound))
        large = written.measures(piece, terms)[0]
        figures = (large, str(stitches), str(len(piece.fabric.levels)), str(len(strands.first)))
        cells = "".join(f"<td>{text(figure)}</td>" for figure in figures)
        yield f'<tr><th scope="row">{told(size)}</th>{cells}<td>{yarns}</td></tr>'
    yield "</tbody></table>"
