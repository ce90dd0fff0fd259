"""Whatever stands in a sheet's file: it is drafted, or told in words that name the file, within bounds."""

from __future__ import annotations

import os
import sys
import zipfile
from collections import Counter
from functools import cache
from pathlib import Path
from random import Random

import pytest
from the_program import PIER_SIGN, run

from companion.drafts.sheets import markup
from companion.drafts.sheets.as_csv import csv_text
from companion.plan.read import load_text
from companion.problems import Problem, Problems, show
from tests.drafts.sheet_files import book, cells_xlsx, drafted, filled, ods, unzipped, zipped
from tests.drafts.test_hostile_pictures import mutated, taken

GAUGE = ("--gauge", "20x28/10cm")
ROUNDS = 130
"""Of every kind; all together they take two seconds."""


@cache
def sound(kind: str) -> bytes:
    """A sheet of every kind, not ours where others write it."""
    folder = Path(os.environ["PYTEST_SHEETS"])
    path = folder / f"sound.{kind}"
    if kind == "csv":
        return csv_text(load_text(PIER_SIGN, "pier.yaml", {}).piece).encode()
    if kind == "ods":
        ods(path)
    else:
        workbook, sheet = book()
        filled(sheet)
        sheet["D3"] = "b"
        sheet.merge_cells("A6:B6")
        workbook.save(path)
    return path.read_bytes()


@pytest.fixture(autouse=True)
def _place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTEST_SHEETS", str(tmp_path))


def spoiled(kind: str, dice: Random) -> bytes:
    """A sound file with bytes of it, or of one of its parts, changed."""
    data = sound(kind)
    if kind == "csv" or dice.random() < 0.2:
        return mutated(data, dice)
    parts = unzipped(data)
    name = dice.choice(sorted(name for name in parts if name.endswith((".xml", ".rels"))))
    part = parts[name]
    if dice.random() < 0.5:  # within the words, so that the XML often stays whole
        numbers = [at for at, byte in enumerate(part) if chr(byte).isdecimal()]
        for at in dice.choices(numbers, k=3) if numbers else []:
            part = part[:at] + dice.choice([b"9", b"99999999999", b"-1", b"", b"x", b"1e9"]) + part[at + 1:]
    else:
        part = mutated(part, dice)
    return zipped(parts | {name: part}, zipfile.ZIP_STORED)


@pytest.mark.parametrize("kind", ["xlsx", "ods", "csv"])
def test_mutated_sheets_are_drafted_or_told(tmp_path: Path, kind: str) -> None:
    path, came = tmp_path / f"spoiled.{kind}", Counter[str]()
    for seed in range(ROUNDS):
        path.write_bytes(spoiled(kind, Random(seed)))
        problems: tuple[Problem, ...] = ()
        try:
            drafted(path)
        except Problems as found:
            problems = found.problems
        came["told" if problems else "drafted"] += 1
        assert all(problem.file == str(path) for problem in problems), seed
        assert all(line.isprintable() for problem in problems for line in show(problem).split("\n")), seed
    assert min(came["drafted"], came["told"]) > 5, came


XML = '<?xml version="1.0" encoding="{}"?>'
BOMB = '<!DOCTYPE a [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>'
ROW = '<row><c t="inlineStr"><is><t>A</t></is></c></row>'
OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)
"""As compound files begin (MS-CFB, 2.2)."""

def locked(data: bytes) -> bytes:
    """A zip that says of every part that it is encrypted: bit 0 of the flags (APPNOTE 4.4.4)."""
    for mark, flags in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        head, *others = data.split(mark)
        others = [part[:flags - 4] + bytes([part[flags - 4] | 1]) + part[flags - 3:] for part in others]
        data = mark.join([head, *others])
    return data


ZIP = {"content.xml": "<a/>"}

REFUSED = {
    "nothing": ("xlsx", b"", "is empty."),
    "no zip": ("xlsx", b"A,B\nB,A\n", "is no spreadsheet, or only part of one."),
    "a zip of something else": ("ods", zipped({"letter.txt": "hello"}), "is a zipped file, and no spreadsheet."),
    "a zip cut off": ("xlsx", cells_xlsx(ROW)[:-30], "is no spreadsheet, or only part of one."),
    "an old binary workbook": ("xls", OLD, "is an old binary document"),
    "a workbook behind a password": ("xlsx", OLD, "is an old binary document, or one behind a password."),
    "an open document behind a password": (
        "ods", zipped(ZIP | {"META-INF/manifest.xml": "<m><file-entry><encryption-data/></file-entry></m>"}),
        "is behind a password."),
    "a document type": ("xlsx", cells_xlsx(ROW, workbook=BOMB + "<workbook>&b;</workbook>"), "has a document type"),
    "a document type in the styles": ("xlsx", cells_xlsx(ROW, styles=BOMB + "<a/>"), "has a document type"),
    "parts behind a password": ("xlsx", locked(cells_xlsx(ROW)), "is behind a password."),
    "another way of zipping": (
        "xlsx", zipped(unzipped(cells_xlsx(ROW)), zipfile.ZIP_BZIP2), "is zipped in a way that spreadsheets are"),
    "no sheet": ("xlsx", zipped({"xl/workbook.xml": "<a/>"}), 'has no part "xl/_rels/workbook.xml.rels"'),
    "what nests too deep": ("xlsx", cells_xlsx("<a>" * 70), "nests more than 64 deep."),
    "an encoding that is none": (
        "xlsx", cells_xlsx(ROW, workbook=XML.format("moon") + "<a/>"), 'is damaged in its part "xl/workbook.xml".'),
    "an encoding of several bytes": (
        "xlsx", cells_xlsx(ROW, workbook=XML.format("shift_jis") + "<a/>"), 'damaged in its part "xl/workbook.xml".'),
    "a bomb": ("xlsx", cells_xlsx(" " * 70_000_000), "holds more than 64 MB when it is unpacked."),
    "a long word": ("xlsx", cells_xlsx(f'<c r="{"A" * 2_000_000}"/>'), "is damaged in its part"),
    "too many kinds of elements": (
        "xlsx", cells_xlsx("".join(f"<a{number}/>" for number in range(2_000))), "has more kinds of parts"),
    "too many cells": (
        "ods", zipped({"content.xml": '<a><table><table-row number-rows-repeated="9999"><table-cell '
                       'number-columns-repeated="999"><p>A</p></table-cell></table-row></table></a>'}),
        "has more than 300,000 cells that say something or are filled."),
    "a merged sheet": (
        "xlsx", cells_xlsx(ROW + '</sheetData><mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells><sheetData>'),
        "has more than 300,000 cells"),
    "cells nowhere": ("xlsx", cells_xlsx('<row r="0"><c><v>A</v></c></row>'), "has cells where no sheet has any."),
    "cells past the end": ("xlsx", cells_xlsx('<c r="A1048577"><v>A</v></c>'), "has cells where no sheet has any."),
    "an address that is none": ("xlsx", cells_xlsx('<c r="here"><v>A</v></c>'), "has a cell that is nowhere."),
    "too many texts": ("xlsx", cells_xlsx("", strings="<sst>" + "<si/>" * 300_001 + "</sst>"), "holds more texts"),
    "lines without end": ("csv", b"A," * 20_000, "has more than 16,384 values in a line."),
    "runs without end": ("csv", b"9999A,9999A\n", "has more than 16,384 stitches in line 1."),
    "a large list": ("csv", b"A\n" * 2_500_000, "is larger than 4 MB."),
    "a long list": ("csv", b"\n" * 300_001, "has more than 300,000 cells"),
    "a quote that never ends": ("csv", b'"' + b"A" * 200_000, "is no list of values: field larger than field limit"),
    "text of two bytes cut off": ("csv", "A,B".encode("utf-16")[:-1], "is no text."),
}  # fmt: skip


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_read_is_refused_in_a_sentence_that_names_the_file(tmp_path: Path, name: str) -> None:
    kind, data, said = REFUSED[name]
    path = tmp_path / f"chart.{kind}"
    path.write_bytes(data)
    with pytest.raises(Problems) as caught:
        drafted(path)
    (problem,) = caught.value.problems
    assert problem.what.startswith(f'The file "chart.{kind}" ')
    assert said in problem.what
    assert problem.mend or kind == "csv"


@pytest.mark.parametrize(("name", "said"), [
    ("sand\u202e", 'must be one line of visible text, and is "sand<202E>".'),
    ("sand\u0007x", "must be one line of visible text"),
    ("s" * 41, "must be 40 characters long at most, and has 41."),
    ("sand\n[red]x", None),
    ("[/] {yarn: 1} # no", None),
])  # fmt: skip
def test_names_are_visible_text_and_told_by_their_place(tmp_path: Path, name: str, said: str | None) -> None:
    (tmp_path / "boat.csv").write_text(f'A,B\nB,A\n\nA,"{name}"\n', encoding="utf-8", newline="")
    if said is None:
        assert " ".join(name.split()) in {yarn.name for yarn in drafted(tmp_path / "boat.csv").loaded.piece.yarns}
        return
    with pytest.raises(Problems) as caught:
        drafted(tmp_path / "boat.csv")
    (problem,) = caught.value.problems
    assert problem.what.startswith(f"The name of a yarn beside line 4, value 1 {said}")


def test_the_program_refuses_what_is_amiss_with_exit_code_2_and_writes_nothing(tmp_path: Path) -> None:
    (tmp_path / "old.xls").write_bytes(REFUSED["an old binary workbook"][1])
    (tmp_path / "folder.ods").mkdir()
    for name, said in (("old.xls", "is an old"), ("folder.ods", "is a folder."), ("no.csv", "is not there.")):
        ran = run(tmp_path, "draft", name, "-o", "plan.yaml", *GAUGE)
        assert (ran.code, ran.out) == (2, "")
        assert ran.err.startswith(f'{name}  The file "{name}" {said}')
    assert not (tmp_path / "plan.yaml").exists()


def striped() -> str:
    """As many cells as a file may have, or nearly."""
    cells = "".join(f"<c><v>{column // 60 % 3}</v></c>" for column in range(540))
    return f"<row>{cells}</row>" * 540


@pytest.mark.skipif(sys.platform != "linux", reason="memory is told in /proc")
def test_as_many_cells_as_there_may_be_take_bounded_time_and_memory(tmp_path: Path) -> None:
    (tmp_path / "heavy.xlsx").write_bytes(cells_xlsx(striped()))
    code, seconds, megabytes = taken(tmp_path, "heavy.xlsx", *GAUGE)
    assert code == 0
    assert megabytes < 300
    assert seconds < 30


def test_cells_that_stand_by_themselves_are_no_chart(tmp_path: Path) -> None:
    row = "<c/>".join("<c><v>A</v></c>" for _ in range(101))
    (tmp_path / "many.xlsx").write_bytes(cells_xlsx(f"<row>{row}</row><row/>" * 100))
    with pytest.raises(Problems, match="More than 10,000 cells stand by themselves, and no chart is seen"):
        drafted(tmp_path / "many.xlsx")
    assert drafted(tmp_path / "many.xlsx", part="A1:A1").loaded.piece.fabric.stitches == 1


def test_of_elements_there_are_so_many_at_most(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "many.xlsx").write_bytes(cells_xlsx("<a/>" * 2_000))
    monkeypatch.setattr(markup, "MOST_ELEMENTS", 2_001)  # the true limit takes seconds
    with pytest.raises(Problems, match="holds more than a chart can have"):
        drafted(tmp_path / "many.xlsx")
