"""A piece with all its progress as one readable text, to be taken to another machine, and back.

The text is YAML: the plans the piece has followed with every file they draw in, word for word, and the history, a
line a step. What is read is checked: the plans as any plan is, the history step by step against them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import PurePath

from companion.knitting.piece import Piece
from companion.plan.nodes import Items, Keys, Node, Text, sound_tree
from companion.plan.outline import for_hands
from companion.plan.packed import pack
from companion.plan.read import load_text
from companion.plan.source import Source, has_control
from companion.problems import Problems, plain
from companion.progress.events import Entry, Mirrored, from_json, to_json
from companion.progress.fold import replay
from companion.progress.legality import check
from companion.progress.session import Session
from companion.progress.stored import Contents, StoredPlan

FORM = "1"

MOST_BYTES = 1_000_000_000
"""The largest file that is taken in: more than years of knitting come to."""


@dataclass(frozen=True)
class Exported:
    """A piece as it was taken along, checked. ``session`` is the fold of ``entries``; ``times`` are theirs."""

    name: str
    plans: Mapping[int, StoredPlan]
    entries: tuple[Entry, ...]
    times: tuple[str, ...]
    session: Session


def written(contents: Contents) -> Iterator[str]:
    """The piece as text, a line at a time with line ends."""
    yield "# A piece of knitting with all its progress. On the other machine: rowside progress import FILE\n"
    yield f'progress: {FORM}\nname: {json.dumps(contents.card.name, ensure_ascii=False)}\nplans:\n'
    # All versions are of one file, which may have been renamed since it was read.
    file = plain(PurePath(contents.card.plan_path.replace("\\", "/")).name)
    for version, plan in sorted(contents.plans.items()):
        yield f'  - version: {version}\n    file: {json.dumps(file, ensure_ascii=False)}\n'
        yield f"    text: {_block(plan.text, 6)}"
        yield f"    size: {json.dumps(plan.size, ensure_ascii=False)}\n" if plan.size else ""
        yield "    draws_in:" + (" {}\n" if not plan.files else "\n")
        for name, text in plan.files.items():
            yield f"      {json.dumps(name, ensure_ascii=False)}: {_block(text, 8)}"
    yield "# When, and what was done then.\nhistory: |\n"
    for at, entry in zip(contents.times, contents.entries, strict=True):
        yield f"  {at} {_on_one_line(to_json(entry))}\n"


def _block(text: str, indent: int) -> str:
    """A text as YAML: as it stands where it can, in quotes where it has other line ends or none at the end."""
    is_plain = text.endswith("\n") and not text.endswith("\n\n") and not {"\r", "\t"} & set(text)
    if not is_plain or not text.strip() or has_control(text):
        return f"{json.dumps(text, ensure_ascii=False)}\n"
    pad = " " * indent
    lines = "".join(f"{pad}{line}\n" if line else "\n" for line in text.split("\n")[:-1])
    return f"|2\n{lines}"


def _on_one_line(text: str) -> str:
    """JSON without the characters that YAML takes for line ends or refuses."""
    if not has_control(text):
        return text
    return json.dumps(json.loads(text), separators=(",", ":")).replace("\x7f", "\\u007f")


def read(text: str, name: str) -> Exported:
    """The piece in a text. ``name`` is the file name that problems show.

    Raises:
        Problems: what is wrong with it.
    """
    source = Source(name, text.removeprefix("\ufeff"))
    return _Reading(source).exported(sound_tree(source))


class _Reading:
    """One file on its way to a piece; the first thing amiss is told."""

    def __init__(self, source: Source) -> None:
        self._source = source

    def exported(self, root: Node) -> Exported:
        top = self._keys(root, ("progress", "name", "plans", "history"))
        form = self._text(top, "progress")
        if form.value != FORM:
            raise self._problem(form, f"must be {FORM}: another version of this program wrote it.")
        title = self._text(top, "name")
        history = self._text(top, "history")
        entries, times = self._steps(history)
        plans, read_as = self._plans(top["plans"])
        is_mirrored = any(isinstance(event, Mirrored) for event in entries[0])
        pieces = {number: for_hands(piece, is_mirrored=is_mirrored) for number, piece in read_as.items()}
        try:
            session = replay(pieces, entries, check)
        except ValueError as error:
            raise self._problem(history, f"cannot have happened like that: {error}.") from None
        stored = {number: plan._replace(packed=pack(pieces[number])) for number, plan in plans.items()}
        return Exported(title.value, stored, entries, times, session)

    def _steps(self, history: Text) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
        entries, times = [], []
        for number, line in enumerate(history.value.splitlines(), history.line + 1):
            at, _, events = line.partition(" ")
            try:
                entries.append(from_json(events))
                if datetime.fromisoformat(at).tzinfo is None:
                    raise ValueError("no time zone")
                datetime.fromisoformat(at).astimezone(UTC)
            except (ValueError, OverflowError):
                what = "This line of the history is not a time and what was done then."
                raise Problems([self._source.problem(number, 1, what, _AS_WRITTEN)]) from None
            times.append(at)
        if not entries:
            raise self._problem(history, "is empty.")
        return tuple(entries), tuple(times)

    def _plans(self, node: Node) -> tuple[dict[int, StoredPlan], dict[int, Piece]]:
        if not isinstance(node, Items) or not node.items:
            raise self._problem(node, "must be a list of the plans that were followed.")
        plans, pieces = dict[int, StoredPlan](), dict[int, Piece]()
        for item in node.items:
            keys = self._keys(item, ("version", "file", "text", "draws_in"), ("size",))
            version = self._text(keys, "version")
            if not version.value.isascii() or not version.value.isdigit() or len(version.value) > 6:
                raise self._problem(version, "must be a number.")
            drawn = keys["draws_in"]
            if not isinstance(drawn, Keys):
                raise self._problem(drawn, "must be files by name.")
            files = {name: self._text(_values(drawn), name).value for name in drawn.entries}
            file, text = self._text(keys, "file").value, self._text(keys, "text").value
            size = self._text(keys, "size").value if "size" in keys else ""
            loaded = load_text(text, f"{self._source.name}, plan {version.value}", files, size=size)
            if file in ("", ".", "..") or {*file} & {*"/\\:"}:
                raise self._problem(keys["file"], "must be the name of a file, without its folder.")
            number = int(version.value)
            if number in plans:
                raise self._problem(version, "stands there twice.")
            plans[number] = StoredPlan(file, loaded.piece.title, text, files, "", loaded.size)
            pieces[number] = loaded.piece
        return plans, pieces

    def _keys(self, node: Node, wanted: tuple[str, ...], allowed: tuple[str, ...] = ()) -> dict[str, Node]:
        if not isinstance(node, Keys) or set(node.entries) - set(allowed) != set(wanted):
            raise self._problem(node, f"must have the keys {', '.join(wanted)}.")
        return _values(node)

    def _text(self, keys: Mapping[str, Node], key: str) -> Text:
        node = keys[key]
        if not isinstance(node, Text):
            raise self._problem(node, "must be a single value.")
        return node

    def _problem(self, node: Node, what: str) -> Problems:
        return Problems([self._source.problem(node.line, node.column, f"What stands here {what}", _AS_WRITTEN)])


_AS_WRITTEN = "Export the piece again, or put the file back as it was written."


def _values(keys: Keys) -> dict[str, Node]:
    return {name: entry.value for name, entry in keys.entries.items()}
