"""A picture file to its channels: opened with care, turned as its camera was held, in sRGB.

Nothing is decoded before its kind and its size are known to be within bounds.
"""

from __future__ import annotations

import struct
import warnings
from io import BytesIO
from pathlib import Path

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from companion.knitting.value import Record
from companion.plan.files import file_bytes
from companion.problems import Problem, Problems

KINDS = ("PNG", "JPEG", "GIF", "BMP", "WEBP")
"""What is opened; of a moving picture the first frame."""

MOST_FILE_BYTES = 100_000_000
MOST_PIXELS = 50_000_000
MOST_SLENDER = 50
"""The longer side is so many times the shorter one at most."""

_AMISS = (
    OSError, SyntaxError, ValueError, TypeError, KeyError, IndexError, AttributeError, EOFError, OverflowError,
    ZeroDivisionError, RuntimeError, struct.error,
)  # fmt: skip
"""What the decoders raise for files that are damaged, by what they stumble over."""

_SAVE_AS = "Save it as PNG, and draft from that."

Codes = npt.NDArray[np.uint8]


class Box(Record):
    """Part of a picture, in pixels from its left and its upper edge."""

    left: int
    top: int
    width: int
    height: int


class Picture(Record):
    """``codes``: red, green and blue in sRGB, 0 to 255, rows from the top, in each from the left. ``cover``: how far
    each pixel is there, 0 to 255; None where all are."""

    codes: Codes
    cover: Codes | None

    @property
    def height(self) -> int:
        """In pixels."""
        return len(self.codes)

    @property
    def width(self) -> int:
        """In pixels."""
        return len(self.codes[0])

    def turned(self) -> Picture:
        """Turned by a quarter to the left, so that its left edge is the lower one."""
        return Picture(np.rot90(self.codes), None if self.cover is None else np.rot90(self.cover))

    def flipped(self) -> Picture:
        """Left for right."""
        return Picture(self.codes[:, ::-1], None if self.cover is None else self.cover[:, ::-1])


def opened(path: Path, crop: Box | None = None) -> Picture:
    """The picture in a file, or part of it.

    Raises:
        Problems: it is no picture that can be opened, or too large, or has no such part.
    """
    shown = str(path)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # what is too large is refused below; what is odd decodes or does not
            image: Image.Image = Image.open(BytesIO(file_bytes(path, shown, MOST_FILE_BYTES)), formats=KINDS)
            _check_size(image.size, shown)
            image.load()
            ImageOps.exif_transpose(image, in_place=True)
            if crop is not None:
                image = _cropped(image, crop, shown)
            return _in_srgb(image)
    except UnidentifiedImageError:
        kinds = "PNG, JPEG, GIF, BMP or WEBP"
        raise Problems([Problem(f'The file "{path.name}" is no picture in {kinds}.', shown, mend=_SAVE_AS)]) from None
    except Image.DecompressionBombError:
        raise Problems([_too_large(shown)]) from None
    except _AMISS as error:
        what = f'The picture "{path.name}" is damaged: {str(error) or type(error).__name__}.'
        raise Problems([Problem(what, shown, mend=_SAVE_AS)]) from None


def _check_size(size: tuple[int, int], shown: str) -> None:
    if size[0] * size[1] > MOST_PIXELS:
        raise Problems([_too_large(shown)])
    if max(size) > MOST_SLENDER * min(size):
        what = f"The picture is {size[0]:,} x {size[1]:,} pixels: too slender to be knitted."
        raise Problems([Problem(what, shown, mend="Crop it with --crop, or in another program.")])


def _too_large(shown: str) -> Problem:
    what = f"The picture has more than {MOST_PIXELS // 1_000_000} million pixels."
    return Problem(what, shown, mend="Save it smaller: a stitch needs no more than ten pixels each way.")


def _cropped(image: Image.Image, crop: Box, shown: str) -> Image.Image:
    right, below = crop.left + crop.width, crop.top + crop.height
    if right > image.width or below > image.height:
        what = f"The part to be cropped ends at {right:,}, {below:,}, and the picture has {image.width:,} x " \
               f"{image.height:,} pixels."
        raise Problems([Problem(what, shown, mend="--crop is LEFT,TOP,WIDTH,HEIGHT in pixels.")])
    _check_size((crop.width, crop.height), shown)
    return image.crop((crop.left, crop.top, right, below))


def _in_srgb(image: Image.Image) -> Picture:
    """The channels of an image of any mode."""
    if image.mode.startswith(("I", "F")):  # one channel of 16 bits
        grey = (np.clip(np.asarray(image), 0, 65535).astype(np.uint32) >> 8).astype(np.uint8)
        return Picture(np.repeat(grey[..., np.newaxis], 3, axis=2), None)
    has_cover = image.mode in ("LA", "PA", "RGBA", "La", "RGBa") or "transparency" in image.info
    profile = image.info.get("icc_profile")
    if image.mode in ("P", "PA", "1", "La", "RGBa") or has_cover:
        image = image.convert("RGBA" if has_cover else "RGB")
    if profile:
        image = _by_profile(image, profile, "RGBA" if has_cover else "RGB")
    if image.mode not in ("RGB", "RGBA"):
        image = image.convert("RGBA" if has_cover else "RGB")
    channels = np.asarray(image)
    cover = channels[..., 3] if has_cover and channels[..., 3].min() < 255 else None
    return Picture(channels[..., :3], cover)


def _by_profile(image: Image.Image, profile: bytes, mode: str) -> Image.Image:
    """The colours that the file's own profile means; as they stand where the profile is none."""
    try:
        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        found = ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode=mode)
    except (ImageCms.PyCMSError, *_AMISS):
        return image
    return found or image
