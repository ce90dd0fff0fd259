"""When a stroke is painted: as soon as its key is done, with all that it changes, unless something else is to be done
first."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from at_the_needles import At, opened, painted
from settled import settled
from textual import events
from textual.geometry import Region
from textual.strip import Strip

from companion.dialogue.at_the_board import draw
from companion.screens.drawing import DrawingScreen
from companion.screens.lines import Lines
from tests.dialogue.at_the_easel import plan


def board(at: At) -> DrawingScreen:
    """The board."""
    assert isinstance(at.app.screen, DrawingScreen)
    return at.app.screen


def pictures_of(at: At) -> list[list[str]]:
    """From now on, the lines of the terminal after each paint."""
    pictures: list[list[str]] = []
    at.app.post_display_hook = lambda: pictures.append(painted(at.app))  # Textual calls it then
    return pictures


async def test_a_stroke_is_painted_with_its_counts_as_soon_as_its_key_is_done_and_once(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.press("2")
        pictures = pictures_of(at)
        board(at).on_key(events.Key("space", " "))
        assert len(pictures) == 1
        said = "\n".join(pictures[0])
        for part in ("2 strands", "4 ends", "Row 2, stitch 1: ink", "[i]"):  # sand all over, and one stitch of ink
            assert part in said
        await settled()
        assert len(pictures) == 1


async def test_of_keys_that_come_together_the_first_are_painted_with_those_after_them(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.press("2")
        pictures, screen = pictures_of(at), board(at)
        for key in ("space", "left", "left", "left", "space"):
            screen.post_message(events.Key(key, None))
        await settled()
        assert "Row 2, stitch 4: sand" in "\n".join(pictures[0])
        assert "Row 2, stitch 4: ink" in "\n".join(pictures[1])
        assert pictures[-1] == painted(at.app)


@pytest.mark.parametrize("name", ["_set_dirty", "_dirty_widgets", "_on_timer_update"])
async def test_where_textual_lacks_what_paints_at_once_strokes_are_painted_as_usual(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    def found(self: object, asked: str) -> object:
        if asked == name and sys._getframe(1).f_globals["__name__"].startswith("companion."):
            raise AttributeError(name)
        return object.__getattribute__(self, asked)

    for kind in (DrawingScreen, Lines):
        monkeypatch.setattr(kind, "__getattribute__", found)
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.press("2")
        pictures = pictures_of(at)
        await at.press("space")
        assert pictures[-1] == painted(at.app)
        assert "Row 2, stitch 1: ink" in "\n".join(pictures[-1])
        assert not [part for part in at.app.screen.query(Lines) if part._repaint_regions]


async def test_what_waits_to_be_painted_from_before_is_painted_with_a_stroke(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.press("2")
        screen = board(at)
        tools = screen.query_one("#tools", Lines)
        tools.refresh()
        screen.on_key(events.Key("space", " "))
        assert not tools._repaint_regions


async def test_where_parts_get_other_rooms_they_are_painted_once_they_have_them(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        screen, pictures = board(at), pictures_of(at)
        canvas, costs = (screen.query_one(name, Lines) for name in ("#canvas", "#costs"))
        was = costs.size.width
        screen.on_key(events.Key("z", "z"))
        assert not pictures
        await settled()
        assert costs.size.width != was
        assert canvas.size.width + costs.size.width == 80
        assert pictures[-1] == painted(at.app)


async def test_a_line_that_says_what_one_said_before_in_the_same_manner_is_the_very_same(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        canvas = board(at).query_one("#canvas", Lines)
        await at.press("2")
        before = [*canvas._strips]
        await at.press("space", "u")
        assert [*map(id, canvas._strips)] == [*map(id, before)]
        (said, *_), (aloud, *_) = (canvas._strip([("s", manner)], 1) for manner in ("quiet", "strong"))
        assert said.text == aloud.text
        assert said.style != aloud.style


async def test_all_that_a_stroke_changes_is_marked_to_be_painted_and_no_line_besides(tmp_path: Path) -> None:
    (tmp_path / "pier.yaml").write_text(plan(), encoding="utf-8")
    async with opened(lambda knitter: draw(knitter, tmp_path / "pier.yaml", tmp_path)) as at:
        await at.press("2")
        screen = board(at)
        screen.painting.act()
        for part in (screen.query_one(name, Lines) for name in ("#canvas", "#costs")):
            before, regions = [cells(strip) for strip in part._strips], list[Region]()
            assert part._drawn_anew(lambda *found, put=regions.extend: put(found))
            lines = enumerate(zip(before, map(cells, part._strips), strict=True))
            differ = {
                (x, y) for y, (was, now) in lines for x, (one, other) in enumerate(zip(was, now, strict=True))
                if one != other
            }
            marked = {(x, y) for region in regions for y in region.line_range for x in region.column_range}
            assert differ
            assert differ <= marked
            assert {y for _, y in differ} == {y for _, y in marked}


def cells(strip: Strip) -> list[tuple[str, object]]:
    """Every cell of a line with its style."""
    return [(sign, segment.style) for segment in strip for sign in segment.text]
