"""Made-up steps of every kind, with every value that changes what is said of one."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from typing import get_args

from companion.knitting.cloth.areas import Area, Strip
from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Method, Place, RowKey, Side
from companion.knitting.cloth.shaping import How
from companion.knitting.cloth.tubes import TubeSeam
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Catch,
    Count,
    Cross,
    CrossCastOn,
    Cut,
    CutCastOn,
    Divide,
    End,
    Fetch,
    GoFlat,
    GoRound,
    HaveReady,
    Hold,
    InRow,
    Inside,
    Join,
    JoinHalf,
    JoinParts,
    JoinRound,
    LayIn,
    Leave,
    OwnOff,
    Renew,
    Rest,
    SetAside,
    SewOn,
    SewUp,
    Shape,
    Share,
    Slip,
    Splice,
    Spot,
    Steady,
    Step,
    TakeUp,
    Trim,
    Turn,
    Wash,
    WeaveAtSeams,
    WeaveIn,
    Work,
)

SIDES: tuple[Side, ...] = get_args(Side)
PARTS: tuple[Part, ...] = ("left", "right")
METHODS: tuple[Method, ...] = get_args(Method)
HOWS: tuple[How, ...] = get_args(How)
INSIDE: tuple[type, ...] = get_args(Inside)

ONLY = Spot(1, "sand", 1, 1, "", "")
FIRST, SECOND, LAST = (
    Spot(1, "brick", 1, 3, "", "sand"), Spot(2, "sand", 2, 3, "brick", "brick"), Spot(3, "brick", 3, 3, "sand", ""),
)  # fmt: skip
FAR = Spot(9, "sand", 22, 40, "brick", "kelp")
MET = Spot(2, "sand", 1, 4, "", "sand"), Spot(4, "sand", 2, 4, "sand", "sand"), Spot(5, "sand", 4, 4, "sand", "")
BELOW = InRow(RowKey("", 7), False, SECOND)
ROUND_BELOW = InRow(RowKey("", 3), True, ONLY)
IN_A_PART = InRow(RowKey("left", 2), False, LAST)
SMALL = Area("lamp", (Strip(4, 2, 3), Strip(5, 2, 2)))

MORE: dict[How, int] = {
    "ssk": -1, "ssp": -1, "k2tog": -1, "p2tog": -1, "sssk": -2, "sssp": -2, "k3tog": -2, "p3tog": -2, "m1R": 1,
    "m1L": 1, "m1R purlwise": 1, "m1L purlwise": 1, "loop": 1, "loops": 3, "cast on": 5, "bind off": -4, "lost": -3,
}  # fmt: skip
MADE: dict[How, int] = {"loops": 3, "cast on": 0, "lost": 0}
"""So many of the run's stitches come of it; 1 where nothing else stands."""

_APART: list[tuple[str, str]] = [("sand", "brick"), ("sand", "sand")]

EVERY_STEP: tuple[Step, ...] = (
    *(CastOn(1, "sand", stitches, method) for stitches, method in product((1, 40), METHODS)),
    *(CrossCastOn(*pair) for pair in _APART),
    CutCastOn("kelp"),
    JoinRound(),
    *(Steady("sand", side) for side in SIDES),
    *(
        Fetch("brick", stitches, over, rows, where, Fraction(cm), side, is_round, is_other)
        for (stitches, over, rows, where, cm), (side, is_round), is_other in product(
            [
                (1, 1, 0, "ahead", 0), (2, 5, 0, "ahead", 0), (2, 2, 3, "ahead", 0), (1, 1, 0, "back", 0),
                (3, 3, 1, "back", 0), (2, 2, 0, "behind", 0), (3, 3, 0, "behind", 2), (0, 0, 1, "below", 0),
                (1, 0, 0, "below", 0),
            ],
            (("RS", False), ("WS", False), ("RS", True)), (False, True),
        )
    ),
    *(Join("brick", old, side) for old, side in product(("", "sand"), SIDES)),
    *(JoinHalf("brick", half, apart, side) for half, apart, side in product(("first", "second"), (1, 3), SIDES)),
    *(Hold(*pair, side) for pair, side in product(_APART, SIDES)),
    *(Cross(*pair, side) for pair, side in product(_APART, SIDES)),
    *(Share("sand", works) for works in ((7, 4), (1, 1), (6, 12, 1), (2, 2, 2, 2))),
    *(Slip("sand", side) for side in SIDES),
    Work("sand", 8, (("k", 8),)),
    Work("sand", 1, (("p", 1),)),
    Work("sand", 3, (("k", 1), ("p", 2))),
    Work("sand", 14, (("k", 2), ("p", 2), ("k", 2), ("p", 2), ("k", 2), ("p", 2), ("k", 2))),
    *(Shape("sand", how, MORE[how], MADE.get(how, 1)) for how in HOWS),
    Shape("sand", "loops", 1, 1),
    Catch("sand"),
    *(Rest("sand", is_caught) for is_caught in (False, True)),
    LayIn(End(Place(3, 1), "finish", 2), "sand", 7),
    *(Renew("sand", after, side) for after, side in product((0, 1, 3), SIDES)),
    *(Splice("sand", after) for after in (0, 3)),
    *(Count(stitches, more) for stitches, more in ((1, 0), (40, 0), (42, 2), (38, -2))),
    *(
        Cut(spots, stays, over)
        for spots, stays, over in (
            ((ONLY,), (), ()), ((FIRST,), (LAST,), ()), ((SECOND,), (FIRST, LAST), ()),
            ((FIRST, SECOND), (), (BELOW,)), ((FAR,), (), ()), (MET, (), ()),
            ((), (), (BELOW, ROUND_BELOW, IN_A_PART)),
        )
    ),
    *(BindOff(1, "sand", *more, side, ()) for more, side in product(((1, 0), (40, 0), (20, 12)), SIDES)),
    *(
        BindOff(1, "sand", 9, held, side, others)
        for (held, others), side in product(
            ((0, (OwnOff(2, "brick", 1),)), (12, (OwnOff(2, "brick", 4), OwnOff(3, "sand", 9)))), SIDES
        )
    ),
    *(Leave(rests, is_round) for rests, is_round in product((((ONLY, 1),), ((FIRST, 1), (LAST, 3))), (False, True))),
    *(
        Divide(first, 20, 18, middle, is_held, is_first)
        for first, (middle, is_held, is_first) in product(
            PARTS, ((0, False, False), (6, False, False), (6, True, False), (6, False, True))
        )
    ),
    *(TakeUp(part, 18, middle, side) for part, middle, side in product(PARTS, (0, 6), SIDES)),
    *(SetAside(part, stitches, is_hung) for part, stitches, is_hung in product(PARTS, (1, 18), (False, True))),
    *(
        JoinParts(first, 20, then, 1, between, held)
        for (first, then), between, held in product((PARTS, PARTS[::-1]), (0, 6), PARTS)
    ),
    GoFlat(),
    *(GoRound(is_again) for is_again in (False, True)),
    *(
        HaveReady(yarns, shared)
        for yarns, shared in ((("brick",), ()), (("brick", "sand", "brick"), ("sand",)), ((), ("sand", "sand")))
    ),
    *(Turn(tip) for tip in ("toward", "away")),
    *(WeaveIn(ends) for ends in (1, 8)),
    *(SewOn(areas) for areas in ((SMALL,), (SMALL, SMALL))),
    Wash(),
    Trim(),
    *(SewUp(edges, tubes) for edges, tubes in (
        (1, ()), (2, ()), (0, (TubeSeam(10, 29, 1),)), (1, (TubeSeam(3, 3, 2), TubeSeam(10, 29, 1))))),
    *(WeaveAtSeams(ends) for ends in (1, 8)),
)  # fmt: skip
