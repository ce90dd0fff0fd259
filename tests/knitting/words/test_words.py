"""Every sentence has what the hands need: both yarns, the word cross, the side's own form, the mirrored one."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Hand, Row, RowKey
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import (
    CastOn,
    Catch,
    Count,
    Cross,
    Cut,
    Fetch,
    HaveReady,
    Hold,
    InRow,
    Join,
    JoinHalf,
    Leave,
    Rest,
    Shape,
    Spot,
    Steady,
    Step,
    Turn,
    Work,
)
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms, tell
from tests.knitting.charts import Chart, charts, drawn, limits

MIRRORED = Terms(is_mirrored=True)
UK = Terms(dialect="uk")

KNIT: tuple[tuple[Hand, int], ...] = (("k", 8),)

NOT_KNOWN = Fraction(0)
ON_EITHER_SIDE: list[tuple[Step, Step]] = [
    (Steady("sand", "RS"), Steady("sand", "WS")),
    (Join("brick", "sand", "RS"), Join("brick", "sand", "WS")),
    (Join("brick", "", "RS"), Join("brick", "", "WS")),
    (JoinHalf("brick", "first", 2, "RS"), JoinHalf("brick", "first", 2, "WS")),
    (JoinHalf("brick", "second", 2, "RS"), JoinHalf("brick", "second", 2, "WS")),
    (Fetch("brick", 2, 2, 0, "ahead", NOT_KNOWN, "RS"), Fetch("brick", 2, 2, 0, "ahead", NOT_KNOWN, "WS")),
    (Fetch("brick", 2, 3, 2, "ahead", NOT_KNOWN, "RS"), Fetch("brick", 2, 3, 2, "ahead", NOT_KNOWN, "WS")),
    (Fetch("brick", 2, 2, 0, "back", NOT_KNOWN, "RS"), Fetch("brick", 2, 2, 0, "back", NOT_KNOWN, "WS")),
    (Fetch("brick", 2, 2, 0, "behind", NOT_KNOWN, "RS"), Fetch("brick", 2, 2, 0, "behind", NOT_KNOWN, "WS")),
    (Fetch("brick", 2, 2, 0, "behind", Fraction(1), "RS"), Fetch("brick", 2, 2, 0, "behind", Fraction(1), "WS")),
    (Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "RS"), Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "WS")),
    (Hold("sand", "brick", "RS"), Hold("sand", "brick", "WS")),
    (Cross("sand", "brick", "RS"), Cross("sand", "brick", "WS")),
]
EVERY_STEP: list[Step] = [CastOn(1, "sand", 40, "long-tail"), Work("sand", 8, KNIT)]
EVERY_STEP += [step for pair in ON_EITHER_SIDE for step in pair]


def full(step: Step, terms: Terms = US) -> str:
    return tell(step, "full", terms)


def swapped(text: str) -> str:
    """The text with left and right exchanged."""
    return re.sub(r"\b(left|right)\b", lambda m: {"left": "right", "right": "left"}[m[1]], text)


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_every_step_is_told_as_whole_sentences_with_its_yarns(step: Step) -> None:
    told = full(step)
    assert told[0].isupper()
    assert told.endswith(".")
    yarns = [value for name in ("yarn", "old", "new") if (value := getattr(step, name, ""))]
    assert yarns
    assert all(re.search(rf"\b{yarn}\b", told, re.I) for yarn in yarns)


@pytest.mark.parametrize(("on_right", "on_wrong"), ON_EITHER_SIDE, ids=repr)
def test_every_step_with_a_strand_has_a_right_side_and_a_wrong_side_form(on_right: Step, on_wrong: Step) -> None:
    assert full(on_right) != full(on_wrong)
    assert "back" in full(on_right)
    assert "front" in full(on_wrong)
    assert "in front" not in full(on_right)
    assert "at the back" not in full(on_wrong)


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_the_word_cross_stands_in_a_cross_and_nowhere_else(step: Step) -> None:
    has_word = re.search(r"\bcross\b", full(step), re.I) is not None
    assert has_word == isinstance(step, Cross)


def test_a_cross_is_laid_the_way_you_are_going_on_both_sides() -> None:
    assert full(Cross("sand", "brick", "RS")) == (
        "Cross the old strand before the new, at the back: "
        "lay sand to your left across brick, then take brick up from under it."
    )
    assert full(Cross("sand", "brick", "WS")) == (
        "Cross the old strand before the new, in front: "
        "lay sand to your left across brick, then take brick up from under it."
    )
    for side in ("RS", "WS"):
        told = full(Cross("sand", "brick", side), MIRRORED)
        assert "to your right" in told
        assert "left" not in told


def test_two_strands_of_one_yarn_are_told_apart_at_a_cross() -> None:
    told = full(Cross("sand", "sand", "RS"))
    assert "lay the old sand to your left across the new sand, then take the new sand up from under it" in told


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_mirrored_steps_swap_left_and_right_only(step: Step) -> None:
    assert full(step, MIRRORED) == swapped(full(step))


def test_a_strand_on_the_right_side_goes_to_the_back_on_one_side_and_to_the_front_on_the_other() -> None:
    assert full(Steady("sand", "RS")) == "Take sand to the back first."
    assert full(Steady("sand", "WS")) == "Bring sand to the front first."


def test_a_fetch_says_ahead_or_back_and_how_far() -> None:
    ahead = full(Fetch("brick", 3, 3, 0, "ahead", NOT_KNOWN, "RS"))
    back = full(Fetch("brick", 1, 1, 0, "back", NOT_KNOWN, "WS"))
    assert "3 sts ahead" in ahead
    assert "spread" in ahead
    assert "1 st back" in back
    assert "slack" in ahead
    assert "slack" in back
    assert not re.search(r"\b(left|right)\b", ahead + back)


def test_a_fetch_counts_what_lies_on_the_needles_and_not_the_stitches_of_the_row_to_come() -> None:
    """22 stitches of this row lie where 25 of the row below do."""
    fetch = Fetch("brick", 22, 25, 0, "ahead", NOT_KNOWN, "RS")
    assert full(fetch) == "Brick hangs 25 sts ahead: spread those stitches, bring it back slack at the back."
    assert tell(fetch, "short", US) == "Brick hangs 25 sts ahead."
    assert tell(fetch, "written", US) == "(carried 25 sts from ahead)"
    assert tell(fetch, "spoken", US) == "Brick hangs 25 stitches ahead."


def test_a_strand_that_rested_says_so_and_one_straight_below_is_brought_up() -> None:
    rested = full(Fetch("brick", 2, 2, 3, "back", NOT_KNOWN, "WS"))
    assert rested == "Brick rested 3 rows and hangs 2 sts back: carry it on slack in front."
    below = Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "WS")
    assert full(below) == "Brick rested 1 row and hangs below this very stitch: bring it up slack in front."
    assert [tell(below, register, US) for register in ("short", "verb", "written", "spoken")] == [
        "Brick rested 1 row and hangs below.", "bring up", "", "Brick rested 1 row and hangs below.",
    ]  # fmt: skip


def test_a_strand_that_passes_behind_waits_so_far_back() -> None:
    behind = Fetch("brick", 3, 3, 0, "behind", Fraction(3, 2), "WS")
    assert full(behind) == (
        "Brick waits 3 sts (1.5 cm) back in this row: spread those stitches, carry it slack in front."
    )


anything = charts(max_rows=6, max_columns=12, ways=("flat", "round", "mixed"), has_textures=True)


@given(anything, limits(), st.sampled_from([Terms(), MIRRORED, UK]))
def test_a_written_row_says_cross_once_at_each_change(chart: Chart, carry: Carry, terms: Terms) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    for index, row in enumerate(strands.rows):
        told = words.written_row(row, row_runs(strands, index), row_end(strands, index), terms)
        assert len(re.findall(r"\bcross", told, re.I)) == len(row.segments) - 1
        runs = told.split(": ", 1)[1].split("; ")
        for segment, run in zip(row.segments, runs[: len(row.segments)], strict=True):
            assert ("cross" in run) == (segment is not row.segments[0])
            assert segment.yarn in run
            inside = row_runs(strands, index)[row.segments.index(segment)].inside
            if not any(isinstance(step, Shape) for step in inside):
                assert words.in_short(work(row, segment)) in run


@given(anything, limits())
def test_a_row_told_at_once_says_cross_with_both_yarns_at_each_change(chart: Chart, carry: Carry) -> None:
    strands = plan_strands(chart.rows(), carry).strands
    for index, row in enumerate(strands.rows):
        for before, run in zip((None, *row.segments), row_runs(strands, index), strict=False):
            told = words.change_in_short(run, US)
            if before is None:
                assert "cross" not in told
            else:
                crossed = told.split("cross")
                assert len(crossed) == 2
                assert crossed[1].index(before.yarn) < crossed[1].index(run.segment.yarn)
            assert (words.LAST_OF_STRAND in told) == run.is_last


def test_a_written_row_in_full() -> None:
    strands = plan_strands(drawn("ssbbbsss", "sssbbsss").rows(), Carry(3)).strands
    told = [
        words.written_row(row, row_runs(strands, i), row_end(strands, i), US) for i, row in enumerate(strands.rows)
    ]
    assert told == [
        "Row 1 (RS): cast on 8 sts in sand, with sand k3; cross, join brick k2; cross, join sand k3. (8 sts)",
        "Row 2 (WS): with sand p2; cross, with brick (carried 1 st from ahead) p3; cross, with sand p3. (8 sts) "
        "Cut, leaving a tail: the sand at the right edge, beside brick; the brick between sand and sand, second "
        "from the right. Bind off in sand and cut it.",
    ]


def hands_again(told: str, knit: str, purl: str) -> list[tuple[str, int]]:
    """Stitch by stitch what a reader of the words would do."""
    found: list[tuple[str, int]] = []
    for inside, times, single in re.findall(r"\(([^)]*)\) (\d+) times|([^,(]+)", told):
        for _ in range(int(times or 1)):
            for part in (inside or single).split(","):
                if part.strip():
                    hand, number = re.fullmatch(rf"({knit}|{purl}) ?(\d+)", part.strip()).groups()
                    found += [("k" if hand == knit else "p", 1)] * int(number)
    return found


runs_of_hands = st.lists(st.integers(1, 3), min_size=1, max_size=12).flatmap(
    lambda counts: st.sampled_from(["kp", "pk"]).map(
        lambda hands: tuple((hands[i % 2], count) for i, count in enumerate(counts))
    )
)


@given(runs_of_hands)
def test_knits_and_purls_in_words_can_be_worked_stitch_by_stitch(hands: tuple[tuple[Hand, int], ...]) -> None:
    stitches = [(hand, 1) for hand, number in hands for _ in range(number)]
    assert hands_again(words.in_short(hands), "k", "p") == stitches
    assert hands_again(words.in_full(hands), "knit", "purl") == stitches


@pytest.mark.parametrize(
    ("hands", "short", "full"),
    [
        ([("k", 8)], "k8", "knit 8"),
        ([("p", 1)], "p1", "purl 1"),
        ([("k", 2), ("p", 2)], "k2, p2", "knit 2, purl 2"),
        ([("k", 2), ("p", 2)] * 3 + [("k", 2)], "(k2, p2) 3 times, k2", "(knit 2, purl 2) 3 times, knit 2"),
        ([("k", 1), ("p", 2), ("k", 2), ("p", 2), ("k", 2)], "k1, (p2, k2) 2 times",
         "knit 1, (purl 2, knit 2) 2 times"),
    ],
)
def test_knits_and_purls_are_told_short_and_in_full(hands: list[tuple[Hand, int]], short: str, full: str) -> None:
    assert (words.in_short(hands), words.in_full(hands)) == (short, full)


def test_after_a_bind_off_so_many_more_are_worked_whatever_is_done_between() -> None:
    """One of the run's stitches is left over from binding off."""
    [run] = row_runs(plan_strands(drawn("ssssss").rows(), Carry(3)).strands, 0)
    off, catch = Shape("sand", "bind off", -3, 1), Catch("brick")
    inside = (off, catch, Work("sand", 3, (("k", 3),)), catch, Work("sand", 2, (("k", 2),)))
    assert words.work_in_full(run._replace(inside=inside), US) == (
        "bind off 3 (1 on the right needle), catch brick, knit 3 more, catch brick, knit 2"
    )


def test_knits_and_purls_are_read_out_so_that_one_hears_where_a_repeat_ends() -> None:
    assert words.aloud([("k", 8)]) == "knit 8"
    rib: list[tuple[Hand, int]] = [("k", 1), *[("p", 2), ("k", 2)] * 3, ("p", 2)]
    assert words.aloud(rib) == "knit 1, then 3 times purl 2 and knit 2, then purl 2"


@pytest.mark.parametrize(
    ("number", "word"),
    [(1, "first"), (2, "second"), (3, "third"), (10, "tenth"), (11, "11th"), (12, "12th"), (13, "13th"), (20, "20th"),
     (21, "21st"), (22, "22nd"), (23, "23rd"), (24, "24th"), (101, "101st"), (111, "111th"), (112, "112th"),
     (113, "113th"), (121, "121st")],
)
def test_ordinals(number: int, word: str) -> None:
    assert words.ordinal(number) == word


def row_of(line: str, number: int = 1) -> Row:
    """Row ``number`` of a piece in which every row looks like ``line``."""
    return drawn(*[line] * number).rows()[number - 1]


def test_a_strand_is_told_by_its_place_as_the_row_is_held() -> None:
    row = row_of("kkksssbbb")
    assert words.strand_place(row, 0, US) == "the brick at the right edge, beside sand"
    assert words.strand_place(row, 1, US) == "the sand between brick and kelp, second from the right"
    assert words.strand_place(row, 2, US) == "the kelp at the left edge, beside sand"
    on_wrong_side = row_of("kkksssbbb", 2)
    assert words.strand_place(on_wrong_side, 0, US) == "the kelp at the right edge, beside sand"
    assert words.strand_place(on_wrong_side, 1, US) == "the sand between kelp and brick, second from the right"
    assert words.strand_place(row_of("sss"), 0, US) == "the sand"


def test_the_third_strand_is_third_from_the_right() -> None:
    assert words.strand_place(row_of("fksbs"), 2, US) == "the sand between brick and kelp, third from the right"
    assert words.strand_place(row_of("fksbs"), 2, MIRRORED) == "the sand between brick and kelp, third from the left"


@given(charts(max_rows=3, max_columns=12), st.sampled_from([Terms(), UK]), st.booleans())
def test_places_positions_and_cues_swap_left_and_right_when_mirrored(
    chart: Chart, terms: Terms, turned: bool
) -> None:
    mirrored = terms._replace(is_mirrored=True)
    for row in chart.rows():
        for segment in range(len(row.segments)):
            told = words.strand_place(row, segment, terms, is_turned=turned)
            assert words.strand_place(row, segment, mirrored, is_turned=turned) == swapped(told)
        for done in range(len(row.segments) + 1):
            told = words.where_you_are(row, done, 7, terms)
            facing = words.side_facing(row.side)
            assert words.where_you_are(row, done, 7, mirrored) == swapped(told).replace(swapped(facing), facing)
        assert words.sides_cue(row.side, mirrored) == swapped(words.sides_cue(row.side, terms))


@given(charts(max_rows=3, max_columns=12))
def test_every_strand_of_a_row_has_a_place_of_its_own(chart: Chart) -> None:
    for row in chart.rows():
        told = [words.strand_place(row, segment, US) for segment in range(len(row.segments))]
        assert len(set(told)) == len(told)


def wrong_side_row_23() -> Row:
    """A row of 40 stitches called 23, the wrong side toward you: 17 brick worked first, then 23 sand."""
    row = row_of("b" * 17 + "s" * 23, 2)
    return replace(row, key=RowKey("", 23))


def test_picking_up_in_mid_row_says_what_is_on_which_needle_and_in_the_hand() -> None:
    assert words.where_you_are(wrong_side_row_23(), 1, 23, US) == (
        "Row 23, wrong side toward you. 17 stitches on the right needle, 23 on the left. "
        "You last worked brick; the brick strand is in your hand."
    )
    assert words.where_you_are(wrong_side_row_23(), 1, 23, MIRRORED) == (
        "Row 23, wrong side toward you. 17 stitches on the left needle, 23 on the right. "
        "You last worked brick; the brick strand is in your hand."
    )


def test_picking_up_before_the_first_stitch_and_at_the_turn() -> None:
    row = row_of("ssssb")
    begun = words.where_you_are(row, 0, 5, US)
    assert begun == "Row 1, right side toward you as you begin it: 5 stitches on the left needle."
    assert words.where_you_are(row, 2, 0, US) == (
        "Row 1, right side toward you. The row is done: 5 stitches on the right needle. "
        "You last worked sand; the sand strand is in your hand."
    )
    mid_row = words.where_you_are(row, 1, 4, US)
    assert mid_row.startswith("Row 1, right side toward you. 1 stitch on the right needle, 4 on")


def test_the_cast_on_tail_tells_the_sides_apart() -> None:
    assert "lower right" in words.sides_cue("RS", US)
    assert "lower left" in words.sides_cue("WS", US)


def test_a_row_is_named_and_its_side() -> None:
    assert words.row_of(row_of("ss", 2), 90) == "Row 2 of 90"
    assert words.side_facing("WS") == "wrong side toward you"
    tube = drawn("ss", "ss", is_round=True).rows()
    assert words.row_of(tube[1], 90) == "Round 2 of 90"


def test_the_best_place_to_stop_is_after_a_wrong_side_row() -> None:
    assert words.best_stop(row_of("ssss", 2), 3, None) == "3 stitches to the end of row 2, a good place to stop."
    assert words.best_stop(row_of("ssss", 3), 1, row_of("ssss", 4)) == (
        "1 stitch to the end of row 3; the best place to stop is after wrong-side row 4, 5 stitches from here."
    )


def test_a_rows_end_tells_the_count_the_turn_and_what_to_have_ready() -> None:
    assert full(Count(40, 0)) == "40 stitches must be on the needle."
    assert full(Count(1, 0)) == "1 stitch must be on the needle."
    assert full(Count(8, 2)) == "8 stitches must be on the needle, 2 more than before."
    assert full(Count(6, -2)) == "6 stitches must be on the needle, 2 fewer than before."
    assert full(Turn("toward")) == "Turn, the needle's tip toward you."
    assert full(Turn("away")) == "Turn, the needle's tip away from you."
    assert full(HaveReady(("brick", "kelp"), ())) == "Have ready: new brick, new kelp."
    several = HaveReady(("brick", "kelp", "brick"), ("sand",))
    assert full(several) == "Have ready: new brick (2), new kelp, new sand wound from both ends."
    assert tell(several, "spoken", US) == (
        "Have ready: 2 lengths of new brick, new kelp, new sand wound from both ends."
    )


BRICK = Spot(1, "brick", 1, 3, "", "sand")
SAND = Spot(2, "sand", 2, 3, "brick", "brick")
OTHER_BRICK = Spot(3, "brick", 3, 3, "sand", "")


def test_all_cuts_of_a_row_are_told_together_by_place() -> None:
    cut = Cut((BRICK, SAND), (), ())
    assert full(cut) == tell(cut, "written", US) == (
        "Cut, leaving a tail: the brick at the right edge, beside sand; "
        "the sand between brick and brick, second from the right."
    )
    assert tell(cut, "short", US) == "Cut, counted from the right: brick first and sand second."
    assert tell(cut, "short", MIRRORED) == "Cut, counted from the left: brick first and sand second."
    assert tell(Cut((Spot(1, "sand", 1, 1, "", ""),), (), ()), "short", US) == "Cut: the sand."


def test_the_one_of_the_same_yarn_that_is_not_cut_is_named() -> None:
    cut = Cut((BRICK, SAND), (OTHER_BRICK,), ())
    assert full(cut).endswith("second from the right. Counted from the right, brick third stays.")
    assert tell(cut, "spoken", US) == "Cut, counted from the right: brick first and sand second. Brick third stays."
    both = Cut((SAND,), (BRICK, OTHER_BRICK), ())
    assert full(both).endswith("Counted from the right, brick first and brick third stay.")


def test_strands_from_rows_below_that_are_not_needed_any_more_are_told_with_their_row() -> None:
    cut = Cut((), (), (InRow(RowKey("", 7), False, SAND), InRow(RowKey("left", 2), False, BRICK)))
    assert full(cut) == (
        "Cut too, not needed any more: row 7, the sand between brick and brick, second from the right; "
        "row 2 of the left part, the brick at the right edge, beside sand."
    )


def test_strands_that_rest_are_told_by_place_with_the_rows() -> None:
    leave = Leave(((BRICK, 1), (SAND, 3)))
    assert full(leave) == (
        "Leave hanging, do not cut: the brick at the right edge, beside sand (rests 1 row); "
        "the sand between brick and brick, second from the right (rests 3 rows)."
    )
    assert tell(leave, "short", US) == "Leave hanging, counted from the right: brick first and sand second."


def test_what_is_done_to_other_strands_is_told_between_the_stitches() -> None:
    steps = Work("kelp", 3, (("k", 3),)), Catch("sand"), Rest("brick", False), Rest("brick", True)
    assert [tell(step, "short", US) for step in steps] == [
        "knit 3", "catch sand", "leave the resting brick", "catch the resting brick",
    ]  # fmt: skip


def test_the_bind_off_has_two_names() -> None:
    strands = plan_strands(drawn("ss").rows(), Carry(3)).strands
    told = [words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), t) for t in (US, UK)]
    assert told[0].endswith("Bind off in sand and cut it.")
    assert told[1] == told[0].replace("Bind off", "Cast off")


@pytest.mark.parametrize(
    ("names", "told"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_names_in_a_row(names: list[str], told: str) -> None:
    assert words.listed(names) == told
