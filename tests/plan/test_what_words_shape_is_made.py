"""The outline that lines of words give is the fabric that a plan of them makes: every row of it, and its part."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import assume, given
from hypothesis import strategies as st

from companion.knitting.cloth.outlines import span
from companion.plan.read import load_text
from companion.plan.shape import Outline, ShapeReader
from companion.plan.shape_parts import Below
from companion.problems import Problems
from tests.plan.plans import HEAD

HEADINGS = ("Right part:", "Left part:", "Both parts:")
DONE = (
    "work 1 row even", "work 2 rows even", "dec 1 at the neck edge of the next row", "bind off 3 at the neck edge",
    "dec 1 at the outer edge of every RS row twice", "bind off 3 at the outer edge",
    "cast on 3 at the outer edge of next row", "inc 1 at the neck edge of the next 2 rows",
    "cast on 2 at the neck edge of the next row", "inc 1 each end of next row", "bind off all sts",
)  # fmt: skip
MIDDLES = ("bind off the middle 2 sts", "leave the middle 4 sts on a holder", "work 1 row even")


@st.composite
def divided(draw: st.DrawFn) -> list[str]:
    """Lines that divide a section and, perhaps, join its parts and divide it again."""
    lines = ["work 1 row even"]
    for _ in range(draw(st.integers(1, 2))):
        lines.append(draw(st.sampled_from(MIDDLES)))
        lines += draw(st.sampled_from([["Both parts:"], ["Right part: work 1 row even", "Left part:"]]))
        lines.append("work 1 row even")
        lines += draw(st.lists(st.sampled_from([*DONE, *HEADINGS]), max_size=4))
        if draw(st.booleans()):
            break
        lines += ["join the parts", "work 1 row even"]
    return lines


def outline_of(lines: Sequence[str], wide: int, *, is_right: bool, below: Below | None = None) -> Outline:
    """The outline of lines; of those in which nothing is amiss."""
    reader = ShapeReader(wide, is_first=False, is_right=is_right, parts=below)
    outline = reader.read(lines)
    assume(not reader.amiss)
    return outline


@given(divided(), st.lists(st.sampled_from([*DONE, *HEADINGS, "join the parts"]), max_size=3), st.integers(4, 7))
def test_every_row_is_made_as_the_words_shape_it(lines: list[str], more: list[str], half: int) -> None:
    wide = 2 * half
    outline = outline_of(lines, wide, is_right=True)
    rows = [(outline, row, 0) for row in outline.rows]
    last = outline.rows[-1]
    own = [(one.right - last.right, one.right + one.stitches - last.right) for one in last.each]
    if more and all(one.is_seen for one in outline.opened) and not (last.part and not last.beside):
        below = Below(own[0], own[1], False) if len(own) == 2 else None
        is_right = len(outline.rows) % 2 == 0
        above = outline_of(more, last.past - last.right, is_right=is_right, below=below)
        assume(above.rows and not above.opened)
        rows += [(above, row, last.right - outline.base) for row in above.rows]
    else:
        more = []
    text = HEAD + f"rows:\n  - plain: {{rows: 2, stitches: {wide}, yarn: sand}}\n"
    for words in filter(None, (lines, more)):
        opening = "    opening: {first: left}\n" if words is lines else ""
        text += f"  - plain: {{yarn: brick}}\n{opening}    shape: |\n" + "".join(f"      {line}\n" for line in words)
    try:
        piece = load_text(text, "quay.yaml", {}).piece
    except Problems:  # it lies beside itself, or divides right above where it was joined
        assume(False)
    base = span(piece.rows[0]).first
    for level, (of, row, right) in enumerate(rows, 2):
        wanted = {(one.part, right + one.right - of.base, one.stitches) for one in row.each}
        assert {
            (piece.rows[at].part, span(piece.rows[at]).first - base, piece.rows[at].stitches)
            for at in piece.fabric.levels[level]
        } == wanted  # fmt: skip
