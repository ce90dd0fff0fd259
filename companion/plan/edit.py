"""A plan file changed in place: values of a key set, items added to a list. Comments and layout are kept, the file is
replaced whole or not.

The text is changed where the YAML parser says that values stand, and read again before it is saved: when it does not
then say just what was wanted, nothing is written."""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import count
from pathlib import Path

import yaml

from companion.knitting.cloth.areas import Area, Cell, in_other_yarns, sewn_on
from companion.knitting.cloth.fabric import Fabric
from companion.knitting.strands.limits import Carry
from companion.plan.demo import demo_folder
from companion.plan.drawing import repainted
from companion.plan.files import plan_text, replace_text
from companion.plan.misfits import KeyPath
from companion.plan.read import Loaded, load, load_text
from companion.plan.sizes import told_together
from companion.problems import Problem, Problems

BY_HAND = "Write it into the plan by hand."


def use(path: Path, limits: Carry | None = None, sewn: Sequence[tuple[Area, str]] = (), size: str = "") -> None:
    """Write limits into a plan file, and areas to be sewn on, each over the yarn named with it, as they are in this
    ``size``.

    Raises:
        Problems: it is a demo plan, or has something to mend, or they cannot be put into it. Nothing changed.
        OSError: it cannot be written. Nothing changed.
    """
    check_own(path)
    before, text = load(path, size), plan_text(path)
    old, limits = before.piece.carry, limits or before.piece.carry
    wanted = replace(before.piece, carry=limits, fabric=sewn_on(before.piece.fabric, sewn))
    if wanted == before.piece:
        return
    items = [item(before.piece.fabric, area, over) for area, over in sewn]
    asked = "; ".join([*([as_written(limits)] if limits != old else []), *items])
    refused = Problems([Problem(f"This cannot be put into the plan: {asked}", str(path), mend=BY_HAND)])
    try:
        changed = with_keys(text, "carry", _values(limits, old)) if limits != old else text
        changed = with_items(changed, "sewn_on", items) if items else changed
        again = read_again(changed, str(path), before)
    except (Problems, yaml.YAMLError):
        raise refused from None
    if again.piece != wanted:
        raise refused
    replace_text(path, changed)


def paint(path: Path, yarns: Mapping[Cell, str], size: str = "") -> str:
    """Draw these stitches of a plan file, as they lie in this ``size``, in the yarns named with them, and give the
    name of the file beside it that keeps it as it was.

    Raises:
        Problems: it is a demo plan, or has something to mend, or its chart cannot draw them. Nothing changed.
        OSError: it cannot be written. The plan is not changed.
    """
    check_own(path)
    before, text = load(path, size), plan_text(path)
    wanted = replace(before.piece, fabric=in_other_yarns(before.piece.fabric, yarns))
    try:
        changed = repainted(replace(before, text=text), wanted.fabric)
        again = read_again(changed, str(path), before)
    except (KeyError, Problems):
        again = None
    if again is None or again.piece != wanted:
        what = "These stitches cannot be drawn alone: one has no symbol, or edges take their yarn from them."
        raise Problems([Problem(what, str(path), mend=BY_HAND)])
    kept = _free_name(path)
    replace_text(kept, text)
    replace_text(path, changed)
    return kept.name


def read_again(text: str, name: str, before: Loaded) -> Loaded:
    """A changed text, read in the size that the plan had ``before``. ``name``: the file's, as problems show it.

    Raises:
        Problems: what is to mend in it, in any of its sizes, without warnings.
    """
    read, amiss = dict[str, Loaded](), dict[str, Sequence[Problem]]()
    for size in before.sizes or ("",):
        amiss[size] = ()
        try:
            read[size] = load_text(text, name, before.files, size=size)
        except Problems as found:
            amiss[size] = [problem for problem in found.problems if not problem.is_warning]
    if problems := told_together(amiss):
        raise Problems(problems)
    return read[before.size]


def _free_name(path: Path) -> Path:
    """A name beside a file under which nothing is kept yet."""
    names = (path.with_name(f"{path.name}.before{'' if number == 1 else f'-{number}'}") for number in count(1))
    return next(name for name in names if not os.path.lexists(name))


def is_demo(path: Path) -> bool:
    """Whether a file is one of the demo plans."""
    folder = demo_folder()
    return folder is not None and path.resolve().parent == folder.resolve()


def check_own(path: Path) -> None:
    """A demo plan stays as it is.

    Raises:
        Problems: it is one.
    """
    if is_demo(path):
        raise Problems([Problem("A demo plan stays as it is.", str(path), mend="Copy it, and change the copy.")])


def item(fabric: Fabric, area: Area, over: str) -> str:
    """An area of a fabric as an item under ``sewn_on``."""
    row, column = area.first
    place = f"row: {fabric.level(row) + 1}, stitch: {column}"
    return f"{{yarn: {name_in_yaml(area.yarn)}, over: {name_in_yaml(over)}, {place}}}"


def name_in_yaml(yarn: str) -> str:
    """A name as YAML, in quotes where it needs them."""
    return yarn if re.fullmatch(r"\w+([ -]\w+)*", yarn, re.ASCII) else json.dumps(yarn, ensure_ascii=False)


def _values(limits: Carry, old: Carry) -> dict[str, str]:
    """The keys that say these limits; those that say something already, and those that must."""
    values = {"reach": str(limits.reach), "behind": str(limits.behind), "rest": str(limits.rest)}
    for name in ("share", "share_runs"):
        if getattr(limits, name) != getattr(old, name):
            values[name] = "true" if getattr(limits, name) else "false"
    return values


def as_written(limits: Carry) -> str:
    """The limits as they stand in a plan."""
    shared = "".join(f", {name}: true" for name in ("share", "share_runs") if getattr(limits, name))
    return f"carry: {{reach: {limits.reach}, behind: {limits.behind}, rest: {limits.rest}{shared}}}"


def with_keys(text: str, key: str, values: dict[str, str]) -> str:
    """The text with these values in the mapping under a top-level key, which is added at the end where there is none.

    Raises:
        YAMLError: the text is not YAML.
    """
    at = _value_of(text, key)
    pairs = at.value if isinstance(at, yaml.MappingNode) else []
    found = {name.value: (value.start_mark.index, _end(value)) for name, value in pairs}
    missing = [f"{name}: {value}" for name, value in values.items() if name not in found]
    if missing:
        text = _with_more(text, key, missing, "{}")
    for (start, stop), value in sorted(((found[name], values[name]) for name in found.keys() & values), reverse=True):
        text = f"{text[:start]}{value}{text[stop:]}"
    return text


def with_value(text: str, key: str, value: str) -> str:
    """The text with this value under a top-level key that is there.

    Raises:
        YAMLError: the text is not YAML.
    """
    at = _value_of(text, key)
    assert at is not None, f"there is no {key}"
    return f"{text[:at.start_mark.index]}{value}{text[at.end_mark.index:]}"


def with_names(text: str, names: Mapping[str, str]) -> str:
    """The text with yarns called otherwise wherever a plan names one; ``names``: the new ones by the old.

    Raises:
        YAMLError: the text is not YAML.
    """
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    found = (node for node in _yarns_named(root, ()) if node.value in names)
    for node in sorted(found, key=lambda node: -node.start_mark.index):
        new = name_in_yaml(names[node.value])
        text = f"{text[:node.start_mark.index]}{new}{text[node.end_mark.index:]}"
    return text


def _yarns_named(node: yaml.Node | None, path: tuple[str, ...]) -> Iterator[yaml.ScalarNode]:
    """The yarns' names under a node, each where it stands; ``path``: the keys that lead to the node."""
    if isinstance(node, yaml.SequenceNode):
        for item in node.value:
            yield from _yarns_named(item, path)
    elif isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            if path == ("yarns",):
                yield key
            yield from _yarns_named(value, (*path, key.value))
    elif isinstance(node, yaml.ScalarNode) and (
        path[-1:] in (("yarn",), ("over",), ("sewn",)) or (len(path) == 2 and path[0] == "symbols")
    ):
        yield node


def with_items(text: str, key: str, items: Sequence[str]) -> str:
    """The text with these items at the end of the list under a top-level key, which is added where there is none.

    Raises:
        YAMLError: the text is not YAML.
    """
    return _with_more(text, key, items, "[]", "- ")


def _with_more(text: str, key: str, lines: Sequence[str], brackets: str, dash: str = "") -> str:
    """The text with this much more in what stands under a top-level key, which is put in its place where that is of
    another kind, or nothing."""
    at, newline = _value_of(text, key), "\r\n" if "\r\n" in text else "\n"
    flow = f"{brackets[0]}{', '.join(lines)}{brackets[1]}"
    if at is None:
        end = "" if text.endswith(("\n", "\r")) else newline
        block = "".join(f"{newline}  {dash}{line}" for line in lines) if dash else f" {flow}"
        return f"{text}{end}{key}:{block}{newline}"
    if not isinstance(at, yaml.SequenceNode if dash else yaml.MappingNode) or not at.value:
        start, stop = at.start_mark.index, at.end_mark.index
        space = "" if text[start - 1:start].isspace() else " "
        return f"{text[:start]}{space}{flow}{text[stop:]}"
    last = at.value[-1] if dash else at.value[-1][1]
    stop = last.end_mark.index if at.flow_style else _line_end(text, last.end_mark.index)
    glue = ", " if at.flow_style else f"{newline}{' ' * at.start_mark.column}{dash}"
    return text[:stop] + "".join(f"{glue}{line}" for line in lines) + text[stop:]


def with_values(text: str, new: Callable[[KeyPath, str], str]) -> str:
    """The text with every value as ``new`` has it, which is given the path of keys to it and what it is.

    Raises:
        YAMLError: the text is not YAML.
    """
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    values = _values_in(root, ()) if root else ()
    changed = [
        (node.start_mark.index, node.end_mark.index, wanted)
        for path, node in values if (wanted := new(path, node.value)) != node.value
    ]
    for start, stop, value in sorted(changed, reverse=True):
        text = f"{text[:start]}{value}{text[stop:]}"
    return text


def _values_in(node: yaml.Node, path: KeyPath) -> Iterator[tuple[KeyPath, yaml.ScalarNode]]:
    """Every value below a node. No deeper than a plan may be, so recursion is safe."""
    match node:
        case yaml.ScalarNode():
            yield path, node
        case yaml.SequenceNode():
            for index, one in enumerate(node.value):
                yield from _values_in(one, (*path, index))
        case yaml.MappingNode():
            for key, value in node.value:
                yield from _values_in(value, (*path, key.value))


def _value_of(text: str, key: str) -> yaml.Node | None:
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    if not isinstance(root, yaml.MappingNode):
        return None
    return next((value for name, value in root.value if name.value == key), None)


def _end(node: yaml.Node) -> int:
    """Where a value ends; one on lines of its own with the last thing that stands in it, not with what follows."""
    if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return _end(last[1] if isinstance(last, tuple) else last)
    return int(node.end_mark.index)


def _line_end(text: str, at: int) -> int:
    """Where the line ends on which this character stands."""
    ends = [end for end in (text.find("\n", at), text.find("\r", at)) if end >= 0]
    return min(ends, default=len(text))
