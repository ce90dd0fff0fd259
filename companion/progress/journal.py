"""The journal of one piece: one SQLite file, to which every action is appended in one durable transaction.

An entry is either on the disk, with the card that goes with it, or it is not and ``Trouble`` is raised. Nothing
written is ever changed or removed, the card alone is replaced. Only this file and ``tables`` know sqlite3.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import TypeVar

from companion.progress import tables
from companion.progress.card import Card
from companion.progress.events import Entry
from companion.progress.stored import Contents, StoredPlan
from companion.progress.trouble import Trouble, TroubleKind, from_os

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
            if _has_log(path):
                # Whoever closes a file writes its log into it: first see that it is the log of this very file.
                _read_with(path, "mode=ro", tables.contents)
            self._db = _connect(path, "mode=rw")
            try:
                version = _check(self._db, path)
                self._db.execute("PRAGMA journal_mode = WAL")
                self._db.execute("PRAGMA synchronous = FULL")
                # Without it macOS answers "written" while the bytes are still in the drive's own cache.
                self._db.execute("PRAGMA fullfsync = ON")
                if version < tables.VERSION:
                    _migrate(self._db, path, version)
                # A file that may only be read opens all the same; this finds out before the first stitch.
                with _transaction(self._db):
                    self._end = tables.tail(self._db)
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
            return tables.contents(self._db)

    def append(self, entry: Entry, card: Card, at: datetime, plans: Mapping[int, StoredPlan] | None = None) -> None:
        """Save one action: its events, the card after it and the plan versions it brings. Returns when it is on the
        disk.

        Raises:
            Trouble: nothing of it was saved. Kind "clash": somebody else has written to the journal.
        """
        self._save([(tables.stamp(at), entry)], card, plans or {})

    def extend(self, contents: Contents) -> None:
        """Save the entries that follow those that are there, with the card after them and the plans they bring: all
        of it or nothing.

        Raises:
            Trouble: as ``append``.
        """
        steps = list(zip(contents.times, contents.entries, strict=True))[self._end.length:]
        there = self.contents().plans
        plans = {number: plan for number, plan in contents.plans.items() if number not in there}
        self._save(steps, contents.card, plans)

    def _save(self, steps: Sequence[tuple[str, Entry]], card: Card, plans: Mapping[int, StoredPlan]) -> None:
        with _told(self.path), _transaction(self._db):
            if _identity(self.path) != self._file:
                raise Trouble("gone", self.path)  # what is written now would go to a file without a name
            if tables.tail(self._db) != self._end:
                raise Trouble("clash", self.path)
            end = tables.write(self._db, self._end, steps, card, plans)
        self._end = end
        if not card.runs_done:
            # Between rows the log is folded into the file, so that a copy of that alone is whole to the last row.
            with suppress(sqlite3.Error):
                self._db.execute("PRAGMA wal_checkpoint(PASSIVE)")

    def keep_plan(self, version: int, plan: StoredPlan, at: datetime) -> None:
        """Store one more text of the plan that changes nothing in the piece, without an entry.

        Raises:
            Trouble: it was not stored.
        """
        with _told(self.path), _transaction(self._db):
            tables.write_plan(self._db, version, plan, tables.stamp(at))

    def keep_card(self, card: Card) -> None:
        """Replace the card alone: the piece has another name, or its plan file another path.

        Raises:
            Trouble: it was not stored.
        """
        self._save([], card, {})

    def keep_packed(self, version: int, packed: str) -> None:
        """Replace the cache of one version of the plan.

        Raises:
            Trouble: it was not stored.
        """
        with _told(self.path), _transaction(self._db):
            tables.write_packed(self._db, version, packed)

    def close(self) -> None:
        """Let go of the file. Twice does no harm."""
        # The last to close tidies the write-ahead log away; when that fails, the next to open does it.
        with suppress(sqlite3.Error):
            self._db.close()


def create(path: Path, contents: Contents) -> None:
    """Begin a journal: whole under its name, or not there at all.

    Raises:
        Trouble: it could not be saved, or there is such a file.
    """
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
                    tables.create(db)
                    steps = list(zip(contents.times, contents.entries, strict=True))
                    tables.write(db, tables.Tail(), steps, contents.card, contents.plans)
                db.execute("PRAGMA journal_mode = WAL")
            os.rename(beside, path)
            _sync_folder(path.parent)
        except BaseException:
            with suppress(OSError):
                beside.unlink(missing_ok=True)
            raise


def read(path: Path) -> Contents:
    """Everything in a journal.

    Raises:
        Trouble: as ``look``.
    """
    return look(path, tables.contents)


def look(path: Path, what: Callable[[sqlite3.Connection], _T]) -> _T:
    """What a journal holds, as one of the readers in ``tables`` has it. Nothing is made or changed on the disk, so
    long as no writer's log lies beside the file.

    Raises:
        Trouble: it is not there, not ours, of a newer version, damaged, or cannot be read.
    """
    with _told(path):
        _find(path)
        if not _has_log(path):
            try:
                return _read_with(path, "mode=ro&immutable=1", what)
            except sqlite3.DatabaseError:
                # A writer may have come meanwhile: then what was read may be half old, half new.
                if not _has_log(path):
                    raise
        if os.access(path.parent, os.W_OK):
            return _read_with(path, "mode=ro", what)
        # To read a log SQLite must write beside it, and there nothing can be.
        with tempfile.TemporaryDirectory() as folder:
            for ending in ("", "-wal"):
                shutil.copyfile(f"{path}{ending}", Path(folder) / f"{path.name}{ending}")
            return _read_with(Path(folder) / path.name, "mode=ro", what)


def move(path: Path, to: Path) -> None:
    """Give a piece's file, its log with it, another name or place on the same disk. Whoever does it holds the piece's
    lock.

    Raises:
        Trouble: it cannot be renamed.
    """
    if _has_log(path):
        with suppress(Trouble):  # what can be folded into the file need not be kept together with it
            Journal(path).close()
    moved = list[str]()
    try:
        for ending in ("-wal", "-shm", ""):
            with suppress(FileNotFoundError):
                os.rename(f"{path}{ending}", f"{to}{ending}")
                moved.append(ending)
    except OSError as error:
        for ending in moved:  # a log is nothing without its file
            with suppress(OSError):
                os.rename(f"{to}{ending}", f"{path}{ending}")
        raise from_os(error, path) from None


def _find(path: Path) -> None:
    if not path.exists():
        raise Trouble("gone", path)
    if not path.is_file():
        raise Trouble("not ours", path)


def _has_log(path: Path) -> bool:
    return os.path.exists(f"{path}-wal")


def _read_with(path: Path, options: str, what: Callable[[sqlite3.Connection], _T]) -> _T:
    with closing(_connect(path, options)) as db, closing(sqlite3.connect(":memory:", isolation_level=None)) as newer:
        version = _check(db, path)
        if version == tables.VERSION:
            return what(db)
        db.backup(newer)
        tables.migrate(newer, version)
        return what(newer)


def _connect(path: Path, options: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{path.absolute().as_uri()}?{options}", uri=True, timeout=2, isolation_level=None)


def _migrate(db: sqlite3.Connection, path: Path, version: int) -> None:
    """Bring a file of an older version to this one, all or nothing; as it was it is kept beside."""
    beside = path.with_name(f"{path.name}.version-{version}")
    with closing(sqlite3.connect(beside)) as kept:
        db.backup(kept)
    with _transaction(db):
        tables.migrate(db, version)


def _check(db: sqlite3.Connection, path: Path) -> int:
    """The version of the journal in the file.

    Raises:
        Trouble: it is no journal, or of a newer version.
    """
    [(application,)] = db.execute("PRAGMA application_id")
    [(version,)] = db.execute("PRAGMA user_version")
    if application != tables.APPLICATION:
        # Nothing in it at all: a file of ours that was cut short.
        [(number,)] = db.execute("SELECT count(*) FROM sqlite_master")
        raise Trouble("not ours" if number or application else "damaged", path)
    if version > tables.VERSION:
        raise Trouble("newer", path)
    if version not in (*tables.MIGRATIONS, tables.VERSION):
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
    except tables.Damaged as error:
        raise Trouble("damaged", path, step=error.step) from error
    except UnicodeDecodeError as error:  # what SQLite itself says of the name of a column that is no text any more
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


def _identity(path: Path) -> tuple[int, int]:
    """Tells this file from another one that has taken its name."""
    found = os.stat(path)
    return found.st_dev, found.st_ino


def _sync_folder(folder: Path) -> None:
    """Make a new name in the folder outlast a power cut, where the system can be asked to."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
