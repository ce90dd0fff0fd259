"""Edges of a section that words shape: they lie along the edges of its outline, and beside an opening there are none.
Every fabric is drawn by hand."""

from __future__ import annotations

from companion.knitting.cloth.fabric import cells
from companion.plan.read import Loaded
from tests.plan.plans import HEAD, problems_of, read

ROWS = HEAD + "  g: {yarn: sand, stitch: garter}\nrows:\n"

BELOW = "  - plain: {rows: 2, stitches: 10, yarn: brick}\n"


def loaded(sections: str) -> Loaded:
    return read(ROWS + BELOW + sections)


def picture(sections: str) -> list[str]:
    """The picture above the two rows that lie below, the top row first: a yarn's first letter, large in garter."""
    found = []
    for row in loaded(sections).piece.fabric.picture[2:]:
        letters = [
            "." if cell is None else cell.yarn[0].upper() if cell.texture.kind == "garter" else cell.yarn[0]
            for cell in cells(row)
        ]
        found.append("".join(reversed(letters)))
    return found[::-1]


NARROWER = "    shape: [bind off 3 at beg of next 2 rows (4 sts), work 1 row even]\n"


def test_edges_lie_along_the_edges_that_words_shape() -> None:
    plain = "  - plain: {yarn: brick}\n    edges: {stitches: 1, yarn: sand, stitch: garter}\n" + NARROWER
    assert picture(plain) == ["...SbbS...", "...SbbS...", "SbbbbbS..."]
    field = plain.replace("plain", "field")
    assert picture(field) == picture(plain)


def test_edges_may_differ_and_one_may_be_missing() -> None:
    left = "  - plain: {yarn: brick}\n    edges: {left: {stitches: 2, yarn: sand, stitch: garter}}\n" + NARROWER
    assert picture(left) == ["...SSbb...", "...SSbb...", "SSbbbbb..."]


def test_a_chart_lies_between_its_edges_as_wide_as_the_shape_is_without_them() -> None:
    """Column 1 of the chart is column 2 of the section; what lies under an edge further up is not knitted."""
    chart = "  - chart: |\n      sbsbsbsb\n    repeat: 3\n    edges: {stitches: 1, yarn: sand, stitch: garter}\n"
    assert picture(chart + NARROWER) == ["...SbsS...", "...SbsS...", "SsbsbsS..."]


def test_a_first_section_is_cast_on_with_its_edges() -> None:
    first = (
        "  - plain: {yarn: brick, stitches: 4}\n    edges: {stitches: 1, yarn: sand, stitch: garter}\n"
        "    shape: [work 1 row even, inc 1 at each end of the next row (8 sts)]\n"
    )
    rows = read(ROWS + first).piece.fabric.rows
    assert [row.stitches for row in rows] == [6, 8]


def test_parts_have_an_edge_at_their_outer_side_alone() -> None:
    neck = (
        "  - plain: {yarn: brick}\n    opening: {first: right}\n"
        "    edges: {stitches: 1, yarn: sand, stitch: garter}\n    shape:\n"
        "      - bind off the middle 2 sts\n      - Right part: work 1 row even, bind off all sts\n"
        "      - Left part: work 1 row even, dec 1 at the outer edge of the next row\n"
    )
    assert picture(neck) == [".Sbb......", "Sbbb..bbbS"]


def test_edges_without_a_yarn_take_the_one_that_a_chart_has_beside_them() -> None:
    chart = "  - chart: |\n      sssssbbb\n      sssssbbb\n    edges: {stitches: 1, stitch: garter}\n"
    assert picture(chart + "    shape: dec 1 at each end of the next row\n") == [".SssssbbB.", ".SssssbbB."]


def test_a_hole_is_looked_for_between_the_edges_in_a_left_part_too() -> None:
    """Column 6 of the chart is column 7 of the section, the left part's first; column 1 lies under no edge of it."""
    chart = (
        "  - chart: |\n      ss.b.bbb\n    opening: {first: right}\n    edges: {stitches: 1, yarn: sand}\n"
        "    shape: ['bind off the middle 2 sts, Both parts: work 1 row even']\n"
    )
    [told] = [one for one in problems_of(ROWS + BELOW + chart) if not one.is_warning]
    assert told.what == (
        'Row 1 of this section, counted from the bottom, has "." in column 6 from the right, where its shape has a '
        "stitch."
    )


def test_a_chart_whose_edges_follow_its_shape_is_not_painted_stitch_by_stitch() -> None:
    plan = loaded("  - chart: |\n      bbbbbbbb\n      bbbbbbbb\n    edges: {stitches: 1, yarn: sand}\n"
                  "    shape: dec 1 at each end of the next row\n")  # fmt: skip
    assert not plan.drawings
    assert plan.fixed[-1].why == "This chart has edges that follow its shape: change it in the plan."
