"""From a plan or a name to the stitch: which piece is meant, what became of its plan, and the sitting that begins."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from companion.dialogue.coming_back import greeting
from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, Choice, Reading
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import plan_says
from companion.knitting import words
from companion.knitting.strands.limits import Carry
from companion.knitting.value import Record
from companion.knitting.words.sizes import is_of_size, size_line
from companion.problems import Problems, nearest, quoted, show
from companion.progress.actions import Refused, Replan
from companion.progress.card import Card
from companion.progress.knitting import Knitting
from companion.progress.names import LONGEST
from companion.progress.shelf import NoSuchPiece, Shelf
from companion.progress.trouble import Trouble
from companion.progress.typed import row_named

if TYPE_CHECKING:
    from companion.plan.loaded import Loaded

CLOSED = ("damaged", "cannot be opened")
STORED = "Go on with the stored plan"
OVER = "Start over with the edited plan, as a new piece"
LIKE_EDITED = "I knitted it like the edited plan: follow that, and count what is worked as worked so"
MOST_NAMED = 20
"""Rows that differ."""


First = Callable[[Knitter], Asking[None]] | Knitting
"""What is opened first, or a piece that is open already; who opened it is done when it is left."""


def pieces_of(shelf: Shelf, plan: Path, size: str = "") -> tuple[Card, ...]:
    """The pieces that follow a plan, in this size where one is named, and can be opened, the one worked last first.

    Raises:
        Trouble: the data folder cannot be read.
    """
    return tuple(card for card in shelf.find(plan) if card.state not in CLOSED and is_of_size(card.title, size))


def once_of(shelf: Shelf, plan: Path) -> tuple[Card, ...]:
    """The pieces whose plan file is not there any more and that are called by the plan what this one is: it may be
    that file under another name. The one worked last first.

    Raises:
        Problems: the plan has something to mend.
        Trouble: the data folder cannot be read.
    """
    gone = [card for card in shelf.cards() if card.state not in CLOSED and not os.path.lexists(card.plan_path)]
    if not gone:
        return ()
    from companion.plan.read import load

    first = load(plan)
    titles = {first.piece.title, *(load(plan, size).piece.title for size in first.sizes[1:])}
    return tuple(card for card in gone if card.title in titles)


class Start(Record):
    """How a piece is begun or gone on with: by whose hands, under which limits instead of the plan's, and in which
    size of a plan in sizes ("" = it is asked for)."""

    is_mirrored: bool = False
    limits: Callable[[Carry], Carry] = lambda carry: carry
    size: str = ""


AS_PLANNED = Start()


def begin(
    shelf: Shelf, plan: Path, start: Start = AS_PLANNED, name: str | None = None,
    meanwhile: Callable[[], object] | None = None,
) -> Knitting:
    """Start a new piece of a plan, one in sizes in that of ``start``. ``meanwhile`` may be done while it is read.

    Raises:
        Problems: the plan has something to mend.
        Refused: another piece has the name.
        Trouble: it could not be saved.
    """
    if meanwhile and not start.size:
        from companion.plan.loaded import load_beside

        loaded = load_beside(plan, meanwhile)
    else:
        from companion.plan.read import load

        loaded = load(plan, start.size)
    return shelf.start(loaded, plan, name, start.limits(loaded.piece.carry), is_mirrored=start.is_mirrored)


def under(knitting: Knitting, start: Start) -> Knitting:
    """The piece with the limits that were asked for, from here on.

    Raises:
        Refused: there are no rows to come, or one may only look, or it is of another size.
        Trouble: it could not be saved.
    """
    if not is_of_size(knitting.card.title, start.size):
        knitting.close()
        raise Refused(f"{quoted(knitting.card.name, LONGEST)} is not knitted in size {quoted(start.size)}.")
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
    ``is_new`` or there is none, asked for where there are several, or where its plan may have had another name."""
    try:
        path: Path | None = None
        if name is None and not is_new:
            if cards := pieces_of(shelf, plan, start.size):
                name = yield from _which(cards)
            elif cards := once_of(shelf, plan):
                name, path = (yield from _which_of_once(cards, plan)), plan
            if name is None and cards:
                return
        if name:
            yield from work_on(knitter, shelf, under(shelf.resume(name, plan_path=path), start))
        else:
            yield from begin_in_size(knitter, shelf, plan, start)
    except (Problems, Refused, Trouble) as error:
        yield cannot_be_opened(error)


def like_named(shelf: Shelf, name: str) -> str:
    """The name of a piece that may be meant by one that no piece has; "": none is like it, or only but for a number.

    Raises:
        Trouble: the data folder cannot be read.
    """
    near = nearest(name, [card.name for card in shelf.cards() if card.state not in CLOSED])
    return "" if re.sub(r"[ 0-9]+$", "", near) == re.sub(r"[ 0-9]+$", "", name) else near


def named_or_new(
    knitter: Knitter, shelf: Shelf, plan: Path, start: Start, name: str, near: str
) -> Asking[None]:
    """Go to the piece that may be meant, or begin one of this name."""
    lines = (f"Go on with {quoted(near, LONGEST)}", f"Begin a new piece called {quoted(name, LONGEST)}")
    choice = yield Choice((f"No piece is called {quoted(name, LONGEST)}.",), lines)
    if choice is not None:
        if choice == 0:
            yield from work_on(knitter, shelf, under(shelf.resume(near, plan_path=plan), start))
        else:
            yield from begin_in_size(knitter, shelf, plan, start, name)


def begin_in_size(
    knitter: Knitter, shelf: Shelf, plan: Path, start: Start, name: str | None = None
) -> Asking[None]:
    """Begin a piece of a plan and go to its first stitch; of one in sizes in that of ``start``, which is asked for
    where it is not said."""
    if not start.size:
        size = yield from _size_of(knitter, plan, f"In which size do you knit {quoted(plan.name)}?")
        if size is None:
            return
        start = start._replace(size=size)
    yield from work_on(knitter, shelf, begin(shelf, plan, start, name))


def _size_of(knitter: Knitter, plan: Path, question: str) -> Asking[str | None]:
    """One of a plan's sizes, as it is answered; "" where it is of one, None where it is not said.

    Raises:
        Problems: it has something to mend.
    """
    sizes = _in_sizes(plan)
    if not sizes:
        return ""
    terms = knitter.settings.terms_for(sizes[0].piece)
    at = yield Choice((question,), tuple(size_line(one.size, one.piece, terms) for one in sizes))
    return None if at is None else sizes[at].size


def _in_sizes(plan: Path) -> Sequence[Loaded]:
    """A plan in each of its sizes; nothing where it is of one.

    Raises:
        Problems: it has something to mend.
    """
    from companion.plan.files import plan_text

    if "sizes" not in (text := plan_text(plan)):
        return ()  # what reads plans is not loaded for it
    from companion.plan.read import load
    from companion.plan.sizes import sizes_of

    return [load(plan, size) for size in sizes_of(text)]


def first_of(
    shelf: Shelf, plan: Path, name: str | None, start: Start, meanwhile: Callable[[], object] | None = None
) -> First:
    """What to open first, made ready as far as nothing must be asked, so that problems are told before anything is
    shown: a plan's piece of that name, or its only one; a new one where there is none. ``meanwhile``: what may be
    done while a plan is read.

    Raises:
        Problems: a plan that is to be started has something to mend.
        Refused: the name belongs to another piece.
        Trouble: progress could not be read or saved.
    """
    cards = pieces_of(shelf, plan, start.size)
    if name is None and (len(cards) > 1 or (not cards and once_of(shelf, plan))):
        return lambda knitter: open_plan(knitter, shelf, plan, start)
    name = name or (cards[0].name if cards else None)
    begun = partial(begin_in_size, shelf=shelf, plan=plan, start=start, name=name)
    try:
        if name:
            knitting = under(shelf.resume(name, plan_path=plan), start)
        elif not start.size and _in_sizes(plan):
            return begun
        else:
            knitting = begin(shelf, plan, start, None, meanwhile)
    except NoSuchPiece:
        if name and (near := like_named(shelf, name)):
            return partial(named_or_new, shelf=shelf, plan=plan, start=start, name=name, near=near)
        if not start.size and _in_sizes(plan):
            return begun
        knitting = begin(shelf, plan, start, name, meanwhile)
    if knitting.opened_plan.kind != "differs":
        return knitting
    return lambda knitter: work_on(knitter, shelf, knitting)


def work_on(knitter: Knitter, shelf: Shelf, knitting: Knitting) -> Asking[None]:
    """Sit down to an opened piece, which is closed when it is left. Where rows that are worked differ in the edited
    plan, the knitter says which plan to follow."""
    state = knitting.opened_plan
    try:
        if state.kind == "differs" and state.loaded is not None:
            rows = knitting.session.rows
            differ = ", ".join(row_named(row, rows) if row else "the cast-on" for row in state.rows[:MOST_NAMED])
            dots = " ..." if len(state.rows) > MOST_NAMED else ""
            answers = (STORED, OVER, *([LIKE_EDITED] if state.version else []))
            noun = words.rows_noun(rows).capitalize()
            choice = yield Choice((state.sentence, f"{noun}s that differ: {differ}{dots}"), answers)
            if choice is None:
                return
            if answers[choice] == OVER:
                knitting.close()
                is_mirrored = knitting.session.piece.is_mirrored
                knitting = shelf.start(state.loaded, Path(state.path), is_mirrored=is_mirrored)
            if answers[choice] == LIKE_EDITED:
                knitting.follow_edited()
        yield sit_down(knitter, knitting)
    finally:
        knitter.hush()
        knitting.close()


def look(knitter: Knitter, shelf: Shelf, plan: Path, name: str | None = None) -> Asking[None]:
    """Look at the chart of the piece of that name, or of a plan of which nothing is begun, in the size that is
    asked for: nothing is changed."""
    try:
        knitting = yield from _to_look_at(knitter, shelf, plan, name)
        if knitting is None:
            return
        sitting = sit_down(knitter, knitting)
        sitting.view = sitting.view._replace(is_chart_large=True)
        yield sitting
        knitter.hush()
    except (Problems, Refused, Trouble) as error:
        yield cannot_be_opened(error)


def look_at_fabric(knitter: Knitter, shelf: Shelf, plan: Path, name: str | None = None) -> Asking[None]:
    """Look at the fabric of the same."""
    from companion.dialogue.pictured import picture

    try:
        knitting = yield from _to_look_at(knitter, shelf, plan, name)
        if knitting is not None:
            with knitting:
                yield from picture(knitting.session)
    except (Problems, Refused, Trouble) as error:
        yield cannot_be_opened(error)


def _to_look_at(knitter: Knitter, shelf: Shelf, plan: Path, name: str | None) -> Asking[Knitting | None]:
    if name is not None:
        return shelf.resume(name, look_only=True)
    size = yield from _size_of(knitter, plan, f"In which size do you look at {quoted(plan.name)}?")
    if size is None:
        return None
    from companion.plan.read import load

    return shelf.look(load(plan, size), plan, is_mirrored=knitter.is_mirrored)


def cannot_be_opened(error: Problems | Refused | Trouble) -> Reading:
    """Why, to be read."""
    lines = [show(problem) for problem in error.problems] if isinstance(error, Problems) else [str(error)]
    return Reading("This cannot be opened", lines)


def sit_down(knitter: Knitter, knitting: Knitting) -> Sitting:
    """An opened piece at the needles. It begins with what is wrong with the settings, why one may only look, what
    became of the plan, and where the knitter is."""
    sitting = Sitting(knitting, knitter)
    said = (
        knitter.notice, knitting.look_only_reason, knitting.opened_plan.sentence,
        greeting(knitting.session, sitting.terms), plan_says(knitting.session),
    )
    sitting.notice = " ".join(filter(None, said))
    sitting.take_up_settings()
    sitting.speak()
    return sitting


def _which_of_once(cards: tuple[Card, ...], plan: Path) -> Asking[str | None]:
    """The name of the piece whose plan file was renamed; "": it was none; None: it is not said."""
    names = ", ".join(sorted({quoted(Path(card.plan_path).name) for card in cards}))
    asked = (f"{quoted(plan.name)} says what {names} said, which is not there any more. Was it renamed?",)
    pieces = tuple(f"Yes: go on with {words.card_line(*card.told)}" for card in cards)
    choice = yield Choice(asked, (*pieces, "No: begin a new piece"))
    if choice is None:
        return None
    return cards[choice].name if choice < len(cards) else ""


def _which(cards: tuple[Card, ...]) -> Asking[str | None]:
    """The name of the piece that is meant."""
    if len(cards) == 1:
        return cards[0].name
    lines = tuple(words.card_line(*card.told) for card in cards)
    choice = yield Choice(("Which piece of this plan?",), lines)
    return None if choice is None else cards[choice].name
