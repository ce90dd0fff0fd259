"""Borders written round the sections of a plan."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from companion.drafts.bordered import Border, bordered
from companion.drafts.rows.sections import Line, drawn_stitches, sections
from companion.drafts.written import heading
from companion.knitting.cloth.fabric import Gauge, Stitch, Texture, Yarn
from companion.plan.read import load_text

YARNS = (Yarn("sand", "#d9c9a5", ""), Yarn("no: 2", "#a8432f", ""))
STITCHES = tuple(Stitch(yarn.name, Texture(kind)) for yarn in YARNS for kind in ("stockinette", "garter"))
SIGNS = ("a", "-", "c", "#")
TEXTURES = (Texture(), Texture("garter"), Texture("seed"), Texture("rib", (2, 1)))


@st.composite
def pictures(draw: st.DrawFn) -> list[tuple[Stitch, ...]]:
    """The rows of one, the lowest first, some of them alike and some of one stitch all over."""
    wide = draw(st.integers(2, 6))
    row = st.one_of(
        st.sampled_from(STITCHES).map(lambda stitch: (stitch,) * wide), st.tuples(*[st.sampled_from(STITCHES)] * wide)
    )
    blocks = draw(st.lists(st.tuples(row, st.sampled_from([1, 2, 5])), min_size=1, max_size=4))
    return [line for line, times in blocks for _ in range(times)]


@settings(max_examples=80, deadline=None)
@given(pictures(), st.sampled_from(TEXTURES), st.tuples(*[st.integers(0, 3)] * 3), st.sampled_from(YARNS))
def test_what_lies_within_a_border_is_what_was_there_and_all_round_it_is_the_border(
    picture: list[tuple[Stitch, ...]], texture: Texture, sizes: tuple[int, int, int], yarn: Yarn
) -> None:
    below, above, beside = sizes
    lines = [Line(row[::-1], False, 0) for row in picture]
    symbol = dict(zip(STITCHES, SIGNS, strict=True))
    drawn = {symbol[stitch]: stitch for stitch in drawn_stitches(lines, ())}
    head = heading("rows: 3", Gauge(Fraction(20), Fraction(28)), 3, YARNS, drawn, ["rows: these"])
    text = "\n".join([*head, *sections(lines, (), symbol)]) + "\n"
    wide = len(picture[0])
    loaded = load_text(bordered(text, Border(texture, below, above, beside), yarn.name, wide), "it", {})
    edge = Stitch(yarn.name, texture)
    around = [edge] * (wide + 2 * beside)
    found = [[run.stitch for run in row.runs for _ in range(run.columns)] for row in loaded.piece.fabric.rows]
    assert found == [
        *[around] * below, *[[edge] * beside + list(row) + [edge] * beside for row in picture], *[around] * above,
    ]  # fmt: skip
