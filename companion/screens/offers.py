"""When ends are offered: at a turn after which the wrong side faces the knitter, and before one stops."""

from __future__ import annotations

from companion.knitting import words
from companion.knitting.hands.row_ends import turn_tip
from companion.progress.ends import ready_ends
from companion.progress.session import Session
from companion.settings import Settings


def at_the_turn(session: Session, settings: Settings, terms: words.Terms, key: str) -> str:
    """What is said at a turn after a right-side row when enough ends are ready; "" otherwise. To knit on declines;
    ``key`` shows them."""
    if not settings.offer_at or not session.is_at_turn or turn_tip(session.rows, session.row) != "toward":
        return ""
    ready = ready_ends(session)
    return words.ends_offered(ready, terms, key) if ready >= settings.offer_at else ""


def on_leaving(session: Session, settings: Settings, terms: words.Terms) -> str:
    """What is asked before one stops; "" when nothing is ready, or ends are never to be offered."""
    ready = ready_ends(session) if settings.offer_at else 0
    return words.ends_offered_on_leaving(ready, terms) if ready else ""
