"""A piece as an Office Open XML workbook (ECMA-376-1, 18): a stitch a cell, as wide to its height as by the gauge,
numbers at the right and below, and the legend beside it. The same piece gives the same bytes."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from fractions import Fraction
from io import BytesIO
from xml.sax.saxutils import escape, quoteattr

from companion.drafts.sheets.laid_out import Laid, laid_out
from companion.drafts.sheets.sheet import Cell, letters
from companion.knitting.cloth.colour import ink_on
from companion.knitting.piece import Piece

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml."

_DIGIT_PX = 7
"""So wide is a digit of the usual font, the unit of a column's width (ECMA-376-1, 18.3.1.13)."""

_PX_IN_POINT = Fraction(4, 3)
_LEAST_PX, _MOST_PX = 16, 160
_NAME_WIDE = 24

_TEXT, _NUMBER, _FIRST_YARN = 0, 1, 2
"""Formats by their numbers: of the legend's words, of numbers, of stitches in the first colour."""


def xlsx_bytes(piece: Piece) -> bytes:
    """What a file holds.

    Raises:
        Problems: the piece is more than a sheet is read with.
    """
    laid = laid_out(piece)
    fills = list(dict.fromkeys(cell.fill for cell, _ in laid.legend))
    parts = {
        "[Content_Types].xml": _content_types(),
        "_rels/.rels": _relations(("officeDocument", "xl/workbook.xml")),
        "xl/workbook.xml": f'<workbook xmlns="{_MAIN}" xmlns:r="{_OFFICE}"><sheets>'
        f'<sheet name={quoteattr(_sheet_name(piece.title))} sheetId="1" r:id="rId1"/></sheets></workbook>',
        "xl/_rels/workbook.xml.rels": _relations(("worksheet", "worksheets/sheet1.xml"), ("styles", "styles.xml")),
        "xl/styles.xml": _styles(fills),
        "xl/worksheets/sheet1.xml": "".join(_sheet(piece, laid, {fill: at for at, fill in enumerate(fills)})),
    }
    file = BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, text in parts.items():
            info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            archive.writestr(info, _HEAD + text, zipfile.ZIP_DEFLATED)
    return file.getvalue()


def _content_types() -> str:
    kinds = {"workbook.xml": "sheet.main", "worksheets/sheet1.xml": "worksheet", "styles.xml": "styles"}
    parts = "".join(
        f'<Override PartName="/xl/{name}" ContentType="{_KIND}{kind}+xml"/>' for name, kind in kinds.items()
    )
    return (
        f'<Types xmlns="{_PACKAGE}/content-types">'
        f'<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>{parts}'
        "</Types>"
    )


def _relations(*parts: tuple[str, str]) -> str:
    found = "".join(
        f'<Relationship Id="rId{number}" Type="{_OFFICE}/{kind}" Target="{part}"/>'
        for number, (kind, part) in enumerate(parts, 1)
    )
    return f'<Relationships xmlns="{_PACKAGE}/relationships">{found}</Relationships>'


def _sheet_name(title: str) -> str:
    """A name that a sheet may have: 31 characters, none of those with which formulas name cells."""
    return re.sub(r"[\[\]:*?/\\']", " ", title)[:31].strip() or "Chart"


def _styles(fills: list[str]) -> str:
    """Fonts black, white and grey; a fill for each colour; a thin line round every stitch."""
    inks = ["#000000", "#ffffff", "#808080"]
    fonts = "".join(f'<font><sz val="9"/>{_colour("color", ink)}<name val="Calibri"/></font>' for ink in inks)
    solid = "".join(
        f'<fill><patternFill patternType="solid">{_colour("fgColor", fill)}</patternFill></fill>' for fill in fills
    )
    line = _colour("color", "#a0a0a0")
    sides = "".join(f'<{side} style="thin">{line}</{side}>' for side in ("left", "right", "top", "bottom"))
    formats = [
        '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>', _format(font=2, fill=0, border=0),
        *(_format(inks.index(ink_on(fill)), number, border=1) for number, fill in enumerate(fills, 2)),
    ]
    return (
        f'<styleSheet xmlns="{_MAIN}"><fonts count="3">{fonts}</fonts><fills count="{len(fills) + 2}">'
        '<fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
        f'{solid}</fills><borders count="2"><border/><border>{sides}</border></borders>'
        '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>'
        f'<cellXfs count="{len(formats)}">{"".join(formats)}</cellXfs>'
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
    )


def _colour(tag: str, colour: str) -> str:
    return f'<{tag} rgb="FF{colour[1:].upper()}"/>'


def _format(font: int, fill: int, border: int) -> str:
    """A format of cells whose text stands in their middle."""
    return (
        f'<xf numFmtId="0" fontId="{font}" fillId="{fill}" borderId="{border}" xfId="0" applyFont="1" applyFill="1" '
        'applyBorder="1" applyAlignment="1"><alignment horizontal="center" vertical="center"/></xf>'
    )


def _sheet(piece: Piece, laid: Laid, format_of: dict[str, int]) -> Iterator[str]:
    wide, high = _stitch_px(piece.gauge.stitch_cm / piece.gauge.row_cm)
    stitches, points = len(laid.rows[0]), float(high / _PX_IN_POINT)
    first = stitches + 3  # after the numbers and an empty column
    yield f'<worksheet xmlns="{_MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>'  # printed on one page
    yield f'<sheetFormatPr defaultRowHeight="{points:g}" customHeight="1"/><cols>'
    yield f'<col min="1" max="{first}" width="{wide / _DIGIT_PX:.4f}" customWidth="1"/>'
    yield f'<col min="{first + 1}" max="{first + 1}" width="{_NAME_WIDE}" customWidth="1"/></cols><sheetData>'
    for at in range(max(len(laid.rows) + 1, len(laid.legend))):
        yield f'<row r="{at + 1}" ht="{points:g}" customHeight="1">'
        if at < len(laid.rows):
            for column, cell in enumerate(laid.rows[at], 1):
                yield _cell(at + 1, column, cell, format_of)
            yield _number(at + 1, stitches + 1, len(laid.rows) - at)
        elif at == len(laid.rows):
            yield from (_number(at + 1, column, stitches + 1 - column) for column in range(1, stitches + 1))
        if at < len(laid.legend):
            cell, words = laid.legend[at]
            yield _cell(at + 1, first, cell, format_of)
            yield from (_text(at + 1, column, word, _TEXT) for column, word in enumerate(words, first + 1))
        yield "</row>"
    yield '</sheetData><pageSetup fitToWidth="1" fitToHeight="1"/></worksheet>'


def _stitch_px(ratio: Fraction) -> tuple[int, int]:
    """How wide and how high a stitch is, in pixels, as near to this ratio as whole ones come."""
    if ratio >= 1:
        return min(_MOST_PX, round(_LEAST_PX * ratio)), _LEAST_PX
    return _LEAST_PX, min(_MOST_PX, round(_LEAST_PX / ratio))


def _cell(row: int, column: int, cell: Cell, format_of: dict[str, int]) -> str:
    style = _FIRST_YARN + format_of[cell.fill] if cell.fill else _NUMBER
    return _text(row, column, cell.text, style)


def _text(row: int, column: int, text: str, style: int) -> str:
    place = f"{letters(column)}{row}"
    return f'<c r="{place}" s="{style}" t="inlineStr"><is><t>{escape(text)}</t></is></c>'


def _number(row: int, column: int, number: int) -> str:
    return f'<c r="{letters(column)}{row}" s="{_NUMBER}"><v>{number}</v></c>'
