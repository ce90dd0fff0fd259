"""Everything that can be done at the drawing board: name, keys, words, and what it does. A table of its own, in the
form of the table of deeds, so that key line, help and clicks derive from it as elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING

from companion.dialogue import elsewhere, working
from companion.dialogue import painting_asked as asked
from companion.dialogue.deeds import Deed
from companion.dialogue.keys import KeyTold
from companion.dialogue.painting import FAR
from companion.dialogue.painting_shape import shape
from companion.dialogue.painting_words import Tool

if TYPE_CHECKING:
    from companion.board.motifs import Motif
    from companion.dialogue.painting import Painting
    from companion.dialogue.questions import Asking

MOST_YARNS = 9
"""Yarns that have a key of their own, their number in the list."""

_NUMBERS = range(1, MOST_YARNS + 1)

Does = Callable[["Painting"], "Asking[None] | None"]


def _doing(do: Callable[[Painting], object]) -> Does:
    """Something that asks nothing."""

    def does(painting: Painting) -> None:
        do(painting)

    return does


def _moving(up: int, left: int) -> Does:
    return _doing(lambda painting: painting.move(up, left))


def _tool(tool: Tool) -> Does:
    return _doing(lambda painting: painting.take_tool(tool))


def _turned(turn: Callable[[Motif], Motif]) -> Does:
    return _doing(lambda painting: painting.parts.turned(turn))


def _yarn(number: int) -> Does:
    return _doing(lambda painting: painting.pick_number(number))


def _deed(name: str, keys: str, title: str, about: str, does: Does, short: str = "") -> Deed:
    return Deed(name, tuple(keys.split()), title, about, does, short, where=("drawing",))


PAINTING_DEEDS: tuple[Deed, ...] = (
    _deed("paint", "space enter", "Paint", "The stitch that is meant, in the yarn in hand; or what is begun ends "
          "here: a line, a box, a motif set down, a change taken.", _doing(lambda it: it.act()), "paint"),
    _deed("let_go", "escape", "Let go", "Drop what is begun and not done; then the selection, then the marks.",
          _doing(lambda it: it.let_go()), "let go"),
    _deed("undo", "u ctrl+z", "Undo", "Take back the last stroke, and the one before, to the first.",
          _doing(lambda it: it.undo()), "undo"),
    _deed("redo", "w ctrl+y", "Redo", "Do again what was taken back.", _doing(lambda it: it.redo()), "redo"),
    _deed("pen", "p", "Pen down or up", "While it is down, moving paints.", _doing(lambda it: it.change_pen()),
          "pen"),
    _deed("line", "l", "Line", "From here to another stitch.", _tool("line"), "line"),
    _deed("box", "b", "Box", "The outline of a rectangle, from here to the opposite corner.", _tool("box"), "box"),
    _deed("block", "a", "Filled box", "All of a rectangle.", _tool("block"), "filled box"),
    _deed("fill", "f", "Fill", "All stitches of one yarn that hang together.", _tool("fill"), "fill"),
    _deed("select", "s", "Select", "A rectangle, from here to the opposite corner.", _tool("select"), "select"),
    _deed("copy", "c", "Copy", "What is selected can be pasted.", _doing(lambda it: it.parts.copy()), "copy"),
    _deed("cut", "x", "Cut", "Copy what is selected and paint its place in the yarn in hand.",
          _doing(lambda it: it.parts.cut()), "cut"),
    _deed("paste", "v", "Paste", "What was copied, moved about until it is set down.",
          _doing(lambda it: it.parts.paste()), "paste"),
    _deed("move", "m", "Move", "What is selected goes elsewhere; its place is filled with the yarn in hand.",
          _doing(lambda it: it.parts.lift()), "move"),
    _deed("mirror", "h", "Mirror", "Left for right, what is selected or not set down yet.",
          _turned(lambda motif: motif.flipped()), "mirror"),
    _deed("upside_down", "j", "Upside down", "Bottom for top, the same.",
          _turned(lambda motif: motif.upside_down()), "upside down"),
    _deed("repeat", "r", "Repeat", "So many side by side and one above the other, the same.", asked.repeat, "repeat"),
    _deed("text", "t", "Text", "Words in letters whose strokes are two stitches wide.", asked.text, "text"),
    _deed("motif", "o", "Motif", "The chart in another file, to be set down.", asked.motif, "motif"),
    _deed("insert", "i", "Insert", "A row or a column like the one here.", asked.insert, "insert"),
    _deed("delete", "d", "Delete", "The row or the column here, or all that are selected.", asked.delete, "delete"),
    _deed("marks", "n", "Mark", "Areas of one stitch; strands that end for want of reach; floats to be caught; areas "
          "worth sewing on; nothing.", _doing(lambda it: it.next_marks()), "mark"),
    _deed("tidy", "g", "Tidy", "The next few stitches that in another yarn would spare strands, shown before they "
          "are taken.", _doing(lambda it: it.tidy()), "tidy"),
    _deed("why", "y", "Why", "Why the stitch here cannot be painted, and where in the plan it is changed.",
          asked.why, "why"),
    _deed("shape", "e", "Shape", "The outline of this section in words, each line with the stitches after it.", shape,
          "shape"),
    _deed("yarns", "0", "Yarn", "Another yarn, from the list of all.", asked.yarn, "yarns"),
    _deed("pick_up", "k", "This yarn", "The yarn of the stitch here.", _doing(lambda it: it.pick_up()), "yarn here"),
    _deed("next_yarn", "full_stop", "Next yarn", "The next one of the list.", _doing(lambda it: it.next_yarn(1))),
    _deed("last_yarn", "comma", "Yarn before", "The one before.", _doing(lambda it: it.next_yarn(-1))),
    *(_deed(f"yarn_{n}", str(n), f"Yarn {n}", "The yarn of this number.", _yarn(n)) for n in _NUMBERS),
    _deed("zoom", "z", "Larger or smaller", "Stitches of three, two or one columns; where colours can be told, of "
          "one column by half a line.", _doing(lambda it: it.change_width()), "size"),
    _deed("up", "up", "A row up", "To the row above.", _moving(1, 0)),
    _deed("down", "down", "A row down", "To the row below.", _moving(-1, 0)),
    _deed("left", "left", "A stitch left", "To the stitch on the left.", _moving(0, 1)),
    _deed("right", "right", "A stitch right", "To the stitch on the right.", _moving(0, -1)),
    _deed("far_up", "shift+up ctrl+up pageup", "Ten rows up", "Ten rows at once.", _moving(FAR, 0)),
    _deed("far_down", "shift+down ctrl+down pagedown", "Ten rows down", "Ten rows at once.", _moving(-FAR, 0)),
    _deed("far_left", "shift+left ctrl+left home", "Ten stitches left", "Ten stitches at once.", _moving(0, FAR)),
    _deed("far_right", "shift+right ctrl+right end", "Ten stitches right", "Ten stitches at once.",
          _moving(0, -FAR)),
    Deed("light", ("f2",), "Light or dark", "A dark screen, a light one, one of high contrast.", elsewhere.light,
         where=("drawing",)),
    Deed("help", ("question_mark", "f1"), "Help", "Everything that can be done here, with its key; type to find it.",
         elsewhere.find, "all", where=("drawing",)),
    Deed("quit", ("q",), "Quit", "Stop here. Every stroke is saved already.", working.leave, "quit",
         where=("drawing",)),
)  # fmt: skip

PAINTING_GROUPS: Mapping[str, tuple[str, ...]] = {
    "Painting": ("paint", "pen", "line", "box", "block", "fill", "undo", "redo", "let_go"),
    "Yarns": ("yarns", "pick_up", "next_yarn", "last_yarn", *(f"yarn_{n}" for n in _NUMBERS)),
    "Parts of the chart": ("select", "copy", "cut", "paste", "move", "mirror", "upside_down", "repeat", "text",
                           "motif", "insert", "delete", "shape"),
    "What it costs": ("marks", "tidy", "why"),
    "Moving about": ("up", "down", "left", "right", "far_up", "far_down", "far_left", "far_right", "zoom"),
    "This program": ("light", "help", "quit"),
}  # fmt: skip
"""What one wants, and the deeds for it."""

_ENDING: Mapping[Tool, str] = {"": "paint", "fill": "fill"}
"""What painting is called while a tool is in hand; with all others it goes "to here"."""

_NEED_A_PART = frozenset({"copy", "cut", "move", "mirror", "upside_down", "repeat"})
"""They stand on the screen where something is selected or floats."""


def painting_deeds(yarns: int) -> tuple[Deed, ...]:
    """The table where there are so many yarns."""
    none = {f"yarn_{number}" for number in range(yarns + 1, MOST_YARNS + 1)}
    return tuple(deed for deed in PAINTING_DEEDS if deed.name not in none)


def keys_at_the_board(painting: Painting) -> tuple[KeyTold, ...]:
    """Those that stand on the screen: what ends or drops what is begun first, with its word."""
    word = "set down" if painting.parts.floating else _ENDING.get(painting.tool, "to here")
    word = "take" if painting.proposed else word
    has_more = bool(painting.is_in_hand or painting.parts.selected or painting.slow.kind)
    has_part = bool(painting.parts.selected or painting.parts.floating)
    return _keys(word, bool(painting.proposed), painting.is_pen_down, has_more, has_part)


@lru_cache(maxsize=64)
def _keys(word: str, is_proposed: bool, is_pen_down: bool, has_more: bool, has_part: bool) -> tuple[KeyTold, ...]:
    verbs = {"paint": word, "tidy": "next" if is_proposed else "tidy", "pen": "pen up" if is_pen_down else "pen down"}
    idle = _NEED_A_PART if not has_part else frozenset[str]()
    return tuple(
        KeyTold(((deed.key, deed.name),), verbs.get(deed.name, deed.short))
        for deed in PAINTING_DEEDS if deed.short and deed.name not in idle and (deed.name != "let_go" or has_more)
    )  # fmt: skip
