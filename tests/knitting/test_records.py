"""Records are named tuples in all that is used of them; ``typing.NamedTuple`` is the witness."""

from __future__ import annotations

import copy
import pickle
from typing import NamedTuple

import pytest

from companion.knitting.value import Record


class Ours(Record):
    """One of ours."""

    yarn: str
    stitches: int = 3
    is_cut: bool = False

    @property
    def loops(self) -> int:
        """Twice as many."""
        return 2 * self.stitches


class Theirs(NamedTuple):
    """The same, made by the standard library."""

    yarn: str
    stitches: int = 3
    is_cut: bool = False


class Longer(Ours):
    """It has no fields of its own."""


GIVEN: list[tuple[tuple[object, ...], dict[str, object]]] = [
    (("tide",), {}), (("tide", 4), {}), (("tide", 4, True), {}), ((), {"yarn": "tide"}),
    (("tide",), {"is_cut": True}), ((), {"stitches": 9, "is_cut": True, "yarn": "tide"}),
]  # fmt: skip


@pytest.mark.parametrize(("places", "names"), GIVEN)
def test_a_record_is_the_tuple_that_a_named_tuple_is(places: tuple[object, ...], names: dict[str, object]) -> None:
    for kind in (Ours, Longer):
        ours, theirs = kind(*places, **names), Theirs(*places, **names)
        assert tuple(ours) == theirs
        assert (ours.yarn, ours.stitches, ours.is_cut, ours.loops) == (*theirs, 2 * theirs.stitches)
        assert repr(ours) == repr(theirs).replace("Theirs", kind.__name__)
        assert hash(ours) == hash(theirs)
        assert ours._asdict() == theirs._asdict()
        assert type(ours) is kind
        changed = ours._replace(stitches=7)
        assert type(changed) is kind
        assert tuple(changed) == theirs._replace(stitches=7)
        for again in (pickle.loads(pickle.dumps(ours)), copy.copy(ours), kind._make(ours)):
            assert (type(again), again) == (kind, ours)


WRONG: list[tuple[tuple[object, ...], dict[str, object]]] = [
    ((), {}), (("tide", 1, True, 2), {}), (("tide",), {"yarn": "sand"}), (("tide",), {"colour": "blue"}),
]  # fmt: skip


@pytest.mark.parametrize(("places", "names"), WRONG)
def test_what_a_named_tuple_refuses_a_record_refuses(places: tuple[object, ...], names: dict[str, object]) -> None:
    for kind in (Ours, Theirs):
        with pytest.raises(TypeError):
            kind(*places, **names)


def test_a_field_is_neither_set_nor_added() -> None:
    ours = Ours("tide")
    with pytest.raises(AttributeError):
        ours.yarn = "sand"
    with pytest.raises(AttributeError):
        ours.colour = "blue"
    with pytest.raises((TypeError, ValueError)):
        ours._replace(colour="blue")


def test_fields_are_matched_by_their_places() -> None:
    match Ours("tide", 5):
        case Ours(yarn, 5, is_cut=False):
            assert yarn == "tide"
        case _:
            pytest.fail("not matched")
