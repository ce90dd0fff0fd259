"""The tables of a journal, and that what is read from them was written like that.

Every entry has a checksum that goes on from that of the entry before it, the card one that goes on from the newest
entry's, a plan and its cache one each: a bit that fell over anywhere, or an entry that is lost, is noticed.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from typing import get_args
from zlib import crc32

from msgspec import DecodeError
from msgspec.json import decode, encode

from companion.knitting.value import Record
from companion.progress.card import Card, State
from companion.progress.events import Entry, all_from_json, from_json, to_json
from companion.progress.stored import Contents, StoredPlan

APPLICATION = 0x526F7773
"""The mark in the header of every file of ours: "Rows" in ASCII."""

VERSION = 4
"""The version of the tables below, kept as the file's user_version."""

MIGRATIONS: Mapping[int, tuple[str, ...]] = {
    1: ("ALTER TABLE card ADD COLUMN areas_left INTEGER NOT NULL DEFAULT 0",),
    2: tuple(
        f"ALTER TABLE {table} ADD COLUMN {column} INTEGER NOT NULL DEFAULT 0"
        for table, column in (("plan", "sum"), ("plan", "packed_sum"), ("entry", "chain"), ("card", "chain"))
    ),
    3: ("ALTER TABLE plan ADD COLUMN size TEXT NOT NULL DEFAULT ''",),
}
"""From each older version what leads to the next one."""

_SUMMED = 3
"""The first version with checksums; those of older ones are made after the last step."""

_SCHEMA = """
-- Every version of the plan that the piece has followed. Version 0 is the one it was begun with.
CREATE TABLE plan (
    version INTEGER PRIMARY KEY,
    at TEXT NOT NULL,              -- when it was stored: UTC, ISO 8601
    path TEXT NOT NULL,            -- where the plan file lay
    title TEXT NOT NULL,
    text TEXT NOT NULL,            -- the plan file, word for word
    files TEXT NOT NULL,           -- JSON: the text of every file it draws in, by the name the plan calls it
    packed TEXT NOT NULL,          -- a cache: the piece, read and ready; made anew from text and files at need
    sum INTEGER NOT NULL,          -- the checksum of all but at and packed
    packed_sum INTEGER NOT NULL,   -- that of packed
    size TEXT NOT NULL             -- of a plan in sizes the one that is knitted; else ''
);
-- What was done, one row an action, in order and without a gap from 0. The piece's state is the fold of these.
CREATE TABLE entry (
    seq INTEGER PRIMARY KEY,
    at TEXT NOT NULL,              -- UTC, ISO 8601
    events TEXT NOT NULL,          -- JSON: [[kind, field, ...], ...]
    chain INTEGER NOT NULL         -- the checksum of at and events, going on from that of the entry before
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
    areas_left INTEGER NOT NULL,   -- areas still to be sewn on
    chain INTEGER NOT NULL         -- the checksum of the others, going on from that of the newest entry
);
-- When the file was brought from an older version to this one.
CREATE TABLE migration (
    version INTEGER PRIMARY KEY,
    at TEXT NOT NULL               -- UTC, ISO 8601
);
"""

_CARD = tuple(name for name in Card._fields if name != "trouble")


class Damaged(Exception):
    """What is read was not written like that: from step ``step`` on, 0 = from the first."""

    def __init__(self, step: int = 0) -> None:
        super().__init__(f"damaged from step {step} on")
        self.step = step


class Tail(Record):
    """How many entries there are, and the checksum of the newest."""

    length: int = 0
    chain: int = 0


def create(db: sqlite3.Connection) -> None:
    """Make the tables in an empty file."""
    # Not executescript: that would commit the transaction it stands in.
    for statement in _SCHEMA.split(";\n"):
        if statement.strip():
            db.execute(statement)
    db.execute(f"PRAGMA application_id = {APPLICATION}")
    db.execute(f"PRAGMA user_version = {VERSION}")


def migrate(db: sqlite3.Connection, version: int) -> None:
    """Bring the tables of an older version to this one."""
    db.execute("CREATE TABLE IF NOT EXISTS migration (version INTEGER PRIMARY KEY, at TEXT NOT NULL)")
    for older in range(version, VERSION):
        for statement in MIGRATIONS[older]:
            db.execute(statement)
        db.execute("INSERT INTO migration VALUES (?, ?)", (older + 1, stamp(datetime.now(UTC))))
    if version < _SUMMED:
        _sum_up(db)
    db.execute(f"PRAGMA user_version = {VERSION}")


def _sum_up(db: sqlite3.Connection) -> None:
    """Make every checksum, where there was none."""
    for number, *told, packed in db.execute("SELECT version, path, title, text, files, packed FROM plan").fetchall():
        sums = _sum((number, *told)), _sum((packed,)), number
        db.execute("UPDATE plan SET sum = ?, packed_sum = ? WHERE version = ?", sums)
    chain = 0
    for seq, *told in db.execute("SELECT seq, at, events FROM entry ORDER BY seq").fetchall():
        chain = _sum(told, chain)
        db.execute("UPDATE entry SET chain = ? WHERE seq = ?", (chain, seq))
    for card in db.execute(f"SELECT {', '.join(_CARD)} FROM card").fetchall():
        db.execute("UPDATE card SET chain = ?", (_sum(card, chain),))


def tail(db: sqlite3.Connection) -> Tail:
    """Where the entries end.

    Raises:
        Damaged: it was not written like that.
    """
    with _as_written():
        for seq, chain in db.execute("SELECT seq, chain FROM entry ORDER BY seq DESC LIMIT 1"):
            return Tail(int(seq) + 1, int(chain))
        return Tail()


def write(
    db: sqlite3.Connection, end: Tail, steps: Sequence[tuple[str, Entry]], card: Card, plans: Mapping[int, StoredPlan]
) -> Tail:
    """Add steps, each with its time, after the end of the entries, the plans they bring, and the card; where they end
    then."""
    length, chain = end
    for version, plan in plans.items():
        write_plan(db, version, plan, steps[-1][0])
    for at, entry in steps:
        events = to_json(entry)
        chain = _sum((at, events), chain)
        db.execute("INSERT INTO entry VALUES (?, ?, ?, ?)", (length, at, events, chain))
        length += 1
    told = [stamp(value) if isinstance(value, datetime) else value for value in card[: len(_CARD)]]
    db.execute(
        f"INSERT OR REPLACE INTO card (only, {', '.join(_CARD)}, chain) VALUES (1{', ?' * len(told)}, ?)",
        (*told, _sum(told, chain)),
    )
    return Tail(length, chain)


def write_plan(db: sqlite3.Connection, version: int, plan: StoredPlan, at: str) -> None:
    """Add a version of the plan."""
    told = (version, plan.path, plan.title, plan.text, encode(dict(plan.files)).decode())
    sums = _plan_sum(told, plan.size), _sum((plan.packed,))
    values = (version, at, *told[1:], plan.packed, *sums, plan.size)
    db.execute("INSERT INTO plan VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", values)


def write_packed(db: sqlite3.Connection, version: int, packed: str) -> None:
    """Replace the cache of one version of the plan."""
    sums = packed, _sum((packed,)), version
    db.execute("UPDATE plan SET packed = ?, packed_sum = ? WHERE version = ?", sums)


def stamp(at: datetime) -> str:
    """A time as it is kept: in UTC, ISO 8601."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds")


def card(db: sqlite3.Connection) -> Card:
    """The card.

    Raises:
        Damaged: it was not written like that.
    """
    with _as_written():
        [(*told, chain)] = db.execute(f"SELECT {', '.join(_CARD)}, chain FROM card")
        found = Card._make([*told[:-1], datetime.fromisoformat(told[-1]), ""])
        is_typed = all(type(one) is type(usual) for one, usual in zip(told[:-1], Card(""), strict=False))
        if not is_typed or chain != _sum(told, tail(db).chain) or found.state not in get_args(State):
            raise Damaged
        return found


def contents(db: sqlite3.Connection) -> Contents:
    """Everything, as of one moment.

    Raises:
        Damaged: it was not written like that.
    """
    with _as_written():
        with _one_moment(db):
            told, plans, rows = card(db), dict(_plans(db)), db.execute(_ENTRIES).fetchall()
        sound = _sound(rows)
        if sound < len(rows) or not rows:
            raise Damaged(sound)
        entries = all_from_json([events for _, _, events, _ in rows])
        return Contents(told, plans, entries, tuple([at.decode() for _, at, _, _ in rows]))


def later(db: sqlite3.Connection, length: int) -> tuple[Card, tuple[Entry, ...], tuple[str, ...]]:
    """The card, and the entries that follow so many, one at least, with their times, as of one moment.

    Raises:
        Damaged: it was not written like that, or there are fewer.
    """
    with _as_written():
        with _one_moment(db):
            told = card(db)
            before, *rows = db.execute(f"{_ENTRIES} LIMIT -1 OFFSET ?", (length - 1,)).fetchall()
        if _sound(rows, length, before[-1]) < length + len(rows):
            raise Damaged
        entries = tuple(from_json(events) for _, _, events, _ in rows)
        return told, entries, tuple(at.decode() for _, at, _, _ in rows)


def sound_part(db: sqlite3.Connection) -> tuple[str, Mapping[int, StoredPlan], tuple[Entry, ...], tuple[str, ...]]:
    """What was written like that as far as it goes: the piece's name, the plans that are sound, or their caches, and
    the entries before the first one that is not, with their times.

    Raises:
        Damaged: nothing is sound.
    """
    name, rows, entries = "", list[_Row](), list[Entry]()
    with _as_written(), _one_moment(db):
        plans = dict(_plans(db, is_part=True))
        with suppress(sqlite3.Error, ValueError):  # even the name of a column may be no text any more
            [(name,)] = db.execute("SELECT CAST(name AS TEXT) FROM card")
        with suppress(sqlite3.Error, ValueError):
            rows.extend(db.execute(_ENTRIES))
        with suppress(ValueError):
            for _, _, events, _ in rows[:_sound(rows)]:
                entries.append(from_json(events))
        return str(name or ""), plans, tuple(entries), tuple(at.decode() for _, at, _, _ in rows[:len(entries)])


_Row = tuple[int, bytes, bytes, int]
_ENTRIES = "SELECT seq, CAST(at AS BLOB), CAST(events AS BLOB), chain FROM entry ORDER BY seq"
"""An entry's number, its time and events, and its checksum."""


def _sound(rows: Sequence[_Row], first: int = 0, chain: int = 0) -> int:
    """How many entries are as they were written, these being those from number ``first`` on, after ``chain``."""
    for number, (seq, at, events, told) in enumerate(rows, first):
        if seq != number or not isinstance(at, bytes) or not isinstance(events, bytes):
            return number
        chain = crc32(events, crc32(at + _JOINT, chain))
        if told != chain:
            return number
    return first + len(rows)


def _plans(db: sqlite3.Connection, *, is_part: bool = False) -> Iterator[tuple[int, StoredPlan]]:
    """The versions of the plan. A cache that is not sound is "". ``is_part``: a text that is not sound is "" where
    its cache is, and the others are left out."""
    for *told, packed, own, packed_sum in db.execute(
        "SELECT version, path, title, text, files, size, packed, sum, packed_sum FROM plan"
    ):
        version, path, title, text, files, size = told
        if packed_sum != _sum((packed,)):
            packed = ""
        if own == _plan_sum(told[:-1], size) and all(isinstance(one, str) for one in told[1:]):
            try:
                drawn_in = decode(files, type=dict[str, str])
            except DecodeError as error:
                raise ValueError("no files by name") from error
            yield version, StoredPlan(path, title, text, drawn_in, packed, size)
        elif not is_part:
            raise Damaged
        elif packed:
            yield version, StoredPlan(str(path), str(title), "", {}, packed, str(size))


@contextmanager
def _one_moment(db: sqlite3.Connection) -> Iterator[None]:
    """All that is read here is of one moment."""
    db.execute("BEGIN")
    try:
        yield
    finally:
        db.execute("ROLLBACK")


@contextmanager
def _as_written() -> Iterator[None]:
    """Whatever is wrong with what is read is damage."""
    try:
        yield
    except (ValueError, TypeError, AttributeError, RecursionError) as error:
        raise Damaged from error


_JOINT = b"\x1f"
"""Between the values of a checksum."""


def _plan_sum(told: Sequence[object], size: str) -> int:
    """The checksum of a plan; of one size it is that of the versions in which there were no sizes."""
    return _sum((*told, size) if size else told)


def _sum(values: Sequence[object], before: int = 0) -> int:
    """The checksum of values, going on from that of others."""
    return crc32(_JOINT.join(str(value).encode("utf-8", "surrogatepass") for value in values), before)
