"""kill -9 at the worst moments: the real program, keys at random, and what is on the disk and on the screen after it.

Run by hand for many rounds: ``python -m tests.faults.killed 300``.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from companion.progress.actions import AtRow, Back, On
from companion.progress.journal import read
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.terminal.pseudo_terminal import BACKSPACE, SPACE, Terminal, knitting, pictures
from tests.terminal.swatch import Place, shown

NAME = "Harbour practice swatch"
KEYS = (SPACE, SPACE, SPACE, SPACE, BACKSPACE, b"w", b"u")
ASKING = (4, 18)
"""Rows at whose end a yarn is to be had ready; what is cut after others stays cut, however often they are worked."""

MOST_AFTER = 0.03
"""Seconds after the key until the program is killed, at most."""


@dataclass
class Tally:
    """What came of the rounds. ``between``: killed when the step was on the disk and not yet on the screen;
    ``at_row_ends``: at a key that led out of, or into, what is to be done at a row's end."""

    rounds: int = 0
    at_row_ends: int = 0
    kinds: Counter[str] = field(default_factory=Counter)

    @property
    def between(self) -> int:
        """Kills between commit and paint."""
        return self.kinds["saved, not shown"]


def place_of(session: Session) -> Place | None:
    """What the screen shows of a session: row, yarn of the run in work, stitches still on the left needle; no yarn
    and no stitch where a row's end asks for something."""
    if session.act is not None:
        return session.row + 1, "", 0
    place = session.next_place
    if place is None:
        return None
    row = session.rows[place.row]
    left = sum(segment.stitches for segment in row.segments[place.segment:])
    return place.row + 1, row.segments[place.segment].yarn, left


def rounds(home: Path, number: int, dice: Random, between: int = 0) -> Tally:
    """So many kills of one piece, every third of them at a row's end; more, until so many came between commit and
    paint, which is not in the hands of who kills. Whatever does not hold is an AssertionError."""
    tally = Tally()
    file = home / "pieces" / "harbour-practice-swatch.rowside"
    while tally.rounds < number or tally.between < between:
        assert tally.rounds < 3 * number, tally.kinds
        is_at_row_end = tally.rounds % 3 == 2
        if is_at_row_end:
            _to_a_row_end(home, dice)
        with knitting(home) as terminal:
            before = _session(home)
            terminal.wait_until(lambda before=before: shown(terminal.text) == place_of(before), "the same stitch")
            for _ in range(0 if is_at_row_end else dice.randrange(3)):
                before = _step(terminal, home, dice)
            _kill(terminal, file, _key(before, dice), dice)
            kind, after = _judge(terminal, home, file, before)
            tally.kinds[kind] += 1
            tally.at_row_ends += before.act is not None or after.act is not None
            tally.rounds += 1
    return tally


def _to_a_row_end(home: Path, dice: Random) -> None:
    """Put the piece where something is to be done at a row's end, by what was done there before or by working on."""
    with Shelf(home / "pieces").resume(NAME) as piece:
        row = dice.choice(ASKING)
        while piece.session.rows_done >= row:
            piece.do(Back())
        if piece.session.at.row + 1 < row:
            piece.do(AtRow(row))
        while piece.session.act is None and piece.session.rows_done <= row:
            piece.do(On())
        assert piece.session.act is not None


def _session(home: Path) -> Session:
    return Shelf(home / "pieces").resume(NAME, look_only=True).session


def _key(session: Session, dice: Random) -> bytes:
    """A key that does something here; near the end of the piece one that goes down."""
    if session.rows_done > 27:
        return b"u"
    return dice.choice(KEYS if session.before is not None and session.done else (SPACE, b"w"))


def _step(terminal: Terminal, home: Path, dice: Random) -> Session:
    """A key whose step is waited for on the screen."""
    steps = len(read(home / "pieces" / "harbour-practice-swatch.rowside").entries)
    terminal.send(_key(_session(home), dice))
    ends = time.monotonic() + 20
    while len(read(home / "pieces" / "harbour-practice-swatch.rowside").entries) == steps:
        assert time.monotonic() < ends, "a key did nothing"
    session = _session(home)
    terminal.wait_until(lambda: shown(terminal.text) == place_of(session), f"{place_of(session)} after a key")
    return session


def _kill(terminal: Terminal, file: Path, key: bytes, dice: Random) -> None:
    """Press the key, and kill: two times in three the moment the journal grows, else after 0 to 30 ms."""
    log = Path(f"{file}-wal")
    size = log.stat().st_size if log.exists() else 0
    terminal.send(key)
    if dice.random() < 2 / 3:
        ends = time.monotonic() + 1
        while (log.stat().st_size if log.exists() else 0) == size and time.monotonic() < ends:
            pass
    else:
        time.sleep(dice.random() * MOST_AFTER)
    terminal.kill()
    while terminal.take(0.05):
        pass


def _judge(terminal: Terminal, home: Path, file: Path, before: Session) -> tuple[str, Session]:
    """What the kill came to, and the session as it is saved; every claim about it is asserted."""
    with closing(sqlite3.connect(file)) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    after = _session(home)
    last = [place for picture in pictures(terminal.written, 80, 24) if (place := shown(picture))][-1]
    was, now = place_of(before), place_of(after)
    assert last in (was, now), f"shown was {last}, saved is {now}"
    if _is_same(after, before):
        assert last == was, "a step was shown that is not saved"
        return "not saved", after
    assert _is_same(before, after.before) or _is_same(after, before.before), "more than one step was made of one key"
    return "saved, shown" if last == now and now != was else "saved, not shown", after


def _is_same(one: Session | None, other: Session | None) -> bool:
    """The same state, whatever led to it."""
    return one is not None and other is not None and one == other and (one.before is None) == (other.before is None)


def main(number: int) -> None:
    """So many rounds, and what came of them."""
    with tempfile.TemporaryDirectory() as home:
        seed = time.time_ns() % 1_000_000
        tally = rounds(Path(home), number, Random(seed))
    kinds = ", ".join(f"{n} {kind}" for kind, n in tally.kinds.most_common())
    print(f"{tally.rounds} kills (seed {seed}), {tally.at_row_ends} of them at row ends: {kinds}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
