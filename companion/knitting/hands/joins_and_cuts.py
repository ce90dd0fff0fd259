"""Where lengths of yarn begin and stop: the steps that leave ends, and the places by which strands are told."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from companion.knitting.cloth.cast_on import sections, separate_yarn
from companion.knitting.cloth.outlines import begins_at_opening, is_held, openings
from companion.knitting.cloth.rows import Place, Rows, Side
from companion.knitting.cloth.segments import Segment
from companion.knitting.hands import steps as do
from companion.knitting.latest import latest
from companion.knitting.strands.strands import Break, Strands


def casting_on(strands: Strands) -> tuple[do.Before, ...]:
    """What is done before row 1: the cast-on, section by section where it is in several strands."""
    rows = strands.rows
    own, method = separate_yarn(rows), rows.cast_on.method
    found, old = list[do.Before](), ""
    for strand, section in zip(reversed(strands.strand_of[0]), sections(rows), strict=False):
        number = strand if rows.cast_on.is_each else 0 if own else strands.at(Place(0, 0))
        if found:
            found.append(do.CrossCastOn(old, section.yarn))
        found.append(do.CastOn(number, section.yarn, section.stitches, method))
        old = section.yarn
    if own:
        found.append(do.CutCastOn(own))
    if rows[0].is_round and len(found) < 3:
        found.append(do.JoinRound())
    return tuple(found)


def crossed_over(strands: Strands, place: Place) -> str:
    """The yarn of the strand to be crossed over: the run before in this row; at a row's start the strand that worked
    the edge last. "" where there is none, or it is the same one: a strand may have gone on where another one of its
    yarn was to take over."""
    rows = strands.rows
    if place.segment:
        last = Place(place.row, place.segment - 1)
        return rows.segment(last).yarn if strands.at(last) != strands.at(place) else ""
    if begins_at_opening(rows, place.row):
        return ""
    before = _at_the_start(rows, place.row)
    if before is not None:
        edge = Place(before, len(rows[before].segments) - 1)
        if strands.at(edge) != strands.at(place):
            return rows.segment(edge).yarn
    return ""


def _at_the_start(rows: Rows, index: int) -> int | None:
    """The row below that lies where a row begins."""
    below = rows.before(index)
    if len(below) < 2:
        return next(iter(below), None)
    return next(one for one in below if rows[one].part != rows[index].toward)


def shared_run(strands: Strands, place: Place) -> do.Share | None:
    """Which strands share the run that begins at a place; None where one strand works all of it."""
    runs, numbers = strands.rows[place.row].segments, strands.strand_of[place.row]
    yarn, works, at = runs[place.segment].yarn, list[int](), place.segment
    if at and runs[at - 1].yarn == yarn:
        return None
    while at < len(runs) and runs[at].yarn == yarn:
        if works and numbers[at] == numbers[at - 1]:
            works[-1] += runs[at].stitches
        else:
            works.append(runs[at].stitches)
        at += 1
    return do.Share(yarn, tuple(works)) if len(works) > 1 else None


def joined(strands: Strands, place: Place) -> do.Join | do.JoinHalf:
    """How a strand that is not begun in the cast-on starts."""
    row, segment = strands.rows[place.row], strands.rows.segment(place)
    other = strands.other_half.get(place)
    if other is None:
        return do.Join(segment.yarn, crossed_over(strands, place), row.side)
    apart = abs(row.upto(segment.entry) - row.upto(strands.rows.segment(other).entry))
    return do.JoinHalf(segment.yarn, "first" if place < other else "second", apart, row.side)


def renewed(strands: Strands, broken: Break) -> do.Renew | do.Splice:
    """How the next length follows where one ends inside a run."""
    row, yarn = strands.rows[broken.place.row], strands.rows.segment(broken.place).yarn
    return do.Splice(yarn, broken.after) if broken.is_spliced else do.Renew(yarn, broken.after, row.side)


def cut_at(strands: Strands, index: int, cut: Collection[int] | None = None) -> do.Cut | None:
    """What is cut at a row's end. ``cut``: the strands that were cut before it; None: as planned."""
    rows = strands.rows
    places = [place for place in cuts_at(strands, index) if cut is None or strands.at(place) not in cut]
    if not rows.following(index):  # those that bind off are still needed
        of_it = set(do.cuts(_off(strands, index)))
        places = [place for place in places if strands.at(place) not in of_it]
    over = [] if cut is None else [strands.last[strand] for strand in idle(strands, index, cut)]
    if not places and not over:
        return None
    spots = tuple(spot(strands, place) for place in places)
    gone, yarns = {one.strand for one in spots}, {one.yarn for one in spots}
    # A strand may have worked several runs of the row: it hangs where it worked last.
    hanging = {strand: Place(index, at) for at, strand in enumerate(strands.strand_of[index])}
    stays = tuple(
        spot(strands, place) for strand, place in sorted(hanging.items(), key=lambda each: each[1])
        if strand not in gone and rows.segment(place).yarn in yarns
    )
    left_over = tuple(do.InRow(rows[at.row].key, rows[at.row].is_round, spot(strands, at)) for at in over)
    return do.Cut(spots, stays, left_over)


def cuts_at(strands: Strands, row: int) -> tuple[Place, ...]:
    """The last runs of the strands that are not needed after a row, in the order in which they hang."""
    segments = enumerate(strands.strand_of[row])
    return tuple(Place(row, segment) for segment, strand in segments if strands.last[strand] == (row, segment))


@latest
def idle(strands: Strands, row: int, cut: Collection[int]) -> tuple[int, ...]:
    """The strands that hang uncut from rows below a row and are not needed any more, in order of joining."""
    uncut = strands.last.keys() - cut  # of thousands that were cut long ago nothing is to be said
    return tuple(sorted((n for n in uncut if strands.last[n].row < row), key=strands.first.__getitem__))


def bound_off_at(strands: Strands, index: int) -> do.BindOff | None:
    """What is bound off at a row's end: the piece, or a part of it. A flat row is turned before it."""
    return None if strands.rows.following(index) else _off(strands, index)


def _off(strands: Strands, index: int) -> do.BindOff:
    """Back over the row from the strand in hand. A run from which its strand went on to another one of the row has
    none there, and is bound off with the run before it."""
    rows, found = strands.rows, list[do.OwnOff]()
    for segment in reversed(range(len(rows[index].segments))):
        place = Place(index, segment)
        run, strand, before = rows.segment(place), strands.at(place), found[-1] if found else None
        if before and not (rows.ends_in_each(index) and strands.last[strand] == place):
            found[-1] = do.OwnOff(before.strand, before.yarn, before.stitches + run.stitches)
        else:
            found.append(do.OwnOff(strand, run.yarn, run.stitches))
    first, *others = found
    side: Side = "RS" if rows[index].is_round or rows[index].side == "WS" else "WS"
    return do.BindOff(first.strand, first.yarn, first.stitches, _held(rows, index), side, tuple(others))


def _held(rows: Rows, index: int) -> int:
    """Stitches that stay on a holder between two parts, once the last row of all is worked."""
    if index + 1 < len(rows):
        return 0
    return sum(found.middle for found in openings(rows) if is_held(rows, found.parts[0]))


def spot(strands: Strands, place: Place) -> do.Spot:
    """Where the strand of a run hangs among those of its row."""
    return spot_among(strands.rows[place.row].segments, place.segment, strands.at(place))


def spot_among(runs: Sequence[Segment], at: int, strand: int = 0) -> do.Spot:
    """The same of the run ``at`` so and so of those that lie beside each other."""
    before = runs[at - 1].yarn if at else ""
    after = runs[at + 1].yarn if at + 1 < len(runs) else ""
    return do.Spot(strand, runs[at].yarn, at + 1, len(runs), before, after)
