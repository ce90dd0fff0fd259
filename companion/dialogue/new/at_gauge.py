"""A plan at another gauge: either its stitches are kept, or its size is."""

from __future__ import annotations

import shlex
from functools import partial
from typing import TYPE_CHECKING

from companion.dialogue.new import asked
from companion.dialogue.new.made import Made, changed
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Lasting
from companion.drafts.bordered import why_none
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.howfar import HowFar
from companion.knitting.value import Record
from companion.knitting.words.places import rows_noun
from companion.knitting.words.terms import Terms, count, how_many

if TYPE_CHECKING:
    from companion.drafts.regauged import Way

_SIZES = "A plan in sizes is not drawn anew: each size has stitches of its own."


class Named(Record):
    """What a plan is made from, as its first comment tells it. ``name``: what that is called; ``command``: what is
    done before it is drawn anew, "" where nothing is; ``plan``: what is drawn anew then."""

    name: str
    plan: str
    command: str = ""


def typed(gauge: Gauge) -> str:
    """A gauge as it is typed."""
    stitches, rows, over = (f"{float(number):.6g}" for number in gauge)
    return f"{stitches}x{rows}/{over}cm"


def at_gauge(found: Made, gauge: Gauge, named: Named, terms: Terms) -> Steps[tuple[Made, str]]:
    """The plan at this gauge, and what could not be asked for it, with the size that it has then."""
    from companion.drafts.regauged import Regauging

    old = found.loaded.piece
    if gauge == old.gauge:
        return found, ""
    same = changed(found, found.title, gauge, old.yarns)
    told = asked.piece_told(same.loaded.piece, terms)
    if found.loaded.sizes:
        return same, f"{told} {_SIZES}"
    regauging = Regauging(found.loaded, named.name, gauge, "")
    if regauging.trouble:
        return same, f"{told} {regauging.trouble}"
    wide, high = regauging.columns * gauge.stitch_cm, regauging.rows * gauge.row_cm
    anew = asked.size_told(regauging.columns, rows_noun(old.rows), regauging.rows, (wide, high), terms)
    lines = [f"The same stitches: {told}", f"The picture drawn anew by area: {anew}"]
    if not why_none(regauging.old):  # else no ground goes round it, either
        large = f"{count(regauging.columns)} x {how_many(regauging.rows, 'row')}"
        lines.append(f"The picture stitch by stitch, in a ground of {large} as far as there is any")
    ways: tuple[Way | None, ...] = (None, "redraw", "keep")

    def meant(at: int) -> Made | Lasting:
        way = ways[at]
        return Lasting("Drawing anew ...", partial(_anew, found, gauge, named, way)) if way else same

    about = f"At the gauge that it has: {asked.piece_told(old, terms)}"
    made: Made = yield Step(Choice(("At the new gauge:",), tuple(lines)), meant, about=about)
    return made, ""


def _anew(found: Made, gauge: Gauge, named: Named, way: Way, _: HowFar) -> Made:
    """The new plan.

    Raises:
        Problems: it cannot be worked so, or a plan cannot say it.
    """
    from companion.drafts.regauged import Regauging

    words = shlex.join(["rowside", "regauge", named.plan, typed(gauge), f"--{way}"])
    regauging = Regauging(found.loaded, named.name, gauge, "; ".join(filter(None, (named.command, words))))
    new = regauging.by(way)
    notes = [*found.notes, *regauging.not_kept]
    if not named.command:
        notes.append("Its first note, and those among its rows, are left out.")
    return Made(new.text, new.loaded, tuple(notes))
