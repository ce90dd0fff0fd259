"""The journal: what is appended is there, once, whole, in order; every failure is one sentence."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from random import Random

import pytest
from old_journals import make_old
from plans_on_disk import BEGUN, start

from companion.knitting.strands.limits import Carry
from companion.progress import tables
from companion.progress.card import Card
from companion.progress.events import Noted, Planned, Worked
from companion.progress.journal import Journal, create, look, read
from companion.progress.stored import Contents, StoredPlan
from companion.progress.trouble import Trouble

PLAN = StoredPlan("/harbour/quay.yaml", "Quay", "plan: 1\r\n", {"boats.txt": "ssb\n"}, "{}")
FIRST = (Planned(0, Carry(3), ((1,), (1,))),)
ON = (Worked(0, 0, "sand", 12, 1),)


def card(rows_done: int = 0, at: datetime = BEGUN) -> Card:
    return Card("Quay", "Quay", "/harbour/quay.yaml", rows_done, 2, 0, "on the needles", 1, 2, worked_at=at)


def begun(at_card: Card) -> Contents:
    return Contents(at_card, {0: PLAN}, (FIRST,), (tables.stamp(BEGUN),))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "quay.rowside"
    create(made, begun(card()))
    return made


def sql(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        for statement in statements:
            db.execute(statement)


def trouble(path: Path) -> Trouble:
    """The trouble that opening makes: the same for looking, for the card and for writing."""
    with pytest.raises(Trouble) as looking:
        read(path)
    with pytest.raises(Trouble) as writing, closing(Journal(path)) as writer:
        writer.contents()
    assert (looking.value.kind, str(looking.value)) == (writing.value.kind, str(writing.value))
    return looking.value


def test_what_is_appended_is_read_again_in_order(path: Path) -> None:
    notes = tuple((Noted(0, f"note {n} \x1b[31m [red]é"),) for n in range(20))
    writer = Journal(path)
    for entry in notes:
        writer.append(entry, card(1), BEGUN)
    writer.close()
    found = read(path)
    assert found.entries == (FIRST, *notes)
    assert found.card == card(1)
    assert found.plans == {0: PLAN}


def test_times_are_kept_in_utc_whatever_the_zone(path: Path) -> None:
    evening = datetime(2031, 3, 2, 1, 30, tzinfo=timezone(timedelta(hours=9)))
    with closing(Journal(path)) as writer:
        writer.append(ON, card(0, evening), evening)
    assert look(path, tables.card).worked_at == datetime(2031, 3, 1, 16, 30, tzinfo=UTC)
    assert look(path, tables.card).worked_at.tzinfo == UTC


def test_a_writer_saves_through_to_the_disk(path: Path) -> None:
    with closing(Journal(path)) as writer:
        [(synchronous,)] = writer._db.execute("PRAGMA synchronous")
        [(mode,)] = writer._db.execute("PRAGMA journal_mode")
    assert (synchronous, mode) == (2, "wal")


def test_a_plan_version_comes_with_its_entry_or_not_at_all(path: Path) -> None:
    second = StoredPlan("/harbour/quay.yaml", "Quay again", "plan: 1\n", {}, "{}")
    with closing(Journal(path)) as writer:
        writer.append((Planned(1, Carry(2), ((1,), (1,))),), card(), BEGUN, {1: second})
        with pytest.raises(Trouble):  # version 1 is there: the entry beside it must not stay either
            writer.append(ON, card(1), BEGUN, {1: second})
        writer.append((Noted(0, "after"),), card(), BEGUN)
    found = read(path)
    assert found.plans == {0: PLAN, 1: second}
    assert [type(entry[0]).__name__ for entry in found.entries] == ["Planned", "Planned", "Noted"]


def test_an_entry_that_somebody_else_wrote_first_is_not_written_over(path: Path) -> None:
    with closing(Journal(path)) as one, closing(Journal(path)) as other:
        one.append((Noted(0, "one"),), card(), BEGUN)
        with pytest.raises(Trouble) as found:
            other.append((Noted(0, "other"),), card(2), BEGUN)
    assert found.value.kind == "clash"
    assert str(found.value) == (
        f'"{path}" was written by another window meanwhile; close this one and open the piece again.'
    )
    assert read(path).entries == (FIRST, (Noted(0, "one"),))
    assert look(path, tables.card) == card()


def test_the_file_alone_is_left_after_a_clean_close(path: Path) -> None:
    with closing(Journal(path)) as writer:
        writer.append(ON, card(), BEGUN)
        assert {found.name for found in path.parent.iterdir()} == {path.name, f"{path.name}-wal", f"{path.name}-shm"}
    assert [found.name for found in path.parent.iterdir()] == [path.name]


def test_looking_changes_nothing_on_the_disk(path: Path) -> None:
    Journal(path).close()
    before = {found: (found.stat().st_mtime_ns, found.read_bytes()) for found in path.parent.iterdir()}
    read(path)
    look(path, tables.card)
    assert {found: (found.stat().st_mtime_ns, found.read_bytes()) for found in path.parent.iterdir()} == before


def test_a_reader_sees_what_a_live_writer_has_saved(path: Path) -> None:
    with closing(Journal(path)) as writer:
        for n in range(5):
            writer.append((Noted(0, str(n)),), card(n), BEGUN)
            assert len(read(path).entries) == n + 2
            assert look(path, tables.card).rows_done == n


def test_looking_works_in_the_middle_of_somebodys_saving(path: Path) -> None:
    with closing(Journal(path)) as writer:
        writer.append(ON, card(1), BEGUN)
        writer._db.execute("BEGIN IMMEDIATE")
        writer._db.execute("UPDATE card SET rows_done = 2")
        assert look(path, tables.card).rows_done == 1
        writer._db.execute("ROLLBACK")


def test_what_a_look_finds_half_changed_is_read_again_with_the_writers_log(path: Path) -> None:
    """A writer comes while the file is read as one that nobody writes to."""
    writers = []

    def half_changed(db: sqlite3.Connection) -> Contents:
        if not writers:
            writers.append(Journal(path))
            writers[0].append(ON, card(1), BEGUN)
            raise sqlite3.DatabaseError("database disk image is malformed")
        return tables.contents(db)

    found = look(path, half_changed)
    writers[0].close()
    assert (found.entries, found.card) == ((FIRST, ON), card(1))


def test_a_piece_is_not_begun_over_another(path: Path) -> None:
    with pytest.raises(Trouble):
        create(path, begun(card(2)))
    assert look(path, tables.card) == card()


def test_what_a_killed_beginning_left_is_no_obstacle(tmp_path: Path) -> None:
    (tmp_path / "quay.rowside.new").write_bytes(b"half a file")
    create(tmp_path / "quay.rowside", begun(card()))
    assert [found.name for found in tmp_path.iterdir()] == ["quay.rowside"]


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    path = tmp_path / "quay.rowside"
    assert str(trouble(path)) == f'"{path}" is not there; look whether it was moved, and move it back.'
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "content",
    [b"", b"plan: 1\n" * 300, Random(5).randbytes(9000), b"SQLite format 3\0" + b"\xff" * 5000],
    ids=["nothing", "a plan", "noise", "a header alone"],
)
def test_a_garbage_file_is_told_and_left_as_it_is(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "quay.rowside"
    path.write_bytes(content)
    found = trouble(path)
    assert found.kind == "damaged"
    assert str(found) == (
        f'"{path}" is damaged; put a copy from your backup in its place: "rowside progress restore COPY", '
        'or what is sound of it: "rowside progress restore --before-damage FILE"; the other pieces are untouched.'
    )
    assert path.read_bytes() == content


def test_another_programs_database_is_told_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "quay.rowside"
    sql(path, "CREATE TABLE boats (name)", "INSERT INTO boats VALUES ('Ida')")
    before = path.read_bytes()
    assert str(trouble(path)) == f'"{path}" is not a piece of knitting; move it to another folder.'
    assert path.read_bytes() == before


def test_a_file_of_a_newer_version_is_told_and_left_as_it_is(path: Path) -> None:
    sql(path, f"PRAGMA user_version = {tables.VERSION + 1}")
    before = path.read_bytes()
    assert str(trouble(path)) == (
        f'"{path}" was written by a newer version of this program; install that version to open it.'
    )
    assert path.read_bytes() == before


@pytest.mark.parametrize("version", [1, 2, 3])
def test_a_file_of_an_older_version_is_brought_up_to_date_and_kept_beside_as_it_was(path: Path, version: int) -> None:
    make_old(path, version)
    before = read(path)
    assert before.card == card()
    assert not list(path.parent.glob("*.version-*"))
    writer = Journal(path)
    assert writer.contents() == before
    writer.append(ON, card(1), BEGUN)
    writer.close()
    assert read(path).entries == (*before.entries, ON)
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("SELECT version FROM migration").fetchall() == [(n,) for n in range(version + 1, 5)]
        assert db.execute("PRAGMA user_version").fetchone() == (tables.VERSION,)
        new = db.execute("SELECT sql FROM sqlite_master ORDER BY name").fetchall()
    [kept] = path.parent.glob("*.version-*")
    with closing(sqlite3.connect(kept)) as db:
        assert db.execute("PRAGMA user_version").fetchone() == (version,)
        assert db.execute("SELECT count(*) FROM entry").fetchone() == (1,)
    assert len(new) == 4
    Journal(path).close()
    assert len(list(path.parent.glob("*.version-*"))) == 1


def test_damage_in_a_file_with_checksums_is_not_healed_by_bringing_it_up_to_date(path: Path) -> None:
    make_old(path, 3)
    sql(path, "UPDATE plan SET title = 'Another'")
    assert trouble(path).kind == "damaged"
    with closing(Journal(path)) as journal, pytest.raises(Trouble):
        journal.contents()


def test_a_migration_that_fails_changes_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    make_old(path, 1)
    before = read(path)
    steps = {1: tables.MIGRATIONS[1], 2: (*tables.MIGRATIONS[2], "ALTER TABLE boats ADD COLUMN mast")}
    with monkeypatch.context() as broken:
        broken.setattr(tables, "MIGRATIONS", steps)
        with pytest.raises(Trouble):
            Journal(path)
    assert read(path) == before
    Journal(path).close()
    assert read(path) == before


@pytest.mark.parametrize("table", ["plan", "entry", "card"])
def test_a_missing_table_is_damage(path: Path, table: str) -> None:
    sql(path, f"DROP TABLE {table}")
    assert trouble(path).kind == "damaged"


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM entry",
        "DELETE FROM card",
        "UPDATE entry SET seq = 1",
        "UPDATE entry SET events = 'no JSON'",
        "UPDATE entry SET events = '{}'",
        "UPDATE entry SET events = '[[\"Stolen\", 1]]'",
        "UPDATE entry SET events = x'ff00ff'",
        "UPDATE entry SET events = CAST(x'ff00ff' AS TEXT)",
        "UPDATE card SET worked_at = 'yesterday'",
        "UPDATE card SET state = 'lost'",
        "UPDATE plan SET files = '[1'",
        "UPDATE plan SET files = '[1]'",
        "UPDATE plan SET text = 'plan: 2'",
        "UPDATE entry SET at = '2031-03-01T18:00:00.001+00:00'",
        "UPDATE entry SET chain = chain + 1",
        "UPDATE card SET rows_done = 1",
    ],
)
def test_rows_that_were_never_written_like_that_are_damage(path: Path, statement: str) -> None:
    sql(path, statement)
    assert trouble(path).kind == "damaged"


def test_a_file_cut_short_is_damage_wherever_it_was_cut(tmp_path: Path) -> None:
    whole = tmp_path / "whole.rowside"
    create(whole, begun(card()))
    with closing(Journal(whole)) as writer:
        for n in range(60):
            writer.append((Noted(0, str(n) * 400),), card(), BEGUN)
    size = whole.stat().st_size
    assert size > 20_000
    for length in range(1, size - 4096, 3500):
        path = tmp_path / f"cut-{length}.rowside"
        path.write_bytes(whole.read_bytes()[:length])
        assert trouble(path).kind == "damaged"


def test_a_file_of_garbage_pages_is_damage(path: Path) -> None:
    data = path.read_bytes()
    path.write_bytes(data[:4096] + b"\xa5" * (len(data) - 4096))
    assert trouble(path).kind == "damaged"


def test_a_full_disk_saves_nothing_and_the_next_step_works_when_there_is_room(path: Path) -> None:
    with closing(Journal(path)) as writer:
        writer.append(ON, card(1), BEGUN)
        [(pages,)] = writer._db.execute("PRAGMA page_count")
        writer._db.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(Trouble) as found:
            writer.append((Noted(0, "x" * 50_000),), card(2), BEGUN)
        assert found.value.kind == "full"
        assert str(found.value) == (
            f'The disk is full: "{path}" cannot be saved; make room on it, then do the last step again.'
        )
        assert (read(path).entries, look(path, tables.card)) == ((FIRST, ON), card(1))
        writer._db.execute(f"PRAGMA max_page_count = {pages + 100}")
        writer.append((Noted(0, "again"),), card(2), BEGUN)
    assert read(path).entries == (FIRST, ON, (Noted(0, "again"),))


def test_a_file_taken_away_while_open_is_told_before_anything_is_written_to_nowhere(path: Path) -> None:
    with closing(Journal(path)) as writer:
        path.rename(path.with_name("elsewhere"))
        with pytest.raises(Trouble) as found:
            writer.append(ON, card(), BEGUN)
        assert found.value.kind == "gone"
        shutil.copy(path.with_name("elsewhere"), path)
        with pytest.raises(Trouble) as found:
            writer.append(ON, card(), BEGUN)
        assert found.value.kind == "gone"


def test_a_folder_in_place_of_the_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "quay.rowside").mkdir()
    assert trouble(tmp_path / "quay.rowside").kind == "not ours"


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "pieces").write_text("")
    with pytest.raises(Trouble) as found:
        create(tmp_path / "pieces" / "quay.rowside", begun(card()))
    assert found.value.kind in ("gone", "no folder")


WRITE_ON_A_SMALL_DISK = """
import resource, sys
from pathlib import Path
sys.path.insert(0, "tests/progress")
from plans_on_disk import resume
from companion.progress.actions import Note
from companion.progress.trouble import Trouble
knitting = resume(Path(sys.argv[1]))
resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, resource.RLIM_INFINITY))
done = 0
try:
    for n in range(200):
        knitting.do(Note(1, f"{n} " + "x" * 800))
        done += 1
except Trouble as trouble:
    print(done, knitting.session.notes[0].split()[0], trouble.kind)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="file size limits are POSIX only")
def test_a_step_that_the_disk_refused_is_not_done_and_nothing_before_is_lost(tmp_path: Path) -> None:
    start(tmp_path).close()
    out = subprocess.run(
        [sys.executable, "-c", WRITE_ON_A_SMALL_DISK, str(tmp_path)], capture_output=True, text=True, check=True
    )
    done, last, kind = out.stdout.split(maxsplit=2)
    assert 3 < int(done) < 100
    assert int(last) == int(done) - 1
    assert kind.strip() in ("disk", "full")
    found = read(tmp_path / "pieces" / "quay.rowside")
    assert [entry[0].text.split()[0] for entry in found.entries[1:]] == [str(n) for n in range(int(done))]
