"""Sections narrower than the one below, as wide as what is on the needle, and edges and motifs on charts."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from companion.knitting.cloth.fabric import merged
from companion.plan.read import load_text
from companion.problems import Problems
from tests.knitting.cloth.test_row_starts import picture
from tests.plan.plans import HEAD, read


def drawn(rows: str, files: Mapping[str, str] | None = None, head: str = HEAD) -> list[str]:
    """The piece's rows in working order, the last one first, as they are drawn."""
    return picture(read(f"{head}rows:\n{rows}", files).piece.fabric)


def told(rows: str, files: Mapping[str, str] | None = None, head: str = HEAD, *, warnings: bool = False) -> list[str]:
    """What is wrong with it, or what it is warned of."""
    if warnings:
        return [each.what for each in read(f"{head}rows:\n{rows}", files).warnings if "not used" not in each.what]
    with pytest.raises(Problems) as found:
        load_text(f"{head}rows:\n{rows}", "quay.yaml", files or {})
    return [each.what for each in found.value.problems if not each.is_warning]


BODY = "  - plain: {rows: 2, stitches: 12, yarn: sand}\n"


def test_more_than_can_be_decreased_are_bound_off_at_each_edge_where_a_row_begins() -> None:
    rows = f"{BODY}  - plain: {{rows: 3, stitches: 6, yarn: brick}}\n"
    # Row 3, a right-side row, begins at the right edge: three go there, and three at the left in row 4.
    assert drawn(rows) == ["...bbbbbb...", "...bbbbbb...", "bbbbbbbbb...", "ssssssssssss", "ssssssssssss"]
    [warned] = told(rows, warnings=True)
    assert warned == (
        "This section is narrower than what lies below: 3 go at each edge, bound off where its first two rows begin."
    )


def test_above_an_odd_number_of_rows_the_left_edge_goes_first() -> None:
    rows = BODY.replace("rows: 2", "rows: 1") + "  - field: {rows: 2, stitches: 6, yarn: brick}\n"
    assert drawn(rows) == ["...bbbbbb...", "...bbbbbbbbb", "ssssssssssss"]


@pytest.mark.parametrize("which", ["below", "above", "both", "chart"])
def test_rounds_have_no_edges_where_anything_could_be_said_to_go(which: str) -> None:
    drawn = "  - chart: |\n      ssssssssssss\n      ssssssssssss\n"
    below = (drawn if which == "chart" else BODY) + "    worked: round\n" * (which != "above")
    noun = "row" if which in ("below", "chart") else "round"
    above = "  - plain: {rows: 2, stitches: 6, yarn: brick}\n" + "    worked: round\n" * (which in ("above", "both"))
    with pytest.raises(Problems) as found:
        load_text(f"{HEAD}rows:\n{below}{above}", "quay.yaml", {})
    told = [problem.what for problem in found.value.problems if "not used" not in problem.what]
    assert told == [
        f"Row 1 of this section, counted from the bottom ({noun} 3 of the piece), is a round, or lies on one, and "
        "does not have the same columns as the row below."
    ]


def test_one_or_two_are_decreased_in_its_first_row() -> None:
    rows = f"{BODY}  - plain: {{rows: 1, stitches: 8, yarn: brick}}\n"
    assert drawn(rows)[0] == "..bbbbbbbb.."
    assert told(rows, warnings=True)[0].endswith("2 go at each edge, decreased.")


def test_a_section_of_one_row_leaves_one_edge_to_the_section_above() -> None:
    rows = f"{BODY}  - plain: {{rows: 1, stitches: 6, yarn: brick}}\n  - chart: ssssbb\n"
    assert drawn(rows)[:2] == ["...ssssbb...", "bbbbbbbbb..."]


def test_a_chart_and_plain_rows_without_a_number_lie_on_the_stitches_that_are_left() -> None:
    shaped = "  - chart: |\n      ..ssss.....\n      ..ssssss...\n      sssssssss..\n      sssssssssss\n"
    above = "  - chart: bssb\n  - plain: {rows: 1, yarn: brick}\n  - field: {rows: 1, yarn: sand}\n"
    assert drawn(shaped + above)[:3] == ["..ssss.....", "..bbbb.....", "..bssb....."]
    assert told(shaped + above, warnings=True) == []
    assert told(shaped + "  - chart: bsb\n") == ["This section is 3 stitches wide, the first one (line 11) 11."]


def test_a_chart_on_the_stitches_that_are_left_may_be_shaped_further() -> None:
    shaped = "  - chart: |\n      ..ssss...\n      ..ssss...\n      ..sssssss\n      ..sssssss\n"
    above = "  - chart: |\n      .bb.\n      .bbb\n  - plain: {rows: 1, yarn: sand}\n"
    piece = read(f"{HEAD}rows:\n{shaped}{above}").piece
    assert picture(piece.fabric)[:3] == ["...ss....", "...bb....", "...bbb..."]
    assert all(row.runs == merged(row.runs) for row in piece.fabric.rows)


def test_edges_count_where_a_section_is_as_wide_as_the_needle() -> None:
    rows = f"{BODY}  - plain: {{rows: 2, stitches: 8, yarn: sand}}\n" + (
        "  - plain: {rows: 1, yarn: sand}\n    edges: {stitches: 2, yarn: brick}\n"
    )
    assert drawn(rows)[0] == "..bbssssbb.."


def test_what_cannot_go_at_both_edges_alike_is_told() -> None:
    rows = f"{BODY}  - plain: {{rows: 2, stitches: 7, yarn: sand}}\n"
    assert told(rows) == [
        "This section is 7 stitches wide, and 12 lie below: 5 go, which cannot be as many at both edges."
    ]
    wider = "  - plain: {rows: 2, stitches: 6, yarn: sand}\n  - plain: {rows: 1, stitches: 8, yarn: sand}\n"
    assert told(BODY + wider) == ["This section is 8 stitches wide, the first one (line 11) 12."]


def test_rows_above_an_opening_go_at_the_outer_edges_of_its_parts() -> None:
    rows = BODY + "  - plain: {rows: 2, stitches: 6, yarn: brick}\n    opening: {first: right, at: 3}\n"
    # Both parts begin with a right-side row: at its start the right one binds off, the left one in its row 2.
    assert drawn(rows)[:4] == ["...bbb......", "bbbbbb......", "......bbb...", "......bbb..."]


def test_a_piece_turned_round_as_a_whole_goes_where_its_own_rows_begin() -> None:
    head = HEAD.replace("title: Quay\n", "title: Quay\nmirror: true\n")
    rows = f"{BODY}  - plain: {{rows: 3, stitches: 6, yarn: brick}}\n"
    assert drawn(rows, head=head) == drawn(rows)


def test_rounds_are_not_made_narrower() -> None:
    rows = BODY + "  - plain: {rows: 1, stitches: 6, yarn: brick}\n    worked: round\n"
    assert any("does not have the same columns as the row below" in what for what in told(rows))


def test_edges_of_a_chart_are_in_the_yarn_beside_them() -> None:
    rows = "  - chart: |\n      bbss\n      bsss\n    edges: {stitches: 2}\n"
    assert drawn(rows) == ["bbbbssss", "bbbsssss"]
    turned = "  - chart: |\n      bbss\n      bsss\n    mirror: true\n    edges: {left: {stitches: 1}}\n"
    assert drawn(turned) == ["sssbb", "ssssb"]


def test_edges_beside_several_yarns_must_name_theirs() -> None:
    rows = "  - chart: |\n      bbss\n      ssss\n    edges: {stitches: 2}\n"
    assert told(rows) == ['"edges" names no yarn, and the chart has sand and brick at its left edge.']
    assert drawn(rows.replace("stitches: 2", "stitches: 1, yarn: brick")) == ["bbbssb", "bssssb"]


SAIL = {"sail.txt": "bbb\nb.b\n"}


def test_a_motif_is_laid_over_a_shaped_edge_and_ends_with_it() -> None:
    rows = "  - chart: |\n      .sssss..\n      .sssssss\n      ssssssss\n"
    rows += "    motifs: [{from: sail.txt, right: 1, bottom: 1}]\n"
    assert drawn(rows, SAIL) == [".sssbb..", ".sssbsbs", "ssssssss"]


def test_rows_above_a_motif_that_ends_at_a_shaped_edge_lie_on_the_stitches_there_are() -> None:
    rows = "  - chart: |\n      sssss...\n      ssssssss\n      ssssssss\n"
    rows += "    motifs: [{from: sail.txt, right: 1, bottom: 1}]\n  - plain: {rows: 1, yarn: sand}\n"
    assert drawn(rows, SAIL)[:2] == ["sssss...", "ssssb..."]


def test_motifs_on_a_chart_must_fit_it_and_not_each_other() -> None:
    rows = "  - chart: |\n      ssss\n      ssss\n    motifs: [{from: sail.txt, right: 2, bottom: 0}]\n"
    assert told(rows, SAIL) == ['This motif has 3 stitches; with "right: 2" it ends at 5, and the chart has 4.']
    [what] = told(BODY + "    motifs: [{from: sail.txt, right: 2, bottom: 0}]\n", SAIL)
    assert what == 'This section has "motifs" and no "field" or "chart" to place them on.'


def test_uk_moss_may_have_its_own_tension() -> None:
    own = "terms: uk\ntension: {stitches: 20, rows: 28, moss: {rows: 32}}"
    head = HEAD.replace("gauge: {stitches: 20, rows: 28}", own)
    piece = read(f"{head}rows:\n  - plain: {{height: 10 cm, stitches: 4, yarn: sand, stitch: moss}}\n").piece
    assert len(piece.rows) == 32
    [what] = told(BODY, head=head.replace("terms: uk\n", ""))
    assert what == 'The key "moss" is not known here.'


def test_a_plan_amiss_elsewhere_is_not_told_that_nothing_says_a_width() -> None:
    head = HEAD.replace("rows: 28}", "rows: 28, knots: 3}")
    rows = "  - plain: {rows: 2, yarn: sand}\n  - chart: ssbb\n"
    assert told(rows, head=head) == ['The key "knots" is not known here.']
    unread = "  - plain: {rows: 2, yarn: sand}\n  - chart: {from: gone.txt}\n"
    assert not any("no other section" in what for what in told(unread))


def test_a_symbol_at_the_side_that_is_not_declared_is_told_beside_edges_without_a_yarn() -> None:
    rows = "  - chart: |\n      x8s3b\n      12s\n    edges: {stitches: 4}\n"
    assert any("\"x\"" in what and "not under" in what for what in told(rows))


def test_of_a_chart_that_is_uneven_nothing_more_is_told_than_that() -> None:
    rows = "  - plain: {rows: 4, yarn: sand}\n  - chart: |\n      12s\n      13s\n"
    [what] = told(rows)
    assert "13" in what
    assert "missing" not in what


def test_edges_outside_what_is_gone_are_stitches_that_the_next_section_lies_on() -> None:
    """Four edge stitches, four gone, sixteen: the section above is 24 wide, and fills what was gone."""
    gap = (
        "  - plain: {rows: 2, stitches: 24, yarn: sand}\n"
        "  - opening: {first: left}\n    chart: |\n      4. 16b\n      4. 16b\n"
        "    edges: {left: {stitches: 4, yarn: sand}}\n"
    )
    above = (f"{gap}  - plain: {{rows: 4, {more}yarn: sand}}\n" for more in ("", "stitches: 24, "))
    without, named = (read(f"{HEAD}rows:\n{rows}").piece.fabric for rows in above)
    assert without == named
    assert without.rows[-1].stitches == 24
