"""The written rows of the demo plans, worked on needles to the letter: every yarn and face of the chart comes out,
every count holds. And the needles notice when a word is wrong."""

from __future__ import annotations

from functools import cache

import pytest

from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.words import Terms
from companion.pages import written
from companion.plan.demo import demo_plans
from companion.plan.outline import mirrored_trouble
from companion.plan.read import load
from tests.simulator import reading
from tests.simulator.charts import wanted
from tests.simulator.checking import as_printed, from_chart
from tests.simulator.stitches import CannotBeDone
from tests.simulator.words import Manner, NotUnderstood
from tests.simulator.working import Knitted, knit

PLANS = {path.stem: path for path in demo_plans()}


@cache
def planned(name: str, *, is_mirrored: bool) -> tuple[Piece, Strands]:
    piece = load(PLANS[name]).piece.for_hands(is_mirrored=is_mirrored)
    return piece, plan_strands(piece.rows, piece.carry).strands


@pytest.mark.parametrize("manner", [Manner(), Manner(is_uk=True), Manner(is_mirrored=True)], ids=["us", "uk", "left"])
@pytest.mark.parametrize("name", PLANS)
def test_a_demo_comes_out_as_it_is_drawn(name: str, manner: Manner) -> None:
    piece, strands = planned(name, is_mirrored=manner.is_mirrored)
    assert mirrored_trouble(piece) is None
    asked = wanted(piece.fabric)
    knitted = as_printed(piece, strands, asked, manner)
    assert list(from_chart(asked, knitted)) == []
    assert knitted.needles.notes == []


def swatch(old: str, new: str) -> Knitted:
    """The practice swatch knitted from its rows with one word changed in them."""
    piece, strands = planned("swatch", is_mirrored=False)
    lines = list(written.whole(piece, strands, Terms()))
    changed = "\n".join(lines).replace(old, new, 1).split("\n")
    assert changed != lines, f"{old!r} is not told"
    return knit(reading.read(changed, Manner()), is_mirrored=False)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("with shell k24. (24 sts)", "with shell k23. (24 sts)", "1 stitches are not worked"),
        ("with shell k24. (24 sts)", "with shell k24. (23 sts)", "23 are told, 24 are on the needle"),
        ("Row 2 (WS)", "Row 2 (RS)", "told as a RS row, and the WS faces"),
        ("cross, join tide", "join tide", "0 crosses into run 2"),
        ("cross, join coral, k2", "cross, with coral k2", "no coral hangs"),
        ("with tide (hangs 3 sts back)", "with tide (hangs 2 sts back)", "no tide hangs -2"),
        ("with tide (hangs 3 sts ahead)", "with tide", "no tide hangs 0"),
        ("coral between shell and shell, second", "coral between shell and shell, third", "found"),
        (" Bind off in pattern in shell, right side toward you, and cut it.", "", "24 stitches are left"),
        ("Bind off in pattern in shell", "Bind off in pattern in tide", "tide is not in hand"),
        ("in shell, right side", "in shell, wrong side", "bound off with the WS toward"),
    ],
)  # fmt: skip
def test_a_wrong_word_cannot_be_worked(old: str, new: str, why: str) -> None:
    with pytest.raises(CannotBeDone, match=why):
        swatch(old, new)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("cross, join tide", "croos, join tide"),
        ("k24", "knit 24"),
        ("(hangs 3 sts back)", "(hangs 3 st back)"),
        ("(24 sts)", "(24 sts) Mind the gap."),
        ("second from the right", "2nd from the right"),
        ("Right-side rows (RS)", "Right side rows (RS)"),
    ],
)
def test_a_sentence_that_is_not_known_is_refused(old: str, new: str) -> None:
    with pytest.raises(NotUnderstood):
        swatch(old, new)


@pytest.mark.parametrize(
    ("old", "new", "seen"),
    [
        ("Row 27 (RS): with shell k12", "Row 27 (RS): with shell k11, p1",
         "column 12 shows a purl stitch, drawn knit"),
        ("k4; cross, join coral, k1; cross, join tide, k7", "k5; cross, join coral, k1; cross, join tide, k6",
         "column 17 is tide, drawn coral"),
    ],
)  # fmt: skip
def test_another_stitch_is_seen_in_the_fabric(old: str, new: str, seen: str) -> None:
    piece, _ = planned("swatch", is_mirrored=False)
    assert f"row 27 : {seen}" in list(from_chart(wanted(piece.fabric), swatch(old, new)))
