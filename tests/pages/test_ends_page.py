"""The ledger of ends as text and as data."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.knitting import words
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.strands.limits import Carry
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Break
from companion.knitting.words import US
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import On, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.progress.shelf import Shelf
from tests.knitting.charts import drawn


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_every_end_of_a_plan_is_told_with_its_way_in(folder: Path) -> None:
    ran = run(folder, "ends", "pier.yaml")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[:6] == [
        "Pier sign",
        "",
        "6 ends to weave in: 6 not yet.",
        "Trim no end before the piece is washed and dry.",
        "As you look at the wrong side, with the last row at the top:",
        "",
    ]  # fmt: skip
    assert ran.out.count("rim") == 1, "that is said once"
    assert [line for line in lines if line.startswith("Row")] == [
        "Row 1 RS, start of the sand (not yet)",
        "Row 2 WS, start of the brick between sand and sand, second from the right (not yet)",
        "Row 2 WS, start of the sand beside brick, first from the left (not yet)",
        "Row 3 RS, finish of the sand beside brick, first from the left (not yet)",
        "Row 3 RS, finish of the brick between sand and sand, second from the right (not yet)",
        "Row 4 WS, finish of the sand at the right edge (not yet)",
    ]
    # Row 2 is held as one looks at the wrong side; row 3 the other way round, so that its first run, at the right
    # edge of the right side, is the first from the left there.
    assert "6 ends to sew in" in run(folder, "ends", "pier.yaml", "--terms", "uk").out


@pytest.mark.parametrize("plan", demo_plans(), ids=lambda path: path.stem)
def test_no_two_ends_of_a_demo_have_one_heading(plan: Path) -> None:
    piece = load(plan).piece
    strands = plan_strands(piece.rows, piece.carry).strands
    headings = Counter(words.end_heading(strands, end, US) for end in ends_of(strands))
    assert max(headings.values()) == 1


def test_ends_inside_one_run_are_told_apart_by_where_they_are() -> None:
    """Its length ended after two stitches of a run and again after four."""
    place = Place(0, 0)
    strands = plan_strands(drawn("ssssss").rows(), Carry(3)).strands
    strands = replace(strands, breaks=(Break(place, 2, False), Break(place, 4, False)))
    assert [words.end_heading(strands, end, US) for end in ends_of(strands)] == [
        "Row 1 RS, start of the sand",
        "Row 1 RS, finish of the sand, after 2 sts", "Row 1 RS, start of the sand, after 2 sts",
        "Row 1 RS, finish of the sand, after 4 sts", "Row 1 RS, start of the sand, after 4 sts",
        "Row 1 RS, finish of the sand at the left edge",
    ]  # fmt: skip


def test_a_piece_in_work_has_its_own_ledger(folder: Path) -> None:
    plan = folder / "pier.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan), plan) as knitting:
        knitting.do(WholeRow())
        knitting.do(On())
        knitting.do(On())
        knitting.do(Weave(all_ends(knitting.session)[0][0]))
    told = run(folder, "ends", "pier.yaml").out
    assert "6 ends to weave in: 1 woven in, 1 too fresh, 4 not yet." in told
    value = run(folder, "ends", "pier.yaml", "--json").value
    assert [each["state"] for each in value] == ["woven", "too fresh", *["not yet"] * 4]
    brick = value[1]
    assert (brick["row"], brick["yarn"], brick["neighbour"], brick["kind"]) == (2, "brick", "sand", "start")
    # Row 2, "ssbbs", is worked from column 5 down: 2 sand, then brick in columns 3 and 2.
    assert brick["cells"][0] == [2, 3]
    with Shelf(folder / "data" / "pieces").start(load(plan), plan, "Second"):
        pass
    ran = run(folder, "ends", "pier.yaml")
    assert ran.code == 2
    assert ran.err.startswith("Several pieces follow this plan.")
    assert '--name "Second"' in ran.err
    assert "6 not yet" in run(folder, "ends", "pier.yaml", "--name", "Second").out
    assert run(folder, "ends", "pier.yaml", "--name", "Third").code == 2
