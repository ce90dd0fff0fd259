"""The chart of a hand-out, read from its page as a knitter reads it, against the drawing in the plan."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from on_paper import Sheet, every, handed, sheets, text_of, tree
from plan.plans import charted, read

from companion.commands.given import read_plan
from companion.knitting.cloth.fabric import cells_across
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.pages.hand_out.tiling import cuts
from companion.problems import Problems

DEMOS = [path.stem for path in sorted(Path("plans").glob("*.yaml"))]


def drawn(piece: Piece) -> dict[tuple[str, int, int], str]:
    """The letter of every stitch, by part, its row's number in that part and its column."""
    found = {}
    for level, places in enumerate(piece.fabric.levels):
        for place in places:
            row = piece.rows[place]
            for column, stitch in enumerate(cells_across(piece.fabric, level), 1):
                if stitch is not None and row.stitch_at(column) is not None:
                    found[row.part, row.number, column] = piece.yarn(stitch.yarn).symbol
    return found


def seen(html: str) -> tuple[list[Sheet], dict[tuple[str, int, int], set[str]]]:
    """The sheets, and what all of them show; where rows of two parts have one number, each part's sheets show its
    own."""
    found, shown = sheets(tree(html)), dict[tuple[str, int, int], set[str]]()
    for sheet in found:
        named = re.search("(Left|Right) part", sheet.title)
        part = named[1].lower() if named else ""
        top = max(number for number in {**sheet.left, **sheet.right}.values() if number)
        for (row, column), letter in sheet.squares.items():
            number = {**sheet.left, **sheet.right}[row]
            is_below = part and row < 2 and number > top - 10
            shown.setdefault(("" if is_below else part, number, column), set()).add(letter)
    return found, shown


@pytest.mark.parametrize("demo", DEMOS)
def test_every_stitch_of_a_demo_is_on_a_sheet_with_its_letter_at_its_numbers(demo: str) -> None:
    piece = read_plan(demo).piece
    _, shown = seen(handed(piece, "chart"))
    assert shown == {place: {letter} for place, letter in drawn(piece).items()}


def test_sheets_side_by_side_and_one_above_the_other_share_two_rows_or_stitches() -> None:
    found = sheets(tree(handed(read_plan("harbour-light-cushion").piece, "chart")))
    assert len(found) == 6
    rows = [set({**sheet.left, **sheet.right}.values()) for sheet in found]
    columns = [set(sheet.columns) for sheet in found]
    for one, other in ((0, 1), (1, 2), (3, 4), (4, 5)):
        assert len(columns[one] & columns[other]) == 2
        assert rows[one] == rows[other]
    for one in range(3):
        assert rows[one] & rows[one + 3] == {56, 57}
        assert columns[one] == columns[one + 3]
        assert f"goes on on sheet {one + 4}" in found[one].notes
        assert f"goes on on sheet {one + 1}" in found[one + 3].notes
    assert {"goes on on sheet 1", "goes on on sheet 3"} <= {*found[1].notes}


def test_cuts_cover_all_in_pieces_no_longer_than_asked_and_neighbours_share_two() -> None:
    for squares in range(1, 120):
        for most in range(5, 40):
            found = cuts(squares, most)
            assert found[0].first == 0
            assert found[-1].stop == squares
            assert all(0 < one.stop - one.first <= most for one in found)
            assert all(one.stop - other.first == 2 for one, other in pairwise(found))


def test_right_side_rows_are_numbered_at_the_right_and_wrong_side_rows_at_the_left() -> None:
    [sheet] = sheets(tree(handed(charted("sssss", "sbbss", "ssbbs", "sssss").piece, "chart")))
    assert sheet.right == {0: 1, 2: 3}
    assert sheet.left == {1: 2, 3: 4}
    assert sheet.columns == [5, 4, 3, 2, 1]
    # Row 2, "ssbbs" as drawn: its third stitch and the one before it, counted from the right, are brick.
    assert [sheet.numbered()[2, column] for column in (1, 2, 3, 4, 5)] == ["s", "b", "b", "s", "s"]


def test_for_left_hands_the_sides_are_changed_and_stitches_counted_from_the_left() -> None:
    piece = charted("sssss", "sbbss", "ssbbs", "sssss").piece.for_hands(is_mirrored=True)
    html = handed(piece, "chart")
    [sheet] = sheets(tree(html))
    assert sheet.left == {0: 1, 2: 3}
    assert sheet.right == {1: 2, 3: 4}
    assert sheet.columns == [1, 2, 3, 4, 5]
    assert [sheet.numbered()[2, column] for column in (1, 2, 3, 4, 5)] == ["s", "s", "b", "b", "s"]
    assert "Right-side rows are numbered at the left and read from left to right" in text_of(tree(html))


def test_rounds_are_all_numbered_at_the_right() -> None:
    piece = charted("sbsss", "ssbss", "sssss", more="    worked: round\n").piece
    html = handed(piece, "chart")
    [sheet] = sheets(tree(html))
    assert (sheet.right, sheet.left) == ({0: 1, 1: 2, 2: 3}, {})
    assert "rounds 1 to 3" in sheet.title
    assert "Rounds are numbered at the right and read from right to left" in text_of(tree(html))


def test_a_divided_piece_has_a_chart_for_each_part_that_begins_with_two_rows_of_what_it_is_worked_on() -> None:
    piece = read_plan("ferry-jumper-front").piece
    found = sheets(tree(handed(piece, "chart")))
    right, left = found[-2:]
    assert "Right part, rows 1 to 14" in right.title
    assert "Left part, rows 1 to 14" in left.title
    for sheet in (right, left):
        numbers = {**sheet.left, **sheet.right}
        assert [numbers[at] for at in range(16)] == [83, 84, *range(1, 15)]
    assert "the right part goes on on sheet 5; the left part goes on on sheet 6" in found[2].notes
    assert not any("part goes on" in note for note in found[0].notes)


def test_squares_have_the_proportion_of_the_gauge_and_are_never_too_low_to_read() -> None:
    for gauge, ratio in (("{stitches: 20, rows: 28}", 28 / 20), ("{stitches: 30, rows: 33}", 33 / 30)):
        for rows, columns in ((3, 3), (130, 90)):
            text = (
                f"plan: 1\ntitle: Quay\ngauge: {gauge}\nyarns: {{sand: {{colour: tan}}}}\nsymbols: {{s: sand}}\n"
                f"rows:\n  - plain: {{rows: {rows}, stitches: {columns}, yarn: sand}}\n"
            )
            for sheet in sheets(tree(handed(read(text).piece, "chart"))):
                wide, high = sheet.size
                assert wide / high == pytest.approx(ratio, rel=0.005)
                assert 3.39 <= high <= 8.01
                assert wide * len(sheet.columns) <= 190 - 2 * 13 + 0.01


def test_after_every_tenth_stitch_and_row_the_line_is_heavier() -> None:
    piece = read(
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\nsymbols: {s: sand}\n"
        "rows:\n  - plain: {rows: 25, stitches: 23, yarn: sand}\n"
    ).piece
    root = tree(handed(piece, "chart"))
    [sheet] = sheets(root)
    thin, tenth = (one.get("d", "") for one in every(next(every(root, "svg", "chart")), "path", "line"))
    high = sheet.size[1] / sheet.size[0] * 10
    # 23 stitches: the tenth from the right has 13 at its left, so the lines lie at x = 130 and 30.
    assert sorted(float(x) for x in re.findall(r"M([0-9.]+) [0-9.]+V", tenth)) == [30, 130]
    assert sorted(float(y) / high for y in re.findall(r"M0 ([0-9.]+)H", tenth)) == pytest.approx([5, 15], abs=0.01)
    assert len(re.findall("V", thin)) == 24
    assert len(re.findall("H", thin)) == 26


def test_heavy_lines_run_where_yarns_meet_and_round_the_fabric_alone() -> None:
    root = tree(handed(charted("sssss", "sbbss", "sssss").piece, "chart"))
    [sheet] = sheets(root)
    [contour] = (one.get("d", "") for one in every(root, "path", "contour"))
    high = sheet.size[1] / sheet.size[0] * 10
    upright = {
        (float(x), round(float(a) / high), round(float(b) / high))
        for x, a, b in re.findall(r"M([0-9.]+) ([0-9.]+)V([0-9.]+)", contour)
    }
    across = {
        (round(float(y) / high), float(a), float(b))
        for a, y, b in re.findall(r"M([0-9.]+) ([0-9.]+)H([0-9.]+)", contour)
    }
    assert upright == {(0, 0, 3), (50, 0, 3), (10, 1, 2), (30, 1, 2)}
    assert across == {(0, 0, 50), (3, 0, 50), (1, 10, 30), (2, 10, 30)}


def test_a_heavy_line_runs_where_strands_meet_in_a_run_and_its_meaning_is_told_there_alone() -> None:
    """In rows 3 and 4 strands meet after column 3 (``tests/knitting/hands/test_steps_of_shared_runs.py``)."""
    piece = charted("ssbss", "ssbss", "sssss", "sssss", "ssbss", "ssbss").piece
    meant, uprights = "A heavy line within a colour: there one strand takes over from the other.", []
    for share in (True, False):
        root = tree(handed(replace(piece, carry=Carry(1, share_runs=share)), "chart"))
        [sheet] = sheets(root)
        high = sheet.size[1] / sheet.size[0] * 10
        [contour] = (one.get("d", "") for one in every(root, "path", "contour"))
        uprights.append({
            (float(x), round(float(a) / high), round(float(b) / high))
            for x, a, b in re.findall(r"M([0-9.]+) ([0-9.]+)V([0-9.]+)", contour)
        })  # fmt: skip
        assert (meant in text_of(root)) == share
    assert uprights[0] - uprights[1] == {(20, 2, 3), (20, 3, 4)}


def test_at_a_cut_nothing_ends() -> None:
    piece = read(
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\nsymbols: {s: sand}\n"
        "rows:\n  - plain: {rows: 4, stitches: 50, yarn: sand}\n"
    ).piece
    root = tree(handed(piece, "chart"))
    right, left = (one.get("d", "") for one in every(root, "path", "contour"))
    assert [float(x) for x in re.findall(r"M([0-9.]+) [0-9.]+V", right)] == [260]  # the right edge alone
    assert [float(x) for x in re.findall(r"M([0-9.]+) [0-9.]+V", left)] == [0]


def test_purl_bumps_have_a_bar_and_what_is_sewn_over_a_ring() -> None:
    symbols = "s: sand, g: {yarn: sand, stitch: garter}, w: {yarn: sand, sewn: brick}"
    root = tree(handed(charted("sgg", "sgw", symbols=symbols).piece, "chart"))
    strokes = [one.get("d", "") for one in every(root, "path") if one.get("stroke")]
    assert len(strokes) == 2
    # Garter: its wrong-side row shows purl bumps on the right side, its right-side row does not.
    assert re.findall(r"M([0-9]+) ([0-9.]+)h4", strokes[0]) == [("13", "6.5"), ("23", "6.5")]
    assert strokes[1].count("M") == 1
    said = text_of(next(every(root, "p", "how")))
    assert "A bar below the letter: purl on right-side rows, knit on wrong-side rows" in said
    assert "A ring: another yarn is sewn on there afterwards, in duplicate stitch." in said
    plain = text_of(next(every(tree(handed(charted("ss", "sb").piece, "chart")), "p", "how")))
    assert "bar" not in plain
    assert "ring:" not in plain
    assert "no stitch" not in plain


def test_above_the_last_rows_of_parts_it_is_said_where_they_are_joined_and_what_divides_again() -> None:
    keys = "- {chart: 5s, opening: {first: left, at: 2, rows: 1}}\n  "
    piece = read(
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\nsymbols: {s: sand}\n"
        f"rows:\n  - chart: 5s\n  {keys}- chart: 5s\n  {keys}- chart: 5s\n"
    ).piece
    found = sheets(tree(handed(piece, "chart")))
    assert [[note for note in sheet.notes if "sheet" in note] for sheet in found] == [
        ["the left part goes on on sheet 2; the right part goes on on sheet 3"],
        ["joined to the other part on sheet 4"], ["joined to the other part on sheet 4"],
        ["the left part goes on on sheet 5; the right part goes on on sheet 6"],
        ["joined to the other part on sheet 7"], ["joined to the other part on sheet 7"], [],
    ]  # fmt: skip
    assert [row for sheet in (found[3], found[6]) for row in {**sheet.left, **sheet.right}.values()] == [3, 5]


def test_rows_that_are_asked_for_are_those_of_the_chart() -> None:
    piece = charted("sssss", "sbbss", "ssbbs", "sssss").piece
    [sheet] = sheets(tree(handed(piece, "chart", first=1, last=2)))
    assert {**sheet.left, **sheet.right} == {0: 2, 1: 3}
    assert "rows 2 to 3" in sheet.title


def test_a_chart_of_too_many_sheets_is_refused_in_one_sentence() -> None:
    piece = read(
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\nsymbols: {s: sand}\n"
        "rows:\n  - plain: {rows: 4000, stitches: 900, yarn: sand}\n"
    ).piece
    with pytest.raises(Problems) as found:
        handed(piece, "chart")
    [problem] = found.value.problems
    # By the room that is left on a sheet: 34 stitches across, so 29 sheets, and 62 rows, so 67.
    assert problem.what == "The chart takes 1,943 sheets of paper, and a hand-out has 400 at most."
    assert problem.mend == "Print some of the rows: --rows 1-200"
