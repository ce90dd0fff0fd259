"""The terminal under the app: left as it was found, whatever ends the app; bytes that are no text end nothing."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from textual.driver import Driver

ENDING = ("SIGINT", "SIGTERM", "SIGHUP")
"""Signals that end a program, of which a system may lack some."""


@contextmanager
def told_to_end(leave: Callable[[], None]) -> Iterator[None]:
    """A signal that ends programs calls ``leave`` in the running loop, and takes its usual effect once the body has
    ended and the terminal is as it was. Where the terminal is gone, or on a second signal, it does so at once."""
    told: list[int] = []
    numbers = [getattr(signal, name) for name in ENDING if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}

    def end(number: int, _frame: FrameType | None) -> None:
        signal.signal(number, before[number])
        loop = asyncio._get_running_loop()
        if loop is None or not os.isatty(2):
            signal.raise_signal(number)
        else:
            told.append(number)
            loop.call_soon_threadsafe(leave)

    for number in numbers:
        if before[number] is not signal.SIG_IGN:
            signal.signal(number, end)
    try:
        yield
    finally:
        for number in numbers:
            signal.signal(number, before[number])
    for number in told:
        signal.raise_signal(number)


def forgiving(usual: type[Driver]) -> type[Driver]:
    """The driver, made to take any bytes where it is the one of POSIX terminals."""
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
            while not self.exit_event.is_set():
                try:
                    super().run_input_thread()
                except UnicodeDecodeError as error:
                    for event in XTermParser().feed(error.object.decode(errors="ignore")):
                        self.process_message(event)
                except Exception as error:
                    self._app.call_later(self._app._handle_exception, error)
                    return

    return Forgiving
