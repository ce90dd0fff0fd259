"""Hand-outs of pieces in work, of many yarns, of odd gauges, for left hands: what the others do not come upon."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from on_paper import every, handed, not_begun, sheets, text_of, tree
from plan.plans import charted, read

from companion.commands.given import read_plan
from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.rows import Casting
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.steps import BindOff, Wash
from companion.knitting.strands.limits import Carry
from companion.knitting.words import US
from companion.knitting.words.paper import abbreviations_in
from companion.pages.hand_out.page import page
from companion.pages.hand_out.request import HandOut
from companion.pages.hand_out.tiling import tiled

HEAD = "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\n"
WIDE = (
    f"{HEAD}yarns: {{sand: {{colour: tan}}}}\nsymbols: {{s: sand}}\n"
    "rows:\n  - plain: {rows: 4, stitches: 50, yarn: sand}\n"
)


def test_sheets_come_in_the_order_in_which_they_are_knitted_by_either_hand() -> None:
    piece = read(WIDE).piece
    right, left = sheets(tree(handed(piece, "chart")))
    assert (right.columns[-1], left.columns[0]) == (1, 50)
    first, second = sheets(tree(handed(piece.for_hands(is_mirrored=True), "chart")))
    assert (first.columns[0], second.columns[-1]) == (1, 50)


def test_more_yarns_than_a_sheet_has_room_for_have_their_key_before_the_chart() -> None:
    letters = "abcdefghijklmnopqrstuvwxyz"
    yarns = "".join(f"  y{letter}: {{colour: tan}}\n" for letter in letters)
    symbols = "".join(f"  '{letter}': y{letter}\n" for letter in letters)
    text = f"{HEAD}yarns:\n{yarns}symbols:\n{symbols}rows:\n  - chart: |\n      {letters}\n"
    root = tree(handed(read(text).piece, "chart"))
    [key] = every(root, "ul", "key")
    assert [text_of(one) for one in key] == [f"{letter} y{letter}" for letter in letters]
    assert text_of(next(every(root, "h1"))) == "The letters of the chart"
    assert not list(every(next(every(root, "section", "sheet")), "ul"))


def test_of_a_piece_that_is_bound_off_what_is_done_is_ticked() -> None:
    symbols = "s: sand, b: brick, w: {yarn: sand, sewn: brick}"
    begun = not_begun(charted("sssss", "sbbsw", "sssss", symbols=symbols).piece)
    ends = ends_of(begun.strands)
    parts = ("rows", "back", "finishing")
    session = begun.changed(row=2, done=1, finished=frozenset({BindOff}), woven=frozenset(ends[:2]))
    root = tree("".join(page(HandOut(session, US, parts))))
    rows, steps, area = every(root, "ol", "boxes")
    assert [one.get("class") for one in rows] == ["done"] * 3
    assert [one.get("class") for one in steps] == ["done", "to-do", "to-do", "to-do", "to-do"]
    assert [one.get("class") for one in area] == ["to-do"]
    [listed] = every(root, "ol", "ends")
    assert [one.get("class") for one in listed] == ["done", "done", *["to-do"] * (len(ends) - 2)]
    done = session.changed(woven=frozenset(ends), sewn=frozenset({Cell(1, 1)}), finished=frozenset({BindOff, Wash}))
    _, steps, area = every(tree("".join(page(HandOut(done, US, parts)))), "ol", "boxes")
    assert [one.get("class") for one in steps] == ["done", "done", "done", "done", "to-do"]
    assert [one.get("class") for one in area] == ["done"]


def test_of_some_rows_those_that_are_worked_are_ticked_and_a_cast_on_with_them() -> None:
    session = not_begun(read_plan("swatch").piece).changed(row=4, done=1)
    [boxes] = every(tree("".join(page(HandOut(session, US, ("rows",), first=2, last=6)))), "ol", "boxes")
    assert [one.get("class") for one in boxes] == ["done", "done", "to-do", "to-do", "to-do"]
    each = replace(charted("ssbb", "ssbb").piece, cast_on=Casting(is_each=True))
    session = not_begun(each).changed(row=0, done=2)
    [boxes] = every(tree("".join(page(HandOut(session, US, ("rows",))))), "ol", "boxes")
    assert [text_of(one)[:7] for one in boxes] == ["Cast on", "Row 1 (", "Row 2 ("]
    assert [one.get("class") for one in boxes] == ["done", "done", "to-do"]


def test_a_piece_that_is_not_begun_is_nowhere_yet() -> None:
    assert "Where the piece is now" not in handed(read(WIDE).piece)


def test_a_map_too_crowded_for_its_margins_is_cut_until_every_number_has_room() -> None:
    piece = replace(charted(*["sb" * 7, "bs" * 7] * 4).piece, carry=Carry(0))
    root = tree(handed(piece, "back"))
    ends = len(ends_of(not_begun(piece).strands))
    maps = list(every(root, "svg", "map"))
    assert (ends, len(maps)) == (224, 2)
    assert {int(text_of(one)) for one in every(root, "text", "number")} == set(range(1, ends + 1))
    for drawn in maps:
        tags = [[float(one.get(what, "")) for what in ("x", "y", "width")] for one in every(drawn, "rect", "tag")]
        led = sorted(y for x, y, _ in tags if x < -2)
        assert led
        assert all(after - before > 2.5 for before, after in pairwise(led))


def test_a_map_of_few_rows_with_many_ends_is_cut_across_so_that_no_two_numbers_touch() -> None:
    piece = replace(charted(*["sb" * 40, "bs" * 40] * 2).piece, carry=Carry(0))
    root = tree(handed(piece, "back"))
    ends = len(ends_of(not_begun(piece).strands))
    assert ends > 600, "more than two margins of a sheet have room for"
    assert {int(text_of(one)) for one in every(root, "text", "number")} == set(range(1, ends + 1))
    for drawn in every(root, "svg", "map"):
        sizes = ("x", "y", "width", "height")
        boxes = [[float(one.get(what, "")) for what in sizes] for one in every(drawn, "rect", "tag")]
        for (x, y, wide, high), (other_x, other_y, _, _) in combinations(sorted(boxes), 2):
            assert other_x > x + wide - 0.01 or abs(other_y - y) > high - 0.01, (x, y)
        left, top, wide, high = map(float, drawn.get("viewBox", "").split())
        for x, y, *size in boxes:
            assert left <= x <= left + wide - size[0]
            assert top <= y <= top + high - size[1], "none is above or below the map"


def test_on_every_sheet_of_a_map_letters_lie_on_the_cloth() -> None:
    piece = replace(charted(*["s" * 200 + "b" * 20 + "s" * 200] * 4).piece, carry=Carry(0))
    drawn = list(every(tree(handed(piece, "back")), "svg", "map"))
    assert len(drawn) == 3
    for sheet in drawn:
        left, _, wide, _ = map(float, sheet.get("viewBox", "").split())
        [letters] = every(sheet, "g", "letters")
        assert all(0 < float(one.get("x", "")) < wide + 2 * left for one in every(letters, "text"))


def test_the_picture_takes_no_more_room_than_it_may() -> None:
    for text in (WIDE, WIDE.replace("rows: 4, stitches: 50", "rows: 90, stitches: 8")):
        [picture] = every(tree(handed(read(text).piece, "title")), "img")
        # 96 pixels of a page to an inch (CSS Values and Units).
        wide, high = (int(picture.get(name, "")) / 96 * 25.4 for name in ("width", "height"))
        assert wide < 130.5
        assert high < 95.5
        assert max(wide / 130, high / 95) > 0.98
        assert picture.get("alt") == "Quay: how its right side will look."


@pytest.mark.parametrize("ratio", [0.01, 0.4, 0.7, 1.4, 3, 100])
def test_squares_of_every_gauge_have_room_for_a_letter(ratio: float) -> None:
    square, across, up = tiled(100, 100, ratio, 164, 210)
    assert square.wide >= 2.99
    assert square.high >= 3.39
    for cut in across:
        assert (cut.stop - cut.first) * square.wide <= 164.01
    for cut in up:
        assert (cut.stop - cut.first) * square.high <= 210.01


def test_needles_for_a_tube_are_told_as_such() -> None:
    assert "no longer than the piece is around" in handed(read_plan("breakwater-cowl").piece, "title")
    assert "weight of wide flat work" in handed(read_plan("swatch").piece, "title")


def test_where_no_square_is_drawn_that_is_said() -> None:
    [first, *_, last] = every(tree(handed(read_plan("ferry-jumper-front").piece, "chart")), "p", "how")
    assert "Where no square is drawn there is no stitch." in text_of(last)
    assert "no square" not in text_of(first)


def test_abbreviations_are_found_in_what_is_written_and_nowhere_else() -> None:
    found = dict(abbreviations_in(["Row 3 (WS): with shell p2, m1R purlwise, p4. (7 sts)"]))
    assert found == {
        "WS": "wrong side", "sts": "stitches", "p": "purl", "m1R": "make one right",
        "m1R purlwise": "make one right, purlwise",
    }  # fmt: skip
    assert dict(abbreviations_in(["sl1 purlwise, k9"])) == {"sl": "slip", "k": "knit"}
