"""Knit or purl: how every stitch looks on the right side, and how the hands work it on the side that faces them."""

from __future__ import annotations

from collections.abc import Iterator

from companion.knitting.cloth.fabric import Texture
from companion.knitting.cloth.rows import Hand, Row
from companion.knitting.cloth.segments import Segment, Stretch


def work(row: Row, segment: Segment) -> tuple[tuple[Hand, int], ...]:
    """Knits and purls of a segment as the hands do them on the side that faces them, equal neighbours merged."""
    done: list[tuple[Hand, int]] = []
    for stretch in segment.stretches:
        for hand, count in _hands(row, stretch):
            if done and done[-1][0] == hand:
                done[-1] = (hand, done[-1][1] + count)
            else:
                done.append((hand, count))
    return tuple(done)


def _hands(row: Row, stretch: Stretch) -> Iterator[tuple[Hand, int]]:
    kind = stretch.texture.kind
    if kind in ("stockinette", "reverse", "garter"):
        yield _as_worked(row, looks_knit(row, stretch.texture, stretch.first)), stretch.stitches
        return
    step = 1 if row.toward == "left" else -1
    for i in range(stretch.stitches):
        yield _as_worked(row, looks_knit(row, stretch.texture, stretch.first + step * i)), 1


def looks_knit(row: Row, texture: Texture, column: int) -> bool:
    """Whether the stitch in this column shows a knit face on the right side of the fabric."""
    match texture.kind:
        case "stockinette":
            return True
        case "reverse":
            return False
        case "garter":
            # Flat: knitted on both sides. Round: a round knitted, a round purled.
            return row.level % 2 == 0 if row.is_round else row.side == "RS"
        case "seed":
            return (row.level + 1 + column + texture.shift) % 2 == 0
        case "rib":
            knit, purl = texture.rib
            return (column - 1 + texture.shift) % (knit + purl) < knit


def _as_worked(row: Row, is_knit_face: bool) -> Hand:
    return "k" if is_knit_face == (row.side == "RS") else "p"
