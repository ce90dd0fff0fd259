"""In row mode the whole row is read from two metres: what is drawn is read back, letter by letter and yarn by yarn,
and is what the steps say, in their order. How large letters must be for that, test_two_metres tells.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Literal

import pytest
from at_the_needles import CUSHION, JUMPER, SIZES, SWATCH, at_the_needles, until
from rows_read_back import (
    begun,
    every_run,
    read,
    rows_of,
    to_come,
    wanted,
    worked_in,
)
from test_never_cut_off import Shown, begin_of, told
from test_two_metres import DEMOS, FLOATS, USUAL, place_of

from companion.knitting import words
from companion.knitting.hands import steps as do
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.progress.actions import On
from companion.progress.deciding import decide
from companion.progress.events import Mirrored, Planned
from companion.progress.fold import apply, begin
from companion.progress.session import Session
from companion.screens.figures import CLOSE
from companion.screens.knitting import KnittingScreen
from companion.screens.layout import main_width


@pytest.mark.parametrize("demo", DEMOS)
def test_every_row_is_read_back_whole_and_in_its_order(demo: str) -> None:
    """In one row at most what is to be had ready stands in words alone; in two at most its lengths have no room."""
    rows = [*rows_of(begin_of(DEMOS[demo]))]
    assert len(rows) > 20
    short = without_lengths = 0
    for session in rows:
        shown = Shown(session, *USUAL, is_row_mode=True)
        found = read(shown, session)
        if found != wanted(session):
            assert found == wanted(session, in_words="ready")
            short += 1
        if "HAVE READY" in wanted(session):
            has_lengths = re.search(r"Have ready: new \w+ \(\d", told(shown.end)) is not None
            assert has_lengths or "HAVE READY" in found
            without_lengths += not has_lengths
    assert short <= 1
    assert without_lengths <= 2


def test_acts_in_letters_that_stand_close_are_two_cells_apart_where_they_must_be_and_else_four() -> None:
    """Row 61 of the cushion has lines that have room for two, for three and for four; a cell is before a yarn."""
    session = next(one for one in rows_of(begin_of(CUSHION)) if one.at.row == 60)
    shown = Shown(session, *USUAL, is_row_mode=True)
    assert shown.plan.sizes.main == CLOSE
    gaps = [{len(text) for text, _ in line if text.isspace()} - {1} for line in shown.now[::3]]
    assert gaps == [{4}, {4}, {4}, {3}, {4}, {4}, {2}]


async def test_where_letters_leave_the_row_no_text_the_cursor_stands_at_its_end(tmp_path: Path) -> None:
    """In row 61 of the cushion; in row 60, beside the text, at the run in work."""
    async with at_the_needles(tmp_path, CUSHION, row=59) as at:
        await at.press("m")
        for row, start in ((60, "▶"), (61, "Row 60 is done. ")):
            while not at.lines[0].startswith(f" Row {row} of"):
                await at.press("space")
            await at.press("z")  # drawn anew
            assert at.lines[at.app.cursor_position.y].startswith(start)
        assert at.part("whole") == ""


def test_left_hands_read_their_rows_too() -> None:
    """Of the cushion some of the fullest, in which strands hang elsewhere for them; in row 59 what is to be had ready
    stands in words."""
    piece = load(CUSHION).piece
    strands = plan_strands(piece.for_hands(is_mirrored=True).rows, piece.carry).strands
    left = begin({0: piece}, (Planned.of(0, piece.carry, strands), Mirrored()))
    for session, right in zip(rows_of(left), rows_of(begin_of(CUSHION)), strict=True):
        if 54 <= session.at.row <= 58:
            shown = Shown(session, *USUAL, is_row_mode=True)
            assert read(shown, session) == wanted(session, in_words="ready" if session.at.row == 58 else "")
            assert wanted(session) != wanted(right)


@pytest.mark.parametrize("size", SIZES)
def test_yarns_told_apart_by_the_beginnings_of_long_names_are_read(tmp_path: Path, size: tuple[int, int]) -> None:
    """Their signs are the same in capitals."""
    plan = tmp_path / "tides.yaml"
    plan.write_text(TIDES, encoding="utf-8")
    rows = [*rows_of(begin_of(plan))]
    assert "12 [TIDE B] JOIN 5 [TIDE A]" in wanted(rows[1])
    told = [assert_told(Shown(session, *size, is_row_mode=True), session) for session in rows]
    assert "nothing" not in told or size == SIZES[0]
    assert told.count("all") == len(rows) or size[0] < USUAL[0]


TIDES = """\
plan: 1
title: Two tides
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  tide before the storm: {colour: "#2c6a7b"}
  Tide after the storm: {colour: "#f2e6c8"}
symbols: {t: tide before the storm, T: Tide after the storm}
rows:
  - plain: {rows: 1, stitches: 46, yarn: tide before the storm}
  - chart: |
      12t 6T 10t 6T 12t
      12t 5T 12t 5T 12t
"""


async def test_in_the_app_too_and_what_is_done_after_the_last_row_is_large_as_ever(tmp_path: Path) -> None:
    """24 stitches of tide and shell are on the needle."""
    async with at_the_needles(tmp_path, row=32) as at:
        await at.press("m")
        assert place_of("WS", at.lines) == (1, 5)
        assert at.lines[at.app.cursor_position.y].startswith("▶")
        await at.press("space")
        assert place_of("BIND OFF 24", at.lines) is not None
        assert at.part("whole") == ""


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_row_and_chart_are_seen_above_a_question(tmp_path: Path, size: tuple[int, int]) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=55, size=size) as at:
        await at.press("m")
        assert len(at.part("whole")) > 20
        assert at.app.screen.query_one("#now").size.width == main_width(*size)
        await at.press("q")
        screen = at.app.screen_stack[1]
        assert isinstance(screen, KnittingScreen)
        await until(lambda: screen._lent > 0)
        await at.pilot.pause()
        above = at.lines[:next(y for y, line in enumerate(at.lines) if "┌──" in line)]
        assert any("[sss]" in line for line in above)
        assert re.search(r"▶ *s +\(k1, p1\) 2 times, k1 sailcloth", "\n".join(above))


@pytest.mark.parametrize("size", [(40, 15), (60, 20)])
async def test_on_a_small_screen_the_run_in_work_is_seen_above_a_question(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    async with at_the_needles(tmp_path, CUSHION, row=55, size=size) as at:
        await at.press("m", "q")
        await until(lambda: any("┌──" in line for line in at.lines))
        await at.pilot.pause()
        assert any("▶" in line for line in at.lines)
        await at.press("n")
        await until(lambda: not any("┌──" in line for line in at.lines))


def test_what_must_be_said_once_leaves_the_fullest_row_whole() -> None:
    """Row 54 of the cushion has 13 runs, which take six rows of letters."""
    for session in rows_of(begin_of(CUSHION)):
        if session.at.row == 53:
            shown = Shown(session, *USUAL, is_row_mode=True, notice="Take a break. " * 20)
            assert read(shown, session) in every_run(session)
            assert told(shown.end).startswith("Take a break.")
            return


def test_letters_larger_than_need_be_are_not_worth_the_chart() -> None:
    small = 0
    for session in [*rows_of(begin_of(JUMPER))][::2]:
        for width, height in (USUAL, (100, 32)):
            plan = Shown(session, width, height, is_row_mode=True).plan
            assert plan.chart >= 3 or plan.sizes.main.down == 1
            small += plan.sizes.main.down == 1
    assert small < 60


def test_a_line_a_run_is_not_worth_the_chart() -> None:
    """Four runs of row 21 take four rows of letters; in a list they would take all lines that are left."""
    session = next(one for one in rows_of(begin_of(SWATCH)) if one.at.row == 20)
    shown = Shown(session, *USUAL, is_row_mode=True)
    assert shown.plan.chart >= 3
    assert "cross: " in told(shown.row)


def test_of_a_row_begun_run_by_run_what_is_left_is_read() -> None:
    seen = 0
    for session in [*rows_of(begin_of(SWATCH))][::3]:
        rest = apply(session, decide(session, On()))
        if rest.act is None and not rest.is_at_turn:
            shown = Shown(rest, *USUAL, is_row_mode=True)
            assert read(shown, rest) == wanted(rest)
            seen += 1
    assert seen > 5


@pytest.mark.parametrize(("width", "height"), SIZES[1:2] + SIZES[3:])
@pytest.mark.parametrize("plan", [SWATCH, JUMPER, CUSHION], ids=["swatch", "jumper", "cushion"])
def test_on_every_other_size_the_row_is_whole_in_letters_or_in_words(plan: Path, width: int, height: int) -> None:
    large = 0
    for session in [*rows_of(begin_of(plan))][::3]:
        shown = Shown(session, width, height, is_row_mode=True)
        if assert_told(shown, session) == "all":
            large += shown.plan.sizes.main.down > 1
        assert width < USUAL[0] or read(shown, session) == wanted(session)
    assert large > 5 or width < USUAL[0]


@pytest.mark.parametrize("demo", DEMOS)
def test_on_the_smallest_screen_the_first_run_is_large_and_the_row_in_words_where_it_is_not_whole(demo: str) -> None:
    """Where strands hang takes all of the room in a row of four at most; and in one of eight at most there is no room
    to tell it."""
    rows = [*rows_of(begin_of(DEMOS[demo]))][::3]
    shown = [Shown(session, *SIZES[0], is_row_mode=True) for session in rows]
    found = [assert_told(each, session) for each, session in zip(shown, rows, strict=True)]
    assert found.count("nothing") <= len(rows) / 4
    assert found.count("side") > 1 or found.count("all") > len(rows) / 2
    in_marks = ["◀" in told(each.row) for each, one in zip(shown, found, strict=True) if one != "all"]
    assert in_marks.count(True) <= len(rows) / 8


def test_the_catches_of_a_float_are_read_among_the_stitches(tmp_path: Path) -> None:
    plan = tmp_path / "floats.yaml"
    plan.write_text(FLOATS, encoding="utf-8")
    caught = [session for session in rows_of(begin_of(plan)) if "CATCH" in wanted(session)]
    assert "CARRY 3 4 [T] CATCH [L] 3 [T] CARRY 7 3 [L]" in wanted(caught[0])
    assert "CARRY 3 4 [T] CATCH [L] 4 [T] CATCH [L] 3 [T] CARRY 11 3 [L]" in wanted(caught[-1])
    for session in caught:
        assert assert_told(Shown(session, *USUAL, is_row_mode=True), session) == "all"


def assert_told(shown: Shown, session: Session) -> Literal["all", "side", "some", "nothing"]:
    """How much of the row letters tell. What they leave to words, words tell: where letters have room for every run,
    at most what is to be had ready and where strands hang; else they tell the beginning of the row, or its side and
    the first run, or that alone, at least as far as its first stitches, or nothing."""
    found, row, end = read(shown, session), told(shown.row), told(shown.end)
    assert "TURN" in found or "TURN" not in wanted(session) or "Turn, " in end
    assert "HAVE READY" in found or "HAVE READY" not in wanted(session) or "Have ready: " in end
    if found in every_run(session):
        assert row or found in every_run(session)[:2]
        return "all"
    first, *_ = runs = to_come(session)
    run = " ".join([*begun(first, session), *worked_in(first, session)[0]])
    side = session.rows[session.at.row].side
    assert any(one.startswith(found) for one in (*every_run(session), f"{side} {run}", run))
    assert not found or any(one.isdecimal() for one in found.split())
    for each in runs:
        assert f"{words.work_in_short(each, words.US)} {each.segment.yarn}" in row
    hanging = [step for each in runs for step in each.into if isinstance(step, do.Fetch) and step.where == "ahead"]
    assert row.count(" ahead") == len(hanging) or "◀" in row
    return "nothing" if not found else "side" if found.startswith(side) else "some"


def test_what_is_said_at_the_end_of_a_row_stands_in_full_before_the_row_does() -> None:
    """Row 30 of the pennant has four new strands, whose lengths take three lines."""
    session = next(one for one in rows_of(begin_of(DEMOS["anchor-pennant"])) if one.at.row == 29)
    shown = Shown(session, *USUAL, is_row_mode=True)
    assert shown.plan.end == 3
    assert re.search(r"Have ready: .* new \w+ \(\d.*\)\. Turn, the needle's tip ", told(shown.end))
