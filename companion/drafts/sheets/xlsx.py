"""Sheets of an Office Open XML workbook (ECMA-376-1, 18): what cells say, and the solid fills they have.

A cell has the fill of its own format, or else of its row's, or of its column's; the last two as far as cells go.
"""

from __future__ import annotations

import posixpath
from collections.abc import Iterator, Sequence

from companion.drafts.sheets.archive import MOST_CELLS, Archive
from companion.drafts.sheets.markup import Mark, marks
from companion.drafts.sheets.sheet import NO_RULES, Cell, Cells, Sheet, Span, area_of, place_of
from companion.drafts.sheets.tints import INDEXED, THEME, colour_of

WORKBOOK = "xl/workbook.xml"
_YES = ("1", "true")


def sheets(archive: Archive) -> Iterator[Sheet]:
    """Those that are not hidden, in order, each read when it is asked for.

    Raises:
        Problems: what is read is damaged, or too much.
    """
    linked = dict(_links(archive))
    part = {kind: part for kind, part in linked.values() if part in archive}
    theme = _theme(archive, part["theme"]) if "theme" in part else [""] * len(THEME)
    fills = _fills(archive, part["styles"], theme) if "styles" in part else []
    texts = _texts(archive, part["sharedStrings"]) if "sharedStrings" in part else []
    for name, link in list(_names(archive)):
        kind, sheet = linked.get(link, ("", ""))
        if kind == "worksheet":
            yield _Reading(archive, fills, texts).sheet(name, sheet)


def _links(archive: Archive) -> Iterator[tuple[str, tuple[str, str]]]:
    """The parts that the workbook leads to: by what it calls them, their kind and their name."""
    for mark in marks(archive, "xl/_rels/workbook.xml.rels"):
        if mark.name == "Relationship" and mark.kind == "<":
            kind = mark.values.get("Type", "").rpartition("/")[2]
            target = posixpath.normpath(posixpath.join("/xl", mark.values.get("Target", "")))
            yield mark.values.get("Id", ""), (kind, target.lstrip("/"))


def _names(archive: Archive) -> Iterator[tuple[str, str]]:
    """The sheets by name, and what the workbook calls their parts."""
    for mark in marks(archive, WORKBOOK):
        if mark.name == "sheet" and mark.kind == "<" and mark.values.get("state", "visible") == "visible":
            yield mark.values.get("name", ""), mark.values.get("id", "")


def _theme(archive: Archive, part: str) -> list[str]:
    """The colours of the theme by their numbers."""
    found, within = dict[str, str](), ""
    for mark in marks(archive, part):
        if mark.kind == "<" and mark.name in THEME:
            within = mark.name
        elif mark.kind == "<" and within and mark.name in ("srgbClr", "sysClr"):
            code = mark.values.get("val" if mark.name == "srgbClr" else "lastClr", "")
            found.setdefault(within, colour_of({"rgb": code}, ()))
        elif mark.kind == ">" and mark.name == within:
            within = ""
    return [found.get(name, "") for name in THEME]


def _fills(archive: Archive, part: str, theme: Sequence[str]) -> list[str]:
    """The fill of every format of a cell, by its number; "" where it has none or no solid one."""
    own, fills, formats, within = list[str](), list[dict[str, str]](), list[int](), ""
    for mark in marks(archive, part):
        if mark.kind == "<":
            if mark.name in ("fills", "cellXfs", "indexedColors"):
                within = mark.name
            elif within == "indexedColors" and mark.name == "rgbColor":
                own.append(colour_of(mark.values, ()))
            elif within == "fills" and mark.name == "fill":
                fills.append({})
            elif within == "fills" and fills and mark.name == "patternFill":
                fills[-1] = {"is solid": mark.values.get("patternType", "")}
            elif within == "fills" and fills and mark.name == "fgColor" and fills[-1].get("is solid") == "solid":
                fills[-1] |= mark.values
            elif within == "cellXfs" and mark.name == "xf":
                formats.append(_number(mark.values.get("fillId", "")))
        elif mark.kind == ">" and mark.name == within:
            within = ""
    indexed = [*own, *INDEXED[len(own):]]
    colours = [colour_of(said, theme, indexed) for said in fills]
    return [colours[number] if 0 <= number < len(colours) else "" for number in formats]


def _texts(archive: Archive, part: str) -> list[str]:
    """The texts that cells share, by their numbers."""
    found = list[str]()
    for mark, text in _spelled(marks(archive, part), "si"):
        if mark.name == "si" and mark.kind == ">":
            found.append(text)
            if len(found) > MOST_CELLS:
                raise archive.amiss("holds more texts than a chart can have.")
    return found


def _spelled(found: Iterator[Mark], *whole: str) -> Iterator[tuple[Mark, str]]:
    """Every mark and, at the end of these elements, what stands in them; how it is pronounced is left out."""
    text, is_text, is_sound = list[str](), False, False
    for mark in found:
        if mark.kind == "" and is_text and not is_sound:
            text.append(mark.name)
        elif mark.kind:
            if mark.name in whole and mark.kind == "<":
                text = []
            elif mark.name in ("t", "v"):
                is_text = mark.kind == "<"
            elif mark.name == "rPh":
                is_sound = mark.kind == "<"
            yield mark, "".join(text) if mark.kind == ">" and mark.name in whole else ""


class _Reading:
    """One sheet on its way."""

    def __init__(self, archive: Archive, fills: Sequence[str], texts: Sequence[str]) -> None:
        self._archive, self._fills, self._texts = archive, fills, texts
        self._cells = Cells(archive)
        self._hidden_rows, self._hidden_columns = list[Span](), list[Span]()
        self._at = (0, 0)

    def sheet(self, name: str, part: str) -> Sheet:
        begun, notes = Mark("<", "c", {}), tuple[str, ...]()
        for mark, text in _spelled(marks(self._archive, part), "c"):
            if mark.kind == ">":
                if mark.name == "c":
                    self._cell(begun, text)
            elif mark.name == "c":
                begun = mark
            elif mark.name == "row":
                self._row(mark)
            elif mark.name == "col":
                self._column(mark)
            elif mark.name == "mergeCell":
                area = area_of(mark.values.get("ref", ""))
                if area is None:
                    raise self._archive.damaged(part)
                self._cells.merge(*area)
            elif mark.name == "conditionalFormatting":
                notes = (NO_RULES,)
        hidden = tuple(self._hidden_rows), tuple(self._hidden_columns)
        return Sheet(name, self._cells.whole(), *hidden, notes)

    def _row(self, mark: Mark) -> None:
        self._at = (_number(mark.values.get("r", "")) if "r" in mark.values else self._at[0] + 1, 0)
        span = self._at[0], self._at[0]
        if mark.values.get("hidden") in _YES:
            self._hidden_rows.append(span)
        if mark.values.get("customFormat") in _YES and (fill := self._fill(mark, "s")):
            self._cells.lend(fill, rows=span)

    def _column(self, mark: Mark) -> None:
        span = _number(mark.values.get("min", "")), _number(mark.values.get("max", ""))
        if mark.values.get("hidden") in _YES:
            self._hidden_columns.append(span)
        if fill := self._fill(mark, "style"):
            self._cells.lend(fill, columns=span)

    def _cell(self, mark: Mark, text: str) -> None:
        place = place_of(mark.values["r"]) if "r" in mark.values else (self._at[0], self._at[1] + 1)
        if place is None:
            raise self._archive.amiss("has a cell that is nowhere.")
        self._at = place
        if mark.values.get("t") == "s":
            number = _number(text)
            text = self._texts[number] if 0 <= number < len(self._texts) else ""
        cell, where = Cell(said(text), self._fill(mark, "s")), ((place[0], place[0]), (place[1], place[1]))
        self._cells.put(*where, cell)
        if "s" in mark.values and not cell.fill:
            self._cells.bare(*where)

    def _fill(self, mark: Mark, key: str) -> str:
        number = _number(mark.values.get(key, "0"))
        return self._fills[number] if 0 <= number < len(self._fills) else ""


def said(text: str) -> str:
    """What a cell says, its spaces and line ends as one space; a whole number without a point."""
    text = " ".join(text.split())
    return text[:-2] if text.endswith(".0") and text[:-2].isdecimal() else text


def _number(text: str) -> int:
    """A whole number that is not negative; -1 for all else."""
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 9 else -1
