"""Text from plans and from the keyboard is data: shown letter by letter, whatever it looks like."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial
from pathlib import Path

import pytest
from at_the_needles import At, begun, on_disk, opened, shelf
from textual import events
from textual.widgets import Input

from companion.dialogue.basket import BasketList
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, show
from companion.progress.actions import Note

PLAN = """\
plan: 1
title: '{text}'
gauge: {{stitches: 20, rows: 28}}
yarns:
  '{text}': {{colour: tan}}
  sea: {{colour: navy}}
symbols:
  '[': '{text}'
  ']': sea
rows:
  - chart: |
      [[]][[
      [[]][[
      [[]][[
      [[[[[[
"""

MARKUP = "[MC] [/ [red]x"
LINK = "[@click=app.bell]$x[/]"
WIDE = "船灯 [b]"

KEYBOARD = "\x1b[31m\u202e[MC] [/ [red]x\u200f\x07"
"""Only a keyboard brings these: plans and names with control characters and direction marks are refused."""
SHOWN = "<001B>[31m<202E>[MC] [/ [red]x<200F><0007>"

Place = Callable[[At], Awaitable[None]]


def keys(*pressed: str) -> Place:
    async def press(at: At) -> None:
        await at.press(*pressed)

    return press


PLACES: dict[str, Place] = {
    "the working screen": keys(),
    "a change": keys("space"),
    "row mode": keys("m"),
    "the turn": keys("w"),
    "the chart": keys("c"),
    "the ends": keys("e"),
    "the strands": keys("s"),
    "after the last row": keys("w", "w", "w", "w"),
}


def plan(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(PLAN.format(text=text), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("place", "size"),
    [(place, (120, 40)) for place in PLACES]
    + [(place, (40, 15)) for place in ("a change", "row mode", "the turn")],
)
async def test_a_yarns_name_and_a_title_are_shown_as_they_are(
    tmp_path: Path, place: str, size: tuple[int, int]
) -> None:
    path = plan(tmp_path, MARKUP)
    begun(tmp_path, path, row=2)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path), size) as at:
        await PLACES[place](at)
        assert MARKUP in at.text


@pytest.mark.parametrize("text", [LINK, WIDE])
async def test_links_variables_and_wide_letters_are_shown_as_they_are(tmp_path: Path, text: str) -> None:
    path = plan(tmp_path, text)
    begun(tmp_path, path, row=2)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path)) as at:
        for pressed in ("space", "m", "e"):
            await at.press(pressed)
            assert text in at.text
        await at.press("escape", "s")
        assert text in at.text


async def test_a_note_with_control_characters_is_shown_and_not_obeyed(tmp_path: Path) -> None:
    path = plan(tmp_path, MARKUP)
    name = begun(tmp_path, path, row=2)
    with shelf(tmp_path).resume(name) as knitting:
        knitting.do(Note(1, KEYBOARD))
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path), (120, 40)) as at:
        assert f"Note: {SHOWN}" in at.part("end")
        assert not {"\x1b", "\u202e", "\u200f", "\x07"} & set(at.text)
        await at.press("n")
        assert "A note on row 1" in at.text
        assert not {"\x1b", "\u202e", "\u200f", "\x07"} & set(at.text)


async def test_what_is_pasted_into_a_question_is_not_obeyed(tmp_path: Path) -> None:
    path = plan(tmp_path, MARKUP)
    name = begun(tmp_path, path, row=2)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path), (120, 40)) as at:
        await at.press("n")
        at.app.screen.query_one(Input).post_message(events.Paste(KEYBOARD))
        await at.pilot.pause()
        assert SHOWN in at.text
        await at.press("enter")
        assert f"Note: {SHOWN}" in at.part("end")
    assert on_disk(tmp_path, name).notes == {0: SHOWN}


async def test_a_piece_name_is_shown_as_it_is_in_the_choice_of_pieces(tmp_path: Path) -> None:
    path = plan(tmp_path, MARKUP)
    begun(tmp_path, path, row=2, name=KEYBOARD)
    begun(tmp_path, path, row=3, name=LINK)
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path), (120, 40)) as at:
        assert SHOWN in at.text
        assert LINK in at.text


async def test_the_basket_shows_names_of_pieces_plans_and_files_as_they_are(tmp_path: Path) -> None:
    path = plan(tmp_path, MARKUP)
    begun(tmp_path, path, row=2)
    begun(tmp_path, path, row=2, name=KEYBOARD)
    (tmp_path / "pieces" / "[red]torn[.rowside").write_bytes(b"\x00" * 4096)
    (tmp_path / "[bold]x[.yaml").write_text("plan: 1\n", encoding="utf-8")

    def first(knitter: Knitter) -> Asking[None]:
        return show(BasketList(knitter, shelf(tmp_path), tmp_path, (path,)))

    async with opened(first, (120, 40)) as at:
        for text in (MARKUP, SHOWN, "[red]torn[ ", "[bold]x["):
            assert text in at.text
        await at.choose("[red]torn[")
        assert "[red]torn[.rowside" in at.letters
        await at.press("escape")
        await at.choose("[bold]x[")
        assert "[bold]x[.yaml" in at.letters


async def test_a_problem_quotes_the_plan_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    path.write_text(PLAN.format(text=MARKUP).replace("]][[\n      [[[", "]]z[\n      [[["), encoding="utf-8")
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=path), (120, 40)) as at:
        assert "[[]]z[" in at.text
