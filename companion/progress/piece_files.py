"""The files of the pieces in one folder: found and listed, called otherwise, taken away and brought back.

Names are unique in a folder, capitals apart. Looking makes and changes nothing on the disk.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Collection
from contextlib import AbstractContextManager, suppress
from datetime import UTC, datetime
from pathlib import Path

from companion.problems import nearest
from companion.progress import journal, tables
from companion.progress.actions import Refused
from companion.progress.card import Card, State
from companion.progress.folders import make
from companion.progress.journal import Journal
from companion.progress.knitting import utc_now
from companion.progress.lock import alone
from companion.progress.names import file_stem, free_name, free_stem, tidy
from companion.progress.trouble import Trouble, from_os

ENDING = ".rowside"
"""The ending of a piece's file; its lock lies beside it with the ending ``.lock``."""

_WAIT = 5.0
"""Seconds to wait for another window that is starting a piece on the same shelf."""


class NameTaken(Refused):
    """Another piece has this name."""


class NoSuchPiece(Refused):
    """No piece on the shelf has this name."""


class PieceFiles:
    """The pieces in one folder. ``now`` is the clock; its times carry a time zone."""

    def __init__(self, folder: Path, now: Callable[[], datetime] = utc_now) -> None:
        self.folder = folder
        self._now = now

    def cards(self) -> tuple[Card, ...]:
        """Every piece, the one worked last first. A file that cannot be read is a card that says so.

        Raises:
            Trouble: the folder itself cannot be read.
        """
        return tuple(card for card, _ in self.listed())

    def listed(self) -> tuple[tuple[Card, Path], ...]:
        """The same, each with its file.

        Raises:
            Trouble: the folder itself cannot be read.
        """
        never = datetime.min.replace(tzinfo=UTC)
        found = ((card_in(path), path) for path in self._files())
        return tuple(sorted(found, key=lambda one: one[0].worked_at or never, reverse=True))

    def find(self, plan_path: Path) -> tuple[Card, ...]:
        """The cards of the pieces that follow this plan file, the one worked last first.

        Raises:
            Trouble: the folder itself cannot be read.
        """
        wanted = os.path.normcase(real(plan_path))
        return tuple(c for c in self.cards() if c.plan_path and os.path.normcase(c.plan_path) == wanted)

    def rename(self, name: str, new: str) -> str:
        """Call a piece otherwise; its name then. Its file keeps its own.

        Raises:
            NameTaken: another piece has the name.
            Refused: no piece is called so, or the new name is empty.
            Trouble: it is open in another window, or cannot be saved; nothing is changed.
        """
        if not tidy(new):
            raise Refused("A piece needs a name.")
        path = self.file_of(name)
        with self.alone(), alone(path.with_suffix(".lock"), path):
            others = {card.name for card in self.cards()} - {card_in(path).name}
            return _call(path, self.free(new, others))

    @property
    def removed(self) -> PieceFiles:
        """The pieces that were taken from this shelf and are kept."""
        return PieceFiles(self.folder.with_name("removed"), self._now)

    def remove(self, name: str) -> Path:
        """Take a piece from the shelf; the file it is kept in, in a folder beside that of the shelf.

        Raises:
            NoSuchPiece: no piece has this name.
            Trouble: it is open in another window, or cannot be moved; nothing is changed.
        """
        path, removed = self.file_of(name), self.removed
        make(removed.folder)
        with removed.alone():
            return _move(path, removed.free_file(path.stem))

    def bring_back(self, path: Path) -> str:
        """Put a piece that was removed, whose file this is, on the shelf again; its name there, which is another one
        where a piece has taken its own.

        Raises:
            Trouble: it cannot be moved; nothing is changed.
        """
        make(self.folder)
        with self.alone():
            name = free_name(card_in(path).name, {card.name for card in self.cards()})
            _move(path, self.free_file(name), name)
            return name

    def _files(self) -> list[Path]:
        try:
            with os.scandir(self.folder) as entries:
                names = [entry.name for entry in entries if entry.name.endswith(ENDING) and entry.is_file()]
        except FileNotFoundError:
            return []
        except OSError as error:
            raise from_os(error, self.folder) from None
        return [self.folder / name for name in sorted(names)]

    def file_of(self, name: str) -> Path:
        """The file of the piece with this name; a file that cannot be read has its own name.

        Raises:
            NoSuchPiece: there is none; the nearest is told.
        """
        wanted = name.casefold()
        likely = self.folder / (file_stem(name) + ENDING)
        for path in (*([likely] if likely.is_file() else []), *self._files()):
            if card_in(path).name.casefold() == wanted:
                return path
        near = nearest(name, [card.name for card in self.cards()])
        raise NoSuchPiece(f'No piece is called "{tidy(name)}".' + (f' Did you mean "{near}"?' if near else ""))

    def alone(self) -> AbstractContextManager[None]:
        """Nobody else starts a piece on this shelf meanwhile."""
        return alone(self.folder / "shelf.lock", self.folder, _WAIT)

    def free(self, asked: str, taken: Collection[str]) -> str:
        """The name that was asked for.

        Raises:
            NameTaken: another piece has it.
        """
        name = tidy(asked)
        if free_name(name, taken) != name:
            raise NameTaken(f'Another piece is called "{name}".')
        return name

    def free_file(self, name: str) -> Path:
        """A file for a piece of this name, which is not there yet."""
        taken = {Path(found).stem for found in os.listdir(self.folder)}
        return self.folder / (free_stem(name, taken) + ENDING)


def real(path: Path) -> str:
    """The path without links."""
    return os.path.realpath(path)


def card_in(path: Path) -> Card:
    """The card in a piece's file; where it cannot be read, one that says so."""
    try:
        return journal.look(path, tables.card)
    except Trouble as trouble:
        state: State = "damaged" if trouble.kind == "damaged" else "cannot be opened"
        return Card(path.stem, state=state, trouble=str(trouble))


def _move(path: Path, to: Path, name: str = "") -> Path:
    """Move a piece's file, called ``name`` from then on; it leaves no lock behind, which would keep its name from
    others."""
    lock = path.with_suffix(".lock")
    with alone(lock, path):
        card = card_in(path)
        is_renamed = name not in ("", card.name) and not card.trouble
        if is_renamed:
            _call(path, name)
        try:
            journal.move(path, to)
        except Trouble:
            if is_renamed:
                _call(path, card.name)
            raise
        with suppress(OSError):
            lock.unlink()
    return to


def _call(path: Path, name: str) -> str:
    """Write another name on the card of a piece whose lock is held; that name."""
    kept = Journal(path)
    try:
        kept.keep_card(kept.contents().card._replace(name=name))
    finally:
        kept.close()
    return name
