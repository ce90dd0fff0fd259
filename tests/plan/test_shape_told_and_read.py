"""The shape of any piece, told in words and read again, is the same outline; and a plan that is shaped by those words
is the plan in which the outline is drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import FabricRow, Stitch, cells
from companion.knitting.cloth.outlines import Span, span, taken
from companion.knitting.cloth.rows import Rows
from companion.knitting.words.shape import ShapeTold, shape_of
from companion.knitting.words.terms import Terms
from companion.plan.demo import TOLD, demo_folder
from companion.plan.read import load, load_text
from companion.plan.shape import Outline, ShapeReader
from companion.problems import Problems
from tests.knitting.shaped import WIDTH, Shaped, shaped

US, UK = Terms(), Terms("uk")
FOLDER = demo_folder()
assert FOLDER is not None


def read_again(rows: Rows, terms: Terms) -> list[tuple[int, Outline]]:
    """The first row of each part, and the outline that its words give."""
    parts: list[list[ShapeTold]] = []
    for one in shape_of(rows, terms):
        if isinstance(one, str):
            parts.append([])
        else:
            parts[-1].append(one)
    found: list[tuple[int, Outline]] = []
    for part in parts:
        first, begun = part[0].first, taken(rows, part[0].first) if part[0].first else span(rows[0])
        begins = begun.last - begun.first + 1
        is_right = rows[first].side == "RS"
        reader = ShapeReader(begins, is_first=not first, is_right=is_right)
        found.append((first, reader.read([one.text for one in part])))
        assert [str(one.amiss) for one in reader.amiss] == []
        assert [after.stitches for after in reader.after] == [one.stitches for one in part]
    return found


def same(rows: Rows, first: int, outline: Outline) -> bool:
    """Whether the rows of a part from the first one on are those of an outline. Worked mirrored, the hands begin
    right-side rows at the other edge."""
    begun = taken(rows, first) if first else span(rows[0])
    for index, row in enumerate(outline.rows, first):
        right = row.right - outline.base
        own = Span(begun.first + right, begun.first + right + row.stitches - 1)
        if rows[index].is_mirrored:
            own = Span(begun.last - right - row.stitches + 1, begun.last - right)
        if own != span(rows[index]):
            return False
    return True


@given(shaped(("outline", "divided"), max_rows=12), st.sampled_from([US, UK]))
def test_the_words_of_an_outline_read_again_give_the_same_outline(one: Shaped, terms: Terms) -> None:
    rows = one.rows()
    found = read_again(rows, terms)
    assert sum(len(outline.rows) for _, outline in found) == len(rows)
    assert all(same(rows, first, outline) for first, outline in found)


@pytest.mark.parametrize("name", [name for name in TOLD if name != "breakwater-cowl"])
@pytest.mark.parametrize("terms", [US, UK], ids=["US", "UK"])
def test_the_words_of_every_flat_demo_give_its_outline(name: str, terms: Terms) -> None:
    rows = load(FOLDER / f"{name}.yaml").piece.rows
    found = read_again(rows, terms)
    assert sum(len(outline.rows) for _, outline in found) == len(rows)
    assert all(same(rows, first, outline) for first, outline in found)


def in_words(one: Shaped) -> str:
    """The plan of an outline in which a rectangle is drawn, and words take away what lies outside."""
    rows = one.rows()
    words = [told.text for told in shape_of(rows, US) if isinstance(told, ShapeTold)]
    drawn = one.text().splitlines(keepends=True)
    spans = [span(row) for row in rows]
    right, left = min(each.first for each in spans), max(each.last for each in spans)
    at = drawn.index("  - chart: |\n")
    fills = drawn[at + 1].strip().strip(".")[0]
    lines = [line.strip()[WIDTH - left:WIDTH - right + 1].replace(".", fills) for line in drawn[at + 1:]]
    shape = "".join(f"      - {line}\n" for line in words)
    return "".join(drawn[:at + 1]) + "".join(f"      {line}\n" for line in lines) + f"    shape:\n{shape}"


@given(shaped(("outline",), max_rows=10))
def test_a_plan_shaped_in_words_is_the_plan_in_which_the_outline_is_drawn(one: Shaped) -> None:
    one = replace(one, rows_told=tuple(
        (part, way, tuple(cell and cell._replace(texture=cell.texture._replace(kind="stockinette")) for cell in row))
        for part, way, row in one.rows_told
    ), is_mirrored=False)  # fmt: skip
    try:
        drawn = load_text(one.text(), "quay.yaml", {}).piece
    except Problems:  # what was drawn for left hands, or is too narrow
        return
    worded = load_text(in_words(one), "quay.yaml", {}).piece
    assert [trimmed(row) for row in worded.fabric.rows] == [trimmed(row) for row in drawn.fabric.rows]
    assert [span(row).first - span(worded.rows[0]).first for row in worded.rows] == [
        span(row).first - span(drawn.rows[0]).first for row in drawn.rows
    ]


def trimmed(row: FabricRow) -> list[Stitch]:
    return [cell for cell in cells(row) if cell]
