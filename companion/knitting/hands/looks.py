"""How the finished piece looks, stitch by stitch, on the right side and on the wrong side.

On one side a stitch is a V, on the other a bump: the head of the stitch on which it is worked, with its own feet
beside it, so that a bump shows two yarns where the colour changed below ("K2, P2", 2012). Yarn that is sewn over a
stitch covers it on the right side alone (common practice, no source). A tube is seen opened along the line where its
rounds begin, without the stitches for a seam.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from companion.knitting.cloth.areas import Cell, sewing
from companion.knitting.cloth.cast_on import sections
from companion.knitting.cloth.fabric import cells
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.outlines import taken
from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.cloth.shaping import Shaping, shapings
from companion.knitting.cloth.slipped import is_slipped, kept_yarn
from companion.knitting.hands.joins_and_cuts import bound_off_at
from companion.knitting.hands.steps import End
from companion.knitting.latest import latest
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Look(Record):
    """A stitch as one side shows it. ``is_bump``: a bump, no V; ``under``: the yarn of the stitch on which it is
    worked, or in which it is cast on, that the bump shows ("" = it is made out of nothing). ``sewn``: what is sewn
    over it ("" = nothing). ``cast_on`` and ``bound_off``: the yarn of the edge below and above it ("" = there is
    none). ``is_worked``: it is on the needles or below them."""

    yarn: str
    is_bump: bool = False
    under: str = ""
    sewn: str = ""
    cast_on: str = ""
    bound_off: str = ""
    is_worked: bool = True


class Made(Record):
    """What of a piece is done: so many rows, and runs of the row above them, are ``worked``; ``sewn``: the areas that
    are sewn on, by the cell where each begins; ``woven``: the ends that are woven in."""

    worked: Place
    sewn: Collection[Cell]
    woven: Collection[End]


Looks = tuple[tuple[Look | None, ...], ...]
"""Rows as they lie in the picture, from the cast-on up, all as wide, in each the stitch on the right first; None
where there is none."""


def right_side(strands: Strands, made: Made | None = None) -> Looks:
    """The right side. ``made``: what of it is done; None: all."""
    rows = strands.rows
    wide = columns_seen(rows)
    nothing: list[Look | None] = [None] * wide
    found = [nothing.copy() for _ in rows.fabric.levels]
    for index, row in enumerate(rows):
        own, below = found[row.level], found[row.level - 1] if row.level else nothing
        _put(own, below, rows, index)
        for column, yarn in _cast_on(rows, index):
            _mark(own, column, cast_on=yarn)
        for column, yarn in _bound_off_below(rows, index):
            _mark(below, column, bound_off=yarn)
        for column, yarn in _bound_off_above(strands, index):
            _mark(own, column, bound_off=yarn)
        if made and index >= made.worked.row:
            runs = row.segments[made.worked.segment:] if index == made.worked.row else row.segments
            for column in (column for run in runs for column in run.columns):
                _mark(own, column, is_worked=False)
    for area in sewing(rows.fabric) if made else ():
        for cell in area.cells if made and area.first not in made.sewn else ():
            _mark(found[rows[cell.row].level], cell.column, is_worked=False)
    return tuple(map(tuple, found))


def wrong_side(right: Looks) -> Looks:
    """The wrong side of what the right side shows."""
    seen = {look for row in right for look in row}
    turned = {look: look and look._replace(is_bump=not look.is_bump, sewn="") for look in seen}
    return tuple(tuple(map(turned.__getitem__, reversed(row))) for row in right)


@latest
def columns_seen(rows: Rows) -> int:
    """How many columns the picture has: those of the widest row, without a tube's stitches for a seam."""
    return max(row.columns - row.seam_stitches for row in rows.fabric.rows)


def _put(line: list[Look | None], below: Sequence[Look | None], rows: Rows, index: int) -> None:
    """The stitches of a row on those of the row below."""
    row, known = rows[index], dict[tuple[object, ...], Look]()
    slipped = row.segments[0].first if is_slipped(rows, index) else 0
    for column, stitch in enumerate(cells(row.fabric), 1):
        if stitch is None or column > len(line):
            continue
        under = below[column - 1]
        if column == slipped and under:
            line[column - 1] = under._replace(yarn=kept_yarn(rows, index), sewn=stitch.sewn, cast_on="", bound_off="")
            continue
        is_bump = not looks_knit(row, stitch.texture, column)
        key = stitch.yarn, is_bump, under.yarn if under else "", stitch.sewn
        if key not in known:
            known[key] = Look(*key)
        line[column - 1] = known[key]


def _mark(
    line: list[Look | None], column: int, *, cast_on: str = "", bound_off: str = "", is_worked: bool = True
) -> None:
    """One thing more is known of a stitch; those for a tube's seam are not seen."""
    look = line[column - 1] if column <= len(line) else None
    if look is not None:
        line[column - 1] = look._replace(
            under=look.under or cast_on, cast_on=cast_on or look.cast_on, bound_off=bound_off or look.bound_off,
            is_worked=is_worked and look.is_worked,
        )  # fmt: skip


def _cast_on(rows: Rows, index: int) -> Iterator[tuple[int, str]]:
    """The columns of the stitches that a row casts on, each with the yarn; of row 1 those on which it is worked."""
    row = rows[index]
    if not index:
        columns = [column for run in reversed(row.segments) for column in run.columns]
        yarns = (section.yarn for section in sections(rows) for _ in range(section.stitches))
        yield from zip(columns, yarns, strict=True)
    for shaping in shapings(rows, index):
        if shaping.how == "cast on" or (shaping.how == "loops" and not row.is_round):
            yield from ((column, row.segments[shaping.segment].yarn) for column in _made(row, shaping))


def _made(row: Row, shaping: Shaping) -> list[int]:
    """The columns of stitches that are cast on at a row's start, or as loops at its end."""
    if shaping.how == "cast on":
        return [column for run in row.segments for column in run.columns][:shaping.stitches]
    return row.segments[shaping.segment].columns[shaping.after:shaping.after + shaping.takes]


def _bound_off_below(rows: Rows, index: int) -> Iterator[tuple[int, str]]:
    """The columns of the row below that a row binds off before its first stitch, each with the yarn."""
    off = next((-one.stitches for one in shapings(rows, index) if one.how == "bind off"), 0)
    if off:
        under, yarn = taken(rows, index), rows[index].segments[0].yarn
        is_left = rows[index].toward == "left"
        columns = range(under.first, under.first + off) if is_left else range(under.last - off + 1, under.last + 1)
        yield from ((column, yarn) for column in columns)


def _bound_off_above(strands: Strands, index: int) -> Iterator[tuple[int, str]]:
    """The columns of a row that are bound off after it, each with the yarn."""
    if (off := bound_off_at(strands, index)) is not None:
        runs = reversed(strands.rows[index].segments)
        columns = [column for run in runs for column in run.columns]
        yarns = [one.yarn for one in off.every for _ in range(one.stitches)]
        yield from zip(columns, yarns, strict=True)
