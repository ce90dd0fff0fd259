"""The ledger of ends as text and as data."""

from __future__ import annotations

from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.plan.read import load
from companion.progress.actions import On, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.progress.shelf import Shelf


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_every_end_of_a_plan_is_told_with_its_way_in(folder: Path) -> None:
    ran = run(folder, "ends", "pier.yaml")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[:5] == [
        "Pier sign",
        "",
        "6 ends to weave in: 6 not yet.",
        "As you look at the wrong side, with the last row at the top:",
        "",
    ]  # fmt: skip
    assert [line for line in lines if line.startswith("Row")] == [
        "Row 1 RS, start: sand at the edge (not yet)",
        "Row 2 WS, start: brick beside sand (not yet)",
        "Row 2 WS, start: sand beside brick (not yet)",
        "Row 3 RS, finish: sand beside brick (not yet)",
        "Row 3 RS, finish: brick beside sand (not yet)",
        "Row 4 WS, finish: sand at the edge (not yet)",
    ]
    assert "6 ends to sew in" in run(folder, "ends", "pier.yaml", "--terms", "uk").out


def test_a_piece_in_work_has_its_own_ledger(folder: Path) -> None:
    plan = folder / "pier.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan), plan) as knitting:
        knitting.do(WholeRow())
        knitting.do(On())
        knitting.do(On())
        knitting.do(Weave(all_ends(knitting.session)[0][0]))
    told = run(folder, "ends", "pier.yaml").out
    assert "6 ends to weave in: 1 woven, 1 too fresh, 4 not yet." in told
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
