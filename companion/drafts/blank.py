"""A panel in one yarn as the text of a plan, drawn stitch by stitch, so that it can be painted stitch by stitch.

The text is as a person types it: a comment at each place where there is something to choose.
"""

from __future__ import annotations

from collections.abc import Iterator

from companion.drafts.bordered import Border, bordered
from companion.drafts.names import symbols_of
from companion.drafts.written import gauge_in_yaml, symbol_in_yaml, yarn_in_yaml
from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.strands.limits import Carry
from companion.knitting.value import Record
from companion.plan.edit import name_in_yaml

LEAST_ROWS = 4
"""So many rows are drawn at least: fewer are no ground to paint on."""

MOST_DRAWN = 200_000
"""More stitches than that nobody paints one by one."""


class Panel(Record):
    """``stitches`` and ``rows`` are those of all of it, its border too; the first of ``yarns`` is its ground."""

    title: str
    gauge: Gauge
    stitches: int
    rows: int
    yarns: tuple[Yarn, ...]
    border: Border
    carry: Carry

    @property
    def drawn(self) -> tuple[int, int]:
        """Stitches and rows within the border."""
        border = self.border
        return self.stitches - 2 * border.beside, self.rows - border.below - border.above


def panel_text(panel: Panel) -> str:
    """The text of the plan."""
    text = "".join(f"{line}\n" for line in _lines(panel))
    return bordered(text, panel.border, panel.yarns[0].name, panel.drawn[0])


def limits_in_yaml(limits: Carry) -> str:
    """Limits as a person writes them: those that are off are left out."""
    others = ((name, getattr(limits, name)) for name in ("behind", "rest") if getattr(limits, name))
    said = [f"reach: {limits.reach}", *(f"{name}: {number}" for name, number in others)]
    return f"{{{', '.join(said)}}}"


def _lines(panel: Panel) -> Iterator[str]:
    gauge = panel.gauge
    wide, high = (round(float(length)) for length in (panel.stitches * gauge.stitch_cm, panel.rows * gauge.row_cm))
    yield f"# A panel of {panel.stitches} stitches and {panel.rows} rows: {wide} x {high} cm."
    yield from (
        "#",
        '# Everything after a "#" is a note for people. In the chart every sign is a stitch: it is drawn as the',
        "# right side looks, the top line is worked last, and a right-side row is worked from the right to the left.",
        "",
        "plan: 1",
        f"title: {name_in_yaml(panel.title)}",
        "",
        "# Stitches and rows over a length, measured on a washed swatch.",
        f"gauge: {gauge_in_yaml(gauge)}",
        "",
        "yarns:",
    )
    names = [f"{name_in_yaml(yarn.name)}:" for yarn in panel.yarns]
    longest = max(map(len, names))
    for name, yarn in zip(names, panel.yarns, strict=True):
        yield f"  {name:<{longest}} {yarn_in_yaml(yarn)}"
    yield from ("", "# One visible sign for each yarn: the chart is drawn with them.", "symbols:")
    symbols = symbols_of([yarn.name for yarn in panel.yarns])
    for symbol, yarn in zip(symbols, panel.yarns, strict=True):
        yield f"  {symbol_in_yaml(symbol)}: {name_in_yaml(yarn.name)}"
    yield from ("", "# How far a strand may go to its next stitch, on the wrong side.")
    yield f"carry: {limits_in_yaml(panel.carry)}"
    yield from ("", "rows:                         # in working order, from the cast-on edge up")
    stitches, rows = panel.drawn
    yield from ("", "  - chart: |", *(f"      {symbols[0] * stitches}" for _ in range(rows)))
