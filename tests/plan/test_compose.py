"""Motifs on a ground, pieces turned round, heights in centimetres: what a plan composes."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.problems import Problem
from plans import HEAD, looks, problems_of, read

BOAT = ".b.\nbbb\n"
GULL = "b.\n.b\n"


def field(*motifs: str, rows: int = 4, stitches: int = 8, more: str = "") -> str:
    listed = "".join(f"      - {motif}\n" for motif in motifs)
    ground = f"  - field: {{rows: {rows}, stitches: {stitches}, yarn: sand}}\n"
    return HEAD + "rows:\n" + ground + ("    motifs:\n" + listed if motifs else "") + more


def test_motifs_lie_where_they_are_placed_and_the_ground_shows_through_them() -> None:
    text = field("{from: boat.txt, right: 1, bottom: 0}", "{from: gull.txt, right: 5, bottom: 2}")
    assert looks(read(text, {"boat.txt": BOAT, "gull.txt": GULL})) == [
        "sbssssss",
        "ssbsssss",
        "sssssbss",
        "ssssbbbs",
    ]


def test_a_motif_is_turned_round_and_set_side_by_side() -> None:
    text = field("{from: gull.txt, right: 2, bottom: 1, mirror: true, across: 3}")
    assert looks(read(text, {"gull.txt": GULL})) == ["ssssssss", "sbsbsbss", "bsbsbsss", "ssssssss"]


def test_a_field_without_motifs_is_plain() -> None:
    assert looks(read(field(rows=2, stitches=3))) == ["sss", "sss"]


@pytest.mark.parametrize(
    ("motif", "what"),
    [
        ("{from: boat.txt, right: 6, bottom: 0}",
         'This motif has 3 stitches; with "right: 6" it ends at 9, and the field has 8.'),
        ("{from: boat.txt, right: 0, bottom: 0, across: 3}",
         'This motif has 9 stitches; with "right: 0" it ends at 9, and the field has 8.'),
        ("{from: boat.txt, right: 0, bottom: 3}",
         'This motif has 2 rows; with "bottom: 3" it ends at 5, and the field has 4.'),
    ],
)  # fmt: skip
def test_a_motif_that_does_not_fit_its_ground_is_told(motif: str, what: str) -> None:
    (only,) = wrong(field(motif), {"boat.txt": BOAT})
    assert (only.line, only.what, only.mend) == (13, what, "Move it, or make the field larger.")


def test_two_motifs_that_draw_the_same_stitch_are_told() -> None:
    text = field("{from: boat.txt, right: 1, bottom: 0}", "{from: boat.txt, right: 3, bottom: 0}")
    (only,) = wrong(text, {"boat.txt": BOAT})
    assert (only.line, only.what) == (
        14,
        "This motif lies over the one of line 13: both draw stitch 4 of row 1 of the field, counted from the right "
        "and from the bottom.",
    )


def test_too_many_motifs_are_refused() -> None:
    text = field(*["{from: boat.txt, right: 0, bottom: 0}"] * 501)
    (only,) = wrong(text, {"boat.txt": BOAT})
    assert only.what == "There are 501 motifs; a field may have 500."


def test_the_ground_shows_only_through_motifs() -> None:
    (only,) = wrong(HEAD + "rows:\n  - chart: s.b\n")
    assert 'has "."' in only.what


def wrong(text: str, files: Mapping[str, str] | None = None) -> list[Problem]:
    """What is to be mended."""
    return [problem for problem in problems_of(text, files) if not problem.is_warning]


cells = st.lists(st.text(".b", min_size=3, max_size=3), min_size=1, max_size=4)


@given(cells, st.integers(0, 3), st.integers(0, 3))
def test_a_motif_changes_just_the_stitches_it_draws(motif: list[str], right: int, bottom: int) -> None:
    text = field(f"{{from: m.txt, right: {right}, bottom: {bottom}}}", rows=8, stitches=7)
    rows = looks(read(text, {"m.txt": "\n".join(motif)}))
    expected = [["s"] * 7 for _ in range(8)]
    for up, line in enumerate(reversed(motif)):
        for back, symbol in enumerate(reversed(line)):
            if symbol == "b":
                expected[7 - bottom - up][6 - right - back] = "b"
    assert rows == ["".join(row) for row in expected]


def test_a_chart_and_a_whole_piece_are_turned_round() -> None:
    chart = "rows:\n  - chart: |\n      ssb\n      bss\n    edges: {left: {stitches: 2, yarn: brick}}\n"
    assert looks(read(HEAD + chart)) == ["bbssb", "bbbss"]
    assert looks(read(HEAD + chart + "    mirror: true\n")) == ["bbbss", "bbssb"]
    assert looks(read(HEAD + "mirror: true\n" + chart)) == ["bssbb", "ssbbb"]


def test_turning_a_piece_round_twice_changes_nothing() -> None:
    chart = HEAD + "mirror: true\nrows:\n  - chart: |\n      sssb\n      bsbs\n    mirror: true\n"
    assert looks(read(chart)) == ["sssb", "bsbs"]


@pytest.mark.parametrize(
    ("section", "rows"),
    [
        ("{height: 12 cm, stitches: 4, yarn: sand}", 34),  # 12 cm x 2.8 rows = 33.6
        ("{height: 12 cm, rows: 30, stitches: 4, yarn: sand}", 30),
        ("{height: 12 cm, stitches: 4, yarn: sand, stitch: garter}", 48),  # 12 cm x 4 rows
        ("{height: 4 in, stitches: 4, yarn: sand}", 28),  # 10.16 cm x 2.8 = 28.4
    ],
)
def test_a_height_becomes_rows_by_the_gauge_of_its_stitch(section: str, rows: int) -> None:
    head = HEAD.replace("rows: 28}", "rows: 28, garter: {rows: 40}}")
    piece = read(f"{head}rows:\n  - plain: {section}\n  - chart: sssb\n").piece
    assert len(piece.fabric.rows) == rows + 1


def test_a_section_of_neither_rows_nor_height_is_told() -> None:
    (only,) = wrong(HEAD + "rows:\n  - plain: {stitches: 4, yarn: sand}\n  - chart: sssb\n")
    assert only.what == '"plain" must say how many "rows" it has, or its "height".'


def test_a_square_of_a_garter_chart_is_two_rows() -> None:
    text = HEAD.replace("s: sand", "s: {yarn: sand, stitch: garter}")
    text = text.replace("b: brick", "b: {yarn: brick, stitch: garter}")
    loaded = read(text + "rows:\n  - chart: |\n      sb\n      bb\n    rows_per_square: 2\n")
    assert looks(loaded) == ["sb", "sb", "bb", "bb"]
    assert not loaded.warnings


def test_a_gauge_of_a_wider_stitch_shortens_the_default_reach() -> None:
    text = HEAD.replace("rows: 28}", "rows: 28, seed: {stitches: 10}}")
    plain = text + "rows:\n  - chart: sssb\n"
    seeded = text + "rows:\n  - chart: sssb\n  - plain: {rows: 1, stitches: 4, yarn: sand, stitch: seed}\n"
    assert read(plain).piece.carry.reach == 3
    assert read(seeded).piece.carry.reach == 2  # 2.5 cm at 1 cm a stitch


def test_two_coloured_bumps_are_told_with_the_first_place_and_mended_by_plain_first() -> None:
    text = HEAD + (
        "rows:\n  - plain: {rows: 2, stitches: 4, yarn: brick}\n"
        "  - plain: {rows: 2, stitches: 4, yarn: sand, stitch: reverse}\n"
    )
    only = read(text).warnings[-1]
    assert (only.line, only.what) == (
        12,
        "Row 1 of this section, counted from the bottom (row 3 of the piece), begins sand on another colour with "
        "purl bumps on the right side, stitches 1 to 4 from the right; they will show both colours.",
    )
    mended = read(text + "    plain_first: true\n")
    assert [p.what for p in mended.warnings] == ['The symbol "s" is not used.', 'The symbol "b" is not used.']
    kinds = [row.runs[0].stitch.texture.kind for row in mended.piece.fabric.rows if row.runs[0].stitch]
    assert kinds == ["stockinette", "stockinette", "stockinette", "reverse"]


def test_a_seam_that_hides_colours_is_told() -> None:
    text = HEAD + "seams: {right: 1, left: 0.5}\nrows:\n  - chart: |\n      ssbs\n      ssss\n      ssbb\n"
    assert [p.what for p in read(text).warnings] == [
        "A change of colour lies within a stitch of the seam at the right edge, in row 3.",
    ]
    hiding = text.replace("right: 1,", "right: 1.5,")
    assert [p.what for p in read(hiding).warnings] == [
        "The seam at the right edge takes in 1.5 stitches and hides colours drawn there, in row 3.",
        "A change of colour lies within a stitch of the seam at the right edge, in row 1.",
    ]
