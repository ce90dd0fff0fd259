"""Every sentence has what the hands need: both yarns, the word cross, the side's own form, the mirrored one."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Literal

import pytest

from companion.knitting import words
from companion.knitting.cloth.areas import Area, Strip
from companion.knitting.cloth.rows import Hand, Place, RowKey, Side
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Catch,
    Count,
    Cross,
    Cut,
    Fetch,
    HaveReady,
    Hold,
    InRow,
    Join,
    JoinHalf,
    Leave,
    Rest,
    SewUp,
    Shape,
    Spot,
    Steady,
    Step,
    Turn,
    Work,
)
from companion.knitting.reckoning.quantities import Length, lengths_joined
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms, tell
from companion.knitting.words import yarn as yarn_words
from companion.knitting.yarn.winding import Winding
from tests.knitting.charts import drawn, piece_of
from tests.knitting.words.as_told import MIRRORED, full, swapped

KNIT: tuple[tuple[Hand, int], ...] = (("k", 8),)

NOT_KNOWN = Fraction(0)
ON_EITHER_SIDE: list[tuple[Step, Step]] = [
    (Steady("sand", "RS"), Steady("sand", "WS")),
    (Join("brick", "sand", "RS"), Join("brick", "sand", "WS")),
    (Join("brick", "", "RS"), Join("brick", "", "WS")),
    (JoinHalf("brick", "first", 2, "RS"), JoinHalf("brick", "first", 2, "WS")),
    (JoinHalf("brick", "second", 2, "RS"), JoinHalf("brick", "second", 2, "WS")),
    (
        Fetch("brick", 2, 2, 0, "ahead", NOT_KNOWN, "RS", False, False),
        Fetch("brick", 2, 2, 0, "ahead", NOT_KNOWN, "WS", False, False),
    ),
    (
        Fetch("brick", 2, 3, 2, "ahead", NOT_KNOWN, "RS", False, False),
        Fetch("brick", 2, 3, 2, "ahead", NOT_KNOWN, "WS", False, False),
    ),
    (
        Fetch("brick", 2, 2, 0, "back", NOT_KNOWN, "RS", False, False),
        Fetch("brick", 2, 2, 0, "back", NOT_KNOWN, "WS", False, False),
    ),
    (
        Fetch("brick", 2, 2, 0, "behind", NOT_KNOWN, "RS", False, False),
        Fetch("brick", 2, 2, 0, "behind", NOT_KNOWN, "WS", False, False),
    ),
    (
        Fetch("brick", 2, 2, 0, "behind", Fraction(1), "RS", False, False),
        Fetch("brick", 2, 2, 0, "behind", Fraction(1), "WS", False, False),
    ),
    (
        Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "RS", False, False),
        Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "WS", False, False),
    ),
    (Hold("sand", "brick", "RS"), Hold("sand", "brick", "WS")),
    (Cross("sand", "brick", "RS"), Cross("sand", "brick", "WS")),
]
EVERY_STEP: list[Step] = [CastOn(1, "sand", 40, "long-tail"), Work("sand", 8, KNIT)]
EVERY_STEP += [step for pair in ON_EITHER_SIDE for step in pair]


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_every_step_is_told_as_whole_sentences_with_its_yarns(step: Step) -> None:
    told = full(step)
    assert told[0].isupper()
    assert told.endswith(".")
    yarns = [value for name in ("yarn", "old", "new") if (value := getattr(step, name, ""))]
    assert yarns
    assert all(re.search(rf"\b{yarn}\b", told, re.I) for yarn in yarns)


@pytest.mark.parametrize(("on_right", "on_wrong"), ON_EITHER_SIDE, ids=repr)
def test_every_step_with_a_strand_has_a_right_side_and_a_wrong_side_form(on_right: Step, on_wrong: Step) -> None:
    assert full(on_right) != full(on_wrong)
    assert "back" in full(on_right)
    assert "front" in full(on_wrong)
    assert "in front" not in full(on_right)
    assert "at the back" not in full(on_wrong)


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_the_word_cross_stands_in_a_cross_and_nowhere_else(step: Step) -> None:
    has_word = re.search(r"\bcross\b", full(step), re.I) is not None
    assert has_word == isinstance(step, Cross)


def test_a_cross_is_laid_the_way_you_are_going_on_both_sides() -> None:
    assert full(Cross("sand", "brick", "RS")) == (
        "Cross the old strand before the new, at the back: "
        "lay sand to your left across brick, then take brick up from under it."
    )
    assert full(Cross("sand", "brick", "WS")) == (
        "Cross the old strand before the new, in front: "
        "lay sand to your left across brick, then take brick up from under it."
    )
    for side in ("RS", "WS"):
        told = full(Cross("sand", "brick", side), MIRRORED)
        assert "to your right" in told
        assert "left" not in told


def test_two_strands_of_one_yarn_are_told_apart_at_a_cross() -> None:
    told = full(Cross("sand", "sand", "RS"))
    assert "lay this sand to your left across the other sand, then take the other sand up from under it" in told


@pytest.mark.parametrize("step", EVERY_STEP, ids=repr)
def test_mirrored_steps_swap_left_and_right_only(step: Step) -> None:
    assert full(step, MIRRORED) == swapped(full(step))


def test_a_strand_on_the_right_side_goes_to_the_back_on_one_side_and_to_the_front_on_the_other() -> None:
    assert full(Steady("sand", "RS")) == "Take sand to the back first."
    assert full(Steady("sand", "WS")) == "Bring sand to the front first."


def test_a_fetch_says_ahead_or_back_and_how_far() -> None:
    ahead = full(Fetch("brick", 3, 3, 0, "ahead", NOT_KNOWN, "RS", False, False))
    back = full(Fetch("brick", 1, 1, 0, "back", NOT_KNOWN, "WS", False, False))
    assert "3 sts ahead" in ahead
    assert "spread" in ahead
    assert "1 st back" in back
    assert "slack" in ahead
    assert "slack" in back
    assert not re.search(r"\b(left|right)\b", ahead + back)


def test_a_fetch_counts_what_lies_on_the_needles_and_not_the_stitches_of_the_row_to_come() -> None:
    """22 stitches of this row lie where 25 of the row below do."""
    fetch = Fetch("brick", 22, 25, 0, "ahead", NOT_KNOWN, "RS", False, False)
    assert full(fetch) == "Brick hangs 25 sts ahead: spread those stitches, bring it back slack at the back."
    assert tell(fetch, "short", US) == "Brick hangs 25 sts ahead."
    assert tell(fetch, "written", US) == "(hangs 25 sts ahead)"
    assert tell(fetch, "spoken", US) == "Brick hangs 25 stitches ahead."
    back = Fetch("brick", 2, 2, 0, "back", NOT_KNOWN, "RS", False, False)
    assert tell(back, "written", US) == "(hangs 2 sts back)"


@pytest.mark.parametrize("where", ["ahead", "behind"])
def test_one_stitch_is_not_spread(where: Literal["ahead", "behind"]) -> None:
    """There is nothing to spread it from."""
    assert "spread" not in full(Fetch("brick", 1, 1, 0, where, NOT_KNOWN, "RS", False, False))
    assert "spread those stitches" in full(Fetch("brick", 2, 2, 0, where, NOT_KNOWN, "RS", False, False))


@pytest.mark.parametrize(
    ("edges", "worn", "told"),
    [
        (2, "back", "Sew the side edges to those of the front, once it is finished too."),
        (2, "front", "Sew the side edges to those of the back, once it is finished too."),
        (1, "front", "Sew the side edge to that of the back, once it is finished too."),
        (2, "", "Sew up the side edges: to each other, or to the pieces that lie beside this one."),
        (1, "", "Sew up the side edge: to the piece that lies beside this one."),
    ],
)
def test_side_edges_are_sewn_to_what_there_is(edges: int, worn: Literal["", "front", "back"], told: str) -> None:
    """A back alone has nothing that its edges can be sewn up with: its own two would make a tube of it."""
    assert full(SewUp(edges, ()), Terms(worn=worn)) == told


@pytest.mark.parametrize(("side", "facing"), [("RS", "right side toward you"), ("WS", "wrong side toward you")])
def test_a_bind_off_says_how_and_on_which_side(side: Side, facing: str) -> None:
    """Knit two, lift the first over the second, and so on; ribbing in pattern; loosely (stitch guides)."""
    told = full(BindOff(1, "sand", 40, 0, side, ()))
    assert told == (
        f"Bind off 40 stitches in sand, the strand in hand, {facing}, in pattern and not tightly: work 2, lift the "
        "first over the second, work 1, lift again, and so on. Cut it, leaving a tail, draw it through the last "
        "stitch."
    )
    assert tell(BindOff(1, "sand", 40, 0, side, ()), "short", US) == f"Bind off 40 stitches in sand, {facing}."
    assert full(BindOff(1, "sand", 1, 0, side, ())) == (
        f"Bind off 1 stitch in sand, the strand in hand, {facing}: cut it, leaving a tail, draw it through."
    )


def test_duplicate_stitch_goes_the_way_the_knitter_goes_and_in_her_words() -> None:
    area = Area("lamp", (Strip(4, 2, 3),))
    assert words.how_to_sew(area, "15 cm", US)[0] == (
        "Lamp, right to left, from the bottom up; leave 15 cm at both ends to weave in."
    )
    assert words.how_to_sew(area, "15 cm", Terms("uk", is_mirrored=True))[0] == (
        "Lamp, left to right, from the bottom up; leave 15 cm at both ends to sew in."
    )


def test_loops_cast_on_are_called_by_the_trades_name() -> None:
    loops = Shape("sand", "loops", 2, 2)
    assert full(loops) == "Cast on 2 (backward loop)."
    assert tell(loops, "spoken", US) == "cast on 2, backward loop"
    assert tell(Shape("sand", "loops", 1, 1), "written", US) == "cast on 1 (backward loop)"


def test_a_strand_that_rested_says_so_and_one_straight_below_is_brought_up() -> None:
    rested = full(Fetch("brick", 2, 2, 3, "back", NOT_KNOWN, "WS", False, False))
    assert rested == "Brick rested 3 rows and hangs 2 sts back: carry it on slack in front."
    below = Fetch("brick", 0, 0, 1, "below", NOT_KNOWN, "WS", False, False)
    assert full(below) == "Brick rested 1 row and hangs below this very stitch: bring it up slack in front."
    assert [tell(below, register, US) for register in ("short", "verb", "written", "spoken")] == [
        "Brick rested 1 row and hangs below.", "bring up", "", "Brick rested 1 row and hangs below.",
    ]  # fmt: skip


def test_a_strand_that_passes_behind_waits_so_far_back() -> None:
    behind = Fetch("brick", 3, 3, 0, "behind", Fraction(3, 2), "WS", False, False)
    assert full(behind) == (
        "Brick waits 3 sts (1.5 cm) back in this row: spread those stitches, carry it slack in front."
    )


def test_a_rows_end_tells_the_count_the_turn_and_what_to_have_ready() -> None:
    assert full(Count(40, 0)) == "40 stitches must be on the needle."
    assert full(Count(1, 0)) == "1 stitch must be on the needle."
    assert full(Count(8, 2)) == "8 stitches must be on the needle, 2 more than before."
    assert full(Count(6, -2)) == "6 stitches must be on the needle, 2 fewer than before."
    assert full(Turn("toward")) == "Turn, the needle's tip toward you."
    assert full(Turn("away")) == "Turn, the needle's tip away from you."
    assert full(HaveReady(("brick", "kelp"), ())) == "Have ready: new brick, new kelp."
    several = HaveReady(("brick", "kelp", "brick"), ("sand",))
    assert full(several) == "Have ready: new brick (2), new kelp, new sand wound from both ends."
    assert tell(several, "spoken", US) == (
        "Have ready: 2 lengths of new brick, new kelp, new sand wound from both ends."
    )


def test_what_is_to_be_had_ready_says_how_long_it_is_and_how_it_is_kept() -> None:
    """A stitch takes 2.05 cm, two tails 30 cm, and 15 cm are spare. Brick works 3 stitches of row 2 and 3 of row 3
    and binds off 6: 12.3 + 15 + 45 = 72.3 cm; kelp 1 stitch: 47.05; sand, too far from the first one, 5: 55.25."""
    piece = piece_of(drawn("bbbsss", "bbbkss", "ssssss"), Carry(3))
    strands = plan_strands(piece.rows, piece.carry).strands
    joined = lengths_joined(piece, strands, 1)
    assert [(one.yarn, one.cm) for one in joined] == [("brick", 80), ("kelp", 50), ("sand", 60)]
    assert yarn_words.new_lengths(joined, US) == (
        "new brick (80 cm, loose), new kelp (50 cm, loose), new sand (60 cm, loose)"
    )


@pytest.mark.parametrize(
    ("kept", "told"),
    [
        ([("brick", 80)], "new brick (80 cm, loose)"),
        ([("brick", 250)], "new brick (2.5 m, butterfly)"),
        ([("brick", 600)], "new brick (6 m, bobbin)"),
        ([("brick", 2100)], "new brick (21 m, from the ball)"),
        ([("brick", 80), ("kelp", 80), ("brick", 80)], "new brick (2 of 80 cm, loose), new kelp (80 cm, loose)"),
        ([("brick", 80), ("brick", 250)], "new brick (80 cm, loose; 2.5 m, butterfly)"),
    ],
)
def test_lengths_of_one_yarn_are_told_together(kept: list[tuple[str, int]], told: str) -> None:
    lengths = [
        Length(n, yarn, Place(0, n), 1.0, 2, Fraction(15), Fraction(2), Winding().way(Fraction(cm)), Fraction(cm))
        for n, (yarn, cm) in enumerate(kept, 1)
    ]
    assert yarn_words.new_lengths(lengths, US) == told


def test_a_length_wound_from_both_ends_is_told_as_one() -> None:
    half = Length(1, "brick", Place(0, 0), 1.0, 1, Fraction(15), Fraction(2), "loose", Fraction(60), 2)
    other = half._replace(strand=2, joined=Place(0, 2), cm=Fraction(70), shares_with=1)
    assert yarn_words.new_lengths((half, other), US) == "new brick wound from both ends (1.3 m)"
    assert yarn_words.length_kept(other, (half, other), US) == "1.3 m"


def test_a_new_strand_says_how_long_it_is_where_that_is_known() -> None:
    join = Join("brick", "sand", "RS")
    told = tell(join, "full", US, "80 cm, loose")
    assert told.startswith("Join new brick (80 cm, loose) at the back: leave a tail")
    assert tell(join, "short", US, "80 cm, loose") == "Join new brick (80 cm, loose)."
    half = JoinHalf("brick", "first", 3, "WS")
    assert tell(half, "short", US, "1.3 m") == "Start brick at the middle of a length (1.3 m)."
    assert tell(half, "full", US, "1.3 m").startswith(
        "Start new brick in front at the middle of a length (1.3 m) wound"
    )
    ready = HaveReady(("brick",), ())
    assert tell(ready, "full", US, "new brick (80 cm, loose)") == "Have ready: new brick (80 cm, loose)."
    assert tell(ready, "short", US, "new brick (80 cm, loose)") == "Have ready: new brick."
    cast_on, cable = CastOn(1, "sand", 24, "long-tail"), CastOn(1, "sand", 24, "cable")
    assert tell(cast_on, "full", US, "6 m, bobbin") == "Cast on 24 sts in sand (6 m, bobbin)."
    assert tell(cable, "full", US, "6 m, bobbin") == "Cast on 24 sts in sand (cable; 6 m, bobbin)."


BRICK = Spot(1, "brick", 1, 3, "", "sand")
SAND = Spot(2, "sand", 2, 3, "brick", "brick")
OTHER_BRICK = Spot(3, "brick", 3, 3, "sand", "")


def test_all_cuts_of_a_row_are_told_together_by_place() -> None:
    cut = Cut((BRICK, SAND), (), ())
    assert full(cut) == tell(cut, "written", US) == (
        "Cut, leaving a tail: the brick beside sand, first from the right; "
        "the sand between brick and brick, second from the right."
    )
    assert tell(cut, "short", US) == "Cut, counted from the right: brick first and sand second."
    assert tell(cut, "short", MIRRORED) == "Cut, counted from the left: brick first and sand second."
    assert tell(Cut((Spot(1, "sand", 1, 1, "", ""),), (), ()), "short", US) == "Cut: the sand."


def test_the_one_of_the_same_yarn_that_is_not_cut_is_named() -> None:
    cut = Cut((BRICK, SAND), (OTHER_BRICK,), ())
    assert full(cut).endswith("second from the right. Counted from the right, brick third stays.")
    assert tell(cut, "spoken", US) == "Cut, counted from the right: brick first and sand second. Brick third stays."
    both = Cut((SAND,), (BRICK, OTHER_BRICK), ())
    assert full(both).endswith("Counted from the right, brick first and brick third stay.")


def test_strands_from_rows_below_that_are_not_needed_any_more_are_told_with_their_row() -> None:
    cut = Cut((), (), (InRow(RowKey("", 7), False, SAND), InRow(RowKey("left", 2), False, BRICK)))
    assert full(cut) == (
        "Cut too, not needed any more: row 7, the sand between brick and brick, second from the right; "
        "row 2 of the left part, the brick beside sand, first from the right."
    )


def test_strands_that_rest_are_told_by_place_with_the_rows() -> None:
    leave = Leave(((BRICK, 1), (SAND, 3)), False)
    assert full(leave) == (
        "Leave hanging, do not cut: the brick beside sand, first from the right (rests 1 row); "
        "the sand between brick and brick, second from the right (rests 3 rows)."
    )
    assert tell(leave, "short", US) == "Leave hanging, counted from the right: brick first and sand second."


def test_what_is_done_to_other_strands_is_told_between_the_stitches() -> None:
    steps = Work("kelp", 3, (("k", 3),)), Catch("sand"), Rest("brick", False), Rest("brick", True)
    assert [tell(step, "short", US) for step in steps] == [
        "knit 3", "catch sand", "leave the resting brick", "catch the resting brick",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("names", "told"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_names_in_a_row(names: list[str], told: str) -> None:
    assert words.listed(names) == told
