"""Whole rows in words, and their knits and purls: whoever reads them can work them stitch by stitch."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.faces import work
from companion.knitting.cloth.rows import Hand
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import Catch, Hold, Inside, Shape, Work
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms
from tests.knitting.charts import Chart, charts, drawn, limits
from tests.knitting.words.as_told import MIRRORED, UK

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
        "Row 1 (RS): cast on 8 sts in sand, with sand k3; cross, join brick, k2; cross, join sand, k3. (8 sts)",
        "Row 2 (WS): with sand p2; cross, with brick (hangs 1 st ahead) p3; cross, with sand p3. (8 sts) "
        "Cut, leaving a tail: the sand beside brick, first from the right; the brick between sand and sand, "
        "second from the right. Bind off in pattern in sand, right side toward you, and cut it.",
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


@pytest.mark.parametrize(
    ("inside", "told"),
    [
        ((Shape("brick", "bind off", -18, 1), Work("brick", 2, (("k", 2),))),
         "join brick, bind off 18 (1 on the right needle), k2 more"),
        ((Shape("brick", "cast on", 5, 0), Work("brick", 5, (("k", 5),))),
         "join brick, cast on 5 (knitted or cable), k5"),
        ((Shape("brick", "loops", 2, 2),), "join brick, cast on 2 (backward loop)"),
        ((Work("brick", 3, (("k", 3),)),), "join brick, k3"),
    ],
)
def test_a_comma_stands_between_a_join_and_what_comes_first(inside: tuple[Inside, ...], told: str) -> None:
    chart = drawn("bsss")
    strands = plan_strands(chart.rows(), Carry(3)).strands
    first, joined = row_runs(strands, 0)
    assert joined.is_joined
    row = words.written_row(strands.rows[0], (first, joined._replace(inside=inside)), (), US)
    assert row.endswith(f"; cross, {told}.")


def test_at_an_edge_that_another_strand_worked_last_the_new_one_is_brought_under_it() -> None:
    strands = plan_strands(drawn("bbb", "sss", "sss").rows(), Carry(0)).strands
    told = [words.written_row(row, row_runs(strands, i), (), US) for i, row in enumerate(strands.rows)]
    assert told[2] == "Row 3 (RS): join brick, bring it under sand, k3."
    two = Hold("sand", "sand", "RS")
    assert words.tell(two, "written", US) == "bring it under the old sand"


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


def test_the_bind_off_has_two_names() -> None:
    strands = plan_strands(drawn("ss").rows(), Carry(3)).strands
    told = [words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), t) for t in (US, UK)]
    assert told[0].endswith("Bind off in pattern in sand, wrong side toward you, and cut it.")
    assert told[1] == told[0].replace("Bind off", "Cast off")
