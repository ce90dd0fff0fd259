"""Mistakes in a plan: each one told where it stands, in words that help, and all of them at once."""

from __future__ import annotations

import pytest

from companion.problems import Problems
from tests.plan.plans import CUSHION, HEAD, problems_of, read, told

ROWS = "rows: [{chart: sb}]\n"


def with_(line: str, instead_of: str = "title: Quay") -> str:
    """A sound plan with one line replaced."""
    return (HEAD + ROWS).replace(instead_of, line)


def test_everything_wrong_is_told_at_once_by_line() -> None:
    text = CUSHION
    for old, new in [
        ("title:", "titel:"),
        ('"#a8432f"', "brik"),
        ("b: brick", "b: brik"),
        ("rows: 6", "rows: no"),
        ("sssssssbbbbbbs", "sssssssbbDbbbs"),
        ("repeat", "repeet"),
    ]:
        text = text.replace(old, new)
    assert told(text) == (
        'quay.yaml:2:1  The key "titel" is not known here.\n'
        "    2 | titel: Harbour light cushion\n"
        "      | ^\n"
        '  Did you mean "title"?\n'
        'quay.yaml:6:19  "colour" must be a CSS colour name or of the form "#a8432f", and is "brik".\n'
        "    6 |   brick: {colour: brik}\n"
        "      |                   ^\n"
        '  Did you mean "firebrick"?\n'
        'quay.yaml:9:6  The yarn "brik" is not under "yarns" (line 4).\n'
        "    9 |   b: brik\n"
        "      |      ^\n"
        '  Did you mean "brick"?\n'
        'quay.yaml:13:19  "rows" must be a whole number from 1 up, and is "no".\n'
        "   13 |   - plain: {rows: no, stitches: 40, yarn: sand, stitch: garter}\n"
        "      |                   ^\n"
        'quay.yaml:16:16  Row 1 of this section, counted from the bottom, uses the symbol "D", which is not under '
        '"symbols" (line 7).\n'
        "   16 |       sssssssbbDbbbsssssssssssssssssss\n"
        "      |                ^\n"
        "  Symbols of this plan: b, g, s. Add D there, or mend the row.\n"
        'quay.yaml:18:5  The key "repeet" is not known here.\n'
        "   18 |     repeet: 2\n"
        "      |     ^\n"
        '  Did you mean "repeat"?'
    )


@pytest.mark.parametrize(
    ("text", "report"),
    [
        ("", 'quay.yaml  The file is empty.\n  A plan begins with the line: plan: 1'),
        ("# nothing yet\n", 'quay.yaml  The file is empty.\n  A plan begins with the line: plan: 1'),
        (
            "just text",
            'quay.yaml:1:1  The plan is told key by key, and is "just text".\n'
            "    1 | just text\n"
            "      | ^\n"
            "  A plan begins with the line: plan: 1",
        ),
        (
            "plan: 1\ntitle: Quay\n",
            'quay.yaml  The plan has no "gauge".\n'
            "  Add a line such as: gauge: {stitches: 20, rows: 28, over: 10 cm}\n"
            'quay.yaml  The plan has no "yarns".\n'
            '  Add "yarns:" and below it a line for each, such as: sand: {colour: "#d9c9a5"}\n'
            'quay.yaml  The plan has no "symbols".\n'
            '  Add "symbols:" and below it a line for each, such as: s: sand\n'
            'quay.yaml  The plan has no "rows".\n'
            '  Add "rows:" and below it the sections, each begun with "- plain:" or "- chart:"',
        ),
        (
            "plan: 2\nknit: all\n",
            'quay.yaml:1:7  This plan is of version "2"; only version 1 is understood.\n'
            "    1 | plan: 2\n"
            "      |       ^",
        ),
        (
            HEAD + "rows: []\n",
            'quay.yaml:10:1  "rows" needs at least one section.\n   10 | rows: []\n      | ^',
        ),
        (
            HEAD + "rows: 3\n",
            'quay.yaml:10:7  "rows" must be a list.\n   10 | rows: 3\n      |       ^\n'
            '  Each section begins with "- plain:" or "- chart:".',
        ),
        (
            HEAD + "rows:\n  - repeat: 2\n",
            'quay.yaml:11:5  This section does not say what it is: "plain", "chart" or "field".\n'
            "   11 |   - repeat: 2\n"
            "      |     ^\n"
            '  Each section begins with "- plain:", "- chart:" or "- field:".',
        ),
        (
            HEAD + "rows:\n  - chart: |\n\n  - chart: sb\n",
            "quay.yaml:11:5  The chart is empty.\n"
            "   11 |   - chart: |\n"
            "      |     ^\n"
            "  Draw its rows below it, or delete the section.",
        ),
        (
            HEAD + "rows:\n  - chart: sb\n  - chart: ssb\n    edges: {stitches: 4, yarn: sand}\n    across: 2\n",
            "quay.yaml:12:5  This section is 14 stitches wide (3 x 2 + 4 + 4), the first one (line 11) 2.\n"
            "   12 |   - chart: ssb\n"
            "      |     ^\n"
            '  Sections must be of one width; "edges" and "across" widen a section.',
        ),
    ],
)
def test_a_plan_amiss_as_a_whole_is_told(text: str, report: str) -> None:
    assert told(text) == report


YARN = "  sand: {colour: tan}"
GAUGE = "gauge: {stitches: 20, rows: 28}"


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "mend"),
    [
        ("title: Quay", "title:", (2, 1), '"title" is empty.', ""),
        ("title: Quay", "title: []", (2, 1), '"title" must be a single value, not a list or a group of keys.', ""),
        ("title: Quay", "title: " + "x" * 201, (2, 8),
         '"title" must be 200 characters long at most, and has 201.', ""),
        ("title: Quay", "title: \"a\u202eb\"", (2, 8),
         '"title" must be one line of visible text, and is "a<202E>b".', ""),
        (GAUGE, "gauge: 20", (3, 8),
         '"gauge" is told key by key, and is "20".',
         "Write it like this: gauge: {stitches: 20, rows: 28, over: 10 cm}"),
        (GAUGE, "gauge: {stitches: 20}", (3, 1), '"rows" is missing in "gauge".', ""),
        (GAUGE, "gauge: {stitches: 20, row: 28}", (3, 23), 'The key "row" is not known here.',
         'Did you mean "rows"?'),
        (GAUGE, "gauge: {stitches: 20, rows: 28, xyz: 1}", (3, 33), 'The key "xyz" is not known here.',
         "Keys that can stand here: stitches, rows, over, reverse, garter, seed, rib."),
        (GAUGE, "gauge: {stitches: 0, rows: 28}", (3, 19),
         '"stitches" must be a number above 0, such as 22 or 22.5, and is "0".', ""),
        (GAUGE, "gauge: {stitches: .inf, rows: 28}", (3, 19),
         '"stitches" must be a number above 0, such as 22 or 22.5, and is ".inf".', ""),
        (GAUGE, "gauge: {stitches: '22,5', rows: 28}", (3, 19),
         '"stitches" must be a number above 0, such as 22 or 22.5, and is "22,5".',
         "Write decimals with a point: 22.5"),
        (GAUGE, "gauge: {stitches: 20, rows: 28, over: 10}", (3, 39),
         '"over" must be a length such as 10 cm, 100 mm or 4 in, and is "10".', ""),
        (YARN, "  sand: {colour: #d9c9a5}\n  }", (5, 10), '"colour" is empty.',
         'YAML takes # for a comment: write the colour in quotes, "#a8432f".'),
        (YARN, "  sand: tan", (5, 9), '"sand" is told key by key, and is "tan".',
         "Write it like this: sand: {colour: tan}"),
        (YARN, "  sand: {}", (5, 3), '"colour" is missing in "sand".', ""),
        (YARN, YARN + "\n  " + "x" * 41 + ": {colour: red}", (6, 3),
         'The yarn name "' + "x" * 39 + '…" must be 40 characters long at most, and has 41.', ""),
        (YARN, YARN + "\n  sand: {colour: red}", (6, 3),
         'The key "sand" stands here a second time; the first is on line 5.', "Keep one of the two."),
        (YARN, "  sand: {colour: tan, colour: red}", (5, 23),
         'The key "colour" stands here a second time; the first is in the same line.', "Keep one of the two."),
        ("  s: sand", "  ss: sand\n  s: sand", (8, 3), 'The symbol "ss" must be one visible character.',
         "In a chart every character is a stitch."),
        ("  s: sand", "  .: sand\n  s: sand", (8, 3),
         'The symbol "." stands for "no stitch" in every chart.',
         "Choose another symbol."),
        ("  s: sand", "  \u0301: sand\n  s: sand", (8, 3),
         'The symbol "\u0301" must be one visible character.', "In a chart every character is a stitch."),
        ("  s: sand", "  s: {yarn: sand, stitch: gartr}", (8, 27),
         '"stitch" must be stockinette, reverse, garter, seed or {rib: [2, 2]}, and is "gartr".',
         'Did you mean "garter"?'),
        ("  s: sand", "  s: {yarn: sand, stitch: rib}", (8, 27), '"stitch" needs its columns for a rib.',
         "Write the knit and the purl columns: {rib: [2, 2]}"),
        ("  s: sand", "  s: {yarn: sand, stitch: {rib: 2}}", (8, 33), '"rib" must be a list.',
         "Write the knit and the purl columns: {rib: [2, 2]}"),
        ("  s: sand", "  s: {yarn: sand, stitch: {rib: [2]}}", (8, 28),
         '"rib" must be two numbers, knit columns and purl columns.', ""),
        ("  s: sand", "  s: {yarn: sand, stitch: {rib: [2, 0]}}", (8, 37),
         '"rib" must be a whole number from 1 up, and is "0".', ""),
        ("  s: sand", "  s: snad", (8, 6), 'The yarn "snad" is not under "yarns" (line 4).', 'Did you mean "sand"?'),
        ("  s: sand", "  s: wool", (8, 6), 'The yarn "wool" is not under "yarns" (line 4).',
         "Yarns of this plan: sand, brick."),
        ("\nrows:", "\ncarry: {reach: -1}\nrows:", (10, 16),
         '"reach" must be a whole number from 0 up, and is "-1".', ""),
        ("\nrows:", "\ncarry: {rest: 1.5}\nrows:", (10, 15),
         '"rest" must be a whole number from 0 up, and is "1.5".', ""),
        ("\nrows:", "\ncarry: {share: maybe}\nrows:", (10, 16), '"share" must be yes or no, and is "maybe".', ""),
        ("\nrows:", "\nsample: 38 cm\nrows:", (10, 9), '"sample" is told key by key, and is "38 cm".',
         "Write it like this: sample: {stitches: 20, yarn: 38 cm}"),
        ("\nrows:", "\nsample: {stitches: 20}\nrows:", (10, 1), '"yarn" is missing in "sample".', ""),
        ("\nrows:", "\nsample: {stitches: 0, yarn: 1 m}\nrows:", (10, 20),
         '"stitches" must be a whole number from 1 up, and is "0".', ""),
        ("\nrows:", "\ntail: 15\nrows:", (10, 7),
         '"tail" must be a length such as 38 cm, 5 m, 15 in or 6 yd, and is "15".', ""),
        ("\nrows:", "\ntail: 0 cm\nrows:", (10, 7),
         '"tail" must be a length such as 38 cm, 5 m, 15 in or 6 yd, and is "0 cm".', ""),
        ("\nrows:", "\nfor: dog\nrows:", (10, 6), '"for" must be baby, and is "dog".',
         "Leave it out for everybody else."),
        ("\nrows:", "\nwinding: {loose: 6 m}\nrows:", (10, 1),
         '"winding" must rise from loose to butterfly to bobbin.', "Without a key: 1 m, 5 m and 20 m."),
        ("\nrows:", "\nwinding: {lose: 2 m}\nrows:", (10, 11), 'The key "lose" is not known here.',
         'Did you mean "loose"?'),
        ("{chart: sb}", "{chart: sb, repeat: 0}", (10, 28),
         '"repeat" must be a whole number from 1 up, and is "0".', ""),
        ("{chart: sb}", "{chart: sb, across: 1e3}", (10, 28),
         '"across" must be a whole number from 1 up, and is "1e3".', ""),
        ("{chart: sb}", "{chart: sb, edges: 3}", (10, 27),
         '"edges" is told key by key, and is "3".',
         "Write it like this: edges: {stitches: 3, yarn: sand}"),
        ("{chart: sb}", "{chart: sb, edges: {left: {stitches: 1, yarn: sad}}}", (10, 54),
         'The yarn "sad" is not under "yarns" (line 4).', 'Did you mean "sand"?'),
        ("{chart: sb}", "{chart: [sb]}", (10, 9), '"chart" is told key by key.', "Keys that can stand here: from."),
        ("{chart: sb}", "{chart: {form: x}}", (10, 17), 'The key "form" is not known here.', 'Did you mean "from"?'),
        ("{chart: sb}", "{chart: {from: ../x.txt}}", (10, 23),
         '"from" must name a file in the plan\'s folder, and is "../x.txt".',
         "Put the chart beside the plan and write its name alone, such as light.txt"),
        ("{chart: sb}", "{chart: {from: 'C:x.txt'}}", (10, 23),
         '"from" must name a file in the plan\'s folder, and is "C:x.txt".',
         "Put the chart beside the plan and write its name alone, such as light.txt"),
        ("{chart: sb}", "{chart: {from: light.txt}}", (10, 23),
         'The chart file "light.txt" is not kept with this plan.', ""),
        ("{chart: sb}", "{chart: sb, plain: {rows: 1, stitches: 2, yarn: sand}}", (10, 8),
         'This section must hold one of "plain", "chart" and "field".', ""),
    ],
)  # fmt: skip
def test_a_value_amiss_is_told_where_it_stands(
    old: str, new: str, place: tuple[int, int], what: str, mend: str
) -> None:
    (only,) = (p for p in problems_of((HEAD + ROWS).replace(old, new)) if not p.is_warning)
    assert ((only.line, only.column), only.what, only.mend) == (place, what, mend)


def test_a_yarn_name_that_is_too_long_is_told_once_however_often_the_yarn_is_meant() -> None:
    (only,) = (p for p in problems_of((HEAD + ROWS).replace("sand", "s" * 41)) if not p.is_warning)
    assert only.what == 'The yarn name "' + "s" * 39 + '…" must be 40 characters long at most, and has 41.'


def test_a_chart_is_checked_even_where_the_rest_of_its_section_does_not_fit() -> None:
    found = problems_of(HEAD + "rows:\n  - chart: sbx\n    repeat: none\n")
    assert [(p.line, p.column) for p in found] == [(11, 14), (12, 13)]


def test_what_is_not_used_is_told_together_with_what_is_wrong() -> None:
    found = problems_of((HEAD + "rows: [{chart: sss, repeat: 0}]\n").replace("tan", "tann"))
    assert [(p.line, p.what) for p in found if p.is_warning] == [
        (6, 'The yarn "brick" is not used.'),
        (9, 'The symbol "b" is not used.'),
    ]
    assert [(p.line, p.column) for p in found if not p.is_warning] == [(5, 18), (10, 29)]


def test_where_a_chart_cannot_be_read_nothing_is_called_unused() -> None:
    assert not [p for p in problems_of(HEAD + "rows: [{chart: {from: a.txt}}]\n") if p.is_warning]


def test_an_empty_chart_file_is_told_where_it_is_drawn_in() -> None:
    (only,) = (p for p in problems_of(HEAD + "rows: [{chart: {from: a.txt}}]", {"a.txt": " \n"}) if not p.is_warning)
    assert (only.what, only.line, only.column) == ('The chart file "a.txt" holds no rows.', 10, 23)


@pytest.mark.parametrize(
    ("new", "place", "what"),
    [
        ("title: &t Quay", (2, 8), 'The anchor "&t" is not understood in a plan.'),
        ("title: *t", (2, 8), 'The alias "*t" is not understood in a plan.'),
        ("title: !!str Quay", (2, 8), 'The tag "!!str" is not understood in a plan.'),
        ("title: !Quay", (2, 8), 'The tag "!Quay" is not understood in a plan.'),
        ("title: !!python/object/apply:os.system [ls]", (2, 8),
         'The tag "!!python/object/apply:os.system" is not understood in a plan.'),
        ("<<: {title: Quay}", (2, 1), 'The merge key "<<" is not understood in a plan.'),
        ("[title]: Quay", (2, 1), "A list or a group of keys stands where a key should be."),
        ("title: Quay\n---\nplan: 1", (3, 1), "A second document begins here."),
        ('title: "\\x1b[31m"', (2, 8), "This text holds a control character."),
        ("title: \x1b[31m", (2, 8), "A control character (U+001B) stands here."),
        ("title: Qu\u2028ay", (2, 10), "A control character (U+2028) stands here."),
        ("title: Quay\n\t# note", (3, 1), "A tab stands in the indentation."),
        ("title: Quay: light", (2, 12), 'A ":" stands where no key can be.'),
        ("title: [Quay", (2, 8), 'A "[" is opened here and never closed.'),
        ("title: 'Quay", (2, 8), "A quote is opened here and never closed."),
        ("title: @Quay", (2, 8), "This character cannot stand here unquoted."),
        ("*: sand", (2, 2), "This character cannot stand here unquoted."),
        ("title", (2, 6), 'A ":" is missing after "title".'),
        ('title: "a\\q"', (2, 10), 'A "\\" between double quotes must be doubled.'),
        ("title: Quay\n}", (3, 1), "This line stands in no order with the lines above."),
        ("title: - Quay", (2, 8), 'A list item cannot begin here: "- " starts a line of its own.'),
    ],
)  # fmt: skip
def test_yaml_beyond_a_plan_is_refused_where_it_stands(new: str, place: tuple[int, int], what: str) -> None:
    first = problems_of(with_(new))[0]
    assert ((first.line, first.column), first.what) == (place, what)


def test_a_tag_line_before_the_plan_is_refused() -> None:
    first = problems_of("%TAG ! tag:quay,2000:\n---\n" + HEAD + ROWS)[0]
    assert (first.line, first.what) == (1, "The %TAG line is not understood in a plan.")


def test_one_document_may_be_marked_as_such() -> None:
    assert read("---\n" + HEAD + ROWS + "...\n").piece.title == "Quay"


def test_quoted_merge_signs_are_text_like_any_other() -> None:
    found = problems_of(with_('"<<": Quay\ntitle: Quay'))
    assert [p.what for p in found] == ['The key "<<" is not known here.']


def test_markup_in_a_plan_is_shown_as_it_stands() -> None:
    with pytest.raises(Problems) as caught:
        read(with_("title: Quay\n[red]x: '[/'".replace("[red]x", '"[red]x"')))
    assert 'The key "[red]x" is not known here.' in str(caught.value)
