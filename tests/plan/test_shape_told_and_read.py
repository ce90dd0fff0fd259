"""The shape of any piece, told in words and read again, is the same outline; and a plan that is shaped by those words
is the plan in which the outline is drawn."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import groupby

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import FabricRow, Stitch, cells
from companion.knitting.cloth.outlines import Span, openings, span
from companion.knitting.cloth.rows import Rows
from companion.knitting.piece import Piece
from companion.knitting.words.shape import ShapeTold, shape_of
from companion.knitting.words.terms import Terms
from companion.plan.demo import TOLD, demo_folder
from companion.plan.read import load, load_text
from companion.plan.shape import Outline, ShapeReader
from companion.problems import Problems
from tests.knitting.shaped import Shaped, shaped

US, UK = Terms(), Terms("uk")
FOLDER = demo_folder()
assert FOLDER is not None


def read_again(rows: Rows, terms: Terms) -> Outline:
    """The outline that the words of a piece give, every line of them, those that say which part is meant as well."""
    told = list(shape_of(rows, terms))
    reader = ShapeReader(0, is_first=True, is_right=True)
    outline = reader.read([turned(one) for one in told] if rows.is_mirrored else [text(one) for one in told])
    assert [str(one.amiss) for one in reader.amiss] == []
    behind = [each[0].stitches for one, each in zip(told, reader.after, strict=True) if isinstance(one, ShapeTold)]
    assert behind == [one.stitches for one in told if isinstance(one, ShapeTold)]
    return outline


def text(one: ShapeTold | str) -> str:
    return one if isinstance(one, str) else one.text


def turned(one: ShapeTold | str) -> str:
    """A line as it is told of the same piece turned round, left for right."""
    other = {"Right part": "Left part", "Left part": "Right part"}
    return re.sub("|".join(other), lambda found: other[found[0]], text(one))


def same(rows: Rows, outline: Outline) -> bool:
    """Whether these are the rows of an outline. Worked mirrored, hands begin right-side rows at the other edge."""
    at, first = span(rows[0]), outline.rows[0].right
    for level, row in zip(rows.fabric.levels, outline.rows, strict=True):
        rights = [(one.right - first, one.right - first + one.stitches - 1) for one in row.each]
        if rows.is_mirrored:
            wanted = {Span(at.last - past, at.last - right) for right, past in rights}
        else:
            wanted = {Span(at.first + right, at.first + past) for right, past in rights}
        if {span(rows[index]) for index in level} != wanted:
            return False
    return True


@given(shaped(("outline", "divided"), max_rows=12), st.sampled_from([US, UK]))
def test_the_words_of_an_outline_read_again_give_the_same_outline(one: Shaped, terms: Terms) -> None:
    rows = one.rows()
    assert same(rows, read_again(rows, terms))


@pytest.mark.parametrize("name", [name for name in TOLD if name != "breakwater-cowl"])
@pytest.mark.parametrize("terms", [US, UK], ids=["US", "UK"])
def test_the_words_of_every_flat_demo_give_its_outline(name: str, terms: Terms) -> None:
    rows = load(FOLDER / f"{name}.yaml").piece.rows
    assert same(rows, read_again(rows, terms))


def in_words(one: Shaped, says_middle: bool) -> str:
    """The plan of an outline in which a rectangle is drawn, and words take away what lies outside. The section that
    divides says itself what becomes of the middle, or its words alone do."""
    drawn, rows = one.text(), one.rows()
    signs: dict[Stitch | None, str] = {}
    for *_, own in one.rows_told:
        for cell in own:
            signs.setdefault(cell, chr(ord("a") + len(signs)))
    fills = next(sign for cell, sign in signs.items() if cell)
    spans = [span(row) for row in rows]
    right, left = min(each.first for each in spans), max(each.last for each in spans)
    lines = [
        "".join(signs[cell] if cell else fills for cell in list(cells(row))[right - 1:left][::-1])
        for row in reversed(rows.fabric.picture)
    ]
    firsts = [part for part, _ in groupby(part for part, *_ in one.rows_told) if part][:1]
    middle = f", middle: {'held' if one.is_middle_held else 'bound off'}" if says_middle else ""
    return (
        drawn[:drawn.index("rows:\n") + 6] + "  - chart: |\n" + "".join(f"      {line}\n" for line in lines)
        + "".join(f"    opening: {{first: {first}{middle}}}\n" for first in firsts)
        + "    shape:\n" + "".join(f"      - \"{line}\"\n" for line in words(rows))
    )  # fmt: skip


def words(rows: Rows) -> list[str]:
    """The lines of a shape; a part that is not as high as the section ends with what binds it off."""
    lines, last = list[str](), len(rows.fabric.levels) - 1
    for one in shape_of(rows, US):
        lines.append(text(one))
        if isinstance(one, ShapeTold) and rows[one.last].part and not rows.following(one.last):
            lines += [f"Bind off all {one.stitches} sts."] * (rows.fabric.level(one.last) < last)
    return lines


@given(shaped(("outline", "divided"), max_rows=10), st.booleans())
def test_a_plan_shaped_in_words_is_the_plan_in_which_the_outline_is_drawn(one: Shaped, says_middle: bool) -> None:
    one = replace(one, rows_told=tuple(
        (part, way, tuple(cell and cell._replace(texture=cell.texture._replace(kind="stockinette")) for cell in row))
        for part, way, row in one.rows_told
    ), is_mirrored=False)  # fmt: skip
    firsts = [part for part, _ in groupby(part for part, *_ in one.rows_told) if part]
    assume(len(firsts) <= 2)  # one opening, as each may begin with another part
    try:
        drawn = load_text(one.text(), "quay.yaml", {}).piece
    except Problems:  # what was drawn for left hands, or is too narrow
        return
    worded = load_text(in_words(one, says_middle), "quay.yaml", {}).piece
    assert [row.key for row in worded.rows] == [row.key for row in drawn.rows]
    assert worded.fabric.held == drawn.fabric.held or not gaps(drawn)
    assert [trimmed(row) for row in worded.fabric.rows] == [trimmed(row) for row in drawn.fabric.rows]
    assert [span(row).first - span(worded.rows[0]).first for row in worded.rows] == [
        span(row).first - span(drawn.rows[0]).first for row in drawn.rows
    ]


def gaps(piece: Piece) -> bool:
    """Whether stitches lie between the parts where a piece divides."""
    return any(opening.middle for opening in openings(piece.rows))


def trimmed(row: FabricRow) -> list[Stitch]:
    return [cell for cell in cells(row) if cell]
