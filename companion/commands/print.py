"""The hand-out: a piece as a page for paper."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import given, new_files, options
from companion.commands.common import DONE
from companion.commands.group import example
from companion.commands.row_spans import RowSpan, in_working_order, some_rows
from companion.knitting.words.sizes import bare_title
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import Problem, Problems, nearest, plain, quoted

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.knitting.strands.strands import Strands
    from companion.knitting.words import Terms
    from companion.pages.hand_out.inks import Inks
    from companion.progress.session import Session

PARTS = ("title", "now", "crossing", "winding", "chart", "rows", "back", "finishing", "why")
"""Known here without what they are made of; a test holds them to it."""

ALL = "all"
"""In place of a size: all of them."""

_ENDINGS = (".html", ".htm")


def _parts(_ctx: click.Context, _param: click.Parameter, told: str | None) -> Sequence[str]:
    """The parts of "chart,rows", in their order; all where nothing is said."""
    if told is None:
        return PARTS
    words = [word.strip().lower() for word in told.split(",")]
    for word in words:
        if word not in PARTS:
            near = nearest(word, PARTS)
            meant = f' Did you mean "{near}"?' if near else ""
            raise click.UsageError(f"--only takes {', '.join(PARTS)}, not {quoted(word)}.{meant}")
    return [part for part in PARTS if part in words]


@click.command(epilog=example(
    "rowside print swatch -o swatch.html", "rowside print swatch -o chart.html --only chart,rows --rows 19-32 --ink",
))  # fmt: skip
@given.plan_word
@click.option("-o", "--output", required=True, metavar="FILE", help="The page to write, FILE.html.")
@click.option("--only", "parts", callback=_parts, metavar="PARTS", help=f"Some parts of: {','.join(PARTS)}.")
@some_rows
@click.option("--ink", "inks", flag_value="ink", help="Without tints, for a poor copier.")
@click.option("--colour", "inks", flag_value="colour", help="In the yarns' own colours; copies in grey lose letters.")
@given.piece_name
@options.spoken
@new_files.is_forced
def print(
    plan: str, output: str, parts: Sequence[str], span: RowSpan | None, inks: Inks | None, name: str | None,
    is_forced: bool, **asked: Any,
) -> int:  # fmt: skip
    """Write PLAN as a page for paper, to be printed from any browser; of a piece in work, with where it is.

    Every part begins a new page: a title page with what is needed, how to cross, what to wind, the chart on as many
    sheets as it takes, the written rows with boxes to tick, every end on a map of the back, finishing. It fits A4 and
    US Letter, and can be read in a black-and-white copy. With --size all it has every size, and a table of them.
    """
    path = Path(output)
    if path.suffix.lower() not in _ENDINGS:
        raise click.UsageError("The file must end in .html: it is a page that a browser prints.")
    if asked["size"] == ALL and name is not None:
        raise click.UsageError("A piece is of one size: leave out --name, or --size all.")
    from companion.pages.hand_out.page import page, page_of_sizes
    from companion.pages.hand_out.request import HandOut

    own = options.settings()

    def hand_out(session: Session) -> HandOut:
        terms = own.terms_for(session.piece, asked["terms"], asked["units"])
        first, last = in_working_order(session.piece, span) if span else (1, len(session.rows))
        now, paper = _now(session, terms), inks or "tints"
        return HandOut(session, terms, parts, paper, first - 1, last - 1, now, own.shows_by)

    with waiting("Setting the pages"):
        if asked["size"] == ALL:
            title, sessions = _in_every_size(plan, asked)
            text = "".join(page_of_sizes(title, {size: hand_out(one) for size, one in sessions.items()}))
        else:
            session = given.piece_in_work(plan, name, asked["size"]) or _of_plan(plan, asked)
            text = "".join(page(hand_out(session)))
    new_files.write({path: text}, is_forced=is_forced)
    printing.tell(plain(f"{output}: open it in a browser and print it, on A4 or US Letter, at full size."))
    return DONE


def not_begun(piece: Piece, strands: Strands) -> Session:
    """A piece of which no stitch is worked."""
    from companion.progress.session import Session

    return Session({1: piece}, 1, piece.carry, strands, is_trapping=piece.is_trapping)


def _of_plan(plan: str, asked: Mapping[str, Any]) -> Session:
    piece = given.as_asked(given.loaded_plan(plan, asked["size"]).piece, asked, options.settings())
    return not_begun(piece, given.planned_for(piece).strands)


def _in_every_size(plan: str, asked: Mapping[str, Any]) -> tuple[str, Mapping[str, Session]]:
    """What a plan is called, and a piece of it in each size.

    Raises:
        Problems: something is to mend in one of them, or it is of one size.
    """
    sizes, plan_in = given.in_sizes(plan)
    if sizes == ("",):
        raise Problems([Problem(f"{plain(plan)} is of one size.", mend=f"Leave out --size {ALL}.")])
    sessions: dict[str, Session] = {}
    for size in sizes:
        piece = given.as_asked(plan_in(size).piece, asked, options.settings())
        sessions[size] = not_begun(piece, given.planned_for(piece).strands)
    return bare_title(sessions[sizes[0]].piece.title, sizes[0]), sessions


def _now(session: Session, terms: Terms) -> Sequence[str]:
    """Where the knitter of a piece in work is; nothing where it is not begun."""
    from companion.dialogue.coming_back import greeting
    from companion.knitting import words
    from companion.progress.mishaps import left_to_sew

    if not session.done:
        return ()
    if session.is_bound_off:
        left = words.card_state("bound off", session.ends_left, len(left_to_sew(session)))
        return (f"{words.sentence(left)}.",)
    at = session.at.row
    return f"{words.row_of(session.rows[at], session.rows.in_part(at))}.", greeting(session, terms)
