"""Events to JSON and back: nothing is lost, and what was never written is refused."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import End
from companion.knitting.strands.limits import Carry
from companion.progress.events import (
    BoundOff,
    Broke,
    Cut,
    Finished,
    JoinedNew,
    MissedCross,
    Mistook,
    Noted,
    Planned,
    RanOut,
    RippedBack,
    Sewed,
    Trapping,
    Unpicked,
    Unsewed,
    Unwove,
    WentBack,
    WentOn,
    Worked,
    Wove,
    from_json,
    to_json,
)

N = st.integers(0, 10**7)
STRANDS = st.lists(st.lists(N, min_size=1, max_size=4).map(tuple), min_size=1, max_size=4).map(tuple)
ENDS = st.builds(End, st.builds(Place, N, N), st.sampled_from(["start", "finish"]), st.integers(0, 40))
WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
EVENTS = st.one_of(
    st.builds(Planned, N, st.builds(Carry, N, N, N, st.booleans()), STRANDS),
    st.builds(Worked, N, N, WORDS, N, N),
    st.builds(Cut, N, st.lists(N, min_size=1, max_size=5).map(tuple)),
    st.builds(Unpicked, N, N),
    st.builds(RippedBack, st.integers(-1, 10**7)),
    st.builds(Noted, N, WORDS),
    st.builds(Wove, ENDS),
    st.builds(Unwove, ENDS),
    st.builds(Broke, N, N, N, st.booleans()),
    st.builds(RanOut, N),
    st.builds(JoinedNew, N, N, N),
    st.builds(WentOn, N, N, N),
    st.just(BoundOff()),
    st.builds(Finished, WORDS),
    st.builds(Mistook, N, st.lists(N, min_size=1, max_size=3).map(tuple), WORDS, WORDS),
    st.builds(MissedCross, N, N),
    st.builds(Sewed, N, N),
    st.builds(Trapping, st.booleans()),
    st.builds(Unsewed, N, N),
    st.just(WentBack()),
)


@given(st.lists(EVENTS, min_size=1, max_size=6).map(tuple))
def test_what_is_written_is_read_as_the_same_events(entry: tuple) -> None:  # type: ignore[type-arg]
    text = to_json(entry)
    again = from_json(text)
    assert again == entry
    assert [type(event) for event in again] == [type(event) for event in entry]
    assert "\n" not in text


def test_the_form_of_an_entry_stays_as_it_was_first_written() -> None:
    entry = (
        Planned(1, Carry(3, 0, 2, True), ((1, 2), (2,))),
        Worked(4, 0, "sea", 12, 7),
        Cut(4, (2, 7)),
        Unpicked(4, 0),
        RippedBack(-1),
        Noted(3, "größer"),
        Wove(End(Place(4, 1), "finish")),
        Unwove(End(Place(0, 0), "start")),
        BoundOff(),
        WentBack(),
    )
    assert to_json(entry) == (
        '[["Planned",1,[3,0,2,true],[[1,2],[2]]],["Worked",4,0,"sea",12,7],["Cut",4,[2,7]],["Unpicked",4,0],'
        '["RippedBack",-1],["Noted",3,"größer"],["Wove",[[4,1],"finish"]],["Unwove",[[0,0],"start"]],["BoundOff"],'
        '["WentBack"]]'
    )


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{}",
        "[]",
        "null",
        "7",
        '"Worked"',
        '["Worked"]',
        "[[]]",
        '[["Frogged", 1]]',
        '[["Worked", 0, 0, "sand", 4]]',
        '[["Worked", 0, 0, "sand", 4, 1, 1]]',
        '[["Worked", 0, 0, "sand", 4, "1"]]',
        '[["Worked", 0, 0, 7, 4, 1]]',
        '[["Worked", 0, true, "sand", 4, 1]]',
        '[["Worked", 0, 0.5, "sand", 4, 1]]',
        '[["Cut", 1, 2]]',
        '[["Cut", 1, "23"]]',
        '[["Planned", 0, [3, 0, 0], [[1]]]]',
        '[["Planned", 0, [3, 0, 0, false], [1]]]',
        '[["Wove", [[0, 0], "middle"]]]',
        '[["Wove", [[0], "start"]]]',
        '[["Wove", [[0, 0], "start", 0]]]',
        '[["Wove", [[0, 0], "start", 2, 3]]]',
        '[["Wove", [[0, 0], "start", "2"]]]',
        '[["Broke", 0, 0, 2, 1]]',
        '[["WentBack", 1]]',
        '[["BoundOff"], 5]',
        "[" * 100_000,
    ],
)
def test_what_was_never_written_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(text)


@given(st.lists(EVENTS, min_size=1, max_size=3).map(tuple), st.data())
def test_a_broken_entry_is_refused_or_is_an_entry(entry: tuple, data: st.DataObject) -> None:  # type: ignore[type-arg]
    text = to_json(entry)
    at = data.draw(st.integers(0, len(text) - 1))
    broken = text[:at] + data.draw(st.sampled_from(["", "[", "]", "1", '"', "null", ","])) + text[at + 1 :]
    try:
        again = from_json(broken)
    except ValueError:
        return
    assert json.loads(to_json(again)) == json.loads(broken)
