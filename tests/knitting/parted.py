"""Charts and shaped pieces in which a ground parts round motifs and closes again, so that strands can share runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Stitch
from companion.knitting.strands.limits import Carry
from tests.knitting.charts import Cell, Chart
from tests.knitting.shaped import Shaped, seam, shaped

GROUND, MOTIF, OTHER = Stitch("sand"), Stitch("brick"), Stitch("kelp")


@st.composite
def parted(
    draw: st.DrawFn, max_rows: int = 7, max_columns: int = 10, ways: Sequence[str] = ("flat", "round", "mixed")
) -> Chart:
    """Charts of 3 rows or more and 3 columns or more; one in four with "no stitch" cells."""
    height, width = draw(st.integers(3, max_rows)), draw(st.integers(3, max_columns))
    rows = list(draw(_rows(height, width)))
    if draw(st.integers(0, 3)) == 3:
        gone = draw(st.sets(st.tuples(st.integers(0, height - 1), st.integers(1, width - 1)), max_size=height))
        rows = [tuple(None if (r, c) in gone else cell for c, cell in enumerate(row)) for r, row in enumerate(rows)]
    way = draw(st.sampled_from(ways))
    mixed = st.lists(st.booleans(), min_size=height, max_size=height)
    rounds = draw(mixed) if way == "mixed" else [way == "round"] * height
    return Chart(tuple(rows), tuple(rounds))


@st.composite
def parted_shapes(draw: st.DrawFn, max_rows: int = 4) -> Shaped:
    """The same within outlines that come in and go out, that divide and are joined, or in tubes; for both hands."""
    piece = draw(shaped(max_rows=max_rows))
    width = max(3, *(len(cells) for *_, cells in piece.rows_told))
    colours = draw(_rows(len(piece.rows_told), width))
    told = []
    for (part, way, cells), colour in zip(piece.rows_told, colours, strict=True):
        own = [cell and new for cell, new in zip(cells, colour, strict=False)]
        at = len(own) - seam(way)
        told.append((part, way, (*own[:at], *[own[0]] * seam(way))))
    return replace(piece, rows_told=tuple(told))


@st.composite
def _rows(draw: st.DrawFn, height: int, width: int) -> Iterator[tuple[Cell, ...]]:
    """Up to three motifs on a ground, each there in some rows and not in others, and in some a stitch further on;
    now and then a row in another yarn."""
    some_rows = st.integers(0, 2 ** height - 1)
    rows: list[list[Cell]] = [[GROUND] * width for _ in range(height)]
    for _ in range(draw(st.integers(1, 3))):
        at, wide, leans = draw(st.integers(1, width - 2)), draw(st.integers(1, 2)), draw(st.sampled_from([0, 0, 5]))
        there, stitch = draw(some_rows), draw(st.sampled_from([MOTIF, MOTIF, OTHER]))
        for row, cells in enumerate(rows):
            if (there >> row & 1) != (row % 3 != 1):  # nothing drawn: there, not there, there
                first = at + (leans >> row & 1)
                cells[first:first + wide] = [stitch] * len(cells[first:first + wide])
    if draw(st.integers(0, 4)) == 4:
        rows[draw(st.integers(0, height - 1))] = [OTHER] * width
    return map(tuple, rows)


def shared_limits() -> st.SearchStrategy[Carry]:
    """Limits under which strands may share runs."""
    return st.builds(
        Carry, st.sampled_from([3, 2, 6, 1, 0]), st.sampled_from([0, 0, 0, 3]), st.sampled_from([0, 0, 0, 1, 2]),
        st.just(False), st.just(True),
    )  # fmt: skip
