"""The demo plans are found and can be read without a warning."""

from __future__ import annotations

import pytest

from companion.plan.demo import demo_folder, demo_plans
from companion.plan.read import load


def test_the_demo_folder_holds_plans() -> None:
    folder = demo_folder()
    assert folder is not None
    assert demo_plans()
    assert all(path.parent == folder for path in demo_plans())


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_a_demo_plan_has_nothing_to_mend_and_no_warning(path) -> None:
    for size in load(path).sizes or ("",):
        assert load(path, size).warnings == ()
