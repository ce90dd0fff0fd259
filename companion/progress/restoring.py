"""From a file to a session, whole or as far as it is sound. A file and its log go together, and neither is ever
written over: what is there is kept under another name.
"""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import datetime
from itertools import count
from pathlib import Path

from companion.knitting.piece import Piece
from companion.knitting.value import Record
from companion.plan.packed import pack
from companion.problems import Problems
from companion.progress import journal, tables
from companion.progress.card import card_of
from companion.progress.edited import piece_of
from companion.progress.events import Planned
from companion.progress.fold import apply, begin, replay
from companion.progress.names import tidy
from companion.progress.session import Session
from companion.progress.stored import Contents, StoredPlan
from companion.progress.trouble import Trouble, from_os


class Restored(Record):
    """What a copy became: a piece of this name with so many steps. ``aside``: where the one is kept that was there;
    None: none was."""

    name: str
    steps: int
    aside: Path | None


def keep_aside(path: Path) -> Path:
    """Give a piece's file, its log with it, another name beside it; that name. Whoever does it holds the lock.

    Raises:
        Trouble: it cannot be renamed; nothing is changed.
    """
    try:
        journal.read(path)
        why = "replaced"
    except Trouble:
        why = "damaged"
    names = (path.with_name(f"{path.name}.{why}-{number}") for number in count(1))
    beside = next(name for name in names if not name.exists())
    journal.move(path, beside)
    return beside


def copied(copy: Path, *, is_part: bool) -> Contents:
    """What a copy of a piece holds, the steps in its log with it. A log that does not belong to it, as one that lies
    beside a copy that was put in a damaged file's place by hand, is left out. ``is_part``: what is sound of a damaged
    one, all steps before the damage.

    Raises:
        Trouble: it is no piece, or damaged, or cannot be read. Nothing is changed.
    """
    read = _sound_part if is_part else _whole
    found, trouble = list[Contents](), Trouble("damaged", copy)
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder) / copy.name
        try:
            shutil.copyfile(copy, here)
            with suppress(FileNotFoundError):
                shutil.copyfile(f"{copy}-wal", f"{here}-wal")
        except OSError as error:
            raise from_os(error, copy) from None
        for _ in range(2):
            try:
                found.append(read(here))
            except Trouble as told:
                trouble = Trouble(told.kind, copy, step=told.step)
            Path(f"{here}-wal").unlink(missing_ok=True)
    if not found:
        raise trouble
    return max(found, key=lambda contents: len(contents.entries))


def _whole(path: Path) -> Contents:
    contents = journal.read(path)
    taken_up(contents, path)
    return contents


def _sound_part(path: Path) -> Contents:
    name, plans, entries, times = journal.look(path, tables.sound_part)
    pieces = {number: piece_of(plan)[0] for number, plan in plans.items()}
    session, done = None, 0
    with suppress(ValueError, LookupError):
        for entry in entries:
            session = apply(session, entry) if session else begin(pieces, entry)
            done += 1
    if session is None:
        raise Trouble("damaged", path)
    plans = {number: _with_text(plan, pieces[number]) for number, plan in plans.items()}
    at = datetime.fromisoformat(times[done - 1])
    card = card_of(session, tidy(name) or path.name.partition(".")[0], plans[session.version].path, at)
    return Contents(card, plans, entries[:done], times[:done])


def _with_text(plan: StoredPlan, piece: Piece) -> StoredPlan:
    """A plan whose text is lost, with that of the plan file where it says the same."""
    from companion.plan.read import load

    if not plan.text:
        with suppress(Problems):
            loaded = load(Path(plan.path), plan.size)
            if loaded.piece.for_hands(is_mirrored=piece.is_mirrored) == piece:
                return plan._replace(text=loaded.text, files=dict(loaded.files))
    return plan


def taken_up(contents: Contents, path: Path, keep_packed: Callable[[int, str], None] | None = None) -> Session:
    """The session as the journal has it. Nothing is solved, and no plan is read while its cache is of use; one made
    anew is given to ``keep_packed``.

    Raises:
        Trouble: the plan cannot be read any more, or the entries are not those of a piece.
    """
    followed = {event.version for entry in contents.entries for event in entry if isinstance(event, Planned)}
    versions: dict[int, Piece] = {}
    try:
        for number in sorted(followed):
            versions[number], was_packed = piece_of(contents.plans[number])
            if keep_packed and not was_packed:
                with suppress(Trouble):  # only a cache
                    keep_packed(number, pack(versions[number]))
        return replay(versions, contents.entries)
    except Problems as found:
        raise Trouble("old plan", path) from found
    except (ValueError, LookupError) as error:
        raise Trouble("damaged", path) from error
