"""Every action of the table once: its key, what it saves, what it shows."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from at_the_needles import CUSHION, SWATCH, at_the_needles, begun, on_disk, shelf, until, where
from msgspec.structs import replace

from companion.dialogue.deed import PLACES
from companion.dialogue.deeds import DEEDS, deeds_of
from companion.dialogue.opening import open_plan
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End
from companion.screens.app import RowsideApp
from companion.screens.asking import AskWords, AskYes
from companion.screens.chart import ChartPanel
from companion.screens.ends import EndsScreen
from companion.screens.knitting import KnittingScreen
from companion.screens.lists import StrandsScreen
from companion.settings import Settings

# Row 19 of the swatch, a right-side row worked from the right: 6 shell, 2 coral, 4 shell, 12 tide.


@pytest.mark.parametrize("key", ["space", "enter", "pagedown"])
async def test_on_works_one_run_and_tells_the_next_with_its_change(tmp_path: Path, key: str) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press(key)
        assert where(on_disk(tmp_path)) == (19, 1)
        assert "Knit 2" in at.part("now")
        assert "18 of 24 still on the left needle" in at.part("now")
        assert "Join new coral (90 cm, loose) at the back" in at.part("now")
        assert "lay shell to your left across coral, then take coral up from under it." in at.part("now")
        assert "✓s k6 shell ▶c new k2 coral◀ s new k4 shell t k12 tide" in at.part("runs")


@pytest.mark.parametrize("key", ["backspace", "pageup"])
async def test_back_takes_back_the_last_action_whatever_it_was(tmp_path: Path, key: str) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("w", key)
        assert where(on_disk(tmp_path)) == (18, 2)
        assert "Row 19 of 32" in at.part("head")
        await at.press("space", "u", key)
        assert where(on_disk(tmp_path)) == (19, 1)


async def test_back_with_nothing_to_take_back_says_so(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path) as at:
        await at.press("backspace")
        assert at.part("end").startswith("There is nothing to take back.")
        await at.press("space")
        assert "nothing to take back" not in at.text


async def test_whole_row_works_to_the_end_of_the_row_from_anywhere_in_it(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=2) as at:
        await at.press("w")
        assert where(on_disk(tmp_path)) == (19, 4)
        assert at.part("end").startswith("Row 19 is done. 24 stitches must be on the needle.")
        assert "Turn, the needle's tip toward you." in at.part("end")


async def test_row_mode_tells_the_whole_row_and_one_press_is_a_row(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("m")
        assert at.part("whole") == (
            "At every change cross: old over new. "
            "▶ s k6 shell join new coral: c k2 coral join new shell: s k4 shell t k12 tide"
        )
        assert "█" in at.part("now")
        assert at.part("runs") == ""
        await at.press("space")
        assert where(on_disk(tmp_path)) == (19, 4)
        await at.press("m")
        assert at.part("whole") == ""
        await at.press("space")
        assert where(on_disk(tmp_path)) == (20, 1)


async def test_unpick_undoes_the_last_run_on_the_needles(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=2) as at:
        await at.press("u")
        assert where(on_disk(tmp_path)) == (19, 1)
        assert "▶c new k2 coral◀" in at.part("runs")
        await at.press("backspace")
        assert where(on_disk(tmp_path)) == (19, 2)


async def test_ripping_back_asks_for_a_row_and_tells_what_is_undone_before_it_does(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21, runs=2) as at:
        await at.press("r")
        assert isinstance(at.app.screen, AskWords)
        assert "which row stays as the last whole one? (0 to 20; 0 = the cast-on)" in at.text
        await at.type("18")
        assert isinstance(at.app.screen, AskYes)
        # Rows 19 and 20 have 24 stitches each, the first two runs of row 21 4 and 6.
        assert "3 rows undone, 58 stitches." in at.text
        assert "24 stitches must be left: they go on the left needle, " in at.text
        await at.press("n")
        assert where(on_disk(tmp_path)) == (21, 2)
        await at.press("r")
        await at.type("18")
        await at.press("y")
        assert where(on_disk(tmp_path)) == (18, 2)
        assert "Row 19 of 32" in at.part("head")


async def test_ripping_back_to_a_row_that_is_not_there_says_which_are(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=21) as at:
        await at.press("r")
        await at.type("99")
        assert "Say a row from 0 (the cast-on) to 19." in at.part("end")
        assert where(on_disk(tmp_path)) == (20, 4)


async def test_ripping_back_out_of_a_woven_end_says_so(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=24) as at:
        await at.press("e", "space", "escape", "r")
        await at.type("0")
        assert "1 end woven in comes out with what is undone" in at.text
        await at.press("y")
        assert on_disk(tmp_path).woven == frozenset()


async def test_i_am_at_row_goes_forward_with_everything_worked_as_planned(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=3) as at:
        await at.press("g")
        await at.type("19")
        assert where(on_disk(tmp_path)) == (18, 2)
        assert "Row 19 of 32" in at.part("head")
        await at.press("g")
        await at.type("2")
        assert "Say a row from 20 to 33" in at.part("end")
        assert where(on_disk(tmp_path)) == (18, 2)


async def test_a_note_stays_on_its_row_and_can_be_taken_away(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=1) as at:
        await at.press("n")
        assert "A note on row 19" in at.text
        await at.type("loose")
        assert on_disk(tmp_path).notes == {18: "loose"}
        assert "Note: loose" in at.part("end")
        await at.press("n", "escape")
        assert on_disk(tmp_path).notes == {18: "loose"}
        await at.press("n", *["backspace"] * 5, "enter")
        assert on_disk(tmp_path).notes == {}
        assert "Note" not in at.part("end")


async def test_the_ends_are_listed_marked_unmarked_and_filtered(tmp_path: Path) -> None:
    # 2.5 cm at 28 rows in 10 cm are 7 rows: with 23 rows done the starts of rows 1 and 5 are ready.
    async with at_the_needles(tmp_path, row=24) as at:
        assert "2 ends ready" in at.part("head")
        await at.press("e")
        assert isinstance(at.app.screen, EndsScreen)
        assert "Ends, on the fabric: 6. 2 are ready to weave in." in at.text
        assert "○ ready 1 RS start ▏s▕ shell the shell" in at.text
        assert at.text.count("Trim no end before the piece is washed and dry.") == 1
        assert "· too fresh 19 RS start ▏c▕ coral third from right" in at.text
        await at.press("space")
        assert on_disk(tmp_path).woven == {End(Place(0, 0), "start")}
        assert "✓ woven in 1 RS start ▏s▕ shell the shell" in at.text
        await at.press("f")
        assert "Ends ready to weave in: 1." in at.text
        await at.press("f")
        assert "Ends, woven in: 1." in at.text
        await at.press("space")
        assert on_disk(tmp_path).woven == frozenset()
        assert "Ends, woven in: 0." in at.text
        await at.press("f")
        assert "Ends, all, those to come too: 12." in at.text
        await at.press("escape")
        assert "2 ends ready" in at.part("head")


async def test_an_end_that_is_not_there_yet_cannot_be_woven_in(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=5) as at:
        await at.press("e", "f", "f", "f", "end", "space")
        assert "This end does not exist yet." in at.text
        assert on_disk(tmp_path).woven == frozenset()


async def test_the_strands_are_listed_by_place(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("s")
        assert isinstance(at.app.screen, StrandsScreen)
        assert "6 strands, 12 ends; at most 4 at once" in at.text
        await at.press(*["down"] * 4)
        assert "coral: row 27, 1 st. Joined in row 27 as the coral between tide and tide" in at.text
        await at.press("q")
        assert isinstance(at.app.screen, KnittingScreen)


async def test_the_chart_alone_takes_the_screen_and_gives_it_back(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("c")
        assert at.app.screen.query_one(ChartPanel).size == (80, 22)
        assert at.part("now") == at.part("runs") == at.part("end") == at.part("hanging") == ""
        await at.press("space")
        assert where(on_disk(tmp_path)) == (19, 1)
        await at.press("c")
        assert "Knit 2" in at.part("now")
        assert at.app.screen.query_one(ChartPanel).size.height < 10


async def test_parts_that_were_hidden_show_the_run_in_work_when_they_come_back(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("m", "space", "m")
        assert "Knit 2, purl 10" in at.part("now")
        assert "12 of 24 still" not in at.part("now")
        await at.press("m", "backspace", "m")
        assert "Knit 6" in at.part("now")


async def test_the_chart_is_drawn_near_with_symbols_and_far_without(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        # Seen from the right side: 12 tide, 4 shell, 2 coral and the six in work at the right, where the row starts.
        drawn = "".join(at.part("chart").split())
        assert "t" * 12 + "s" * 4 + "cc" + "[s]" * 6 + "◀19" in drawn
        await at.press("z")
        assert "▀" * 24 in at.part("chart")
        assert "t" * 12 + "s" * 4 + "cc" + "[ssss]◀19" in "".join(at.part("chart").split())
        await at.press("z")
        assert "▀" not in at.part("chart")


async def test_a_wrong_side_row_is_shown_as_it_is_held(tmp_path: Path) -> None:
    # Row 22, a wrong-side row, seen from the right side: 12 tide, 3 shell, 4 coral, 5 shell.
    async with at_the_needles(tmp_path, row=22) as at:
        assert "22▶" + "[t]" * 12 + "sss" + "cccc" + "sssss" in "".join(at.part("chart").split())
        assert at.part("head").startswith("Row 22 of 32 WS ──▶")
        await at.press("h")
        assert "sssss" + "cccc" + "sss" + "[t]" * 12 + "◀22" in "".join(at.part("chart").split())
        assert at.part("head").startswith("Row 22 of 32 WS ◀──")
        await at.press("w")
        assert at.part("head").startswith("Row 23 of 32 RS ◀──")
        assert "◀23" in "".join(at.part("chart").split())
        await at.press("backspace", "h")
        assert at.part("head").startswith("Row 22 of 32 WS ──▶")
        assert "22▶[t]" in "".join(at.part("chart").split())


async def test_a_wide_chart_scrolls_by_hand_and_comes_back_to_the_needles(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=51, runs=4, size=(60, 28)) as at:
        followed = at.part("chart")
        for key in ("up", "down", "left", "right"):
            await at.press(key)
            assert at.part("chart") != followed, key
            await at.press("home")
            assert at.part("chart") == followed, key
        await at.press("up", "up")
        assert "51" not in at.part("chart").split()
        await at.press("space")
        assert "◀51" in at.part("chart")


async def test_the_chart_follows_the_run_in_work(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=51) as at:
        await at.press(*["space"] * 9)
        assert where(on_disk(tmp_path, "Harbour light cushion")) == (51, 9)
        assert "sssss[rrrrrr]lllllllll" in at.part("chart")


async def test_light_and_dark(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path) as at:
        def ground() -> int:
            colour = at.app.screen.query_one("#now").rich_style.bgcolor
            assert colour is not None
            return sum(colour.get_truecolor())

        dark = ground()
        await at.press("l")
        assert ground() > dark + 300
        await at.press("l", "l")
        assert ground() == dark


async def test_quitting_in_mid_row_tells_the_best_place_to_stop_and_asks(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=1) as at:
        await at.press("q")
        assert isinstance(at.app.screen, AskYes)
        assert "18 stitches to the end of row 19; the best place to stop is after" in at.text
        assert "row 20, 42 stitches from here. 2 ends are ready to weave in; e shows them." in at.text
        assert "Everything is saved. Stop here?" in at.text
        await at.press("n")
        assert isinstance(at.app.screen, KnittingScreen)
        await at.press("q", "y")
        assert not at.app.is_running


async def test_quitting_in_the_middle_of_a_wrong_side_row_names_its_end(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20, runs=1) as at:
        await at.press("q")
        assert "12 stitches to the end of row 20, a good place to stop." in at.text


async def test_quitting_at_the_turn_asks_nothing_where_no_end_is_ready(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=7) as at:
        await at.press("q")
        assert not at.app.is_running


async def test_quitting_offers_the_ends_that_are_ready(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20) as at:
        await at.press("q")
        assert at.text.startswith("The best place to stop is after wrong-side row 20, 24 stitches from here. 2 ends")
        assert "2 ends are ready to weave in; e shows them. Everything is saved. Stop here?" in at.text
        await at.press("n", "e")
        assert isinstance(at.app.screen, EndsScreen)
        await at.press("f")
        assert "Ends ready to weave in: 2." in at.text
        await at.press("space", "space", "escape", "q", "y")
        assert not at.app.is_running
    assert len(on_disk(tmp_path).woven) == 2


async def test_at_a_turn_to_the_wrong_side_enough_ends_are_offered_and_knitting_on_declines(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=27) as at:
        at.app.knitter.settings = replace(at.app.settings, offer_at=4)
        await at.press("w")
        # The coral is to be cut first, with the right side still toward the knitter.
        assert "the coral between tide and tide, third from the right" in at.part("now")
        assert at.part("head").startswith("Row 27 of 32 RS ◀──")
        assert at.part("end") == "Row 27 is done. Press space, then: turn."
        await at.press("space")
        offered = "4 ends are ready to weave in, and the wrong side faces you: press e, or knit on."
        assert at.part("end").startswith(offered)
        assert "Turn, the needle's tip toward you." in at.part("end")
        await at.press("e")
        assert "Ends ready to weave in: 4." in at.text
        await at.press("escape", "space")
        assert "ready to weave in" not in at.text
        await at.press("w")
        assert "Cut, leaving a tail: " in at.part("now")
        await at.press("space")
        assert "ready to weave in" not in at.text
        await at.press("w")
        assert "ready to weave in" in at.part("end")
        await at.press("w")
        assert "ready to weave in" not in at.text
        at.app.knitter.settings = replace(at.app.settings, offer_at=0)
        await at.press("w")
        assert "ready to weave in" not in at.text


def test_every_action_of_the_table_has_a_key_of_its_own() -> None:
    assert len({deed.name for deed in DEEDS}) == len(DEEDS)
    for place in PLACES:
        keys = [key for deed in (*deeds_of(place), *deeds_of("anywhere")) for key in deed.keys]
        assert len(keys) == len(set(keys)) or place == "anywhere", place
        # Terminals send these as other keys; the bare escape waits.
        assert not {"ctrl+i", "ctrl+m", "ctrl+h", "ctrl+j", "tab"} & set(keys)
        assert place != "work" or "escape" not in keys
    assert {deed.name for deed in DEEDS} >= {
        "on", "back", "row", "mode", "unpick", "rip", "at", "note", "ends", "strands", "chart", "help", "quit",
    }


async def test_keys_can_be_mapped_anew_from_the_table(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    app = RowsideApp(partial(open_plan, shelf=shelf(tmp_path), plan=SWATCH), Settings(keys={"on": ("f5",)}))
    async with app.run_test() as pilot:
        await until(lambda: isinstance(app.screen, KnittingScreen))
        for key in ("f5", "pagedown", "space"):
            await pilot.press(key)
            assert where(on_disk(tmp_path)) == (19, 1)
        app.exit()


def test_the_swatch_is_the_one_these_tests_were_worked_out_for() -> None:
    assert "10t 4s 2c 4s" in SWATCH.read_text(encoding="utf-8")
