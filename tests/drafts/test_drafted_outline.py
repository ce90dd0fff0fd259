"""Outlines of pictures that are transparent in places: hands can work them, and none of their kind is nearer."""

from __future__ import annotations

from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.drafts.outline import BEND, HALF, outline_of
from companion.knitting.cloth.fabric import Fabric, FabricRow, Run, Stitch, merged
from companion.knitting.cloth.rows import Rows
from companion.plan.outline import troubles

COVERS = st.tuples(st.integers(1, 12), st.integers(2 * HALF + 1, 14)).flatmap(
    lambda size: st.lists(
        st.lists(st.sampled_from([0.0, 0.2, 0.6, 1.0]), min_size=size[1], max_size=size[1]),
        min_size=size[0], max_size=size[0],
    )
)  # fmt: skip


def rows_of(there: np.ndarray) -> Rows:
    """A chart in one yarn with this outline."""
    cells = ((Run(1, Stitch("tide") if is_there else None) for is_there in row) for row in there.tolist())
    return Rows(Fabric(tuple(FabricRow(merged(row)) for row in cells)))


@given(COVERS)
def test_hands_can_work_every_outline(cover: list[list[float]]) -> None:
    outline = outline_of(np.array(cover))
    if outline is not None:
        assert list(troubles(rows_of(outline.there))) == []
        assert outline.there.any(axis=0).all()


def test_an_outline_that_hands_can_work_stays_as_it_is() -> None:
    drawn = [
        "...#######..",
        ".#########..",  # a wrong-side row begins at the left edge, where two are cast on
        "############",
        ".##########.",
        ".########...",  # a right-side row begins at the right edge
        "....#####...",  # and a wrong-side row at the left edge
    ]
    there = np.array([[sign == "#" for sign in line[::-1]] for line in drawn])
    outline = outline_of(there.astype(float))
    assert outline is not None
    assert list(troubles(rows_of(there))) == []
    assert outline.there.tolist() == there.tolist()


def test_what_is_bound_off_goes_where_a_row_begins() -> None:
    """Six stitches less at both edges of row 4, which begins at the left edge, where all go. At the right edge two
    are decreased in it, and the other four go in the row before or after it."""
    there = np.ones((6, 20))
    there[3:, :6] = there[3:, -6:] = 0
    outline = outline_of(there)
    assert outline is not None
    assert [int(row[10:].sum()) for row in outline.there] == [10, 10, 10, 4, 4, 4]
    assert [int(row[:10].sum()) for row in outline.there] in ([10, 10, 6, 4, 4, 4], [10, 10, 10, 8, 4, 4])
    assert outline.missed in (0, 4 / there.sum())


def test_no_outline_of_this_kind_is_nearer() -> None:
    """Against every pair of edges of charts that are whole in the middle and anyhow beside it."""
    draw = np.random.default_rng(7)
    for _ in range(20):
        cover = draw.random((5, 17))
        cover[:, 4:13] = 1
        outline = outline_of(cover)
        assert outline is not None
        kept = (cover - 0.5)[:, outline.first:outline.last + 1][outline.there].sum()
        lost_right = least_lost(cover[:, :4] - 0.5, is_start=True)
        lost_left = least_lost(cover[:, :12:-1] - 0.5, is_start=False)
        edges = [outline.there.argmax(axis=1), outline.there[:, ::-1].argmax(axis=1)]
        shaped = BEND * sum(np.count_nonzero(np.diff(edge)) for edge in edges)
        assert kept - shaped == pytest.approx((cover - 0.5).sum() - lost_right - lost_left)


def least_lost(beside: np.ndarray, *, is_start: bool) -> float:
    """The least that is lost of what lies beside the middle, and by shaping, all ways to leave out columns tried."""
    high, wide = beside.shape
    ways = [
        columns for columns in product(range(wide + 1), repeat=high)
        if all((row % 2 == 0) == is_start or columns[row] - columns[row - 1] <= 2 for row in range(1, high))
    ]
    return float(min(
        sum(beside[row, :columns[row]].sum() for row in range(high))
        + BEND * sum(one != other for one, other in pairwise(columns))
        for columns in ways
    ))  # fmt: skip


@pytest.mark.parametrize("cover", [np.zeros((5, 9)), np.full((5, 9), 0.5), np.ones((5, 2 * HALF))])
def test_where_next_to_nothing_is_there_is_no_outline(cover: np.ndarray) -> None:
    assert outline_of(cover) is None
