"""Written rows that are refused: where, why, and how they are mended; and words about edges, which become an
outline."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.problems import show
from tests.drafts.rows import looks, read, refused

CASES = Path(__file__).with_name("rows_refused.txt").read_text(encoding="utf-8").split("====\n")
"""Texts, each with what is told of it: where it stands, both readings where there are two, and how it is mended. That
"repeat three times" may count the first time or not is published as ambiguous."""


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.partition("\n----")[0].replace("\n", " / "))
def test_a_text_is_refused_at_its_place_and_how_to_mend_it_is_told(case: str) -> None:
    text, _, told = case.partition("----\n")
    [problem] = refused(text)
    assert f"{show(problem)}\n" == told


def test_of_one_cause_three_are_told_and_the_others_counted() -> None:
    rows = "".join(f"Row {number}: k5 A, yo\n" for number in range(1, 12))
    found = refused(rows)
    assert [problem.line for problem in found] == [1, 2, 3]
    assert found[2].what == '"yo" is not understood. And 8 more of this kind.'


def test_after_a_row_that_is_amiss_no_other_is_blamed_for_its_count() -> None:
    rows = "Row 1: k9 A\nRow 2: k5 A, yo\nRow 3: k3 A, k3 B\nRow 4: k to end in A (6 sts)\nRow 5: k6 A\n"
    [problem] = refused(rows)
    assert problem.line == 2


@pytest.mark.parametrize(("text", "line"), [
    ("Row 1: k5 A, yo\nRow 2: k to end in A\nRow 3: k to last 2 sts in A, k2 A\n", 1),
    ("Row 1: k5 A\nRow 2 and all WS rows: p5 A\nRow 3: k5 A\n", 2),
    ("Rows 1-2: k9 A\nDec 1 st each end of next row, yo.\nNext row: k7 A\n", 2),
    ("Row 1: k5 A, k5 B\nBind off 3 sts at beg of next 2 rows. (4 sts)\nDec 1 st at end of next row.\n", 2),
    ("Row 1: k5 A (4 sts)\nRow 2: as Row 1 (5 sts)\nRow 3: as Row 1\n", 1),
])  # fmt: skip
def test_what_follows_from_one_slip_is_not_told_as_others(text: str, line: int) -> None:
    assert [problem.line for problem in refused(text)] == [line]


def test_reading_stops_when_much_is_amiss() -> None:
    found = refused("Rows 1-9999: k1 A\n" * 220)
    assert found[-1].what == "A piece of written rows has 10,000 rows at most. And 197 more of this kind."
    [problem] = refused("Cast on 5 sts in A\nRow 1: (cast on 0) 999999999 times, k5\n")
    assert problem.what == "This makes a row of more than 4,000 stitches."


def test_repeats_in_repeats_are_bounded_before_they_are_worked() -> None:
    [problem] = refused("Row 1: (((k5 A) 99 times) 99 times) 99 times\n")
    assert problem.what == "This makes a row of more than 4,000 stitches."
    deep = "(" * 30 + "k1 A" + ")" * 30
    assert refused(f"Row 1: {deep}\n")[0].what == "Brackets lie in one another, more than 20 deep."
    many = "Cast on 4000 sts in A\nRows 1-200: knit\n"
    assert refused(many)[0].what == "With this row the piece has more than 120,000 stitches, and no more are drafted."


def test_what_is_bound_off_and_cast_on_where_rows_begin_becomes_the_outline() -> None:
    """By hand: row 3 begins at the right edge, row 4 at the left."""
    text = "Rows 1-2: k8 A\nRow 3: bind off 3, k2 A, k3 B\nRow 4: bind off 2 sts, p1 B, p2 A\n"
    text += "Row 5: cast on 2, k5 A\n"
    assert looks(text) == ["AAAAAAAA", "aaaaaaaa", "BBBAA...", "..BAA...", "..AAAAA."]
    own = "Rows 1-2: k8 A\nRow 3: bind off 3 (1 on the right needle), k4 more in A\n"
    assert looks(own)[2] == "AAAAA..."


def test_sentences_about_edges_become_rows_with_such_an_outline() -> None:
    text = "Cast on 10 sts in A\nRows 1-4: knit\nBind off 3 sts at the beginning of the next 2 rows. (4 sts)\n"
    assert looks(text)[4:] == ["AAAAAAA...", "...aaaa..."]
    uk = text.replace("Bind off", "Cast off")
    assert looks(uk) == looks(text)
    assert "\nterms: uk\n" in read(uk).text
    numbered = "Rows 1-4: k10 A\nRows 5-6: Bind off 3 at beg of next 2 rows\nRow 7: k4 B\n"
    assert looks(numbered)[4:] == ["AAAAAAA...", "...aaaa...", "...BBBB..."]
    narrower = "Rows 1-4: k10 A\nRow 5: dec 1 st at each end.\nRow 6: p8 A\nInc 1 st at each end of the next row.\n"
    assert looks(narrower)[4:] == [".AAAAAAAA.", ".AAAAAAAA.", "AAAAAAAAAA"]
    counted = "Rows 1-4: k10 A\nDec 1 st at each end of next row. 8 sts.\nRow 6: k8 A. 8 sts\n"
    assert looks(counted)[4:] == [".AAAAAAAA.", ".aaaaaaaa."]
    sided = "Rows 1-2: k10 A\nDec 1 st at each end of every RS row twice. (6 sts)\nRow 6: p6 A\n"
    assert looks(sided)[2:] == [".AAAAAAAA.", ".aaaaaaaa.", "..AAAAAA..", "..AAAAAA.."]
    other = "Rows 1-2: k10 A\nDec 1 st at each end of every WS row twice.\nRow 7: k6 A\n"
    assert looks(other)[2:6] == ["AAAAAAAAAA", ".aaaaaaaa.", ".AAAAAAAA.", "..aaaaaa.."]
    one_side = "Rows 1-2: k6 A\nDec 1 st at the beginning of the next row.\nDec 1 st at end of next row.\n"
    assert looks(one_side)[2:] == ["AAAAA.", "aaaa.."]


def test_edges_of_more_rows_than_a_piece_has_are_refused_before_they_are_worked_out() -> None:
    for rows in ("the next 999999999 rows", "every RS row 999999999 times"):
        [problem] = refused(f"Row 1: k9 A\nDec 1 st at the end of {rows}.\n")
        assert problem.what == "A piece of written rows has 10,000 rows at most."


def test_which_edge_is_meant_is_not_read_between_rows() -> None:
    [problem] = refused("Row 1: k9 A\nDec 1 st at the left edge of the next row.\n")
    assert problem.what == '"Dec 1 st at the left edge of the next ro" is not understood: here begins no row.'


def test_stitches_worked_together_near_an_edge_are_lost_there() -> None:
    rows = "Rows 1-2: k9 A\nRow 3: with A ssk, k5, k2tog. (7 sts)\nRow 4: p7 A\nRow 5: k1 A, m1 A, k5 B, m1 A, k1 A\n"
    assert looks(rows)[2:] == [".AAAAAAA.", ".AAAAAAA.", "AABBBBBAA"]
    assert "\nshaping: {at: " not in read(rows).text
    inward = "Rows 1-2: k9 A\nRow 3: with A k2, ssk, k1, k2tog, k2\n"
    assert looks(inward)[2] == ".AAAAAAA."
    assert "\nshaping: {at: 2}\n" in read(inward).text


def warned(text: str) -> list[str]:
    return [show(warning).split("\n")[0] for warning in read(text).warnings]


def test_what_is_not_read_is_told() -> None:
    text = (
        "Harbour hat\nFor rainy days.\nTension: 20 sts and 28 rows to 10 cm, in stocking stitch\n"
        "Cast on 4 sts in A, cable. Knit 2 rows.\n\nRow 1: k4 A\nRow 2: p4 A\nCast off in B.\n\nSew on a button.\n"
    )
    assert warned(text) == [
        "rows.txt:2:1  Warning: What stands here above the rows is left out: it says nothing that is understood.",
        "rows.txt:4:28  Warning: What stands here above the rows is left out: it says nothing that is understood.",
        'rows.txt:8:1  Warning: All is bound off in A, with which the last row ends, and not in "B".',
        "rows.txt:10:1  Warning: What is done after the last row is left out of the plan.",
    ]
    got = read(text)
    assert "\ntitle: Harbour hat\n" in got.text
    assert "\ncast_on: {method: cable}\n" in got.text
    assert got.loaded.piece.dialect == "uk"
    assert warned("Row 1: k5 tide, k5 foam\nRow 2: p5 foan, p5 tide\n") == [
        'rows.txt:2:11  Warning: The yarns "foam" and "foan" are spelled nearly alike; both are in the plan.'
    ]


def test_a_cast_on_of_its_own_colour_or_in_every_colour_is_in_the_plan() -> None:
    assert "\ncast_on: {yarn: B}\n" in read("With B, cast on 4 sts.\nRow 1: k4 A\n").text
    assert "cast_on" not in read("Using A, cast on 4 stitches (long-tail).\nRow 1: k4 A\n").text
    each = "Cast on (knitted): 2 sts in A; cross, 2 sts in B. (4 sts)\nRow 1: k2 B, k2 A\n"
    assert "\ncast_on: {method: knitted, colours: each}\n" in read(each).text


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    assert looks("\ufeffRow 1: k2 A,\r\n  k3 B\r\nRow 2: p5 A\r\n") == ["BBBAA", "AAAAA"]
    assert refused("Row 1: k2 A\r\nRow 2: yo\r\n")[0][2:4] == (2, 8)


def test_left_hands_bind_off_at_the_other_edge() -> None:
    text = "Rows 1-2: k8 A\nRow 3: k8 A\nRow 4: p8 A\n"
    text += "Row 5: bind off 3, k to end in A\nRow 6: bind off 3, p to end in A\n"
    assert looks(text, hands="right")[4:] == ["AAAAA...", "...AA..."]
    assert looks(text, hands="left")[3:] == ["...AAAAA", "...AA...", "...AA..."]
