"""Luminance, contrast and lightness against the standards' published values and a reference library.

- W3C, Web Content Accessibility Guidelines 2.2: relative luminance and contrast ratio; #777 on white is published as
  4.48 and fails 4.5, #767676 passes (WebAIM, "Contrast and color accessibility").
- CIE 1976 L*: scikit-image, ``skimage.color.rgb2lab`` (D65, 2 degree observer).
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import rgb2lab

from companion.knitting.cloth.colour import contrast, lightness, luminance

PUBLISHED = [
    ("#000000", "#ffffff", 21.0), ("#777777", "#ffffff", 4.4781), ("#767676", "#ffffff", 4.5422),
    ("#595959", "#ffffff", 7.0047), ("#5a5a5a", "#ffffff", 6.8969), ("#949494", "#ffffff", 3.0335),
    ("#959595", "#ffffff", 2.9953), ("#808080", "#ffffff", 3.9494), ("#808080", "#000000", 5.3172),
    ("#ff0000", "#ffffff", 3.9985), ("#00ff00", "#ffffff", 1.3722), ("#0000ff", "#ffffff", 8.5925),
    ("#ffff00", "#ffffff", 1.0738), ("#0000ff", "#ffff00", 8.0016), ("#ff0000", "#00ff00", 2.9139),
    ("#ff0000", "#0000ff", 2.1489),
]  # fmt: skip


@pytest.mark.parametrize(("one", "other", "ratio"), PUBLISHED)
def test_contrast_is_the_guidelines(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=5e-5)
    assert contrast(other, one) == contrast(one, other)


@pytest.mark.parametrize(("colour", "value"), [("#808080", 0.215861), ("#777777", 0.18447), ("#ffffff", 1.0)])
def test_luminance_is_the_guidelines(colour: str, value: float) -> None:
    assert luminance(colour) == pytest.approx(value, abs=5e-6)


@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_lightness_is_that_of_the_reference_library(rgb: tuple[int, int, int]) -> None:
    """To 0.02 of 100: the library takes luminance from a matrix with four digits more."""
    colour = "#{:02x}{:02x}{:02x}".format(*rgb)
    theirs = rgb2lab(np.array([[rgb]], dtype=np.uint8))[0, 0, 0]
    assert lightness(colour) == pytest.approx(theirs, abs=0.02)
