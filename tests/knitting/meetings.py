"""Strands that meet in runs which they share: charts and limits that make them meet, and strands that meet wherever
they can. The latter are made from strands that do not: where one ends below a run of its yarn that another one works,
both work it, and the one that came from below goes on. So there are meetings of every kind."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Stitch
from companion.knitting.cloth.rows import Place
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.strands import Strands
from tests.knitting.charts import Chart


def with_meetings(strands: Strands, is_wanted: Callable[[], bool] = lambda: True) -> Strands:
    """The same piece with strands that meet wherever one ends below a run of its yarn, if that ``is_wanted``. As many
    are joined, at the same places."""
    for index in range(1, len(strands.rows)):
        for strand, last in strands.last.items():
            at = _may_meet(strands, strand, last, index)
            if at is not None and is_wanted():
                strands = _exchanged(strands, Place(index, at), strand, strands.rows.segment(last).exit)
    return strands


def _may_meet(strands: Strands, strand: int, last: Place, index: int) -> int | None:
    """The run of a row inside which a strand hangs that ends in the row below."""
    rows, gap = strands.rows, strands.rows.segment(last).exit
    may = strands.bars.may_go_on(last.row, index) if last.row in rows.before(index) else (lambda *_: False)
    for at, run in enumerate(rows[index].segments):
        columns = run.columns
        inside = [column - (rows[index].toward == "right") for column in columns[:-1]]
        is_of_it = run.yarn == rows.segment(last).yarn and gap in inside
        if is_of_it and strand not in strands.strand_of[index] and (may is None or may(gap, at)):
            return at
    return None


def _exchanged(strands: Strands, place: Place, comes: int, gap: int) -> Strands:
    """At a gap inside a run another strand takes over, and works what was to be worked after it."""
    row, at = place
    met = strands.rows.meetings
    rows = strands.rows.divided_at({**met, row: tuple(sorted((*met.get(row, ()), gap)))})
    goes = strands.at(place)
    numbers = list(map(list, strands.strand_of))
    for number, later in enumerate(numbers[row:], row):
        start = at + 1 if number == row else 0
        later[start:] = [comes if strand == goes else strand for strand in later[start:]]
    numbers[row].insert(at + 1, comes)
    return replace(strands, rows=rows, strand_of=tuple(map(tuple, numbers)))


@st.composite
def bollards(draw: st.DrawFn) -> Chart:
    """Charts of a ground with one motif or two, rows of ground alone above them, and above those such motifs again:
    grounds meet there and part."""
    wide = draw(st.integers(5, 9))
    drawn = [_motif(draw, wide) for _ in range(2)]
    heights = draw(st.integers(1, 2)), draw(st.integers(1, 2)), draw(st.integers(1, 2))
    lines = [*[drawn[0]] * heights[0], *[{}] * heights[1], *[drawn[1]] * heights[2]]
    grid = tuple(tuple(Stitch(line.get(column, "sand")) for column in range(1, wide + 1)) for line in lines)
    return Chart(grid, (False,) * len(grid))


def _motif(draw: st.DrawFn, wide: int) -> dict[int, str]:
    """Columns of one or two motifs, ground beside all of them."""
    first = draw(st.integers(2, 3))
    found = dict.fromkeys(range(first, draw(st.integers(first, min(first + 2, wide - 1))) + 1), "brick")
    if max(found) + 2 < wide and draw(st.booleans()):
        found |= dict.fromkeys(range(max(found) + 2, wide), "kelp")
    return found


def may_share_runs(limits: st.SearchStrategy[Carry]) -> st.SearchStrategy[Carry]:
    """Such limits, under most of which strands may share runs."""
    return st.builds(Carry._replace, limits, share_runs=st.sampled_from([True, True, False]))
