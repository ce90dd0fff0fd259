"""Lists as tables: what gives way where there is little room, that no number is cut, sorting, what is told."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import (
    COWL,
    CUSHION,
    JUMPER,
    MAT,
    PLANS,
    SWATCH,
    At,
    at_the_needles,
    begun,
    on_disk,
    reopened,
    until,
)
from hypothesis import example, given
from hypothesis import strategies as st
from rich.cells import cell_len

from companion.dialogue.ends import EndsList
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.sitting import Sitting
from companion.dialogue.strands import StrandsList
from companion.dialogue.table import Cell, Column, Table
from companion.dialogue.techniques import TechniquesList
from companion.knitting.cloth.fabric import Yarn
from companion.screens.picking import PickingScreen
from companion.screens.table import Drawn
from tests.screens.at_the_needles import shelf

WIDTHS = (36, 38, 57, 76, 116, 196)
"""What a list has of terminals of 40 to 200 columns, beside a picture or alone."""

NAMES = {CUSHION: "Harbour light cushion", MAT: "Mooring mat", JUMPER: "Ferry jumper, front", COWL: "Breakwater cowl"}

words = st.text("abcde 123", max_size=30).map(str.strip)
numbers = st.integers(0, 10**6).map(str)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """Any columns, some of numbers, some that may be cut, some that yield."""
    columns = [
        Column(
            draw(words), draw(st.text("xyz", max_size=3)), is_number, 0 if is_number else draw(st.integers(0, 12)),
            draw(st.integers(0, 3)), draw(st.sampled_from(["", "up", "down"])),
        )
        for is_number in draw(st.lists(st.booleans(), min_size=1, max_size=6))
    ]  # fmt: skip
    yarn = st.sampled_from([None, Yarn("sand", "#d9c7a0", "s")])
    rows = [
        tuple(
            Cell(text := draw(numbers), by=int(text)) if column.is_number else Cell(draw(words), "", draw(yarn))
            for column in columns
        )
        for _ in range(draw(st.integers(0, 5)))
    ]
    return Table(tuple(columns), rows)


@given(tables(), st.integers(4, 120))
def test_no_number_is_ever_cut_and_what_is_not_shown_is_owned_up_to(table: Table, width: int) -> None:
    drawn = Drawn(table)
    fit = drawn.fit(width)
    for at, row in enumerate(table.rows):
        line = drawn.line(at, width).plain
        for place in fit.places:
            if table.columns[place.column].is_number:
                assert re.search(rf"(?<!\d){row[place.column].text}(?!\d)", line)
        if fit.is_whole:
            assert all(cell.text in line for cell in row if isinstance(cell, Cell))
            assert cell_len(line.rstrip()) <= width


ENDS = Table(
    (Column("State", " "), Column("Where", least=16, yields=1)),
    [(Cell("○ ready", "○"), Cell("second from the right side", "second from right"))],
)
"""With 20 cells the place is cut first, as far as it may be; then the state is shortened, which leaves one again."""


@example(ENDS, 20)
@given(tables(), st.integers(4, 120))
def test_nothing_is_cut_where_there_is_room_for_it(table: Table, width: int) -> None:
    drawn = Drawn(table)
    places = drawn.fit(width).places
    if any("…" in drawn.line(at, width).plain for at in range(len(table.rows))):
        assert sum(place.cells for place in places) + 2 * (len(places) - 1) >= width


@given(tables(), st.integers(0, 5))
def test_sorting_leaves_every_line_and_puts_them_in_order(table: Table, column: int) -> None:
    column = min(column, len(table.columns) - 1)
    order = table.order(column)
    assert sorted(order) == list(range(len(table.rows)))
    if table.columns[column].is_number:
        values = [int(table.rows[at][column].text) for at in order]
        assert values == sorted(values, reverse=table.columns[column].order == "down")


def listings(tmp_path: Path, plan: Path, row: int) -> list[Listing]:
    """The lists of a piece, filled."""
    begun(tmp_path, plan, row)
    with shelf(tmp_path).resume(NAMES[plan]) as knitting:
        sitting = Sitting(knitting, Knitter())
        found: list[Listing] = [EndsList(sitting), StrandsList(sitting), TechniquesList(sitting)]
        for one in found:
            one.fill()
            one.work_out(lambda: False)
    return found


@pytest.mark.parametrize("plan", NAMES, ids=[plan.stem for plan in NAMES])
def test_every_list_fits_every_width_with_its_yarns_and_first_numbers(tmp_path: Path, plan: Path) -> None:
    for one in listings(tmp_path, plan, 30):
        drawn, rows = Drawn(one.table), one.table.rows
        assert rows
        for width in WIDTHS:
            places = drawn.fit(width).places
            assert sum(place.cells for place in places) + 2 * (len(places) - 1) <= width
            for at, row in enumerate(rows):
                line = drawn.line(at, width).plain
                for cell in row:
                    assert not isinstance(cell, str)
                    if cell.yarn is not None:
                        name = cell.yarn.name if width > 40 or plan != JUMPER else cell.yarn.name[:6]
                        assert f"▏{cell.yarn.symbol}▕ {name}" in line
        assert drawn.fit(196).is_whole


async def test_a_column_that_has_no_room_is_told_below_the_list(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=24, size=(40, 15)) as at:
        await at.press("s", "down")
        assert "Carried" not in at.text.partition("▏s▕")[0]
        assert "tide: rows 5 to 27, 271 sts, carried over 9 sts. Joined in row 5 as the tide beside" in at.text
        await at.pilot.resize_terminal(120, 40)
        await until(lambda: "Carried" in at.text)
        await at.pilot.pause()
        assert "Joined in row" not in at.text


async def test_lists_are_sorted_by_column_with_the_key_and_with_a_click_on_the_titles(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=24) as at:
        await at.press("s")
        assert column(at, 2) == [287, 271, 18, 172, 1, 19]
        await at.press("o", "o")
        assert "Stitches▼" in at.text.replace("sts▼", "Stitches▼")
        assert column(at, 2) == [287, 271, 172, 19, 18, 1]
        await at.press("down", "down", "enter", *"9 m", "enter")
        assert "of shell left" in at.text, "the line that is meant is the third as they stand now"
        await at.press("escape", "o")
        assert column(at, 3) == [9, 5, 4, 2, 0, 0]
        await at.pilot.click("#columns", offset=(2, 0))
        await at.press()
        assert column(at, 2) == [287, 271, 18, 172, 1, 19]


def column(at: At, number: int) -> list[int]:
    """The figures of one column of the list."""
    return [int(row[number].text) for row in listing(at).table.rows if not isinstance(row, str)]


def listing(at: At) -> Listing:
    """The list on the screen."""
    screen = at.app.screen
    assert isinstance(screen, PickingScreen)
    return screen.listing


@pytest.mark.parametrize("width", [40, 62])
async def test_a_column_of_numbers_ends_where_its_title_ends(tmp_path: Path, width: int) -> None:
    """At these widths one cell more or less changes which columns are in full."""
    async with at_the_needles(tmp_path, PLANS / "wrist-warmer-right.yaml", size=(width, 24)) as at:
        await at.press("d")
        head, line = at.lines[1], at.lines[2]
        at_titles = [found.end() for found in re.finditer(r"Stitches|sts|[Ff]rom(?! right)", head)]
        at_numbers = [found.end() for found in re.finditer(r"\d+", line)]
        assert at_titles == at_numbers[:len(at_titles)]
        assert len(at_titles) == 2


async def test_an_end_is_ticked_where_it_stands_in_another_order(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, SWATCH, row=24) as at:
        await at.press("e", "o", "o", "end")
        told = listing(at).in_full()
        await at.press("home", "space")
        [woven] = on_disk(tmp_path).woven
        assert woven.place.row == 0
        assert "row 23" in told


async def test_techniques_are_sorted_and_the_one_that_is_meant_is_worked_with(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, SWATCH, row=5, size=(120, 40)) as at:
        await at.press("t")
        await until(lambda: "★ best" in at.text)
        await at.pilot.pause()
        assert column(at, 2) == [6, 5, 5, 6, 5]
        await at.press("o")
        assert "Strands▲" in at.text
        assert column(at, 2) == [5, 5, 5, 6, 6]
        await at.press("home", "enter")
        assert on_disk(tmp_path).limits.behind == 3
        assert on_disk(tmp_path).limits.rest == 0


async def test_where_every_technique_comes_out_the_same_there_is_nothing_to_gain(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=41)
    async with reopened(tmp_path, MAT) as at:
        await at.press("t")
        await until(lambda: "Nothing to gain here: 5 techniques compared" in at.text)
        await at.pilot.pause()
        [row] = listing(at).table.rows
        assert [cell.text for cell in row if not isinstance(cell, str)][:2] == ["★ best, worked with now", "strict"]


async def test_the_best_technique_is_marked(tmp_path: Path) -> None:
    begun(tmp_path, MAT, row=9)
    async with reopened(tmp_path, MAT, size=(120, 40)) as at:
        await at.press("t")
        await until(lambda: "★ best" in at.text)
        assert at.text.count("★ best") == 1
        assert at.text.count("worked with now") == 1
