"""A piece whose runs are bound off each in their own strand, at the needles and on another machine."""

from __future__ import annotations

from pathlib import Path

from companion.knitting.hands.steps import cuts
from companion.plan.read import load
from companion.progress.actions import Back, BindOff, On, RipBack, Weave
from companion.progress.ends import all_ends
from companion.progress.exported import read, written
from companion.progress.shelf import Shelf
from tests.plan.plans import HEAD

PLAN = f"""{HEAD}bind_off: {{colours: each}}
cast_on: {{colours: each}}
rows:
  - chart: |
      sb..bs
      sb..bs
      sbbbbs
      sbbbbs
    opening: {{first: right}}
"""


def test_every_strand_is_cut_by_the_bind_off_of_its_part_and_once_again_when_that_was_ripped_out(
    tmp_path: Path,
) -> None:
    plan, here, there = tmp_path / "quay.yaml", Shelf(tmp_path / "here"), Shelf(tmp_path / "there")
    plan.write_text(PLAN)
    with here.start(load(plan), plan) as knitting:
        strands = knitting.session.strands
        right = [row for row in range(len(strands.rows)) if strands.rows[row].part == "right"][-1]
        while not (knitting.session.row == right and knitting.session.act is not None):
            knitting.do(On())
        before = knitting.session.cut
        off = set(cuts(knitting.session.act))
        assert len(off) == len(strands.rows[right].segments) == 2
        knitting.do(On())
        assert knitting.session.cut == before | off
        knitting.do(Back())
        assert knitting.session.cut == before
        knitting.do(On())
        knitting.do(On())
        knitting.do(RipBack(right))
        while not knitting.session.is_worked or knitting.session.act is not None:
            knitting.do(On())
        knitting.do(BindOff())
        assert knitting.session.is_bound_off
        assert knitting.session.cut >= set(knitting.session.strands.first)
        ends = [end for end, state in all_ends(knitting.session) if state == "ready"]
        assert len(ends) == knitting.session.strands.total.ends
        for end in ends:
            knitting.do(Weave(end))
        name, left = knitting.card.name, knitting.session
    with here.resume(name) as knitting:
        assert knitting.session == left
    there.take_in(read("".join(written(here.contents(name))), "quay.txt"), tmp_path)
    with there.resume(name) as knitting:
        assert knitting.session == left


ARMHOLES = f"""{HEAD}rows:
  - chart: |
      ...ssbb....
      ...ssbb....
      ...ssbb....
      sssssbb....
      sssssbbbbbb
      sssssbbbbbb
"""


def test_a_piece_of_left_hands_that_binds_off_a_row_later_is_kept_and_taken_up_as_such(tmp_path: Path) -> None:
    plan, here, there = tmp_path / "quay.yaml", Shelf(tmp_path / "here"), Shelf(tmp_path / "there")
    plan.write_text(ARMHOLES)
    with here.start(load(plan), plan, is_mirrored=True) as knitting:
        while knitting.session.row < 4:
            knitting.do(On())
        name, left = knitting.card.name, knitting.session
        # Row 4 of the drawing has 7 stitches on the needle: left hands bind off four in it and three in row 5.
        assert [row.stitches for row in left.rows] == [11, 11, 11, 7, 4, 4]
    with here.resume(name) as knitting:
        assert knitting.session == left
    there.take_in(read("".join(written(here.contents(name))), "quay.txt"), tmp_path)
    with there.resume(name) as knitting:
        assert knitting.session == left
        assert knitting.session.piece.is_mirrored
    plan.write_text(ARMHOLES.replace("      ...ssbb....\n", "      ...sbbb....\n", 1))
    with here.resume(name) as knitting:
        assert [row.stitches for row in knitting.session.rows] == [11, 11, 11, 7, 4, 4]
