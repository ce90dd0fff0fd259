"""Questions that several ways to a plan have: what it is called, gauge, yarns, technique."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import count

from companion.dialogue.new import answers
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Words
from companion.drafts.written import decimal
from companion.knitting.cloth.fabric import Ball, Gauge, Yarn
from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.reckoning.choices import compared, named
from companion.knitting.reckoning.size import size
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.words.choices import technique
from companion.knitting.words.places import rows_noun
from companion.knitting.words.terms import Terms, how_many, sentence
from companion.knitting.words.terms import count as count_of
from companion.plan import amount
from companion.plan.colours import NAMED, hex_of
from companion.problems import quoted

MOST_YARNS = 24

_USUAL = (
    ("sand", "#d9c9a5"), ("brick", "#a8432f"), ("sea", "#2c6a7b"), ("lamplight", "#f0b33f"), ("pine", "#2f4f3f"),
    ("fog", "#c9d3d4"), ("dusk", "#2f4470"), ("rose", "#d8826e"), ("sailcloth", "#f4e3c3"), ("tar", "#2b2623"),
)  # fmt: skip
"""Yarns of a harbour town, as long as nobody says otherwise."""

COLOURS: tuple[tuple[str, str], ...] = tuple((name, NAMED[name]) for name in (
    "white", "linen", "wheat", "tan", "goldenrod", "gold", "orange", "chocolate",
    "pink", "coral", "tomato", "firebrick", "maroon", "saddlebrown", "palevioletred", "purple",
    "lightskyblue", "steelblue", "royalblue", "navy", "slateblue", "teal", "cadetblue", "turquoise",
    "palegreen", "yellowgreen", "seagreen", "darkgreen", "silver", "gray", "darkslategray", "black",
))  # fmt: skip
"""Colours to choose from: eight in a row."""


def length(cm: Fraction, terms: Terms) -> str:
    """A length as it is told of a plan that is being asked for: to a tenth."""
    inches = cm / Fraction(254, 100)
    return f"{float(inches):.1f} in" if terms.is_inches else f"{float(cm):.1f} cm"


def size_told(stitches: int, row: str, rows: int, size: tuple[Fraction, Fraction], terms: Terms) -> str:
    """How large it comes out; ``row``: row or round, ``size``: its width and height in centimetres."""
    wide, high = (length(cm, terms) for cm in size)
    return f"{count_of(stitches)} x {how_many(rows, row)}: {wide} wide, {high} high."


def piece_told(piece: Piece, terms: Terms) -> str:
    """How large a piece comes out, every stitch at its own texture's gauge."""
    across = max(stitches_across(row) for row in piece.fabric.picture)
    return size_told(across, rows_noun(piece.rows), len(piece.fabric.levels), size(piece), terms)


def titled(usual: str) -> Steps[str]:
    """What it is called."""
    title: str = yield Step(Words("What is the piece called?", usual), answers.stripped(amount.title))
    return title


def gauge(now: Gauge | None, *, is_inches: bool, about: str = "") -> Steps[Gauge]:
    """The gauge: as it is ``now``, typed, or counted on a swatch."""
    told = f"{float(now.stitches):g} sts and {float(now.rows):g} rows over " if now else ""
    kept = (f"As it is: {told}{answers.length_told(now.over_cm, is_inches=is_inches)}",) if now else ()
    ways = (*kept, "I counted stitches and rows on my washed swatch", "I know it as stitches x rows over a length")
    at: int = yield Step(Choice(("The gauge:",), ways), about=about)
    if now and at == 0:
        return now
    over = "4 in" if is_inches else "10 cm"
    if at == len(ways) - 1:
        typed = f"20x28/{over}".replace(" ", "")
        known: Gauge = yield Step(Words("Stitches x rows over a length:", typed), answers.stripped(answers.gauge))
        return known
    asked = answers.stripped(lambda typed: answers.length(typed, is_inches=is_inches))
    number = answers.stripped(amount.amount)
    stitches: Fraction = yield Step(Words("How many stitches did you count in a row?", "20"), number)
    wide: Fraction = yield Step(Words("Over how many centimetres or inches?", over), asked)
    rows: Fraction = yield Step(Words("How many rows did you count, one above the other?", "28"), number)
    told = answers.length_told(wide, is_inches=is_inches)
    high: Fraction = yield Step(Words("Over what height?", told), asked)
    return Gauge(stitches, Fraction(decimal(rows * wide / high)), wide)


def yarns() -> Steps[tuple[Yarn, ...]]:
    """One yarn after the other, until these are all. Their symbols are chosen where the plan is written."""
    found: list[Yarn] = []
    for number in count(1):
        names = [yarn.name for yarn in found]
        likely = _USUAL[number - 1] if number <= len(_USUAL) else (f"yarn {number}", "#808080")
        ground = "Yarn 1, the ground" if number == 1 else f"Yarn {number}"
        asked = Words(f"{ground}: what do you call it?", likely[0])
        name: str = yield Step(asked, answers.stripped(answers.new_name(names)))
        usual = hex_of(name) or likely[1]
        found.append((yield from coloured(Yarn(name, usual, ""))))
        if number == MOST_YARNS:
            break
        listed = ", ".join(yarn.name for yarn in found)
        more: int = yield Step(Choice((f"Yarns: {listed}.",), ("One more yarn", "These are all"), int(number > 1)))
        if more:
            break
    return tuple(found)


def coloured(yarn: Yarn) -> Steps[Yarn]:
    """A yarn's colour, and what a ball of it holds."""
    words = Words(f"The colour of {quoted(yarn.name)}: a name, or #rrggbb:", yarn.colour, colours=COLOURS)
    colour: str = yield Step(words, answers.colour)
    asked = f"What a ball of {quoted(yarn.name)} holds, such as 100 m 50 g; nothing if you do not know:"
    ball: Ball = yield Step(Words(asked, answers.ball_told(yarn.ball)), answers.stripped(answers.ball))
    return yarn._replace(colour=colour, ball=ball)


def limits(piece: Piece, *, is_counted: bool, about: str = "") -> Steps[Carry]:
    """How far strands may go. ``is_counted``: each with what it costs, where that can be told."""
    every = named(piece)
    at: int = yield Step(Choice(
        ("How far may a strand go before it is cut?",),
        tuple(_costs(piece, every, is_counted=is_counted)), every.index(piece.carry),
    ), about=about)  # fmt: skip
    return every[at]


def _costs(piece: Piece, every: Sequence[Carry], *, is_counted: bool) -> list[str]:
    strict = f"Strict: at most {count_of(default_reach(piece.gauge))} in the next row"
    names = [strict if name == "strict" else sentence(name) for name in (technique(each, piece) for each in every)]
    if not is_counted:
        return names
    try:
        costs = [choice.figures for choice in compared(piece, every)]
    except TooMuchToWeigh:
        return names
    return [
        f"{name}: {how_many(cost.strands, 'strand')}, {how_many(cost.ends, 'end')}"
        for name, cost in zip(names, costs, strict=True)
    ]
