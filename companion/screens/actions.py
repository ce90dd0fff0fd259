"""The one table of what a knitter can do at the working screen: name, keys, words, when.

Bindings, the key line, the help page, the command palette and a knitter's own key map all derive from it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from companion.progress.actions import Action, AtRow, Back, On, Replan, RipBack, Unpick, WholeRow
from companion.settings import own_keys


class Deed(NamedTuple):
    """One thing to do. ``keys`` in Textual's names; ``short`` stands on the key line ("" = not there);
    ``needs`` is the kind of action that must be possible (None: always)."""

    name: str
    keys: tuple[str, ...]
    title: str
    about: str
    short: str = ""
    needs: type[Action] | None = None

    @property
    def key(self) -> str:
        """The first of its keys, as it stands on the key line and in sentences."""
        return key_words(self.keys[:1])


DEEDS: tuple[Deed, ...] = (
    Deed("on", ("space", "enter", "pagedown"), "On", "What is told now is done: a run, in row mode a row.", "on", On),
    Deed("back", ("backspace", "pageup"), "Back", "Take back the last action, whatever it was.", "back", Back),
    Deed("row", ("w",), "Whole row", "Everything to the end of the row is done.", "whole row", WholeRow),
    Deed("mode", ("m",), "Runs or rows", "Change between one press a run and one press a row.", "runs/rows"),
    Deed("unpick", ("u",), "Unpick", "The last run is undone on the needles.", "unpick", Unpick),
    Deed("rip", ("r",), "Rip back", "Rows are undone on the needles, down to one you name.", "rip", RipBack),
    Deed("at", ("g",), "I am at row ...", "Go forward to a row: all before it worked as planned.", "", AtRow),
    Deed("where", ("i",), "Where am I?", "Find the row by the runs that lie on the needle."),
    Deed("happened", ("x",), "Something happened", "A length ended, a strand joined after all, a mistake."),
    Deed("note", ("n",), "Note", "Write a note on this row.", "note"),
    Deed("ends", ("e",), "Ends", "Every end, where it is and how it is woven in; the map of the back.", "ends"),
    Deed("sew", ("d",), "Sewn on", "What is sewn on afterwards, each area with its chart; ticked off."),
    Deed("strands", ("s",), "Strands", "Every strand, by place; will what is left of one last?", "strands"),
    Deed("techniques", ("t",), "Techniques", "What each would cost from here on; work on with another.", "", Replan),
    Deed("chart", ("c",), "Chart", "The chart large, or the working screen again.", "chart"),
    Deed("zoom", ("z",), "Near or far", "Draw the chart's stitches larger or smaller."),
    Deed("held", ("h",), "As held", "Show wrong-side rows as they are held, or as the right side looks."),
    Deed("scroll_up", ("up",), "Chart up", "Look further up the chart."),
    Deed("scroll_down", ("down",), "Chart down", "Look further down the chart."),
    Deed("scroll_left", ("left",), "Chart left", "Look further left on the chart."),
    Deed("scroll_right", ("right",), "Chart right", "Look further right on the chart."),
    Deed("follow", ("home",), "Chart to the needles", "Bring the chart back to the row in work."),
    Deed("settings", ("comma",), "Settings", "Terms, hands, units and light, kept for every piece."),
    Deed("light", ("l",), "Light or dark", "Change between a light and a dark screen."),
    Deed("help", ("question_mark", "f1"), "Keys", "Every key and what it does.", "keys"),
    Deed("quit", ("q",), "Quit", "Stop here. Everything is saved already.", "quit"),
)

BY_NAME = {deed.name: deed for deed in DEEDS}

USUAL = {deed.name: (deed.title, deed.keys) for deed in DEEDS}
"""What each is called, and its usual keys."""

_KEY_WORDS = {"comma": ",", "pagedown": "page down", "pageup": "page up", "question_mark": "?", "f1": "F1"}


def with_keys(keys: Mapping[str, Sequence[str]]) -> tuple[tuple[Deed, ...], tuple[str, ...]]:
    """The table with a knitter's own keys, and what is wrong with them in words.

    A name that is no deed, a key that is no key, and a key that would then do two things are left as they were.
    """
    own, wrong = own_keys(USUAL, keys)
    deeds = tuple(deed._replace(keys=own.get(deed.name, deed.keys)) for deed in DEEDS)
    return deeds, tuple(" ".join(told).strip() for told in wrong.values())


def key_words(keys: tuple[str, ...]) -> str:
    """Keys as they are printed on a keyboard: "space, enter, page down"."""
    return ", ".join(_KEY_WORDS.get(key, key) for key in keys)
