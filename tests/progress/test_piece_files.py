"""Pieces called otherwise, taken away and brought back: nothing of them is lost, whatever else is going on."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from plans_on_disk import QUAY, history, plan, resume, shelf, start

from companion.plan.read import load
from companion.progress.actions import AtRow, On
from companion.progress.journal import move
from companion.progress.shelf import NameTaken, NoSuchPiece
from companion.progress.trouble import Refused, Trouble


def quay(tmp_path: Path, name: str | None = None, rows: int = 3) -> list[tuple[object, ...]]:
    """A piece with some rows worked; its history."""
    with start(tmp_path, name=name) as knitting:
        knitting.do(AtRow(rows))
        knitting.do(On())
        return history(knitting.session)


def brought_back(home: Path, name: str) -> str:
    """The piece of this name that was put away comes back; its name then."""
    return shelf(home).bring_back(shelf(home).removed.file_of(name))


def names(tmp_path: Path) -> list[str]:
    return sorted(card.name for card in shelf(tmp_path).cards())


def test_a_piece_has_its_new_name_and_all_its_steps(tmp_path: Path) -> None:
    before = quay(tmp_path)
    worked_at = shelf(tmp_path).cards()[0].worked_at
    assert shelf(tmp_path).rename("quay", "  For\tIda ") == "For Ida"
    [card] = shelf(tmp_path).cards()
    assert (card.name, card.title, card.worked_at) == ("For Ida", "Quay", worked_at)
    with resume(tmp_path, "for ida") as knitting:
        assert history(knitting.session) == before
        knitting.do(On())
    assert names(tmp_path) == ["For Ida"]
    with pytest.raises(NoSuchPiece, match=r'^No piece is called "Quay"\.$'):
        resume(tmp_path)


def test_a_name_that_is_taken_or_empty_is_refused_and_other_capitals_are_not(tmp_path: Path) -> None:
    quay(tmp_path)
    quay(tmp_path, "For Ida")
    with pytest.raises(NameTaken, match=r'^Another piece is called "FOR IDA"\.$'):
        shelf(tmp_path).rename("Quay", "FOR IDA")
    with pytest.raises(Refused, match=r"^A piece needs a name\.$"):
        shelf(tmp_path).rename("Quay", " \t")
    assert names(tmp_path) == ["For Ida", "Quay"]
    assert shelf(tmp_path).rename("Quay", "QUAY") == "QUAY"
    assert names(tmp_path) == ["For Ida", "QUAY"]


def test_a_piece_that_is_open_is_neither_renamed_nor_removed(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        for change in (lambda: shelf(tmp_path).rename("Quay", "Other"), lambda: shelf(tmp_path).remove("Quay")):
            with pytest.raises(Trouble) as caught:
                change()
            assert caught.value.kind == "busy"
        knitting.do(On())
    assert names(tmp_path) == ["Quay"]


def test_what_is_removed_is_kept_beside_and_comes_back_whole(tmp_path: Path) -> None:
    before = quay(tmp_path)
    kept = shelf(tmp_path).remove("Quay")
    assert kept == tmp_path / "removed" / "quay.rowside"
    assert kept.is_file()
    assert names(tmp_path) == []
    assert [card.name for card in shelf(tmp_path).removed.cards()] == ["Quay"]
    assert brought_back(tmp_path, "quay") == "Quay"
    assert not kept.exists()
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == before
        knitting.do(On())


def test_two_of_a_name_may_be_removed_and_both_come_back_under_names_of_their_own(tmp_path: Path) -> None:
    histories = []
    for rows in (3, 5):
        histories.append(quay(tmp_path, rows=rows))
        shelf(tmp_path).remove("Quay")
    quay(tmp_path)
    assert sorted(path.name for path in (tmp_path / "removed").glob("*.rowside")) == [
        "quay-2.rowside", "quay.rowside",
    ]  # fmt: skip
    assert {brought_back(tmp_path, "Quay"), brought_back(tmp_path, "Quay")} == {"Quay 2", "Quay 3"}
    assert names(tmp_path) == ["Quay", "Quay 2", "Quay 3"]
    found = [history(shelf(tmp_path).resume(name, look_only=True).session) for name in ("Quay 2", "Quay 3")]
    assert sorted(map(len, found)) == sorted(map(len, histories))
    assert all(one in histories for one in found)


def test_a_removed_piece_leaves_its_names_free(tmp_path: Path) -> None:
    quay(tmp_path)
    shelf(tmp_path).remove("Quay")
    path = plan(tmp_path)
    with shelf(tmp_path).start(load(path), path) as knitting:
        assert knitting.name == "Quay"
    assert (tmp_path / "pieces" / "quay.rowside").is_file()


def test_a_damaged_piece_can_be_removed_and_brought_back_as_it_is(tmp_path: Path) -> None:
    quay(tmp_path)
    file = tmp_path / "pieces" / "quay.rowside"
    file.write_bytes(b"\x00" * 4096)
    shelf(tmp_path).remove("quay")
    assert names(tmp_path) == []
    brought_back(tmp_path, "quay")
    assert file.read_bytes() == b"\x00" * 4096


def test_steps_in_the_log_of_a_program_that_died_go_along(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(On())
        pieces, dead = tmp_path / "pieces", tmp_path / "dead" / "pieces"
        dead.mkdir(parents=True)
        knitting.do(On())
        knitting.do(AtRow(4))
        knitting.do(On())
        left = history(knitting.session)
        for ending in ("", "-wal"):
            (dead / f"quay.rowside{ending}").write_bytes((pieces / f"quay.rowside{ending}").read_bytes())
    assert (dead / "quay.rowside-wal").stat().st_size > 0
    home = dead.parent
    shelf(home).remove("Quay")
    assert [path.name for path in dead.iterdir() if path.suffix != ".lock"] == []
    brought_back(home, "Quay")
    with resume(home) as knitting:
        assert history(knitting.session) == left


def test_a_name_that_none_has_is_told_with_the_nearest(tmp_path: Path) -> None:
    quay(tmp_path)
    with pytest.raises(NoSuchPiece, match=r'^No piece is called "Quai"\. Did you mean "Quay"\?$'):
        shelf(tmp_path).resume("Quai")


def test_looking_at_a_plan_begins_nothing(tmp_path: Path) -> None:
    path = plan(tmp_path, QUAY)
    knitting = shelf(tmp_path).look(load(path), path)
    assert knitting.session.rows[0].stitches == 12
    with pytest.raises(Refused, match=r"^Opened for looking only; nothing is begun\.$"):
        knitting.do(On())
    assert list(tmp_path.iterdir()) == [path]


def test_of_two_that_were_put_away_under_one_name_the_one_that_is_meant_comes_back(tmp_path: Path) -> None:
    for rows in (2, 3):
        quay(tmp_path, rows=rows)
        shelf(tmp_path).remove("Quay")
    files = {card.rows_done: file for card, file in shelf(tmp_path).removed.listed()}
    assert len(files) == 2
    fewer = files[min(files)]
    assert shelf(tmp_path).bring_back(fewer) == "Quay"
    assert [card.rows_done for card in shelf(tmp_path).cards()] == [min(files)]


def test_a_file_that_cannot_be_renamed_has_its_log_beside_it_still(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, log, rename = tmp_path / "quay", tmp_path / "quay-wal", os.rename
    for file in (path, log):
        file.write_text("what SQLite cannot read, and so not tidy away", encoding="utf-8")

    def but_for_the_file(old: str, new: str) -> None:
        if old == str(path):
            raise PermissionError(13, "Permission denied", old)
        rename(old, new)

    monkeypatch.setattr(os, "rename", but_for_the_file)
    with pytest.raises(Trouble):
        move(path, tmp_path / "pier")
    assert log.exists()
    assert not list(tmp_path.glob("pier*"))
