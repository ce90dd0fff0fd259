"""What a plan says of areas that are sewn on afterwards: by symbol, and by place."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest

from companion.knitting import words
from companion.knitting.cloth.areas import Area, areas, sewing
from companion.knitting.cloth.fabric import Stitch, cells
from companion.plan.edit import use
from companion.plan.packed import pack, unpack
from companion.plan.read import load, load_text
from companion.problems import Problems

PLAN = """\
plan: 1
title: Gull
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  ink: {colour: black}
symbols:
  s: sand
  i: ink
KEYS
rows:
  - chart: |
      ssssss
      ssisss
      ssssis
      ssssss
"""
EYE = "sewn_on: [{yarn: ink, over: sand, row: 3, stitch: 4}]"


def read(keys: str, text: str = PLAN) -> list[list[Stitch | None]]:
    """The stitches of every row from the bottom up, from the right edge."""
    return [list(cells(row)) for row in load_text(text.replace("KEYS", keys), "gull.yaml", {}).piece.fabric.rows]


def told(keys: str, text: str = PLAN) -> list[str]:
    with pytest.raises(Problems) as found:
        read(keys, text)
    problems = found.value.problems
    return [f"{problem.line}:{problem.column} {problem.what} {problem.mend}".strip() for problem in problems]


def test_a_symbol_may_stand_for_one_yarn_sewn_over_another() -> None:
    text = PLAN.replace("  i: ink\n", "  i: {yarn: sand, sewn: ink}\n").replace("KEYS\n", "")
    loaded = load_text(text, "gull.yaml", {})
    assert loaded.warnings == ()
    piece = loaded.piece
    assert [(a.yarn, a.first) for a in sewing(piece.fabric)] == [("ink", (1, 2)), ("ink", (2, 4))]
    assert {segment.yarn for row in piece.rows for segment in row.segments} == {"sand"}
    assert piece.yarn("ink").symbol == "i"
    assert unpack(pack(piece)) == piece


def test_an_area_named_by_any_of_its_stitches_is_knitted_in_its_ground_and_sewn_on() -> None:
    rows = read(EYE)
    assert rows[2][3] == Stitch("sand", sewn="ink")
    assert rows[1][1] == Stitch("ink")
    bar = PLAN.replace("ssisss", "siiiss")
    for stitch in (3, 4, 5):
        rows = read(EYE.replace("stitch: 4", f"stitch: {stitch}"), bar)
        assert [column for column, cell in enumerate(rows[2], 1) if cell and cell.sewn] == [3, 4, 5]


def test_places_are_those_of_the_finished_piece_where_it_is_turned_round() -> None:
    rows = read("mirror: true\n" + EYE.replace("stitch: 4", "stitch: 3"))
    assert rows[2][2] == Stitch("sand", sewn="ink")


def test_up_to_how_many_stitches_areas_are_looked_for() -> None:
    piece = load_text(PLAN.replace("KEYS", "small_areas: 4"), "gull.yaml", {}).piece
    assert piece.small_areas == 4
    assert unpack(pack(piece)) == piece
    assert load_text(PLAN.replace("KEYS\n", ""), "gull.yaml", {}).piece.small_areas == 0


@pytest.mark.parametrize(
    ("keys", "problem"),
    [
        (EYE.replace("row: 3", "row: 5"), "The piece has 4 rows, and no row 5."),
        (EYE.replace("stitch: 4", "stitch: 7"), "There is no stitch 7 of row 3."),
        (EYE.replace("row: 3", "row: 2"), 'Stitch 4 of row 2 is in "sand", not in "ink".'),
    ],
)
def test_a_place_that_is_not_in_the_yarn_is_told(keys: str, problem: str) -> None:
    assert told(keys) == [f"10:11 {problem} rowside areas lists the small areas of a plan."]


def test_what_else_can_be_amiss_with_it() -> None:
    again = EYE.replace("]", ", {yarn: ink, over: sand, row: 3, stitch: 4}]")
    assert told(again) == ["10:55 This area is sewn on already. rowside areas lists the small areas of a plan."]
    assert told(EYE.replace("over: sand", "over: ink")) == [
        '10:11 "sewn_on" is knitted in the yarn it is sewn in. Name the yarn beside it after "over".'
    ]
    assert told(EYE.replace("over: sand", "over: sandy")) == [
        '10:29 The yarn "sandy" is not under "yarns" (line 4). Did you mean "sand"?'
    ]
    garter = PLAN.replace("  i: ink\n", "  i: {yarn: ink, stitch: garter}\n")
    [one] = told(EYE, garter)
    assert "is not in stockinette, and duplicate stitch follows no other." in one
    [one] = told("", PLAN.replace("  i: ink\n", "  i: {yarn: ink, sewn: ink}\n"))
    assert "is sewn in the yarn it is knitted in." in one
    one = told("", PLAN.replace("  i: ink\n", "  i: {yarn: sand, sewn: inc}\n"))[-1]
    assert 'The yarn "inc" is not under "yarns" (line 4). Did you mean "ink"?' in one


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("", "KEYS_AT_END"),
        ("sewn_on: []\n", "sewn_on: [{yarn: ink, over: sand, row: 2, stitch: 2}]\n"),
        (f"{EYE}  # the gull\n", EYE[:-1] + ", {yarn: ink, over: sand, row: 2, stitch: 2}]  # the gull\n"),
        (
            "sewn_on:\n# eyes\n- {yarn: ink, over: sand, row: 3, stitch: 4} # left\n\n# end\n",
            "sewn_on:\n# eyes\n- {yarn: ink, over: sand, row: 3, stitch: 4} # left\n"
            "- {yarn: ink, over: sand, row: 2, stitch: 2}\n\n# end\n",
        ),
    ],
)
def test_an_area_is_written_into_the_plan_and_all_else_stays(tmp_path: Path, before: str, after: str) -> None:
    path = tmp_path / "gull.yaml"
    path.write_text(PLAN.replace("KEYS\n", before), encoding="utf-8")
    every = [area for area in _areas(path) if area.first == (1, 2)]
    use(path, sewn=[(every[0], "sand")])
    wanted = PLAN.replace("KEYS\n", after)
    if after == "KEYS_AT_END":
        wanted = PLAN.replace("KEYS\n", "") + "sewn_on:\n  - {yarn: ink, over: sand, row: 2, stitch: 2}\n"
    assert path.read_text(encoding="utf-8") == wanted
    assert (1, 2) in [area.first for area in sewing(load(path).piece.fabric)]


def test_an_area_of_the_second_part_is_written_with_its_row_from_the_cast_on(tmp_path: Path) -> None:
    """The left part is worked second; its eye lies in row 4 of the piece, as the right one's does."""
    path = tmp_path / "gull.yaml"
    chart = "ssisss\n      ssssis\n      ssssss"
    parts = "si.sis\n      ss.sss\n      ssssss\n      ssssss"
    text = PLAN.replace("KEYS\n", "").replace(chart, parts).replace("- chart", "- opening: {first: right}\n    chart")
    path.write_text(text.replace("      ssssss\n      si.sis", "      si.sis"), encoding="utf-8")
    at = {area.first: area for area in _areas(path) if area.yarn == "ink"}
    assert list(at) == [(3, 2), (5, 5)]
    use(path, sewn=[(at[5, 5], "sand")])
    assert "{yarn: ink, over: sand, row: 4, stitch: 5}" in path.read_text(encoding="utf-8")
    assert [area.first for area in sewing(load(path).piece.fabric)] == [(5, 5)]


def test_a_stitch_is_told_by_its_number_in_the_row_whatever_the_outline() -> None:
    """Of row 3 of "siss." the ink stitch is the third from the right edge; after a bind-off of three it is the first.
    The plan names its column, since there "." is drawn too."""
    text = PLAN.replace("ssssss\n      ssisss\n      ssssis\n      ssssss", "CHART")
    text = text.replace("  i: ink\n", "  i: {yarn: sand, sewn: ink}\n").replace("KEYS\n", "")
    for lines, told in (
        (("ssss.", "siss.", "sssss", "sssss"), "row 3, stitch 3"),
        (("ssi...", "ssssss", "ssssss"), "row 3, stitch 1"),
    ):
        fabric = load_text(text.replace("CHART", "\n      ".join(lines)), "gull.yaml", {}).piece.fabric
        [area] = sewing(fabric)
        assert words.area_to_sew(fabric, area, 1) == f"1 stitch of ink from {told} from the right, with 1 length"
        assert area.first.column == 4


def test_a_stitch_of_a_divided_piece_is_told_with_its_part() -> None:
    """The second stitch of either part, at the same height: without the part nobody can tell which is meant."""
    text = PLAN.replace("ssssss\n      ssisss\n      ssssis\n      ssssss", ".is.is\n      ssssss\n      ssssss")
    text = text.replace("  i: ink\n", "  i: {yarn: sand, sewn: ink}\n").replace("KEYS\n", "")
    fabric = load_text(text.replace("- chart", "- opening: {first: right}\n    chart"), "gull.yaml", {}).piece.fabric
    assert [words.area_to_sew(fabric, area, 1) for area in sewing(fabric)] == [
        f"1 stitch of ink from row 3, stitch 2 from the right of the {part} part, with 1 length"
        for part in ("right", "left")
    ]


def _areas(path: Path) -> Sequence[Area]:
    return areas(load(path).piece.fabric)


def test_names_that_yaml_would_read_otherwise_are_quoted(tmp_path: Path) -> None:
    path = tmp_path / "gull.yaml"
    text = PLAN.replace("KEYS\n", "").replace("ink", '"ink, [dark]: #2"')
    path.write_text(text, encoding="utf-8")
    [dark, _] = [area for area in _areas(path) if area.yarn.startswith("ink")]
    use(path, sewn=[(dark, "sand")])
    assert [area.yarn for area in sewing(load(path).piece.fabric)] == ["ink, [dark]: #2"]
