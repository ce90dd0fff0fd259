"""From a plan or a name to the stitch: which piece is meant, what became of its plan, and the working screen."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from textual.app import App

from companion.knitting import words
from companion.problems import Problems, show
from companion.progress.actions import Refused
from companion.progress.card import Card
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble
from companion.screens.actions import DEEDS, Deed
from companion.screens.asking import Choose, Reading
from companion.screens.knitting import KnittingScreen

CLOSED = ("damaged", "cannot be opened")


def pieces_of(shelf: Shelf, plan: Path) -> tuple[Card, ...]:
    """The pieces that follow a plan and can be opened, the one worked last first.

    Raises:
        Trouble: the data folder cannot be read.
    """
    return tuple(card for card in shelf.find(plan) if card.state not in CLOSED)


def begin(shelf: Shelf, plan: Path, name: str | None = None) -> Knitting:
    """Start a new piece of a plan.

    Raises:
        Problems: the plan has something to mend.
        Refused: another piece has the name.
        Trouble: it could not be saved.
    """
    from companion.plan.read import load

    return shelf.start(load(plan), plan, name)


async def open_plan(app: App[None], shelf: Shelf, plan: Path) -> None:
    """Go to the stitch of a plan's piece: start one where there is none, ask where there are several."""
    try:
        cards = pieces_of(shelf, plan)
        if not cards:
            await work_on(app, shelf, begin(shelf, plan))
        elif (card := await _which(app, cards)) is not None:
            await open_piece(app, shelf, card)
    except (Problems, Refused, Trouble) as error:
        await tell(app, error)


async def open_piece(app: App[None], shelf: Shelf, name: str) -> None:
    """Go to the stitch of the piece of that name."""
    try:
        await work_on(app, shelf, shelf.resume(name))
    except (Refused, Trouble) as error:
        await tell(app, error)


async def work_on(app: App[None], shelf: Shelf, knitting: Knitting) -> None:
    """The working screen of an opened piece, closed again when it is left."""
    state = knitting.opened_plan
    try:
        if state.kind == "differs" and state.loaded is not None:
            choice = await app.push_screen_wait(Choose([state.sentence, *_rows(state.rows)], list(PLAN_CHOICES)))
            if choice is None:
                return
            if choice == 1:
                path = Path(knitting.card.plan_path)
                knitting.close()
                knitting = shelf.start(state.loaded, path)
        terms: words.Terms = getattr(app, "terms", words.US)
        deeds: Sequence[Deed] = getattr(app, "deeds", DEEDS)
        await app.push_screen_wait(KnittingScreen(knitting, terms, _greeting(app, knitting, terms), deeds))
    finally:
        knitting.close()


PLAN_CHOICES = ("Go on with the stored plan", "Start over with the edited plan, as a new piece")


def _rows(rows: tuple[int, ...]) -> list[str]:
    shown = ", ".join(map(str, rows[:20]))
    return [f"Rows that differ: {shown}{' ...' if len(rows) > 20 else ''}"]


def _greeting(app: App[None], knitting: Knitting, terms: words.Terms) -> str:
    """What is said on opening: where the knitter is, how to tell the sides apart, what became of the plan."""
    session = knitting.session
    said = [getattr(app, "notice", ""), knitting.look_only_reason, knitting.opened_plan.sentence]
    if session.done and not session.is_bound_off:
        row = session.rows[session.row]
        said += [words.where_you_are(row, session.done, terms), words.sides_cue(row.side, terms)]
    return " ".join(text for text in said if text)


async def _which(app: App[None], cards: tuple[Card, ...]) -> str | None:
    """The name of the piece that is meant."""
    if len(cards) == 1:
        return cards[0].name
    lines = [words.card_line(card.name, card.rows_done, card.rows, card.state) for card in cards]
    choice = await app.push_screen_wait(Choose(["Which piece of this plan?"], lines))
    return None if choice is None else cards[choice].name


async def tell(app: App[None], error: Problems | Refused | Trouble) -> None:
    """Show what is wrong, and go on."""
    lines = [show(problem) for problem in error.problems] if isinstance(error, Problems) else [str(error)]
    await app.push_screen_wait(Reading("This cannot be opened", lines))
