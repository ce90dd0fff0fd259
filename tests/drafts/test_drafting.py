"""Colours chosen, first charts, charts at a price: against every other choice where there are few."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.drafts.colours import difference, lab, light_of, oklab, xyz
from companion.drafts.drafting import DEAREST, Drafting, fewest_colours, yarns_at_hand, yarns_to_buy
from companion.drafts.names import colour_names, symbols_of
from companion.drafts.palette import at_hand, to_buy, weighed
from companion.drafts.picture import Picture
from companion.drafts.smooth import smoothed
from companion.drafts.stash import AtHand
from companion.drafts.stitches import Looks, looks_of, parts_of, rows_of
from companion.knitting.cloth.fabric import Gauge
from companion.plan.colours import NAMED
from tests.drafts.harbour import boat, town

GAUGE = Gauge(Fraction(20), Fraction(28))


def seen(codes: np.ndarray, stitches: int = 40) -> Looks:
    picture = Picture(codes, None)
    return looks_of(parts_of(picture, rows_of(picture, stitches, GAUGE), stitches, np.zeros(3)))


def unlike(wants: np.ndarray, labels: np.ndarray, price: int) -> int:
    """What a chart costs by the first model: its wants, and a price wherever two stitches that touch differ."""
    wanted = int(np.take_along_axis(wants, labels[:, np.newaxis], axis=1).sum())
    return wanted + price * int((np.diff(labels, axis=0) != 0).sum() + (np.diff(labels, axis=1) != 0).sum())


@given(st.integers(0, 2**32), st.integers(1, 7), st.integers(1, 7), st.integers(0, 60))
def test_a_first_chart_costs_no_more_than_nearest_colours(
    seed: int, rows: int, stitches: int, price: int
) -> None:
    wants = np.random.default_rng(seed).integers(0, 100, (rows, 3, stitches))
    found = smoothed(wants, price)
    assert unlike(wants, found, price) <= unlike(wants, wants.argmin(axis=1), price)


@given(st.integers(0, 2**32), st.integers(0, 60), st.booleans())
def test_a_chart_of_one_line_is_the_best_there_is(seed: int, price: int, is_column: bool) -> None:
    wants = np.random.default_rng(seed).integers(0, 100, (6, 3, 1) if is_column else (1, 3, 6))
    shape = (6, 1) if is_column else (1, 6)
    every = (np.array(labels).reshape(shape) for labels in product(range(3), repeat=6))
    assert unlike(wants, smoothed(wants, price), price) == min(unlike(wants, labels, price) for labels in every)


def test_a_speck_is_smoothed_from_above_and_below_alike() -> None:
    """By hand: a speck touches four stitches that differ; at 3 each it is dear enough to go, losing 10."""
    wants = np.zeros((3, 2, 3), np.int64)
    wants[:, 1] = 10
    wants[1, :, 1] = (10, 0)
    assert smoothed(wants, 3).tolist() == [[0, 0, 0]] * 3
    assert smoothed(wants, 2)[1, 1] == 1


@given(st.integers(0, 2**32))
def test_no_exchange_of_a_yarn_for_another_at_hand_is_better(seed: int) -> None:
    dice = np.random.default_rng(seed)
    parts, there = np.zeros((1, 1, 12), np.int64), np.ones((1, 1), np.bool_)
    looks = Looks(dice.random((12, 3)), parts, dice.integers(1, 9, 12), there)
    yarns = lab(dice.random((7, 3)))
    apart = difference(lab(looks.light)[:, np.newaxis], yarns[np.newaxis])
    chosen = at_hand(looks, yarns, 3)

    def lost(some: list[int]) -> float:
        return float((apart[:, some].min(axis=1) * looks.many).sum())

    assert chosen == sorted(set(chosen))
    for place, other in product(range(3), range(7)):
        exchanged = [*chosen[:place], other, *chosen[place + 1:]]
        assert lost(chosen) <= lost(exchanged) + 1e-6


def test_a_drawing_of_five_colours_gives_those_five() -> None:
    """Those that the boat is drawn in; ink of the sixth, the sky, too."""
    drawn = {"#d6e2e8", "#f3b84a", "#2c6a7b", "#bb4a34", "#f4e9d2", "#172625"}
    found = {yarn.colour for yarn in yarns_to_buy(seen(boat(), 60), 6)[-1]}
    apart = difference(lab(light_of(sorted(drawn)))[:, np.newaxis], lab(light_of(sorted(found)))[np.newaxis])
    assert apart.min(axis=1).max() < 3
    assert [len(light) for light in to_buy(seen(boat()), 4)] == [1, 2, 3, 4]
    assert len(to_buy(seen(np.full((20, 20, 3), 90, np.uint8)), 5)) == 1


def test_a_slow_change_of_colour_is_no_edge() -> None:
    codes = np.repeat(np.linspace(0, 255, 160).astype(np.uint8)[np.newaxis, :, np.newaxis], 120, axis=0)
    looks = seen(np.repeat(codes, 3, axis=2))
    weights = weighed(oklab(xyz(looks.light)), looks)
    assert weights.sum() > 0.85 * looks.of_part.size


def test_two_colours_that_are_nearly_alike_have_two_names() -> None:
    names = colour_names(["#2c6a7b", "#2c6a7c", "#ffd700", "#000000"])
    assert len(set(names)) == 4
    assert names[2:] == ["gold", "black"]
    assert symbols_of(["gold", "oil", "good", "lo"]) == ["g", "i", "d", "a"]


@pytest.mark.parametrize(("colour", "name"), [
    ("#dfe8ee", "gainsboro"), ("#eeeef2", "whitesmoke"), ("#000000", "black"), ("#e6e6fa", "lavender"),
])  # fmt: skip
def test_what_is_nearly_grey_is_called_after_a_grey(colour: str, name: str) -> None:
    """CSS Color Module Level 4, section 6.1: gainsboro is #dcdcdc, whitesmoke #f5f5f5, lavender #e6e6fa. Judged by
    eye, no source: the first is a pale grey with a breath of blue."""
    assert colour_names([colour]) == [name]


def test_many_near_greys_have_names_each_of_its_own() -> None:
    greys = [f"#{level:02x}{level:02x}{level + 2:02x}" for level in range(100, 240, 6)]
    names = colour_names(greys)
    assert len({NAMED[name] for name in names}) == len(greys)


def test_with_more_strands_a_chart_looks_more_like_the_picture() -> None:
    """Of the charts that were tried the one most like the picture is taken."""
    looks = seen(town())
    drafting = Drafting(looks, yarns_to_buy(looks, 6)[-1], (), 3)
    few, many = drafting.with_strands(20), drafting.with_strands(30)
    assert few.strands <= 20 < many.strands <= 30
    assert many.difference < few.difference <= drafting.at(DEAREST).difference


def test_yarns_stand_by_their_stitches_and_those_not_used_are_left_out() -> None:
    looks = seen(boat())
    colours = {"ember": "#bb4a34", "neon": "#ff00ff", "fog": "#d6e2e8", "tide": "#2c6a7b"}
    stash = [AtHand(name, colour) for name, colour in colours.items()]
    drafted = Drafting(looks, yarns_at_hand(looks, stash, 4), (), 3).at(40)
    assert [yarn.name for yarn in drafted.yarns] == ["fog", "tide", "ember"]


def test_the_fewest_colours_within_reach_of_the_last_are_found() -> None:
    looks = seen(boat())
    charts = [Drafting(looks, yarns, (), 3).at(40) for yarns in yarns_to_buy(looks, 6)]
    fewest = fewest_colours(charts, 1.0)
    assert fewest.difference <= charts[-1].difference + 1 < charts[charts.index(fewest) - 1].difference
