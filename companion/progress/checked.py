"""A journal from elsewhere, gone through event by event: each must be one that can have happened there.

What comes from our own file is folded as it is. What somebody else's file says is believed only as far as it agrees
with the piece: no stitch worked out of its turn, no strand that is not there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from companion.knitting.piece import Piece
from companion.progress.events import Entry, WentBack
from companion.progress.fold import after_events, apply, begin, returned
from companion.progress.legality import why_not
from companion.progress.session import Session


def replayed(versions: Mapping[int, Piece], entries: Iterable[Entry]) -> Session:
    """The session after every entry.

    Raises:
        ValueError: an entry cannot have happened; the message names it by its number, from 1, and says why.
    """
    session: Session | None = None
    for number, entry in enumerate(entries, 1):
        try:
            if session is None:
                session = begin(versions, entry)
                _check(session, entry[:1])
            else:
                _check(session, entry)
                session = apply(session, entry)
        except (ValueError, LookupError) as error:
            raise ValueError(f"step {number}: {error}") from None
    if session is None:
        raise ValueError("there is no step")
    return session


def _check(session: Session, entry: Entry) -> None:
    for event in entry:
        if told := why_not(session, event):
            raise ValueError(f"{type(event).__name__}: {told.removesuffix('.')}")
        session = returned(session) if isinstance(event, WentBack) else after_events(session, (event,))
