"""One row in many spellings, each worked out by hand: row 1 of ten stitches, worked from right to left, 5 in A, 3 in
B, 2 in A. From memory: the ways in which printed patterns write rows of several colours (charted and written patterns
since about 1950; "K5(A). 3(B)." and "1st row.—" from older leaflets)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.drafts.rows import looks, read

CAST_ON = "Cast on 10 sts in A.\n"

SPELLINGS = """
Row 1: k5 A, k3 B, k2 A
Row 1 (RS): K5 A, K3 B, K2 A.
Row 1: with A k5, with B k3, with A k2
Row 1: with A, k5; with B, k3; with A, k2.
Row 1: with A: k5, with B: k3, with A: k to end
Row 1: 5A 3B 2A
Row 1: 5A, 3B, 2A.
Row 1: 5 A, 3 B, 2 A
Row 1: 5 sts A, 3 sts B, 2 sts in A
Row 1: AK5 BK3 AK2
Row 1: Ak5, Bk3, Ak2
Row 1: K5(A). 3(B). 2(A).
Row 1: k5(A), k3(B), k2(A)
Row 1: k5A, k3B, k2A
Row 1: K. 5 A, K. 3 B, K. 2 A.
Row 1: A k5, B k3, A k2
Row 1: A k5 B k3 A k2
Row 1: A: k5; B: k3; A: k2
Row 1: knit 5 in A, knit 3 in B, knit 2 in A
Row 1: Knit 5 sts with A, 3 sts with B, 2 sts with A.
Row 1: using A k5, using B k3, using A k2
Row 1: with A knit 5, change to B, knit 3, with A knit to end
Row 1: with A k5, join B, k3, with A k2. Turn.
1st row: K5 A, 3 B, 2 A.
1st row (RS): k5A, 3B, 2A.
1st row.—K5 A, K3 B, K2 A.
First row: k5 in A, k3 in B, k to end in A.
Row 1: k5 A, k3 B, k to end A
Row 1: k5 A, k3 B, knit to end with A
Row 1: k5 A, k3 B, k to end of row in A
R1: 5A 3B 2A
1: 5A 3B 2A
1 (RS): 5A 3B 2A
Row 1 [RS]: k5 A, k3 B, k2 A [10 sts]
Row 1 (right side): k5 A, k3 B, k2 A — 10 sts
Row 1, RS: k5 A, k3 B, k2 A
RS Row 1: k5 A, k3 B, k2 A
Row 1: (RS) k5 A, k3 B, k2 A
Row 1 - k5 A, k3 B, k2 A
Row 1. k5 A, k3 B, k2 A
Row 1: k5 yarn A, k3 yarn B, k2 yarn A
Row 1: k5 in colour A, k3 in color B, k2 in colour A
Row 1: k5 A, [k1 B] 3 times, k2 A
Row 1: k5 A, (k1 B) x 3, k2 A
Row 1: k5 A, (k1 B) 3x, k2 A
Row 1: k5 A, (k1 B) three times, k2 A
Row 1: (k1 A) twice, ((k1 A) 3 times, k3 B), k2 A
Row 1: k5 A, *k1 B; rep from * to last 2 sts, k2 A
Row 1: k5 A, *k1 B, rep from * until last 2 sts, k2 A.
Row 1: k5 A, *k1 B; repeat from * to 2 sts before end, k2 A
Row 1: k5 A, *k1 B; rep from * 2 more times, k2 A
Row 1: k5 A, *k1 B; rep from * twice more, k2 A
Row 1: k5 A, *k1 B* 3 times, k2 A
Row 1: k5 A, k3 B, *k1 A; rep from * to end
Row 1: k5 A, k3 B, *k1 A, rep from * across.
Row 1: k5 A, k to last 2 sts in B, k2 A
Row 1: k5 A, with B k to last 2 sts, k2 A
Row 1: k5 A, (k1 B) to last 2 sts, k2 A
Next row (RS): k5 A, k3 B, k2 A
Round 1: k5 A, k3 B, k2 A
Rnd 1: k5 A, k3 B, k2 A
""".strip().splitlines()


@pytest.mark.parametrize("row", SPELLINGS)
def test_a_row_in_another_spelling_is_the_same_row(row: str) -> None:
    assert looks(f"{CAST_ON}{row}\n") == ["AABBBAAAAA"]


@st.composite
def spelled(draw: st.DrawFn) -> tuple[str, str]:
    """A row of runs in one manner all through, and its stitches in working order."""
    run = st.tuples(st.integers(1, 12), st.sampled_from(["MC", "CC1", "navy", "C"]))
    runs = draw(st.lists(run, min_size=1, max_size=6))
    manner = draw(st.sampled_from([
        "k{n} {y}", "K{n}({y})", "{n} {y}", "k{n} in {y}", "knit {n} sts with {y}", "with {y} k{n}",
        "using {y}, k{n}",
        "{y} k{n}", "(k{n} {y})", "(k1 {y}) {n} times", "with {y} (k1) x {n}", "{n} sts in {y}",
    ]))  # fmt: skip
    between = draw(st.sampled_from([", ", "; ", ",\n  "]))
    label = draw(st.sampled_from(["Row 1: ", "1st row: ", "Row 1 (RS): ", "Round 1: ", "First row—"]))
    words = between.join(manner.format(n=n, y=yarn) for n, yarn in runs)
    return f"{label}{words}.", "".join(n * yarn[0].upper() for n, yarn in runs)


@settings(max_examples=60)
@given(spelled())
def test_rows_of_any_runs_in_any_manner_come_to_those_runs(row: tuple[str, str]) -> None:
    text, stitches = row
    assert looks(f"{text}\n") == [stitches[::-1]]


def test_right_side_rows_go_to_the_left_and_wrong_side_rows_to_the_right_rounds_always_to_the_left() -> None:
    row = "k3 A, p1 B, k1 C"
    assert looks(f"Row 1: {row}\nRow 2: {row}\nRow 3: {row}\n") == ["CbAAA", "aaaBc", "CbAAA"]
    assert looks(f"Round 1: {row}\nRound 2: {row}\n") == ["CbAAA", "CbAAA"]
    assert looks(f"Row 1: {row}\nRow 2: {row}\n", hands="left") == ["AAAbC", "cBaaa"]


def test_numbers_without_knit_or_purl_are_stockinette_on_either_side() -> None:
    assert looks("Row 1: 2A 3B\nRow 2: 3B 2A\n") == ["BBBAA", "BBBAA"]


def test_rows_are_told_by_other_rows() -> None:
    """By hand: k3 A, p2 B on the right side shows "bbAAA"; on the wrong side, begun at the left, "aaaBB"."""
    right, wrong = "bbAAA", "aaaBB"
    text = "Row 1: k3 A, p2 B\nRow 2: as Row 1\nRow 3: same as row 2.\n4th row: As 1st row\nRows 5-8: rep Rows 1-4\n"
    assert looks(text) == [right, wrong] * 4
    assert looks("Rows 1, 3 and 5: k3 A, p2 B\n2nd and 4th rows: k3 A, p2 B") == [right, wrong, right, wrong, right]
    more = "Row 1: k3 A, p2 B\nRow 2: k3 A, p2 B\n"
    assert looks(f"{more}Repeat Rows 1 and 2 once more.\n") == [right, wrong] * 2
    assert looks(f"{more}Rep last 2 rows 2 more times. (5 sts)\nRow 7: k5 A\n") == [*[right, wrong] * 3, "AAAAA"]
    assert looks(f"{more}Rows 3-6: rep Rows 1-2 twice\n") == [right, wrong] * 3
    assert looks("Row 1: k3 A, p2 B. Row 2: k3 A, p2 B. Row 3 (RS): as Row 1.\n") == [right, wrong, right]


def test_a_rib_is_read_as_abbreviation_lists_write_it() -> None:
    """"*K2, p2; rep from * to last 2 sts, k2" over 10 stitches, and back "*p2, k2; rep from * to last 2 sts, p2":
    two-and-two rib, as stitch guides write it (from memory)."""
    text = (
        "Cast on 10 sts in sea.\n"
        "Row 1 (RS): *K2, p2; rep from * to last 2 sts, k2.\n"
        "Row 2: *P2, k2; rep from * to last 2 sts, p2.\n"
        "Rep Rows 1 and 2 twice more.\n"
    )
    assert looks(text) == ["SSssSSssSS"] * 6
    assert "- plain: {rows: 6, stitches: 10, yarn: sea, stitch: {rib: [2, 2]}}\n" in looks_text(text)


def looks_text(text: str) -> str:
    return read(text).text


def test_textures_are_called_what_they_are() -> None:
    garter = looks_text("Cast on 8 sts in A\nRows 1-6: knit\n")
    assert "- plain: {rows: 6, stitches: 8, yarn: A, stitch: garter}\n" in garter
    seed = "Row 1: (k1 A, p1 A) 4 times\nRow 2: (p1 A, k1 A) 4 times\nRow 3: as Row 1\nRow 4: as Row 2\n"
    assert looks(seed) == ["aAaAaAaA", "AaAaAaAa"] * 2
    assert "- plain: {rows: 4, stitches: 8, yarn: A, stitch: seed}\n" in looks_text(seed)
    rib = looks_text("Cast on 8 sts in A\nRows 1-4: (k1, p1) 4 times\n")
    assert "- plain: {rows: 4, stitches: 8, yarn: A, stitch: {rib: [1, 1]}}\n" in rib
    ended = looks_text("Cast on 8 sts in A\nRows 1-5: knit\n")
    assert "- plain: {rows: 5, stitches: 8, yarn: A, stitch: garter}\n" in ended
    edged = looks_text("Rows 1, 3, 5: k6 A\nRows 2, 4, 6: k1 A, p4 A, k1 A\n")
    assert ("stitch: garter}" in edged, "seed" in edged, "reverse" in edged) == (True, False, False)
    assert "seed" not in looks_text("Row 1: k1 A, p1 A, k4 A\nRow 2: p3 A, k1 A, p2 A\n")  # two purls are no pattern
    turned = looks_text("Row 1: k6 A\nRow 2: k6 A\nRow 3: p6 A\nRow 4: k6 A\n")
    assert ("stitch: reverse}" in turned, "garter" in turned) == (True, False)
    reverse = looks_text("Cast on 8 sts in A\nRow 1: purl\nRow 2: knit\nRows 3-4: rep Rows 1-2\n")
    assert "stitch: reverse}\n" in reverse
    rounds = looks_text("Cast on 8 sts in A\nRound 1: knit\nRound 2: purl\nRounds 3-6: rep Rounds 1-2\n")
    assert "stitch: garter}\n    worked: round\n" in rounds


def test_rows_above_one_another_that_repeat_are_written_once() -> None:
    text = looks_text("Row 1: 2A 3B\nRow 2: 3B 2A\nRow 3: 5A\nRow 4: 5B\nRows 5-8: rep Rows 1-4\n")
    assert "    repeat: 2\n" in text
    text = looks_text("Cast on 5 sts in A\nRows 1-4: 5A\nRow 5: 2A 3B\nRows 6-14: k5 A\n")
    assert "- plain: {rows: 4, stitches: 5, yarn: A}\n" in text
    text = looks_text("Rows 1-4: 2A 3A\nRow 5: 5B\nRows 6, 8: 2A 3B\nRows 7, 9: 3B 2A\n")
    assert text.endswith("  - chart: |\n      aabbb\n    repeat: 4\n")
    assert "  - chart: |\n      bbbbb\n" in text


def test_the_yarns_that_are_listed_keep_their_colours_balls_and_letters() -> None:
    listed = (
        "Yarns:\n  s  sand (#d9c9a5, in balls of 100 yd / 50 g)\n  s  sea (#2c6a7b)\n\nRow 1: with sand k2; cross, "
        "with sea k3.\n"
    )
    text = looks_text(listed)
    assert '  sand: {colour: "#d9c9a5", ball: {metres: 91.44, grams: 50}}\n  sea: {colour: "#2c6a7b"}\n' in text
    assert text.endswith("      eeess\n")  # each its own letter though one is listed for both
    assert '  A: {colour: "#000080"}\n' in looks_text("Yarn A: navy, 2 balls\nColour B - x\nRow 1: k2 A\n")
    assert looks("MC: navy blue\nB: cream\nRow 1: MCK2 BK3\n") == ["BBBMM"]


def test_colours_are_those_at_hand_then_those_listed_and_others_differ_from_one_another() -> None:
    rows = "A: navy\nRow 1: k2 A, k1 B, k1 C, k1 D\n".replace("A: navy", "A: navy\nB: cream\nC: wool\nD: silk")
    got = {yarn.name: yarn.colour for yarn in read(rows).loaded.piece.yarns}
    assert got["A"] == "#000080"
    assert len(set(got.values())) == 4
    here = {yarn.name: yarn.colour for yarn in read(rows, at_hand={"a": "#123456"}).loaded.piece.yarns}
    assert here["A"] == "#123456"
    many = ", ".join(f"k1 {letter}" for letter in "ABCDEFGHIJLMNOQRSTUVWXYZ")
    assert len({yarn.colour for yarn in read(f"Row 1: {many}\n").loaded.piece.yarns}) == 24


def test_hands_that_are_asked_for_go_before_those_of_the_text() -> None:
    text = "Lay: lay the old strand to your right across the new one.\nRow 1: k2 A, k3 B\n"
    assert looks(text) == ["AABBB"]
    assert looks(text, hands="right") == ["BBBAA"]


def test_a_strand_told_from_another_row_begins_no_row() -> None:
    text = "Row 1: k5 A. (5 sts) Cut too, not needed any more:\n  row 5, the A.\nRow 2: p5 A\n"
    assert looks(text) == ["AAAAA", "AAAAA"]


def test_a_row_worked_like_a_round_is_a_row_all_the_same() -> None:
    assert looks("Round 1: k2 A, p3 B\nRow 2: as Round 1\nRow 3: as Round 1\n") == ["bbbAA", "bbbAA", "aaBBB"]
    assert "\nfor: baby\n" in looks_text("For a baby: floats over 2.5 cm are caught.\nRow 1: k2 A\n")


def test_parts_are_joined_by_a_short_sentence_too() -> None:
    """Row 4 is a wrong-side row, and goes from the left part to the right one."""
    text = (
        "Row 1: k3 B, k5 A\nRow 2: p5 A, p3 B. The piece divides here: the right part is worked first, on 3 "
        "stitches. On a holder wait 5 of the left part.\n"
        "Row 1 of the right part: k3 B. Put the 3 stitches of the right part on a holder. Take up the left part: its "
        "5 stitches back on the needle, right side toward you.\n"
        "Row 1 of the left part: k5 A. Join the parts: put the 3 stitches of the right part back on the needle.\n"
        "Row 4: p5 A, p3 B\n"
    )
    assert looks(text) == ["AAAAABBB", "AAAAABBB", ".....BBB", "AAAAA...", "AAAAABBB"]
