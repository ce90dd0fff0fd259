"""Keys of the knitter's own at the drawing board on the screen: pressed, clicked, found, held while something is
asked."""

from __future__ import annotations

from pathlib import Path

from at_the_needles import At, opened, until
from textual.events import Key

from companion.dialogue.at_the_board import draw
from companion.screens.app import RowsideApp
from companion.screens.asking import AskWords
from companion.screens.drawing import DrawingScreen
from companion.screens.finding import FindingScreen
from companion.screens.tool_bar import ToolBar
from companion.settings import Settings
from tests.dialogue.at_the_easel import BLANK, plan

OWN = Settings(keys={
    "paint": ("tab", "plus"), "board_left": ("f6",), "text": ("space",), "help": ("f9",), "palette": ("ctrl+e",),
    "board_quit": ("ctrl+x",),
})  # fmt: skip


async def test_own_keys_paint_ask_find_and_leave_and_the_usual_ones_do_no_more(tmp_path: Path) -> None:
    file = tmp_path / "pier.yaml"
    file.write_text(plan(), encoding="utf-8")
    app = RowsideApp(lambda knitter: draw(knitter, file, tmp_path), OWN)
    async with app.run_test(size=(120, 40)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        await pilot.pause()
        at, board = At(app, pilot), app.screen
        assert isinstance(board, DrawingScreen)

        def drawn() -> str:
            assert board.painting.save()
            return file.read_text(encoding="utf-8").splitlines()[-1].strip()

        await at.press("left", "enter", "2", "question_mark", "q", "ctrl+p")
        assert (app.screen, drawn()) == (board, BLANK[-1])
        await at.press("f6", "tab", "f6", "plus")
        assert drawn() == "sssssiis"
        tools = board.query_one(ToolBar)
        assert {"tab", "space", "f9", "ctrl+x"} <= set(" ".join(at.lines[tools.region.y:]).split())
        await at.press("space", "i", "f6")
        assert isinstance(app.screen, AskWords)
        await at.press("escape")
        for key in ("f9", "ctrl+e"):
            await at.press(key)
            assert isinstance(app.screen, FindingScreen)
            await at.press(*"stitch left", "enter")
        assert (app.screen, board.painting.at.column) == (board, 5)
        await at.press("ctrl+x")
        assert not app.is_running


async def test_a_key_that_comes_while_a_question_is_put_away_is_for_the_board(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        board = at.app.screen
        assert isinstance(board, DrawingScreen)
        await at.press("t")
        at.app.screen.dismiss(None)
        board.on_key(Key("3", "3"))
        assert board.painting.yarn == "ink", "it is still asking"
        await at.pilot.pause()
        assert board.painting.yarn == "brick"


async def test_what_shows_more_of_a_chart_is_said_by_the_knitters_own_key(tmp_path: Path) -> None:
    (tmp_path / "wide.yaml").write_text(plan(["s" * 40] * 5), encoding="utf-8")
    own = Settings(keys={"board_zoom": ("f7",)})
    app = RowsideApp(lambda knitter: draw(knitter, tmp_path / "wide.yaml", tmp_path), own)
    async with app.run_test(size=(40, 15)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        await pilot.pause()
        at = At(app, pilot)
        await at.press("left", "right")
        assert "18 of 40 stitches seen: f7 shows more." in at.text
