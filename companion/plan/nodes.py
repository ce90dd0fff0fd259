"""YAML text to a tree in which every key and value is text and knows its place.

Nothing is converted: ``no``, ``012`` and ``1:30`` stay what was typed. The tree is built from parser events with
a stack of its own, so that neither depth nor aliases can make it recurse or grow beyond the text.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import yaml

from companion.knitting.value import Record
from companion.plan.source import Found, Source, has_control, unreadable
from companion.plan.yaml_words import in_plain_words
from companion.problems import quoted

DEEPEST = 20
"""How deep keys and lists may nest."""

MOST_ENTRIES = 100_000
"""How many keys, values and list items a plan may have; its stitches lie in charts, not in entries."""

_LOADER: type = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_LIST_OF_SIZES = re.compile(r"(?<=[0-9cmn])( ?\([0-9., cmin]*+\))")
_COMMA = "\ue000"
"""Stands for a comma that parts numbers in brackets, "60 (66, 72)", which YAML in braces would take for its own."""


class Text(Record):
    """A scalar. Lines and columns from 1; ``style`` is YAML's indicator: "" plain, ', ", | or >."""

    value: str
    line: int
    column: int
    style: str = ""
    last_line: int = 0


class Entry(Record):
    """One key of ``Keys`` and its value."""

    key: Text
    value: Node


class Keys(Record):
    """A mapping in the order of the file."""

    line: int
    column: int
    entries: dict[str, Entry]


class Items(Record):
    """A list."""

    line: int
    column: int
    items: list[Node]


Node = Text | Keys | Items


def bare(node: Node) -> object:
    """The tree as dicts, lists and texts, without places. Not deeper than ``DEEPEST``, so recursion is safe."""
    match node:
        case Text():
            return node.value
        case Keys():
            return {name: bare(entry.value) for name, entry in node.entries.items()}
        case Items():
            return [bare(item) for item in node.items]


def tree(source: Source, found: Found, kind: str = "plan") -> Node:
    """The one document of a text, a "plan" or a "class". Duplicate keys are added to ``found``, the first one is
    kept.

    Raises:
        Problems: the text is not one document of plain keys, lists and texts within the limits.
    """
    builder = _Builder(source, found)
    events = _events(source, found)
    for event in events:
        builder.take(event)
    if builder.must_stop:
        found.stop()
    if builder.root is None:
        found.add(source.problem(0, 0, "The file is empty.", f"A {kind} begins with the line: {kind}: 1"))
        found.stop()
    assert builder.root is not None
    return builder.root


def sound_tree(source: Source) -> Node:
    """The one document of a text in which nothing is amiss.

    Raises:
        Problems: it has control characters, tabs in its indentation or duplicate keys, or as ``tree``.
    """
    found = Found()
    for problem in unreadable(source, tabs=True):
        found.add(problem)
    found.stop()
    root = tree(source, found)
    found.stop()
    return root


def _with_commas_kept(text: str) -> str:
    """The text as long as it was, with commas of lists of sizes that YAML takes for no signs of its own."""
    if "(" not in text or _COMMA in text:
        return text
    return _LIST_OF_SIZES.sub(lambda found: found[0].replace(",", _COMMA), text)


def _events(source: Source, found: Found) -> Iterator[yaml.Event]:
    try:
        yield from yaml.parse(_with_commas_kept(source.text), Loader=_LOADER)
    except yaml.YAMLError as error:
        from companion.plan.slips import slips  # what a sound plan has no need of is not loaded for it

        complaint = in_plain_words(error, source)
        told = slips(Source(source.name, _with_commas_kept(source.text)), complaint.line)
        for problem in [problem._replace(text=source.line(problem.line), mend=problem.mend.replace(_COMMA, ","),
                                         what=problem.what.replace(_COMMA, ",")) for problem in told] or [complaint]:
            found.add(problem)
        found.stop()


class _Frame:
    """A mapping or list being filled; ``key`` waits for its value."""

    def __init__(self, node: Keys | Items) -> None:
        self.node = node
        self.key: Text | None = None


class _Builder:
    def __init__(self, source: Source, found: Found) -> None:
        self.root: Node | None = None
        self.must_stop = False
        self._source = source
        self._found = found
        self._stack: list[_Frame] = []
        self._entries = 0

    def take(self, event: yaml.Event) -> None:
        match event:
            case yaml.ScalarEvent():
                self._refuse_marks(event)
                self._add(self._text(event))
            case yaml.MappingStartEvent():
                self._open(event, Keys(*_start(event), {}))
            case yaml.SequenceStartEvent():
                self._open(event, Items(*_start(event), []))
            case yaml.MappingEndEvent() | yaml.SequenceEndEvent():
                self._add(self._stack.pop().node)
            case yaml.AliasEvent():
                self._refuse(event, f'The alias "*{event.anchor}" is not understood in a plan.', _WRITE_OUT)
                self._add(Text("", *_start(event)))
            case yaml.DocumentStartEvent():
                self._document(event)

    def _text(self, event: yaml.ScalarEvent) -> Text:
        if has_control(event.value):
            self._refuse(event, "This text holds a control character.", "Write plain text, without escapes.")
        assert event.end_mark is not None
        value = event.value if _COMMA in self._source.text else event.value.replace(_COMMA, ",")
        return Text(value, *_start(event), event.style or "", event.end_mark.line + 1)

    def _open(self, event: yaml.CollectionStartEvent, node: Keys | Items) -> None:
        self._refuse_marks(event)
        self._stack.append(_Frame(node))
        if len(self._stack) > DEEPEST:
            self._refuse(event, f"Keys and lists nest more than {DEEPEST} deep here.", "A plan needs four.")
            self._found.stop()

    def _add(self, node: Node) -> None:
        self._entries += 1
        if self._entries > MOST_ENTRIES:
            what = f"The plan has more than {MOST_ENTRIES:,} keys and values."
            self._found.add(self._source.problem(node.line, node.column, what))
            self._found.stop()
        if not self._stack:
            self.root = self.root or node
            return
        frame = self._stack[-1]
        if isinstance(frame.node, Items):
            frame.node.items.append(node)
        elif frame.key is None:
            frame.key = self._key(node)
        else:
            self._enter(frame.node, frame.key, node)
            frame.key = None

    def _key(self, node: Node) -> Text:
        if not isinstance(node, Text):
            self.must_stop = True
            what = "A list or a group of keys stands where a key should be."
            mend = 'A key is a word before ":". Quote it when it begins with [ or {.'
            self._found.add(self._source.problem(node.line, node.column, what, mend))
            return Text("", node.line, node.column)
        if node.value == "<<" and not node.style:
            self.must_stop = True
            what = 'The merge key "<<" is not understood in a plan.'
            self._found.add(self._source.problem(node.line, node.column, what, _WRITE_OUT))
        return node

    def _enter(self, keys: Keys, key: Text, value: Node) -> None:
        key, value = self._with_colon(key, value)
        earlier = keys.entries.get(key.value)
        if earlier is None:
            keys.entries[key.value] = Entry(key, value)
            return
        where = "in the same line" if earlier.key.line == key.line else f"on line {earlier.key.line}"
        what = f"The key {quoted(key.value)} stands here a second time; the first is {where}."
        mend = "Keep one of the two."
        if key.value in ("plain", "chart", "field") and earlier.key.line != key.line:
            mend = f'Keep one of the two; where another section begins, write "- {key.value}:".'
        self._found.add(self._source.problem(key.line, key.column, what, mend))

    def _with_colon(self, key: Text, value: Node) -> tuple[Text, Node]:
        """An entry in braces whose ":" is missing, which is told, as it was meant; every other one as it is."""
        is_cut = not key.style and "{" in key.value and isinstance(value, Text) and value.value.endswith("}")
        is_empty = isinstance(value, Text) and not value.value and not value.style
        if not is_cut and (key.style or not is_empty):
            return key, value
        from companion.plan.indents import WORD, begun_amiss, may_be_key

        for slip in begun_amiss(self._source, key.line) if is_cut else ():
            if slip.line == key.line:
                self.must_stop = True
                self._found.add(slip)
        parts = WORD.fullmatch(key.value)
        behind = self._source.line(key.line)[key.column - 1 + len(key.value):].lstrip()
        if not parts or not is_empty or behind.startswith(":") or not may_be_key(parts["key"]):
            return key, value
        name, rest = parts["key"], parts["value"].strip()
        at = key.column + len(name)
        what, mend = f'A ":" is missing after {quoted(name)}.', f"Write {name}: {rest}"
        self._found.add(self._source.problem(key.line, at, what, mend))
        told = key._replace(value=rest.strip("\"'"), column=key.column + parts.start("value"))
        return key._replace(value=name), told

    def _document(self, event: yaml.DocumentStartEvent) -> None:
        if event.tags:
            self._refuse(event, "The %TAG line is not understood in a plan.", "Delete it.")
        if self.root is not None:
            self._refuse(event, "A second document begins here.", "One plan file holds one piece.")
            self._found.stop()

    def _refuse_marks(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent) -> None:
        if event.anchor is not None:
            self._refuse(event, f'The anchor "&{event.anchor}" is not understood in a plan.', _WRITE_OUT)
        if event.tag is not None:
            name = event.tag.replace("tag:yaml.org,2002:", "!!", 1)
            mend = 'Write the plain value; quote text that begins with "!".'
            self._refuse(event, f"The tag {quoted(name)} is not understood in a plan.", mend)

    def _refuse(self, event: yaml.Event, what: str, mend: str) -> None:
        self.must_stop = True
        self._found.add(self._source.problem(*_start(event), what, mend))


_WRITE_OUT = "Write the values out where they are needed."


def _start(event: yaml.Event) -> tuple[int, int]:
    assert event.start_mark is not None
    return event.start_mark.line + 1, event.start_mark.column + 1
