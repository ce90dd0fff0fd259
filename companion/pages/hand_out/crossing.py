"""How to cross at a change, drawn in two moves: on both sides of the fabric, for right and for left hands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from companion.knitting.words import paper
from companion.pages.hand_out.markup import text
from companion.pages.hand_out.request import HandOut

_WIDE_MM, _HIGH_MM = 44, 32
"""Of one move."""

_OLD, _OLD_TIP = "M4 0C4 8 -2 11 -14 14", "M-17 14.6l3.4 -2.4l.6 3.2z"
_HANGING = "M0 1C0 8 0 15 1 22"
_UNDER = "M0 1C0 8 0 13 -1.5 17"
_UP, _UP_TIP = "M-1.5 17C-3 21 -10 21 -9.2 14C-8.6 9 -4.6 8 -4.2 4", "M-4 .8l2 3.4l-3.6 .2z"
"""Seen from above, in millimetres from where the needles meet, as a right-handed knitter has them in front: the
old strand from the last stitch worked; the new one as it hangs from the change in the row below, and is taken up."""


def crossing(hand_out: HandOut) -> Iterator[str]:
    """The drawings as HTML."""
    yield f'<p>{text(paper.CROSSING)}</p><div class="crossings">'
    for is_mirrored in (False, True):
        for side in _SIDES:
            head, how = paper.how_to_cross(side, is_mirrored=is_mirrored, terms=hand_out.terms)
            yield f"<figure><h3>{text(head)}</h3>"
            yield (
                f'<svg width="{2 * _WIDE_MM}mm" height="{_HIGH_MM}mm" viewBox="0 0 {2 * _WIDE_MM} {_HIGH_MM}" '
                f'role="img" aria-label="{text(how)}">'
            )
            for move in (1, 2):
                yield from _move(move, is_behind=side == "RS", is_mirrored=is_mirrored)
            yield f"</svg><figcaption>{text(how)}</figcaption></figure>"
    yield "</div>"


_SIDES: tuple[Literal["RS", "WS"], ...] = ("RS", "WS")


def _move(move: int, *, is_behind: bool, is_mirrored: bool) -> Iterator[str]:
    """One move: the needles, stitches worked in the old yarn and those that wait, and both strands."""
    x, y = _WIDE_MM * (move - 0.5), _HIGH_MM - 4 if is_behind else 4
    along, away = -1 if is_mirrored else 1, -1 if is_behind else 1
    yield f'<g transform="translate({x:g} {y}) scale({along} {away})">'
    yield '<path class="needle" d="M-20 0H-.8M.8 0H20"/>'
    for at in (4, 8, 12, 16):
        yield f'<ellipse class="loop" cx="{at}" cy="0" rx="1.2" ry="2.3"/>'
        yield f'<ellipse class="loop hollow" cx="-{at}" cy="0" rx="1.2" ry="2.3"/>'
    yield from _strand(_HANGING if move == 1 else _UNDER, is_new=True)
    yield f'<path class="clear" d="{_OLD}"/>'
    yield from _strand(_OLD, is_new=False)
    if move == 1:
        yield f'<path d="{_OLD_TIP}"/>'
    else:
        yield f'<path class="clear" d="{_UP}"/>'
        yield from _strand(_UP, is_new=True)
        yield f'<path d="{_UP_TIP}"/>'
    yield "</g>"
    notes = {str(move): (-19, 22), "old": (9, 7) if move == 1 else (-17, 10), "new": (5, 21) if move == 1 else (5, 9)}
    for word, (over, down) in notes.items():
        yield f'<text class="note" x="{x + along * over:g}" y="{y + away * down + 1:g}">{word}</text>'


def _strand(path: str, *, is_new: bool) -> Iterator[str]:
    yield f'<path class="strand" d="{path}"/>'
    if is_new:
        yield f'<path class="strand hollow" d="{path}"/>'
