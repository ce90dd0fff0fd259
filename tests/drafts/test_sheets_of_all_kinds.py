"""What of a sheet is hidden, merged, repeated, empty or beside its chart; lines of text; other programs' sheets."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl.formatting.rule import CellIsRule
from openpyxl.styles import PatternFill
from the_program import ROOT

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
    ods,
    refused,
    solid,
)

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


# Other programs


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


def test_the_sheet_that_the_guide_to_plans_shows_becomes_the_chart_that_it_shows(tmp_path: Path) -> None:
    guide = (ROOT / "plans" / "README.md").read_text(encoding="utf-8").partition("chart from a spreadsheet?")[2]
    lines, chart = guide.split("```text\n")[1].split("```")[0], guide.split("```yaml\n")[1].split("```")[0]
    (tmp_path / "boat.csv").write_text(lines, encoding="utf-8")
    found = drafted(tmp_path / "boat.csv")
    assert charted(found) == chart.partition("chart: |\n")[2].split()
    assert "\n  b: {yarn: brick, stitch: garter}\n" in found.text
