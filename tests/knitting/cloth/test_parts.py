"""A piece that divides at an opening: which row lies on which, what is taken up, where strands go, what is told."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting import words
from companion.knitting.cloth.areas import areas
from companion.knitting.cloth.fabric import Fabric, FabricRow, Gauge, Part, Run, Stitch
from companion.knitting.cloth.outlines import openings, span, taken
from companion.knitting.cloth.rows import Place, RowKey, Rows
from companion.knitting.cloth.shaping import shapings
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.hangs import hangs
from companion.knitting.hands.holes import near
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import AtEnd, BindOff, Count, Divide, Rest, TakeUp, Turn
from companion.knitting.strands.floats import catching
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.proof import fault_in
from companion.knitting.strands.strands import Strands
from companion.knitting.words import US, Terms, tell
from tests import oracles
from tests.knitting.charts import limits
from tests.oracles import PlainRow

YARN = {"s": "sand", "b": "brick", "k": "kelp"}
Told = tuple[Part, str]
"""A row as it looks from the right side, with its part."""

JUMPER: Sequence[Told] = [
    ("", "ssssssssssss"),
    ("", "sbbssssssbbs"),
    ("right", "........sbbs"),
    ("right", ".........sss"),
    ("left", "sbbs........"),
    ("left", "sss........."),
    ("left", "sss........."),
]


def fabric_of(told: Sequence[Told], *, is_middle_held: bool = False) -> Fabric:
    rows = []
    for part, line in told:
        cells = [None if letter == "." else Stitch(YARN[letter]) for letter in reversed(line)]
        runs = tuple(Run(len(list(group)), cell) for cell, group in groupby(cells))
        rows.append(FabricRow(runs, part=part))
    return Fabric(tuple(rows), frozenset([0]) if is_middle_held else frozenset())


def plain(told: Sequence[Told]) -> list[PlainRow]:
    """The same rows as the oracle reads them: the first row of either part lies on the last one of neither, and one
    of neither above parts on the last of both."""
    found: list[PlainRow] = []
    last: dict[Part, tuple[int, int]] = {}
    for index, (part, line) in enumerate(told):
        before = told[index - 1][0] if index else ""
        after, level = () if not index else (index - 1,), last[before][1] + 1 if index else 0
        if part and before != part:
            after, level = (last[""][0],), last[""][1] + 1
        elif before and not part:
            after = tuple(sorted(last[one][0] for one in ("right", "left")))
        last[part] = index, level
        cells = tuple(None if letter == "." else YARN[letter] for letter in reversed(line))
        found.append(PlainRow(cells, "left" if level % 2 == 0 else "right", after=after))
    return found


def of_kind(strands: Strands, row: int, *kinds: type[AtEnd]) -> list[str]:
    """What is said of these doings at a row's end."""
    return [tell(step, "full", US) for step in row_end(strands, row) if isinstance(step, kinds)]


def test_rows_are_numbered_in_their_part_and_lie_on_the_row_where_it_begins() -> None:
    rows = Rows(fabric_of(JUMPER))
    assert [row.key for row in rows] == [
        RowKey("", 1), RowKey("", 2), RowKey("right", 1), RowKey("right", 2),
        RowKey("left", 1), RowKey("left", 2), RowKey("left", 3),
    ]  # fmt: skip
    assert [rows.at(row.key) for row in rows] == list(range(7))
    assert [rows.before(index) for index in range(7)] == [(), (0,), (1,), (2,), (1,), (4,), (5,)]
    assert [rows.following(index) for index in range(7)] == [(1,), (2, 4), (3,), (), (5,), (6,), ()]
    assert [row.side for row in rows] == ["RS", "WS", "RS", "WS", "RS", "WS", "RS"]
    assert [row.level for row in rows] == [0, 1, 2, 3, 2, 3, 4]
    assert [rows.in_part(index) for index in (0, 2, 6)] == [2, 2, 3]
    for key in (RowKey("left", 4), RowKey("right", 3), RowKey("", 3), RowKey("left", 0)):
        with pytest.raises(KeyError):
            rows.at(key)


def test_the_picture_shows_both_parts_side_by_side() -> None:
    fabric = fabric_of(JUMPER)
    whole = [
        "ssssssssssss", "sbbssssssbbs", "sbbs....sbbs", "sss......sss", "sss........."
    ]  # fmt: skip
    assert fabric.picture == fabric_of([("", line) for line in whole]).rows
    assert [fabric.row_at(2, column) for column in (1, 4, 5, 12)] == [2, 2, None, 4]
    assert fabric.row_at(4, 12) == 6
    assert fabric.above(1, 12) == 4
    assert fabric.above(1, 5) is None


def test_an_area_goes_on_from_the_whole_piece_into_both_parts_and_not_across() -> None:
    brick = [area for area in areas(fabric_of(JUMPER)) if area.yarn == "brick"]
    assert [area.stitches for area in brick] == [4, 4]
    [sand] = [area for area in areas(fabric_of(JUMPER)) if area.yarn == "sand" and area.stitches > 1]
    assert {strip.row for strip in sand.strips} == {0, 1, 2, 3, 4, 5, 6}


@pytest.mark.parametrize(
    ("is_held", "takes", "done"),
    [
        # Both parts begin with a right-side row, from the right: the left one at the opening.
        (False, (5, 12), "bind off 4 (1 on the right needle)"),
        (True, (9, 12), "knit 1"),
    ],
)
def test_the_part_that_begins_at_the_opening_binds_off_the_middle(
    is_held: bool, takes: tuple[int, int], done: str
) -> None:
    rows = Rows(fabric_of(JUMPER, is_middle_held=is_held))
    assert taken(rows, 2) == (1, 4)
    assert taken(rows, 4) == takes
    strands = plan_strands(rows, Carry(3)).strands
    assert words.work_in_full(row_runs(strands, 4)[0], US).startswith(done)
    assert row_end(strands, 4)[0] == Count(4, -4 if not is_held else 0)
    assert row_end(strands, 2)[0] == Count(4, 0)


def test_what_is_told_where_it_divides_and_where_the_other_part_is_taken_up() -> None:
    strands = plan_strands(Rows(fabric_of(JUMPER)), Carry(3)).strands
    assert of_kind(strands, 1, Divide) == [
        "The piece divides here: the right part is worked first, on 4 stitches. On a holder wait 4 in the middle and "
        "4 of the left part."
    ]
    assert of_kind(strands, 3, BindOff, TakeUp, Turn) == [
        "Bind off 3 stitches in sand, the strand in hand, right side toward you, in pattern and not tightly: work 2, "
        "lift the first over the second, work 1, lift again, and so on. Cut it, leaving a tail, draw it through the "
        "last stitch.",
        "Take up the left part: its 4 stitches and the 4 in the middle back on the needle, right side toward you.",
    ]
    assert [len(of_kind(strands, row, BindOff)) for row in range(7)] == [0, 0, 0, 1, 0, 0, 1]
    assert [len(of_kind(strands, row, Divide, TakeUp)) for row in range(7)] == [0, 1, 0, 1, 0, 0, 0]


def test_a_middle_that_is_held_stays_on_its_holder() -> None:
    strands = plan_strands(Rows(fabric_of(JUMPER, is_middle_held=True)), Carry(3)).strands
    [divides] = of_kind(strands, 1, Divide)
    assert "On a holder wait 4 in the middle, to stay there, and 4 of the left part." in divides
    assert "its 4 stitches back on the needle" in of_kind(strands, 3, TakeUp)[0]
    held = "The 4 stitches in the middle stay on their holder, for an edging."
    first, last = of_kind(strands, 3, BindOff)[0], of_kind(strands, 6, BindOff)[0]
    assert last.endswith(held)
    assert held not in first


def test_a_part_that_begins_at_the_opening_and_is_worked_first_binds_off_at_once() -> None:
    order = [*JUMPER[:2], *JUMPER[4:], *JUMPER[2:4]]
    strands = plan_strands(Rows(fabric_of(order)), Carry(3)).strands
    [found] = openings(strands.rows)
    assert (found.parts, found.middle, found.binds_off) == ((2, 5), 4, 2)
    assert of_kind(strands, 1, Divide) == [
        "The piece divides here: the left part is worked first, on 8 stitches, of which the 4 in the middle go "
        "first. On a holder wait 4 of the right part."
    ]
    assert "its 4 stitches back on the needle" in of_kind(strands, 4, TakeUp)[0]


def test_of_a_garment_the_sides_are_told_as_the_wearers_too() -> None:
    """Seen from the right side, a front's left is its wearer's right: common practice, no source."""
    assert words.part_name("left", Terms(worn="front")) == "left part (the wearer's right)"
    assert words.part_name("left", Terms(worn="back")) == "left part (the wearer's left)"
    assert words.part_name("left", US) == "left part"


def test_strands_of_the_other_part_are_not_among_those_at_the_needles() -> None:
    strands = plan_strands(Rows(fabric_of(JUMPER)), Carry(3)).strands
    at_right = {hang.strand for hang in hangs(strands, 2, 1)}
    at_left = {hang.strand for hang in hangs(strands, 4, 1)}
    assert not at_right & at_left
    assert {strands.rows.segment(hang.worked).yarn for hang in hangs(strands, 2, 1)} == {"sand", "brick"}


def test_strands_of_the_other_part_do_not_rest_over_this_one() -> None:
    """While the right part is worked, sand and brick of the left one wait with its stitches; told are those that
    rest over rows of the part itself alone, as its own brick does over the second, and one of its two sands."""
    told: list[Told] = [*JUMPER[:3], ("right", "........ssss"), ("right", "........sbbs"), *JUMPER[4:]]
    strands = plan_strands(Rows(fabric_of(told)), Carry(9, 0, 1)).strands
    waiting = set(strands.alive[2]) - {strand for row in strands.strand_of[2:5] for strand in row}
    assert {strands.rows.segment(strands.first[strand]).yarn for strand in waiting} == {"sand", "brick"}
    how = catching(Gauge(Fraction(20), Fraction(28)))
    rests = [
        [step.yarn for run in row_runs(strands, row, how) for step in run.inside if isinstance(step, Rest)]
        for row in (2, 3, 4)
    ]
    assert rests == [[], ["brick", "sand"], []]


def test_a_strand_that_goes_on_in_a_part_rests_over_the_rows_before_it_divides() -> None:
    """The brick of row 1, at the left, rests over row 2 and is worked again by the left part."""
    told: list[Told] = [("", "bss"), ("", "sss"), ("right", "..s"), ("left", "bs.")]
    strands = plan_strands(Rows(fabric_of(told)), Carry(3, 0, 1)).strands
    assert strands.strand_of[3][-1] == strands.strand_of[0][-1]
    [run] = row_runs(strands, 1, catching(Gauge(Fraction(20), Fraction(28))))
    assert [step.yarn for step in run.inside if isinstance(step, Rest)] == ["brick"]


def test_a_hole_is_never_closed_across_the_opening() -> None:
    """Two stitches from the slit on either side, with no stitch between the parts: 1 cm across, and no way over."""
    told: list[Told] = [
        ("", "ssbbbbss"), ("right", "....bbss"), ("right", "....ssss"), ("left", "ssbb...."), ("left", "ssss...."),
    ]
    rows = Rows(fabric_of(told))
    strands = plan_strands(rows, Carry(3)).strands
    found = near(Place(3, 1), ends_of(strands), strands, Gauge(Fraction(20), Fraction(28)))
    assert {rows[end.place.row].part for end in found} == {"", "left"}
    assert any(rows[end.place.row].part == "right" for end in ends_of(strands))


def test_a_strand_over_the_bound_off_middle_is_cut() -> None:
    """The sand that worked the middle of row 2 ends at the right side of the middle, where the left part's first row
    binds off: it goes on there. Over the middle itself hangs nothing that does."""
    told: list[Told] = [("", "sssbbbbsss"), ("", "sssbbbbsss"), ("right", ".......sss"), ("left", "bss.......")]
    strands = plan_strands(Rows(fabric_of(told)), Carry(9)).strands
    assert strands.strand_of[3] == (4, 5)  # both new: sand at gap 7 is three stitches inside, brick over the middle
    assert strands.strand_of[2] == (1,)


def test_a_strand_over_a_middle_that_is_held_waits_there_and_is_cut() -> None:
    """The brick of row 2 hangs over the middle; the left part's first row begins beside it and takes up its own."""
    told: list[Told] = [("", "sssbbbbsss"), ("", "sssbbbbsss"), ("right", ".......sss"), ("left", "bss.......")]
    strands = plan_strands(Rows(fabric_of(told, is_middle_held=True)), Carry(9)).strands
    assert strands.strand_of[3][1] not in strands.strand_of[1]


def _drawn(line: str) -> list[int]:
    """The columns, from 0, in which a row has a stitch."""
    return [column for column, letter in enumerate(reversed(line)) if letter != "."]


@st.composite
def divided(draw: st.DrawFn) -> list[Told]:
    """Pieces that divide after one to four rows, with or without stitches between their parts; and such that are
    joined again, and may divide once more."""
    width = draw(st.integers(4, 12))
    split = draw(st.integers(1, width - 1))
    line = st.text("sbk", min_size=width, max_size=width)
    told: list[Told] = [("", draw(line)) for _ in range(draw(st.integers(1, 4)))]
    across = range(width)
    while True:
        is_joined, high = draw(st.booleans()), draw(st.integers(1, 3))
        order: list[Part] = draw(st.permutations(["left", "right"]))
        for part in order:
            own = range(split) if part == "right" else range(split, width)
            first, last = max(own.start, across.start), min(own.stop, across.stop) - 1
            low, most = first, last  # where it begins it lies on stitches
            for _ in range(high if is_joined else draw(st.integers(1, 4))):
                first = draw(st.integers(max(low, first - 3), min(last, first + 5)))
                last = draw(st.integers(max(first, last - 5), min(most, last + 3)))
                low, most = own.start, own.stop - 1
                cells = draw(line)[::-1]
                kept = "".join(cells[c] if first <= c <= last else "." for c in range(width))
                told.append((part, kept[::-1]))
        if not is_joined:
            break
        ends = [_drawn(next(line for one, line in reversed(told) if one == part)) for part in ("right", "left")]
        across = range(min(ends[0]), max(ends[1]) + 1)
        told += [("", "".join(c if width - 1 - at in across else "." for at, c in enumerate(draw(line))))]
        if len(told) > 10 or draw(st.booleans()) or not across.start < split < across.stop:
            break
    return told


@given(divided(), limits())
def test_over_parts_the_strands_are_the_fewest_with_the_least_carry(told: list[Told], carry: Carry) -> None:
    plan = plan_strands(Rows(fabric_of(told)), carry)
    asked = carry.reach, carry.behind, carry.rest
    total = plan.strands.total
    assert (total.strands, total.carried) == (
        oracles.fewest_strands(plain(told), *asked), oracles.least_carry(plain(told), *asked)
    )  # fmt: skip
    assert not fault_in(plan.strands, carry, plan.proof)


@given(divided(), st.booleans(), st.integers(0, 2))
def test_over_parts_before_and_made_and_lost_are_after(told: list[Told], is_held: bool, inward: int) -> None:
    rows = Rows(fabric_of(told, is_middle_held=is_held), inward=inward)
    for index in range(1, len(rows)):
        under, own = taken(rows, index), span(rows[index])
        if own.first > under.last or under.first > own.last:
            continue
        made = sum(one.stitches for one in shapings(rows, index))
        right, left = rows[index].inner or (0, 0)  # of a row that joins parts nothing lies below between them
        assert under.last - under.first + 1 - (left - right) + made == rows[index].stitches == sum(
            segment.stitches for segment in rows[index].segments
        )


@given(divided(), st.booleans())
def test_every_stitch_below_is_taken_up_once_or_held(told: list[Told], is_held: bool) -> None:
    rows = Rows(fabric_of(told, is_middle_held=is_held))
    for number, found in enumerate(openings(rows)):
        columns = [set(range(first, last + 1)) for first, last in (taken(rows, part) for part in found.parts)]
        assert not columns[0] & columns[1]
        whole = {column + 1 for column in _drawn(told[found.parts[0] - 1][1])}
        is_so = is_held and not number  # of the first one
        assert len(whole - columns[0] - columns[1]) == (found.middle if is_so else 0)


def test_a_strand_that_rests_from_the_whole_piece_into_a_part_is_left_hanging_in_the_row_between() -> None:
    """Sand of row 1, in gap 1, waits over row 2 for the left part, whose first row begins there; in row 2, from the
    left, it hangs after two stitches."""
    told: list[Told] = [("", "bbs"), ("", "bss"), ("right", "..s"), ("left", "ss.")]
    strands = plan_strands(Rows(fabric_of(told)), Carry(0, rest=1)).strands
    assert (strands.strand_of[0][0], strands.strand_of[1][1], strands.strand_of[3][0]) == (1, 3, 1)
    gauge = Gauge(Fraction(20), Fraction(28))
    whole = row_runs(strands, 1, catching(gauge))
    assert words.work_in_full(whole[1], US) == "purl 1, leave the resting sand, purl 1"
    assert not any(isinstance(step, Rest) for run in row_runs(strands, 2, catching(gauge)) for step in run.inside)
