"""What one value of a plan may be: text in, exact value or an error out, and how an editor checks it."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Annotated, Literal

from pydantic_core import CoreSchema, PydanticCustomError
from pydantic_core.core_schema import no_info_plain_validator_function

from companion.knitting.cloth.fabric import TextureKind
from companion.knitting.cloth.rows import Method
from companion.plan import amount
from companion.plan.colours import NAMED

VERSION = "1"

TAG = "\0"
"""Begins the names of alternatives in an error's path; no key of a plan can hold it."""

KINDS: tuple[TextureKind, ...] = ("stockinette", "reverse", "garter", "seed")


_CAPITALS = {"type": "string", "pattern": "[A-Z]"}
"""To an editor: words in capitals are read as well, though it does not offer them so."""


def amiss(what: str, mend: str = "", known: tuple[str, ...] = (), value: str = "") -> PydanticCustomError:
    """An error whose message goes on from the key's name; the nearest of ``known`` to ``value`` is named with it."""
    return PydanticCustomError("amiss", "amiss", {"what": what, "mend": mend, "known": known, "value": value})


class _Read:
    """Stands beside a type: how what was typed becomes a value of it, and how an editor checks it.

    pydantic has annotations for both; for each it looks through the function and makes a schema of the type beside,
    which nothing here uses: a third of the time that reading a small plan took.
    """

    def __init__(self, read: Callable[[object], object], schema: dict[str, object]) -> None:
        self.read = read
        self.schema = schema

    def __get_pydantic_core_schema__(self, _type: object, _handler: object) -> CoreSchema:
        return no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, _core: CoreSchema, _handler: object) -> dict[str, object]:
        return {**self.schema}


def _from_text(convert: Callable[[str], object], **schema: object) -> _Read:
    """Turns the text that was typed into a value; ``schema``: how an editor checks it."""

    def validate(value: object) -> object:
        if not isinstance(value, str):
            raise amiss("must be a single value, not a list or a group of keys.")
        try:
            return convert(value)
        except amount.AmissError as error:
            raise amiss(error.what, amount.slip_in(value) or error.mend) from None

    return _Read(validate, schema)


def _kind(value: str) -> TextureKind:
    kind = next((kind for kind in KINDS if kind == value.lower()), None)
    if kind:
        return kind
    if value == "rib":
        raise amiss("needs its columns for a rib.", "Write the knit and the purl columns: {rib: [2, 2]}")
    if value == "moss":
        mend = 'UK moss, knit and purl changed over in every row: write seed, its US name, or "terms: uk".'
        raise amiss("names two stitches: US moss and UK moss are not the same.", mend)
    what = f"must be stockinette, reverse, garter, seed or {{rib: [2, 2]}}, {amount.is_(value)}."
    raise amiss(what, known=KINDS, value=value)


def _lines(value: object) -> object:
    """Lines of words, as a list or a block of text, as one text. In a list ":" is a mark of YAML's, and what stands
    behind it are lines, too."""
    lines = list(_lines_in(value)) if not isinstance(value, dict) else []
    words = "\n".join(line for line in lines if line is not None)
    if not words.strip() or None in lines:
        raise amiss("must be lines of words.", 'Such as "- bind off 3 at the beginning of the next 2 rows".')
    return words


def _lines_in(value: object) -> Iterator[str | None]:
    """Line by line; None is none."""
    match value:
        case str():
            yield value
        case list():
            for line in value:
                yield from _lines_in(line)
        case dict():
            for head, below in value.items():
                yield f"{head}:"
                yield from _lines_in(below) if not isinstance(below, dict) else [None]
        case _:
            yield None


def _one_of(
    *known: str, told: str = "", mend: str = "", read: Callable[[str], object] = str, **schema: object
) -> _Read:
    """Takes one of these words and turns it into a value. ``told``: how they are listed, if not as they stand."""

    def convert(value: str) -> object:
        if value.lower() not in known:
            raise amiss(f"must be {told or ' or '.join(known)}, {amount.is_(value)}.", mend, known, value)
        return read(value.lower())

    words = [read(word) for word in known]
    return _from_text(convert, **(schema or {"anyOf": [{"enum": words}, _CAPITALS]}))


_ONE_TWO = [1, 2, "1", "2"]
_TAKEN = ("0.5", "1", "1.5", "2")
_AS_RIDGES = "2 works a square as a garter ridge."
METHODS: tuple[Method, ...] = ("long-tail", "knitted", "cable")

_SIZED = r"( ?\([0-9., ]*\))?"
"""In brackets, the numbers of other sizes."""

_MEASURE = r"^[0-9]+(\.[0-9]+)? *"
_IN_TURN = "one: all in one yarn. each: every run of its row in its own."
_FROM_EDGES = "1: the seam lies half a stitch from each edge; 2: a whole stitch."
_SIDES = "left or right, as seen from the right side"

_WHOLE = {"type": ["integer", "string"], "pattern": f"^[0-9]+{_SIZED}$", "maximum": amount.MOST_STITCHES}
_WORD = ["string", "number", "boolean"]
"""What is typed is a text here, and to an editor what YAML makes of it."""

Version = Annotated[Literal[1], _one_of(VERSION, read=int, enum=[1, "1"])]
Count = Annotated[int, _from_text(amount.count, **_WHOLE, minimum=1)]
Limit = Annotated[int, _from_text(lambda value: amount.count(value, least=0), **_WHOLE, minimum=0)]
Right = Annotated[
    int | Literal["middle"],
    _from_text(amount.from_right, anyOf=[{**_WHOLE, "minimum": 0}, {"enum": ["middle"]}, _CAPITALS]),
]
Amount = Annotated[
    Fraction, _from_text(amount.amount, type=["number", "string"], exclusiveMinimum=0, pattern=_MEASURE + "$")
]
Length = Annotated[Fraction, _from_text(
    amount.length_cm, type="string", pattern=rf"^[0-9]+(\.[0-9]+)?{_SIZED} *(cm|mm|in)$",
)]  # fmt: skip
YarnLength = Annotated[Fraction, _from_text(amount.yarn_cm, type="string", pattern=_MEASURE + "(cm|mm|m|in|yd)$")]
Taken = Annotated[
    Fraction, _one_of(*_TAKEN, told="0.5, 1, 1.5 or 2 stitches", read=Fraction, enum=[0.5, 1, 1.5, 2, *_TAKEN])
]
Squares = Annotated[int, _one_of("1", "2", mend=_AS_RIDGES, read=int, enum=_ONE_TWO)]
Wearer = Annotated[Literal["baby"], _one_of("baby", mend="Leave it out for everybody else.")]
Dialect = Annotated[Literal["us", "uk"], _one_of("us", "uk")]
Hands = Annotated[Literal["right", "left"], _one_of("right", "left")]
Unit = Annotated[Literal["cm", "in"], _one_of("cm", "in")]
Worked = Annotated[Literal["flat", "round"], _one_of("flat", "round")]
Side = Annotated[Literal["left", "right"], _one_of("left", "right", told=_SIDES)]
Middle = Annotated[Literal["bound off", "held"], _one_of("bound off", "held", told='"bound off" or "held"')]
Worn = Annotated[Literal["front", "back"], _one_of("front", "back", mend="Leave it out for what is not worn.")]
CastOnMethod = Annotated[Method, _one_of(*METHODS, told="long-tail, knitted or cable")]
EdgeColours = Annotated[Literal["one", "each"], _one_of("one", "each", mend=_IN_TURN)]
SeamStitches = Annotated[int, _one_of("1", "2", mend=_FROM_EDGES, read=int, enum=_ONE_TWO)]
Switch = Annotated[
    bool, _from_text(amount.switch, anyOf=[{"type": "boolean"}, {"enum": list(amount.SWITCH)}, _CAPITALS])
]
Colour = Annotated[str, _from_text(amount.colour, type="string", anyOf=[
    {"pattern": "^#([0-9a-fA-F]{3}|[0-9a-fA-F]{6})$"}, {"enum": list(NAMED)},
    {"pattern": "^[A-Za-z -]*[A-Z -][A-Za-z -]*$"},
])]  # fmt: skip
Title = Annotated[
    str, _from_text(amount.title, type=_WORD, minLength=1, maxLength=amount.LONGEST_TITLE)
]
Said = Annotated[
    str, _from_text(amount.said, type=_WORD, minLength=1, maxLength=amount.LONGEST_SAID)
]
Wording = Annotated[str, _Read(_lines, {"anyOf": [
    {"type": "string", "minLength": 1}, {"type": "array", "items": {"type": ["string", "object"]}, "minItems": 1},
]})]  # fmt: skip
Name = Annotated[str, _from_text(amount.name, type=_WORD, minLength=1, maxLength=amount.LONGEST_NAME)]
YarnMeant = Annotated[str, _from_text(amount.yarn_meant, type=_WORD, minLength=1, maxLength=amount.LONGEST_NAME)]
Symbol = Annotated[str, _from_text(amount.symbol, type="string", pattern=r"^[^.\s]$")]
Plain = Annotated[TextureKind, _from_text(
    _kind, anyOf=[{"enum": list(KINDS)}, {"const": "moss", "description": "As UK terms have it."}, _CAPITALS]
)]  # fmt: skip
PlanName = Annotated[str, _from_text(amount.plan_name, type=_WORD, minLength=1)]
FileName = Annotated[str, _from_text(amount.file_name, type=_WORD, minLength=1)]
Drawing = Annotated[str, _from_text(str, type=_WORD)]
