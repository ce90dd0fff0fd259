"""A piece worked round has rounds, in whatever is said of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import replace

import pytest

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Strip
from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.hands.mistakes import Mistake, laddering, ripping
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.reckoning.choices import Choice, Figures
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, tell
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import technique
from companion.pages import tables, written
from tests.knitting.charts import Chart, drawn, piece_of

TUBE = drawn("ssssss", "ssbbss", "ssssss", "ssssss", "ssbbss", "ssssss", is_round=True)
PIECE = piece_of(TUBE, Carry(3, 0, 3))
STRANDS = plan_strands(PIECE.rows, PIECE.carry).strands
ROWS = PIECE.rows
EACH = plan_strands(replace(PIECE, cast_on=Casting(is_each=True)).rows, PIECE.carry).strands
LADDER = laddering(Mistake(3, (2,)), STRANDS, 5, 1)
RIP = ripping(Mistake(3, (2,)), ROWS, 5, 1)
AREA = Area("lamp", (Strip(4, 2, 3),))


def every_step() -> Iterable[str]:
    for strands in (STRANDS, EACH):
        for index in range(len(ROWS)):
            runs = row_runs(strands, index)
            for step in (*(step for run in runs for step in run.steps), *row_end(strands, index)):
                yield from (tell(step, register, US) for register in ("full", "short", "written", "spoken"))
            for run in runs:
                yield from words.into_run(run, US)
                yield words.change_in_short(run, US)
            yield words.written_row(ROWS[index], runs, row_end(strands, index), US)


SAID: dict[str, Callable[[], Iterable[str]]] = {
    "steps": every_step,
    "strands": lambda: [words.strand_line(STRANDS, one, US) for one in STRANDS.summaries],
    "ends": lambda: [words.end_line(STRANDS, end, "ready", US) for end in ends_of(STRANDS)],
    "headings of ends": lambda: [words.end_heading(STRANDS, end, US) for end in ends_of(STRANDS)],
    "where it hangs": lambda: [words.hangs_from(STRANDS, Place(1, 1), US)],
    "a note": lambda: [words.note_question(ROWS[2])],
    "forward to a round": lambda: [words.at_row_question(ROWS)],
    "ripping back": lambda: [words.rip_question(["4"], ROWS), *words.rip_told(2, 12, 6, 1, US, rows=ROWS, side="RS")],
    "picking it up": lambda: [words.where_you_are(ROWS[2], done, 3, US) for done in range(2)],
    "done": lambda: [words.where_you_are(ROWS[0], 1, 0, US, is_cut=is_cut) for is_cut in (False, True)],
    "sides": lambda: [words.sides_cue("RS", US, is_cut=True)],
    "stopping": lambda: [words.best_stop(ROWS[2], 3, None)],
    "mistakes": lambda: [
        words.cross_missed(ROWS, Place(1, 1)), words.close_hole(ROWS, Place(1, 1)),
        words.no_tail_near(ROWS, Place(1, 1)), words.to_rip(RIP, ROWS), words.to_ladder(LADDER, ROWS, US),
    ],
    "marking": lambda: [words.mark_wrong(ROWS)],
    "techniques": lambda: [technique(Carry(3, 0, 4), PIECE)],
    "sewn on": lambda: [words.area_to_sew(PIECE.fabric, AREA, 1), words.areas_placed(ROWS)],
    "cast on": lambda: [words.cast_on_heading(casting_on(EACH), US, is_round=True)],
    "lengths": lambda: yarn_words.what_lengths_hold(lengths(PIECE, EACH), None, US, Casting(is_each=True)),
    "finding it": lambda: [line for found in ([], [1], [1, 4]) for line in words.rows_found(ROWS, found)],
    "written": lambda: [*written.whole(PIECE, STRANDS), *written.part(PIECE, STRANDS, 2, 3)],
    "table of strands": lambda: [*tables.strand_table(PIECE, STRANDS), tables.summary(PIECE, STRANDS)],
    "ledger": lambda: tables.ledger(PIECE, STRANDS, [(end, "ready") for end in ends_of(STRANDS)]),
    "comparison": lambda: tables.comparison(
        PIECE, [Choice(Carry(3, 0, rest), Figures(3, 6, 2, 1, 1.0, 1.0), ()) for rest in (0, 3)]
    ),
}
USUAL = (
    "rows over 10 cm", "Right-side rows (RS)", "wrong-side rows (WS)", "every row is told", "on RS rows",
    "on WS rows", "with the last row at the top", "up 1 row", "down 1 row",
)  # fmt: skip
"""What is the same for all fabrics: the gauge, how to read, and what lies on the finished cloth."""


@pytest.mark.parametrize("name", SAID)
def test_of_a_tube_no_row_is_told(name: str) -> None:
    for told in SAID[name]():
        for usual in USUAL:
            told = told.replace(usual, "")
        told = re.sub(r"\b(up|down) \d+ rows", "", told)
        assert not re.search(r"\brows?\b", told, re.I), told


def test_resting_strands_rest_over_rounds() -> None:
    told = list(every_step())
    assert any("rested 2 rounds and hangs" in each for each in told)
    assert any("(rests 2 rounds)" in each for each in told)


def test_flat_rows_between_rounds_are_rows_to_a_strand_that_rests_over_them() -> None:
    """Brick is worked in round 2 and in round 5, over rows 3 and 4, which are worked flat."""
    fabric = Chart(drawn("sbs", "sss", "sss", "sbs", "sss").grid, (True, True, False, False, True)).fabric()
    piece = replace(PIECE, fabric=fabric)
    strands = plan_strands(piece.rows, piece.carry).strands
    left = [tell(step, "full", US) for step in row_end(strands, 1)]
    assert any("rests 2 rows" in each for each in left), left
    runs = [tell(step, "full", US) for run in row_runs(strands, 4) for step in run.steps]
    assert any("rested 2 rows" in each for each in runs), runs
