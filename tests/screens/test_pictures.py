"""Pictures of the screens: whatever changes what a knitter sees changes one of these, on purpose or not.

Write them anew with ``pytest tests/screens/test_pictures.py --snapshot-update``, and README's with ``python -m
tests.screens.readme_pictures``; then look at each.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import timedelta
from functools import partial
from pathlib import Path

import pytest
from at_the_needles import CUSHION, EVENING, MAT, SWATCH, begun, shelf, until
from textual.pilot import Pilot

from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, show
from companion.screens.app import RowsideApp
from tests.screens.readme_pictures import FOLDER, TAKEN, picture

Compare = Callable[..., bool]


@pytest.fixture(autouse=True)
def colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same terminal everywhere."""
    for name in ("NO_COLOR", "TEXTUAL_THEME", "TEXTUAL_ANIMATIONS"):
        monkeypatch.delenv(name, raising=False)


def app(tmp_path: Path, plan: Path, row: int, runs: int = 0) -> RowsideApp:
    """A piece of the plan at a position."""
    begun(tmp_path, plan, row, runs)
    return RowsideApp(partial(open_plan, shelf=shelf(tmp_path), plan=plan))


def then(*keys: str) -> Callable[[Pilot[None]], object]:
    """Wait for the screen, then press these, one painted before the next."""

    async def press(pilot: Pilot[None]) -> None:
        await until(lambda: len(pilot.app.screen_stack) > 1)
        await pilot.pause()
        for key in keys:
            await pilot.press(key)
            await pilot.pause()

    return press


def test_the_working_screen(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, SWATCH, 21), run_before=then("space", "space"))


def test_the_smallest_working_screen(tmp_path: Path, snap_compare: Compare) -> None:
    keys = then("space", "space")
    assert snap_compare(app(tmp_path, CUSHION, 51), run_before=keys, terminal_size=(40, 15))


def test_the_working_screen_in_two_columns(tmp_path: Path, snap_compare: Compare) -> None:
    keys = then("space", "space")
    assert snap_compare(app(tmp_path, CUSHION, 51), run_before=keys, terminal_size=(120, 40))


def test_the_working_screen_without_colour(
    tmp_path: Path, snap_compare: Compare, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    assert snap_compare(app(tmp_path, SWATCH, 21), run_before=then("space", "space"))


def test_row_mode(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, CUSHION, 51), run_before=then("m"))


def test_the_turn_with_strands_to_cut_and_to_have_ready(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, MAT, 15), run_before=then("w"))


def test_the_greeting_on_a_light_screen(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, SWATCH, 22, runs=2), run_before=then("l"))


def test_the_ends(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, SWATCH, 24), run_before=then("e", "space"))


def test_the_strands(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, SWATCH, 19), run_before=then("s"))


def test_the_basket(tmp_path: Path, snap_compare: Compare) -> None:
    begun(tmp_path, SWATCH, row=24)
    begun(tmp_path, MAT, row=9, name="For the kitchen")

    def first(knitter: Knitter) -> Asking[None]:
        plans = (CUSHION, MAT, SWATCH)
        return show(BasketList(knitter, shelf(tmp_path), tmp_path, plans, lambda: EVENING + timedelta(9)))

    assert snap_compare(RowsideApp(first), run_before=then())


def test_the_keys(tmp_path: Path, snap_compare: Compare) -> None:
    assert snap_compare(app(tmp_path, SWATCH, 19), run_before=then("f1"))


@pytest.mark.parametrize("name", TAKEN)
@pytest.mark.skipif(sys.version_info[:2] != (3, 11), reason="the stored pictures are of Python 3.11")
def test_the_pictures_in_readme_are_of_the_app_as_it_is(tmp_path: Path, name: str) -> None:
    stored = (FOLDER / f"{name}.svg").read_text(encoding="utf-8")
    is_same = picture(name, tmp_path) == stored  # two pictures side by side would say nothing
    assert is_same, "python -m tests.screens.readme_pictures writes it anew"
