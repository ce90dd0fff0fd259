"""The drawing board without a screen: what keys do to the drawing in the file. Every drawing is drawn by hand."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from at_the_easel import BLANK, SAIL, Easel, plan, selected, with_a_slit

from companion.board.board import Board
from companion.dialogue.deed import key_words
from companion.dialogue.deeds import DEEDS, deeds_of
from companion.dialogue.finding import Finding
from companion.dialogue.knitter import Knitter
from companion.dialogue.painting import Painting
from companion.dialogue.painting_keys import PAINTING_GROUPS, keys_at_the_board, painting_deeds
from companion.dialogue.painting_parts import Box
from companion.knitting.cloth.areas import Cell
from companion.settings import KEYS, Settings


def test_a_stitch_is_painted_where_the_cursor_was_moved_and_saved_at_once(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("left", "2", "space")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssssss", "ssssssss", "ssssssis")
    assert easel.painting.told == "Row 2, stitch 2: ink"


def test_it_begins_at_the_lowest_stitch_at_the_right_that_can_be_painted(tmp_path: Path) -> None:
    """Where the chart draws an outline its corner may be no stitch."""
    easel = Easel(tmp_path, ("ssssss..", "ssssss..", "ssssss..", "ssssss..", "ssssss.."))
    assert easel.painting.told == "Row 2, stitch 3: sand"
    easel.press("2", "space")
    assert easel.chart[-1] == "sssssi.."


def test_the_pen_paints_where_it_is_put_down_and_all_that_is_passed_until_it_is_up(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("3", "p", "left", "up", "shift+left", "p", "up")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssssss", "bbbbbbbs", "ssssssbb")
    easel.press("right", "p", "l", "right", "right", "escape")
    assert easel.chart[2] == "sbssssss", "not while a tool is in hand"


@pytest.mark.parametrize(
    ("tool", "wanted"),
    [
        ("l", ("ssssssss", "siisssss", "sssiisss", "sssssiis", "ssssssss")),
        ("b", ("ssssssss", "siiiiiis", "sissssis", "siiiiiis", "ssssssss")),
        ("a", ("ssssssss", "siiiiiis", "siiiiiis", "siiiiiis", "ssssssss")),
    ],
)
def test_a_line_and_boxes_go_from_where_they_were_begun_to_where_paint_is_pressed(
    tmp_path: Path, tool: str, wanted: tuple[str, ...]
) -> None:
    easel = Easel(tmp_path)
    easel.press("up", "left", "2", tool, *["left"] * 5, "up", "up")
    assert easel.chart == BLANK, "nothing is painted before it is ended"
    assert set(easel.painting.over.values()) == {"ink"}
    easel.press("space")
    assert easel.chart == wanted
    assert not easel.painting.is_in_hand
    easel.press("u")
    assert easel.chart == BLANK


def test_a_tool_that_is_pressed_again_ends_there_and_one_let_go_paints_nothing(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2", "l", "left", "left", "l", "up", "l", "left", "escape", "space")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssssss", "ssssisss", "sssssiii")


def test_fill_takes_the_stitches_that_hang_together_and_no_plain_row_below_them(tmp_path: Path) -> None:
    easel = Easel(tmp_path, ("ssssssss", "siiiisss", "sississs", "siiiisss", "ssssssss"))
    easel.press(*["up"] * 2, *["left"] * 4, "3", "f", "space")
    assert easel.chart == ("ssssssss", "siiiisss", "sibbisss", "siiiisss", "ssssssss")
    easel.press("u", "f", *["right"] * 4, "space")
    assert easel.chart == ("bbbbbbbb", "biiiibbb", "bissibbb", "biiiibbb", "bbbbbbbb")
    assert easel.painting.notice == (
        "8 stitches stay as they were: These are plain rows: a chart in their place can be painted (line 7). "
        "A new plan without a border can be painted all over."
    )


def test_what_is_copied_is_pasted_where_it_is_set_down(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("c", "v", "left", "left")
    assert easel.chart == SAIL
    easel.press("space")
    assert easel.chart == ("ssisssss", "siisssss", "iiisssis", "sssssiis", "ssssiiis")
    assert easel.painting.hand == "Pen up, 3 x 3 selected"
    assert easel.painting.parts.selected == Box(1, 3, 2, 4), "what was copied, not the copy"


def test_what_cannot_be_saved_where_it_is_set_down_stays_in_hand(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    easel = selected(tmp_path)
    easel.press("m", "left")
    with monkeypatch.context() as full:
        full.setattr(os, "replace", _no_room)
        easel.press("space")
    assert easel.chart == SAIL
    assert easel.painting.notice == "This cannot be saved, and is not drawn: No space left on device."
    assert easel.painting.parts.floating
    easel.press("space")
    assert easel.chart == ("ssssssss", "ssssssss", "sssssiss", "ssssiiss", "sssiiiss")


def test_looking_at_the_file_saves_the_last_stroke_or_says_why_it_cannot_be(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    easel = Easel(tmp_path)
    easel.painting.paint({Cell(1, 1): "ink"})
    with monkeypatch.context() as full:
        full.setattr(os, "replace", _no_room)
        assert easel.painting.look()
    assert easel.painting.notice == "This cannot be saved, and is not drawn: No space left on device."
    easel.painting.paint({Cell(1, 1): "ink"})
    assert not easel.painting.look()
    assert easel.chart == (*BLANK[:4], "sssssssi")


def _no_room(*_: object) -> None:
    raise OSError(28, "No space left on device")


def test_what_is_moved_leaves_the_yarn_around_it_and_stays_selected(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("3", "m", *["left"] * 3, "space")
    assert easel.chart == ("ssssssss", "ssssssss", "sssissss", "ssiissss", "siiissss")
    easel.press("m", "right", "space")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssisss", "sssiisss", "ssiiisss")


def test_what_is_cut_can_be_pasted_and_its_place_has_the_yarn_around_it(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("3", "x")
    assert easel.chart == BLANK
    easel.press("v", "right", "right", "right", "space")
    assert easel.chart == ("sssssssi", "ssssssii", "sssssiii", "ssssssss", "ssssssss")


def test_where_the_yarn_around_what_is_cut_has_no_sign_its_place_has_the_yarn_in_hand(tmp_path: Path) -> None:
    easel = Easel(tmp_path, SAIL)
    text = easel.file.read_text(encoding="utf-8").replace("brown}}", "brown}, fog: {colour: gray}}")
    easel.file.write_text(text.replace("rows: 1, yarn: sand", "rows: 1, yarn: fog"), encoding="utf-8")
    easel.painting.look()
    easel.press("s", *["left"] * 7, *["up"] * 4, "space", "3", "x")
    assert easel.chart == ("bbbbbbbb",) * 5


def test_beside_and_above_an_opening_what_is_selected_is_what_is_seen(tmp_path: Path) -> None:
    """The left side of the slit is worked after all of the right one, in rows 7 to 10 from 1; rows above follow."""
    easel = with_a_slit(tmp_path)
    easel.press(*["up"] * 2, *["left"] * 5, "s", "left", "up", "space", "c", "v")
    floating = easel.painting.parts.floating
    assert floating is not None
    assert floating.rows == (("ink", "ink"), ("ink", "ink"))
    easel.press("escape", "s", *["up"] * 3, "right", "space")
    assert set(easel.painting.parts.rows) == {7, 8, 9, 10}
    easel.press("escape", "s", "space")
    assert easel.painting.parts.rows == [10]


def test_mirrored_upside_down_and_repeated_parts_are_shown_before_they_are_set_down(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("h")
    assert easel.chart == SAIL
    easel.press("space")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssisss", "ssssiiss", "ssssiiis")
    easel.press("j", "space")
    assert easel.chart == ("ssssssss", "ssssssss", "ssssiiis", "ssssiiss", "ssssisss")
    easel.press("r", "right", "space", answers=["2", "1"])
    assert easel.chart == ("ssssssss", "ssssssss", "ssiiiiii", "ssiisiis", "ssississ")


def test_where_a_part_was_taken_from_no_more_than_it_is_painted_over_however_often_it_is_repeated(
    tmp_path: Path
) -> None:
    easel = Easel(tmp_path, (*BLANK[:4], "sssssiii"))
    easel.press("s", "space", "m", "r", "up", "space", answers=["3", "1"])
    assert easel.chart == (*BLANK[:3], "sssssiii", "sssssiis")


def test_a_part_is_repeated_no_further_than_the_chart_goes(tmp_path: Path) -> None:
    """Forty thousand copies of a part, and of those again as many, are more than a computer has room for."""
    easel = selected(tmp_path)
    for _ in range(3):
        easel.press("r", answers=["200", "200"])
    floating = easel.painting.parts.floating
    assert floating is not None
    assert (floating.wide, floating.high) == (9, 6)
    assert max(cell.column for cell in easel.painting.over) == 8
    easel.press("space")
    assert easel.chart == ("isiisiis", "iiiiiiis", "ississis", "isiisiis", "iiiiiiis")


def test_of_words_that_are_longer_than_the_chart_only_what_lies_on_it_is_laid(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("t", answers=["PIER " * 300])
    assert {cell.column for cell in easel.painting.over} <= set(range(1, 9))


def test_without_a_selection_it_is_said_that_something_must_be_selected(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    for key in ("c", "x", "m", "h", "j", "r"):
        easel.press(key)
        assert easel.painting.notice == "Nothing is selected: select a part of the chart first.", key
    easel.press("v")
    assert easel.painting.notice == "Nothing was copied: select a part of the chart and copy it first."


def test_undo_goes_back_to_the_first_byte_and_redo_to_the_last(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2", "p", "left", "left", "p", "a", "up", "left", "space")
    done = easel.chart
    easel.press(*["u"] * 4)
    assert easel.file.read_text(encoding="utf-8") == plan()
    easel.press("u")
    assert easel.painting.notice == "There is no stroke to take back."
    easel.press(*["w"] * 4)
    assert easel.chart == done != BLANK
    easel.press("w")
    assert easel.painting.notice == "Nothing was taken back."


def test_rows_and_columns_come_and_go_where_the_cursor_is(tmp_path: Path) -> None:
    easel = Easel(tmp_path, SAIL)
    easel.press("up", "i", answers=[0, "2"])
    assert easel.chart == (*SAIL[:3], "sssssiis", *SAIL[3:4] * 2, SAIL[4])
    easel.press("d", answers=[0])
    assert easel.chart == (*SAIL[:3], *SAIL[3:4] * 2, SAIL[4])
    assert [head.number for head in easel.painting.heads] == [1, 2, 3, 4, 5, 6, 7]
    easel.press("s", "up", "left", "space", "d", answers=[0])
    assert easel.chart == (*SAIL[:3], SAIL[4])
    assert easel.painting.parts.selected is None
    easel = Easel(tmp_path, SAIL)
    easel.press("s", "left", "left", "space", "d", answers=[1])
    assert easel.chart == ("sssss", "sssss", "sssss", "sssss", "ssssi")


def test_text_is_written_in_the_yarn_in_hand_and_what_cannot_be_is_told(tmp_path: Path) -> None:
    easel = Easel(tmp_path, ("s" * 8,) * 12)
    easel.press("2", "t", answers=["i"])
    floating = easel.painting.parts.floating
    assert floating is not None
    assert floating.wide == 2, "strokes are two stitches wide"
    easel.press("space")
    assert easel.chart == (*("ssssssss",) * (12 - floating.high), *("ssssssii",) * floating.high)
    easel.press("t", answers=["%"])
    assert easel.said[0] == "This cannot be done"
    assert "has no sign for" in easel.said[1]


def test_the_chart_of_another_plan_in_the_folder_is_a_motif(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    (tmp_path / "boat.yaml").write_text(plan(("iib",)).replace("plain: {rows: 1, ", "plain: {rows: 1, stitches: 3, "))
    easel.press("o", "space", answers=[0])
    assert easel.chart == ("ssssssss", "ssssssss", "ssssssss", "sssssiib", "ssssssss")
    (tmp_path / "anchor.txt").write_text("bb.\n.b.\n", encoding="utf-8")
    easel.press("up", "o", "space", answers=[1])
    assert easel.chart == ("ssssssss", "ssssssss", "sssssbbs", "sssssibb", "ssssssss")
    easel.press("up", "o", "space", answers=[2, "no such.yaml", "anchor.txt"])  # asked for again
    assert "is not there" in easel.said[1]
    assert easel.chart == ("ssssssss", "sssssbbs", "sssssbbs", "sssssibb", "ssssssss")
    easel.press("o", answers=[2, "no such.yaml", ""])
    assert easel.painting.parts.floating is None


def test_where_no_other_chart_lies_in_the_folder_a_motif_is_asked_for_by_its_name_at_once(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "anchor.txt").write_text("bb\n", encoding="utf-8")
    easel = Easel(tmp_path)
    easel.press("o", "space", answers=["elsewhere/anchor.txt"])
    assert easel.chart[-1] == "ssssssbb"


def test_a_stitch_that_shows_another_yarn_sewn_over_it_is_among_those_that_stay(tmp_path: Path) -> None:
    """The lower chart is repeated, so that no stitch of it can be painted by itself."""
    easel = Easel(tmp_path)
    text = easel.file.read_text(encoding="utf-8").replace("b: brick}", "b: brick, x: {yarn: sand, sewn: ink}}")
    below = "  - chart: sxssssss\n    repeat: 2\n"
    easel.file.write_text(text.replace("  - plain: {rows: 1, yarn: sand}\n", below), encoding="utf-8")
    board = Board(easel.file)
    stroke = board.paint([Cell(row, column) for row in (0, 2) for column in (7, 8)], "sand")
    assert (stroke.cells, stroke.left) == (frozenset(), 1)


def test_a_line_a_box_or_an_area_that_is_in_the_yarn_already_says_so(tmp_path: Path) -> None:
    easel = Easel(tmp_path, SAIL)
    easel.press("1", "f", "space")
    assert easel.painting.notice == "All of this is in sand already."
    easel.press("2", "f", "space")
    assert easel.painting.notice.startswith("8 stitches stay as they were: These are plain rows")
    easel.press("b", "up", "space")
    assert easel.painting.notice == "All of this is in ink already."
    easel.press("pagedown", "1", "l", "left", "space")
    assert easel.painting.notice.startswith("These are plain rows"), "none of these can be painted"


def test_a_stitch_of_a_plain_row_says_why_it_cannot_be_painted_and_where_it_is_changed(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("down", "2", "space")
    assert easel.chart == BLANK
    assert easel.painting.notice.startswith("These are plain rows: a chart in their place can be painted (line 7).")
    assert easel.painting.costs == {}
    easel.press("y")
    assert easel.said[0] == "Row 1, stitch 1: sand"
    assert "pier.yaml:7" in easel.said[1]


def test_stitches_are_counted_from_the_left_by_one_who_works_mirrored(tmp_path: Path) -> None:
    easel = Easel(tmp_path, knitter=Knitter(Settings(hands="left")))
    easel.press("left")
    assert easel.painting.told == "Row 2, stitch 7: sand"
    assert [head.starts_right for head in easel.painting.heads] == [False, True] * 3


def test_a_yarn_is_picked_by_number_from_the_list_in_turn_and_from_the_chart(tmp_path: Path) -> None:
    easel = Easel(tmp_path, SAIL)
    assert easel.painting.yarn == "ink", "the first one that shows"
    easel.press("1", "comma")
    assert easel.painting.yarn == "brick"
    easel.press("full_stop", "0", answers=[2])
    assert easel.painting.yarn == "brick"
    easel.press("up", "left", "k")
    assert easel.painting.yarn == "ink"
    easel.press("9")
    assert easel.painting.yarn == "ink", "there is no ninth"


def test_what_was_left_out_of_a_stroke_is_counted(tmp_path: Path) -> None:
    easel = Easel(tmp_path)
    easel.press("2", "l", "down", "space")
    assert easel.chart == (*BLANK[:4], "sssssssi")
    assert easel.painting.notice.startswith("1 stitch stays as it was: These are plain rows")


def test_numbers_that_make_no_sense_are_one_and_one_that_is_not_said_does_nothing(tmp_path: Path) -> None:
    easel = selected(tmp_path)
    easel.press("r", answers=["", "0"])
    floating = easel.painting.parts.floating
    assert floating is not None
    assert (floating.wide, floating.high) == (3, 3)
    easel.press("r", answers=["2", None])
    assert easel.painting.parts.floating == floating


# The table


def test_every_deed_of_the_board_has_keys_of_its_own_that_are_keys_and_a_place_in_help() -> None:
    deeds = deeds_of("drawing")
    keys = [key for deed in deeds for key in deed.keys]
    assert len(keys) == len(set(keys))
    assert {key.rpartition("+")[2] for key in keys} <= KEYS
    grouped = [name for names in PAINTING_GROUPS.values() for name in names]
    assert sorted(grouped) == sorted(deed.name for deed in deeds)
    finding = Finding("drawing", painting_deeds(DEEDS, 3), PAINTING_GROUPS)
    finding.fill()
    told = [row[0].text for row in finding.table.rows if not isinstance(row, str)]
    assert "3" in told
    assert "4" not in told, "there are three yarns"
    assert key_words(("u", "ctrl+z")) in told


def test_the_keys_on_the_screen_follow_what_is_in_hand(tmp_path: Path) -> None:
    def told(painting: Painting) -> dict[str, str]:
        return {each.keys[0][1]: each.word for each in keys_at_the_board(painting)}

    easel = selected(tmp_path)
    assert told(easel.painting)["paint"] == "paint"
    easel.press("escape")
    assert {"let_go", "copy", "move"} & told(easel.painting).keys() == set()
    easel.press("l")
    assert told(easel.painting)["paint"] == "to here"
    easel.press("f")
    assert told(easel.painting)["paint"] == "fill"
    easel.press("escape", "s", "up", "space", "c", "v")
    assert told(easel.painting)["paint"] == "set down"
    assert "let_go" in told(easel.painting)
    easel.press("q")
    assert easel.is_left
