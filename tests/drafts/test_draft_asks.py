"""A picture is drafted on a terminal: what is not said is asked."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PIL import Image
from the_program import run

from companion.plan.read import load
from tests.drafts.harbour import boat

if sys.platform != "win32":
    from tests.terminal.pseudo_terminal import ENTER, Terminal

    @pytest.fixture
    def folder(tmp_path: Path) -> Path:
        Image.fromarray(boat()).save(tmp_path / "boat.png")
        return tmp_path

    def is_asked(text: str, what: str) -> bool:
        """The words are there, and the last line waits for an answer."""
        return what in text and text.rstrip().endswith("]:")

    def test_each_question_has_an_answer_and_the_plan_is_what_was_answered(folder: Path) -> None:
        (folder / "boat.yaml").write_text("somebody's", encoding="utf-8")
        with Terminal(folder, "draft", "boat.png") as terminal:
            for question, typed in (
                ("How wide: a length, or so many stitches [40cm]:", b"0"),
                ("a whole number from 1 to 4,000", b"30"),
                ("Gauge, stitches x rows over a length [20x28/10cm]:", b""),
                ("the file of the yarns at hand [6]:", b"3"),
                ("160 hardly any [40]:", b"much"),
                ("a whole number from 0 to 10,000", b"80"),
                ("The plan goes to the file [boat.yaml]:", b""),
                ("boat.yaml is there already", b"sail.yaml"),
            ):
                terminal.wait_until(lambda question=question: is_asked(terminal.text, question), question)
                terminal.send(typed + ENTER)
            assert terminal.wait_for_end() == 0
            assert "To knit it: rowside knit sail.yaml" in terminal.text
        assert (folder / "boat.yaml").read_text(encoding="utf-8") == "somebody's"
        loaded = load(folder / "sail.yaml")
        assert (loaded.piece.fabric.columns, len(loaded.piece.yarns)) == (30, 3)
        command = "rowside draft boat.png --gauge 20x28/10cm --stitches 30 --colours 3 --price 80"
        assert f"\n# {command}\n" in loaded.text
        assert run(folder, *command.split()[1:], is_fresh=True).out == loaded.text

    def test_how_every_price_looks_is_shown_in_colours_on_a_terminal_and_in_letters_elsewhere(folder: Path) -> None:
        words = ("draft", "boat.png", "--stitches", "30", "--gauge", "20x28/10cm", "--show")
        with Terminal(folder, *words, variables={"COLORTERM": "truecolor"}, lines=60) as terminal:
            assert terminal.wait_for_end() == 0
            assert b"\x1b[38;2;" in terminal.written
            assert terminal.text.count("▀" * 30) >= 20
            assert "160: " in terminal.text
        ran = run(folder, *words)
        assert ran.code == 0
        assert "▀" not in ran.out
        assert "\x1b" not in ran.out
        assert ran.out.startswith("30 sts x 32 rows, 15 x 11 cm\n\nPrice  Yarns  Strands")
        letters = [part for part in ran.out.split() if len(part) == 30 and part.isalpha()]
        assert len(letters) == 6 * 11
        assert not list(folder.glob("*.yaml"))
