"""What is marked on demand, on pieces small enough to be worked out by hand."""

from __future__ import annotations

from companion.board.marks import KINDS, Kind, marked
from tests.board.plans_to_draw import QUAY, on_the_board, quay


def marks(text: str, kind: Kind) -> list[str]:
    """The stitches of a kind from the top as they look, "#" where one is marked."""
    with on_the_board(text) as board:
        found = marked(board.piece, kind)
        wide = board.fabric.columns
        rows = range(len(board.fabric.rows) - 1, -1, -1)
        return ["".join(".#"[(row, column) in found] for column in range(wide, 0, -1)) for row in rows]


def test_lone_stitches_touch_none_of_their_yarn_side_by_side_or_above() -> None:
    assert marks(quay("ssssssis", "sisssiss", "ssssssss", "iissssrr"), "lone stitches") == [
        "......#.", ".#...#..", "........", "........",
    ]  # fmt: skip


def test_where_one_strand_ends_and_the_next_is_joined_too_far_off_both_stitches_are_marked() -> None:
    """The ink of row 1 is worked to the left and hangs after column 2, that of row 2 is worked to the right and
    begins at column 6: four stitches off, and the reach is three. One stitch nearer it is the same strand."""
    assert marks(quay("ssiissss", "ssssssii"), "beyond reach") == ["..#.....", "......#."]
    assert marks(quay("sssiisss", "ssssssii"), "beyond reach") == ["........", "........"]


def test_floats_that_are_caught_lie_behind_the_stitches_they_pass() -> None:
    """At 20 stitches to 10 cm five pass in an inch. Ink passes behind six stitches of sand from its first run to its
    second; with five it lies free."""
    limits = "carry: {reach: 1, behind: 8}\n"
    assert marks(QUAY + limits + "rows:\n  - chart: |\n      iissssssii\n", "floats") == ["..######.."]
    assert marks(QUAY + limits + "rows:\n  - chart: |\n      iisssssii\n", "floats") == ["." * 9]


def test_a_float_the_other_way_round_a_tube_lies_behind_what_it_passes_there() -> None:
    """In rounds of 20 ink ends at column 16 and begins again after column 3: 13 stitches off, or seven over the join.
    Both strands of sand go on, too: one from column 14 to column 1, six over the join, the other from column 20 past
    five stitches to column 6, which lies free."""
    limits = "carry: {reach: 8}\n"
    text = f"{QUAY}{limits}rows:\n  - worked: round\n    chart: |\n      15s 2i 3s\n      4s 2i 14s\n"
    assert marks(text, "floats") == ["######...........###", "." * 20]


def test_small_areas_that_would_save_ends_sewn_on_are_marked_whole() -> None:
    """A speck of ink in sand takes a strand of its own and parts the sand: sewn on it spares two strands, four ends,
    and takes two tails."""
    assert marks(quay("ssssssss", "sssissss", "ssssssss"), "sewn on") == ["........", "...#....", "........"]
    assert marks(quay("iiiiiiii", "ssssssss", "ssssssss"), "sewn on") == ["........"] * 3
    two = quay("ssssssss", "sssiisss", "sssiisss", "ssssssss")
    assert marks(two, "sewn on") == ["........", "...##...", "...##...", "........"]
    assert marks(two.replace("\nrows:", "\nsmall_areas: 3\nrows:"), "sewn on") == ["........"] * 4


def test_every_kind_can_be_asked_of_a_plan() -> None:
    for kind in KINDS:
        assert marks(quay("ssssssss", "siisssis"), kind)


def test_the_next_bargain_is_shown_as_it_is_taken_and_spares_what_it_says() -> None:
    with on_the_board(quay("ssssssss", "ssisssss", "ssssssss", "iiiissss")) as board:
        [best, *_] = board.bargains()
        assert (best.instead, best.strands) == ("sand", 2)
        before = board.counts.strands
        costs = board.costs_at(best.cells)
        board.paint_each(best.yarns)
        assert board.counts.strands == before - 2 == before + costs["sand"]
        assert board.text == quay("ssssssss", "ssssssss", "ssssssss", "iiiissss")


def test_a_bargain_spares_what_goes_along_with_it_too() -> None:
    """The stitch for the seam, beside the left edge, is of the yarn at the right one: two strands go, not one."""
    flat = "  - seam_stitches: 1\n    chart: |\n      ssssi\n      sssss\n"
    with on_the_board(f"{QUAY}rows:\n  - worked: round\n    chart: sssss\n{flat}") as board:
        [only] = board.bargains()
        assert only.cells == ((2, 1),)
        before = board.counts.strands
        board.paint_each(only.yarns)
        assert board.counts.strands == before - only.strands == before - 2


def test_bargains_touch_only_what_can_be_painted() -> None:
    text = quay("ssssssss", "ssisssss", "ssssssss").replace("# the cast-on edge\n", "")
    with on_the_board(text) as board:
        assert board.bargains()
    with on_the_board(text + "    repeat: 2\n") as board:
        assert board.bargains() == []
