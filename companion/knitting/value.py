"""Small frozen values that cost next to nothing to define.

A data class or a named tuple has methods of its own written as text and compiled, a tenth to half a millisecond for
each class at every start of the program; of steps alone there are three dozen. These share their methods.
"""

from __future__ import annotations

from typing import Any, ClassVar, Self, dataclass_transform


@dataclass_transform(frozen_default=True)
class Value:
    """A frozen value. Its fields are what its class annotates; what is assigned there is what a field is unless it is
    given. Values of one class with equal fields are equal.

    Raises:
        TypeError: a field is missing, given twice, or not known.
        AttributeError: a field is to be changed or deleted.
    """

    __match_args__: ClassVar[tuple[str, ...]] = ()
    _needed: ClassVar[frozenset[str]] = frozenset()

    def __init_subclass__(cls) -> None:
        names = tuple(cls.__annotations__)
        cls.__match_args__ = names  # type: ignore[misc]  # each class has its own
        cls._needed = frozenset(name for name in names if not hasattr(cls, name))

    def __init__(self, *given: object, **named: object) -> None:
        names = self.__match_args__
        fields = dict(zip(names, given)) | named  # noqa: B905 -- that there are too many is seen below
        if len(fields) != len(given) + len(named) or not self._needed <= fields.keys() <= frozenset(names):
            raise TypeError(f"{type(self).__name__} takes {', '.join(names)}; given: {given}, {named}")
        self.__dict__.update(fields)

    def fields(self) -> dict[str, Any]:
        """Its fields by name, in their order."""
        return {name: getattr(self, name) for name in self.__match_args__}

    def changed(self, **what: object) -> Self:
        """The same with these fields changed."""
        return type(self)(**(self.fields() | what))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, type(self)) and self.fields() == other.fields()

    def __hash__(self) -> int:
        return hash((type(self), *self.fields().values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in self.fields().items())})"

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} cannot be changed")

    def __delattr__(self, name: str) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen: {name} cannot be deleted")
