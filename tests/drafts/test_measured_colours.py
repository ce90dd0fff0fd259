"""Colours against published values, and against a reference library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000, rgb2lab

from companion.drafts.colours import LINEAR, codes, difference, hexes, lab, light_of, light_of_oklab, oklab, xyz

SHARMA = """
50.0000   2.6772 -79.7751  50.0000   0.0000 -82.7485   2.0425
50.0000   3.1571 -77.2803  50.0000   0.0000 -82.7485   2.8615
50.0000   2.8361 -74.0200  50.0000   0.0000 -82.7485   3.4412
50.0000  -1.3802 -84.2814  50.0000   0.0000 -82.7485   1.0000
50.0000  -1.1848 -84.8006  50.0000   0.0000 -82.7485   1.0000
50.0000  -0.9009 -85.5211  50.0000   0.0000 -82.7485   1.0000
50.0000   0.0000   0.0000  50.0000  -1.0000   2.0000   2.3669
50.0000  -1.0000   2.0000  50.0000   0.0000   0.0000   2.3669
50.0000   2.4900  -0.0010  50.0000  -2.4900   0.0009   7.1792
50.0000   2.4900  -0.0010  50.0000  -2.4900   0.0010   7.1792
50.0000   2.4900  -0.0010  50.0000  -2.4900   0.0011   7.2195
50.0000   2.4900  -0.0010  50.0000  -2.4900   0.0012   7.2195
50.0000  -0.0010   2.4900  50.0000   0.0009  -2.4900   4.8045
50.0000  -0.0010   2.4900  50.0000   0.0010  -2.4900   4.8045
50.0000  -0.0010   2.4900  50.0000   0.0011  -2.4900   4.7461
50.0000   2.5000   0.0000  50.0000   0.0000  -2.5000   4.3065
50.0000   2.5000   0.0000  73.0000  25.0000 -18.0000  27.1492
50.0000   2.5000   0.0000  61.0000  -5.0000  29.0000  22.8977
50.0000   2.5000   0.0000  56.0000 -27.0000  -3.0000  31.9030
50.0000   2.5000   0.0000  58.0000  24.0000  15.0000  19.4535
50.0000   2.5000   0.0000  50.0000   3.1736   0.5854   1.0000
50.0000   2.5000   0.0000  50.0000   3.2972   0.0000   1.0000
50.0000   2.5000   0.0000  50.0000   1.8634   0.5757   1.0000
50.0000   2.5000   0.0000  50.0000   3.2592   0.3350   1.0000
60.2574 -34.0099  36.2677  60.4626 -34.1751  39.4387   1.2644
63.0109 -31.0961  -5.8663  62.8187 -29.7946  -4.0864   1.2630
61.2901   3.7196  -5.3901  61.4292   2.2480  -4.9620   1.8731
35.0831 -44.1164   3.7933  35.0232 -40.0716   1.5901   1.8645
22.7233  20.0904 -46.6940  23.0331  14.9730 -42.5619   2.0373
36.4612  47.8580  18.3852  36.2715  50.5065  21.2231   1.4146
90.8027  -2.0831   1.4410  91.1528  -1.6435   0.0447   1.4441
90.9257  -0.5406  -0.9208  88.6381  -0.8985  -0.7239   1.5381
 6.7747  -0.2908  -2.4247   5.8714  -0.0985  -2.2286   0.6377
 2.0776   0.0795  -1.1350   0.9033  -0.0636  -0.5514   0.9082
"""
"""Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula: implementation notes, supplementary test data, and
mathematical observations", Color Research and Application 30 (2005), 21-30, table 1."""

PAIRS = [[float(number) for number in line.split()] for line in SHARMA.split("\n") if line]


@pytest.mark.parametrize("pair", PAIRS, ids=[f"row {number}" for number in range(1, 35)])
def test_differences_are_those_published_both_ways(pair: list[float]) -> None:
    one, other = np.array(pair[:3]), np.array(pair[3:6])
    assert len(PAIRS) == 34
    assert difference(one, other) == pytest.approx(pair[6], abs=5e-5)
    assert difference(other, one) == pytest.approx(pair[6], abs=5e-5)


channels = st.tuples(*[st.integers(0, 255)] * 3)


@given(channels, channels)
def test_differences_and_lab_are_those_of_the_reference_library(one: tuple[int, ...], other: tuple[int, ...]) -> None:
    """The library has the matrix with other digits, so that Lab agrees to 0.02 (white of four digits)."""
    both = np.array([one, other])
    ours = lab(LINEAR[both])
    assert ours == pytest.approx(rgb2lab((both / 255)[np.newaxis])[0], abs=0.02)
    assert difference(ours[0], ours[1]) == pytest.approx(float(deltaE_ciede2000(ours[0], ours[1])), abs=1e-6)


def test_light_of_codes_is_the_standards_and_every_code_comes_back() -> None:
    """IEC 61966-2-1; the two values worked out from its formula by hand calculator."""
    assert LINEAR[128] == pytest.approx(0.2158605, abs=5e-8)
    assert LINEAR[188] == pytest.approx(0.5028865, abs=5e-8)
    assert codes(LINEAR).tolist() == list(range(256))


def test_oklab_is_its_authors() -> None:
    """Ottosson, "A perceptual color space for image processing": the table of XYZ and OKLab, to its three digits."""
    of_xyz = np.array([[0.950, 1.000, 1.089], [1, 0, 0], [0, 1, 0], [0, 0, 1]])
    published = [[1.000, 0.000, 0.000], [0.450, 1.236, -0.019], [0.922, -0.671, 0.263], [0.153, -1.415, -0.449]]
    assert oklab(of_xyz) == pytest.approx(np.array(published), abs=1e-3)


@given(channels)
def test_a_colour_comes_back_from_oklab(code: tuple[int, ...]) -> None:
    light = LINEAR[np.array([code])]
    assert hexes(light_of_oklab(oklab(xyz(light)))) == hexes(light) == ["#{:02x}{:02x}{:02x}".format(*code)]
    assert light_of(hexes(light)) == pytest.approx(light)
