"""Shapes as pixels, against areas worked out by hand."""

from __future__ import annotations

from companion.pages.pixels import inked, lay, mask, painted, stamp

GREY, WINE, WHITE = (100, 100, 100), (200, 0, 50), (255, 255, 255)


def laid(left: int, top: int) -> list[tuple[int, ...]]:
    """Three grey pixels beside each other after a shape was laid there, that is a pixel and a half wide and begins
    with the half."""
    picture = bytearray(bytes(GREY) * 3)
    shape = stamp([[(0.5, 0), (2, 0), (2, 1), (0.5, 1)]])
    lay(picture, 3, left, top, inked(shape, [WINE]))
    return [tuple(picture[at:at + 3]) for at in (0, 3, 6)]


def test_a_pixel_half_covered_is_half_as_it_was() -> None:
    assert laid(0, 0) == [(150, 50, 75), WINE, GREY]
    assert laid(1, 0) == [GREY, (150, 50, 75), WINE]


def test_what_lies_beside_the_picture_is_left_out() -> None:
    assert laid(-1, 0) == [WINE, GREY, GREY]
    assert laid(2, 0) == [GREY, GREY, (150, 50, 75)]
    picture = bytearray(bytes(GREY) * 3)
    lay(picture, 3, -1, 0, inked(stamp([[(0, 0), (2, 0), (2, 1), (0, 1)]]), [WINE]))
    lay(picture, 3, 2, 0, inked(stamp([[(0, 0), (2, 0), (2, 1), (0, 1)]]), [WHITE]))
    assert picture == bytes((*WINE, *GREY, *WHITE))
    assert laid(0, 1) == laid(0, -1) == [GREY] * 3


def test_the_last_of_two_shapes_lies_on_top_and_where_there_is_none_is_the_ground() -> None:
    shapes = [[(0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0)], [(1.0, 0.0), (2.0, 0.0), (2.0, 1.0), (1.0, 1.0)]]
    [line, below] = painted(mask(shapes, 3, 2), [GREY, WINE], WHITE)
    assert line == bytes((*GREY, *WINE, *WHITE))
    assert below == bytes(WHITE * 3)


def test_a_shape_that_laps_over_itself_covers_what_lies_within_it() -> None:
    """Twice round the same square."""
    square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    assert painted(mask([square * 2], 1, 1), [WINE], WHITE) == [bytes(WINE)]


def test_a_triangle_covers_half_of_its_square() -> None:
    [line] = painted(mask([[(0.0, 0.0), (1.0, 1.0), (0.0, 1.0)]], 1, 1), [(0, 0, 0)], WHITE)
    assert abs(line[0] - 127.5) <= 255 / 8
