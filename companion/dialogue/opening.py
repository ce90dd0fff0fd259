"""From a plan or a name to the stitch: which piece is meant, what became of its plan, and the sitting that begins."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, Choice, Reading
from companion.dialogue.sitting import Sitting
from companion.knitting import words
from companion.knitting.hands.runs import run_steps
from companion.knitting.strands.limits import Carry
from companion.problems import Problems, show
from companion.progress.actions import Refused, Replan
from companion.progress.card import Card
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.shelf import Shelf
from companion.progress.trouble import Trouble
from companion.progress.typed import row_named

CLOSED = ("damaged", "cannot be opened")
PLAN_CHOICES = ("Go on with the stored plan", "Start over with the edited plan, as a new piece")
MOST_NAMED = 20
"""Rows that differ."""


def pieces_of(shelf: Shelf, plan: Path) -> tuple[Card, ...]:
    """The pieces that follow a plan and can be opened, the one worked last first.

    Raises:
        Trouble: the data folder cannot be read.
    """
    return tuple(card for card in shelf.find(plan) if card.state not in CLOSED)


class Start(NamedTuple):
    """How a piece is begun or gone on with: by whose hands, and under which limits instead of the plan's."""

    is_mirrored: bool = False
    limits: Callable[[Carry], Carry] = lambda carry: carry


AS_PLANNED = Start()


def begin(shelf: Shelf, plan: Path, start: Start = AS_PLANNED, name: str | None = None) -> Knitting:
    """Start a new piece of a plan.

    Raises:
        Problems: the plan has something to mend.
        Refused: another piece has the name.
        Trouble: it could not be saved.
    """
    from companion.plan.read import load

    loaded = load(plan)
    return shelf.start(loaded, plan, name, start.limits(loaded.piece.carry), is_mirrored=start.is_mirrored)


def under(knitting: Knitting, start: Start) -> Knitting:
    """The piece with the limits that were asked for, from here on.

    Raises:
        Refused: there are no rows to come, or one may only look.
        Trouble: it could not be saved.
    """
    limits = start.limits(knitting.session.limits)
    if limits != knitting.session.limits:
        try:
            knitting.do(Replan(limits))
        except BaseException:
            knitting.close()
            raise
    return knitting


def open_plan(
    knitter: Knitter, shelf: Shelf, plan: Path, start: Start = AS_PLANNED, name: str | None = None,
    is_new: bool = False,
) -> Asking[None]:
    """Go to the stitch of the piece of that name; without one to that of the plan's piece: a new one where it
    ``is_new`` or there is none, asked for where there are several."""
    try:
        if name is None and not is_new and (cards := pieces_of(shelf, plan)):
            name = yield from _which(cards)
            if name is None:
                return
        knitting = begin(shelf, plan, start) if name is None else under(shelf.resume(name), start)
        yield from work_on(knitter, shelf, knitting)
    except (Problems, Refused, Trouble) as error:
        lines = [show(problem) for problem in error.problems] if isinstance(error, Problems) else [str(error)]
        yield Reading("This cannot be opened", lines)


def work_on(knitter: Knitter, shelf: Shelf, knitting: Knitting) -> Asking[None]:
    """Sit down to an opened piece, which is closed when it is left. Where rows that are worked differ in the edited
    plan, the knitter says which plan to follow."""
    state = knitting.opened_plan
    try:
        if state.kind == "differs" and state.loaded is not None:
            rows = knitting.session.rows
            differ = ", ".join(row_named(row, rows) if row else "the cast-on" for row in state.rows[:MOST_NAMED])
            dots = " ..." if len(state.rows) > MOST_NAMED else ""
            noun = words.rows_noun(rows).capitalize()
            choice = yield Choice((state.sentence, f"{noun}s that differ: {differ}{dots}"), PLAN_CHOICES)
            if choice is None:
                return
            if choice == 1:
                path = Path(knitting.card.plan_path)
                knitting.close()
                is_mirrored = knitting.session.piece.is_mirrored
                knitting = shelf.start(state.loaded, path, is_mirrored=is_mirrored)
        yield sit_down(knitter, knitting)
    finally:
        knitting.close()


def sit_down(knitter: Knitter, knitting: Knitting) -> Sitting:
    """An opened piece at the needles. It begins with what is wrong with the settings, why one may only look, what
    became of the plan, and where the knitter is."""
    sitting = Sitting(knitting, knitter)
    said = (
        knitter.notice, knitting.look_only_reason, knitting.opened_plan.sentence,
        greeting(knitting.session, sitting.terms),
    )
    sitting.notice = " ".join(filter(None, said))
    sitting.take_up_settings()
    return sitting


def greeting(session: Session, terms: words.Terms) -> str:
    """Where the knitter is, in the row that the top line tells, and how to tell the sides apart."""
    if not session.done or session.is_bound_off:
        return ""
    row, done = session.rows[session.at.row], session.at.segment
    left = run_steps(session.strands, session.at, session.catching).left if done < len(row.segments) else 0
    cue = words.sides_cue(row.side, terms, session.piece.cast_on, is_cut=session.strands.cast_on_ends > 0)
    is_cut = session.strands.strand_of[session.row][session.done - 1] in session.told
    return f"{words.where_you_are(row, done, left, terms, is_cut=is_cut)} {cue}"


def _which(cards: tuple[Card, ...]) -> Asking[str | None]:
    """The name of the piece that is meant."""
    if len(cards) == 1:
        return cards[0].name
    lines = tuple(words.card_line(*card.told) for card in cards)
    choice = yield Choice(("Which piece of this plan?",), lines)
    return None if choice is None else cards[choice].name
