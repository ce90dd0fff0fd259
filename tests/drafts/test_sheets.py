"""Charts in sheets to plans: sheets that openpyxl and odfpy write, lines of text, and what is asked where it is not
clear what a cell is."""

from __future__ import annotations

from pathlib import Path

import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.style import Style, TableCellProperties
from odf.table import CoveredTableCell, Table, TableCell, TableColumn, TableRow
from odf.text import P
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import PatternFill
from openpyxl.styles.colors import Color
from openpyxl.worksheet.worksheet import Worksheet

from companion.drafts.sheets.tints import tinted
from companion.knitting.cloth.fabric import Stitch, Texture
from companion.problems import Problems
from tests.drafts.sheet_files import (
    BOAT,
    BRICK,
    SAND,
    TIDE,
    book,
    cells_xlsx,
    charted,
    drafted,
    filled,
    in_letters,
    solid,
)


def refused(path: Path, **asked: str) -> str:
    """What is said of a sheet that becomes no plan; the file is named in every problem."""
    with pytest.raises(Problems) as caught:
        drafted(path, **asked)
    assert {problem.file for problem in caught.value.problems} == {str(path)}
    return " ".join(f"{problem.what} {problem.mend}" for problem in caught.value.problems)


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


# What is hidden, merged, repeated or empty


def test_hidden_rows_and_columns_are_left_out_and_told(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    sheet.row_dimensions[2].hidden = True
    sheet.column_dimensions["A"].hidden = True
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == [line[1:] for at, line in enumerate(BOAT) if at != 1]
    assert "Left out: 1 hidden row and 1 hidden column." in found.notes
    sheet["D4"].fill = PatternFill()
    workbook.save(tmp_path / "boat.xlsx")
    assert "B1:H6: D4." in refused(tmp_path / "boat.xlsx")  # as the sheet calls it


def test_hidden_sheets_are_passed_over_and_the_first_with_a_chart_is_read(tmp_path: Path) -> None:
    workbook, sheet = book()
    sheet["A1"] = "What to buy"
    for name, state in (("Secret", "hidden"), ("Boat", "visible"), ("Later", "visible")):
        filled(workbook.create_sheet(name))
        workbook[name].sheet_state = state
    workbook.save(tmp_path / "boat.xlsx")
    assert drafted(tmp_path / "boat.xlsx").notes[0] == 'Its chart is A1:H6, sheet "Boat".'


def test_a_merged_cell_is_as_many_stitches(tmp_path: Path) -> None:
    workbook, sheet = book()
    sheet["A1"].fill, sheet["A3"].fill, sheet["B3"].fill = solid(TIDE), solid(SAND), solid(BRICK)
    sheet["A1"] = "t"
    sheet.merge_cells("A1:C2")
    sheet.merge_cells("B3:C3")
    workbook.save(tmp_path / "merged.xlsx")
    assert in_letters(drafted(tmp_path / "merged.xlsx")) == ["ttt", "ttt", "sbb"]


def test_fills_of_rows_and_columns_count_as_far_as_cells_go(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet, ("bsssssb", ".......", "bb.bbbb"))
    sheet.column_dimensions["C"].fill = solid(TIDE)
    sheet.row_dimensions[2].fill = solid(SAND)
    workbook.save(tmp_path / "lent.xlsx")
    assert in_letters(drafted(tmp_path / "lent.xlsx")) == ["bsssssb", "sssssss", "bbtbbbb"]
    sheet["C3"].number_format = "0.00"  # a format of its own, without a fill
    workbook.save(tmp_path / "bare.xlsx")
    assert in_letters(drafted(tmp_path / "bare.xlsx", ground=f"#{BRICK}"))[2] == "bbbbbbb"


def test_short_codes_on_colours_are_stitches_and_headings_are_none(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet, row=2)
    for row in sheet.iter_rows(min_row=2):
        for cell in row:
            cell.value = {TIDE: "MC", SAND: "CC1", BRICK: "CC2"}[cell.fill.fgColor.rgb[2:]]
    sheet.merge_cells("A1:H1")
    sheet["A1"] = "The boat"
    sheet["A1"].fill = solid(TIDE)
    workbook.save(tmp_path / "boat.xlsx")
    found = drafted(tmp_path / "boat.xlsx")
    assert in_letters(found) == list(BOAT)
    assert "Filled cells that say a word are no stitches: A1, B1, C1, D1, E1 and 3 more." in found.notes


def test_rules_are_not_reckoned_and_that_is_told(tmp_path: Path) -> None:
    workbook, sheet = book()
    for row in ((1, 2, 1), (2, 1, 1)):
        sheet.append(row)
    sheet.conditional_formatting.add("A1:C2", CellIsRule(operator="equal", formula=["1"], fill=solid(TIDE)))
    workbook.save(tmp_path / "rules.xlsx")
    found = drafted(tmp_path / "rules.xlsx")
    assert charted(found) == ["121", "211"]
    assert "Colours that a rule gives (conditional formats) are not read; what cells say is." in found.notes


def test_empty_cells_inside_are_asked_for_by_their_addresses(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet, [line.replace("t", ".") for line in BOAT], 2, 2)
    filled(sheet, ("tttttttttt",))
    filled(sheet, ["t"] * 8, 1, 1)
    workbook.save(tmp_path / "boat.xlsx")
    said = refused(tmp_path / "boat.xlsx")
    assert said.startswith("47 empty cells in the chart A1:J8: B2, C2, D2, E2, F2 and 42 more. What is knitted")
    assert "say what all of them are: --ground white" in said
    found = drafted(tmp_path / "boat.xlsx", ground="#2c6a7b")
    assert in_letters(found)[1] == "ttttttttt" + "t"
    assert len(found.loaded.piece.yarns) == 3


def test_cells_apart_from_the_chart_are_asked_for_and_named_by_crop(tmp_path: Path) -> None:
    workbook, sheet = book()
    filled(sheet)
    filled(sheet, ("bb", "bb"), 1, 12)
    workbook.save(tmp_path / "boat.xlsx")
    said = refused(tmp_path / "boat.xlsx")
    assert said.startswith("Beside the chart A1:H6 there are more cells that may be stitches: L1:M2.")
    assert "Which are the chart? Say so, such as --crop A1:M6" in said
    assert in_letters(drafted(tmp_path / "boat.xlsx", part="A1:H6")) == list(BOAT)
    assert in_letters(drafted(tmp_path / "boat.xlsx", part="m2:l1")) == ["bb", "bb"]
    assert "No cell of the part that --crop names is in use." in refused(tmp_path / "boat.xlsx", part="Z90:AB95")


def test_words_among_stitches_are_asked_for(tmp_path: Path) -> None:
    (tmp_path / "odd.csv").write_text("A,A,B\nA,knit,B\nA,B,B\n", encoding="utf-8")
    said = refused(tmp_path / "odd.csv")
    assert 'A stitch is a colour or one letter, and in the chart lines 1 to 3 line 2, value 2 says "knit".' in said


def test_a_dot_is_no_stitch_so_that_an_outline_is_shaped(tmp_path: Path) -> None:
    (tmp_path / "roof.csv").write_text(".,A,A,.\nA,B,B,A\nA,A,A,A\n", encoding="utf-8")
    found = drafted(tmp_path / "roof.csv")
    assert charted(found) == [".AA.", "ABBA", "AAAA"]
    assert found.loaded.piece.fabric.is_shaped


def test_no_stitch_between_stitches_divides_the_piece_and_that_is_told(tmp_path: Path) -> None:
    lines = [*["A,A,A,.,.,A,A,A"] * 4, "A,A,A,A,A,A,A,A"]
    (tmp_path / "neck.csv").write_text("\n".join(lines), encoding="utf-8")
    found = drafted(tmp_path / "neck.csv")
    assert [row.part for row in found.loaded.piece.fabric.rows] == ["", *["right"] * 4, *["left"] * 4]
    assert "It divides where no stitch is between others; which part comes first is yours to change." in found.notes


def test_a_drawing_that_no_hands_could_work_is_told_of_the_sheet(tmp_path: Path) -> None:
    (tmp_path / "gap.csv").write_text("A,A,A\n.,.,.\nA,A,A\n", encoding="utf-8")
    assert refused(tmp_path / "gap.csv")


def test_a_photograph_of_cells_is_refused(tmp_path: Path) -> None:
    workbook, sheet = book()
    for number in range(48):
        sheet.cell(number // 8 + 1, number % 8 + 1).fill = solid(f"{number * 5:02x}{255 - number * 5:02x}80")
    workbook.save(tmp_path / "many.xlsx")
    said = refused(tmp_path / "many.xlsx")
    assert said.startswith("The chart A1:H6 has 48 colours and letters; up to 40 are yarns.")


def test_forty_yarns_have_forty_names_and_symbols(tmp_path: Path) -> None:
    workbook, sheet = book()
    for number in range(40):
        sheet.cell(number // 8 + 1, number % 8 + 1).fill = solid(f"{number * 6:02x}{255 - number * 6:02x}80")
    workbook.save(tmp_path / "many.xlsx")
    yarns = drafted(tmp_path / "many.xlsx").loaded.piece.yarns
    assert len({yarn.name for yarn in yarns}) == len({yarn.symbol for yarn in yarns}) == 40


# Lines of text


@pytest.mark.parametrize("text", [
    "A,A,A,B\nB,B,A,A\n",
    "A;A;A;B\nB;B;A;A\n",
    "A\tA\tA\tB\r\nB\tB\tA\tA\r\n",
    'sep=;\n"A";"A";A;B\nB;B;A;"A"\n',
    "3A,B\n2B,2A\n",
    "3*A,1 B\n2*B,2 A\n",
    "3,A,1,B\n2,B,2,A\n",
    "2,3A,B\n1,2B,2A\n",
    "A,A,A,B,2\nB,B,A,A,1\n4,3,2,1\n",
], ids=repr)  # fmt: skip
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_lines_of_letters_and_of_runs_are_one_chart(tmp_path: Path, text: str, encoding: str) -> None:
    (tmp_path / "boat.csv").write_bytes(text.encode(encoding))
    assert charted(drafted(tmp_path / "boat.csv")) == ["AAAB", "BBAA"]


def test_lines_of_different_width_are_asked_for(tmp_path: Path) -> None:
    (tmp_path / "boat.csv").write_text("3A,2B\n3A,B\n", encoding="utf-8")
    assert "One empty cell in the chart lines 1 to 2: line 2, value 5." in refused(tmp_path / "boat.csv")


def test_text_of_another_encoding_is_told_with_its_place(tmp_path: Path) -> None:
    (tmp_path / "boat.csv").write_bytes(b"A,B\nB,\xe9\n")
    assert 'The file is not UTF-8 text: the byte E9 stands here. Save it again' in refused(tmp_path / "boat.csv")


# OpenDocument


def ods(path: Path) -> None:
    """The boat at B2, its sky two rows repeated and merged, a hidden row among them; whole columns and rows, styles
    of styles, and what is repeated to the sheet's end."""
    document = OpenDocumentSpreadsheet()
    for letter, code in (("t", TIDE), ("s", SAND), ("b", BRICK)):
        style = Style(name=f"own-{letter}", family="table-cell")
        style.addElement(TableCellProperties(backgroundcolor=f"#{code}"))
        document.styles.addElement(style)
        document.automaticstyles.addElement(Style(name=letter, family="table-cell", parentstylename=f"own-{letter}"))
    table = Table(name="Boat")
    table.addElement(TableColumn(numbercolumnsrepeated=1))
    table.addElement(TableColumn(numbercolumnsrepeated=8, defaultcellstylename="t"))
    table.addElement(TableColumn(numbercolumnsrepeated=16375))

    def row(*cells: TableCell, **said: object) -> None:
        made = TableRow(**said)
        for cell in cells:
            made.addElement(cell)
        table.addElement(made)

    row(TableCell(numbercolumnsrepeated=16384))
    row(TableCell(), TableCell(stylename="t", numbercolumnsrepeated=8), numberrowsrepeated=2)
    row(TableCell(), TableCell(stylename="s", numbercolumnsrepeated=8), visibility="collapse")
    row(
        TableCell(), TableCell(stylename="t", numbercolumnsspanned=3), CoveredTableCell(numbercolumnsrepeated=2),
        TableCell(stylename="b", numbercolumnsrepeated=2), TableCell(numbercolumnsrepeated=3),
    )  # fmt: skip
    named = TableCell(stylename="s")
    named.addElement(P(text="s"))
    row(TableCell(), TableCell(), named, TableCell(stylename="s", numbercolumnsrepeated=5), TableCell(stylename="t"))
    row(TableCell(numbercolumnsrepeated=16384), numberrowsrepeated=1048570)
    document.spreadsheet.addElement(table)
    document.save(path)


def test_an_opendocument_sheet_is_read_with_its_repeats_spans_and_styles(tmp_path: Path) -> None:
    ods(tmp_path / "boat.ods")
    found = drafted(tmp_path / "boat.ods")
    assert in_letters(found) == ["tttttttt", "tttttttt", "tttbbttt", "tsssssst"]
    assert found.notes[:2] == ('Its chart is B2:I6, sheet "Boat".', "Left out: 1 hidden row.")


def test_cells_with_a_prefix_and_without_addresses_are_read(tmp_path: Path) -> None:
    """As other programs write them."""
    cells = '<x:row><x:c t="s"><x:v>1</x:v></x:c><x:c t="str"><x:v>B</x:v></x:c></x:row><x:row><x:c r="A2" t="s">' \
            '<x:v>0</x:v></x:c><x:c t="inlineStr"><x:is><x:r><x:t>A</x:t></x:r></x:is></x:c></x:row>'
    strings = '<sst><si><t>B</t></si><si><t xml:space="preserve"> A </t><rPh sb="0" eb="1"><t>ei</t></rPh></si></sst>'
    (tmp_path / "other.xlsx").write_bytes(cells_xlsx(cells, strings=strings))
    assert charted(drafted(tmp_path / "other.xlsx")) == ["AB", "BA"]
