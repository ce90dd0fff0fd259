"""A piece packed and unpacked is the same piece."""

from __future__ import annotations

import json
from collections.abc import Mapping
from fractions import Fraction
from typing import Any, ClassVar, Literal, get_args, get_origin, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Ball, Fabric, FabricRow, Gauge, Run, Stitch, Texture, Yarn
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import Winding
from companion.plan.packed import pack, unpack
from tests.plan.plans import CUSHION, read

NUMBERS = st.fractions(min_value=Fraction(1, 10**12), max_value=10**12)
NAMES = st.text(min_size=1, max_size=8)
TEXTURES = st.builds(
    Texture,
    st.sampled_from(["stockinette", "reverse", "garter", "seed", "rib"]),
    st.tuples(st.integers(1, 9), st.integers(1, 9)),
)
STITCHES = st.builds(Stitch, NAMES, TEXTURES, st.sampled_from(["", "sea"]))
ROWS = st.builds(
    FabricRow,
    st.lists(st.builds(Run, st.integers(1, 4000), STITCHES | st.none()), max_size=5).map(tuple),
    st.booleans(),
    st.sampled_from(["", "left", "right"]),
    st.integers(0, 2),
)


def hints(type_: Any) -> list[tuple[str, Any]]:
    """The fields and what they are said to be; without what is its class's own."""
    return [(name, hint) for name, hint in get_type_hints(type_).items() if get_origin(hint) is not ClassVar]


def values(type_: Any) -> st.SearchStrategy[Any]:
    """Any value of a field, whatever a piece is given: by what it is said to be."""
    inner = get_args(type_)
    if type_ is Fraction:
        return NUMBERS
    if hasattr(type_, "_fields"):
        return st.builds(type_, **{name: values(hint) for name, hint in hints(type_)})
    if get_origin(type_) is Mapping:
        return st.dictionaries(*map(values, inner), max_size=2)
    if get_origin(type_) is Literal:
        return st.sampled_from(inner)
    return st.one_of(*map(values, inner)) if inner else st.from_type(type_)


BALLS = st.builds(Ball, NUMBERS | st.none(), NUMBERS | st.none())
PIECES = st.builds(
    Piece,
    NAMES,
    st.builds(Gauge, NUMBERS, NUMBERS, NUMBERS),
    st.lists(st.builds(Yarn, NAMES, st.just("#a8432f"), NAMES, BALLS), max_size=4).map(tuple),
    st.builds(Fabric, st.lists(ROWS, max_size=4).flatmap(
        lambda rows: st.lists(st.sampled_from(rows), max_size=12) if rows else st.just([])).map(tuple)),
    st.builds(Carry, st.integers(0, 9), st.integers(0, 9), st.integers(0, 9), st.booleans()),
    st.booleans(),
    st.builds(Sample, st.integers(1, 99), NUMBERS) | st.none(),
    NUMBERS | st.none(),
    st.builds(Winding, NUMBERS, NUMBERS, NUMBERS),
    **{name: values(type_) for name, type_ in hints(Piece)[9:]},
)  # fmt: skip


@given(PIECES)
def test_unpacking_what_was_packed_gives_the_same_piece(piece: Piece) -> None:
    assert unpack(pack(piece)) == piece


def test_equal_rows_are_one_value_again() -> None:
    rows = unpack(pack(read(CUSHION).piece)).fabric.rows
    assert rows[0] is rows[5]
    assert rows[6] is rows[8]


def test_a_repeated_row_costs_no_more_than_its_place() -> None:
    tall = read(CUSHION.replace("repeat: 2", "repeat: 5000").replace("rows: 6", "rows: 15000")).piece
    assert len(pack(tall)) < len(pack(read(CUSHION).piece)) + 5000 * 2 * len("[1,1],") + 20
    assert unpack(pack(tall)) == tall


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "{}", "null", '{"form":1}', '{"form":2}', '{"form":3}', "[" * 100_000],
)
def test_a_text_that_is_no_packed_piece_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="not a packed piece"):
        unpack(text)


DAMAGE = [None, 7, [[99, 99]], [{}], ["1/0"] * 3, ["stolen"]]


@pytest.mark.parametrize("part", ["gauge", "carry", "winding", "yarns", "fabric"])
@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_part_of_the_piece_is_refused(part: str, damage: object) -> None:
    form, piece, *others = json.loads(pack(read(CUSHION).piece))
    assert part in piece
    with pytest.raises(ValueError, match="not a packed piece"):
        unpack(json.dumps([form, {**piece, part: damage}, *others]))


@pytest.mark.parametrize("part", range(5))
@pytest.mark.parametrize("damage", DAMAGE)
def test_a_damaged_part_is_refused(part: int, damage: object) -> None:
    parts = json.loads(pack(read(CUSHION).piece))
    parts[part] = damage
    with pytest.raises(ValueError, match="not a packed piece"):
        unpack(json.dumps(parts))


@pytest.mark.parametrize("field", [name for name, _ in hints(Piece)])
def test_a_cache_from_before_a_field_was_added_to_the_piece_is_not_read(field: str) -> None:
    """It would say what is so by default, and not what the plan says."""
    form, piece, *others = json.loads(pack(read(CUSHION).piece))
    older = form.replace(f" {field}", "")
    assert older != form
    with pytest.raises(ValueError, match="not a packed piece"):
        unpack(json.dumps([older, piece, *others]))
