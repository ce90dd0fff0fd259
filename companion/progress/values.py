"""Small frozen values: what ``dataclass(frozen=True)`` makes, without the millisecond that it takes for each class.

There are dozens of events and actions, and all of them are made before the first stitch is shown.
"""

from __future__ import annotations

from collections.abc import Sequence
from inspect import get_annotations
from typing import Any, ClassVar, NoReturn, Self, dataclass_transform


class Field:
    """One field of a value: its name, its type as it is annotated, and its default (``NONE``: it must be given)."""

    __slots__ = ("default", "name", "type")

    def __init__(self, name: str, type_: str, default: Any) -> None:
        self.name, self.type, self.default = name, type_, default


NONE: Any = object()


@dataclass_transform(frozen_default=True)
class Value:
    """A value of named fields, given in order or by name; equal to another of its class with the same fields."""

    NAMES: ClassVar[tuple[str, ...]] = ()
    FIELDS: ClassVar[tuple[Field, ...]] = ()

    def __init_subclass__(cls) -> None:
        types = get_annotations(cls)
        cls.NAMES = tuple(types)
        cls.FIELDS = tuple(Field(name, str(type_), cls.__dict__.get(name, NONE)) for name, type_ in types.items())
        type.__setattr__(cls, "__match_args__", cls.NAMES)

    def __init__(self, *given: Any, **named: Any) -> None:
        told = dict(zip(self.NAMES, given, strict=False))
        if named or len(given) != len(self.NAMES):
            self._fill_in(told, given, named)
        self.__dict__.update(told)

    @classmethod
    def filled(cls, given: Sequence[Any]) -> Self:
        """A value of all its fields, in order; nothing is checked. Histories may be long, so it is made quickly."""
        made = object.__new__(cls)
        made.__dict__.update(zip(cls.NAMES, given))  # noqa: B905 - to say that it is strict takes a third of the time
        return made

    def _fill_in(self, told: dict[str, Any], given: tuple[Any, ...], named: dict[str, Any]) -> None:
        """The fields that are named, and the defaults of the others."""
        name = type(self).__name__
        if len(given) > len(self.FIELDS) or named.keys() & told.keys() or named.keys() - set(self.NAMES):
            raise TypeError(f"{name} takes {', '.join(self.NAMES) or 'nothing'}")
        for field in self.FIELDS[len(given):]:
            value = named.get(field.name, field.default)
            if value is NONE:
                raise TypeError(f"{name} needs {field.name}")
            told[field.name] = value

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"{type(self).__name__} cannot be changed")

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and other.__dict__ == self.__dict__

    def __hash__(self) -> int:
        return hash((type(self), *self.__dict__.values()))

    def __repr__(self) -> str:
        told = ", ".join(f"{name}={value!r}" for name, value in self.__dict__.items())
        return f"{type(self).__name__}({told})"
