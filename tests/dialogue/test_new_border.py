"""A border round what a picture, a sheet or written rows draw; and what each source is asked."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

import pytest

from companion.dialogue.new.border import not_even, told
from companion.dialogue.questions import Choice, Reading, Words
from companion.drafts.bordered import Border, Sides, sides_of, why_none
from companion.drafts.rows.plan import Asked as Rows
from companion.drafts.rows.plan import drafted
from companion.knitting.cloth.fabric import Fabric, Stitch, Texture
from companion.knitting.words.terms import Terms
from companion.plan.demo import demo_plans
from companion.plan.files import plan_text
from companion.plan.read import Loaded, load, load_text
from companion.settings import Settings
from tests.dialogue.new_sources import DRAFTED, EVERY, ROWS, chosen, lay
from tests.dialogue.plan_asked import MOST, Asked


def load_text_of(folder: Path) -> Loaded:
    """The plan of the written rows in a folder, with no border."""
    rows = plan_text(folder / "buoy.txt")
    return drafted(rows, "buoy.txt", Rows(None, {}, "", "", "buoy", ()), None).loaded


SIZES = {"A picture": (12, 17), "A chart in a sheet": (4, 3), "Written rows": (8, 8)}
"""By hand: a square picture of 12 stitches at 20 x 28 is 12 x 28 / 20 = 16.8 rows high; the others are counted."""


def squares(fabric: Fabric) -> list[list[Stitch | None]]:
    """Every stitch, the lowest row first, each from column 1 on."""
    return [[run.stitch for run in row.runs for _ in range(run.columns)] for row in fabric.rows]


@pytest.mark.parametrize(("edge", "terms", "wanted"), [
    (Border(Texture("garter"), 6, 6, 4), "us", "garter stitch: 6 rows below and above, 4 sts at each side"),
    (Border(Texture("seed"), 0, 0, 1), "uk", "moss stitch: 1 st at each side"),
    (Border(Texture("rib", (2, 1)), 5, 0, 0), "us", "rib 2x1: 5 rows below"),
    (Border(Texture("seed"), 0, 1, 3), "us", "seed stitch: 1 row above, 3 sts at each side"),
])  # fmt: skip
def test_a_border_is_told_where_the_plan_is_ready(edge: Border, terms: Literal["us", "uk"], wanted: str) -> None:
    assert told(edge, Terms(terms)) == (f"Border in {wanted}.",)
    assert told(Border(), Terms(terms)) == ()


@pytest.mark.parametrize("source", DRAFTED)
def test_a_border_goes_round_what_is_drawn_and_changes_nothing_within(tmp_path: Path, source: str) -> None:
    plain = squares(chosen(tmp_path, source).finish().piece.fabric)
    wide, high = SIZES[source]
    assert (len(plain[0]), len(plain)) == (wide, high)
    asked = chosen(tmp_path, source)
    asked.until("A border")
    about = asked.question.splitlines()[0]
    assert about == f"{wide} sts x {high} rows: {wide / 2:.1f} cm wide, {high / 2.8:.1f} cm high."
    asked.choose("Garter")
    asked.choose("All round")
    asked.type("3")
    asked.type("2")
    assert isinstance(asked.request, Choice)
    yarn = asked.request.lines[1]
    asked.choose(yarn)
    asked.until("The plan is ready.")
    assert "Border in garter stitch: 3 rows below and above, 2 sts at each side." in asked.question
    loaded = asked.finish()
    edge = Stitch(yarn, Texture("garter"))
    around = [[edge] * (wide + 4)] * 3
    assert squares(loaded.piece.fabric) == [*around, *[[edge] * 2 + row + [edge] * 2 for row in plain], *around]
    assert f"  # The picture, with an edge at each side: 2 + {wide} + 2 = {wide + 4} stitches.\n" in loaded.text
    assert loaded.text.index("# The border below.") < loaded.text.index("# The border above.")


@pytest.mark.parametrize(("where", "below", "above", "beside"), [
    ("Below and above", 2, 2, 0), ("At both sides", 0, 0, 2), ("Below only", 2, 0, 0), ("Above only", 0, 2, 0),
])  # fmt: skip
def test_a_border_lies_only_where_it_was_asked_for(
    tmp_path: Path, where: str, below: int, above: int, beside: int
) -> None:
    asked = chosen(tmp_path, "Written rows")
    asked.until("A border")
    asked.choose("Seed")
    asked.choose(where)
    asked.type("2")
    found = squares(asked.finish().piece.fabric)
    seed = Stitch("sand", Texture("seed"))
    assert (len(found[0]), len(found)) == (8 + 2 * beside, 8 + below + above)
    assert found[:below] == [[seed] * (8 + 2 * beside)] * below
    assert found[len(found) - above:] == [[seed] * (8 + 2 * beside)] * above
    assert sum(row.count(seed) for row in found) == (below + above) * 8 + 2 * beside * 8


def test_the_border_that_is_kept_is_none_and_its_yarn_is_that_of_most_stitches_at_the_lower_edge(
    tmp_path: Path,
) -> None:
    asked = chosen(tmp_path, "Written rows", ROWS.replace("k4 sand, k4 brick", "k3 sand, k5 brick"))
    asked.until("A border")
    assert isinstance(asked.request, Choice)
    assert asked.request.lines[asked.request.at] == "None"
    asked.choose("Rib")
    asked.keep(4)
    assert asked.question == "The border goes round it, in which yarn?"
    assert asked.request.lines[asked.request.at] == "brick"  # type: ignore[attr-defined]


def test_the_yarn_of_the_border_is_not_asked_for_where_there_is_one(tmp_path: Path) -> None:
    asked = chosen(tmp_path, "Written rows", ROWS.replace("brick", "sand"))
    asked.until("A border")
    asked.choose("Garter")
    asked.choose("Above only")
    asked.keep()
    assert asked.question == "How far may a strand go before it is cut?"
    found = squares(asked.finish().piece.fabric)
    assert found[8:] == [[Stitch("sand", Texture("garter"))] * 8] * 6


def test_beside_ribs_a_border_is_so_wide_that_they_begin_where_they_began(tmp_path: Path) -> None:
    """A rib is anchored to a column: knit 2, purl 1 repeats every third."""
    ribs = "Cast on 9 sts in sand.\n" + "".join(
        f"Row {row} (RS): with sand (k2, p1) 3 times.\nRow {row + 1} (WS): with sand (k1, p2) 3 times.\n"
        for row in (1, 3, 5)
    )
    asked = chosen(tmp_path, "Written rows", ribs)
    asked.until("A border")
    asked.choose("Garter")
    asked.choose("At both sides")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "6"
    asked.type("4")
    assert asked.question.startswith("It must be a multiple of 3, so that ribs within stay as they are, and is 4.")
    asked.type("3")
    rib = Stitch("sand", Texture("rib", (2, 1)))
    garter = Stitch("sand", Texture("garter"))
    assert squares(asked.finish().piece.fabric) == [[garter] * 3 + [rib] * 9 + [garter] * 3] * 6


def test_a_piece_and_its_border_have_no_more_stitches_and_rows_than_a_plan_is_asked_for(tmp_path: Path) -> None:
    """8 + 2 x 1,996 = 4,000 stitches, 8 + 3,992 = 4,000 rows."""
    asked = chosen(tmp_path, "Written rows")
    asked.until("A border")
    asked.choose("Garter")
    asked.choose("All round")
    asked.type("1997")
    assert asked.question.startswith("It must be 1 to 1,996, and comes to 1,997.")
    asked.type("1")
    asked.type("1997")
    assert asked.question.startswith("It must be 1 to 1,996, and comes to 1,997.")


def test_why_no_border_goes_round_a_piece() -> None:
    found = {plan.stem: why_none(load(plan).piece) for plan in demo_plans()}
    assert found["breakwater-cowl"] == "it is worked in the round"
    assert found["ferry-jumper-front"] == "it divides"
    assert found["anchor-pennant"] == "its edges are shaped"
    assert found["mooring-mat"] == ""


TUBE = """Gauge: 20 sts and 28 rows over 10 cm
Cast on 8 sts in sand, join into a round, the cast-on not twisted.
Rounds 1-3: k8 sand.
Round 4: k4 sand, k4 brick.
"""

SHAPED = """Gauge: 20 sts and 28 rows over 10 cm
Cast on 12 sts in sand.
Row 1 (RS): k6 sand, k6 brick.
Row 2 (WS): p6 brick, p6 sand.
Row 3 (RS): bind off 2 sts, k to end in sand.
Row 4 (WS): bind off 2 sts, p to end in sand.
"""


def test_a_tube_has_a_border_in_rounds_below_and_above_and_a_repeat_that_breaks_off_is_told(tmp_path: Path) -> None:
    """By hand: 8 stitches are a repeat of knit 3, purl 2 and three of the next; common practice, no source, is that a
    rib or seed stitch goes on over the place where rounds begin only where its repeat divides the stitches."""
    asked = chosen(tmp_path, "Written rows", TUBE)
    plain = squares(load_text_of(tmp_path).piece.fabric)
    asked.until("A border")
    assert asked.question.splitlines()[1] == "No border at its sides: it is worked in the round."
    asked.choose("Rib")
    asked.type("3x2")
    assert isinstance(asked.request, Choice)
    assert asked.request.lines == ("Below and above", "Below only", "Above only")
    asked.choose("Below and above")
    assert asked.question == "How high is the border, below and above alike: rounds, or a length:"
    asked.type("2 rounds")
    asked.until("The plan is ready.")
    assert asked.question.splitlines()[1:3] == [
        "Border in rib 3x2: 2 rounds below and above.",
        "The border repeats every 5 sts, and 8 sts are no multiple of that: where rounds begin the last repeat "
        "breaks off. It would not over 5 or 10.",
    ]
    fabric = asked.finish().piece.fabric
    edge = [[Stitch("sand", Texture("rib", (3, 2)))] * 8] * 2
    assert squares(fabric) == [*edge, *plain, *edge]
    assert all(row.is_round for row in fabric.rows)


@pytest.mark.parametrize(("texture", "stitches", "wanted"), [
    (Texture("rib", (2, 2)), 8, ""), (Texture("garter"), 7, ""), (Texture("seed"), 8, ""),
    (Texture("seed"), 7, "every 2 sts, and 7 sts are no multiple of that: where rounds begin the last repeat breaks "
                         "off. It would not over 6 or 8."),
    (Texture("rib", (2, 2)), 3, "every 4 sts, and 3 sts are no multiple of that: where rounds begin the last repeat "
                                "breaks off. It would not over 4."),
])  # fmt: skip
def test_a_border_in_rounds_that_does_not_come_out_even_is_told(texture: Texture, stitches: int, wanted: str) -> None:
    assert not_even(Border(texture, 2, 0, 0), stitches) == ((f"The border repeats {wanted}",) if wanted else ())
    assert not not_even(Border(texture), stitches)


def test_a_flat_border_may_break_off_at_its_edge_and_nothing_is_told(tmp_path: Path) -> None:
    asked = chosen(tmp_path, "Written rows")
    asked.until("A border")
    asked.choose("Rib")
    asked.type("3x2")
    asked.until("The plan is ready.")
    assert "Border in rib 3x2" in asked.question
    assert "repeats every" not in asked.question


def test_below_a_shaped_piece_lies_a_border_of_so_many_rows_that_its_edges_keep_their_sides(tmp_path: Path) -> None:
    """Stitches are bound off where a row begins: at the right edge in right-side rows alone."""
    asked = chosen(tmp_path, "Written rows", SHAPED)
    plain = squares(load_text_of(tmp_path).piece.fabric)
    asked.until("A border")
    assert asked.question.splitlines()[1] == "No border at its sides: its edges are shaped."
    asked.choose("Garter")
    assert asked.question == "How high is the border, below only: rows, or a length:"
    asked.type("3")
    assert asked.question.startswith("It must be a multiple of 2, so that edges are shaped on the sides")
    asked.type("2")
    assert squares(asked.finish().piece.fabric) == [[Stitch("sand", Texture("garter"))] * 12] * 2 + plain


def test_a_border_lies_where_the_lowest_or_the_last_row_goes_from_edge_to_edge() -> None:
    found = {plan.stem: sides_of(load(plan).piece) for plan in demo_plans()}
    assert found["breakwater-cowl"] == Sides(True, True, False)
    assert found["ferry-jumper-front"] == Sides(True, False, False)
    assert found["mooring-mat"] == Sides(True, True, True)
    assert found["anchor-pennant"] == Sides(False, True, False)


def test_a_border_of_a_tube_lies_where_it_is_worked_round() -> None:
    sides = {"plain: {rows: 2, stitches: 4, yarn: sand}": True, "chart: |\n      4s\n      4s": False}
    for last, is_above in sides.items():
        text = (
            "plan: 1\ntitle: Cuff\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\n"
            "symbols: {s: sand}\nrows:\n  - plain: {rows: 2, stitches: 4, yarn: sand}\n    worked: round\n"
            f"  - {last}\n" + "    worked: round\n" * is_above
        )
        assert sides_of(load_text(text, "cuff.yaml", {}).piece) == Sides(True, is_above, False)


def test_it_is_said_in_a_word_that_no_border_is_asked_for(tmp_path: Path) -> None:
    shaped = chosen(tmp_path, "A chart in a sheet", ".,s,s,s\ns,s,s,s\n.,s,s,s\n\ns,sand,#d9c9a5\n")
    shaped.until("How far may")
    assert shaped.question.splitlines()[:2] == [
        "4 sts x 3 rows: 2.0 cm wide, 1.1 cm high.", "No border is asked for: its edges are shaped.",
    ]  # fmt: skip
    demo = chosen(tmp_path, "A demo plan")
    demo.until("How far may")
    assert demo.question.splitlines()[1] == "No border is asked for: those it has are drawn in its plan."


def test_what_is_not_asked_of_a_picture_or_a_sheet_is_said_where_its_size_is(tmp_path: Path) -> None:
    sheet = chosen(tmp_path, "A chart in a sheet")
    while "The gauge:" not in sheet.question:
        sheet.keyboard.press("f2")
    assert sheet.question == "A cell is a stitch: how large they come out the gauge says.\nThe gauge:"
    picture = chosen(tmp_path, "A picture")
    while "How wide" not in picture.question:
        picture.keyboard.press("f2")
    assert picture.question.startswith("Without its border; how high it is follows from it.\nHow wide: ")


def test_a_knitter_in_inches_is_asked_for_a_picture_so_wide_in_inches(tmp_path: Path) -> None:
    """By hand: 16 in = 40.64 cm, at 20 over 10.16 cm 80 stitches."""
    lay(tmp_path, "A picture")
    asked = Asked(tmp_path, settings=Settings(units="in"))
    asked.choose("A picture")
    asked.choose("buoy.png")
    asked.until("How wide")
    assert isinstance(asked.request, Words)
    assert asked.request.answer == "16in"
    asked.until("A border")
    assert asked.question.startswith("80 sts x 112 rows: 16.0 in wide, 16.0 in high.")


TOLD = {
    "A blank panel": ("piece called?", "The gauge:", "How wide", "How high", "Yarn 1", "A border", "How far may"),
    "A demo plan": ("piece called?", "The gauge:", "The yarns:", "How far may"),
    "A picture": ("The gauge:", "How wide", "How many colours", "piece called?", "The yarns:", "A border", "How far"),
    "A chart in a sheet": ("The gauge:", "The cells", "empty cells", "piece called?", "The yarns:", "A border",
                           "How far"),
    "Written rows": ("piece called?", "The gauge:", "The yarns:", "A border", "How far"),
}  # fmt: skip
"""What each is asked, in this order."""


@pytest.mark.parametrize("source", EVERY)
def test_of_each_source_is_asked_what_makes_sense_for_it_and_at_no_question_is_anything_written(
    tmp_path: Path, source: str
) -> None:
    asked = chosen(tmp_path, source)
    while asked.question != "A new plan. What is it made from?":
        asked.keyboard.press("f2")
    there = os.listdir(tmp_path)
    questions = []
    while not asked.is_over:
        assert os.listdir(tmp_path) == there
        if not isinstance(asked.request, Reading):
            questions.append(asked.question)
            asked.keyboard.press("escape")
            if not asked.is_over:
                assert asked.question == "Leave it? Nothing of the new plan is written."
                asked.keyboard.press("n")
            else:
                asked = chosen(tmp_path, source)
                while asked.question != "A new plan. What is it made from?":
                    asked.keyboard.press("f2")
        asked.keep()
        assert len(questions) < MOST
    found = iter(questions)
    for wanted in TOLD[source]:
        assert any(wanted in question for question in found), wanted
    assert len(os.listdir(tmp_path)) == len(there) + 1


@pytest.mark.parametrize("source", DRAFTED)
def test_going_back_to_the_first_question_keeps_the_border_that_was_answered(tmp_path: Path, source: str) -> None:
    asked = chosen(tmp_path, source)
    asked.until("A border")
    asked.choose("Rib")
    asked.type("3x1")
    asked.choose("All round")
    asked.type("5")
    asked.type("8")
    asked.until("goes to the file")
    while asked.question != "A new plan. What is it made from?":
        asked.keyboard.press("f2")
    text = asked.finish().text
    assert text.count("stitch: {rib: [3, 1]}") >= 3
    assert "{rows: 5, " in text
    assert "- edges: {stitches: 8, " in text
