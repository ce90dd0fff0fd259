"""What of a piece is done, for a picture of it."""

from __future__ import annotations

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.looks import Made
from companion.progress.session import Phase, Session


def made(session: Session) -> Made | None:
    """What is worked, sewn on and woven in; None where nothing is begun: a picture is of the whole piece then."""
    if session.phase == Phase.NOT_BEGUN:
        return None
    return Made(Place(session.row, session.done), session.sewn, session.woven)
