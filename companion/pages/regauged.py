"""What becomes of a piece at another gauge, as text: its size, what would keep it, and the two ways to a new plan."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from companion.knitting import words
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.piece import Piece
from companion.knitting.reckoning.size import Size
from companion.knitting.reckoning.size import size as size_of
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.knitting.words import Terms
from companion.knitting.yarn.winding import INCH
from companion.pages.set_out import set_out
from companion.pages.written import gauge
from companion.problems import plain


class Drawn(Record):
    """One way to a new plan: its piece with the fewest strands; or why it is none."""

    piece: Piece | None
    strands: Strands | None
    trouble: str = ""


def regauged(
    old: Piece, as_it_is: Piece, columns: int, rows: int, ways: Mapping[str, Drawn], terms: Terms, room: int
) -> Iterator[str]:
    """Every line, without line ends. ``as_it_is``: the same stitches at the new gauge; ``columns`` and ``rows`` would
    keep the size; ``ways``: what each is called, and what it comes to."""
    was = size_of(old)
    yield plain(old.title)
    yield gauge(old, terms)
    yield f"Now: {gauge(as_it_is, terms)}"
    if as_it_is.gauges:
        yield "Gauges of other stitches change in proportion: nobody has measured them anew."
    yield ""
    many, levels = columns_drawn(old.fabric), len(old.fabric.levels)
    exact = Size(
        was.width_cm * columns * as_it_is.gauge.stitch_cm / (many * old.gauge.stitch_cm),
        was.height_cm * rows * as_it_is.gauge.row_cm / (levels * old.gauge.row_cm),
    )
    lines = [
        ("As planned", f"{many} x {levels}", _measured(was, terms), "", "", "", ""),
        ("Unchanged", f"{many} x {levels}", *_figures(size_of(as_it_is), was, terms), "", ""),
        ("Same size", f"{columns} x {rows}", *_figures(exact, was, terms), "", ""),
    ]
    for called, drawn in ways.items():
        if drawn.piece and drawn.strands:
            size, fabric = size_of(drawn.piece), drawn.piece.fabric
            took = str(len(drawn.strands.first)), str(drawn.strands.total.ends)
            large = f"{columns_drawn(fabric)} x {len(fabric.levels)}"
            lines.append((called, large, *_figures(size, was, terms), *took))
    off = "Off by (in)" if terms.is_inches else "Off by (cm)"
    yield from set_out(
        ("", f"Sts x {words.rows_noun(old.rows)}s", "Size", off, "In %", "Strands", "Ends"), lines, room
    )
    yield ""
    if any(drawn.piece for drawn in ways.values()):
        wide, high = (_percent(now, was) for now, was in (
            (as_it_is.gauge.stitch_cm, old.gauge.stitch_cm), (as_it_is.gauge.row_cm, old.gauge.row_cm),
        ))  # fmt: skip
        off = f"{_off(wide, 'wider', 'narrower')} and {_off(high, 'higher', 'lower')}"
        has_all = any(one.piece and one.piece.fabric.stitches == old.fabric.stitches for one in ways.values())
        same = f", in the same stitches and {words.rows_noun(old.rows)}s."
        ground = same if has_all else "; ground makes up for it as far as there is any."
        yield f"Kept stitch by stitch the picture comes out {off}{ground}"
        yield "Redrawn it keeps its size: in each stitch what takes up most of its area. Lines of one stitch may go."
    troubles = {drawn.trouble: called for called, drawn in ways.items() if drawn.trouble}
    for trouble, called in troubles.items():
        is_of_all = all(drawn.trouble == trouble for drawn in ways.values())
        yield plain(trouble if is_of_all else f"{called}: {trouble}")


def _measured(size: Size, terms: Terms) -> str:
    """Width and height."""
    unit, name = (INCH, "in") if terms.is_inches else (Fraction(1), "cm")
    return f"{float(size.width_cm / unit):.1f} x {float(size.height_cm / unit):.1f} {name}"


def _figures(size: Size, was: Size, terms: Terms) -> tuple[str, str, str]:
    """How large it is, and by how much that is off, across and upward."""
    unit = INCH if terms.is_inches else Fraction(1)
    more = (size.width_cm - was.width_cm) / unit, (size.height_cm - was.height_cm) / unit
    wide, high = _percent(size.width_cm, was.width_cm), _percent(size.height_cm, was.height_cm)
    by = ", ".join(f"{float(one):+.1f}" for one in more)
    return _measured(size, terms), by, f"{wide:+.1f}, {high:+.1f}"


def _percent(now: Fraction, before: Fraction) -> float:
    return float((now / before - 1) * 100)


def _off(percent: float, more: str, less: str) -> str:
    return f"{abs(percent):.1f} % {less if percent < 0 else more}"
