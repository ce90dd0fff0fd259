"""The lock: one holder, in this program or another, and none left when it dies."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from companion.progress.lock import Lock
from companion.progress.trouble import Trouble

HOLDER = """
import sys
from pathlib import Path
from companion.progress.lock import Lock
lock = Lock(Path(sys.argv[1]))
print(lock.take(), flush=True)
sys.stdin.read()
"""


def test_one_holder_at_a_time_in_one_program_too(tmp_path: Path) -> None:
    one, other = Lock(tmp_path / "quay.lock"), Lock(tmp_path / "quay.lock")
    assert one.take()
    assert not other.take()
    assert not other.take(0.05)
    one.free()
    one.free()
    assert other.take()
    other.free()


@pytest.mark.skipif(sys.platform == "win32", reason="kills a program as POSIX has it")
def test_a_killed_holder_locks_nobody_out(tmp_path: Path) -> None:
    path = tmp_path / "quay.lock"
    program = [sys.executable, "-c", HOLDER, str(path)]
    with subprocess.Popen(program, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "True\n"
        assert not Lock(path).take()
        other.send_signal(signal.SIGKILL)
    lock = Lock(path)
    assert lock.take()
    lock.free()


def test_a_folder_in_its_place_is_told(tmp_path: Path) -> None:
    (tmp_path / "quay.lock").mkdir()
    with pytest.raises(Trouble) as found:
        Lock(tmp_path / "quay.lock").take()
    assert str(tmp_path / "quay.lock") in str(found.value)


@pytest.mark.skipif(sys.platform == "win32", reason="takes away locks as POSIX has them")
@pytest.mark.parametrize("number", [errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOLCK])
def test_a_disk_without_locks_is_told_and_nothing_outlives_the_program_there(
    tmp_path: Path, number: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As some network disks answer. A file that merely lies there would lock all out once its maker is killed."""
    import fcntl

    def refuses(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    lock = Lock(tmp_path / "quay.lock")
    with monkeypatch.context() as disk:
        disk.setattr(fcntl, "flock", refuses)
        with pytest.raises(Trouble) as found:
            lock.take()
    assert str(found.value) == (
        f'"{tmp_path / "quay.lock"}" cannot be read or written (this disk has no file locks); '
        "see that the disk is there, then try again."
    )
    assert lock.take()
    lock.free()
