"""Printing that never fails for the text's sake: any character, any terminal, a reader that goes away early.

A closed pipe is quiet: what was asked for is simply not read on. A disk that is full is not.
"""

from __future__ import annotations

import errno
import io
import os
import shutil
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import TYPE_CHECKING, TextIO

from companion.pages import waiting
from companion.problems import cells_of

if TYPE_CHECKING:
    from rich.text import Text

HANGING = 2
"""The rest of a line that is broken stands so much further in than the line."""


def make_safe() -> None:
    """Let standard output and error take every character, spelled out where their encoding has none."""
    for name in ("stdout", "stderr"):
        stream = getattr(sys, name)
        if stream is None:
            # Closed before the program began.
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: SIM115 (outlives this function)
        elif isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def say(lines: Iterable[str]) -> None:
    """Print lines, each with its end, as they come, broken where they have no room; stop quietly when nobody reads
    any more.

    Raises:
        OSError: they cannot be written.
    """
    room = columns()
    write(f"{part}\n" for line in lines for part in fitted(line, room))


def columns() -> int:
    """So many terminal cells are in a line: those of the terminal (or of COLUMNS), 80 where there is none."""
    return max(20, shutil.get_terminal_size().columns)


def fitted(line: str, room: int) -> Iterator[str]:
    """The line broken at spaces where it has no room, the rest further in; a word that is longer stays whole, so that
    it can be copied."""
    start = len(line) - len(line.lstrip(" "))
    indent = " " * min(start + HANGING, room // 2)
    while cells_of(line) > room:
        breaks = list[int]()
        for at, letter in enumerate(line):
            if letter == " " and line[:at].strip():
                breaks.append(at)
                if cells_of(line[:at]) > room:
                    break  # none further on has room
        within = [at for at in breaks if cells_of(line[:at]) <= room]
        whole = [at for at in within if not line[at - 1].isdecimal()]  # a number stays with what is counted
        at = (whole or within or breaks or [len(line)])[-1 if within else 0]
        if not line[at:].strip():
            break
        yield line[:at].rstrip()
        line = indent + line[at:].lstrip()
    yield line


def write(parts: Iterable[str]) -> None:
    """Print pieces of text as they come; stop quietly when nobody reads any more.

    Raises:
        OSError: they cannot be written.
    """
    try:
        for part in parts:
            waiting.over()
            sys.stdout.write(part)
        sys.stdout.flush()
    except OSError as error:
        silence()
        if not _is_closed_pipe(error):
            raise


def paint(lines: Iterable[Text]) -> None:
    """Print lines in their styles as far as the terminal has them; elsewhere what they say.

    Raises:
        OSError: they cannot be written.
    """
    if not is_coloured():
        write(f"{line.plain.rstrip()}\n" for line in lines)
        return
    from rich.console import Console

    console = Console(highlight=False)
    with console.capture() as painted:
        for line in lines:
            console.print(line, soft_wrap=True)
    write([painted.get()])


def tell(text: str) -> None:
    """Print a message on standard error, its lines broken where they have no room; where that cannot be written
    either, nobody can be told."""
    room = columns()
    waiting.over()
    try:
        sys.stderr.writelines(f"{part}\n" for line in text.split("\n") for part in fitted(line, room))
        sys.stderr.flush()
    except OSError:
        silence(sys.stderr)


def silence(stream: TextIO | None = None) -> None:
    """Send what standard output, or another stream, still holds nowhere, so that the interpreter's last flush cannot
    fail."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, (stream or sys.stdout).fileno())
        os.close(nowhere)


def _is_closed_pipe(error: OSError) -> bool:
    # Windows reports a pipe without a reader as a write to a handle that is not valid.
    return isinstance(error, BrokenPipeError) or (os.name == "nt" and error.errno == errno.EINVAL)


def is_coloured() -> bool:
    """Whether standard output is a terminal that may be sent more than plain text."""
    plain_wanted = os.environ.get("NO_COLOR") or os.environ.get("TERM", "dumb") == "dumb" or os.name == "nt"
    return sys.stdout.isatty() and not plain_wanted
