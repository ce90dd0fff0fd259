"""One table of what a knitter does, for every front end: keys, and with them the answers to all that is asked.

A front end may take the keys as they are, or each as what it stands for there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from companion.knitting.value import Record
from companion.settings import Settings
from tests.screens.at_the_needles import PLANS, SWATCH

Bursts = Sequence[Sequence[str]]
"""Keys in the order in which they are pressed, those for each thing that is open together."""

OWN: Mapping[str, tuple[str, ...]] = {
    "tick": ("t",), "filter": ("v",), "leave": ("b",), "yes": ("j",), "no": ("k",), "put_away": ("p",),
    "answer": ("f5",), "leave_it": ("f6",), "mark": ("y",), "palette": ("f9",),
}  # fmt: skip
"""Keys of her own in place of the usual ones, which do nothing there any more."""


BOLLARD = PLANS / "bollard-coaster.yaml"
"""In rows 12 and 13 two strands share a run."""


class Scenario(Record):
    """What is done at run 3 of a row of the swatch that has four, or at another run of a row of a plan."""

    bursts: Bursts
    row: int = 21
    settings: Settings | None = None
    plan: Path = SWATCH
    runs: int = 2


_USUAL: Mapping[str, Bursts] = {
    "a run on, back, unpicked": (["space", "space", "backspace", "u", "space"],),
    "forward to a row": (["g"], ["2", "5", "enter"]),
    "to a row that is not there": (["g"], ["9", "9", "enter"], ["space"]),
    "left unanswered": (["r"], ["escape"], ["n"], ["escape"], ["g"], ["enter"], ["space"]),
    "ripped back": (["r"], ["1", "8", "enter"], ["y"], ["space"]),
    "not ripped back after all": (["r"], ["1", "8", "enter"], ["n"], ["w"]),
    "a note, and another in its place": (["n"], [*"loose", "enter"], ["n"], [*["backspace"] * 5, *"ok", "enter"]),
    "a length ended, spliced": (["x"], ["enter"], ["1", "enter"], ["space"]),
    "a length ended, joined": (["x"], ["down", "enter"], ["1", "enter"], ["space"]),
    "wrong stitches to sew over": (
        ["x"], ["end", "enter"], ["down", "left", "space", "left", "space", "enter"], ["enter"], ["enter"],
    ),
    "wrong stitches to rip to": (["x"], ["end", "enter"], ["down", "enter"], ["enter"], ["end", "enter"], ["u"]),
    "a cross that was missed": (["x"], ["end", "enter"], ["enter"], ["end", "enter"], ["space"]),
    "no mistake after all": (["x"], ["end", "enter"], ["down", "escape"], ["x"], ["escape"], ["space"]),
    "where am I, with and without an answer": (["i"], [*"z", "enter"], ["escape"], ["i"], ["escape"], ["space"]),
    "ends woven in, filtered, and not after all": (
        ["e"], ["space", "down", "space", "f", "f", "end", "space", "f", "m", "m", "escape"], ["space"],
    ),
    "whether a strand lasts": (["s"], ["enter"], ["4", "0", "enter"], ["escape"], ["escape"], ["space"]),
    "nothing is sewn on here": (["d"], ["space"]),
    "another technique": (["t"], ["end", "enter"], ["space"]),
    "another of every technique": (["t"], ["g"], ["end", "enter"], ["space"]),
    "other settings, tails laid in": (["comma"], [*["down"] * 4, "enter", "escape"], ["w", "w", "w"]),
    "every way to look at it": (["m", "c", "z", "h", "up", "down", "left", "right", "home", "l", "c", "space"],),
    "help is read": (["f1"], ["escape"], ["space"]),
    "a deed is found by its name and done": (["f1"], [*"whole row", "enter"], ["ctrl+p"], [*"unpick", "enter"]),
    "found in a list": (["e"], ["question_mark"], [*"fabric", "enter"], ["f1"], ["escape"], ["escape"], ["space"]),
    "the lines of a list in other orders": (["s"], ["o", "o", "o", "o", "escape"], ["e"], ["o", "space", "escape"]),
    "stopped in mid-row, or not": (["q"], ["n"], ["space"], ["q"], ["y"]),
    "ends that are named on leaving": (
        ["g"], ["2", "6", "enter"], ["q"], ["n"], ["e"], ["f"], ["space", "escape"], ["w"],
    ),
}  # fmt: skip

SCENARIOS: Mapping[str, Scenario] = {name: Scenario(bursts) for name, bursts in _USUAL.items()} | {
    "keys of her own": Scenario(
        (
            ["e"], ["space", "t", "f", "v", "t", "escape", "b"], ["i"], ["z", "f5"], ["escape", "space", "p"],
            ["r"], ["1", "8", "enter", "f5"], ["y", "escape", "k"], ["n"], ["escape", "f6"],
            ["x"], ["end", "f5"], ["space", "y", "left", "y", "enter"], ["f5"], ["f6"], ["space"],
        ),
        24, Settings(keys=OWN),
    ),
    "a shared run in whose middle much happens": Scenario(
        (
            ["space", "backspace", "u", "space"], ["i"], [*"f 22", "enter"], ["escape"],
            ["x"], [*["down"] * 5, "enter"], ["space"], ["x"], ["down", "down", "enter"], ["s"], ["escape"],
            ["space"],
        ),
        12, None, BOLLARD, 1,
    ),
}  # fmt: skip
"""By what is done in each."""
