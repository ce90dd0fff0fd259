"""What an event changes in the strands of a session. Yarn keeps its ends: where a length was cut, joined on or
spliced it stays so, however far it is ripped out, until it is told otherwise."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from companion.knitting.cloth.rows import Place
from companion.knitting.strands.strands import Break, Strands
from companion.progress.events import Planned
from companion.progress.session import Session


def settled(session: Session) -> Session:
    """Where all is done at the row's end, nothing of it is asked for again by another plan for the rest."""
    return session if session.act is not None else session.changed(acts_done=None)


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
    return session.changed(strands=strands, cut=cut, is_begun=where.place == session.next_place)


def freed(session: Session, strand: int, *, is_new: bool = False) -> Session:
    """The strand is not cut, and no end of its length is known further on: it was not cut when that was told.
    ``is_new``: the number was that of a strand that is ripped out altogether, splices and all."""
    session = settled(session)
    strands, here = session.strands, (session.row, session.done)
    kept = tuple(
        broken for broken in strands.breaks
        if broken.place < here or strands.at(broken.place) != strand or (broken.is_spliced and not is_new)
    )
    told = tuple(other for other in session.told if other != strand)
    return session.changed(strands=replace(strands, breaks=kept), cut=session.cut - {strand}, told=told)


def reassigned(session: Session, place: Place, strand: int) -> Session:
    """Another strand works a run. What was cut at this turn as the run's strand was this one, unless it goes on."""
    following = session.next_place
    goes_on = session.is_begun and following is not None and session.strands.at(following) == strand
    if place == session.last_place and session.strands.at(place) in session.told and not goes_on:
        return session.changed(cut=session.cut | {strand}, told=(*session.told, strand))
    return session.changed(is_begun=session.is_begun or place == session.next_place)


def planned(session: Session, plan: Planned) -> Session:
    """The session with other strands. Of a strand that was ripped out altogether nothing is kept: its number may
    name another one from now on."""
    old, begun = session.strands, session.next_place
    session = settled(session).changed(version=plan.version, limits=plan.limits)
    rows = session.as_worked(session.piece, plan.met(old.rows.meetings))
    strand_of = plan.whole(old.strand_of, len(rows))
    worked = {n for row in strand_of[:session.row] for n in row}.union(strand_of[session.row][:session.done])
    strands = Strands(rows, strand_of, shared=plan.shared)
    breaks = sorted(_kept(session, strands, worked))
    return session.changed(
        strands=replace(strands, breaks=tuple(breaks)),
        cut=session.cut & worked,
        told=tuple(strand for strand in session.told if strand in worked),
        is_begun=session.is_begun and begun is not None and _is_same(old, strands, begun),
    )


def _kept(session: Session, new: Strands, worked: set[int]) -> Iterator[Break]:
    """What is still so of the lengths: all that lies in what is worked and in the run in work; of what is to come a
    join where its strand works the run as before, and a splice wherever it comes along with its yarn. A join that lay
    past the end that its run has now is let go."""
    old = session.strands
    for broken in old.breaks:
        place, strand = broken.place, old.at(broken.place)
        is_worked = place < (session.row, session.done)
        is_same = is_worked or _is_same(old, new, place)
        is_settled = is_worked or (is_same and place == session.next_place)
        if not (is_settled or strand in worked):
            continue
        if is_same and (is_settled or not broken.is_spliced) and broken.after < new.rows.segment(place).stitches:
            yield broken
        elif broken.is_spliced:
            stitches = old.stitches_before(place) + broken.after
            if (found := new.after_stitches(strand, stitches)) is not None:
                yield Break(*found, is_spliced=True)


def _is_same(old: Strands, new: Strands, place: Place) -> bool:
    """The same strand works the run as before. Of another yarn it is another one, whatever its number."""
    row, segment = place
    if row >= len(new.strand_of) or new.strand_of[row][segment:segment + 1] != (old.at(place),):
        return False
    return old.rows.segment(place).yarn == new.rows.segment(place).yarn
