"""kill -9 at the worst moments: the real program, keys at random, and what is on the disk and on the screen after it.

Run by hand for many rounds: ``python -m tests.faults.killed 300``.
"""

from __future__ import annotations

import sqlite3
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from contextlib import closing, nullcontext
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import NamedTuple

from companion.knitting.strands.meetings import is_taken_over
from companion.progress.actions import AtRow, Back, On
from companion.progress.journal import read
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from tests.patience import until
from tests.terminal.places import Place, Shape
from tests.terminal.pseudo_terminal import BACKSPACE, SPACE, Terminal, knitting, pictures
from tests.terminal.swatch import SWATCH

KEYS = (SPACE, SPACE, SPACE, SPACE, BACKSPACE, b"w", b"u")

MOST_AFTER = 0.03
"""Seconds after the key until the program is killed, at most."""


class Killed(NamedTuple):
    """A demo that is worked: its file, its title, what its screen shows. ``asking``: rows at whose end a yarn is to
    be had ready; what is cut after others stays cut, however often they are worked. ``shared``: rows of runs that two
    strands share. After the row ``last`` hands go down again."""

    plan: str
    name: str
    shape: Shape
    asking: Sequence[int]
    shared: Sequence[int]
    last: int


PRACTICE = Killed("swatch", "Harbour practice swatch", SWATCH, (4, 18), (), 27)

_ASKS = {4: "Have ready: new iron", 11: "Cut, leaving a tail", 13: "Have ready: new iron", 20: "Cut, leaving a tail"}

COASTER = Killed("bollard-coaster", "Bollard coaster", Shape(24, 22, _ASKS), (4, 13), (12, 13), 19)
"""As its chart is read by eye: iron is in rows 5 to 11 and 14 to 20, and in rows 12 and 13 the fog of both sides
works one run."""


@dataclass
class Tally:
    """What came of the rounds. ``between``: killed when the step was on the disk and not yet on the screen;
    ``at_row_ends``: at a key that led out of, or into, what is to be done at a row's end; ``in_shared``: at one
    before which, or after which, a strand has worked its part of a run and another one has not."""

    rounds: int = 0
    at_row_ends: int = 0
    in_shared: int = 0
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


def rounds(home: Path, number: int, dice: Random, between: int = 0, killed: Killed = PRACTICE) -> Tally:
    """So many kills of one piece, every third of them at a row's end, and as many at shared runs where it has some;
    more, until so many came between commit and paint, which is not in the hands of who kills. Whatever does not hold
    is an AssertionError."""
    tally = Tally()
    while tally.rounds < number or tally.between < between:
        assert tally.rounds < 3 * number, tally.kinds
        where = ("", "within", "row end", "", "before", "row end")[tally.rounds % 6]
        is_put = where == "row end" or bool(where and killed.shared)
        if where == "row end":
            _to_a_row_end(home, killed, dice.choice(killed.asking))
        elif is_put:
            _to_a_shared_run(home, killed, dice.choice(killed.shared), is_within=where == "within")
        with knitting(home, plan=killed.plan, rows=killed.shape.rows) as terminal:
            before = _session(home, killed)
            _wait_for(terminal, killed, before)
            for _ in range(0 if is_put else dice.randrange(3)):
                before = _step(terminal, home, killed, dice)
            _kill(terminal, _file(home, killed), _key(before, killed, dice), dice)
            kind, after = _judge(terminal, home, killed, before)
            tally.kinds[kind] += 1
            tally.at_row_ends += before.act is not None or after.act is not None
            tally.in_shared += _is_in_shared(before) or _is_in_shared(after)
            tally.rounds += 1
    return tally


def _to_a_row_end(home: Path, killed: Killed, row: int) -> None:
    """Put the piece where something is to be done at the row's end, by what was done before or by working on."""
    with Shelf(home / "pieces").resume(killed.name) as piece:
        _to_row(piece, row)
        while piece.session.act is None and piece.session.rows_done <= row:
            piece.do(On())
        assert piece.session.act is not None


def _to_a_shared_run(home: Path, killed: Killed, row: int, *, is_within: bool) -> None:
    """Put the piece before the run of the row which two strands share, or where one of them has worked its part."""
    with Shelf(home / "pieces").resume(killed.name) as piece:
        _to_row(piece, row)
        while piece.session.at != (row - 1, int(is_within)):
            assert piece.session.rows_done < row
            piece.do(On())


def _to_row(piece: Knitting, row: int) -> None:
    """Back to a place below the row's end, and on to where the row begins."""
    while piece.session.rows_done >= row or piece.session.at > (row - 1, 0):
        piece.do(Back())
    if piece.session.at.row + 1 < row:
        piece.do(AtRow(row))


def _is_in_shared(session: Session) -> bool:
    place = session.next_place
    return place is not None and is_taken_over(session.rows[place.row], place.segment)


def _file(home: Path, killed: Killed) -> Path:
    return home / "pieces" / f"{killed.name.lower().replace(' ', '-')}.rowside"


def _session(home: Path, killed: Killed) -> Session:
    return Shelf(home / "pieces").resume(killed.name, look_only=True).session


def _wait_for(terminal: Terminal, killed: Killed, session: Session) -> None:
    place = place_of(session)
    terminal.wait_until(lambda: killed.shape.shown(terminal.text) == place, f"the place {place}")


def _key(session: Session, killed: Killed, dice: Random) -> bytes:
    """A key that does something here; near the end of the piece one that goes down."""
    if session.rows_done > killed.last:
        return b"u"
    return dice.choice(KEYS if session.before is not None and session.done else (SPACE, b"w"))


def _step(terminal: Terminal, home: Path, killed: Killed, dice: Random) -> Session:
    """A key whose step is waited for on the screen."""
    file = _file(home, killed)
    steps = len(read(file).entries)
    terminal.send(_key(_session(home, killed), killed, dice))
    until(lambda: len(read(file).entries) != steps, "a key does something")
    session = _session(home, killed)
    _wait_for(terminal, killed, session)
    return session


def _kill(terminal: Terminal, file: Path, key: bytes, dice: Random) -> None:
    """Press the key, and kill: one time in three the moment the journal is written, one time in three when the step
    is saved and the terminal, which is held, has shown nothing of it; else after 0 to 30 ms."""
    log, steps = Path(f"{file}-wal"), len(read(file).entries)
    written, kind = _written(log), dice.randrange(3)
    with terminal.held() if kind == 1 else nullcontext():
        terminal.send(key)
        if kind == 0:
            until(lambda: _written(log) != written, "the journal is written", nap=0)
        elif kind == 1:
            until(lambda: len(read(file).entries) != steps, "the step is saved")
        else:
            time.sleep(dice.random() * MOST_AFTER)
        terminal.kill()
    while not terminal.is_gone:
        terminal.take(1)


def _written(log: Path) -> tuple[int, int]:
    """How long the log is, and when it was written last."""
    try:
        found = log.stat()
    except FileNotFoundError:
        return 0, 0
    return found.st_size, found.st_mtime_ns


def _judge(terminal: Terminal, home: Path, killed: Killed, before: Session) -> tuple[str, Session]:
    """What the kill came to, and the session as it is saved; every claim about it is asserted."""
    with closing(sqlite3.connect(_file(home, killed))) as db:
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    after = _session(home, killed)
    seen = map(killed.shape.shown, pictures(terminal.written, 80, 24))
    last = [place for place in seen if place][-1]
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
    """So many rounds of each piece, and what came of them."""
    for killed in (PRACTICE, COASTER):
        with tempfile.TemporaryDirectory() as home:
            seed = time.time_ns() % 1_000_000
            tally = rounds(Path(home), number, Random(seed), killed=killed)
        kinds = ", ".join(f"{n} {kind}" for kind, n in tally.kinds.most_common())
        places = f"{tally.at_row_ends} of them at row ends, {tally.in_shared} in shared runs"
        print(f"{killed.name}: {tally.rounds} kills (seed {seed}), {places}: {kinds}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
