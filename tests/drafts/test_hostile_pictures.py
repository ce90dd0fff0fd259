"""Whatever stands in a picture file: it is drafted, or told in words, within bounds."""

from __future__ import annotations

import os
import resource
import struct
import subprocess
import sys
import zlib
from io import BytesIO
from pathlib import Path
from random import Random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms
from the_program import ROOT, run

from companion.drafts.picture import opened
from companion.problems import Problems
from tests.drafts.harbour import boat

SIZE = ("--stitches", "40", "--gauge", "20x28/10cm")
KINDS = ("PNG", "JPEG", "GIF", "BMP", "WEBP")


def saved(kind: str) -> bytes:
    file = BytesIO()
    Image.fromarray(boat()).resize((32, 24)).save(file, kind)
    return file.getvalue()


SAVED = {kind: saved(kind) for kind in KINDS}


def mutated(data: bytes, dice: Random) -> bytes:
    """The file with bytes changed, left out, doubled or cut off."""
    found = bytearray(data)
    for _ in range(dice.randint(1, 8)):
        at = dice.randrange(len(found) or 1)
        match dice.randrange(4):
            case 0:
                found[at:at + 1] = bytes([dice.randrange(256)])
            case 1:
                del found[at:at + dice.randrange(40)]
            case 2:
                found[at:at] = found[at:at + dice.randrange(40)]
            case _:
                found[at:at + 4] = dice.choice([b"\xff" * 4, b"\0" * 4, b"\x7f\xff\xff\xff"])
    return bytes(found[:dice.randrange(len(found) + 1)] if dice.random() < 0.2 else found)


@given(st.sampled_from(KINDS), st.integers(0, 2**32))
def test_mutated_pictures_are_opened_or_told(tmp_path_factory: pytest.TempPathFactory, kind: str, seed: int) -> None:
    path = tmp_path_factory.getbasetemp() / f"mutated-{os.getpid()}"
    path.write_bytes(mutated(SAVED[kind], Random(seed)))
    try:
        found = opened(path).codes.ndim
    except Problems as told:
        found = {problem.file for problem in told.problems}
    assert found in (3, {str(path)})


def png(wide: int, high: int, data: bytes = b"") -> bytes:
    """A PNG that says it is so large."""
    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


REFUSED = {
    "no picture": (b"plan: 1\n", 'The file "file" is no picture in PNG, JPEG, GIF, BMP or WEBP.'),
    "nothing": (b"", 'The file "file" is no picture in'),
    "a drawing in lines": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", 'The file "file" is no picture in'),
    "a program to be run": (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", 'The file "file" is no picture'),
    "a bomb": (png(100_000, 100_000), "The picture has more than 50 million pixels."),
    "a large one": (png(10_000, 10_000), "The picture has more than 50 million pixels."),
    "a slender one": (png(100_000, 10), "The picture is 100,000 x 10 pixels: too slender to be knitted."),
    "cut off": (SAVED["PNG"][:200], 'The picture "file" is damaged: '),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_opened_is_refused_by_name(tmp_path: Path, name: str) -> None:
    data, said = REFUSED[name]
    (tmp_path / "file").write_bytes(data)
    ran = run(tmp_path, "draft", "file", "-o", "plan.yaml", *SIZE)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith(f"file  {said}")
    assert not (tmp_path / "plan.yaml").exists()


def test_folders_and_devices_are_refused(tmp_path: Path) -> None:
    for name, said in ((".", "is a folder."), (os.devnull, "is not a regular file."), ("away.png", "is not there.")):
        ran = run(tmp_path, "draft", name, *SIZE)
        assert ran.code == 2
        assert said in ran.err


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_every_way_of_keeping_pixels_is_read_alike(tmp_path: Path, mode: str) -> None:
    """A picture half black, half white."""
    grey = np.zeros((40, 40), np.uint8)
    grey[:, 20:] = 255
    image = Image.fromarray(grey.astype(np.uint16) * 257) if mode == "I;16" else Image.fromarray(grey)
    image = image.convert(mode) if mode != "I;16" else image
    image.save(tmp_path / "grey.png")
    codes = opened(tmp_path / "grey.png").codes
    assert codes.shape == (40, 40, 3)
    assert codes[:, :20].max() == 0
    assert codes[:, 20:].min() == 255


def test_a_colour_profile_that_is_none_is_passed_over(tmp_path: Path) -> None:
    Image.fromarray(boat()).save(tmp_path / "odd.png", icc_profile=b"no profile at all")
    assert np.array_equal(opened(tmp_path / "odd.png").codes, boat())


def test_a_colour_profile_says_what_its_codes_mean(tmp_path: Path) -> None:
    """The profile of sRGB with the columns of red and blue exchanged: what it calls red is blue (ICC.1, the tags
    rXYZ and bXYZ)."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    turned = profile.replace(b"rXYZ", b"????").replace(b"bXYZ", b"rXYZ").replace(b"????", b"bXYZ")
    Image.new("RGB", (9, 9), (255, 0, 0)).save(tmp_path / "turned.png", icc_profile=turned)
    assert opened(tmp_path / "turned.png").codes.reshape(-1, 3).mean(axis=0) == pytest.approx([0, 0, 255], abs=2)


RUN = """
import sys
from companion.cli import main
code = main(sys.argv[1:])
status = open("/proc/self/status").read()
print(int(status.partition("VmHWM:")[2].split()[0]) / 1024)
sys.exit(code)
"""
"""The system keeps the most memory of this very program there; what ``resource`` tells may be its parent's."""


def taken(folder: Path, picture: str, *words: str) -> tuple[int, float, float]:
    """Exit code, processor seconds and megabytes."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "ROWSIDE_HOME": str(folder), "OPENBLAS_NUM_THREADS": "1"}
    done = subprocess.run(
        [sys.executable, "-c", RUN, "draft", picture, "-o", "plan.yaml", *words], cwd=folder, env=environment,
        stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, timeout=300,
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return done.returncode, seconds, float(done.stdout.split()[-1])


@pytest.mark.skipif(sys.platform != "linux", reason="memory is told in /proc")
def test_fifty_million_pixels_take_less_than_600_megabytes(tmp_path: Path) -> None:
    codes = np.zeros((7070, 7070, 3), np.uint8)
    codes[:, ::2] = 200
    Image.fromarray(codes).save(tmp_path / "large.png", compress_level=1)
    code, seconds, megabytes = taken(tmp_path, "large.png", *SIZE)
    assert code == 0
    assert megabytes < 600
    assert seconds < 30


@pytest.mark.skipif(sys.platform != "linux", reason="memory is told in /proc")
def test_noise_on_the_largest_chart_takes_bounded_time_and_memory(tmp_path: Path) -> None:
    codes = np.random.default_rng(1).integers(0, 256, (250, 250, 3), np.uint8)
    Image.fromarray(codes).save(tmp_path / "noise.png")
    words = ("--stitches", "168", "--gauge", "20x28", "--colours", "12")
    code, seconds, megabytes = taken(tmp_path, "noise.png", *words)
    assert code == 0
    assert megabytes < 300
    assert seconds < 40  # a quarter of it where nothing else is at work
