"""Of a plan in sizes the knitter is asked for hers once, when a piece is begun."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import Start, first_of, look, look_at_fabric, once_of, open_plan
from companion.dialogue.pictured import Pictured
from companion.lines.commands import Typist
from companion.problems import Problems
from companion.progress.actions import Refused
from companion.progress.knitting import Knitting
from tests.dialogue.keyboard import Keyboard
from tests.lines.at_lines import AtLines, typed
from tests.progress.plans_on_disk import SIZED
from tests.screens.at_the_needles import shelf

ASKED = [
    'In which size do you knit "quay.yaml"?', "1. S: 14 stitches, 7 centimetres x 3 centimetres",
    "2. M: 16 stitches, 8 centimetres x 3 centimetres", "3. L: 18 stitches, 9 centimetres x 3.5 centimetres",
]  # fmt: skip
"""12 stitches and two edges, 20 to 10 cm; 6 rows and 2, 3 or 4, 28 to 10 cm: 2.9, 3.2, 3.6 cm."""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "quay.yaml"
    path.write_text(SIZED, encoding="utf-8")
    return path


def at_lines(home: Path, plan: Path, start: Start, *lines: str, name: str | None = None) -> AtLines:
    knitter = Typist(None)
    return AtLines(open_plan(knitter, shelf(home), plan, start, name), lines, knitter)


def names(home: Path) -> list[str]:
    return sorted(card.name for card in shelf(home).cards())


def test_it_is_asked_when_a_piece_is_begun_and_not_again(tmp_path: Path, plan: Path) -> None:
    first = typed(tmp_path, "2", "", plan=plan)
    assert first.said[0][:4] == ASKED
    assert "Cast on 16 stitches in sand" in first.text
    again = typed(tmp_path, plan=plan)
    assert "In which size" not in again.text
    assert "Quay, size M." in again.text
    assert names(tmp_path) == ["Quay, size M"]


def test_who_says_no_size_begins_nothing(tmp_path: Path, plan: Path) -> None:
    assert typed(tmp_path, "leave", plan=plan).said[0][:4] == ASKED
    assert names(tmp_path) == []


def test_a_size_that_is_named_is_not_asked_for_and_leads_to_its_piece(tmp_path: Path, plan: Path) -> None:
    for size, wide in (("S", 14), ("l", 18), ("S", 14)):
        at = at_lines(tmp_path, plan, Start(size=size))
        assert "In which size" not in at.text
        assert f"Cast on {wide} stitches in sand" in at.text
    assert names(tmp_path) == ["Quay, size L", "Quay, size S"]


def test_without_a_size_the_piece_is_asked_for_where_there_are_several(tmp_path: Path, plan: Path) -> None:
    for size in ("S", "L"):
        at_lines(tmp_path, plan, Start(size=size))
    assert typed(tmp_path, plan=plan).said[0][0] == "Which piece of this plan?"


def test_a_piece_of_another_size_is_not_opened_under_its_name(tmp_path: Path, plan: Path) -> None:
    at_lines(tmp_path, plan, Start(size="S"))
    at = at_lines(tmp_path, plan, Start(size="L"), name="Quay, size S")
    assert '"Quay, size S" is not knitted in size "L".' in at.text
    with pytest.raises(Refused):
        first_of(shelf(tmp_path), plan, "Quay, size S", Start(size="L"))


def test_problems_are_told_before_anything_is_asked(tmp_path: Path, plan: Path) -> None:
    assert not isinstance(first_of(shelf(tmp_path), plan, None, Start()), Knitting)
    assert not isinstance(first_of(shelf(tmp_path), plan, "Ada", Start()), Knitting)
    plan.write_text(SIZED.replace("ssssbbbbssss", "sssxbbbbssss", 1), encoding="utf-8")
    with pytest.raises(Problems):
        first_of(shelf(tmp_path), plan, None, Start())
    with pytest.raises(Problems):
        first_of(shelf(tmp_path), plan, None, Start(size="L"))


def test_a_piece_that_is_named_and_new_is_begun_in_the_size_that_is_asked_for(tmp_path: Path, plan: Path) -> None:
    first = first_of(shelf(tmp_path), plan, "Ada", Start())
    assert not isinstance(first, Knitting)
    knitter = Typist(None)
    at = AtLines(first(knitter), ["3"], knitter)
    assert at.said[0][:4] == ASKED
    assert names(tmp_path) == ["Ada"]
    assert shelf(tmp_path).cards()[0].title == "Quay, size L"


def test_a_size_that_is_named_is_read_while_the_screens_are_loaded(tmp_path: Path, plan: Path) -> None:
    first = first_of(shelf(tmp_path), plan, None, Start(size="L"), meanwhile=lambda: None)
    assert isinstance(first, Knitting)
    with first as knitting:
        assert knitting.session.rows[0].stitches == 18


def test_a_plan_that_was_renamed_is_known_in_whatever_size_its_piece_is(tmp_path: Path, plan: Path) -> None:
    at_lines(tmp_path, plan, Start(size="L"))
    moved = plan.rename(tmp_path / "pier.yaml")
    assert [card.name for card in once_of(shelf(tmp_path), moved)] == ["Quay, size L"]


def test_a_plan_in_sizes_may_be_looked_at(tmp_path: Path, plan: Path) -> None:
    """In the size that is asked for: chart and fabric."""
    knitter = Typist(None)
    seen = AtLines(look(knitter, shelf(tmp_path), plan), ["3"], knitter)
    assert seen.said[0][:4] == ['In which size do you look at "quay.yaml"?', *ASKED[1:]]
    assert "Quay, size L" in seen.text
    assert AtLines(look(knitter, shelf(tmp_path), plan), ["leave"], knitter).is_left
    board = Keyboard(Knitter(), look_at_fabric(Knitter(), shelf(tmp_path), plan))
    board.press("down", "enter", "enter")
    assert isinstance(board.top.request, Pictured)
    assert board.top.request.title == "Quay, size M: the right side"
    board = Keyboard(Knitter(), look_at_fabric(Knitter(), shelf(tmp_path), plan))
    board.press("escape")
    assert not board.open
    assert names(tmp_path) == []
