"""The basket without a screen: pieces renamed, looked at, put away and brought back; a renamed plan asked about."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest

from companion.dialogue.basket import BasketList, plans_in
from companion.dialogue.finding import Finding
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import LIKE_EDITED, OVER, STORED, open_plan
from companion.dialogue.questions import Choice, Reading, Words, YesNo, show
from companion.dialogue.settings_list import SettingsList
from companion.dialogue.sitting import Sitting
from companion.knitting.strands.plan import plan_strands
from companion.pages.shelf import as_text
from companion.pages.tables import summary
from companion.plan.demo import TOLD, demo_plans
from companion.plan.read import load
from companion.progress.ends import ready_ends
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import EVENING, MAT, SWATCH, begun, on_disk, shelf, where

NAME = "Harbour practice swatch"


def basket(home: Path) -> Keyboard:
    """The basket of a shelf; the plans of the folder "plans" are those here."""
    knitter = Knitter()
    (home / "plans").mkdir(exist_ok=True)
    now = EVENING + timedelta(hours=14)
    return Keyboard(knitter, show(BasketList(knitter, shelf(home), home / "plans", demo_plans(), lambda: now)))


def to(board: Keyboard, name: str) -> None:
    """Move to the line of this name."""
    names = [row if isinstance(row, str) else row[0].text for row in board.top.request.table.rows]
    board.top.at = names.index(name)


def names(home: Path) -> list[str]:
    return sorted(card.name for card in shelf(home).cards())


def test_demo_plans_stand_easiest_first_each_with_its_size_its_yarns_and_what_it_teaches(tmp_path: Path) -> None:
    rows = basket(tmp_path).top.request.table.rows
    assert rows[0] == "Demo plans"
    assert [row[0].text for row in rows[1:]] == list(TOLD)
    assert rows[1][0].text == "swatch", "a first evening, it says of itself"
    assert rows[2][0].text == "mooring-mat", "a first piece, it says of itself"
    for path, row in zip(demo_plans(), rows[1:], strict=True):
        piece = load(path).piece
        told, _, teaches = row[1].text.partition("; ")
        assert summary(piece, plan_strands(piece.rows, piece.carry).strands).startswith(f"{told}, ")
        assert len(teaches.split()) > 3


def told_of(board: Keyboard, name: str) -> str:
    """What stands beside a line."""
    rows = board.top.request.table.rows
    return next(row[1].text for row in rows if not isinstance(row, str) and row[0].text == name)


def test_what_was_opened_and_not_begun_stands_apart(tmp_path: Path) -> None:
    begun(tmp_path, MAT)
    begun(tmp_path, row=3)
    rows = basket(tmp_path).top.request.table.rows
    assert [row if isinstance(row, str) else row[0].text for row in rows[:5]] == [
        "On the needles", NAME, "Opened, not begun yet", "Mooring mat", "Demo plans",
    ]  # fmt: skip
    lines = [*as_text(shelf(tmp_path).listed(), EVENING)]
    heads = [line for line in lines if not line.startswith("  ")]
    assert heads[0].startswith(f"{NAME}: on the needles, 2 of 32 rows")
    assert heads[1:] == ["Opened, not begun yet:", "Mooring mat: not begun, 0 of 42 rows"]


def test_a_plan_with_something_to_mend_says_so_until_it_is_mended(tmp_path: Path) -> None:
    text = MAT.read_text(encoding="utf-8")
    board = basket(tmp_path)
    (plan := tmp_path / "plans" / "quay.yaml").write_text(text.replace("gauge:", "gouge:"), encoding="utf-8")
    (tmp_path / "plans" / "pier.yaml").write_text(text, encoding="utf-8")
    board = basket(tmp_path)
    assert told_of(board, "pier") == ""
    assert told_of(board, "quay") == "1 to mend"
    plan.write_text(text + "\n", encoding="utf-8")
    to(board, "pier")
    board.press("c", "q")
    assert told_of(board, "quay") == ""
    plan.unlink()
    board.press("c", "q")
    assert "quay" not in [row[0].text for row in board.top.request.table.rows if not isinstance(row, str)]


def test_a_piece_is_renamed_and_why_not_is_said(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    begun(tmp_path, MAT, name="For Ada")
    board = basket(tmp_path)
    to(board, NAME)
    board.press("r")
    assert isinstance(board.top.request, Words)
    assert board.top.request.answer == NAME
    board.press(*["backspace"] * len(NAME), *"For", "space", *"Ada", "enter")
    assert board.top.request.heading == 'Another piece is called "For Ada".'
    board.press("r", *["backspace"] * len(NAME), *"Blue", "enter")
    assert names(tmp_path) == ["Blue", "For Ada"]
    assert where(on_disk(tmp_path, "Blue")) == (2, 1)
    board.press("r", "escape")
    assert names(tmp_path) == ["Blue", "For Ada"]


def test_a_piece_is_put_away_when_the_knitter_says_yes_and_comes_back(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = basket(tmp_path)
    board.press("u")
    assert board.top.request.heading == "No piece was put away."
    to(board, NAME)
    board.press("x")
    assert isinstance(board.top.request, YesNo)
    assert str(tmp_path / "removed") in board.top.request.text[1]
    board.press("n")
    assert names(tmp_path) == [NAME]
    board.press("x", "y")
    assert names(tmp_path) == []
    assert board.top.request.heading == f'"{NAME}" is put away.'
    assert (tmp_path / "removed" / "harbour-practice-swatch.rowside").is_file()
    board.press("u")
    assert isinstance(board.top.request, Choice)
    assert board.top.request.lines == (f"{NAME}: on the needles, 2 of 32 rows, yesterday",)
    board.press("enter")
    assert board.top.request.heading == f'"{NAME}" is back.'
    assert where(on_disk(tmp_path)) == (2, 1)


def test_another_piece_of_a_plan_on_the_needles_is_begun_only_when_the_knitter_says_so(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = basket(tmp_path)
    to(board, NAME)
    board.press("n")
    assert board.top.request.text == (f'On the needles from this plan: "{NAME}". Begin another piece of it?',)
    board.press("n")
    assert names(tmp_path) == [NAME]
    board.press("n", "y", "q")
    assert names(tmp_path) == [NAME, f"{NAME} 2"]


def test_a_piece_that_is_open_elsewhere_is_not_put_away_and_that_is_said(tmp_path: Path) -> None:
    begun(tmp_path)
    board = basket(tmp_path)
    to(board, NAME)
    with shelf(tmp_path).resume(NAME):
        board.press("x", "y")
    assert "is in use by another program" in board.top.request.heading
    assert names(tmp_path) == [NAME]


def test_keys_for_pieces_do_nothing_to_a_plan(tmp_path: Path) -> None:
    board = basket(tmp_path)
    to(board, "swatch")
    for key in "rx":
        board.press(key)
        assert isinstance(board.top.request, BasketList)


@pytest.mark.parametrize("name", [NAME, "mooring-mat"])
def test_a_chart_is_looked_at_and_nothing_is_begun_or_changed(tmp_path: Path, name: str) -> None:
    begun(tmp_path, row=3, runs=0)
    before = {path: path.read_bytes() for path in (tmp_path / "pieces").glob("*.rowside")}
    board = basket(tmp_path)
    to(board, name)
    board.press("c")
    sitting = board.sitting
    assert sitting.view.is_chart_large
    assert "looking only" in sitting.notice
    board.press("space")
    assert "looking only" in sitting.notice
    board.press("w", "q")
    assert isinstance(board.top.request, BasketList)
    assert {path: path.read_bytes() for path in (tmp_path / "pieces").glob("*.rowside")} == before
    assert where(on_disk(tmp_path)) == (2, 1)


def test_in_mid_row_whoever_only_looks_is_not_asked_before_leaving(tmp_path: Path) -> None:
    begun(tmp_path, row=19, runs=2)
    board = basket(tmp_path)
    to(board, NAME)
    board.press("c", "q")
    assert isinstance(board.top.request, BasketList)


def test_a_plan_that_cannot_be_read_is_told_and_not_shown(tmp_path: Path) -> None:
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "torn.yaml").write_text("plan: 1\ntitle: [\n", encoding="utf-8")
    board = basket(tmp_path)
    to(board, "torn")
    board.press("c")
    assert isinstance(board.top.request, Reading)
    assert board.top.request.title == "This cannot be opened"


def test_a_class_file_in_the_folder_is_no_plan_though_it_names_one(tmp_path: Path) -> None:
    (tmp_path / "plans").mkdir()
    (tmp_path / "plans" / "tuesday.yaml").write_text("class: 1\nplan: swatch\n", encoding="utf-8")
    (tmp_path / "plans" / "wednesday.yaml").write_text("plan: 1\n", encoding="utf-8")
    assert [path.stem for path in plans_in(tmp_path / "plans")] == ["wednesday"]


def test_help_settings_and_the_palette_work_in_the_basket(tmp_path: Path) -> None:
    board = basket(tmp_path)
    board.press("question_mark")
    assert isinstance(board.top.request, Finding)
    board.press("escape", "comma")
    assert isinstance(board.top.request, SettingsList)
    board.press("escape", "ctrl+p")
    assert isinstance(board.top.request, Finding)
    board.press(*"settings", "enter")
    assert isinstance(board.top.request, SettingsList)
    board.press("escape")
    assert isinstance(board.top.request, BasketList)


def own_plan(home: Path, name: str = "quay.yaml") -> Path:
    path = home / "plans" / name
    path.parent.mkdir(exist_ok=True)
    path.write_text(SWATCH.read_text(encoding="utf-8"), encoding="utf-8")
    return path


def test_a_renamed_plan_is_asked_about_and_its_piece_follows_it(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=5)
    new = plan.rename(plan.with_name("pier.yaml"))
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), new))
    asked = board.top.request
    assert isinstance(asked, Choice)
    assert asked.text == ('"pier.yaml" says what "quay.yaml" said, which is not there any more. Was it renamed?',)
    assert asked.lines == (
        f"Yes: go on with {NAME}: on the needles, 4 of 32 rows", "No: begin a new piece",
    )  # fmt: skip
    board.press("enter")
    assert where(board.sitting.session) == (4, 1)
    assert board.sitting.knitting.card.plan_path == str(new)
    assert "is not there now" not in board.sitting.notice
    board.press("q")
    board = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), new))
    assert isinstance(board.top.request, Sitting), "once is enough"


def test_it_may_be_another_piece_after_all_or_nothing(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=5)
    new = plan.rename(plan.with_name("pier.yaml"))
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), new))
    board.press("escape")
    assert board.open == []
    assert names(tmp_path) == [NAME]
    board = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), new))
    board.press("end", "enter")
    assert names(tmp_path) == [NAME, f"{NAME} 2"]
    assert where(board.sitting.session) == (1, 0)


@pytest.mark.parametrize("what", ["a copy", "another plan"])
def test_neither_a_copy_nor_another_plan_is_taken_for_a_renamed_one(tmp_path: Path, what: str) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=5)
    new = plan.with_name("pier.yaml")
    new.write_bytes((plan if what == "a copy" else MAT).read_bytes())
    if what == "another plan":
        plan.unlink()
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), new))
    assert where(board.sitting.session) == (1, 0)


def test_after_an_edit_in_rows_that_are_worked_the_knitter_may_say_she_knitted_it_so(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=20)
    row_19, wider = "10t 4s 2c 4s\n    edges", "10t 3s 4c 3s\n    edges"
    text = plan.read_text(encoding="utf-8")
    assert text.count(row_19) == 1
    plan.write_text(text.replace(row_19, wider), encoding="utf-8")
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), plan))
    assert isinstance(board.top.request, Choice)
    assert board.top.request.text[1] == "Rows that differ: 19"
    assert board.top.request.lines == (STORED, OVER, LIKE_EDITED)
    board.press("end", "enter")
    assert "counts as worked like the edited plan" in board.sitting.notice
    assert where(board.sitting.session) == (19, 4)
    assert [segment.stitches for segment in board.sitting.session.rows[18].segments] == [5, 4, 3, 12]
    board.press("q", "y")
    assert board.open == []
    with shelf(tmp_path).resume(NAME) as knitting:
        assert knitting.opened_plan.kind == "unchanged"


def test_an_edit_of_a_row_half_worked_is_followed_once_that_is_unpicked_and_that_is_said(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=19, runs=2)
    text = plan.read_text(encoding="utf-8")
    plan.write_text(text.replace("10t 4s 2c 4s\n    edges", "10t 3s 4c 3s\n    edges"), encoding="utf-8")
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), plan))
    assert isinstance(board.top.request, Choice)
    assert board.top.request.lines == (STORED, OVER)
    assert board.top.request.text[0].endswith(
        "Or go on with the stored plan, unpick to the start of row 19, leave and come back: then the edited one can "
        "be followed."
    )
    board.press("enter", "u", "u", "q", "y")  # ends are ready
    assert board.open == []
    again = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), plan))
    assert "so the rows to come follow the edited plan." in again.sitting.notice
    assert [segment.stitches for segment in again.sitting.session.rows[18].segments] == [5, 4, 3, 12]


def test_started_over_after_an_edit_a_renamed_plan_is_followed_under_its_new_name(tmp_path: Path) -> None:
    plan = own_plan(tmp_path)
    begun(tmp_path, plan, row=20)
    new = plan.rename(plan.with_name("pier.yaml"))
    text = new.read_text(encoding="utf-8")
    new.write_text(text.replace("10t 4s 2c 4s\n    edges", "10t 3s 4c 3s\n    edges"), encoding="utf-8")
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), new))
    board.press("enter")
    assert isinstance(board.top.request, Choice)
    assert board.top.request.lines == (STORED, OVER, LIKE_EDITED)
    board.press("down", "enter")
    assert where(board.sitting.session) == (1, 0)
    assert board.sitting.knitting.card.plan_path == str(new)


def test_ends_that_are_ready_are_named_on_leaving_once_a_sitting_and_yes_is_to_stop(tmp_path: Path) -> None:
    begun(tmp_path, row=25)
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), SWATCH))
    assert ready_ends(board.sitting.session) > 0
    board.press("q")
    assert isinstance(board.top.request, YesNo)
    assert board.top.request.text[0].endswith("ends are ready to weave in; e shows them.")
    board.press("n", "q")
    assert board.open == [], "the second time it leaves"
    board = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), SWATCH))
    board.press("q", "y")
    assert board.open == []


def test_in_mid_row_all_that_is_to_be_said_on_leaving_is_one_question(tmp_path: Path) -> None:
    begun(tmp_path, row=24, runs=1)
    board = Keyboard(knitter := Knitter(), open_plan(knitter, shelf(tmp_path), SWATCH))
    board.press("q")
    asked = board.top.request
    assert isinstance(asked, YesNo)
    assert (len(asked.text), asked.yes, asked.no) == (3, "stop here", "go on")
    board.press("n")
    assert board.top.request is board.sitting
    board.press("q", "y")
    assert board.open == []
