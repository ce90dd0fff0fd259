"""Plans out to sheets, pictures and written rows, and back into the same fabric, by the real program."""

from __future__ import annotations

import csv
import re
import shlex
from itertools import groupby
from pathlib import Path

import pytest
from openpyxl import load_workbook
from PIL import Image
from the_program import PIER_SIGN, Ran, run

from companion.drafts.sheets.as_csv import csv_text
from companion.drafts.sheets.as_xlsx import xlsx_bytes
from companion.drafts.sheets.laid_out import drawing
from companion.knitting.cloth.fabric import Stitch, cells
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.piece import Piece
from companion.plan.demo import demo_plans
from companion.plan.read import load, load_text
from tests.drafts.sheet_files import drafted

DEMOS = {path.stem: path for path in demo_plans()}

PIER = ["sssss", "sbbss", "ssbbs", "sssss"]

ONE_COLOUR = PIER_SIGN.replace("#a8432f", "#d9c9a5")


def looks(piece: Piece) -> list[list[tuple[str, bool, str] | None]]:
    """Of every stitch of a piece the yarn, whether it looks like a knit stitch, and what is sewn over it, worked out
    anew and not as ``drawing`` does it."""
    found = []
    for index, row in enumerate(piece.fabric.rows):
        looked = piece.rows[index]
        across = [
            stitch and (stitch.yarn, looks_knit(looked, stitch.texture, column), stitch.sewn)
            for column, stitch in enumerate(cells(row), 1)
        ]
        found.append(across[: row.columns - row.seam_stitches])
    return found


def without_rounds(piece: Piece) -> bool:
    return not any(row.is_round for row in piece.fabric.rows)


def there_and_back(folder: Path, name: str, kind: str) -> Piece:
    """The piece that is drafted from what is written of a plan, by the command that is told then."""
    ran = run(folder, "write", name, "-o", f"chart.{kind}")
    assert ran.code == 0, ran.err
    again = re.search(r"^To draft from it: rowside (.*)$", ran.err, re.MULTILINE)
    assert again
    back = run(folder, *shlex.split(again[1]), "-o", "back.yaml")
    assert back.code == 0, back.err
    return load(folder / "back.yaml").piece


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("kind", ["xlsx", "csv"])
def test_every_demo_comes_back_from_a_sheet(tmp_path: Path, name: str, kind: str) -> None:
    piece = load(DEMOS[name]).piece
    path = tmp_path / f"chart.{kind}"
    path.write_bytes(xlsx_bytes(piece) if kind == "xlsx" else csv_text(piece).encode())
    back = drafted(path).loaded.piece
    assert {yarn.name: yarn.colour for yarn in back.yarns} == {yarn.name: yarn.colour for yarn in piece.yarns}
    assert drawing(back) == drawing(piece)
    if without_rounds(piece):
        assert looks(back) == looks(piece)
        assert back.fabric == piece.fabric


def test_ribs_of_a_piece_that_is_turned_round_come_back_stitch_by_stitch(tmp_path: Path) -> None:
    """The left wrist warmer is the right one turned round; its ribs are anchored to the other edge."""
    left, right = (load(DEMOS[f"wrist-warmer-{side}"]).piece for side in ("left", "right"))
    knit = [[stitch and stitch.texture.kind for stitch in row] for row in drawing(left)]
    assert knit[0] == ["stockinette", "stockinette", "reverse", "reverse"] * 10
    assert drawing(right)[0][-1] == Stitch("fog", right.fabric.rows[-1].runs[0].stitch.texture)  # type: ignore[union-attr]
    (tmp_path / "left.xlsx").write_bytes(xlsx_bytes(left))
    assert drawing(drafted(tmp_path / "left.xlsx").loaded.piece) == drawing(left)


@pytest.mark.parametrize("name", ["harbour-light-cushion", "wrist-warmer-left", "ferry-jumper-front"])
def test_a_picture_at_stitch_size_comes_back_in_its_colours(tmp_path: Path, name: str) -> None:
    piece = load(DEMOS[name]).piece
    back = there_and_back(tmp_path, name, "png")
    for row, again in zip(drawing(piece), drawing(back), strict=True):
        seen = [stitch and piece.yarn(stitch.sewn or stitch.yarn).colour for stitch in row]
        drawn = [stitch and back.yarn(stitch.yarn).colour for stitch in again]
        parts = sum(is_there for is_there, _ in groupby(seen, bool))
        assert parts == 2 or drawn == seen  # an opening is not drafted


@pytest.mark.parametrize("kind", ["xlsx", "csv"])
def test_the_program_writes_and_drafts_again(tmp_path: Path, kind: str) -> None:
    back = there_and_back(tmp_path, "mooring-mat", kind)
    piece = load(DEMOS["mooring-mat"]).piece
    assert back.fabric == piece.fabric
    assert back.gauge == piece.gauge


def test_the_workbook_is_one_that_openpyxl_reads(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    assert run(tmp_path, "write", "pier.yaml", "-o", "pier.xlsx", is_fresh=True).code == 0
    sheet = load_workbook(tmp_path / "pier.xlsx").active
    assert sheet is not None
    assert sheet.title == "Pier sign"
    assert ["".join(str(cell.value) for cell in row) for row in sheet["A1:E4"]] == PIER
    fills = {"s": "FFD9C9A5", "b": "FFA8432F"}
    assert all(cell.fill.fgColor.rgb == fills[cell.value] for row in sheet["A1:E4"] for cell in row)
    inks = {str(cell.value): str(cell.font.color.rgb)[2:].lower() for row in sheet["A1:E4"] for cell in row}
    assert inks == {"s": "000000", "b": "ffffff"}  # what reads better on pale and on dark
    assert [sheet.cell(row, 6).value for row in range(1, 5)] == [4, 3, 2, 1]
    assert [sheet.cell(5, column).value for column in range(1, 6)] == [5, 4, 3, 2, 1]
    assert [[cell.value for cell in row] for row in sheet["H1:J2"]] == [
        ["s", "sand", "#d9c9a5"], ["b", "brick", "#a8432f"]
    ]
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    wide_px = round(sheet.column_dimensions["A"].width * 7)  # the widest digit of the usual font has 7 pixels
    high_px = sheet.row_dimensions[1].height * 96 / 72
    assert wide_px / high_px == pytest.approx(28 / 20, abs=0.04)


def test_lines_are_letters_with_numbers_and_a_legend(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    assert run(tmp_path, "write", "pier.yaml", "-o", "pier.csv").code == 0
    lines = list(csv.reader((tmp_path / "pier.csv").read_text(encoding="utf-8").splitlines()))
    assert lines == [
        [*"sssss", "4"], [*"sbbss", "3"], [*"ssbbs", "2"], [*"sssss", "1"], [*"54321"], [],
        ["s", "sand", "#d9c9a5"], ["b", "brick", "#a8432f"],
    ]  # fmt: skip


def test_the_picture_has_the_proportions_of_the_gauge(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    assert run(tmp_path, "write", "pier.yaml", "-o", "pier.png").code == 0
    with Image.open(tmp_path / "pier.png") as picture:
        wide, high = picture.width / 5, picture.height / 4
        assert wide / high == 28 / 20
        middles = [[picture.getpixel((wide * (x + 0.5), high * (y + 0.5))) for x in range(5)] for y in range(4)]
    sand, brick = (0xD9, 0xC9, 0xA5), (0xA8, 0x43, 0x2F)
    assert middles == [[brick if letter == "b" else sand for letter in line] for line in PIER]


def test_a_picture_is_transparent_where_there_is_no_stitch(tmp_path: Path) -> None:
    ran = run(tmp_path, "write", "ferry-jumper-front", "-o", "ferry.png")
    assert "where there is no stitch. An opening is not drafted from it, all other edges are.\n" in ran.err
    with Image.open(tmp_path / "ferry.png") as picture:
        corner, hem = picture.getpixel((0, 0)), picture.getpixel((0, picture.height - 1))
    assert isinstance(corner, tuple)
    assert corner[3] == 0
    assert hem == (0x1F, 0x5A, 0x6B, 0xFF)


def test_written_rows_are_those_that_rows_prints(tmp_path: Path) -> None:
    assert run(tmp_path, "write", "swatch", "-o", "swatch.txt").err == "swatch.txt: the written rows.\n"
    assert (tmp_path / "swatch.txt").read_text(encoding="utf-8") == run(tmp_path, "rows", "swatch", COLUMNS="80").out


def told(ran: Ran) -> list[str]:
    return ran.err.splitlines()[1:-1]


def test_what_a_file_has_no_place_for_is_told(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(ONE_COLOUR, encoding="utf-8")
    bare = PIER_SIGN.replace(", ball: {metres: 120, grams: 50}", "").replace("carry: {reach: 1}\n", "")
    (tmp_path / "bare.yaml").write_text(bare, encoding="utf-8")
    assert told(run(tmp_path, "write", "bare.yaml", "-o", "bare.csv")) == ["Not in it: its gauge."]
    assert told(run(tmp_path, "write", "pier.yaml", "-o", "pier.csv")) == [
        "Not in it: its gauge, how far strands go and amounts of yarn."
    ]
    assert told(run(tmp_path, "write", "pier.yaml", "-o", "pier.png")) == [
        "Not in it: its gauge, how far strands go, amounts of yarn and names of yarns.",
        "One colour in a picture: sand and brick.",
    ]
    cowl = told(run(tmp_path, "write", "breakwater-cowl", "-o", "cowl.xlsx"))
    assert cowl == [
        "Not in it: its gauge, rounds, stitches for a tube's seam and amounts of yarn.",
        "Stitches with letters of their own: a: haze, garter; e: sea, garter.",
    ]
    warmer = told(run(tmp_path, "write", "wrist-warmer-left", "-o", "warmer.png"))
    assert warmer == [
        "Not in it: its gauge, rounds, amounts of yarn, names of yarns, textures and what is sewn on."
    ]


def test_a_slit_that_leaves_out_no_stitch_is_told_since_no_cell_shows_it(tmp_path: Path) -> None:
    head = """\
plan: 1
title: Pier slit
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  sand: {colour: linen}
  brick: {colour: maroon}
symbols: {s: sand, b: brick}
"""
    rows = "rows:\n  - plain: {rows: 2, stitches: 8, yarn: sand}\n"
    slit = rows + "  - opening: {first: right, at: 4, rows: 4}\n    chart: 4s 4b\n    repeat: 6\n"
    gap = rows + "  - chart: |\n      8s\n      3b 2. 3b\n      3b 2. 3b\n    opening: {first: right}\n"
    (tmp_path / "slit.yaml").write_text(head + slit, encoding="utf-8")
    (tmp_path / "gap.yaml").write_text(head + gap, encoding="utf-8")
    assert told(run(tmp_path, "write", "slit.yaml", "-o", "slit.csv")) == [
        "Not in it: its gauge and slits that leave out no stitch."
    ]
    assert told(run(tmp_path, "write", "gap.yaml", "-o", "gap.csv")) == ["Not in it: its gauge."]


def test_two_yarns_of_one_colour_come_back_from_sheets(tmp_path: Path) -> None:
    piece = load_text(ONE_COLOUR, "pier.yaml", {}).piece
    for kind, data in (("xlsx", xlsx_bytes(piece)), ("csv", csv_text(piece).encode())):
        (tmp_path / f"pier.{kind}").write_bytes(data)
        assert drafted(tmp_path / f"pier.{kind}").loaded.piece.fabric == piece.fabric


@pytest.mark.parametrize("symbols", ["=-", "12", "#+", "äß", "@'", "!&", "<\"", "日本"])
def test_any_symbols_and_names_go_out_and_come_back(tmp_path: Path, symbols: str) -> None:
    """Names that a spreadsheet would reckon as formulas are marked, and read without the mark."""
    s, b = symbols
    text = PIER_SIGN.replace("  sand:", '  "=1+2, <b>":').replace("  brick:", "  'it''s \"brick\" & é':")
    text = text.replace("  s: sand", f"  '{s.replace(chr(39), chr(39) * 2)}': \"=1+2, <b>\"")
    text = text.replace("  b: brick", f"  '{b.replace(chr(39), chr(39) * 2)}': 'it''s \"brick\" & é'")
    for line in ("sssss", "sbbss", "ssbbs"):
        text = text.replace(f"      {line}\n", f"      {line.replace('b', 'B').replace('s', s).replace('B', b)}\n")
    piece = load_text(text, "pier.yaml", {}).piece
    assert piece.yarns[0].name == "=1+2, <b>"
    written = csv_text(piece)
    assert ",\"'=1+2, <b>\"," in written
    for kind, data in (("xlsx", xlsx_bytes(piece)), ("csv", written.encode())):
        (tmp_path / f"pier.{kind}").write_bytes(data)
        assert drafted(tmp_path / f"pier.{kind}").loaded.piece.fabric == piece.fabric
    sheet = load_workbook(tmp_path / "pier.xlsx").active
    assert sheet is not None
    assert (sheet["I1"].value, sheet["I1"].data_type) == ("=1+2, <b>", "s")


def test_nothing_is_written_over_without_force(tmp_path: Path) -> None:
    for kind in ("xlsx", "txt"):
        path = tmp_path / f"swatch.{kind}"
        path.write_bytes(b"mine")
        ran = run(tmp_path, "write", "swatch", "-o", path.name)
        assert ran.code == 2
        assert ran.err.startswith(f'There is a file "swatch.{kind}" already.')
        assert path.read_bytes() == b"mine"
        assert run(tmp_path, "write", "swatch", "-o", path.name, "--force").code == 0
        first = path.read_bytes()
        assert run(tmp_path, "write", "swatch", "-o", path.name).code == 0  # it holds just this
        assert path.read_bytes() == first
    assert len(list(tmp_path.glob("swatch*"))) == 2


def test_the_ending_says_what_is_written(tmp_path: Path) -> None:
    ran = run(tmp_path, "write", "swatch", "-o", "swatch.pdf")
    assert ran.code == 2
    assert "The file must end in .xlsx, .csv, .png or .txt, to say what it is to be." in ran.err
    assert run(tmp_path, "write", "swatch", "-o", "no/swatch.csv").code == 1
    assert not list(tmp_path.glob("swatch*"))


def test_more_than_a_sheet_holds_is_told(tmp_path: Path) -> None:
    wide = 'plan: 1\ntitle: Wide\ngauge: {stitches: 20, rows: 28, over: 10 cm}\nyarns: {sand: {colour: linen}}\n' \
           "rows: [{plain: {rows: 1000, stitches: 400, yarn: sand}}]\n"
    (tmp_path / "wide.yaml").write_text(wide, encoding="utf-8")
    ran = run(tmp_path, "write", "wide.yaml", "-o", "wide.xlsx")
    assert (ran.code, ran.err) == (2, "A sheet has 300,000 cells at most, and this piece needs 401,401.\n")
