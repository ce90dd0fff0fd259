"""The real program in a terminal: a plan that was renamed, a piece put away and brought back."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

if sys.platform == "win32":
    pytest.skip("no pseudo-terminals", allow_module_level=True)

from pseudo_terminal import DOWN, ENTER, Terminal

from companion.plan.demo import demo_folder
from companion.plan.read import load
from companion.progress.actions import AtRow
from companion.progress.shelf import Shelf

NAME = "Harbour practice swatch"


def renamed(home: Path) -> tuple[Path, Path]:
    """A piece at row 5 of a plan file that has another name since; its old path and its new one."""
    folder = demo_folder()
    assert folder is not None
    old, new = home / "old.yaml", home / "new.yaml"
    old.write_bytes((folder / "swatch.yaml").read_bytes())
    with Shelf(home / "pieces").start(load(old), old) as piece:
        piece.do(AtRow(5))
    old.rename(new)
    return old, new


def plan_of(home: Path) -> str:
    [card] = Shelf(home / "pieces").cards()
    return card.plan_path


def test_a_renamed_plan_is_asked_about_once(tmp_path: Path) -> None:
    _, new = renamed(tmp_path)
    with Terminal(tmp_path, "knit", str(new)) as terminal:
        terminal.wait_for("which is not there any more.", "Yes: go on with")
        terminal.send(ENTER)
        terminal.wait_for("Row 5 of 32", "q quit")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0
    assert plan_of(tmp_path) == str(new)
    with Terminal(tmp_path, "knit", str(new)) as terminal:
        terminal.wait_for("Row 5 of 32", "q quit")


def test_a_piece_that_is_named_follows_the_plan_it_is_opened_with(tmp_path: Path) -> None:
    old, new = renamed(tmp_path)
    with Terminal(tmp_path, "knit", str(new), "--name", NAME) as terminal:
        terminal.wait_for("Row 5 of 32", "q quit")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0
    assert plan_of(tmp_path) == str(new)
    new.rename(old)
    with Terminal(tmp_path, "knit", str(old), "--name", NAME) as terminal:
        terminal.wait_for("Row 5 of 32", "q quit")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0
    assert plan_of(tmp_path) == str(old)


def test_a_piece_is_put_away_and_brought_back_in_the_basket(tmp_path: Path) -> None:
    renamed(tmp_path)
    kept = tmp_path / "removed" / "harbour-practice-swatch.rowside"
    with Terminal(tmp_path) as terminal:
        terminal.wait_for("The work basket".lower(), NAME)
        terminal.send(b"x")
        terminal.wait_for("away?", "put it away")
        terminal.send(b"y")
        terminal.wait_until(kept.exists, "the file is in its new place")
        terminal.wait_for("is put away")
        terminal.send(b"u")
        terminal.wait_for("Which piece comes back?")
        terminal.send(ENTER)
        terminal.wait_for("is back")
        assert not kept.exists()
        terminal.send(DOWN + b"q")
        assert terminal.wait_for_end() == 0
    assert [card.name for card in Shelf(tmp_path / "pieces").cards()] == [NAME]


def test_a_name_that_is_nearly_that_of_a_piece_is_asked_about(tmp_path: Path) -> None:
    _, new = renamed(tmp_path)
    with Terminal(tmp_path, "knit", str(new), "--name", "Harbor practice swatch") as terminal:
        terminal.wait_for('No piece is called "Harbor practice swatch".', f'Go on with "{NAME}"')
        terminal.send(ENTER)
        terminal.wait_for("Row 5 of 32", "q quit")
        terminal.send(b"q")
        assert terminal.wait_for_end() == 0
    assert plan_of(tmp_path) == str(new)
    with Terminal(tmp_path, "knit", str(new), "--name", "Harbor practice swatch") as terminal:
        terminal.wait_for("Begin a new piece called")
        terminal.send(DOWN + ENTER)
        terminal.wait_for("Row 1 of 32", "q quit")
    with Terminal(tmp_path, "knit", str(new), "--name", "Harbour practice swatch 2") as terminal:
        terminal.wait_for("Row 1 of 32", "q quit")
    assert sorted(card.name for card in Shelf(tmp_path / "pieces").cards()) == [
        "Harbor practice swatch", NAME, f"{NAME} 2",
    ]  # fmt: skip
