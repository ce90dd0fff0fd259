"""Shared starts: as many as can be, never fewer ends than hang, told to the hands and reckoned in the yarn."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import networkx as nx
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import HaveReady, JoinHalf
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Past, Strands
from companion.knitting.words import US, tell
from tests.knitting.charts import Chart, charts, drawn, limits, piece_of

SHARE = Carry(3, share=True)
TWO_POSTS = drawn("ssbsbss", "ssbsbss", "sssssss", "sssssss")


def planned(chart: Chart, carry: Carry = SHARE, past: Past | None = None) -> Strands:
    return plan_strands(chart.rows(), carry, past).strands


def gap_apart(chart: Chart, row: int, one: int, other: int) -> int:
    """Stitches between the first stitches of two runs of a row, counted cell by cell."""
    runs = chart.runs(row)
    return sum(map(len, runs[one:other]))


@given(charts(), limits())
def test_no_pairing_of_the_joins_has_more_pairs(chart: Chart, carry: Carry) -> None:
    strands = planned(chart, carry._replace(share=True))
    joins = [place for place in strands.first.values() if place != (0, 0)]
    graph = nx.Graph()
    for one, other in combinations(sorted(joins), 2):
        is_one_yarn = strands.rows.segment(one).yarn == strands.rows.segment(other).yarn
        is_one_row = one.row == other.row
        if is_one_row and is_one_yarn and gap_apart(chart, one.row, one.segment, other.segment) <= carry.reach:
            graph.add_edge(one, other)
    assert len(strands.shared) == len(nx.max_weight_matching(graph, maxcardinality=True))
    assert all(graph.has_edge(*pair) for pair in strands.shared)
    halves = [place for pair in strands.shared for place in pair]
    assert len(halves) == len(set(halves))


@given(charts(), limits())
def test_sharing_changes_no_strand_and_takes_two_ends_a_pair(chart: Chart, carry: Carry) -> None:
    alone, shared = planned(chart, carry), planned(chart, carry._replace(share=True))
    assert shared.strand_of == alone.strand_of
    assert shared.total.ends == alone.total.ends - 2 * len(shared.shared) == len(ends_of(shared))


@given(charts(), limits(), st.data())
def test_from_anywhere_on_the_pairs_are_the_same_when_nothing_else_changed(
    chart: Chart, carry: Carry, data: st.DataObject
) -> None:
    carry = carry._replace(share=True)
    strands = planned(chart, carry)
    place = data.draw(st.sampled_from(list(strands.rows.places())))
    begun = strands.strand_of[place.row][:place.segment]
    worked = strands.strand_of[:place.row] + ((begun,) if begun else ())
    past = Past(worked, shared=strands.shared)
    again = planned(chart, carry, past)
    if again.strand_of == strands.strand_of:
        assert again.shared == strands.shared
    without = planned(chart, carry._replace(share=False), past)
    assert all(one < place for one, _ in without.shared)


def test_two_posts_beside_each_other_start_from_one_length() -> None:
    strands = planned(TWO_POSTS)
    # The grounds beside the posts: sand goes up at the right, and is joined anew between the posts and at the left.
    assert strands.shared == ((Place(2, 1), Place(2, 3)), (Place(2, 2), Place(2, 4)))
    assert (strands.total.strands, strands.total.ends) == (5, 10 - 4)
    halves = [step for run in row_runs(strands, 2) for step in run.steps if isinstance(step, JoinHalf)]
    assert [tell(step, "full", US) for step in halves] == [
        "Start new brick at the back at the middle of a length wound from both ends: no tail. "
        "Its other half starts 2 sts further on.",
        "Start new sand at the back at the middle of a length wound from both ends: no tail. "
        "Its other half starts 2 sts further on.",
        "Start the other half of the brick begun 2 sts back: no tail, leave it slack at the back.",
        "Start the other half of the sand begun 2 sts back: no tail, leave it slack at the back.",
    ]
    [ready] = [step for step in row_end(strands, 1) if isinstance(step, HaveReady)]
    assert ready == HaveReady((), ("brick", "sand"))
    assert tell(ready, "full", US) == "Have ready: new brick wound from both ends, new sand wound from both ends."


def test_a_half_has_one_tail_and_names_the_other() -> None:
    piece = piece_of(TWO_POSTS, SHARE)
    alone = {length.strand: length for length in lengths(piece, planned(TWO_POSTS, Carry(3)))}
    for length in lengths(piece, planned(TWO_POSTS)):
        if length.strand == 1:
            assert (length.tails, length.shares_with) == (2, None)
        else:
            assert length.tails == 1
            assert length.shares_with == {2: 4, 4: 2, 3: 5, 5: 3}[length.strand]
            assert length.worked_cm == alone[length.strand].worked_cm
            assert length.cm <= alone[length.strand].cm - Fraction(10)


def test_the_strand_that_casts_on_starts_at_its_tail() -> None:
    assert planned(drawn("sbs")).shared == ()
