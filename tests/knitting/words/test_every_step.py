"""Every kind of step can be told in every register, for both sides, hands and dialects, and has its price in yarn."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from itertools import product
from math import hypot
from typing import get_args

import pytest

from companion.knitting.hands.needles import makes, takes
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Cross,
    Fetch,
    OwnOff,
    SewOn,
    Shape,
    Slip,
    Step,
    Work,
    name_of,
)
from companion.knitting.reckoning.quantities import Rates, yarn_of
from companion.knitting.words import US, Register, Terms, tell
from tests.knitting.charts import drawn, piece_of
from tests.knitting.every_step import EVERY_STEP, INSIDE, SMALL

UK = Terms("uk")
MIRRORED = Terms(is_mirrored=True)
ALL_TERMS = [US, UK, MIRRORED, Terms("uk", is_mirrored=True), Terms(worn="front"), Terms(worn="back"),
             Terms(is_inches=True)]  # fmt: skip
REGISTERS: tuple[Register, ...] = get_args(Register)
RATES = Rates(piece_of(drawn("s")))

YARNS = ("sand", "brick", "kelp", "lamp")
LONGEST_VERB = 14

ABBREVIATIONS = r"""(?xi)
    \b(sts?|rs|ws|tog|ssk|ssp|sssk|sssp|psso|yo|cm|rep|inc|dec)\b  # spoken out
    | \b(k|p|sl)\d | \d(sts?|tog)\b | \bm1
    | [←→↑↓↔⟵⟶<>] | \#[0-9a-f]{3}
"""
"""What the Craft Yarn Council's list of knitting abbreviations has of the words used here, and signs that nobody can
read out."""

FOLDED = {"cast off": "bind off", "sew in": "weave in", "swiss darning": "duplicate stitch"}
"""UK words for US ones."""

def every_step(check: Callable[[Step], None]) -> Callable[[str], None]:
    """A test for each kind of step, of all those made up of it."""

    @pytest.mark.parametrize("kind", sorted({name_of(step) for step in EVERY_STEP}))
    def test(kind: str) -> None:
        for step in EVERY_STEP:
            if name_of(step) == kind:
                check(step)

    return test


def test_every_kind_of_step_is_made_up_at_least_once() -> None:
    assert set(map(type, EVERY_STEP)) == set(get_args(Step))
    assert len({name_of(step) for step in EVERY_STEP}) == len(get_args(Step))


@every_step
def test_outside_a_run_full_short_and_spoken_are_sentences_and_inside_it_parts_of_one(step: Step) -> None:
    for register, terms in product(REGISTERS, ALL_TERMS):
        text = tell(step, register, terms)
        assert text == " ".join(text.split())
        if register in ("verb", "written"):
            continue
        if register == "full" or not isinstance(step, INSIDE):
            assert re.fullmatch(r"[A-Z0-9(].*[^.,;:]\.", text)
        else:
            assert re.fullmatch(r"[a-z0-9(].*[^.,;:]", text, re.I)
            assert text[0] == text[0].lower() or text.startswith("M1")


@every_step
def test_the_verb_is_short_enough_to_be_drawn_large(step: Step) -> None:
    for terms in ALL_TERMS:
        verb = tell(step, "verb", terms)
        assert 0 < len(verb) <= LONGEST_VERB
        assert verb == verb.strip(". ")
        assert not any(yarn in verb for yarn in YARNS)


@every_step
def test_what_is_read_out_has_no_abbreviation(step: Step) -> None:
    for terms in ALL_TERMS:
        assert re.search(ABBREVIATIONS, tell(step, "spoken", terms)) is None


@pytest.mark.parametrize(
    "text", ["3 sts", "1 st on", "row 4 RS", "k2, p2", "k2tog", "ssk", "sl1", "m1R", "M1", "→ brick", "#a8432f"]
)
def test_an_abbreviation_would_be_found(text: str) -> None:
    assert re.search(ABBREVIATIONS, text)


@every_step
def test_every_step_with_a_side_has_a_form_for_each(step: Step) -> None:
    if not hasattr(step, "side"):
        return
    on_right, on_wrong = (tell(type(step)(**(step.fields() | {"side": side})), "full", US) for side in ("RS", "WS"))
    assert on_right != on_wrong
    assert re.search(r"at the back|to the back|right side toward you", on_right)
    assert re.search(r"in front|to the front|wrong side toward you", on_wrong)
    assert not re.search(r"in front|to the front|wrong side", on_right)
    assert not re.search(r"at the back|to the back|right side", on_wrong)


@every_step
def test_a_mirrored_knitter_is_told_left_for_right_and_nothing_else(step: Step) -> None:
    """Parts and sides are those of the fabric, and which way a made stitch leans is the step's own."""
    for register, terms in product(REGISTERS, (US, UK)):
        swapped = re.sub(
            r"(?<![Mm]ake one )\b(left|right)\b(?! part| side)",
            lambda found: "right" if found[0] == "left" else "left",
            tell(step, register, terms),
        )
        assert tell(step, register, terms._replace(is_mirrored=True)) == swapped


@every_step
def test_uk_and_us_differ_in_their_terms_alone(step: Step) -> None:
    for register in REGISTERS:
        ours, theirs = (tell(step, register, terms).lower() for terms in (US, UK))
        for uk, us in FOLDED.items():
            assert uk not in ours
            assert us not in theirs
            theirs = theirs.replace(uk, us)
        assert theirs == ours


@every_step
def test_every_yarn_of_a_step_is_named_but_that_of_a_run_told_above_it(step: Step) -> None:
    yarns = [value for name in ("yarn", "old", "new") if (value := getattr(step, name, ""))]
    if not isinstance(step, Shape | Slip):
        assert all(re.search(rf"\b{yarn}\b", tell(step, "full", US), re.I) for yarn in yarns)


@every_step
def test_the_word_cross_stands_in_a_cross_and_nowhere_else(step: Step) -> None:
    has_word = re.search(r"\bcross\b", tell(step, "full", US), re.I) is not None
    assert has_word == (name_of(step) in ("cross", "cross cast on"))


TAKEN: list[tuple[Step, float]] = [
    # At 20 stitches and 28 rows over 10 cm a stitch is 0.5 cm wide and takes 4.1 times that, 2.05 cm; cast on 4.05,
    # bound off 2.5.
    (Work("sand", 8, (("k", 8),)), 8 * 2.05),
    (Slip("sand", "RS"), 2.05),
    (Shape("sand", "k3tog", -2, 1), 2.05),
    (Shape("sand", "m1L", 1, 1), 2.05),
    (Shape("sand", "loop", 1, 1), 2.05),
    (Shape("sand", "loops", 3, 3), 3 * 2.05),
    (Shape("sand", "cast on", 5, 0), 5 * 4.05),
    (Shape("sand", "bind off", -4, 1), 4 * 2.5 + 2.05),
    (Shape("sand", "lost", -3, 0), 0.0),
    (Fetch("sand", 3, 5, 0, "ahead", Fraction(0), "RS", False, False), 1.5),
    (Fetch("sand", 3, 3, 2, "back", Fraction(0), "RS", False, False), hypot(1.5, 20 / 28)),
    (Fetch("sand", 0, 0, 1, "below", Fraction(0), "WS", False, False), 10 / 28),
    (CastOn(1, "sand", 40, "cable"), 40 * 4.05),
    (BindOff(1, "sand", 40, 12, "RS", ()), 40 * 2.5),
    (BindOff(1, "sand", 30, 0, "RS", (OwnOff(2, "brick", 4), OwnOff(3, "sand", 6))), 40 * 2.5),
]


@pytest.mark.parametrize(("step", "cm"), TAKEN)
def test_what_a_step_takes_worked_out_by_hand(step: Step, cm: float) -> None:
    assert yarn_of(step, RATES) == pytest.approx(cm)


def test_what_is_sewn_on_takes_what_an_area_of_so_many_stitches_does() -> None:
    once, twice = (yarn_of(SewOn((SMALL,) * number), RATES) for number in (1, 2))
    assert once > SMALL.stitches * 2.05
    assert twice == pytest.approx(2 * once)


@every_step
def test_every_step_has_a_price_and_only_those_that_take_yarn_cost_any(step: Step) -> None:
    cost = yarn_of(step, RATES)
    takes_yarn = isinstance(step, SewOn) or any(type(step) is type(other) for other, cm in TAKEN if cm)
    if isinstance(step, Shape):
        takes_yarn = step.how != "lost"
    elif isinstance(step, Fetch):
        takes_yarn = bool(step.stitches or step.rows)
    assert (cost > 0) == takes_yarn
    assert cost >= 0


@every_step
def test_what_a_step_makes_and_takes_differs_by_what_it_is_more(step: Step) -> None:
    """Before less what is taken and with what is made is after."""
    more = {Shape: "more", CastOn: "stitches", BindOff: "all_stitches"}.get(type(step))
    sign = -1 if isinstance(step, BindOff) else 1
    assert makes(step) - takes(step) == (sign * getattr(step, more) if more else 0)
    worked = step.stitches if isinstance(step, Work) else int(isinstance(step, Slip))
    assert makes(step) == (step.makes if isinstance(step, Shape) else worked)


def test_a_cross_of_two_strands_of_one_yarn_names_this_one_and_the_other() -> None:
    told = tell(Cross("sand", "sand", "RS"), "spoken", US)
    assert told == "Cross: this sand over the other sand."
