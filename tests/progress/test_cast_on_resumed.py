"""A piece keeps the cast-on it was begun with: put away and taken up, edited, ripped back, its tails woven in."""

from __future__ import annotations

from pathlib import Path

import pytest
from plans_on_disk import QUAY, plan, resume, start

from companion.knitting.cloth.rows import Casting, Place
from companion.knitting.hands.lengths import casting_on
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import CastOn, End
from companion.progress.actions import AtRow, EndLength, GoOn, JoinNew, On, Refused, RipBack, Weave
from companion.progress.deciding import allowed
from companion.progress.ends import all_ends, ready_ends
from companion.progress.session import Session

EACH = f"cast_on: {{colours: each}}\n{QUAY}"
OWN = f"cast_on: {{method: knitted, yarn: brick}}\n{QUAY}"

FOLLOWS = "The plan file was edited; what is worked is the same, so the rows to come follow the edited plan."
TAIL, CUT = End(Place(0, 0), "cast-on start"), End(Place(0, 0), "cast-on finish")


def cast_on(session: Session) -> list[tuple[str, int]]:
    """What is cast on in turn: yarn and stitches."""
    return [(step.yarn, step.stitches) for step in casting_on(session.strands) if isinstance(step, CastOn)]


def test_taken_up_again_it_is_cast_on_as_it_was(tmp_path: Path) -> None:
    with start(tmp_path, EACH) as knitting:
        knitting.do(On())
    with resume(tmp_path) as knitting:
        assert knitting.session.piece.cast_on == Casting(is_each=True)
        assert cast_on(knitting.session) == [("sand", 4), ("brick", 4), ("sand", 4)]
        assert [run.strand for run in row_runs(knitting.session.strands, 0)] == [1, 2, 3]


def test_another_cast_on_is_followed_before_the_first_stitch_and_not_after_it(tmp_path: Path) -> None:
    start(tmp_path).close()
    plan(tmp_path, EACH)
    with resume(tmp_path) as knitting:
        assert (knitting.opened_plan.kind, knitting.opened_plan.sentence) == ("adopted", FOLLOWS)
        assert len(cast_on(knitting.session)) == 3
        knitting.do(On())
    plan(tmp_path, OWN)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "differs"
        assert knitting.opened_plan.rows == (0,)
        assert knitting.opened_plan.sentence == (
            "The plan file was edited in what is worked already: the cast-on. "
            "The plan kept with the piece is followed; the edited one can be started as a new piece."
        )
        assert knitting.session.piece.cast_on == Casting(is_each=True)


def test_both_ends_of_a_cast_on_of_its_own_are_woven_in_and_come_out_when_it_is_ripped_back(tmp_path: Path) -> None:
    with start(tmp_path, OWN) as knitting:
        assert {state for end, state in all_ends(knitting.session) if end in (TAIL, CUT)} == {"not yet"}
        with pytest.raises(Refused, match="does not exist yet"):
            knitting.do(Weave(TAIL))
        knitting.do(AtRow(7))
        assert dict(all_ends(knitting.session))[TAIL] == "too fresh"
        knitting.do(Weave(TAIL))
        knitting.do(Weave(CUT))
        left = knitting.session.ends_left
    with resume(tmp_path) as knitting:
        assert knitting.session.woven == {TAIL, CUT}
        assert knitting.session.ends_left == left
        assert ready_ends(knitting.session) == 0
        knitting.do(RipBack(0))
        assert knitting.session.woven == frozenset()


def test_a_strand_begun_in_the_cast_on_is_not_said_to_be_joined_after_all(tmp_path: Path) -> None:
    with start(tmp_path, EACH) as knitting:
        knitting.do(On())
        knitting.do(On())
        assert not {JoinNew, GoOn} & allowed(knitting.session)
        with pytest.raises(Refused, match="begun in the cast-on"):
            knitting.do(JoinNew(Place(0, 1)))
        with pytest.raises(Refused, match="begun in the cast-on"):
            knitting.do(EndLength(0, is_spliced=False))
        with pytest.raises(Refused, match="No such strand"):
            knitting.do(GoOn(Place(0, 2), 1))
        knitting.do(EndLength(2, is_spliced=False))
        assert knitting.session.strands.total.ends == 2 * len(knitting.session.strands.first) + 2
