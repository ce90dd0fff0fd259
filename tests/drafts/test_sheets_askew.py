"""Sheets that are nearly clear: what is beside a chart, named in part, filled to the sheet's end, noted on a cell."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.drafts.sheet_files import (
    BOAT,
    BRICK,
    SAND,
    TIDE,
    book,
    cells_ods,
    charted,
    drafted,
    filled,
    in_letters,
    refused,
    solid,
)  # fmt: skip


def lines(folder: Path, text: str) -> Path:
    (folder / "boat.csv").write_text(text, encoding="utf-8")
    return folder / "boat.csv"


def test_stitches_numbered_from_the_left_say_nothing_of_rows(tmp_path: Path) -> None:
    found = drafted(lines(tmp_path, "A,B,B,2\nB,A,A,1\n1,2,3,\n"))
    assert charted(found) == ["ABB", "BAA"]
    assert [note for note in found.notes if "numbered" in note] == []


def test_two_letters_with_a_word_beside_them_are_no_legend(tmp_path: Path) -> None:
    said = refused(lines(tmp_path, "A,B,B\nB,A,A\n\nA,B,whatever\n"))
    assert said.startswith("Beside the chart lines 1 to 2 there are more cells that may be stitches: line 4.")


def test_a_name_of_the_legend_is_not_given_to_another_colour(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    workbook.save(tmp_path / "boat.xlsx")
    name = next(yarn.name for yarn in drafted(tmp_path / "boat.xlsx").loaded.piece.yarns if yarn.colour == f"#{TIDE}")
    sheet["C9"].fill = solid(BRICK)
    sheet["D9"] = name
    workbook.save(tmp_path / "boat.xlsx")
    yarns = {yarn.colour: yarn.name for yarn in drafted(tmp_path / "boat.xlsx").loaded.piece.yarns}
    assert (yarns[f"#{BRICK}"], yarns[f"#{TIDE}"]) == (name, f"{name} 2")


def test_nor_is_that_of_a_yarn_which_is_sewn_over_another(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    workbook.save(tmp_path / "boat.xlsx")
    name = next(yarn.name for yarn in drafted(tmp_path / "boat.xlsx").loaded.piece.yarns if yarn.colour == f"#{TIDE}")
    sheet["C9"].fill = solid(BRICK)
    sheet["D9"], sheet["E9"] = "fog", f"sewn in {name}"
    workbook.save(tmp_path / "boat.xlsx")
    yarns = {yarn.name: yarn.colour for yarn in drafted(tmp_path / "boat.xlsx").loaded.piece.yarns}
    assert (yarns[name], yarns[f"{name} 2"]) == (f"#{BRICK}", f"#{TIDE}")
    assert "fog" in yarns


def test_of_two_letters_on_one_colour_a_legend_may_name_one(tmp_path: Path) -> None:
    workbook, sheet = book()
    for row in (*("xyx", "yxy"), "", ("x", "tide")):
        sheet.append(list(row))
    for cell in (*(cell for row in sheet["A1:C2"] for cell in row), sheet["A4"]):
        cell.fill = solid(TIDE)
    workbook.save(tmp_path / "two.xlsx")
    found = drafted(tmp_path / "two.xlsx")
    assert charted(found) == ["xyx", "yxy"]
    assert [yarn.name for yarn in found.loaded.piece.yarns].count("tide") == 1
    assert len(found.loaded.piece.yarns) == 2


def test_a_letter_that_stands_on_its_colour_here_and_on_none_there_is_one_yarn(tmp_path: Path) -> None:
    workbook, sheet = book()
    for row in ("abb", "aab"):
        sheet.append(list(row))
    sheet["A1"].fill, sheet["A2"].fill, sheet["C1"].fill = solid(TIDE), solid(TIDE), solid(SAND)
    workbook.save(tmp_path / "part.xlsx")
    assert in_letters(drafted(tmp_path / "part.xlsx")) == ["tss", "tts"]


def test_motifs_on_empty_cells_lie_on_the_ground_that_is_said(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet, ("bb", "bb"), 2, 2)
    filled(sheet, ("ss",), 5, 6)
    workbook.save(tmp_path / "motifs.xlsx")
    found = drafted(tmp_path / "motifs.xlsx", ground=f"#{TIDE}")
    assert in_letters(found) == ["bbtttt", "bbtttt", "tttttt", "ttttss"]


def test_numbers_that_stand_apart_are_neither_chart_nor_stitches(tmp_path: Path) -> None:
    workbook, sheet = book()
    sheet["B2"], sheet["C2"], sheet["E5"] = 3, "balls of tide", 12
    other = workbook.create_sheet("Boat")
    filled(other)
    for row in range(9):
        for column in range(9):
            other.cell(20 + row, 2 + column, row * column)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert found.notes[0] == 'Its chart is A1:H6, sheet "Boat".'
    assert in_letters(found) == list(BOAT)


@pytest.mark.parametrize(("sheet_name", "title"), [("Sheet1", "My boat"), ("Table 2", "My boat"), ("Pier", "Pier")])
def test_the_title_is_the_name_of_the_sheet_or_else_of_the_file(tmp_path: Path, sheet_name: str, title: str) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet.title = sheet_name
    workbook.save(tmp_path / "my_boat.xlsx")
    assert f"\ntitle: {title}\n" in drafted(tmp_path / "my_boat.xlsx").text
    assert "\ntitle: Boat\n" in drafted(lines(tmp_path, "A,B\nB,A\n")).text


# OpenDocument, by hand


def test_what_is_filled_to_the_sheets_end_counts_as_far_as_cells_go(tmp_path: Path) -> None:
    cells = (
        '<table-row><table-cell style-name="b" number-columns-repeated="3"/><table-cell style-name="t" '
        'number-columns-repeated="16381"/></table-row>' * 40
        + '<table-row><table-cell style-name="b"/><table-cell style-name="s" number-columns-repeated="4"/>'
        "</table-row>"
    )
    (tmp_path / "wide.ods").write_bytes(cells_ods(cells))
    assert in_letters(drafted(tmp_path / "wide.ods")) == [*["bbbtt"] * 40, "bssss"]


def test_notes_on_cells_hidden_tables_and_shown_decimals_are_not_what_cells_say(tmp_path: Path) -> None:
    cells = (
        "<table-row><table-cell><annotation><p>mend this</p></annotation><p>A</p></table-cell>"
        '<table-cell value-type="float" value="2"><p>2.00</p></table-cell></table-row>'
        '<table-row><table-cell value-type="float" value="2"><p>2.00</p></table-cell>'
        "<table-cell><p>A</p></table-cell></table-row><table-row/>"
        "<table-row><table-cell><p>A</p></table-cell><table-cell><p>sea<s/>grey</p></table-cell></table-row>"
    )
    away = '<table name="Secret" style-name="away"><table-row><table-cell><p>A</p></table-cell></table-row></table>'
    (tmp_path / "noted.ods").write_bytes(cells_ods(cells, away))
    found = drafted(tmp_path / "noted.ods")
    assert charted(found) == ["A2", "2A"]
    assert [yarn.name for yarn in found.loaded.piece.yarns] == ["sea grey", "2"]
