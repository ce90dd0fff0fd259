"""Where a screen says that one is, read off it as eyes do."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

Place = tuple[int, str, int]
"""A row, the yarn of the run in work, and how many stitches of the row are still on the left needle; at a row's end
that asks for something no yarn and no stitch."""


class Shape(NamedTuple):
    """A piece of so many rows of as many stitches each, and the rows whose end asks for something that is marked
    done, with the first words of it."""

    rows: int
    stitches: int
    asks: Mapping[int, str]

    def shown(self, screen: str) -> Place | None:
        """The place a screen tells: the row on top, the yarn in the strip of runs, the rest beside the count; at a
        row's end what it asks for."""
        row, words = re.search(rf"^ Row (\d+) of {self.rows} ", screen), " ".join(screen.split())
        yarn = re.search(r"▶\S [^▶◀]*?(\w+)◀", screen)
        left = re.search(rf"\b(\d+) of {self.stitches} ", screen) or re.search(
            r" (\d+) (?:stitch(?:es)? on the left needle[;.]|on the left\.)", words
        )
        if row and (asks := self.asks.get(int(row[1]))) and asks in words and not yarn:
            return int(row[1]), "", 0
        return (int(row[1]), yarn[1], int(left[1])) if row and yarn and left else None
