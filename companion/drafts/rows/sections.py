"""The rows of a picture as a person would type them: plain rows counted, what repeats said once, the rest drawn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby, takewhile, zip_longest

from companion.knitting.cloth.fabric import Part, Stitch, Texture
from companion.knitting.value import Record
from companion.plan.edit import name_in_yaml

_MANY = 4
"""So many plain rows, or rows that are alike, are counted and not drawn."""


class Line(Record):
    """One row of the picture, as it is drawn from left to right; None is no stitch. ``seam``: more stitches for a
    tube's seam, which are not drawn."""

    cells: tuple[Stitch | None, ...]
    is_round: bool
    seam: int


class Opening(Record):
    """Where the piece divides: ``first`` is worked first; ``level``: so many rows lie below; ``at``: so many stitches
    lie to the right where no gap shows it, 0 = a gap does, and then it is so many rows ``high``, 0 = to the top."""

    first: Part
    level: int
    at: int
    high: int
    is_held: bool


class _Block(Record):
    lines: Sequence[Line]
    repeat: int
    is_plain: bool
    opening: Opening | None = None


def drawn_stitches(lines: Sequence[Line], openings: Sequence[Opening]) -> list[Stitch]:
    """The stitches that need a symbol."""
    drawn = [line for block in _blocks(lines, openings) if not block.is_plain for line in block.lines]
    return list(dict.fromkeys(cell for line in dict.fromkeys(drawn) for cell in line.cells if cell))


def sections(lines: Sequence[Line], openings: Sequence[Opening], symbol: Mapping[Stitch, str]) -> Iterator[str]:
    """Lines of a plan below ``rows:``, from the cast-on up."""
    for block in _blocks(lines, openings):
        first = block.lines[0]
        keys: list[str] = []
        if first.is_round:
            keys.append("worked: round")
        if first.seam:
            keys.append(f"seam_stitches: {first.seam}")
        if block.is_plain:
            stitch = first.cells[0]
            assert stitch is not None
            looks = texture_in_yaml(stitch.texture)
            stitches = f"rows: {len(block.lines)}, stitches: {len(first.cells)}"
            told = [f"plain: {{{stitches}, yarn: {name_in_yaml(stitch.yarn)}{looks and f', stitch: {looks}'}}}"]
        else:
            told = ["chart: |", *(f"  {_drawn(line, symbol)}" for line in reversed(block.lines))]
            if block.repeat > 1:
                keys.append(f"repeat: {block.repeat}")
        if block.opening:
            held = ", middle: held" if block.opening.is_held else ""
            at = block.opening.at
            where = (f", at: {at}" if at else "") + (f", rows: {block.opening.high}" if block.opening.high else "")
            told.insert(0, f"opening: {{first: {block.opening.first}{where}{held}}}")
        yield from (("  - " if not number else "    ") + line for number, line in enumerate([*told, *keys]))


def texture_in_yaml(texture: Texture) -> str:
    """A texture as a plan has it; "" where it need not be said."""
    if texture.kind == "rib":
        return f"{{rib: [{texture.rib[0]}, {texture.rib[1]}]}}"
    return "" if texture.kind == "stockinette" else texture.kind


def _drawn(line: Line, symbol: Mapping[Stitch, str]) -> str:
    return "".join(symbol[cell] if cell else "." for cell in line.cells)


def _is_plain(line: Line) -> bool:
    return line.cells[0] is not None and all(cell == line.cells[0] for cell in line.cells)


def _blocks(lines: Sequence[Line], openings: Sequence[Opening]) -> Iterator[_Block]:
    """The rows cut into what is typed as one section: from an opening on up to the next one."""
    yield from _whole(lines[:openings[0].level] if openings else lines)
    for opening, above in zip_longest(openings, openings[1:]):
        own = lines[opening.level:above.level if above else len(lines)]
        flat = list(takewhile(lambda line: not line.is_round, own))  # rounds may lie above where parts are joined
        yield _Block(flat, 1, False, opening)
        yield from _whole(own[len(flat):])


def _whole(lines: Sequence[Line]) -> Iterator[_Block]:
    """Rows beside no opening, cut into sections."""
    waiting: list[Line] = []
    for line, group in groupby(lines):
        alike = list(group)
        if waiting and (waiting[-1].is_round, waiting[-1].seam) != (line.is_round, line.seam):
            yield _Block(*_once(waiting), False)
            waiting = []
        if len(alike) < _MANY and not (_is_plain(line) and (not waiting and len(alike) > 1)):
            waiting += alike
            continue
        if waiting:
            yield _Block(*_once(waiting), False)
            waiting = []
        yield _Block(alike, 1, True) if _is_plain(line) else _Block([line], len(alike), False)
    if waiting:
        yield _Block(*_once(waiting), False)


def _once(lines: list[Line]) -> tuple[list[Line], int]:
    """Rows that repeat, once, and how often."""
    for size in range(1, len(lines) // 2 + 1):
        if len(lines) % size == 0 and lines == lines[:size] * (len(lines) // size):
            return lines[:size], len(lines) // size
    return lines, 1
