"""One writer a piece: a lock on a side file, which the operating system frees when the program dies."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from companion.progress.trouble import Trouble, from_os

if TYPE_CHECKING:
    from filelock import BaseFileLock


class Lock:
    """The lock on one side file. Free until taken."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._held: BaseFileLock | None = None

    def take(self, wait: float = 0) -> bool:
        """Take it; False when somebody else, in this program too, has it for longer than ``wait`` seconds.

        Raises:
            Trouble: the side file cannot be made, or its disk knows no locks that die with their program.
        """
        from filelock import FileLock, Timeout

        # Where a disk has no real locks the library would fall back to a mere file, which outlives a killed program.
        lock: BaseFileLock = FileLock(self.path, fallback_to_soft=False)
        try:
            lock.acquire(timeout=wait, poll_interval=0.02)
        except Timeout:
            return False
        except OSError as error:
            if error.errno in (errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOLCK):
                raise Trouble("disk", self.path, "this disk has no file locks") from None
            raise from_os(error, self.path) from None
        self._held = lock
        return True

    def free(self) -> None:
        """Let go of it. Twice does no harm."""
        if self._held is not None:
            self._held.release()
            self._held = None


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
