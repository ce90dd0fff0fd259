"""What is written at the end of the questions for a plan, and where it stands in the basket."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.dialogue.basket import BasketList, new_here
from companion.dialogue.knitter import Knitter
from companion.dialogue.new import answers
from companion.dialogue.new.piece import new_plan, what_next
from companion.dialogue.questions import Asking, Choice
from companion.drafts.blank import Border, Panel, panel_text
from companion.knitting.cloth.fabric import Ball, Gauge, Yarn
from companion.knitting.strands.limits import Carry
from companion.knitting.words.terms import US
from companion.plan.amount import AmissError, name, title
from companion.plan.demo import demo_plans
from companion.plan.read import load_text
from companion.progress.shelf import Shelf
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard


def said(longest: int, rule: Callable[[str], str]) -> st.SearchStrategy[str]:
    """Texts that a plan may say."""
    return st.text(st.characters(), min_size=1, max_size=longest).filter(lambda text: fits(text, rule))


def fits(text: str, rule: Callable[[str], str]) -> bool:
    """Whether a plan may say it at all."""
    try:
        rule(text)
    except AmissError:
        return False
    return True


HOSTILE = [
    "no", "1:30", "~", "- a", "a: b", "#x", "'", '"', "\\n", "{x}", "[x]", "!!int 3", "&a", "*a", "|", "%", "@",
    "sand # not", "null", "0x1f", "<<", "?", "=", "ä", "船", "\U0001f9f6", "[red]x[/]",
]  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(said(60, title), st.lists(said(20, name), min_size=1, max_size=4, unique=True))
def test_a_title_and_names_come_back_as_they_were_typed(text: str, names: list[str]) -> None:
    yarns = tuple(Yarn(called, "#d9c9a5", "") for called in names)
    panel = Panel(text, Gauge(Fraction(20), Fraction(28)), 6, 5, yarns, Border(), Carry(3))
    loaded = load_text(panel_text(panel), "it", {})
    assert loaded.piece.title == text
    assert [yarn.name for yarn in loaded.piece.yarns] == names


def test_words_that_yaml_takes_for_something_else_come_back_too() -> None:
    for text in HOSTILE:
        panel = Panel(text, Gauge(Fraction(20), Fraction(28)), 6, 5, (Yarn(text, "#d9c9a5", ""),), Border(), Carry(3))
        loaded = load_text(panel_text(panel), "it", {})
        assert (loaded.piece.title, loaded.piece.yarns[0].name) == (text, text)
        assert loaded.warnings == ()


# In the basket


def test_the_new_plan_stands_first_in_the_basket_and_can_be_knitted_at_once(tmp_path: Path) -> None:
    knitter, shelf, folder = Knitter(Settings()), Shelf(tmp_path / "pieces"), tmp_path / "plans"
    folder.mkdir()
    (folder / "a.yaml").write_text("plan: 1\n", encoding="utf-8")

    def basket() -> Asking[None]:
        yield BasketList(knitter, shelf, folder, demo_plans())

    keyboard = Keyboard(knitter, basket())
    keyboard.press("end", "N")
    while not (isinstance(keyboard.top.request, Choice) and "is written" in keyboard.top.request.text[0]):
        keyboard.press("enter")
    assert keyboard.top.request.lines == ("Draw in it", "Knit it", "Back to the work basket")
    keyboard.press("end", "enter")
    listing = keyboard.top.request
    assert isinstance(listing, BasketList)
    assert listing.table.rows[0] == "Just written"
    listing.at = keyboard.top.at
    assert listing.in_full().startswith("quay-panel")
    assert [row[0].text for row in listing.table.rows if not isinstance(row, str)].count("quay-panel") == 1
    keyboard.press("enter", "space", "space", "q", "y")
    listing = keyboard.top.request
    assert isinstance(listing, BasketList)
    assert "Just written" not in listing.table.rows
    assert [card.title for card in shelf.cards()] == ["Quay panel"]


def test_the_command_ends_in_the_basket_and_where_it_is_left_at_once_nowhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    knitter, shelf = Knitter(Settings()), Shelf(tmp_path / "pieces")
    keyboard = Keyboard(knitter, new_here(knitter, shelf, "pier.yaml"))
    keyboard.press("escape")
    assert keyboard.open == []
    keyboard = Keyboard(knitter, new_here(knitter, shelf, "pier.yaml"))
    while not isinstance(keyboard.top.request, BasketList):
        keyboard.press("end" if keyboard.top.lines and "Knit it" in keyboard.top.lines else "", "enter")
    assert (tmp_path / "pier.yaml").is_file()


def test_the_trades_words_are_those_of_the_knitter(tmp_path: Path) -> None:
    uk = Knitter(Settings(terms="uk"))
    keyboard = Keyboard(uk, new_plan(uk, tmp_path))
    while not (isinstance(keyboard.top.request, Choice) and "A border" in keyboard.top.request.text[-1]):
        keyboard.press("enter")
    assert keyboard.top.request.lines[2] == "Moss stitch"
    assert US.seed == "seed stitch"


def test_what_is_offered_afterwards_can_be_left(tmp_path: Path) -> None:
    knitter = Knitter(Settings())
    keyboard = Keyboard(knitter, what_next(knitter, Shelf(tmp_path / "pieces"), tmp_path / "x.yaml"))
    keyboard.press("escape")
    assert keyboard.open == []


# Answers


@pytest.mark.parametrize(("typed", "ball"), [
    ("", Ball()), ("100m/50g", Ball(Fraction(100), Fraction(50))),
    ("50 g and 100 m", Ball(Fraction(100), Fraction(50))),
    ("2 oz", Ball(None, 2 * Fraction("28.349523125"))), ("85 metres", Ball(Fraction(85))),
])  # fmt: skip
def test_a_ball_is_told_in_metres_or_yards_grams_or_ounces(typed: str, ball: Ball) -> None:
    # An ounce is 28.349523125 g (international avoirdupois pound, 0.45359237 kg, in sixteen parts).
    assert answers.ball(typed) == ball


def test_a_name_for_the_file_comes_from_the_title(tmp_path: Path) -> None:
    assert answers.free_file(tmp_path, "Ada's  boat: No. 2!") == "ada-s-boat-no-2.yaml"
    assert answers.free_file(tmp_path, "../..") == "new-piece.yaml"
