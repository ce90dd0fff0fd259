"""Sheets for tests, written by libraries that are not ours, and by hand where those write nothing amiss."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pytest
from odf.opendocument import OpenDocumentSpreadsheet
from odf.style import Style, TableCellProperties
from odf.table import CoveredTableCell, Table, TableCell, TableColumn, TableRow
from odf.text import P
from openpyxl import Workbook
from openpyxl.styles import PatternFill
from openpyxl.worksheet.worksheet import Worksheet

from companion.drafts.sheets.drafted import FromSheet, from_sheet
from companion.knitting.cloth.fabric import Gauge
from companion.problems import Problems

GAUGE = Gauge(Fraction(20), Fraction(28))

TIDE, SAND, BRICK = "2c6a7b", "d9c9a5", "a8432f"
COLOURS = {"t": TIDE, "s": SAND, "b": BRICK}

BOAT = ("tttttttt", "tttbtttt", "tttbbttt", "tttbbbtt", "tssssstt", "ttssssst")
"""A small boat, the top line last to be knitted."""


def drafted(path: Path, **asked: str) -> FromSheet:
    return from_sheet(path, GAUGE, "rowside draft", **asked)


def refused(path: Path, **asked: str) -> str:
    """What is said of a sheet that becomes no plan; the file is named in every problem."""
    with pytest.raises(Problems) as caught:
        drafted(path, **asked)
    assert {problem.file for problem in caught.value.problems} == {str(path)}
    return " ".join(f"{problem.what} {problem.mend}" for problem in caught.value.problems)


def charted(found: FromSheet) -> list[str]:
    """The lines of the chart in a plan's text."""
    return [line.strip() for line in found.text.partition("chart: |\n")[2].splitlines()]


def in_letters(found: FromSheet) -> list[str]:
    """The chart, every stitch as the letter that ``COLOURS`` has for its colour."""
    letters = {f"#{code}": letter for letter, code in COLOURS.items()}
    colours = {yarn.name: yarn.colour for yarn in found.loaded.piece.yarns}
    rows = reversed(found.loaded.piece.fabric.picture)
    return [
        "".join(run.columns * (letters[colours[run.stitch.yarn]] if run.stitch else ".") for run in row.runs[::-1])
        for row in rows
    ]


def filled(sheet: Worksheet, lines: Sequence[str] = BOAT, row: int = 1, column: int = 1) -> None:
    """Fill the cells from a place on, a dot being none."""
    for down, line in enumerate(lines):
        for across, letter in enumerate(line):
            if letter != ".":
                sheet.cell(row + down, column + across).fill = solid(COLOURS[letter])


def solid(code: str) -> PatternFill:
    return PatternFill("solid", fgColor=code)


def book() -> tuple[Workbook, Worksheet]:
    workbook = Workbook()
    sheet = workbook.active
    assert isinstance(sheet, Worksheet)
    return workbook, sheet


def zipped(parts: Mapping[str, bytes | str], compression: int = zipfile.ZIP_DEFLATED) -> bytes:
    file = BytesIO()
    with zipfile.ZipFile(file, "w", compression) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return file.getvalue()


def unzipped(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def cells_xlsx(cells: str, **parts: bytes | str) -> bytes:
    """A workbook whose one sheet has this markup between its rows' tags; of other parts those that are named."""
    names = {"styles": "xl/styles.xml", "strings": "xl/sharedStrings.xml", "workbook": "xl/workbook.xml"}
    return zipped({
        "xl/workbook.xml": '<workbook><sheets><sheet name="Boat" sheetId="1" id="r1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": "<Relationships>"
        '<Relationship Id="r1" Type="x/worksheet" Target="worksheets/sheet1.xml"/>'
        '<Relationship Id="r2" Type="x/styles" Target="styles.xml"/>'
        '<Relationship Id="r3" Type="x/sharedStrings" Target="sharedStrings.xml"/></Relationships>',
        "xl/worksheets/sheet1.xml": f"<worksheet><sheetData>{cells}</sheetData></worksheet>",
    } | {names[name]: data for name, data in parts.items()})


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


def cells_ods(cells: str, tables: str = "") -> bytes:
    """An open document with the colours of the boat as styles t, s and b, and a table with this markup."""
    styles = "".join(
        f'<style name="{letter}"><table-cell-properties background-color="#{code}"/></style>'
        for letter, code in COLOURS.items()
    )
    hidden = '<style name="away"><table-properties display="false"/></style>'
    return zipped({"content.xml": f'<a>{styles}{hidden}{tables}<table name="Boat">{cells}</table></a>'})
