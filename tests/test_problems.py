"""Problems: how they are ordered and shown, and that nothing in a file is obeyed when it is shown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from companion.problems import (
    SNIPPET_CELLS,
    Problem,
    Problems,
    count_of,
    in_order,
    nearest,
    plain,
    quoted,
    shorten,
    show,
)


def test_a_problem_is_shown_with_its_place_its_line_and_how_to_mend_it() -> None:
    problem = Problem("Row 9 uses D.", "quay.yaml", 14, 7, "  ssssDbbb", "Mend the row.")
    assert show(problem) == (
        "quay.yaml:14:7  Row 9 uses D.\n"
        "   14 |   ssssDbbb\n"
        "      |       ^\n"
        "  Mend the row."
    )  # fmt: skip


@pytest.mark.parametrize(
    ("problem", "shown"),
    [
        (Problem("The disk is full."), "The disk is full."),
        (Problem("Not there.", "quay.yaml"), "quay.yaml  Not there."),
        (Problem("Empty.", "quay.yaml", 3), "quay.yaml:3  Empty."),
        (Problem("Long.", "quay.yaml", 3, 0, "abc"), "quay.yaml:3  Long.\n    3 | abc"),
        (Problem("Unused.", "quay.yaml", is_warning=True), "quay.yaml  Warning: Unused."),
        (
            Problem("Far down.", "quay.yaml", 1234567, 2, "abc"),
            "quay.yaml:1234567:2  Far down.\n1234567 | abc\n        |  ^",
        ),
        (Problem("Wide.", "quay.yaml", 3, 3, "船船x"), "quay.yaml:3:3  Wide.\n    3 | 船船x\n      |     ^"),
        (Problem("Tab.", "quay.yaml", 3, 2, "\tx"), "quay.yaml:3:2  Tab.\n    3 |  x\n      |  ^"),
        (Problem("End.", "quay.yaml", 3, 4, "abc"), "quay.yaml:3:4  End.\n    3 | abc\n      |    ^"),
    ],
)
def test_a_place_is_shown_as_far_as_it_is_known(problem: Problem, shown: str) -> None:
    assert show(problem) == shown


def test_control_characters_are_shown_and_not_obeyed() -> None:
    problem = Problem("Bad \x1b[2J", "a\x07.yaml", 1, 2, "\x1b[31mred\u202e", "Delete \x9b.")
    assert show(problem) == (
        "a<0007>.yaml:1:2  Bad <001B>[2J\n"
        "    1 | <001B>[31mred<202E>\n"
        "      |       ^\n"
        "  Delete <009B>."
    )  # fmt: skip


def test_a_long_line_is_cut_around_the_place() -> None:
    lines = show(Problem("Here.", "quay.yaml", 1, 501, "a" * 500 + "X" + "b" * 500)).split("\n")
    assert lines[1] == "    1 | …" + "a" * 50 + "X" + "b" * 48 + "…"
    assert lines[2].index("^") == lines[1].index("X")


@given(st.text(st.characters(exclude_characters="\r\n"), max_size=400), st.data())
def test_the_caret_always_stands_below_the_quoted_text(text: str, data: st.DataObject) -> None:
    column = data.draw(st.integers(1, len(text) + 1))
    lines = show(Problem("Here.", "quay.yaml", 1, column, text)).split("\n")
    if not text:
        assert lines == [f"quay.yaml:1:{column}  Here."]
        return
    assert all(line.isprintable() for line in lines)
    assert cell_len(lines[1]) <= 8 + 1 + SNIPPET_CELLS
    assert cell_len(lines[2]) <= cell_len(lines[1]) + 1


@given(st.text())
def test_plain_text_holds_nothing_that_a_terminal_obeys(text: str) -> None:
    assert plain(text).isprintable()


@given(st.text(max_size=60), st.integers(1, 20))
def test_shortened_text_keeps_its_width(text: str, cells: int) -> None:
    short = shorten(text, cells)
    assert cell_len(short) <= cells
    assert short == text or (short.endswith("…") and text.startswith(short[:-1]))


def test_text_of_no_width_is_shortened_too() -> None:
    assert len(shorten("\u0301" * 1_000_000, 40)) == 4 * 40 + 1


def test_a_quoted_value_is_visible_and_short() -> None:
    assert quoted("a\x1b") == '"a<001B>"'
    assert quoted("x" * 50) == '"' + "x" * 39 + '…"'


@pytest.mark.parametrize(
    ("word", "known", "near"),
    [
        ("titel", ["title", "plan"], "title"),
        ("SAND", ["sand", "brick"], "sand"),
        ("D", ["s", "b"], ""),
        ("", ["s"], ""),
        ("x", [], ""),
    ],
)
def test_the_nearest_known_name_is_found(word: str, known: list[str], near: str) -> None:
    assert nearest(word, known) == near


def test_problems_come_by_file_line_and_column() -> None:
    first, second, third = Problem("a", "a", 2, 1), Problem("b", "a", 2, 5), Problem("c", "b", 1, 1)
    assert in_order([third, second, first]) == (first, second, third)
    assert Problems([third, second, first]).problems == (first, second, third)


@pytest.mark.parametrize(
    ("wrong", "warnings", "words"),
    [(0, 0, ""), (1, 0, "1 to mend"), (0, 1, "1 warning"), (3, 2, "3 to mend, 2 warnings")],
)
def test_problems_are_counted_in_words(wrong: int, warnings: int, words: str) -> None:
    assert count_of([Problem("x")] * wrong + [Problem("y", is_warning=True)] * warnings) == words
