"""The real program under odd and hasty hands: keys at random, up to sixteen in one write, the mouse, the wheel,
windows of every size, kills. Nothing but leaving it ends it; it always paints again; what was saved stays saved.

Run by hand for as long as one likes, in seconds: ``python -m tests.faults.odd_hands 600``.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections import Counter
from contextlib import closing
from pathlib import Path
from random import Random

from companion.progress.events import Entry
from companion.progress.journal import read
from companion.progress.shelf import Shelf
from tests.patience import Patience
from tests.terminal.pseudo_terminal import BACKSPACE, DOWN, ENTER, PAGE_DOWN, SPACE, Terminal

PLANS = ("swatch", "mooring-mat", "ferry-jumper-front", "breakwater-cowl", "bollard-coaster")
WORKING = (SPACE, SPACE, SPACE, BACKSPACE, b"w", b"u", b"g12\r", b"m", b"f", b"b", b"c")
OPENING = (b"e", b"d", b"s", b"t", b"x", b"i", b"r", b"g", b"n", b"?", b",", b"\x10", b"\x1bOP")
ANSWERING = (ENTER, b"\x1b", b"y", b"n", b"1", b"2", b"0", b"a", b"o", b"\t", b".", b"'", b"\xc3\xa9")
MOVING = (DOWN, b"\x1b[A", b"\x1b[C", b"\x1b[D", b"\x1b[H", b"\x1b[F", PAGE_DOWN, b"\x1b[5~", b"z", b"h", b"l")
LEAVING = (b"q", b"q", b"\x03", b"\x11")
KEYS = (WORKING, WORKING, WORKING, OPENING, OPENING, ANSWERING, MOVING, MOVING, LEAVING)
MOST_AT_ONCE = 16
MOVES = 14


def saved(home: Path) -> list[tuple[Entry, ...]]:
    """The journal of every piece there is, put away or not; each file is whole."""
    journals = []
    for path in sorted(home.rglob("*.rowside")):
        with closing(sqlite3.connect(path)) as db:
            assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        journals.append(tuple(read(path).entries))
    return journals


def played(home: Path, dice: Random) -> Counter[str]:
    """One evening at the terminal, and how often each thing was done; whatever does not hold is an AssertionError."""
    before, done = saved(home), Counter[str]()
    words = ("knit", dice.choice(PLANS)) if dice.random() < 0.8 else ()
    size = _size(dice)
    moves = [f"{' '.join(words) or 'basket'} at {size}"]
    with Terminal(home, *words, columns=size[0], lines=size[1]) as terminal:
        terminal.wait_until(lambda: bool(terminal.text.strip()), "the first picture")
        for _ in range(MOVES):
            moves.append(_move(terminal, dice, done))
            _drain(terminal, dice.choice((0, 0, 0.02, 0.2)))
            if terminal.process.poll() is not None:
                break
        told = "\n".join(moves)
        if terminal.process.poll() is None and dice.random() < 0.5:
            done["kill"] += 1
            terminal.kill()
        elif terminal.process.poll() is None:
            _drain(terminal, 0.3)
            painted, patience = len(terminal.written), Patience()
            terminal.resize(91, 33)
            while _runs(terminal) and len(terminal.written) == painted:
                assert not patience.is_over, f"it paints no more:\n{told}"
                terminal.take(0.05)
        if not _runs(terminal) and not done["kill"]:
            done["left"] += 1
            assert terminal.wait_for_end() in (0, 130), f"{terminal.text}\n{told}"
    assert not list(home.rglob("bug-report*")), told
    after = saved(home)
    for journal in before:
        assert any(other[:len(journal)] == journal for other in after), f"steps were lost:\n{told}"
    shelf = Shelf(home / "pieces")
    for card in shelf.cards():
        shelf.resume(card.name, look_only=True).close()
    return done


def _move(terminal: Terminal, dice: Random, done: Counter[str]) -> str:
    """Something hands do, told so that it can be done again."""
    kind = dice.choices(("keys", "burst", "size", "mouse"), (8, 8, 2, 3))[0]
    done[kind] += 1
    if kind == "size":
        size = _size(dice)
        terminal.resize(*size)
        return f"size {size}"
    if kind == "mouse":
        x, y = dice.randrange(1, 200), dice.randrange(1, 60)
        button = dice.choice((0, 0, 2, 64, 65))
        keys = f"\x1b[<{button};{x};{y}M".encode() + (b"" if button > 2 else f"\x1b[<{button};{x};{y}m".encode())
    else:
        number = dice.randrange(2, MOST_AT_ONCE + 1) if kind == "burst" else 1
        keys = b"".join(dice.choice(dice.choice(KEYS)) for _ in range(number))
    if _runs(terminal):
        terminal.send(keys)
    return f"{kind} {keys!r}"


def _size(dice: Random) -> tuple[int, int]:
    return dice.choice(((80, 24), (80, 24), (120, 40), (dice.randrange(4, 200), dice.randrange(2, 60))))


def _drain(terminal: Terminal, seconds: float) -> None:
    while terminal.take(seconds):
        pass


def _runs(terminal: Terminal) -> bool:
    return terminal.process.poll() is None


def main(seconds: float) -> None:
    """Evenings until the time is up; the first that does not hold ends it, with its seed."""
    ends, seed, done = time.monotonic() + seconds, time.time_ns() % 1_000_000, Counter[str]()
    while time.monotonic() < ends:
        with tempfile.TemporaryDirectory() as home:
            for evening in range(4):
                try:
                    done += played(Path(home), Random(f"{seed}/{evening}"))
                except AssertionError as error:
                    error.add_note(f"seed {seed}, evening {evening}")
                    raise
                done["evenings"] += 1
        seed += 1
    print(", ".join(f"{number} {what}" for what, number in done.most_common()))


if __name__ == "__main__":
    main(float(sys.argv[1]))
