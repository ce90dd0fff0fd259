"""Keys under no key or the wrong one, and values in other words: each is told alone, and nothing that follows from
it.
"""

from __future__ import annotations

import pytest

from tests.plan.plans import SECTIONED, problems_of


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "mend"),
    [
        ("  brick:", "brick:", (6, 1),
         'This line begins too far left to be under "yarns" (line 4).', "Put 2 spaces before it."),
        ("  b: brick", "b: brick", (9, 1),
         'This line begins too far left to be under "symbols" (line 7).', "Put 2 spaces before it."),
        ("symbols:", "carry:\nreach: 3\nsymbols:", (8, 1),
         'This line begins too far left to be under "carry" (line 7).', "Put 2 spaces before it."),
        ("  s: sand", "  sand: s", (8, 3),
         "The yarn stands before its symbol here.", "Write s: sand"),
        ("      bs\n  - plain", "      bs\nplain", (16, 1),
         "This line begins too far left to be part of a section.",
         'Sections stand under "rows:", and each begins with "- ".'),
        ("rows: 28}", "rows: 28, over: 4 inches}", (3, 39),
         '"over" must be a length such as 10 cm, 100 mm or 4 in, and is "4 inches".', "Write 4 in"),
        ("rows: 28}", 'rows: 28, over: 4"}', (3, 39),
         '"over" must be a length such as 10 cm, 100 mm or 4 in, and is "4"".', "Write 4 in"),
        ("rows: 28}", "rows: 28, over: 10 centimetres}", (3, 39),
         '"over" must be a length such as 10 cm, 100 mm or 4 in, and is "10 centimetres".', "Write 10 cm"),
        ("symbols:", "tail: 6 yards\nsymbols:", (7, 7),
         '"tail" must be a length such as 38 cm, 5 m, 15 in or 6 yd, and is "6 yards".', "Write 6 yd"),
        ("rows: 28}", "rows: 28 rows}", (3, 29),
         '"rows" must be a number above 0, such as 22 or 22.5, and is "28 rows".', "Write the number alone: 28"),
        ("{rows: 2,", "{rows: 2 rows,", (11, 19),
         '"rows" must be a whole number from 1 up, and is "2 rows".', "Write the number alone: 2"),
        ("{stitches: 20, rows: 28}", "{20 stitches, rows: 28}", (3, 9),
         'The key "20 stitches" is not known here.', "Write stitches: 20"),
        ("yarn: sand}\n  - edges", "yarn: sand, stitch: {rib: [2 2]}}\n  - edges", (11, 62),
         '"rib" must be a whole number from 1 up, and is "2 2".', "Write a comma between them: 2, 2"),
        ("{colour: tan}", "{colour: 2c6a7b}", (5, 18),
         '"colour" must be a CSS colour name or of the form "#a8432f", and is "2c6a7b".',
         'Write "#2c6a7b", with the quotes.'),
        ("yarns:", "yarn:", (4, 1),
         'The key "yarn" is not known here.', 'Did you mean "yarns"?'),
        ("{colour: tan}", '{"colour: #2c6a7b"}', (5, 10),
         'A space is missing after ":".', 'Write colour: "#2c6a7b"'),
    ],
)  # fmt: skip
def test_a_stray_is_told_and_nothing_that_follows_from_it(
    old: str, new: str, place: tuple[int, int], what: str, mend: str
) -> None:
    assert old in SECTIONED
    [found] = problems_of(SECTIONED.replace(old, new, 1))
    assert ((found.line, found.column), found.what, found.mend) == (place, what, mend)


def test_every_stray_is_told_and_read_as_it_was_meant() -> None:
    yarns = "  sand: {colour: tan}\n  brick: {colour: brown}\n"
    found = problems_of(SECTIONED.replace(yarns, yarns.replace("  ", "")))
    assert [one.line for one in found] == [5, 6]
    plain = "plain: {rows: 2, stitches: 8, yarn: sand}"
    found = problems_of(SECTIONED.replace(plain, "plain:\n    rows: 2\n    stitches: 8\n    yarn: sand"))
    assert [(one.line, one.mend) for one in found] == [(line, "Put 6 spaces before it.") for line in (12, 13, 14)]
    found = problems_of(SECTIONED.replace("  sand: {", "  sand:\n  colour: tan\n  tar: {"))
    assert [(one.line, one.mend) for one in found if not one.is_warning] == [(6, "Put 4 spaces before it.")]
    found = problems_of(SECTIONED.replace("symbols:", "carry:\nreach: 3\nrest: 2\nsymbols:"))
    assert [one.line for one in found] == [8, 9]


def test_a_second_section_within_the_first_is_told_by_its_own_key() -> None:
    more = "      bs\n    plain: {rows: 1, stitches: 8, yarn: sand}\n    plain: {rows: 1, stitches: 8, yarn: sand}\n"
    unparted, again = problems_of(SECTIONED.replace("      bs\n", more))
    assert (unparted.line, unparted.what) == (
        16, 'Here are two sections, "chart" (line 13) and "plain", and nothing parts them.',
    )
    assert (again.line, again.mend) == (
        17, 'Keep one of the two; where another section begins, write "- plain:".',
    )


def test_symbols_without_their_key_are_told_as_such() -> None:
    found = problems_of(SECTIONED.replace("symbols:\n", ""))
    assert [(one.line, one.what) for one in found if one.line] == [
        (7, "A symbol stands among the yarns."), (8, "A symbol stands among the yarns."),
    ]


@pytest.mark.parametrize("typed", ["4 parsecs", "4 m", "about 4 in", "0 cm", "10"])
def test_a_length_that_cannot_be_known_is_not_guessed(typed: str) -> None:
    [found] = problems_of(SECTIONED.replace("rows: 28}", f"rows: 28, over: {typed}}}"))
    assert found.mend == ""
