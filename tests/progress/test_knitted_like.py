"""A plan file under another name, and one that was edited in what is worked already and is followed there."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from plans_on_disk import QUAY, history, plan, resume, shelf, start, state

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.progress.actions import Action, AtRow, Back, BindOff, Note, On, Weave, WholeRow
from companion.progress.edited import FOLLOWED
from companion.progress.ends import all_ends
from companion.progress.exported import read, written
from companion.progress.journal import read as read_journal
from companion.progress.knitting import Knitting
from companion.progress.session import Session
from companion.progress.trouble import Refused
from tests.progress.edited_quay import FOLLOWS, OTHER_TOP, TOP, edit, worked, yarns

ROW_2 = "      sssbbbbbbsss\n      ssssbbbbssss\n"
LIKE = QUAY.removesuffix(ROW_2) + "      ssbbbbbbbbss\n      ssssbbbbssss\n"
"""Row 2 is wider in brick by a stitch at either side."""


def renamed(tmp_path: Path, text: str | None = None) -> Path:
    """The plan file has another name, and perhaps another text."""
    path = (tmp_path / "quay.yaml").rename(tmp_path / "pier.yaml")
    if text is not None:
        path.write_text(text, encoding="utf-8")
    return path


def test_a_piece_follows_its_plan_to_another_path_from_then_on(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(3), On())
    path = renamed(tmp_path)
    with shelf(tmp_path).resume("Quay", plan_path=path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
        assert state(knitting.session) == state(left)
    path.write_text(edit(TOP, OTHER_TOP), encoding="utf-8")
    assert [card.name for card in shelf(tmp_path).find(path)] == ["Quay"]
    with resume(tmp_path) as knitting:
        assert (knitting.opened_plan.kind, knitting.opened_plan.sentence) == ("adopted", FOLLOWS)
        knitting.do(On())
    with resume(tmp_path) as knitting:
        assert knitting.card.plan_path == str(path)
        assert knitting.opened_plan.kind == "unchanged"


def test_an_edit_in_rows_to_come_is_followed_together_with_the_path(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(3))
    path = renamed(tmp_path, edit(TOP, OTHER_TOP))
    with shelf(tmp_path).resume("Quay", plan_path=path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
    with resume(tmp_path) as knitting:
        assert (knitting.opened_plan.kind, knitting.card.plan_path) == ("unchanged", str(path))


@pytest.mark.parametrize("text", [LIKE, "plan: 1\ntitle: [\n"])
def test_a_path_whose_plan_cannot_be_followed_is_not_kept(tmp_path: Path, text: str) -> None:
    worked(tmp_path, AtRow(4))
    path = tmp_path / "other.yaml"
    path.write_text(text, encoding="utf-8")
    with shelf(tmp_path).resume("Quay", plan_path=path) as knitting:
        assert knitting.opened_plan.kind in ("differs", "not readable")
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
        assert knitting.card.plan_path == str(tmp_path / "quay.yaml")


def told_so(tmp_path: Path, text: str, *actions: Action) -> Knitting:
    """A piece of which this is done, and was done like the text has it."""
    worked(tmp_path, *actions)
    plan(tmp_path, text)
    knitting = resume(tmp_path)
    assert knitting.opened_plan.kind == "differs"
    knitting.follow_edited()
    return knitting


def stitches_worked(session: Session) -> int:
    rows = sum(session.rows[row].stitches for row in range(session.row))
    return rows + sum(segment.stitches for segment in session.rows[session.row].segments[:session.done])


@pytest.mark.parametrize(
    "actions",
    [
        (WholeRow(), WholeRow()), (AtRow(4),), (AtRow(5), On(), On()), (AtRow(3), On()), (AtRow(7),),
        (WholeRow(), WholeRow(), On()), (AtRow(6), On(), On(), On()), (AtRow(3), On(), On(), Note(2, "blue tail")),
    ],
)  # fmt: skip
def test_what_is_worked_counts_as_worked_like_the_edited_plan(tmp_path: Path, actions: tuple[Action, ...]) -> None:
    with told_so(tmp_path, LIKE, *actions) as knitting:
        now = knitting.session
        before = now.before
        assert before is not None
        assert yarns(before, 2) == [("sand", 3), ("brick", 6), ("sand", 3)]
        assert yarns(now, 2) == [("sand", 2), ("brick", 8), ("sand", 2)]
        assert (now.row, now.done, stitches_worked(now)) == (before.row, before.done, stitches_worked(before))
        assert dict(now.notes) == dict(before.notes)
        assert (knitting.opened_plan.kind, knitting.opened_plan.sentence) == ("adopted", FOLLOWED)
        for row, strands in enumerate(now.past.worked):
            for segment, strand in enumerate(strands):
                assert now.rows[row].segments[segment].yarn == now.rows.segment(now.strands.first[strand]).yarn
        for strand in now.cut:
            assert strand not in now.strands.last or now.strands.last[strand] < Place(now.row, now.done)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
        assert state(knitting.session) == state(now)
        knitting.do(On() if not now.is_worked else BindOff())


def test_it_is_one_step_that_back_takes_back_whole(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(5), On())
    plan(tmp_path, LIKE)
    with resume(tmp_path) as knitting:
        knitting.follow_edited()
        knitting.do(Back())
        assert state(knitting.session) == state(left)
        assert history(knitting.session) == history(left)


def test_its_journal_is_believed_elsewhere(tmp_path: Path) -> None:
    with told_so(tmp_path, LIKE, AtRow(5), On(), On()) as knitting:
        now = knitting.session
    contents = read_journal(tmp_path / "pieces" / "quay.rowside")
    exported = read("".join(written(contents)), "quay.json")
    assert state(exported.session) == state(now)
    assert len(exported.entries) == len(contents.entries)


def test_woven_ends_of_rows_that_stay_as_they_are_stay_woven_in(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(5))
        first = next(end for end, state in all_ends(knitting.session) if end.place == Place(0, 1))
        second = End(Place(0, 2), "start")
        in_row_3 = next(end for end, state in all_ends(knitting.session) if end.place.row == 2 and state != "not yet")
        for end in (first, second, in_row_3):
            knitting.do(Weave(end))
    text = LIKE.replace("      ssbbbbbbbbss\n", "      sssbbbbbbsss\n").replace(
        "      ssbbssssbbss\n      sss", "      sssbbssbbsss\n      sss"
    )
    assert text.count("sssbbssbbsss") == 1  # row 3 is another one
    plan(tmp_path, text)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (3,)
        knitting.follow_edited()
        assert knitting.session.woven == {first, second}


def test_acts_that_are_still_to_be_done_at_the_rows_end_are_still_to_be_done(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(4), On(), On(), On(), On(), On())
    plan(tmp_path, LIKE)
    with resume(tmp_path) as knitting:
        before = knitting.session
        knitting.follow_edited()
        now = knitting.session
    assert (now.row, now.done) == (before.row, before.done)
    assert (before.act is None) == (now.act is None)
    assert before.act is not None, "a strand of row 4 is cut"
    assert before.row == 3


@pytest.mark.parametrize(
    ("actions", "text"),
    [
        ((AtRow(7), BindOff()), LIKE),
        ((AtRow(7),), QUAY.replace(TOP, "").replace(ROW_2, "      ssbbbbbbbbss\n      ssssbbbbssss\n")),
        ((AtRow(2), On(), On()), LIKE),
    ],
)
def test_it_is_not_offered_where_it_cannot_be(tmp_path: Path, actions: tuple[Action, ...], text: str) -> None:
    left = worked(tmp_path, *actions)
    plan(tmp_path, text)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "differs"
        assert knitting.opened_plan.version is None
        with pytest.raises(Refused, match="There is no edited plan"):
            knitting.follow_edited()
        assert state(knitting.session) == state(left)


def test_it_follows_the_path_and_the_limits_of_the_edited_plan(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(4))
    path = renamed(tmp_path, LIKE + "carry: {reach: 0}\n")
    with shelf(tmp_path).resume("Quay", plan_path=path) as knitting:
        assert knitting.session.limits != Carry(0)
        knitting.follow_edited()
        assert knitting.session.limits == Carry(0)
        assert knitting.card.plan_path == str(path)
    with resume(tmp_path) as knitting:
        assert (knitting.opened_plan.kind, knitting.card.plan_path) == ("unchanged", str(path))


def test_edited_twice_and_told_twice_it_is_like_the_last(tmp_path: Path) -> None:
    with told_so(tmp_path, LIKE, AtRow(4)) as knitting:
        pass
    plan(tmp_path, QUAY)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (2,)
        knitting.follow_edited()
        assert yarns(knitting.session, 2) == [("sand", 3), ("brick", 6), ("sand", 3)]
        for one, other in pairwise(knitting.session.past.worked):
            assert one
            assert other
    assert sorted(read_journal(tmp_path / "pieces" / "quay.rowside").plans) == [0, 1]
