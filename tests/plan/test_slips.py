"""Slips of the pen: what was meant is told where it was typed, in a knitter's words, and how to mend it. Every
message is whole, and it is the only one."""

from __future__ import annotations

import pytest

from companion.problems import show
from tests.plan.plans import HEAD, chart_text, charted, problems_of, read, told

SAND = "  sand: {colour: tan}\n"
ROWS = "rows: [{chart: sb}]\n"


@pytest.mark.parametrize(
    ("old", "new", "report"),
    [
        (
            SAND, "  sand: {colour: #d9c9a5}\n",
            'quay.yaml:5:18  A "#" that is not in quotes begins a comment: the rest of this line does not count.\n'
            "    5 |   sand: {colour: #d9c9a5}\n"
            "      |                  ^\n"
            '  Write "#d9c9a5", with the quotes.',
        ),
        (
            SAND, "  sand: {colour: #d9c9a5, ball: {metres: 120}}   # from the cellar\n",
            'quay.yaml:5:18  A "#" that is not in quotes begins a comment: the rest of this line does not count.\n'
            "    5 |   sand: {colour: #d9c9a5, ball: {metres: 120}}   # from the cellar\n"
            "      |                  ^\n"
            '  Write "#d9c9a5", with the quotes.',
        ),
        (
            "title: Quay\n", 'title: "Quay\n',
            'quay.yaml:2:8  A quote is opened here and never closed.\n    2 | title: "Quay\n      |        ^\n'
            '  Close it: "Quay"',
        ),
        (
            SAND, '  sand: {colour: "#d9c9a5}\n',
            "quay.yaml:5:18  A quote is opened here and never closed.\n"
            '    5 |   sand: {colour: "#d9c9a5}\n'
            "      |                  ^\n"
            '  Close it: "#d9c9a5"',
        ),
        (
            SAND, '  sand: {colour: "#d9c9a5, ball: {metres: 120}}   # from the cellar\n',
            "quay.yaml:5:18  A quote is opened here and never closed.\n"
            '    5 |   sand: {colour: "#d9c9a5, ball: {metres: 120}}   # from the cellar\n'
            "      |                  ^\n"
            '  Close it: "#d9c9a5"',
        ),
        (
            "title: Quay\n", "title: 'Anna's quay'\n",
            "quay.yaml:2:13  This apostrophe ends the text that was quoted from column 8 on.\n"
            "    2 | title: 'Anna's quay'\n"
            "      |             ^\n"
            '  Put the whole in the other quotes: "Anna\'s quay"',
        ),
        (
            "title: Quay\n", 'title: "The "old" quay"\n',
            "quay.yaml:2:13  This quote ends the text that was quoted from column 8 on.\n"
            '    2 | title: "The "old" quay"\n'
            "      |             ^\n"
            "  Put the whole in the other quotes: 'The \"old\" quay'",
        ),
        (
            "title: Quay\n", "title:Quay\n",
            'quay.yaml:2:6  A space is missing after ":".\n    2 | title:Quay\n      |      ^\n  Write title: Quay',
        ),
        (
            "  s: sand\n", "  s:sand\n",
            'quay.yaml:8:4  A space is missing after ":".\n    8 |   s:sand\n      |    ^\n  Write s: sand',
        ),
        (
            ROWS, "carry: {reach:3}\n" + ROWS,
            'quay.yaml:10:9  A space is missing after ":".\n   10 | carry: {reach:3}\n      |         ^\n'
            "  Write reach: 3",
        ),
        (
            "title: Quay\n", "title Mooring mat\n",
            'quay.yaml:2:6  A ":" is missing after "title".\n    2 | title Mooring mat\n      |      ^\n'
            "  Write title: Mooring mat",
        ),
        (
            "gauge: {stitches: 20,", "gauge = {stitches: 20,",
            'quay.yaml:3:6  A ":" is missing after "gauge".\n    3 | gauge = {stitches: 20, rows: 28}\n'
            "      |      ^\n"
            "  Write gauge: {stitches: 20, rows: 28}",
        ),
        (  # further lines of a title may begin with any word
            "title: Quay\n", "title:\n  Quay,\n  rows of boats\nterms us\n",
            'quay.yaml:5:6  A ":" is missing after "terms".\n    5 | terms us\n      |      ^\n  Write terms: us',
        ),
        (
            "title: Quay\n", "title: Quay\nlight cushion\n",  # no key of a plan: another line of the title
            "quay.yaml:3:1  This line has no \":\" after its key.\n    3 | light cushion\n      | ^",
        ),
        (
            "title: Quay\n", "title:\u00a0Quay\n",
            "quay.yaml:2:7  A no-break space (U+00A0) stands here, which only looks like a space.\n"
            "    2 | title: Quay\n"
            "      |       ^\n"
            "  Type a space in its place.",
        ),
        (
            "  s: sand\n", "\u00a0\u00a0s: sand\n",
            "quay.yaml:8:1  A no-break space (U+00A0) stands here, which only looks like a space.\n"
            "    8 |   s: sand\n"
            "      | ^\n"
            "  Type a space in its place.",
        ),
        (
            "stitches: 20", "stitches: 20\u00a0",
            'quay.yaml:3:19  "stitches" must be a number above 0, such as 22 or 22.5, and is "20 ".\n'
            "    3 | gauge: {stitches: 20 , rows: 28}\n"
            "      |                   ^\n"
            "  A space in it is a no-break space, which only looks like one: type a plain space.",
        ),
        (
            SAND, "  sand: {colour: \u201c#d9c9a5\u201d}\n",
            'quay.yaml:5:18  "colour" must be a CSS colour name or of the form "#a8432f", and is '
            '"\u201c#d9c9a5\u201d".\n'
            "    5 |   sand: {colour: \u201c#d9c9a5\u201d}\n"
            "      |                  ^\n"
            '  Type straight quotes in place of the curly ones: "#d9c9a5"',
        ),
        (
            "stitches: 20,", "stitches: 20,5,",
            "quay.yaml:3:22  A comma ends the number before it.\n"
            "    3 | gauge: {stitches: 20,5, rows: 28}\n"
            "      |                      ^\n"
            "  Write decimals with a point: 20.5",
        ),
        (
            ROWS, "tail: 12,5 cm\n" + ROWS,
            'quay.yaml:10:7  "tail" must be a length such as 38 cm, 5 m, 15 in or 6 yd, and is "12,5 cm".\n'
            "   10 | tail: 12,5 cm\n"
            "      |       ^\n"
            "  Write decimals with a point: 12.5 cm",
        ),
        (
            "gauge: {stitches: 20, rows: 28}", "gauge: 22 stitches over 10 cm",
            'quay.yaml:3:8  "gauge" is told key by key, and is "22 stitches over 10 cm".\n'
            "    3 | gauge: 22 stitches over 10 cm\n"
            "      |        ^\n"
            "  Write it like this: gauge: {stitches: 22, rows: 28, over: 10 cm}",
        ),
        (
            ROWS, "carry: 4\n" + ROWS,
            'quay.yaml:10:8  "carry" is told key by key, and is "4".\n   10 | carry: 4\n      |        ^\n'
            "  Write it like this: carry: {reach: 4}",
        ),
        (
            ROWS, "rows: [{chart: sb, edges: 4}]\n",
            'quay.yaml:10:27  "edges" is told key by key, and is "4".\n'
            "   10 | rows: [{chart: sb, edges: 4}]\n"
            "      |                           ^\n"
            "  Write it like this: edges: {stitches: 4, yarn: sand}",
        ),
    ],
)  # fmt: skip
def test_a_slip_in_a_line_is_told_where_it_was_made(old: str, new: str, report: str) -> None:
    assert told((HEAD + ROWS).replace(old, new, 1)) == report


@pytest.mark.parametrize(
    ("rows", "report"),
    [
        (
            "rows:\n  chart: |\n    sb\n",
            'quay.yaml:11:3  A section begins with "- ", and this line does not.\n   11 |   chart: |\n      |   ^\n'
            '  Write "- chart:".',
        ),
        (
            "rows:\n  - plain: {rows: 2, stitches: 2, yarn: sand}\n  chart: |\n    sb\n",
            'quay.yaml:12:3  A section begins with "- ", and this line does not.\n   12 |   chart: |\n      |   ^\n'
            '  Write "- chart:". What belongs to the section above stands two columns further right.',
        ),
        (
            "rows:\n  - chart: |\n    sb\n    bs\n",
            'quay.yaml:12:5  Lines 12 to 13 stand too far left to be part of "chart" in line 11.\n'
            "   12 |     sb\n"
            "      |     ^\n"
            "  Move these lines right: all lines of a chart start in one column, deeper than its key.",
        ),
        (
            "rows:\n  - chart: |\n       sbbs\n      sbbs\n",
            'quay.yaml:13:7  This line stands too far left to be part of "chart" in line 11.\n'
            "   13 |       sbbs\n"
            "      |       ^\n"
            "  Move it right: all lines of a chart start in one column, deeper than its key.",
        ),
        (
            "rows:\n  - chart: |\n      sb\n      edges: {stitches: 2, yarn: sand}\n      repeat: 2\n",
            "quay.yaml:13:7  Lines 13 to 14 are keys and inside the chart.\n"
            "   13 |       edges: {stitches: 2, yarn: sand}\n"
            "      |       ^\n"
            '  Move these lines left, to begin in the column in which "chart" begins.',
        ),
        (
            "rows:\n  - repeat: 2\n",
            'quay.yaml:11:5  This section does not say what it is: "plain", "chart" or "field".\n'
            "   11 |   - repeat: 2\n"
            "      |     ^\n"
            '  Each section begins with "- plain:", "- chart:" or "- field:".',
        ),
        (
            "rows:\n  - rows: 6\n    stitches: 40\n    yarn: sand\n",
            'quay.yaml:11:5  This section does not say what it is: "plain", "chart" or "field".\n'
            "   11 |   - rows: 6\n"
            "      |     ^\n"
            "  Write it like this: - plain: {rows: 6, stitches: 40, yarn: sand}",
        ),
        (
            "rows:\n  - chart: sb\n    rows: 6\n",
            'quay.yaml:12:5  The key "rows" is not known here.\n   12 |     rows: 6\n      |     ^\n'
            "  Keys that can stand here: plain, chart, field, motifs, mirror, rows_per_square, plain_first, shape, "
            "edges, opening, worked, seam_stitches, repeat, across, says.",
        ),
    ],
)
def test_a_slip_in_a_section_is_told_where_it_was_made(rows: str, report: str) -> None:
    assert told(HEAD + rows) == report


ROW = "of this section, counted from the bottom,"


@pytest.mark.parametrize(
    ("lines", "column", "what", "mend"),
    [
        (["ssbb   # the roof", "sbbs"], 14, f"Row 2 {ROW} has a comment, and in a chart every sign is a stitch.",
         "Write it above the chart."),
        (["# roof", "ssbb", "sbbs # and # wall"], 7,
         f"Row 3 {ROW} has a comment, and in a chart every sign is a stitch; so it is in 1 more row.",
         "Write it above the chart."),
        (["knit 20 sand, 3 brick", "ssbb", "bbss"], 7,
         f"Row 3 {ROW} is told in words; a chart is drawn in symbols, or told in run lengths.", "Write 20s 3b"),
        (["2 ssbb", "1 sbbs"], 7, "The lines of this chart bear row numbers, which would be stitches.",
         "Leave them out: the bottom line is row 1."),
        (["ssbb 3", "sbbs 2", "sbbs 1"], 7, "The lines of this chart bear row numbers, which would be stitches.",
         "Leave them out: the bottom line is row 1."),
        (["4: ssbb", "2: sbbs"], 7, "The lines of this chart bear row numbers, which would be stitches.",
         "Leave them out: the bottom line is row 1."),
    ],
)  # fmt: skip
def test_a_slip_in_a_chart_is_told_once_and_nothing_else_of_its_lines(
    lines: list[str], column: int, what: str, mend: str
) -> None:
    [found] = problems_of(chart_text(*lines))
    assert (found.line, found.column, found.what, found.mend) == (10, column, what, mend)


def test_what_else_is_wrong_with_a_chart_that_has_a_comment_is_told_by_its_own_rows() -> None:
    comment, unknown = problems_of(chart_text("ssbb", "# roof", "ssxb"))
    assert (comment.line, unknown.line) == (11, 12)
    assert unknown.what == f'Row 1 {ROW} uses the symbol "x", which is not under "symbols" (line 7).'


@pytest.mark.parametrize("lines", [["3 s 2 b", "2 s 3 b"], ["s 3b 1s", "2s 3b"]])
def test_a_chart_that_can_be_read_has_no_slips(lines: list[str]) -> None:
    assert charted(*lines).warnings == ()


@pytest.mark.parametrize(
    ("symbols", "place", "what"),
    [
        ("l: sand, I: brick", (7, 20), 'The symbols "l" and "I" look alike in many a font.'),
        ("o: sand, O: brick", (7, 20), 'The symbols "o" and "O" look alike in many a font.'),
        ('s: sand, "|": brick', (7, 20), 'The symbol "|" looks like a line in the chart.'),
    ],
)
def test_symbols_that_are_easily_misread_are_warned_of(symbols: str, place: tuple[int, int], what: str) -> None:
    one, other = (pair.split(":")[0].strip('" ') for pair in symbols.split(","))
    [found] = charted(one + other, symbols=symbols).warnings
    assert ((found.line, found.column), found.what, found.is_warning) == (place, what, True)


def test_curly_quotes_round_a_title_are_told_to_be_part_of_it() -> None:
    [found] = read((HEAD + ROWS).replace("title: Quay", "title: \u201cQuay\u201d")).warnings
    assert show(found) == (
        'quay.yaml:2:8  Warning: "title" has curly quotes, which are part of it.\n'
        "    2 | title: \u201cQuay\u201d\n"
        "      |        ^\n"
        '  Type straight quotes in place of the curly ones: "Quay"'
    )


def test_of_one_cause_three_problems_are_told_and_the_others_counted() -> None:
    plain = "  - plain: {rows: 2, stitches: 4, yarn: tar}\n"
    found = [one for one in problems_of(f"{HEAD}rows:\n{plain * 9}") if not one.is_warning]
    first, second, third = found
    assert (first.what, first.what) == (second.what, 'The yarn "tar" is not under "yarns" (line 4).')
    assert (third.line, third.what) == (13, f"{first.what} And 6 more of this kind.")


def test_sections_of_many_widths_are_one_cause() -> None:
    plain = "".join(f"  - plain: {{rows: 2, stitches: {wide}, yarn: sand}}\n" for wide in range(4, 13))
    found = [one for one in problems_of(f"{HEAD}rows:\n{plain}") if not one.is_warning]
    assert [one.line for one in found] == [12, 13, 14]
    assert found[-1].what == "This section is 7 stitches wide, the first one (line 11) 4. And 5 more of this kind."


def test_an_opening_that_is_amiss_hides_nothing_of_what_lies_below_it() -> None:
    plain = "  - plain: {rows: 2, stitches: 5, yarn: sand}\n    opening: {first: left, at: 9}\n"
    rows = f"rows:\n  - chart: |\n      ss.ss\n{plain}"
    assert [(one.line, one.what) for one in problems_of(HEAD + rows) if not one.is_warning] == [
        (11, f'Row 1 {ROW} has "." between its stitches.'),
        (14, "The opening lies 9 stitches from the right, and the row has 5."),
    ]


def test_an_opening_that_is_amiss_hides_nothing_after_it() -> None:
    plain = "  - plain: {rows: 2, stitches: 4, yarn: sand}\n    opening: {first: lft}\n"
    rows = f"rows:\n{plain}  - chart: |\n      ssxb\n"
    assert [one.line for one in problems_of(HEAD + rows) if not one.is_warning] == [12, 14]
