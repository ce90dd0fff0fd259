"""An edited plan and what happened before it: Back and rips do not lead behind the edit, and what no longer fits is
let go and said.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from plans_on_disk import history, plan, resume

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.runs import row_runs
from companion.knitting.strands.strands import Break
from companion.progress.actions import AtRow, Back, BindOff, EndLength, On, Refused, RipBack, WholeRow
from companion.progress.deciding import allowed
from companion.progress.edited import PlanState
from companion.progress.ends import all_ends
from tests.progress.edited_quay import FOLLOWS, OTHER_TOP, TOP, edit, worked, yarns


def test_back_takes_back_the_last_stitches_and_not_the_edited_plan(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4), On(), On())
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        for done in (1, 3):  # in row 4, then at the turn after row 3
            now = knitting.do(Back())
            assert now.done == (done if done == 1 else len(now.rows[2].segments))
            assert yarns(now, 5) == [("sand", 2), ("brick", 8), ("sand", 2)]
            assert now.past.worked[:-1] == left.past.worked[: len(now.past.worked) - 1]
            assert now.past.worked[-1] == left.past.worked[len(now.past.worked) - 1][: now.done]
        knitting.do(Back())
        assert Back not in allowed(knitting.session)
        assert (knitting.session.row, knitting.session.done) == (0, 0)
        knitting.do(AtRow(7))
        now = knitting.session
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
        assert history(knitting.session) == history(now)


def test_back_never_returns_to_the_plan_before_the_edit_without_a_word(tmp_path: Path) -> None:
    worked(tmp_path)
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        with pytest.raises(Refused, match=r"There is nothing to take back\."):
            knitting.do(Back())
        assert knitting.session.version == 1


def test_rows_ripped_back_cannot_be_had_back_once_the_plan_has_them_otherwise(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(6), RipBack(4))
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
        with pytest.raises(Refused, match=r"The plan was edited in the rows that this would bring back\."):
            knitting.do(Back())
        knitting.do(WholeRow())
        knitting.do(Back())
        assert knitting.session.rows_done == 4


def test_rows_ripped_back_are_had_back_with_the_strands_that_worked_them(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(5), RipBack(2))
    before = left.before
    assert before is not None
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        now = knitting.do(Back())
        assert (now.past, now.version) == (before.past, 1)
        assert yarns(now, 5) == [("sand", 2), ("brick", 8), ("sand", 2)]


def test_a_strand_ripped_out_with_its_cut_end_is_not_cut_when_its_number_is_given_again(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(7), RipBack(1))
    assert left.cut
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        worked_with = {strand for row in knitting.session.past.worked for strand in row}
        assert knitting.session.cut <= worked_with
        knitting.do(AtRow(7))
        knitting.do(BindOff())
        assert knitting.session.cut == set(knitting.session.strands.first)


LET_GO = " What was told of a length that ended no longer fits and is let go; tell it anew."


@pytest.mark.parametrize("is_spliced", [False, True])
def test_a_length_that_ended_in_a_run_that_is_shorter_now_holds_up_nothing(tmp_path: Path, is_spliced: bool) -> None:
    """The third run of row 3, sand over four stitches, ended after three of them; it is two stitches long then. The
    join is let go and said, the splice comes along with its yarn: it is met in row 4, after one stitch there."""
    worked(tmp_path, AtRow(3), On(), On(), EndLength(3, is_spliced))
    plan(tmp_path, edit("      ssbbssssbbss\n      sss", "      ssbbbbssbbss\n      sss"))
    with resume(tmp_path) as knitting:
        assert knitting.session.strands.breaks == ((Break(Place(3, 2), 1, True),) if is_spliced else ())
        assert knitting.opened_plan.sentence == (FOLLOWS if is_spliced else FOLLOWS + LET_GO)
        for _ in range(10):
            knitting.do(On())
            assert row_runs(knitting.session.strands, knitting.session.row)
            assert all_ends(knitting.session)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan == PlanState()


def test_a_length_that_ended_in_a_run_of_another_yarn_now_is_let_go(tmp_path: Path) -> None:
    """The first sand of the middle is drawn as brick now: a strand of that number is not the one that ended."""
    worked(tmp_path, AtRow(3), On(), On(), EndLength(3, is_spliced=False))
    foam = edit("  brick: {", "  foam: {colour: white}\n  brick: {").replace("  b: brick", "  b: brick\n  f: foam")
    plan(tmp_path, foam.replace("      ssbbssssbbss\n      sss", "      ssbbffffbbss\n      sss"))
    with resume(tmp_path) as knitting:
        assert knitting.session.strands.breaks == ()
        assert knitting.opened_plan.sentence == FOLLOWS + LET_GO


def test_a_length_that_ended_stays_ended_where_its_run_is_as_it_was(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(3), On(), On(), EndLength(3, is_spliced=False))
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        assert knitting.session.strands.breaks == (Break(Place(2, 2), 3, False),)
        assert knitting.opened_plan.sentence == FOLLOWS
