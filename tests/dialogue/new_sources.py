"""What a new plan can be made from, lying in a folder, and somebody who chose it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.dialogue.plan_asked import Asked

SHEET = "s,s,s,s\ns,b,b,s\ns,s,s,s\n\ns,sand,#d9c9a5\nb,brick,#a8432f\n"

ROWS = """Gauge: 20 sts and 28 rows over 10 cm
Cast on 8 sts in sand.
Row 1 (RS): k4 sand, k4 brick.
Row 2 (WS): p4 brick, p4 sand.
Rows 3, 5, 7 (RS): k8 sand.
Rows 4, 6, 8 (WS): p8 sand.
"""

DRAFTED = ("A picture", "A chart in a sheet", "Written rows")
"""Those whose plan is written for the first time; the lines that choose them begin so."""

EVERY = ("A blank panel", "A demo plan", *DRAFTED)


def lay(folder: Path, source: str, text: str = "") -> None:
    """The file of a source, or of this ``text``."""
    if source == "A picture":
        image = pytest.importorskip("PIL.Image")
        drawn = image.new("RGB", (12, 12), (217, 201, 165))
        drawn.paste((168, 67, 47), (3, 3, 9, 9))
        drawn.save(folder / "buoy.png")
    elif source == "A chart in a sheet":
        (folder / "buoy.csv").write_text(text or SHEET, encoding="utf-8")
    elif source == "Written rows":
        (folder / "buoy.txt").write_text(text or ROWS, encoding="utf-8")


def chosen(folder: Path, source: str, text: str = "") -> Asked:
    """Somebody who chose it, and is asked what it is that makes it this plan; a picture is 12 stitches wide."""
    lay(folder, source, text)
    asked = Asked(folder)
    asked.choose(source)
    if source == "A demo plan":
        asked.choose("mooring-mat")
    elif source in DRAFTED:
        asked.choose("buoy.")
    if source == "A chart in a sheet":
        asked.until("The cells of its chart")
        asked.type("A1:D3")
    if source == "A picture":
        asked.until("How wide")
        asked.type("12")
        asked.type("2")
    return asked
