"""The chart: how much of it is seen at a size, where it goes with the needles, and what tells its stitches apart."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from at_the_needles import CUSHION, JUMPER, MAT, PLANS, SWATCH, at_the_needles
from hypothesis import given
from hypothesis import strategies as st
from rich.style import Style
from test_never_cut_off import begin_of
from wcag import LEAST, contrast

from companion.progress.actions import AtRow, On, Replan, WholeRow
from companion.progress.deciding import decide
from companion.progress.fold import apply
from companion.progress.session import Session
from companion.screens.chart import ChartPanel
from companion.screens.chart_lines import State, View, faded, halved
from companion.screens.flowing import Line
from companion.screens.lines import inked

WIDE = ((SWATCH, 3), (MAT, 2), (JUMPER, 1), (CUSHION, 1))
"""Plans of 24, 30, 62 and 80 stitches, and the columns of a stitch on a screen of 80."""


@cache
def at_row(plan: Path, row: int) -> Session:
    """The session before the first stitch of a row."""
    session = begin_of(plan)
    return apply(session, decide(session, AtRow(row))) if row > 1 else session


def along(session: Session, presses: int) -> Iterator[Session]:
    """The sessions at one press after the other."""
    for _ in range(presses):
        yield session
        session = apply(session, decide(session, On()))


def drawn(
    session: Session, width: int, height: int, *, is_far: bool = False, is_held: bool = False
) -> list[Line]:
    """The chart's lines."""
    chart = ChartPanel()
    chart.is_far, chart.is_held = is_far, is_held
    chart.session = session
    return chart.draw(width, height)


def texts(lines: list[Line]) -> list[str]:
    """The lines as text."""
    return ["".join(text for text, _ in line) for line in lines]


@pytest.mark.parametrize(("plan", "columns"), WIDE, ids=[plan.stem for plan, _ in WIDE])
def test_on_the_usual_screen_the_whole_width_is_seen_each_stitch_as_wide_as_can_be(plan: Path, columns: int) -> None:
    session = at_row(plan, 9)
    lines = [line for line in drawn(session, 80, 12) if "[" in texts([line])[0]]
    assert [sum(len(text) for text, how in line if isinstance(how, Style)) for line in lines] == [
        columns * session.rows[8].stitches
    ]
    assert max(map(len, texts(lines))) <= 80


@pytest.mark.parametrize(("width", "ends"), [(80, "both"), (76, "right"), (72, "none")])
def test_row_numbers_stand_at_one_side_where_that_lets_the_stitches_be_wide(width: int, ends: str) -> None:
    """24 stitches of three columns and row numbers of three on either side are 78, on one 75; without any, stitches
    of two columns leave room for both."""
    session = at_row(SWATCH, 8)
    lines = texts(drawn(session, width, 12))[:-1]
    assert any("[t]" in line for line in lines) == (ends != "none")
    number = [line.rstrip().endswith("8") for line in lines]
    assert any(number) == (ends == "right")
    assert any("▶8" in line for line in lines) == (ends == "right")
    assert any("8▶" in line for line in lines) == (ends != "right")


def test_stitches_are_numbered_by_tens_from_the_right_each_number_below_its_stitch() -> None:
    session = at_row(SWATCH, 19)
    *_, work, foot = texts(drawn(session, 78, 8))
    assert foot.split() == ["20", "10"]
    first = 78 - 3 - 2  # the symbol of stitch 1, in the middle of its three columns, left of the row numbers
    for number in (10, 20):
        assert foot.rindex(str(number)) + 1 == first - 3 * (number - 1)
    assert len(work.rstrip()) >= first


@pytest.mark.parametrize("is_far", [False, True])
def test_a_bar_at_the_foot_lies_below_the_run_in_work(is_far: bool) -> None:
    for session in along(at_row(CUSHION, 51), 12):
        *_, foot = drawn(session, 100, 12, is_far=is_far)
        place = session.at
        if place.segment == len(session.rows[place.row].segments):
            continue
        bar = [how == "now" for text, how in foot for _ in text]
        columns = sorted(session.rows.segment(place).columns)
        right = len(bar)
        assert [right - at for at, is_bar in enumerate(bar) if is_bar][::-1] == columns


def test_in_the_far_view_the_row_in_work_stands_in_letters_and_its_run_in_brackets() -> None:
    session = at_row(SWATCH, 19)
    lines = texts(drawn(session, 78, 12, is_far=True))
    assert sum("t" * 12 + "s" * 4 + "cc" + "[ssss]◀19" in line for line in lines) == 1
    assert sum("▀" * 24 in line for line in lines) == 9
    assert sum("▄" * 24 in line for line in lines) == 1, "a row that has none above it is half a line"
    assert len(lines) == 12


async def test_without_colour_the_far_view_has_letters_in_every_row(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("z")
        assert "▀" not in at.part("chart")
        assert "t" * 12 + "s" * 4 + "cc" + "[ssss]◀19" in "".join(at.part("chart").split())


async def test_in_sixteen_colours_the_far_view_has_letters_in_every_row(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("COLORTERM")
    monkeypatch.setenv("TERM", "xterm")
    async with at_the_needles(tmp_path, row=19) as at:
        await at.press("z")
        assert "▀" not in at.part("chart")


@pytest.mark.parametrize("row", [51, 52])
def test_a_wide_chart_stays_where_it_is_for_half_a_screen_and_shows_where_the_run_begins(row: int) -> None:
    """80 stitches in 40 columns less the row numbers: 32 are seen, so there are four places at most to look at."""
    seen: list[tuple[int, int]] = []
    begun = at_row(CUSHION, row)
    for session in along(begun, len(begun.rows[row - 1].segments)):
        chart = ChartPanel()
        chart.session = session
        view = chart._view(session, 40, 10)
        low, right = chart._corner(session, view)
        first = session.rows.segment(session.at).first
        assert right <= first < right + view.across
        seen.append((low, right))
    changes = sum(one != other for one, other in pairwise(seen))
    assert len(seen) >= 10
    assert changes == len(set(seen)) - 1 <= 3, "it goes one way along the row, and never back"


def test_up_the_chart_it_goes_by_half_a_screen_and_the_row_in_work_is_never_at_an_edge() -> None:
    session, lows = begin_of(SWATCH), []
    while not session.is_worked:
        chart = ChartPanel()
        chart.session = session
        low, _ = chart._corner(session, view := chart._view(session, 80, 9))
        at = session.at.row - low
        assert at >= 1 or low == 0
        assert at < view.up - 1 or low + view.up == 32
        lows.append(low)
        session = apply(session, decide(session, WholeRow()))
    steps = {other - one for one, other in pairwise(lows)}
    assert steps == {0, view.up // 2}
    assert len(set(lows)) <= 32 // (view.up // 2)


@pytest.mark.parametrize("size", [(58, 30), (98, 46)])
@pytest.mark.parametrize("plan", [SWATCH, MAT], ids=["swatch", "mat"])
def test_on_large_screens_the_whole_width_and_as_many_rows_as_there_is_room_for_are_seen(
    plan: Path, size: tuple[int, int]
) -> None:
    session = at_row(plan, 9)
    lines = drawn(session, *size)
    assert len(lines) == min(size[1], len(session.rows.fabric.levels) + 1)
    chart = ChartPanel()
    assert chart._view(session, *size).across == session.piece.fabric.columns
    assert max(map(len, texts(lines))) <= size[0]


@given(st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}"))
def test_a_stitch_that_is_done_reads_as_well_as_any_text_must(colour: str) -> None:
    style = inked(faded(colour), underline=True)
    assert style.color is not None
    assert style.bgcolor is not None
    assert contrast(style.color.get_truecolor(), style.bgcolor.get_truecolor()) >= LEAST


@pytest.mark.parametrize("is_far", [False, True])
def test_a_step_within_a_row_draws_that_row_and_the_foot_anew_and_nothing_else(is_far: bool) -> None:
    chart, before = ChartPanel(), list[Line]()
    chart.is_far = is_far
    for session in along(at_row(CUSHION, 51), 6):
        chart.session = session
        after = chart.draw(100, 40)
        if before:
            assert len(after) == len(before)
            assert sum(one is not other for one, other in zip(before, after, strict=True)) == 2
        before = after


COASTER = PLANS / "bollard-coaster.yaml"
"""In rows 12 and 13 two strands of fog share the run; the one on the right hangs in gap 8, where iron begins in rows
11 and 14."""


@pytest.mark.parametrize(
    ("width", "is_far", "runs", "row_12", "row_13"),
    [
        (80, False, 0, "12▶" + "[f]" * 13 + "[f┃" + " f " * 8, " f " * 13 + " f┃" + " f " * 8 + " 13"),
        (80, False, 1, "12▶" + " f " * 13 + " f┃" + "[f]" * 8, " f " * 13 + " f┃" + " f " * 8 + " 13"),
        (60, False, 0, "12▶[ " + "f " * 12 + "]┃" + "f " * 8, "f " * 13 + "f┃" + "f " * 8 + " 13"),
        (60, False, 1, "12▶" + "f " * 13 + "f┃[ " + "f " * 6 + " ]", "f " * 13 + "f┃" + "f " * 8 + " 13"),
        (34, False, 0, "12▶[" + "f" * 12 + "]┃" + "f" * 7, "f" * 13 + "┃" + "f" * 8 + " 13"),
        (34, False, 1, "12▶" + "f" * 13 + "┃[" + "f" * 6 + "]", "f" * 13 + "┃" + "f" * 8 + " 13"),
        (34, True, 0, "[" + "f" * 12 + "]┃" + "f" * 7 + "▶12", "▀" * 14 + "╻" + "▀" * 7 + " 13"),
    ],
)
def test_where_strands_meet_in_a_run_a_line_stands_between_them_however_wide_a_stitch_is(
    width: int, is_far: bool, runs: int, row_12: str, row_13: str
) -> None:
    """At one column a stitch in place of a letter; in the far view in a column of fog alone, beside iron."""
    *_, session = along(at_row(COASTER, 12), runs + 1)
    lines = [line.strip() for line in texts(drawn(session, width, 9, is_far=is_far))]
    assert row_12.strip() in lines
    assert row_13.strip() in lines
    marks = [mark for line in lines for mark in line if mark in "┃╹╻"]
    assert len(marks) == 2


@pytest.mark.parametrize(("row", "line"), [(11, "┃"), (13, "╹"), (14, "┃"), (24, "┃")])
def test_far_off_it_stands_in_the_half_of_its_row(row: int, line: str) -> None:
    """The row in work stands alone, the others in pairs counted from it."""
    lines = texts(drawn(at_row(COASTER, row), 34, 30, is_far=True))
    far = [mark for text in lines if "▀" in text for mark in text if mark in "┃╹╻"]
    assert far == [line]


def test_far_off_it_stands_where_both_rows_are_of_one_colour_beside_it_and_nowhere_else() -> None:
    """Row 4 of the swatch is of shell alone, row 5 in its left half of tide."""
    session, view = at_row(SWATCH, 1), View(1, 24, 2, 0, has_foot=False, is_halved=True, is_turned=False)
    plain = State((), ())
    for gap, at in ((18, None), (12, 12), (6, 7), (1, 2)):
        [line] = texts([halved(session, (4, 3), 1, view, (State((), (), (gap,)), plain))])
        assert line == "".join("╹" if column == at else "▀" for column in range(24, 0, -1))
    view = view._replace(across=6)
    [line] = texts([halved(session, (4, 3), 7, view, (plain, State((), (), (6, 3, 12))))])
    assert line == "╻" "▀▀▀▀" "╻", "those at the edges of what is seen stand inside it"
    [line] = texts([halved(session, (4, 3), 7, view._replace(is_turned=True), (plain, State((), (), (6, 9))))])
    assert line == "╻▀▀╻▀▀"


def test_every_meeting_of_a_run_has_its_line(tmp_path: Path) -> None:
    """Three strands of sand hang in gaps 1, 3 and 5 after row 1, and are wanted there again in row 4."""
    plan = tmp_path / "specks.yaml"
    head = COASTER.read_text(encoding="utf-8").partition("\nrows:")[0]
    lines = "".join(f"      {line}\n" for line in ("fifif", "fffff", "fffff", "fifif"))
    plan.write_text(f"{head}\nrows:\n  - chart: |\n{lines}", encoding="utf-8")
    assert sum(text.count("┃") == 2 for text in texts(drawn(at_row(plan, 1), 12, 9))) == 2


def test_as_the_wrong_side_is_held_it_stands_at_the_same_place() -> None:
    """Eight stitches of fog to its left then, which are worked last."""
    for width, line in ((80, " f " * 7 + " f┃" + "[f]" * 14), (34, "f" * 7 + "┃[" + "f" * 12 + "]")):
        assert any(line in text for text in texts(drawn(at_row(COASTER, 12), width, 9, is_held=True)))


@pytest.mark.parametrize("is_far", [False, True])
@pytest.mark.parametrize("row", [12, 24])
def test_the_line_reads_as_well_as_any_text_must(row: int, is_far: bool) -> None:
    marks = [how for line in drawn(at_row(COASTER, row), 34, 30, is_far=is_far) for text, how in line if "┃" in text]
    assert marks
    for style in marks:
        assert isinstance(style, Style)
        assert style.color is not None
        assert style.bgcolor is not None
        assert contrast(style.color.get_truecolor(), style.bgcolor.get_truecolor()) >= LEAST


async def test_without_colour_the_line_is_there_near_and_far(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with at_the_needles(tmp_path, COASTER, 11) as at:
        for key in ("c", "z"):
            await at.press(key)
            assert at.part("chart").count("┃") == 2


def test_where_strands_meet_no_more_the_line_is_gone() -> None:
    chart, session = ChartPanel(), at_row(COASTER, 12)
    chart.session = session
    assert sum(text.count("┃") for text in texts(chart.draw(34, 30))) == 2
    chart.session = apply(session, decide(session, Replan(session.limits._replace(share_runs=False))))
    assert sum(text.count("┃") for text in texts(chart.draw(34, 30))) == 0
