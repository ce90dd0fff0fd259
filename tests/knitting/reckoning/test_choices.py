"""What techniques cost is what their plans cost, and the advice keeps its word."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.reckoning.choices import Choice, Figures, beaten, compared, grid, named, recommended
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands import moves
from companion.knitting.strands.floats import float_cm, float_into
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Past
from companion.knitting.words.choices import technique, why_recommended
from tests.knitting.charts import Chart, charts, drawn, piece_of, shared_or_not
from tests.knitting.parted import parted, shared_limits

any_limits = shared_or_not() | shared_limits()
some = st.lists(any_limits, min_size=1, max_size=4, unique=True)


@given(charts(ways=("flat", "round", "mixed")) | parted(), some)
def test_every_choice_costs_what_its_own_plan_costs(chart: Chart, limits: list[Carry]) -> None:
    piece = piece_of(chart)
    found = list(compared(piece, limits))
    assert [choice.limits for choice in found] == limits
    for each, figures, _ in found:
        strands = plan_strands(piece.rows, each).strands
        total = strands.total
        assert figures[:4] == (total.strands, total.ends, total.most_at_once, total.carried)
        floats = [found for place in strands.rows.places() if (found := float_into(strands, place))]
        longest = max((float_cm(each.stitches, each.rows, piece.gauge) for each in floats), default=0.0)
        assert figures.longest_cm == pytest.approx(longest)
        assert figures.yarn_cm == sum(length.cm for length in lengths(piece, strands))


@given(charts(max_rows=8, max_columns=10) | parted(), any_limits, some, st.data())
def test_in_mid_piece_what_is_worked_stays(
    chart: Chart, first: Carry, limits: list[Carry], data: st.DataObject
) -> None:
    piece = piece_of(chart)
    begun = plan_strands(piece.rows, first).strands
    rows = data.draw(st.integers(0, len(begun.strand_of)))
    past = Past(begun.strand_of[:rows], shared=begun.shared)
    for each, figures, _ in compared(piece, limits, past, 2, begun.rows):
        strands = plan_strands(begun.rows, each, past).strands
        assert figures.ends == strands.total.ends + 4
        assert figures[0::2][:2] == (strands.total.strands, strands.total.most_at_once)
        assert figures.yarn_cm == sum(length.cm for length in lengths(piece, strands))


@pytest.mark.parametrize(("above", "cut", "strands"), [("ssbss", set(), 4), ("sssss", {1}, 3)])
def test_in_the_middle_of_a_shared_run_what_is_worked_of_it_stays(above: str, cut: set[int], strands: int) -> None:
    """Sand 3 has worked two stitches of row 2. Sand 1 takes over; where it was cut, sand 3 works on. No new strand of
    sand is joined."""
    piece = piece_of(drawn(above, "sssss", "ssbss"))
    rows, past = piece.rows.divided_at({1: (3,)}), Past(((1, 2, 3), (3,)), frozenset(cut))
    found = list(compared(piece, [Carry(3), Carry(3, share_runs=True), Carry(3, 0, 0, True)], past, 0, rows))
    assert [choice.figures.strands for choice in found] == [strands] * 3
    for each, figures, _ in found:
        total = plan_strands(rows, each, past).strands.total
        assert (figures.strands, figures.carried) == (total.strands, total.carried)


def test_six_choices_at_most_are_laid_out_and_those_in_force_are_among_them() -> None:
    chart = drawn("sbbs", "ssss")
    assert named(piece_of(chart)) == (Carry(3), Carry(3, 3), Carry(3, 5), Carry(3, 0, 2), Carry(3, 3, 4))
    own = Carry(2, 1, 7)
    assert named(piece_of(chart, own))[-1] == own
    assert len(named(piece_of(chart, own))) == 6


def test_runs_are_shared_in_one_of_the_choices_where_the_piece_has_any_to_share() -> None:
    piece, shared = piece_of(drawn("ssbss", "sssss", "ssbss")), Carry(3, share_runs=True)
    assert named(piece) == (Carry(3), shared, Carry(3, 3), Carry(3, 5), Carry(3, 0, 2), Carry(3, 3, 4))
    found = {choice.limits: choice.figures for choice in compared(piece, named(piece))}
    assert (found[shared].strands, found[shared].carried) == (4, 1)
    assert found[Carry(3)].strands == 5
    worked = plan_strands(piece.rows, shared).strands
    for row, is_ahead in ((1, True), (2, False)):
        past = Past(worked.strand_of[:row])
        assert (shared in named(piece, past, worked.rows)) == is_ahead
    own = Carry(2, 1, 7, True)
    others = Carry(3, 0, 0, True), Carry(3, 0, 0, True, True), Carry(3, 3, 0, True), Carry(3, 0, 2, True)
    assert named(replace(piece, carry=own)) == (*others, Carry(3, 3, 4, True), own)
    assert all(limits.share_runs for limits in named(replace(piece, carry=shared)))
    assert all(limits.share_runs for limits in grid(replace(piece, carry=shared)))


def test_whether_runs_can_be_shared_is_not_asked_for_long(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(moves, "MOST_LOOKS", 9)
    assert Carry(3, share_runs=True) not in named(piece_of(drawn("ssbss", "sssss", "ssbss")))


def test_the_grid_is_every_combination() -> None:
    # At 20 stitches over 10 cm the default reach is 3, which the usual grid has already; at 8 it is 2.
    piece = piece_of(drawn("sbbs", "ssss"))
    assert len(grid(piece)) == 3 * 3 * 3
    assert grid(piece, [2, 1], [0], [0, 9]) == (
        Carry(1), Carry(1, 0, 9), Carry(2), Carry(2, 0, 9), Carry(3)
    )  # fmt: skip


def choice(reach: int, *figures: float) -> Choice:
    strands, ends, most, carried, longest, yarn = figures
    return Choice(Carry(reach), Figures(int(strands), int(ends), int(most), int(carried), longest, Fraction(yarn)))


def test_beaten_is_who_is_worse_in_some_count_and_better_in_none() -> None:
    fewest, plainest = choice(1, 3, 6, 3, 9, 2.0, 500), choice(2, 5, 10, 3, 0, 0.0, 600)
    worse, same = choice(3, 5, 10, 3, 1, 0.5, 600), choice(4, 3, 6, 3, 9, 2.0, 500)
    assert beaten([fewest, plainest, worse, same]) == {worse}


def test_recommended_are_the_fewest_ends_without_a_float_to_catch() -> None:
    piece = piece_of(drawn("sbbs", "ssss"))
    long, short = choice(8, 2, 4, 2, 9, 4.0, 500), choice(3, 3, 6, 3, 2, 2.5, 500)
    shorter = choice(1, 4, 8, 4, 0, 0.0, 600)
    assert recommended(piece, [long, short, shorter]) == short
    assert why_recommended(piece, [long, short, shorter], "2.5 cm") == (
        'Recommended: "strict", the fewest ends (6) with no float over 2.5 cm, so that none has to be caught.'
    )
    assert recommended(piece, [long]) == long
    assert why_recommended(piece, [long], "2.5 cm") == (
        'Recommended: "reaching 8 sts", the fewest ends (4); all have floats over 2.5 cm, which must be caught.'
    )


@pytest.mark.parametrize(
    ("limits", "told"),
    [
        (Carry(3), "strict"),
        (Carry(3, 5), "up to 5 sts behind"),
        (Carry(3, 1, 1), "up to 1 st behind, waiting up to 1 row"),
        (Carry(0), "straight up only"),
        (Carry(1, 0, 4, True), "reaching 1 st, waiting up to 4 rows, starts shared"),
    ],
)
def test_limits_have_names(limits: Carry, told: str) -> None:
    assert technique(limits, piece_of(drawn("ss"))) == told
