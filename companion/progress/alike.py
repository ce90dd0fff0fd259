"""Whether what is worked is the same in two versions of a plan: stitch by stitch, by yarn and texture.

What is sewn on afterwards changes nothing on the needles and does not count.
"""

from __future__ import annotations

from companion.knitting.cloth.fabric import Fabric, as_knitted
from companion.knitting.cloth.rows import Rows
from companion.knitting.strands.strands import Past, Strands, position_of


def differing_rows(old: Rows, new: Rows, row: int, done: int) -> tuple[int, ...]:
    """The rows (from 0) with a worked stitch that has another yarn or texture, or is not there, in ``new``, when
    ``done`` segments of row ``row`` are worked; before them -1 where another cast-on is planned than the one made.
    Limits, colours and titles do not count, nor where strands are to meet in ``new``."""
    new = new.divided_at(old.meetings)
    before, after = old.fabric.rows, new.fabric.rows
    whole = row + (done > 0 and done == len(old[row].segments))
    found = [-1] if done and old.cast_on != new.cast_on else []
    found += [i for i in range(whole) if i >= len(after) or as_knitted(before[i]) != as_knitted(after[i])]
    if whole == row and done and not _begins_alike(old, new, row, done):
        found.append(row)
    return tuple(found)


def is_same_work(old: Fabric, new: Fabric) -> bool:
    """Whether the hands knit the same in both, whatever is sewn on afterwards."""
    if old == new:
        return True
    return old.held == new.held and list(map(as_knitted, old.rows)) == list(map(as_knitted, new.rows))


def _begins_alike(old: Rows, new: Rows, row: int, done: int) -> bool:
    """The first ``done`` segments of a row are the same stitches in the same columns in both."""
    if row >= len(new):
        return False
    a, b = old[row], new[row]
    return (a.fabric.columns, a.side, a.segments[:done]) == (b.fabric.columns, b.side, b.segments[:done])


def meet_alike(old: Rows, new: Rows, row: int, done: int) -> bool:
    """Whether strands meet at the same gaps in what is worked when ``done`` segments of row ``row`` are."""
    whole = all(old.meetings.get(i) == new.meetings.get(i) for i in {*old.meetings, *new.meetings} if i < row)
    return whole and _met(old, row, done) == _met(new, row, done)


def _met(rows: Rows, row: int, done: int) -> list[int]:
    gaps = rows.meetings.get(row, ())
    return [run.exit for run in rows[row].segments[:done] if run.exit in gaps] if gaps else []


def fits(strands: Strands, past: Past) -> bool:
    """Whether the strands are those of the past as far as it goes, and none that is cut works on after it."""
    worked = tuple(now[: len(then)] for now, then in zip(strands.strand_of, past.worked, strict=False))
    here = position_of(past, strands.rows)
    return worked == past.worked and all(strands.last[s] < here for s in past.cut if s in strands.last)
