"""Keys of a plan as a group, and the stitches that several groups speak of."""

from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Discriminator, Field, Tag, ValidationError, model_validator
from pydantic_core import InitErrorDetails, PydanticCustomError

from companion.knitting.cloth.fabric import Texture, TextureKind
from companion.plan.schema.values import TAG, Count, Plain

OWN_KINDS: tuple[Literal["amiss", "unknown key", "no keys"], ...] = ("amiss", "unknown key", "no keys")
"""The kinds of errors that are made here, apart from pydantic's own."""


def hint(text: str, **more: Any) -> Any:
    """What an editor shows beside a key, and what else is to be said of its value."""
    return Field(description=text, **more)


class Shape(BaseModel):
    """Keys of a plan. Unknown ones are told together with the known ones, in place of a bare refusal."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=False, defer_build=True)

    @model_validator(mode="wrap")
    @classmethod
    def _tell_known_keys(cls, data: object, validate: "Callable[[object], Shape]") -> "Shape":
        known = tuple(field.alias or name for name, field in cls.model_fields.items())
        if not isinstance(data, dict):
            raise PydanticCustomError("no keys", "", {"known": known, "value": data if isinstance(data, str) else ""})
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
        own = PydanticCustomError(kind, "", context) if kind in OWN_KINDS else kind
        details.append(InitErrorDetails(type=own, loc=one["loc"], input=one["input"], ctx=context))
    return ValidationError.from_exception_data(title, details)


class Rib(Shape):
    """A rib, anchored to column 1 seen from the right side."""

    rib: Annotated[list[Count], hint("Knit columns, purl columns.", min_length=2, max_length=2)]


def is_text(value: object) -> str:
    return TAG + ("text" if isinstance(value, str) else "keys")


Stitch = Annotated[
    Annotated[Plain, Tag(TAG + "text")] | Annotated[Rib, Tag(TAG + "keys")],
    Discriminator(is_text),
    hint("How the stitches look from the right side."),
]


def texture(stitch: TextureKind | Rib) -> Texture:
    """The texture that a ``stitch`` key asks for."""
    if isinstance(stitch, Rib):
        return Texture("rib", (stitch.rib[0], stitch.rib[1]))
    return Texture(stitch)
