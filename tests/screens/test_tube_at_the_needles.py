"""A tube at the needles: where its flat part begins and ends, and what is left to do at its seam."""

from __future__ import annotations

from pathlib import Path

from at_the_needles import COWL, at_the_needles, on_disk, reopened, shelf, work

from companion.knitting.cloth.areas import Cell
from companion.knitting.hands.steps import BindOff as BindOffStep
from companion.knitting.hands.steps import SewUp, Trim, Wash
from companion.plan.read import load
from companion.progress.actions import AtRow, BindOff, Finish, Weave
from companion.progress.ends import all_ends
from companion.progress.knitting import Knitting
from companion.screens.marking import MarkedChart, MarkingScreen

NAME = "Breakwater cowl"

TUBE = """\
plan: 1
title: Tube
gauge: {stitches: 20, rows: 28}
cast_on: {colours: each}
yarns:
  sand: {colour: tan}
  ink: {colour: black}
symbols:
  s: sand
  k: ink
rows:
  - worked: round
    chart: |
      sssskkkk
      sssskkkk
"""


async def test_the_first_flat_row_makes_its_loop_at_the_end_and_counts_it_then(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, COWL, row=11, size=(80, 28)) as at:
        assert "100 of 100 still on the left needle" in at.part("now")
        await at.press("space", "space")
        assert "Knit 22, cast on 1 (backward loop)" in at.part("now")
        assert "22 of 100 still on the left needle" in at.part("now")
        assert "101 stitches must be on the needle, 1 more than before. Turn" in at.part("end")
        lines = at.lines
        flat = next(line for line in lines if line.rstrip().endswith("◀11"))
        # The round below has no stitch there, and its columns lie under those of the flat row.
        below = lines[lines.index(flat) + 1]
        assert (flat[3:5], below[3:5]) == ("[s", "·s")
        assert (flat[25:27], below[25:27]) == ("]f", "ss")


async def test_the_first_round_closes_the_tube(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, COWL, row=45) as at:
        assert "Knit 99, k2tog" in at.part("now")
        assert "101 of 101 still on the left needle" in at.part("now")
        await at.press("space")
        assert "100 stitches must be on the needle, 1 fewer than before." in at.part("end")


async def test_where_rounds_end_and_begin_again_that_is_told_at_the_row_end_with_the_turn(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, COWL, row=10) as at:
        await at.press("space")
        assert at.part("head").startswith("Round 10 of 54 RS")
        assert "100 stitches must be on the needle. From here work flat: turn after every row." in at.part("now")
        assert at.part("end") == "Round 10 is done. Press space, then: have ready."
        await at.press("space")
        assert "Have ready: new foam (4 m, butterfly), new sea (6 m, bobbin)." in at.part("now")
        await at.press("space")
        assert at.part("head").startswith("Row 11 of 54 RS")
        await at.press("g")
        await at.type("44")
        await at.press("w")
        assert at.part("head").startswith("Row 44 of 54 WS")
        turned = "Turn, the needle's tip away from you. From here work round again, without turning"
        assert turned in at.part("now")
        await at.press("w")
        assert at.part("head").startswith("Round 45 of 54 RS")
        assert "Turn," not in at.part("end")


async def test_a_tube_cast_on_in_sections_is_joined_when_its_first_round_is_worked(tmp_path: Path) -> None:
    plan = tmp_path / "tube.yaml"
    plan.write_text(TUBE, encoding="utf-8")
    async with at_the_needles(tmp_path, plan) as at:
        await at.press("w", "w")  # the round, and what is cut after it
        assert at.part("head").startswith("Round 1 of 2 RS")
        assert "Join into a round, the cast-on not twisted" in at.part("now")
        assert "█" in at.part("now"), "its verb in large letters"
        await at.press("w")
        assert "Have ready: " in at.part("now")
        await at.press("w")
        assert at.part("head").startswith("Round 2 of 2 RS")


async def test_picked_up_in_mid_row_the_loop_is_not_on_the_needle_yet(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, COWL, row=11, runs=1, size=(120, 40)) as at:
        assert "38 stitches on the right needle, 62 on the left." in at.part("end")


async def test_far_off_and_where_wrong_stitches_are_marked_rounds_end_before_the_seam(tmp_path: Path) -> None:
    async with at_the_needles(tmp_path, COWL, row=12, runs=1, size=(200, 60)) as at:
        await at.press("c", "z")
        assert {line.count("▀") for line in at.lines} == {0, 100, 101}
        await at.press("z", "c", "x")
        await at.choose("Stitches below are wrong")
        screen = at.app.screen
        assert isinstance(screen, MarkingScreen)
        screen.marking.at = Cell(10, 101)
        await at.press("down")
        assert screen.marking.at == (9, 100)
        assert screen.query_one(MarkedChart).cells == ((9, 100),)


async def test_the_seam_is_sewn_when_the_piece_is_washed_and_trimmed(tmp_path: Path) -> None:
    with shelf(tmp_path).start(load(COWL), COWL) as knitting:
        work(knitting, AtRow(55), BindOff())
        _weave_all(knitting)
        work(knitting, Finish(), Finish())
    async with reopened(tmp_path, COWL) as at:
        told = "rows 11 to 44 together, half a stitch from each edge. Then press space: it is sewn up."
        assert told in at.part("now")
        await at.press("space")
        assert on_disk(tmp_path, NAME).finished == {BindOffStep, Wash, Trim, SewUp}
        assert "along the seams. Press space for the list of ends." in at.part("now")


def _weave_all(knitting: Knitting) -> None:
    session = knitting.session
    work(knitting, *(Weave(end) for end, state in all_ends(session) if state == "ready"))
