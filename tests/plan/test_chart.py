"""Chart lines: which are drawn, which are run lengths, and what is said where they are amiss."""

from __future__ import annotations

import pytest

from tests.plan.plans import chart_text, charted, looks, problems_of, told

DIGITS = "0: sand, 1: brick"
STAR = "s: sand, '*': brick"
BOTH = "0: sand, '*': brick"
ROW_1 = "Row 1 of this section, counted from the bottom, "


@pytest.mark.parametrize(
    ("symbols", "line", "drawn"),
    [
        ("s: sand, b: brick", "6s 2b 1s", "ssssssbbs"),
        ("s: sand, b: brick", "6s2bs", "ssssssbbs"),
        ("s: sand, b: brick", "6 s 2 b s", "ssssssbbs"),
        ("s: sand, b: brick", "6*s 2 * b", "ssssssbb"),
        ("s: sand, b: brick", "sb 3b", "sbbbb"),
        ("s: sand, b: brick", "0006s", "ssssss"),
        ("s: sand, b: brick", " sss bbb ", "sssbbb"),
        (DIGITS, "0011", "0011"),
        (DIGITS, "12*0 1", "0000000000001"),
        (DIGITS, "1 2*0 1", "1001"),
        (DIGITS, "2*01", "001"),
        (DIGITS, "3*1 2 * 0", "11100"),
        (STAR, "s**s", "s**s"),
        (STAR, "6*", "******"),
        (STAR, "2*s 3s*", "**ssss*"),
        (BOTH, "0*00", "0*00"),
    ],
)
def test_a_line_is_read_as_its_symbols_say(symbols: str, line: str, drawn: str) -> None:
    assert looks(charted(line, symbols=symbols)) == [drawn]


@pytest.mark.parametrize(
    ("symbols", "lines", "column", "what", "mend"),
    [
        (
            "s: sand, b: brick",
            ["ss sD", "ssss"],
            11,
            ROW_1.replace('1', '2') + 'uses the symbol "D", which is not under "symbols" (line 7).',
            "Symbols of this plan: b, s. Add D there, or mend the row.",
        ),
        (
            "s: sand, b: brick",
            ["2s 2S"],
            11,
            ROW_1 + 'uses the symbol "S", which is not under "symbols" (line 7).',
            'Did you mean "s"? Symbols of this plan: b, s. Add S there, or mend the row.',
        ),
        (
            "s: sand, b: brick",
            ["ss#"],
            9,
            ROW_1 + 'uses the symbol "#", which is not under "symbols" (line 7).',
            'Among the symbols it needs quotes, "#": sand, or YAML takes it for a comment.',
        ),
        (
            "s: sand, b: brick",
            ["sse\u0301"],
            9,
            ROW_1 + 'uses the symbol "e", which is not under "symbols" (line 7).',
            "Symbols of this plan: b, s. Add e there, or mend the row.",
        ),
        (
            "s: sand, b: brick",
            ["3s 4 5b"],
            10,
            ROW_1 + 'has no symbol after the count "4".',
            'A line with digits is in run lengths, such as "6s 8b"; a digit drawn as a stitch must be a symbol.',
        ),
        (
            "s: sand, b: brick",
            ["3s 0b"],
            10,
            ROW_1 + 'has a run without stitches, "0b".',
            "Give it a count from 1 up or delete it.",
        ),
        (
            DIGITS,
            ["01 3*"],
            10,
            ROW_1 + 'has no symbol after the count "3".',
            'In this plan "*" counts stitches: 6*0 is six of the symbol 0.',
        ),
        (
            DIGITS,
            ["012"],
            9,
            ROW_1 + 'uses the symbol "2", which is not under "symbols" (line 7).',
            'In this plan "*" counts stitches: 6*0 is six of the symbol 0.',
        ),
        (
            "s: sand, b: brick",
            ["ss 5000b"],
            10,
            ROW_1 + 'has "5000" stitches; a piece may be 4,000 wide.',
            "",
        ),
        (
            "s: sand, b: brick",
            ["2s 3999b"],
            10,
            ROW_1 + "has 4,001 stitches; a piece may be 4,000 wide.",
            "",
        ),
    ],
)
def test_a_line_amiss_is_told_at_its_character(
    symbols: str, lines: list[str], column: int, what: str, mend: str
) -> None:
    first = next(p for p in problems_of(chart_text(*lines, symbols=symbols)) if not p.is_warning)
    assert (first.line, first.column, first.what, first.mend) == (10, column, what, mend)


def test_the_caret_stands_under_the_character_in_the_file() -> None:
    text = chart_text("ssss", "", "ss bD", "bbbb")
    assert told(text) == (
        "quay.yaml:12:11  Row 2 of this section, counted from the bottom, uses the symbol \"D\", which is not under "
        '"symbols" (line 7).\n'
        "   12 |       ss bD\n"
        "      |           ^\n"
        "  Symbols of this plan: b, s. Add D there, or mend the row."
    )


def test_a_symbol_amiss_in_many_rows_is_told_once() -> None:
    (first,) = problems_of(chart_text("sbD", "sbs", "Dbs", "DDD"))
    assert first.what == (
        'Row 4 of this section, counted from the bottom, uses the symbol "D", which is not under "symbols" (line 7). '
        "So do 2 more rows."
    )


def test_rows_of_another_length_than_most_are_told_each() -> None:
    found = problems_of(chart_text("sbs", "sb", "3s", "bbb", "sbsb"))
    assert [(p.line, p.column, p.what) for p in found] == [
        (11, 7, "Row 4 of this section, counted from the bottom, has 2 stitches, most others have 3."),
        (14, 7, "Row 1 of this section, counted from the bottom, has 4 stitches, most others have 3."),
    ]


def test_of_two_rows_the_lower_one_sets_the_width() -> None:
    (only,) = problems_of(chart_text("b", "sb"))
    assert only.what == "Row 2 of this section, counted from the bottom, has 1 stitch, the other has 2."
    assert only.mend == "Every row of a chart needs the same number of stitches."


def test_of_a_great_many_rows_of_a_wrong_length_three_are_told_and_the_others_counted() -> None:
    found = problems_of(chart_text(*["sb", "sbs"] * 40, *["sb"] * 10))
    assert [(one.line, one.what) for one in found] == [
        (11, "Row 89 of this section, counted from the bottom, has 3 stitches, most others have 2."),
        (13, "Row 87 of this section, counted from the bottom, has 3 stitches, most others have 2."),
        (15, "Row 85 of this section, counted from the bottom, has 3 stitches, most others have 2. "
             "And 37 more of this kind."),
    ]  # fmt: skip


def test_a_chart_file_is_told_by_its_own_name_and_line() -> None:
    text = chart_text("sb").replace("chart: |\n      sb", "chart: {from: light.txt}")
    assert told(text, {"light.txt": "sb\n\n  sx\n"}) == (
        "light.txt:3:4  Row 1 of this section, counted from the bottom, uses the symbol \"x\", which is not under "
        '"symbols" (line 7).\n'
        "    3 |   sx\n"
        "      |    ^\n"
        "  Symbols of this plan: b, s. Add x there, or mend the row."
    )


@pytest.mark.parametrize(("chart", "column"), [("sxs", 13), ('"sxs"', 14), ("'sxs'", 14), ('"s\\x78s"', 0)])
def test_a_chart_in_one_line_is_told_there_and_no_column_is_made_up(chart: str, column: int) -> None:
    text = chart_text("sb").replace("|\n      sb", chart)
    (first,) = (p for p in problems_of(text) if not p.is_warning)
    assert first.what.endswith('uses the symbol "x", which is not under "symbols" (line 7).')
    assert (first.line, first.column) == (9, column)


@pytest.mark.parametrize("chart", ["sb\n      sb", "'sb\n      sb'", ">\n      sb\n      sb"])
def test_a_chart_whose_lines_yaml_would_join_is_refused(chart: str) -> None:
    text = chart_text("sb").replace("|\n      sb", chart)
    (first,) = (p for p in problems_of(text) if not p.is_warning)
    assert first.what == "The lines of this chart run together."
    assert first.mend == 'Write "|" after "chart:" and the lines below it.'
    assert (first.line, first.column) == (9, 12)


def test_a_chart_that_begins_below_its_key_is_told_where_its_sign_is_missing() -> None:
    (first,) = (p for p in problems_of(chart_text("sb", "bs").replace("chart: |", "chart:")) if not p.is_warning)
    assert (first.line, first.column, first.what) == (9, 5, "The lines of this chart run together.")
