"""What has no room: the run in work never gives way, what can wait does and is told in words, what must be said once
says which key shows the rest of it."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import pytest
from at_the_needles import COWL, CUSHION, JUMPER, MAT, PLANS, SWATCH, At, at_the_needles, begun, shelf, until
from test_never_cut_off import Shown, one_press_a_row, told
from test_two_metres import place_of, written

from companion.dialogue.coming_back import greeting
from companion.dialogue.opening import open_plan
from companion.dialogue.saying import IN_FULL
from companion.dialogue.telling import Telling, telling
from companion.knitting.hands.steps import HaveReady
from companion.knitting.words import US, shown_by
from companion.progress.session import Session
from companion.screens.app import RowsideApp
from companion.screens.fitting import fitted
from companion.screens.flowing import whole_sentences
from companion.screens.layout import LEAST_CHART
from companion.screens.row_end import end_lines
from companion.settings import Settings

GULL = PLANS / "gull-on-the-quay.yaml"

SAID = "The piece is open elsewhere; here you may only look. Row 9 is done. You last worked the sand strand."


def at_rows_starts(plan: Path) -> list[Session]:
    """The sessions at the first run of every row after the first, one press a row."""
    return [one for one in one_press_a_row(plan) if one.act is None and one.next_place]


def as_text(height: int, more: str) -> list[str]:
    return ["".join(text for text, _ in line) for line in whole_sentences(SAID, height, 40, more=more)]


def test_after_the_last_sentence_that_has_room_stands_that_there_is_more() -> None:
    more = "... y shows all"
    assert as_text(3, more)[2:] == ["worked the sand strand."]
    assert as_text(2, more) == ["The piece is open elsewhere; here you", f"may only look. {more}"]
    assert as_text(1, more) == [f"The piece is open {more}"]
    assert as_text(0, more) == []
    assert (shown_by("y"), shown_by("")) == (more, "...")


async def why(at: At) -> str:
    """What is read behind the key."""
    await at.press("y")
    read = at.text
    await at.press("escape")
    return read


@pytest.mark.parametrize("keys", [(), ("f",), ("m",)], ids=["runs", "alone", "rows"])
async def test_what_is_said_on_coming_back_is_whole_or_behind_the_key_that_it_names(
    tmp_path: Path, keys: tuple[str, ...]
) -> None:
    """On the smallest screen in a row with four new strands, one of two of each yarn."""
    async with at_the_needles(tmp_path, CUSHION, row=43, size=(40, 15)) as at:
        await at.press(*keys)
        said, is_cut = "The cast-on tail hangs at the lower right now", "y shows all" in at.text
        assert is_cut == (said not in at.text)
        assert is_cut == (keys != ("f",)), "alone, letters that can wait leave it room"
        assert (said in await why(at)) == is_cut


async def test_what_is_seen_whole_is_not_repeated_behind_the_key(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=43) as at:
        assert "The cast-on tail hangs at the lower right now" in at.text
        assert "cast-on tail" not in await why(at)
        await at.press("space")
        assert "cast-on tail" not in await why(at), "it was said once"


async def test_what_the_plan_says_is_read_once_there(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, SWATCH, row=26, size=(40, 15)) as at:
        assert "y shows all" in at.text
        read = await why(at)
        assert read.index("Row 26, wrong side") < read.index("The plan says: In the second")
        assert read.count("The plan says") == 1


async def test_above_a_chart_that_fills_the_screen_it_is_the_same(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=43, runs=2, size=(40, 15)) as at:
        await at.press("c", "u")
        assert "the left needle goes from the front into the stitch below" in at.text
        assert "y shows all" in at.text
        assert "the sailcloth strand is in your hand" in await why(at)


async def test_the_key_is_her_own(tmp_path: Path) -> None:
    begun(tmp_path, CUSHION, 43)
    first, own = partial(open_plan, shelf=shelf(tmp_path), plan=CUSHION), Settings(keys={"why": ("f5",)})
    app = RowsideApp(first, own)
    async with app.run_test(size=(40, 15)) as pilot:
        await until(lambda: len(app.screen_stack) > 1)
        await pilot.pause()
        assert "... f5 shows all" in At(app, pilot).text
        app.exit()


@pytest.mark.parametrize("plan", sorted(PLANS.glob("*.yaml")), ids=lambda plan: plan.stem)
def test_on_the_smallest_screen_what_can_wait_gives_way_to_the_run_in_work_and_is_told_in_words(plan: Path) -> None:
    for session in at_rows_starts(plan):
        for step in session.row_end[-1]:
            if not isinstance(step, HaveReady):
                continue
            now = telling(session, US)
            main = next(act for act in now.acts if act.is_main)
            never_wait = [act.text.split()[0] for act in now.acts[:now.acts.index(main)] if not act.waits]
            for notice in ("", greeting(session, US)):
                shown = Shown(session, 40, 15, notice=notice)
                lines = written(shown.now)
                assert place_of(str(main.stitches or main.text.split()[0]), lines)
                assert not [word for word in never_wait if not place_of(word, lines)]
                assert place_of("READY", lines) or "Have ready: " in told(shown.end)
                alone = written(Shown(session, 40, 15, is_alone=True).now)
                assert place_of(str(main.stitches or main.text.split()[0]), alone)


@pytest.mark.parametrize("plan", [MAT, CUSHION, JUMPER, COWL, GULL], ids=lambda plan: plan.stem)
def test_on_coming_back_to_a_rows_start_the_chart_is_there(plan: Path) -> None:
    """In the usual size; all that is said has room beside it, and the letters are as large as ever."""
    for session in at_rows_starts(plan):
        notice, now = greeting(session, US), Telling(session, US, IN_FULL._replace(is_ready=True))
        plain, back = fitted(now, 80, 24), fitted(now, 80, 24, notice=notice)
        assert back.chart >= LEAST_CHART
        assert back.end >= end_lines(now, 80, notice, is_short=True)
        assert back.sizes.main == plain.sizes.main
