"""What does not fit the shape of a plan, told at the place where it was typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from companion.knitting.value import Record
from companion.plan.amount import slip_in
from companion.plan.natural import SPELT
from companion.plan.nodes import Items, Keys, Node, Text
from companion.plan.schema.fitting import Misfit
from companion.plan.source import Source
from companion.problems import Problem, nearest, quoted

KeyPath = tuple[str | int, ...]


class Spot(Record):
    """Where a path leads: the node, and the key it hangs on (None in a list and at the top)."""

    node: Node
    key: Text | None

    @property
    def place(self) -> tuple[int, int]:
        """Line and column of a value, or of its key where the value is empty or spreads over lines."""
        if self.key is not None and not (isinstance(self.node, Text) and self.node.value.strip()):
            return self.key.line, self.key.column
        return self.node.line, self.node.column

    @property
    def key_place(self) -> tuple[int, int]:
        """Line and column of the key, or of the node where there is none."""
        return (self.key.line, self.key.column) if self.key else (self.node.line, self.node.column)


def spot(root: Node, path: KeyPath) -> Spot:
    """The deepest node of the tree on this path."""
    at = Spot(root, None)
    for part in path:
        if isinstance(at.node, Keys) and isinstance(part, str):
            entry = at.node.entries.get(part) or at.node.entries.get(SPELT.get(part, part))
            if entry is None:
                break
            at = Spot(entry.value, entry.key)
        elif isinstance(at.node, Items) and isinstance(part, int):
            at = Spot(at.node.items[part], None)
        else:
            break
    return at


def problems_of(misfits: list[Misfit], root: Node, source: Source, kind: str = "plan") -> Iterator[Problem]:
    """Each misfit as a problem. A missing key that was only misspelt is told once, at the misspelling. ``kind``: what
    the file is, a "plan" or a "class"."""
    unknown = [one for one in misfits[:_MOST] if one.kind == "unknown"]
    meant = {(*one.path[:-1], nearest(_typed_key(one.value), one.known)) for one in unknown}
    sections = {one.path[:2]: spot(root, one.path[:2]) for one in misfits if one.path[:1] == ("rows",)}
    kindless = {path: at for path, at in sections.items() if _has_no_kind(at.node)}
    for path, at in kindless.items():
        yield source.problem(*at.place, *_kindless(at.node, is_first=path[-1] == 0))
    for one in misfits:
        at = spot(root, one.path)
        if one.path[:2] in kindless and (len(one.path) == 2 or one.path[-1] in _OF_PLAIN):
            continue
        if one.kind == "missing":
            if one.path not in meant:
                yield _missing(one.path, root, source, kind)
        elif one.kind == "unknown":
            yield source.problem(*at.key_place, *_unknown(one, spot(root, one.path[:-1]).node))
        elif one.kind == "no keys":
            yield source.problem(*at.place, *_without_keys(one, root, kind))
        elif one.path == ("rows",) and isinstance(at.node, Keys) and not _has_no_kind(at.node):
            from companion.plan.indents import dashless

            first = next(iter(at.node.entries.values())).key
            yield source.problem(first.line, first.column, *dashless(first.value))
        elif two := _two_sections(at.node):
            yield source.problem(two[1].line, two[1].column, *_unparted(*two))
        else:
            mend = one.mend or _did_you_mean(one.value, one.known)
            what = f"{_subject(one, kind)} {one.what}"
            yield source.problem(*(at.key_place if one.is_key else at.place), what, mend)


_MOST = 200


def _typed_key(typed: str) -> str:
    """A key that is not known, without what runs into it where its ":" is missing."""
    return re.split(r"[^\w]*[:=;{\[]", typed)[0]


def _missing(path: KeyPath, root: Node, source: Source, kind: str) -> Problem:
    name = path[-1]
    if len(path) == 1:
        return source.problem(0, 0, f'The {kind} has no "{name}".', (_EXAMPLE | _OF_A_CLASS[kind])[str(name)])
    holder = path[-2]
    where = f'"{holder}"' if isinstance(holder, str) else f"this {_ONE_OF.get(path[-3], 'section')}"
    return source.problem(*spot(root, path[:-1]).key_place, f'"{name}" is missing in {where}.')


_KINDS = ("plain", "chart", "field")
_BESIDE = ("edges", "shape", "repeat", "across", "worked", "mirror", "motifs", "opening", "seam_stitches")
_OF_PLAIN = ("rows", "height", "stitches", "yarn", "stitch")


def _has_no_kind(section: Node) -> bool:
    """Whether it is keys, and none of them says of what kind the section is, or means to."""
    return isinstance(section, Keys) and not any(nearest(key, _KINDS) for key in section.entries)


def _two_sections(section: Node) -> tuple[Text, Text] | None:
    """The keys, each in a line of its own, that say that a section is of one kind and of another."""
    own = section.entries if isinstance(section, Keys) else {}
    kinds = [entry.key for key, entry in own.items() if key in _KINDS]
    return (kinds[0], kinds[1]) if len(kinds) > 1 and kinds[0].line != kinds[1].line else None


def _unparted(one: Text, other: Text) -> tuple[str, str]:
    what = f'Here are two sections, "{one.value}" (line {one.line}) and "{other.value}", and nothing parts them.'
    return what, 'The first line of the second begins with "- ", two columns further left than its others.'


def _kindless(section: Node, *, is_first: bool) -> tuple[str, str]:
    what = 'This section does not say what it is: "plain", "chart" or "field".'
    own = section.entries if isinstance(section, Keys) else {}
    typed = {key: entry.value for key, entry in own.items() if key in _OF_PLAIN}
    plain = ", ".join(f"{key}: {value.value}" for key, value in typed.items() if isinstance(value, Text))
    if not plain and not is_first and own.keys() <= set(_BESIDE):
        return what, 'Leave out its "- " where it belongs to the section above.'
    if not plain:
        return what, 'Each section begins with "- plain:", "- chart:" or "- field:".'
    return what, f"Write it like this: - plain: {{{plain}}}"


def _unknown(one: Misfit, holder: Node) -> tuple[str, str]:
    """What is said of a key that is not known: what was meant by it, where that is to be seen."""
    key, _, value = one.value.partition(":")
    if value := value.strip():
        value = f'"{value}"' if value.startswith("#") else value
        return 'A space is missing after ":".', f"Write {key}: {value}"
    from companion.plan.indents import keys_of_sections

    if len(one.path) == 1 and key in keys_of_sections():
        what = "This line begins too far left to be part of a section."
        return what, 'Sections stand under "rows:", and each begins with "- ".'
    entries = list(holder.entries.items()) if isinstance(holder, Keys) else []
    names = [name for name, _ in entries]
    before = entries[names.index(one.value) - 1][1].value if one.value in names[1:] else None
    if isinstance(before, Text) and before.value.isdecimal() and re.match(r"\d", one.value):
        return "A comma ends the number before it.", f"Write decimals with a point: {before.value}.{one.value}"
    what = f"The key {quoted(one.value)} is not known here."
    if slip := slip_in(one.value):
        return what, slip
    if (turned := re.fullmatch(r"(\d+(?:\.\d+)?) *(\w+)", one.value)) and turned[2] in one.known:
        return what, f"Write {turned[2]}: {turned[1]}"
    near = "" if one.path[-1] in _OF_PLAIN and len(one.path) > 1 else _did_you_mean(one.value, one.known)
    return what, near or f"Keys that can stand here: {', '.join(one.known)}."


def _without_keys(one: Misfit, root: Node, kind: str) -> tuple[str, str]:
    """A value where keys should be, and the line that it may have been meant for."""
    typed = f", and is {quoted(one.value)}" if one.value else ""
    what = f"{_subject(one, kind)} is told key by key{typed}."
    yarns = spot(root, ("yarns",)).node
    yarn = next(iter(yarns.entries), "sand") if isinstance(yarns, Keys) else "sand"
    if one.path[:-1] == ("yarns",) and isinstance(yarns, Keys) and one.value in yarns.entries:
        return 'A symbol stands among the yarns.', 'Write "symbols:" above the first of them.'
    if one.path[:-1] == ("yarns",):
        colour = f'"{one.value}"' if one.value.startswith("#") else one.value or "tan"
        return what, f"Write it like this: {one.path[-1]}: {{colour: {colour}}}"
    line, *numbers = _WRITTEN.get(str(one.path[-1]) if one.path else "", ("",))
    if not one.path:
        return what, f"A {kind} begins with the line: {kind}: 1"
    if not line:
        return what, f"Keys that can stand here: {', '.join(one.known)}."
    found = re.findall(r"\b\d+(?:\.\d+)?\b(?! *(?:cm|mm|in)\b)", one.value)
    usual, *others = _WORDS.get(str(one.path[-1]), ("",))
    word = one.value if one.value in others else usual
    line = line.format(*found[: len(numbers)], *numbers[len(found) :], yarn=yarn, word=word)
    return what, f"Write it like this: {one.path[-1]}: {{{line}}}"


_WRITTEN: dict[str, tuple[str, ...]] = {
    "gauge": ("stitches: {}, rows: {}, over: 10 cm", "20", "28"),
    "ball": ("metres: {}, grams: {}", "120", "50"),
    "carry": ("reach: {}", "3"),
    "sample": ("stitches: {}, yarn: 38 cm", "20"),
    "winding": ("loose: 1 m, butterfly: 5 m, bobbin: 20 m",),
    "cast_on": ("method: {word}",),
    "bind_off": ("colours: {word}",),
    "seams": ("left: {0}, right: {0}", "1"),
    "shaping": ("at: {}", "2"),
    "edges": ("stitches: {}, yarn: {yarn}", "4"),
    "plain": ("rows: {}, stitches: {}, yarn: {yarn}", "6", "40"),
    "field": ("rows: {}, stitches: {}, yarn: {yarn}", "24", "60"),
    "opening": ("first: {word}",),
}
"""Keys that hold keys, each as it may be written; the numbers that are typed take the place of its own."""

_WORDS = {"cast_on": ("long-tail", "knitted", "cable"), "bind_off": ("each", "one"), "opening": ("left", "right")}
"""Words that may be typed there, the usual one first."""


def _did_you_mean(value: str, known: Iterable[str]) -> str:
    near = nearest(value, known)
    return f'Did you mean "{near}"?' if near else ""


def _subject(one: Misfit, kind: str) -> str:
    match one.path:
        case ():
            return f"The {kind}"
        case (str(items), int()) if items in _ONE_OF:
            return f"This {_ONE_OF[items]}"
        case ("symbols", str(name)) if one.is_key:
            return f"The symbol {quoted(name)}"
        case ("yarns", str(name)) if one.is_key:
            return f"The yarn name {quoted(name)}"
    return quoted(str(next(part for part in reversed(one.path) if isinstance(part, str))))


_ONE_OF: dict[str | int, str] = {"rows": "section", "students": "student"}
"""Lists, and what one of their items is called."""

_EXAMPLE = {
    "plan": "Its first line is: plan: 1",
    "title": "Add a line such as: title: Harbour light cushion",
    "gauge": "Add a line such as: gauge: {stitches: 20, rows: 28, over: 10 cm}",
    "yarns": 'Add "yarns:" and below it a line for each, such as: sand: {colour: "#d9c9a5"}',
    "symbols": 'Add "symbols:" and below it a line for each, such as: s: sand',
    "rows": 'Add "rows:" and below it the sections, each begun with "- plain:" or "- chart:"',
}

_OF_A_CLASS = {"plan": {}, "class": {
    "class": "Its first line is: class: 1",
    "plan": "Add a line with the name of a demo plan or of a file beside this one: plan: swatch",
    "students": 'Add "students:" and below it a line for each, such as: - name: Alma',
}}  # fmt: skip
"""What is another example in a file of this kind."""
