"""The keys of the drawing board: how help groups them, and which stand on the screen, each with its word."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from companion.dialogue.deed import Deed
from companion.dialogue.deeds import deeds_of
from companion.dialogue.keys import KeyTold
from companion.dialogue.painting_deeds import MOST_YARNS
from companion.dialogue.painting_words import Tool
from companion.knitting.latest import latest

if TYPE_CHECKING:
    from companion.dialogue.painting import Painting

PAINTING_GROUPS: Mapping[str, tuple[str, ...]] = {
    "Painting": ("paint", "pen", "line", "box", "block", "fill", "undo", "redo", "let_go"),
    "Yarns": ("yarns", "pick_up", "next_yarn", "last_yarn", *(f"yarn_{n}" for n in range(1, MOST_YARNS + 1))),
    "Parts of the chart": ("select", "copy", "cut", "paste", "move", "mirror", "upside_down", "repeat", "text",
                           "motif", "insert", "delete", "shape"),
    "What it costs": ("marks", "tidy", "board_why"),
    "Moving about": ("board_up", "board_down", "board_left", "board_right", "board_far_up", "board_far_down",
                     "board_far_left", "board_far_right", "board_zoom"),
    "This program": ("board_light", "help", "board_quit"),
}  # fmt: skip
"""What one wants, and the deeds for it."""

_ENDING: Mapping[Tool, str] = {"": "paint", "fill": "fill"}
"""What painting is called while a tool is in hand; with all others it goes "to here"."""

_NEED_A_PART = frozenset({"copy", "cut", "move", "mirror", "upside_down", "repeat"})
"""They stand on the screen where something is selected or floats."""


def painting_deeds(deeds: Sequence[Deed], yarns: int) -> tuple[Deed, ...]:
    """What of the table can be done at the board where there are so many yarns."""
    none = {f"yarn_{number}" for number in range(yarns + 1, MOST_YARNS + 1)}
    return tuple(deed for deed in deeds_of("drawing", deeds) if deed.name not in none)


def keys_at_the_board(painting: Painting) -> tuple[KeyTold, ...]:
    """Those that stand on the screen: what ends or drops what is begun first, with its word."""
    word = "set down" if painting.parts.floating else _ENDING.get(painting.tool, "to here")
    word = "take" if painting.proposed else word
    has_more = bool(painting.is_in_hand or painting.parts.selected or painting.slow.kind)
    has_part = bool(painting.parts.selected or painting.parts.floating)
    return _keys(painting.knitter.deeds, word, bool(painting.proposed), painting.is_pen_down, has_more, has_part)


def most_keys(painting: Painting) -> tuple[KeyTold, ...]:
    """As many as ever stand there."""
    return _keys(painting.knitter.deeds, "set down", False, True, True, True)


@latest
def _keys(
    deeds: tuple[Deed, ...], word: str, is_proposed: bool, is_pen_down: bool, has_more: bool, has_part: bool
) -> tuple[KeyTold, ...]:
    verbs = {
        "paint": word, "tidy": "next" if is_proposed else "tidy", "pen": "pen up" if is_pen_down else "pen down",
        "help": "all",
    }  # fmt: skip
    idle = {*(() if has_part else _NEED_A_PART), *(() if has_more else ("let_go",))}
    return tuple(
        KeyTold(((deed.key, deed.name),), verbs.get(deed.name, deed.short))
        for deed in _in_order(deeds) if deed.short and deed.name not in idle
    )


def _in_order(deeds: Sequence[Deed]) -> list[Deed]:
    """Those of the board, what is of this program last."""
    last = PAINTING_GROUPS["This program"]
    return sorted(deeds_of("drawing", deeds), key=lambda deed: last.index(deed.name) if deed.name in last else -1)
