"""Routes run on the end's own colour only, hang together and are long enough, or it is said that there is no room."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given

from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.cloth.rows import Place
from companion.knitting.cloth.seams import Seams
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.steps import End
from companion.knitting.hands.weaving import Backs, Leg, Weaving
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Break
from companion.knitting.words import US, Terms, how_to_weave
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of
from tests.knitting.cloth.test_parts import Told, fabric_of

WIDE = 20


def backs(chart: Chart, carry: Carry | None = None, **changes: object) -> tuple[Backs, tuple[End, ...], Piece]:
    piece = replace(piece_of(chart, carry), **changes)
    strands = plan_strands(piece.rows, piece.carry).strands
    return Backs(piece, strands), ends_of(strands), piece


def in_colours(chart: Chart, **colours: str) -> Backs:
    """The backs of a chart whose yarns have these colours."""
    piece = piece_of(chart)
    yarns = tuple(Yarn(yarn.name, colours.get(yarn.name, yarn.colour), yarn.symbol) for yarn in piece.yarns)
    piece = replace(piece, yarns=yarns)
    return Backs(piece, plan_strands(piece.rows, piece.carry).strands)


def followed(weaving: Weaving) -> tuple[int, int]:
    """Where one comes to who follows the legs alone; seen from the wrong side higher columns lie to the right."""
    row, column = weaving.cells[0]
    for leg in weaving.legs:
        row += {"up": leg.length, "down": -leg.length}.get(leg.way, 0)
        column += {"right": leg.length, "left": -leg.length}.get(leg.way, leg.leans)
    return row, column


@given(charts(max_rows=20, max_columns=20, has_gaps=False), limits())
def test_a_route_is_of_its_own_colour_hangs_together_and_is_long_enough(chart: Chart, carry: Carry) -> None:
    """But for the tail of the bind-off, which runs along the last row whatever its colours, where it is flat."""
    found, ends, piece = backs(chart, carry)
    top = len(chart.grid) - 1
    for end in ends:
        weaving = found.weaving(end)
        run = chart.runs(end.place.row)[end.place.segment]
        if end == End(Place(top, len(chart.runs(top)) - 1), "finish") and not chart.rounds[top]:
            run = chart.runs(top)[0][::-1]
        assert weaving.cells[0] == (end.place.row, run[0][0] if end.kind == "start" else run[-1][0])
        for row, column in weaving.cells:
            cell = chart.grid[row][column - 1]
            assert cell is not None
            assert cell.yarn == weaving.yarn or (weaving.on_edge and row == top)
        length = 0.0
        for (r, c), (s, d) in zip(weaving.cells, weaving.cells[1:], strict=False):
            assert (abs(r - s), abs(c - d)) in {(1, 0), (0, 1), (1, 1)}
            length += float(piece.gauge.row_cm if r != s else piece.gauge.stitch_cm)
        assert weaving.cm == pytest.approx(length)
        assert weaving.is_split == (length < 5 - float(piece.gauge.stitch_cm) / 2 - 1e-9) or weaving.is_split
        assert weaving.is_split or length >= 4.75 - 1e-9
        assert sum(leg.length for leg in weaving.legs) == len(weaving.cells) - 1
        assert followed(weaving) == weaving.cells[-1]


@given(charts(max_rows=20, max_columns=12), limits())
def test_no_row_is_needed_that_the_route_does_not_go_through_or_that_makes_the_fabric_firm(
    chart: Chart, carry: Carry
) -> None:
    """At 28 rows over 10 cm seven rows are 2.5 cm."""
    found, ends, _ = backs(chart, carry)
    for end in ends:
        weaving = found.weaving(end)
        top = max(row for row, _ in weaving.cells)
        assert weaving.rows == max(end.place.row + 8, top + 1)


def test_no_end_is_ready_before_the_row_in_which_it_comes_about_is_done() -> None:
    """The right part is worked after three rows of the left one, and its strand joined where it binds off the middle,
    beside the left part: that the left part is three rows high makes nothing of the right one."""
    told: list[Told] = [
        ("", "sssssbskkkkk"),
        ("left", "sksk........"), ("left", "..kkskk....."), ("left", ".....sssb..."),
        ("right", "..........sb"),
    ]  # fmt: skip
    piece = replace(piece_of(drawn("s"), rows=8), fabric=fabric_of(told))
    strands = plan_strands(piece.rows, Carry(3)).strands
    backs = Backs(piece, strands)
    joined = End(Place(4, 0), "start")
    assert joined in ends_of(strands)
    assert all(backs.weaving(end).rows > end.place.row for end in ends_of(strands))


def test_up_along_the_change_then_into_its_own_colour() -> None:
    """A block of 8 sts on a ground of 20, from row 2 up. That row is a wrong-side row, worked toward the right edge:
    the block's start hangs at its left seen from the right side, at its right as one looks at the back."""
    chart = drawn(*["s" * 6 + "b" * 8 + "s" * 6] * 20, "s" * WIDE)
    weaving = backs(chart)[0].weaving(End(Place(1, 1), "start"))
    # Row 2 is worked from column 20 down: the block is entered at column 14.
    assert weaving.cells[0] == (1, 14)
    assert weaving.closes == "left"
    assert weaving.legs == (Leg("up", 7), Leg("left", 5))
    assert weaving.cells[7:] == ((8, 14), (8, 13), (8, 12), (8, 11), (8, 10), (8, 9))
    assert how_to_weave(weaving, US) == [
        "Undo the half-knot first, if there is one.",
        "Keep the tail looped through the sand beside it, so that no hole opens.",
        "Draw it to the left, toward its own colour, until the hole is closed.",
        "Weave in through the backs of brick only: up 7 rows along the line of crossings, to the left 5 sts (5 cm).",
    ]


def test_a_finish_goes_down_and_has_no_half_knot() -> None:
    chart = drawn("s" * WIDE, *["s" * 6 + "b" * 8 + "s" * 6] * 20, "s" * WIDE)
    weaving = backs(chart)[0].weaving(End(Place(20, 1), "finish"))
    # Row 21, a right-side row: the block is left at column 14.
    assert (weaving.cells[0], weaving.closes) == ((20, 14), "left")
    assert weaving.legs[0] == Leg("down", 14)
    assert how_to_weave(weaving, Terms("uk"))[0].startswith("Keep the tail looped through the sand")


def test_a_line_of_crossings_that_leans_is_followed() -> None:
    lines = [" " * 0 + "s" * (4 + i) + "b" * 8 + "s" * (10 - i) for i in range(8)]
    weaving = backs(drawn(*lines[::-1], "s" * 22))[0].weaving(End(Place(1, 1), "start"))
    columns = [column for _, column in weaving.cells[:8]]
    assert columns == [18, 17, 16, 15, 14, 13, 12, 11]
    assert weaving.legs[0] == Leg("up", 7, leans=-7)
    assert "up 7 rows and 7 sts to the left along the line of crossings," in how_to_weave(weaving, US)[3]


def test_a_route_along_a_line_that_leans_to_an_edge_stays_on_the_fabric() -> None:
    """Three stitches wide: the sand of row 2 hangs at the left edge as one looks at the back, and the line leans away
    from it, so that there is a stitch to the left again."""
    weaving = backs(drawn("bss", "bbs", "sss"), Carry(0))[0].weaving(End(Place(1, 1), "start"))
    assert weaving.cells[:3] == ((1, 1), (2, 2), (2, 1))
    assert weaving.legs[:2] == (Leg("up", 1, leans=1), Leg("left", 1))
    way = "up 1 row and 1 st to the right along the line of crossings, to the left 1 st,"
    assert way in how_to_weave(weaving, US)[3]


def test_a_tail_of_the_bind_off_runs_along_its_own_edge_where_the_row_is_of_other_colours() -> None:
    """The brick is in hand at the left edge after row 1, and ends at the right one over sand."""
    weaving = backs(drawn("bb" + "s" * 18))[0].weaving(End(Place(0, 1), "finish"))
    assert (weaving.cells[0], weaving.legs, weaving.neighbour) == ((0, 1), (Leg("right", 10),), "")
    assert how_to_weave(weaving, US)[0] == (
        "Weave in along the bind-off edge, which is of its own colour: to the right 10 sts (5 cm)."
    )
    assert "along the cast-off edge" in how_to_weave(weaving, Terms("uk"))[0]


def test_along_an_edge_of_its_own_it_goes_no_further_than_that_edge() -> None:
    """Brick binds off three stitches over sand, and its tail goes back and forth over those."""
    weaving = backs(drawn("b" * 9 + "...", "s" * 12, "s" * 12))[0].weaving(End(Place(2, 0), "start"))
    assert set(weaving.cells) == {(1, 1), (1, 2), (1, 3)}
    assert weaving.is_split


def test_in_a_small_area_it_goes_back_and_forth() -> None:
    chart = drawn("s" * WIDE, "s" * 7 + "b" * 5 + "s" * 8, "s" * WIDE)
    weaving = backs(chart)[0].weaving(End(Place(1, 1), "start"))
    assert weaving.legs == (Leg("left", 4), Leg("right", 4), Leg("left", 2))
    assert not weaving.is_split


def test_two_stitches_are_too_small_an_area_and_the_plies_are_split() -> None:
    chart = drawn("s" * WIDE, "s" * 9 + "bb" + "s" * 9, "s" * WIDE)
    weaving = backs(chart)[0].weaving(End(Place(1, 1), "start"))
    assert weaving.is_split
    assert "That is little room: split the plies, and take each half thinly another way." in how_to_weave(weaving, US)


SPOT = drawn("s" * WIDE, "s" * 9 + "bb" + "s" * 9, "s" * WIDE)
CAUTION = "Behind the colours round it, all clearly lighter, it may show through; sand hides it best."


def test_dark_beside_only_lighter_may_show_through_and_dark_beside_dark_not() -> None:
    """L* of #202020 is 12.2, of #f0e8d8 92.4, of #282828 16.3 (CIE 1976 L*)."""
    start = End(Place(1, 1), "start")
    light, dark = (in_colours(SPOT, brick="#202020", sand=ground).weaving(start) for ground in ("#f0e8d8", "#282828"))
    assert light.lighter_by == pytest.approx(80, abs=1)
    assert CAUTION in how_to_weave(light, US)
    assert CAUTION not in how_to_weave(light, US, shows_by=90)
    assert CAUTION not in how_to_weave(dark, US)
    assert "Where more is needed, go on behind sand, which hides it best." in how_to_weave(dark, US)


def test_of_two_neighbours_the_darker_one_hides_it_best() -> None:
    chart = drawn("k" * WIDE, "s" * 9 + "bb" + "s" * 9, "s" * WIDE)
    weaving = in_colours(chart, brick="#202020", sand="#f0e8d8", kelp="#304030").weaving(End(Place(1, 1), "start"))
    assert weaving.hides == "kelp"
    assert CAUTION not in how_to_weave(weaving, US)


def test_where_there_is_room_nothing_is_said_of_showing_through() -> None:
    chart = drawn(*["s" * 6 + "b" * 8 + "s" * 6] * 20, "s" * WIDE)
    weaving = in_colours(chart, brick="#202020", sand="#f0e8d8").weaving(End(Place(1, 1), "start"))
    assert (weaving.is_split, weaving.hides) == (False, "")


def test_an_end_at_an_edge_that_is_sewn_up_waits_for_the_seam() -> None:
    chart = drawn("b" * WIDE, "b" * WIDE, *["s" * WIDE] * 2)
    # The brick is joined at the start of row 3, a right-side row: at the right edge.
    start = End(Place(2, 0), "start")
    assert not backs(chart)[0].weaving(start).is_for_seam
    assert not backs(chart, seams=Seams(left=Fraction(1)))[0].weaving(start).is_for_seam
    sewn = backs(chart, seams=Seams(right=Fraction(1)))[0].weaving(start)
    assert sewn.is_for_seam
    assert how_to_weave(sewn, US) == ["Leave it: this edge is sewn up, and the end is woven in along the seam then."]
    assert how_to_weave(sewn, Terms("uk"))[0].endswith("the end is sewn in along the seam then.")


def test_an_end_inside_a_run_is_woven_away_from_the_other_one() -> None:
    piece = piece_of(drawn("s" * WIDE))
    strands = plan_strands(piece.rows, piece.carry).strands
    found = Backs(piece, replace(strands, breaks=(Break(Place(0, 0), 8, False),)))
    old, new = (found.weaving(End(Place(0, 0), kind, 8)) for kind in ("finish", "start"))
    assert (old.cells[0], new.cells[0]) == ((0, 8), (0, 9))
    assert (old.legs[0].way, new.legs[0].way) == ("left", "right")
    assert how_to_weave(new, US)[0] == "Another length of sand was joined here: draw both ends just tight enough."


def test_a_mirrored_knitters_back_is_the_same_back() -> None:
    chart = drawn(*["s" * 6 + "b" * 8 + "s" * 6] * 20, "s" * WIDE)
    piece = piece_of(chart).for_hands(is_mirrored=True)
    found = Backs(piece, plan_strands(piece.rows, piece.carry).strands)
    weaving: Weaving = found.weaving(End(Place(1, 1), "start"))
    assert (weaving.cells[0], weaving.closes) == ((1, 7), "right")


def test_more_rows_to_the_centimetre_make_longer_ways() -> None:
    chart = drawn(*["s" * 6 + "b" * 8 + "s" * 6] * 30, "s" * WIDE)
    fine = backs(chart, gauge=Gauge(Fraction(20), Fraction(40)))[0].weaving(End(Place(1, 1), "start"))
    assert fine.legs == (Leg("up", 10), Leg("left", 5))
