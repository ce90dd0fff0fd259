"""Laws over many positions, sizes and both modes: what the hands must know now is on the screen, whole.

What must be there comes from the plan's drawing and the steps; the panels' lines are joined again and searched.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from at_the_needles import COWL, CUSHION, JUMPER, MAT, SIZES, SWATCH
from rich.cells import cell_len

from companion.dialogue.coming_back import greeting
from companion.dialogue.telling import telling
from companion.knitting import words
from companion.knitting.hands.runs import RunSteps, run_steps
from companion.knitting.hands.steps import Count, Cross, Cut, Divide, HaveReady, TakeUp
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import load
from companion.progress.actions import AtRow, Note, On, Refused, RipBack, WholeRow
from companion.progress.deciding import decide
from companion.progress.events import Planned, Worked
from companion.progress.fold import apply, begin
from companion.progress.session import Session
from companion.screens.fitting import fitted
from companion.screens.flowing import Line
from companion.screens.layout import main_width
from companion.screens.now import NowPanel
from companion.screens.row_end import RowEndPanel
from companion.screens.row_panel import RowPanel, RowStrip

ROWS = {
    SWATCH: range(1, 33),
    MAT: range(7, 43, 7),
    CUSHION: (1, 9, 13, 16, 30, 42, 51, 57, 58, 64, 77, 90, 105),
    JUMPER: (25, 60, 84, 85, 86, 98, 99, 100),
    COWL: (1, 10, 11, 13, 44, 45, 54),
}
"""All rows of the swatch; of the others a sample that holds the rows after which most is cut, those where a piece
divides and its other part is taken up, and those where a tube goes flat and round."""


def begin_of(plan: Path) -> Session:
    """The session before the first stitch."""
    piece = load(plan).piece
    return begin({0: piece}, (Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands),))


@cache
def positions(plan: Path) -> tuple[Session, ...]:
    """The sessions at every run of the rows above, from the first stitch on, at the turns before, and at all that is
    to be done at their ends."""
    found, session = [], begin_of(plan)
    while not session.is_worked or session.act is not None:
        if session.at.row + 1 in ROWS[plan]:
            found.append(session)
        session = apply(session, decide(session, On()))
    return tuple(found)


def at_runs(plan: Path) -> list[Session]:
    """Those of them at which a run is to be worked now."""
    return [session for session in positions(plan) if session.act is None]


def at_row_ends(plan: Path) -> list[Session]:
    """Those at which something is to be done at a row's end."""
    return [session for session in positions(plan) if session.act is not None]


def told(lines: list[Line]) -> str:
    """The lines as one text."""
    return " ".join(" ".join("".join(text for text, _ in line) for line in lines).split())


def without_lengths(text: str) -> str:
    """A text that tells of new strands of one yarn how many they are, not how long and how they are kept."""
    one = r"(?:(\d+) of )?[0-9.]+ c?m, (?:loose|butterfly|bobbin|from the ball)"

    def counted(found: re.Match[str]) -> str:
        number = sum(int(n or 1) for n in re.findall(one, found[0]))
        return f" ({number})" if number > 1 else ""

    return re.sub(rf" \({one}(?:; {one})*\)", counted, text)


class Shown:
    """What the parts of the working screen show of a session at a size."""

    def __init__(
        self, session: Session, width: int, height: int, is_row_mode: bool = False, notice: str = "",
        is_alone: bool = False,
    ) -> None:
        is_row_mode = is_row_mode and telling(session, words.US).run is not None
        self.plan = fitted(telling(session, words.US), width, height, is_row_mode=is_row_mode, notice=notice)
        self.width = width if is_alone else main_width(width, height)
        now, row, runs, end = NowPanel(), RowPanel(), RowStrip(), RowEndPanel()
        for part in (now, row, runs, end):
            part.session = session
        now.sizes, now.is_row, now.is_alone = self.plan.sizes, is_row_mode, is_alone
        end.notice = notice
        row.set_class(self.plan.is_wide and not is_row_mode, "-list")
        self.now = now.draw(self.width, height if is_alone else self.plan.now)
        self.row = row.draw(self.width, self.plan.row) if self.plan.row else []
        self.runs = runs.draw(self.width, self.plan.runs) if self.plan.runs else []
        self.end = end.draw(self.width, self.plan.end)

    def parts(self) -> Iterator[tuple[list[Line], int]]:
        """Every part with the lines it has."""
        yield self.now, self.plan.now
        yield self.row, self.plan.row
        yield self.runs, self.plan.runs
        yield self.end, self.plan.end


SMALLEST = 15
"""Lines of the smallest screen: there letters come first, sentences are short, or cut where not even that fits."""



def is_usual(run: RunSteps) -> bool:
    """A run as most are: crossed into, and worked all alike."""
    is_crossed = all(isinstance(step, Cross) for step in run.into)
    return not run.before and is_crossed and len(run.hands) == 1 == len(run.inside)


size = pytest.mark.parametrize(("width", "height"), SIZES, ids=[f"{w}x{h}" for w, h in SIZES])
plan = pytest.mark.parametrize("plan", list(ROWS), ids=[path.stem for path in ROWS])


@size
@plan
def test_in_run_mode_the_work_and_every_step_of_the_change_are_told_whole_and_on_the_smallest_screen_in_short(
    plan: Path, width: int, height: int
) -> None:
    for session in at_runs(plan):
        shown = Shown(session, width, height)
        place = session.next_place
        assert place is not None
        row = session.rows[place.row]
        segment = row.segments[place.segment]
        text = told(shown.now)
        run = run_steps(session.strands, place, session.piece.catching)
        has_room = height > SMALLEST
        if not has_room and not is_usual(run):
            continue
        if place.segment and has_room:
            old = row.segments[place.segment - 1].yarn
            behind = "at the back" if row.side == "RS" else "in front"
            old, new = (old, segment.yarn) if old != segment.yarn else (f"the old {old}", f"the new {old}")
            assert (
                f"Cross the old strand before the new, {behind}: lay {old} to your left across {new}, "
                f"then take {new} up from under it."
            ) in text
        for step in (*run.before, *run.into):
            bare = without_lengths(text)
            told_so = [words.tell(step, register, words.US) in bare for register in ("full", "short")]
            assert told_so[0] or (not has_room and told_so[1])
        assert f"{words.sentence(words.work_in_full(run, words.US))} in {segment.yarn}." in text
        assert ("Last of this strand." in text) == run.is_last


@size
@plan
def test_in_row_mode_the_rule_for_every_cross_stands_above_the_run_in_work_which_is_whole(
    plan: Path, width: int, height: int
) -> None:
    """But for rows of which large letters tell all, as test_row_from_afar reads."""
    for session in at_runs(plan):
        shown = Shown(session, width, height, is_row_mode=True)
        if not shown.row:
            continue
        place = session.next_place
        assert place is not None
        row = session.rows[place.row]
        text = told(shown.row)
        rule, _, runs = text.partition(". ") if len(row.segments) > 1 else ("", "", text)
        behind = "at the back" if row.side == "RS" else "in front"
        assert rule in (
            "",
            "At every change cross: old over new",
            f"At every change cross the old strand before the new, {behind}: lay the old to your left across the "
            "new, then take the new up from under it",
        )
        assert rule or len(row.segments) == 1
        if place.segment and rule.endswith("under it"):
            old, new = row.segments[place.segment - 1].yarn, row.segments[place.segment].yarn
            old, new = (old, new) if old != new else (f"the old {old}", f"the new {new}")
            assert f"cross: {old} over {new}" in runs
        run = run_steps(session.strands, place, session.piece.catching)
        assert words.work_in_short(run, words.US) in runs
        assert "▶" in runs


@size
@plan
@pytest.mark.parametrize("is_row_mode", [False, True], ids=["runs", "rows"])
def test_at_a_turn_the_count_the_turn_and_what_went_with_the_row_are_whole(
    plan: Path, width: int, height: int, is_row_mode: bool
) -> None:
    """The count is told once: here, or with the first thing that was to be done."""
    for session in at_runs(plan):
        if not (session.is_at_turn and session.done):
            continue
        shown = Shown(session, width, height, is_row_mode)
        text, row, place = told(shown.end), session.rows[session.row], session.next_place
        assert place is not None
        is_told_before = any(True for event in session.last if not isinstance(event, Worked))
        count = f"{row.stitches} sts on the needle." * (not is_told_before)
        if height < 24 and shown.now and text in (f"{words.row_done(row)} {count}".strip(), count):
            continue  # TURN stands in large letters
        assert text.startswith(words.row_done(row))
        assert ("must be on the needle" in text) == (not is_told_before)
        assert is_told_before or f"{row.stitches} stitches must be on the needle" in text
        tip = "toward you" if row.side == "RS" else "away from you"
        following = session.rows[place.row]
        is_turned = following.side != row.side and following.part in ("", row.part or following.part)
        is_told_with_the_round = following.is_round and not row.is_round
        assert (f"Turn, the needle's tip {tip}." in text) == (is_turned and not is_told_with_the_round)


def test_a_single_line_has_the_count_of_a_row_that_is_named_at_length() -> None:
    """Row 1 of the left part of the jumper has 19 stitches."""
    [session] = [one for one in at_runs(JUMPER) if one.is_at_turn and one.rows[one.row].key == ("left", 1)]
    end = RowEndPanel()
    end.session = session
    assert told(end.draw(40, 1)) == "19 sts on the needle."
    assert told(end.draw(60, 1)) == "Row 1 of the left part is done. 19 sts on the needle."


def test_a_single_line_ends_with_a_sentence() -> None:
    """After row 4 of the swatch it has no room for what is to be had ready."""
    end = RowEndPanel()
    end.session = next(session for session in one_press_a_row(SWATCH) if session.row == 3)
    assert told(end.draw(40, 1)) == "24 sts on the needle. ..."


def one_press_a_row(plan: Path) -> Iterator[Session]:
    """The sessions after every row, one press a row."""
    session = begin_of(plan)
    while not session.is_worked:
        session = apply(session, decide(session, WholeRow()))
        yield session


@size
def test_what_goes_with_a_row_is_told_whole_at_the_turn_after_it(width: int, height: int) -> None:
    """Row 4 of the swatch asks for tide in row 5, round 10 of the cowl for flat rows from there on; none is cut.
    Where large letters take the room the count is short."""
    flat = "From here work flat: turn after every row. Have ready: "
    after = {(SWATCH, 3): "Have ready: new tide (6.5 m, bobbin).", (COWL, 9): flat}
    for (plan, row), sentence in after.items():
        [session] = [found for found in one_press_a_row(plan) if found.row == row and found.act is None]
        text = told(Shown(session, width, height, is_row_mode=True).end)
        count = f"{session.rows[row].stitches} s(titche|t)s (must be )?on the needle"
        assert re.search(rf"{count}\. {re.escape(sentence)}", text)
        assert "must be" in text or height < 24


@size
@plan
@pytest.mark.parametrize("is_row_mode", [False, True], ids=["runs", "rows"])
def test_what_is_to_be_done_at_a_row_end_is_whole_and_what_comes_after_it_is_named(
    plan: Path, width: int, height: int, is_row_mode: bool
) -> None:
    for session in at_row_ends(plan):
        shown = Shown(session, width, height, is_row_mode)
        text, row = without_lengths(told(shown.now)), session.rows[session.row]
        now, *later = session.row_end
        for step in now:
            full, short = (words.tell(step, register, words.US) for register in ("full", "short"))
            is_shortened = isinstance(step, Cut | Divide | TakeUp | HaveReady) and width < 80
            assert full in text or (short in text and is_shortened) or height == SMALLEST
        assert shown.end, "what comes after has a line"
        assert told(shown.end).startswith(words.row_done(row))
        for step in (step for group in later for step in group):
            assert words.tell(step, "verb", words.US) in told(shown.end).partition(", then: ")[2]
        if not shown.plan.is_wide:
            assert shown.runs or height == SMALLEST, "the row just worked is seen"
            assert "▶" not in told(shown.runs)


def test_every_count_stands_with_what_is_told_first_at_a_row_end_and_nowhere_else() -> None:
    for plan in ROWS:
        for session in at_row_ends(plan):
            is_first = any(isinstance(event, Worked) for event in session.last)
            counts = [isinstance(step, Count) for group in session.row_end for step in group]
            assert counts.count(True) == is_first
            assert counts[0] == is_first


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
        text, place = told(Shown(session, 80, 24).runs), session.at
        assert text.count("✓") == place.segment
        assert text.count("▶") == text.count("◀") == (session.act is None)
        for segment in session.rows[place.row].segments:
            assert segment.yarn in text


def test_a_greeting_leaves_the_letters_and_the_turn_whole_on_the_smallest_screen() -> None:
    for session in at_runs(SWATCH):
        if not session.done:
            continue
        shown = Shown(session, 40, 15, notice=greeting(session, words.US))
        assert shown.plan.large >= 6
        assert len(shown.now) >= shown.plan.large
        if session.is_at_turn:
            assert "Turn, the needle's tip" in told(shown.end)


@plan
def test_a_greeting_leaves_the_letters_of_what_is_to_be_done_at_a_row_end_whole_on_the_smallest_screen(
    plan: Path,
) -> None:
    for session in at_row_ends(plan):
        shown = Shown(session, 40, 15, notice=greeting(session, words.US))
        assert len(shown.now) >= shown.plan.large >= 3
        assert words.row_done(session.rows[session.row]) in told(shown.end) or shown.plan.end == 1


def with_a_cut() -> Session:
    """At the end of row 23 of the swatch the coral and a shell are cut."""
    return next(s for s in at_row_ends(SWATCH) if s.row == 22)


def test_a_long_note_hides_nothing_of_the_row_end_and_of_the_turn() -> None:
    session = with_a_cut()
    session = apply(session, decide(session, Note(23, "the coral was too loose " * 20)))
    turned = apply(session, decide(session, On()))
    for width, height in SIZES:
        shown = Shown(session, width, height)
        assert "24 stitches must be on the needle. Cut, " in told(shown.now)
        assert told(shown.end).startswith("Row 23 is done. Press space, then: turn. Note: the coral was too loose")
        text = told(Shown(turned, width, height).end)
        assert text.startswith("Row 23 is done. Turn, the needle's tip toward you.")
        assert "Note: the coral was too loose" in text


def test_a_refusal_is_shown_beside_everything_else() -> None:
    session = with_a_cut()
    with pytest.raises(Refused, match="Say a row from 0") as reason:
        decide(session, RipBack(30))
    text = told(Shown(session, 40, 15, notice=str(reason.value)).end)
    assert text.startswith("Say a row from 0 (the cast-on) to 22. Row 23 is done. Press space, then: turn.")
    turned = apply(session, decide(session, On()))
    text = told(Shown(turned, 40, 15, notice=str(reason.value)).end)
    assert text.startswith("Say a row from 0 (the cast-on) to 22.")
    assert "Turn, the needle's tip toward you." in text


@plan
def test_the_answer_to_a_key_is_seen_on_the_smallest_screen_too(plan: Path) -> None:
    """Even where the letters leave the row's end a single line, as on coming to a row that begins with much to do."""
    answer = "Nothing is sewn on to this piece."
    first = begin_of(plan)
    come_to = [apply(first, decide(first, AtRow(row))) for row in ROWS[plan] if row > 1]
    for session in (*positions(plan)[::2], *come_to):
        assert told(Shown(session, 40, SMALLEST, notice=answer).end).startswith(answer)
