"""A blank panel: its size, yarns and border, all of it in the first yarn."""

from __future__ import annotations

from fractions import Fraction

from companion.dialogue.new import answers, asked
from companion.dialogue.new.made import Made, made
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Words
from companion.drafts.blank import LEAST_ROWS, MOST_DRAWN, Border, Panel, panel_text
from companion.knitting.cloth.fabric import Gauge, Texture
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.words.terms import Terms, count, sentence

_EDGES = (
    ("All round", True, True, True), ("Below and above", True, True, False), ("At both sides", False, False, True),
    ("Below only", True, False, False), ("Above only", False, True, False),
)  # fmt: skip
"""Where a border may be: below, above, at both sides."""

_WIDE, _HIGH = 4, 6
"""Stitches and rows of a usual border."""


def blank(terms: Terms) -> Steps[Made]:
    """Ask for all of it."""
    title = yield from asked.titled("Quay panel")
    gauge = yield from asked.gauge(None, is_inches=terms.is_inches)
    stitches, rows = yield from _size(gauge, terms)
    yarns = yield from asked.yarns()
    border = yield from _border(gauge, stitches, rows, terms)
    panel = Panel(title, gauge, stitches, rows, yarns, border, Carry(default_reach(gauge)))
    limits = yield from asked.limits(made(panel_text(panel)).loaded.piece, is_counted=False)
    return made(panel_text(panel._replace(carry=limits)))


def _size(gauge: Gauge, terms: Terms) -> Steps[tuple[int, int]]:
    usual = "8 in" if terms.is_inches else "20 cm"
    extent = answers.extent(gauge.stitch_cm, 2, answers.MOST_ACROSS)
    words = Words("How wide, with its border: a length, or so many stitches:", usual)
    stitches: int = yield Step(words, answers.stripped(extent))
    most = min(answers.MOST_ACROSS, MOST_DRAWN // stitches)
    extent = answers.extent(gauge.row_cm, LEAST_ROWS, max(LEAST_ROWS, most))
    wide = f"{count(stitches)}: {_length(stitches * gauge.stitch_cm, terms)} wide."
    words = Words("How high, with its border: a length, or so many rows:", usual)
    rows: int = yield Step(words, answers.stripped(extent), wide)
    return stitches, rows


def _length(cm: Fraction, terms: Terms) -> str:
    inches = cm / Fraction(254, 100)
    return f"{float(inches):.1f} in" if terms.is_inches else f"{float(cm):.1f} cm"


def _border(gauge: Gauge, stitches: int, rows: int, terms: Terms) -> Steps[Border]:
    """What keeps its edges flat, as far as there is room for it."""
    about = f"{count(stitches)} x {rows} rows: {_length(stitches * gauge.stitch_cm, terms)} wide, "
    about += f"{_length(rows * gauge.row_cm, terms)} high."
    room_across, room_up = (stitches - 1) // 2, rows - LEAST_ROWS
    kinds = ("None", "Garter stitch", sentence(terms.seed), "Rib")
    kind: int = yield Step(Choice(("A border, which keeps the edges flat:",), kinds, 1), about=about)
    if kind == 0 or not (room_across and room_up):
        return Border()
    texture = (Texture("garter"), Texture("seed"), Texture("rib"))[kind - 1]
    if texture.kind == "rib":
        columns: tuple[int, int] = yield Step(
            Words("Rib, knit x purl stitches:", "2x2"), answers.stripped(answers.rib)
        )
        texture = texture._replace(rib=columns)
    where: int = yield Step(Choice(("Where is the border?",), tuple(name for name, *_ in _EDGES)))
    _, is_below, is_above, is_beside = _EDGES[where]
    high = wide = 0
    if is_below or is_above:
        each = ", below and above alike" if is_below and is_above else ""
        most = room_up // (is_below + is_above)
        extent = answers.extent(gauge.row_cm, 1, max(1, most))
        words = Words(f"How high is the border{each}: rows, or a length:", str(min(_HIGH, max(1, most))))
        high = yield Step(words, answers.stripped(extent))
    if is_beside:
        extent = answers.extent(gauge.stitch_cm, 1, room_across)
        words = Words("How wide at each side: stitches, or a length:", str(min(_WIDE, room_across)))
        wide = yield Step(words, answers.stripped(extent))
    return Border(texture, high * is_below, high * is_above, wide)
