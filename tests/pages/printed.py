"""Pages as a browser prints them: to PDF by Chromium, on A4 or US Letter, and from there to pixels, by PDFium.

Run by itself it prints every demo and two large charts, and says how many pages each has: ``python -m
tests.pages.printed``.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pypdfium2

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or ""
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Millimetres (ISO 216; ANSI/ASME Y14.1)."""

INCH_MM = 25.4
POINTS = 72 / INCH_MM
DPI = 150


def printed(html: str, folder: Path, paper: str) -> pypdfium2.PdfDocument:
    """A page printed on a paper. A browser asks its user which; here a rule says it, which the page's own policy
    would not let in."""
    path, pdf = folder / f"{paper}.html", folder / f"{paper}.pdf"
    html = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", html)
    assert html.count("@page { margin") == 1
    path.write_text(html.replace("@page { margin", f"@page {{ size: {paper.lower()}; margin"), encoding="utf-8")
    subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
         f"--user-data-dir={folder / 'browser'}", f"--print-to-pdf={pdf}", path.as_uri()],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    return pypdfium2.PdfDocument(pdf)


def words_on(page: pypdfium2.PdfPage) -> str:
    """All text of a page."""
    return " ".join(page.get_textpage().get_text_range().split())


def pixels(page: pypdfium2.PdfPage, dpi: int = DPI) -> np.ndarray:
    """A page in grey, 0 black to 255 white."""
    return np.asarray(page.render(scale=dpi / 72).to_pil().convert("L"))


def is_blank(page: pypdfium2.PdfPage) -> bool:
    """Nothing is printed on it."""
    return bool(pixels(page, 30).min() > 250)


def main() -> Iterator[str]:
    """A line for each print."""
    import tempfile

    from companion.commands.given import read_plan
    from companion.plan.demo import demo_plans
    from companion.plan.read import load_text
    from tests.pages.on_paper import handed, sheets, tree

    plans = {path.stem: read_plan(path.stem).piece for path in demo_plans()}
    for wide, high in ((120, 160), (400, 600)):
        plans[f"{wide} x {high}"] = load_text(_waves(wide, high), "waves.yaml", {}).piece
    for name, piece in plans.items():
        html = handed(piece)
        expected = len(sheets(tree(html)))
        for paper in PAPERS:
            with tempfile.TemporaryDirectory() as folder:
                pages = list(printed(html, Path(folder), paper))
                charts = sum("Chart, sheet" in words_on(page) for page in pages)
                blank = sum(map(is_blank, pages))
            yield f"{name} on {paper}: {len(pages)} pages, {charts} of {expected} chart sheets, {blank} blank"


def _waves(wide: int, high: int) -> str:
    """A plan with areas of six yarns, large and small."""
    from math import cos, sin

    height = [[sin(x / 17) + cos(y / 23) + sin((x + y) / 31) for x in range(wide)] for y in range(high)]
    lines = "".join("      " + "".join("abcdef"[min(5, int(one + 3))] for one in line) + "\n" for line in height)
    yarns = "".join(f"  y{letter}: {{colour: '#{i}{i}8899'}}\n" for i, letter in enumerate("abcdef"))
    symbols = "".join(f"  {letter}: y{letter}\n" for letter in "abcdef")
    head = "plan: 1\ntitle: Waves\ngauge: {stitches: 20, rows: 28}\n"
    return f"{head}yarns:\n{yarns}symbols:\n{symbols}rows:\n  - chart: |\n{lines}"


if __name__ == "__main__":
    for line in main():
        print(line, flush=True)
