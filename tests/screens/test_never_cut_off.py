"""Laws over many positions, sizes and both modes: what the hands must know now is on the screen, whole.

What must be there comes from the plan's drawing and the steps; the panels' lines are joined again and searched.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from at_the_needles import CUSHION, JUMPER, MAT, SIZES, SWATCH
from rich.cells import cell_len

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.runs import run_steps
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.progress.actions import Note, On, RipBack
from companion.progress.deciding import decide
from companion.progress.events import Planned
from companion.progress.fold import apply, begin
from companion.progress.session import Session
from companion.screens.figures import PLAIN, drawn
from companion.screens.fitting import fitted
from companion.screens.layout import main_width
from companion.screens.lines import Line, Lines
from companion.screens.now import NowPanel
from companion.screens.row_end import RowEndPanel
from companion.screens.row_panel import RowPanel
from companion.screens.row_strip import RowStrip
from companion.screens.starting import greeting

ROWS = {
    SWATCH: range(1, 33),
    MAT: range(7, 43, 7),
    CUSHION: (1, 9, 13, 16, 30, 42, 51, 57, 58, 64, 77, 90, 105),
    JUMPER: (25, 60, 84, 85, 86, 98, 99, 100),
}
"""All rows of the swatch; of the others a sample that holds the rows after which most is cut, and those where a piece
divides and its other part is taken up."""


@cache
def positions(plan: Path) -> tuple[Session, ...]:
    """The sessions at every run of the rows above, from the first stitch on, at the turns before and after, and at
    whatever their ends ask for."""
    piece = load(plan).piece
    found = []
    session = begin({0: piece}, (Planned(0, piece.carry, plan_strands(piece.rows, piece.carry).strands.strand_of),))
    while not session.is_worked:
        if session.at.row + 1 in ROWS[plan]:
            found.append(session)
        session = apply(session, decide(session, On()))
    return tuple(found)


def at_runs(plan: Path) -> Iterator[tuple[Session, Place]]:
    """Those with a run to be worked now, and where."""
    return ((session, session.at) for session in positions(plan) if session.act is None)


def told(lines: list[Line]) -> str:
    """The lines as one text."""
    return " ".join(" ".join("".join(text for text, _ in line) for line in lines).split())


class Shown:
    """What the parts of the working screen show of a session at a size."""

    def __init__(
        self, session: Session, width: int, height: int, is_row_mode: bool = False, notice: str = ""
    ) -> None:
        self.plan = fitted(session, width, height, words.US, is_row_mode=is_row_mode, notice=notice)
        self.width = main_width(width, height)
        now, row, runs, end = NowPanel(), RowPanel(), RowStrip(), RowEndPanel()
        for part in (now, row, runs, end):
            part.set_reactive(Lines.session, session)
        now.scale, now.name_lines = self.plan.scale, self.plan.name
        end.set_reactive(RowEndPanel.notice, notice)
        row.set_class(self.plan.is_wide and not is_row_mode, "-list")
        self.now = [] if is_row_mode else now.draw(self.width, self.plan.now)
        self.row = row.draw(self.width, self.plan.row) if self.plan.row else []
        self.runs = runs.draw(self.width, self.plan.runs) if self.plan.runs else []
        self.end = end.draw(self.width, self.plan.end)

    def parts(self) -> Iterator[tuple[list[Line], int]]:
        """Every part with the lines it has."""
        yield self.now, self.plan.now
        yield self.row, self.plan.row
        yield self.runs, self.plan.runs
        yield self.end, self.plan.end


size = pytest.mark.parametrize(("width", "height"), SIZES, ids=[f"{w}x{h}" for w, h in SIZES])
plan = pytest.mark.parametrize("plan", list(ROWS), ids=[path.stem for path in ROWS])


@size
@plan
def test_in_run_mode_count_yarn_hands_and_every_step_of_the_change_are_whole(
    plan: Path, width: int, height: int
) -> None:
    for session, place in at_runs(plan):
        shown = Shown(session, width, height)
        row = session.rows[place.row]
        segment = row.segments[place.segment]
        text = told(shown.now)
        if place.segment:
            old = row.segments[place.segment - 1].yarn
            behind = "at the back" if row.side == "RS" else "in front"
            old, new = (old, segment.yarn) if old != segment.yarn else (f"the old {old}", f"the new {old}")
            assert (
                f"Cross the old strand before the new, {behind}: lay {old} to your left across {new}, "
                f"then take {new} up from under it."
            ) in text
        run = run_steps(session.strands, place, session.piece.catching)
        for sentence in words.into_run(run, words.US):
            assert sentence in text
        assert any(f"▏ {session.piece.yarn(segment.yarn).symbol} ▕" in bit for line in shown.now for bit, _ in line)
        assert segment.yarn in text
        in_words, in_short = words.work_in_full(run, words.US), words.work_in_short(run, words.US)
        assert words.sentence(in_words) in text or in_short in text
        assert ("ast of this strand" in text) == run.is_last
        figures = drawn(str(segment.stitches), shown.plan.scale) if shown.plan.scale != PLAIN else []
        smaller = [line[0][0] for line in shown.now[:len(figures)] if line]
        assert all("█" in figure or "▀" in figure or "▄" in figure for figure in smaller)
        assert shown.plan.scale != PLAIN, "without a notice there is room for large figures"


@size
@plan
def test_in_row_mode_the_rule_for_every_cross_and_the_run_in_work_are_whole(
    plan: Path, width: int, height: int
) -> None:
    for session, place in at_runs(plan):
        shown = Shown(session, width, height, is_row_mode=True)
        row = session.rows[place.row]
        text = told(shown.row)
        if len(row.segments) > 1:
            assert "At every change cross the old strand before the new, " in text
            assert "lay the old to your left across the new, then take the new up from under it." in text
        if place.segment:
            old, new = row.segments[place.segment - 1].yarn, row.segments[place.segment].yarn
            old, new = (old, new) if old != new else (f"the old {old}", f"the new {new}")
            assert f"cross: {old} over {new}" in text
        run = run_steps(session.strands, place, session.piece.catching)
        assert words.work_in_short(run, words.US) in text
        assert "▶" in text


@size
@plan
@pytest.mark.parametrize("is_row_mode", [False, True], ids=["runs", "rows"])
def test_what_a_rows_end_asks_for_is_whole_and_so_is_what_comes_after_it(
    plan: Path, width: int, height: int, is_row_mode: bool
) -> None:
    for session in positions(plan):
        if session.is_at_turn and session.done:
            shown = Shown(session, width, height, is_row_mode)
            now, end = told(shown.row if is_row_mode else shown.now), told(shown.end)
            row = session.rows[session.row]
            assert end.startswith(words.row_done(row))
            asked, *later = session.row_end if session.act is not None else ((), *session.row_end)
            for place, steps in ((now, asked), (end, [step for group in later for step in group])):
                for step in steps:
                    assert any(words.tell(step, register, words.US) in place for register in ("full", "short"))
            tip = "toward you" if row.side == "RS" else "away from you"
            if session.rows.following(session.row):
                assert f"Turn, the needle's tip {tip}." in end
            if session.before is None or session.before.row < session.row or not session.before.is_at_turn:
                assert f"{row.stitches} stitches must be on the needle" in now + end


@size
@plan
def test_no_line_is_wider_and_no_part_higher_than_the_room_it_has(plan: Path, width: int, height: int) -> None:
    for session in positions(plan)[::3]:
        for is_row_mode in (False, True):
            shown = Shown(session, width, height, is_row_mode)
            for lines, room in shown.parts():
                assert len(lines) <= room or not lines
                for line in lines:
                    assert cell_len("".join(text for text, _ in line).rstrip()) <= shown.width


def test_every_run_of_a_row_is_listed_as_done_now_or_to_come() -> None:
    for session in positions(SWATCH):
        place = session.at
        text = told(Shown(session, 80, 24).runs)
        assert text.count("✓") == place.segment
        assert text.count("▶") == text.count("◀") == (session.act is None)
        for segment in session.rows[place.row].segments:
            assert segment.yarn in text


def test_a_greeting_leaves_the_change_and_the_turn_whole_on_the_smallest_screen() -> None:
    for session in positions(SWATCH):
        if not session.done:
            continue
        shown = Shown(session, 40, 15, notice=greeting(session, words.US))
        if session.act is None:
            for sentence in words.into_run(run_steps(session.strands, session.at, session.catching), words.US):
                assert sentence in told(shown.now)
            assert f"{session.rows.segment(session.at).stitches}" in told(shown.now) or shown.plan.scale != PLAIN
        else:
            assert "must be on the needle" in told(shown.now)
        if session.is_at_turn:
            assert "Turn, the needle's tip" in told(shown.end)


def test_a_long_note_hides_nothing_of_the_turn() -> None:
    session = next(s for s in positions(SWATCH) if s.is_at_turn and s.row == 22)
    session = apply(session, decide(session, Note(23, "the coral was too loose " * 20)))
    for width, height in SIZES:
        shown = Shown(session, width, height)
        text = told(shown.end)
        assert "24 stitches must be on the needle. Cut, " in told(shown.now)
        assert text.startswith("Row 23 is done. ")
        assert "Turn, the needle's tip toward you." in text
        assert "Note: the coral was too loose" in text


def test_a_refusal_is_shown_beside_everything_else() -> None:
    session = next(s for s in positions(SWATCH) if s.is_at_turn and s.row == 22)
    with pytest.raises(Exception, match="Say a row from 0") as reason:
        decide(session, RipBack(30))
    text = told(Shown(session, 40, 15, notice=str(reason.value)).end)
    assert text.startswith("Say a row from 0 (the cast-on) to 22.")
    assert "Turn, the needle's tip toward you." in text
