"""Sections whose shape is told in words: as wide as what lies below, laid over what is drawn, and what is amiss told
at its word in its line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.knitting.cloth.fabric import Run, Stitch, cells, merged
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.outlines import span
from companion.plan.drawing import repainted
from companion.plan.nodes import Text
from companion.plan.outline import for_hands
from companion.plan.packed import pack, unpack
from companion.plan.read import Loaded
from companion.plan.shaped import shape_lines
from companion.plan.source import Source
from tests.plan.plans import HEAD, problems_of, read

ROWS = HEAD + "rows:\n"
"""Ten lines; the sections begin on line 11."""

BELOW = "  - plain: {rows: 2, stitches: 8, yarn: brick}\n"


def outline(sections: str) -> list[str]:
    """The fabric as it looks from the right side, the top row first, "." where no stitch is."""
    return drawn(read(ROWS + sections))


def drawn(loaded: Loaded) -> list[str]:
    fabric = loaded.piece.fabric
    symbols = {yarn.name: yarn.symbol for yarn in loaded.piece.yarns}
    rows = [[symbols[cell.yarn] if cell else "." for cell in cells(row)] for row in fabric.rows]
    assert {len(row) for row in rows} == {fabric.columns}
    return ["".join(reversed(row)) for row in reversed(rows)]


def amiss(sections: str, **files: str) -> list[tuple[int, int, str, str]]:
    """Line, column, what is told of sections that cannot be read, and how to mend it; no warnings."""
    found = problems_of(ROWS + sections, {f"{name}.txt": text for name, text in files.items()})
    return [(one.line, one.column, one.what, one.mend) for one in found if not one.is_warning]


def test_what_is_bound_off_and_decreased_is_not_there_above() -> None:
    """Rows 3 and 4 bind off three each where they begin, row 5 decreases at both edges."""
    assert outline(
        "  - plain: {rows: 2, stitches: 12, yarn: sand}\n"
        "  - plain: {yarn: brick}\n"
        "    shape:\n"
        "      - bind off 3 at the beginning of the next 2 rows (6 sts)\n"
        "      - dec 1 at each end of the next row\n"
        "  - plain: {rows: 1, yarn: sand}\n"
    ) == ["....ssss....", "....bbbb....", "...bbbbbb...", "bbbbbbbbb...", "ssssssssssss", "ssssssssssss"]


def test_a_section_may_widen_beyond_those_below_it() -> None:
    """Row 7 is a right-side row and begins at the right edge."""
    assert outline(
        "  - plain: {rows: 2, stitches: 4, yarn: sand}\n"
        "  - plain: {yarn: brick}\n"
        "    shape: inc 1 at each end of every other row twice, cast on 3 at the beginning of the next row\n"
        "  - chart: sbbbsbbbsss\n"
    ) == [
        "sbbbsbbbsss", "bbbbbbbbbbb", "bbbbbbbb...", ".bbbbbb....", ".bbbbbb....", "..bbbb.....", "..ssss.....",
        "..ssss.....",
    ]  # fmt: skip


def test_a_chart_is_repeated_over_its_shape_which_is_that_of_all_its_rows() -> None:
    assert outline(
        "  - chart: |\n      bbss\n      ssbb\n    across: 2\n    repeat: 2\n"
        "    shape:\n      - work 1 row even\n      - dec 1 at the right edge of every RS row once (7 sts)\n"
        "  - plain: {rows: 1, yarn: brick}\n"
    ) == ["bbbbbbb.", "bbssbbs.", "ssbbssb.", "bbssbbss", "ssbbssbb"]


def test_a_square_of_garter_ridges_is_two_rows_of_the_shape() -> None:
    assert outline(
        BELOW + "  - chart: |\n      bbbbssss\n      ssssbbbb\n    rows_per_square: 2\n"
        "    shape: dec 1 at each end of every WS row twice\n"
    ) == ["..bbss..", ".bbbsss.", ".sssbbb.", "ssssbbbb", "bbbbbbbb", "bbbbbbbb"]


def test_what_is_drawn_beside_the_shape_is_not_knitted_and_need_not_be_drawn() -> None:
    for right in ("bb", ".."):
        chart = f"  - chart: |\n      ..ssss{right}\n      ..ssbb..\n"
        assert outline(BELOW + chart + "    shape: dec 2 at each end of the next row\n") == [
            "..ssss..", "..ssbb..", "bbbbbbbb", "bbbbbbbb",
        ]  # fmt: skip


def test_a_motif_lies_on_a_field_as_wide_as_its_widest_row() -> None:
    text = ROWS + (
        "  - plain: {rows: 1, stitches: 4, yarn: sand}\n  - field: {yarn: sand}\n"
        "    shape: inc 1 at each end of every row 2 times\n"
        "    motifs:\n      - {from: boat.txt, right: 1, bottom: 0}\n"
    )
    assert drawn(read(text, {"boat.txt": "bbbb\n.b.b"})) == ["sssbbbbs", ".sssbsb.", "..ssss.."]


def test_a_chart_turned_round_keeps_its_shape() -> None:
    assert outline(
        BELOW + "  - chart: ssssssbb\n    mirror: true\n    shape: dec 1 at the right edge of the next row\n"
    ) == ["bbsssss.", "bbbbbbbb", "bbbbbbbb"]


def test_the_first_chart_begins_with_what_its_widening_leaves() -> None:
    """Two stitches come in rows 2 and 3 each, so that a chart of eight is cast on with four."""
    loaded = read(
        ROWS + "  - chart: |\n      sbbbbbbs\n      sbbbbbbs\n      sbbbbbbs\n"
        "    shape:\n      - work 1 row even (4 sts)\n      - inc 1 at each end of every row 2 times (8 sts)\n"
    )
    assert drawn(loaded) == ["sbbbbbbs", ".bbbbbb.", "..bbbb.."]


@pytest.mark.parametrize(("kind", "faces"), [("{rib: [2, 2]}", "kkpp"), ("{rib: [3, 1]}", "kkkp"), ("seed", "kpkp")])
def test_ribs_and_seed_stitch_are_counted_from_the_cast_on(kind: str, faces: str) -> None:
    """Three stitches come on the right of it above, which would move them."""
    row = read(
        ROWS + f"  - plain: {{rows: 1, stitches: 4, yarn: sand, stitch: {kind}}}\n"
        "  - plain: {yarn: brick}\n    shape: work 1 row even, cast on 3 at the beginning of the next 2 rows\n"
    ).piece.rows[0]
    right, left = span(row)
    stitches = [(column, row.stitch_at(column)) for column in range(right, left + 1)]
    assert right == 4
    assert "".join("k" if one and looks_knit(row, one.texture, at) else "p" for at, one in stitches) == faces


def test_a_left_handed_knitter_binds_off_a_row_later() -> None:
    shape = "    shape: bind off 3 at the beginning of the next 2 rows\n"
    piece = read(ROWS + BELOW + "  - plain: {rows: 4, yarn: sand}\n" + shape).piece
    assert [row.stitches for row in piece.rows] == [8, 8, 5, 2, 2, 2]
    assert [row.stitches for row in for_hands(piece, is_mirrored=True).rows] == [8, 8, 8, 5, 2, 2]


def test_a_stitch_is_painted_where_it_stands_in_a_shaped_chart() -> None:
    """The chart lies two columns in from the widest row, and its outer squares are not knitted."""
    loaded = read(
        ROWS + "  - chart: |\n      ssss\n      ssss\n"
        "    shape: work 1 row even, dec 1 at the left edge of the next row\n"
        "  - plain: {yarn: brick}\n    shape: cast on 2 at the beginning of the next 2 rows\n"
    )
    fabric = loaded.piece.fabric
    stitches = list(cells(fabric.rows[1]))
    assert [at for at, one in enumerate(stitches) if one] == [2, 3, 4]
    stitches[3] = Stitch("brick")
    row = fabric.rows[1]._replace(runs=merged(Run(1, one) for one in stitches))
    painted = repainted(loaded, replace(fabric, rows=(fabric.rows[0], row, *fabric.rows[2:])))
    assert painted == loaded.text.replace("      ssss\n", "      ssbs\n", 1)


def test_a_shaped_piece_is_packed_and_unpacked_as_it_is() -> None:
    piece = read(ROWS + BELOW + "  - plain: {yarn: sand}\n    shape: inc 1 each end of every row twice\n").piece
    assert unpack(pack(piece)) == piece


def test_the_words_may_be_a_list_a_block_or_a_line_and_a_block_may_have_notes() -> None:
    words = ("bind off 3 at beg of next 2 rows (2 sts)", "work 2 rows even")
    ways = [
        "    shape:\n" + "".join(f"      - {line}   # a note\n" for line in words),
        "    shape: |\n" + "".join(f"      {line}   # a note\n" for line in (*words, "", "# more")),
        f"    shape: [{', '.join(words)}]\n",
        f"    shape: {'; '.join(words)}\n",
        "    shape: >\n" + "".join(f"      {line}.\n" for line in words),
        "    shape:\n" + "".join(f'      - "{line}"\n' for line in words),
    ]
    found = {tuple(outline(BELOW + "  - plain: {yarn: sand}\n" + way)) for way in ways}
    assert found == {("...ss...", "...ss...", "...ss...", "sssss...", "bbbbbbbb", "bbbbbbbb")}


@pytest.mark.parametrize(
    ("shape", "line", "column"),
    [
        ("    shape:\n      - work 1 row even\n      - work 2 rows evn\n", 15, 21),
        ('    shape:\n      - "work 2 rows evn"\n', 14, 22),
        ("    shape: |\n      work 1 row even\n\n        work 2 rows evn\n", 16, 21),
        ("    shape: work 2 rows evn\n", 13, 24),
        ("    shape: [work 1 row even, work 2 rows evn]\n", 13, 42),
        ("    shape:\n      - work 2 rows\n        evn\n", 14, 0),  # two lines of the file are one of words
    ],
)
def test_what_is_amiss_is_told_at_its_word(shape: str, line: int, column: int) -> None:
    told = amiss(BELOW + "  - plain: {yarn: sand}\n" + shape)
    assert told == [(line, column, '"evn" is not understood here.', 'Did you mean "even"?')]


def test_an_outline_that_is_too_narrow_is_told_at_the_words_that_make_it() -> None:
    [told] = amiss(
        "  - plain: {rows: 2, stitches: 3, yarn: sand}\n  - plain: {yarn: brick}\n    shape:\n"
        "      - work 1 row even\n      - dec 1 at each end of next row\n"
    )
    assert told == (
        15, 9, "Row 2 of this section, counted from the bottom (row 4 of the piece), is too narrow for what is made "
        "and lost at both its edges.", "Shape one of them a row later.",
    )  # fmt: skip


MOTIF = "    motifs:\n      - {from: boat.txt, right: 5, bottom: 0}\n"


@pytest.mark.parametrize(
    ("sections", "line", "what", "mend"),
    [
        ("  - plain: {yarn: sand}\n    shape: work 1 row even\n", 11,
         "Nothing says how many stitches this section begins with.",
         'Write "stitches: 60" in it, or begin its shape with "cast on 60 sts".'),
        ("  - plain: {yarn: sand, stitches: 8}\n    shape: cast on 7 sts, work 1 row even\n", 11,
         "This section says that it begins with 8 stitches, and there are 7.", 'Leave "stitches" out.'),
        (BELOW + "  - plain: {yarn: sand, stitches: 6}\n    shape: work 1 row even\n", 12,
         "This section says that it begins with 6 stitches, and there are 8.", 'Leave "stitches" out.'),
        (BELOW + "  - chart: ssss\n    shape: bind off 4 at the beginning of the next row\n", 12,
         "This chart is 4 stitches wide; its shape begins with 8.",
         "Draw it 8 wide: what lies beside the shape is not knitted."),
        (BELOW + "  - chart: ssssssss\n    shape: inc 1 at each end of the next row\n", 12,
         "This chart is 8 stitches wide; its shape begins with 8, and all its rows together take up 10.",
         "Draw it 10 wide: what lies beside the shape is not knitted."),
        (BELOW + "  - chart: |\n      ssssssss\n      sssss.ss\n    shape: dec 1 at each end of next row\n", 12,
         'Row 1 of this section, counted from the bottom, has "." in column 3 from the right, where its shape has a '
         "stitch.", "Draw a stitch there, or let the shape take it away."),
        (BELOW + "  - plain: {yarn: sand}\n    repeat: 2\n    shape: work 1 row even\n", 12,
         'This section has "repeat", and its "shape" alone says how many rows it has.', 'Leave "repeat" out.'),
        (BELOW + "  - plain: {yarn: sand}\n    edges: {stitch: garter}\n    shape: work 1 row even\n", 12,
         'This section has "shape", and its "edges" do not say how wide they are.',
         "Such as edges: {stitches: 4, stitch: garter}."),
        (BELOW + "  - plain: {yarn: sand}\n    edges: {stitches: 3}\n    shape: dec 1 at each end of next 2 rows\n",
         14, "Row 2 of this section has 4 stitches, and its edges take 6.",
         "Make the edges narrower, or end them below."),
        (BELOW + "  - chart: ssssssss\n    edges: {stitches: 1}\n    shape: work 1 row even\n", 12,
         "This chart is 10 stitches wide with its edges; its shape begins with 8.",
         "Draw it 6 wide: what lies beside the shape is not knitted."),
        (BELOW + "  - chart: |\n      .sssss\n      ssssss\n    edges: {stitches: 1}\n    shape: work 1 row\n", 12,
         'Row 2 of this section, counted from the bottom, has "." in column 6 from the right, where its shape has a '
         "stitch.", "Draw a stitch there, or let the shape take it away."),
        (BELOW + "  - plain: {yarn: sand}\n    worked: round\n    shape: work 1 row even\n", 12,
         'This section has "shape" and is part of a tube, whose rows have no edges to shape.',
         "Only flat pieces are shaped."),
        (BELOW + "  - plain: {yarn: sand}\n    opening: {first: right, at: 4}\n    shape: work 1 row even\n", 12,
         'This section has "opening", and the words of its shape do not say where it divides.',
         'Such as "bind off the middle 12 sts", and then "Both parts:", or "Right part:" and "Left part:".'),
        (BELOW + "  - plain: {yarn: sand}\n    opening: {first: right, at: 4}\n    shape: 'Both parts: work 1 row'\n",
         12, 'The words of its shape say where this section divides, and so does "at".', 'Leave "at" out.'),
        (BELOW + "  - plain: {yarn: sand}\n    shape: 'work 1 row even. Both parts: work 1 row even'\n", 13,
         "These words divide the piece, and the section does not say which part is worked first.",
         'Write beside "shape": opening: {first: right}'),
        (BELOW + "  - plain: {yarn: sand}\n    opening: {first: right, middle: held}\n"
         "    shape: 'bind off the middle 2 sts. Both parts: work 1 row even'\n", 14,
         "By these words the middle is bound off, and by others in this section it is held.", "Mend one of them."),
        (BELOW + "  - plain: {yarn: sand}\n    opening: {first: right}\n"
         "    shape: 'Both parts: work 2 rows. Join the parts, work 1 row even. Both parts: work 1 row even'\n", 12,
         "This section divides more than once, and the parts of one opening lie side by side.",
         "Give every opening a section of its own."),
        (BELOW + "  - plain: {rows: 2, yarn: sand}\n    opening: {first: right, at: 4}\n"
         "  - plain: {yarn: sand}\n    shape: 'Both parts: work 1 row. Both parts joined: work 1 row even'\n", 14,
         "Two parts lie below side by side, and edges above are not shaped in words.",
         'Draw them with ".", or shape them in the section that divides.'),
        (BELOW + "  - plain: {yarn: sand}\n    opening: {first: right}\n    shape: 'Both parts: work 2 rows even'\n"
         "  - plain: {yarn: sand}\n    shape: 'Join the parts: work 1 row even'\n", 16,
         "The parts below lie side by side, and how high they are is told there.",
         "Join them in the section that divides."),
        (BELOW + "  - plain: {rows: 2, yarn: sand}\n    opening: {first: right, at: 4}\n"
         "  - plain: {yarn: sand}\n    shape: work 1 row even\n", 14,
         "Two parts lie below side by side, and edges above are not shaped in words.",
         'Draw them with ".", or shape them in the section that divides.'),
        (BELOW + "  - plain: {yarn: sand}\n    shape: (8 sts).\n", 13, "These words tell of no row.",
         'Such as "work 4 rows even".'),
        (BELOW + "  - plain: {rows: 2, yarn: sand}\n    shape: |\n      # a note alone\n", 12,
         "These words tell of no row.", 'Such as "work 4 rows even".'),
        (BELOW + "  - plain: {yarn: sand}\n    shape: {a: b}\n", 13, '"shape" must be lines of words.',
         'Such as "- bind off 3 at the beginning of the next 2 rows".'),
        (BELOW + "  - plain: {yarn: sand}\n    shape: []\n", 13, '"shape" must be lines of words.',
         'Such as "- bind off 3 at the beginning of the next 2 rows".'),
        (BELOW + "  - plain: {yarn: sand}\n", 12, '"plain" must say how many "rows" it has, or its "height".', ""),
        (BELOW + "  - field: {yarn: sand}\n    shape: dec 1 each end of every row 2 times\n" + MOTIF, 15,
         'This motif has 4 stitches; with "right: 5" it ends at 9, and the field has 8.',
         "Move it, or make the field larger."),
    ],
)  # fmt: skip
def test_what_does_not_go_together_is_told(sections: str, line: int, what: str, mend: str) -> None:
    [told] = amiss(sections, boat="bbbb\nbbbb")
    assert (told[0], *told[2:]) == (line, what, mend)


def test_sections_that_go_far_aside_make_no_piece_that_is_too_wide() -> None:
    """Each of two rows goes 1,999 columns to the left."""
    aside = (
        "  - plain: {yarn: sand}\n"
        "    shape: bind off 1999 at the beginning and cast on 1999 at the end of the next row\n"
    )
    even = "  - plain: {rows: 1, yarn: brick}\n"
    below = "  - plain: {rows: 2, stitches: 2000, yarn: brick}\n"
    [told] = amiss(below + aside + even + aside)
    assert told[2] == "This section is 5,998 stitches wide; a piece may be 4,000 wide."


def test_a_shape_that_cannot_be_read_hides_nothing_of_the_rest() -> None:
    told = amiss(
        BELOW + "  - plain: {yarn: sand}\n    shape: work 2 rows evn\n"
        "  - plain: {yarn: sand}\n    shape: work 2 rwos\n  - chart: sssq\n"
    )
    assert [line for line, *_ in told] == [13, 16]


def test_a_chart_above_armholes_is_painted_where_it_stands() -> None:
    """It is as wide as what is left on the needle, two columns in from the right edge of the piece."""
    text = (
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}, ink: {colour: black}}\n"
        "symbols: {s: sand, i: ink}\nrows:\n  - plain: {rows: 2, stitches: 8, yarn: ink}\n  - chart: ..ssss..\n"
        "  - chart: |\n      ssis\n      ssii\n"
    )
    plan = read(text)
    painted = in_other_yarns(plan.piece.fabric, {Cell(4, 5): "ink"})
    assert repainted(plan, painted) == text.replace("ssis", "siis")


def test_a_hole_within_the_shape_is_found_in_every_copy_of_a_chart() -> None:
    """Row 4 is the second time that the upper line is worked: its "." lies in the second of two charts side by side,
    the first of which the shape has taken away by then; of ridges it is rows 3 and 4."""
    lines = "  - chart: |\n      s.bb\n      ssbb\n"
    away = "    shape: bind off 3 at the right edge of the next row, dec 1 at the left edge of next row\n"
    [side] = amiss(BELOW + lines + "    across: 2\n" + away)
    assert side[2].startswith('Row 2 of this section, counted from the bottom, has "." in column 7 from the right')
    half = "  - chart: |\n      ss.bbbbb\n      ssssbbbb\n"
    [ridge] = amiss(BELOW + half + "    rows_per_square: 2\n    shape: work 1 row even\n")
    assert ridge[2].startswith('Row 3 of this section, counted from the bottom, has "." in column 6 from the right')


def test_above_rounds_a_shape_begins_with_a_right_side_row() -> None:
    piece = read(
        ROWS + "  - plain: {rows: 3, stitches: 8, yarn: sand}\n    worked: round\n"
        "  - plain: {yarn: brick}\n    shape: work 1 row even, dec 1 at each end of every RS row once\n"
    ).piece
    assert [(row.side, row.stitches) for row in piece.rows] == [("RS", 8)] * 4 + [("WS", 8), ("RS", 6)]


def test_a_shaped_piece_has_no_more_stitches_than_any_other() -> None:
    [told] = amiss(
        "  - plain: {rows: 999, stitches: 4000, yarn: sand}\n  - plain: {yarn: brick}\n    shape: work 2 rows even\n"
    )
    assert told[2] == "With this section the piece has 4,004,000 stitches; it may have 4,000,000."


def test_a_piece_that_goes_to_the_right_and_then_to_the_left_is_measured_whole() -> None:
    """1,500 stitches to the right in row 4, a wrong-side row, back in row 5, and 1,500 to the left in row 7."""
    aside = "bind off 1500 at the beginning and cast on 1500 at the end of the next row"
    shapes = (f"work 1 row even, {aside}", aside, f"work 1 row even, {aside}")
    [told] = amiss(
        "  - plain: {rows: 2, stitches: 2000, yarn: sand}\n"
        + "".join(f"  - plain: {{yarn: brick}}\n    shape: {shape}\n" for shape in shapes)
    )
    assert (told[0], told[2]) == (16, "This section is 5,000 stitches wide; a piece may be 4,000 wide.")


def test_a_field_with_a_shape_that_is_amiss_says_nothing_of_symbols() -> None:
    """Its motif was not read, and nobody knows what it uses."""
    found = problems_of(
        ROWS + BELOW + "  - field: {yarn: sand}\n    shape: work 2 rows evn\n" + MOTIF, {"boat.txt": "bbbb"}
    )
    assert [one.what for one in found] == ['"evn" is not understood here.']


def test_a_rib_that_widens_at_once_is_counted_from_its_cast_on() -> None:
    row = read(
        ROWS + "  - plain: {yarn: sand, stitches: 4, stitch: {rib: [2, 2]}}\n"
        "    shape: work 1 row even, cast on 3 at each end of the next row\n"
    ).piece.rows[0]
    stitches = [(column, row.stitch_at(column)) for column in range(4, 8)]
    assert "".join("k" if one and looks_knit(row, one.texture, at) else "p" for at, one in stitches) == "kkpp"


def test_a_first_section_may_say_its_width_in_its_words_alone() -> None:
    assert outline(
        "  - plain: {yarn: sand}\n    shape: cast on 4 sts, work 1 row even, inc 1 at each end of the next 2 rows\n"
        "  - plain: {rows: 1, stitches: 8, yarn: brick}\n"
    ) == ["bbbbbbbb", "ssssssss", ".ssssss.", "..ssss.."]


def test_a_shape_that_was_begun_as_a_section_is_told() -> None:
    assert amiss(BELOW + "  - shape: work 2 rows even\n") == [
        (12, 5, 'This section does not say what it is: "plain", "chart" or "field".',
         'Leave out its "- " where it belongs to the section above.'),
    ]  # fmt: skip


def test_words_that_do_not_stand_in_the_file_as_they_are_read_are_told_by_their_line() -> None:
    source = Source("quay.yaml", "shape: |\n  work 4 rows evn\n  work 2 (4, 6) rows evn\n")
    lines = shape_lines(Text("work 4 rows evn\nwork 2 rows evn\n", 1, 8, "|", 3), source)
    assert [line.place(12) for line in lines] == [(2, 15), (3, 0)]
