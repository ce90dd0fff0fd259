"""Values are frozen data classes in all that is used of them; ``dataclasses`` is the witness."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace
from functools import cached_property

import pytest
from msgspec.json import decode, encode

from companion.knitting.value import Value


class Ours(Value, has_defaults=True):
    """One of ours."""

    yarn: str
    stitches: int = 3
    rows: dict[str, int] = field(default_factory=dict)

    @cached_property
    def loops(self) -> int:
        """Twice as many."""
        return 2 * self.stitches


@dataclass(frozen=True)
class Theirs:
    """The same, made by the standard library."""

    yarn: str
    stitches: int = 3
    rows: dict[str, int] = field(default_factory=dict)


GIVEN: list[tuple[tuple[object, ...], dict[str, object]]] = [
    (("tide",), {}), (("tide", 4), {}), (("tide", 4, {"a": 1}), {}), ((), {"yarn": "tide"}),
    (("tide",), {"rows": {"a": 1}}), ((), {"stitches": 9, "rows": {}, "yarn": "tide"}),
]  # fmt: skip


@pytest.mark.parametrize(("places", "names"), GIVEN)
def test_a_value_has_the_fields_that_a_data_class_has(places: tuple[object, ...], names: dict[str, object]) -> None:
    ours, theirs = Ours(*places, **names), Theirs(*places, **names)
    assert ours.loops == 2 * theirs.stitches  # kept on the value, and no field of it
    assert ours.fields() == {each.name: getattr(theirs, each.name) for each in fields(Theirs)}
    assert [each.name for each in fields(Ours)] == [each.name for each in fields(Theirs)]
    assert replace(ours, stitches=7).fields() == replace(theirs, stitches=7).__dict__
    assert replace(ours, stitches=7).loops == 14
    changed = ours._replace(stitches=7)
    assert (type(changed), changed, changed.loops) == (Ours, replace(ours, stitches=7), 14)
    assert encode(ours) == encode(theirs)
    for again in (pickle.loads(pickle.dumps(ours)), copy.copy(ours), decode(encode(ours), type=Ours)):
        assert type(again) is Ours
        assert again == ours


WRONG: list[tuple[tuple[object, ...], dict[str, object]]] = [
    ((), {}), (("tide", 1, {}, 2), {}), (("tide",), {"yarn": "sand"}), (("tide",), {"colour": "blue"}),
    ((), {"rows": {}}),
]  # fmt: skip


@pytest.mark.parametrize("kind", [Ours, Theirs])
@pytest.mark.parametrize(("places", "names"), WRONG)
def test_what_a_data_class_refuses_a_value_refuses(
    kind: type[object], places: tuple[object, ...], names: dict[str, object]
) -> None:
    with pytest.raises(TypeError):
        kind(*places, **names)


@pytest.mark.parametrize("one", [Ours("tide"), Theirs("tide")])
def test_a_field_is_neither_set_nor_added(one: Ours | Theirs) -> None:
    for name in ("yarn", "colour"):
        with pytest.raises((AttributeError, FrozenInstanceError)):
            setattr(one, name, "blue")


def test_values_that_differ_in_a_field_or_in_kind_are_not_equal() -> None:
    assert Ours("tide") == Ours("tide", 3)
    assert Ours("tide") != Ours("sand")
    assert Ours("tide") != Theirs("tide")


def test_a_default_that_is_made_is_made_for_each() -> None:
    assert Ours("tide").rows is not Ours("tide").rows


def test_a_field_that_it_has_not_is_not_replaced() -> None:
    with pytest.raises(TypeError):
        Ours("tide")._replace(colour="blue")
