"""How yarns look on paper, against a reference library's lightness and the guidelines' contrast."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.color import rgb2lab
from wcag import LEAST, contrast

from companion.pages.hand_out.inks import ground, ink

CHANNELS = st.tuples(*[st.integers(0, 255)] * 3)


def hexed(colour: tuple[int, ...]) -> str:
    return "#" + "".join(f"{channel:02x}" for channel in colour)


def channels(colour: str) -> tuple[int, ...]:
    return tuple(bytes.fromhex(colour[1:]))


def lightness(colour: str) -> float:
    """CIE 1976 L* by scikit-image."""
    return float(rgb2lab(np.array([[channels(colour)]], dtype=np.uint8))[0, 0, 0])


@given(CHANNELS)
@settings(max_examples=60)
def test_every_tint_is_so_pale_that_a_copy_keeps_black_letters(colour: tuple[int, ...]) -> None:
    own = hexed(colour)
    pale = ground(own, "tints")
    assert lightness(pale) >= 92 - 0.05
    assert contrast(channels(pale), channels(ink(own, "tints"))) >= LEAST
    if lightness(own) >= 92.05:
        assert pale == own


@given(CHANNELS)
@settings(max_examples=60)
def test_in_full_colour_letters_are_black_or_white_whichever_is_seen_better(colour: tuple[int, ...]) -> None:
    own = hexed(colour)
    assert ground(own, "colour") == own
    found = ink(own, "colour")
    other = "#000000" if found == "#ffffff" else "#ffffff"
    assert {found, other} == {"#000000", "#ffffff"}
    assert contrast(colour, channels(found)) >= max(LEAST, contrast(colour, channels(other)))


def test_in_ink_alone_there_are_no_colours() -> None:
    assert (ground("#2f4470", "ink"), ink("#2f4470", "ink")) == ("#ffffff", "#000000")
