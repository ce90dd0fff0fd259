"""The shelf: every piece on the needles, each in a file of its own; one damaged file costs one piece.

Looking makes and changes nothing on the disk. What is done with the files alone is in ``piece_files``.
"""

from __future__ import annotations

import os
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from companion.knitting.strands.limits import Carry
from companion.progress import edited, journal, tables
from companion.progress.actions import Refused
from companion.progress.card import Card, card_of
from companion.progress.edited import PlanState
from companion.progress.events import Entry, Mirrored, Planned
from companion.progress.fold import apply, begin
from companion.progress.folders import make
from companion.progress.journal import Journal
from companion.progress.knitting import Knitting, LookOnly, Writer, utc_now
from companion.progress.lock import Lock, alone
from companion.progress.names import file_stem, free_name, tidy
from companion.progress.piece_files import ENDING, NameTaken, NoSuchPiece, PieceFiles, card_in, real
from companion.progress.replanning import fewest
from companion.progress.restoring import Restored, copied, keep_aside, taken_up
from companion.progress.session import Session
from companion.progress.stored import Contents
from companion.progress.trouble import Trouble

if TYPE_CHECKING:
    from companion.plan.loaded import Loaded
    from companion.progress.exported import Exported

__all__ = ["Knitting", "LookOnly", "NameTaken", "NoSuchPiece", "Shelf", "utc_now"]

_LOOK = "Opened for looking only."
_NOT_BEGUN = "Opened for looking only; nothing is begun."
_ELSEWHERE = "The piece is open in another window; here you may only look."
_NOT_WRITABLE = "Nothing can be saved where the piece lies; here you may only look."


Standing = Literal["not here", "no longer", "longer", "forked"]
"""How an exported piece stands to the one of its name that is here: it goes on from it, or went another way."""


class Shelf(PieceFiles):
    """The pieces on the needles, begun, opened, restored and taken in. ``now``: as its files have it."""

    def start(
        self, loaded: Loaded, plan_path: Path, name: str | None = None, limits: Carry | None = None, *,
        is_mirrored: bool = False,
    ) -> Knitting:
        """Begin a new piece and open it for writing. Without a name it is called by the plan's title, numbered
        from 2 on where a piece has that name. ``limits`` None: those of the plan.
        ``is_mirrored``: for a left-handed knitter who works mirrored; the piece stays so.

        Raises:
            NameTaken: another piece has the name that was asked for.
            Problems: it cannot be worked mirrored.
            Refused: its limits allow more than can be weighed.
            Trouble: it could not be saved.
        """
        session, entry = _begun(loaded, limits, is_mirrored=is_mirrored)
        at, stored = self._now(), edited.stored_plan(replace(loaded, piece=session.piece), real(plan_path))
        make(self.folder)
        with self.alone():
            card = card_of(session, self._name(name, session.piece.title), stored.path, at)
            path = self.free_file(card.name)
            journal.create(path, Contents(card, {0: stored}, (entry,), (tables.stamp(at),)))
        lock = Lock(path.with_suffix(".lock"))
        if not lock.take():
            raise Trouble("busy", path)
        return Knitting(session, card, PlanState(), _writer(path, lock), now=self._now)

    def look(self, loaded: Loaded, plan_path: Path, *, is_mirrored: bool = False) -> Knitting:
        """A piece of a plan to look at, as it would begin; nothing is begun and nothing saved.

        Raises:
            Problems: it cannot be worked mirrored.
        """
        session, _ = _begun(loaded, None, is_mirrored=is_mirrored)
        card = card_of(session, tidy(session.piece.title) or "Piece", real(plan_path), self._now())
        return Knitting(session, card, PlanState("not compared"), None, _NOT_BEGUN, self._now)

    def resume(self, name: str, look_only: bool = False, plan_path: Path | None = None) -> Knitting:
        """Open a piece where it was left. When another window has it, or nothing can be written where it lies, it
        opens look-only, and what another window does can be followed. An edited plan is dealt with here: see
        ``Knitting.opened_plan``. ``plan_path``: where its plan file is now, and is looked for from now on, unless it
        differs in what is worked or cannot be read.

        Raises:
            NoSuchPiece: no piece has this name.
            Trouble: it could not be read.
        """
        file = self.file_of(name)
        writer, reason = (None, _LOOK) if look_only else _try_to_write(file)
        try:
            contents = writer.journal.contents() if writer else journal.read(file)
            session = taken_up(contents, file, writer.journal.keep_packed if writer else None)
            if writer is None:
                from companion.progress.following import Following  # nobody who writes waits for it

                state, following = PlanState("not compared"), Following(file, contents)
                return Knitting(session, contents.card, state, None, reason, self._now, contents.newest, following)
            path = contents.card.plan_path if plan_path is None else real(plan_path)
            session, card, state = _with_plan_of_today(session, contents, path, writer, self._now())
            return Knitting(session, card, state, writer, now=self._now, past=contents.newest)
        except BaseException:
            if writer:
                writer.close()
            raise

    def set_aside(self, name: str) -> Path:
        """Keep a damaged piece under another name, so that a copy from a backup can take its place; that name.

        Raises:
            NoSuchPiece: no piece has this name.
            Trouble: it is open in another window, or cannot be renamed; nothing is changed.
        """
        path = self.file_of(name)
        with alone(path.with_suffix(".lock"), path):
            return keep_aside(path)

    def restore(self, copy: Path, *, before_damage: bool = False) -> Restored:
        """Put a copy of a piece in its place: a file that was set aside, one of an older version kept beside its
        piece, or a backup. What is there is kept under another name. ``before_damage``: of a damaged file, the one
        that is in its place too, what is sound of it.

        Raises:
            Trouble: it is no sound piece, or that one is open in another window, or it cannot be saved; nothing is
                changed.
        """
        contents = copied(copy, is_part=before_damage)
        make(self.folder)
        with self.alone():
            path = self._place_of(copy, contents.card.name)
            beside = path.with_name(path.name + ".restored")
            with alone(path.with_suffix(".lock"), path):
                beside.unlink(missing_ok=True)
                journal.create(beside, contents)
                aside = keep_aside(path) if path.exists() else None
                os.rename(beside, path)
        return Restored(contents.card.name, len(contents.entries) - 1, aside)

    def _place_of(self, copy: Path, name: str) -> Path:
        """The file whose place a copy takes: that of the piece of its name, or one that cannot be read and has the
        name that its file has or would have, or one of its own."""
        with suppress(NoSuchPiece):
            return self.file_of(name)
        likely = (self.folder / (stem + ENDING) for stem in (copy.name.partition(ENDING)[0], file_stem(name)))
        torn = (path for path in likely if path.is_file() and card_in(path).trouble)
        return next(torn, None) or self.free_file(name)

    def _name(self, asked: str | None, title: str) -> str:
        taken = {card.name for card in self.cards()}
        if asked is None or not tidy(asked):
            return free_name(tidy(title) or "Piece", taken)
        return self.free(asked, taken)

    def contents(self, name: str) -> Contents:
        """Everything the journal of a piece holds.

        Raises:
            NoSuchPiece: no piece has this name.
            Trouble: it could not be read.
        """
        return journal.read(self.file_of(name))

    def stands_to(self, exported: Exported) -> Standing:
        """How a piece that was exported stands to the piece of the same name that is here.

        Raises:
            Trouble: that one could not be read.
        """
        try:
            here = self.contents(exported.name)
        except NoSuchPiece:
            return "not here"
        shorter = min(len(here.entries), len(exported.entries))
        is_alike = here.entries[:shorter] == exported.entries[:shorter] and all(
            (plan.text, plan.files) == (here.plans[number].text, here.plans[number].files)
            for number, plan in exported.plans.items() if number in here.plans
        )
        if not is_alike:
            return "forked"
        return "longer" if len(exported.entries) > shorter else "no longer"

    def take_in(self, exported: Exported, plan_folder: Path) -> str:
        """Put an exported piece on the shelf; its name there. One that goes on where the piece of its name is here
        continues that one, one that went another way is a second piece. ``plan_folder``: where its plan may lie.

        Raises:
            Refused: the piece here is as far on, or further, or open in another window.
            Trouble: it could not be saved; nothing is changed.
        """
        standing = self.stands_to(exported)
        if standing == "no longer":
            raise Refused(f'"{exported.name}" is on your shelf, and as far on.')
        if standing == "longer":
            return self._continued(exported, plan_folder)
        make(self.folder)
        with self.alone():
            name = free_name(tidy(exported.name) or "Piece", {card.name for card in self.cards()})
            contents = _contents_of(exported, name, plan_folder)
            journal.create(self.free_file(name), contents)
        return name

    def _continued(self, exported: Exported, plan_folder: Path) -> str:
        path = self.file_of(exported.name)
        writer, reason = _try_to_write(path)
        if writer is None:
            raise LookOnly(reason)
        try:
            here = writer.journal.contents()
            contents = _contents_of(exported, here.card.name, plan_folder)
            card = contents.card._replace(plan_path=here.card.plan_path)
            writer.journal.extend(contents._replace(card=card))
        finally:
            writer.close()
        return here.card.name


def _contents_of(exported: Exported, name: str, plan_folder: Path) -> Contents:
    """What the journal of an exported piece holds here."""
    plans = {
        number: plan._replace(path=real(plan_folder / plan.path)) for number, plan in exported.plans.items()
    }
    path = plans[exported.session.version].path
    card = card_of(exported.session, name, path, datetime.fromisoformat(exported.times[-1]))
    return Contents(card, plans, exported.entries, exported.times)


def _writer(path: Path, lock: Lock) -> Writer:
    try:
        return Writer(Journal(path), lock)
    except BaseException:
        lock.free()
        raise


def _try_to_write(path: Path) -> tuple[Writer | None, str]:
    """The means to write, or why one may only look."""
    lock = Lock(path.with_suffix(".lock"))
    try:
        if not lock.take():
            return None, _ELSEWHERE
        return _writer(path, lock), ""
    except Trouble as trouble:
        if trouble.kind in ("read-only", "not permitted"):
            return None, _NOT_WRITABLE
        raise


def _begun(loaded: Loaded, limits: Carry | None, *, is_mirrored: bool) -> tuple[Session, Entry]:
    """A plan's piece as it begins, and the entry that begins it.

    Raises:
        Problems: it cannot be worked mirrored.
        Refused: its limits allow more than can be weighed.
    """
    from companion.plan.outline import for_hands

    piece = for_hands(loaded.piece, is_mirrored=is_mirrored)
    limits = limits or piece.carry
    planned = Planned.of(0, limits, fewest(piece.rows, limits))
    entry: Entry = (planned, Mirrored()) if is_mirrored else (planned,)
    return begin({0: piece}, entry), entry


def _with_plan_of_today(
    session: Session, contents: Contents, path: str, writer: Writer, at: datetime
) -> tuple[Session, Card, PlanState]:
    """Follow the plan file at this path where it was edited in rows to come only."""
    state, version = edited.compare(session, contents.plans, path)
    card = contents.card
    if state.is_followed and path != card.plan_path:
        card = card._replace(plan_path=path)
        writer.journal.keep_card(card)
    if version is None:
        return session, card, state
    if version.planned is None:
        writer.journal.keep_plan(version.number, version.stored, at)
        return session, card, state
    entry: Entry = (version.planned,)
    after = apply(session.changed(versions={**session.versions, version.number: version.piece}), entry)
    new_card = card_of(after, card.name, card.plan_path, card.worked_at or at)
    writer.journal.append(entry, new_card, at, {} if version.is_stored else {version.number: version.stored})
    return after, new_card, state
