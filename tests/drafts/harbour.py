"""Pictures of a harbour town, drawn here: smooth edges as a camera sees them, and as drawings have them.

Every picture is rows from the top of red, green and blue, 0 to 255. Shapes are drawn on a grid of four points to a
pixel each way and averaged, so that their edges blend.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Codes = npt.NDArray[np.uint8]
_FINE = 4


class _Sheet:
    def __init__(self, wide: int, high: int, ground: Sequence[int]) -> None:
        self.y, self.x = (np.mgrid[0:high * _FINE, 0:wide * _FINE] + 0.5) / _FINE
        self.codes = np.empty((*self.x.shape, 3))
        self.codes[:] = ground

    def box(self, left: float, top: float, right: float, below: float, colour: Sequence[int]) -> None:
        self.codes[(self.x > left) & (self.x < right) & (self.y > top) & (self.y < below)] = colour

    def disc(self, x: float, y: float, radius: float, colour: Sequence[int]) -> None:
        self.codes[(self.x - x) ** 2 + (self.y - y) ** 2 < radius**2] = colour

    def triangle(self, *corners: tuple[float, float], colour: Sequence[int]) -> None:
        (ax, ay), (bx, by), (cx, cy) = corners
        sides = [
            (qx - px) * (self.y - py) - (qy - py) * (self.x - px)
            for px, py, qx, qy in ((ax, ay, bx, by), (bx, by, cx, cy), (cx, cy, ax, ay))
        ]
        is_left, is_right = (np.all([sign * side > 0 for side in sides], axis=0) for sign in (1, -1))
        self.codes[is_left | is_right] = colour

    def under(self, line: npt.NDArray[np.float64], colour: Sequence[int]) -> None:
        self.codes[self.y > line] = colour

    def picture(self) -> Codes:
        high, wide = self.x.shape
        mean = self.codes.reshape(high // _FINE, _FINE, wide // _FINE, _FINE, 3).mean(axis=(1, 3))
        return np.rint(mean).astype(np.uint8)


def boat(wide: int = 160, high: int = 120) -> Codes:
    """A boat with two sails on the water, and the sun: five colours."""
    sheet = _Sheet(160, 120, (214, 226, 232))
    sheet.disc(124, 30, 14, (243, 184, 74))
    sheet.under(86 + 2 * np.sin(sheet.x / 9), (44, 106, 123))
    sheet.triangle((74, 14), (74, 72), (112, 72), colour=(187, 74, 52))
    sheet.triangle((68, 22), (68, 72), (40, 72), colour=(244, 233, 210))
    sheet.box(70, 10, 73, 78, (23, 38, 37))
    sheet.box(40, 78, 112, 90, (23, 38, 37))
    sheet.triangle((112, 78), (126, 78), (112, 90), colour=(23, 38, 37))
    return sheet.picture()[:high, :wide]


def town() -> Codes:
    """A harbour in the evening: sky, hills, houses with windows, a lighthouse, water and a boat."""
    sheet = _Sheet(240, 180, (47, 68, 112))
    sheet.under(50 + 4 * np.sin(sheet.x / 30), (216, 130, 110))
    sheet.disc(170, 84, 22, (243, 184, 74))
    sheet.under(86 - 14 * np.sin(sheet.x / 38) - 5 * np.sin(sheet.x / 11), (61, 90, 80))
    for left, top, wall in ((20, 84, 244), (52, 76, 214), (84, 88, 235), (112, 80, 200)):
        sheet.box(left, top, left + 26, 128, (wall, wall - 22, wall - 60))
        sheet.triangle((left - 3, top), (left + 29, top), (left + 13, top - 18), colour=(187, 74, 52))
        for x, y in ((6, 8), (16, 8), (6, 22), (16, 22)):
            sheet.box(left + x, top + y, left + x + 5, top + y + 7, (243, 184, 74))
    sheet.box(206, 48, 222, 128, (244, 233, 210))
    sheet.box(206, 70, 222, 84, (187, 74, 52))
    sheet.box(206, 100, 222, 114, (187, 74, 52))
    sheet.box(203, 40, 225, 48, (23, 38, 37))
    sheet.box(209, 30, 219, 40, (243, 184, 74))
    sheet.under(126 + 1.5 * np.sin(sheet.x / 7), (58, 127, 142))
    sheet.under(152 + 3 * np.sin(sheet.x / 13), (47, 68, 112))
    sheet.triangle((150, 96), (150, 138), (178, 138), colour=(244, 233, 210))
    sheet.box(132, 138, 182, 148, (23, 38, 37))
    return sheet.picture()
