"""Charts made cheaper at a price: E never rises, what is held stays, strands are those of networkx."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.areas import Strip
from companion.knitting.cloth.chains import chains
from companion.knitting.reckoning.bargains import HELD, Bargaining
from companion.knitting.strands.counting import StrandCount
from tests.knitting.strands.test_counting import by_networkx

YARNS = ("a", "b", "c")


@st.composite
def charts(draw: st.DrawFn) -> tuple[list[str], list[list[list[int]]]]:
    """A grid, and what its stitches want."""
    wide, high = draw(st.integers(1, 9)), draw(st.integers(1, 9))
    grid = [draw(st.text("abc", min_size=wide, max_size=wide)) for _ in range(high)]
    line = st.lists(st.integers(0, 90), min_size=wide, max_size=wide)
    return grid, [[draw(line) for _ in YARNS] for _ in range(high)]


def cost(grid: list[list[str]], wants: list[list[list[int]]], price: int, reach: int, *, is_leftward: bool) -> int:
    wanted = sum(
        wants[row][YARNS.index(yarn)][column] for row, cells in enumerate(grid) for column, yarn in enumerate(cells)
    )
    return wanted + price * by_networkx(grid, reach, is_leftward=is_leftward)


@given(charts(), st.integers(0, 400), st.integers(0, 4), st.booleans())
def test_neither_chains_nor_rows_ever_raise_the_price_of_a_chart(
    chart: tuple[list[str], list[list[list[int]]]], price: int, reach: int, is_leftward: bool
) -> None:
    grid, wants = chart
    found = Bargaining(grid, YARNS, wants, price, reach, is_leftward=is_leftward)
    costs = [cost(found.grid, wants, price, reach, is_leftward=is_leftward)]
    for step in (found.give_chains, found.sweep_rows, found.settle):
        step()
        costs.append(cost(found.grid, wants, price, reach, is_leftward=is_leftward))
        assert found.wanting + price * found.strands == costs[-1]
    assert all(before >= after for before, after in pairwise(costs))


@given(charts(), st.integers(0, 400), st.data())
def test_what_is_held_stays(
    chart: tuple[list[str], list[list[list[int]]]], price: int, data: st.DataObject
) -> None:
    grid, wants = chart
    row, column = data.draw(st.integers(0, len(grid) - 1)), data.draw(st.integers(0, len(grid[0]) - 1))
    yarn = grid[row][column]
    for number, other in enumerate(YARNS):
        wants[row][number][column] += HELD * (other != yarn)
    found = Bargaining(grid, YARNS, wants, price, 3)
    found.settle()
    assert found.grid[row][column] == yarn


def wanting(grid: list[str], lost: int) -> list[list[list[int]]]:
    """Every stitch wants the yarn it has; any other costs so much."""
    return [[[lost * (cell != yarn) for cell in row] for yarn in YARNS] for row in grid]


def settled(grid: list[str], price: int, lost: int = 10) -> list[str]:
    found = Bargaining(grid, YARNS, wanting(grid, lost), price, 3)
    found.settle()
    return ["".join(row) for row in found.grid]


SPECK = ["aaaaaaa", "aaaaaaa", "aaabaaa", "aaaaaaa", "aaaaaaa"]


@pytest.mark.parametrize(("price", "is_gone"), [(4, False), (6, True)])
def test_a_speck_goes_when_its_strands_are_dearer_than_its_look(price: int, is_gone: bool) -> None:
    """By hand: the speck costs its own strand and the ground's beside it, two in all; going over loses 10."""
    assert StrandCount(SPECK, 3).strands - 1 == 2
    assert settled(SPECK, price) == (["aaaaaaa"] * 5 if is_gone else SPECK)


def test_a_speck_goes_as_a_chain_and_by_a_row_alike() -> None:
    for give in (Bargaining.give_chains, Bargaining.sweep_rows):
        found = Bargaining(SPECK, YARNS, wanting(SPECK, 10), 6, 3)
        give(found)
        assert ["".join(row) for row in found.grid] == ["aaaaaaa"] * 5


@given(charts(), st.integers(0, 400), st.integers(0, 4))
def test_what_is_settled_holds_no_bargain_for_whoever_begins_anew(
    chart: tuple[list[str], list[list[list[int]]]], price: int, reach: int
) -> None:
    grid, wants = chart
    found = Bargaining(grid, YARNS, wants, price, reach)
    for _ in range(5):
        found.settle()
    anew = Bargaining(found.grid, YARNS, wants, price, reach)
    anew.give_chains()
    anew.sweep_rows()
    assert anew.grid == found.grid


@pytest.mark.parametrize("is_leftward", [True, False])
def test_edges_of_a_row_meet_those_that_the_turns_bring_to_them(is_leftward: bool) -> None:
    """By hand: after a row toward the left the strands hang at left edges and are taken up at left edges. So a row
    toward the left meets the right edges of the row below it and the left ones of the row above."""
    count = StrandCount(["abbbb", "aabbb", "bbbaa"], 3, is_leftward=not is_leftward)
    assert count.met(1, "a") == (([0], [5]) if is_leftward else ([3], [1]))


def test_a_slope_steeper_than_the_reach_is_drawn_less_steep() -> None:
    """A strand that ends because the next row begins four stitches further on costs more than one stitch."""
    grid = ["a" * (8 - 4 * (row // 2)) + "b" * (4 + 4 * (row // 2)) for row in range(4)]
    assert StrandCount(grid, 3).strands > StrandCount(settled(grid, 40), 3).strands == 2


def test_chains_are_cut_where_areas_branch() -> None:
    """By hand: an arch of b, its two feet and the lintel; the ground beside, between and over them."""
    grid = ["abbabba", "abbabba", "abbbbba", "aaaaaaa"]
    parts = {(part.yarn, part.strips) for part in chains(grid)}
    left_foot = (Strip(0, 2, 2), Strip(1, 2, 2))
    right_foot = (Strip(0, 5, 2), Strip(1, 5, 2))
    between = (Strip(0, 4, 1), Strip(1, 4, 1))
    assert {("b", left_foot), ("b", right_foot), ("b", (Strip(2, 2, 5),)), ("a", between)} <= parts
    whole = (Strip(0, 2, 2), Strip(0, 5, 2), Strip(1, 2, 2), Strip(1, 5, 2), Strip(2, 2, 5))
    assert ("b", whole) in parts


@given(charts(), st.integers(0, 4), st.booleans(), st.data())
def test_cells_put_in_the_place_of_those_of_a_row_are_priced_as_it_comes_out(
    chart: tuple[list[str], list[list[list[int]]]], reach: int, is_leftward: bool, data: st.DataObject
) -> None:
    grid = [list(row) for row in chart[0]]
    count = StrandCount(grid, reach, is_leftward=is_leftward)
    for _ in range(3):
        index = data.draw(st.integers(0, len(grid) - 1))
        new = data.draw(st.lists(st.sampled_from("abcd"), min_size=1, max_size=len(grid[0])))
        at = data.draw(st.integers(0, len(grid[0]) - len(new)))
        old = grid[index][at:at + len(new)]
        before, more = count.strands, count.if_cells(index, at + 1, old, new)
        assert count.strands == before
        grid[index][at:at + len(new)] = new
        count.change_cells(index, at + 1, old, new)
        assert before + more == count.strands == by_networkx(grid, reach, is_leftward=is_leftward)


def checks(wide: int, high: int, side: int) -> list[str]:
    return ["".join("ab"[(row // side + column // side) % 2] for column in range(wide)) for row in range(high)]


def cross_of_bars() -> list[str]:
    """Four corners round an upright bar and one that lies across it, 37 stitches by 28 rows. The upright bar is left
    at a far end of the other one, and taken up again from a far end: near by that takes two strands more."""
    upright, across = "a" * 12 + "b" * 5 + "a" * 20, "b" * 37
    return [upright] * 11 + [across] * 5 + [upright] * 12


HAND_COUNTED = {
    "a cross of bars": (cross_of_bars(), 7, 5),
    "three stripes": (["aaaabbbbcccc"] * 8, 3, 3),
    "checks of 4 x 4": (checks(32, 24, 4), 48, 8),
    "a slope of 5 stitches a row": (["a" * (5 + 5 * row) + "b" * (40 - 5 * row) for row in range(8)], 9, 2),
}


@pytest.mark.parametrize("name", HAND_COUNTED)
def test_strands_are_those_counted_by_hand(name: str) -> None:
    """Within a reach of 3, and without a limit."""
    grid, near, far = HAND_COUNTED[name]
    assert (StrandCount(grid, 3).strands, StrandCount(grid, 1000).strands) == (near, far)


@pytest.mark.parametrize("price", [10, 40, 80])
@pytest.mark.parametrize("name", HAND_COUNTED)
def test_no_price_changes_what_is_knitted_in_black_and_white(name: str, price: int) -> None:
    """Their stitches differ by 100 CIEDE2000 from the other colours, the most there is: black from white. (Above
    100 a price is more than a stitch is worth, and one goes over where it spares a strand.)"""
    grid = HAND_COUNTED[name][0]
    yarns = sorted(set("".join(grid)))
    wants = [[[100 * (cell != yarn) for cell in row] for yarn in yarns] for row in grid]
    bargaining = Bargaining(grid, yarns, wants, price, 3)
    bargaining.settle()
    assert ["".join(row) for row in bargaining.grid] == grid
