"""What does not fit the shape of a plan, told at the place where it was typed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from companion.plan.nodes import Items, Keys, Node, Text
from companion.plan.schema.fitting import Misfit
from companion.plan.source import Source
from companion.problems import Problem, nearest, quoted

KeyPath = tuple[str | int, ...]


class Spot(NamedTuple):
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
        if isinstance(at.node, Keys) and isinstance(part, str) and part in at.node.entries:
            entry = at.node.entries[part]
            at = Spot(entry.value, entry.key)
        elif isinstance(at.node, Items) and isinstance(part, int):
            at = Spot(at.node.items[part], None)
        else:
            break
    return at


def problems_of(misfits: list[Misfit], root: Node, source: Source) -> Iterator[Problem]:
    """Each misfit as a problem. A missing key that was only misspelt is told once, at the misspelling."""
    meant = {(*one.path[:-1], nearest(one.value, one.known)) for one in misfits[:_MOST] if one.kind == "unknown"}
    for one in misfits:
        if one.kind == "missing":
            if one.path not in meant:
                yield _missing(one.path, root, source)
        elif one.kind == "unknown":
            what = f"The key {quoted(one.value)} is not known here."
            mend = _did_you_mean(one.value, one.known) or f"Keys that can stand here: {', '.join(one.known)}."
            yield source.problem(*spot(root, one.path).key_place, what, mend)
        else:
            at = spot(root, one.path)
            mend = one.mend or _did_you_mean(one.value, one.known)
            what = f"{_subject(one)} {one.what}"
            yield source.problem(*(at.key_place if one.is_key else at.place), what, mend)


_MOST = 200


def _missing(path: KeyPath, root: Node, source: Source) -> Problem:
    name = path[-1]
    if len(path) == 1:
        return source.problem(0, 0, f'The plan has no "{name}".', _EXAMPLE[str(name)])
    holder = path[-2]
    where = f'"{holder}"' if isinstance(holder, str) else "this section"
    return source.problem(*spot(root, path[:-1]).key_place, f'"{name}" is missing in {where}.')


def _did_you_mean(value: str, known: Iterable[str]) -> str:
    near = nearest(value, known)
    return f'Did you mean "{near}"?' if near else ""


def _subject(one: Misfit) -> str:
    match one.path:
        case ():
            return "The plan"
        case ("rows", int()):
            return "This section"
        case ("symbols", str(name)) if one.is_key:
            return f"The symbol {quoted(name)}"
        case ("yarns", str(name)) if one.is_key:
            return f"The yarn name {quoted(name)}"
    return quoted(str(next(part for part in reversed(one.path) if isinstance(part, str))))


_EXAMPLE = {
    "plan": "Its first line is: plan: 1",
    "title": "Add a line such as: title: Harbour light cushion",
    "gauge": "Add a line such as: gauge: {stitches: 20, rows: 28, over: 10 cm}",
    "yarns": 'Add "yarns:" and below it a line for each, such as: sand: {colour: "#d9c9a5"}',
    "symbols": 'Add "symbols:" and below it a line for each, such as: s: sand',
    "rows": 'Add "rows:" and below it the sections, each begun with "- plain:" or "- chart:"',
}
