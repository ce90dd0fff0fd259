"""The pictures in README, taken from the running app: ``python -m tests.screens.readme_pictures`` writes them.

What the app gives is changed in one thing: block characters become rectangles, since most fonts leave lines between
them, and no font is fetched from anywhere.
"""

from __future__ import annotations

import asyncio
import os
import re
import tempfile
from functools import partial
from html import unescape
from pathlib import Path

from companion.dialogue.opening import open_plan
from companion.screens.app import RowsideApp
from tests.screens.at_the_needles import CUSHION, begun, shelf, until

FOLDER = Path(__file__).parent / "pictures"
ROW = 43
TAKEN = {
    "needles": (("space", "space"), (120, 40)),
    "chart": (("c", "z"), (88, 61)),
}
"""By name: the keys that are pressed at the cushion's row 43, and the columns and lines of the terminal."""

_TEXT = re.compile(r'<text class="([^"]+)" x="([\d.]+)" y="([\d.]+)" textLength="([\d.]+)"[^>]*>([^<]*)</text>')
_FONT = re.compile(r"    @font-face \{.*?\}\n", re.DOTALL)
_BLOCKS = {"█": (0, 0, 1, 1), "▀": (0, 0, 1, 0.5), "▄": (0, 0.5, 1, 0.5), "▌": (0, 0, 0.5, 1),
           "▐": (0.5, 0, 0.5, 1), "▏": (0, 0, 0.125, 1), "▕": (0.875, 0, 0.125, 1)}  # fmt: skip
"""Left edge, top, width and height of each, as parts of a cell."""
_LINE, _ABOVE = 24.4, 18.5
"""How high a line is in the app's pictures, and how far its top lies above the letters' foot."""


def picture(name: str, folder: Path) -> str:
    """One of the pictures as SVG; the piece that is knitted for it lies in a folder that may be thrown away."""
    keys, size = TAKEN[name]

    async def taken() -> str:
        begun(folder, CUSHION, ROW)
        app = RowsideApp(partial(open_plan, shelf=shelf(folder), plan=CUSHION))
        async with app.run_test(size=size) as pilot:
            await until(lambda: len(app.screen_stack) > 1)
            await pilot.pause()
            for key in keys:
                await pilot.press(key)
                await pilot.pause()
            drawn = app.export_screenshot(simplify=True)
            app.exit()
        return drawn

    drawn = _TEXT.sub(_with_rectangles, _FONT.sub("", asyncio.run(taken())))
    return re.sub(r"terminal-\d+-", f"{name}-", drawn)


def _with_rectangles(text: re.Match[str]) -> str:
    """A line's text, its block characters as rectangles beside what else stands in it."""
    kind, x, y, width = text[1], *map(float, text.groups()[1:4])
    signs = unescape(text[5])
    cell = width / len(signs)
    drawn = []
    for run in re.finditer("|".join(f"{sign}+" for sign in _BLOCKS), signs):
        left, top, wide, high = _BLOCKS[run[0][0]]
        many = len(run[0]) if wide == 1 else 1
        for at in range(run.start(), run.end(), many):
            drawn.append(
                f'<rect class="{kind}" x="{x + (at + left) * cell:.1f}" y="{y - _ABOVE + top * _LINE:.1f}" '
                f'width="{many * wide * cell:.1f}" height="{high * _LINE:.1f}" shape-rendering="crispEdges"/>'
            )
    if not drawn:
        return text[0]
    rest = re.sub("[" + "".join(_BLOCKS) + "]", "\N{NO-BREAK SPACE}", signs)
    return "".join(drawn) + (text[0].replace(text[5], rest) if rest.strip() else "")


if __name__ == "__main__":
    os.environ["COLORTERM"] = "truecolor"
    os.environ.pop("NO_COLOR", None)
    FOLDER.mkdir(exist_ok=True)
    for name in TAKEN:
        with tempfile.TemporaryDirectory() as folder:
            (FOLDER / f"{name}.svg").write_text(picture(name, Path(folder)), encoding="utf-8")
