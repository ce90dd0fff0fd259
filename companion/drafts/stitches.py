"""The light that falls on every stitch of a picture, and what each stitch wants.

Light is added, not codes: what lies under a stitch is averaged in linear light, and none is gained or lost. Rows
count from the cast-on up and stitches from the right edge, as on the chart.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import numpy.typing as npt

from companion.drafts.colours import LINEAR, Floats, codes, difference, lab
from companion.drafts.picture import Codes, Picture
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.value import Record

ACROSS, UP = 3, 4
"""A stitch is looked at in so many parts side by side and one above the other, each about square."""

UNIT = 1000
"""So many units of a want are 1 of CIEDE2000: whole numbers add up alike everywhere."""

_BAND = 1_000_000
"""About so many pixels are worked at once."""

_BITS = 6
"""Parts are alike whose channels agree in so many bits; each is then held against the yarns as their mean."""

_THERE = 1 / 255
"""A part that is no more there than that has no light to go by."""

_BIN = codes(np.linspace(0, 1, 4096)) >> (8 - _BITS)
"""Which bin light falls in."""

Whole = npt.NDArray[np.int64]
There = npt.NDArray[np.bool_]


def rows_of(picture: Picture, stitches: int, gauge: Gauge) -> int:
    """So many rows make a picture of so many stitches as high as it is wide in proportion, to the nearest row."""
    wide_cm = stitches * gauge.stitch_cm
    return max(1, round(wide_cm * Fraction(picture.height, picture.width) / gauge.row_cm))


class Parts(Record):
    """``light``: rows x stitches x parts of a stitch x linear red, green and blue; ``cover``: how far each stitch is
    there, 0 to 1."""

    light: Floats
    cover: Floats


def parts_of(picture: Picture, rows: int, stitches: int, ground: Floats | None) -> Parts:
    """The parts of every stitch of a picture laid on a chart. ``ground``: the light where the picture is not; None:
    there it is as light as where it is nearest in the same line, or else in the nearest line that has any of it."""
    mean, cover = _means(picture.codes, picture.cover, rows * UP, stitches * ACROSS)
    if ground is None:
        _fill(mean, cover)
    else:
        mean += (1 - cover)[..., np.newaxis] * ground
    of_stitch = cover.reshape(rows, UP, stitches, ACROSS).mean(axis=(1, 3))
    light = mean.reshape(rows, UP, stitches, ACROSS, 3).transpose(0, 2, 1, 3, 4)
    light = light.reshape(rows, stitches, UP * ACROSS, 3)
    return Parts(light[::-1, ::-1], of_stitch[::-1, ::-1])


def _fill(mean: Floats, cover: Floats) -> None:
    """Light, as far as it is there, becomes that of the picture wherever it is not."""
    is_there = cover > _THERE
    mean[is_there] /= cover[is_there][:, np.newaxis]
    lines = np.flatnonzero(is_there.any(axis=1))
    for line in lines:
        there = np.flatnonzero(is_there[line])
        mean[line] = mean[line, _nearest(there, cover.shape[1])]
    if len(lines):
        mean[:] = mean[_nearest(lines, len(mean))]


def _nearest(there: Whole, length: int) -> Whole:
    """For every place of so many the nearest that is ``there``, in rising order; of two the first."""
    at = np.arange(length)
    after = np.minimum(np.searchsorted(there, at), len(there) - 1)
    before = np.maximum(after - 1, 0)
    is_before = np.abs(at - there[before]) <= np.abs(there[after] - at)
    return np.where(is_before, there[before], there[after])


def _means(channels: Codes, cover: Codes | None, high: int, wide: int) -> tuple[Floats, Floats]:
    """Mean light, as far as it is there, and mean cover of ``high`` x ``wide`` equal parts, from the top left."""
    tall, broad = channels.shape[:2]
    mean, covered = np.zeros((high, wide, 3)), np.ones((high, wide))
    if cover is not None:
        covered[:] = 0
    step = max(1, min(256, _BAND // broad))
    for top in range(0, tall, step):
        below = min(tall, top + step)
        share, first = _shares(top, below, tall, high)
        past = first + len(share)
        light = LINEAR[channels[top:below]]
        if cover is not None:
            there = cover[top:below] / 255
            light *= there[..., np.newaxis]
            covered[first:past] += share @ _across(there[..., np.newaxis], wide)[..., 0]
        mean[first:past] += np.tensordot(share, _across(light, wide), axes=1)
    return mean, covered


def _shares(top: int, below: int, tall: int, high: int) -> tuple[Floats, int]:
    """Which part of each of ``high`` equal heights the lines from ``top`` to ``below`` fill: one row a height that
    they touch; and the first of these."""
    first, past = top * high // tall, min(high, -(-below * high // tall))
    heights = np.arange(first, past)[:, np.newaxis]
    lines = np.arange(top, below)[np.newaxis]
    # In units of 1 / high of a line, so that all is exact up to the last division.
    low, up = np.maximum(heights * tall, lines * high), np.minimum((heights + 1) * tall, (lines + 1) * high)
    return np.maximum(0, up - low) / tall, first


def _across(values: Floats, wide: int) -> Floats:
    """The means of ``wide`` equal parts of every line."""
    broad = values.shape[1]
    total = np.zeros((values.shape[0], broad + 1, values.shape[2]))
    np.cumsum(values, axis=1, out=total[:, 1:])
    edges = np.arange(wide + 1) * broad
    whole, rest = edges // wide, (edges % wide) / wide
    inside = values[:, np.minimum(whole, broad - 1)] * rest[:, np.newaxis]
    upto = total[:, whole] + inside
    mean: Floats = np.diff(upto, axis=1) * (wide / broad)
    return mean


class Looks(Record):
    """The colours that occur on a chart, each once: their ``light``; ``of_part``, which of them each part of a stitch
    has (rows x stitches x parts); in how ``many`` parts each occurs; and which stitches are ``there`` to be knitted
    (rows x stitches)."""

    light: Floats
    of_part: Whole
    many: Whole
    there: There

    @property
    def rows(self) -> int:
        """From the cast-on up."""
        return len(self.of_part)

    @property
    def stitches(self) -> int:
        """In a row."""
        return len(self.of_part[0])


def looks_of(parts: Parts, there: There | None = None) -> Looks:
    """What the parts look like; those that are nearly the same count as their mean. ``there``: which stitches are;
    None: all."""
    if there is None:
        there = np.ones(parts.cover.shape, np.bool_)
    light = parts.light.reshape(-1, 3)
    bins = _BIN[(np.clip(light, 0, 1) * (len(_BIN) - 1)).astype(np.int64)]
    key = (bins[:, 0] << 2 * _BITS) + (bins[:, 1] << _BITS) + bins[:, 2]
    many = np.bincount(key, minlength=1 << 3 * _BITS)
    seen = np.flatnonzero(many)
    total = np.stack([np.bincount(key, light[:, channel], 1 << 3 * _BITS)[seen] for channel in range(3)], axis=-1)
    number = np.zeros(1 << 3 * _BITS, np.int64)
    number[seen] = np.arange(len(seen))
    of_part = number[key].reshape(parts.light.shape[:3])
    knitted = np.bincount(of_part[there].ravel(), minlength=len(seen))
    return Looks(total / many[seen][:, np.newaxis], of_part, knitted, there)


def wants_of(looks: Looks, yarns: Floats) -> Whole:
    """What every stitch wants of every yarn (rows x yarns x stitches), in ``UNIT``: the mean CIEDE2000 between its
    parts and the yarn. ``yarns``: CIELAB, one a row."""
    seen = lab(looks.light)
    each = []
    for yarn in yarns:  # one by one: all together take several times the memory
        apart = np.rint(difference(seen, yarn) * UNIT).astype(np.int64)
        each.append(apart[looks.of_part].sum(axis=-1) // (ACROSS * UP))
    return np.stack(each, axis=1)
