"""Limits are kept before anything is expanded: a small text can neither hang nor fill the machine.

Each of these would take gigabytes or hours if it were expanded first; the test would not come to its end.
"""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Fabric
from companion.plan.nodes import DEEPEST, MOST_ENTRIES
from companion.plan.read import load_text
from companion.problems import Problem, Problems, show
from tests.plan.plans import CUSHION, HEAD, problems_of, read

FLAT = "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\nsymbols: {s: sand}\n"


def sentences(text: str) -> list[str]:
    return [problem.what for problem in problems_of(text) if not problem.is_warning]


@pytest.mark.parametrize(
    ("section", "what"),
    [
        ("{chart: s, repeat: 1000000000}", '"repeat" must be 4,000,000 at most, and is "1000000000".'),
        ("{chart: s, across: 4001}", "This section is 4,001 stitches wide (1 x 4,001); a piece may be 4,000 wide."),
        ("{chart: 4000s, repeat: 1001}",
         "With this section the piece has 4,004,000 stitches; it may have 4,000,000."),
        ("{plain: {rows: 1001, stitches: 4000, yarn: sand}}",
         "With this section the piece has 4,004,000 stitches; it may have 4,000,000."),
        ("{plain: {rows: 1, stitches: 4001, yarn: sand}}",
         "This section is 4,001 stitches wide; a piece may be 4,000 wide."),
        ("{chart: s, edges: {stitches: 2000, yarn: sand}}",
         "This section is 4,001 stitches wide (1 + 2,000 + 2,000); a piece may be 4,000 wide."),
        ("{chart: 99999999s}",
         'Row 1 of this section, counted from the bottom, has "99999999" stitches; a piece may be 4,000 wide.'),
        ("{chart: " + "9" * 5000 + "s}",
         'Row 1 of this section, counted from the bottom, has "99999999999…" stitches; a piece may be 4,000 wide.'),
        ("{chart: " + "s" * 4001 + "}",
         "Row 1 of this section, counted from the bottom, has 4,001 stitches; a piece may be 4,000 wide."),
        ("{chart: s, repeat: " + "9" * 5000 + "}",
         '"repeat" must be 4,000,000 at most, and is "' + "9" * 39 + '…".'),
    ],
)  # fmt: skip
def test_a_piece_beyond_the_limits_is_refused_before_it_is_made(section: str, what: str) -> None:
    assert sentences(FLAT + f"rows: [{section}]\n") == [what]


def test_the_largest_piece_is_read() -> None:
    fabric = read(FLAT + "rows: [{chart: 4000s, repeat: 1000}]\n").piece.fabric
    assert (fabric.columns, len(fabric.rows)) == (4000, 1000)
    assert len({id(row) for row in fabric.rows}) == 1


def test_many_small_sections_are_summed_before_they_are_made() -> None:
    sections = "".join(f"  - {{chart: s, repeat: 3999999}} # {i}\n" for i in range(100))
    assert sentences(FLAT + "rows:\n" + sections) == [
        "With this section the piece has 7,999,998 stitches; it may have 4,000,000."
    ]


def test_anchors_that_would_unfold_without_end_are_refused() -> None:
    laughs = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
        f"{new}: &{new} [{', '.join([f'*{old}'] * 9)}]\n" for old, new in zip("abcdefgh", "bcdefghi", strict=True)
    )
    assert sentences(laughs)[0] == 'The anchor "&a" is not understood in a plan.'


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? ", "[{a: "])
def test_deep_nesting_is_refused_at_once(opening: str) -> None:
    (first, *_) = problems_of(opening * 900)
    assert first.what == f"Keys and lists nest more than {DEEPEST} deep here."


def test_nesting_beyond_what_yaml_itself_bears_is_a_problem_too() -> None:
    (first, *_) = problems_of("[" * 1_000_000)
    assert first.what in (
        f"Keys and lists nest more than {DEEPEST} deep here.",
        "This cannot be read as YAML (exceeded maximum nesting depth).",
    )


def test_twenty_levels_are_still_read() -> None:
    assert "nest more" not in sentences("[" * DEEPEST + "]" * DEEPEST)[0]


def test_too_many_entries_are_refused() -> None:
    assert sentences("- a\n" * (MOST_ENTRIES + 1)) == ["The plan has more than 100,000 keys and values."]


def test_a_text_beyond_the_size_limit_is_refused_unread() -> None:
    assert sentences("\x01" * 16_000_001) == ["The plan is larger than 16 MB."]


def test_chart_files_together_have_the_same_limit() -> None:
    files = {f"{i}.txt": "\n" * 7_000_000 + "s" for i in range(3)}
    text = FLAT + "rows: [{chart: {from: 0.txt}}, {chart: {from: 1.txt}}, {chart: {from: 2.txt}}]\n"
    found = [p for p in problems_of(text, files) if not p.is_warning]
    assert [p.what for p in found] == ["With this file the plan is larger than 16 MB."]


def test_reading_stops_when_nobody_could_mend_more() -> None:
    found = problems_of(HEAD + "rows:\n" + "".join(f"  - {{chrt{i}: sb}}\n" for i in range(1000)))
    assert len(found) == 201
    assert found[0].what == "There may be more: reading stopped after 200."


PIECES = st.sampled_from(
    [*CUSHION.splitlines(keepends=True), "---\n", "{", "}", "[", "]", "- ", "? ", "&a ", "*a ", "!t ", "<<: ", "\t",
     "\r", "\x00", "\u2028", "\ufeff", "'", '"', "|", ">", "#", ": ", "chart: |\n", "9" * 50, "6*s", "é", "\ud800",
     "edges: {left: ", "stitch: {rib: [", "0", "-1", "1e9", ".inf", "plan: 1\n", "  ", "\n", "[key]: x\n"]
)  # fmt: skip


def loads_or_tells(text: str) -> None:
    """The one promise of reading: a piece, or problems at places that the text has."""
    fabric, problems = _read(text)
    if fabric is not None:
        assert {row.columns for row in fabric.rows} == {fabric.columns}
        return
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert any(not problem.is_warning for problem in problems)
    for problem in problems:
        assert problem.file in ("quay.yaml", "")
        assert 0 <= problem.line <= len(lines)
        if problem.line:
            assert problem.text == lines[problem.line - 1]
            assert problem.column <= len(problem.text) + 1
        assert all(line.isprintable() for line in show(problem).split("\n"))


def _read(text: str) -> tuple[Fabric | None, tuple[Problem, ...]]:
    try:
        return load_text(text, "quay.yaml", {}).piece.fabric, ()
    except Problems as found:
        return None, found.problems


@given(st.text())
def test_any_text_is_read_or_its_problems_are_told(text: str) -> None:
    loads_or_tells(text)


@given(st.lists(PIECES, max_size=40).map("".join))
@example("plan: 1\nyarns:\n  ? [a]\n")
@example('yarns: {"[key]": {colour: red}}\n')
@example("symbols: {'\0text': x}\n")
def test_any_shreds_of_a_plan_are_read_or_their_problems_are_told(text: str) -> None:
    loads_or_tells(text)


@given(st.data())
def test_a_plan_changed_anywhere_is_read_or_its_problems_are_told(data: st.DataObject) -> None:
    text = CUSHION
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 12)))
        text = text[:start] + data.draw(st.one_of(PIECES, st.text(max_size=3))) + text[end:]
    loads_or_tells(text)


KEYS = ["plan", "title", "gauge", "yarns", "symbols", "carry", "rows", "stitches", "over", "colour", "ball", "metres",
        "yarn", "stitch", "rib", "plain", "chart", "edges", "left", "right", "from", "repeat", "across", "s", "[key]",
        "", "from_", "model_config"]  # fmt: skip
TREES = st.recursive(
    st.sampled_from(["1", "0", "s", "sand", "10 cm", "red", "garter", "", "x.txt", "9999999"]),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=6),
    max_leaves=25,
)


@given(st.dictionaries(st.sampled_from(KEYS[:7]), TREES), st.sampled_from(["1", "2"]))
def test_any_tree_of_a_plans_keys_is_read_or_its_problems_are_told(tree: dict[str, object], version: str) -> None:
    loads_or_tells(written({**tree, "plan": version}))


def written(tree: object) -> str:
    """A tree as one line of YAML."""
    if isinstance(tree, dict):
        return "{" + ", ".join(f'"{key}": {written(value)}' for key, value in tree.items()) + "}"
    if isinstance(tree, list):
        return "[" + ", ".join(written(item) for item in tree) + "]"
    return f'"{tree}"'
