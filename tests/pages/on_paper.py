"""A hand-out made and read back: its page as an HTML parser that knows nothing of us sees it, and its chart as a
knitter reads it, letter by letter at the crossing of a row's number and a stitch's number."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any
from xml.etree.ElementTree import Element

import html5lib

from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms
from companion.knitting.words.paper import PAPER_PARTS
from companion.pages.hand_out.page import page
from companion.pages.hand_out.request import HandOut
from companion.progress.session import Session

ALL = tuple(PAPER_PARTS)


def not_begun(piece: Piece) -> Session:
    """A piece as planned, with no stitch worked."""
    return Session({1: piece}, 1, piece.carry, plan_strands(piece.rows, piece.carry).strands)


def handed(piece: Piece, *parts: str, terms: Terms = US, **asked: Any) -> str:
    """The page of a plan, all parts of it or these."""
    own = terms._replace(is_mirrored=piece.is_mirrored)
    return "".join(page(HandOut(not_begun(piece), own, parts or ALL, **asked)))


def tree(html: str) -> Element:
    """What a browser makes of a page, by the rules of the HTML standard; none of them may be broken.

    Raises:
        html5lib.html5parser.ParseError: one is.
    """
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    found: Element = parser.parse(html)
    return found


def name_of(element: Element) -> str:
    """An element's name without its namespace."""
    return str(element.tag).rpartition("}")[2]


def every(root: Element, name: str, kind: str = "") -> Iterator[Element]:
    """The elements of this name, and of this class."""
    for element in root.iter():
        if name_of(element) == name and (not kind or kind in element.get("class", "").split()):
            yield element


def text_of(element: Element) -> str:
    """All text in it, spaces as one."""
    return " ".join("".join(element.itertext()).split())


@dataclass
class Sheet:
    """A sheet of a chart, read. ``squares``: the letter by row, counted from the foot of this sheet from 0, and by
    stitch number. ``right``, ``left``: the numbers at its sides, by the same count. ``size``: of a square, in
    millimetres; ``corner``: where the squares begin on the sheet's drawing."""

    title: str
    columns: list[int]
    size: tuple[float, float]
    corner: tuple[float, float]
    height: int
    squares: dict[tuple[int, int], str] = field(default_factory=dict)
    right: dict[int, int] = field(default_factory=dict)
    left: dict[int, int] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def numbered(self) -> dict[tuple[int, int], str]:
        """The letters by the number at a row's side, and the stitch's own number."""
        of_row = {**self.left, **self.right}
        return {(of_row[row], column): letter for (row, column), letter in self.squares.items()}


def sheets(root: Element) -> list[Sheet]:
    """Every chart sheet of a page."""
    return [_sheet(one) for one in every(root, "section", "sheet") if list(every(one, "svg", "chart"))]


def _sheet(section: Element) -> Sheet:
    svg = next(every(section, "svg", "chart"))
    outer = next(iter(svg))
    corner = _numbers(outer.get("transform", ""))
    drawn = next(iter(outer))
    [mm] = _numbers(drawn.get("transform", ""))
    rows = list(every(drawn, "text"))
    lines = sorted({float(one.get("y", "")) for one in rows})
    high = min((b - a for a, b in pairwise(lines)), default=0.0) or _height(drawn)
    base = lines[0] % high
    letters = dict[tuple[int, int], str]()
    deepest = round((lines[-1] - base) / high)
    for one in rows:
        line = round((float(one.get("y", "")) - base) / high)
        for x, letter in zip(_numbers(one.get("x", "")), one.text or "", strict=True):
            assert (line, int(x // 10)) not in letters
            letters[line, int(x // 10)] = letter
    sides, foot, notes = (one for one in every(outer, "g", "numbers"))
    across = _foot(foot, mm)
    sheet = Sheet(
        text_of(next(one for one in section if name_of(one) in ("h1", "h2"))), across, (10 * mm, high * mm),
        (corner[0], corner[1]), deepest + 1,
    )
    for (line, x), letter in letters.items():
        sheet.squares[deepest - line, across[x]] = letter
    for one in sides:
        line = round((float(one.get("y", "")) - 0.36 * 2.6) / (high * mm) - 0.5)
        is_left = "end" in one.get("class", "")
        (sheet.left if is_left else sheet.right)[deepest - line] = int(re.sub(r"\D", "", text_of(one)))
    sheet.notes = [text_of(one) for one in notes]
    return sheet


def _height(drawn: Element) -> float:
    """A square's height where there is but one row: of the first box of a ground."""
    return float(re.findall(r"v([0-9.]+)", next(every(drawn, "path")).get("d", ""))[0])


def _foot(foot: Element, mm: float) -> list[int]:
    """The number of every column of squares from the left, told by two of those at the foot."""
    placed = {int(float(one.get("x", "")) / (10 * mm)): int(text_of(one)) for one in foot}
    wide = max(placed) + 1
    first = placed[0]
    step = -1 if placed[wide - 1] < first else 1
    found = [first + step * at for at in range(wide)]
    assert all(found[at] == number for at, number in placed.items())
    return found


def _numbers(text: str) -> list[float]:
    return [float(one) for one in re.findall(r"-?[0-9.]+", text)]
