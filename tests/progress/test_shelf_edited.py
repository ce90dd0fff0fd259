"""An edited plan: followed where what is worked is the same, told row by row where it is not, never guessed."""

from __future__ import annotations

from pathlib import Path

import pytest
from plans_on_disk import QUAY, history, plan, resume, shelf, start, state

from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.plan.cautions import in_words
from companion.plan.read import load
from companion.progress.actions import AtRow, BindOff, On, WholeRow
from companion.progress.edited import PlanState
from companion.progress.journal import read
from companion.progress.shelf import Knitting
from tests.progress.edited_quay import FOLLOWS, OTHER_TOP, TOP, edit, worked, yarns

ROW_2 = "      sssbbbbbbsss\n      ssssbbbbssss\n"
"""Rows 2 and 1 as drawn: the chart's last two lines."""

SAME_WORK = "The plan file was edited; the stitches are the same, the rest is taken over."


def bottom(new: str) -> str:
    """The plan's text with other rows 2 and 1."""
    return QUAY.removesuffix(ROW_2) + new


def told(knitting: Knitting) -> tuple[str, str, tuple[int, ...]]:
    found = knitting.opened_plan
    return found.kind, found.sentence, found.rows


def entries(tmp_path: Path) -> int:
    return len(read(tmp_path / "pieces" / "quay.rowside").entries)


def test_rows_to_come_may_change_and_are_followed(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4), On(), On())
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        now = knitting.session
        assert told(knitting) == ("adopted", FOLLOWS, ())
        assert (now.row, now.done) == (left.row, left.done) == (3, 2)
        assert yarns(now, 5) == [("sand", 2), ("brick", 8), ("sand", 2)]
        assert now.past == left.past
        assert now.strands.strand_of == plan_strands(now.rows, now.limits, left.past).strands.strand_of
        knitting.do(AtRow(7))
        left = now = knitting.session
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(now)
        assert told(knitting) == ("unchanged", "", ())
    stored = read(tmp_path / "pieces" / "quay.rowside").plans
    assert [stored[0].text, stored[1].text] == [QUAY, edit(TOP, OTHER_TOP)]


def test_the_rest_of_the_row_on_the_needles_may_change(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(3), On())
    plan(tmp_path, edit("      ssbbssssbbss\n      sss", "      ssssssssbbss\n      sss"))
    with resume(tmp_path) as knitting:
        assert told(knitting) == ("adopted", FOLLOWS, ())
        assert yarns(knitting.session, 3) == [("sand", 2), ("brick", 2), ("sand", 8)]


def test_a_worked_stitch_that_differs_is_told_and_the_stored_plan_goes_on(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(5))
    other = bottom("      sssbbsbbbsss\n      ssssbsbbssss\n")
    plan(tmp_path, other)
    with resume(tmp_path) as knitting:
        assert told(knitting) == (
            "differs",
            "The plan file was edited in what is worked already: rows 1 to 2. "
            "The plan kept with the piece is followed; the edited one can be started as a new piece.",
            (1, 2),
        )
        assert state(knitting.session) == state(left)
        edited = knitting.opened_plan.loaded
        assert edited is not None
        assert edited.text == other
        with shelf(tmp_path).start(edited, tmp_path / "quay.yaml") as again:
            assert again.name == "Quay 2"
            assert yarns(again.session, 1)[1:4] == [("brick", 2), ("sand", 1), ("brick", 1)]
        knitting.do(WholeRow())
    with resume(tmp_path) as knitting:  # asked again, as long as the file differs
        assert knitting.opened_plan.kind == "differs"
        assert knitting.session.rows_done == 5
    with resume(tmp_path, "Quay 2") as knitting:
        assert knitting.opened_plan == PlanState()


def test_every_row_that_differs_is_told(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(7))
    lines = QUAY.splitlines(keepends=True)
    for number in (1, 3, 4, 6):
        lines[-number] = "      sbbbbbbbbbbs\n"
    plan(tmp_path, "".join(lines))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (1, 3, 4, 6)
        assert "rows 1, 3 to 4 and 6." in knitting.opened_plan.sentence


def test_another_texture_in_a_worked_row_differs(tmp_path: Path) -> None:
    worked(tmp_path, WholeRow())
    plan(tmp_path, edit("s: sand", "s: {yarn: sand, stitch: garter}"))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (1,)


def test_another_yarn_name_in_a_worked_row_differs(tmp_path: Path) -> None:
    worked(tmp_path, WholeRow())
    plan(tmp_path, QUAY.replace("sand", "foam"))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (1,)


def test_another_width_differs_at_every_worked_row(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(3), On())
    text = QUAY.replace("ssss\n", "sssss\n").replace("bsss\n", "bssss\n").replace("bbss\n", "bbsss\n")
    plan(tmp_path, text)
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (1, 2, 3)


def test_a_plan_shorter_than_what_is_worked_differs_where_it_ends(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(6), On())
    plan(tmp_path, edit(TOP, ""))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (5, 6)


def test_a_plan_that_ends_where_the_knitter_is_makes_the_piece_whole(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(5))
    plan(tmp_path, edit(TOP, ""))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
        assert knitting.session.is_worked
        knitting.do(BindOff())


def test_rows_added_to_a_piece_that_is_bound_off_differ(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(7), BindOff())
    plan(tmp_path, edit(TOP, TOP[:19] + TOP))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (7,)
        assert knitting.session.is_bound_off


def test_rows_added_to_a_piece_not_bound_off_are_rows_to_come(tmp_path: Path) -> None:
    worked(tmp_path, AtRow(7))
    plan(tmp_path, edit(TOP, TOP[:19] + TOP))
    with resume(tmp_path) as knitting:
        assert told(knitting) == ("adopted", FOLLOWS, ())
        assert knitting.do(On()).row == 6


def test_a_piece_of_which_nothing_is_worked_follows_any_edit(tmp_path: Path) -> None:
    worked(tmp_path)
    plan(tmp_path, QUAY.replace("ssss\n", "sssss\n").replace("bsss\n", "bssss\n").replace("bbss\n", "bbsss\n"))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
        assert knitting.session.rows[0].stitches == 13


def test_colours_titles_and_yarns_for_show_are_taken_over_without_new_strands(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4), On())
    plan(tmp_path, edit("colour: brown", 'colour: "#2f5d7c"').replace("title: Quay", "title: Quay at night"))
    with resume(tmp_path) as knitting:
        assert told(knitting) == ("adopted", SAME_WORK, ())
        assert knitting.session.piece.yarn("brick").colour == "#2f5d7c"
        assert knitting.session.strands.strand_of == left.strands.strand_of
        assert (knitting.name, knitting.card.title) == ("Quay", "Quay at night")
    assert shelf(tmp_path).cards()[0].title == "Quay at night"


def test_taking_over_an_edit_is_not_working_on_the_piece(tmp_path: Path) -> None:
    worked(tmp_path, On())
    [card] = shelf(tmp_path).cards()
    plan(tmp_path, edit(TOP, OTHER_TOP))
    resume(tmp_path).close()
    assert shelf(tmp_path).cards()[0].worked_at == card.worked_at


def test_new_limits_plan_the_rest_anew_and_leave_what_is_worked(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4), On())
    plan(tmp_path, QUAY + "carry: {reach: 0}\n")
    with resume(tmp_path) as knitting:
        assert told(knitting) == ("adopted", FOLLOWS, ())
        assert knitting.session.limits == Carry(0)
        assert knitting.session.past == left.past
        assert len(knitting.session.strands.first) > len(left.strands.first)


def test_limits_that_the_knitter_chose_stay_when_the_plan_says_nothing_new_about_them(tmp_path: Path) -> None:
    path = plan(tmp_path)
    with shelf(tmp_path).start(load(path), path, limits=Carry(0)) as knitting:
        knitting.do(AtRow(4))
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "adopted"
        assert knitting.session.limits == Carry(0)
        knitting.do(On())
    plan(tmp_path, edit(TOP, OTHER_TOP) + "carry: {reach: 1}\n")
    with resume(tmp_path) as knitting:
        assert knitting.session.limits == Carry(1)


def test_a_comment_is_no_edit_and_is_read_once(tmp_path: Path) -> None:
    left = worked(tmp_path, On())
    plan(tmp_path, QUAY + "# for Ida\n")
    for _ in range(2):
        with resume(tmp_path) as knitting:
            assert knitting.opened_plan == PlanState()
            assert history(knitting.session) == history(left)
    assert entries(tmp_path) == 2
    assert sorted(read(tmp_path / "pieces" / "quay.rowside").plans) == [0, 1]


def test_an_edit_taken_back_in_the_file_is_followed_back(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4))
    for text in (edit(TOP, OTHER_TOP), QUAY, edit(TOP, OTHER_TOP), QUAY):
        plan(tmp_path, text)
        with resume(tmp_path) as knitting:
            assert knitting.opened_plan.kind == "adopted"
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
        assert knitting.session.strands.strand_of == left.strands.strand_of
    assert sorted(read(tmp_path / "pieces" / "quay.rowside").plans) == [0, 1]


def test_a_missing_plan_file_is_no_obstacle(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4))
    (tmp_path / "quay.yaml").unlink()
    with resume(tmp_path) as knitting:
        assert told(knitting) == (
            "gone",
            f'The plan file "{tmp_path / "quay.yaml"}" is not there now; the plan kept with the piece is followed.',
            (),
        )
        assert state(knitting.session) == state(left)
        knitting.do(On())


def test_a_plan_file_with_mistakes_is_told_and_the_stored_plan_goes_on(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4))
    plan(tmp_path, edit("ssssbbbbssss", "ssssbbbxssss").replace("tan", "tann"))
    with resume(tmp_path) as knitting:
        kind, sentence, _ = told(knitting)
        assert kind == "not readable"
        assert sentence == (
            f'The plan file "{tmp_path / "quay.yaml"}" has 2 to mend; '
            "until then the plan kept with the piece is followed."
        )
        assert [problem.line for problem in knitting.opened_plan.problems] == [5, 12]
        assert state(knitting.session) == state(left)
    assert entries(tmp_path) == 2


def with_chart_file(tmp_path: Path, *lines: str) -> str:
    (tmp_path / "boats.txt").write_text("".join(f"{line}\n" for line in lines), encoding="utf-8")
    return QUAY.split("  - chart")[0] + "  - chart: {from: boats.txt}\n"


def test_a_chart_file_counts_as_part_of_the_plan(tmp_path: Path) -> None:
    with start(tmp_path, with_chart_file(tmp_path, "ssbs", "sbbs", "sbss")) as knitting:
        knitting.do(WholeRow())
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "unchanged"
    with_chart_file(tmp_path, "bsbs", "sbbs", "sbss")
    with resume(tmp_path) as knitting:
        assert told(knitting) == ("adopted", FOLLOWS, ())
        assert yarns(knitting.session, 3)[-1] == ("brick", 1)
    with_chart_file(tmp_path, "bsbs", "sbbs", "bbss")
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.rows == (1,)
    (tmp_path / "boats.txt").unlink()
    with resume(tmp_path) as knitting:
        assert knitting.opened_plan.kind == "not readable"
        assert knitting.session.rows_done == 1


def test_looking_only_leaves_an_edited_plan_to_the_writer(tmp_path: Path) -> None:
    left = worked(tmp_path, AtRow(4))
    plan(tmp_path, edit(TOP, OTHER_TOP))
    with resume(tmp_path, look_only=True) as knitting:
        assert told(knitting) == ("not compared", "", ())
        assert state(knitting.session) == state(left)
    assert entries(tmp_path) == 2


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ((4,), "row 4"),
        ((3, 4), "rows 3 to 4"),
        ((3, 9), "rows 3 and 9"),
        ((3, 7, 8, 9, 12), "rows 3, 7 to 9 and 12"),
        ((1, 2, 5, 6), "rows 1 to 2 and 5 to 6"),
    ],
)
def test_row_numbers_are_listed_to_be_read(rows: tuple[int, ...], words: str) -> None:
    assert in_words(rows) == words


def test_an_edit_that_cannot_be_worked_mirrored_is_told_and_not_followed(tmp_path: Path) -> None:
    path = plan(tmp_path)
    with shelf(tmp_path).start(load(path), path, is_mirrored=True) as knitting:
        left = knitting.do(WholeRow())
    plan(tmp_path, edit(TOP, "      ssssbbbbssss\n      ....bbbbssss\n      ssssbbbbssss\n"))
    with resume(tmp_path) as knitting:
        assert state(knitting.session) == state(left)
        assert knitting.opened_plan.kind == "not readable"
        [problem] = knitting.opened_plan.problems
        assert problem.what.startswith("Worked mirrored, row 6 loses 4 stitches at its end")
