"""A piece that another window writes, followed: step by step what that one did, whatever becomes of the file."""

from __future__ import annotations

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from itertools import count
from pathlib import Path

import pytest

from companion.plan.read import load
from companion.progress import following
from companion.progress.actions import Action, Back, Note, On, RipBack, TrapTails, Unpick, WholeRow
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.screens.at_the_needles import EVENING, SWATCH, shelf, work

NAME = "Harbour practice swatch"


@pytest.fixture
def writer(tmp_path: Path) -> Iterator[Knitting]:
    with shelf(tmp_path).start(load(SWATCH), SWATCH) as knitting:
        work(knitting, WholeRow(), WholeRow(), On())
        yield knitting


def watching(home: Path) -> Knitting:
    return shelf(home).resume(NAME, look_only=True)


def all_new(watcher: Knitting) -> list[Session]:
    """The sessions that it goes through to the newest."""
    found = list[Session]()
    while watcher.catch_up() is not None:
        found.append(watcher.session)
    return found


def is_alike(one: Session, other: Session) -> bool:
    return (one.row, one.done, one.strands, one.notes, one.woven) == (
        other.row, other.done, other.strands, other.notes, other.woven)  # fmt: skip


@pytest.mark.parametrize(
    "actions",
    [
        (On(), On(), WholeRow()),
        (On(), Back(), Back(), On()),
        (Unpick(), RipBack(1), WholeRow(), Note(1, "loose")),
        (TrapTails(True), On(), WholeRow(), WholeRow(), Back()),
    ],
)
def test_each_step_is_taken_up_as_the_writer_has_it(
    tmp_path: Path, writer: Knitting, actions: tuple[Action, ...]
) -> None:
    """Whether it looks after every step, or after all of them."""
    often, once = watching(tmp_path), watching(tmp_path)
    assert all_new(often) == []
    sessions = list[Session]()
    for action in actions:
        sessions.append(writer.do(action))
        assert all(map(is_alike, all_new(often), sessions[-1:]))
        assert often.card == writer.card
    found = all_new(once)
    assert len(found) == len(sessions)
    assert all(map(is_alike, found, sessions))
    assert often.session.piece is watching(tmp_path).session.piece or often.session.piece == writer.session.piece
    assert all_new(once) == []


def test_a_step_that_leaves_the_files_as_large_and_as_old_as_they_were_is_seen_too(
    tmp_path: Path, writer: Knitting
) -> None:
    """Clocks of disks tick in up to two seconds: of a file just written nothing is taken for read. Between rows the
    log is folded into its file, and begun anew as large as it was."""
    watcher, path = watching(tmp_path), tmp_path / "pieces" / "harbour-practice-swatch.rowside"
    now = time.time_ns()
    sizes = set[tuple[int, ...]]()
    for number in range(9):
        writer.do(WholeRow())
        for file in (path, path.with_name(f"{path.name}-wal")):
            os.utime(file, ns=(now, now))
        sizes.add(tuple(file.stat().st_size for file in (path, path.with_name(f"{path.name}-wal"))))
        assert len(all_new(watcher)) == 1, number
    assert len(sizes) < 9


def test_a_file_that_has_not_changed_is_not_read_again(
    tmp_path: Path, writer: Knitting, monkeypatch: pytest.MonkeyPatch
) -> None:
    watcher = watching(tmp_path)
    monkeypatch.setattr(following.time, "time", lambda: 1e12)
    assert all_new(watcher) == []
    opened = list[object]()
    connect = sqlite3.connect
    monkeypatch.setattr(sqlite3, "connect", lambda *given, **named: opened.append(given) or connect(*given, **named))
    for _ in range(20):
        assert watcher.catch_up() is None
    assert opened == []
    writer.do(On())
    assert len(all_new(watcher)) == 1
    assert opened


def test_the_writer_may_leave_and_another_one_come(tmp_path: Path, writer: Knitting) -> None:
    watcher = watching(tmp_path)
    writer.do(On())
    writer.close()
    with shelf(tmp_path).resume(NAME) as other:
        after = other.do(WholeRow())
        assert is_alike(all_new(watcher)[-1], after)
        assert not watcher.is_look_only or watcher.is_followed


def test_a_piece_that_is_renamed_put_away_and_brought_back_is_told_of(tmp_path: Path, writer: Knitting) -> None:
    watcher = watching(tmp_path)
    writer.close()
    pieces = shelf(tmp_path)
    pieces.rename(NAME, "Quay")
    news = watcher.catch_up()
    assert news is not None
    assert (news.card.name, news.step, news.is_gone, watcher.name) == ("Quay", None, False, "Quay")
    away = pieces.remove("Quay")
    news = watcher.catch_up()
    assert news is not None
    assert news.is_gone
    assert is_alike(watcher.session, writer.session), "it stays as it was last"
    assert watcher.catch_up() is None, "that is told once"
    pieces.bring_back(away)
    news = watcher.catch_up()
    assert news is not None
    assert news.is_anew
    with pieces.resume("Quay") as other:
        assert is_alike(other.do(On()), all_new(watcher)[-1])


def test_a_deleted_file_or_another_in_its_place_ends_nothing(tmp_path: Path, writer: Knitting) -> None:
    watcher = watching(tmp_path)
    writer.do(RipBack(1))
    writer.close()
    path = tmp_path / "pieces" / "harbour-practice-swatch.rowside"
    kept = path.read_bytes()
    path.write_bytes(b"no piece of knitting")
    assert watcher.catch_up() is None
    path.unlink()
    news = watcher.catch_up()
    assert news is not None
    assert news.is_gone
    path.write_bytes(kept)
    news = watcher.catch_up()
    assert news is not None
    assert news.is_anew
    assert watcher.session.row == 0


def test_another_past_in_its_file_is_read_anew(tmp_path: Path, writer: Knitting) -> None:
    """Once a copy is written over the file, once another file takes its name, with more steps than there were."""
    path = tmp_path / "pieces" / "harbour-practice-swatch.rowside"
    writer.close()
    early = path.read_bytes()
    with shelf(tmp_path).resume(NAME) as other:
        work(other, WholeRow())
    watcher = watching(tmp_path)
    path.write_bytes(early)
    news = watcher.catch_up()
    assert news is not None
    assert (news.is_anew, watcher.session.done) == (True, 1)
    with shelf(tmp_path / "elsewhere").start(load(SWATCH), SWATCH) as other:
        work(other, *[WholeRow()] * 9)
    os.replace(tmp_path / "elsewhere" / "pieces" / path.name, path)
    news = watcher.catch_up()
    assert news is not None
    assert (news.is_anew, watcher.session.row) == (True, 8)
    assert all_new(watcher) == []


def test_a_step_that_was_not_written_like_that_is_not_taken_up(tmp_path: Path, writer: Knitting) -> None:
    watcher = watching(tmp_path)
    writer.do(On())
    writer.close()
    with closing(sqlite3.connect(tmp_path / "pieces" / "harbour-practice-swatch.rowside")) as db, db:
        db.execute("UPDATE entry SET events = '[[\"Noted\",0,\"no\"]]' WHERE seq = 4")
    assert all_new(watcher) == []
    assert watcher.session.notes == {}


def test_how_long_the_rest_takes_goes_along(tmp_path: Path) -> None:
    times = (EVENING + timedelta(seconds=48 * n) for n in count())
    pieces = Shelf(tmp_path / "pieces", lambda: next(times))
    with pieces.start(load(SWATCH), SWATCH) as writer:
        work(writer, *[WholeRow()] * 8)
        watcher = watching(tmp_path)
        work(writer, *[WholeRow()] * 4)
        all_new(watcher)
        assert watcher.forecast is not None
        assert watcher.forecast == writer.forecast


def test_a_plan_that_was_edited_meanwhile_is_followed(tmp_path: Path) -> None:
    plan = tmp_path / "swatch.yaml"
    plan.write_text(SWATCH.read_text(encoding="utf-8"), encoding="utf-8")
    with shelf(tmp_path).start(load(plan), plan) as writer:
        work(writer, WholeRow())
    watcher = watching(tmp_path)
    text = plan.read_text(encoding="utf-8")
    plan.write_text(text.replace("title: Harbour practice swatch", "title: Harbour swatch"), encoding="utf-8")
    assert plan.read_text(encoding="utf-8") != text
    with shelf(tmp_path).resume(NAME) as other:
        other.do(On())
        all_new(watcher)
        assert watcher.session.piece.title == other.session.piece.title
        assert is_alike(watcher.session, other.session)


def test_a_plan_only_looked_at_is_not_followed(tmp_path: Path) -> None:
    looked = shelf(tmp_path).look(load(SWATCH), SWATCH)
    assert (looked.is_followed, looked.catch_up()) == (False, None)
