"""The cast-on and slipped edges in rows, the winding list, the ledger of ends and JSON, by the real program."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from the_program import run

WALL = """\
plan: 1
title: Harbour wall
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan}
  brick: {colour: brown}
symbols: {s: sand, b: brick}
rows:
  - chart: |
      sssbb
      sssbb
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    plans = {
        "usual": "", "each": "cast_on: {method: knitted, colours: each}\n", "own": "cast_on: {yarn: sand}\n",
        "slipped": "slipped_edges: true\nshaping: {at: 2}\n",
    }  # fmt: skip
    for name, line in plans.items():
        (tmp_path / f"{name}.yaml").write_text(line + WALL, encoding="utf-8")
    return tmp_path


def lines(folder: Path, *words: str) -> list[str]:
    ran = run(folder, *words)
    assert (ran.code, ran.err) == (0, "")
    return ran.out.splitlines()


def test_a_cast_on_in_several_strands_stands_before_row_1(folder: Path) -> None:
    told = lines(folder, "rows", "each.yaml")
    assert "Cast on: 5 sts, each section of row 1 in a strand of its own (knitted)" in told
    assert told[-3:-1] == [
        "Cast on (knitted): 3 sts in sand; cross, 2 sts in brick. (5 sts)",
        "Row 1 (RS): with brick k2; cross, with sand k3. (5 sts)",
    ]
    assert lines(folder, "rows", "each.yaml", "--rows", "2")[2:][0].startswith("Row 2 (WS): with sand p3")


def test_worked_mirrored_it_is_cast_on_the_other_way(folder: Path) -> None:
    told = lines(folder, "rows", "each.yaml", "--rows", "1", "--hands", "left")
    assert told[2:] == [
        "Cast on (knitted): 2 sts in brick; cross, 3 sts in sand. (5 sts)",
        "Row 1 (RS): with sand k3; cross, with brick k2. (5 sts)",
    ]


def test_rows_as_json_have_the_cast_on_and_no_join(folder: Path) -> None:
    each = json.loads(run(folder, "rows", "each.yaml", "--rows", "1", "--json").out)
    assert each["cast_on"] == {
        "method": "knitted",
        "sections": [{"yarn": "sand", "stitches": 3}, {"yarn": "brick", "stitches": 2}],
        "cut": False,
    }
    assert [segment["start"] for segment in each["rows"][0]["segments"]] == ["turn", "cross"]
    own = json.loads(run(folder, "rows", "own.yaml", "--rows", "1", "--json").out)
    assert own["cast_on"] == {"method": "long-tail", "sections": [{"yarn": "sand", "stitches": 5}], "cut": True}
    usual = json.loads(run(folder, "rows", "usual.yaml", "--rows", "1", "--json").out)
    assert usual["cast_on"] == {"method": "long-tail", "sections": [{"yarn": "brick", "stitches": 5}], "cut": False}
    assert [segment["start"] for segment in usual["rows"][0]["segments"]] == ["turn", "join"]
    assert [segment["start"] for segment in own["rows"][0]["segments"]] == ["join", "join"]
    casts = [[step for step in each["rows"][0]["steps"] if step["step"] == "cast on"] for each in (each, own, usual)]
    assert [[(step["strand"], step["yarn"]) for step in steps] for steps in casts] == [
        [(2, "sand"), (1, "brick")], [(0, "sand")], [(1, "brick")],
    ]  # fmt: skip


def test_the_winding_list_has_the_cast_ons_own_length(folder: Path) -> None:
    told = lines(folder, "strands", "own.yaml")
    assert told[2] == "2 strands and the cast-on's own length, 6 ends to weave in, nothing carried."
    # 5 x 4.05, 15 to spare and two tails of 15 cm: 65.25 cm.
    assert told[6] == (
        "    cast-on                5             70 cm  loose, 18 wraps       sand, cut before row 1"
    )
    found = json.loads(run(folder, "strands", "own.yaml", "--json").out)
    assert found["cast_on"] == {
        "yarn": "sand", "stitches": 5, "metres": 0.7, "wind": "loose", "shares_length_with": None,
    }  # fmt: skip
    assert found["total"]["ends"] == 6
    assert "cast_on" not in json.loads(run(folder, "strands", "each.yaml", "--json").out)
    assert any(line.endswith("cast on for row 1, the brick beside sand, first from the right")
               for line in lines(folder, "strands", "each.yaml"))  # fmt: skip


def test_the_ledger_tells_the_tails_of_the_cast_on(folder: Path) -> None:
    heads = [line for line in lines(folder, "ends", "own.yaml") if line.endswith("(not yet)")]
    assert heads[:3] == [
        "Cast-on, tail of the sand at the left edge (not yet)",
        "Cast-on, finish of the sand at the left edge (not yet)",
        "Row 1 RS, start of the brick beside sand, first from the left (not yet)",
    ]  # both hang where row 1 begins, at the right edge of the right side
    tail, finish, first, *_ = json.loads(run(folder, "ends", "own.yaml", "--json").out)
    assert [(end["kind"], end["strand"], end["yarn"]) for end in (tail, finish, first)] == [
        ("cast-on start", None, "sand"), ("cast-on finish", None, "sand"), ("start", 1, "brick"),
    ]  # fmt: skip
    heads = [line for line in lines(folder, "ends", "each.yaml") if line.startswith("Cast-on")]
    assert heads == [
        "Cast-on, tail of the brick beside sand, first from the left (not yet)",
        "Cast-on, tail of the sand beside brick, first from the right (not yet)",
    ]


def test_slipped_edges_are_told_in_rows_and_json(folder: Path) -> None:
    told = lines(folder, "rows", "slipped.yaml")
    assert "At a row's start slip the first stitch purlwise (sl1) where that is told" in "\n".join(told)
    assert told[-1].startswith("Row 2 (WS): with sand sl1 purlwise, p2; cross, with brick p2.")
    found = json.loads(run(folder, "rows", "slipped.yaml", "--json").out)
    assert [row["segments"][0]["work"] for row in found["rows"]] == [[["k", 2]], [["sl", 1], ["p", 2]]]
