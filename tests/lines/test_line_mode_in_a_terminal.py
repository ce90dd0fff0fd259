"""The real program by lines: in a terminal, on pipes, where it is wanted by itself; nothing but text in any of it."""

from __future__ import annotations

import gc
import io
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import ROOT

from companion.cli import main
from tests.lines.at_lines import typed
from tests.screens.at_the_needles import begun, on_disk, shelf, where
from tests.test_floors import brought_along


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")
def test_ctrl_c_stops_it_as_elsewhere_and_nothing_is_lost(tmp_path: Path) -> None:
    from tests.terminal.pseudo_terminal import Terminal

    begun(tmp_path, row=7, runs=1)
    with Terminal(tmp_path, "knit", "swatch", "--plain") as terminal:
        for said, typed_now in (("Knit 12 in tide.", b"\n"), ("Row 8 of 32", b"r 5\n"), ("or Enter: leave it.", b"")):
            terminal.wait_until(lambda said=said: said.encode() in terminal.written, said)
            terminal.send(typed_now)
        terminal.process.send_signal(signal.SIGINT)  # what a terminal makes of it
        assert terminal.wait_for_end() == 130
        assert terminal.written.endswith(b"rowside: Stopped by you. Nothing that was saved is lost.\r\n")
    assert where(on_disk(tmp_path)) == (7, 2)
    typed(tmp_path, "w")
    assert where(on_disk(tmp_path)) == (8, 2)


def test_when_nobody_reads_any_more_it_ends_quietly_and_does_no_more(tmp_path: Path) -> None:
    begun(tmp_path, row=7)
    environment = {"PATH": os.environ["PATH"], "PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(tmp_path)}
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "companion", "knit", "swatch", "--plain"], cwd=tmp_path, env=environment,
        input=b"w\n" * 9, stdout=writing, stderr=subprocess.PIPE, check=False, timeout=300,
    )  # fmt: skip
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, b"")
    assert where(on_disk(tmp_path))[0] <= 7


@pytest.mark.parametrize("words", [["knit", "swatch", "--plain"], ["--plain"]])
def test_it_starts_without_what_draws_and_without_the_command_line(tmp_path: Path, words: list[str]) -> None:
    """A piece is begun and taken up; what it was begun with is loaded then, too."""
    code = f"import os; os.environ['ROWSIDE_HOME'] = {str(tmp_path)!r}; from companion.cli import main"
    loaded = brought_along(f"{code}; assert main({words}) == 0; assert main({words}) == 0; print()", tmp_path)
    assert not loaded & {"textual", "rich", "click"}


def by_lines(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], home: Path, *words: str,
    given: str | bytes = "", **variables: str,
) -> tuple[int, str, str]:
    """Exit code, output and messages of the program in this process, with lines on its standard input."""
    for name in ("TERM", "ACCESSIBLE"):
        monkeypatch.setenv(name, variables.get(name, ""))
    monkeypatch.setenv("ROWSIDE_HOME", str(home))
    monkeypatch.chdir(home)
    given = given.encode() if isinstance(given, str) else given
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(given), encoding="utf-8"))
    code = main(words)
    return code, *capsys.readouterr()


@pytest.mark.parametrize("variables", [{"TERM": "dumb"}, {"ACCESSIBLE": "1"}, {"ACCESSIBLE": "0", "TERM": "vt100"}])
def test_it_comes_by_itself_where_the_terminal_or_the_knitter_wants_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], variables: dict[str, str]
) -> None:
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, "knit", "swatch", given="q\n", **variables)
    assert (code, err) == (0, "")
    assert out.splitlines()[1].startswith("The plan says: Cast on loosely.")
    assert out.splitlines()[2] == "Row 1 of 32, right side toward you."
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, given="1\n\nq\nq\n", **variables)
    assert (code, err) == (0, "")
    assert out.startswith("Rowside: the work basket\nOpened, not begun yet:\n1. Harbour practice swatch")
    assert "Row 1 of 32, right side toward you." in out


def test_elsewhere_a_screen_is_wanted_and_needs_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    sentence = "rowside: The rows can only be shown in a terminal; rowside rows prints them as text.\n"
    monkeypatch.setenv("COLUMNS", "200")
    for words in ((), ("knit", "swatch")):
        assert by_lines(monkeypatch, capsys, tmp_path, *words, TERM="xterm") == (1, "", sentence)


@pytest.mark.parametrize(
    "words",
    [("knit", "swatch", "--plain"), ("knit", "--plain", "swatch"), ("knit", "swatch", "--plain", "--reach", "2")],
)
def test_plain_stands_before_or_after_the_plan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, *words, given="\n")
    assert (code, err) == (0, "")
    assert out.startswith("Harbour practice swatch.\nThe plan says: ")
    assert out.splitlines()[2].startswith("Row 1 of 32")
    assert on_disk(tmp_path).limits.reach == (2 if "--reach" in words else on_disk(tmp_path).piece.carry.reach)


def test_the_basket_by_lines_is_asked_for_with_plain(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, "--plain")
    assert (code, err) == (0, "")
    assert out.startswith("Rowside: the work basket\nDemo plans:\n1. swatch")
    assert out.endswith("Stopped here. Everything is saved.\n")


def test_a_plan_to_mend_is_told_as_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "torn.yaml").write_text("plan: 1\n", encoding="utf-8")
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, "knit", "torn.yaml", "--plain", given="\n")
    assert (code, out) == (2, "")
    assert "torn.yaml" in err
    assert not shelf(tmp_path).cards()


def test_bytes_that_are_no_text_end_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    given = b"\xff\xfe\n\nn \xf0\x28\n"
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, "knit", "swatch", "--plain", given=given)
    assert (code, err) == (0, "")
    assert where(on_disk(tmp_path)) == (1, 1)
    assert out.replace("\n", "").isprintable()


def test_the_settings_in_her_file_hold(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "settings.yaml").write_text("hands: left\nsay: loud\n", encoding="utf-8")
    code, out, err = by_lines(monkeypatch, capsys, tmp_path, "knit", "swatch", "--plain", given="\n" * 5)
    assert (code, err) == (0, "")
    assert on_disk(tmp_path).piece.is_mirrored
    assert out.splitlines()[1].startswith('Settings: "say" must be ')


def test_once_it_runs_garbage_is_looked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looked = list[bool]()

    class Lines(io.StringIO):
        def readline(self, size: int | None = -1, /) -> str:
            looked.append(gc.isenabled())
            return super().readline(size)

    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    monkeypatch.setattr(sys, "stdin", Lines("\n"))
    assert main(["knit", "swatch", "--plain"]) == 0
    assert looked == [True, True]
    gc.unfreeze()
