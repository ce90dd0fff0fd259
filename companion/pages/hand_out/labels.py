"""Where the numbers of points on a map stand: beside their point where there is room, else in the margin, with a line
that leads to it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from companion.knitting.value import Record

HIGH_MM, DIGIT_MM = 2.6, 1.5
"""Of a number."""

_CLEAR_MM = 0.9
"""So far from the middle of its point a number stands."""


class Point(Record):
    """A numbered point, in millimetres from the top left corner."""

    number: int
    x: float
    y: float


class Label(Record):
    """Where the number of a point stands: the middle of it. ``is_led``: a line leads to its point."""

    point: Point
    x: float
    y: float
    is_led: bool


class _Box(Record):
    left: float
    top: float
    right: float
    bottom: float

    def touches(self, other: _Box) -> bool:
        is_beside = self.right <= other.left or other.right <= self.left
        return not is_beside and self.top < other.bottom and other.top < self.bottom


def placed(points: Iterable[Point], wide: float, high: float) -> list[Label]:
    """A label for every point of a map so wide and so high; those in the margins stand left of 0 or right of
    ``wide``. No two touch, as long as the margins have room."""
    points = sorted(points, key=lambda point: (point.y, point.x))
    taken = [_Box(point.x - 0.5, point.y - 0.5, point.x + 0.5, point.y + 0.5) for point in points]
    dots, found, crowded = len(points), list[Label](), list[Point]()
    for at, point in enumerate(points):
        half = wide_mm(point) / 2
        aside, over = half + _CLEAR_MM, HIGH_MM / 2 + _CLEAR_MM
        for x, y in ((aside, 0), (-aside, 0), (0, -over), (0, over), (aside, -over), (-aside, -over)):
            box = _box(point.x + x, point.y + y, half)
            others = (*taken[:at], *taken[at + 1:dots], *taken[dots:])
            is_inside = min(box.left, box.top) >= 0 and box.right <= wide and box.bottom <= high
            if is_inside and not any(map(box.touches, others)):
                taken.append(box)
                found.append(Label(point, point.x + x, point.y + y, False))
                break
        else:
            crowded.append(point)
    return found + _in_margins(crowded, wide, high)


def room(high: float) -> int:
    """How many numbers the two margins of a map have room for."""
    return 2 * int(high / HIGH_MM)


def wide_mm(point: Point) -> float:
    """How wide the tag of its number is."""
    return DIGIT_MM * len(str(point.number)) + 0.6


def _box(x: float, y: float, half: float) -> _Box:
    return _Box(x - half, y - HIGH_MM / 2, x + half, y + HIGH_MM / 2)


def _in_margins(points: Sequence[Point], wide: float, high: float) -> list[Label]:
    """Those in the left half at the left, as long as there is room, and from the top down as their points lie."""
    most = room(high) // 2
    by_side = sorted(points, key=lambda point: point.x)
    left = sum(point.x < wide / 2 for point in by_side)
    left = min(max(left, len(by_side) - most), max(most, len(by_side) - most))
    found = []
    for some, x in ((by_side[:left], -5.0), (by_side[left:], wide + 5.0)):
        rising = sorted(some, key=lambda point: (point.y, point.x))
        heights = [point.y for point in rising]
        for at in range(len(heights)):
            heights[at] = max(heights[at], heights[at - 1] + HIGH_MM if at else HIGH_MM / 2)
        limit = high - HIGH_MM / 2
        for at in range(len(heights) - 1, -1, -1):
            heights[at] = min(heights[at], limit)
            limit = heights[at] - HIGH_MM
        found += [Label(point, x, y, True) for point, y in zip(rising, heights, strict=True)]
    return found
