"""The oracle is held against counts made elsewhere, sums a reader can do, and every plan tried in turn."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.optimize import linprog

from tests import oracles
from tests.oracles import MovesBetween, Place, PlainRow
from tests.reference.pictures import COUNTED, all_pictures

PICTURES = all_pictures()

ANY = 10**6
"""A limit that nothing here comes near."""


@pytest.mark.parametrize("name", COUNTED)
def test_the_fewest_strands_of_a_bitmap_are_those_counted_elsewhere(name: str) -> None:
    counted = COUNTED[name]
    rows = oracles.from_drawing(counted.draw())
    found = {
        reach: oracles.fewest_strands(rows, ANY if reach is None else reach) for reach in counted.strands
    }
    assert found == counted.strands


@pytest.mark.parametrize("name", COUNTED)
def test_the_segments_of_a_bitmap_are_those_counted_elsewhere(name: str) -> None:
    counted = COUNTED[name]
    rows = oracles.from_drawing(counted.draw())
    found = oracles.segments(rows)
    in_row = [sum(segment.row == row for segment in found) for row in range(len(rows))]
    assert len(found) == counted.segments
    assert max(in_row) == counted.most_in_a_row
    assert sum(count - 1 for count in in_row) == counted.changes


# Source: the supplies counted in a published article, "Intarsia how-to". A block of eight splits in two and
# merges again: three of the ground and two of the block, five in all. Where the block lies and how it splits
# is not printed, so every split and several places are tried.
SPLITS = [(a, b, 8 - a - b) for a, b in product(range(1, 7), repeat=2) if a + b < 8]


@pytest.mark.parametrize("split", SPLITS, ids=str)
@pytest.mark.parametrize("left", [1, 4, 5, 8, 11])
def test_a_block_that_splits_and_merges_takes_five_strands(split: tuple[int, int, int], left: int) -> None:
    right = 12 - left
    whole = "b" * left + "y" * 8 + "b" * right
    parted = "b" * left + "".join(s * n for s, n in zip("yby", split, strict=True)) + "b" * right
    plain = "b" * 20
    rows = oracles.from_drawing([plain] * 3 + [whole] * 4 + [parted] * 5 + [whole] * 4 + [plain] * 3)
    assert len(oracles.segments(rows)) == 55
    assert [oracles.fewest_strands(rows, reach) for reach in (3, 5, 20)] == [5, 5, 5]
    assert oracles.closed_form(rows) == 5


@pytest.mark.parametrize("name", PICTURES)
def test_a_bitmap_with_every_next_row_in_reach_agrees_with_the_closed_form(name: str) -> None:
    lines = PICTURES[name]
    for is_round in (False, True):
        rows = oracles.from_drawing(lines, is_round=is_round)
        assert oracles.fewest_strands(rows, reach=len(lines[0])) == oracles.closed_form(rows)


@pytest.mark.parametrize("name", COUNTED)
def test_with_any_reach_and_rest_a_yarn_takes_as_many_strands_as_its_most_segments_in_a_row(
    name: str,
) -> None:
    rows = oracles.from_drawing(COUNTED[name].draw())
    most: dict[str, int] = {}
    for row in range(len(rows)):
        names = [segment.yarn for segment in oracles.segments(rows) if segment.row == row]
        most.update({yarn: max(names.count(yarn), most.get(yarn, 0)) for yarn in names})
    assert oracles.fewest_strands(rows, ANY, rest=ANY) == sum(most.values())


@pytest.mark.parametrize("name", COUNTED)
def test_with_no_limit_at_all_every_yarn_is_one_strand(name: str) -> None:
    rows = oracles.from_drawing(COUNTED[name].draw())
    yarns = {segment.yarn for segment in oracles.segments(rows)}
    assert oracles.fewest_strands(rows, ANY, behind=ANY, rest=ANY) == len(yarns)


# Sums a reader can do on paper.


def test_gaps_lie_on_the_side_the_hands_come_from_and_go_to() -> None:
    rows = oracles.from_drawing(["bbsss", "bbsss"])
    found = [(s.place, s.yarn, s.columns, s.entry, s.exit) for s in oracles.segments(rows)]
    assert found == [
        ((0, 0), "s", (1, 2, 3), 0, 3),
        ((0, 1), "b", (4, 5), 3, 5),
        ((1, 0), "b", (5, 4), 5, 3),
        ((1, 1), "s", (3, 2, 1), 3, 0),
    ]


def test_a_segment_spans_cells_without_a_stitch() -> None:
    rows = oracles.from_drawing(["b.bs."])
    found = [(s.yarn, s.columns, s.entry, s.exit) for s in oracles.segments(rows)]
    assert found == [("s", (2,), 1, 2), ("b", (3, 5), 2, 5)]


def test_an_upright_edge_costs_nothing_and_a_diagonal_its_shift() -> None:
    upright = oracles.from_drawing(["bbbsss", "bbbsss"])
    assert oracles.legal_moves(upright, reach=0) == {((0, 0), (1, 1)): 0, ((0, 1), (1, 0)): 0}
    shifted = oracles.from_drawing(["bsssss", "bbbsss"])
    assert oracles.legal_moves(shifted, reach=1) == {((0, 1), (1, 0)): 0}
    assert oracles.legal_moves(shifted, reach=2) == {((0, 0), (1, 1)): 2, ((0, 1), (1, 0)): 0}


def test_cells_without_a_stitch_are_not_counted_in_a_carry() -> None:
    rows = oracles.from_drawing(["bs.sss", "bbbsss"])
    assert oracles.legal_moves(rows, reach=9)[(0, 0), (1, 1)] == 1


def test_the_way_round_is_counted_in_stitches_too() -> None:
    rows = oracles.from_drawing(["s.s"] * 2, is_round=True)
    assert oracles.legal_moves(rows, reach=0) == {((0, 0), (1, 0)): 0}


def test_in_the_round_a_block_of_six_costs_six_every_time_and_the_ground_nothing() -> None:
    rows = oracles.from_drawing(["sss" + "b" * 6 + "s" * 11] * 3, is_round=True)
    moves = oracles.legal_moves(rows, reach=20)
    assert moves[(0, 1), (1, 1)] == moves[(1, 1), (2, 1)] == 6
    assert moves[(0, 2), (1, 0)] == 0
    assert oracles.fewest_strands(rows, reach=6) == 3
    # Within five only the ground's start is reached, from its end: block and left ground are joined anew
    # every round.
    assert oracles.fewest_strands(rows, reach=2) == oracles.fewest_strands(rows, reach=5) == 3 + 2 + 2


def test_a_turn_on_the_way_closes_the_short_way_round() -> None:
    """Left at gap 8, wanted at the first stitch of a row toward the left: no stitch lies between the round's end and
    its start. Wanted at column 1 of a row toward the right, gap 1: seven lie before it, or one past the start."""
    eight, one = ("s",) * 8, ("s", *["b"] * 7)
    joined = [PlainRow(eight, "left"), PlainRow(one, "left", round=True)]
    assert oracles.legal_moves(joined, reach=0) == {((0, 0), (1, 0)): 0}
    turned = [PlainRow(eight, "left", round=True), PlainRow(one, "right")]
    assert oracles.legal_moves(turned, reach=6) == {}
    assert oracles.legal_moves(turned, reach=7) == {((0, 0), (1, 1)): 7}


def test_behind_passes_the_other_yarns_of_its_own_row_and_never_the_start_of_a_round() -> None:
    lines = ["sbbbs"]
    assert oracles.legal_moves(oracles.from_drawing(lines), reach=9) == {}
    assert oracles.legal_moves(oracles.from_drawing(lines), reach=9, behind=3) == {((0, 0), (0, 2)): 3}
    assert oracles.legal_moves(oracles.from_drawing(lines, is_round=True), reach=9, behind=2) == {}


def test_a_strand_that_rests_one_row_of_flat_work_comes_back_at_the_far_side() -> None:
    rows = oracles.from_drawing(["sbbbbs", "ssssss", "sbbbbs"])
    block = ((0, 1), (2, 1))
    assert block not in oracles.legal_moves(rows, reach=4)
    assert block not in oracles.legal_moves(rows, reach=3, rest=1)
    assert oracles.legal_moves(rows, reach=4, rest=1)[block] == 4


def test_a_row_may_be_worked_on_two_and_two_on_one() -> None:
    wide, half = ("s",) * 4, ("s",) * 2
    rows = [
        PlainRow(wide, "left"),
        PlainRow((None, None, *half), "right", after=(0,)),
        PlainRow((*half, None, None), "right", after=(0,)),
        PlainRow(wide, "left", after=(2, 1)),
    ]
    moves = oracles.legal_moves(rows, reach=4)
    assert moves == {
        ((0, 0), (1, 0)): 0,  # and not to row 2, since it hangs at the other end, over the stitches of row 1
        ((1, 0), (3, 0)): 2,
        ((2, 0), (3, 0)): 0,
    }
    assert oracles.fewest_strands(rows, reach=4) == 2
    assert oracles.least_carry(rows, reach=4) == 0
    assert oracles.legal_moves(rows, reach=4, rest=1) == moves, "no strand rests past a whole opening"


def test_a_strand_over_bound_off_stitches_goes_no_further() -> None:
    """Worked out by hand: row 3 binds off columns 1 to 3. Sand hangs at gap 5, beyond them, and at gap 1, over them;
    brick at gap 2, over them, and at the edge. What binds off must hang at the edge and work the first segment."""
    in_sand = oracles.legal_moves(oracles.from_drawing(["bss...", "sbbbsb", "ssssss"]), reach=9)
    assert not [move for move in in_sand if move[1][0] == 2]
    in_brick = oracles.legal_moves(oracles.from_drawing(["sbb...", "sbbbsb", "ssssss"]), reach=9)
    assert {move: cost for move, cost in in_brick.items() if move[1][0] == 2} == {
        ((1, 3), (2, 0)): 0,
        ((1, 0), (2, 1)): 0,
    }


def test_the_fewest_strands_come_before_the_least_carry() -> None:
    rows = oracles.from_drawing(["bsbsss", "ssbsbb"])
    assert oracles.legal_moves(rows, reach=3) == {
        ((0, 0), (1, 2)): 2,
        ((0, 2), (1, 2)): 0,
        ((0, 2), (1, 0)): 2,
        ((0, 1), (1, 1)): 2,
        ((0, 1), (1, 3)): 0,
        ((0, 3), (1, 1)): 1,
        ((0, 3), (1, 3)): 3,
    }
    # Brick: the free move would leave its other two segments without one, so both cost 2. Sand: 0 and 1.
    assert oracles.fewest_strands(rows, reach=3) == 4
    assert oracles.least_carry(rows, reach=3) == 5


# Trying every plan there is.


@st.composite
def small_pieces(draw: st.DrawFn) -> list[PlainRow]:
    """Up to five rows of up to five columns in up to three yarns, flat, round or some of each, with cells
    that hold no stitch; now and then a row worked on an earlier row than the last, or on two."""
    rows = []
    for number in range(draw(st.integers(1, 5))):
        cells = draw(st.lists(st.sampled_from(["s", "b", "s", "b", "k", None]), min_size=1, max_size=5))
        is_round = draw(st.booleans())
        after = None
        if number > 1 and draw(st.integers(0, 3)) == 0:
            after = tuple(draw(st.sets(st.integers(0, number - 1), min_size=1, max_size=2)))
        toward = "left" if is_round else draw(st.sampled_from(["left", "right"]))
        rows.append(PlainRow(tuple(cells), toward, is_round, after))
    return rows


LIMITS = st.tuples(st.integers(0, 6), st.integers(0, 4), st.integers(0, 3))


@given(small_pieces(), LIMITS)
def test_both_libraries_agree_with_trying_every_plan(
    rows: list[PlainRow], limits: tuple[int, int, int]
) -> None:
    assume(len(oracles.segments(rows)) <= 8)
    found = oracles.fewest_strands(rows, *limits), oracles.least_carry(rows, *limits)
    assert found == oracles.brute_force(rows, *limits)


@given(st.integers(1, 7), st.data())
def test_with_every_next_row_in_reach_the_closed_form_gives_the_fewest_strands(
    width: int, data: st.DataObject
) -> None:
    line = st.text("sbk", min_size=width, max_size=width)
    lines = data.draw(st.lists(line, min_size=1, max_size=7))
    rows = oracles.from_drawing(lines, is_round=data.draw(st.booleans()))
    assert oracles.fewest_strands(rows, reach=width) == oracles.closed_form(rows)


def test_too_many_segments_are_not_tried_one_by_one() -> None:
    with pytest.raises(ValueError, match="11 segments are too many"):
        oracles.brute_force(oracles.from_drawing(["sbsbsbsbsbs"]), reach=3)


# The check of proofs: true proofs, got from a linear programme, pass; every one of them spoilt does not.

Proof = tuple[list[tuple[Place, Place]], list[Place], list[Place], dict[Place, int], dict[Place, int], int]


def prove(moves: MovesBetween, places: list[Place]) -> Proof:
    """Moves of a best plan, a cover and prices, all from one linear programme and its dual (scipy's HiGHS);
    the cover from the same with every move at no cost."""
    dear = len(places) * (max(moves.values(), default=0) + 1) + 1
    made, exit_prices, entry_prices = _solve(moves, places, dear)
    _, free_exits, free_entries = _solve(dict.fromkeys(moves, 0), places, 1)
    exits = [place for place in places if free_exits[place] == -1]
    entries = [place for place in places if free_entries[place] == 0]
    return made, exits, entries, exit_prices, entry_prices, dear


def _solve(
    moves: MovesBetween, places: list[Place], dear: int
) -> tuple[list[tuple[Place, Place]], dict[Place, int], dict[Place, int]]:
    """Columns: the moves, then "reached by none" for every entry at ``dear``."""
    pairs = list(moves)
    count = len(places)
    number = {place: n for n, place in enumerate(places)}
    leaving = np.zeros((count, len(pairs) + count))
    arriving = np.zeros((count, len(pairs) + count))
    for column, (u, v) in enumerate(pairs):
        leaving[number[u], column] = 1
        arriving[number[v], column] = 1
    arriving[:, len(pairs) :] = np.eye(count)
    cost = [*moves.values(), *[dear] * count]
    answer = linprog(cost, leaving, np.ones(count), arriving, np.ones(count), method="highs-ds")
    made = [pair for pair, worked in zip(pairs, answer.x, strict=False) if worked > 0.5]
    exit_prices = dict(zip(places, map(round, answer.ineqlin.marginals), strict=True))
    entry_prices = dict(zip(places, map(round, answer.eqlin.marginals), strict=True))
    return made, exit_prices, entry_prices


@pytest.mark.parametrize("name", COUNTED)
@pytest.mark.parametrize("limits", [(1, 0, 0), (3, 0, 0), (3, 2, 2)], ids=str)
def test_a_linear_programme_proves_the_totals_of_a_bitmap(name: str, limits: tuple[int, int, int]) -> None:
    rows = oracles.from_drawing(COUNTED[name].draw())
    places = [segment.place for segment in oracles.segments(rows)]
    moves = oracles.legal_moves(rows, *limits)
    proof = prove(moves, places)
    oracles.check_proof(moves, *proof)
    assert len(places) - len(proof[0]) == oracles.fewest_strands(rows, *limits)
    assert sum(moves[move] for move in proof[0]) == oracles.least_carry(rows, *limits)


@given(small_pieces(), LIMITS)
def test_a_true_proof_passes(rows: list[PlainRow], limits: tuple[int, int, int]) -> None:
    places = [segment.place for segment in oracles.segments(rows)]
    assume(places)
    moves = oracles.legal_moves(rows, *limits)
    made, exits, entries, exit_prices, entry_prices, dear = prove(moves, places)
    oracles.check_proof(moves, made, exits, entries, exit_prices, entry_prices, dear)
    oracles.check_proof(moves, made, exits, entries, exit_prices, entry_prices)


def test_a_spoilt_proof_is_refused_with_the_reason() -> None:
    a, b, c, d = (0, 0), (0, 1), (1, 0), (1, 1)
    moves = {(a, c): 0, (a, d): 2, (b, c): 1}
    made = [(a, d), (b, c)]
    exits, entries = [a], [c]
    exit_prices = {a: 0, b: 0, c: 0, d: 0}
    entry_prices = {a: 9, b: 9, c: 0, d: 2}

    def refused(reason: str, made=made, exits=exits, entries=entries, *, out, into) -> None:
        with pytest.raises(AssertionError, match=reason):
            oracles.check_proof(moves, made, exits, entries, out, into, 9)

    true_prices = {**exit_prices, a: -1}, {**entry_prices, c: 1, d: 3}
    oracles.check_proof(moves, made, exits, entries, *true_prices, 9)
    refused("its prices are 0", out=exit_prices, into=entry_prices)
    out, into = true_prices
    refused("less than its prices", out={**out, b: 0}, into={**into, c: 2})
    refused("is above 0", out={**out, b: 1}, into={**into, c: 0})
    refused("no move leaves", out={**out, d: -1}, into=into)
    refused("is above 9", out=out, into={**into, a: 10})
    refused("no move reaches", out=out, into={**into, a: 8})
    refused("lacks one of its prices", out={a: -1, b: 0}, into=into)
    refused("is not touched", exits=[b], entries=[c], out=out, into=into)
    refused("3 exits and entries for 2 moves", exits=[a, b], out=out, into=into)
    refused("named twice", exits=[a, a], entries=[], out=out, into=into)
    refused("is not legal", made=[(a, d), (b, d)], out=out, into=into)
    refused("leave the same segment", made=[(a, d), (a, c)], out=out, into=into)
    refused("reach the same segment", made=[(a, c), (b, c)], out=out, into=into)
    refused("1 moves made", made=[(a, c)], out=out, into=into)
