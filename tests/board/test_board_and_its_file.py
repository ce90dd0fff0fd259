"""A plan's file on the board: two windows at it, what others write, what cannot be saved, what a kill leaves."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import ROOT

from companion.board.board import Board, ChangedElsewhere
from companion.knitting.cloth.areas import Cell
from companion.knitting.strands.plan import plan_strands
from companion.problems import Problems
from tests.board.plans_to_draw import a_board, quay, said, shown


def test_two_windows_are_told_of_each_other(tmp_path: Path) -> None:
    mine = a_board(tmp_path, quay("ssssssss", "ssssssss", "ssssssss"))
    mine.paint([Cell(0, 1)], "brick")
    mine.paint([Cell(2, 1)], "brick")
    assert not mine.look()  # which saves it first
    other = Board(mine.path)
    other.paint([Cell(0, 4)], "ink")
    other.save()
    mine.paint([Cell(0, 2)], "ink")
    with pytest.raises(ChangedElsewhere) as told:
        mine.save()
    assert said(told.value) == [
        f"{mine.path}  This plan was changed elsewhere, in another window perhaps. It is read anew; nothing is "
        "drawn.\n"
        "  Look at it, and draw again."
    ]
    assert mine.text == other.text == mine.path.read_text(encoding="utf-8")
    assert shown(mine) == ["sssssssb", "ssssssss", "ssssissb"]
    mine.undo()  # that of the top row lies where nobody else drew
    assert shown(mine) == ["ssssssss", "ssssssss", "ssssissb"]
    with pytest.raises(Problems) as refused:
        mine.undo()
    assert said(refused.value) == [
        f"{mine.path}  The plan was changed elsewhere where this stroke lies, so that it stays as it is now."
    ]
    assert shown(mine) == ["ssssssss", "ssssssss", "ssssissb"]
    assert mine.undo() is None, "it is asked for once"
    assert other.look()
    assert (shown(other), other.counts) == (shown(mine), mine.counts)


def test_a_stroke_that_leads_to_what_is_no_plan_any_more_is_asked_for_once(tmp_path: Path) -> None:
    mine = a_board(tmp_path, quay("ssssssss", "ssssssss", "siisssss"))
    mine.paint([Cell(2, 1)], "brick")
    mine.paint([Cell(0, 6), Cell(0, 7)], "brick")
    mine.save()
    mine.path.write_text(mine.text.replace("i: ink, ", ""), encoding="utf-8")
    assert mine.look()
    with pytest.raises(Problems, match="uses the symbol"):
        mine.undo()
    assert mine.undo(), "the one before it"
    assert shown(mine) == ["ssssssss", "ssssssss", "sbbsssss"]


def test_a_file_that_somebody_else_broke_is_not_written_over(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "ssssssss", "iiiiiiii"))
    text = board.text
    board.path.write_text(text.replace("iiiiiiii", "iiiiiii"), encoding="utf-8")
    for _ in range(2):
        board.paint([Cell(0, 1)], "brick")
        with pytest.raises(Problems, match="has 7 stitches"):
            board.save()
        assert shown(board) == ["ssssssss", "ssssssss", "iiiiiiii"]
    board.path.write_text(text, encoding="utf-8")
    assert board.paint([Cell(0, 1)], "brick").cells == {Cell(0, 1)}
    board.save()
    board.path.unlink()
    board.undo()
    with pytest.raises(Problems, match="is not there"):
        board.save()
    assert shown(board) == ["ssssssss", "ssssssss", "iiiiiiib"]
    board.path.write_text(board.text, encoding="utf-8")
    assert board.undo()
    board.save()
    assert board.path.read_text(encoding="utf-8") == text


def test_a_stroke_that_cannot_be_saved_is_taken_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    board = a_board(tmp_path, quay("ssssssss", "iiiiiiii", way="with limits"))
    board.paint([Cell(1, 1)], "ink")
    board.paint([Cell(1, 2)], "ink")
    board.undo()
    board.save()
    counts = board.counts

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    strokes = (lambda: board.paint([Cell(0, 4)], "brick"), board.undo, board.redo, lambda: board.insert_rows(0))
    for do in strokes:
        for goes_on in (board.save, board.look, lambda: board.paint([Cell(0, 6)], "ink"), board.undo, board.redo):
            do()
            with pytest.raises(OSError, match="No space left"):
                goes_on()
            assert board.is_saved
            assert (shown(board), board.counts) == (["sssssssi", "iiiiiiii"], counts)
            assert board.text == board.path.read_text(encoding="utf-8")
    monkeypatch.undo()
    assert board.redo()  # it is there to be done again still, and the one before to be taken back
    assert shown(board) == ["ssssssii", "iiiiiiii"]
    assert board.undo()
    assert board.undo()
    assert shown(board) == ["ssssssss", "iiiiiiii"]
    assert board.paint([Cell(0, 4)], "brick").cells == {Cell(0, 4)}
    total = plan_strands(board.piece.rows, board.piece.carry).strands.total
    assert board.counts == (total.strands, total.ends)


def test_the_byte_order_mark_and_a_link_stay(tmp_path: Path) -> None:
    path, link = tmp_path / "quay.yaml", tmp_path / "link.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + quay("ssssssss", "iiiiiiii").encode())
    link.symlink_to(path)
    board = Board(link)
    board.paint([Cell(0, 1)], "brick")
    board.paint([Cell(0, 2)], "brick")
    board.save()
    assert path.read_bytes() == b"\xef\xbb\xbf" + quay("ssssssss", "iiiiiirr").encode()
    assert link.is_symlink()


def test_killed_at_any_moment_the_file_has_every_stroke_that_was_shown_but_the_last(tmp_path: Path) -> None:
    board = a_board(tmp_path, quay("ssssssss", "ssssssss"))
    code = (
        "import sys; from pathlib import Path; from companion.board.board import Board\n"
        "from companion.knitting.cloth.areas import Cell\n"
        "board = Board(Path(sys.argv[1]))\n"
        "for at in range(10**6):\n"
        "    board.paint([Cell(0, 1 + at % 8)], board.yarns[at // 8 % 2])\n"
        "    print(board.text.count('i'), flush=True)\n"
        "    board.save()\n"
    )
    words = [sys.executable, "-c", code, str(board.path)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=ROOT) as painter:
        assert painter.stdout
        shown_last = [int(painter.stdout.readline()) for _ in range(100)][-1]
        painter.send_signal(signal.SIGKILL)
        shown_last = [shown_last, *map(int, painter.stdout.read().split())][-1]
    now = Board(board.path).text.count("i")
    assert abs(now - shown_last) <= 1
