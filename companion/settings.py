"""The knitter's own settings: a file of plain keys, read like a plan, written without touching its comments.

Whatever is wrong in the file is told with its place, and what is right in it counts all the same: a broken settings
file stops nobody from knitting.
"""

from __future__ import annotations

import re
import string
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal

from msgspec import Struct, field
from msgspec.structs import replace

from companion.knitting.hands.weaving import SHOWS_BY
from companion.knitting.value import Record
from companion.knitting.words import Terms
from companion.problems import Problem, Problems, nearest, quoted

if TYPE_CHECKING:
    from companion.knitting.piece import Piece
    from companion.plan.nodes import Entry, Text
    from companion.plan.source import Found, Source

FILE = "settings.yaml"
"""The name of the file."""

CHOICES: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "terms": ("us", "uk"), "hands": ("right", "left"), "units": ("cm", "in"),
    "light": ("dark", "light", "contrast"), "tails": ("weave", "trap"), "say": ("first", "full", "short", "mark"),
    "pace": ("turn", "off"), "speak": ("off", "count", "short", "full"), "pedal": ("off", "on"),
})  # fmt: skip
"""Settings that are one of a few words, the usual one first."""

NUMBERS: Mapping[str, tuple[int, int, int]] = MappingProxyType(
    {"offer_at": (8, 0, 100), "shows_by": (SHOWS_BY, 1, 100), "break_after": (0, 0, 240)}
)
"""Settings that are whole numbers: the usual one, the least and the most."""

MOST_KEYS = 8
"""So many keys may do one thing."""


class UsualKeys(Record):
    """What an action is called on the screen, its usual keys, and the places in which they do it."""

    title: str
    keys: tuple[str, ...]
    where: tuple[str, ...]


ANYWHERE = "anywhere"
"""The place that is all of them."""

Usual = Mapping[str, UsualKeys]
"""The actions by name."""

_SHORT = {"solidus": "slash", "reverse_solidus": "backslash", "commercial_at": "at", "hyphen_minus": "minus",
          "plus_sign": "plus", "low_line": "underscore"}  # fmt: skip


def key_of(sign: str) -> str:
    """The name of the key that types a sign, made of the sign's name in Unicode."""
    name = unicodedata.name(sign).lower().replace("-", "_").replace(" ", "_")
    return sign if sign.isalnum() else _SHORT.get(name, name)


KEYS = frozenset([
    *map(key_of, string.ascii_lowercase + string.digits + string.punctuation), *(f"f{n}" for n in range(1, 25)),
    "space", "enter", "escape", "tab", "backspace", "delete", "insert", "home", "end", "pageup", "pagedown", "up",
    "down", "left", "right",
])  # fmt: skip
"""The names of the keys, as the screen calls them; "ctrl+", "alt+" and "shift+" may stand before each."""


class Settings(Struct, frozen=True):
    """What the knitter chose. ``terms``: whose words; ``hands``: "left" works mirrored, for pieces begun from now on;
    ``units`` of lengths; ``light``: the screen's ground; ``tails``: woven in afterwards, or trapped while knitting;
    ``say``: how much is said at a change, "first" = each kind in full once in a sitting, then in short, "mark" = no
    more than what the large letters do not say; ``pace``: how long the rest takes is told at a turn, or not;
    ``speak``: how much of each step the computer's own speaker says aloud, "count" = yarn and stitches; ``pedal``: an
    On that comes so soon after the last that a pedal must be held down counts for nothing; ``keys``: names of actions
    to the keys that do them.

    ``offer_at``: so many ends ready are offered at a turn, 0 = never; ``shows_by``: lightness (CIE L*) by which a
    colour must be lighter for an end to show through it; ``break_after``: minutes after which a break is suggested,
    0 = never.
    """

    terms: Literal["us", "uk"] = "us"
    hands: Literal["right", "left"] = "right"
    units: Literal["cm", "in"] = "cm"
    light: Literal["dark", "light", "contrast"] = "dark"
    tails: Literal["weave", "trap"] = "weave"
    say: Literal["first", "full", "short", "mark"] = "first"
    pace: Literal["turn", "off"] = "turn"
    speak: Literal["off", "count", "short", "full"] = "off"
    pedal: Literal["off", "on"] = "off"
    keys: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    offer_at: int = NUMBERS["offer_at"][0]
    shows_by: int = NUMBERS["shows_by"][0]
    break_after: int = NUMBERS["break_after"][0]

    def terms_for(
        self, piece: Piece, terms: Literal["us", "uk"] | None = None, units: Literal["cm", "in"] | None = None
    ) -> Terms:
        """Whose words a piece is told in: those asked for, else those of its plan, else these settings'."""
        is_inches = (units or piece.units or self.units) == "in"
        return Terms(terms or piece.dialect or self.terms, piece.is_mirrored, is_inches, piece.worn)


def read(path: Path) -> tuple[Settings, tuple[Problem, ...]]:
    """The settings of a file and what is wrong in it; the usual settings where there is no file."""
    if not path.exists():
        return Settings(), ()
    try:
        from companion.plan.files import plan_text

        return parse(plan_text(path), str(path))
    except Problems as found:
        return Settings(), found.problems


def parse(text: str, name: str = "settings.yaml", usual: Usual | None = None) -> tuple[Settings, tuple[Problem, ...]]:
    """The settings of a text and everything that is wrong in it; where the ``usual`` keys are given, that of the keys
    too."""
    from companion.plan.nodes import Keys, tree
    from companion.plan.source import Found, Source, unreadable

    if not _has_content(text):
        return Settings(), ()
    source, found = Source(name, text), Found()
    try:
        for problem in unreadable(source, tabs=True):
            found.add(problem)
        found.stop()
        root = tree(source, found)
    except Problems as wrong:
        return Settings(), wrong.problems
    if not isinstance(root, Keys):
        return Settings(), (source.problem(1, 1, "Settings are keys with a value each.", "Such as: terms: uk"),)
    reader = _Reader(source, found)
    try:
        for key, entry in root.entries.items():
            reader.take(key, entry)
        reader.check_keys(usual or {})
        found.stop()
    except Problems as wrong:
        return reader.settings, wrong.problems
    return reader.settings, ()


def _has_content(text: str) -> bool:
    return any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines())


class _Reader:
    """Takes the keys one by one; what does not fit is a problem and changes nothing."""

    def __init__(self, source: Source, found: Found) -> None:
        self.settings = Settings()
        self._source = source
        self._found = found
        self._actions: dict[str, Text] = {}

    def take(self, key: str, entry: Entry) -> None:
        from companion.plan.nodes import Keys, Text

        value = entry.value
        if key in CHOICES or key in NUMBERS:
            if isinstance(value, Text):
                self._set(key, value)
            else:
                self._tell(entry.key, f'"{key}" must be a single value, not a list or a group of keys.')
        elif key == "keys" and isinstance(value, Keys):
            for action, keys in value.entries.items():
                self._map(action, keys)
        else:
            known = (*CHOICES, *NUMBERS, "keys")
            near = nearest(key, known)
            mend = f'Did you mean "{near}"?' if near and near != key else f"Settings are: {', '.join(known)}."
            what = f"The setting {quoted(key)} is not known."
            if key == "keys":
                what, mend = '"keys" holds names of actions, each with its keys.', "Such as: on: [space, pagedown]"
            self._tell(entry.key, what, mend)

    def _set(self, key: str, text: Text) -> None:
        word = text.value.casefold()
        if is_value(key, word):
            self.settings = _with(self.settings, key, word)
        elif key in CHOICES:
            near = nearest(word, CHOICES[key])
            *others, last = CHOICES[key]
            told = f'"{key}" must be {", ".join(others)} or {last}, {_is(text)}.'
            self._tell(text, told, f'Did you mean "{near}"?' if near else "")
        else:
            _, least, most = NUMBERS[key]
            self._tell(text, f'"{key}" must be a whole number from {least} to {most}, {_is(text)}.')

    def _map(self, action: str, entry: Entry) -> None:
        from companion.plan.nodes import Items, Text

        value = entry.value
        texts = value.items if isinstance(value, Items) else [value]
        names = [text.value.strip() for text in texts if isinstance(text, Text)]
        if len(names) != len(texts) or not all(names) or not 1 <= len(names) <= MOST_KEYS:
            what = f"{quoted(action)} needs the names of one to {MOST_KEYS} keys."
            self._tell(entry.key, what, "Such as: [space, pagedown]")
            return
        self.settings = replace(self.settings, keys={**self.settings.keys, action: tuple(names)})
        self._actions[action] = entry.key

    def check_keys(self, usual: Usual) -> None:
        """Tell what is wrong with the keys, where the usual ones are known."""
        wrong = own_keys(usual, self.settings.keys)[1] if usual else {}
        for action, told in wrong.items():
            self._tell(self._actions[action], *told)

    def _tell(self, at: Text, what: str, mend: str = "") -> None:
        self._found.add(self._source.problem(at.line, at.column, what, mend))


def _is(text: Text) -> str:
    from companion.plan.amount import is_  # only here, since it compiles patterns: a millisecond at every start

    return is_(text.value)


def own_keys(
    usual: Usual, wanted: Mapping[str, Sequence[str]]
) -> tuple[dict[str, tuple[str, ...]], dict[str, tuple[str, str]]]:
    """The keys of the actions for which others are wanted and can be had; and what is wrong with those of each of the
    others, which keep their usual ones, and how it is mended. In which order they are wanted makes no difference."""
    wrong: dict[str, tuple[str, str]] = {}
    own: dict[str, tuple[str, ...]] = {}
    for action, keys in wanted.items():
        if action not in usual:
            near = nearest(action, usual)
            wrong[action] = f"No action is called {quoted(action)}.", f'Did you mean "{near}"?' if near else ""
        elif bad := next((key for key in keys if not _is_key(key) and key not in usual[action].keys), None):
            near = key_of(bad.lower()) if len(bad) == 1 else nearest(bad, KEYS)
            wrong[action] = f"{quoted(bad)} is not the name of a key.", f'Did you mean "{near}"?' if near else ""
        else:
            own[action] = tuple(keys)
    while True:
        has: defaultdict[str, list[str]] = defaultdict(list)
        for action in usual:
            for key in own.get(action, usual[action].keys):
                has[key].append(action)
        clashes = [
            (key, action, other) for action in own for key in own[action] for other in has[key]
            if other != action and _meet(usual[action].where, usual[other].where)
        ]
        if not clashes:
            return own, wrong
        for key, action, other in reversed(clashes):
            wrong[action] = f'The key {quoted(key)} for "{action}" is taken: it is "{usual[other].title}".', ""
            own.pop(action, None)


def _meet(one: Sequence[str], other: Sequence[str]) -> bool:
    """Both are in one place."""
    return ANYWHERE in (*one, *other) or not set(one).isdisjoint(other)


def _is_key(name: str) -> bool:
    found = re.fullmatch(r"(?:(?:ctrl|alt|shift)\+){0,3}(.+)", name)
    return found is not None and found[1] in KEYS


def _with(settings: Settings, key: str, value: str) -> Settings:
    """The settings with another value of one that is one of ``CHOICES`` or ``NUMBERS``, as ``is_value`` has it."""
    changed: dict[str, Any] = {key: int(value) if key in NUMBERS else value}
    return replace(settings, **changed)


def is_value(key: str, value: str) -> bool:
    """Whether a setting that is one of ``CHOICES`` or ``NUMBERS`` may have this value."""
    if key in NUMBERS:
        _, least, most = NUMBERS[key]
        return re.fullmatch("[0-9]{1,4}", value) is not None and least <= int(value) <= most
    return value in CHOICES.get(key, ())


def write(path: Path, key: str, value: str) -> None:
    """Set one of ``CHOICES`` or ``NUMBERS`` in the file, all else and its comments kept; it is replaced whole or not.

    Raises:
        ValueError: there is no such setting or value.
        Problems: the file as it is cannot be read; nothing is changed.
        OSError: it cannot be written; nothing is changed.
    """
    if not is_value(key, value):
        raise ValueError(f"{key}: {value}")
    _change(path, key, lambda text: with_value(text, key, value), lambda settings: _with(settings, key, value))


def write_keys(path: Path, action: str, keys: Sequence[str]) -> None:
    """Set the keys of an action in the file, all else and its comments kept; it is replaced whole or not.

    Raises:
        Problems: the file as it is cannot be read, or they cannot be put into it; nothing is changed.
        OSError: it cannot be written; nothing is changed.
    """
    from companion.plan.edit import with_keys

    own = {action: tuple(keys)}
    _change(
        path, f"keys: {action}", lambda text: with_keys(text, "keys", {action: f"[{', '.join(keys)}]"}),
        lambda settings: replace(settings, keys={**settings.keys, **own}),
    )


def _change(path: Path, what: str, change: Callable[[str], str], wanted: Callable[[Settings], Settings]) -> None:
    """Replace the file by its text as it is changed, if that then says just what is wanted."""
    text = ""
    if path.exists():
        from companion.plan.files import plan_text
        from companion.plan.nodes import sound_tree
        from companion.plan.source import Source

        text = plan_text(path)
        if _has_content(text):
            sound_tree(Source(str(path), text))
    changed = change(text)
    if parse(changed)[0] != wanted(parse(text)[0]):
        raise Problems([Problem(f'"{what}" cannot be set in this file.', str(path), mend="Mend the file by hand.")])
    from companion.plan.files import replace_text

    path.parent.mkdir(parents=True, exist_ok=True)
    replace_text(path, changed)


def with_value(text: str, key: str, value: str) -> str:
    """The text with this top-level key set: its value replaced in place, or a line added at the end."""
    lines = text.splitlines(keepends=True)
    for number, line in enumerate(lines):
        if line.startswith(f"{key}:"):
            rest = line[len(key) + 1:]
            body = rest.rstrip("\r\n")
            comment = body[body.index(" #"):] if " #" in body else ""
            lines[number] = f"{key}: {value}{comment}{rest[len(body):]}"
            return "".join(lines)
    end = "" if not text or text.endswith(("\n", "\r")) else "\n"
    return f"{text}{end}{key}: {value}\n"
