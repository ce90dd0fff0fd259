"""Events to JSON and back, every kind of them: nothing is lost, and what was never written is refused."""

from __future__ import annotations

import json
from typing import Any, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.cloth.rows import Place
from companion.knitting.hands.steps import End
from companion.knitting.strands.limits import Carry
from companion.progress.events import (
    BoundOff,
    Broke,
    Cut,
    Entry,
    Event,
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

KINDS = Event.__subclasses__()
ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def built(kind: Any) -> st.SearchStrategy[Any]:
    """Any event of a kind, by what its fields are said to be."""
    return st.builds(kind, **{name: values(type_) for name, type_ in get_type_hints(kind).items()})


def values(type_: Any) -> st.SearchStrategy[Any]:
    inner = get_args(type_)
    if get_origin(type_) is tuple:
        return st.lists(values(inner[0]), max_size=3).map(tuple) if ... in inner else st.tuples(*map(values, inner))
    if hasattr(type_, "_fields"):
        return built(type_)
    plain = {int: st.integers(-1, 10**7), str: ANY_TEXT, bool: st.booleans()}
    return plain[type_] if type_ in plain else st.sampled_from(inner)


def fields(kind: type[Event]) -> list[str]:
    return list(get_type_hints(kind))


ENTRIES = st.lists(st.one_of(*map(built, KINDS)), min_size=1, max_size=4).map(tuple)


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=settings().max_examples // 2)  # every example tries each of its few fields
@given(data=st.data())
def test_an_event_of_every_kind_is_read_as_it_was_written(kind: type[Event], data: st.DataObject) -> None:
    """Each of its fields, whatever its type: what is read differs as soon as one of them is another."""
    event = data.draw(built(kind))
    [again] = from_json(to_json((event,)))
    assert type(again) is kind
    assert again == event
    for name, type_ in get_type_hints(kind).items():
        assert getattr(again, name) == getattr(event, name)
        other = data.draw(values(type_))
        told = {field: getattr(event, field) for field in fields(kind)} | {name: other}
        assert (kind(**told) == again) == (other == getattr(event, name))


@given(ENTRIES)
def test_an_entry_is_one_line_and_is_read_as_the_same_events(entry: Entry) -> None:
    text = to_json(entry)
    assert "\n" not in text
    assert from_json(text) == from_json(text.encode()) == entry


FIRST_WRITTEN = (
    '[["Planned",1,[3,0,2,true],[[1,2],[2]]],["Worked",4,0,"sea",12,7],["Cut",4,[2,7]],["Unpicked",4,0],'
    '["RippedBack",-1],["Noted",3,"größer \\"ja\\""],["Wove",[[4,1],"finish"]],["Unwove",[[0,0],"start",2]],'
    '["Broke",3,1,2,false],["RanOut",4],["JoinedNew",3,1,5],["WentOn",0,0,2],["BoundOff"],["WentBack"]]'
)
"""An entry as journals have it that were written before fields were added to events."""


def test_an_entry_of_an_older_journal_is_read_with_what_was_so_before() -> None:
    assert from_json(FIRST_WRITTEN) == (
        Planned(1, Carry(3, 0, 2, True), ((1, 2), (2,))),
        Worked(4, 0, "sea", 12, 7),
        Cut(4, (2, 7)),
        Unpicked(4, 0),
        RippedBack(-1),
        Noted(3, 'größer "ja"'),
        Wove(End(Place(4, 1), "finish")),
        Unwove(End(Place(0, 0), "start", 2)),
        Broke(3, 1, 2, False),
        RanOut(4),
        JoinedNew(3, 1, 5),
        WentOn(0, 0, 2),
        BoundOff(),
        WentBack(),
    )


def test_the_form_of_an_entry_is_that_of_the_first_but_for_fields_that_were_added() -> None:
    entry = (Planned(1, Carry(3, 2, 1), ((1, 2), (2, 1))), Worked(0, 1, "sjø", 8, 2), BoundOff())
    planned = '["Planned",1,[3,2,1,false,false],[[1,2],[2,1]],[],0,[]]'
    assert to_json(entry) == f'[{planned},["Worked",0,1,"sjø",8,2],["BoundOff"]]'


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
    '[["Frogged", 1]]',
    '[["Worked", 0, 0.5, "sand", 4, 1]]',
    '[["BoundOff"], 5]',
    '[["WentBack", 1]]',
    '[["Cut", 0, "abc"]]',
    '[["Cut", 0, 1]]',
    '[["Cut", 0, [1, "2"]]]',
    '[["Noted", 0, 1]]',
    '[["Wove", 0]]',
    '[["Wove", [[0, 1], "middle"]]]',
    '[["Wove", [[0], "start"]]]',
    '[["Wove", [[0, 0], "start", 2, 3]]]',
    '[["Broke", 0, 0, 2, 1]]',
    '[["Wove", [[0, 1, 2], "start"]]]',
    '[["Wove", [[0, 1], ["start"]]]]',
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


@given(ENTRIES, st.data())
def test_an_entry_with_one_value_of_another_kind_is_refused(entry: Entry, data: st.DataObject) -> None:
    told = json.loads(to_json(entry))
    event = data.draw(st.sampled_from(told))
    at = data.draw(st.sampled_from([i for i, value in enumerate(event) if not isinstance(value, bool)]))
    event[at] = data.draw(st.sampled_from([None, 1.5, {}, True, 7 if isinstance(event[at], list) else []]))
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(json.dumps(told))


@given(ENTRIES, st.data())
def test_a_line_that_breaks_off_is_refused(entry: Entry, data: st.DataObject) -> None:
    told = to_json(entry)
    with pytest.raises(ValueError, match="not an entry of the journal"):
        from_json(told[: data.draw(st.integers(0, len(told) - 1))])
