"""Keys that begin too far left to be under the key that holds them, and symbols told behind their yarns: told, and
read as they were meant, so that nothing else is told of what is not amiss.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from companion.plan.indents import keys_of_sections, known_keys, plan_keys
from companion.plan.nodes import Entry, Items, Keys, Node, Text
from companion.plan.source import Found, Source

_IN_SECTIONS: Mapping[str, tuple[str, ...]] = {
    "plain": ("rows", "height", "stitches", "yarn", "stitch"),
    "field": ("rows", "height", "stitches", "yarn", "stitch"),
    "edges": ("left", "right", "stitches", "yarn", "stitch"),
    "opening": ("first", "at"),
}
"""What is told of these key by key."""


def brought_under(root: Node, source: Source, found: Found) -> Node:
    """The plan with its strays under the keys that they belong to; each is told."""
    if not isinstance(root, Keys):
        return root
    entries = _gathered(root, plan_keys(), _of_a_plan, source, found)
    if (yarns := entries.get("yarns")) and isinstance(yarns.value, Keys):
        held = _gathered(yarns.value, frozenset(), _of_a_yarn, source, found)
        entries["yarns"] = yarns._replace(value=yarns.value._replace(entries=held))
    if (symbols := entries.get("symbols")) and yarns:
        entries["symbols"] = symbols._replace(value=_turned(symbols.value, entries["yarns"].value, source, found))
    if (rows := entries.get("rows")) and isinstance(rows.value, Items):
        sections = [_section(section, source, found) for section in rows.value.items]
        entries["rows"] = rows._replace(value=rows.value._replace(items=sections))
    return root._replace(entries=entries)


def _of_a_plan(name: str, entry: Entry, _: Mapping[str, Entry]) -> str:
    if isinstance(entry.value, Keys):
        return "yarns" if {"colour", "color", "ball"} & entry.value.entries.keys() else ""
    return "symbols" if len(name) == 1 and isinstance(entry.value, Text) else ""


def _of_a_yarn(name: str, _: Entry, entries: Mapping[str, Entry]) -> str:
    before = [*entries][[*entries].index(name) - 1]
    return before if name in ("colour", "color", "ball") and _is_empty(entries[before]) else ""


def _of_a_section(name: str, _: Entry, entries: Mapping[str, Entry]) -> str:
    return next((key for key, own in _IN_SECTIONS.items() if name in own and _is_empty(entries.get(key))), "")


def _section(section: Node, source: Source, found: Found) -> Node:
    if not isinstance(section, Keys):
        return section
    return section._replace(entries=_gathered(section, keys_of_sections(), _of_a_section, source, found))


def _gathered(
    keys: Keys, known: frozenset[str], under: Callable[[str, Entry, Mapping[str, Entry]], str], source: Source,
    found: Found,
) -> dict[str, Entry]:  # fmt: skip
    """The entries of ``keys``, those that are not ``known`` brought under the one that they belong to."""
    entries, above = dict(keys.entries), ""
    for name, entry in keys.entries.items():
        if name in known:
            above = name if _is_empty(entry) else ""
            continue
        key = under(name, entry, keys.entries) or (above if name in known_keys() else "")
        held = entries.get(key)
        own = dict(held.value.entries) if held and isinstance(held.value, Keys) else {}
        if held is None or name in own or not (own or _is_empty(held)):
            continue
        deeper = [one.key.column for one in own.values() if one.key.column > entry.key.column]
        spaces = (deeper[0] if deeper else entry.key.column + 2) - 1
        what = f'This line begins too far left to be under "{key}" (line {held.key.line}).'
        found.add(source.problem(entry.key.line, entry.key.column, what, f"Put {spaces} spaces before it."))
        del entries[name]
        entries[key] = Entry(held.key, Keys(held.key.line, held.key.column, {**own, name: entry}))
    return entries


def _is_empty(entry: Entry | None) -> bool:
    return entry is not None and isinstance(entry.value, Text) and not entry.value.value and not entry.value.style


def _turned(symbols: Node, yarns: Node, source: Source, found: Found) -> Node:
    """The symbols, those that are told behind their yarn before it."""
    if not isinstance(symbols, Keys) or not isinstance(yarns, Keys):
        return symbols
    entries: dict[str, Entry] = {}
    for name, (key, value) in symbols.entries.items():
        is_turned = len(name) > 1 and name in yarns.entries and isinstance(value, Text) and len(value.value) == 1
        if is_turned and isinstance(value, Text) and value.value not in symbols.entries:
            what = "The yarn stands before its symbol here."
            found.add(source.problem(key.line, key.column, what, f"Write {value.value}: {name}"))
            key, value = value, key
            name = key.value
        entries[name] = Entry(key, value)
    return symbols._replace(entries=entries)
