"""Areas against scipy's labelling, what sewing them on saves against networkx, and the shapes that are small."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy import ndimage

from companion.knitting.cloth.areas import (
    Area,
    Cell,
    areas,
    in_other_yarns,
    is_small,
    sewing,
    sewn_on,
    with_stitches,
)
from companion.knitting.cloth.fabric import (
    OF_OUTLINE,
    Fabric,
    FabricRow,
    Run,
    Stitch,
    Texture,
    as_knitted,
    cells,
    merged,
    stitch_in,
)
from companion.knitting.cloth.rows import Casting
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.reckoning import savings as reckoned
from companion.knitting.reckoning.savings import pairs, saved_together, savings, small_areas
from companion.knitting.reckoning.sewing import lengths_of, sewn_cm
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from tests.knitting.charts import YARNS, Chart, charts, drawn, limits, piece_of
from tests.knitting.charts import Cell as ChartCell
from tests.knitting.parted import parted, shared_limits
from tests.knitting.shaped import Shaped, shaped
from tests.oracles import PlainRow, fewest_strands


def labelled(chart: Chart) -> set[tuple[str, frozenset[Cell]]]:
    """Every area by scipy.ndimage.label, yarn by yarn; as a rule it joins cells side by side and one above the
    other."""
    grid = np.array([[cell.yarn if cell else "" for cell in row] for row in chart.grid])
    found = set()
    for yarn in YARNS:
        labels, count = ndimage.label(grid == yarn)
        for number in range(1, count + 1):
            found.add((yarn, frozenset(Cell(int(r), int(c) + 1) for r, c in np.argwhere(labels == number))))
    return found


def of_outline(fabric: Fabric) -> dict[str, object]:
    """What follows from it."""
    return {name: getattr(fabric, name) for name in OF_OUTLINE}


@given(shaped(), st.data())
def test_stitches_that_change_leave_the_outline_and_what_follows_from_it(shape: Shaped, data: st.DataObject) -> None:
    fabric = shape.fabric()
    assert len(of_outline(fabric)) == len(OF_OUTLINE)
    every = [Cell(row, column) for row, one in enumerate(fabric.rows) for column in range(0, one.columns + 2)]
    chosen = data.draw(st.lists(st.sampled_from(every), max_size=5, unique=True))
    other = Stitch("harbour", Texture("garter"))
    painted = in_other_yarns(fabric, dict.fromkeys(chosen, "harbour"))
    replaced = with_stitches(fabric, dict.fromkeys(chosen, other))
    for made in (painted, replaced):
        assert of_outline(made) == of_outline(Fabric(made.rows, made.held))
    for row, (old, own, new) in enumerate(zip(fabric.rows, painted.rows, replaced.rows, strict=True)):
        both = zip(cells(old), cells(own), cells(new), strict=True)
        for column, (was, in_yarn, instead) in enumerate(both, 1):
            is_chosen = was is not None and Cell(row, column) in chosen
            assert in_yarn == (was._replace(yarn="harbour") if was and is_chosen else was)
            assert instead == (other if is_chosen else was)
            assert stitch_in(old, column) == was
        assert own.runs == merged(own.runs)
        assert stitch_in(old, 0) is stitch_in(old, old.columns + 1) is None


@given(charts(has_textures=True))
def test_areas_are_those_that_scipy_labels(chart: Chart) -> None:
    found = areas(chart.fabric())
    assert {(area.yarn, frozenset(area.cells)) for area in found} == labelled(chart)
    assert sum(area.stitches for area in found) == sum(cell is not None for row in chart.grid for cell in row)
    for area in found:
        own = list(area.cells)
        assert own == sorted(own)
        assert area.first == own[0]
        assert area.stitches == len(own)
    assert [area.first for area in found] == sorted(area.first for area in found)


@pytest.mark.parametrize(
    ("lines", "most", "told"),
    [
        (["bb", "bb"], 4, True),
        (["bb", "bb"], 3, False),
        (["bbbbbbbbbbbb"], 1, True),
        (["bsss", "bsss", "bbbb"], 1, True),
        (["sbs", "bbb", "sbs"], 5, True),
        (["sbs", "bbb", "sbs"], 1, True),
        (["bbb", "bbb", "bbb"], 20, False),
        (["bbs", "bbb", "sbb"], 7, True),
    ],
)
def test_small_is_few_stitches_without_a_core_or_one_stitch_wide(lines: list[str], most: int, told: bool) -> None:
    fabric = drawn(*lines).fabric()
    [area] = [area for area in areas(fabric) if area.yarn == "brick"]
    assert is_small(area, most, fabric) == told


@given(charts(max_rows=8, max_columns=8), st.integers(1, 12))
def test_small_by_the_definition_cell_by_cell(chart: Chart, most: int) -> None:
    fabric = chart.fabric()
    for area in areas(fabric):
        grid = np.zeros((12, 12), int)
        for row, column in area.cells:
            grid[row, column] = 1
        has = {size: ndimage.binary_erosion(grid, np.ones((size, size))).any() for size in (2, 3)}
        assert is_small(area, most, fabric) == (not has[3] and (area.stitches <= most or not has[2]))


def plain_rows(chart: Chart, over: dict[Cell, str], is_mirrored: bool) -> list[PlainRow]:
    """The chart for the oracle, some cells in another yarn."""
    return [
        PlainRow(
            tuple(over.get(Cell(r, c), cell.yarn) if cell else None for c, cell in enumerate(row, 1)),
            "left" if (chart.side(r) == "RS") != is_mirrored else "right",
            round=chart.rounds[r],
        )
        for r, row in enumerate(chart.grid)
    ]


def needed(chart: Chart, carry: Carry, sewn: dict[Cell, str], is_mirrored: bool) -> int:
    return fewest_strands(plain_rows(chart, sewn, is_mirrored), carry.reach, carry.behind, carry.rest)


@given(charts(max_rows=8, max_columns=8), limits(6), st.integers(1, 8), st.booleans())
def test_savings_are_the_difference_of_two_solutions_by_networkx(
    chart: Chart, carry: Carry, most: int, is_mirrored: bool
) -> None:
    piece = replace(piece_of(chart, carry), is_mirrored=is_mirrored)
    before = needed(chart, carry, {}, is_mirrored)
    small = small_areas(piece, most)
    found = list(savings(piece, small))
    for area, saving in zip(small, found, strict=True):
        not_larger = {
            cell for other in small if (-other.stitches, other.first) >= (-area.stitches, area.first)
            for cell in other.cells
        }
        beside = {
            cell.yarn for place in next_to(area)
            if (cell := at(chart, *place)) and cell.yarn != area.yarn and place not in not_larger
        }
        tails = 2 * lengths_of(piece, area.stitches)
        alone = {yarn: before - needed(chart, carry, dict.fromkeys(area.cells, yarn), is_mirrored) for yarn in beside}
        best = max(alone.values(), default=0)
        if saving is None:
            assert 2 * best - tails <= 0
        else:
            assert saving.strands == alone[saving.over] == best
            assert saving.ends == 2 * best - tails > 0
    accepted = [saving for saving in found if saving]
    sewn = {cell: over for area, over in pairs(accepted) for cell in area.cells}
    for area, over in pairs(accepted):
        grounds = {sewn.get(place, cell.yarn) for place in next_to(area) if (cell := at(chart, *place))}
        assert over in grounds
    tails = 2 * sum(lengths_of(piece, saving.area.stitches) for saving in accepted)
    strands = before - needed(chart, carry, sewn, is_mirrored)
    assert saved_together(piece, accepted) == (strands, 2 * strands - tails)


def next_to(area: Area) -> list[Cell]:
    return [Cell(r + dr, c + dc) for r, c in area.cells for dr, dc in ((0, 1), (0, -1), (1, 0), (-1, 0))]


def at(chart: Chart, row: int, column: int) -> ChartCell:
    inside = 0 <= row < len(chart.grid) and 1 <= column <= len(chart.grid[row])
    return chart.grid[row][column - 1] if inside else None


@given(charts(max_rows=8, max_columns=8, has_textures=True), st.data())
def test_what_is_sewn_on_is_knitted_in_its_ground_and_found_again(chart: Chart, data: st.DataObject) -> None:
    every = areas(chart.fabric())
    wanted = [(area, "pearl") for area in data.draw(st.lists(st.sampled_from(every), unique=True))]
    fabric = sewn_on(chart.fabric(), wanted)
    for r, row in enumerate(fabric.rows):
        cells = [run.stitch for run in row.runs for _ in range(run.columns)]
        for c, (cell, old) in enumerate(zip(cells, chart.grid[r], strict=True), 1):
            inside = any(Cell(r, c) in set(area.cells) for area, _ in wanted)
            assert cell == (old._replace(yarn="pearl", sewn=old.yarn) if inside and old else old)
    assert {(area.yarn, frozenset(area.cells)) for area in sewing(fabric)} == {
        (area.yarn, frozenset(area.cells)) for area, _ in wanted
    }
    assert all(stitch is None or not stitch.sewn for row in fabric.rows for stitch in (
        run.stitch for run in as_knitted(row).runs
    ))


def test_nothing_is_proposed_twice_nor_on_other_stitches_than_stockinette() -> None:
    chart = drawn("sssss", "ssbss", "sssss")
    piece = piece_of(chart)
    [spot] = small_areas(piece, 1)
    assert spot == Area("brick", spot.strips)
    sewn = replace(piece, fabric=sewn_on(piece.fabric, [(spot, "sand")]))
    assert small_areas(sewn, 1) == ()
    garter = Stitch("brick", Texture("garter"))
    grid = tuple(tuple(garter if cell and cell.yarn == "brick" else cell for cell in row) for row in chart.grid)
    assert small_areas(piece_of(Chart(grid, chart.rounds)), 1) == ()


def test_an_area_inside_another_small_one_has_its_ground_where_both_are_sewn_on() -> None:
    """A pupil in an eye in a face."""
    piece = piece_of(drawn("ssssss", "ssssss", "sbbbss", "sbfbss", "sbbbss", "ssssss"))
    small = small_areas(piece, 10)
    assert [area.yarn for area in small] == ["brick", "foam"]
    eye, pupil = [saving for saving in savings(piece, small) if saving]
    assert (eye.over, eye.inside, pupil.over, pupil.inside) == ("sand", None, "brick", eye.area)
    assert pairs([pupil]) == [(pupil.area, "brick")]
    assert pairs([eye, pupil]) == [(eye.area, "sand"), (pupil.area, "sand")]


def test_yarn_to_sew_with_by_hand() -> None:
    """At 20 stitches over 10 cm a stitch takes 4.1 x 0.5 = 2.05 cm; of 45 cm, 25 are left between the tails: 12
    stitches."""
    piece = piece_of(drawn("s"))
    assert [lengths_of(piece, n) for n in (1, 12, 13, 24, 25)] == [1, 1, 2, 2, 3]
    assert float(sewn_cm(piece, 12)) == pytest.approx(12 * 2.05 + 20)
    assert float(sewn_cm(piece, 13)) == pytest.approx(13 * 2.05 + 40)


@given(shaped(), limits(4), st.integers(1, 8))
def test_savings_of_shaped_pieces_are_the_difference_of_two_solutions_too(
    one: Shaped, carry: Carry, most: int
) -> None:
    piece = replace(one.piece(), carry=carry)

    def strands(of: Piece) -> int:
        drawn = [tuple(cell and cell.yarn for cell in cells(row)) for row in of.fabric.rows]
        rows = [replace(row, cells=now) for row, now in zip(one.plain(), drawn, strict=True)]
        return fewest_strands(rows, carry.reach, carry.behind, carry.rest)

    for saving in savings(piece, small_areas(piece, most)):
        if saving is not None:
            sewn = replace(piece, fabric=sewn_on(piece.fabric, [(saving.area, saving.over)]))
            assert saving.strands == strands(piece) - strands(sewn)


@given(charts(max_rows=4, max_columns=6), limits(4), st.sampled_from(YARNS), st.booleans())
@example(drawn(*["ssssbssssbssssb"] * 5, "bbbbbbbbbbbbbbb"), Carry(0), "brick", False)  # row 1 is of the area
@example(drawn(*["ssssbssssbssssb"] * 5, "bbbbbbbbbbbbbbb"), Carry(0, 0, 1), "brick", False)
def test_a_cast_on_that_becomes_a_length_of_its_own_has_two_ends_more(
    chart: Chart, carry: Carry, yarn: str, share: bool
) -> None:
    piece = replace(piece_of(chart, carry._replace(share=share)), cast_on=Casting(yarn=yarn))
    before = plan_strands(piece.rows, piece.carry).strands.total
    small = small_areas(piece, 8)
    for saving in savings(piece, small):
        if saving is not None:
            sewn = replace(piece, fabric=sewn_on(piece.fabric, [(saving.area, saving.over)]))
            after = plan_strands(sewn.rows, sewn.carry).strands.total
            assert saving.ends == before.ends - after.ends - 2 * saving.lengths
    accepted = [saving for saving in savings(piece, small) if saving]
    sewn = replace(piece, fabric=sewn_on(piece.fabric, pairs(accepted)))
    after = plan_strands(sewn.rows, sewn.carry).strands.total
    tails = 2 * sum(saving.lengths for saving in accepted)
    assert saved_together(piece, accepted) == (before.strands - after.strands, before.ends - after.ends - tails)


@settings(max_examples=40)
@given(parted(max_rows=6, max_columns=8), shared_limits(), st.booleans())
def test_savings_are_exact_where_runs_are_shared(chart: Chart, carry: Carry, share: bool) -> None:
    piece = piece_of(chart, carry._replace(share=share))
    before = plan_strands(piece.rows, piece.carry).strands.total
    found = [saving for saving in savings(piece, small_areas(piece, 4)) if saving]
    for accepted in [*([saving] for saving in found), found]:
        sewn = replace(piece, fabric=sewn_on(piece.fabric, pairs(accepted)))
        after = plan_strands(sewn.rows, sewn.carry).strands.total
        tails = 2 * sum(saving.lengths for saving in accepted)
        spared = before.strands - after.strands, before.ends - after.ends - tails
        assert saved_together(piece, accepted) == spared
        assert [(saving.strands, saving.ends) for saving in accepted if len(accepted) == 1] in ([], [spared])


def test_more_small_areas_than_there_is_time_for_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """4 rows, with 1 small area: where strands rest two rows it is looked at 12 times thirty rows, and at all."""
    piece = piece_of(drawn("sss", "sbs", "sss", "sss"), Carry(3, 0, 2))
    small = small_areas(piece, 1)
    monkeypatch.setattr(reckoned, "MOST_LOOKED_AT", 364)
    assert len(list(savings(piece, small))) == 1
    monkeypatch.setattr(reckoned, "MOST_LOOKED_AT", 363)
    with pytest.raises(TooMuchToWeigh, match=r"^1 small areas are too many to be weighed one by one in this piece: "):
        list(savings(piece, small))
    monkeypatch.setattr(reckoned, "MOST_LOOKED_AT", 1)  # two strands could meet beside nearly each of 12 stitches
    shared = replace(piece, carry=Carry(3, share_runs=True))
    with pytest.raises(TooMuchToWeigh):
        list(savings(shared, small))
    monkeypatch.setattr(reckoned, "MOST_LOOKED_AT", 2)
    assert len(list(savings(shared, small))) == 1
    counted = replace(piece, carry=Carry(3))
    assert len(list(savings(counted, small))) == 1


def test_stitches_in_other_yarns_cut_the_runs_they_lie_in_and_no_others() -> None:
    sand, ink = Stitch("sand"), Stitch("ink")
    row = FabricRow((Run(3, sand), Run(2, None), Run(4, ink)))
    other = FabricRow((Run(9, sand),))
    yarns = {Cell(0, 1): "ink", Cell(0, 3): "ink", Cell(0, 4): "ink", Cell(0, 6): "sand", Cell(0, 9): "sand"}
    changed = in_other_yarns(Fabric((row, other)), yarns).rows
    assert changed[0].runs == (
        Run(1, ink), Run(1, sand), Run(1, ink), Run(2, None), Run(1, sand), Run(2, ink), Run(1, sand),
    )  # fmt: skip
    assert changed[1] is other
