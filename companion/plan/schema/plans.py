"""A whole plan: its gauge, yarns and symbols, how it is cast on, shaped and sewn, and its sections."""

from fractions import Fraction
from typing import Annotated

from pydantic import Discriminator, Tag, model_validator

from companion.knitting.cloth.fabric import Ball, Gauge, TextureKind
from companion.knitting.cloth.rows import LONG_TAIL, Casting
from companion.knitting.yarn.winding import USUAL, Winding
from companion.plan.schema import values as of
from companion.plan.schema.sections import SectionShape, SidesShape
from companion.plan.schema.shapes import Shape, Stitch, hint, is_text, texture
from companion.plan.schema.values import TAG, amiss

METRES_IN_A_YARD = Fraction(9144, 10_000)
GRAMS_IN_AN_OUNCE = Fraction(45_359_237, 1_600_000)
"""Exact: a yard is 0.9144 m, a pound of 16 ounces 0.45359237 kg (international yard and pound agreement, 1959)."""


class OtherGaugeShape(Shape):
    """Where another stitch than the gauge's own comes out differently, over the same length."""

    stitches: Annotated[of.Amount | None, hint("Stitches over that length; those of the gauge, if left out.")] = None
    rows: Annotated[of.Amount | None, hint("Rows over that length; those of the gauge, if left out.")] = None


class GaugeShape(Shape):
    """Stitches and rows over a measured length of worked fabric."""

    stitches: Annotated[of.Amount, hint("Stitches over that length.")]
    rows: Annotated[of.Amount, hint("Rows over that length.")]
    over: Annotated[of.Length, hint('A length with its unit: "10 cm", "100 mm" or "4 in".')] = Fraction(10)
    reverse: OtherGaugeShape | None = None
    garter: OtherGaugeShape | None = None
    seed: OtherGaugeShape | None = None
    rib: OtherGaugeShape | None = None

    @property
    def gauges(self) -> dict[TextureKind, Gauge]:
        """The gauge, which is stockinette's, and that of every other stitch measured."""
        measured: dict[TextureKind, OtherGaugeShape | None] = {
            "stockinette": OtherGaugeShape(), "reverse": self.reverse, "garter": self.garter, "seed": self.seed,
            "rib": self.rib,
        }  # fmt: skip
        return {
            kind: Gauge(other.stitches or self.stitches, other.rows or self.rows, self.over)
            for kind, other in measured.items() if other
        }


class BallShape(Shape):
    """How the yarn is sold."""

    metres: Annotated[of.Amount | None, hint("Metres in a ball.")] = None
    yards: Annotated[of.Amount | None, hint("In place of metres.")] = None
    grams: Annotated[of.Amount | None, hint("Grams in a ball.")] = None
    ounces: Annotated[of.Amount | None, hint("In place of grams.")] = None

    @model_validator(mode="after")
    def _is_measured_once(self) -> "BallShape":
        if (self.metres and self.yards) or (self.grams and self.ounces):
            raise amiss("is measured twice.", 'Write "metres" or "yards", and "grams" or "ounces".')
        return self

    @property
    def ball(self) -> Ball:
        """A ball in metres and grams."""
        metres = self.yards * METRES_IN_A_YARD if self.yards else self.metres
        return Ball(metres, self.ounces * GRAMS_IN_AN_OUNCE if self.ounces else self.grams)


class YarnShape(Shape):
    """One yarn."""

    colour: Annotated[of.Colour, hint('A CSS colour name, or "#a8432f" in quotes.')]
    ball: BallShape | None = None


class SymbolShape(Shape):
    """A symbol that stands for a yarn in another stitch than stockinette, or for one with another sewn over it."""

    yarn: Annotated[of.YarnMeant, hint("The yarn it is knitted in, by its name.")]
    stitch: Stitch = "stockinette"
    sewn: Annotated[of.YarnMeant | None, hint("Yarn added afterwards in duplicate stitch.")] = None

    @model_validator(mode="after")
    def _is_of_two_yarns(self) -> "SymbolShape":
        if self.sewn == self.yarn:
            raise amiss("is sewn in the yarn it is knitted in.", 'Name another yarn, or leave out "sewn".')
        return self


SymbolUse = Annotated[
    Annotated[of.YarnMeant, Tag(TAG + "text")] | Annotated[SymbolShape, Tag(TAG + "keys")],
    Discriminator(is_text),
]


class CarryShape(Shape):
    """How far a strand may go to its next stitch instead of being cut."""

    reach: Annotated[of.Limit | None, hint("Stitches, to the next row.")] = None
    behind: Annotated[of.Limit, hint("Stitches, behind others of the same row.")] = 0
    rest: Annotated[of.Limit, hint("Rows that a strand may wait.")] = 0
    share: Annotated[of.Switch, hint("Two joins may share one length, begun at its middle.")] = False
    share_runs: Annotated[of.Switch, hint("Strands may share a run, crossed where they meet.")] = False


class SampleShape(Shape):
    """So many stitches of the worked fabric, unpicked, and the length of yarn they took."""

    stitches: Annotated[of.Count, hint("So many stitches, unpicked.")]
    yarn: Annotated[of.YarnLength, hint('A length with its unit: "38 cm" or "15 in".')]


class WindingShape(Shape):
    """Up to which length yarn is left loose, wound into a butterfly, or on a bobbin; longer is worked from a ball."""

    loose: Annotated[of.YarnLength | None, hint("Up to this length left loose. Without it: 1 m.")] = None
    butterfly: Annotated[of.YarnLength | None, hint("Up to this length in a butterfly. Without it: 5 m.")] = None
    bobbin: Annotated[of.YarnLength | None, hint("Up to this length on a bobbin. Without it: 20 m.")] = None

    @model_validator(mode="after")
    def _rises(self) -> "WindingShape":
        wound = self.winding
        if not wound.loose_cm <= wound.butterfly_cm <= wound.bobbin_cm:
            raise amiss("must rise from loose to butterfly to bobbin.", "Without a key: 1 m, 5 m and 20 m.")
        return self

    @property
    def winding(self) -> Winding:
        """The lengths asked for; the usual ones where none is."""
        return Winding(
            self.loose or USUAL.loose_cm, self.butterfly or USUAL.butterfly_cm, self.bobbin or USUAL.bobbin_cm
        )


class CastOnShape(Shape):
    """How the first stitches come onto the needle."""

    method: Annotated[
        of.CastOnMethod, hint("Which way; it decides at which edge the cast-on tail hangs.")
    ] = LONG_TAIL.method
    colours: Annotated[
        of.EdgeColours, hint("One: all in one yarn. Each: every section of row 1 in a strand of its own.")
    ] = "one"
    yarn: Annotated[of.YarnMeant | None, hint("The one yarn; without it that of row 1's first stitch.")] = None

    @model_validator(mode="after")
    def _is_in_one_or_in_each(self) -> "CastOnShape":
        if self.yarn is not None and self.colours == "each":
            raise amiss('has a "yarn", and each section has its own.', 'Leave out "yarn", or "colours: each".')
        return self

    @property
    def casting(self) -> Casting:
        """The cast-on that is asked for."""
        return Casting(self.method, self.colours == "each", self.yarn or "")


class BindOffShape(Shape):
    """How the last stitches go off the needle."""

    colours: Annotated[
        of.EdgeColours, hint("One: all in the strand in hand. Each: every run of the last row in its own strand.")
    ] = "one"


class ShapingShape(Shape):
    """How edges are shaped."""

    at: Annotated[of.Limit, hint("Stitches in from the edge at which one is made or lost.")] = 0


class SewnShape(Shape):
    """A small area that is knitted in the yarn beside it and sewn on afterwards; any stitch of it names it."""

    yarn: Annotated[of.YarnMeant, hint("The yarn it is sewn in.")]
    over: Annotated[of.YarnMeant, hint("The yarn in which it is knitted.")]
    row: Annotated[of.Count, hint("Of the piece, counted from the cast-on.")]
    stitch: Annotated[of.Count, hint('Counted from the right edge of the drawing, "." counted too.')]

    @model_validator(mode="after")
    def _is_of_two_yarns(self) -> "SewnShape":
        if self.over == self.yarn:
            raise amiss("is knitted in the yarn it is sewn in.", 'Name the yarn beside it after "over".')
        return self


class SeamsShape(Shape):
    """The side edges that are sewn up afterwards, each with the stitches that the seam takes in."""

    left: Annotated[of.Taken | None, hint("Stitches taken in at the left edge: 0.5 or 1, as a rule.")] = None
    right: Annotated[of.Taken | None, hint("Stitches taken in at the right edge: 0.5 or 1, as a rule.")] = None

    @model_validator(mode="after")
    def _is_somewhere(self) -> "SeamsShape":
        if self.left is None and self.right is None:
            raise amiss('must say "left" or "right", or both, with the stitches each takes in.')
        return self


class PlanShape(Shape):
    """One piece of knitting, from the cast-on edge up."""

    plan: Annotated[of.Version, hint("Version of the plan format.")]
    title: Annotated[of.Title, hint("What the piece is called.")]
    sizes: Annotated[
        list[of.Name], hint("Names of sizes: then 60 (66, 72) is a number for each.", min_length=2, max_length=20)
    ] = []
    gauge: GaugeShape
    yarns: Annotated[dict[of.Name, YarnShape], hint("Every yarn by a name of your own.", min_length=1)]
    symbols: Annotated[dict[of.Symbol, SymbolUse], hint("One visible character each, and the yarn it stands for.")]
    terms: Annotated[of.Dialect | None, hint("Whose terms the piece is told in.")] = None
    units: Annotated[of.Unit | None, hint("In what its lengths are told.")] = None
    carry: CarryShape = CarryShape.model_construct()  # unlike CarryShape() it needs no validator of its own
    sample: SampleShape | None = None
    tail: Annotated[of.YarnLength | None, hint("Yarn left at every end of a strand.")] = None
    winding: WindingShape | None = None
    mirror: Annotated[of.Switch, hint("The whole piece turned round, for the second of a pair.")] = False
    cast_on: CastOnShape | None = None
    bind_off: BindOffShape | None = None
    slipped_edges: Annotated[
        of.Switch, hint("The first stitch of every flat row but the first is slipped, unless shaped.")
    ] = False
    seams: SeamsShape | None = None
    shaping: ShapingShape | None = None
    small_areas: Annotated[
        of.Count | None, hint("Areas of so many stitches may be sewn on: look for those that save ends.")
    ] = None
    sewn_on: Annotated[list[SewnShape], hint("Small areas that are sewn on afterwards.")] = []
    worn: Annotated[of.Worn | None, hint("Of a garment: then sides are told as the wearer's, too.")] = None
    for_: Annotated[of.Wearer | None, hint("Floats are caught more closely.", alias="for")] = None
    rows: Annotated[list[SectionShape], hint("Sections in working order, from the cast-on edge up.", min_length=1)]


def kinds(plan: PlanShape) -> frozenset[TextureKind]:
    """The kinds of stitch that the plan speaks of; the one of a symbol that says nothing is stockinette."""
    named = [use.stitch if isinstance(use, SymbolShape) else "stockinette" for use in plan.symbols.values()]
    for section in plan.rows:
        sides = section.edges
        edges = (sides.left, sides.right) if isinstance(sides, SidesShape) else (sides,)
        named += [part.stitch for part in (section.plain, section.field, *edges) if part]
    return frozenset(texture(stitch).kind for stitch in named)
