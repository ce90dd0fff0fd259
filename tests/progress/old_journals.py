"""Journals as older versions of the program wrote them: their tables, word for word."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

VERSION_2 = """\
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

NEW_IN_2 = """\
    worked_at TEXT NOT NULL,       -- UTC, ISO 8601
    areas_left INTEGER NOT NULL    -- areas still to be sewn on
);
-- When the file was brought"""


def make_old(path: Path, version: int) -> None:
    """A journal as version 1, 2 or 3 had it: no sizes; in 1 and 2 no checksums; in 1 no areas to be sewn on, no
    record of migrations."""
    if version == 3:
        with closing(sqlite3.connect(path, isolation_level=None)) as db:
            db.execute("ALTER TABLE plan DROP COLUMN size")
            db.execute("PRAGMA user_version = 3")
        return
    schema = VERSION_2
    if version == 1:
        assert NEW_IN_2 in schema
        schema = schema.partition(NEW_IN_2)[0] + "    worked_at TEXT NOT NULL         -- UTC, ISO 8601\n);"
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("DROP TABLE migration")
        for table in ("plan", "entry", "card"):
            db.execute(f"ALTER TABLE {table} RENAME TO new_{table}")
        db.executescript(schema)
        for table in ("plan", "entry", "card"):
            names = ", ".join(name for _, name, *_ in db.execute(f"PRAGMA table_info({table})"))
            db.execute(f"INSERT INTO {table} ({names}) SELECT {names} FROM new_{table}")
            db.execute(f"DROP TABLE new_{table}")
        db.execute(f"PRAGMA user_version = {version}")
