"""What widgets drawn line by line paint: no more than what changed, and just what Textual would paint of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import SWATCH, At, opened, reopened
from hypothesis import given
from hypothesis import strategies as st
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Region
from textual.strip import Strip
from textual.widget import Widget

from companion.dialogue.at_the_board import draw
from companion.screens.canvas import Canvas
from companion.screens.lines import Lines, _segment, changed_part
from tests.dialogue.at_the_easel import SAIL, plan

Cells = list[tuple[str, Style | None]]


def cells(strip: Strip) -> Cells:
    """Every cell of a line with its style."""
    return [(sign, segment.style) for segment in strip for sign in segment.text]


BITS = st.lists(st.tuples(st.sampled_from("ab"), st.integers(1, 3), st.booleans()), max_size=6)


def line(bits: list[tuple[str, int, bool]]) -> Strip:
    """A line of twenty cells."""
    made = [Segment(sign * many, Style(bold=is_bold)) for sign, many, is_bold in bits]
    return Strip(made).adjust_cell_length(20, Style())


@given(BITS, BITS)
def test_the_part_that_changed_painted_over_the_old_line_gives_the_new_one(
    before: list[tuple[str, int, bool]], after: list[tuple[str, int, bool]]
) -> None:
    was, now = line(before), line(after)
    part = changed_part(was, now, 7)
    assert (part.y, part.height) == (7, 1)
    shown, new = cells(was), cells(now)
    shown[part.x:part.right] = new[part.x:part.right]
    assert shown == new


def test_of_one_stitch_that_changed_no_more_is_painted_than_the_runs_it_lies_in() -> None:
    was, now = line([("a", 3, False), ("b", 3, False)]), line([("a", 3, False), ("b", 2, False), ("b", 1, True)])
    assert changed_part(was, now, 0) == Region(3, 0, 3, 1)


def test_a_piece_of_a_line_shows_control_characters_and_obeys_none() -> None:
    piece = _segment("a\x1b[2Jb", Style())
    assert piece.text.isprintable()
    assert piece.text != "a[2Jb"


async def test_lines_that_say_the_same_in_another_width_fill_it(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(SAIL), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.pilot.resize_terminal(100, 24)
        await at.pilot.pause()
        for part in at.app.screen.query(Lines):
            assert {strip.cell_length for strip in part.render_lines(Region(0, 0, *part.size))} == {part.size.width}


async def as_textual_would(at: At) -> int:
    """How many of the screen's widgets paint themselves; each what Textual would make of its lines."""
    found = [part for part in at.app.screen.query(Lines) if part.size and not part.styles.gutter]
    for part in found:
        whole = Region(0, 0, *part.size)
        own, usual = part.render_lines(whole), Widget.render_lines(part, whole)
        assert [cells(strip) for strip in own] == [cells(strip) for strip in usual], part
        assert part._ground == part.background_colors[1]
    return len(found)


@pytest.mark.parametrize("colours", ["truecolor", "none", "sixteen"])
async def test_lines_are_painted_as_textual_would_paint_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, colours: str
) -> None:
    (tmp_path / "pier.yaml").write_text(plan(SAIL), encoding="utf-8")
    if colours == "none":
        monkeypatch.setenv("NO_COLOR", "1")
    if colours == "sixteen":
        monkeypatch.setattr("companion.screens.rowside.FEW_COLOURS", (None, "truecolor", "256", "standard"))
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        assert await as_textual_would(at) == 4
        await at.press("left", "2", "space", "f2")  # and on a light screen
        assert await as_textual_would(at) == 4
    async with reopened(tmp_path, SWATCH) as at:
        await at.press("space")
        assert await as_textual_would(at) > 3


async def test_in_another_light_nothing_is_shown_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(SAIL), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        tools = at.app.screen.query_one("#tools", Lines)
        before = {style for strip in tools._strips for _, style, _ in strip}
        await at.press("f2")
        after = {style for strip in tools.render_lines(Region(0, 0, *tools.size)) for _, style, _ in strip}
        assert before.isdisjoint(after)


async def test_lines_of_the_chart_that_are_kept_are_those_that_would_be_drawn(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(SAIL), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        canvas = at.app.screen.query_one(Canvas)
        for key in ("2", "space", "up", "a", "up", "left", "space", "u", "n", "n", "s", "up", "right", "space", "z",
                    "space", "z", "down", "f2", "w", "z", "v", "c", "v", "up", "escape"):  # fmt: skip
            await at.press(key)
            if key == "w":  # and a yarn in another colour
                text = (tmp_path / "pier.yaml").read_text(encoding="utf-8")
                (tmp_path / "pier.yaml").write_text(text.replace("black", "navy"), encoding="utf-8")
                assert canvas._painting.look()
                canvas.redraw()
            fresh = Canvas(canvas._painting)
            with canvas.app._context():
                assert canvas._lines == fresh.draw(*canvas.size), key
