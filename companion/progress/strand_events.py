"""What an event changes in the strands of a session. Yarn keeps its ends: where a length was cut, joined on or
spliced it stays so, however far it is ripped out, until it is told otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from companion.knitting.cloth.rows import Place
from companion.knitting.strands.strands import Break, Pair, StrandOf, Strands
from companion.progress.session import Session


def broken(session: Session, where: Break) -> Session:
    """A length ended. What was known of the old length further on is of no account any more, its cut neither, where
    a new one was joined."""
    strands, strand = session.strands, session.strands.at(where.place)
    if where.is_spliced:
        kept, cut = strands.breaks, session.cut
    else:
        kept = tuple(b for b in strands.breaks if b < where or strands.at(b.place) != strand)
        cut = session.cut - {strand}
    strands = replace(strands, breaks=tuple(sorted({*kept, where})))
    return replace(session, strands=strands, cut=cut, is_begun=where.place == session.next_place)


def freed(session: Session, strand: int, *, is_new: bool = False) -> Session:
    """The strand is not cut, and no end of its length is known further on: it was not cut when that was told.
    ``is_new``: the number was that of a strand that is ripped out altogether, splices and all."""
    strands, here = session.strands, (session.row, session.done)
    kept = tuple(
        broken for broken in strands.breaks
        if broken.place < here or strands.at(broken.place) != strand or (broken.is_spliced and not is_new)
    )
    told = tuple(other for other in session.told if other != strand)
    return replace(session, strands=replace(strands, breaks=kept), cut=session.cut - {strand}, told=told)


def reassigned(session: Session, place: Place, strand: int) -> Session:
    """Another strand works a run. What was cut at this turn as the run's strand was this one, unless it goes on."""
    following = session.next_place
    goes_on = session.is_begun and following is not None and session.strands.at(following) == strand
    if place == session.last_place and session.strands.at(place) in session.told and not goes_on:
        return replace(session, cut=session.cut | {strand}, told=(*session.told, strand))
    return replace(session, is_begun=session.is_begun or place == session.next_place)


def planned(session: Session, strand_of: StrandOf, shared: tuple[Pair, ...] = ()) -> Session:
    """The session with these strands. Of a strand that was ripped out altogether nothing is kept: its number may
    name another one from now on."""
    old, begun = session.strands, session.next_place
    worked = {n for row in strand_of[:session.row] for n in row}.union(strand_of[session.row][:session.done])
    is_begun = session.is_begun and begun is not None and _is_same(old, strand_of, begun)
    strands = Strands(session.as_worked(session.piece), strand_of, shared=shared)
    breaks = sorted(_kept(session, strands, worked))
    return replace(
        session,
        strands=replace(strands, breaks=tuple(breaks)),
        cut=session.cut & worked,
        told=tuple(strand for strand in session.told if strand in worked),
        is_begun=is_begun,
    )


def _kept(session: Session, new: Strands, worked: set[int]) -> Iterator[Break]:
    """What is still so of the lengths: all that lies in what is worked and in the run in work; of what is to come a
    join where its strand works the run as before, and a splice wherever it comes along with its yarn."""
    old, begun = session.strands, session.next_place
    for broken in old.breaks:
        place, strand = broken.place, old.at(broken.place)
        is_same = _is_same(old, new.strand_of, place)
        if place < (session.row, session.done) or (is_same and place == begun):
            yield broken
        elif strand not in worked:
            continue
        elif not broken.is_spliced:
            if is_same:
                yield broken
        else:
            stitches = old.stitches_before(place) + broken.after
            if (found := new.after_stitches(strand, stitches)) is not None:
                yield Break(*found, is_spliced=True)


def _is_same(old: Strands, strand_of: StrandOf, place: Place) -> bool:
    """The same strand works the run as before."""
    return place.row < len(strand_of) and strand_of[place.row][place.segment:place.segment + 1] == (old.at(place),)
