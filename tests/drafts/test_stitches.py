"""Pictures laid on stitches: proportion, light, which way round."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.drafts.colours import LINEAR, hexes
from companion.drafts.picture import Picture
from companion.drafts.stitches import looks_of, parts_of, rows_of, wants_of
from companion.knitting.cloth.fabric import Gauge

USUAL = Gauge(Fraction(20), Fraction(28))
BLACK = np.zeros(3)


def grey(codes: np.ndarray) -> Picture:
    return Picture(np.repeat(codes.astype(np.uint8)[..., np.newaxis], 3, axis=2), None)


def test_a_square_picture_takes_more_rows_than_stitches() -> None:
    """By hand: 40 stitches are 20 cm wide at 20 to 10 cm, and 20 cm are 56 rows at 28."""
    assert rows_of(grey(np.zeros((400, 400))), 40, USUAL) == 56


def test_a_board_of_black_and_white_pixels_is_as_light_as_half_its_light() -> None:
    """Half of white's light is #bcbcbc (IEC 61966-2-1); the mean of the codes would be #808080."""
    board = np.indices((120, 120)).sum(axis=0) % 2 * 255
    light = parts_of(grey(board), 5, 10, BLACK).light
    assert set(hexes(light)) == {"#bcbcbc"}


@given(st.integers(1, 90), st.integers(1, 90), st.integers(1, 20), st.integers(1, 20), st.integers(0, 9))
def test_no_light_is_gained_or_lost(high: int, wide: int, rows: int, stitches: int, seed: int) -> None:
    codes = np.random.default_rng(seed).integers(0, 256, (high, wide, 3), np.uint8)
    parts = parts_of(Picture(codes, None), rows, stitches, BLACK)
    assert parts.light.mean(axis=(0, 1, 2)) == pytest.approx(LINEAR[codes].mean(axis=(0, 1)), abs=5e-9)


def test_a_picture_taller_than_what_is_worked_at_once_keeps_its_light_and_its_place() -> None:
    codes = np.zeros((1000, 20))
    codes[700:] = 255
    light = parts_of(grey(codes), 10, 4, BLACK).light
    assert light[:3].min() == pytest.approx(1)
    assert light[3:].max() == pytest.approx(0)


def test_row_1_is_the_lower_edge_and_stitch_1_the_right_one() -> None:
    codes = np.zeros((40, 40))
    codes[30:, 30:] = 255
    light = parts_of(grey(codes), 4, 4, BLACK).light.mean(axis=(2, 3))
    assert light[0, 0] == pytest.approx(1)
    assert light.sum() == pytest.approx(1)


def test_where_the_picture_is_not_there_lies_the_ground() -> None:
    codes = np.full((40, 40, 3), 255, np.uint8)
    cover = np.full((40, 40), 255, np.uint8)
    cover[:20] = 0
    parts = parts_of(Picture(codes, cover), 2, 1, np.array([0.25, 0.5, 0.125]))
    assert parts.light[0].mean(axis=(0, 1)) == pytest.approx([1, 1, 1])
    assert parts.light[1].mean(axis=(0, 1)) == pytest.approx([0.25, 0.5, 0.125])


def test_turned_to_the_left_the_left_edge_is_the_lower_one() -> None:
    codes = np.zeros((20, 40))
    codes[:, :10] = 255
    turned = grey(codes).turned()
    assert (turned.height, turned.width) == (40, 20)
    assert turned.codes[30:].min() == 255
    assert turned.codes[:30].max() == 0


def test_a_stitch_wants_the_mean_of_its_parts() -> None:
    """Half black and half white, whose CIEDE2000 from each other is 100: 50 from either, 0 and 100 elsewhere."""
    codes = np.zeros((4, 12))
    codes[:, 9:] = 255
    codes[:2, :3] = 255
    looks = looks_of(parts_of(grey(codes), 1, 4, BLACK))
    wants = wants_of(looks, np.array([[0.0, 0, 0], [100, 0, 0]]))
    assert wants[0] == pytest.approx(np.array([[100_000, 0, 0, 50_000], [0, 100_000, 100_000, 50_000]]), abs=1)
