"""What is said at the drawing board, and why something could not be done there, in a line."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from companion.board.marks import Kind
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.words import how_many
from companion.knitting.words.terms import listed
from companion.problems import Problem, Problems

if TYPE_CHECKING:
    from companion.board.motifs import Motif
    from companion.board.strokes import Stroke
    from companion.dialogue.painting import Painting
    from companion.knitting.reckoning.tidying import Patch
    from companion.plan.loaded import Loaded

Tool = Literal["", "line", "box", "block", "fill", "select"]
"""What the next press does at the stitch that is meant; "" paints it."""

TOOLS: Mapping[Tool, str] = {
    "": "", "line": "Line", "box": "Box", "block": "Filled box", "fill": "Fill", "select": "Selecting",
}  # fmt: skip
_BEGUN: Mapping[Tool, str] = {
    "line": "A line begins here: go to its other end and press {paint}, or drag.",
    "box": "A box begins here: go to the opposite corner and press {paint}, or drag.",
    "block": "A filled box begins here: go to the opposite corner and press {paint}, or drag.",
    "fill": "Fill: go to an area and press {paint}, or click it.",
    "select": "A selection begins here: go to the opposite corner and press {paint}, or drag.",
}
ANCHORED = "Now click the other end."
SELECTED = "Selected: copy, cut, move, mirror or repeat it."
FLOATING = "Move it to its place and set it down; mirror, turn or repeat it before."
NOTHING_DRAWN = "No stitch of this plan can be painted by itself: go to one to see why, and where it is changed."
NOTHING_SELECTED = "Nothing is selected: select a part of the chart first."
NOTHING_COPIED = "Nothing was copied: select a part of the chart and copy it first."
NOTHING_TO_UNDO = "There is no stroke to take back."
NOTHING_TO_REDO = "Nothing was taken back."
PEN_DOWN, PEN_UP = "The pen is down: moving paints.", "The pen is up."
LOOKING = "Looking for stitches that would spare strands ..."
NO_BARGAIN = "No change of few stitches would spare a strand."
NO_MORE_BARGAINS = "No further change of few stitches would spare a strand: ask again for the first."
NOT_MARKED = "Nothing is marked."
CHANGED_ELSEWHERE = "The plan file was changed elsewhere: it is shown as it is now."

_MARKED: Mapping[Kind, str] = {
    "lone stitches": "Areas of one stitch",
    "beyond reach": "Where a strand ends since the next stitches of its yarn lie beyond reach",
    "floats": "Floats that must be caught",
    "sewn on": "Small areas that would save ends if they were sewn on",
}


def begun(tool: Tool, paint: str) -> str:
    """What is to be done now that a tool is in hand; ``paint``: the key that paints."""
    return _BEGUN[tool].format(paint=paint)


def stitches(number: int) -> str:
    """So many stitches."""
    return "1 stitch" if number == 1 else f"{number} stitches"


def marked(kind: Kind, number: int) -> str:
    """What is marked, and how much of it."""
    return f"{_MARKED[kind]}: {stitches(number)} marked." if number else f"{_MARKED[kind]}: there are none."


def copied(motif: Motif) -> str:
    """What was copied."""
    return f"Copied, {motif.wide} x {motif.high}: paste it where you like."


def in_sight(seen: int, columns: int, more: str) -> str:
    """How much of a row can be seen, and the key that shows more, in few words: the line is short where that matters
    most."""
    return f"{seen} of {columns} stitches seen: {more} shows more."


def proposed(patch: Patch, more: str) -> str:
    """A bargain that is shown; ``more``: the key for the next one."""
    many, spared = stitches(len(patch.cells)), how_many(patch.strands, "strand")
    return f"{many} of {patch.yarn} in {patch.instead} would spare {spared}. Take it, or see the next ({more})."


def no_symbol(yarn: str) -> str:
    """Why a yarn cannot be painted with."""
    return f"No symbol of the plan stands for {yarn}: give it one under symbols."


def cost(strands: int | None, metres: Fraction | None = None) -> str:
    """What a yarn would cost or save: "+2 strands, +0.4 m"; "" where it is not known."""
    if strands is None:
        return ""
    yarn = f", {float(metres):+z.1f} m" if metres is not None else ""
    if not strands and yarn == ", +0.0 m":
        yarn = ""
    return f"{strands:+d} strand{'s' * (abs(strands) != 1)}{yarn}"


def yarn_told(painting: Painting, name: str) -> str:
    """A yarn by its symbol and name, with what the stitch that is meant would cost in it, or save."""
    symbol = painting.board.loaded.piece.yarn(name).symbol
    return f"{symbol} {name}  {cost(painting.costs.get(name), painting.slow.metres.get(name))}".rstrip()


def size_told(loaded: Loaded) -> str:
    """Which of a plan's sizes is drawn in; "" where it has none."""
    return f"Size {loaded.size} of {listed(loaded.sizes)}." if loaded.size else ""


def greeting(loaded: Loaded) -> str:
    """What is to be known of a plan before it is drawn in; "" where nothing is."""
    if not loaded.drawings:
        return NOTHING_DRAWN
    if not loaded.size:
        return ""
    return f"This is size {loaded.size}. What is painted changes in all sizes: {listed(loaded.sizes)}."


def already(yarn: str) -> str:
    """That a line, a box or an area changes nothing."""
    return f"All of this is in {yarn} already."


def stayed(stroke: Stroke) -> str:
    """That some stitches of a stroke cannot be painted, and why; "" where all of them were."""
    if not stroke.left or stroke.why is None:
        return ""
    kept = "stays as it was" if stroke.left == 1 else "stay as they were"
    return f"{stitches(stroke.left)} {kept}: {told(stroke.why)}"


def why(error: Problems | OSError | TooMuchToWeigh) -> str:
    """Why something could not be done, or what was done could not be saved."""
    if isinstance(error, OSError):
        return f"This cannot be saved, and is not drawn: {error.strerror or error}."
    return told(error.problems[0]) if isinstance(error, Problems) else str(error)


def told(problem: Problem) -> str:
    """What is wrong, where in the plan, and how it is mended."""
    where = f" (line {problem.line})" if problem.line else ""
    return f"{problem.what.rstrip('.')}{where}. {problem.mend}".strip()
