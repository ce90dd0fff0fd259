"""Whatever was done to a piece, it can be told to have been worked like another plan of as many rows: the same rows
and stitches are worked, by strands that are lawful, in one step that is taken back whole."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.progress import legality
from companion.progress.actions import Back, Refused
from companion.progress.deciding import decide
from companion.progress.edited import Version, can_be_knitted_like, knitted_like
from companion.progress.events import from_json, to_json
from companion.progress.fold import apply
from companion.progress.session import Session
from companion.progress.stored import StoredPlan
from tests.knitting.charts import charts, limits, piece_of
from tests.progress.runs_counted import Edited, starting
from tests.progress.test_session_laws import actions, named

SIZE = {"max_rows": 5, "max_columns": 6, "ways": ("flat",)}


def stitches(session: Session) -> tuple[int, int]:
    """How many rows are whole, and how many stitches of the next one are worked."""
    begun = session.rows[session.row].segments[:session.done]
    return session.rows_done, 0 if session.is_at_turn else sum(segment.stitches for segment in begun)


@st.composite
def two_plans(draw: st.DrawFn) -> tuple[Piece, Piece]:
    """Two pieces of the same yarns; they may differ in anything else."""
    carry = draw(limits())
    old, new = (piece_of(draw(charts(**SIZE)), carry, 8) for _ in range(2))
    return old, replace(new, yarns=old.yarns if len(old.yarns) >= len(new.yarns) else new.yarns, carry=Carry(1))


@given(two_plans(), actions())
def test_what_is_worked_is_worked_like_the_other_plan(plans: tuple[Piece, Piece], todo: list[object]) -> None:
    old, new = plans
    _, session, _ = starting(old)
    for number in todo:
        action = named(session, number)
        if not isinstance(action, Edited):
            try:
                session = apply(session, decide(session, action))
            except Refused:
                continue
    known = session.changed(versions={**session.versions, 1: new})
    version = Version(1, new, StoredPlan("", "", "", {}, ""), False, None)
    try:
        entry = knitted_like(known, version)
    except Refused:
        assert session.is_bound_off or not can_be_knitted_like(session, new)
        return
    entry = from_json(to_json(entry))
    legality.check(known, entry)
    after = apply(known, entry)
    assert after.piece == new
    assert stitches(after) == stitches(session)
    assert after.act is None or session.act is not None
    here = Place(after.row, after.done)
    for place in after.rows.places():
        strand = after.strands.at(place)
        assert after.rows.segment(after.strands.first[strand]).yarn == after.rows.segment(place).yarn
        assert place < here or strand not in after.cut, "a strand that is cut works no more"
    back = apply(after, decide(after, Back()))
    assert back == known.changed(versions=back.versions)
