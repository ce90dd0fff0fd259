"""What one value of a plan may be: text in, exact value or an error out, and how an editor checks it."""

from collections.abc import Callable
from fractions import Fraction
from typing import Annotated, Any, Literal, TypeVar, cast

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from companion.knitting.cloth.fabric import TextureKind
from companion.knitting.cloth.rows import Method
from companion.plan import amount

VERSION = "1"

TAG = "\0"
"""Begins the names of alternatives in an error's path; no key of a plan can hold it."""

KINDS: tuple[TextureKind, ...] = ("stockinette", "reverse", "garter", "seed")

T = TypeVar("T")


def amiss(what: str, mend: str = "", known: tuple[str, ...] = (), value: str = "") -> PydanticCustomError:
    """An error whose message goes on from the key's name; the nearest of ``known`` to ``value`` is named with it."""
    return PydanticCustomError("amiss", "amiss", {"what": what, "mend": mend, "known": known, "value": value})


def _from_text(convert: Callable[[str], T]) -> PlainValidator:
    """Turns the text that was typed into a value."""

    def validate(value: object) -> T:
        if not isinstance(value, str):
            raise amiss("must be a single value, not a list or a group of keys.")
        try:
            return convert(value)
        except amount.AmissError as error:
            raise amiss(error.what, error.mend) from None

    return PlainValidator(validate)


def _schema(**schema: object) -> WithJsonSchema:
    return WithJsonSchema(cast(dict[str, Any], schema))


def _kind(value: str) -> TextureKind:
    if value in KINDS:
        return value
    if value == "rib":
        raise amiss("needs its columns for a rib.", "Write the knit and the purl columns: {rib: [2, 2]}")
    if value == "moss":
        mend = "UK moss, knit and purl changed over in every row: write seed, its US name. US moss is not known."
        raise amiss("names two stitches: US moss and UK moss are not the same.", mend)
    what = f"must be stockinette, reverse, garter, seed or {{rib: [2, 2]}}, {amount.is_(value)}."
    raise amiss(what, known=KINDS, value=value)


def _limit(value: str) -> int:
    return amount.count(value, least=0)


def _one_of(*known: str, told: str = "", mend: str = "", read: Callable[[str], object] = str) -> PlainValidator:
    """Takes one of these words and turns it into a value. ``told``: how they are listed, if not as they stand."""

    def convert(value: str) -> object:
        if value not in known:
            raise amiss(f"must be {told or ' or '.join(known)}, {amount.is_(value)}.", mend, known, value)
        return read(value)

    return _from_text(convert)


METHODS: tuple[Method, ...] = ("long-tail", "knitted", "cable")

Version = Annotated[Literal[1], _one_of(VERSION, read=int), _schema(const=1)]
Count = Annotated[int, _from_text(amount.count), _schema(type="integer", minimum=1, maximum=amount.MOST_STITCHES)]
Limit = Annotated[int, _from_text(_limit), _schema(type="integer", minimum=0)]
Amount = Annotated[Fraction, _from_text(amount.amount), _schema(type="number", exclusiveMinimum=0)]
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
Wearer = Annotated[Literal["baby"], _one_of("baby", mend="Leave it out for everybody else."), _schema(const="baby")]
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
CastOnMethod = Annotated[Method, _one_of(*METHODS, told="long-tail, knitted or cable"), _schema(enum=list(METHODS))]
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
