"""Frozen values: made by place or name, compared by class and fields, never changed."""

from __future__ import annotations

import pytest

from companion.knitting.value import Value


class Knot(Value):
    """Where two lengths are tied, for these tests."""

    yarn: str
    stitch: int = 0


class Bow(Value):
    """Another one with the same fields."""

    yarn: str
    stitch: int = 0


def test_fields_are_given_by_place_or_by_name_and_have_what_is_usual() -> None:
    assert Knot("tide").fields() == {"yarn": "tide", "stitch": 0}
    assert Knot("tide", 3) == Knot(stitch=3, yarn="tide")
    assert repr(Knot("tide", 3)) == "Knot(yarn='tide', stitch=3)"
    assert Knot("tide").changed(stitch=4) == Knot("tide", 4)


@pytest.mark.parametrize("given", [((), {}), (("a", 1, 2), {}), (("a",), {"yarn": "b"}), (("a",), {"colour": "b"})])
def test_what_does_not_fit_is_refused(given: tuple[tuple[object, ...], dict[str, object]]) -> None:
    places, names = given
    with pytest.raises(TypeError, match="Knot takes yarn, stitch"):
        Knot(*places, **names)  # type: ignore[arg-type]  # wrong on purpose


def test_equal_are_those_of_one_class_with_equal_fields() -> None:
    assert Knot("tide", 1) != Knot("tide", 2)
    assert Knot("tide") != Bow("tide")
    assert len({Knot("tide"), Knot("tide", 0), Bow("tide")}) == 2


def test_a_value_is_never_changed() -> None:
    knot = Knot("tide")
    with pytest.raises(AttributeError):
        knot.stitch = 1  # type: ignore[misc]  # wrong on purpose
    with pytest.raises(AttributeError):
        del knot.yarn
    assert knot == Knot("tide")
