"""Every kind of step has its reason, in US and UK words; where a figure is published, it is the published one."""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterable
from fractions import Fraction
from typing import get_args

import pytest

from companion.knitting.cloth.rows import Place
from companion.knitting.hands import steps as do
from companion.knitting.words import US, Terms
from companion.knitting.words import why as reasons
from companion.knitting.words.why import why
from tests.knitting.every_step import EVERY_STEP, SIDES

UK, INCHES = Terms("uk"), Terms(is_inches=True)

UK_FOR_US = {"bind off": "cast off", "bound off": "cast off", "weave in": "sew in", "woven in": "sewn in",
             "duplicate stitch": "Swiss darning"}  # fmt: skip


def fetched(where: str) -> str:
    return next(why(one, US) for one in EVERY_STEP if isinstance(one, do.Fetch) and one.where == where)


def shaped(how: str) -> str:
    return next(why(one, US) for one in EVERY_STEP if isinstance(one, do.Shape) and one.how == how)


def folded(text: str, words: Iterable[tuple[str, str]] = tuple(UK_FOR_US.items())) -> str:
    for us, uk in words:
        text = re.sub(us, uk, text, flags=re.IGNORECASE)
    return text.lower()


@pytest.mark.parametrize("step", EVERY_STEP, ids=do.name_of)
def test_every_step_has_a_reason_of_whole_sentences_that_is_read_at_a_glance(step: do.Step) -> None:
    for terms in (US, UK, INCHES):
        told = why(step, terms)
        assert re.fullmatch(r"[A-Z].*[^ .,;:]\.", told)
        assert told == " ".join(told.split())
        assert len(told) <= 240


@pytest.mark.parametrize("step", EVERY_STEP, ids=do.name_of)
def test_us_and_uk_reasons_differ_in_the_trades_terms_alone(step: do.Step) -> None:
    ours, theirs = why(step, US), why(step, UK)
    assert folded(ours) == theirs.lower()
    assert folded(theirs) == theirs.lower()  # no US term is left in it


def test_uk_knitters_read_their_own_terms() -> None:
    assert "sewn in" in why(do.CutCastOn("sand"), UK)
    assert "woven in" in why(do.CutCastOn("sand"), US)
    assert why(do.BindOff(1, "sand", 9, 0, "RS", ()), UK).startswith("Cast off loosely")
    assert "Swiss darning" in why(do.SewOn(()), UK)
    assert "Duplicate stitch" in why(do.SewOn(()), US)


def test_a_float_of_an_inch_is_the_longest_that_hangs_free() -> None:
    # "Length of floats": an inch, 2.5 cm, at most.
    for told in (why(do.Catch("sand"), US), fetched("ahead")):
        assert "more than 2.5 cm" in told or "longer than 2.5 cm" in told
    assert "more than 1 in " in why(do.Catch("sand"), INCHES)


def test_tails_are_as_long_as_published() -> None:
    # "How to join new yarn in knitting": at least 6 in, 15 cm; four articles on ends: 4 to 6 in.
    join, cut = do.Join("brick", "sand", "RS"), do.Cut((), (), ())
    assert "Leave 15 cm" in why(join, US)
    assert "Leave 6 in" in why(join, INCHES)
    assert "less than 10 cm" in why(cut, US)
    assert "less than 4 in" in why(cut, INCHES)


def test_a_cross_is_half_a_turn_and_closes_the_slit() -> None:
    # "Neater intarsia": no full twist, which pinches; a change that is not crossed leaves a hole, in every source.
    told = why(do.Cross("sand", "brick", "WS"), US)
    assert "a slit opens" in told
    assert "Half a turn is enough" in told


def test_decreases_lean_as_published() -> None:
    # "Terms and abbreviations used in knitting patterns": k2tog leans to the right, ssk to the left.
    told = shaped("k2tog")
    assert re.search(r"k2tog and p2tog to the right, ssk and ssp to the left", told)
    assert shaped("ssp") == shaped("sssk") == told


def test_what_is_done_in_two_ways_has_a_reason_for_each() -> None:
    assert len({fetched(where) for where in ("below", "ahead")}) == 2
    assert fetched("ahead") == fetched("back") == fetched("behind")
    ways = ("bind off", "cast on", "lost", "m1L", "k2tog")
    assert len({shaped(how) for how in ways}) == len(ways)
    assert shaped("m1L") == shaped("m1R") == shaped("m1L purlwise") == shaped("m1R purlwise")
    assert shaped("cast on") == shaped("loop") == shaped("loops")
    resting, caught = (why(do.Rest("sand", is_caught), US) for is_caught in (False, True))
    assert caught.startswith(resting)
    assert caught != resting
    one, each = (
        why(do.BindOff(1, "sand", 9, 0, "RS", others), US) for others in ((), (do.OwnOff(2, "brick", 4),))
    )
    assert each.startswith(one)
    assert each != one


def test_no_two_kinds_of_steps_share_a_reason() -> None:
    told: dict[str, set[str]] = {}
    for step in EVERY_STEP:
        told.setdefault(why(step, US), set()).add(do.name_of(step))
    assert [kinds for kinds in told.values() if len(kinds) > 1] == []
    assert {kind for kinds in told.values() for kind in kinds} == {
        do.name_of(step) for step in EVERY_STEP
    }  # fmt: skip
    assert len({kind for kinds in told.values() for kind in kinds}) == len(get_args(do.Step))


def test_beside_every_reason_stands_its_source_or_that_there_is_none() -> None:
    source = inspect.getsource(reasons)
    lines = source.splitlines()
    for case in (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.match_case)):
        ends = case.body[-1].end_lineno
        own = "\n".join(lines[case.pattern.lineno - 1:ends])
        is_passed_on = re.search(r"return _\w+\(step, terms\)|assert_never", own)
        assert is_passed_on or re.search(r'# .*(common practice, no source|"|handbook|by counting)', own), own


def test_where_a_step_lies_changes_no_reason() -> None:
    ends = (do.End(Place(3, 1), "finish", 2), do.End(Place(0, 0), "start", 0))
    assert len({why(do.LayIn(end, "sand", 8), US) for end in ends}) == 1
    fetched = (do.Fetch("sand", 2, 2, 0, "back", Fraction(0), side, False, False) for side in SIDES)
    assert len({why(step, US) for step in fetched}) == 1


def test_a_reason_is_given_once_under_the_first_step_it_holds_for_without_its_number() -> None:
    steps = (do.Work("sand", 8, (("k", 8),)), do.Count(24, 0), do.Work("brick", 3, (("p", 3),)))
    assert [one.partition(":")[0] for one in reasons.reasons(steps, US)] == ["Knit", "Count"]
