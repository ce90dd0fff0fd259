"""Any plan, knitted as its rows are printed and as its steps are listed, comes out as it is drawn; strands, ends and
yarn are where and what the ledgers say. For more plans than are tried here: ``python -m tests.simulator.walk 20000``.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from hypothesis import assume, event, given
from hypothesis import strategies as st

from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.pages import written
from tests.knitting.charts import Chart, piece_of
from tests.knitting.meetings import bollards, with_meetings
from tests.plan.plans import HEAD, read
from tests.simulator.charts import wanted
from tests.simulator.checking import as_listed, as_printed, from_chart, from_corners, from_ledger, from_reckoning
from tests.simulator.looking import Refused, look
from tests.simulator.plans import Drawn, plans
from tests.simulator.words import Manner


@given(plans(), st.booleans())
def test_a_random_plan_comes_out_as_it_is_drawn(drawn: Drawn, is_uk: bool) -> None:
    try:
        looked = look(drawn, is_uk=is_uk)
    except Refused:
        assume(False)
        return
    assert looked.faults == ()


@given(plans(), st.booleans())
def test_a_random_plan_comes_out_as_it_is_drawn_wherever_strands_meet_in_its_runs(drawn: Drawn, is_uk: bool) -> None:
    try:
        looked = look(drawn, is_uk=is_uk, changed=with_meetings)
    except Refused:
        assume(False)
        return
    event("shared" if looked.held["runs that strands share"] else "none meet")
    assert looked.faults == ()


def test_grounds_that_share_runs_come_out_as_they_are_drawn() -> None:
    """Charts at which planned strands meet: at about half of them they do."""
    met = Counter[bool]()

    @given(bollards(), st.sampled_from([1, 2, 3]), st.sampled_from([0, 0, 1, 2]))
    def knitted_twice(chart: Chart, reach: int, rest: int) -> None:
        piece = piece_of(chart, Carry(reach, 0, rest, share_runs=True))
        strands, asked = plan_strands(piece.rows, piece.carry).strands, wanted(piece.fabric)
        met[bool(strands.rows.meetings)] += 1
        for knitted in (as_listed(piece, strands, asked), as_printed(piece, strands, asked, Manner())):
            assert list(from_chart(asked, knitted)) == []
        listed = as_listed(piece, strands, asked)
        assert list(from_ledger(strands, listed)) == []
        assert list(from_corners(strands, listed)) == []
        assert list(from_reckoning(piece, strands, listed)) == []

    knitted_twice()
    assert met[True] * 4 > met[False]


RESTED = f"""\
{HEAD}carry: {{reach: 0, rest: 1}}
shaping: {{at: 0}}
rows:
  - chart: |
      sssss
      .bbbb
      ..sss
      ..sss
  - chart: |
      ...ss
      ...ss
      ...ss
      b..ss
    opening: {{first: right}}
"""


SEAM_AGAIN = f"""\
{HEAD}carry: {{reach: 5, rest: 3}}
shaping: {{at: 0}}
rows:
  - chart: |
      sss
      bbb
    seam_stitches: 2
  - {{chart: "sss", worked: round}}
  - chart: |
      sbb
      sss
    seam_stitches: 2
"""


def test_a_strand_that_rested_where_rounds_end_lies_before_what_is_cast_on_there_for_the_next_seam() -> None:
    """The brick is left at the left edge of row 1, beyond two stitches for a seam, which round 3 takes away; row 4
    casts two on anew, after the stitch that the brick comes out of, so that row 5 finds it two ahead."""
    piece = read(SEAM_AGAIN).piece
    strands, asked = plan_strands(piece.rows, piece.carry).strands, wanted(piece.fabric)
    assert strands.strand_of[0] == strands.strand_of[4][:1]
    for knitted in (as_listed(piece, strands, asked), as_printed(piece, strands, asked, Manner())):
        assert knitted.needles.notes == []
    assert "Row 5 (WS): with brick (hangs 2 sts ahead)" in "\n".join(written.whole(piece, strands))


def test_a_strand_that_rested_below_an_opening_hangs_in_one_place_when_the_second_part_is_taken_up() -> None:
    """Row 4 lifts a stitch one in from the left edge, at which the brick hangs: by its column one stitch further in,
    between the middle and the left part."""
    piece = read(RESTED).piece
    strands, asked = plan_strands(piece.rows, piece.carry).strands, wanted(piece.fabric)
    for knitted in (as_listed(piece, strands, asked), as_printed(piece, strands, asked, Manner())):
        assert list(from_chart(asked, knitted)) == []
        assert knitted.needles.notes == []
    assert list(from_ledger(strands, as_listed(piece, strands, asked))) == []


WORKED_TOGETHER = f"""\
{HEAD}carry: {{reach: 3, behind: 0, rest: 0}}
shaping: {{at: 0}}
rows:
  - chart: |
      bsbssbbsbsbb
      ssssssssssss
      ssssssssssss
  - plain: {{rows: 1, stitches: 8, yarn: brick, stitch: stockinette}}
"""


def test_a_tail_at_an_edge_that_is_worked_together_is_laid_in_behind_what_that_makes() -> None:
    """The last stitch of row 3 ends a strand of brick there; row 4 works it together with the two after it."""
    piece = replace(read(WORKED_TOGETHER).piece, is_trapping=True)
    strands, asked = plan_strands(piece.rows, piece.carry).strands, wanted(piece.fabric)
    for knitted in (as_listed(piece, strands, asked), as_printed(piece, strands, asked, Manner())):
        assert knitted.needles.notes == []
        assert sum(tail.is_laid_in for tail in knitted.needles.tails) == 1
    assert "p3tog, lay the brick tail in under the next 6" in "\n".join(written.whole(piece, strands))
