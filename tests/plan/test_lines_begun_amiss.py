"""Lines that begin in the wrong column, without their dash or their colon: each is told alone, where it stands, with
what is to be written.
"""

from __future__ import annotations

import pytest

from tests.plan.plans import HEAD, SECTIONED, problems_of, read


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "mend"),
    [
        ("  sand: {colour: tan}", "  sand\n    colour: tan", (5, 7),
         'A ":" is missing after "sand".', "Write sand:"),
        ("yarns:", "yarns", (4, 6),
         'A ":" is missing after "yarns".', "Write yarns:"),
        ("rows:\n", "rows   # from below\n", (10, 5),
         'A ":" is missing after "rows".', "Write rows:"),
        ("symbols:", "symbols", (7, 8),
         'A ":" is missing after "symbols".', "Write symbols:"),
        ("  s: sand", "  s sand", (8, 4),
         'A ":" is missing after "s".', "Write s: sand"),
        ("  b: brick", "  b = brick", (9, 4),
         'A ":" is missing after "b".', "Write b: brick"),
        ("  b: brick", "  b; brick", (9, 4),
         'A ":" is missing after "b".', "Write b: brick"),
        ("chart: |", "chart |", (13, 10),
         'A ":" is missing after "chart".', "Write chart: |"),
        ("  - plain: {rows: 2, st", "  - plain {rows: 2, st", (11, 10),
         'A ":" is missing after "plain".', "Write plain: {rows: 2, stitches: 8, yarn: sand}"),
        ("      bs\n", "      bs\n    repeat 2\n", (16, 11),
         'A ":" is missing after "repeat".', "Write repeat: 2"),
        ("gauge: {stitches: 20, rows: 28}", "gauge:\n  stitches: 20\n  rows 28", (5, 7),
         'A ":" is missing after "rows".', "Write rows: 28"),
        ("  sand: {colour: tan}", "  light sand {colour: tan}", (5, 13),
         'A ":" is missing after "light sand".', "Write light sand: {colour: tan}"),
        ("rows:\n  - plain", "rows:\n  plain", (11, 3),
         'A section begins with "- ", and this line does not.', 'Write "- plain:".'),
        ("rows:\n  - plain", "rows:\n    plain", (11, 5),
         'A section begins with "- ", and this line does not.', 'Write "- plain:".'),
        ("rows:\n  - plain", "rows:\n  -plain", (11, 3),
         'A section begins with "- ", and this line does not.', 'Write "- plain:".'),
        ("  - edges", "  edges", (12, 3),
         'A section begins with "- ", and this line does not.',
         'Write "- edges:". What belongs to the section above stands two columns further right.'),
        ("  - edges", "  * edges", (12, 3),
         'A section begins with "- ", and this line does not.', 'Write "- edges:".'),
        ("  - edges", "    edges", (13, 5),
         'Here are two sections, "plain" (line 11) and "chart", and nothing parts them.',
         'The first line of the second begins with "- ", two columns further left than its others.'),
        ("      bs\n  - plain", "      bs\n  plain", (16, 3),
         'A section begins with "- ", and this line does not.',
         'Write "- plain:". What belongs to the section above stands two columns further right.'),
        ("      bs\n  - plain", "      bs\n    plain", (16, 5),
         'Here are two sections, "chart" (line 13) and "plain", and nothing parts them.',
         'The first line of the second begins with "- ", two columns further left than its others.'),
        ("yarn: sand}\n    chart", "yarn: sand}\n    - chart", (13, 5),
         'A "- " begins a section, and this line begins where the keys of one do.',
         'Write "chart:" without it; or, as a section, below "- plain" (line 11).'),
        ("yarn: sand}\n    chart", "yarn: sand}\n  chart", (13, 3),
         'A section begins with "- ", and this line does not.',
         'Write "- chart:". What belongs to the section above stands two columns further right.'),
        ("  s: sand", "  - s: sand", (8, 3),
         'A "- " begins a section of "rows", and here keys stand.', "Write s: sand"),
        ("      bs\n", "      bs\n  - repeat: 2\n", (16, 5),
         'This section does not say what it is: "plain", "chart" or "field".',
         'Leave out its "- " where it belongs to the section above.'),
        ("rows:\n  - plain", "rows:\n - plain", (11, 2),
         "This line begins one column too far left.",
         'Put 2 spaces before it, so that it begins in the column of "- edges" in line 12.'),
        ("rows:\n  - plain", "rows:\n   - plain", (11, 4),
         "This line begins one column too far right.",
         'Put 2 spaces before it, so that it begins in the column of "- edges" in line 12.'),
        ("  - edges", " - edges", (12, 2),
         "This line begins one column too far left.",
         'Put 2 spaces before it, so that it begins in the column of "- plain" in line 11.'),
        ("  - edges", "   - edges", (12, 4),
         "This line begins one column too far right.",
         'Put 2 spaces before it, so that it begins in the column of "- plain" in line 11.'),
        ("  - edges", "- edges", (12, 1),
         "This line begins 2 columns too far left.",
         'Put 2 spaces before it, so that it begins in the column of "- plain" in line 11.'),
        ("    chart", "     chart", (13, 6),
         "This line begins one column too far right.",
         'Put 4 spaces before it, so that it begins in the column of "edges" in line 12.'),
        ("    chart", "   chart", (13, 4),
         "This line begins one column too far left.",
         'Put 4 spaces before it, so that it begins in the column of "edges" in line 12.'),
        ("    chart", "chart", (13, 1),
         "This line begins 4 columns too far left.",
         'Put 4 spaces before it, so that it begins in the column of "edges" in line 12.'),
        ("      bs\n", "      bs\n  repeat: 2\n", (16, 3),
         "This line begins 2 columns too far left.",
         'Put 4 spaces before it, so that it begins in the column of "edges" in line 12.'),
        ("      bs\n", "      bs\n     repeat: 2\n", (16, 6),
         "This line begins one column too far right.",
         'Put 4 spaces before it, so that it begins in the column of "edges" in line 12.'),
        ("  s: sand", "   s: sand", (8, 4),
         "This line begins one column too far right.",
         'Put 2 spaces before it, so that it begins in the column of "b" in line 9.'),
        ("  b: brick", " b: brick", (9, 2),
         "This line begins one column too far left.",
         'Put 2 spaces before it, so that it begins in the column of "s" in line 8.'),
        ("  b: brick", "   b: brick", (9, 4),
         "This line begins one column too far right.",
         'Put 2 spaces before it, so that it begins in the column of "s" in line 8.'),
        ("  sand:", " sand:", (5, 2),
         "This line begins one column too far left.",
         'Put 2 spaces before it, so that it begins in the column of "brick" in line 6.'),
        ("symbols:", " symbols:", (7, 2),
         "This line begins one column too far right.",
         'Put no space before it, so that it begins in the column of "plan" in line 1.'),
        ("gauge:", " gauge:", (3, 2),
         "This line begins one column too far right.",
         'Put no space before it, so that it begins in the column of "plan" in line 1.'),
        ("title: Quay\n", " title: Quay\n", (2, 2),
         "This line begins one column too far right.",
         'Put no space before it, so that it begins in the column of "plan" in line 1.'),
        ("yarns:\n", "", (4, 3),
         "This line belongs under a key, and the one above it holds nothing.",
         'Write "yarns:" above it, in the first column.'),
        ("\nrows:\n", "\n", (10, 3),
         'A "- " begins a section, and sections stand under "rows:".',
         'Write "rows:" above it, in the first column.'),
        ("  sand: {colour: tan}\n", "  sand:\n    colour: tan\n   ball: {metres: 85}\n", (7, 4),
         "This line begins one column too far left.",
         'Put 4 spaces before it, so that it begins in the column of "colour" in line 6.'),
        ("{stitches: 20, rows: 28}", "\n    stitches: 20\n  rows: 28", (5, 3),
         "This line begins 2 columns too far left.",
         'Put 4 spaces before it, so that it begins in the column of "stitches" in line 4.'),
        ("{stitches: 20, rows: 28}", "\n  rows: 28\n  stitches: 20\n     tail: 5 cm", (6, 6),
         "This line begins 3 columns too far right.",
         'Put 2 spaces before it, so that it begins in the column of "rows" in line 4.'),
        ("      bs\n", "     bs\n      sb\n     bs\n", (15, 6),
         'This line stands too far left to be part of "chart" in line 13.',
         "Move it right: all lines of a chart start in one column, deeper than its key."),
        ("      bs\n", "     bs\n", (15, 6),
         'This line stands too far left to be part of "chart" in line 13.',
         "Move it right: all lines of a chart start in one column, deeper than its key."),
    ],
)  # fmt: skip
def test_a_line_that_begins_amiss_is_told_with_how_it_is_to_begin(
    old: str, new: str, place: tuple[int, int], what: str, mend: str
) -> None:
    assert old in SECTIONED
    [found] = problems_of(SECTIONED.replace(old, new, 1))
    assert ((found.line, found.column), found.what, found.mend) == (place, what, mend)


def test_colons_that_are_missing_are_told_together() -> None:
    text = SECTIONED.replace("  sand: {", "  sand {").replace("symbols:", "symbols")
    assert [(one.line, one.mend) for one in problems_of(text)] == [
        (5, "Write sand: {colour: tan}"), (7, "Write symbols:"),
    ]


@pytest.mark.parametrize(("dash", "amiss", "spaces"), [(" -", "left", 2), ("   -", "right", 2)])
def test_a_dash_out_of_its_column_is_told_where_the_keys_below_it_are_in_theirs(
    dash: str, amiss: str, spaces: int
) -> None:
    rows = f"rows:\n{dash} edges: {{stitches: 3, yarn: sand}}\n    chart: |\n      sb\n"
    [found] = problems_of(HEAD + rows)
    assert (found.line, found.what) == (11, f"This line begins one column too far {amiss}.")
    assert found.mend == (
        f'Put {spaces} spaces before it, so that "edges" begins in the column of "chart" in line 12.'
    )


def test_of_lines_in_two_columns_those_are_told_that_are_fewer() -> None:
    yarns = "   sand: {colour: tan}\n  brick: {colour: brown}\n  tar: {colour: black}\n"
    text = SECTIONED.replace("  sand: {colour: tan}\n  brick: {colour: brown}\n", yarns)
    [found] = problems_of(text)
    assert (found.line, found.column) == (5, 4)
    odd = problems_of(text.replace("   sand", "     sand").replace("  brick", "     brick"))
    assert [one.line for one in odd] == [7]


LEGAL = """\
plan: 1
title:
  Quay {north,
  rows of boats
gauge: {
  stitches: 20,
  rows: 28,
}
yarns:
  light sand:
    colour: tan
  brick {dark}: {colour: brown}   # from the {cellar
symbols: {
  "s": light sand, b: "brick {dark}" }
# the pattern: "." is no stitch
rows:
- plain: {rows: 2,
    stitches: 2, yarn: light sand}
-  chart: |
     sb
   repeat: 2
"""


def test_what_is_unusual_and_no_slip_is_read() -> None:
    piece = read(LEGAL).piece
    assert (piece.title, len(piece.fabric.rows)) == ("Quay {north, rows of boats", 4)


@pytest.mark.parametrize("rows", ["rows: 28,\n}", "rows: 28\n}", "reverse: {rows: 30},\nrows: 28}"])
def test_beside_a_true_slip_what_is_unusual_is_not_told(rows: str) -> None:
    """The same plan with a colon missing at its end: the parser complains, and every line is looked at."""
    legal = LEGAL.replace("rows: 28,\n}", rows)
    assert read(legal).piece.gauge.rows == 28
    [found] = problems_of(legal.replace("repeat: 2", "repeat 2"))
    assert (found.line, found.column, found.mend) == (legal.count("\n"), 10, "Write repeat: 2")


def test_many_yarns_do_not_outweigh_the_keys_of_a_plan() -> None:
    more = "".join(f"  tar {number}: {{colour: black}}\n" for number in range(9))
    text = SECTIONED.replace("rows: 28}\n", "rows: 28}\n  tail: 5 cm\n").replace("symbols:\n", f"{more}symbols:\n")
    [found] = problems_of(text)
    assert (found.line, found.what) == (4, "This line begins 2 columns too far right.")
