"""A piece's file and its log go together: kept under another name, never written over, and read as a copy of them."""

from __future__ import annotations

import os
import shutil
import tempfile
from contextlib import suppress
from itertools import count
from pathlib import Path
from typing import Literal, NamedTuple

from companion.progress import journal
from companion.progress.stored import Contents
from companion.progress.trouble import Trouble, from_os


class Restored(NamedTuple):
    """What a copy became: a piece of this name with so many steps. ``aside``: where the one is kept that was there;
    None: none was."""

    name: str
    steps: int
    aside: Path | None


def keep_aside(path: Path, why: Literal["damaged", "replaced"]) -> Path:
    """Give a piece's file, its log with it, another name beside it; that name. Whoever does it holds the lock.

    Raises:
        Trouble: it cannot be renamed; nothing is changed.
    """
    names = (path.with_name(f"{path.name}.{why}-{number}") for number in count(1))
    beside = next(name for name in names if not name.exists())
    try:
        for ending in ("-wal", "-shm", ""):
            with suppress(FileNotFoundError):
                os.rename(f"{path}{ending}", f"{beside}{ending}")
    except OSError as error:
        raise from_os(error, path) from None
    return beside


def copied(copy: Path) -> Contents:
    """What a copy of a piece holds, the steps in its log with it. A log that does not belong to it, as one that lies
    beside a copy that was put in a damaged file's place by hand, is left out.

    Raises:
        Trouble: it is no piece, or damaged, or cannot be read. Nothing is changed.
    """
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder) / "copy"
        log = Path(f"{here}-wal")
        try:
            shutil.copyfile(copy, here)
            with suppress(FileNotFoundError):
                shutil.copyfile(f"{copy}-wal", log)
        except OSError as error:
            raise from_os(error, copy) from None
        while True:
            try:
                return journal.read(here)
            except Trouble as trouble:
                if not log.exists():
                    raise Trouble(trouble.kind, copy) from None
                log.unlink()
