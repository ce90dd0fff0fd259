"""The journal of one piece: one SQLite file, to which every action is appended in one durable transaction.

An entry is either on the disk, with the card that goes with it, or it is not and ``Trouble`` is raised. Nothing
written is ever changed or removed, the card alone is replaced. The only file that knows sqlite3.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, TypeVar, get_args

from companion.progress.card import Card, State
from companion.progress.events import Entry, all_from_json, to_json
from companion.progress.stored import Contents, StoredPlan
from companion.progress.trouble import Trouble, TroubleKind, from_os

APPLICATION = 0x526F7773
"""The mark in the header of every file of ours: "Rows" in ASCII."""

VERSION = 2
"""The version of the tables below, kept as the file's user_version."""

_MIGRATIONS: Mapping[int, tuple[str, ...]] = {
    1: ("ALTER TABLE card ADD COLUMN areas_left INTEGER NOT NULL DEFAULT 0",),
}
"""From each older version what leads to the next one."""

_SCHEMA = """
-- Every version of the plan that the piece has followed. Version 0 is the one it was begun with.
CREATE TABLE plan (
    version INTEGER PRIMARY KEY,
    at TEXT NOT NULL,              -- when it was stored: UTC, ISO 8601
    path TEXT NOT NULL,            -- where the plan file lay
    title TEXT NOT NULL,
    text TEXT NOT NULL,            -- the plan file, word for word
    files TEXT NOT NULL,           -- JSON: the text of every file it draws in, by the name the plan calls it
    packed TEXT NOT NULL           -- a cache: the piece, read and ready; made anew from text and files at need
);
-- What was done, one row an action, in order and without a gap from 0. The piece's state is the fold of these.
CREATE TABLE entry (
    seq INTEGER PRIMARY KEY,
    at TEXT NOT NULL,              -- UTC, ISO 8601
    events TEXT NOT NULL           -- JSON: [[kind, field, ...], ...]
);
-- What the work basket shows, so that it need not fold the entries. Always that of the newest entry.
CREATE TABLE card (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    name TEXT NOT NULL,
    title TEXT NOT NULL,
    plan_path TEXT NOT NULL,
    rows_done INTEGER NOT NULL,
    rows INTEGER NOT NULL,
    runs_done INTEGER NOT NULL,    -- of the row on the needles; 0 between rows
    state TEXT NOT NULL,
    ready_ends INTEGER NOT NULL,   -- ends that can be woven in now
    ends_left INTEGER NOT NULL,    -- ends not woven in, those to come included
    worked_at TEXT NOT NULL,       -- UTC, ISO 8601
    areas_left INTEGER NOT NULL    -- areas still to be sewn on
);
-- When the file was brought from an older version to this one.
CREATE TABLE migration (
    version INTEGER PRIMARY KEY,
    at TEXT NOT NULL               -- UTC, ISO 8601
);
"""

_CARD = tuple(name for name in Card._fields if name != "trouble")

_KINDS: Mapping[int, TroubleKind] = {
    sqlite3.SQLITE_FULL: "full",
    sqlite3.SQLITE_READONLY: "read-only",
    sqlite3.SQLITE_PERM: "not permitted",
    sqlite3.SQLITE_AUTH: "not permitted",
    sqlite3.SQLITE_NOTADB: "damaged",
    sqlite3.SQLITE_CORRUPT: "damaged",
    sqlite3.SQLITE_BUSY: "busy",
    sqlite3.SQLITE_LOCKED: "busy",
    sqlite3.SQLITE_PROTOCOL: "busy",
    sqlite3.SQLITE_IOERR: "disk",
    sqlite3.SQLITE_NOMEM: "disk",
}


_T = TypeVar("_T")


class Journal:
    """The journal of one piece, open for writing. Whoever opens it holds the piece's lock."""

    def __init__(self, path: Path) -> None:
        """Open the journal that is there.

        Raises:
            Trouble: it is not there, not ours, of a newer version, damaged, or cannot be opened.
        """
        self.path = path
        with _told(path):
            _find(path)
            self._db = _connect(path, "mode=rw")
            try:
                version = _check(self._db, path)
                self._db.execute("PRAGMA journal_mode = WAL")
                self._db.execute("PRAGMA synchronous = FULL")
                # Without it macOS answers "written" while the bytes are still in the drive's own cache.
                self._db.execute("PRAGMA fullfsync = ON")
                if version < VERSION:
                    _migrate(self._db, path, version)
                # A file that may only be read opens all the same; this finds out before the first stitch.
                with _transaction(self._db):
                    self._next = _length(self._db)
                self._file = _identity(path)
            except BaseException:
                self._db.close()
                raise

    def contents(self) -> Contents:
        """Everything in it.

        Raises:
            Trouble: it is damaged or cannot be read.
        """
        with _told(self.path):
            return _contents(self._db, self.path)

    def append(self, entry: Entry, card: Card, at: datetime, plans: Mapping[int, StoredPlan] | None = None) -> None:
        """Save one action: its events, the card after it and the plan versions it brings. Returns when it is on the
        disk.

        Raises:
            Trouble: nothing of it was saved. Kind "clash": somebody else has written to the journal.
        """
        with _told(self.path), _transaction(self._db):
            if _identity(self.path) != self._file:
                raise Trouble("gone", self.path)  # what is written now would go to a file without a name
            if _length(self._db) != self._next:
                raise Trouble("clash", self.path)
            _write(self._db, self._next, entry, card, at, plans or {})
        self._next += 1

    def extend(self, contents: Contents) -> None:
        """Save the entries that follow those that are there, with the card after them and the plans they bring: all
        of it or nothing.

        Raises:
            Trouble: nothing of it was saved.
        """
        with _told(self.path), _transaction(self._db):
            _write_all(self._db, self._next, contents)
        self._next = len(contents.entries)

    def keep_plan(self, version: int, plan: StoredPlan, at: datetime) -> None:
        """Store one more text of the plan that changes nothing in the piece, without an entry.

        Raises:
            Trouble: it was not stored.
        """
        with _told(self.path), _transaction(self._db):
            _write_plan(self._db, version, plan, _stamp(at))

    def keep_packed(self, version: int, packed: str) -> None:
        """Replace the cache of one version of the plan.

        Raises:
            Trouble: it was not stored.
        """
        with _told(self.path), _transaction(self._db):
            self._db.execute("UPDATE plan SET packed = ? WHERE version = ?", (packed, version))

    def close(self) -> None:
        """Let go of the file. Twice does no harm."""
        # The last to close tidies the write-ahead log away; when that fails, the next to open does it.
        with suppress(sqlite3.Error):
            self._db.close()


def create(path: Path, plan: StoredPlan, entry: Entry, card: Card, at: datetime) -> None:
    """Begin a journal: whole under its name, or not there at all.

    Raises:
        Trouble: it could not be saved, or there is such a file.
    """
    create_whole(path, Contents(card, {0: plan}, (entry,), (_stamp(at),)))


def create_whole(path: Path, contents: Contents) -> None:
    """The same with a history of its own."""
    beside = path.with_name(path.name + ".new")
    with _told(path):
        if path.exists():
            raise Trouble("clash", path)
        beside.unlink(missing_ok=True)
        try:
            with closing(_connect(beside, "mode=rwc")) as db:
                # Until it has its name the file is worth nothing, so it needs no journal of its own on the disk; and
                # all that is synced here, before the first stitch is shown, somebody waits for.
                db.execute("PRAGMA journal_mode = MEMORY")
                db.execute("PRAGMA synchronous = FULL")
                db.execute("PRAGMA fullfsync = ON")
                with _transaction(db):
                    _create_tables(db)
                    _write_all(db, 0, contents)
                db.execute("PRAGMA journal_mode = WAL")
            os.rename(beside, path)
            _sync_folder(path.parent)
        except BaseException:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
            raise


def read(path: Path) -> Contents:
    """Everything in a journal, without opening it for writing.

    Raises:
        Trouble: it is not there, not ours, of a newer version, damaged, or cannot be read.
    """
    return _looked(path, _contents)


def read_card(path: Path) -> Card:
    """The card of a piece, without reading its entries.

    Raises:
        Trouble: as ``read``.
    """
    return _looked(path, _card)


def _looked(path: Path, what: Callable[[sqlite3.Connection, Path], _T]) -> _T:
    """Read with nothing made or changed on the disk, so long as no writer's log lies beside the file."""
    with _told(path):
        _find(path)
        if not _has_log(path):
            try:
                return _read_with(path, "mode=ro&immutable=1", what)
            except sqlite3.DatabaseError:
                # A writer may have come meanwhile: then what was read may be half old, half new.
                if not _has_log(path):
                    raise
        return _read_with(path, "mode=ro", what)


def _find(path: Path) -> None:
    if not path.exists():
        raise Trouble("gone", path)
    if not path.is_file():
        raise Trouble("not ours", path)


def _has_log(path: Path) -> bool:
    return os.path.exists(f"{path}-wal")


def _read_with(path: Path, options: str, what: Callable[[sqlite3.Connection, Path], _T]) -> _T:
    with closing(_connect(path, options)) as db:
        _check(db, path)
        return what(db, path)


def _connect(path: Path, options: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?{options}", uri=True, timeout=2, isolation_level=None)


def _migrate(db: sqlite3.Connection, path: Path, version: int) -> None:
    """Bring a file of an older version to this one, all or nothing; as it was it is kept beside."""
    beside = path.with_name(f"{path.name}.version-{version}")
    with closing(sqlite3.connect(beside)) as kept:
        db.backup(kept)
    with _transaction(db):
        db.execute("CREATE TABLE IF NOT EXISTS migration (version INTEGER PRIMARY KEY, at TEXT NOT NULL)")
        for older in range(version, VERSION):
            for statement in _MIGRATIONS[older]:
                db.execute(statement)
            db.execute("INSERT INTO migration VALUES (?, ?)", (older + 1, _stamp(datetime.now(UTC))))
        db.execute(f"PRAGMA user_version = {VERSION}")


def _check(db: sqlite3.Connection, path: Path) -> int:
    """The version of the journal in the file.

    Raises:
        Trouble: it is no journal, or of a newer version.
    """
    [(application,)] = db.execute("PRAGMA application_id")
    [(version,)] = db.execute("PRAGMA user_version")
    if application != APPLICATION:
        # Nothing in it at all: a file of ours that was cut short.
        [(tables,)] = db.execute("SELECT count(*) FROM sqlite_master")
        raise Trouble("not ours" if tables or application else "damaged", path)
    if version > VERSION:
        raise Trouble("newer", path)
    if version not in (*_MIGRATIONS, VERSION):
        raise Trouble("damaged", path)
    return int(version)


@contextmanager
def _told(path: Path) -> Iterator[None]:
    """Turn what goes wrong with the file into ``Trouble``."""
    try:
        yield
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_CORRUPT) & 0xFF
        kind = _why_shut(path) if code == sqlite3.SQLITE_CANTOPEN else _KINDS.get(code, "damaged")
        raise Trouble(kind, path, str(error)) from error
    except OSError as error:
        raise from_os(error, path) from error


@contextmanager
def _sound(path: Path) -> Iterator[None]:
    """What is read must be what was once written."""
    try:
        yield
    except (ValueError, TypeError, AttributeError, RecursionError) as error:
        raise Trouble("damaged", path) from error


def _why_shut(path: Path) -> TroubleKind:
    if not path.parent.is_dir():
        return "gone"
    if path.exists() and not os.access(path, os.R_OK):
        return "not permitted"
    return "disk" if os.access(path.parent, os.W_OK) else "read-only"


@contextmanager
def _transaction(db: sqlite3.Connection) -> Iterator[None]:
    """All or nothing; on the disk when the block is left."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            if db.in_transaction:
                db.execute("ROLLBACK")
        raise


def _create_tables(db: sqlite3.Connection) -> None:
    # Not executescript: that would commit the transaction it stands in.
    for statement in _SCHEMA.split(";\n"):
        if statement.strip():
            db.execute(statement)
    db.execute(f"PRAGMA application_id = {APPLICATION}")
    db.execute(f"PRAGMA user_version = {VERSION}")


def _identity(path: Path) -> tuple[int, int]:
    """Tells this file from another one that has taken its name."""
    found = os.stat(path)
    return found.st_dev, found.st_ino


def _length(db: sqlite3.Connection) -> int:
    """How many entries there are."""
    [(newest,)] = db.execute("SELECT max(seq) FROM entry")
    return 0 if newest is None else int(newest) + 1


def _write(
    db: sqlite3.Connection, seq: int, entry: Entry, card: Card, at: datetime, plans: Mapping[int, StoredPlan]
) -> None:
    for version, plan in plans.items():
        _write_plan(db, version, plan, _stamp(at))
    db.execute("INSERT INTO entry VALUES (?, ?, ?)", (seq, _stamp(at), to_json(entry)))
    _write_card(db, card)


def _write_all(db: sqlite3.Connection, first: int, contents: Contents) -> None:
    """Entries from number ``first`` on, the plans that are not there, and the card."""
    there = {version for (version,) in db.execute("SELECT version FROM plan")}
    for version, plan in contents.plans.items():
        if version not in there:
            _write_plan(db, version, plan, contents.times[-1])
    new = [(seq, contents.times[seq], to_json(contents.entries[seq])) for seq in range(first, len(contents.entries))]
    db.executemany("INSERT INTO entry VALUES (?, ?, ?)", new)
    _write_card(db, contents.card)


def _write_card(db: sqlite3.Connection, card: Card) -> None:
    values = [_stamp(value) if isinstance(value, datetime) else value for value in card[: len(_CARD)]]
    db.execute(f"INSERT OR REPLACE INTO card (only, {', '.join(_CARD)}) VALUES (1{', ?' * len(_CARD)})", values)


def _write_plan(db: sqlite3.Connection, version: int, plan: StoredPlan, at: str) -> None:
    files = json.dumps(dict(plan.files), ensure_ascii=False)
    values = (version, at, plan.path, plan.title, plan.text, files, plan.packed)
    db.execute("INSERT INTO plan VALUES (?, ?, ?, ?, ?, ?, ?)", values)


def _stamp(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="milliseconds")


def _card(db: sqlite3.Connection, path: Path) -> Card:
    with _sound(path):
        there = {name for _, name, *_ in db.execute("PRAGMA table_info(card)")}
        columns = (name if name in there else f"0 AS {name}" for name in _CARD)  # only read, it is not migrated
        [(*told, worked_at)] = db.execute(f"SELECT {', '.join(columns)} FROM card")
        values: list[Any] = [*told, datetime.fromisoformat(worked_at)]
        card = Card(*values)
        if card.state not in get_args(State):
            raise ValueError(card.state)
        return card


def _contents(db: sqlite3.Connection, path: Path) -> Contents:
    db.execute("BEGIN")  # one moment for all three tables
    try:
        card = _card(db, path)
        with _sound(path):
            plans = dict(_plans(db))
        told = db.execute("SELECT seq, at, events FROM entry ORDER BY seq").fetchall()
    finally:
        db.execute("ROLLBACK")
    with _sound(path):
        seqs, times, events = zip(*told, strict=True) if told else ((), (), ())
        if not told or seqs != tuple(range(len(told))):
            raise ValueError("entries are missing")
        return Contents(card, plans, all_from_json(events), times)


def _plans(db: sqlite3.Connection) -> Iterator[tuple[int, StoredPlan]]:
    for version, files, *rest in db.execute("SELECT version, files, path, title, text, packed FROM plan"):
        where, title, text, packed = rest
        drawn_in = json.loads(files)
        if not isinstance(drawn_in, dict) or not all(isinstance(one, str) for one in drawn_in.values()):
            raise ValueError("no files by name")
        yield version, StoredPlan(where, title, text, drawn_in, packed)


def _sync_folder(folder: Path) -> None:
    """Make a new name in the folder outlast a power cut, where the system can be asked to."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
