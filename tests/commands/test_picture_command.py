"""rowside picture: where the picture goes, what is said, and what is asked of it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PIL import Image
from the_program import PIER_SIGN, ROOT, run

from companion.cli import main
from companion.plan.read import load
from companion.progress.actions import WholeRow
from companion.progress.shelf import Shelf


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("COLUMNS", "1000")
    return tmp_path


def picture(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Exit code, output and messages."""
    code = main(["picture", *words])
    told = capsys.readouterr()
    return code, told.out, told.err


def test_a_file_is_written_and_told_and_never_written_over(folder: Path) -> None:
    ran = run(folder, "picture", "pier.yaml", "-o", "pier.PNG")
    assert (ran.code, ran.out, ran.err) == (0, "", "pier.PNG: the right side, 5 sts x 4 rows.\n")
    with Image.open(folder / "pier.PNG") as image:
        assert image.format == "PNG"
    ran = run(folder, "picture", "pier.yaml", "-o", "pier.PNG", "--wrong-side")
    assert ran.code == 2
    assert 'There is a file "pier.PNG" already.' in ran.err
    ran = run(folder, "picture", "pier.yaml", "-o", "pier.PNG", "--wrong-side", "--force", "--rows", "2-3")
    assert (ran.code, ran.err) == (0, "pier.PNG: the wrong side, 5 sts x 2 rows.\n")


def test_an_svg_and_a_plan_on_standard_input(folder: Path) -> None:
    ran = run(folder, "picture", "-", "-o", "back.svg", "--wrong-side", "--woven", given=PIER_SIGN.encode())
    assert (ran.code, ran.err) == (0, "back.svg: the wrong side, 5 sts x 4 rows.\n")
    assert (folder / "back.svg").read_text("utf-8").startswith("<svg ")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ([], "Say where the picture goes: -o FILE.png or -o FILE.svg."),
        (["-o", "pier.gif"], "The file must end in .png or .svg, to say what it is to be."),
        (["-o", "pier.png", "--woven"], "Ends are woven in on the wrong side: --woven goes with --wrong-side."),
        (["-o", "pier.png", "--rows", "3-9"], "This plan has rows 1 to 4."),
    ],
)
def test_what_cannot_be_drawn_is_told(
    words: list[str], told: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = picture(capsys, "pier.yaml", *words)
    assert (code, out) == (2, "")
    assert told in err
    assert not list(folder.glob("*.png"))


def test_of_a_piece_in_work_what_is_done_is_strong_and_the_rest_pale(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two rows are worked: the middle stitch is sand in rows 1 and 4, #d9c9a5, and pale above."""
    plan = folder / "pier.yaml"
    assert picture(capsys, "pier.yaml", "-o", "plan.png")[0] == 0
    with Shelf(folder / "data" / "pieces").start(load(plan), plan, None) as knitting:
        assert picture(capsys, "pier.yaml", "-o", "begun.png")[0] == 0
        knitting.do(WholeRow())
        knitting.do(WholeRow())
    assert (folder / "begun.png").read_bytes() == (folder / "plan.png").read_bytes(), "nothing is worked: all of it"
    assert picture(capsys, "pier.yaml", "-o", "pier.png")[0] == 0
    with Image.open("pier.png") as image:
        wide, high = image.width // 7, image.height // 6
        sand = [image.getpixel((wide + wide // 2, high * line + high // 2)) for line in range(1, 5)]
    assert sand[2:] == [(0xD9, 0xC9, 0xA5)] * 2
    assert sand[:2] == [(242, 237, 225)] * 2


@pytest.mark.usefixtures("folder")
def test_rows_of_a_part_are_drawn_with_those_beside_them(capsys: pytest.CaptureFixture[str]) -> None:
    demo = str(ROOT / "plans" / "ferry-jumper-front.yaml")
    code, _, err = picture(capsys, demo, "-o", "neck.png", "--rows", "left 3-7")
    assert (code, err) == (0, "neck.png: the right side, 62 sts x 5 rows.\n")


def test_a_wrong_side_of_noise_is_refused_before_it_is_drawn(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every stitch of 201 rows of 200 is a run: 40,200."""
    head, _, _ = PIER_SIGN.partition("  - chart")
    noise = "".join(f"      {line * 100}\n" for line in ("sb", "bs") * 100 + ("sb",))
    (folder / "noise.yaml").write_text(f"{head}  - chart: |\n{noise}", encoding="utf-8")
    code, _, err = picture(capsys, "noise.yaml", "-o", "noise.png", "--wrong-side")
    assert code == 2
    assert "A wrong side of 40,000 runs can be drawn, and this one has 40,200." in err
    assert not (folder / "noise.png").exists()


@pytest.mark.usefixtures("folder")
def test_on_a_terminal_the_wrong_side_has_its_ends_and_says_what_they_are(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    code, out, err = picture(capsys, "pier.yaml", "--wrong-side")
    assert (code, err) == (0, "")
    drawn, _, told = out.partition("○ an end. ")
    assert "○" in drawn
    assert told == "A PNG shows crosses and carried strands, too: rowside picture --wrong-side -o FILE.png\n"
    assert "○" not in picture(capsys, "pier.yaml")[1]
