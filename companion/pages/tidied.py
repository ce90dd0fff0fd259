"""What changes of few stitches would spare, as a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting.cloth.areas import stitch_number
from companion.knitting.piece import Piece
from companion.knitting.reckoning.tidying import Patch, strands_with
from companion.knitting.words.places import rows_noun
from companion.knitting.words.terms import how_many, stitches_in_full


def table(piece: Piece, found: Sequence[Patch], staying: int, room: int) -> Iterator[str]:
    """Every line, without line ends. ``staying``: so many stitches may not change; ``room``: cells in a line."""
    yield piece.title
    yield ""
    if staying:
        stay = "stays" if staying == 1 else "stay"
        yield f"{stitches_in_full(staying)} {stay}: held, or not drawn one by one in the plan's own chart."
    if not found:
        yield "No change of a few stitches would spare a strand."
        return
    wide = [max(len(head), *(len(name) for name in names)) for head, names in (
        ("Yarn", [patch.yarn for patch in found]), ("In its place", [patch.instead for patch in found]),
    )]  # fmt: skip
    noun = f"{rows_noun(piece.rows).capitalize()}s"
    heads = f"   {noun:>6}  Stitches  {'Yarn':<{wide[0]}}  {'In its place':<{wide[1]}}"
    figures = "Changed  Strands fewer"
    is_wide = len(heads) + 2 + len(figures) <= room
    yield from [f"{heads}  {figures}"] if is_wide else [heads.rstrip(), f"    {figures}"]
    for number, patch in enumerate(found, 1):
        rows = sorted({piece.fabric.level(cell.row) + 1 for cell in patch.cells})
        places = sorted({stitch_number(piece.fabric, cell) for cell in patch.cells})
        place = f"{number:>2} {_span(rows):>6}  {_span(places):>8}"
        head = f"{place}  {patch.yarn:<{wide[0]}}  {patch.instead:<{wide[1]}}"
        figure = f"{len(patch.cells):>7}  {patch.strands:>13}"
        yield from [f"{head}  {figure}"] if is_wide else [head.rstrip(), f"    {figure}"]
    before, after = strands_with(piece, ()), strands_with(piece, found)
    yield ""
    changed = stitches_in_full(sum(len(patch.cells) for patch in found))
    yield f"All together: {changed} changed, {how_many(after, 'strand')} in place of {before}."
    yield f"{noun} from the cast-on, stitches from the right edge, seen from the right side."
    yield "--use 1,3 draws them into the plan."


def _span(numbers: Sequence[int]) -> str:
    return f"{numbers[0]}" if numbers[0] == numbers[-1] else f"{numbers[0]}-{numbers[-1]}"
