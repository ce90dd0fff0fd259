"""Changes of a text: made, taken back, and refused where the text is another one."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.board.strokes import Change, change, changed, lines_of

TEXTS = st.lists(st.sampled_from(["a\n", "b\n", "a\r\n", "\r", "b"]), max_size=6).map("".join)


@settings(max_examples=60)
@given(TEXTS, TEXTS)
def test_a_change_makes_one_text_of_the_other_and_taken_back_the_one_again(old: str, new: str) -> None:
    one = change(old, new)
    assert changed(old, one) == new
    assert changed(new, one.back) == old
    assert one.back.back == one
    assert "".join(lines_of(old)) == old


def test_it_names_the_lines_that_differ_alone() -> None:
    assert change("a\nb\nc\nd\n", "a\nx\ny\nd\n") == Change(1, ("b\n", "c\n"), ("x\n", "y\n"))
    assert change("a\na\n", "a\na\na\n") == Change(2, (), ("a\n",))


def test_where_the_text_says_something_else_it_is_refused() -> None:
    one = change("a\nb\nc\n", "a\nx\nc\n")
    assert changed("q\nb\nq\nq\n", one) == "q\nx\nq\nq\n"
    assert changed("a\nq\nc\n", one) is None
    assert changed("a\n", one) is None
    assert changed("a\n", Change(2, (), ("b\n",))) is None
