"""From a plan to the drawing board, and to a copy of a demo plan."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

import pytest
from at_the_easel import plan

from companion.dialogue.at_the_board import draw
from companion.dialogue.knitter import Knitter
from companion.dialogue.painting import Painting
from companion.dialogue.questions import Reading, Words
from companion.knitting.cloth.areas import Cell
from companion.plan.read import load
from companion.settings import Settings

PLANS = Path(__file__).resolve().parents[2] / "plans"
SWATCH, WITH_FILE = PLANS / "swatch.yaml", PLANS / "wrist-warmer-left.yaml"


def copied(demo: Path, folder: Path, name: str | None) -> object:
    """What comes when a demo plan is to be copied under this name."""
    asking = draw(Knitter(), demo, folder)
    asked = next(asking)
    assert isinstance(asked, Words)
    assert asked.text == "A demo plan stays as it is: draw in a copy. What is the copy's file called?"
    return asking.send(name)


def test_a_demo_plan_is_copied_under_a_name_that_is_free_and_the_copy_is_on_the_board(tmp_path: Path) -> None:
    shown = copied(SWATCH, tmp_path, "mine")
    assert isinstance(shown, Painting)
    assert shown.board.path == tmp_path / "mine.yaml"
    assert (tmp_path / "mine.yaml").read_text(encoding="utf-8") == SWATCH.read_text(encoding="utf-8")
    again = copied(SWATCH, tmp_path, "mine")
    assert isinstance(again, Reading)
    assert 'There is a file "mine.yaml" already.' in "".join(again.lines)
    asked = next(draw(Knitter(), SWATCH, tmp_path))
    assert isinstance(asked, Words)
    assert asked.answer == "swatch.yaml"
    (tmp_path / "swatch.yaml").touch()
    asked = next(draw(Knitter(), SWATCH, tmp_path))
    assert isinstance(asked, Words)
    assert asked.answer == "swatch-2.yaml"


def test_files_that_a_demo_draws_in_come_with_it_and_none_that_is_there_is_written_over(tmp_path: Path) -> None:
    files = load(WITH_FILE).files
    assert files
    assert isinstance(copied(WITH_FILE, tmp_path, "first.yaml"), Painting)
    for name, text in files.items():
        assert (tmp_path / name).read_text(encoding="utf-8") == text
    assert isinstance(copied(WITH_FILE, tmp_path, "second.yaml"), Painting), "they are there already, and the same"
    (tmp_path / next(iter(files))).write_text("mine", encoding="utf-8")
    assert isinstance(copied(WITH_FILE, tmp_path, "third.yaml"), Reading)
    assert not (tmp_path / "third.yaml").exists()


def test_whatever_ends_the_board_the_last_stroke_is_saved_or_that_it_is_not_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "pier.yaml"
    file.write_text(plan(), encoding="utf-8")
    for times, end in enumerate((lambda it: it.close(), lambda it: it.throw(KeyboardInterrupt), lambda it: next(it))):
        asking = draw(Knitter(), file, tmp_path)
        painting = next(asking)
        assert isinstance(painting, Painting)
        painting.paint({Cell(1 + times, 1): "ink"})
        with suppress(KeyboardInterrupt, StopIteration):
            end(asking)
        assert file.read_text(encoding="utf-8") == painting.board.text
        assert painting.board.text.count("sssssssi") == times + 1

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    asking = draw(Knitter(), file, tmp_path)
    painting = next(asking)
    assert isinstance(painting, Painting)
    painting.paint({Cell(4, 1): "ink"})
    with pytest.raises(OSError, match="No space left"):
        asking.close()


@pytest.mark.parametrize("name", ["/", "..", ".", "boat.png", "sub/", " ", "shoal.txt"])
def test_a_copy_has_the_name_of_a_plan(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "harbour"
    folder.mkdir()
    shown = copied(SWATCH, folder, name)
    assert isinstance(shown, Reading)
    assert "The name of a plan ends in .yaml or .yml" in "".join(shown.lines)
    assert list(tmp_path.rglob("*")) == [folder]


def test_where_a_copy_cannot_be_written_it_is_said_in_words(tmp_path: Path) -> None:
    shown = copied(SWATCH, tmp_path, "pier/boat")
    assert isinstance(shown, Reading)
    assert shown.lines == [f"{tmp_path / 'pier/boat.yaml'}: No such file or directory"]


def test_nothing_is_copied_where_no_name_is_given(tmp_path: Path) -> None:
    with pytest.raises(StopIteration):
        copied(SWATCH, tmp_path, None)
    assert list(tmp_path.iterdir()) == []


def test_the_board_reckons_with_the_hands_and_the_tails_of_its_knitter(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    shown = next(draw(Knitter(Settings(hands="left", tails="trap")), tmp_path / "pier.yaml", tmp_path))
    assert isinstance(shown, Painting)
    assert shown.board.piece.is_mirrored
    assert shown.board.piece.is_trapping
    assert not shown.board.loaded.piece.is_mirrored


def test_a_plan_with_something_to_mend_is_told_to_be_read(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(("sssszsss",)), encoding="utf-8")
    shown = next(draw(Knitter(), tmp_path / "pier.yaml", tmp_path))
    assert isinstance(shown, Reading)
    assert "pier.yaml:9" in "".join(shown.lines)
