"""What knitters write in their own words is read as it is meant."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from the_program import run

from companion.plan.needle import runs_on_needle
from companion.problems import Problems
from tests.plan.plans import HEAD, problems_of, read, told

ROWS = "rows: [{chart: sb}]\n"
PLAIN = "  - plain: {rows: 2, stitches: 6, yarn: sand}\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("colour", "color"),
        ("gauge:", "tension:"),
        ("tan", "Tan"),
        ("tan", "TAN"),
        ("symbols:\n  s: sand\n  b: brick\n", ""),
        ("rows: [{chart: sb}]", "rows: [{chart: sb, worked: Flat}]"),
    ],
)
def test_another_spelling_is_the_same_plan(old: str, new: str) -> None:
    text = HEAD + ROWS
    assert read(text.replace(old, new)).piece == read(text).piece
    assert read(text.replace(old, new)).warnings == ()


@pytest.mark.parametrize(("typed", "name"), [("Light Blue", "lightblue"), ("dark-slate-grey", "darkslategrey")])
def test_a_colour_may_be_named_in_several_words(typed: str, name: str) -> None:
    assert read((HEAD + ROWS).replace("tan", typed)).piece == read((HEAD + ROWS).replace("tan", name)).piece


def test_a_value_amiss_is_told_at_the_key_as_it_is_spelt() -> None:
    text = (HEAD + ROWS).replace("sand: {colour: tan}", "sand: {color: tann}")
    assert told(text) == (
        'quay.yaml:5:17  "colour" must be a CSS colour name or of the form "#a8432f", and is "tann".\n'
        "    5 |   sand: {color: tann}\n"
        "      |                 ^\n"
        '  Did you mean "tan"?'
    )


def test_yards_and_ounces_are_metres_and_grams() -> None:
    """The yard is 0.9144 m and the pound of 16 ounces 453.59237 g (international yard and pound agreement, 1959)."""
    text = (HEAD + ROWS).replace("{colour: tan}", "{colour: tan, ball: {yards: 100, ounces: 16}}")
    assert read(text).piece.yarns[0].ball == (Fraction(9144, 100), Fraction("453.59237"))
    [twice] = problems_of(text.replace("ounces: 16", "ounces: 16, grams: 50"))
    assert (twice.what, twice.mend) == (
        '"ball" is measured twice.', 'Write "metres" or "yards", and "grams" or "ounces".'
    )


def test_moss_in_a_uk_plan_is_seed_in_a_us_one() -> None:
    rows = "rows: [{plain: {rows: 2, stitches: 4, yarn: sand, stitch: STITCH}}]\n"
    uk, us = f"{HEAD}terms: UK\n{rows}", f"{HEAD}terms: us\n{rows}"
    fabric = read(us.replace("STITCH", "seed")).piece.fabric
    assert read(uk.replace("STITCH", "moss")).piece.fabric == fabric
    [found] = problems_of(us.replace("STITCH", "moss"))
    assert found.mend.endswith('write seed, its US name, or "terms: uk".')


@pytest.mark.parametrize("edges", ["{stitches: 2}", "{left: {stitches: 2}, right: {stitches: 2}}"])
def test_edges_beside_plain_rows_are_in_their_yarn(edges: str) -> None:
    rows = f"rows: [{{plain: {{rows: 2, stitches: 4, yarn: brick}}, edges: {edges}}}]\n"
    said = rows.replace("stitches: 2", "stitches: 2, yarn: brick")
    assert read(HEAD + rows).piece.fabric == read(HEAD + said).piece.fabric


@pytest.mark.parametrize(
    ("unsaid", "said"),
    [
        ("  - plain: {rows: 2, yarn: brick}\n", "  - plain: {rows: 2, stitches: 6, yarn: brick}\n"),
        ("  - plain: {rows: 2, yarn: brick}\n    edges: {stitches: 1, yarn: sand}\n",
         "  - plain: {rows: 2, stitches: 4, yarn: brick}\n    edges: {stitches: 1, yarn: sand}\n"),
        ("  - field: {rows: 2, yarn: brick}\n    motifs: [{from: dot.txt, right: 1, bottom: 0}]\n",
         "  - field: {rows: 2, stitches: 6, yarn: brick}\n    motifs: [{from: dot.txt, right: 1, bottom: 0}]\n"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("is_first", [False, True])
def test_a_section_without_stitches_is_as_wide_as_the_others(unsaid: str, said: str, is_first: bool) -> None:
    texts = [f"{HEAD}rows:\n{section + PLAIN if is_first else PLAIN + section}" for section in (unsaid, said)]
    one, other = (read(text, {"dot.txt": "s\n"}).piece.fabric for text in texts)
    assert one == other


def test_sections_that_all_say_no_width_are_told() -> None:
    [found] = [one for one in problems_of(f"{HEAD}rows:\n  - plain: {{rows: 2, yarn: sand}}\n") if not one.is_warning]
    assert found.what == '"stitches" is missing in "plain", and no other section says how many are meant.'


def test_symbols_go_without_saying_only_where_the_first_letters_differ() -> None:
    text = (HEAD + ROWS).replace("symbols:\n  s: sand\n  b: brick\n", "").replace("brick", "sea")
    assert 'The plan has no "symbols".' in [one.what for one in problems_of(text)]


@pytest.mark.parametrize(
    "typed",
    ["sand 12, brick 6, sand 2", "12 sand, 6 brick, 2 sand", "s 12 b 6 s 2", "12s 6b 2s", "12 sand 6 b 2 s",
     "s12,b6,s2", "sand 12 b6 s2"],
)
def test_runs_on_the_needle_are_typed_in_either_order_with_commas_or_without(typed: str) -> None:
    yarns = read(HEAD + ROWS).piece.yarns
    assert runs_on_needle(typed, yarns) == (("sand", 12), ("brick", 6), ("sand", 2))


def test_runs_of_a_yarn_that_is_not_there_are_told_by_their_part() -> None:
    with pytest.raises(Problems) as found:
        runs_on_needle("12 sand, 3 brik", read(HEAD + ROWS).piece.yarns)
    [problem] = found.value.problems
    assert (problem.what, problem.mend) == (
        '"3 brik" is no yarn of this piece with its stitches.', 'Did you mean "brick"?'
    )


def test_words_of_options_may_be_in_capitals_or_not(tmp_path: Path) -> None:
    asked = run(tmp_path, "where", "mooring-mat", "tide", "--side", "rs", "--terms", "UK", "--json")
    assert (asked.code, asked.out) == (0, run(tmp_path, "where", "mooring-mat", "tide", "--side", "RS", "--json").out)
