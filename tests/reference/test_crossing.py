"""How colours are crossed and the work is turned, held against published articles.

Sources, by title:
- "Intarsia", technique article, 2008
- "Intarsia color change on vertical line or diagonal line", 2014
- "How to: intarsia", 2013, and "Intarsia: twisting the colours", 2024
- "Intarsia how-to"
- intarsia page of a magazine's handbook
- The Essential Guide to Color Knitting Techniques, ch. 6
- "What is intarsia knitting?"
"""

from __future__ import annotations

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs, run_steps
from companion.knitting.hands.steps import Cross, Turn
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, best_stop, tell
from tests.knitting.charts import drawn

SAIL = (
    "ssssbbbs",
    "sssbbbbs",
    "ssbbbbbs",
    "ssssssss",
)


def planned(*lines: str) -> Strands:
    return plan_strands(drawn(*lines).rows(), Carry(3)).strands


def test_the_old_strand_lies_over_the_new_one_on_knit_and_purl_rows_alike() -> None:
    """ "Intarsia", 2008; "Intarsia color change on vertical line or diagonal line", 2014; "Intarsia how-to"."""
    strands = planned(*SAIL)
    for row in range(4):
        for run in row_runs(strands, row)[1:]:
            [cross] = [step for step in run.steps if isinstance(step, Cross)]
            told = tell(cross, "full", US)
            assert f"lay {cross.old}" in told
            assert f"across {cross.new}" in told
            assert f"take {cross.new} up from under it" in told


def test_the_old_strand_goes_down_at_the_back_on_right_side_rows_and_in_front_on_wrong_side_rows() -> None:
    """ "Intarsia how-to"."""
    strands = planned(*SAIL)
    told = {row + 1: [tell(step, "full", US) for step in run_steps(strands, Place(row, 1)).steps
                      if isinstance(step, Cross)] for row in (1, 2)}  # fmt: skip
    assert "in front" in told[2][0]
    assert "at the back" in told[3][0]


def test_it_is_laid_in_the_direction_of_work() -> None:
    """ "Intarsia color change on vertical line or diagonal line", 2014; "How to: intarsia", 2013; "Intarsia
    how-to": toward the left needle, on right-side and wrong-side rows."""
    for side in ("RS", "WS"):
        assert "to your left" in tell(Cross("sand", "brick", side), "full", US)


def test_every_separate_block_of_a_row_has_a_supply_of_its_own() -> None:
    """The Essential Guide to Color Knitting Techniques, ch. 6: three sections, three supplies; "What is intarsia
    knitting?": a motif on a ground takes ground, motif, ground."""
    strands = planned(*["ssssbbbbssss"] * 6)
    assert strands.total.strands == 3
    assert [run.segment.yarn for run in row_runs(strands, 3)] == ["sand", "brick", "sand"]


def test_a_published_count_of_supplies_for_a_block_that_splits_and_merges() -> None:
    """ "Intarsia how-to": rows 1-3 B; 4-7 B Y B; 8-12 B Y B Y B; 13-16 B Y B; 17-19 B take 3 blue and 2 yellow
    supplies, all five at work at once, ten ends. The stitches of the split are not printed; ours are 3, 2 and 3."""
    whole, split, plain = "ssssbbbbbbbbssssssss", "ssssbbbssbbbssssssss", "s" * 20
    strands = planned(*[plain] * 3, *[whole] * 4, *[split] * 5, *[whole] * 4, *[plain] * 3)
    yarns = [summary.yarn for summary in strands.summaries]
    assert (yarns.count("sand"), yarns.count("brick")) == (3, 2)
    assert (strands.total.ends, strands.total.most_at_once) == (10, 5)


def test_the_work_is_turned_to_and_fro() -> None:
    """Intarsia page of a magazine's handbook: after a right-side row the tip toward you, after a wrong-side row
    away, so that crosses made on one row are undone on the next."""
    strands = planned(*SAIL)
    tips = [[step.tip for step in row_end(strands, row) if isinstance(step, Turn)] for row in range(4)]
    assert tips == [["toward"], ["away"], ["toward"], []]


def test_work_is_laid_down_after_a_wrong_side_row() -> None:
    """Intarsia page of a magazine's handbook: the strands are uncrossed then."""
    rows = planned(*SAIL).rows
    assert "good place to stop" in best_stop(rows[1], 8, rows[2])
    assert "best place to stop is after wrong-side row 4" in best_stop(rows[2], 8, rows[3])
