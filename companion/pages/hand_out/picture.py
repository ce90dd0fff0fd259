"""The piece in small, as its right side looks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from companion.pages.hand_out.markup import number, text
from companion.pages.hand_out.request import HandOut

_WIDE_MM, _HIGH_MM = 120.0, 90.0


def picture(hand_out: HandOut) -> Iterator[str]:
    """The picture as HTML."""
    piece = hand_out.piece
    ratio = float(piece.gauge.stitch_cm / piece.gauge.row_cm)
    columns, rows = piece.fabric.columns, len(piece.fabric.levels)
    wide = min(_WIDE_MM, _HIGH_MM * columns * ratio / rows)
    high = wide * rows / (columns * ratio)
    found = defaultdict[str, list[str]](list)
    for level, row in enumerate(piece.fabric.picture):
        right = columns
        for run in row.runs:
            right -= run.count
            if run.stitch is not None:
                colour = piece.yarn(run.stitch.sewn or run.stitch.yarn).colour
                found[colour].append(f"M{right} {rows - 1 - level}h{run.count}v1h-{run.count}z")
    yield (
        f'<svg class="picture" width="{number(wide)}mm" height="{number(high)}mm" viewBox="0 0 {columns} {rows}" '
        f'preserveAspectRatio="none" role="img" aria-label="{text(piece.title)}">'
    )
    for colour, boxes in found.items():
        yield f'<path fill="{colour}" d="{"".join(boxes)}"/>'
    yield "</svg>"
