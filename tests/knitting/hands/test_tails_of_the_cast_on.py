"""The tails that a cast-on leaves: where each hangs on the needle, how it is woven in, what hangs ahead meanwhile."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import assume, given

from companion.knitting import words
from companion.knitting.cloth.rows import Casting, Method, Place
from companion.knitting.cloth.seams import Seams
from companion.knitting.hands.ends import corner, ends_of, exists
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import CastOn, CutCastOn, End, Join
from companion.knitting.hands.trapping import laid_in
from companion.knitting.hands.weaving import Backs, Leg
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.sharing import shared_starts
from companion.knitting.words import US
from companion.plan.outline import troubles
from tests.knitting.cast_ons import EACH, WALL, anything, cast
from tests.knitting.charts import Chart, castings, drawn, limits, shared_or_not


# Gaps of row 1 of WALL, worked from gap 0 at the right edge to gap 10: its runs begin at 0, 3 and 6.
@pytest.mark.parametrize(
    ("cast_on", "gaps"),
    [
        # Long-tail: tail and strand end together, where row 1 starts on the section.
        (EACH, [0, 3, 6]),
        # Knitted or cable: the tail stays where the section was begun, at its far end.
        (Casting("knitted", is_each=True), [3, 6, 10]),
        (Casting("cable", is_each=True), [3, 6, 10]),
        (Casting(), [0, 3, 6]),
        (Casting("knitted"), [10, 3, 6]),
        (Casting("cable"), [10, 3, 6]),
    ],
)
def test_the_tails_hang_where_the_cast_on_leaves_them(cast_on: Casting, gaps: list[int]) -> None:
    _, strands = cast(WALL, cast_on)
    assert [corner(End(Place(0, segment), "start"), strands).gap for segment in range(3)] == gaps


@pytest.mark.parametrize(("method", "tail"), [("long-tail", 0), ("knitted", 10), ("cable", 10)])
def test_of_a_cast_on_of_its_own_both_ends_hang_where_it_has_them(method: Method, tail: int) -> None:
    _, strands = cast(WALL, Casting(method, yarn="brick"))
    start, finish = End(Place(0, 0), "cast-on start"), End(Place(0, 0), "cast-on finish")
    assert (corner(start, strands).gap, corner(finish, strands).gap) == (tail, 0)
    assert corner(End(Place(0, 0), "start"), strands).gap == 0


def test_of_a_cast_on_of_its_own_two_ends_more_are_woven_in() -> None:
    _, usual = cast(WALL, Casting())
    _, strands = cast(WALL, Casting(yarn="kelp"))
    own = [End(Place(0, 0), "cast-on start"), End(Place(0, 0), "cast-on finish")]
    assert list(ends_of(strands)) == [*own, *ends_of(usual)]
    assert (strands.total.strands, strands.total.ends) == (usual.total.strands, usual.total.ends + 2)
    assert [end in ends_of(strands) for end in own] == [True, True]
    assert [end in ends_of(usual) for end in own] == [False, False]
    assert End(Place(0, 1), "cast-on start") not in ends_of(strands)
    assert not exists(own[0], 0, 0, strands)
    assert exists(own[0], 0, 1, strands)
    assert exists(own[1], 2, 0, strands)


@given(anything, castings(), shared_or_not())
def test_every_section_leaves_one_tail_and_every_end_is_told_on_the_way(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    _, strands = cast(chart, cast_on, carry)
    tails = 0
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            for step in run.steps:
                tails += isinstance(step, Join | CastOn | CutCastOn)
            tails += run.is_last
    ends = ends_of(strands)
    assert len(ends) == len(set(ends)) == tails == strands.total.ends


@given(anything, castings(), limits())
def test_a_tail_runs_through_its_own_colour_or_along_the_edge_it_made(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    piece, strands = cast(chart, cast_on, carry)
    assume(not list(troubles(piece.rows)))
    backs = Backs(piece, strands)

    def is_stitch(row: int, column: int) -> bool:
        return 0 <= row < len(chart.grid) and chart.grid[row][column - 1] is not None

    for end in ends_of(strands):
        weaving = backs.weaving(end)
        cells = [chart.grid[row][column - 1] for row, column in weaving.cells]
        assert None not in cells
        assert bool(weaving.on_edge) == any(cell is not None and cell.yarn != weaving.yarn for cell in cells[:1])
        if weaving.on_edge:
            assert len({row for row, _ in weaving.cells}) == 1
            beyond = 1 if weaving.on_edge == "bind-off" else -1
            assert not any(is_stitch(row + beyond, column) for row, column in weaving.cells)
            assert weaving.is_of_cast_on == (weaving.on_edge == "cast-on" and weaving.cells[0][0] == 0)
            assert not (weaving.is_of_cast_on and cast_on.is_each)
        else:
            assert {cell.yarn for cell in cells if cell} == {weaving.yarn}
        edge = weaving.cells[0][1] if weaving.is_of_cast_on else None
        if edge is not None and (cast_on.method != "long-tail") and end.kind != "cast-on finish":
            run = chart.runs(0)[end.place.segment if cast_on.is_each else -1]
            assert edge == run[-1][0]
        elif edge is not None:
            assert edge == chart.runs(0)[end.place.segment][0][0]


def test_the_tail_of_a_knitted_section_closes_the_change_at_which_it_was_begun() -> None:
    """The brick was cast on after 4 sand at the left: its tail hangs at column 6, beside the sand worked after it; it
    is drawn toward its own colour, which is to the left as one looks at the wrong side."""
    piece, strands = cast(WALL, Casting("knitted", is_each=True))
    weaving = Backs(piece, strands).weaving(End(Place(0, 1), "start"))
    assert (weaving.cells[0], weaving.neighbour, weaving.closes) == ((0, 6), "sand", "left")
    long_tail = Backs(*cast(WALL, EACH)).weaving(End(Place(0, 1), "start"))
    assert (long_tail.cells[0], long_tail.neighbour, long_tail.closes) == ((0, 4), "sand", "right")
    told = words.how_to_weave(long_tail, US)
    assert told[0] == "Keep the tail looped through the sand beside it, so that no hole opens."
    assert "half-knot" not in " ".join(told)


def test_a_tail_at_stitches_of_other_colours_runs_along_the_cast_on_edge() -> None:
    """5 cm at 20 stitches over 10 cm are 10 stitches; 24 columns, and the tail of a knitted cast-on at the left."""
    piece, strands = cast(drawn("b" * 4 + "s" * 20), Casting("knitted"))
    weaving = Backs(piece, strands).weaving(End(Place(0, 0), "start"))
    assert weaving.legs == (Leg("left", 10),)
    assert words.how_to_weave(weaving, US)[0] == (
        "Weave in along the cast-on edge, which is of its own colour: to the left 10 sts (5 cm)."
    )


def test_the_tail_of_the_cast_on_does_not_wait_for_a_seam() -> None:
    piece, strands = cast(WALL, Casting("knitted", is_each=True))
    backs = Backs(replace(piece, seams=Seams(Fraction(1), Fraction(1))), strands)
    assert not any(backs.weaving(End(Place(0, segment), "start")).is_for_seam for segment in range(3))


def test_a_strand_begun_in_the_cast_on_starts_at_no_middle_and_its_tail_is_not_laid_in() -> None:
    chart = drawn(*["s" * 12 + "b" * 3 + "s" * 12] * 2)
    _, strands = cast(chart, EACH, Carry(3, share=True))
    assert strands.shared == ()
    assert shared_starts(strands, 3) == ()
    assert [laid_in(strands, Place(0, segment)) for segment in range(3)] == [(), (), ()]
    # With a cast-on of its own all three are joined: the two sand lie 3 stitches apart at their near ends only.
    _, own = cast(drawn("sbs"), Casting(yarn="kelp"), Carry(3, share=True))
    assert own.shared == ((Place(0, 0), Place(0, 2)),)
    _, own = cast(chart, Casting(yarn="kelp"))
    assert [step.end for _, step in laid_in(own, Place(0, 0))] == [End(Place(0, 0), "start")]


def test_while_row_1_is_worked_the_strands_cast_on_hang_ahead() -> None:
    _, strands = cast(WALL, EACH)
    assert hangs(strands, 0, 0) == ()
    found = hangs(strands, 0, 1)
    assert [(hang.yarn, hang.away, hang.is_in_hand) for hang in found] == [
        ("sand", 0, True), ("brick", 0, False), ("sand", 3, False),
    ]  # fmt: skip
    assert [hang.worked for hang in found] == [Place(0, 0), Place(0, 1), Place(0, 2)]
    assert [hang.away for hang in hangs(strands, 0, 3)] == [0, 4, 7]
