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
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import nearest, plain, quoted

if TYPE_CHECKING:
    from companion.knitting.words import Terms
    from companion.pages.hand_out.inks import Inks
    from companion.progress.session import Session

_PARTS = ("title", "now", "crossing", "winding", "chart", "rows", "back", "finishing")
"""Known here without what they are made of; a test holds them to it."""

_ENDINGS = (".html", ".htm")


def _parts(_ctx: click.Context, _param: click.Parameter, told: str | None) -> Sequence[str]:
    """The parts of "chart,rows", in their order; all where nothing is said."""
    if told is None:
        return _PARTS
    words = [word.strip().lower() for word in told.split(",")]
    for word in words:
        if word not in _PARTS:
            near = nearest(word, _PARTS)
            meant = f' Did you mean "{near}"?' if near else ""
            raise click.UsageError(f"--only takes {', '.join(_PARTS)}, not {quoted(word)}.{meant}")
    return [part for part in _PARTS if part in words]


@click.command(epilog=example(
    "rowside print swatch -o swatch.html", "rowside print swatch -o chart.html --only chart,rows --rows 19-32 --ink",
))  # fmt: skip
@given.plan_word
@click.option("-o", "--output", required=True, metavar="FILE", help="The page to write, FILE.html.")
@click.option("--only", "parts", callback=_parts, metavar="PARTS", help=f"Some parts of: {','.join(_PARTS)}.")
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
    US Letter, and can be read in a black-and-white copy.
    """
    path = Path(output)
    if path.suffix.lower() not in _ENDINGS:
        raise click.UsageError("The file must end in .html: it is a page that a browser prints.")
    from companion.pages.hand_out.page import page
    from companion.pages.hand_out.request import HandOut

    with waiting("Setting the pages"):
        own = options.settings()
        session, is_begun = _session(plan, name, asked)
        terms = own.terms_for(session.piece, asked["terms"], asked["units"])
        first, last = in_working_order(session.piece, span) if span else (1, len(session.rows))
        now = _now(session, terms) if is_begun else ()
        hand_out = HandOut(session, terms, parts, inks or "tints", first - 1, last - 1, now, own.shows_by)
        text = "".join(page(hand_out))
    new_files.write({path: text}, is_forced=is_forced)
    printing.tell(plain(f"{output}: open it in a browser and print it, on A4 or US Letter, at full size."))
    return DONE


def _session(plan: str, name: str | None, asked: Mapping[str, Any]) -> tuple[Session, bool]:
    """The piece in work, or else the plan's as one that is not begun; and which it is."""
    from companion.progress.session import Session

    if session := given.piece_in_work(plan, name):
        return session, True
    own = options.settings()
    piece = given.as_asked(given.loaded_plan(plan).piece, asked, own)
    strands = given.planned_for(piece).strands
    return Session({1: piece}, 1, piece.carry, strands, is_trapping=piece.is_trapping), False


def _now(session: Session, terms: Terms) -> Sequence[str]:
    """Where the knitter of a piece in work is."""
    from companion.dialogue.opening import greeting
    from companion.knitting import words

    place = session.at
    row = session.rows[place.row]
    lines = [words.row_of(row, session.rows.in_part(place.row)) + "."]
    return [line for line in (*lines, greeting(session, terms)) if line]
