"""Small areas as a table: where each lies, and what sewing it on afterwards saves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting import words
from companion.knitting.cloth.areas import sewing, stitch_number
from companion.knitting.piece import Piece
from companion.knitting.reckoning.savings import Saving
from companion.knitting.words import US, Terms
from companion.problems import plain


def table(
    piece: Piece, found: Sequence[Saving], together: tuple[int, int], idle: int, terms: Terms = US
) -> Iterator[str]:
    """Every line, without line ends. ``together``: strands and ends that all of them save; ``idle``: so many small
    areas more save no end."""
    yield plain(piece.title)
    yield ""
    if already := len(sewing(piece.fabric)):
        yield words.areas_sewn(already)
    if not found:
        yield "No small area would save an end by being sewn on."
        return
    wide = max(len("Knitted in"), *(len(saving.over) for saving in found))
    yarn = max(len("Yarn"), *(len(saving.area.yarn) for saving in found))
    saved = "Strands saved  Ends saved  Lengths to sew"
    yield f"     Row  Stitch  {'Yarn':<{yarn}}  Stitches  {'Knitted in':<{wide}}  {saved}"
    for number, saving in enumerate(found, 1):
        area, first = saving.area, saving.area.first
        place = f"{number:>2}  {piece.fabric.level(first.row) + 1:>4}  {stitch_number(piece.fabric, first):>6}"
        figures = f"{saving.strands:>13}  {saving.ends:>10}  {saving.lengths:>14}"
        yield plain(f"{place}  {area.yarn:<{yarn}}  {area.stitches:>8}  {saving.over:<{wide}}  {figures}")
    yield ""
    yield words.areas_save(len(found), *together)
    if idle:
        yield f"{words.how_many(idle, 'small area')} more would save no end."
    yield words.AREAS_PLACED
    yield words.thick(terms)
