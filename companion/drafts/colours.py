"""Colours as rows of numbers: linear light, CIE XYZ, CIELAB, OKLab, and how different two look (CIEDE2000).

Every array has its three numbers along the last axis. White is D65, the white of sRGB.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from companion.knitting.cloth.colour import TO_CONES, TO_OKLAB, TO_XYZ, channels, linear

Floats = npt.NDArray[np.float64]

LINEAR: Floats = np.array([linear(code / 255) for code in range(256)])
"""The light of every code of an sRGB channel, 0 to 1 (IEC 61966-2-1)."""

_TO_XYZ, _TO_CONES, _TO_OKLAB = map(np.array, (TO_XYZ, TO_CONES, TO_OKLAB))

_WHITE = _TO_XYZ.sum(axis=1)

_HALF_ROUND = 180 + 1e-9
"""Hues as far apart as can be, in degrees, however the last bit falls."""


def light_of(colours: Iterable[str]) -> Floats:
    """Linear light of "#rrggbb"s."""
    light: Floats = LINEAR[np.array([channels(colour) for colour in colours]).reshape(-1, 3)]
    return light


def codes(light: Floats) -> npt.NDArray[np.int64]:
    """Channels of 0 to 255 of linear light (IEC 61966-2-1)."""
    light = np.clip(light, 0, 1)
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    found: npt.NDArray[np.int64] = np.rint(coded * 255).astype(np.int64)
    return found


def hexes(light: Floats) -> list[str]:
    """Linear light as "#rrggbb"s."""
    return ["#{:02x}{:02x}{:02x}".format(*code) for code in codes(light).reshape(-1, 3).tolist()]


def xyz(light: Floats) -> Floats:
    """CIE XYZ of linear light, white having Y = 1."""
    found: Floats = light @ _TO_XYZ.T
    return found


def lab(light: Floats) -> Floats:
    """CIELAB of linear light (CIE 15: Colorimetry)."""
    part = xyz(light) / _WHITE
    root = np.where(part > (6 / 29) ** 3, np.cbrt(part), part * (29 / 6) ** 2 / 3 + 4 / 29)
    x, y, z = np.moveaxis(root, -1, 0)
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def oklab(of_xyz: Floats) -> Floats:
    """OKLab of CIE XYZ."""
    found: Floats = np.cbrt(of_xyz @ _TO_CONES.T) @ _TO_OKLAB.T
    return found


def difference(one: Floats, other: Floats) -> Floats:
    """CIEDE2000 between CIELAB colours, with all weights 1; arrays as numpy broadcasts them, less the last axis
    (Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", Color Research and Application 30, 2005)."""
    l1, a1, b1 = np.moveaxis(one, -1, 0)
    l2, a2, b2 = np.moveaxis(other, -1, 0)
    mean7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2) ** 7
    stretch = 1.5 - 0.5 * np.sqrt(mean7 / (mean7 + 25.0**7))
    c1, c2 = np.hypot(stretch * a1, b1), np.hypot(stretch * a2, b2)
    h1 = np.degrees(np.arctan2(b1, stretch * a1)) % 360
    h2 = np.degrees(np.arctan2(b2, stretch * a2)) % 360
    is_grey = c1 * c2 == 0
    turn = h2 - h1
    turn = np.where(turn > _HALF_ROUND, turn - 360, np.where(turn < -_HALF_ROUND, turn + 360, turn))
    turn = np.where(is_grey, 0, turn)
    hue = (h1 + h2) / 2
    hue = np.where(np.abs(h1 - h2) > _HALF_ROUND, np.where(h1 + h2 < 360, hue + 180, hue - 180), hue)
    hue = np.radians(np.where(is_grey, h1 + h2, hue))
    light, chroma = (l1 + l2) / 2, (c1 + c2) / 2
    by_hue = (
        1 - 0.17 * np.cos(hue - np.pi / 6) + 0.24 * np.cos(2 * hue) + 0.32 * np.cos(3 * hue + np.pi / 30)
        - 0.20 * np.cos(4 * hue - np.radians(63))
    )  # fmt: skip
    chroma7 = chroma**7
    twist = -2 * np.sqrt(chroma7 / (chroma7 + 25.0**7)) * np.sin(
        np.radians(60) * np.exp(-(((np.degrees(hue) - 275) / 25) ** 2))
    )
    dl = (l2 - l1) / (1 + 0.015 * (light - 50) ** 2 / np.sqrt(20 + (light - 50) ** 2))
    dc = (c2 - c1) / (1 + 0.045 * chroma)
    dh = 2 * np.sqrt(c1 * c2) * np.sin(np.radians(turn) / 2) / (1 + 0.015 * chroma * by_hue)
    found: Floats = np.sqrt(np.maximum(0, dl**2 + dc**2 + dh**2 + twist * dc * dh))
    return found


def light_of_oklab(look: Floats) -> Floats:
    """Linear light of OKLab, that of sRGB's nearest channels where it has none."""
    cones = (look @ np.linalg.inv(_TO_OKLAB).T) ** 3
    return np.clip(cones @ np.linalg.inv(_TO_CONES).T @ np.linalg.inv(_TO_XYZ).T, 0, 1)
