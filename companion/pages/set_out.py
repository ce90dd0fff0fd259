"""Words in columns as wide as their widest; where lines have no room, the cells of each one below another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.cells import cell_len

_GAP = "  "


def set_out(heads: Sequence[str], lines: Sequence[Sequence[str]], room: int) -> Iterator[str]:
    """The lines below their heads, without line ends. The first cell of a line says what it is about. Cells hold no
    control characters."""
    wide = [max(map(cell_len, column)) for column in zip(heads, *lines, strict=True)]
    if sum(wide) + len(_GAP) * (len(wide) - 1) <= room:
        for line in (heads, *lines):
            yield _GAP.join(cell + " " * (w - cell_len(cell)) for cell, w in zip(line, wide, strict=True)).rstrip()
        return
    for first, *cells in lines:
        yield first
        yield from (f"  {head}: {cell}" for head, cell in zip(heads[1:], cells, strict=True) if cell)
