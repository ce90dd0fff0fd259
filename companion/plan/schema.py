"""The shape of a plan, version 1: which keys there are, which are needed and what each may hold.

The only file that knows pydantic. Every value arrives as the text that was typed and is converted here, so YAML's
own ideas of numbers and switches never matter. What does not fit becomes problems at the places it was typed.
``editor_schema.py`` makes the JSON Schema that lies beside the demo plans. Annotations are no strings here, since
pydantic would have to read each of them again.
"""

import os
from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any, Literal, NamedTuple, TypeVar, cast

from pydantic import (
    BaseModel,
    ConfigDict,
    Discriminator,
    Field,
    ModelWrapValidatorHandler,
    PlainValidator,
    Tag,
    ValidationError,
    WithJsonSchema,
    model_validator,
)
from pydantic_core import ErrorDetails, InitErrorDetails, PydanticCustomError

from companion.knitting.cloth.fabric import Gauge, Texture, TextureKind
from companion.knitting.cloth.rows import LONG_TAIL, Casting, Method
from companion.knitting.yarn.winding import USUAL, Winding
from companion.plan import amount

# Nothing but this file looks on while a plan is checked; to find out whether something would like to, pydantic opens
# the description of every package that is installed.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

VERSION = "1"

TAG = "\0"
"""Begins the names of alternatives in an error's path; no key of a plan can hold it."""

KINDS: tuple[TextureKind, ...] = ("stockinette", "reverse", "garter", "seed")

T = TypeVar("T")


def _amiss(what: str, mend: str = "", known: tuple[str, ...] = (), value: str = "") -> PydanticCustomError:
    """An error whose message goes on from the key's name; the nearest of ``known`` to ``value`` is named with it."""
    return PydanticCustomError("amiss", "amiss", {"what": what, "mend": mend, "known": known, "value": value})


def _from_text(convert: Callable[[str], T]) -> PlainValidator:
    """Turns the text that was typed into a value."""

    def validate(value: object) -> T:
        if not isinstance(value, str):
            raise _amiss("must be a single value, not a list or a group of keys.")
        try:
            return convert(value)
        except amount.AmissError as error:
            raise _amiss(error.what, error.mend) from None

    return PlainValidator(validate)


def _schema(**schema: object) -> WithJsonSchema:
    return WithJsonSchema(cast(dict[str, Any], schema))


def _kind(value: str) -> TextureKind:
    for kind in KINDS:
        if value == kind:
            return kind
    if value == "rib":
        raise _amiss("needs its columns for a rib.", "Write the knit and the purl columns: {rib: [2, 2]}")
    if value == "moss":
        mend = "UK moss, knit and purl changed over in every row: write seed, its US name. US moss is not known."
        raise _amiss("names two stitches: US moss and UK moss are not the same.", mend)
    what = f"must be stockinette, reverse, garter, seed or {{rib: [2, 2]}}, {amount.is_(value)}."
    raise _amiss(what, known=KINDS, value=value)


def _limit(value: str) -> int:
    return amount.count(value, least=0)


def _one_of(
    *known: str, told: str = "", mend: str = "", read: Callable[[str], object] = str
) -> PlainValidator:
    """Takes one of these words and turns it into a value. ``told``: how they are listed, if not as they stand."""

    def convert(value: str) -> object:
        if value not in known:
            raise amount.AmissError(f"must be {told or ' or '.join(known)}, {amount.is_(value)}.", mend)
        return read(value)

    return _from_text(convert)


METHODS: tuple[Method, ...] = ("long-tail", "knitted", "cable")


def _method(value: str) -> Method:
    for method in METHODS:
        if value == method:
            return method
    raise _amiss(f"must be long-tail, knitted or cable, {amount.is_(value)}.", known=METHODS, value=value)


_NUMBER = {"type": "number", "exclusiveMinimum": 0}

Version = Annotated[Literal[1], _one_of(VERSION, read=int), _schema(const=1)]
Count = Annotated[int, _from_text(amount.count), _schema(type="integer", minimum=1, maximum=amount.MOST_STITCHES)]
Limit = Annotated[int, _from_text(_limit), _schema(type="integer", minimum=0)]
Amount = Annotated[Fraction, _from_text(amount.amount), _schema(**_NUMBER)]
Length = Annotated[
    Fraction, _from_text(amount.length_cm), _schema(type="string", pattern=r"^[0-9]+(\.[0-9]+)? *(cm|mm|in)$")
]
YarnLength = Annotated[
    Fraction, _from_text(amount.yarn_cm), _schema(type="string", pattern=r"^[0-9]+(\.[0-9]+)? *(cm|mm|m|in|yd)$")
]
Taken = Annotated[
    Fraction, _one_of("0.5", "1", "1.5", "2", told="0.5, 1, 1.5 or 2 stitches", read=Fraction),
    _schema(enum=[0.5, 1, 1.5, 2]),
]
Squares = Annotated[
    int, _one_of("1", "2", mend="2 works a square as a garter ridge.", read=int), _schema(enum=[1, 2])
]
Wearer = Annotated[
    Literal["baby"], _one_of("baby", mend="Leave it out for everybody else."), _schema(const="baby")
]
Dialect = Annotated[Literal["us", "uk"], _one_of("us", "uk"), _schema(enum=["us", "uk"])]
Unit = Annotated[Literal["cm", "in"], _one_of("cm", "in"), _schema(enum=["cm", "in"])]
Worked = Annotated[Literal["flat", "round"], _one_of("flat", "round"), _schema(enum=["flat", "round"])]
Side = Annotated[
    Literal["left", "right"], _one_of("left", "right", told="left or right, as seen from the right side"),
    _schema(enum=["left", "right"]),
]
Middle = Annotated[
    Literal["bound off", "held"], _one_of("bound off", "held", told='"bound off" or "held"'),
    _schema(enum=["bound off", "held"]),
]
Worn = Annotated[
    Literal["front", "back"], _one_of("front", "back", mend="Leave it out for what is not worn."),
    _schema(enum=["front", "back"]),
]
CastOnMethod = Annotated[Method, _from_text(_method), _schema(enum=list(METHODS))]
CastOnColours = Annotated[
    Literal["one", "each"],
    _one_of("one", "each", mend="one: all in one yarn. each: every section of row 1 in its own."),
    _schema(enum=["one", "each"]),
]
SeamStitches = Annotated[
    int, _one_of("1", "2", mend="1: the seam lies half a stitch from each edge; 2: a whole stitch.", read=int),
    _schema(enum=[1, 2]),
]
Switch = Annotated[bool, _from_text(amount.switch), _schema(type="boolean")]
Colour = Annotated[str, _from_text(amount.colour), _schema(type="string", minLength=1)]
Title = Annotated[
    str, _from_text(amount.title), _schema(type=["string", "number"], minLength=1, maxLength=amount.LONGEST_TITLE)
]
Name = Annotated[str, _from_text(amount.name), _schema(type="string", minLength=1, maxLength=amount.LONGEST_NAME)]
Symbol = Annotated[str, _from_text(amount.symbol), _schema(type="string", pattern=r"^[^.\s]$")]
Plain = Annotated[TextureKind, _from_text(_kind), _schema(enum=list(KINDS))]
FileName = Annotated[str, _from_text(amount.file_name), _schema(type="string", minLength=1)]
Drawing = Annotated[str, PlainValidator(str), _schema(type="string")]


class Shape(BaseModel):
    """Keys of a plan. Unknown ones are told together with the known ones, in place of a bare refusal."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False, defer_build=True)

    @model_validator(mode="wrap")
    @classmethod
    def _tell_known_keys(cls, data: object, validate: "ModelWrapValidatorHandler[Shape]") -> "Shape":
        known = tuple(field.alias or name for name, field in cls.model_fields.items())
        if not isinstance(data, dict):
            raise _amiss(f"must hold keys of its own: {', '.join(known)}.")
        try:
            return validate(data)
        except ValidationError as error:
            raise _with_keys(cls.__name__, error, known) from None


def _with_keys(title: str, error: ValidationError, known: tuple[str, ...]) -> ValidationError:
    """The same errors; those about this shape's own keys carry the keys it knows."""
    details: list[InitErrorDetails] = []
    for one in error.errors(include_url=False):
        kind, context = one["type"], one.get("ctx", {})
        if kind == "extra_forbidden":
            kind, context = "unknown key", {"known": known}
        own = PydanticCustomError("amiss", "", context) if kind == "amiss" else None
        own = PydanticCustomError("unknown key", "", context) if kind == "unknown key" else own
        details.append(InitErrorDetails(type=own or kind, loc=one["loc"], input=one["input"], ctx=context))
    return ValidationError.from_exception_data(title, details)


class Rib(Shape):
    """A rib, anchored to column 1 seen from the right side."""

    rib: Annotated[list[Count], Field(description="Knit columns, purl columns.", min_length=2, max_length=2)]


def _is_text(value: object) -> str:
    return TAG + ("text" if isinstance(value, str) else "keys")


Stitch = Annotated[
    Annotated[Plain, Tag(TAG + "text")] | Annotated[Rib, Tag(TAG + "keys")],
    Discriminator(_is_text),
    Field(description="How the stitches look from the right side."),
]


def texture(stitch: TextureKind | Rib) -> Texture:
    """The texture that a ``stitch`` key asks for."""
    if isinstance(stitch, Rib):
        return Texture("rib", (stitch.rib[0], stitch.rib[1]))
    return Texture(stitch)


class OtherGaugeShape(Shape):
    """Where another stitch than the gauge's own comes out differently, over the same length."""

    stitches: Amount | None = None
    rows: Amount | None = None


class GaugeShape(Shape):
    """Stitches and rows over a measured length of worked fabric."""

    stitches: Amount
    rows: Amount
    over: Annotated[Length, Field(description='A length with its unit: "10 cm", "100 mm" or "4 in".')] = Fraction(10)
    reverse: OtherGaugeShape | None = None
    garter: OtherGaugeShape | None = None
    seed: OtherGaugeShape | None = None
    rib: OtherGaugeShape | None = None

    @property
    def gauges(self) -> dict[TextureKind, Gauge]:
        """The gauge, which is stockinette's, and that of every other stitch measured."""
        told = {"reverse": self.reverse, "garter": self.garter, "seed": self.seed, "rib": self.rib}
        own = Gauge(self.stitches, self.rows, self.over)
        others = {
            kind: Gauge(other.stitches or self.stitches, other.rows or self.rows, self.over)
            for kind, other in told.items() if other
        }
        return {"stockinette": own, **others}  # type: ignore[dict-item]


class BallShape(Shape):
    """How the yarn is sold."""

    metres: Amount | None = None
    grams: Amount | None = None


class YarnShape(Shape):
    """One yarn."""

    colour: Annotated[Colour, Field(description='A CSS colour name, or "#a8432f" in quotes.')]
    ball: BallShape | None = None


class SymbolShape(Shape):
    """A symbol that stands for a yarn in another stitch than stockinette, or for one with another sewn over it."""

    yarn: Name
    stitch: Stitch = "stockinette"
    sewn: Annotated[Name | None, Field(description="Yarn added afterwards in duplicate stitch.")] = None

    @model_validator(mode="after")
    def _is_of_two_yarns(self) -> "SymbolShape":
        if self.sewn == self.yarn:
            raise _amiss("is sewn in the yarn it is knitted in.", 'Name another yarn, or leave out "sewn".')
        return self


SymbolUse = Annotated[
    Annotated[Name, Tag(TAG + "text")] | Annotated[SymbolShape, Tag(TAG + "keys")],
    Discriminator(_is_text),
]


class CarryShape(Shape):
    """How far a strand may go to its next stitch instead of being cut."""

    reach: Annotated[Limit, Field(description="Stitches, to the next row.")] | None = None
    behind: Annotated[Limit, Field(description="Stitches, behind others of the same row.")] = 0
    rest: Annotated[Limit, Field(description="Rows that a strand may wait.")] = 0
    share: Annotated[Switch, Field(description="Two joins may share one length, begun at its middle.")] = False


class SampleShape(Shape):
    """So many stitches of the worked fabric, unpicked, and the length of yarn they took."""

    stitches: Count
    yarn: Annotated[YarnLength, Field(description='A length with its unit: "38 cm" or "15 in".')]


class WindingShape(Shape):
    """Up to which length yarn is left loose, wound into a butterfly, or on a bobbin; longer is worked from a ball."""

    loose: YarnLength | None = None
    butterfly: YarnLength | None = None
    bobbin: YarnLength | None = None

    @model_validator(mode="after")
    def _rises(self) -> "WindingShape":
        wound = self.winding
        if not wound.loose_cm <= wound.butterfly_cm <= wound.bobbin_cm:
            raise _amiss("must rise from loose to butterfly to bobbin.", "Without a key: 1 m, 5 m and 20 m.")
        return self

    @property
    def winding(self) -> Winding:
        """The lengths asked for; the usual ones where none is."""
        return Winding(
            self.loose or USUAL.loose_cm, self.butterfly or USUAL.butterfly_cm, self.bobbin or USUAL.bobbin_cm
        )


class PlainShape(Shape):
    """Rows in one yarn: so many, or as many as make a height by the gauge. Rows written beside a height hold."""

    rows: Count | None = None
    height: Annotated[Length, Field(description='A length with its unit: "12 cm" or "5 in".')] | None = None
    stitches: Count
    yarn: Name
    stitch: Stitch = "stockinette"

    @model_validator(mode="after")
    def _has_an_extent(self) -> "PlainShape":
        if self.rows is None and self.height is None:
            raise _amiss('must say how many "rows" it has, or its "height".')
        return self


class FieldShape(PlainShape):
    """A ground in one yarn that motifs are placed on."""


class MotifShape(Shape):
    """A motif drawn in a file of its own and placed on the ground; "." in it lets the ground show."""

    from_: Annotated[FileName, Field(alias="from", description="A text file in the plan's folder.")]
    right: Annotated[Limit, Field(description="Stitches of the ground to the right of it.")]
    bottom: Annotated[Limit, Field(description="Rows of the ground below it.")]
    mirror: Annotated[Switch, Field(description="Turned round, left for right.")] = False
    across: Annotated[Count, Field(description="So many side by side.")] = 1


class EdgeShape(Shape):
    """Stitches beside the chart."""

    stitches: Count
    yarn: Name
    stitch: Stitch = "stockinette"


class SidesShape(Shape):
    """Edges that differ, left and right as seen from the right side. One of the two may be left out."""

    left: EdgeShape | None = None
    right: EdgeShape | None = None


def _one_or_two(value: object) -> str:
    sides = isinstance(value, dict) and ("left" in value or "right" in value)
    return TAG + ("sides" if sides else "both")


Edges = Annotated[
    Annotated[EdgeShape, Tag(TAG + "both")] | Annotated[SidesShape, Tag(TAG + "sides")],
    Discriminator(_one_or_two),
    Field(description="The same edge on both sides, or left and right as seen from the right side."),
]


class FromShape(Shape):
    """A chart in a text file of its own."""

    from_: Annotated[FileName, Field(alias="from", description="A text file in the plan's folder.")]


Chart = Annotated[
    Annotated[Drawing, Tag(TAG + "text")] | Annotated[FromShape, Tag(TAG + "keys")],
    Discriminator(_is_text),
    Field(description="Drawn as the fabric looks, the top line worked last; or run lengths: 6s 8b 18s"),
]


class OpeningShape(Shape):
    """From a row of the section on, and in all sections above, the piece is two parts, worked one after the other."""

    first: Annotated[Side, Field(description="The part that is worked first, as seen from the right side.")]
    at: Annotated[
        Count | None,
        Field(description='Stitches to the right of it; without it, the first row with "." between its stitches.'),
    ] = None
    row: Annotated[Count, Field(description='With "at": in this row of the section, from the bottom.')] = 1
    middle: Annotated[Middle, Field(description="What becomes of stitches between the parts.")] = "bound off"

    @model_validator(mode="after")
    def _has_a_place(self) -> "OpeningShape":
        if self.at is None and "row" in self.model_fields_set:
            raise _amiss('has "row" and no "at"; without it the opening begins in the first row with "." between.')
        return self


class SectionShape(Shape):
    """Some rows of the piece: plain ones, a chart, or a field with motifs."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["plain"]}, {"required": ["chart"]}, {"required": ["field"]}]}
    )

    plain: PlainShape | None = None
    chart: Chart | None = None
    field: FieldShape | None = None
    motifs: Annotated[list[MotifShape], Field(description="What is placed on the field.")] = []
    mirror: Annotated[Switch, Field(description="The chart or field turned round, left for right.")] = False
    rows_per_square: Annotated[Squares, Field(description="2: a square of the chart is a garter ridge.")] = 1
    plain_first: Annotated[
        Switch, Field(description="A new colour's first stitches are knit as the right side looks, in any texture.")
    ] = False
    edges: Edges | None = None
    opening: OpeningShape | None = None
    worked: Annotated[Worked, Field(description="Round: without turning, all rows right-side rows.")] = "flat"
    seam_stitches: Annotated[
        SeamStitches | None, Field(description="More stitches, for the seam where a tube is worked flat.")
    ] = None
    repeat: Annotated[Count, Field(description="Upwards: worked so many times.")] = 1
    across: Annotated[Count, Field(description="Sideways, between the edges.")] = 1

    @model_validator(mode="after")
    def _is_one_of_three(self) -> "SectionShape":
        if sum(one is not None for one in (self.plain, self.chart, self.field)) != 1:
            raise _amiss('must hold one of "plain", "chart" and "field".')
        if self.motifs and self.field is None:
            raise _amiss('has "motifs" and no "field" to place them on.')
        if self.rows_per_square > 1 and self.chart is None:
            raise _amiss('has "rows_per_square" and no "chart"; the rows of plain ones and of fields are counted.')
        if self.seam_stitches and self.worked == "round":
            what = 'has "seam_stitches" and is worked round: rounds have no edges to sew up.'
            raise _amiss(what, 'Leave it out, or "worked: round".')
        return self


class CastOnShape(Shape):
    """How the first stitches come onto the needle."""

    method: CastOnMethod = LONG_TAIL.method
    colours: Annotated[
        CastOnColours, Field(description="One: all in one yarn. Each: every section of row 1 in a strand of its own.")
    ] = "one"
    yarn: Annotated[Name | None, Field(description="The one yarn; without it that of row 1's first stitch.")] = None

    @model_validator(mode="after")
    def _is_in_one_or_in_each(self) -> "CastOnShape":
        if self.yarn is not None and self.colours == "each":
            raise _amiss('has a "yarn", and each section has its own.', 'Leave out "yarn", or "colours: each".')
        return self

    @property
    def casting(self) -> Casting:
        """The cast-on that is asked for."""
        return Casting(self.method, self.colours == "each", self.yarn or "")


class ShapingShape(Shape):
    """How edges are shaped."""

    at: Annotated[Limit, Field(description="Stitches in from the edge at which one is made or lost.")] = 0


class SewnShape(Shape):
    """A small area that is knitted in the yarn beside it and sewn on afterwards; any stitch of it names it."""

    yarn: Name
    over: Annotated[Name, Field(description="The yarn in which it is knitted.")]
    row: Annotated[Count, Field(description="Of the piece, counted from the cast-on.")]
    stitch: Annotated[Count, Field(description='Counted from the right edge of the drawing, "." counted too.')]

    @model_validator(mode="after")
    def _is_of_two_yarns(self) -> "SewnShape":
        if self.over == self.yarn:
            raise _amiss("is knitted in the yarn it is sewn in.", 'Name the yarn beside it after "over".')
        return self


class SeamsShape(Shape):
    """The side edges that are sewn up afterwards, each with the stitches that the seam takes in."""

    left: Annotated[Taken, Field(description="0.5 or 1, as a rule.")] | None = None
    right: Annotated[Taken, Field(description="0.5 or 1, as a rule.")] | None = None

    @model_validator(mode="after")
    def _is_somewhere(self) -> "SeamsShape":
        if self.left is None and self.right is None:
            raise _amiss('must say "left" or "right", or both, with the stitches each takes in.')
        return self


class PlanShape(Shape):
    """One piece of knitting, from the cast-on edge up."""

    plan: Annotated[Version, Field(description="Version of the plan format.")]
    title: Title
    gauge: GaugeShape
    yarns: Annotated[dict[Name, YarnShape], Field(min_length=1)]
    symbols: Annotated[
        dict[Symbol, SymbolUse], Field(description="One visible character each, and the yarn it stands for.")
    ]
    terms: Annotated[Dialect | None, Field(description="Whose terms the piece is told in.")] = None
    units: Annotated[Unit | None, Field(description="In what its lengths are told.")] = None
    carry: CarryShape = CarryShape.model_construct()  # unlike CarryShape() it needs no validator of its own
    sample: SampleShape | None = None
    tail: Annotated[YarnLength | None, Field(description="Yarn left at every end of a strand.")] = None
    winding: WindingShape | None = None
    mirror: Annotated[Switch, Field(description="The whole piece turned round, for the second of a pair.")] = False
    cast_on: CastOnShape | None = None
    slipped_edges: Annotated[
        Switch, Field(description="The first stitch of every flat row but the first is slipped, unless shaped.")
    ] = False
    seams: SeamsShape | None = None
    shaping: ShapingShape | None = None
    small_areas: Annotated[
        Count | None, Field(description="Areas of so many stitches may be sewn on: look for those that save ends.")
    ] = None
    sewn_on: Annotated[list[SewnShape], Field(description="Small areas that are sewn on afterwards.")] = []
    worn: Annotated[Worn | None, Field(description="Of a garment: then sides are told as the wearer's, too.")] = None
    for_: Annotated[Wearer | None, Field(alias="for", description="Floats are caught more closely.")] = None
    rows: Annotated[
        list[SectionShape], Field(min_length=1, description="Sections in working order, from the cast-on edge up.")
    ]


def kinds(plan: PlanShape) -> frozenset[TextureKind]:
    """The kinds of stitch that the plan speaks of; the one of a symbol that says nothing is stockinette."""
    named = [use.stitch if isinstance(use, SymbolShape) else "stockinette" for use in plan.symbols.values()]
    for section in plan.rows:
        sides = section.edges
        edges = (sides.left, sides.right) if isinstance(sides, SidesShape) else (sides,)
        named += [part.stitch for part in (section.plain, section.field, *edges) if part]
    return frozenset(texture(stitch).kind for stitch in named)


class Misfit(NamedTuple):
    """Something that does not fit the shape, and the path of keys and list places (from 0) that leads to it.

    ``kind``: "amiss" (``what`` goes on from the key's name), "missing" or "unknown" (the path's last key is);
    ``known``: names the typed ``value`` or key may have been meant for. ``is_key``: the key itself is amiss.
    """

    path: tuple[str | int, ...]
    kind: Literal["amiss", "missing", "unknown"]
    what: str = ""
    mend: str = ""
    known: tuple[str, ...] = ()
    value: str = ""
    is_key: bool = False


def fit(data: object) -> tuple[PlanShape | None, list[Misfit]]:
    """The plan that a tree of texts describes; None, and everything that does not fit, when something does not."""
    try:
        return PlanShape.model_validate(data), []
    except ValidationError as error:
        return None, [_misfit(one) for one in error.errors(include_url=False)]


def fit_section(data: object) -> SectionShape | None:
    """One section by itself; None when it does not fit."""
    try:
        return SectionShape.model_validate(data)
    except ValidationError:
        return None


_TOO_FEW = {"yarns": "needs at least one yarn.", "rows": "needs at least one section."}


def _misfit(one: ErrorDetails) -> Misfit:
    path = tuple(part for part in one["loc"] if not (isinstance(part, str) and part.startswith(TAG)))
    is_key = path[-1:] == ("[key]",)
    path = path[:-1] if is_key else path
    context = one.get("ctx", {})
    match one["type"]:
        case "missing":
            return Misfit(path, "missing")
        case "unknown key":
            return Misfit(path, "unknown", known=context["known"], value=str(path[-1]))
        case "amiss":
            known, value = context["known"], context["value"]
            return Misfit(path, "amiss", context["what"], context["mend"], known, value, is_key)
        case "list_type":
            return Misfit(path, "amiss", "must be a list.", _LIST_MEND.get(path[-1], ""))
        case "dict_type":
            return Misfit(path, "amiss", "must hold keys of its own.", _DICT_MEND.get(path[-1], ""))
    what = _TOO_FEW.get(str(path[-1]), "must be two numbers, knit columns and purl columns.")
    return Misfit(path, "amiss", what)


_LIST_MEND: dict[str | int, str] = {
    "rows": 'Each section begins with "- plain:" or "- chart:".',
    "rib": "Write the knit and the purl columns: {rib: [2, 2]}",
}
_DICT_MEND: dict[str | int, str] = {
    "yarns": 'Each yarn has a line such as: sand: {colour: "#d9c9a5"}',
    "symbols": "Each symbol has a line such as: s: sand",
}
