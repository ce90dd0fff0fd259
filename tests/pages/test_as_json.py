"""The JSON contract, against a piece worked out by hand from the rules of gaps and strands."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from the_program import PIER_SIGN, run

SEGMENT_KEYS = ["yarn", "stitches", "from", "to", "strand", "start", "carry", "last", "work", "shaping"]

# (yarn, stitches, from, to, strand, start, carry, last, work), by hand; a move's carry is the distance of the gaps.
# Nothing is shaped.
PIER_ROWS = [
    (1, "RS", "left", [("sand", 5, 1, 5, 1, "turn", 0, False, [["k", 5]])]),
    (2, "WS", "right", [
        ("sand", 2, 5, 4, 1, "turn", 0, False, [["p", 2]]),
        ("brick", 2, 3, 2, 2, "join", 0, False, [["p", 2]]),
        ("sand", 1, 1, 1, 3, "join", 0, False, [["p", 1]]),
    ]),
    (3, "RS", "left", [
        ("sand", 2, 1, 2, 3, "turn", 0, True, [["k", 2]]),
        ("brick", 2, 3, 4, 2, "cross", 1, True, [["k", 2]]),
        ("sand", 1, 5, 5, 1, "cross", 1, False, [["k", 1]]),
    ]),
    (4, "WS", "right", [("sand", 5, 5, 1, 1, "turn", 0, True, [["p", 5]])]),
]


def fetch(yarn: str) -> dict[str, Any]:
    return {"step": "fetch", "yarn": yarn, "stitches": 1, "on_needle": 1, "rows": 0, "where": "back", "cm": 0.0,
            "side": "RS", "is_round": False, "is_other": False}  # fmt: skip


def work(yarn: str, hand: str, stitches: int) -> dict[str, Any]:
    return {"step": "work", "yarn": yarn, "stitches": stitches, "hands": [[hand, stitches]]}


def changed(step: str, old: str, new: str, side: str) -> dict[str, Any]:
    names = {"join": ("yarn", new, "old", old), "cross": ("old", old, "new", new)}[step]
    return {"step": step, names[0]: names[1], names[2]: names[3], "side": side}


def spot(strand: int, yarn: str, nth: int, before: str, after: str) -> dict[str, Any]:
    return {"strand": strand, "yarn": yarn, "nth": nth, "of": 3, "before": before, "after": after}


CAST_ON = {"step": "cast on", "strand": 1, "yarn": "sand", "stitches": 5, "method": "long-tail"}
COUNT = {"step": "count", "stitches": 5, "more": 0}
BIND_OFF = {"step": "bind off", "strand": 1, "yarn": "sand", "stitches": 5, "held": 0, "side": "RS", "others": []}

# By hand: what is done in every run of a row, and at its end. After row 2 the brick hangs in gap 1 and the first sand
# in gap 3; row 3 wants them in gaps 2 and 4. Of the two sands the one at the left edge goes on in row 4.
PIER_STEPS: list[tuple[list[list[dict[str, Any]]], list[dict[str, Any]]]] = [
    ([[CAST_ON, work("sand", "k", 5)]],
     [COUNT, {"step": "have ready", "yarns": ["brick", "sand"], "shared": []}, {"step": "turn", "tip": "toward"}]),
    ([[work("sand", "p", 2)],
      [changed("join", "sand", "brick", "WS"), changed("cross", "sand", "brick", "WS"), work("brick", "p", 2)],
      [changed("join", "brick", "sand", "WS"), changed("cross", "brick", "sand", "WS"), work("sand", "p", 1)]],
     [COUNT, {"step": "turn", "tip": "away"}]),
    ([[work("sand", "k", 2)],
      [fetch("brick"), changed("cross", "sand", "brick", "RS"), work("brick", "k", 2)],
      [fetch("sand"), changed("cross", "brick", "sand", "RS"), work("sand", "k", 1)]],
     [COUNT,
      {"step": "cut", "spots": [spot(3, "sand", 1, "", "brick"), spot(2, "brick", 2, "sand", "sand")],
       "stays": [spot(1, "sand", 3, "brick", "")], "left_over": []},
      {"step": "turn", "tip": "toward"}]),
    ([[work("sand", "p", 5)]], [COUNT, BIND_OFF]),
]  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def test_rows_are_told_as_they_are_worked_by_hand(folder: Path) -> None:
    value = run(folder, "rows", "pier.yaml", "--json").value
    assert list(value) == ["title", "cast_on", "rows", "finishing"]
    assert value["title"] == "Pier sign"
    assert value["cast_on"] == {
        "method": "long-tail", "sections": [{"yarn": "sand", "stitches": 5}], "cut": False,
    }  # fmt: skip
    for row, (number, side, toward, segments) in zip(value["rows"], PIER_ROWS, strict=True):
        assert list(row) == ["part", "row", "side", "toward", "stitches", "says", "segments", "steps"]
        assert (row["row"], row["side"], row["toward"], row["stitches"]) == (number, side, toward, 5)
        assert [list(segment) for segment in row["segments"]] == [SEGMENT_KEYS] * len(segments)
        assert [tuple(segment.values()) for segment in row["segments"]] == [(*told, []) for told in segments]


def test_the_steps_of_a_row_are_those_that_the_hands_do(folder: Path) -> None:
    value = run(folder, "rows", "pier.yaml", "--json").value
    for row, (runs, end) in zip(value["rows"], PIER_STEPS, strict=True):
        assert row["steps"] == [{**step, "segment": at} for at, steps in enumerate(runs) for step in steps] + end
    assert value["finishing"] == [BIND_OFF, {"step": "weave in", "ends": 6}, {"step": "wash"}, {"step": "trim"}]


def test_strands_and_figures_are_those_worked_out_by_hand(folder: Path) -> None:
    value = run(folder, "strands", "pier.yaml", "--json").value
    assert list(value) == ["strands", "total", "yarns", "proof"]
    keys = ["strand", "yarn", "first_part", "first_row", "last_part", "last_row", "segments", "stitches", "carried"]
    keys += ["metres", "wind", "shares_length_with"]
    assert [list(strand) for strand in value["strands"]] == [keys] * 3
    # Yarn at 2.05 cm a stitch and 0.5 cm a stitch passed, with 15 cm to spare and 30 of tails. Strand 1: 26.65 + 0.5,
    # the cast-on 5 x 4.05 and the bind-off 5 x 2.5 make 104.9 cm; strand 2: 8.2 + 0.5, 53.7; strand 3: 6.15, 51.15.
    assert [tuple(strand.values()) for strand in value["strands"]] == [
        (1, "sand", "", 1, "", 4, 4, 13, 1, 1.5, "butterfly", None),
        (2, "brick", "", 2, "", 3, 2, 4, 1, 0.6, "loose", None),
        (3, "sand", "", 2, "", 3, 2, 3, 0, 0.6, "loose", None),
    ]
    assert list(value["total"].items()) == [("strands", 3), ("ends", 6), ("carried", 2), ("most_at_once", 3)]
    # 50 g in 120 m: 416.7 g in 1000 m, which is the class Light; the gauge of 20 is that of Medium. So two are open.
    assert [tuple(yarn.items()) for yarn in value["yarns"]] == [
        (("yarn", "sand"), ("metres", 2.1), ("grams", 0.9), ("balls", 1), ("tex", 416.7), ("weight_class", None)),
        (("yarn", "brick"), ("metres", 0.6), ("grams", None), ("balls", None), ("tex", None), ("weight_class", 4)),
    ]


def test_a_gauge_that_two_weight_classes_share_tells_none(folder: Path) -> None:
    (folder / "fine.yaml").write_text(PIER_SIGN.replace("stitches: 20, rows: 28", "stitches: 23, rows: 30"))
    yarns = run(folder, "strands", "fine.yaml", "--json").value["yarns"]
    assert [yarn["weight_class"] for yarn in yarns] == [3, None]


def test_the_proof_touches_every_legal_move_and_is_as_large_as_the_moves_made(tmp_path: Path) -> None:
    rows = run(tmp_path, "rows", "swatch", "--json").value["rows"]
    told = run(tmp_path, "strands", "swatch", "--json").value
    exits = {tuple(place) for place in told["proof"]["exits"]}
    entries = {tuple(place) for place in told["proof"]["entries"]}
    moves = 0
    for below, row in pairwise(rows):
        for i, u in enumerate(below["segments"]):
            for j, v in enumerate(row["segments"]):
                # The demo swatch has a reach of 3 and rests no strand.
                if u["yarn"] == v["yarn"] and abs(gap_left(below, u) - gap_entered(row, v)) <= 3:
                    moves += 1
                    assert (below["row"], i) in exits or (row["row"], j) in entries
    assert moves
    segments = sum(len(row["segments"]) for row in rows)
    assert len(exits) + len(entries) == segments - told["total"]["strands"]


def gap_left(row: dict[str, Any], segment: dict[str, Any]) -> int:
    """Gap j lies between columns j and j + 1."""
    return int(segment["to"] if row["toward"] == "left" else segment["to"] - 1)


def gap_entered(row: dict[str, Any], segment: dict[str, Any]) -> int:
    return int(segment["from"] - 1 if row["toward"] == "left" else segment["from"])


@pytest.mark.parametrize("demo", ["swatch", "harbour-light-cushion", "mooring-mat", "breakwater-cowl"])
def test_rows_and_strands_of_a_demo_plan_agree(tmp_path: Path, demo: str) -> None:
    rows = run(tmp_path, "rows", demo, "--json").value["rows"]
    told = run(tmp_path, "strands", demo, "--json").value
    by_strand: dict[int, list[tuple[int, dict[str, Any]]]] = {}
    for row in rows:
        for segment in row["segments"]:
            by_strand.setdefault(segment["strand"], []).append((row["row"], segment))
    assert list(by_strand) == [strand["strand"] for strand in told["strands"]]
    for strand in told["strands"]:
        worked = by_strand[strand["strand"]]
        assert {segment["yarn"] for _, segment in worked} == {strand["yarn"]}
        assert (worked[0][0], worked[-1][0]) == (strand["first_row"], strand["last_row"])
        assert len(worked) == strand["segments"]
        assert sum(segment["stitches"] for _, segment in worked) == strand["stitches"]
        assert sum(segment["carry"] for _, segment in worked) == strand["carried"]
        is_joined = strand["strand"] != 1  # the first is begun in the cast-on
        assert [segment["start"] == "join" for _, segment in worked] == [is_joined] + [False] * (len(worked) - 1)
        assert [segment["last"] for _, segment in worked] == [False] * (len(worked) - 1) + [True]
    most = max(sum(s["first_row"] <= row["row"] <= s["last_row"] for s in told["strands"]) for row in rows)
    assert told["total"]["most_at_once"] == most
    assert told["total"]["ends"] == 2 * len(by_strand)
    for yarn in told["yarns"]:
        metres = [strand["metres"] for strand in told["strands"] if strand["yarn"] == yarn["yarn"]]
        assert yarn["metres"] == pytest.approx(sum(metres))
