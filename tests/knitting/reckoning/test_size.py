"""How large a piece comes out, and what lies at its seams and purl bumps."""

from __future__ import annotations

from fractions import Fraction

import pytest

from companion.knitting.cloth.bumps import plain_first, two_coloured
from companion.knitting.cloth.fabric import STOCKINETTE, Fabric, FabricRow, Gauge, Run, Stitch, Texture
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.seams import Seams, SeamTrouble, seam_troubles
from companion.knitting.piece import Piece
from companion.knitting.reckoning.size import heights, size
from companion.knitting.strands.limits import Carry

GARTER, SEED = Texture("garter"), Texture("seed")


def row(*runs: tuple[int, str, Texture]) -> FabricRow:
    return FabricRow(tuple(Run(count, Stitch(yarn, texture)) for count, yarn, texture in runs))


def test_every_texture_is_as_wide_and_high_as_its_own_gauge_says() -> None:
    fabric = Fabric((row((10, "sand", GARTER)), row((6, "sand", STOCKINETTE), (4, "sand", GARTER))))
    gauge, garter = Gauge(Fraction(20), Fraction(25)), Gauge(Fraction(20), Fraction(40))
    piece = Piece("Quay", gauge, (), fabric, Carry(3), gauges={"garter": garter})
    assert heights(piece) == [0, Fraction(1, 4), Fraction(1, 4) + Fraction(2, 5)]
    assert size(piece) == (Fraction(5), Fraction(13, 20))
    wide = Piece("Quay", gauge, (), fabric, Carry(3), gauges={"garter": Gauge(Fraction(10), Fraction(40))})
    assert size(wide).width_cm == 10


@pytest.mark.parametrize(
    ("above", "bumps"),
    [
        (row((4, "sand", STOCKINETTE)), []),
        (row((4, "brick", STOCKINETTE)), []),
        (row((4, "brick", Texture("reverse"))), [(1, 1, 4, "brick")]),
        (row((4, "brick", GARTER)), [(1, 1, 4, "brick")]),  # row 2 is a wrong-side row: knit there, a bump here
        (row((4, "brick", SEED)), [(1, 1, 1, "brick"), (1, 3, 3, "brick")]),
        (row((4, "brick", Texture("rib", (1, 3)))), [(1, 2, 4, "brick")]),
        (row((2, "brick", Texture("reverse")), (2, "sand", Texture("reverse"))), [(1, 1, 2, "brick")]),
    ],
)  # fmt: skip
def test_a_purl_bump_into_another_colour_shows_both(above: FabricRow, bumps: list[tuple[int, int, int, str]]) -> None:
    rows = Rows(Fabric((row((4, "sand", STOCKINETTE)), above)))
    assert list(two_coloured(rows)) == bumps
    mended = Rows(Fabric((rows[0].fabric, plain_first(rows, 1))))
    assert not list(two_coloured(mended))
    assert [run.stitch and run.stitch.yarn for run in mended[1].fabric.runs for _ in range(run.columns)] == [
        run.stitch and run.stitch.yarn for run in above.runs for _ in range(run.columns)
    ]


def test_garter_begun_on_a_right_side_row_shows_no_bump() -> None:
    rows = Rows(Fabric((*[row((4, "sand", GARTER))] * 2, *[row((4, "brick", GARTER))] * 2)))
    assert not list(two_coloured(rows))


def test_a_seam_hides_what_it_takes_in_and_wants_one_colour_beside_it() -> None:
    fabric = Fabric((
        row((1, "brick", STOCKINETTE), (5, "sand", STOCKINETTE)),
        row((2, "brick", STOCKINETTE), (4, "sand", STOCKINETTE)),
        row((6, "sand", STOCKINETTE)),
    ))  # fmt: skip
    assert list(seam_troubles(fabric, Seams(right=Fraction(1)))) == [SeamTrouble("right", "beside", (0,))]
    assert list(seam_troubles(fabric, Seams(right=Fraction(3, 2)))) == [
        SeamTrouble("right", "within", (0,)),
        SeamTrouble("right", "beside", (1,)),
    ]
    assert not list(seam_troubles(fabric, Seams(left=Fraction(2))))
