"""A copy put in a piece's place: the log goes with its file, what is there is kept, nothing unsound comes there."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from random import Random

import pytest
from plans_on_disk import QUAY, history, plan, resume, shelf, start

from companion.knitting.strands.limits import Carry
from companion.plan.packed import unpack
from companion.progress.actions import AtRow, Back, Note, On, Replan, Weave, WholeRow
from companion.progress.edited import PlanState
from companion.progress.ends import all_ends
from companion.progress.journal import read
from companion.progress.lock import Lock
from companion.progress.restoring import copied
from companion.progress.session import Session
from companion.progress.shelf import NoSuchPiece
from companion.progress.trouble import Trouble


def knitted(tmp_path: Path) -> tuple[Path, Path, Session]:
    """The quay knitted to row 3; its file, a copy of that in another folder, and the session that the copy holds."""
    with start(tmp_path) as knitting:
        left = knitting.do(AtRow(3))
    file = tmp_path / "pieces" / "quay.rowside"
    (tmp_path / "backup").mkdir()
    return file, Path(shutil.copy(file, tmp_path / "backup")), left


def with_log(file: Path, tmp_path: Path) -> None:
    """Goes on with the piece, and leaves its file as a program does that is killed: the newest steps in its log."""
    with resume(tmp_path) as knitting:
        for _ in range(3):
            knitting.do(On())
        for ending in ("", "-wal", "-shm"):
            shutil.copy(f"{file}{ending}", tmp_path / f"kept{ending}")
    for ending in ("", "-wal", "-shm"):
        shutil.move(tmp_path / f"kept{ending}", f"{file}{ending}")


def names(folder: Path) -> list[str]:
    return sorted(found.name for found in folder.iterdir() if not found.name.endswith(".lock"))


def test_a_copy_takes_the_place_of_a_damaged_file_whose_log_still_lies_there(tmp_path: Path) -> None:
    file, copy, left = knitted(tmp_path)
    with_log(file, tmp_path)
    file.write_bytes(b"\xa5" * 9000)
    restored = shelf(tmp_path).restore(copy)
    assert (restored.name, restored.steps) == ("Quay", 1)
    assert restored.aside == file.with_name("quay.rowside.damaged-1")
    assert names(file.parent) == [
        "quay.rowside", "quay.rowside.damaged-1", "quay.rowside.damaged-1-shm", "quay.rowside.damaged-1-wal"
    ]
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)
    assert names(copy.parent) == ["quay.rowside"]


def test_a_copy_comes_with_the_steps_that_are_in_its_log(tmp_path: Path) -> None:
    file, copy, _ = knitted(tmp_path)
    with_log(file, tmp_path)
    for ending in ("", "-wal"):
        shutil.copy(f"{file}{ending}", f"{copy}{ending}")
    file.unlink()
    restored = shelf(tmp_path).restore(copy)
    assert (restored.steps, restored.aside) == (4, None)
    with resume(tmp_path) as knitting:
        assert knitting.session.done == 3
    assert names(copy.parent) == ["quay.rowside", "quay.rowside-wal"]


def test_a_sound_piece_that_is_there_is_kept_too(tmp_path: Path) -> None:
    _, copy, left = knitted(tmp_path)
    with resume(tmp_path) as knitting:
        later = knitting.do(WholeRow())
    restored = shelf(tmp_path).restore(copy)
    assert restored.aside is not None
    assert restored.aside.name == "quay.rowside.replaced-1"
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)
    assert shelf(tmp_path).restore(restored.aside).steps == 2
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(later)


def test_a_copy_of_a_piece_that_is_not_there_gets_a_place_of_its_own(tmp_path: Path) -> None:
    """The file of that name is another piece's."""
    file, copy, left = knitted(tmp_path)
    file.unlink()
    start(tmp_path, name="Quay!").close()
    restored = shelf(tmp_path).restore(copy)
    assert (restored.name, restored.aside) == ("Quay", None)
    assert sorted(card.name for card in shelf(tmp_path).cards()) == ["Quay", "Quay!"]
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)


def test_a_copy_that_is_no_piece_is_told_and_nothing_is_changed(tmp_path: Path) -> None:
    file, copy, _ = knitted(tmp_path)
    before = file.read_bytes()
    copy.write_bytes(b"\x00" * 5000)
    with pytest.raises(Trouble, match=f'"{copy}" is damaged'):
        shelf(tmp_path).restore(copy)
    with pytest.raises(Trouble, match="is not there"):
        shelf(tmp_path).restore(copy.with_name("none"))
    with closing(sqlite3.connect(copy.with_name("other"))) as db:
        db.execute("CREATE TABLE boats (name)")
    with pytest.raises(Trouble, match="is not a piece of knitting"):
        shelf(tmp_path).restore(copy.with_name("other"))
    assert names(file.parent) == ["quay.rowside"]
    assert file.read_bytes() == before


def test_a_piece_that_is_open_is_not_replaced(tmp_path: Path) -> None:
    file, copy, _ = knitted(tmp_path)
    lock = Lock(file.with_suffix(".lock"))
    assert lock.take()
    with pytest.raises(Trouble, match="is in use"):
        shelf(tmp_path).restore(copy)
    lock.free()
    assert names(file.parent) == ["quay.rowside"]


def test_a_copy_put_in_place_by_hand_beside_the_old_log_is_set_right(tmp_path: Path) -> None:
    file, copy, left = knitted(tmp_path)
    with resume(tmp_path) as knitting:
        for number in range(9):
            knitting.do(Note(1, f"{number}" * 3000))
    copy_of_then = read(file).entries
    with_log(file, tmp_path)
    shutil.copy(copy, file)
    with pytest.raises(Trouble, match="is damaged"):
        resume(tmp_path)
    restored = shelf(tmp_path).restore(file)
    assert restored.steps == 1 < len(copy_of_then)
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)


def damaged_in(file: Path, step: int) -> None:
    """One bit of the events of a step falls over."""
    with closing(sqlite3.connect(file)) as db:
        [(events,)] = db.execute("SELECT events FROM entry WHERE seq = ?", (step,))
    data = file.read_bytes()
    at = data.index(events.encode()) + events.index('"sand"') + 3
    file.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1:])


def test_a_damaged_step_is_told_and_the_piece_goes_on_from_the_one_before_it(tmp_path: Path) -> None:
    sessions = []
    with start(tmp_path) as knitting:
        for _ in range(8):
            sessions.append(knitting.session)
            knitting.do(On())
    file = tmp_path / "pieces" / "quay.rowside"
    damaged_in(file, 6)
    with pytest.raises(Trouble) as found:
        resume(tmp_path)
    assert str(found.value) == (
        f'"{file}" is damaged from step 6 on; put a copy from your backup in its place: '
        '"rowside progress restore COPY", or what is sound of it: "rowside progress restore --before-damage FILE"; '
        "the other pieces are untouched."
    )
    with pytest.raises(Trouble, match="is damaged from step 6 on"):
        shelf(tmp_path).restore(file)
    restored = shelf(tmp_path).restore(file, before_damage=True)
    assert (restored.name, restored.steps) == ("Quay", 5)
    assert restored.aside == file.with_name("quay.rowside.damaged-1")
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(sessions[5])
        assert knitting.card.rows_done == sessions[5].rows_done
        knitting.do(WholeRow())


def test_a_piece_whose_plan_is_damaged_goes_on_with_its_cache_and_the_text_of_the_file(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        left = knitting.do(AtRow(3))
    file = tmp_path / "pieces" / "quay.rowside"
    data = file.read_bytes()
    file.write_bytes(data.replace(b"      sssbbbbbbsss", b"      sssbbbsbbsss", 1))
    with pytest.raises(Trouble, match="is damaged; "):
        resume(tmp_path)
    assert shelf(tmp_path).restore(file, before_damage=True).steps == 1
    assert read(file).plans[0].text == QUAY
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)
        assert knitting.opened_plan == PlanState()


def test_of_a_file_that_is_damaged_all_over_nothing_is_put_in_its_place(tmp_path: Path) -> None:
    file, copy, _ = knitted(tmp_path)
    copy.write_bytes(b"\xa5" * 20_000)
    with pytest.raises(Trouble, match="is damaged"):
        shelf(tmp_path).restore(copy, before_damage=True)
    assert names(file.parent) == ["quay.rowside"]


FLIPS = 900


def test_no_bit_that_falls_over_opens_another_state(tmp_path: Path) -> None:
    """Each opens the very state that was left, or none; and so does what is sound, which is a state that once was."""
    with start(tmp_path) as knitting:
        for action in (AtRow(3), On(), Note(3, "left at the pier"), On(), Replan(Carry(0)), On(), WholeRow(), Back()):
            knitting.do(action)
        knitting.do(Weave(all_ends(knitting.session)[0][0]))
        left, card = history(knitting.session), knitting.card
    entries = read(tmp_path / "pieces" / "quay.rowside").entries
    file = tmp_path / "pieces" / "quay.rowside"
    whole, dice, told = file.read_bytes(), Random(40), 0
    for number in range(FLIPS):
        at, bit = dice.randrange(len(whole)), dice.randrange(8)
        file.write_bytes(whole[:at] + bytes([whole[at] ^ 1 << bit]) + whole[at + 1:])
        try:
            with resume(tmp_path, look_only=number % 2 == 0) as knitting:
                assert history(knitting.session) == left
                assert knitting.card == card
        except (Trouble, NoSuchPiece):
            told += 1
            with suppress(Trouble):
                part = copied(file, is_part=True).entries
                assert part == entries[: len(part)]
    assert told > FLIPS / 20


def test_a_cache_that_is_another_pieces_is_not_read(tmp_path: Path) -> None:
    """Whatever put it there: it is whole and of this form, and of other stitches."""
    with start(tmp_path) as knitting:
        left = knitting.do(On())
    other = start(tmp_path, QUAY.replace("ssssbbbbssss\n", "bbbbbbbbbbbb\n"), name="Mole")
    file, others = (tmp_path / "pieces" / f"{name}.rowside" for name in ("quay", "mole"))
    other.close()
    plan(tmp_path)
    packed = read(others).plans[0].packed
    assert unpack(packed) != left.piece
    with closing(sqlite3.connect(file, isolation_level=None)) as db:
        db.execute("UPDATE plan SET packed = ?", (packed,))
    with resume(tmp_path, look_only=True) as knitting:
        assert history(knitting.session) == history(left)
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)
    assert unpack(read(file).plans[0].packed) == left.piece
