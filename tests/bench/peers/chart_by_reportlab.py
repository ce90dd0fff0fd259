"""A chart drawn by reportlab: every square filled, framed and lettered."""

from __future__ import annotations

from io import BytesIO

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from companion.knitting.cloth.fabric import cells_across
from companion.knitting.piece import Piece
from companion.pages.hand_out.inks import ground

WIDE, HIGH, ACROSS, UP = 5.0 * mm, 3.6 * mm, 34, 62


def chart_pdf(piece: Piece) -> bytes:
    """The chart on as many sheets as it takes, two rows and stitches on both."""
    file = BytesIO()
    canvas = Canvas(file, pagesize=A4)
    rows = [cells_across(piece.fabric, level) for level in range(len(piece.fabric.levels))]
    for low in range(0, len(rows) - 2, UP - 2):
        for right in range(0, piece.fabric.columns - 2, ACROSS - 2):
            _sheet(canvas, piece, rows, low, right)
            canvas.showPage()
    canvas.save()
    return file.getvalue()


def _sheet(canvas: Canvas, piece: Piece, rows: list, low: int, right: int) -> None:
    canvas.setFont("Courier-Bold", 7)
    canvas.setLineWidth(0.25)
    for at, row in enumerate(rows[low:low + UP]):
        y = 20 * mm + at * HIGH
        for x, stitch in enumerate(row[right:right + ACROSS]):
            if stitch is None:
                continue
            yarn = piece.yarn(stitch.yarn)
            left = 190 * mm - (x + 1) * WIDE
            canvas.setFillColor(HexColor(ground(yarn.colour, "tints")))
            canvas.rect(left, y, WIDE, HIGH, stroke=1, fill=1)
            canvas.setFillColor(HexColor("#000000"))
            canvas.drawCentredString(left + WIDE / 2, y + 0.8 * mm, yarn.symbol)
        canvas.drawString(192 * mm, y + 0.8 * mm, str(low + at + 1))
