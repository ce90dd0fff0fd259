"""A piece that another window writes, followed by one that only looks: its journal is read again where its file has
changed, and taken up step by step. Nothing is made or changed on the disk.
"""

from __future__ import annotations

import os
import time
from collections import deque
from contextlib import suppress
from pathlib import Path

from companion.knitting.value import Record
from companion.progress import journal, tables
from companion.progress.card import Card
from companion.progress.events import Planned
from companion.progress.fold import apply
from companion.progress.restoring import taken_up
from companion.progress.session import Session
from companion.progress.stored import Contents, Timed
from companion.progress.trouble import Trouble

SETTLED = 1.0
"""Seconds after which a file that was written again would have another time: until then it is read again."""


class News(Record):
    """What is new: one step more, or all of it ``is_anew``; else its name alone, or that its file ``is_gone`` or is
    there again."""

    session: Session
    card: Card
    step: Timed | None = None
    is_anew: bool = False
    is_gone: bool = False


_Seen = tuple[tuple[int, int, int, int] | None, ...]


class Following:
    """Follows one piece, from what was read of it on."""

    def __init__(self, path: Path, contents: Contents) -> None:
        self._path, self._card = path, contents.card
        self._length = len(contents.entries)
        self._file = _identity(path)
        self._seen: _Seen = ()
        self._steps = deque[Timed]()
        self._is_gone = False

    def news(self, session: Session) -> News | None:
        """What is new since it was asked for last, one thing at a time; None: nothing is. ``session``: as far as it
        was taken up. What cannot be read now is read another time."""
        if not self._steps:
            seen = _seen(self._path)
            if seen[0] is None and (path := _moved(self._path, self._file)):
                self._path, seen = path, _seen(path)
            if seen[0] is None:
                was_gone, self._is_gone = self._is_gone, True
                return None if was_gone else News(session, self._card, is_gone=True)
            if seen == self._seen and not _is_fresh(seen):
                return None
            try:
                other = self._read(session)
            except Trouble:
                return None
            self._seen = seen
            if other is not None:
                return other
        if not self._steps:
            return None
        step = self._steps.popleft()
        return News(apply(session, step[1]), self._card, step)

    def _read(self, session: Session) -> News | None:
        """Read what is new; what is no step is returned: another name, or all of it.

        Raises:
            Trouble: it cannot be read.
        """
        file, name = _identity(self._path), self._card.name
        if self._is_gone or file != self._file:
            return self._read_anew(file)
        try:
            card, entries, times = journal.look(self._path, lambda db: tables.later(db, self._length))
        except Trouble as trouble:
            if trouble.kind != "damaged":
                raise
            return self._read_anew(file)  # it does not go on from what was read: is it sound?
        plans = {event.version for entry in entries for event in entry if isinstance(event, Planned)}
        if plans - session.versions.keys():
            return self._read_anew(file)
        self._card, self._length = card, self._length + len(entries)
        self._steps.extend(zip(times, entries, strict=True))
        return News(session, card) if card.name != name else None

    def _read_anew(self, file: tuple[int, int]) -> News:
        contents = journal.read(self._path)
        session = taken_up(contents, self._path)
        self._card, self._length, self._file, self._is_gone = contents.card, len(contents.entries), file, False
        return News(session, contents.card, is_anew=True)


def _seen(path: Path) -> _Seen:
    """What changes with whatever is written to a file or its log."""
    found = list[tuple[int, int, int, int] | None]()
    for ending in ("", "-wal"):
        try:
            stat = os.stat(f"{path}{ending}")
            found.append((stat.st_dev, stat.st_ino, stat.st_size, stat.st_mtime_ns))
        except OSError:
            found.append(None)
    return tuple(found)


def _moved(path: Path, file: tuple[int, int]) -> Path | None:
    """The same file under another name beside it, as one has that was put away and brought back."""
    with suppress(OSError), os.scandir(path.parent) as entries:
        for entry in entries:
            if entry.name.endswith(path.suffix) and entry.inode() == file[1]:
                return path.with_name(entry.name)
    return None


def _is_fresh(seen: _Seen) -> bool:
    """Whether it was written so lately that what is written next may leave it the same time."""
    now = time.time()
    return any(one is not None and now - one[3] / 1e9 < SETTLED for one in seen)


def _identity(path: Path) -> tuple[int, int]:
    found = _seen(path)[0]
    return found[:2] if found else (0, 0)
