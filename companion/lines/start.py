"""Where line mode begins: a plan's piece or the basket opened, lines read and written until nobody types any more."""

from __future__ import annotations

import gc
import io
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from companion.dialogue.aloud import Aloud
from companion.dialogue.knitter import own_settings
from companion.dialogue.opening import First, Start, first_of, sit_down, work_on
from companion.dialogue.sitting import FOLLOWED_EVERY
from companion.knitting.strands.limits import Carry
from companion.lines.commands import Typist
from companion.lines.conversation import Conversation
from companion.lines.talk import Ended, Talk
from companion.progress import folders
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf

if TYPE_CHECKING:
    import threading

DONE = 0


def knit(
    plan: Path, *, name: str | None = None, limits: Callable[[Carry], Carry] = lambda carry: carry, size: str = ""
) -> int:
    """Open a plan's piece; start one where there is none. Returns the exit code. ``limits`` changes the limits of the
    rows to come; ``size``: of a plan in sizes the one that is knitted.

    Raises:
        Problems: a plan that is to be started has something to mend.
        Refused: the name belongs to another piece.
        Trouble: progress could not be read or saved.
        OSError: nothing can be written any more.
    """
    shelf = Shelf(folders.pieces())
    settings, notice = own_settings()
    start = Start(is_mirrored=settings.hands == "left", limits=limits, size=size)
    return _talk(first_of(shelf, plan, name, start), shelf, Typist(settings, notice))


def basket() -> int:
    """Open the work basket. Returns the exit code.

    Raises:
        Trouble: there is no home folder to keep progress in.
        OSError: nothing can be written any more.
    """
    from companion.dialogue.basket import basket_here

    shelf = Shelf(folders.pieces())
    return _talk(lambda knitter: basket_here(knitter, shelf), shelf, Typist(*own_settings()))


def new(file: str = "") -> int:
    """Ask for a new plan. Returns the exit code. ``file``: the name that stands there for it.

    Raises:
        Trouble: there is no home folder to keep progress in.
        OSError: nothing can be written any more.
    """
    from companion.dialogue.basket import new_here

    shelf = Shelf(folders.pieces())
    return _talk(lambda knitter: new_here(knitter, shelf, file), shelf, Typist(*own_settings()))


def watch(name: str) -> int:
    """Say each step of a piece as another window does it, until it is left. Returns the exit code.

    Raises:
        NoSuchPiece: no piece has this name.
        Trouble: it could not be read.
        OSError: nothing can be written any more.
    """
    import threading  # for watching alone

    knitter, left = Typist(*own_settings()), threading.Event()
    is_typed = _is_typed()
    with Shelf(folders.pieces()).resume(name, look_only=True) as knitting:
        sitting, talk = sit_down(knitter, knitting), Talk(_line, _write)
        aloud = Aloud(sitting, lambda: sitting.telling)
        talk.say(f"{sitting.session.piece.title}.", *aloud.lines(), "Type q to leave." if is_typed else "")
        _look_for_garbage()
        if is_typed:
            threading.Thread(target=_until_left, args=(left,), daemon=True).start()
        while not left.wait(FOLLOWED_EVERY):
            while sitting.follow():
                talk.say(*aloud.lines())
        knitter.hush()
    return DONE


def _until_left(left: threading.Event) -> None:
    """Read what is typed until that is to leave, or nobody types any more."""
    try:
        while (line := _line()) and line.strip().casefold() not in ("q", "quit", "leave"):
            pass
    finally:
        left.set()


def _talk(first: First, shelf: Shelf, knitter: Typist) -> int:
    """Until what was opened first is left."""
    talk = Talk(_line, _write, time.monotonic if _is_typed() else None)
    asking = work_on(knitter, shelf, first) if isinstance(first, Knitting) else first(knitter)
    try:
        Conversation(talk, knitter).carry_out(asking)
    except Ended:
        lost = knitter.unwritten
        talk.say(f"Stopped here. Nothing of {lost} is written." if lost else "Stopped here. Everything is saved.")
    return DONE


def _is_typed() -> bool:
    """Whether a hand types the lines, not a program; whatever bytes they are of."""
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    return sys.stdin is not None and sys.stdin.isatty()


def _look_for_garbage() -> None:
    """Again; what the start made is never looked through."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()


def _line() -> str:
    """The next line; "" where nobody types any more."""
    _look_for_garbage()
    return sys.stdin.readline() if sys.stdin else ""


def _write(lines: str) -> None:
    sys.stdout.write(lines)
    sys.stdout.flush()
