"""A blank panel: its size, yarns and border, all of it in the first yarn."""

from __future__ import annotations

from companion.dialogue.new import answers, asked, border
from companion.dialogue.new.made import Made, made
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Words
from companion.drafts.blank import LEAST_ROWS, MOST_DRAWN, Panel, panel_text
from companion.drafts.bordered import Border
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.words.terms import Terms, count


def blank(terms: Terms) -> Steps[Made]:
    """Ask for all of it."""
    title = yield from asked.titled("Quay panel")
    gauge = yield from asked.gauge(None, is_inches=terms.is_inches)
    stitches, rows = yield from _size(gauge, terms)
    yarns = yield from asked.yarns()
    edge = yield from _border(gauge, stitches, rows, terms)
    panel = Panel(title, gauge, stitches, rows, yarns, edge, Carry(default_reach(gauge)))
    limits = yield from asked.limits(made(panel_text(panel)).loaded.piece, is_counted=False)
    return made(panel_text(panel._replace(carry=limits)), notes=border.told(edge, terms))


def _size(gauge: Gauge, terms: Terms) -> Steps[tuple[int, int]]:
    usual = "8 in" if terms.is_inches else "20 cm"
    extent = answers.extent(gauge.stitch_cm, 2, answers.MOST_ACROSS)
    words = Words("How wide, with its border: a length, or so many stitches:", usual)
    stitches: int = yield Step(words, answers.stripped(extent))
    most = min(answers.MOST_ACROSS, MOST_DRAWN // stitches)
    extent = answers.extent(gauge.row_cm, LEAST_ROWS, max(LEAST_ROWS, most))
    wide = f"{count(stitches)}: {asked.length(stitches * gauge.stitch_cm, terms)} wide."
    words = Words("How high, with its border: a length, or so many rows:", usual)
    rows: int = yield Step(words, answers.stripped(extent), wide)
    return stitches, rows


def _border(gauge: Gauge, stitches: int, rows: int, terms: Terms) -> Steps[Border]:
    """What keeps its edges flat, as far as there is room for it."""
    about = asked.size_told(stitches, "row", rows, (stitches * gauge.stitch_cm, rows * gauge.row_cm), terms)
    return border.asked_for(gauge, ((stitches - 1) // 2, rows - LEAST_ROWS), terms, about=about, usual=border.GARTER)
