"""Laws of the journal on the real disk: what is folded again is what was on the screen, wherever one stops."""

from __future__ import annotations

import tempfile
from itertools import accumulate
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from plans_on_disk import history, plan, resume, start, state

from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    Note,
    On,
    Refused,
    RipBack,
    Unpick,
    Unweave,
    Weave,
    WholeRow,
)
from companion.progress.ends import all_ends
from companion.progress.events import from_json, to_json
from companion.progress.fold import apply, replay
from companion.progress.journal import read
from companion.progress.session import Session

ROWS = st.integers(0, 7)
WISHES = st.one_of(
    st.sampled_from([On(), On(), WholeRow(), Back(), Back(), Unpick(), BindOff()]),
    ROWS.map(AtRow),
    ROWS.map(RipBack),
    st.builds(Note, ROWS, st.text(max_size=8)),
    st.tuples(st.sampled_from([Weave, Unweave]), st.integers(0, 99)),
    st.just("edit"),
)
"""What a knitter may try; an end is told by its number among all, "edit" is another evening with an edited plan."""

EDITS = ("ssssbbbbssss", "sssssbbsssss", "bbbbssssssss")


def action(wish: Action | tuple[type[Weave] | type[Unweave], int], session: Session) -> Action:
    if isinstance(wish, tuple):
        kind, number = wish
        ends = all_ends(session)
        return kind(ends[number % len(ends)][0])
    return wish


@settings(max_examples=60)
@given(st.lists(WISHES, max_size=25), st.data())
def test_the_piece_is_the_fold_of_its_journal_from_any_point_on(
    wishes: list[Action | tuple[type[Weave] | type[Unweave], int] | str], data: st.DataObject
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        home, edits = Path(folder), 0
        knitting = start(home)
        seen = [state(knitting.session)]
        for wish in wishes:
            if isinstance(wish, str):
                edits += 1
                knitting.close()
                text = (home / "quay.yaml").read_text()
                old, new = EDITS[(edits - 1) % 3], EDITS[edits % 3]
                plan(home, text.replace(f"chart: |\n      {old}", f"chart: |\n      {new}"))
                knitting = resume(home)
                if knitting.opened_plan.kind == "adopted":
                    seen.append(state(knitting.session))
                continue
            try:
                seen.append(state(knitting.do(action(wish, knitting.session))))
            except Refused:
                assert state(knitting.session) == seen[-1]
        knitting.close()
        last, card = knitting.session, knitting.card
        entries = read(home / "pieces" / "quay.rowside").entries
        with resume(home, look_only=True) as again:
            assert history(again.session) == history(last)
            assert again.card == card
            versions = again.session.versions
    assert [state(session) for session in _every_session(versions, entries)] == seen
    cut = data.draw(st.integers(1, len(entries)))
    prefix = replay(versions, entries[:cut])
    for entry in entries[cut:]:
        prefix = apply(prefix, entry)
    assert history(prefix) == history(last)
    assert tuple(from_json(to_json(entry)) for entry in entries) == entries


def _every_session(versions: dict, entries: tuple) -> list[Session]:
    first = replay(versions, entries[:1])
    return list(accumulate(entries[1:], apply, initial=first))
