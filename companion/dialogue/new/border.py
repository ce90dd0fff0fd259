"""A border: of which stitch, where it lies, how high and how wide it is."""

from __future__ import annotations

from collections.abc import Callable

from companion.dialogue.new import answers
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Words
from companion.drafts.bordered import Border, Sides
from companion.knitting.cloth.fabric import Gauge, Texture
from companion.knitting.words.terms import Terms, count, how_many, sentence
from companion.plan.amount import AmissError

NONE, GARTER = 0, 1
"""Which border is kept as the answer."""

_EDGES = (
    ("All round", Sides(True, True, True)), ("Below and above", Sides(True, True, False)),
    ("At both sides", Sides(False, False, True)), ("Below only", Sides(True, False, False)),
    ("Above only", Sides(False, True, False)),
)  # fmt: skip
"""Where a border may be."""

ROUND_ABOUT = Sides(True, True, True)
"""Where a border can lie round most pieces."""

_WIDE, _HIGH = 4, 6
"""Stitches and rows of a usual border."""


def asked_for(
    gauge: Gauge, room: tuple[int, int], terms: Terms, *, about: str, usual: int, sides: Sides = ROUND_ABOUT,
    by: int = 1, below_by: int = 1, noun: str = "row",
) -> Steps[Border]:
    """The border that is wanted. ``room``: for so many stitches at each side, so many rows below and above together;
    ``usual``: the kind that stands there; ``sides``: where it can lie; ``by``: at each side it is a multiple of so
    many stitches wide, and below of so many rows high (``below_by``); ``noun``: what its rows are called."""
    across, up = room
    places = [each for each in _EDGES if all(can >= lies for can, lies in zip(sides, each[1], strict=True))]
    kinds = ("None", "Garter stitch", sentence(terms.seed), "Rib")
    kind: int = yield Step(Choice(("A border, which keeps the edges flat:",), kinds, usual), about=about)
    if kind == NONE or (sides.beside and across < by) or up < below_by:
        return Border()
    texture = (Texture("garter"), Texture("seed"), Texture("rib"))[kind - 1]
    if texture.kind == "rib":
        columns: tuple[int, int] = yield Step(
            Words("Rib, knit x purl stitches:", "2x2"), answers.stripped(answers.rib)
        )
        texture = texture._replace(rib=columns)
    where: int = 0
    if len(places) > 1:
        where = yield Step(Choice(("Where is the border?",), tuple(name for name, _ in places)))
    name, (is_below, is_above, is_beside) = places[where]
    high = wide = 0
    if is_below or is_above:
        each = ", below and above alike" if is_below and is_above else f", {name.lower()}" if len(places) == 1 else ""
        most = max(1, up // (is_below + is_above))
        extent = answers.extent(gauge.row_cm, 1, most)
        if is_below:
            extent = _multiple(extent, below_by, "so that edges are shaped on the sides on which they were")
        words = Words(f"How high is the border{each}: {noun}s, or a length:", str(min(_HIGH, most)))
        high = yield Step(words, answers.stripped(extent))
    if is_beside:
        extent = _multiple(answers.extent(gauge.stitch_cm, 1, across), by, "so that ribs within stay as they are")
        likely = min(-(-_WIDE // by), across // by) * by
        words = Words("How wide at each side: stitches, or a length:", str(likely))
        wide = yield Step(words, answers.stripped(extent))
    return Border(texture, high * is_below, high * is_above, wide)


def told(edge: Border, terms: Terms, noun: str = "row") -> tuple[str, ...]:
    """What it is, in a sentence; none where there is none."""
    rows = how_many(max(edge.below, edge.above), noun)
    where = [name for name, number in (("below", edge.below), ("above", edge.above)) if number]
    parts = [f"{rows} {' and '.join(where)}"] if where else []
    parts += [f"{count(edge.beside)} at each side"] if edge.beside else []
    knit, purl = edge.texture.rib
    stitch = {"garter": "garter stitch", "seed": terms.seed, "rib": f"rib {knit}x{purl}"}
    return (f"Border in {stitch[edge.texture.kind]}: {', '.join(parts)}.",) if parts else ()


def not_even(edge: Border, stitches: int) -> tuple[str, ...]:
    """What does not come out even where a round of so many stitches joins, in a sentence; none where all does."""
    each = {"rib": sum(edge.texture.rib), "seed": 2}.get(edge.texture.kind, 1)
    if not (edge.below or edge.above) or stitches % each == 0:
        return ()
    even = [number for number in (stitches - stitches % each, stitches + -stitches % each) if number]
    return (f"The border repeats every {count(each)}, and {count(stitches)} are no multiple of that: where rounds "
            f"begin the last repeat breaks off. It would not over {' or '.join(map(str, even))}.",)


def _multiple(meant: Callable[[str], int], by: int, why: str) -> Callable[[str], int]:
    """The same, in whole multiples; ``why``: what for."""

    def whole(typed: str) -> int:
        if (number := meant(typed)) % by:
            raise AmissError(f"must be a multiple of {by}, {why}, and is {number}.")
        return number

    return whole
