"""Whatever is written on a screen can be read on its ground: reckoned from what is drawn, in every light.

Text and ground need 4.5 to 1, in the theme of high contrast 7 to 1 wherever the ground is not a yarn's own colour
(``tests/wcag.py`` names the source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from at_the_needles import CUSHION, MAT, SWATCH, At, at_the_needles, begun, evening, opened, shelf, until
from hypothesis import given
from hypothesis import strategies as st
from rich._palettes import STANDARD_PALETTE, WINDOWS_PALETTE
from rich.color import Color, ColorSystem, ColorType
from rich.style import Style
from textual.geometry import Region
from wcag import HIGH, LEAST, contrast

from companion.dialogue.at_the_board import draw
from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import Asking, show
from companion.knitting.cloth.colour import channels, grey_of, ink_on
from companion.screens.app import RowsideApp

LIGHTS = ("dark", "light", "contrast")

XTERM = (
    (0, 0, 0), (205, 0, 0), (0, 205, 0), (205, 205, 0), (0, 0, 238), (205, 0, 205), (0, 205, 205), (229, 229, 229),
    (127, 127, 127), (255, 0, 0), (0, 255, 0), (255, 255, 0), (92, 92, 255), (255, 0, 255), (0, 255, 255),
    (255, 255, 255),
)  # fmt: skip
"""The 16 colours of xterm as it comes (its resources color0 to color15), from memory."""

PALETTES = (XTERM, STANDARD_PALETTE._colors, WINDOWS_PALETTE._colors)
"""The 16 colours of three kinds of terminal; Rich takes its two from Wikipedia, "ANSI escape code"."""

SCREENS = {
    "a run": (CUSHION, 51, "space space"), "a row": (CUSHION, 51, "m space"), "a turn": (MAT, 15, "w"),
    "far": (CUSHION, 51, "c z"), "alone": (CUSHION, 51, "space f"),
    "ends": (SWATCH, 24, "e space down"), "techniques": (SWATCH, 5, "t down"), "leaving": (SWATCH, 19, "space q"),
    "marking": (SWATCH, 19, "x down down down enter"),
}  # fmt: skip
"""Plan, row and keys that lead to a screen."""

OPENED = {
    "the keys": "f1", "settings": "comma down", "strands": "s", "ripping": "r 2", "a note": "n", "a mishap": "x down",
    "the palette": "ctrl+p", "where": "i",
}  # fmt: skip
"""Keys that open something over the piece, which escape closes."""

LETTERS = re.compile(r"[^\s▀▄█▏▕─-╿▁-▟]")
"""What is read; blocks and lines that frame are not, unless large letters are made of them."""


def written(app: RowsideApp) -> Iterator[tuple[str, Style]]:
    """Every text on the terminal with how it is shown."""
    large = next((part.region for part in app.screen.query("#now") if part.display), Region())
    for y, strip in enumerate(app.screen._compositor.render_strips()):
        yield from ((text, style) for text, style, _ in strip if style and LETTERS.search(text))
        if large.y <= y < large.bottom:
            inside = strip.crop(large.x, large.right)
            yield from ((text, style) for text, style, _ in inside if style and re.search("[▀▄█]", text))


def shown(colour: Color | None, has_few: bool) -> list[tuple[int, int, int]]:
    """A colour as each kind of terminal shows it; one of 16 colours that which Rich writes to it."""
    assert colour is not None
    if has_few:
        colour = colour.downgrade(ColorSystem.STANDARD)
    if colour.type is ColorType.TRUECOLOR:
        return [colour.get_truecolor()] * len(PALETTES)
    assert colour.type is ColorType.STANDARD
    assert colour.number is not None
    return [palette[colour.number] for palette in PALETTES]


def too_faint(app: RowsideApp) -> set[tuple[str, float]]:
    """What has too little contrast."""
    theme, found, has_few = app.current_theme, set(), app.console.color_system == "standard"
    grounds = {theme.background, theme.surface, theme.foreground, theme.variables["alert"]}
    for text, style in written(app):
        assert style.bgcolor is not None
        is_high = app.theme == "contrast" and style.bgcolor.name in grounds
        inks, papers = (shown(colour, has_few) for colour in (style.color, style.bgcolor))
        ratio = min(contrast(*pair) for pair in zip(inks, papers, strict=True))
        if ratio < (HIGH if is_high else LEAST):
            found.add((text.strip(), round(ratio, 2)))
    return found


async def in_every_light(at: At, name: str = "") -> None:
    """The screen that is open is legible in each of them."""
    for light in LIGHTS:
        at.app.knitter.light = light
        at.app.take_up()
        await at.pilot.pause()
        assert any(True for _ in written(at.app))
        assert (name, light, too_faint(at.app)) == (name, light, set())


@pytest.fixture(params=["all colours", "sixteen colours", "no colours"])
def terminal(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """How many colours the terminal has."""
    if request.param == "sixteen colours":
        monkeypatch.delenv("COLORTERM")
        monkeypatch.setenv("TERM", "xterm")
    elif request.param == "no colours":
        monkeypatch.setenv("NO_COLOR", "1")
    return str(request.param)


@pytest.mark.usefixtures("terminal")
@pytest.mark.parametrize("name", SCREENS)
async def test_all_that_is_written_reads_well_on_its_ground(tmp_path: Path, name: str) -> None:
    plan, row, keys = SCREENS[name]
    async with at_the_needles(tmp_path, plan, row) as at:
        for key in keys.split():
            await at.press(key)
        await in_every_light(at)


@pytest.mark.usefixtures("terminal")
async def test_all_that_opens_over_a_piece_reads_well_on_its_ground(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, SWATCH, 19) as at:
        for name, keys in OPENED.items():
            for key in keys.split():
                await at.press(key)
            assert len(at.app.screen_stack) > 2, name
            await in_every_light(at, name)
            await at.press("escape")
            await until(lambda: len(at.app.screen_stack) == 2)


@pytest.mark.usefixtures("terminal")
async def test_the_basket_reads_well_on_its_ground(tmp_path: Path) -> None:
    begun(tmp_path, SWATCH, row=24)
    begun(tmp_path, MAT, row=9, name="For the kitchen")

    def first(knitter: Knitter) -> Asking[None]:
        return show(BasketList(knitter, shelf(tmp_path), tmp_path, (CUSHION, MAT, SWATCH), evening))

    async with opened(first) as at:
        await in_every_light(at)


@pytest.mark.usefixtures("terminal")
async def test_the_drawing_board_reads_well_on_its_ground(tmp_path: Path) -> None:
    """With a part selected, stitches marked, and a copy that is not set down."""
    (tmp_path / "swatch.yaml").write_text(SWATCH.read_text(encoding="utf-8"), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "swatch.yaml", tmp_path)) as at:
        keys = "shift+up shift+up left left left left left n s left left left up up space c v left up"
        await at.press(*keys.split())
        await in_every_light(at)


BRIGHT = """\
plan: 1
title: Signal flags
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns: {scarlet: {colour: "#f00000"}, plum: {colour: "#ff14ff"}, sea: {colour: "#3a7f8e"}}
symbols: {r: scarlet, p: plum, s: sea}
rows:
  - {chart: 6s 6p 6r, repeat: 12}
"""


async def test_bright_yarns_read_as_well_in_greys(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A grey by the channels alone is dark where the colour is red, and its letters are black."""
    monkeypatch.setenv("NO_COLOR", "1")
    plan = tmp_path / "flags.yaml"
    plan.write_text(BRIGHT, encoding="utf-8")
    async with at_the_needles(tmp_path, plan, row=3) as at:
        for keys in ("space", "c", "c s"):
            await at.press(*keys.split())
            await in_every_light(at, keys)
        greys = {style.bgcolor.name for _, style in written(at.app) if style.bgcolor}
        assert all(name[1:3] == name[3:5] == name[5:7] for name in greys)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_what_reads_on_a_colour_reads_on_its_grey(colour: tuple[int, int, int]) -> None:
    name = "#{:02x}{:02x}{:02x}".format(*colour)
    grey, ink = channels(grey_of(name)), channels(ink_on(name))
    assert len({*grey}) == 1
    assert contrast(grey, ink) >= LEAST
    assert contrast(grey, colour) <= 1.05


async def test_one_key_goes_through_all_lights(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path) as at:
        seen = [at.app.theme]
        for _ in LIGHTS:
            await at.press("l")
            seen.append(at.app.theme)
        assert seen == [*LIGHTS, LIGHTS[0]]
