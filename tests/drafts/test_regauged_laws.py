"""Laws of a plan at another gauge, for random plans: flat and shaped pieces, those that divide, and tubes."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from companion.drafts.regauged import Regauging
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.reckoning.bands import bands
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import Loaded, load_text
from companion.problems import Problems
from tests.plan.plans import HEAD, read
from tests.simulator.plans import Drawn, plans

gauges = st.tuples(st.integers(12, 40), st.integers(16, 60)).map(lambda many: Gauge(*map(Fraction, many)))


def loaded_of(drawn: Drawn) -> Loaded:
    try:
        return load_text(drawn.text, "quay.yaml", drawn.files)
    except Problems:  # a plan for left hands, or one that cannot be bound off as it says
        assume(False)
        raise


@settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(plans(), gauges)
def test_kept_a_shaped_piece_has_every_stitch_and_redrawn_every_piece_its_size(drawn: Drawn, gauge: Gauge) -> None:
    regauging = Regauging(loaded_of(drawn), "quay.yaml", gauge, "rowside regauge")
    old = regauging.old.fabric
    kept = regauging.by("keep").loaded.piece
    assert kept.gauge == gauge
    if old.is_shaped or any(row.is_round for row in old.rows):
        assert kept.fabric == old
    try:
        new = regauging.by("redraw").loaded.piece
    except Problems as told:  # parts of a stitch or two, and tips; never what has no shape, but for its bind-off
        is_of_top = TOP_ROUND in told.problems[0].what
        assert is_of_top if any(row.is_round for row in old.rows) else old.is_shaped
        return
    assert (columns_drawn(new.fabric), len(new.fabric.levels)) == (regauging.columns, regauging.rows)
    kinds = [[(one.is_round, one.seam, one.first) for one in bands(fabric)] for fabric in (old, new.fabric)]
    assert [one for one in kinds[1] if one[2]] == [one for one in kinds[0] if one[2]]
    assert {one[:2] for one in kinds[1]} == {one[:2] for one in kinds[0]}
    width = columns_drawn(old) * regauging.old.gauge.stitch_cm
    ribs = 4 if any(row.is_round for row in old.rows) else 1  # all ribs of these plans repeat after four stitches
    least = ribs * gauge.stitch_cm
    assert abs(regauging.columns * gauge.stitch_cm - width) <= least / 2 or regauging.columns == ribs
    knitted = {segment.yarn for row in new.rows for segment in row.segments}
    assert len(plan_strands(new.rows, new.carry).strands.first) >= len(knitted)


TOP_ROUND = "is a round of several colours, and no run can be bound off in its own strand there"


def test_where_another_round_is_the_last_one_and_cannot_be_bound_off_so_that_is_said() -> None:
    """Of four rounds at 28 to 10 cm one is left at 7, and three of the four have brick in its left half."""
    rounds = "  - worked: round\n    chart: |\n      ssss\n      bbss\n      bbss\n      bbss\n"
    loaded = read(f"{HEAD}bind_off: {{colours: each}}\nrows:\n{rounds}")
    regauging = Regauging(loaded, "quay.yaml", Gauge(Fraction(20), Fraction(7)), "rowside regauge")
    with pytest.raises(Problems, match=TOP_ROUND):
        regauging.by("redraw")
    assert regauging.by("keep").loaded.piece.fabric == regauging.old.fabric


def test_a_plan_without_symbols_stays_one() -> None:
    loaded = read(f"{HEAD}rows:\n  - plain: {{rows: 8, stitches: 20, yarn: sand}}\n")
    made = Regauging(loaded, "quay.yaml", Gauge(Fraction(10), Fraction(14)), "rowside regauge").by("redraw")
    assert "symbols" not in made.text
    assert (made.loaded.piece.fabric.columns, len(made.loaded.piece.fabric.rows)) == (10, 4)


def test_what_cannot_be_redrawn_says_what_to_do() -> None:
    """At half the stitches nothing is left of a part of one stitch."""
    text = f"{HEAD}rows:\n  - plain: {{rows: 2, stitches: 5, yarn: sand}}\n  - chart: |\n      s.sss\n      s.sss\n" \
        "    opening: {first: right}\n"
    regauging = Regauging(read(text), "quay.yaml", Gauge(Fraction(4), Fraction(28)), "rowside regauge")
    with pytest.raises(Problems) as told:
        regauging.by("redraw")
    [problem] = told.value.problems
    assert problem.what == (
        'This plan cannot be drawn anew so: The section has an opening, and no row of it has "." between its '
        "stitches. --keep writes it with the stitches and rows it has; change its outline there."
    )
    assert regauging.by("keep").loaded.piece.fabric == regauging.old.fabric
