"""A line of the drawing board's chart: what stands in it, where a stitch is found again, how its foot is numbered."""

from __future__ import annotations

from rich.style import Style

from companion.knitting.cloth.fabric import FabricRow, Run, Stitch, Yarn
from companion.screens.canvas_lines import (
    PLAIN,
    Frame,
    RowLooks,
    following,
    foot,
    halved,
    lettered,
    numbered,
    showing,
    within,
)
from companion.screens.flowing import Line

YARNS = {"sand": Yarn("sand", "#e0c090", "s"), "ink": Yarn("ink", "#101020", "i")}
SAND, INK = Stitch("sand"), Stitch("ink")
ROW = FabricRow((Run(3, SAND), Run(2, INK), Run(1, None)))
"""From the right: three of sand, two of ink, no stitch."""


def text(line: Line) -> str:
    return "".join(part for part, _ in line)


def style_at(line: Line, at: int) -> Style:
    """How the cell at a place of a line is shown."""
    for part, style in line:
        if at < len(part):
            assert isinstance(style, Style)
            return style
        at -= len(part)
    raise IndexError(at)


def frame(columns: int, across: int = 6, right: int = 1) -> Frame:
    return Frame(0, right, across, 4, columns, 3, has_foot=True)


def test_stitches_stand_from_right_to_left_as_wide_as_they_are_wanted() -> None:
    assert text(lettered(YARNS, ROW, PLAIN, frame(1))) == "·iisss"
    assert text(lettered(YARNS, ROW, PLAIN, frame(2))) == "· i i s s s "
    assert text(lettered(YARNS, ROW, PLAIN, frame(3))) == " ·  i  i  s  s  s "
    assert text(lettered(YARNS, ROW, PLAIN, frame(1, across=3, right=3))) == "iis"


def test_the_cursor_is_marked_by_signs_and_a_mark_by_its_own_so_that_nothing_hangs_on_colour() -> None:
    looks = RowLooks({}, frozenset({4}), (0, 0), 2)
    assert text(lettered(YARNS, ROW, looks, frame(3))) == " ·  i  !  s [s] s "
    assert text(lettered(YARNS, ROW, looks, frame(2))) == "· i ! s >ss "
    one = lettered(YARNS, ROW, looks, frame(1))
    assert text(one) == "·i!sss"
    assert [bool(style_at(one, at).reverse) for at in (3, 4, 5)] == [False, True, False]
    assert style_at(one, 2).bold


def test_what_is_not_set_down_is_underlined_in_its_yarn_and_what_is_selected_reversed() -> None:
    line = lettered(YARNS, ROW, RowLooks({1: "ink", 4: "sand"}, frozenset({4}), (2, 3), 0), frame(1))
    assert text(line) == "·isssi"
    assert [bool(style_at(line, at).underline) for at in range(1, 6)] == [False, True, False, False, True]
    assert [bool(style_at(line, at).reverse) for at in range(1, 6)] == [False, False, True, True, False]
    assert style_at(line, 5).bgcolor == Style(bgcolor="#101020").bgcolor
    inside = lettered(YARNS, ROW, RowLooks(selected=(1, 3), cursor=2), frame(1))
    assert [bool(style_at(inside, at).reverse) for at in (3, 4, 5)] == [True, False, True]


def test_two_rows_share_a_line_in_half_blocks_and_the_cursor_stands_out_in_its_half() -> None:
    other = FabricRow((Run(6, INK),))
    line = halved(YARNS, [other, ROW], [PLAIN, PLAIN], frame(0))
    assert text(line) == "▀▀▀▀▀▀"
    assert style_at(line, 5) == Style(color="#101020", bgcolor="#e0c090")
    assert style_at(line, 0) == Style(color="#101020"), "below it there is no stitch"
    alone = halved(YARNS, [None, ROW], [PLAIN, PLAIN], frame(0))
    assert text(alone) == " ▄▄▄▄▄"
    here = halved(YARNS, [other, ROW], [RowLooks(cursor=2), RowLooks(cursor=4)], frame(0))
    assert style_at(here, 4) == Style(color="#ffffff", bgcolor="#e0c090")
    assert style_at(here, 2) == Style(color="#101020", bgcolor="#ffffff")
    chosen = halved(YARNS, [other, ROW], [RowLooks(selected=(1, 2)), PLAIN], frame(0))
    assert style_at(chosen, 5) == Style(color="#484850", bgcolor="#e0c090"), "half way to a middle grey"
    assert style_at(chosen, 3) == Style(color="#101020", bgcolor="#e0c090")
    assert text(halved(YARNS, [other, ROW], [RowLooks(marked=frozenset({1})), PLAIN], frame(0))) == "▀▀▀▀▀!"


def test_every_cell_of_the_terminal_leads_back_to_the_stitch_that_is_drawn_there() -> None:
    for columns in (1, 2, 3):
        seen = frame(columns, across=4, right=5)._replace(low=10)
        found = [seen.cells_at(3 + at * columns + part, 1) for at in range(4) for part in range(columns)]
        assert found == [[(12, column)] for column in (8, 7, 6, 5) for _ in range(columns)]
        assert seen.cells_at(2, 1) == seen.cells_at(3 + 4 * columns, 1) == seen.cells_at(3, 4) == []
    halves = frame(0)._replace(up=3)
    assert halves.levels == [(-1, 2), (1, 0)]
    assert halves.cells_at(3, 0) == [(2, 6)]
    assert halves.cells_at(8, 1) == [(1, 1), (0, 1)]


def test_a_row_has_its_number_where_it_starts_and_an_arrow_under_the_cursor() -> None:
    assert text(numbered([("xx", "")], 7, True, False, 3)) == "   xx 7 "
    assert text(numbered([("xx", "")], 7, True, True, 3)) == "   xx◀7 "
    assert text(numbered([("xx", "")], 8, False, True, 3)) == " 8▶xx   "
    assert text(numbered([("xx", "")], 8, False, True, 0)) == "xx"


def test_the_foot_has_tens_and_the_cursors_own_number_which_is_never_run_into() -> None:
    wide = frame(1, across=25)
    assert text(foot(wide, 25, 3, is_mirrored=False)) == "       20        10      3  "
    assert text(foot(wide, 25, 11, is_mirrored=False)) == "       20       11          "
    assert text(foot(wide, 25, 3, is_mirrored=True)) == "           10           23  "


def test_what_is_seen_stays_until_the_stitch_that_is_meant_lies_outside_and_then_has_it_in_the_middle() -> None:
    seen = frame(2, across=10)._replace(up=8)
    for row, column in ((5, 3), (12, 12)):
        assert following(seen, (5, 3), (row, column)) == (5, 3)
    assert following(seen, (5, 3), (13, 13)) == (9, 8)
    assert following(seen, (5, 3), (4, 2)) == (0, -3)
    assert within(seen, (0, -3), 40, 30) == (0, 1)
    assert within(seen, (39, 29), 40, 30) == (32, 21)
    halves = frame(0, across=10)._replace(up=8)
    assert within(halves, (7, 5), 40, 30) == (6, 5), "the same two rows share a line"


def test_as_much_as_has_room_is_seen_from_the_lowest_row_and_the_right() -> None:
    """A frame of 4 rows and 6 stitches."""
    assert showing(frame(2), (3, 2), 4, 6, 3, 7) == (3, 2), "all of it is seen already"
    assert showing(frame(2), (3, 2), 4, 8, 3, 9) == (4, 3), "no more of it has room"
    assert showing(frame(2), (3, 2), 2, 4, 1, 2) == (2, 1)
    assert showing(frame(2), (3, 2), 5, 7, 6, 8) == (4, 3)
