"""Small frozen values that cost little at the start of the program: `Value`, and as tuples `Record`.

Every class that ``typing.NamedTuple`` or ``dataclasses`` makes has methods of its own, written as text and compiled,
and the first compiles each annotation, too: a fifth of a millisecond a class, a quarter of this program's start.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import MISSING, Field, dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Self, dataclass_transform

__all__ = ["Record", "Value"]

if TYPE_CHECKING:  # what it is to everybody who writes and reads code; below is how it comes to be
    from typing import NamedTuple as Record
else:
    from _collections import _tuplegetter
    from collections import namedtuple

    class _Record(tuple):
        """What all records do alike."""

        __slots__ = ()
        _fields = ()

        def __new__(cls, *given, **named):
            """All fields by place need no more than this; names and defaults are left to what a named tuple of these
            fields has for them, made the first time that it is wanted."""
            if len(given) == len(cls._fields) and not named:
                return tuple.__new__(cls, given)
            owner = next(base for base in cls.__mro__ if "_fields" in base.__dict__)
            made = namedtuple(owner.__name__, owner._fields, defaults=owner._field_defaults.values())
            owner.__new__ = staticmethod(made.__new__)
            return owner.__new__(cls, *given, **named)

        @classmethod
        def _make(cls, fields: Iterable[Any]):
            """One of these fields in their order."""
            return cls(*fields)

        def _asdict(self):
            """Its fields by name, in their order."""
            return dict(zip(self._fields, self, strict=True))

        def _replace(self, **named):
            """The same but for these fields."""
            fields = self._asdict() | named
            if len(fields) > len(self):
                raise TypeError(f"{type(self).__name__} has {self._fields}; given: {named}")
            return tuple.__new__(type(self), fields.values())

        def __repr__(self):
            return f"{type(self).__name__}({', '.join(f'{k}={v!r}' for k, v in self._asdict().items())})"

        def __getnewargs__(self):
            return tuple(self)

    class _Making(type):
        def __new__(cls, name, _bases, namespace):
            fields = tuple(namespace.get("__annotations__", ()))
            defaults = {field: namespace[field] for field in fields if field in namespace}
            getters = {field: _tuplegetter(at, "") for at, field in enumerate(fields)}
            kept = {"__slots__": (), "_fields": fields, "_field_defaults": defaults, "__match_args__": fields}
            return type(name, (_Record,), namespace | getters | kept)

    class _Ancestor:
        def __mro_entries__(self, _bases):
            return (type.__new__(_Making, "Record", (), {}),)

    Record = _Ancestor()


@dataclass_transform(frozen_default=True)
class Value:
    """A frozen value that is no tuple; its fields are what its class annotates. One that ``has_defaults``, or is
    packed, or of which another is made by ``dataclasses.replace``, says so: its fields are made those of a data
    class, which takes half as long again."""

    __match_args__: ClassVar[tuple[str, ...]] = ()
    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]

    def __init_subclass__(cls, *, has_defaults: bool = False) -> None:
        cls.__match_args__ = tuple(cls.__annotations__)  # type: ignore[misc]  # each class has its own
        if has_defaults:
            dataclass(init=False, repr=False, eq=False)(cls)

    def __init__(self, *given: object, **named: object) -> None:
        names = self.__match_args__
        fields = dict(zip(names, given, strict=False)) | named
        if len(fields) < len(given) + len(named):
            raise TypeError(f"{type(self).__name__} takes {names}; given: {given}, {named}")
        if len(fields) < len(names) and hasattr(self, "__dataclass_fields__"):
            for name, field in self.__dataclass_fields__.items():
                if name not in fields and field.default is not MISSING:
                    fields[name] = field.default
                elif name not in fields and field.default_factory is not MISSING:
                    fields[name] = field.default_factory()
        if fields.keys() != {*names}:
            raise TypeError(f"{type(self).__name__} takes {names}; given: {given}, {named}")
        self.__dict__.update(fields)

    def _replace(self, **named: object) -> Self:
        """The same but for these fields, as of a record; seven times as quick as ``dataclasses.replace``."""
        names = self.__match_args__
        fields = {name: self.__dict__[name] for name in names} | named
        if len(fields) > len(names):
            raise TypeError(f"{type(self).__name__} has {names}; given: {named}")
        made = object.__new__(type(self))
        made.__dict__.update(fields)
        return made

    def fields(self) -> dict[str, object]:
        """Its fields by name, in their order."""
        return {name: getattr(self, name) for name in self.__match_args__}

    def __eq__(self, other: object) -> bool:
        return self is other or (isinstance(other, type(self)) and self.fields() == other.fields())

    def __hash__(self) -> int:
        return hash((type(self), *self.fields().values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}{tuple(self.fields().values())}"

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen")
