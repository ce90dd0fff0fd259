"""One thing that a knitter can do: its name, its keys, its words, where it can be done, and what it does."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any, Literal

from companion.knitting.value import Record

if TYPE_CHECKING:
    from companion.dialogue.questions import Asking
    from companion.progress.actions import Action

Where = Literal[
    "work", "ends", "sewing", "strands", "techniques", "basket", "settings", "keys", "marking", "question",
    "yes or no", "reading", "finding", "drawing", "anywhere",
]  # fmt: skip
"""Where one is: at the needles, in one of the lists, marking stitches, before a question, something to read, all
that can be done, to find one of it, or at the drawing board."""

LISTS: tuple[Where, ...] = ("ends", "sewing", "strands", "techniques", "basket", "settings", "keys")
PLACES: Mapping[Where, str] = {
    "work": "At the needles", "ends": "Ends", "sewing": "Sewn on", "strands": "Strands", "techniques": "Techniques",
    "basket": "The work basket", "settings": "Settings", "keys": "Keys", "marking": "Marking stitches",
    "question": "A question", "yes or no": "Yes or no", "reading": "Something to read", "finding": "Help",
    "drawing": "The drawing board", "anywhere": "Anywhere",
}  # fmt: skip
"""What each is called."""


class Deed(Record):
    """One thing to do. ``keys`` in Textual's names; ``does`` takes what it is done to (the sitting at the needles,
    the list, the marking, nothing where a question is answered) and asks where it must; ``short`` stands on the key
    line or at the foot ("" = not there), at the needles only where it is not ``unlisted``; ``needs`` is the kind of
    action that must be possible (None: always)."""

    name: str
    keys: tuple[str, ...]
    title: str
    about: str
    does: Callable[[Any], Asking[Any] | None]
    short: str = ""
    needs: type[Action] | None = None
    where: tuple[Where, ...] = ("work",)
    unlisted: bool = False

    @property
    def key(self) -> str:
        """The first of its keys, as it stands on the key line and in sentences."""
        return key_words(self.keys[:1])

    def begin(self, here: object) -> Asking[None]:
        """Do it to what is here."""
        if (asking := self.does(here)) is not None:
            yield from asking


_KEY_WORDS = {
    "comma": ",", "full_stop": ".", "pagedown": "page down", "pageup": "page up", "question_mark": "?",
    "f1": "F1", "f2": "F2", "f3": "F3",
}  # fmt: skip


def key_words(keys: tuple[str, ...]) -> str:
    """Keys as they are printed on a keyboard: "space, enter, page down"."""
    return ", ".join(_KEY_WORDS.get(key, key) for key in keys)
