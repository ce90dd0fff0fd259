"""Where the strands hang at any moment, in the order in which they lie along the needles."""

from __future__ import annotations

from collections.abc import Collection

from companion.knitting.cloth.rows import Place, Row, Rows
from companion.knitting.hands.joins_and_cuts import idle
from companion.knitting.hands.needles import Needles
from companion.knitting.hands.runs import run_steps
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record


class Hang(Record):
    """One strand at work. ``worked`` is the segment it worked last; ``away`` the stitches between it and the tips
    of the needles: above 0 ahead, on the left needle, below 0 back, on the right needle; 0 = at the tips.
    ``is_in_hand``: it is the strand worked with last. ``next``: where it works next, None before its cut."""

    strand: int
    yarn: str
    worked: Place
    away: int
    is_in_hand: bool
    next: Place | None


def hangs(
    strands: Strands, row: int, done: int, cut: Collection[int] | None = None, *, is_turned: bool = True
) -> tuple[Hang, ...]:
    """Every strand joined and not cut when ``done`` segments of row ``row`` are worked, from the furthest back to
    the furthest ahead. At a row's end they lie as they are met after the turn, or unless ``is_turned`` before it.
    ``cut``: the strands cut so far, of which those that are still to be worked hang there all the same; None: those
    of rows below, as planned. While row 1 is worked, strands begun in the cast-on hang where it needs them;
    ``worked`` is the run they were cast on for.
    """
    if done == 0:
        return ()
    rows = strands.rows
    following = rows.onward(row) if is_turned and done == len(rows[row].segments) else None
    index = row if following is None else following
    held = rows[index]
    at_tips = held.segments[done - 1].exit if following is None else held.segments[0].entry
    needles = Needles(rows, index)
    if following is None:
        run = run_steps(strands, Place(row, done)) if done < len(held.segments) else None
        needles.left, needles.right = (run.left, run.right) if run else (0, held.stitches)
    ended = () if cut is None else cut
    wanted = {strand for strand in strands.alive[row] if strand not in ended or strands.last[strand] >= (row, done)}
    if cut is not None:
        wanted.update(idle(strands, row, cut))
    last = ((strands.latest(strand, Place(row, done)), strand) for strand in wanted)
    found = [
        Hang(
            strand, rows.segment(place).yarn, place,
            _away(rows, index, needles, at_tips, place),
            place == (row, done - 1), strands.after(place),
        )
        for place, strand in sorted((place, strand) for place, strand in last if place)[::-1]
        if _is_here(strands, index, place)
    ]
    if row == 0 and rows.cast_on.is_each:
        for segment in range(done, len(rows[0].segments)):
            place, section = Place(0, segment), rows[0].segments[segment]
            away = _along(held, at_tips, section.entry)
            found.append(Hang(strands.at(place), section.yarn, place, away, False, place))
    return tuple(sorted(found, key=lambda hang: hang.away))


def _is_here(strands: Strands, index: int, worked: Place) -> bool:
    """Whether a strand hangs at the stitches on the needles, and not at those of the other part."""
    fabric, following = strands.rows.fabric, strands.after(worked)
    if fabric.is_apart(worked.row, index):
        return False
    return following is None or not fabric.is_apart(following.row, index)


def _away(rows: Rows, index: int, needles: Needles, tips: int, worked: Place) -> int:
    """Stitches from the tips to a strand while row ``index`` is worked, positive the way it is worked."""
    if rows.fabric.is_shaped and worked.row < index:
        return needles.away(worked)
    return _along(rows[index], tips, rows.segment(worked).exit)


def _along(row: Row, tips: int, gap: int) -> int:
    """Stitches of a row from one gap to another."""
    over = row.upto(gap) - row.upto(tips)
    return over if row.toward == "left" else -over
