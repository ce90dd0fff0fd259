"""Laws of pieces with bind-offs, casts-on, parts, flat parts of tubes and left hands, by an independent reading."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import Phase, assume, find, given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.carries import carry as carried_over
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.ends import corner, ends_of
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.weaving import Backs
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from companion.pages import as_json, written
from companion.plan.outline import troubles
from tests import oracles
from tests.knitting.charts import limits
from tests.knitting.hands.test_weaving import followed
from tests.knitting.shaped import Shaped, shaped


def planned(one: Shaped, carry: Carry) -> Strands:
    return plan_strands(one.rows(), carry).strands


@pytest.mark.parametrize(
    "has",
    [
        lambda one: "bind off" in ways(one), lambda one: "cast on" in ways(one), lambda one: "loops" in ways(one),
        lambda one: {"k2tog", "ssk"} <= ways(one), lambda one: {"m1L purlwise", "m1R"} <= ways(one),
        lambda one: one.is_mirrored and "bind off" in ways(one),
        lambda one: one.is_middle_held and one.is_mirrored,
        lambda one: [row[0] for row in one.rows_told].count("left") > 2 and "bind off" in ways(one),
        lambda one: {"round", "2"} <= {row[1] for row in one.rows_told} and one.is_mirrored,
        lambda one: sum(len(below) > 1 for below in one.below) == 2 and one.is_mirrored,
        lambda one: any(row.inner for row in one.rows()) and not one.is_middle_held and bool(one.inward),
    ],
)
def test_such_pieces_are_among_those_that_are_drawn(has: Callable[[Shaped], bool]) -> None:
    no_smaller = settings(max_examples=2000, phases=[Phase.generate])  # the first that is found will do
    assert has(find(shaped(), has, settings=no_smaller))


def ways(one: Shaped) -> set[str]:
    rows = one.rows()
    return {made.how for index in range(len(rows)) for made in shapings(rows, index)}


@given(shaped(), limits())
def test_the_strands_are_the_fewest_with_the_least_carry_and_the_proof_holds(one: Shaped, carry: Carry) -> None:
    plan = plan_strands(one.rows(), carry)
    asked = carry.reach, carry.behind, carry.rest
    total = plan.strands.total
    assert (total.strands, total.carried) == (
        oracles.fewest_strands(one.plain(), *asked), oracles.least_carry(one.plain(), *asked)
    )  # fmt: skip
    assert not fault_in(plan.strands, carry, plan.proof)


@given(shaped(), limits())
def test_every_move_made_is_legal_and_told_at_its_carry(one: Shaped, carry: Carry) -> None:
    strands = planned(one, carry)
    legal = oracles.legal_moves(one.plain(), carry.reach, carry.behind, carry.rest)
    for place in strands.rows.places():
        if (origin := strands.before(place)) is not None:
            assert legal[origin, place] == carried_over(strands.rows, origin, place)


@given(shaped())
def test_hands_that_do_as_told_use_up_the_stitches_on_the_needle(one: Shaped) -> None:
    """Stitch by stitch: a decrease takes two or three, a stitch made none, every other one. A bar lies between two
    stitches of the row below and is lifted once; neither it nor the run it is worked in changes colour there."""
    rows = one.rows()
    assume(not any(troubles(rows)))
    for index, below in enumerate(one.below):
        if not below:
            continue
        cells = [cell for cell in one.rows_told[index][2] if cell]
        here = [cell.yarn for cell in (cells if rows[index].toward == "left" else cells[::-1])]
        done = {made.segment: [] for made in shapings(rows, index)}
        for made in shapings(rows, index):
            done[made.segment].append(made)
        needle, position, bars = on_needle(one, index), 0, set[int]()
        used = 0
        for segment, run in enumerate(rows[index].segments):
            worked = 0
            for made in done.get(segment, ()):
                used += made.after - worked
                worked = made.after + made.takes
                if made.how == "bind off":
                    used += 1 - made.stitches
                elif made.how in ("cast on", "loops", "loop"):
                    assert made.stitches == made.takes or made.how == "cast on"
                    used -= made.stitches if made.how == "cast on" else 0
                elif made.stitches < 0:
                    used += 1 - made.stitches
                else:
                    at = position + made.after
                    assert 0 < used < len(needle)
                    assert needle[used - 1] == needle[used]
                    assert here[at - 1] == here[at] == here[at + 1]
                    assert used not in bars
                    bars.add(used)
            used += run.stitches - worked
            position += run.stitches
        assert used == len(needle)


def on_needle(one: Shaped, index: int) -> list[str]:
    """The yarns of the stitches that a row is worked on, in working order: where the piece divides those of its own
    side, and the middle ones where it begins beside them and they are not held; where parts are joined those of both.
    """
    below = one.below[index]
    row, (part, _, own) = one.rows()[index], one.rows_told[index]
    cells = sorted((c, cell) for low in below for c, cell in enumerate(one.rows_told[low][2]) if cell)
    if part and not one.rows_told[below[0]][0]:
        spans = {
            rows_told[0]: [c for c, cell in enumerate(rows_told[2]) if cell]
            for rows_told, under in zip(one.rows_told, one.below, strict=True) if rows_told[0] and under == below
        }
        right, left = max(spans["right"]), min(spans["left"])
        takes_middle = (part == "right") == (row.toward == "right") and not one.is_middle_held
        if part == "right":
            cells = [(c, cell) for c, cell in cells if c <= (left - 1 if takes_middle else right)]
        else:
            cells = [(c, cell) for c, cell in cells if c >= (right + 1 if takes_middle else left)]
    assert own
    yarns = [cell.yarn for _, cell in cells if cell]
    return yarns if row.toward == "left" else yarns[::-1]


@given(shaped(), limits())
def test_every_end_hangs_at_a_stitch_and_is_woven_in_inside_the_fabric(one: Shaped, carry: Carry) -> None:
    strands = planned(one, carry)
    backs = Backs(one.piece(), strands)
    for end in ends_of(strands):
        weaving, at = backs.weaving(end), corner(end, strands)
        assert weaving.cells[0] == (at.row, at.column)
        for row, column in weaving.cells:
            cell = one.rows_told[row][2][column - 1]
            assert cell is not None
            assert cell.yarn == weaving.yarn or weaving.on_edge
        for (r, c), (s, d) in pairwise(weaving.cells):
            assert s in (r, *one.below[r]) or r in one.below[s]
            assert abs(c - d) <= 1
        levels = [(strands.rows[row].level, column) for row, column in weaving.cells]
        assert followed(weaving._replace(cells=tuple(levels))) == levels[-1]
        assert weaving.rows > end.place.row


@given(shaped(), limits(), st.booleans())
def test_every_row_is_told_priced_and_written(one: Shaped, carry: Carry, is_trapping: bool) -> None:
    piece = replace(one.piece(), carry=carry, is_trapping=is_trapping)
    assume(not any(troubles(piece.rows)))
    plan = plan_strands(piece.rows, carry)
    strands = plan.strands
    for index in range(len(piece.rows)):
        runs = row_runs(strands, index, piece.catching)
        assert [run.place.segment for run in runs] == list(range(len(piece.rows[index].segments)))
        assert row_end(strands, index)
    assert len(list(written.whole(piece, strands))) >= len(piece.rows)
    assert "".join(as_json.rows(piece, strands, 1, len(piece.rows)))
    assert "".join(as_json.strands(piece, plan))
    assert "".join(as_json.ends(piece, strands, [(end, "not yet") for end in ends_of(strands)]))
    assert all(length.worked_cm > 0 for length in lengths(piece, strands))
