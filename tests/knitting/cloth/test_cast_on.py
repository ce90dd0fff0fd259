"""The cast-on: sections in the reverse of row 1, begun strands, and every tail where it hangs on the needle."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given

from companion.knitting import words
from companion.knitting.cloth.cast_on import Section, is_begun, sections, separate_yarn
from companion.knitting.cloth.rows import Casting, Method, Place
from companion.knitting.cloth.seams import Seams
from companion.knitting.hands.ends import corner, ends_of, exists
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.lengths import casting_on
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import (
    Before,
    CastOn,
    Cross,
    CrossCastOn,
    CutCastOn,
    End,
    Join,
    JoinRound,
    Work,
)
from companion.knitting.hands.trapping import laid_in
from companion.knitting.hands.weaving import Backs, Leg
from companion.knitting.piece import Piece
from companion.knitting.reckoning.choices import compared
from companion.knitting.reckoning.lasting import lasts
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.sharing import shared_starts
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms
from companion.knitting.words import yarn as yarn_words
from companion.plan.outline import troubles
from tests.knitting.charts import Chart, castings, charts, drawn, limits, piece_of, shared_or_not
from tests.knitting.shaped import Shaped, shaped

EACH = Casting(is_each=True)
WALL = drawn("ssssbbbsss", "ssssbbbsss", "ssssbbbsss")
"""Row 1 from its start, the right edge: 3 sand, 3 brick, 4 sand."""

METHODS: tuple[Method, ...] = ("long-tail", "knitted", "cable")


def cast(
    chart: Chart, cast_on: Casting, carry: Carry | None = None, *, is_mirrored: bool = False
) -> tuple[Piece, Strands]:
    piece = replace(piece_of(chart, carry), cast_on=cast_on, is_mirrored=is_mirrored)
    return piece, plan_strands(piece.rows, piece.carry).strands


def begun(chart: Chart, cast_on: Casting) -> tuple[Before, ...]:
    _, strands = cast(chart, cast_on)
    steps = row_runs(strands, 0)[0].before
    assert steps == casting_on(strands)
    return steps


def said(chart: Chart, cast_on: Casting) -> str:
    """What is read at the needles before the first stitch."""
    return " ".join(words.into_run(row_runs(cast(chart, cast_on)[1], 0)[0], US))


anything = charts(max_rows=8, max_columns=12, ways=("flat", "round", "mixed"), has_textures=True)


@given(anything, castings())
def test_read_backward_the_sections_are_the_runs_of_row_1_and_sum_to_its_stitches(
    chart: Chart, cast_on: Casting
) -> None:
    piece, _ = cast(chart, cast_on)
    found = sections(piece.rows)
    assert sum(section.stitches for section in found) == len(chart.worked(0))
    if cast_on.is_each:
        assert found[::-1] == tuple(Section(run[0][1].yarn, len(run)) for run in chart.runs(0))
    else:
        assert [section.yarn for section in found] == [cast_on.yarn or chart.worked(0)[0][1].yarn]


@given(anything, castings(), limits())
def test_with_each_row_1_joins_nothing_crosses_at_every_change_and_every_run_has_its_own_strand(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    _, strands = cast(chart, cast_on._replace(is_each=True), carry)
    runs = row_runs(strands, 0)
    assert [run.strand for run in runs] == list(range(1, len(runs) + 1))
    assert {run.carry for run in runs} == {0}
    assert not any(isinstance(step, Join) for run in runs for step in run.steps)
    assert [run.start for run in runs] == ["turn", *["cross"] * (len(runs) - 1)]
    assert [sum(isinstance(step, Cross) for step in run.steps) for run in runs] == [0, *[1] * (len(runs) - 1)]


@given(anything, castings(), limits())
def test_with_any_cast_on_the_strands_are_the_fewest_and_proved_so(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    piece = replace(piece_of(chart, carry), cast_on=cast_on)
    plan = plan_strands(piece.rows, carry)
    assert fault_in(plan.strands, carry, plan.proof) == ""


@given(anything, castings(), limits())
def test_how_it_is_cast_on_changes_nothing_above_row_1_but_where_a_strand_would_pass_behind_in_it(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    flat = carry._replace(behind=0)
    _, strands = cast(chart, cast_on, flat)
    _, usual = cast(chart, Casting(), flat)
    assert strands.strand_of == usual.strand_of
    for row in range(1, len(strands.rows)):
        assert row_runs(strands, row) == row_runs(usual, row)
        assert row_end(strands, row) == row_end(usual, row)


def test_in_one_yarn_it_is_one_step() -> None:
    assert begun(WALL, Casting()) == (CastOn(1, "sand", 10, "long-tail"),)
    assert begun(WALL, Casting("cable")) == (CastOn(1, "sand", 10, "cable"),)
    assert begun(WALL, Casting(yarn="sand")) == (CastOn(1, "sand", 10, "long-tail"),)


def test_the_last_section_cast_on_is_the_first_run_of_row_1() -> None:
    """The strands are numbered as row 1 works them, from its right edge."""
    assert begun(drawn("ssssbbkkks"), EACH) == (
        CastOn(4, "sand", 4, "long-tail"), CrossCastOn("sand", "brick"),
        CastOn(3, "brick", 2, "long-tail"), CrossCastOn("brick", "kelp"),
        CastOn(2, "kelp", 3, "long-tail"), CrossCastOn("kelp", "sand"),
        CastOn(1, "sand", 1, "long-tail"),
    )  # fmt: skip


@given(anything, castings())
def test_the_steps_are_the_sections_with_a_cross_between_them(chart: Chart, cast_on: Casting) -> None:
    _, strands = cast(chart, cast_on)
    steps, runs = casting_on(strands), chart.runs(0)
    casts = [step for step in steps if isinstance(step, CastOn)]
    crosses = [(step.old, step.new) for step in steps if isinstance(step, CrossCastOn)]
    if cast_on.is_each:
        assert [(step.yarn, step.stitches) for step in casts] == [(run[0][1].yarn, len(run)) for run in runs[::-1]]
        assert [step.strand for step in casts] == list(strands.strand_of[0][::-1])
        assert crosses == [(one.yarn, other.yarn) for one, other in pairwise(casts)]
    else:
        [cast_in] = casts
        assert cast_in.stitches == len(chart.worked(0))
        assert (CutCastOn(cast_in.yarn) in steps) == (cast_in.yarn != runs[0][0][1].yarn) == (not cast_in.strand)
        assert crosses == []
    assert {step.method for step in casts} == {cast_on.method}
    is_joined_at_once = chart.rounds[0] and len(casts) == 1
    assert (JoinRound() in steps) == is_joined_at_once
    at_end = [step for step in row_end(strands, 0) if isinstance(step, JoinRound)]
    assert bool(at_end) == (chart.rounds[0] and not is_joined_at_once)


def test_in_one_colour_there_are_no_sections_to_tell() -> None:
    assert begun(drawn("ssss"), EACH) == (CastOn(1, "sand", 4, "long-tail"),)


def test_worked_mirrored_it_is_cast_on_from_the_other_side() -> None:
    piece, strands = cast(drawn("ssssbbkkks"), EACH, is_mirrored=True)
    assert sections(piece.rows) == (Section("sand", 1), Section("kelp", 3), Section("brick", 2), Section("sand", 4))
    assert [run.segment.yarn for run in row_runs(strands, 0)] == ["sand", "brick", "kelp", "sand"]


def test_a_cast_on_in_a_yarn_of_its_own_is_cut_and_row_1_joins_its_first_strand_too() -> None:
    _, strands = cast(WALL, Casting(yarn="brick"))
    first, second, _ = row_runs(strands, 0)
    assert first.steps == (
        CastOn(0, "brick", 10, "long-tail"), CutCastOn("brick"), Join("sand", "", "RS"),
        Work("sand", 3, (("k", 3),)),
    )  # fmt: skip
    assert (first.start, second.start) == ("join", "join")
    # Worked mirrored, row 1 begins at the left edge, in sand as well.
    assert separate_yarn(cast(drawn("bs"), Casting(yarn="brick"))[0].rows) == "brick"
    assert separate_yarn(cast(drawn("bs"), Casting(yarn="brick"), is_mirrored=True)[0].rows) == ""


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (EACH, [True, True, True]),
        (Casting(), [True, False, False]),
        (Casting(yarn="brick"), [False, False, False]),
        (Casting("knitted", yarn="sand"), [True, False, False]),
    ],
)
def test_which_strands_are_begun_in_the_cast_on(cast_on: Casting, told: list[bool]) -> None:
    rows = cast(WALL, cast_on)[0].rows
    assert [is_begun(rows, Place(0, segment)) for segment in range(3)] == told
    assert not is_begun(rows, Place(1, 0))


# Gaps of row 1 of WALL, worked from gap 0 at the right edge to gap 10: its runs begin at 0, 3 and 6.


@pytest.mark.parametrize(
    ("cast_on", "gaps"),
    [
        # Long-tail: tail and strand end together, where row 1 starts on the section.
        (EACH, [0, 3, 6]),
        # Knitted or cable: the tail stays where the section was begun, at its far end.
        (Casting("knitted", is_each=True), [3, 6, 10]),
        (Casting("cable", is_each=True), [3, 6, 10]),
        (Casting(), [0, 3, 6]),
        (Casting("knitted"), [10, 3, 6]),
        (Casting("cable"), [10, 3, 6]),
    ],
)
def test_the_tails_hang_where_the_cast_on_leaves_them(cast_on: Casting, gaps: list[int]) -> None:
    _, strands = cast(WALL, cast_on)
    assert [corner(End(Place(0, segment), "start"), strands).gap for segment in range(3)] == gaps


@pytest.mark.parametrize(("method", "tail"), [("long-tail", 0), ("knitted", 10), ("cable", 10)])
def test_of_a_cast_on_of_its_own_both_ends_hang_where_it_has_them(method: Method, tail: int) -> None:
    _, strands = cast(WALL, Casting(method, yarn="brick"))
    start, finish = End(Place(0, 0), "cast-on start"), End(Place(0, 0), "cast-on finish")
    assert (corner(start, strands).gap, corner(finish, strands).gap) == (tail, 0)
    assert corner(End(Place(0, 0), "start"), strands).gap == 0


def test_of_a_cast_on_of_its_own_two_ends_more_are_woven_in() -> None:
    _, usual = cast(WALL, Casting())
    _, strands = cast(WALL, Casting(yarn="kelp"))
    own = [End(Place(0, 0), "cast-on start"), End(Place(0, 0), "cast-on finish")]
    assert list(ends_of(strands)) == [*own, *ends_of(usual)]
    assert (strands.total.strands, strands.total.ends) == (usual.total.strands, usual.total.ends + 2)
    assert [end in ends_of(strands) for end in own] == [True, True]
    assert [end in ends_of(usual) for end in own] == [False, False]
    assert End(Place(0, 1), "cast-on start") not in ends_of(strands)
    assert not exists(own[0], 0, 0, strands)
    assert exists(own[0], 0, 1, strands)
    assert exists(own[1], 2, 0, strands)


@given(anything, castings(), shared_or_not())
def test_every_section_leaves_one_tail_and_every_end_is_told_on_the_way(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    _, strands = cast(chart, cast_on, carry)
    tails = 0
    for row in range(len(strands.rows)):
        for run in row_runs(strands, row):
            for step in run.steps:
                tails += isinstance(step, Join | CastOn | CutCastOn)
            tails += run.is_last
    ends = ends_of(strands)
    assert len(ends) == len(set(ends)) == tails == strands.total.ends


@given(anything, castings(), limits())
def test_a_tail_runs_through_its_own_colour_or_along_the_edge_it_made(
    chart: Chart, cast_on: Casting, carry: Carry
) -> None:
    piece, strands = cast(chart, cast_on, carry)
    assume(not list(troubles(piece.rows)))
    backs = Backs(piece, strands)

    def is_stitch(row: int, column: int) -> bool:
        return 0 <= row < len(chart.grid) and chart.grid[row][column - 1] is not None

    for end in ends_of(strands):
        weaving = backs.weaving(end)
        cells = [chart.grid[row][column - 1] for row, column in weaving.cells]
        assert None not in cells
        assert bool(weaving.on_edge) == any(cell is not None and cell.yarn != weaving.yarn for cell in cells[:1])
        if weaving.on_edge:
            assert len({row for row, _ in weaving.cells}) == 1
            beyond = 1 if weaving.on_edge == "bind-off" else -1
            assert not any(is_stitch(row + beyond, column) for row, column in weaving.cells)
            assert weaving.is_of_cast_on == (weaving.on_edge == "cast-on" and weaving.cells[0][0] == 0)
            assert not (weaving.is_of_cast_on and cast_on.is_each)
        else:
            assert {cell.yarn for cell in cells if cell} == {weaving.yarn}
        edge = weaving.cells[0][1] if weaving.is_of_cast_on else None
        if edge is not None and (cast_on.method != "long-tail") and end.kind != "cast-on finish":
            run = chart.runs(0)[end.place.segment if cast_on.is_each else -1]
            assert edge == run[-1][0]
        elif edge is not None:
            assert edge == chart.runs(0)[end.place.segment][0][0]


def test_the_tail_of_a_knitted_section_closes_the_change_at_which_it_was_begun() -> None:
    """The brick was cast on after 4 sand at the left: its tail hangs at column 6, beside the sand worked after it; it
    is drawn toward its own colour, which is to the left as one looks at the wrong side."""
    piece, strands = cast(WALL, Casting("knitted", is_each=True))
    weaving = Backs(piece, strands).weaving(End(Place(0, 1), "start"))
    assert (weaving.cells[0], weaving.neighbour, weaving.closes) == ((0, 6), "sand", "left")
    long_tail = Backs(*cast(WALL, EACH)).weaving(End(Place(0, 1), "start"))
    assert (long_tail.cells[0], long_tail.neighbour, long_tail.closes) == ((0, 4), "sand", "right")
    told = words.how_to_weave(long_tail, US)
    assert told[0] == "Keep the tail looped through the sand beside it, so that no hole opens."
    assert "half-knot" not in " ".join(told)


def test_a_tail_at_stitches_of_other_colours_runs_along_the_cast_on_edge() -> None:
    """5 cm at 20 stitches over 10 cm are 10 stitches; 24 columns, and the tail of a knitted cast-on at the left."""
    piece, strands = cast(drawn("b" * 4 + "s" * 20), Casting("knitted"))
    weaving = Backs(piece, strands).weaving(End(Place(0, 0), "start"))
    assert weaving.legs == (Leg("left", 10),)
    assert words.how_to_weave(weaving, US)[0] == (
        "Weave in along the cast-on edge, which is of its own colour: to the left 10 sts (5 cm)."
    )
    assert words.yarns_beside(weaving) == "sand at the cast-on edge"


def test_the_tail_of_the_cast_on_does_not_wait_for_a_seam() -> None:
    piece, strands = cast(WALL, Casting("knitted", is_each=True))
    backs = Backs(replace(piece, seams=Seams(Fraction(1), Fraction(1))), strands)
    assert not any(backs.weaving(End(Place(0, segment), "start")).is_for_seam for segment in range(3))


def test_every_strand_casts_on_its_own_stitches() -> None:
    """A stitch takes 2.05 cm and is 0.5 cm wide; cast on it takes 4 widths more."""
    found = lengths(*cast(drawn("sssbb"), EACH))
    assert [length.worked_cm for length in found] == [
        pytest.approx(2 * 2.05 + 2 * 4.05), pytest.approx(3 * 2.05 + 3 * 4.05 + 5 * 2.5),
    ]  # fmt: skip


def test_a_cast_on_of_its_own_is_a_length_of_its_own() -> None:
    piece, strands = cast(drawn("sssbb"), Casting(yarn="kelp"))
    own, brick, _ = lengths(piece, strands)
    # 5 x 4.05 are 20.25; with 15 spare and two tails of 15 cm 65.25, measured off in tens.
    assert (own.strand, own.yarn, own.worked_cm, own.tails, own.cm) == (0, "kelp", pytest.approx(20.25), 2, 70)
    assert brick.worked_cm == pytest.approx(2 * 2.05)
    assert {total.yarn.name: total.cm for total in totals(piece, [own])}["kelp"] == 70


@given(shaped(), castings(), limits())
def test_a_comparison_counts_the_ends_and_the_yarn_that_the_plan_has(
    one: Shaped, cast_on: Casting, carry: Carry
) -> None:
    piece = replace(one.piece(), cast_on=cast_on)
    strands = plan_strands(piece.rows, carry).strands
    (choice,) = compared(piece, [carry])
    assert choice.figures.ends == len(ends_of(strands))
    assert choice.figures.yarn_cm == sum(length.cm for length in lengths(piece, strands))


def test_a_strand_begun_in_the_cast_on_starts_at_no_middle_and_its_tail_is_not_laid_in() -> None:
    chart = drawn(*["s" * 12 + "b" * 3 + "s" * 12] * 2)
    _, strands = cast(chart, EACH, Carry(3, share=True))
    assert strands.shared == ()
    assert shared_starts(strands, 3) == ()
    assert [laid_in(strands, Place(0, segment)) for segment in range(3)] == [(), (), ()]
    # With a cast-on of its own all three are joined: the two sand lie 3 stitches apart at their near ends only.
    _, own = cast(drawn("sbs"), Casting(yarn="kelp"), Carry(3, share=True))
    assert own.shared == ((Place(0, 0), Place(0, 2)),)
    _, own = cast(chart, Casting(yarn="kelp"))
    assert [step.end for _, step in laid_in(own, Place(0, 0))] == [End(Place(0, 0), "start")]


def test_while_row_1_is_worked_the_strands_cast_on_hang_ahead() -> None:
    _, strands = cast(WALL, EACH)
    assert hangs(strands, 0, 0) == ()
    found = hangs(strands, 0, 1)
    assert [(hang.yarn, hang.away, hang.is_in_hand) for hang in found] == [
        ("sand", 0, True), ("brick", 0, False), ("sand", 3, False),
    ]  # fmt: skip
    assert [hang.worked for hang in found] == [Place(0, 0), Place(0, 1), Place(0, 2)]
    assert [hang.away for hang in hangs(strands, 0, 3)] == [0, 4, 7]


def test_what_is_left_is_reckoned_with_the_stitches_still_to_cast_on() -> None:
    piece, strands = cast(drawn("sssbb"), EACH)
    assert lasts(piece, strands, Place(0, 0), 1, 200).needed_cm == pytest.approx((2 * 2.05 + 2 * 4.05) * 1.1 + 15)
    # The sand binds off 5, too; once row 1 is begun it is cast on.
    still = 3 * 2.05 + 5 * 2.5
    assert lasts(piece, strands, Place(0, 0), 2, 200).needed_cm == pytest.approx((still + 3 * 4.05) * 1.1 + 15)
    assert lasts(piece, strands, Place(0, 1), 2, 200).needed_cm == pytest.approx(still * 1.1 + 15)


# What is said


def test_section_by_section_with_the_crosses() -> None:
    assert said(WALL, EACH) == (
        "Cast on 10 sts (long-tail), each section in a strand of its own: 4 sts in sand; cross, 3 sts in brick; "
        "cross, 3 sts in sand. At each cross lay the old strand over the new one, then take the new one up from "
        "under it. Row 1 goes back over them with the strands as they hang."
    )


def test_a_tube_is_joined_at_the_end_of_round_1() -> None:
    told = said(drawn("ssbb", is_round=True), Casting("cable", is_each=True))
    assert told.startswith("Cast on 4 sts (cable), each section in a strand of its own: 2 sts in sand; cross, 2 sts")
    assert told.endswith(
        "Do not join yet: round 1 goes back over them with the strands as they hang, and is joined at its end."
    )


def test_all_in_one_yarn() -> None:
    assert said(WALL, Casting()) == "Cast on 10 sts in sand."
    assert said(WALL, Casting("knitted")) == "Cast on 10 sts in sand (knitted)."
    assert said(WALL, Casting("cable", yarn="kelp")) == (
        "Cast on 10 sts in kelp (cable). Cut the kelp, leaving a tail. Join new sand at the back: leave a tail."
    )
    tube = drawn("ssbb", is_round=True)
    assert said(tube, Casting()) == "Cast on 4 sts in brick. Join into a round, the cast-on not twisted."


def test_more_sections_than_can_be_listed_are_told_by_the_runs_of_row_1() -> None:
    """Twenty are listed."""
    assert said(drawn("sb" * 10), EACH).count("; cross") == 19
    told = said(drawn("sb" * 10 + "s"), EACH)
    assert "a strand of its own for every run of row 1, from the last run to the first, crossed at each" in told
    assert len(told) < 300
    assert words.written_cast_on(begun(drawn("sb" * 10 + "s"), EACH), is_round=False).count("; cross") == 20


@pytest.mark.parametrize(
    ("cast_on", "lines"),
    [
        (EACH, [
            "Cast on (long-tail): 4 sts in sand; cross, 3 sts in brick; cross, 3 sts in sand. (10 sts)",
            "Row 1 (RS): with sand k3; cross, with brick k3; cross, with sand k4. (10 sts)",
        ]),
        (Casting("knitted"), [
            "",
            "Row 1 (RS): cast on 10 sts in sand (knitted), with sand k3; cross, join brick k3; cross, join sand k4. "
            "(10 sts)",
        ]),
        (Casting(yarn="kelp"), [
            "",
            "Row 1 (RS): cast on 10 sts in kelp, cut it, join sand k3; cross, join brick k3; cross, join sand k4. "
            "(10 sts)",
        ]),
    ],
)  # fmt: skip
def test_the_written_rows(cast_on: Casting, lines: list[str]) -> None:
    _, strands = cast(WALL, cast_on)
    row = words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), US)
    assert [words.written_cast_on(begun(WALL, cast_on), is_round=False), row] == lines


def test_a_written_tube_in_several_strands_is_not_joined_before_round_1() -> None:
    chart = drawn("ssbb", is_round=True)
    _, strands = cast(chart, Casting("cable", is_each=True))
    assert words.written_cast_on(casting_on(strands), is_round=True) == (
        "Cast on (cable, not joined yet): 2 sts in sand; cross, 2 sts in brick. (4 sts)"
    )
    assert words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), US) == (
        "Round 1 (RS): with brick k2; cross, with sand k2. (4 sts) Cut, leaving a tail: the brick at the right edge, "
        "beside sand. Join into a round, the cast-on not twisted. Bind off in sand and cut it."
    )


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (Casting(), "Cast on: 10 sts in sand"),
        (Casting("cable"), "Cast on: 10 sts in sand (cable)"),
        (Casting(yarn="kelp"), "Cast on: 10 sts in kelp, cut after it"),
        (EACH, "Cast on: 10 sts, each section of row 1 in a strand of its own (long-tail)"),
    ],
)
def test_the_heading(cast_on: Casting, told: str) -> None:
    assert words.cast_on_heading(begun(WALL, cast_on), US) == told


@pytest.mark.parametrize("method", METHODS)
def test_which_corner_the_tail_tells_the_sides_apart_by(method: Method) -> None:
    """Row 1 begins at the right edge: there a long-tail cast-on has its tail while the right side faces you."""
    at_start = method == "long-tail"
    cue = words.sides_cue("RS", US, cast_on=Casting(method))
    assert cue == f"The cast-on tail hangs at the lower {'right' if at_start else 'left'} now ({method} cast-on)."
    assert ("lower left" in words.sides_cue("WS", US, cast_on=Casting(method))) == at_start
    mirrored = words.sides_cue("RS", Terms(is_mirrored=True), Casting(method))
    assert ("lower left" in mirrored) == at_start
    own = words.sides_cue("WS", US, cast_on=Casting(method, yarn="kelp"), is_cut=True)
    assert own == "Row 1 was joined in at the lower left now, and its tail hangs there."


def test_the_ends_of_the_cast_on_are_told_by_their_place() -> None:
    _, strands = cast(WALL, Casting("knitted", yarn="kelp"))
    tail, finish, first = (words.end_line(strands, end, "ready", US) for end in ends_of(strands)[:3])
    assert tail == "○ ready         cast-on, tail   of the kelp at the left edge"
    assert finish == "○ ready         cast-on, finish of the kelp at the right edge"
    assert first.startswith("○ ready         row 1 RS, start  of the sand at the")
    _, each = cast(WALL, EACH)
    assert words.end_line(each, End(Place(0, 1), "start"), "woven", US) == (
        "✓ woven         cast-on, tail   of the brick between sand and sand, second from the right"
    )
    assert words.end_heading(each, End(Place(0, 1), "start")) == "Cast-on, tail"
    assert words.strand_line(each, each.summaries[1], US).endswith(
        "Cast on as the brick between sand and sand, second from the right."
    )


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (EACH, "each of row 1 its own cast-on (long-tail), the one"),
        (Casting("cable"), "the first one the cast-on (cable), the one"),
        (Casting(yarn="kelp"), "the cast-on (long-tail) is a length of its own, the one"),
    ],
)
def test_which_lengths_hold_the_cast_on(cast_on: Casting, told: str) -> None:
    piece, strands = cast(WALL, cast_on)
    assert yarn_words.what_lengths_hold(lengths(piece, strands), None, US, cast_on)[2].startswith(told)
