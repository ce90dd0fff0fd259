"""``rowside areas`` as it is printed, as data, and written into the plan; and areas among the techniques compared."""

from __future__ import annotations

from pathlib import Path

import pytest
from the_program import run

GULL = """\
plan: 1
title: Gull
gauge: {stitches: 20, rows: 28}
yarns:
  sand: {colour: tan, ball: {metres: 100, grams: 50}}
  ink: {colour: black}
symbols:
  s: sand
  i: ink
carry: {reach: 1}
rows:
  - chart: |
      ssssssssss
      ssssssssss
      ssssssiiis
      ssssssssss
      ssisssssss
      ssssssssss
"""
"""Two small areas: in row 2 one stitch, in row 4 three. Each parts the sand in two: without them one strand would do.
With reach 1 the sand that is cut off at an area cannot come back in the row above it but on one side."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "gull.yaml").write_text(GULL, encoding="utf-8")
    return tmp_path


def test_the_areas_with_what_each_and_all_save(folder: Path) -> None:
    whole = run(folder, "strands", "gull.yaml", "--json").value["total"]["strands"]
    value = run(folder, "areas", "gull.yaml", "--json").value
    assert [(a["yarn"], a["row"], a["stitch"], a["stitches"], a["over"]) for a in value["areas"]] == [
        ("ink", 2, 8, 1, "sand"), ("ink", 4, 2, 3, "sand"),
    ]  # fmt: skip
    assert value["together"] == {"strands": whole - 1, "ends": 2 * (whole - 1) - 4}
    ran = run(folder, "areas", "gull.yaml")
    lines = ran.out.splitlines()
    assert lines[:2] == ["Gull", ""]
    assert lines[3].split()[:6] == ["1", "2", "8", "ink", "1", "sand"]
    assert lines[4].split()[:6] == ["2", "4", "2", "ink", "3", "sand"]
    saved = f"All 2 together save {whole - 1} strands and {2 * (whole - 1) - 4} ends, the tails of sewing taken off."
    assert saved in lines
    assert "Swiss darning lies double" in run(folder, "areas", "gull.yaml", "--terms", "uk").out


def test_of_a_shaped_row_stitches_are_counted_and_the_plan_has_its_column(folder: Path) -> None:
    """Three stitches are bound off at the right edge in row 3, so that the stitch of column 7 is the fourth."""
    lines = ["sssssss...", "sssisss...", "sssssss...", "ssssssssss", "ssssssssss"]
    text = GULL[:GULL.index("ssssssssss")] + "\n      ".join(lines) + "\n"
    (folder / "gull.yaml").write_text(text, encoding="utf-8")
    [area] = run(folder, "areas", "gull.yaml", "--json").value["areas"]
    assert (area["row"], area["stitch"], area["column"]) == (4, 4, 7)
    assert run(folder, "areas", "gull.yaml").out.splitlines()[3].split()[:3] == ["1", "4", "4"]
    assert "row: 4, stitch: 7}" in run(folder, "areas", "gull.yaml", "--use", "1").err


def test_areas_of_a_divided_piece_are_listed_with_their_part(folder: Path) -> None:
    lines = ["sss..sss", "sis..sis", "sss..sss", "ssssssss", "ssssssss"]
    text = GULL[:GULL.index("ssssssssss")].replace("- chart", "- opening: {first: right}\n    chart")
    (folder / "gull.yaml").write_text(text + "\n      ".join(lines) + "\n", encoding="utf-8")
    listed = run(folder, "areas", "gull.yaml").out.splitlines()[3:5]
    assert [line.split()[:3] + line.split()[-2:] for line in listed] == [
        ["1", "4", "2", "right", "part"], ["2", "4", "2", "left", "part"],
    ]  # fmt: skip


def test_areas_are_written_into_the_plan_and_change_the_work(folder: Path) -> None:
    ran = run(folder, "areas", "gull.yaml", "--use", "2")
    written = "{yarn: ink, over: sand, row: 4, stitch: 2}"
    assert (ran.code, ran.err) == (0, f"gull.yaml now has under sewn_on: {written}\n")
    assert (folder / "gull.yaml").read_text(encoding="utf-8") == f"{GULL}sewn_on:\n  - {written}\n"
    run(folder, "areas", "gull.yaml", "--use", "all")
    assert run(folder, "strands", "gull.yaml", "--json").value["total"]["strands"] == 1
    told = run(folder, "areas", "gull.yaml").out
    assert "Sewn on by the plan: 2 areas." in told
    assert "No small area would save an end by being sewn on." in told
    listed = run(folder, "strands", "gull.yaml").out
    assert "  3 stitches of ink from row 4, stitch 2 from the right, with 1 length" in listed
    # By hand: 1 and 3 stitches of 2.05 cm, and two tails of 10 cm each: 22.05 + 26.15 = 48.2 cm.
    assert "  ink: 48.2 cm." in listed


def test_what_is_not_there_cannot_be_used(folder: Path) -> None:
    for words, told in [(("--use", "3"), "There are 2 areas to choose from."), (("--use", "0"), "counts from 1")]:
        ran = run(folder, "areas", "gull.yaml", *words)
        assert (ran.code, ran.out) == (2, "")
        assert told in ran.err
    ran = run(folder, "areas", "swatch", "--use", "all")
    assert ran.code == 2
    assert "A demo plan stays as it is." in ran.err


def test_techniques_are_compared_with_their_small_areas_sewn_on_too(folder: Path) -> None:
    plain = run(folder, "compare", "gull.yaml", "--json").value
    value = run(folder, "compare", "gull.yaml", "--areas", "4", "--json").value
    with_sewn = value[len(plain):]
    assert all(each["sewn_on"] for each in with_sewn)
    assert not any(each["sewn_on"] for each in value[: len(plain)])
    # One strand of sand, two ends; and two lengths to sew with, four more. Knitted it takes five strands: two of ink,
    # and sand that goes straight up on one side of each only.
    knitted, sewn = plain[-1], with_sewn[-1]
    assert knitted["today"]
    assert (knitted["reach"], knitted["strands"], knitted["ends"]) == (1, 5, 10)
    assert (sewn["reach"], sewn["strands"], sewn["ends"], len(sewn["sewn_on"])) == (1, 1, 6, 2)
    text = run(folder, "compare", "gull.yaml", "--areas", "4").out
    assert "2 areas sewn on" in text
    assert "Sewn on" in text.splitlines()[2]
    ran = run(folder, "compare", "gull.yaml", "--areas", "4", "--use", str(len(plain) + 1))
    assert "and 2 areas under sewn_on" in ran.err
    assert run(folder, "strands", "gull.yaml", "--json").value["total"]["strands"] == 1


def test_a_plan_that_asks_for_small_areas_has_them_compared(folder: Path) -> None:
    (folder / "gull.yaml").write_text(f"{GULL}small_areas: 1\n", encoding="utf-8")
    value = run(folder, "compare", "gull.yaml", "--json").value
    assert any(each["sewn_on"] for each in value)
    assert "2 small areas sewn on would save" in run(folder, "check", "gull.yaml").out
    run(folder, "areas", "gull.yaml", "--use", "all")
    assert "no small area would save an end" in run(folder, "check", "gull.yaml").out
