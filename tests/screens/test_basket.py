"""The work basket: pieces, plans and demo plans, and what opens from it."""

from __future__ import annotations

from contextlib import AbstractAsyncContextManager
from datetime import datetime, timedelta
from pathlib import Path

from at_the_needles import EVENING, MAT, SWATCH, At, begun, on_disk, opened, shelf, where
from textual.widgets import OptionList

from companion.dialogue.basket import BasketList
from companion.dialogue.questions import show
from companion.plan.demo import TOLD, demo_plans
from companion.progress.actions import BindOff, Finish, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.screens.asking import ReadingScreen
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import BasketScreen

DEMOS = demo_plans()


def morning() -> datetime:
    """The clock on the day after everything was worked."""
    return EVENING + timedelta(hours=14)


def basket(tmp_path: Path) -> AbstractAsyncContextManager[At]:
    """The app with the basket of this test open."""
    (tmp_path / "plans").mkdir(exist_ok=True)

    return opened(lambda knitter: show(BasketList(knitter, shelf(tmp_path), tmp_path / "plans", DEMOS, morning)))


def lines(at: At) -> list[str]:
    return [str(option.prompt).strip() for option in at.app.screen.query_one(OptionList).options]


async def test_an_empty_basket_offers_the_demo_plans_and_starts_one(tmp_path: Path) -> None:
    async with basket(tmp_path) as at:
        assert lines(at) == ["Demo plans", *(f"{name}  {told}" for name, told in TOLD.items())]
        assert "swatch, 24 sts x 32 rows, 3 yarns; every kind of change, in one evening" in at.text
        await at.choose("swatch")
        assert "Cast on 24 sts in shell" in at.part("now")
        await at.press("w", "q", "y")
        assert isinstance(at.app.screen, BasketScreen)
        assert lines(at)[:2] == ["On the needles", "Harbour practice swatch  on the needles  1 of 32  yesterday"]
    assert where(on_disk(tmp_path)) == (1, 1)


async def test_pieces_plans_and_demos_stand_under_their_headings(tmp_path: Path) -> None:
    begun(tmp_path, row=24)
    begun(tmp_path, MAT, row=3, name="For Ada")
    plans = tmp_path / "plans"
    plans.mkdir()
    (plans / "pier.yaml").write_text(SWATCH.read_text(encoding="utf-8"), encoding="utf-8")
    (plans / "shopping.yaml").write_text("list: [yarn]\n", encoding="utf-8")
    (plans / "notes.txt").write_text("plan: 1\n", encoding="utf-8")
    async with basket(tmp_path) as at:
        shown = lines(at)
        assert shown[0] == "On the needles"
        assert "Harbour practice swatch  on the needles  23 of 32  2  yesterday" in shown[1:3]
        assert "For Ada  on the needles  2 of 42  yesterday" in shown[1:3]
        assert shown[3:5] == ["Plans in this folder", "pier"]
        assert shown[5] == "Demo plans"
        assert at.app.screen.query_one(OptionList).highlighted == 1


async def test_choosing_a_piece_leads_to_its_stitch(tmp_path: Path) -> None:
    begun(tmp_path, row=19, runs=2)
    async with basket(tmp_path) as at:
        await at.choose("Harbour practice swatch")
        assert isinstance(at.app.screen, KnittingScreen)
        assert "Row 19 of 32" in at.part("head")
        assert "✓s k6 shell ✓c" in at.part("runs")


async def test_n_starts_another_piece_of_a_plan_that_is_on_the_needles(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    async with basket(tmp_path) as at:
        await at.press("n", "y")
        assert "Cast on 24 sts in shell" in at.part("now")
    assert sorted(card.name for card in shelf(tmp_path).cards()) == [
        "Harbour practice swatch", "Harbour practice swatch 2",
    ]
    assert where(on_disk(tmp_path)) == (18, 2)


async def test_a_damaged_piece_is_told_and_the_others_open(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    begun(tmp_path, MAT)
    (tmp_path / "pieces" / "mooring-mat.rowside").write_bytes(b"not a piece of knitting" * 100)
    async with basket(tmp_path) as at:
        assert "mooring-mat  damaged" in lines(at) or "mooring-mat  cannot be opened" in lines(at)
        await at.choose("mooring-mat  ")
        assert "mooring-mat.rowside" in at.letters
        await at.press("escape")
        await at.choose("Harbour practice swatch")
        assert "Row 19 of 32" in at.part("head")


async def test_a_plan_with_problems_is_told_and_the_basket_stays(tmp_path: Path) -> None:
    plans = tmp_path / "plans"
    plans.mkdir()
    text = SWATCH.read_text(encoding="utf-8").replace("2c", "2z")
    (plans / "torn.yaml").write_text(text, encoding="utf-8")
    async with basket(tmp_path) as at:
        await at.choose("torn")
        assert isinstance(at.app.screen, ReadingScreen)
        assert "torn.yaml" in at.letters
        assert '"z"' in at.text
        await at.press("escape")
        assert isinstance(at.app.screen, BasketScreen)
    assert shelf(tmp_path).cards() == ()


async def test_a_shelf_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "pieces").write_text("a file, not a folder", encoding="utf-8")
    async with basket(tmp_path) as at:
        assert isinstance(at.app.screen, ReadingScreen)
        assert "is a file, not a folder" in at.text
        await at.press("escape")
        assert "Demo plans" in lines(at)


async def test_a_piece_bound_off_says_what_it_still_needs_until_it_is_finished(tmp_path: Path) -> None:
    begun(tmp_path, row=32)
    with shelf(tmp_path).resume("Harbour practice swatch") as knitting:
        knitting.do(WholeRow())
        knitting.do(BindOff())
    async with basket(tmp_path) as at:
        assert "Harbour practice swatch  finishing: 12 ends" in lines(at)[1]
    with shelf(tmp_path).resume("Harbour practice swatch") as knitting:
        for end, _ in all_ends(knitting.session):
            knitting.do(Weave(end))
        knitting.do(Finish())
        knitting.do(Finish())
    async with basket(tmp_path) as at:
        assert "Harbour practice swatch  finished" in lines(at)[1]


async def test_a_damaged_piece_is_set_aside_when_the_knitter_wants_that(tmp_path: Path) -> None:
    begun(tmp_path)
    torn = tmp_path / "pieces" / "pier.rowside"
    torn.write_bytes(b"\x00" * 4096)
    async with basket(tmp_path) as at:
        await at.choose("pier  damaged")
        assert "is damaged; put a copy from your backup in its place" in at.text
        await at.press("n")
        assert torn.exists()
        await at.choose("pier  damaged")
        await at.press("y")
        assert "pier.rowside.damaged-1" in at.letters
        await at.press("escape")
        assert not any("pier" in line for line in lines(at))
    assert not torn.exists()


async def test_light_and_dark_and_help_in_the_basket(tmp_path: Path) -> None:
    async with basket(tmp_path) as at:
        assert at.app.theme == "dark"
        await at.press("l")
        assert at.app.theme == "light"
        await at.press("question_mark")
        told = [line.split("  ")[1] for line in lines(at) if "  " in line]
        assert told == [
            "Choose", "New piece", "New plan", "Look", "Draw", "Rename", "Out of the basket", "Back in the basket",
            "Back",
            "A page up", "A page down", "Picture", "Settings", "Light or dark", "Help",
        ]  # fmt: skip
        await at.press(*"dark", "enter")
        assert at.app.theme == "contrast"
        await at.press("q")
        assert not at.app.is_running
