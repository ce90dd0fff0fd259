"""The terminal under the app: left as it was found, whatever ends the app; bytes that are no text end nothing, and
where it is gone the app is too.
"""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from codecs import getincrementaldecoder
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from errno import EIO
from select import select
from threading import main_thread
from types import FrameType

from textual.driver import Driver

ENDING = ("SIGINT", "SIGTERM", "SIGHUP")
"""Signals that end a program, of which a system may lack some."""

LOOKS_AGAIN = 0.1
"""Seconds after which reading looks whether the app has ended, and a lone escape key is known to be one."""


@contextmanager
def told_to_end(leave: Callable[[], None]) -> Iterator[None]:
    """A signal that ends programs calls ``leave`` in the running loop, and takes its usual effect once the body has
    ended and the terminal is as it was. Where the terminal is gone, or on a second signal, it does so at once."""
    signals: list[int] = []
    numbers = [getattr(signal, name) for name in ENDING if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}

    def end(number: int, _frame: FrameType | None) -> None:
        signal.signal(number, before[number])
        loop = asyncio._get_running_loop()
        if loop is None or not os.isatty(2):
            signal.raise_signal(number)
        else:
            signals.append(number)
            loop.call_soon_threadsafe(leave)

    for number in numbers:
        if before[number] is not signal.SIG_IGN:
            signal.signal(number, end)
    try:
        yield
    finally:
        for number in numbers:
            signal.signal(number, before[number])
    for number in signals:
        signal.raise_signal(number)


def forgiving(usual: type[Driver]) -> type[Driver]:
    """The driver, made to take any bytes and to end with its terminal where it is the one of POSIX terminals."""
    if sys.platform == "win32":
        return usual
    from textual._xterm_parser import XTermParser
    from textual.drivers.linux_driver import LinuxDriver

    if usual is not LinuxDriver:
        return usual

    class Forgiving(LinuxDriver):
        def run_input_thread(self) -> None:
            """Read on after bytes that are no text; the keys that came with them count. Whatever else happens here
            is the app's."""
            parser, decoder = XTermParser(self._debug), getincrementaldecoder("utf-8")("ignore")
            try:
                while not self.exit_event.is_set():
                    if select([self.fileno], [], [], LOOKS_AGAIN)[0]:
                        if not (came := _come(self.fileno)):
                            return _gone()
                        if text := decoder.decode(came):
                            for event in parser.feed(text):
                                self.process_message(event)
                    for event in parser.tick():
                        self.process_message(event)
            except Exception as error:
                self._app.call_later(self._app._handle_exception, error)

    return Forgiving


def _come(terminal: int) -> bytes:
    """What was typed; nothing where nobody holds the terminal's other end any more, which is told in either way."""
    try:
        return os.read(terminal, 4096)
    except OSError as error:
        if error.errno != EIO:
            raise
        return b""


def _gone() -> None:
    """The terminal went without the signal that says so, and what waits for its keys would wait for ever: the signal
    comes from here, or another one where the program was started to ignore it."""
    is_heard = signal.getsignal(signal.SIGHUP) is not signal.SIG_IGN
    signal.pthread_kill(main_thread().ident or 0, signal.SIGHUP if is_heard else signal.SIGTERM)
