"""The yarns at hand: a file that says of each its name, its colour and, where it is known, how much there is."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

from companion.knitting.value import Record
from companion.plan import amount
from companion.plan.amount import AmissError
from companion.plan.files import plan_text
from companion.plan.nodes import Keys, Node, Text, sound_tree
from companion.plan.source import Found, Source
from companion.problems import quoted

MOST_YARNS = 200

_KEYS = ("colour", "color", "metres", "ball")
_SUCH_AS = 'Write a line for each, such as   tide: "#2c6a7b"   or   tide: {colour: "#2c6a7b", metres: 120}'


class AtHand(Record):
    """One yarn there is; ``metres`` None where nobody says how much."""

    name: str
    colour: str
    metres: Fraction | None = None


def at_hand(path: Path) -> tuple[AtHand, ...]:
    """The yarns in a file: under ``yarns`` as in a plan, or each at the top.

    Raises:
        Problems: everything that is wrong with it, by line.
    """
    source, found = Source(str(path), plan_text(path).removeprefix("\ufeff")), Found()
    root = sound_tree(source)
    if isinstance(root, Keys) and "yarns" in root.entries:
        root = root.entries["yarns"].value
    if not isinstance(root, Keys) or not root.entries:
        found.add(source.problem(root.line, root.column, "No yarns stand here.", _SUCH_AS))
        found.stop()
    assert isinstance(root, Keys)
    if len(root.entries) > MOST_YARNS:
        what = f"There are {len(root.entries):,} yarns; up to {MOST_YARNS} are weighed."
        found.add(source.problem(root.line, root.column, what))
        found.stop()
    yarns = [_yarn(entry.key, entry.value, source, found) for entry in root.entries.values()]
    found.stop()
    return tuple(yarns)


def _yarn(key: Text, value: Node, source: Source, found: Found) -> AtHand:
    """One yarn; what is amiss in it is told."""
    parts: dict[str, Fraction | str] = {}
    for name, node in _said(value):
        try:
            if name == "name":
                parts[name] = amount.name(key.value)
            elif not isinstance(node, Text):
                raise AmissError("must be one word or number.")
            elif name in ("colour", "color"):
                parts["colour"] = amount.colour(node.value)
            elif name == "metres":
                parts[name] = amount.amount(node.value)
            else:
                raise AmissError("is not known of a yarn at hand.", "Known are colour and metres.")
        except AmissError as amiss:
            at = key if name == "name" else node
            found.add(source.problem(at.line, at.column, f"{quoted(name)} {amiss.what}", amiss.mend))
    if "colour" not in parts and isinstance(value, Keys) and not {"colour", "color"} & value.entries.keys():
        found.add(source.problem(key.line, key.column, f"The yarn {quoted(key.value)} has no colour.", _SUCH_AS))
    metres = parts.get("metres")
    there = metres if isinstance(metres, Fraction) else None
    return AtHand(str(parts.get("name", "")), str(parts.get("colour", "")), there)


def _said(value: Node) -> Iterator[tuple[str, Node]]:
    """What is said of a yarn, its name first; what a plan says of its balls is left alone."""
    yield "name", value
    if isinstance(value, Keys):
        yield from ((name, entry.value) for name, entry in value.entries.items() if name != "ball")
    else:
        yield "colour", value
