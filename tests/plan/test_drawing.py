"""Drawn stitches in other yarns: only their own characters of the plan's text change."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.areas import Cell, in_other_yarns
from companion.plan.drawing import repainted
from companion.plan.read import Loaded, load_text
from tests.plan.plans import HEAD

PLAN = """\
plan: 1
title: Quay
gauge: {{stitches: 20, rows: 28}}  # from the swatch
yarns: {{sand: {{colour: tan}}, ink: {{colour: black}}, brick: {{colour: brown}}}}
symbols: {symbols}
rows:
  - plain: {{yarn: sand, stitches: 14, rows: 2}}
  - chart: {first}   # the first
    edges: {{right: {{stitches: 3, yarn: ink, stitch: garter}}, left: {{stitches: 1, yarn: ink}}}}
  - chart: |

{second}
    # in between
    edges: {{right: {{stitches: 4, yarn: ink}}}}
  - {{chart: {first}, repeat: 2, edges: {{right: {{stitches: 4, yarn: ink}}}}}}
"""
WAYS = {
    "letters": ("{s: sand, i: ink, b: {yarn: brick, stitch: seed}, r: brick}", "sib", False),
    "digits": ("{1: sand, 2: ink, 3: {yarn: brick, stitch: seed}, 4: brick}", "123", True),
}


def loaded(way: str, rows: list[list[str]], are_counted: list[bool]) -> Loaded:
    symbols, signs, has_star = WAYS[way]
    lines = []
    for row, is_counted in zip(rows, are_counted, strict=True):
        line = "".join(signs["sib".index(sign)] for sign in row)
        if is_counted:
            star = "*" if has_star else ""
            line = " ".join(f"1{star}{sign}" for sign in line)
        lines.append(line)
    second = "\n".join(f"      {line}" for line in lines[1:])
    return load_text(PLAN.format(symbols=symbols, first=f'"{lines[0]}"', second=second), "quay.yaml", {})


ROWS = st.lists(st.lists(st.sampled_from("sib"), min_size=10, max_size=10), min_size=2, max_size=5)


@pytest.mark.parametrize("way", WAYS)
@given(rows=ROWS, data=st.data())
def test_the_plan_says_then_what_was_painted_and_no_other_line_differs(
    way: str, rows: list[list[str]], data: st.DataObject
) -> None:
    plan = loaded(way, rows, data.draw(st.lists(st.booleans(), min_size=len(rows), max_size=len(rows))))
    free = sorted(cell for drawing in plan.drawings for cell in drawing.cells)
    assert {cell.row for cell in free} >= set(range(3, 2 + len(rows)))
    assert {cell.column for cell in free if cell.row > 2} == set(range(5, 15))
    chosen = data.draw(st.lists(st.sampled_from(free), max_size=8, unique=True))
    yarns = {cell: data.draw(st.sampled_from(["sand", "ink"])) for cell in chosen}
    old = plan.piece.fabric
    flat = {cell: yarn for cell, yarn in yarns.items() if stitch_at(old, cell).texture.kind == "stockinette"}
    wanted = in_other_yarns(old, flat)
    text = repainted(plan, wanted)
    again = load_text(text, "quay.yaml", {})
    assert again.piece == replace(plan.piece, fabric=wanted)
    changed = {cell.row for cell in flat if stitch_at(wanted, cell) != stitch_at(old, cell)}
    before, after = plan.text.splitlines(), text.splitlines()
    assert len(before) == len(after)
    assert sum(one != other for one, other in zip(before, after, strict=True)) == len(changed)


def stitch_at(fabric, cell: Cell):
    at = cell.column
    for run in fabric.rows[cell.row].runs:
        at -= run.columns
        if at <= 0:
            return run.stitch
    raise AssertionError(cell)


def test_a_stitch_for_which_there_is_no_symbol_is_refused() -> None:
    plan = loaded("letters", [list("ssssssssss"), list("ssssbsssss")], [False, False])
    with pytest.raises(KeyError):
        repainted(plan, in_other_yarns(plan.piece.fabric, {Cell(3, 10): "ink"}))


@pytest.mark.parametrize(
    "keys",
    ["repeat: 2", "across: 2", "mirror: true", "rows_per_square: 2", "motifs: [{from: m.txt, right: 1, bottom: 1}]"],
)
def test_what_stands_for_several_stitches_is_not_drawn_one_by_one(keys: str) -> None:
    text = (
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}, ink: {colour: black}}\n"
        f"symbols: {{s: sand, i: ink}}\nrows:\n  - chart: |\n      ssii\n      ssii\n    {keys}\n"
    )
    assert load_text(text, "quay.yaml", {"m.txt": "i\n"}).drawings == ()
    assert len(load_text(text.replace(f"    {keys}\n", ""), "quay.yaml", {}).drawings) == 1
    assert load_text(text.replace(f"    {keys}\n", "mirror: true\n"), "quay.yaml", {}).drawings == ()


def test_lines_that_stand_further_in_are_painted_where_they_are() -> None:
    text = (
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}, ink: {colour: black}}\n"
        "symbols: {s: sand, i: ink}\nrows:\n  - plain: {yarn: sand, stitches: 8, rows: 4}\n  - chart: |\n"
        "      ssssiiii\n        4s 4i\n"
    )
    plan = load_text(text, "quay.yaml", {})
    assert {cell.column for cell in plan.drawings[0].cells} == set(range(1, 9))
    wanted = in_other_yarns(plan.piece.fabric, {Cell(4, 1): "sand", Cell(5, 8): "ink"})
    painted = repainted(plan, wanted)
    assert painted == text.replace("ssssiiii", "isssiiii").replace("        4s 4i", "        4s 3i s")
    assert load_text(painted, "quay.yaml", {}).piece.fabric == wanted


@pytest.mark.parametrize("ends", ["\r\n", "\r", "\n"])
def test_line_ends_stay(ends: str) -> None:
    plan = loaded("letters", [list("ssssssssss"), list("sssssissss")], [False, False])
    other = load_text(plan.text.replace("\n", ends), "quay.yaml", {})
    painted = repainted(other, in_other_yarns(other.piece.fabric, {Cell(3, 9): "sand"}))
    assert painted == repainted(plan, in_other_yarns(plan.piece.fabric, {Cell(3, 9): "sand"})).replace("\n", ends)


def test_a_chart_on_narrower_rows_is_painted_where_it_lies() -> None:
    """Six stitches in the middle of eight: column 1 of the piece lies beside them."""
    text = HEAD + """\
rows:
  - plain: {rows: 2, stitches: 8, yarn: sand}
  - plain: {rows: 2, stitches: 6, yarn: sand}
  - chart: |
      sssbss
"""
    before = load_text(text, "quay.yaml", {})
    assert [(one.first, one.right, one.wide) for one in before.drawings] == [(4, 1, 6)]
    new = in_other_yarns(before.piece.fabric, {Cell(4, 2): "brick"})  # the first stitch there is
    assert repainted(before, new) == text.replace("sssbss", "sssbsb")
