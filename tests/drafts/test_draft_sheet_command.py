"""A sheet to a plan, by the real program."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from the_program import ROOT, run

from companion.plan.read import load
from tests.drafts.sheet_files import BOAT, book, filled

GAUGE = ("--gauge", "20x28/10cm")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    workbook, sheet = book()
    filled(sheet)
    workbook.save(tmp_path / "boat.xlsx")
    return tmp_path


def test_a_sheet_becomes_a_plan_whose_figures_are_those_of_check(folder: Path) -> None:
    ran = run(folder, "draft", "boat.xlsx", "-o", "plan.yaml", *GAUGE)
    assert ran.code == 0
    summary = run(folder, "check", "plan.yaml").out.partition(";")[0]
    assert ran.err.splitlines() == [
        f"{summary}.", 'Its chart is A1:H6, sheet "Sheet".', "To knit it: rowside knit plan.yaml"
    ]
    assert summary.startswith("plan.yaml: 8 sts x 6 rows, 3 yarns, ")


def test_the_command_in_the_plan_makes_it_again_byte_for_byte(folder: Path) -> None:
    (folder / "deep er").mkdir()
    os.rename(folder / "boat.xlsx", folder / "deep er" / "boat.xlsx")
    first = run(folder, "draft", "deep er/boat.xlsx", "--gauge", "swatch", "--crop", "B1:H6", "--ground", "white").out
    command = "rowside draft boat.xlsx --gauge swatch --crop B1:H6 --ground white"
    assert f"\n# {command}\n" in first
    os.rename(folder / "deep er" / "boat.xlsx", folder / "boat.xlsx")
    assert run(folder, *command.split()[1:], is_fresh=True).out == first


def test_a_sheet_needs_neither_numpy_nor_pillow(folder: Path) -> None:
    """Nor does what is written for other programs; the picture, too, is made by the standard library."""
    for name in ("numpy", "PIL"):
        bare = folder / "bare" / name
        bare.mkdir(parents=True)
        (bare / "__init__.py").write_text("raise ImportError\n", encoding="utf-8")
    path = {"PYTHONPATH": os.pathsep.join([str(folder / "bare"), str(ROOT)])}
    assert run(folder, "draft", "boat.xlsx", "-o", "plan.yaml", *GAUGE, **path).code == 0
    assert load(folder / "plan.yaml").piece.fabric.columns == len(BOAT[0])
    for kind in ("csv", "png"):
        assert run(folder, "write", "plan.yaml", "-o", f"boat2.{kind}", **path).code == 0
    assert run(folder, "draft", "boat2.png", *GAUGE, "--stitches", "8", **path).code == 2


@pytest.mark.parametrize(("words", "said"), [
    (("--price", "0"), "--price is of no use here: a sheet says which stitch is in which yarn."),
    (("--choices",), "--choices is of no use here"),
    (("--show",), "--show is of no use here"),
    (("--flip",), "--flip is of no use here"),
    (("--sideways",), "--sideways is of no use here"),
    (("--hold", "1,1"), "--hold is of no use here"),
    (("--stitches", "8"), "--stitches is of no use here"),
    (("--crop", "0,0,4,4"), 'The part "0,0,4,4" is not understood.\n  Of a sheet: --crop B2:K20'),
    (("--ground", "sandish"), '"ground" must be a CSS colour name'),
])  # fmt: skip
def test_what_a_sheet_has_no_use_for_is_refused(folder: Path, words: tuple[str, ...], said: str) -> None:
    ran = run(folder, "draft", "boat.xlsx", "-o", "plan.yaml", *GAUGE, *words)
    assert ran.code == 2
    assert said in ran.err
    assert not (folder / "plan.yaml").exists()


def test_without_a_gauge_it_is_asked_for(folder: Path) -> None:
    ran = run(folder, "draft", "boat.xlsx")
    assert ran.code == 2
    assert "How large is it to be? Give --gauge, such as 20x28/10cm." in ran.err


def test_nothing_is_written_over_without_force(folder: Path) -> None:
    (folder / "plan.yaml").write_text("mine", encoding="utf-8")
    ran = run(folder, "draft", "boat.xlsx", "-o", "plan.yaml", *GAUGE)
    assert ran.code == 2
    assert ran.err.startswith('There is a file "plan.yaml" already.')
    assert (folder / "plan.yaml").read_text(encoding="utf-8") == "mine"
