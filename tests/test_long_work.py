"""Plans that would take too long or too much memory: done, or refused in one sentence; and what waits says so."""

from __future__ import annotations

import random
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import run

ROOT = Path(__file__).parent.parent
HEAD = """\
plan: 1
title: Quay
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, ink: {colour: black}}
symbols: {s: sand, i: ink}
"""
STOPPED = "rowside: Stopped by you. Nothing that was saved is lost."
TOO_MUCH = (
    "Under these limits there are too many ways for the strands of this piece to go on: lower rest first, then "
    "behind and reach."
)


def noise(columns: int, rows: int, keys: str = "") -> str:
    """A plan of two yarns without any order."""
    dice = random.Random(7)
    lines = ("".join(dice.choice("si") for _ in range(columns)) for _ in range(rows))
    return f"{HEAD}{keys}rows:\n  - chart: |\n" + "".join(f"      {line}\n" for line in lines)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    wide = HEAD + "carry: {behind: 4000}\nrows: [{chart: 1s 1i, across: 2000, repeat: 10}]\n"
    (tmp_path / "wide.yaml").write_text(wide, encoding="utf-8")
    (tmp_path / "plain.yaml").write_text(HEAD + "rows: [{chart: ssii, repeat: 12}]\n", encoding="utf-8")
    return tmp_path


def test_limits_too_wide_are_a_problem_of_the_plan_and_the_next_is_checked(folder: Path) -> None:
    ran = run(folder, "check", "wide.yaml", "plain.yaml")
    assert (ran.code, ran.err) == (2, f"wide.yaml  {TOO_MUCH}\n")
    assert ran.out == (
        "wide.yaml: 1 to mend.\nplain.yaml: 4 sts x 12 rows, 2 yarns, 2 strands; nothing to mend.\n"
    )


@pytest.mark.parametrize("words", ["strands wide.yaml", "rows wide.yaml", "compare wide.yaml", "ends wide.yaml"])
def test_every_command_that_plans_refuses_them_in_the_same_words(folder: Path, words: str) -> None:
    ran = run(folder, *words.split())
    assert (ran.code, ran.out, ran.err) == (2, "", f"{TOO_MUCH}\n")


def test_limits_of_the_command_line_too(folder: Path) -> None:
    text = (folder / "wide.yaml").read_text(encoding="utf-8").replace("carry: {behind: 4000}\n", "")
    (folder / "wide.yaml").write_text(text, encoding="utf-8")
    assert run(folder, "check", "wide.yaml").code == 0
    ran = run(folder, "check", "wide.yaml", "--reach", "100000", "--rest", "100000")
    assert ran.err == f"wide.yaml  {TOO_MUCH}\n"


def test_a_rest_beyond_every_row_is_as_good_as_one_to_the_cast_on(folder: Path) -> None:
    for name, rest in (("all", 12), ("beyond", 4_000_000)):
        text = noise(10, 12, f"carry: {{rest: {rest}}}\n")
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    found = [run(folder, "strands", f"{name}.yaml", "--prove") for name in ("all", "beyond")]
    assert found[0] == found[1]
    assert found[0].code == 0


def test_small_areas_that_are_too_many_to_be_weighed_are_told(folder: Path) -> None:
    (folder / "noise.yaml").write_text(noise(100, 100, "small_areas: 8\ncarry: {share: true}\n"), encoding="utf-8")
    checked = run(folder, "check", "noise.yaml")
    assert checked.code == 0
    assert " small areas are too many to be weighed.\n" in checked.out
    asked = run(folder, "areas", "noise.yaml")
    assert (asked.code, asked.out) == (2, "")
    assert asked.err.endswith(
        " small areas are too many to be weighed one by one in this piece: ask for areas of fewer stitches, or for "
        "shorter limits.\n"
    )


def test_symbols_that_are_not_declared_are_told_from_the_first_one_on_up_to_200(folder: Path) -> None:
    """A line of 3,000 of them, and every symbol is another one."""
    signs = "".join(chr(0x4E00 + number) for number in range(3000))
    (folder / "signs.yaml").write_text(f"{HEAD}rows:\n  - chart: |\n      {signs}\n", encoding="utf-8")
    ran = run(folder, "check", "signs.yaml")
    assert ran.out == "signs.yaml: 201 to mend.\n"
    told = [line for line in ran.err.splitlines() if "uses the symbol" in line]
    assert all(sign in line for sign, line in zip(signs[:200], told, strict=True))


def test_a_hundred_specks_on_an_ordinary_chart_are_weighed_though_they_share_lengths() -> None:
    """60 stitches by 80 rows: all of them take a second; refused is what takes ten times as long."""
    from companion.knitting.reckoning.savings import savings, small_areas
    from companion.plan.read import load_text

    rows = [list("s" * 60) for _ in range(80)]
    for number in range(100):
        rows[3 + 7 * (number // 10)][4 + 5 * (number % 10)] = "i"
    chart = "".join(f"      {''.join(row)}\n" for row in rows)
    piece = load_text(f"{HEAD}carry: {{share: true}}\nrows:\n  - chart: |\n{chart}", "specks.yaml", {}).piece
    small = small_areas(piece, 10)
    assert len(small) == 100
    saving = next(savings(piece, small))
    assert saving is not None
    assert (saving.over, saving.lengths) == ("sand", 1)


def test_nothing_is_loaded_before_it_can_be_said_that_one_stopped_it() -> None:
    """But for the two files themselves; what Python loads for itself is there before."""
    code = (
        f"import sys; sys.path.insert(0, {str(ROOT)!r}); before = set(sys.modules)\n"
        "import companion.__main__; print(*sorted(set(sys.modules) - before))"
    )
    ran = subprocess.run([sys.executable, "-I", "-S", "-c", code], capture_output=True, text=True, check=True)
    assert set(ran.stdout.split()) <= {"__future__", "companion", "companion.__main__"}


if sys.platform != "win32":
    from tests.terminal.pseudo_terminal import Terminal

    LONG = ("check", "areas", "strands --prove", "knit")

    @pytest.mark.parametrize("words", LONG)
    def test_what_takes_long_shows_a_bar_and_ctrl_c_ends_it_in_words(tmp_path: Path, words: str) -> None:
        """Nearly as many runs as a plan may have, so that it takes seconds."""
        (tmp_path / "long.yaml").write_text(noise(1000, 900), encoding="utf-8")
        command, *options = words.split()
        with Terminal(tmp_path, command, "long.yaml", *options) as terminal:
            terminal.wait_until(lambda: "━" in terminal.text, "the bar")
            terminal.process.send_signal(signal.SIGINT)
            assert terminal.wait_for_end() == 130
            assert [line for line in terminal.text.splitlines() if line] == [STOPPED]

    def test_the_bar_is_gone_when_the_answer_comes(tmp_path: Path) -> None:
        """It comes after half a second; this takes twice as long and more."""
        (tmp_path / "noise.yaml").write_text(noise(1000, 500), encoding="utf-8")
        with Terminal(tmp_path, "check", "noise.yaml", is_fresh=False) as terminal:
            assert terminal.wait_for_end() == 0
            assert b"Checking noise.yaml" in terminal.written
            [line] = [line for line in terminal.text.splitlines() if line]
        assert line.startswith("noise.yaml: 1000 sts x 500 rows, 2 yarns, ")
        ran = run(tmp_path, "check", "noise.yaml")
        assert (ran.code, ran.err) == (0, "")
