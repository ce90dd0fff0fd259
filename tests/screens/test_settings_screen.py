"""Settings on the screen: changed with enter, kept in the file, in force at once; keys of one's own."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import painted
from textual.widgets import Static

from companion.dialogue.deeds import DEEDS, with_keys
from companion.dialogue.opening import AS_PLANNED, first_of
from companion.plan.demo import demo_folder
from companion.plan.read import load
from companion.progress import folders
from companion.progress.actions import AtRow
from companion.progress.shelf import Shelf
from companion.screens.app import RowsideApp
from companion.screens.asking import AskKey
from companion.screens.ends import EndsScreen
from companion.screens.key_line import KeyLine
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import KeysScreen, SettingsScreen
from companion.screens.plain_parts import PlainList
from companion.settings import Settings, read


@pytest.fixture(autouse=True)
def _home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))


def _app(settings: Settings | None = None, notice: str = "") -> RowsideApp:
    first = first_of(Shelf(folders.pieces()), demo_folder() / "swatch.yaml", None, AS_PLANNED)
    return RowsideApp(first, settings, notice)


async def test_enter_changes_a_setting_saves_it_and_speaks_it_at_once() -> None:
    app = _app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("comma")
        await pilot.pause()
        assert isinstance(app.screen, SettingsScreen)
        await pilot.press("enter")
        await pilot.press("down", "down", "down", "enter")
        assert read(folders.settings_file())[0] == Settings(terms="uk", light="light")
        assert app.theme == "light"
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, KnittingScreen)
        assert app.screen.query_one(KeyLine).terms.dialect == "uk"


async def test_a_setting_that_cannot_be_saved_is_not_changed_and_said(tmp_path: Path) -> None:
    app = _app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        (tmp_path / "settings.yaml").mkdir()
        await pilot.press("comma")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert app.settings == Settings()
        assert "settings.yaml" in str(app.screen.query_one("#title", Static).render())


async def test_keys_of_ones_own_work_and_stand_on_the_key_line() -> None:
    app = _app(Settings(keys={"on": ("j", "pagedown"), "quit": ("f9",)}))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        screen = app.screen
        assert isinstance(screen, KnittingScreen)
        await pilot.press("j", "j", "space", "pagedown")
        await pilot.pause()
        assert screen.sitting.session.row == 2
        line = "".join(text for text, _ in screen.query_one(KeyLine).draw(80, 1)[0])
        assert " j on" in line
        assert " f9 quit" in line


async def test_an_offer_of_ends_names_ones_own_key_and_that_key_shows_them() -> None:
    plan = demo_folder() / "harbour-light-cushion.yaml"
    with Shelf(folders.pieces()).start(load(plan), plan) as piece:
        piece.do(AtRow(29))
    app = RowsideApp(first_of(Shelf(folders.pieces()), plan, None, AS_PLANNED), Settings(keys={"ends": ("v", "e")}))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(app.screen, KnittingScreen)
        assert "and the wrong side faces you: press v, or knit on." in app.screen.sitting.notice
        await pilot.press("v")
        await pilot.pause()
        assert isinstance(app.screen, EndsScreen)


async def test_what_is_wrong_with_the_settings_is_said_on_opening() -> None:
    app = _app(Settings(keys={"onn": ("x",)}), "Settings: something.")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, KnittingScreen)
        said = 'Settings: something. No action is called "onn". Did you mean "on"? The plan says: '
        assert app.screen.sitting.notice.startswith(said)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"unpick": ("w",)}, 'The key "w" for "unpick" is taken: it is "Whole row".'),
        ({"on": ("left arrow",)}, '"left arrow" is not the name of a key.'),
        ({"ripp": ("x",)}, 'No action is called "ripp". Did you mean "rip"?'),
    ],
)
def test_a_key_map_that_does_not_fit_is_told_and_leaves_the_table_as_it_was(
    keys: dict[str, tuple[str, ...]], said: str
) -> None:
    assert with_keys(keys) == (DEEDS, (said,))


async def test_a_key_is_changed_by_pressing_it_and_is_in_force_and_on_the_key_line_at_once() -> None:
    app = _app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        needles = app.screen
        assert isinstance(needles, KnittingScreen)
        await pilot.press("comma")
        await pilot.pause()
        await pilot.press("end", "enter")
        await pilot.pause()
        assert isinstance(app.screen, KeysScreen)
        assert app.screen.query_one(PlainList).highlighted == 1, "the first deed at the needles: On"
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, AskKey)
        await pilot.press("ctrl+p")  # what finds an action is none that could be meant here
        await pilot.press("w")
        await pilot.pause()
        assert isinstance(app.screen, KeysScreen)
        assert "is taken" in str(app.screen.query_one("#title", Static).render())
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("j")
        await pilot.pause()
        assert read(folders.settings_file())[0].keys == {"on": ("j",)}
        await pilot.press("down", "down", "down", "down", "enter")
        await pilot.pause()
        await pilot.press("enter")  # no key is kept from being meant
        await pilot.pause()
        assert read(folders.settings_file())[0].keys == {"on": ("j",), "alone": ("enter",)}
        await pilot.press("escape")
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is needles
        assert painted(app)[-1].startswith(" j on")
        await pilot.press("space", "j")
        await pilot.pause()
        assert (needles.sitting.session.row, needles.sitting.session.done) == (0, 1)


async def test_a_key_of_a_list_is_in_force_in_the_list_that_is_open() -> None:
    app = _app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("comma")
        await pilot.pause()
        await pilot.press("end", "enter")
        await pilot.pause()
        options = app.screen.query_one(PlainList)
        options.highlighted = next(
            at for at, option in enumerate(options.options) if "Put the list away." in str(option.prompt)
        )
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("f9")
        await pilot.pause()
        assert " f9 back" in " ".join(painted(app)[-3:])
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, KeysScreen)
        await pilot.press("f9")
        await pilot.pause()
        assert isinstance(app.screen, SettingsScreen)
