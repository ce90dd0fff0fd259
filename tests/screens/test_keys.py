"""Keys that arrive all at once, help, questions that stand open, and another size of the terminal."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from at_the_needles import CUSHION, SWATCH, At, at_the_needles, begun, on_disk, opened, painted, shelf, until, where
from textual import events
from textual.widgets import Input, OptionList

from companion.dialogue.deed import key_words
from companion.dialogue.deeds import DEEDS, deeds_of
from companion.dialogue.finding import GROUPS
from companion.dialogue.opening import open_plan
from companion.knitting.hands.steps import name_of
from companion.knitting.words import US, tell
from companion.progress.actions import On
from companion.progress.deciding import decide
from companion.progress.fold import apply
from companion.screens.app import RowsideApp
from companion.screens.asking import AskWords, AskYes
from companion.screens.finding import FindingScreen
from companion.screens.knitting import KnittingScreen


def watched(app: RowsideApp) -> list[list[str]]:
    """From now on, every picture of the working screen that the app paints: the lines of the terminal after each."""
    pictures: list[list[str]] = []

    def see() -> None:
        if app.screen_stack and isinstance(app.screen, KnittingScreen):
            pictures.append(painted(app))

    # Textual calls this hook when a picture is painted.
    app.post_display_hook = see
    return pictures


async def test_fifty_keys_at_once_are_fifty_runs_and_acts_of_row_ends_each_of_them_painted(tmp_path: Path) -> None:
    name = begun(tmp_path, CUSHION, row=50)
    session = on_disk(tmp_path, name)
    wanted, kinds = list[tuple[str, str, str]](), set[str]()
    for _ in range(50):
        session = apply(session, decide(session, On()))
        place = session.next_place
        assert place is not None
        if session.act is not None:
            kinds.add(name_of(session.act))
            first, second, *_ = tell(session.act, "full", US).split()
            number = session.rows[session.row].number
            ending = f"Row {number} is done. Press space, then: "
            wanted.append((f"Row {number} of 112", f"{first} {second} ", ending))
            continue
        row = session.rows[place.row]
        left = sum(segment.stitches for segment in row.segments[place.segment:])
        yarn = session.piece.yarn(row.segments[place.segment].yarn)
        wanted.append((f"Row {row.number} of 112", f"▶{yarn.symbol} ", f"{left} of 80 "))
    assert kinds == {"cut", "have ready"}
    async with opened(partial(open_plan, shelf=shelf(tmp_path), plan=CUSHION)) as at:
        at.app.knitter.say = "short"
        pictures = watched(at.app)
        for _ in range(50):
            at.app.post_message(events.Key("space", " "))
        await until(lambda: all(text in "\n".join((pictures or [[]])[-1]) for text in wanted[-1]))
        await at.pilot.pause()
        assert where(on_disk(tmp_path, name)) == where(session)
        seen = iter(["\n".join(lines) for lines in pictures])
        for texts in wanted:
            # One after the other in the order of the pictures: each state was painted before the next.
            assert any(all(text in picture for text in texts) for picture in seen), texts


async def test_keys_of_several_kinds_at_once_are_done_in_their_order(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        for key, character in (("space", " "), ("w", "w"), ("u", "u"), ("backspace", None), ("space", " ")):
            at.app.post_message(events.Key(key, character))
        await until(lambda: where(on_disk(tmp_path)) == (20, 1))


async def test_keys_pressed_behind_a_question_answer_it_and_knit_nothing(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, runs=1) as at:
        await at.press("q")
        assert isinstance(at.app.screen, AskYes)
        await at.press("space", "w", "backspace")
        assert isinstance(at.app.screen, AskYes)
        assert where(on_disk(tmp_path)) == (19, 1)
        await at.press("escape", "r")
        assert isinstance(at.app.screen, AskWords)
        await at.press("a", "1", "w", "8")
        assert at.app.screen.query_one(Input).value == "18"
        await at.press("escape")
        assert where(on_disk(tmp_path)) == (19, 1)


async def test_help_finds_every_action_with_its_key(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, size=(160, 60)) as at:
        await at.press("f1")
        for deed in deeds_of("work"):
            assert f"{key_words(deed.keys)} {deed.title} {deed.about}" in at.text
        await at.press(*"chart up")
        assert [str(option.prompt) for option in at.app.screen.query_one(OptionList).options] == [
            "Looking at the chart", "up  Chart up  Look further up the chart.",
        ]  # fmt: skip
        await at.press("x")
        assert 'Nothing here is called "chart upx".' in at.text
        await at.press("enter", *["backspace"] * 9)
        assert "Tired hands: stop at pain" in at.text


def test_every_deed_at_the_needles_has_one_group_of_what_one_wants() -> None:
    grouped = [name for names in GROUPS.values() for name in names]
    assert sorted(grouped) == sorted({deed.name for deed in DEEDS if "work" in deed.where} | {"palette"})


@pytest.mark.parametrize("key", ["f1", "question_mark", "ctrl+p"])
async def test_an_action_found_in_help_is_done(tmp_path: Path, key: str) -> None:
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press(key)
        assert isinstance(at.app.screen, FindingScreen)
        await at.press(*"whole row", "enter")
        await until(lambda: where(on_disk(tmp_path)) == (19, 4))


async def test_the_screen_is_divided_anew_at_another_size_and_the_work_goes_on(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=19, size=(200, 60)) as at:
        for done, (width, height) in enumerate(((40, 15), (80, 24), (120, 40), (60, 20)), 1):
            await at.pilot.resize_terminal(width, height)
            await at.press("space")
            assert where(on_disk(tmp_path)) == (19, done)
            assert len(at.lines) == height
            assert {len(line) for line in at.lines} == {width}
            assert "Row 20 of 32" if done == 4 else "Row 19 of 32" in at.part("head")
            parts = [widget for widget in at.app.screen.query("Lines") if widget.display]
            assert all(widget.region.bottom <= height and widget.region.right <= width for widget in parts)
            assert sum(widget.region.area for widget in parts) <= width * height
            if done < 4:
                assert "Cross" in at.part("now")
            else:
                assert "Turn, the needle's tip toward you." in at.part("end")
            assert ("[" in at.part("chart")) == ((width, height) != (40, 15))


@pytest.mark.parametrize(("width", "height"), [(20, 5), (10, 3), (39, 14)])
async def test_a_screen_that_is_too_small_shows_what_it_can(tmp_path: Path, width: int, height: int) -> None:
    async with at_the_needles(tmp_path, row=19, size=(width, height)) as at:
        await at.press("space", "m", "space", "c", "c", "m", "e", "escape", "question_mark", "escape")
        assert where(on_disk(tmp_path)) == (19, 4)
        await at.pilot.resize_terminal(80, 24)
        await at.press("u")
        assert "Row 19 of 32" in at.part("head")


async def test_what_is_said_last_has_its_room_though_what_was_said_before_was_not_painted_yet(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, row=20) as at:
        screen = at.app.screen
        assert isinstance(screen, KnittingScreen)
        told = "Told, and planned on from what hangs now: six strands and fourteen ends. " * 2
        for notice in (told, "", told):
            screen.sitting.notice = notice
            screen.show()
            if not notice:
                continue
            await at.pilot.pause()
        await at.pilot.pause()
        assert at.part("end").startswith(" ".join(told.split()))
        assert "It is turned, wrong side toward you." in at.part("end")


def test_the_swatch_begins_its_buoy_in_row_19() -> None:
    assert "10t 4s 2c 4s" in SWATCH.read_text(encoding="utf-8")


async def test_the_key_line_shows_the_keys_of_what_is_possible_now_and_no_others(tmp_path: Path) -> None:
    always = {"on", "runs/rows", "note", "ends", "strands", "chart", "keys", "quit"}
    async with at_the_needles(tmp_path, row=1, size=(160, 30)) as at:
        assert key_line(at) == always | {"whole row"}, "nothing is worked that could be taken back"
        await at.press("space")
        assert key_line(at) == always | {"whole row", "back", "unpick", "rip"}
        await at.press("g")
        await at.type("33")
        assert key_line(at) == (always | {"back", "unpick", "rip"}) - {"on"}, "every row is worked"
        assert at.part("keys").startswith("space bound off ")


def key_line(at: At) -> set[str]:
    """What stands on the key line beside its keys."""
    line = f" {at.part('keys')} "
    return {deed.short for deed in deeds_of("work") if deed.short and f" {deed.key} {deed.short} " in line}
