"""Where the demo plans lie: in the package when it is installed, beside it when it is worked on."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

SCHEMA_FILE = "plan.schema.json"
"""Lies beside the demo plans, and tells their folder from another one of the same name."""


TOLD: Mapping[str, str] = MappingProxyType({
    "swatch": "24 sts x 32 rows, 3 yarns; every kind of change, in one evening",
    "mooring-mat": "30 sts x 42 rows, 2 yarns; a first picture, strands joined, carried and cut",
    "bollard-coaster": "22 sts x 24 rows, 2 yarns; two strands of the ground share a run, and part again",
    "sailing-headband": "60 sts x 22 rows, 4 yarns; a thick yarn, and one picture in three sizes",
    "anchor-pennant": "46 sts x 90 rows, 3 yarns; shaped at both edges from its point up, one block on a ground",
    "wrist-warmer-right": "40 sts x 60 rows, 3 yarns; rounds, a slit for the thumb, small areas sewn on",
    "wrist-warmer-left": "40 sts x 60 rows, 3 yarns; the other of a pair, by turning a plan round",
    "breakwater-cowl": "100 sts x 54 rows, 6 yarns; a tube, its picture worked flat and sewn up",
    "gull-on-the-quay": "70 sts x 121 rows, 9 yarns; a picture drafted from a drawing, with a border",
    "harbour-light-cushion": "80 sts x 112 rows, 7 yarns; a large picture, many strands at once",
    "ferry-jumper-front": "62 sts x 98 rows, 5 yarns; armholes and a neck, worked in two parts",
})  # fmt: skip
"""The demo plans, easiest first: how large each is, in how many yarns, and what it teaches. Kept here because nobody
waits until all of them are read."""


def demo_folder() -> Path | None:
    """The folder of the demo plans; None where they were left out of the installation."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "demo", package.parent / "plans"):
        if (folder / SCHEMA_FILE).is_file():
            return folder
    return None


def demo_classes() -> tuple[Path, ...]:
    """The demo classes' files, in a folder of their own beside the demo plans."""
    folder = demo_folder()
    return tuple(sorted((folder / "classes").glob("*.yaml"))) if folder else ()


def demo_plans() -> tuple[Path, ...]:
    """The demo plan files, easiest first."""
    folder, order = demo_folder(), list(TOLD)
    found = sorted(folder.glob("*.yaml")) if folder else []
    return tuple(sorted(found, key=lambda path: order.index(path.stem) if path.stem in order else len(order)))
