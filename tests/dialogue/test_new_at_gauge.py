"""The gauge of a demo plan, or of written rows that say one, answered otherwise."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from the_program import run

from companion.dialogue.questions import Choice
from companion.knitting.cloth.fabric import Gauge
from companion.plan.demo import demo_plans
from companion.plan.read import load
from tests.dialogue.new_sources import ROWS, chosen
from tests.dialogue.plan_asked import Asked


def at_other_gauge(folder: Path, demo: str, gauge: str = "18x24/10cm") -> Asked:
    """Somebody who wants a demo plan at this gauge."""
    asked = Asked(folder)
    asked.choose("A demo plan")
    asked.choose(f"{demo}:")
    asked.until("The gauge:")
    asked.choose("I know it")
    asked.type(gauge)
    return asked


def demo_plan(demo: str) -> Path:
    """Its file."""
    return next(plan for plan in demo_plans() if plan.stem == demo)


def test_the_size_is_told_that_the_same_stitches_have_and_those_stitches_that_keep_it(tmp_path: Path) -> None:
    """By hand: 30 sts at 18 over 10 cm are 16.67 cm, 42 rows at 24 are 17.5 cm; 15 cm are 27 sts and 36 rows."""
    asked = at_other_gauge(tmp_path, "mooring-mat")
    assert isinstance(asked.request, Choice)
    assert asked.request.text == (
        "At the gauge that it has: 30 sts x 42 rows: 15.0 cm wide, 15.0 cm high.", "At the new gauge:",
    )  # fmt: skip
    assert asked.request.lines == (
        "The same stitches: 30 sts x 42 rows: 16.7 cm wide, 17.5 cm high.",
        "The picture drawn anew by area: 27 sts x 36 rows: 15.0 cm wide, 15.0 cm high.",
        "The picture stitch by stitch, in a ground of 27 sts x 36 rows as far as there is any",
    )
    piece = asked.finish().piece
    assert piece.gauge == Gauge(Fraction(18), Fraction(24), Fraction(10))
    assert piece.fabric == load(demo_plan("mooring-mat")).piece.fabric


@pytest.mark.parametrize(("line", "option"), [
    ("The picture drawn anew", "--redraw"), ("The picture stitch by stitch", "--keep"),
])  # fmt: skip
def test_drawn_anew_it_is_the_plan_that_the_command_writes(tmp_path: Path, line: str, option: str) -> None:
    asked = at_other_gauge(tmp_path, "mooring-mat")
    asked.choose(line)
    asked.until("The plan is ready.")
    assert "Its first note, and those among its rows, are left out." in asked.question
    loaded = asked.finish()
    assert run(tmp_path, "regauge", "mooring-mat", "18x24/10cm", option, "-o", "there.yaml").code == 0
    assert loaded.text == (tmp_path / "there.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize(("demo", "across", "why"), [
    ("mooring-mat", 30, "A piece of more than 120,000 stitches is not drawn anew."),
    ("sailing-headband", 60, "A plan in sizes is not drawn anew: each size has stitches of its own."),
])  # fmt: skip
def test_where_it_cannot_be_drawn_anew_its_stitches_are_kept_and_it_is_said_why(
    tmp_path: Path, demo: str, across: int, why: str
) -> None:
    asked = at_other_gauge(tmp_path, demo, "200x280/10cm")
    first, second, *_ = asked.question.splitlines()
    before = load(demo_plan(demo)).piece.fabric
    assert first.startswith(f"{across} sts x {len(before.levels)} r")
    assert first.endswith(f" cm high. {why}")
    assert second.startswith("The yarns: ")
    piece = asked.finish().piece
    assert piece.gauge == Gauge(Fraction(200), Fraction(280), Fraction(10))
    assert piece.fabric == before


@pytest.mark.parametrize("demo", ["anchor-pennant", "breakwater-cowl", "ferry-jumper-front"])
def test_a_piece_that_is_not_a_flat_panel_is_drawn_anew_by_area_or_keeps_its_stitches(
    tmp_path: Path, demo: str
) -> None:
    asked = at_other_gauge(tmp_path, demo, "25x30/10cm")
    assert isinstance(asked.request, Choice)
    assert [line.split(":")[0] for line in asked.request.lines] == [
        "The same stitches", "The picture drawn anew by area",
    ]  # fmt: skip
    asked.choose("The picture drawn anew")
    asked.finish()


def test_what_a_plan_drawn_anew_leaves_out_is_told_before_it_is_saved(tmp_path: Path) -> None:
    asked = at_other_gauge(tmp_path, "swatch", "18x25/10cm")
    asked.choose("The picture drawn anew")
    asked.until("The plan is ready.")
    assert "What sections say is left out." in asked.question


def test_of_the_gauge_that_stands_there_nothing_more_is_asked(tmp_path: Path) -> None:
    asked = at_other_gauge(tmp_path, "mooring-mat", "20x28/10cm")
    assert asked.question == "The yarns: tide, sailcloth."


def test_a_swatch_counted_over_a_width_and_another_height_is_a_gauge_for_a_demo_plan(tmp_path: Path) -> None:
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose("mooring-mat:")
    asked.keep()
    asked.choose("I counted")
    for typed in ("19", "10 cm", "26", "4 in"):  # 26 rows over 10.16 cm are 25.5905... over 10
        asked.type(typed)
    asked.choose("The same stitches")
    assert asked.finish().piece.gauge == Gauge(Fraction(19), Fraction("25.590551181102"), Fraction(10))


def test_written_rows_that_say_a_gauge_may_have_another_and_be_drawn_anew_with_a_border(tmp_path: Path) -> None:
    """By hand: at twice the stitches and rows a picture of 8 x 8 is 16 x 16, each of its stitches two by two."""
    asked = chosen(tmp_path, "Written rows", ROWS)
    asked.until("The gauge:")
    asked.choose("I know it")
    asked.type("40x56/10cm")
    asked.choose("The picture drawn anew")
    asked.until("A border")
    asked.choose("Garter")
    asked.choose("Below only")
    asked.type("3")
    asked.until("The plan is ready.")
    assert "Colours were chosen for sand, brick: the rows do not name them." in asked.question
    loaded = asked.finish()
    yarns = [[run.stitch.yarn for run in row.runs if run.stitch for _ in range(run.columns)]
             for row in loaded.piece.fabric.rows]  # fmt: skip
    assert yarns == [*[["sand"] * 16] * 3, *[["sand"] * 8 + ["brick"] * 8] * 4, *[["sand"] * 16] * 12]
    assert loaded.text.startswith(
        "# buoy.txt, drawn anew by area, at another gauge:\n"
        "# rowside draft buoy.txt -o buoy.yaml; rowside regauge buoy.yaml 40x56/10cm --redraw\n"
    )


def test_what_cannot_be_drawn_anew_is_told_and_another_way_is_asked_for(tmp_path: Path) -> None:
    asked = at_other_gauge(tmp_path, "anchor-pennant", "1x1/10cm")
    question = asked.question
    asked.choose("The picture drawn anew")
    assert asked.question.startswith("This plan cannot be drawn anew so: Row 1 of this section, ")
    assert asked.question.endswith(question)
    asked.choose("The same stitches")
    assert asked.finish().piece.gauge.stitches == 1
