"""One writer a piece: a lock on a side file, which the operating system frees when the program dies."""

from __future__ import annotations

import errno
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from io import FileIO
from pathlib import Path

from companion.progress.trouble import Trouble, from_os

if sys.platform == "win32":
    import msvcrt

    def _lock(file: FileIO) -> None:
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(file: FileIO) -> None:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


HELD = (errno.EAGAIN, errno.EACCES, errno.EDEADLK)
"""What the systems answer when somebody else has a lock."""


class Lock:
    """The lock on one side file. Free until taken."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._file: FileIO | None = None

    def take(self, wait: float = 0) -> bool:
        """Take it; False when somebody else, in this program too, has it for longer than ``wait`` seconds.

        Raises:
            Trouble: the side file cannot be made, or its disk knows no locks that die with their program.
        """
        until = time.monotonic() + wait
        try:
            file = FileIO(self.path, "a")
        except OSError as error:
            raise from_os(error, self.path) from None
        while True:
            try:
                _lock(file)
            except OSError as error:
                if error.errno in HELD and time.monotonic() < until:
                    time.sleep(0.02)
                    continue
                file.close()
                if error.errno in HELD:
                    return False
                if error.errno in (errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOLCK):
                    raise Trouble("disk", self.path, "this disk has no file locks") from None
                raise from_os(error, self.path) from None
            self._file = file
            return True

    def free(self) -> None:
        """Let go of it. Twice does no harm."""
        if self._file is not None:
            self._file.close()
            self._file = None


@contextmanager
def alone(path: Path, about: Path, wait: float = 0) -> Iterator[None]:
    """Hold the lock on a side file; nobody else has what it is ``about`` meanwhile.

    Raises:
        Trouble: somebody has it for longer than ``wait`` seconds, or as ``Lock.take``.
    """
    lock = Lock(path)
    if not lock.take(wait):
        raise Trouble("busy", about)
    try:
        yield
    finally:
        lock.free()
