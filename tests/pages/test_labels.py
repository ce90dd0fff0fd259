"""Numbers on the map of the back: each can be read and belongs to its point."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.pages.hand_out.labels import DIGIT_MM, HIGH_MM, Label, Point, placed, room

WIDE, HIGH = 60.0, 50.0
PLACES = st.tuples(st.floats(0, WIDE), st.floats(0, HIGH))


def box(label: Label) -> tuple[float, float, float, float]:
    half = DIGIT_MM * len(str(label.point.number)) / 2
    return label.x - half, label.y - HIGH_MM / 2 + 0.01, label.x + half, label.y + HIGH_MM / 2 - 0.01


@given(st.lists(PLACES, max_size=room(HIGH)))
@settings(max_examples=60)
def test_no_two_numbers_lie_on_each_other_and_those_far_from_their_point_are_led_to_it(
    places: list[tuple[float, float]],
) -> None:
    points = [Point(number, *place) for number, place in enumerate(places, 1)]
    labels = placed(points, WIDE, HIGH)
    assert sorted(label.point for label in labels) == sorted(points)
    for one, other in combinations(labels, 2):
        (a, b, c, d), (e, f, g, h) = box(one), box(other)
        assert c <= e or g <= a or d <= f or h <= b, (one, other)
    for label in labels:
        if label.is_led:
            assert label.x < 0 or label.x > WIDE
            assert 0 <= label.y <= HIGH
        else:
            assert abs(label.x - label.point.x) + abs(label.y - label.point.y) < 6


def test_where_points_crowd_their_numbers_stand_in_the_margins() -> None:
    points = [Point(number, 30 + number / 100, 25.0) for number in range(1, 31)]
    labels = placed(points, WIDE, HIGH)
    led = [label for label in labels if label.is_led]
    assert len(led) > 20
    assert {label.x < 0 for label in led} == {True, False}
