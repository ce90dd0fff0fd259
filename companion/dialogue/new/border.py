"""A border: of which stitch, where it lies, how high and how wide it is."""

from __future__ import annotations

from collections.abc import Callable

from companion.dialogue.new import answers
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Words
from companion.drafts.bordered import Border
from companion.knitting.cloth.fabric import Gauge, Texture
from companion.knitting.words.terms import Terms, count, how_many, sentence
from companion.plan.amount import AmissError

NONE, GARTER = 0, 1
"""Which border is kept as the answer."""

_EDGES = (
    ("All round", True, True, True), ("Below and above", True, True, False), ("At both sides", False, False, True),
    ("Below only", True, False, False), ("Above only", False, True, False),
)  # fmt: skip
"""Where a border may be: below, above, at both sides."""

_WIDE, _HIGH = 4, 6
"""Stitches and rows of a usual border."""


def asked_for(
    gauge: Gauge, room: tuple[int, int], terms: Terms, *, about: str, usual: int, by: int = 1
) -> Steps[Border]:
    """The border that is wanted. ``room``: for so many stitches at each side, so many rows below and above together;
    ``usual``: the kind that stands there; ``by``: at each side it is a multiple of so many stitches wide."""
    across, up = room
    kinds = ("None", "Garter stitch", sentence(terms.seed), "Rib")
    kind: int = yield Step(Choice(("A border, which keeps the edges flat:",), kinds, usual), about=about)
    if kind == NONE or across < by or up < 1:
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
        most = max(1, up // (is_below + is_above))
        extent = answers.extent(gauge.row_cm, 1, most)
        words = Words(f"How high is the border{each}: rows, or a length:", str(min(_HIGH, most)))
        high = yield Step(words, answers.stripped(extent))
    if is_beside:
        extent = _multiple(answers.extent(gauge.stitch_cm, 1, across), by)
        likely = min(-(-_WIDE // by), across // by) * by
        words = Words("How wide at each side: stitches, or a length:", str(likely))
        wide = yield Step(words, answers.stripped(extent))
    return Border(texture, high * is_below, high * is_above, wide)


def told(edge: Border, terms: Terms) -> tuple[str, ...]:
    """What it is, in a sentence; none where there is none."""
    rows = how_many(max(edge.below, edge.above), "row")
    where = [name for name, number in (("below", edge.below), ("above", edge.above)) if number]
    parts = [f"{rows} {' and '.join(where)}"] if where else []
    parts += [f"{count(edge.beside)} at each side"] if edge.beside else []
    knit, purl = edge.texture.rib
    stitch = {"garter": "garter stitch", "seed": terms.seed, "rib": f"rib {knit}x{purl}"}
    return (f"Border in {stitch[edge.texture.kind]}: {', '.join(parts)}.",) if parts else ()


def _multiple(meant: Callable[[str], int], by: int) -> Callable[[str], int]:
    """The same, where ribs within must begin where they began."""

    def whole(typed: str) -> int:
        if (number := meant(typed)) % by:
            raise AmissError(f"must be a multiple of {by}, so that ribs within stay as they are, and is {number}.")
        return number

    return whole
