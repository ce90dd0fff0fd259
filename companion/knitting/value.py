"""Small frozen values that cost little at the start of the program."""

from __future__ import annotations

from typing import ClassVar, dataclass_transform


@dataclass_transform(frozen_default=True)
class Value:
    """A frozen value; its fields are what its class annotates. A named tuple has methods of its own, written as text
    and compiled, a tenth of a millisecond for each of three dozen classes at every start; these share theirs."""

    __match_args__: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        cls.__match_args__ = tuple(cls.__annotations__)  # type: ignore[misc]  # each class has its own

    def __init__(self, *given: object, **named: object) -> None:
        fields = dict(zip(self.__match_args__, given, strict=False)) | named
        if len(fields) < len(given) + len(named) or fields.keys() != {*self.__match_args__}:
            raise TypeError(f"{type(self).__name__} takes {self.__match_args__}; given: {given}, {named}")
        self.__dict__.update(fields)

    def fields(self) -> dict[str, object]:
        """Its fields by name, in their order."""
        return {name: getattr(self, name) for name in self.__match_args__}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, type(self)) and self.fields() == other.fields()

    def __hash__(self) -> int:
        return hash((type(self), *self.fields().values()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}{tuple(self.fields().values())}"

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen")
