"""The program, loaded once: every run is a process of its own that is forked from it and begins where loading ends.

What a run is given is its own: folder, environment, words, and three pipes or a terminal, opened as Python opens
them. It runs ``python -m companion``'s module as the main one and ends as any program does. What it does not show is
whether it can be loaded; for that, and for what Python itself reads as it starts, a run is begun afresh
(``the_program.run``).
POSIX only.
"""

from __future__ import annotations

import atexit
import gc
import importlib
import json
import os
import pkgutil
import runpy
import select
import signal
import socket
import struct
import subprocess
import sys
import time
from contextlib import suppress
from functools import cache
from pathlib import Path

NUMBER = struct.Struct("!i")
"""How long a request is; and what is answered."""


STILL_RUNS = 256
"""No exit code."""


class Forked:
    """A process that was forked, with what ``subprocess.Popen`` can do and tests ask for."""

    def __init__(self, program: LoadedProgram, pid: int) -> None:
        self._program = program
        self.pid = pid
        self.returncode: int | None = None

    def wait(self, timeout: float = 2**31) -> int:
        """The exit code, or minus the signal that ended it.

        Raises:
            subprocess.TimeoutExpired: it still runs after so many seconds.
        """
        if self.returncode is None:
            code = self._program.ask([], self.pid, timeout)
            if code == STILL_RUNS:
                raise subprocess.TimeoutExpired("companion", timeout)
            self.returncode = code
        return self.returncode

    def poll(self) -> int | None:
        """The exit code; None while it runs."""
        with suppress(subprocess.TimeoutExpired):
            return self.wait(0)
        return None

    def send_signal(self, number: int) -> None:
        """A signal, unless it has ended."""
        if self.poll() is None:
            os.kill(self.pid, number)

    def kill(self) -> None:
        """kill -9."""
        self.send_signal(signal.SIGKILL)


class LoadedProgram:
    """The process that is forked. It has no thread and no file open, and ends with whoever started it."""

    def __init__(self, environment: dict[str, str]) -> None:
        ours, theirs = socket.socketpair()
        with theirs:
            self._process = subprocess.Popen(
                [sys.executable, str(Path(__file__)), str(theirs.fileno())], env=environment,
                pass_fds=[theirs.fileno()], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
            )  # fmt: skip
        self._channel = ours

    def start(
        self, folder: Path, words: tuple[str, ...], environment: dict[str, str], into: int, out: int, err: int
    ) -> Forked:
        """A run with these for its standard input, output and messages; a session of its own, if it is a terminal."""
        return Forked(self, self.ask([into, out, err], str(folder), words, environment))

    def run(
        self, folder: Path, words: tuple[str, ...], environment: dict[str, str], given: bytes, seconds: float
    ) -> tuple[int, bytes, bytes]:
        """Exit code, output and messages of one run. What it is ``given`` must find room in a pipe.

        Raises:
            subprocess.TimeoutExpired: it takes more seconds, and is killed.
        """
        (into, given_end), (out, out_end), (err, err_end) = os.pipe(), os.pipe(), os.pipe()
        forked = self.start(folder, words, environment, into, out_end, err_end)
        for end in (into, out_end, err_end):
            os.close(end)
        with suppress(BrokenPipeError), open(given_end, "wb", buffering=0) as file:
            file.write(given)
        try:
            written = _read_all(seconds, out, err)
            return forked.wait(seconds), *written
        except subprocess.TimeoutExpired:
            forked.kill()
            forked.wait()
            raise

    def ask(self, files: list[int], *words: object) -> int:
        """Hand it a request, and the files that go with it; what it answers."""
        request = json.dumps(words).encode()
        socket.send_fds(self._channel, [NUMBER.pack(len(request))], files)
        self._channel.sendall(request)
        answer: int = NUMBER.unpack(self._channel.recv(NUMBER.size, socket.MSG_WAITALL))[0]
        return answer

    def end(self) -> None:
        """Nothing more is run."""
        self._channel.close()
        self._process.wait()


def _read_all(seconds: float, *pipes: int) -> tuple[bytes, ...]:
    """Everything that comes out of some pipes; they are closed."""
    ends = time.monotonic() + seconds
    came = {pipe: bytearray() for pipe in pipes}
    still_open = list(pipes)
    try:
        while still_open:
            ready = select.select(still_open, [], [], max(0.0, ends - time.monotonic()))[0]
            if not ready:
                raise subprocess.TimeoutExpired("companion", seconds, *map(bytes, came.values()))
            for pipe in ready:
                if part := os.read(pipe, 1 << 16):
                    came[pipe] += part
                else:
                    still_open.remove(pipe)
    finally:
        for pipe in pipes:
            os.close(pipe)
    return tuple(bytes(part) for part in came.values())


@cache
def loaded_program(**environment: str) -> LoadedProgram:
    """The one for all tests of this process that are run in such an environment."""
    program = LoadedProgram(environment)
    atexit.register(program.end)
    return program


def _load() -> None:
    """Everything but the commands, which look at how wide the terminal is while they are loaded. What is not
    installed here is told by the run that wants it."""
    import companion

    left = tuple(f"companion.{name}" for name in ("__main__", "cli", "commands"))
    modules = (module.name for module in pkgutil.walk_packages(companion.__path__, "companion."))
    for name in ("click", *(name for name in modules if not name.startswith(left))):
        with suppress(ImportError):
            importlib.import_module(name)


def _serve(channel: socket.socket) -> bool:
    """Fork, or wait for one that was forked, for each request until no more come; True in a process that is forked,
    as soon as it is ready to run."""
    while True:
        length, files, _, _ = socket.recv_fds(channel, NUMBER.size, 3)
        if not length:
            return False
        request = json.loads(channel.recv(NUMBER.unpack(length)[0], socket.MSG_WAITALL))
        if not files:
            answer = _code(*request)
        else:
            is_ready, ready = os.pipe()
            if not (answer := os.fork()):
                channel.close()
                os.close(is_ready)
                _be(*request, files)
                os.close(ready)
                return True
            os.close(ready)
            os.read(is_ready, 1)  # there is nothing to read, but an end when it is ready, or gone
            os.close(is_ready)
        for file in files:
            os.close(file)
        channel.sendall(NUMBER.pack(answer))


def _code(child: int, seconds: float) -> int:
    """How it ended, if it has after so many seconds."""
    ends = time.monotonic() + seconds
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return os.waitstatus_to_exitcode(status)
        if time.monotonic() >= ends:
            return STILL_RUNS
        time.sleep(0.001)


def _be(folder: str, words: list[str], environment: dict[str, str], files: list[int]) -> None:
    """Take on what a new process is given."""
    if os.isatty(files[0]):
        os.setsid()
    for number, file in enumerate(files):
        os.dup2(file, number)
        os.close(file)
    # As Python opens them in UTF-8 mode; that of messages is written out at each line's end.
    sys.stdin = sys.__stdin__ = os.fdopen(0, "r", -1, "utf-8", "surrogateescape", closefd=False)
    sys.stdout = sys.__stdout__ = os.fdopen(1, "w", -1, "utf-8", "surrogateescape", closefd=False)
    sys.stderr = sys.__stderr__ = os.fdopen(2, "w", 1, "utf-8", "backslashreplace", closefd=False)
    os.chdir(folder)
    os.environ.update(environment)  # what it was loaded with is a part of it
    sys.argv[1:] = words
    sys.path[0] = folder
    signal.signal(signal.SIGINT, signal.default_int_handler)


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it is for the tests
    _load()
    gc.freeze()
    if _serve(socket.socket(fileno=int(sys.argv.pop()))):
        runpy.run_module("companion", run_name="__main__", alter_sys=True)
