"""Strands counted on other people's bitmaps: by published libraries beforehand, and by the oracle now.

The expected figures were made outside this project with networkx 3.6.1 (bipartite.hopcroft_karp_matching) and scipy
1.17.1 (sparse.csgraph.maximum_bipartite_matching), which agreed, and without a limit by a closed form: the sum over
colours and rows of the segments that a row has more than the row below it. Worked flat, row 1 at the bottom a
right-side row, moves to the next row only.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from companion.knitting.cloth.rows import Place, Rows
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from tests import oracles
from tests.knitting.charts import drawn
from tests.reference.pictures import DIGITS, GLYPHS, ICONS, Picture, digit, glyph, icon, three_grey_digit


class Figures(NamedTuple):
    """What was counted on one picture: its segments, the most in one row, the changes inside rows; the fewest
    strands at a reach of 0, 1, 2, 3 and 5 stitches and without a limit."""

    segments: int
    most_in_a_row: int
    strands: tuple[int, int, int, int, int, int]
    changes: int


REACHES = (0, 1, 2, 3, 5, 1000)

COUNTED: list[tuple[str, Picture, Figures]] = [
    # GNU Unifont 15.0.01, glyphs U+0041, U+0026, U+2665 and U+2603
    ("letter A", glyph("0041", "sb"), Figures(52, 5, (13, 7, 7, 7, 7, 7), 36)),
    ("ampersand", glyph("0026", "sb"), Figures(53, 6, (27, 10, 8, 8, 8, 8), 37)),
    ("heart", glyph("2665", "sb"), Figures(32, 5, (14, 6, 6, 6, 6, 6), 16)),
    ("snowman", glyph("2603", "sb"), Figures(106, 11, (79, 47, 31, 25, 23, 21), 90)),
    # scikit-learn 1.9.1, load_digits().images: ink above 7, or three greys parted at 5.5 and 10.5
    ("digit 0", digit(0, "sb"), Figures(34, 5, (12, 5, 5, 5, 5, 5), 26)),
    ("digit 1", digit(1, "sb"), Figures(24, 3, (8, 3, 3, 3, 3, 3), 16)),
    ("digit 8", digit(8, "sb"), Figures(28, 5, (14, 7, 7, 7, 7, 7), 20)),
    ("digit 0 in three greys", three_grey_digit(0, "sbk"), Figures(42, 6, (20, 12, 10, 10, 10, 10), 34)),
]


@pytest.mark.parametrize(("picture", "figures"), [case[1:] for case in COUNTED], ids=[case[0] for case in COUNTED])
def test_segments_and_changes_are_those_counted_elsewhere(picture: Picture, figures: Figures) -> None:
    rows = drawn(*picture).rows()
    in_row = [len(row.segments) for row in rows]
    assert (sum(in_row), max(in_row)) == (figures.segments, figures.most_in_a_row)
    assert sum(count - 1 for count in in_row) == figures.changes


@pytest.mark.parametrize(("picture", "figures"), [case[1:] for case in COUNTED], ids=[case[0] for case in COUNTED])
def test_strands_are_those_counted_elsewhere(picture: Picture, figures: Figures) -> None:
    rows = drawn(*picture).rows()
    assert tuple(plan_strands(rows, Carry(reach)).strands.total.strands for reach in REACHES) == figures.strands


PICTURES: dict[str, Picture] = {
    **{f"glyph {code}": glyph(code, "sb") for code in GLYPHS},
    **{f"icon {name}": icon(name, "sb") for name in ICONS},
    **{f"digit {number}": digit(number, "sb") for number in range(DIGITS)},
    **{f"digit {number} in three greys": three_grey_digit(number, "sbk") for number in range(10)},
}

LIMITS = [Carry(0), Carry(3), Carry(2, behind=3), Carry(3, rest=2), Carry(3, behind=3, rest=4)]


def moves_of(strands: Strands) -> list[tuple[Place, Place]]:
    last: dict[int, Place] = {}
    moves = []
    for place in strands.rows.places():
        number = strands.at(place)
        if number in last:
            moves.append((last[number], place))
        last[number] = place
    return moves


def check(rows: Rows, plain: list[oracles.PlainRow], limits: Carry) -> None:
    """Fewest strands, least carry and both halves of the proof, by the oracle."""
    plan = plan_strands(rows, limits)
    legal = oracles.legal_moves(plain, limits.reach, limits.behind, limits.rest)
    moves = moves_of(plan.strands)
    places = {segment.place: segment.yarn for segment in oracles.segments(plain)}
    assert len(moves) == oracles.most_moves(legal)
    assert plan.strands.total.strands == len(places) - len(moves)
    assert plan.strands.total.carried == oracles.least_cost(legal, places) == sum(legal[move] for move in moves)
    proof = plan.proof
    oracles.check_proof(
        legal, moves, proof.exits, proof.entries, proof.exit_prices, proof.entry_prices, proof.dear
    )
    assert fault_in(plan.strands, limits, proof) == ""


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_worked_flat_takes_the_fewest_strands_at_the_least_carry(name: str) -> None:
    picture = PICTURES[name]
    for limits in LIMITS:
        check(drawn(*picture).rows(), oracles.from_drawing(picture), limits)


@pytest.mark.parametrize("name", PICTURES)
def test_a_picture_worked_round_takes_the_fewest_strands_at_the_least_carry(name: str) -> None:
    picture = PICTURES[name]
    for limits in LIMITS[1::3]:
        plain = oracles.from_drawing(picture, is_round=True)
        check(drawn(*picture, is_round=True).rows(), plain, limits)


@pytest.mark.parametrize("name", PICTURES)
def test_the_most_segments_of_a_row_and_the_areas_bound_the_strands(name: str) -> None:
    """Farther reach never adds a strand; there are never fewer than the most segments of each colour in one row."""
    rows = drawn(*PICTURES[name]).rows()
    found = [plan_strands(rows, Carry(reach)).strands.total.strands for reach in REACHES]
    assert found == sorted(found, reverse=True)
    yarns = {segment.yarn for row in rows for segment in row.segments}
    most = sum(max(sum(s.yarn == yarn for s in row.segments) for row in rows) for yarn in yarns)
    assert most <= found[-1]
