"""The winding list of a divided piece: rows are told with the part they are of."""

from __future__ import annotations

from pathlib import Path

from the_program import run


def test_the_rows_of_a_strand_are_told_with_their_part(tmp_path: Path) -> None:
    # Each part of the jumper has 14 rows in fog alone. The right one is worked on with the fog that hangs at its edge
    # and began in the yoke, the left one with a strand of its own; below them are 84 rows.
    told = run(tmp_path, "strands", "ferry-jumper-front").out
    spans = [line[:11].strip() for line in told.splitlines() if line[13:18].strip().isdecimal()]
    assert [span for span in spans if "t" in span] == ["34-right 14", "left 1-14"]
    assert all(int(number) <= 84 for span in spans if "t" not in span for number in span.split("-"))
