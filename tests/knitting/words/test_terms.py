"""US and UK: every sentence that depends on whose words are spoken exists in both, and neither speaks the other's.

The pairs of terms stand in every bilingual list of the trade (bind off / cast off, gauge / tension, stockinette /
stocking stitch, weave in / sew in, duplicate stitch / Swiss darning, seed / UK moss): common practice, no source.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Literal, get_args

import pytest
from hypothesis import given

from companion.knitting import words
from companion.knitting.cloth.row_starts import bound_off_at_starts
from companion.knitting.cloth.rows import Casting, Place, Rows
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.joins_and_cuts import casting_on, spot
from companion.knitting.hands.mistakes import Laddering, Ripping, Sewing
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import AtEnd, BindOff, Count, Finishing, WeaveIn
from companion.knitting.hands.weaving import backs_of
from companion.knitting.reckoning.lasting import lasts
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Register, Terms
from companion.knitting.words import yarn as yarn_words
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.weights import classes_by_gauge
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of
from tests.knitting.every_step import EVERY_STEP, MET, METHODS, SMALL
from tests.knitting.words.as_told import swapped

GOLDEN = Path(__file__).parent / "golden"
US_ONLY = r"bind off|bound off|bind-off|gauge|stockinette|weave in|woven|duplicate stitch|seed stitch"
UK_ONLY = r"cast off|cast-off|tension|stocking stitch|sew in|sewn in|Swiss darning|moss stitch"

LIGHT = drawn("ssssssss", "sskkkkss", "ssbbbbss", "sskbbkss", "ssbbbbss", "ssssssss")
PIECE = piece_of(LIGHT, Carry(3, 4, 2))
STRANDS = plan_strands(PIECE.rows, PIECE.carry).strands
ROWS = PIECE.rows
WOUND = lengths(PIECE, STRANDS)
TOTAL = STRANDS.total
BOAT = drawn("...bbb....", "ssssbbbbbb", "...bbb....", "..bbbbb...", "..bbbbb...")
SHAPED = [run for row in range(5) for run in row_runs(plan_strands(BOAT.rows(), Carry(3)).strands, row)]
LEFT_TO_DO = [step for step in EVERY_STEP if isinstance(step, BindOff)][:2]
DOWN = Ripping(3, 2, 8, 1, 2)
CASTINGS = (Casting(), Casting("cable"), Casting(yarn="kelp"), *(Casting(method, is_each=True) for method in METHODS))
CAST_ON = [
    plan_strands(Rows(drawn("ssbbbsss", is_round=is_round).fabric(), cast_on=casting), Carry(3)).strands
    for casting in CASTINGS for is_round in (False, True)
] + [plan_strands(Rows(drawn("sb" * 11).fabric(), cast_on=Casting(is_each=True)), Carry(3)).strands]
RUNS = [run for row in range(len(ROWS)) for run in row_runs(STRANDS, row, PIECE.catching)]
RUNS += [run for strands in CAST_ON for run in row_runs(strands, 0)]
Told = str | Iterable[str]


def large(acts: Iterable[words.Large]) -> str:
    """Acts in a line, the main one between stars: "CROSS, *3 KNIT brick*"."""
    texts = ((f"{act.stitches or ''} {' '.join([act.text, *act.yarns])}".strip(), act.is_main) for act in acts)
    return ", ".join(f"*{text}*" if is_main else text for text, is_main in texts)


SENTENCES: dict[str, Callable[[Terms], Iterable[Told]]] = {
    "act_verb": lambda t: [words.act_verb(step, t) for step in EVERY_STEP if isinstance(step, BindOff | WeaveIn)],
    "and_then": lambda t: (words.and_then(row_end(STRANDS, r), t, "space") for r in range(len(ROWS))),
    "at_the_end": lambda t: (words.at_the_end(row_end(STRANDS, r), t, is_short=is_short)
                              for r in range(len(ROWS)) for is_short in (False, True)),
    "came_out": lambda t: [words.came_out(n, t) for n in (1, 2)],
    "how_to_fetch": lambda t: [words.how_to_fetch(t)],
    "cross_rule": lambda t: [words.cross_rule(side, t) for side in ("RS", "WS")],
    "cast_on_heading": lambda t: [words.cast_on_heading(casting_on(strands), t, is_round=strands.rows[0].is_round)
                                  for strands in CAST_ON],
    "end_heading": lambda t: [words.end_heading(STRANDS, end, t) for end in ends_of(STRANDS)],
    "change_in_short": lambda t: dict.fromkeys(words.change_in_short(run, t) for run in RUNS),
    "into_run": lambda t: dict.fromkeys(line for run in RUNS for line in words.into_run(run, t)),
    "part_name": lambda t: [words.part_name("left", t), words.part_name("right", t._replace(worn="front"))],
    "spot_told": lambda t: (words.spot_told(one, t) for one in (
        *(spot(STRANDS, Place(2, i)) for i in range(len(ROWS[2].segments))), *MET)),
    "end_line": lambda t: (words.end_line(STRANDS, end, "ready", t) for end in ends_of(STRANDS)),
    "end_in_large": lambda t: [large(words.end_in_large([step], t)) for step in EVERY_STEP if isinstance(step, AtEnd)
                               and not isinstance(step, Count)],
    "finishing_in_large": lambda t: [
        large(words.finishing_in_large(step, t))
        for step in (*(s for s in EVERY_STEP if isinstance(s, Finishing)), None)
    ],
    "runs_in_large": lambda t: dict.fromkeys(
        large(words.runs_in_large([run], (), "RS", t)) for run in (*RUNS, *SHAPED)
    ),
    "run_in_large": lambda t: dict.fromkeys(large(words.run_in_large(run, (), t)) for run in (*RUNS, *SHAPED)),
    "end_place": lambda t: (", ".join(words.end_place(STRANDS, end, t)) for end in ends_of(STRANDS)),
    "end_state": lambda t: [words.end_state(state, t) for state in words.END_MARKS],
    "ends_offered": lambda t: [words.ends_offered(n, t, "e") for n in (1, 8)],
    "ends_offered_on_leaving": lambda t: [words.ends_offered_on_leaving(n, t, "e") for n in (1, 8)],
    "counted": lambda t: (words.counted(run, t) for run in SHAPED),
    "ends_title": lambda t: [words.ends_title(*asked, t) for asked in (
        ("ready", 3, 3), ("on the fabric", 8, 3), ("on the fabric", 3, 3), ("all, those to come too", 4, 1),
        ("on the fabric", 2, 0),
    )],
    "for_baby": lambda t: [words.for_baby(t)],
    "hangs_from": lambda t: [words.hangs_from(STRANDS, Place(2, 1), t)],
    "planned_anew": lambda t: [
        words.planned_anew(TOTAL, TOTAL._replace(ends=TOTAL.ends + more), t) for more in (-2, 0, 2)
    ],
    "hanging_place": lambda t: (words.hanging_place(STRANDS, hang, 2, t) for hang in hangs(STRANDS, 2, 2)),
    "height": lambda t: [words.height(Fraction(25, 2), Fraction(40), t), words.height(Fraction(0), Fraction(3), t)],
    "how_to_read": lambda t: [words.how_to_read(t, is_round=is_round) for is_round in (False, True)],
    "how_to_sew": lambda t: [words.how_to_sew(SMALL, "15 cm", t)],
    "how_to_weave": lambda t: (
        words.how_to_weave(weaving._replace(**changes), t)
        for end in ends_of(STRANDS)[:4]
        for weaving in [backs_of(PIECE, STRANDS).weaving(end)]
        for changes in (
            {}, {"is_for_seam": True}, {"is_split": True, "hides": "tar", "lighter_by": 40.0}, {"legs": ()}
        )
    ),
    "measured": lambda t: [words.measured(Fraction(5), t)],
    "known_of": lambda t: (words.known_of(run, t) for run in SHAPED),
    "rip_told": lambda t: [
        words.rip_told(3, 60, 20, 2, t, rows=ROWS, side="RS"),
        words.rip_told(3, 1, 1, 0, t, rows=ROWS, side="WS", free=["sand", "tar", "sand"]),
        *(
            words.rip_told(3, 1, 1, 0, t, rows=ROWS, side="WS", from_part=part, to_part="left", is_apart=is_apart)
            for part, is_apart in (("right", False), ("right", True), ("", True))
        ),
    ],
    "sew_up": lambda t: [words.sew_up(edges, terms) for terms in (t, t._replace(worn="back")) for edges in (1, 2)],
    "sewing_title": lambda t: [words.sewing_title(n, t) for n in (1, 2)],
    "sides_cue": lambda t: [
        words.sides_cue(side, t, cast_on, is_cut=is_cut)
        for side in ("RS", "WS")
        for cast_on, is_cut in ((Casting(), False), (Casting("cable", is_each=True), False), (Casting(), True))
    ],
    "still_on_needle": lambda t: [words.still_on_needle(5, 8, t), words.still_on_needle(8, 8, t)],
    "strand_joined": lambda t: [words.strand_joined(ROWS[2], i, t) for i in range(len(ROWS[2].segments))],
    "strand_line": lambda t: (words.strand_line(STRANDS, summary, t) for summary in STRANDS.summaries),
    "strand_place": lambda t: [words.strand_place(ROWS[2], i, t) for i in range(len(ROWS[2].segments))],
    "strands_title": lambda t: [words.strands_title(n, t) for n in (1, 5)],
    "tell": lambda t: dict.fromkeys(
        f"{register}: {words.tell(step, register, t)}" for step in EVERY_STEP for register in get_args(Register)
    ),
    "where_you_are": lambda t: [words.where_you_are(ROWS[2], done, 8 - 2 * done, t) for done in (0, 1, 2)],
    "written_row": lambda t: (
        words.written_row(ROWS[r], row_runs(STRANDS, r, PIECE.catching), row_end(STRANDS, r), t)
        for r in range(len(ROWS))
    ),
    "now_unpick": lambda t: (words.now_unpick(ripping, ROWS, t) for ripping in (DOWN, DOWN._replace(rows=0))),
    "before_stopping": lambda t: [words.before_stopping(ROWS[2], LEFT_TO_DO, t)],
    "put_on_needle": lambda t: [words.put_on_needle(n, "WS", t.coming, t) for n in (1, 20)],
    "how_to_unpick": lambda t: [words.how_to_unpick(t)],
    "bind_off": lambda t: [yarn_words.bind_off(t)],
    "length_kept": lambda t: [yarn_words.length_kept(one, WOUND, t) for one in WOUND],
    "new_lengths": lambda t: [yarn_words.new_lengths(WOUND, t)],
    "gauge_class": lambda t: [yarn_words.gauge_class(classes_by_gauge(PIECE.gauge), t)],
    "supplies_title": lambda t: [yarn_words.supplies_title(side, t) for side in (None, "RS", "WS")],
    "thick": lambda t: [words.thick(t)],
    "to_finish": lambda t: [
        words.to_finish(step, t, "space") for step in (*(s for s in EVERY_STEP if isinstance(s, Finishing)), None)
    ],
    "to_ladder": lambda t: [words.to_ladder(one, ROWS, t) for one in (Laddering(1, 3), Laddering(1, 3, "off"))],
    "to_sew_over": lambda t: [words.to_sew_over(sewing, t) for sewing in (
        Sewing(1), Sewing(3), Sewing(4, "many"), Sewing(1, "colour"))],
    "when_pressed": lambda t: [words.when_pressed(step, t) for step in EVERY_STEP if isinstance(step, Finishing)],
    "what_lengths_hold": lambda t: [
        yarn_words.what_lengths_hold(WOUND, sample, t) for sample in (None, Sample(20, Fraction(38)))
    ],
    "will_it_last": lambda t: [
        yarn_words.will_it_last(lasts(PIECE, STRANDS, Place(0, 0), 1, cm), ROWS, cm, t) for cm in (30, 700, 2000)
    ],
    "work_in_full": lambda t: (words.work_in_full(run, t) for run in SHAPED),
    "work_in_short": lambda t: (words.work_in_short(run, t) for run in SHAPED),
    "yarn_needed": lambda t: [yarn_words.yarn_needed(total, t) for total in totals(PIECE, WOUND)],
}  # fmt: skip
"""Every function that is told whose words to speak, and something of each kind that it can say."""


def spoken(terms: Terms) -> str:
    """All of it, under the functions' names."""
    told = []
    for name, say in SENTENCES.items():
        told.append(f"{name}:")
        for one in say(terms):
            told += [f"  {line}" for line in ([one] if isinstance(one, str) else one)]
    return "\n".join(told) + "\n"


def test_every_function_that_takes_terms_is_heard() -> None:
    told = {**vars(words), **vars(yarn_words)}
    takes_terms = {
        name for name, one in told.items()
        if inspect.isfunction(one) and "terms" in inspect.signature(one).parameters and not name.startswith("_")
        and one.__module__.startswith(("companion.knitting.words", "companion.knitting.words.yarn"))
    }  # fmt: skip
    assert set(SENTENCES) == takes_terms


GOLDEN_TERMS = {"us": US, "uk": Terms("uk", is_inches=True)}


@pytest.mark.parametrize("dialect", GOLDEN_TERMS)
def test_every_sentence_is_as_it_was_read_and_found_right(dialect: str) -> None:
    """After an intended change: write the golden files anew (``python -m tests.knitting.words.test_terms``) and read
    all that is changed."""
    assert spoken(GOLDEN_TERMS[dialect]) == (GOLDEN / f"{dialect}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize(("dialect", "off"), [("us", ("bind-off", "bound off")), ("uk", ("cast-off", "cast off"))])
def test_ripping_back_into_another_part_is_told_in_the_knitters_words(
    dialect: Literal["us", "uk"], off: tuple[str, str]
) -> None:
    terms = Terms(dialect)
    into = words.rip_told(3, 60, 20, 0, terms, rows=ROWS, side="RS", from_part="right", to_part="left")
    below = words.rip_told(3, 60, 20, 0, terms, rows=ROWS, side="RS", from_part="right")
    assert into[2] == f"Undo the {off[0]} of the left part; put the stitches of the right part on a holder."
    assert below[2] == f"Stitches on a holder come back on the needle; what was {off[1]} between is undone."


def test_neither_speaks_the_others_words() -> None:
    assert not re.findall(UK_ONLY, spoken(Terms("us")), re.IGNORECASE)
    assert not re.findall(US_ONLY, re.sub("[a-z_]+:\n", "", spoken(Terms("uk"))), re.IGNORECASE)


def test_what_differs_are_the_terms_alone() -> None:
    pairs = {
        "cast off": "bind off", "cast-off": "bind-off", "tension": "gauge", "stocking stitch": "stockinette",
        "sew in": "weave in", "sewn in": "woven in", "bound off": "bind off",
        "swiss darning": "duplicate stitch",
    }  # fmt: skip
    told, ours = spoken(Terms("uk")).lower(), spoken(Terms("us")).lower()
    for uk, us in pairs.items():
        told, ours = told.replace(uk, us), ours.replace(uk, us)
    assert told == ours


@given(charts(max_rows=8, max_columns=10), limits())
def test_worked_mirrored_is_the_mirrored_chart_worked_right_handed(chart: Chart, carry: Carry) -> None:
    """Strands, steps, rows and all that is said of them, with left and right exchanged; both bind off where a row
    starts."""
    turned = Chart(tuple(cells[::-1] for cells in chart.grid), chart.rounds)
    theirs, ours = piece_of(chart, carry).for_hands(is_mirrored=True), piece_of(turned, carry)
    ours = replace(ours, fabric=bound_off_at_starts(ours.fabric, is_mirrored=False))
    mirrored, plain = plan_strands(theirs.rows, carry).strands, plan_strands(ours.rows, carry).strands
    assert mirrored.strand_of == plain.strand_of
    assert mirrored.total == plain.total
    left_handed = Terms(is_mirrored=True)
    for row in range(len(chart.grid)):
        one, other = theirs.rows[row], ours.rows[row]
        runs, same = row_runs(mirrored, row, theirs.catching), row_runs(plain, row, ours.catching)
        assert [run.steps for run in runs] == [run.steps for run in same]
        end, its = row_end(mirrored, row), row_end(plain, row)
        assert end == its
        told = [words.written_row(one, runs, end, left_handed), *words.at_the_end(end, left_handed)]
        right_handed = [words.written_row(other, same, its, US), *words.at_the_end(its, US)]
        assert told == [swapped(line) for line in right_handed]


if __name__ == "__main__":
    for name, terms in GOLDEN_TERMS.items():
        (GOLDEN / f"{name}.txt").write_text(spoken(terms), encoding="utf-8")
