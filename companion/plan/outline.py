"""The outline of a piece: where its rows begin and end must be such that hands can work it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from companion.knitting.cloth.fabric import Fabric, FabricRow, Run
from companion.knitting.cloth.outlines import Span, span, taken
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.shaping import shapings
from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.knitting.words.places import row_number
from companion.problems import Problem, Problems


class OutlineTrouble(Record):
    """A row of the piece, from 0, and what is wrong with its outline."""

    row: int
    what: str
    mend: str = ""


def troubles(rows: Rows) -> Iterator[OutlineTrouble]:
    """Everything that is wrong, from the cast-on up; of each kind in the row where it begins."""
    fabric = rows.fabric
    yield from _turned_wrong(fabric)
    yield from _shaped_in_tube(fabric)
    yield from _off_each_in_rounds(rows)
    if all(run.stitch is not None for row in fabric.rows for run in row.runs):
        return
    seen: set[int] = set()
    for index, row in enumerate(fabric.rows):
        if id(row) not in seen and (told := _of_row(row)):
            yield OutlineTrouble(index, *told)
            seen.add(id(row))
    if seen:
        return
    has_seam = any(row.seam_stitches for row in fabric.rows)
    for index in range(1, len(rows)):
        if not _overlap(taken(rows, index), span(rows[index])):
            yield OutlineTrouble(index, "lies wholly beside the row below it.", "Let them share at least one stitch.")
            continue
        if not has_seam and _is_shaped_round(rows, index):
            yield OutlineTrouble(
                index,
                "is a round, or lies on one, and does not have the same columns as the row below.",
                "Only the edges of flat rows are shaped.",
            )
            continue
        if rows[index].inner and taken(rows, index) != span(rows[index]):
            what = "joins two parts with stitches between them, and is shaped at an edge, too."
            yield OutlineTrouble(index, what, "Shape that a row later.")
            continue
        found = shapings(rows, index)
        for one in found:
            if one.how == "lost":
                mend = f"Take them away at the {one.edge} edge one row later, where a row starts, or two in a row."
                if not _loses_at_ends(Rows(fabric, is_mirrored=True)):
                    mend += " Is the chart drawn for left hands? Then one row earlier: for them it goes a row later."
                what = f"loses {-one.stitches} stitches at its end, where none can be bound off."
                yield OutlineTrouble(index, what, mend)
        if any((one.segment, one.after) == (other.segment, other.after) for one, other in pairwise(found)):
            yield OutlineTrouble(
                index, "is too narrow for what is made and lost at both its edges.", "Shape one of them a row later."
            )


def _loses_at_ends(rows: Rows) -> bool:
    """Whether any row loses at its end more than can be decreased."""
    return any(one.how == "lost" for index in range(1, len(rows)) for one in shapings(rows, index))


def _is_shaped_round(rows: Rows, index: int) -> bool:
    """Whether stitches would be made or lost at the edges where there are none."""
    row, below = rows[index], rows[rows.before(index)[0]]
    return (row.is_round or below.is_round) and span(row) != span(below)


def outer_edges(fabric: Fabric, start: int) -> tuple[Fabric, frozenset[int]]:
    """The fabric as if nothing lay open from row ``start`` on (from 0), up to a row without a stitch, and the rows of
    which nobody knows on which stitches they lie: where there was an opening below them, and is none any more."""
    rows, unknown, is_open = list(fabric.rows[:start]), set[int](), False
    for index in range(start, len(fabric.rows)):
        row = fabric.rows[index]
        if not row.stretches:
            break
        if is_open and len(row.stretches) == 1:
            unknown.add(index)
        is_open = len(row.stretches) > 1
        rows.append(_closed(row) if is_open else row)
    return replace(fabric, rows=tuple(rows)), frozenset(unknown)


def _closed(row: FabricRow) -> FabricRow:
    """The row with stitches wherever it has none between others."""
    runs, last = list(row.runs), next(run.stitch for run in row.runs if run.stitch)
    inner = [index for index, run in enumerate(runs) if run.stitch]
    for index in range(inner[0], inner[-1]):
        runs[index] = Run(runs[index].columns, runs[index].stitch or last)
    return row._replace(runs=tuple(runs))


def mirrored_trouble(piece: Piece) -> Problem | None:
    """What a left-handed knitter who works mirrored cannot work, where right-side rows begin at the other edge, even
    if she binds off a row later."""
    mirrored = piece.for_hands(is_mirrored=True)
    if (found := next(troubles(mirrored.rows), None)) is None:
        return None
    what = f"Worked mirrored, row {row_number(mirrored.rows[found.row])} {found.what}"
    return Problem(what, mend="Work it as right-handed knitters do: --hands right")


def for_hands(piece: Piece, *, is_mirrored: bool) -> Piece:
    """The piece for a knitter who works mirrored, or for one who does not.

    Raises:
        Problems: it cannot be worked mirrored.
    """
    piece = piece.for_hands(is_mirrored=is_mirrored)
    if is_mirrored and (trouble := mirrored_trouble(piece)):
        raise Problems([trouble])
    return piece


def _turned_wrong(fabric: Fabric) -> Iterator[OutlineTrouble]:
    """Rounds that would begin at the wrong edge of a tube's flat part: a round begins where right-side rows begin.
    The first one of all may go on from a right-side row as well, since there the piece is joined into a tube."""
    has_rounds = False
    for index, row in enumerate(fabric.rows):
        if row.is_round and has_rounds and not fabric.rows[index - 1].is_round and fabric.faces[index - 1]:
            yield OutlineTrouble(
                index,
                "is a round, and the flat rows below it end at the other edge.",
                "Make them even in number, so that they end where the round begins.",
            )
        has_rounds = has_rounds or row.is_round


def _shaped_in_tube(fabric: Fabric) -> Iterator[OutlineTrouble]:
    """"." in a tube with seams, where it would be unclear which column lies on which; told once."""
    if not any(row.seam_stitches for row in fabric.rows):
        return
    for index, row in enumerate(fabric.rows):
        if (row.is_round or row.seam_stitches) and row.stitches < row.columns:
            yield OutlineTrouble(
                index,
                'has ".", and the tube it is part of is sewn up with "seam_stitches".',
                'Draw stitches there, or leave "seam_stitches" out.',
            )
            return


def _off_each_in_rounds(rows: Rows) -> Iterator[OutlineTrouble]:
    """A round of several colours whose runs would be bound off each in its own strand."""
    last = len(rows) - 1
    if rows.is_off_each and rows[last].is_round and len(rows[last].segments) > 1:
        yield OutlineTrouble(
            last,
            "is a round of several colours, and no run can be bound off in its own strand there: each hangs far off.",
            'Leave "colours: each" out under "bind_off", or work flat rows above.',
        )


def _of_row(row: FabricRow) -> tuple[str, str] | None:
    if not row.stretches:
        return 'has no stitch, only ".".', "Draw at least one."
    if len(row.stretches) > 1:
        return (
            'has "." between its stitches.',
            'Edges are shaped, "." left or right of a row; where the piece divides, write opening: {first: right}.',
        )
    return None


def _overlap(one: Span, other: Span) -> bool:
    return one.first <= other.last and other.first <= one.last
