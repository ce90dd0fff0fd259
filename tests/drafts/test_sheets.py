"""Charts in sheets to plans: sheets that openpyxl and odfpy write, lines of text, and what is asked where it is not
clear what a cell is."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl.styles import PatternFill
from openpyxl.styles.colors import Color
from openpyxl.worksheet.worksheet import Worksheet

from companion.drafts.sheets.tints import tinted
from companion.knitting.cloth.fabric import Stitch, Texture
from tests.drafts.sheet_files import (
    BOAT,
    BRICK,
    SAND,
    TIDE,
    book,
    charted,
    drafted,
    filled,
    in_letters,
    refused,
    solid,
)

# Colours and letters


def test_filled_cells_are_stitches_in_yarns_called_after_their_colours(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet, row=3, column=2)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    names = [yarn.name for yarn in found.loaded.piece.yarns]
    assert all(name.isalpha() for name in names)
    assert len(set(names)) == 3
    assert all(yarn.symbol in yarn.name for yarn in found.loaded.piece.yarns)
    assert found.notes[0] == 'Its chart is B3:I8, sheet "Sheet".'


def test_the_plan_says_where_it_came_from(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet.title = "Little boat"
    workbook.save(tmp_path / "boat.xlsx")
    text = drafted(tmp_path / "boat.xlsx").text
    assert text.startswith('# Drafted from boat.xlsx (A1:H6, sheet "Little boat"; SHA-256 ')
    assert "\ntitle: Little boat\n" in text
    assert "\ngauge: {stitches: 20, rows: 28, over: 10 cm}\n" in text


def test_letters_on_no_colour_are_stitches_and_their_colours_are_made_up(tmp_path: Path) -> None:
    workbook, sheet = book()
    for row in ("AAB", "ABA"):
        sheet.append(list(row))
    workbook.save(tmp_path / "letters.xlsx")
    found = drafted(tmp_path / "letters.xlsx")
    assert charted(found) == ["AAB", "ABA"]
    assert [yarn.name for yarn in found.loaded.piece.yarns] == ["A", "B"]
    assert len({yarn.colour for yarn in found.loaded.piece.yarns}) == 2
    assert "No colour is shown for A, B: those in the plan are made up, yours to change." in found.notes


def test_letters_on_colours_are_the_symbols_and_two_yarns_may_have_one_colour(tmp_path: Path) -> None:
    workbook, sheet = book()
    for row in ("xyz", "zxy"):
        sheet.append(list(row))
    for row in sheet.iter_rows():
        for cell in row:
            cell.fill = solid(TIDE if cell.value in "xy" else SAND)
    workbook.save(tmp_path / "two.xlsx")
    found = drafted(tmp_path / "two.xlsx")
    assert charted(found) == ["xyz", "zxy"]
    assert len(found.loaded.piece.yarns) == 3
    assert sorted(yarn.colour for yarn in found.loaded.piece.yarns) == [f"#{TIDE}", f"#{TIDE}", f"#{SAND}"]


def test_a_letter_on_several_colours_tells_nothing_of_the_yarn(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet["D4"], sheet["A1"], sheet["A2"] = "-", "-", "x"
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert 'Cells of several colours say "-": the colour counts there, not the letter.' in found.notes


def test_a_cell_without_the_letter_of_its_colour_is_the_same_yarn(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet["D4"] = "b"
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert "b" in found.loaded.piece.yarns[1].symbol + found.loaded.piece.yarns[2].symbol


@pytest.mark.parametrize(("colour", "seen"), [
    (Color(rgb="FFA8432F"), "#a8432f"),
    (Color(theme=0), "#ffffff"),  # light goes before dark in the order of a theme's colours
    (Color(theme=1), "#000000"),
    (Color(theme=2), "#eeece1"),
    (Color(theme=4), "#4f81bd"),  # the first accent of the theme that openpyxl writes
    (Color(indexed=10), "#ff0000"),
    (Color(indexed=64), "#000000"),
])  # fmt: skip
def test_colours_of_themes_and_of_the_old_table_are_known(tmp_path: Path, colour: Color, seen: str) -> None:
    """ECMA-376-1: 20.1.6.2 (a theme's colours), 18.8.27 (the table)."""
    workbook, sheet = book()
    sheet["A1"].fill = PatternFill("solid", fgColor=colour)
    sheet["B1"].fill = solid("00ff7f")
    workbook.save(tmp_path / "one.xlsx")
    yarns = drafted(tmp_path / "one.xlsx").loaded.piece.yarns
    assert {yarn.colour for yarn in yarns} == {seen, "#00ff7f"}


def test_a_tint_moves_lightness_in_hls(tmp_path: Path) -> None:
    """The lightness of #4472c4 is (0.2667 + 0.7686) / 2 = 0.5176; 80 % of the way to white it is 0.9035, and 25 % of
    the way to black 0.3882 (ECMA-376-1, 18.8.19). The first is #dae3f3, as published in palettes of that theme."""
    assert tinted("#4472c4", 0.8) == "#dae3f3"
    assert tinted("#4472c4", 0.7999816888943144) == "#dae3f3"  # as files have it
    assert tinted("#4472c4", -0.25) == "#2f5597"
    assert {tinted("#4472c4", amiss) for amiss in (float("nan"), 2.0, -1.5, 0)} == {"#4472c4"}
    workbook, sheet = book()
    sheet["A1"].fill = PatternFill("solid", fgColor=Color(rgb="FF4472C4", tint=0.8))
    sheet["A2"].fill = solid("4472c4")
    workbook.save(tmp_path / "tint.xlsx")
    assert {yarn.colour for yarn in drafted(tmp_path / "tint.xlsx").loaded.piece.yarns} == {"#dae3f3", "#4472c4"}


def test_only_solid_fills_are_colours(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet["D4"].fill = PatternFill("darkGrid", fgColor=BRICK)
    workbook.save(tmp_path / "boat.xlsx")
    assert refused(tmp_path / "boat.xlsx").startswith("One empty cell in the chart A1:H6: D4. What is knitted there?")


# What stands around a chart


def numbered(sheet: Worksheet, *, is_downward: bool = False) -> None:
    """The boat at C2, rows numbered at its left and right, stitches below it, every second one only."""
    filled(sheet, row=2, column=3)
    for down in range(6):
        number = down + 1 if is_downward else 6 - down
        sheet.cell(2 + down, 2, number)
        if number % 2:
            sheet.cell(2 + down, 11, number)
    for stitch in range(2, 9, 2):
        sheet.cell(8, 11 - stitch, stitch)


def test_numbers_at_the_borders_are_no_stitches_and_that_is_told(tmp_path: Path) -> None:
    workbook, sheet = book()
    numbered(sheet)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert found.notes[0] == 'Its chart is C2:J7, sheet "Sheet".'
    assert found.notes[1] == "Numbers at the borders are not stitches: B2:B8, K2:K8, C8:J8."
    assert len(found.notes) == 2


def test_rows_numbered_from_the_top_are_told(tmp_path: Path) -> None:
    workbook, sheet = book()
    numbered(sheet, is_downward=True)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert "Its rows are numbered from the top; the lowest one is knitted first, and is row 1 here." in found.notes


def test_row_numbers_that_leave_rows_out_are_told(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    for down in range(6):
        sheet.cell(1 + down, 9, 11 - 2 * down)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert "Its row numbers leave some out; every row that is drawn is knitted once." in found.notes


def test_digits_that_are_stitches_are_no_numbers_of_rows(tmp_path: Path) -> None:
    lines = ["1112", "1121", "1211", "2111"]
    (tmp_path / "digits.csv").write_text("\n".join(",".join(line) for line in lines), encoding="utf-8")
    assert charted(drafted(tmp_path / "digits.csv")) == lines
    numbers = "\n".join(",".join([*line, str(4 - at)]) for at, line in enumerate(lines))
    (tmp_path / "numbered.csv").write_text(numbers, encoding="utf-8")
    assert charted(drafted(tmp_path / "numbered.csv")) == lines


def test_unevenly_rising_numbers_are_asked_for(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    for down, number in enumerate((6, 5, 4, 33, 2, 1)):
        sheet.cell(1 + down, 9, number)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert charted(found)[3].endswith(next(y.symbol for y in found.loaded.piece.yarns if y.name == "33"))


def test_numbers_on_a_colour_that_no_stitch_has_are_no_stitches(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    for down in range(6):
        sheet.cell(1 + down, 9, 6 - down).fill = solid("dddddd")
    workbook.save(tmp_path / "boat.xlsx")
    assert in_letters(drafted(tmp_path / "boat.xlsx")) == list(BOAT)
    for down in range(6):
        sheet.cell(1 + down, 9).fill = solid(TIDE)
    workbook.save(tmp_path / "wide.xlsx")
    assert drafted(tmp_path / "wide.xlsx").loaded.piece.fabric.columns == 9


@pytest.mark.parametrize("is_left", [False, True])
def test_a_legend_gives_yarns_their_names(tmp_path: Path, is_left: bool) -> None:
    workbook, sheet = book()
    filled(sheet)
    for row, (code, name) in enumerate(((TIDE, "tide"), (SAND, "- ship's sand"), (BRICK, "brick")), 10):
        sheet.cell(row, 12 if is_left else 3).fill = solid(code)
        sheet.cell(row, 11 if is_left else 4, name)
    sheet["A8"] = "The boat, for a mat"
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert {yarn.name: yarn.colour for yarn in found.loaded.piece.yarns} == {
        "tide": f"#{TIDE}", "ship's sand": f"#{SAND}", "brick": f"#{BRICK}"
    }
    assert in_letters(found) == list(BOAT)


def test_a_legend_names_letters_and_may_say_their_colours_and_textures(tmp_path: Path) -> None:
    text = "A,A,B\nA,B,C\n\nA,sand,#d9c9a5\nB,navy\nC,sand,,rib 2 1\n"
    (tmp_path / "boat.csv").write_text(text, encoding="utf-8")
    piece = drafted(tmp_path / "boat.csv").loaded.piece
    assert {yarn.name: yarn.colour for yarn in piece.yarns} == {"sand": "#d9c9a5", "navy": "#000080"}
    assert piece.fabric.rows[0].runs[0].stitch == Stitch("sand", Texture("rib", (2, 1)))


def test_one_name_for_two_colours_is_refused(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    for row, code in enumerate((TIDE, SAND), 10):
        sheet.cell(row, 3).fill = solid(code)
        sheet.cell(row, 4, "wool")
    workbook.save(tmp_path / "boat.xlsx")
    said = refused(tmp_path / "boat.xlsx")
    assert said.startswith(f'Two colours are called "wool" in the legend: #{TIDE} and #{SAND}.')
