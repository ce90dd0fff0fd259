"""Sizes of one plan: "60 (66, 72)" is 60 in the first size, 66 and 72 in the others.

A plan in sizes is, for each of them, the plan that stands there when every such list is replaced by its number. That
is done on the tree, where every value still knows its place, so that nothing behind it knows of sizes. First size
before the brackets, the others in them, is how printed patterns have it (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from companion.knitting.value import Record
from companion.knitting.words.terms import listed
from companion.plan import amount
from companion.plan.misfits import spot
from companion.plan.nodes import Entry, Items, Keys, Node, Text, tree
from companion.plan.source import Found, Source
from companion.problems import Problem, Problems, quoted

MOST_SIZES = 20
LONGEST_SIZE = 20

_BEGUN = re.compile(r"[0-9.]++ ?(cm|mm|in)? ?\(|\(")
_NUMBERS = re.compile(r"\(?[0-9.]++( ?[/;] ?[0-9.]++)++\)?")
_REST = re.compile(r"[0-9.]++ ?(cm|mm|in)? ?\)?")
"""What YAML in braces makes of the rest of a list in which brackets are missing: keys without a value."""

_COUNTED = {"rows", "stitches", "height", "right", "bottom", "across", "repeat", "at", "row"}
"""Keys at which one number stands."""

_LIST = re.compile(r"(?<![0-9.])([0-9][0-9.]*+) ?\(([0-9., ]*+)\)")
_ONE = re.compile(_LIST.pattern + r"( *[a-z]+)?")
_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")

_AS_IT_IS = {"plan", "title", "sizes", "gauge", "yarns", "symbols", "seams", "sample", "winding", "tail"}
"""What a plan has at its top that is the same in every size."""

_NO_NUMBER = {"from", "yarn", "sewn", "over", "rows_per_square", "seam_stitches"}
"""Keys below, the same."""

_LIKE_THIS = "Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"


class InSize(Record):
    """A plan's tree in one of its sizes; "" and () where it is of one size."""

    root: Node
    size: str = ""
    sizes: Sequence[str] = ()


def sizes_of(text: str) -> tuple[str, ...]:
    """The sizes that the plan with this text names; none where it is of one, or they cannot be read."""
    if "sizes" not in text:
        return ()
    source, found = Source("", text.removeprefix("\ufeff")), Found()
    try:
        return _sizes(tree(source, found), source, found)
    except Problems:
        return ()


def told_together(found: Mapping[str, Sequence[Problem]]) -> Sequence[Problem]:
    """What is to be said of a plan in each of its sizes: once, with the sizes of which it is true where it is not
    true of all."""
    of = dict[Problem, list[str]]()
    for size, problems in found.items():
        for problem in problems:
            of.setdefault(problem, []).append(size)
    return [
        problem if len(sizes) == len(found) else problem._replace(what=f"Size {listed(sizes)}: {problem.what}")
        for problem, sizes in of.items()
    ]


def in_size(root: Node, size: str, source: Source, found: Found) -> InSize:
    """The tree with the numbers of a size, which may be typed in capitals or not. Where none is named it is the first
    one, and that is said.

    Raises:
        Problems: the plan has no such size, or its list of sizes is amiss.
    """
    sizes = _sizes(root, source, found)
    at = spot(root, ("sizes",))
    if not sizes:
        if size:
            found.add(source.problem(0, 0, f"This plan is of one size, and {quoted(size)} is asked for."))
            found.stop()
        return InSize(root)
    which = next((one for one in sizes if one.casefold() == size.casefold()), None)
    if size and which is None:
        mend = f"Sizes of this plan: {', '.join(sizes)}."
        found.add(source.problem(*at.key_place, f"The plan has no size {quoted(size)}.", mend))
        found.stop()
    if which is None:
        what = f"This plan is in {len(sizes)} sizes: {listed(sizes)}. Here it is in the first, {sizes[0]}."
        mend = f"Another one: --size {sizes[1]}"
        found.add(source.problem(*at.key_place, what, mend, is_warning=True))
        which = sizes[0]
    symbols = spot(root, ("symbols",)).node
    has_bracket = isinstance(symbols, Keys) and bool({"(", ")"} & symbols.entries.keys())
    return InSize(_Sizing(sizes, sizes.index(which), source, found, has_bracket).top(root), which, sizes)


def _sizes(root: Node, source: Source, found: Found) -> tuple[str, ...]:
    """The sizes that are named.

    Raises:
        Problems: something is amiss with them.
    """
    if not isinstance(root, Keys) or "sizes" not in root.entries:
        return ()
    at, names = spot(root, ("sizes",)), list[str]()
    if not isinstance(at.node, Items) or not all(isinstance(one, Text) for one in at.node.items):
        what = '"sizes" must be a list of the names of sizes.'
        found.add(source.problem(*at.key_place, what, "Write it like this: sizes: [S, M, L]"))
        found.stop()
        return ()
    if not 2 <= len(at.node.items) <= MOST_SIZES:
        what = f'"sizes" names 2 sizes at least, and {MOST_SIZES} at most.'
        found.add(source.problem(*at.key_place, what, "A plan of one size has no such line."))
        found.stop()
    for one in at.node.items:
        assert isinstance(one, Text)
        try:
            name = amount.name(one.value)
            if len(name) > LONGEST_SIZE:
                raise amount.AmissError(f"must be {LONGEST_SIZE} characters long at most.")
            if name.casefold() in [other.casefold() for other in names]:
                raise amount.AmissError("stands here a second time.")
            names.append(name)
        except amount.AmissError as error:
            found.add(source.problem(one.line, one.column, f"The size {quoted(one.value)} {error.what}", error.mend))
    found.stop()
    return tuple(names)


class _Sizing:
    """Replaces the lists of a plan by the numbers of one size, by its place among all."""

    def __init__(self, sizes: Sequence[str], at: int, source: Source, found: Found, has_bracket: bool) -> None:
        self._sizes = sizes
        self._at = at
        self._source = source
        self._found = found
        self._has_bracket = has_bracket

    def top(self, root: Node) -> Node:
        """The whole plan."""
        assert isinstance(root, Keys)
        return root._replace(entries={
            key: entry if key in _AS_IT_IS else entry._replace(value=self._node(entry.value, key))
            for key, entry in root.entries.items()
        })  # fmt: skip

    def _node(self, node: Node, key: str, *, is_shape: bool = False) -> Node:
        """What stands at a key; not deeper than a tree may be, so recursion is safe. ``is_shape``: in words of
        shaping, in which numbers stand."""
        is_shape = is_shape or key == "shape"
        match node:
            case Keys():
                entries = {
                    name: Entry(entry.key, self._node(entry.value, name, is_shape=is_shape))
                    for name, entry in self._mended(node).items()
                }
                if is_shape:  # a line with ":"
                    heads = (entry._replace(key=self._replaced(entry.key)) for entry in entries.values())
                    entries = {entry.key.value: entry for entry in heads}
                return node._replace(entries=entries)
            case Items() if key in _COUNTED and node.items and all(isinstance(one, Text) for one in node.items):
                return self._unreadable(Text(f"[{', '.join(map(_value, node.items))}]", node.line, node.column))
            case Items():
                return node._replace(items=[self._node(one, key, is_shape=is_shape) for one in node.items])
        if key in _COUNTED and _NUMBERS.fullmatch(node.value):
            return self._unreadable(node)
        return node if key in _NO_NUMBER or "(" not in node.value else self._text(node, key, is_shape=is_shape)

    def _mended(self, node: Keys) -> dict[str, Entry]:
        """The entries of a mapping; a number and those behind it that are the rest of its list are one value."""
        entries, last = dict[str, Entry](), ""
        for name, entry in node.entries.items():
            if last and _REST.fullmatch(name) and isinstance(entry.value, Text) and not entry.value.value:
                value = entries[last].value
                assert isinstance(value, Text)
                entries[last] = entries[last]._replace(value=value._replace(value=f"{value.value}, {name}"))
                continue
            entries[name] = entry
            last = name if name in _COUNTED and isinstance(entry.value, Text) else ""
        for name in _COUNTED & entries.keys():
            if (value := entries[name].value) != node.entries[name].value:
                assert isinstance(value, Text)
                entries[name] = entries[name]._replace(value=self._unreadable(value))
        return entries

    def _unreadable(self, text: Text) -> Text:
        """A list that is amiss, told, as the number that it begins with."""
        what = f"The list of sizes {quoted(text.value)} is not one that can be read."
        self._found.add(self._source.problem(text.line, text.column, what, _LIKE_THIS))
        first = re.search(r"[0-9]+(\.[0-9]+)?( ?(cm|mm|in)\b)?", text.value)
        return text._replace(value=first[0] if first else "1")

    def _text(self, text: Text, key: str, *, is_shape: bool) -> Text:
        if key == "chart":
            return text if self._has_bracket else self._replaced(text, is_padded=True)
        if key == "says":  # in a sentence brackets may stand for something else
            return self._replaced(text, is_told=False)
        if is_shape:
            return self._replaced(text)
        if one := _ONE.fullmatch(text.value):
            number = self._number(text, one)
            return text if number is None else text._replace(value=f"{number}{one[3] or ''}")
        if _BEGUN.match(text.value) and (key in _COUNTED or text.value[0].isdigit()):
            return self._unreadable(text)
        return text

    def _replaced(self, text: Text, *, is_told: bool = True, is_padded: bool = False) -> Text:
        """A text with each list in it replaced. ``is_padded``: by something as long, so that what stands behind it
        keeps its place."""
        def number(one: re.Match[str]) -> str:
            found = self._number(text, one, is_told=is_told)
            if found is None:
                return one[0]
            return found.rjust(len(one[0])) if is_padded else found

        return text._replace(value=_LIST.sub(number, text.value))

    def _number(self, text: Text, one: re.Match[str], *, is_told: bool = True) -> str | None:
        """The number that a list has for the size; None where it has not one for each, which is told."""
        numbers = [one[1], *(part.strip() for part in one[2].split(","))]
        is_whole = all(_NUMBER.fullmatch(number) for number in numbers)
        if is_whole and len(numbers) == len(self._sizes):
            return numbers[self._at]
        if is_told:
            what = f"The list of sizes {quoted(one[0])} is not one that can be read."
            if is_whole:
                what = f"Here are {len(numbers)} numbers, and there are {len(self._sizes)} sizes: "
                what += f"{listed(self._sizes)}."
            self._found.add(self._source.problem(*self._place(text, one), what, _LIKE_THIS))
            return numbers[min(self._at, len(numbers) - 1)] if is_whole else numbers[0]
        return None

    def _place(self, text: Text, one: re.Match[str]) -> tuple[int, int]:
        """Where a list stands that stands in a text: in a block of lines at its own line."""
        line = text.line + (one.string.count("\n", 0, one.start()) + 1 if text.style in ("|", ">") else 0)
        column = self._source.line(line).find(one[0]) + 1
        return (line, column) if column else (text.line, text.column)


def _value(node: Node) -> str:
    return node.value if isinstance(node, Text) else ""
