"""Files, disks and streams that are not as they should be: each told in a sentence, and it costs nothing else."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from companion.problems import Problems
from companion.progress import journal, tables
from companion.progress.actions import On, WholeRow
from companion.progress.exported import read, written
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble
from companion.settings import read as read_settings
from tests.progress.plans_on_disk import plan, shelf, start
from tests.the_program import PIER_SIGN, ROOT, run

BAD = b"\xef\xbb\xbf#\xff\n"
"""A byte order mark, and a byte that is no UTF-8 text."""

NOT_TEXT = "The file is not UTF-8 text: the byte FF stands here."


def test_a_bad_byte_after_a_byte_order_mark_is_told_at_its_place_in_a_plan(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_bytes(BAD)
    ran = run(tmp_path, "check", "pier.yaml")
    assert (ran.code, ran.err) == (
        2, f'pier.yaml:1:2  {NOT_TEXT}\n    1 | #\ufffd\n      |  ^\n  Save it again with the encoding "UTF-8".\n'
    )  # fmt: skip


def test_a_bad_byte_after_a_byte_order_mark_is_told_in_a_chart_file_and_in_settings(tmp_path: Path) -> None:
    (tmp_path / "light.txt").write_bytes(BAD)
    (tmp_path / "pier.yaml").write_text(PIER_SIGN.partition("\nrows:")[0] + "\nrows: [{chart: {from: light.txt}}]\n")
    ran = run(tmp_path, "check", "pier.yaml")
    assert (ran.code, ran.err.splitlines()[0]) == (2, f"light.txt:1:2  {NOT_TEXT}")
    (tmp_path / "settings.yaml").write_bytes(BAD)
    _, [found] = read_settings(tmp_path / "settings.yaml")
    assert (found.line, found.column, found.what) == (1, 2, NOT_TEXT)


def test_a_piece_whose_plan_file_has_a_bad_byte_opens_and_says_so(tmp_path: Path) -> None:
    with start(tmp_path):
        pass
    plan(tmp_path).write_bytes(BAD)
    with shelf(tmp_path).resume("Quay") as knitting:
        assert knitting.opened_plan.kind == "not readable"


@pytest.mark.parametrize("column", ["name", "title", "plan_path", "rows_done", "ends_left"])
def test_a_card_with_a_value_of_another_kind_is_damage_and_stops_no_new_piece(tmp_path: Path, column: str) -> None:
    """Its checksum agrees: it was written so, by another hand."""
    with start(tmp_path):
        pass
    file = tmp_path / "pieces" / "quay.rowside"
    with closing(sqlite3.connect(file, isolation_level=None)) as db:
        value = b"7" if column in ("rows_done", "ends_left") else b"1"
        db.execute(f"UPDATE card SET {column} = CAST(? AS BLOB)", (value,))
        told = db.execute(f"SELECT {', '.join(tables._CARD)} FROM card").fetchone()
        db.execute("UPDATE card SET chain = ?", (tables._sum(told, tables.tail(db).chain),))
    with pytest.raises(Trouble, match="is damaged"):
        journal.read(file)
    [card] = shelf(tmp_path).cards()
    assert card.state == "damaged"
    with start(tmp_path, name="Second"):
        assert {card.name for card in shelf(tmp_path).cards()} == {"quay", "Second"}


def test_a_copy_of_the_file_alone_is_whole_to_the_last_row(tmp_path: Path) -> None:
    """Taken while the piece is open, as a backup that knows nothing of logs does."""
    with start(tmp_path) as knitting:
        for _ in range(3):
            knitting.do(WholeRow())
        knitting.do(On())
        shutil.copyfile(tmp_path / "pieces" / "quay.rowside", tmp_path / "copy.rowside")
    card = journal.look(tmp_path / "copy.rowside", tables.card)
    assert (card.rows_done, card.runs_done) == (3, 0)


@pytest.mark.skipif(os.name == "nt", reason="folders are closed otherwise there")
def test_a_piece_left_by_a_killed_program_on_a_disk_that_may_only_be_read_is_opened_to_look(tmp_path: Path) -> None:
    with tempfile.TemporaryDirectory() as folder:
        pieces = Path(folder) / "pieces"
        with start(tmp_path) as knitting:
            knitting.do(On())
            shutil.copytree(tmp_path / "pieces", pieces)  # as it is with its log, nobody having closed it
        assert (pieces / "quay.rowside-wal").stat().st_size
        (pieces / "quay.rowside-shm").unlink()
        for path in pieces.iterdir():
            path.chmod(0o444)
        pieces.chmod(0o555)
        Path(folder).chmod(0o755)
        said = _as_somebody_else(lambda: _looked_at(pieces))
        pieces.chmod(0o755)
    assert said == "1 Nothing can be saved where the piece lies; here you may only look."


def _looked_at(pieces: Path) -> str:
    knitting = Shelf(pieces).resume("Quay")
    return f"{knitting.session.done} {knitting.look_only_reason}"


def _as_somebody_else(done: Callable[[], str]) -> str:
    """What comes of it for a user who may not write everywhere, as an administrator may."""
    read_end, write_end = os.pipe()
    if not (child := os.fork()):
        try:
            if os.getuid() == 0:
                os.setgid(65534)
                os.setuid(65534)
            said = done()
        except Exception as error:
            said = repr(error)
        os.write(write_end, said.encode())
        os._exit(0)
    os.close(write_end)
    os.waitpid(child, 0)
    with os.fdopen(read_end) as pipe:
        return pipe.read()


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("  2031-03-01T18:00:00.000+00:00", "  0001-01-01T00:00:00+01:00", "is not a time and what was done then"),
        ("  2031-03-01T18:00:00.000+00:00", "  9999-12-31T23:59:59-01:00", "is not a time and what was done then"),
        ('file: "quay.yaml"', 'file: "../../.."', "must be the name of a file, without its folder."),
        ('file: "quay.yaml"', 'file: "C:\\\\quay.yaml"', "must be the name of a file, without its folder."),
        ('file: "quay.yaml"', 'file: ""', "must be the name of a file, without its folder."),
    ],
)
def test_an_import_with_a_time_or_a_path_beyond_bounds_is_told(tmp_path: Path, old: str, new: str, told: str) -> None:
    with start(tmp_path):
        pass
    text = "".join(written(shelf(tmp_path).contents("Quay")))
    assert old in text
    with pytest.raises(Problems) as found:
        read(text.replace(old, new, 1), "quay.txt")
    assert told in found.value.problems[0].what


def test_control_sequences_in_arguments_are_shown_and_not_obeyed(tmp_path: Path) -> None:
    for words in (["\x1b[31mknit"], ["rows", "swatch", "--\x1b[31m"], ["rows", "swatch", "--terms", "\x1b]0;x\x07"]):
        ran = run(tmp_path, *words)
        assert ran.code == 2
        assert "\x1b" not in ran.err
    assert run(tmp_path, "rows", "swatch", "\x1b[31m").err.endswith("extra argument (<001B>[31m)\n")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
@pytest.mark.parametrize(("words", "code"), [("check nowhere.yaml", 2), ("--nonsense", 2), ("check swatch", 0)])
@pytest.mark.parametrize("to", ["2>/dev/full", "2>&-"])
def test_a_full_or_closed_standard_error_changes_no_exit_code(tmp_path: Path, words: str, code: int, to: str) -> None:
    done = subprocess.run(
        ["bash", "-c", f'"$0" -m companion {words} {to}', sys.executable], cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, stdout=subprocess.DEVNULL, check=False, timeout=300,
    )
    assert done.returncode == code


@pytest.mark.parametrize("words", ["--help", "rows --help", "--version"])
def test_help_for_a_reader_that_went_away_is_no_failure(tmp_path: Path, words: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "companion", *words.split()], cwd=tmp_path, stdout=writing, stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, check=False, timeout=300,
    )
    os.close(writing)
    assert (done.returncode, done.stderr) == (0, b"")
