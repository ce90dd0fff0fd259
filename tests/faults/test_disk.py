"""What a disk can do to a piece, and what is said of it: one sentence each, and nothing lost that was saved."""

from __future__ import annotations

import shutil
import sqlite3
import sys
from contextlib import closing
from pathlib import Path

import pytest

from companion.plan.read import load
from companion.progress import folders
from companion.progress.actions import Note, On
from companion.progress.journal import read
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble
from tests.the_program import PIER_SIGN


def begun(folder: Path, steps: int = 4) -> tuple[Shelf, Path]:
    """A shelf with the pier sign on the needles, and its file."""
    plan = folder / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    shelf = Shelf(folder / "data" / "pieces")
    with shelf.start(load(plan), plan) as knitting:
        for _ in range(steps):
            knitting.do(On())
    return shelf, folder / "data" / "pieces" / "pier-sign.rowside"


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")
def test_a_step_that_the_disk_refuses_is_not_shown_as_done_and_the_knitter_is_told(tmp_path: Path) -> None:
    from tests.terminal.pseudo_terminal import SPACE, Terminal, knitting
    from tests.terminal.swatch import places, shown

    with knitting(tmp_path) as terminal:
        terminal.send(b"q")
        terminal.wait_for_end()
    file = tmp_path / "pieces" / "harbour-practice-swatch.rowside"
    before = len(read(file).entries)
    # Room for a page or two more: at the end of a row the log is folded into the file, which grows by what is in it.
    room = {"ROOM": str(max(file.stat().st_size, 32_768) + 100)}
    with Terminal(tmp_path, "knit", "swatch", variables=room, module="tests.faults.small_disk") as terminal:
        terminal.wait_for(" of 32 ", "q quit")
        for _ in range(60):
            terminal.send(SPACE)
        terminal.wait_for("cannot be")
        terminal.wait_until_still()
        screen = terminal.wait_for("cannot be")
        saved = len(read(file).entries) - before
        assert 0 < saved < 60
        assert shown(screen) == places()[saved]
        terminal.kill()
    with knitting(tmp_path) as terminal:
        terminal.wait_until(lambda: shown(terminal.text) == places()[saved], "what was saved")
        terminal.send(SPACE)
        terminal.wait_until(lambda: shown(terminal.text) == places()[saved + 1], "the next step")


def test_a_log_cut_off_in_the_middle_costs_no_step_that_was_whole(tmp_path: Path) -> None:
    """A killed writer leaves its log; a disk that lost its end leaves half of one."""
    shelf, file = begun(tmp_path, 0)
    with shelf.resume("Pier sign") as knitting:
        for n in range(30):
            knitting.do(Note(1, f"{n} " + "x" * 500))
        torn = tmp_path / "torn" / "pieces"
        torn.mkdir(parents=True)
        for ending in ("", "-wal"):
            shutil.copy(f"{file}{ending}", torn / f"{file.name}{ending}")
    log = torn / f"{file.name}-wal"
    whole = log.read_bytes()
    counts = []
    for kept in range(len(whole), 0, -4099):
        log.write_bytes(whole[:kept])
        entries = read(torn / file.name).entries
        assert entries == read(file).entries[: len(entries)]
        counts.append(len(entries))
    assert counts == sorted(counts, reverse=True)
    assert counts[0] == 31
    log.write_bytes(whole[: len(whole) // 2])
    with Shelf(torn).resume("Pier sign") as knitting:
        there = len(read(torn / file.name).entries)
        knitting.do(On())
    with closing(sqlite3.connect(torn / file.name)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert len(read(torn / file.name).entries) == there + 1


def test_a_damaged_piece_is_kept_under_another_name_and_the_copy_takes_its_place(tmp_path: Path) -> None:
    shelf, file = begun(tmp_path)
    backup = tmp_path / "backup"
    shutil.copy(file, backup)
    file.write_bytes(b"\x00" * 5000)
    with pytest.raises(Trouble, match="is damaged; put a copy from your backup in its place: \"rowside progress res"):
        shelf.resume("pier-sign")
    aside = shelf.set_aside("pier-sign")
    assert aside.name == "pier-sign.rowside.damaged-1"
    assert aside.read_bytes() == b"\x00" * 5000
    assert shelf.cards() == ()
    shutil.copy(backup, file)
    with shelf.resume("Pier sign") as knitting:
        # Four steps: row 1, what its end asks for, and two runs of row 2.
        assert (knitting.session.rows_done, knitting.session.done) == (1, 2)
    file.write_bytes(b"again")
    assert shelf.set_aside("pier-sign").name == "pier-sign.rowside.damaged-2"


@pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="there the system always names a folder")
def test_without_a_home_it_says_so_in_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A user whom the system does not know, and no variable that names a folder."""
    import pwd

    def nobody(uid: int) -> object:
        raise KeyError(f"uid not found: {uid}")

    monkeypatch.setattr(pwd, "getpwuid", nobody)
    for variable in ("HOME", "ROWSIDE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.chdir(tmp_path)
    for where in (folders.pieces, folders.settings_file):
        with pytest.raises(Trouble) as found:
            where()
        assert str(found.value) == (
            "You have no home folder to keep progress in; set ROWSIDE_HOME to a folder of yours."
        )
    assert list(tmp_path.iterdir()) == []


def test_while_another_program_holds_the_file_a_step_is_refused_and_works_when_it_lets_go(tmp_path: Path) -> None:
    """A backup program, say, that takes a database for itself."""
    shelf, file = begun(tmp_path)
    with shelf.resume("Pier sign") as knitting, closing(sqlite3.connect(file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        before = knitting.session
        with pytest.raises(Trouble, match="is in use by another program; close that, then try again"):
            knitting.do(On())
        assert knitting.session is before
        other.execute("ROLLBACK")
        knitting.do(On())
    assert len(read(file).entries) == 6
