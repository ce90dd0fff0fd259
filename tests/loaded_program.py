"""The program, loaded once: every run is a process of its own that is forked from it and begins where loading ends.

What a run is given is its own: folder, environment, words, and its three pipes, opened as Python opens them. It runs
``python -m companion``'s module as the main one and ends as any program does. What it does not show is whether it
can be loaded; for that, and for what Python itself reads as it starts, a run is begun afresh (``the_program.run``).
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
from contextlib import suppress
from functools import cache
from pathlib import Path

LENGTH = struct.Struct("!i")
"""How long a request is; and how a run ended."""


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

    def run(
        self, folder: Path, words: tuple[str, ...], environment: dict[str, str], given: bytes, seconds: int
    ) -> tuple[int, bytes, bytes]:
        """Exit code, output and messages of one run. What it is ``given`` must find room in a pipe."""
        into, given_end = os.pipe()
        (out, out_end), (err, err_end) = os.pipe(), os.pipe()
        request = json.dumps([str(folder), words, environment, seconds]).encode()
        socket.send_fds(self._channel, [LENGTH.pack(len(request))], [into, out_end, err_end])
        self._channel.sendall(request)
        for end in (into, out_end, err_end):
            os.close(end)
        with suppress(BrokenPipeError), open(given_end, "wb", buffering=0) as file:
            file.write(given)
        written = _read_all(out, err)
        (code,) = LENGTH.unpack(self._channel.recv(LENGTH.size, socket.MSG_WAITALL))
        if code == -signal.SIGALRM:
            raise subprocess.TimeoutExpired(words, seconds, *written)
        return code, *written

    def end(self) -> None:
        """Nothing more is run."""
        self._channel.close()
        self._process.wait()


@cache
def loaded_program(**environment: str) -> LoadedProgram:
    """The one for all tests of this process that are run in such an environment."""
    program = LoadedProgram(environment)
    atexit.register(program.end)
    return program


def _read_all(*pipes: int) -> tuple[bytes, ...]:
    """Everything that comes out of some pipes; they are closed."""
    came = {pipe: bytearray() for pipe in pipes}
    still_open = list(pipes)
    while still_open:
        for pipe in select.select(still_open, [], [])[0]:
            if part := os.read(pipe, 1 << 16):
                came[pipe] += part
            else:
                still_open.remove(pipe)
                os.close(pipe)
    return tuple(bytes(part) for part in came.values())


def _load() -> None:
    """Everything below the commands, which look at how wide the terminal is while they are loaded, and below the
    screens, which are shown on terminals alone. What is not installed here is told by the run that wants it."""
    import companion

    left = tuple(f"companion.{name}" for name in ("__main__", "cli", "commands", "screens"))
    modules = (module.name for module in pkgutil.walk_packages(companion.__path__, "companion."))
    for name in ("click", *(name for name in modules if not name.startswith(left))):
        with suppress(ImportError):
            importlib.import_module(name)


def _serve(channel: socket.socket) -> bool:
    """Fork for each request until no more come; True in a process that is forked, as soon as it is ready to run."""
    while True:
        length, pipes, _, _ = socket.recv_fds(channel, LENGTH.size, 3)
        if not length:
            return False
        request = json.loads(channel.recv(LENGTH.unpack(length)[0], socket.MSG_WAITALL))
        if not (child := os.fork()):
            channel.close()
            _be(*request, pipes)
            return True
        for pipe in pipes:
            os.close(pipe)
        code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        channel.sendall(LENGTH.pack(code))


def _be(folder: str, words: list[str], environment: dict[str, str], seconds: int, pipes: list[int]) -> None:
    """Take on what a new process is given."""
    for number, pipe in enumerate(pipes):
        os.dup2(pipe, number)
        os.close(pipe)
    # As Python opens them in UTF-8 mode; that of messages is written out at each line's end.
    sys.stdin = sys.__stdin__ = os.fdopen(0, "r", -1, "utf-8", "surrogateescape", closefd=False)
    sys.stdout = sys.__stdout__ = os.fdopen(1, "w", -1, "utf-8", "surrogateescape", closefd=False)
    sys.stderr = sys.__stderr__ = os.fdopen(2, "w", 1, "utf-8", "backslashreplace", closefd=False)
    os.chdir(folder)
    os.environ.update(environment)  # what it was loaded with is a part of it
    sys.argv[1:] = words
    sys.path[0] = folder
    signal.signal(signal.SIGINT, signal.default_int_handler)
    signal.alarm(seconds)


if __name__ == "__main__":
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it is for the tests
    _load()
    gc.freeze()
    if _serve(socket.socket(fileno=int(sys.argv.pop()))):
        runpy.run_module("companion", run_name="__main__", alter_sys=True)
