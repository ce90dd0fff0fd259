"""Words in columns: as wide as terminals show them, or one below another."""

from __future__ import annotations

from companion.pages.set_out import set_out

HEADS = ["Name", "Size", "Yarn"]
LINES = [["Alma", "10 cm", "4 m"], ["海辺", "", "12 m oat"], ["Bertolina", "9 cm", ""]]


def test_columns_are_as_wide_as_their_widest_cell_in_the_terminals_cells() -> None:
    """海辺 takes four cells."""
    assert list(set_out(HEADS, LINES, 26)) == [
        "Name       Size   Yarn", "Alma       10 cm  4 m", "海辺              12 m oat", "Bertolina  9 cm",
    ]  # fmt: skip


def test_without_room_cells_stand_below_another_and_empty_ones_are_left_out() -> None:
    assert list(set_out(HEADS, LINES, 25)) == [
        "Alma", "  Size: 10 cm", "  Yarn: 4 m", "海辺", "  Yarn: 12 m oat", "Bertolina", "  Size: 9 cm",
    ]  # fmt: skip
