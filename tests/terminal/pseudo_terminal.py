"""A program on a pseudo-terminal: keys go in, what a terminal would show is read back. POSIX only.

The terminal answers the one question that lets a program say where a painted picture begins and ends, so that
every picture can be looked at, however fast they follow each other; as on such a terminal, one that is half painted
is not on the screen yet. Nothing here waits for a fixed time: every wait ends as soon as what is waited for is there,
and fails loudly when it does not come.
"""

from __future__ import annotations

import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType

import pyte

from tests.loaded_program import Forked, loaded_program
from tests.patience import PATIENCE, Patience
from tests.the_program import bare

ROOT = Path(__file__).resolve().parents[2]

ASKS_FOR_PICTURES = b"\x1b[?2026$p"
KNOWS_PICTURES = b"\x1b[?2026;2$y"
PICTURE_BEGINS, PICTURE_ENDS = b"\x1b[?2026h", b"\x1b[?2026l"

LOOK = 0.02
"""Seconds between two looks at what has come."""

ESCAPED = 0.14
"""Seconds after which a bare escape, for which the program waits a tenth of one, is done."""

_USUALLY_ON = (b"25", b"7")
"""The cursor is seen, long lines are wrapped."""

_UNKNOWN_TO_PYTE = re.compile(rb"\x1b\[[<>=][0-9;]*[a-zA-Z]|\x1b\[\?[0-9;]*\$p")
_UNFINISHED = re.compile(rb"\x1b(\[[0-9;:?<>=$ ]*)?$")

SPACE, ENTER, BACKSPACE, PAGE_DOWN, DOWN = b" ", b"\r", b"\x7f", b"\x1b[6~", b"\x1b[B"
CTRL_C, CTRL_Q = b"\x03", b"\x11"


class Terminal:
    """A terminal of ``columns`` by ``lines`` in which ``python -m MODULE WORDS`` runs.

    ``home`` is where progress is kept; ``variables`` are added to a bare environment. Unless it ``is_fresh``, it is
    forked from a program that is loaded already. ``is_gone``: nobody writes any more.
    """

    def __init__(
        self,
        home: Path,
        *words: str,
        columns: int = 80,
        lines: int = 24,
        variables: dict[str, str] | None = None,
        module: str = "companion",
        is_fresh: bool = True,
    ) -> None:
        self.screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self.screen)
        self.written = bytearray()
        self._fed = 0
        self.is_gone = False
        self._master, slave = os.openpty()
        self._name = os.ttyname(slave)
        self._set_size(columns, lines)
        self.before = termios.tcgetattr(self._master)
        environment = {"PATH": os.environ["PATH"], "HOME": str(home), "LANG": "C.UTF-8", "TERM": "xterm-256color"}
        environment |= {"PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(home)} | (variables or {})
        self.process: subprocess.Popen[bytes] | Forked
        if is_fresh:
            self.process = subprocess.Popen(
                [sys.executable, "-m", module, *words], cwd=home, env=environment,
                stdin=slave, stdout=slave, stderr=slave, start_new_session=True,
            )  # fmt: skip
        else:
            self.process = loaded_program(**bare()).start(home, words, environment, slave, slave, slave)
        os.close(slave)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with suppress(ProcessLookupError):
            self.process.kill()
        self.process.wait()
        os.close(self._master)

    def send(self, keys: bytes) -> None:
        """Type these keys, all in one write."""
        assert os.write(self._master, keys) == len(keys)

    def resize(self, columns: int, lines: int) -> None:
        """Drag the window's corner: what was shown is gone, and the program is told."""
        self._feed()
        self.screen.resize(lines, columns)
        self.screen.erase_in_display(2)
        self._set_size(columns, lines)
        self.process.send_signal(signal.SIGWINCH)

    def kill(self) -> None:
        """kill -9."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    @contextmanager
    def held(self) -> Iterator[None]:
        """As long as it is held, the terminal takes nothing of what is written to it; what was not taken when the
        program is gone is lost."""
        slave = os.open(self._name, os.O_RDWR | os.O_NOCTTY)
        try:
            termios.tcflow(slave, termios.TCOOFF)
            yield
        finally:
            os.close(slave)

    @property
    def text(self) -> str:
        """What is on the screen, a line a line, without the spaces at line ends."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    def wait_for(self, *texts: str) -> str:
        """The screen, once all of the texts are on it."""
        return self.wait_until(lambda: all(text in self.text for text in texts), f"{texts} to be on the screen")

    def wait_until(self, is_there: Callable[[], bool], what: str) -> str:
        """The screen, once something holds."""
        patience = Patience()
        self._feed()
        while not is_there():
            if self.is_gone or patience.is_over:
                raise AssertionError(f"waited in vain for {what}; the screen:\n{self.text}")
            self.take(LOOK)
            self._feed()
        return self.text

    def wait_for_whole_pictures(self) -> None:
        """Go on when the program has taken in that this terminal knows where a picture ends: what it paints before
        that has no end, and cannot be told from what it paints next. It is made to paint by looking at the row as a
        whole and back."""
        patience = Patience()
        while PICTURE_ENDS not in self.written:
            assert not patience.is_over, "no picture ever ends"
            self.send(b"mm")
            self.wait_until_still(0.05)
        self.wait_until_still(0.2)

    def wait_until_still(self, seconds: float = ESCAPED) -> None:
        """Go on when nothing has come for so long in which the program was not kept from working: it had taken in all
        keys, and had nothing to do but to wait."""
        patience, looks = Patience(), 0
        while looks * LOOK < seconds and not self.is_gone:
            assert not patience.is_over, f"it is never still; the screen:\n{self.text}"
            looks = 0 if self.take(LOOK) or not self.waits() else looks + 1
        self._feed()

    def waits(self) -> bool:
        """Whether the program has read all keys, and none of its threads has anything to do but to wait. Where the
        system does not tell, it is taken to be so."""
        if sys.platform != "linux" or self.is_gone:
            return True
        slave = os.open(self._name, os.O_RDONLY | os.O_NOCTTY | os.O_NONBLOCK)
        try:
            [unread] = struct.unpack("i", fcntl.ioctl(slave, termios.FIONREAD, bytes(4)))
        finally:
            os.close(slave)
        return not unread and all(state in "SZ" for state in _states(self.process.pid))

    def wait_for_end(self) -> int:
        """The exit code, once the program has ended and everything it wrote is read."""
        patience = Patience()
        while not self.is_gone:
            self.take(LOOK)
            assert not patience.is_over, f"the program does not end; the screen:\n{self.text}"
        self._feed()
        return self.process.wait(PATIENCE)

    @property
    def left_on(self) -> list[int]:
        """Modes of the terminal that are not as they were before the program: set and not reset again; the cursor
        and the wrapping of lines reset and not set again."""
        last = dict(re.findall(rb"\x1b\[\?(\d+)([hl])", self.written))
        return [int(mode) for mode, to in last.items() if (to == b"h") != (mode in _USUALLY_ON)]

    def settings(self) -> list[object]:
        """How the terminal's line is set now: echo, line by line or key by key, and so on."""
        return termios.tcgetattr(self._master)

    def _set_size(self, columns: int, lines: int) -> None:
        fcntl.ioctl(self._master, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))

    def take(self, seconds: float) -> bool:
        """Take in what has come, waiting for it; False when nothing came or the program is gone."""
        if not select.select([self._master], [], [], max(0.0, seconds))[0]:
            return False
        try:
            came = os.read(self._master, 65536)
        except OSError:  # how Linux says that nobody holds the other end any more
            came = b""
        self.is_gone = not came
        before = max(0, len(self.written) + 1 - len(ASKS_FOR_PICTURES))
        self.written += came
        if self.written.find(ASKS_FOR_PICTURES, before) >= 0:
            self.send(KNOWS_PICTURES)
        return bool(came)

    def _feed(self) -> None:
        """Show what was written, but for a picture or a control sequence of which the end is still to come."""
        unfinished = _UNFINISHED.search(self.written, self._fed)
        until = unfinished.start() if unfinished else len(self.written)
        begun = self.written.rfind(PICTURE_BEGINS, self._fed)
        if begun >= 0 and PICTURE_ENDS not in self.written[begun:] and not self.is_gone:
            until = begun
        self._stream.feed(_UNKNOWN_TO_PYTE.sub(b"", bytes(self.written[self._fed:until])))
        self._fed = until


def _states(pid: int) -> str:
    """How the system says that the threads of a process are: R has something to do, S waits, T is stopped."""
    found = list[str]()
    for thread in Path(f"/proc/{pid}/task").iterdir():
        with suppress(OSError):  # it is gone
            found.append((thread / "stat").read_text(encoding="utf-8").rpartition(") ")[2][0])
    return "".join(found)


def pictures(written: bytes, columns: int, lines: int) -> Iterator[str]:
    """Every picture that was painted to its end, one after the other, from everything a program wrote."""
    screen = pyte.Screen(columns, lines)
    stream = pyte.ByteStream(screen)
    for part in written.split(PICTURE_ENDS)[:-1]:
        stream.feed(_UNKNOWN_TO_PYTE.sub(b"", part))
        yield "\n".join(line.rstrip() for line in screen.display)


@contextmanager
def knitting(
    home: Path, columns: int = 80, lines: int = 24, is_fresh: bool = False, plan: str = "swatch", rows: int = 32,
    **variables: str,
) -> Iterator[Terminal]:  # fmt: skip
    """The practice swatch, or another demo of so many rows, in a terminal, at its first row or where it was left."""
    with Terminal(
        home, "knit", plan, columns=columns, lines=lines, variables=variables, is_fresh=is_fresh
    ) as terminal:
        terminal.wait_for(f" of {rows} ", "q quit")
        terminal.wait_for_whole_pictures()
        terminal.wait_for(f" of {rows} ", "q quit")
        yield terminal
