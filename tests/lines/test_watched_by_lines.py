"""Line mode at a piece that another window writes: each of its steps is a line, and nothing can be done."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.cli import main
from companion.lines.commands import Typist
from companion.progress.actions import On, RipBack, Unpick
from companion.progress.knitting import Knitting
from tests.lines.at_lines import AtLines
from tests.patience import until
from tests.screens.at_the_needles import SWATCH, begun, on_disk, shelf, where, work
from tests.the_program import run

NAME = "Harbour practice swatch"


@pytest.fixture
def writer(tmp_path: Path) -> Iterator[Knitting]:
    begun(tmp_path, row=7)
    with shelf(tmp_path).resume(NAME) as knitting:
        yield knitting


def test_every_step_that_another_window_takes_is_said_until_it_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    begun(tmp_path, row=7)
    said = list[str]()

    class Typed(io.StringIO):
        """A hand that types q once the last step is said."""

        def isatty(self) -> bool:
            return True

        def readline(self, size: int | None = -1, /) -> str:
            with shelf(tmp_path).resume(NAME) as writer:
                work(writer, On(), On(), Unpick(), RipBack(2))
            def is_said() -> bool:
                said.append(capsys.readouterr().out)
                return "ripped back" in "".join(said)

            until(is_said, "the last step is said")
            return "q\n"

    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    monkeypatch.setattr(sys, "stdin", Typed())
    assert main(["watch", NAME, "--plain"]) == 0
    lines = ("".join(said) + capsys.readouterr().out).splitlines()
    assert lines[:2] == [f"{NAME}.", next(line for line in lines if "looking only" in line)]
    assert lines[2:5] == ["Row 7 of 32, right side toward you.", "Knit 12 in shell.", "Type q to leave."]
    assert lines[5].endswith("Knit 12 in tide.")
    assert lines[6].startswith("Row 7 is done. ")
    assert "A run is unpicked." in lines
    assert "It is ripped back to row 2." in lines
    assert lines[-2:] == ["Row 3 of 32, right side toward you.", lines[-1]]
    assert where(on_disk(tmp_path)) == (2, 1), "all of it the writer's"


def test_a_piece_that_is_not_there_is_a_usage_error_with_the_one_that_may_be_meant(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    begun(tmp_path)
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    monkeypatch.setenv("COLUMNS", "200")
    assert main(["watch", "Harbour practice swtch", "--plain"]) == 2
    told = capsys.readouterr()
    assert (told.out, told.err) == (
        "", f'No piece is called "Harbour practice swtch". Did you mean "{NAME}"?\n',
    )  # fmt: skip


def test_who_looks_in_a_second_window_hears_what_is_new_with_the_next_line(tmp_path: Path, writer: Knitting) -> None:
    """Enter, which is On elsewhere, asks for no more than that."""
    from companion.dialogue.opening import open_plan

    def lines() -> Iterator[str]:
        yield ""
        writer.do(On())
        yield ""
        writer.do(On())
        yield "p"
        work(writer, On(), On(), On())
        yield "p"
        writer.close()
        shelf(tmp_path).remove(NAME)
        yield ""

    knitter = Typist()
    said = AtLines(open_plan(knitter, shelf(tmp_path), SWATCH), lines(), knitter).said
    assert said[1] == ["The piece is open in another window; here you may only look."]
    assert len(said[2]) == 1
    assert said[2][0].endswith("Knit 12 in tide.")
    assert said[3][0].startswith("Row 7 is done. ")
    assert any(line.startswith("Row 8 of 32, wrong side toward you, 24 of 24 still on") for line in said[3])
    assert "Row 9 of 32, right side toward you." in said[4]
    assert any("Cross: shell over tide. Knit" in line for line in said[4]), "it was told in full in row 7"
    assert said[5][0].startswith("The piece is not there any more: it was put away, moved or deleted.")


def test_watching_without_a_terminal_tells_how_it_can_be_watched_there(tmp_path: Path) -> None:
    ran = run(tmp_path, "watch", NAME)
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("rowside: A piece can only be watched in a terminal; with --plain its steps are told ")
