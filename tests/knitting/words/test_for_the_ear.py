"""What is abbreviated is spelled out for those who hear it, and nothing else is changed."""

from __future__ import annotations

import re

import pytest

from companion.knitting.words import Terms, height, measured, tell
from companion.knitting.words.for_the_ear import length_aloud, spelled_out
from tests.knitting.every_step import EVERY_STEP
from tests.knitting.words.test_every_step import ABBREVIATIONS


@pytest.mark.parametrize(
    ("text", "aloud"),
    [
        ("1 st, 24 sts", "1 stitch, 24 stitches"),
        ("80 cm, 1 cm, 2.5 m, 1 m", "80 centimetres, 1 centimetre, 2.5 metres, 1 metre"),
        ("3 yd, 7.3 g, 1 mm", "3 yards, 7.3 grams, 1 millimetre"),
        ("About 1 min to its end, about 9 h left", "About 1 minute to its end, about 9 hours left"),
        ("about 1 h 20 left", "about 1 hour 20 minutes left"),
        ("row 7 RS, start of the sand", "row 7, right side, start of the sand"),
        ("left 12 WS, tail", "left 12, wrong side, tail"),
        ("Round 12 (RS) is on the needle", "Round 12 (right side) is on the needle"),
        ("Purl 12 in tide.", "Purl 12 in tide."),
        ("the RS boat, sts of a mast, m, 12 mast, 3 inlets", "the RS boat, sts of a mast, m, 12 mast, 3 inlets"),
    ],
)
def test_units_and_sides_are_said_in_words(text: str, aloud: str) -> None:
    assert spelled_out(text) == aloud


def test_inches_are_said_where_a_length_is_meant() -> None:
    assert length_aloud("60 in, loose") == "60 inches, loose"
    assert length_aloud("new brick (2 of 80 cm, loose)") == "new brick (2 of 80 centimetres, loose)"
    aloud, seen = Terms(is_inches=True, is_aloud=True), Terms(is_inches=True)
    assert (measured(2.54, aloud), measured(2.54, seen)) == ("1 inch", "1 in")
    assert height(5, 10, aloud) == "2 of 4 inches high"  # type: ignore[arg-type]  # whole numbers are fractions, too


@pytest.mark.parametrize("terms", [Terms(is_aloud=True), Terms("uk", is_inches=True, is_aloud=True)])
@pytest.mark.parametrize("register", ["full", "short", "spoken"])
def test_of_every_step_nothing_is_abbreviated_in_any_register_that_is_heard(terms: Terms, register: str) -> None:
    for step in EVERY_STEP:
        text = tell(step, register, terms, "2.5 m, bobbin")  # type: ignore[arg-type]  # one of the registers
        assert re.search(ABBREVIATIONS, text) is None, text
        assert "2.5 m," not in text


def test_who_reads_is_told_as_before() -> None:
    told = {tell(step, "full", Terms()) for step in EVERY_STEP}
    assert any(re.search(ABBREVIATIONS, text) for text in told), "the trade's own abbreviations stand on the screen"
