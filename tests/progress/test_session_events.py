"""What is written in a journal is read back as it was; anything else is refused."""

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
    Entry,
    JoinedNew,
    Noted,
    Planned,
    RanOut,
    RippedBack,
    Unpicked,
    Unwove,
    WentBack,
    WentOn,
    Worked,
    Wove,
    from_json,
    to_json,
)

NUMBER = st.integers(-1, 10**6)
WORDS = st.text(max_size=20)
ROW = st.lists(st.integers(1, 50), min_size=1, max_size=5).map(tuple)
END = st.builds(End, st.builds(Place, NUMBER, NUMBER), st.sampled_from(["start", "finish"]), st.integers(0, 40))
EVENT = st.one_of(
    st.builds(Planned, NUMBER, st.builds(Carry, NUMBER, NUMBER, NUMBER, st.booleans()),
              st.lists(ROW, min_size=1, max_size=4).map(tuple)),
    st.builds(Worked, NUMBER, NUMBER, WORDS, NUMBER, NUMBER),
    st.builds(Cut, NUMBER, ROW),
    st.builds(Unpicked, NUMBER, NUMBER),
    st.builds(RippedBack, NUMBER),
    st.builds(Noted, NUMBER, WORDS),
    st.builds(Wove, END),
    st.builds(Unwove, END),
    st.builds(Broke, NUMBER, NUMBER, NUMBER, st.booleans()),
    st.builds(RanOut, NUMBER),
    st.builds(JoinedNew, NUMBER, NUMBER, NUMBER),
    st.builds(WentOn, NUMBER, NUMBER, NUMBER),
    st.just(BoundOff()),
    st.just(WentBack()),
)


@given(st.lists(EVENT, min_size=1, max_size=6).map(tuple))
def test_what_is_written_is_read_back_as_it_was(entry: Entry) -> None:
    told = to_json(entry)
    assert from_json(told) == entry
    assert "\n" not in told
    assert all(type(event) is type(other) for event, other in zip(from_json(told), entry, strict=True))


def test_what_life_did_is_one_plain_line_too() -> None:
    entry = (
        Broke(3, 1, 2, False), RanOut(4), JoinedNew(3, 1, 5), WentOn(0, 0, 2), Wove(End(Place(3, 1), "start", 2)),
    )
    line = (
        '[["Broke",3,1,2,false],["RanOut",4],["JoinedNew",3,1,5],["WentOn",0,0,2],["Wove",[[3,1],"start",2]]]'
    )
    assert to_json(entry) == line
    assert from_json(line) == entry


def test_an_entry_is_one_plain_line() -> None:
    """The journals on people's disks hold this form."""
    entry = (
        Planned(1, Carry(3, 2, 1), ((1, 2), (2, 1))), Worked(0, 1, "sjø", 8, 2), Cut(0, (1, 2)), Unpicked(4, 0),
        RippedBack(-1), Noted(2, 'say "ja"'), Wove(End(Place(0, 1), "start")), Unwove(End(Place(3, 0), "finish")),
        BoundOff(), WentBack(),
    )
    line = (
        '[["Planned",1,[3,2,1,false],[[1,2],[2,1]]],["Worked",0,1,"sjø",8,2],["Cut",0,[1,2]],["Unpicked",4,0],'
        '["RippedBack",-1],["Noted",2,"say \\"ja\\""],["Wove",[[0,1],"start"]],["Unwove",[[3,0],"finish"]],'
        '["BoundOff"],["WentBack"]]'
    )
    assert to_json(entry) == line
    assert from_json(line) == entry


GARBAGE = [
    "",
    "knit on",
    "null",
    "7",
    '"Worked"',
    "{}",
    "[]",
    '{"Worked": []}',
    "[[]]",
    "[7]",
    '["BoundOff"]',
    '[["Danced"]]',
    "[[null]]",
    "[[[]]]",
    '[["BoundOff", 1]]',
    '[["Worked", 0, 1, "sand", 8]]',
    '[["Worked", 0, 1, "sand", 8, 2, 3]]',
    '[["Worked", 0, 1, "sand", 8, "2"]]',
    '[["Worked", 0, 1, 5, 8, 2]]',
    '[["Worked", 0, 1, null, 8, 2]]',
    '[["Worked", 0.0, 1, "sand", 8, 2]]',
    '[["Worked", NaN, 1, "sand", 8, 2]]',
    '[["Worked", true, 1, "sand", 8, 2]]',
    '[["Cut", 0, "abc"]]',
    '[["Cut", 0, 1]]',
    '[["Cut", 0, [1, "2"]]]',
    '[["Noted", 0, 1]]',
    '[["Wove", 0]]',
    '[["Wove", [[0, 1], "middle"]]]',
    '[["Wove", [[0], "start"]]]',
    '[["Wove", [[0, 0], "start", 0]]]',
    '[["Wove", [[0, 0], "start", 2, 3]]]',
    '[["Broke", 0, 0, 2, 1]]',
    '[["Wove", [[0, 1, 2], "start"]]]',
    '[["Wove", [[0, 1], ["start"]]]]',
    '[["Planned", 0, [3], [[1]]]]',
    '[["Planned", 0, [3, 0, 0, 0], [[1]]]]',
    '[["Planned", 0, ["3", 0, 0, false], [[1]]]]',
    '[["Planned", 0, [3, 0, 0, false], [1]]]',
    '[["Planned", 0, [3, 0, 0, false], "ab"]]',
    '[["Planned", 0, [3, 0, 0, false], {"1": [1]}]]',
    '[["BoundOff"]',
    '[["BoundOff"]] [["BoundOff"]]',
    "[" * 100_000,
    '[["RippedBack", ' + "9" * 5000 + "]]",
    "\x00\x00\x00",
]


@pytest.mark.parametrize("text", GARBAGE, ids=lambda text: repr(text)[:50])
def test_what_is_no_entry_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(text)


NAMES = st.sampled_from(["sand", "start", "Worked", "Cut"])
LEAF = st.none() | st.booleans() | st.integers(-2, 5) | st.floats() | NAMES
JSON = st.recursive(
    LEAF,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["a", "Cut"]), inner, max_size=2),
    max_leaves=12,
)


@given(JSON | st.text(), st.booleans())
def test_whatever_is_read_is_an_entry_or_refused(value: object, is_bare: bool) -> None:
    text = value if is_bare and isinstance(value, str) else json.dumps([value])
    try:
        entry = from_json(text)
    except ValueError:
        return
    assert from_json(to_json(entry)) == entry


@given(st.lists(EVENT, min_size=1, max_size=3).map(tuple), st.data())
def test_an_entry_with_one_value_of_another_kind_is_refused(entry: Entry, data: st.DataObject) -> None:
    told = json.loads(to_json(entry))
    event = data.draw(st.sampled_from(told))
    at = data.draw(st.sampled_from([i for i, value in enumerate(event) if not isinstance(value, bool)]))
    event[at] = data.draw(st.sampled_from([None, 1.5, {}, True, []]))
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(json.dumps(told))


@given(st.lists(EVENT, min_size=1, max_size=3).map(tuple), st.data())
def test_a_line_that_breaks_off_is_refused(entry: Entry, data: st.DataObject) -> None:
    told = to_json(entry)
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(told[: data.draw(st.integers(0, len(told) - 1))])
