"""Every sentence about lengths of yarn: how long, how wound, what to buy, whether it lasts, how supplies lie."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

from companion.knitting.cloth.rows import LONG_TAIL, Casting, Place, Rows, Side
from companion.knitting.reckoning.lasting import Lasting
from companion.knitting.reckoning.quantities import CAST_ON_STRAND, LEAST_SPARE_CM, Length, YarnTotal
from companion.knitting.reckoning.supplies import Layout
from companion.knitting.strands.strands import Strands
from companion.knitting.words import Terms, how_many, row_noun, row_number, rows_span, stitches_in_full
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.weights import WeightClass
from companion.knitting.yarn.winding import INCH, Supply

MOST_WRAPS = 100
"""More wraps than that nobody counts."""


def number(value: Fraction | float) -> str:
    """A number to one decimal, without a needless zero."""
    return f"{float(value):.1f}".removesuffix(".0")


def yarn_length(cm: Fraction | float, *, is_inches: bool = False) -> str:
    """A length of yarn: "80 cm", "2.5 m"; in inches "32 in" to half an inch, "2.5 yd"."""
    if is_inches:
        inches = cm / INCH if isinstance(cm, Fraction) else cm / float(INCH)
        return f"{number(round(inches * 2) / 2)} in" if inches < 36 else f"{number(inches / 36)} yd"
    return f"{number(cm)} cm" if cm < 100 else f"{number(cm / 100)} m"


def wound(length: Length) -> str:
    """How a length is wound, in a word or two: "butterfly, 60 wraps"."""
    return f"{length.way}, {how_many(length.wraps, 'wrap')}" if length.wraps <= MOST_WRAPS else length.way


KEPT: Mapping[Supply, str] = {
    "loose": "loose", "butterfly": "butterfly", "bobbin": "bobbin", "ball": "from the ball",
}  # fmt: skip
"""How a length is kept at the work, in words."""


def length_kept(length: Length, joined: Sequence[Length], terms: Terms) -> str:
    """How long a new length is and how it is kept: "80 cm, loose". ``joined``: all of its row, among them the other
    half of one that is wound from both ends, which is told as a whole."""
    if length.shares_with is not None:
        both = sum(one.cm for one in joined if one.strand in (length.strand, length.shares_with))
        return yarn_length(Fraction(both), is_inches=terms.is_inches)
    return f"{yarn_length(length.cm, is_inches=terms.is_inches)}, {KEPT[length.way]}"


def new_lengths(joined: Sequence[Length], terms: Terms) -> str:
    """All new lengths of a row, those of one yarn together: "new brick (2 of 80 cm, loose), new kelp (6 m, bobbin)".
    """
    found = dict[str, Counter[str]]()
    for one in joined:
        if one.shares_with is None or one.joined < _joined(one.shares_with, joined):
            both = "" if one.shares_with is None else " wound from both ends"
            found.setdefault(f"new {one.yarn}{both}", Counter())[length_kept(one, joined, terms)] += 1
    return ", ".join(
        f"{new} ({'; '.join(f'{n} of {kept}' if n > 1 else kept for kept, n in each.items())})"
        for new, each in found.items()
    )


def _joined(strand: int, joined: Sequence[Length]) -> Place:
    return next(one.joined for one in joined if one.strand == strand)


def what_lengths_hold(
    lengths: Sequence[Length], sample: Sample | None, terms: Terms, cast_on: Casting = LONG_TAIL, *,
    is_off_each: bool = False,
) -> list[str]:  # fmt: skip
    """What the lengths were reckoned from and what is in them."""
    is_inches = terms.is_inches
    loop, tails = lengths[0].loop_cm, sorted({length.tail_cm for length in lengths})
    taken = f"{float(loop / INCH):.2f} in" if is_inches else f"{float(loop):.2f} cm"
    source = (
        f"as in your sample of {stitches_in_full(sample.stitches)}." if sample
        else f"4.1 times its width in {terms.stockinette}. Unpick 20 stitches and measure to know better."
    )
    left = " or ".join(yarn_length(tail, is_inches=is_inches) for tail in tails)
    least = yarn_length(LEAST_SPARE_CM, is_inches=is_inches)
    who = "each that is there at the end its part of" if is_off_each else "the one in hand at the end"
    return [
        f"Yarn for one stitch: {taken}, {source}",
        f"Each length holds its carries and rests, its tails of {left}, and a tenth to spare, {least} at least;",
        f"{_casts_on(lengths, cast_on)}, {who} the {bind_off(terms)}.",
        "Wraps are loose ones round the needle, one for a stitch; the tails come on top.",
    ]


def _casts_on(lengths: Sequence[Length], cast_on: Casting) -> str:
    """Which lengths hold the cast-on."""
    if any(length.strand == CAST_ON_STRAND for length in lengths):
        return f"the cast-on ({cast_on.method}) is a length of its own"
    which = "each strand begun in the cast-on its own part of it" if cast_on.is_each else "the first one the cast-on"
    return f"{which} ({cast_on.method})"


def bind_off(terms: Terms) -> str:
    """The bind-off, as a noun."""
    return terms.bind_off.replace(" ", "-")


def yarn_needed(total: YarnTotal, terms: Terms) -> str:
    """One yarn of the piece: "sand: 17.5 m, 7.3 g: buy 1 ball of 120 m / 50 g (417 tex, 3 Light)"."""
    ball = total.yarn.ball
    is_inches = terms.is_inches
    line = f"{total.yarn.name}: {yarn_length(total.cm, is_inches=is_inches)}"
    if total.grams is not None:
        line += f", {number(total.grams)} g"
    if total.balls is not None and ball.metres is not None:
        held = [yarn_length(ball.metres * 100, is_inches=is_inches)]
        held += [f"{number(ball.grams)} g"] if ball.grams is not None else []
        line += f": buy {how_many(total.balls, 'ball')} of {' / '.join(held)}"
    if total.tex is not None:
        line += f" ({number(total.tex)} tex, {class_names(total.classes)})"
    return f"{line}."


def gauge_class(classes: Sequence[WeightClass], terms: Terms) -> str:
    """What yarn the gauge is that of."""
    overlap = ": their ranges overlap there" if len(classes) > 1 else ""
    return f"The {terms.gauge} is that of {class_names(classes)} yarn{overlap}."


def class_names(classes: Sequence[WeightClass]) -> str:
    """Classes by number and name: "3 Light", "2 Fine or 3 Light"."""
    return " or ".join(f"{one.number} {one.name}" for one in classes)


def supplies_title(side: Side | None, terms: Terms) -> str:
    """Above the order of the supplies; for one side, or told for both."""
    right_side = f"facing the right side from the {terms.coming}"
    wrong_side = f"facing the wrong side from the {terms.going}"
    if side is None:
        return f"Lay the supplies out as their strands lie, {right_side}, {wrong_side}:"
    return f"Supplies, {right_side if side == 'RS' else wrong_side}:"


def supplies(layout: Layout, strands: Strands) -> str:
    """One order of the supplies, the same for both sides: "rows 7 to 10: sand, brick, sand"."""
    rows = strands.rows
    yarns = ", ".join(rows.segment(strands.first[strand]).yarn for strand in layout.strands)
    return f"{rows_span(rows[layout.first], rows[layout.last])}: {yarns}"


def will_it_last(lasting: Lasting, rows: Rows, left_cm: Fraction | float, terms: Terms) -> str:
    """Whether what is left of a strand is enough, and if not, where it runs out."""
    left, needed = (yarn_length(cm, is_inches=terms.is_inches) for cm in (left_cm, lasting.needed_cm))
    sums = f"{left} of {lasting.yarn} left, {needed} needed with its tail and a tenth to spare."
    if lasting.runs_out is None:
        return f"Enough: {sums}"
    row = rows[lasting.runs_out]
    name = row_noun(row)
    full = f"It cannot work a whole {name}"
    if lasting.until is not None:
        last = row_number(rows[lasting.until])
        full = f"It works {how_many(lasting.rows, f'more {name}')}, to the end of {name} {last},"
    there = f"in the {bind_off(terms)}"
    if lasting.stitches < lasting.of:
        there = f"after {lasting.stitches} of its {lasting.of} stitches there"
    runs_out = f"and runs out in {name} {row_number(row)}, {there}: join new {lasting.yarn} before that."
    return f"Not enough: {sums} {full} {runs_out}"
