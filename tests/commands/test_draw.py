"""``rowside draw`` before anything is shown, by the real program."""

from __future__ import annotations

from pathlib import Path

from the_program import run


def test_a_plan_with_something_to_mend_or_none_at_all_is_told_before_a_screen_is_opened(tmp_path: Path) -> None:
    ran = run(tmp_path, "draw", "swotch")
    assert (ran.code, ran.out) == (2, "")
    assert 'Did you mean "swatch"?' in ran.err
    ran = run(tmp_path, "draw", "-", given=b"plan: 1")
    assert (ran.code, ran.out) == (2, "")
    assert "Save it in a file and draw in that: rowside draw FILE" in ran.err


def test_without_a_terminal_that_can_be_painted_on_it_says_so_in_one_sentence(tmp_path: Path) -> None:
    for variables in ({}, {"TERM": "dumb"}):
        ran = run(tmp_path, "draw", "swatch", **variables)
        assert (ran.code, ran.out) == (1, "")
        assert ran.err == "rowside: The drawing board needs a terminal that can be painted on.\n"
