"""Braces, and what is missing in them or stands there once too often: each slip is told alone, where it was made,
with what is to be written.
"""

from __future__ import annotations

import pytest

from tests.plan.plans import SECTIONED, problems_of


@pytest.mark.parametrize(
    ("old", "new", "place", "what", "mend"),
    [
        ("  sand: {colour: tan}", "  sand   {colour: tan}", (5, 7),
         'A ":" is missing after "sand".', "Write sand: {colour: tan}"),
        ("  sand: {colour: tan}", "  sand {colour: tan, ball: {metres: 85}}   # 28 m", (5, 7),
         'A ":" is missing after "sand".', "Write sand: {colour: tan, ball: {metres: 85}}"),
        ("{colour: tan}", "{colour: tan, ball {metres: 85, grams: 50}}", (5, 27),
         'A ":" is missing after "ball".', "Write ball: {metres: 85, grams: 50}"),
        ("symbols:", "carry {reach: 3}\nsymbols:", (7, 6),
         'A ":" is missing after "carry".', "Write carry: {reach: 3}"),
        ("symbols:", "carry: {reach 3}\nsymbols:", (7, 14),
         'A ":" is missing after "reach".', "Write reach: 3"),
        ("symbols:", "carry: {reach = 3}\nsymbols:", (7, 14),
         'A ":" is missing after "reach".', "Write reach: 3"),
        ("symbols:", "carry; {reach: 3}\nsymbols:", (7, 6),
         'A ":" is missing after "carry".', "Write carry: {reach: 3}"),
        ("{rows: 2, st", "{rows 2, st", (11, 17),
         'A ":" is missing after "rows".', "Write rows: 2"),
        ("{colour: tan}", '{colour "#2c6a7b", ball: {metres: 85, grams: 50}}', (5, 16),
         'A ":" is missing after "colour".', 'Write colour: "#2c6a7b"'),
        ("{colour: tan}", '{colour:"#2c6a7b"}', (5, 10),
         'A space is missing after ":".', 'Write colour: "#2c6a7b"'),
        ("symbols:\n  s: sand\n  b: brick", "symbols: {s: sand, b brick}", (7, 21),
         'A ":" is missing after "b".', "Write b: brick"),
        ("rows: 28}", "rows: 28", (3, 8),
         'A "{" is opened here and never closed.', "Close it: gauge: {stitches: 20, rows: 28}"),
        ("rows: 4, stitches: 8, yarn: sand}", "rows: 4, stitches: 8, yarn: sand", (16, 12),
         'A "{" is opened here and never closed.', "Close it: - plain: {rows: 4, stitches: 8, yarn: sand}"),
        ("rows: 2, stitches: 8, yarn: sand}", "rows: 2, stitches: 8, yarn: sand   # garter\n\n  # the boat", (11, 12),
         'A "{" is opened here and never closed.', "Close it: - plain: {rows: 2, stitches: 8, yarn: sand}"),
        ("{colour: tan}", "{colour: tan, ball: {metres: 85, grams: 50}   # sails", (5, 9),
         'A "{" is opened here and never closed.', "Close it: sand: {colour: tan, ball: {metres: 85, grams: 50}}"),
        ("{rows: 2, stitches: 8, yarn: sand}", "{rows: 2,\n            stitches: 8, yarn: sand", (11, 12),
         'A "{" is opened here and never closed.', 'Write "}" at the end of line 12.'),
        ("yarn: sand}\n  - edges", "yarn: sand, stitch: {rib: [2, 2}\n  - edges", (11, 66),
         'This "}" stands where the "[" is to be closed.', 'Write "]" before it: [2, 2]}'),
        ("  - plain: {rows: 2", "  - {plain: {rows: 2", (11, 5),
         'A "{" is opened here and never closed.', "Close it: - {plain: {rows: 2, stitches: 8, yarn: sand}}"),
        ("stitches: 20, rows", "stitches: 20 rows", (3, 21),
         'A "," is missing between "20" and "rows".', "Write stitches: 20, rows: 28"),
        ("stitches: 20, rows", "stitches: 20; rows", (3, 21),
         'A "," is missing between "20" and "rows".', "Write stitches: 20, rows: 28"),
        ("{colour: tan}", '{colour: "#2c6a7b" ball: {metres: 85}}', (5, 27),
         "A \",\" is missing between '\"#2c6a7b\"' and \"ball\".", 'Write colour: "#2c6a7b", ball: {metres: 85}'),
        ("{rows: 2, stitches: 8, yarn", "{rows: 2, stitches: 8\n            yarn", (11, 33),
         'A "," is missing between "8" and "yarn".', "Write - plain: {rows: 2, stitches: 8,"),
        ("{colour: tan}", "{ball: {metres: 85} colour: tan}", (5, 28),
         'A "," is missing between "}" and "colour".', "Write ball: {metres: 85}, colour: tan"),
        ("rows: 28}", "rows: 28}}", (3, 32),
         'This "}" closes nothing.', "Delete it."),
        ("rows: 28}", "rows: 28},", (3, 32),
         'This "," separates nothing.', "Delete it."),
        ("rows: 28}", "rows: 28]", (3, 31),
         'This "]" stands where the "{" is to be closed.', 'Write "}" in its place: {stitches: 20, rows: 28}'),
        ("{colour: tan}", "{colour: tan}, ball: {metres: 85}", (5, 21),
         "Further keys stand behind the end of their braces.", "Write sand: {colour: tan, ball: {metres: 85}}"),
        ("yarn: sand}\n  - edges", "yarn: sand, stitch: rib: [1, 1]}\n  - edges", (11, 55),
         '"rib" is a key within "stitch", and needs braces of its own.', "Write stitch: {rib: [1, 1]}"),
        ("gauge: {stitches: 20, rows: 28}", "gauge: stitches: 20, rows: 28", (3, 8),
         'Keys in the line of "gauge" stand in braces.', "Write gauge: {stitches: 20, rows: 28}"),
        ("symbols:", "carry: (reach: 3)\nsymbols:", (7, 8),
         'Keys in the line of "carry" stand in braces.', "Write carry: {reach: 3}"),
        ("{colour: tan}", "{colour: '#2c6a7b\"}", (5, 18),
         "A quote is opened here and never closed.", "Close it: '#2c6a7b'"),
        ("title: Quay", "title: Quay: light", (2, 12),
         'A ":" stands where no key can be.', 'Write title: "Quay: light"'),
        ("title: Quay", 'title: The "quay": light', (2, 18),
         'A ":" stands where no key can be.', "Write title: 'The \"quay\": light'"),
        ("  s: sand\n", "  s: sand, t: tan\n", (8, 13),
         "A second key stands in this line.",
         "Each key has a line of its own, or all stand in braces with commas between them."),
        ("chart: |\n", "chart: | sb\n", (13, 14),
         'The lines of "chart" begin below it.', 'Write "chart: |" alone, and a line for each row below it.'),
        ("title: Quay", 'title: "The old" quay', (2, 16),
         "This quote ends the text that was quoted from column 8 on.",
         "Put the whole in the other quotes: '\"The old\" quay'"),
    ],
)  # fmt: skip
def test_a_slip_in_braces_is_told_with_what_is_to_be_written(
    old: str, new: str, place: tuple[int, int], what: str, mend: str
) -> None:
    assert old in SECTIONED
    [found] = problems_of(SECTIONED.replace(old, new, 1))
    assert ((found.line, found.column), found.what, found.mend) == (place, what, mend)


@pytest.mark.parametrize("typed", ["- " * 20_000, "{" + "a, " * 20_000, "a | " * 20_000, "{}" * 20_000],
                         ids=["dashes", "commas", "bars", "braces"])
def test_a_slip_in_a_line_without_end_is_told_soon_and_briefly(typed: str) -> None:
    """What is looked for looks at no sign of a line more often than a few times, or this would take minutes."""
    [found] = problems_of(SECTIONED.replace("symbols:", f"{typed}\nsymbols:"))
    assert (found.line, len(found.mend) < 500) == (7, True)
