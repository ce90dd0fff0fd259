"""A plan by questions from a demo plan, a picture, a sheet, written rows."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

import pytest

from companion.dialogue.questions import Words
from companion.knitting.cloth.fabric import Ball, Gauge
from companion.knitting.strands.limits import Carry
from companion.plan.demo import demo_plans
from companion.plan.read import load, load_text
from tests.dialogue.plan_asked import Asked


def test_a_demo_plan_is_copied_with_what_was_answered_otherwise_and_every_comment(tmp_path: Path) -> None:
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose("mooring-mat")
    asked.type("Ferry mat")
    asked.choose("I know it")
    asked.type("18x25/10cm")
    asked.choose("The same stitches")
    asked.choose("Another name or colour")
    for typed in ("spring tide", "slateblue", "120 m 50 g"):
        asked.type(typed)
    asked.type("spring tide")
    assert "is another yarn already" in asked.question
    asked.type("sailcloth")
    asked.keep()
    asked.type("50 g")
    asked.choose("Waiting up to 2 rows")
    loaded = asked.finish()
    piece = loaded.piece
    assert asked.path == tmp_path / "ferry-mat.yaml"
    assert (piece.title, piece.gauge, piece.carry) == (
        "Ferry mat", Gauge(Fraction(18), Fraction(25), Fraction(10)), Carry(3, 0, 2)
    )  # fmt: skip
    assert piece.yarns[0] == ("spring tide", "#6a5acd", "t", Ball(Fraction(120), Fraction(50)))
    assert piece.yarns[1][1:] == ("#f4e3c3", "s", Ball(None, Fraction(50)))
    mat = next(plan for plan in demo_plans() if plan.stem == "mooring-mat").read_text(encoding="utf-8")
    assert piece.fabric == load_text(mat.replace("tide", "spring tide"), "mat", {}).piece.fabric
    assert [line for line in loaded.text.splitlines() if "#" in line and "yarn" not in line][1:6] == [
        line for line in mat.splitlines() if "#" in line and "yarn" not in line
    ][1:6]
    assert loaded.text.count("spare included") == 1


def test_a_demo_plan_in_sizes_gets_another_title_and_keeps_its_sizes(tmp_path: Path) -> None:
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose("sailing-headband")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "Sailing headband"
    asked.type("Ferry band")
    loaded = asked.finish()
    assert asked.path == tmp_path / "ferry-band.yaml"
    assert [load(asked.path, size).piece.title for size in loaded.sizes] == [
        "Ferry band, size S", "Ferry band, size M", "Ferry band, size L",
    ]  # fmt: skip


@pytest.mark.parametrize("demo", [plan.stem for plan in demo_plans()])
def test_every_demo_plan_kept_as_it_is_has_the_same_text_and_its_chart_files_beside_it(
    tmp_path: Path, demo: str
) -> None:
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose(f"{demo}:")
    plan = next(plan for plan in demo_plans() if plan.stem == demo)
    loaded = asked.finish()
    assert loaded.text == plan.read_text(encoding="utf-8")
    assert loaded.piece == load(plan).piece


def test_a_chart_file_that_is_there_and_is_another_one_stops_it_and_nothing_is_written(tmp_path: Path) -> None:
    (tmp_path / "shoal.txt").write_text("somebody's", encoding="utf-8")
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose("wrist-warmer-right")
    asked.until("goes to the file")
    asked.keep()
    assert asked.question.startswith("It cannot be written: ")
    assert os.listdir(tmp_path) == ["shoal.txt"]


def test_a_sheet_becomes_a_plan_and_its_empty_cells_are_asked_for(tmp_path: Path) -> None:
    (tmp_path / "boat.csv").write_text("s,s,s,s\ns,b,,s\ns,s,s,s\n\ns,sand,#d9c9a5\nb,brick,#a8432f\n", "utf-8")
    asked = Asked(tmp_path)
    asked.choose("A chart in a sheet")
    asked.choose("boat.csv")
    asked.choose("I know it")
    asked.keep()
    asked.type("A1:D3")
    asked.keep()
    assert "What its empty cells are" in asked.question
    assert "empty" in asked.question.splitlines()[0]
    asked.type("#a8432f")
    asked.until("The plan is ready.")
    assert "Its chart is lines 1 to 3." in asked.question
    loaded = asked.finish()
    assert [yarn.name for yarn in loaded.piece.yarns][:2] == ["sand", "brick"]
    assert loaded.warnings == ()
    assert "rowside draft boat.csv --gauge 20x28/10cm --crop A1:D3 --ground '#a8432f'" in loaded.text


def test_written_rows_become_a_plan_and_are_asked_for_the_gauge_they_do_not_say(tmp_path: Path) -> None:
    rows = "Cast on 8 sts in sand.\nRow 1 (RS): k4 sand, k4 brick.\nRow 2 (WS): p4 brick, p4 sand.\n"
    (tmp_path / "rows.txt").write_text(rows, encoding="utf-8")
    asked = Asked(tmp_path)
    asked.choose("Written rows")
    asked.choose("rows.txt")
    assert asked.question == "The rows say no gauge.\nThe gauge:"
    loaded = asked.finish()
    assert (loaded.piece.fabric.columns, len(loaded.piece.fabric.rows)) == (8, 2)
    (tmp_path / "rows.txt").write_text(f"Gauge: 20 sts and 28 rows over 10 cm\n{rows}", encoding="utf-8")
    again = Asked(tmp_path)
    again.choose("Written rows")
    again.choose("rows.txt")
    assert again.question == "What is the piece called?"


def test_rows_that_cannot_be_read_are_told_where_they_are_chosen(tmp_path: Path) -> None:
    (tmp_path / "rows.txt").write_text("Row 1: k4, then some more\n", encoding="utf-8")
    asked = Asked(tmp_path)
    asked.choose("Written rows")
    asked.choose("rows.txt")
    assert "Which text?" in asked.question
    assert "rows.txt:1:" in asked.question
    asked.choose("Another one")
    asked.type("no.txt")
    assert 'There is no file "no.txt" there.' in asked.question
    asked.type("~nobody-of-this-name/no.txt")
    assert 'There is no file "no.txt" there.' in asked.question
    asked.type("no.png")
    assert asked.question.startswith("It must be a file that ends in .txt.")


def test_a_picture_becomes_a_plan(tmp_path: Path) -> None:
    image = pytest.importorskip("PIL.Image")
    drawn = image.new("RGBA", (12, 12), (217, 201, 165, 255))
    drawn.paste((168, 67, 47, 255), (3, 3, 9, 9))
    drawn.paste((0, 0, 0, 0), (0, 0, 12, 2))
    drawn.save(tmp_path / "buoy.png")
    asked = Asked(tmp_path)
    asked.choose("A picture")
    asked.choose("buoy.png")
    asked.choose("I know it")
    asked.keep()
    asked.type("0")
    assert asked.question.startswith("It takes a whole number from 1 to 4,000")
    asked.type("20")
    asked.type("3")
    asked.until("where it is transparent")
    asked.type("white")
    loaded = asked.finish()
    assert loaded.piece.fabric.columns == 20
    assert len(loaded.piece.yarns) == 3
    assert "rowside draft buoy.png --gauge 20x28/10cm --stitches 20 --colours 3 --ground white" in loaded.text


def test_what_cannot_be_drafted_is_told_and_asked_for_again(tmp_path: Path) -> None:
    """A square picture 300 stitches wide is 420 rows high at 20 x 28: 126,000 stitches."""
    image = pytest.importorskip("PIL.Image")
    picture = image.new("RGB", (12, 12), (217, 201, 165))
    picture.save(tmp_path / "buoy.png")
    asked = Asked(tmp_path)
    asked.choose("A picture")
    asked.choose("buoy.png")
    asked.choose("I know it")
    asked.keep()
    asked.type("300")
    asked.type("3")
    price = asked.question
    asked.keep()
    assert asked.question.endswith(price)
    assert "The chart has 300 x 420 stitches; 40,000 can be drafted." in asked.question
    asked.keyboard.press("f2", "f2")
    asked.type("20")
    asked.type("3")
    (tmp_path / "buoy.png").unlink()
    asked.keep()
    assert 'The file "buoy.png" is not there.' in asked.question
    picture.save(tmp_path / "buoy.png")
    assert asked.finish().piece.fabric.columns == 20


@pytest.mark.parametrize("demo", [plan.stem for plan in demo_plans()])
def test_yarns_of_every_demo_plan_may_be_called_otherwise(tmp_path: Path, demo: str) -> None:
    asked = Asked(tmp_path)
    asked.choose("A demo plan")
    asked.choose(f"{demo}:")
    asked.until("The yarns:")
    asked.choose("Another name")
    (plan,) = [plan for plan in demo_plans() if plan.stem == demo]
    before = load(plan).piece
    for yarn in before.yarns:
        asked.type(f"{yarn.name}, no. 2")
        asked.keep(2)
    after = asked.finish().piece
    assert [(yarn.name, yarn.symbol) for yarn in after.yarns] == [
        (f"{yarn.name}, no. 2", yarn.symbol) for yarn in before.yarns
    ]
    worked = [
        [run.stitch and (run.columns, run.stitch.yarn, run.stitch.sewn) for run in row.runs]
        for row in after.fabric.rows
    ]
    assert worked == [
        [run.stitch and (run.columns, f"{run.stitch.yarn}, no. 2", run.stitch.sewn and f"{run.stitch.sewn}, no. 2")
         for run in row.runs]
        for row in before.fabric.rows
    ]
