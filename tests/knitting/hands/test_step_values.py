"""Steps as values: every field given once, equal by class and fields, never changed."""

from __future__ import annotations

import pytest

from companion.knitting.hands.steps import CutCastOn, HaveReady, Trim, Wash, WeaveAtSeams, WeaveIn


def test_fields_are_given_by_place_or_by_name() -> None:
    assert HaveReady(("tide",), shared=()).fields() == {"yarns": ("tide",), "shared": ()}
    assert HaveReady(shared=(), yarns=("tide",)) == HaveReady(("tide",), ())
    assert repr(CutCastOn("tide")) == "CutCastOn('tide',)"


@pytest.mark.parametrize(("given", "named"), [((), {}), ((3, 4), {}), ((3,), {"ends": 3}), ((3,), {"yarn": "tide"})])
def test_a_field_that_is_missing_too_many_twice_or_unknown_is_refused(
    given: tuple[int, ...], named: dict[str, object]
) -> None:
    with pytest.raises(TypeError, match="WeaveIn takes"):
        WeaveIn(*given, **named)


def test_equal_are_those_of_one_class_with_equal_fields() -> None:
    assert WeaveIn(3) != WeaveIn(4)
    assert WeaveIn(3) != WeaveAtSeams(3)
    assert Wash() != Trim()
    assert len({WeaveIn(3), WeaveIn(3), WeaveAtSeams(3), Wash(), Trim()}) == 4


def test_a_step_is_never_changed() -> None:
    step = WeaveIn(3)
    with pytest.raises(AttributeError, match="frozen"):
        step.ends = 4
    assert step == WeaveIn(3)
