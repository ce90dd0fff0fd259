"""Written rows to a plan, by the real program."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from the_program import ROOT, run

ROWS = """\
Pier sign

Gauge: 20 sts and 28 rows = 10 cm
Navy: navy

Row 1 (RS): with navy knit 6.
Row 2: p2 navy, p2 sand, p2 navy.
Rows 3-4: rep Rows 1-2
"""
LISTED = ROWS.replace("Navy: navy\n", "")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier sign.txt").write_text(LISTED, encoding="utf-8")
    return tmp_path


def test_written_rows_become_a_plan_that_says_where_it_came_from(folder: Path) -> None:
    ran = run(folder, "draft", "pier sign.txt", "-o", "sign.yaml", is_fresh=True)
    assert (ran.code, ran.out) == (0, "")
    assert ran.err.startswith("sign.yaml: ")
    assert ran.err.endswith(
        "Colours were chosen for sand: the rows do not name them.\nTo knit it: rowside knit sign.yaml\n"
    )
    text = (folder / "sign.yaml").read_text(encoding="utf-8")
    assert text.startswith("# Drafted from written rows (pier sign.txt) by\n# rowside draft 'pier sign.txt'\n")
    assert "\ntitle: Pier sign\n" in text
    assert "gauge: {stitches: 20, rows: 28, over: 10 cm}\n" in text
    assert '  navy: {colour: "#000080"}\n' in text
    assert text.endswith("rows:\n  - chart: |\n      nnssnn\n      nnnnnn\n    repeat: 2\n")
    assert run(folder, "check", "sign.yaml").code == 0


def test_rows_come_from_standard_input_and_the_plan_goes_to_standard_output(folder: Path) -> None:
    ran = run(folder, "draft", "-", given=LISTED.encode())
    assert (ran.code, ran.err) == (0, "")
    assert "\n# rowside draft -\n" in ran.out
    wrong = run(folder, "draft", "-", given=b"Row 1: A 5 B 3\n")
    assert (wrong.code, wrong.out) == (2, "")
    assert wrong.err.startswith('standard input:1:8  "A 5" can be read two ways: ')
    assert run(folder, "draft", "-", given=b"\xff").err.startswith("standard input:1:1  The file is not UTF-8 text")


def test_the_programs_own_rows_come_back_through_a_pipe(folder: Path) -> None:
    rows = run(folder, "rows", "mooring-mat", COLUMNS="60").out
    back = run(folder, "draft", "-", "-o", "mat.yaml", given=rows.encode())
    assert back.code == 0, back.err
    assert run(folder, "rows", "mat.yaml").out == run(folder, "rows", "mooring-mat").out


def test_a_gauge_is_needed_and_the_command_goes_before_the_text(folder: Path) -> None:
    given = LISTED.encode().replace(b"Gauge: 20 sts and 28 rows = 10 cm\n", b"")
    ran = run(folder, "draft", "-", given=given)
    assert (ran.code, ran.err) == (2, (
        "standard input  The text says no gauge, and a plan needs one.\n"
        '  Give it: --gauge 20x28/10cm, or write "Gauge: 20 sts and 28 rows over 10 cm" above the rows.\n'
    ))  # fmt: skip
    assert "rows: 30, over: 10 cm}" in run(folder, "draft", "pier sign.txt", "--gauge", "22x30/10cm").out
    inches = given.replace(b"Pier sign\n", b'Pier sign\nTension: 18 sts & 24 rows over 4 inches in pattern\n')
    assert "gauge: {stitches: 18, rows: 24, over: 10.16 cm}" in run(folder, "draft", "-", given=inches).out


def test_colours_come_from_a_file_of_yarns_too(folder: Path) -> None:
    (folder / "stash.yaml").write_text('Sand: "#d9c9a5"\nnavy: "#001122"\n', encoding="utf-8")
    ran = run(folder, "draft", "pier sign.txt", "--yarns", "stash.yaml")
    assert 'sand: {colour: "#d9c9a5"}' in ran.out
    assert 'navy: {colour: "#001122"}' in ran.out
    assert "name no colours" not in ran.out


def test_options_that_mean_nothing_for_rows_or_for_pictures_are_refused_in_a_sentence(folder: Path) -> None:
    for words, option in (
        (("--price", "3"), "price"), (("--flip",), "flip"), (("--choices",), "choices"), (("--hold", "1,1"), "hold"),
        (("--width", "4cm"), "width"), (("--sideways",), "sideways"),
    ):  # fmt: skip
        ran = run(folder, "draft", "pier sign.txt", *words)
        assert ran.code == 2
        what = f"Error: --{option} is for pictures: written rows have their stitches and yarns already."
        assert what in ran.err
    ran = run(folder, "draft", "boat.png", "--terms", "uk")
    assert (ran.code, "Error: --terms is for written rows: a picture has no words." in ran.err) == (2, True)


def test_what_is_left_out_is_told_and_nothing_is_written_over(folder: Path) -> None:
    (folder / "rows.txt").write_text(f"{LISTED}\nWeave in the ends.\n", encoding="utf-8")
    (folder / "plan.yaml").write_text("mine", encoding="utf-8")
    ran = run(folder, "draft", "rows.txt", "-o", "plan.yaml")
    assert ran.code == 2
    assert 'There is a file "plan.yaml" already.' in ran.err
    ran = run(folder, "draft", "rows.txt", "-o", "plan.yaml", "--force", "--terms", "uk")
    assert ran.code == 0
    assert ran.err.startswith("rows.txt:9:1  Warning: What is done after the last row is left out of the plan.\n")
    assert "\nterms: uk\n" in (folder / "plan.yaml").read_text(encoding="utf-8")


def test_written_rows_need_neither_numpy_nor_pillow(folder: Path) -> None:
    program = (
        "import sys\n"
        "for name in ('numpy', 'PIL'): sys.modules[name] = None\n"
        "sys.argv = ['rowside', 'draft', 'pier sign.txt']\n"
        "from companion.__main__ import main\n"
        "main()\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=folder, capture_output=True, check=False, text=True, timeout=300,
        env={"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(folder / "data"), "PYTHONUTF8": "1"},
    )  # fmt: skip
    assert done.stderr == ""
    assert done.stdout.endswith("    repeat: 2\n")
