"""What can be done at the drawing board: its part of the table of deeds. Help is the same as elsewhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from companion.dialogue import elsewhere, working
from companion.dialogue import painting_asked as asked
from companion.dialogue.deed import Deed
from companion.dialogue.painting_shape import shape

if TYPE_CHECKING:
    from companion.board.motifs import Motif
    from companion.dialogue.painting import Painting
    from companion.dialogue.painting_words import Tool
    from companion.dialogue.questions import Asking

MOST_YARNS = 9
"""Yarns that have a key of their own, their number in the list."""

_NUMBERS = range(1, MOST_YARNS + 1)

FAR = 10
"""Stitches or rows of a long step."""

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
    _deed("cut", "x", "Cut", "Copy what is selected and paint its place in the yarn around it.",
          _doing(lambda it: it.parts.cut()), "cut"),
    _deed("paste", "v", "Paste", "What was copied, moved about until it is set down.",
          _doing(lambda it: it.parts.paste()), "paste"),
    _deed("move", "m", "Move", "What is selected goes elsewhere; its place is filled with the yarn around it.",
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
    _deed("board_why", "y", "Why", "Why the stitch here cannot be painted, and where in the plan it is changed.",
          asked.why, "why"),
    _deed("shape", "e", "Shape", "The outline of this section in words, each line with the stitches after it.", shape,
          "shape"),
    _deed("yarns", "0", "Yarn", "Another yarn, from the list of all.", asked.yarn, "yarns"),
    _deed("pick_up", "k", "This yarn", "The yarn of the stitch here.", _doing(lambda it: it.pick_up()), "yarn here"),
    _deed("next_yarn", "full_stop", "Next yarn", "The next one of the list.", _doing(lambda it: it.next_yarn(1))),
    _deed("last_yarn", "comma", "Yarn before", "The one before.", _doing(lambda it: it.next_yarn(-1))),
    *(_deed(f"yarn_{n}", str(n), f"Yarn {n}", "The yarn of this number.", _yarn(n)) for n in _NUMBERS),
    _deed("board_zoom", "z", "Larger or smaller", "Stitches of three, two or one columns; where colours can be told, "
          "of one column by half a line.", _doing(lambda it: it.change_width()), "size"),
    _deed("board_up", "up", "A row up", "To the row above.", _moving(1, 0)),
    _deed("board_down", "down", "A row down", "To the row below.", _moving(-1, 0)),
    _deed("board_left", "left", "A stitch left", "To the stitch on the left.", _moving(0, 1)),
    _deed("board_right", "right", "A stitch right", "To the stitch on the right.", _moving(0, -1)),
    _deed("board_far_up", "shift+up ctrl+up pageup", "Ten rows up", "Ten rows at once.", _moving(FAR, 0)),
    _deed("board_far_down", "shift+down ctrl+down pagedown", "Ten rows down", "Ten rows at once.", _moving(-FAR, 0)),
    _deed("board_far_left", "shift+left ctrl+left home", "Ten stitches left", "Ten stitches at once.",
          _moving(0, FAR)),
    _deed("board_far_right", "shift+right ctrl+right end", "Ten stitches right", "Ten stitches at once.",
          _moving(0, -FAR)),
    _deed("board_light", "f2", "Light or dark", "A dark screen, a light one, one of high contrast.", elsewhere.light),
    _deed("board_quit", "q", "Quit", "Stop here. Every stroke is saved already.", working.leave, "quit"),
)  # fmt: skip
