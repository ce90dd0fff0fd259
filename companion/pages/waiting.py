"""The bar that is shown while something takes long: on a terminal's standard error alone, and gone when it is done.

It is drawn by a thread of its own, so that it moves even where nobody tells how far the work is.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from companion.knitting.howfar import HowFar, untold

if TYPE_CHECKING:
    from rich.progress import Progress

PATIENCE = 0.5
"""Seconds that nobody minds waiting without being told for what."""


class _Bar:
    """Comes after a while, unless it is taken away before; then it stays away."""

    def __init__(self, what: str) -> None:
        from threading import Lock, Timer

        self._what = what
        self._part: float | None = None
        self._is_over = False
        self._progress: Progress | None = None
        self._one_at_a_time = Lock()
        self._timer = Timer(PATIENCE, self._show)
        self._timer.daemon = True
        self._timer.start()

    def told(self, part: float) -> None:
        """So much is done, from 0 to 1."""
        self._part = part
        if self._progress is not None:
            self._progress.update(self._progress.task_ids[0], total=1, completed=part)

    def _show(self) -> None:
        from rich.console import Console
        from rich.progress import BarColumn, Progress, TextColumn

        with self._one_at_a_time:
            if self._is_over:
                return
            columns = TextColumn("{task.description}", markup=False), BarColumn()
            progress = Progress(
                *columns, console=Console(stderr=True), transient=True, redirect_stdout=False, redirect_stderr=False
            )
            progress.add_task(self._what, total=None)
            progress.start()
            self._progress = progress
            if self._part is not None:
                self.told(self._part)

    def take_away(self) -> None:
        """For good."""
        self._timer.cancel()
        with self._one_at_a_time:
            self._is_over = True
            if self._progress is not None:
                self._progress.stop()
                self._progress = None


_bar: _Bar | None = None


def over() -> None:
    """There is something to print: the bar makes room."""
    global _bar
    if _bar is not None:
        _bar.take_away()
        _bar = None


@contextmanager
def waiting(what: str) -> Iterator[HowFar]:
    """Gives a function that is told what part is done, from 0 to 1; until then the bar shows that work goes on."""
    global _bar
    if not sys.stderr.isatty() or os.environ.get("TERM", "dumb") == "dumb":
        yield untold
        return
    bar = _bar = _Bar(what)
    try:
        yield bar.told
    finally:
        over()
