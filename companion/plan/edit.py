"""A plan file changed in place: one key's values set, comments and layout kept, the file replaced whole or not.

The text is changed where the YAML parser says that values stand, and read again before it is saved: when it does not
then say just what was wanted, nothing is written.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import yaml

from companion.knitting.limits import Carry
from companion.plan.demo import demo_folder
from companion.plan.files import plan_text, replace_text
from companion.plan.read import load, load_text
from companion.problems import Problem, Problems

BY_HAND = "Write it into the plan by hand."


def use_limits(path: Path, limits: Carry) -> None:
    """Write limits into a plan file.

    Raises:
        Problems: it is a demo plan, or has something to mend, or the limits cannot be put into it. Nothing changed.
        OSError: it cannot be written. Nothing changed.
    """
    folder = demo_folder()
    if folder is not None and path.resolve().parent == folder.resolve():
        raise Problems([Problem("A demo plan stays as it is.", str(path), mend="Copy it, and change the copy.")])
    before, text = load(path), plan_text(path)
    wanted = replace(before.piece, carry=limits)
    if wanted == before.piece:
        return
    what = f"The limits cannot be put into this plan: {told(limits)}"
    refused = Problems([Problem(what, str(path), mend=BY_HAND)])
    try:
        changed = with_keys(text, "carry", _values(limits, before.piece.carry))
    except yaml.YAMLError:
        raise refused from None
    try:
        again = load_text(changed, str(path), before.files)
    except Problems:
        raise refused from None
    if again.piece != wanted:
        raise refused
    replace_text(path, changed)


def _values(limits: Carry, old: Carry) -> dict[str, str]:
    """The keys that say these limits; those that say something already, and those that must."""
    told = {"reach": str(limits.reach), "behind": str(limits.behind), "rest": str(limits.rest)}
    if limits.share != old.share:
        told["share"] = "true" if limits.share else "false"
    return told


def told(limits: Carry) -> str:
    """The limits as they stand in a plan."""
    share = ", share: true" if limits.share else ""
    return f"carry: {{reach: {limits.reach}, behind: {limits.behind}, rest: {limits.rest}{share}}}"


def with_keys(text: str, key: str, values: dict[str, str]) -> str:
    """The text with these values in the mapping under a top-level key, which is added at the end where there is none.

    Raises:
        YAMLError: the text is not YAML.
    """
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    at = _value_of(root, key)
    newline = "\r\n" if "\r\n" in text else "\n"
    if at is None:
        flow = ", ".join(f"{name}: {value}" for name, value in values.items())
        end = "" if text.endswith(("\n", "\r")) else newline
        return f"{text}{end}{key}: {{{flow}}}{newline}"
    if not isinstance(at, yaml.MappingNode) or not at.value:
        flow = ", ".join(f"{name}: {value}" for name, value in values.items())
        start, stop = at.start_mark.index, at.end_mark.index
        space = "" if text[start - 1:start].isspace() else " "
        return f"{text[:start]}{space}{{{flow}}}{text[stop:]}"
    changes = []
    found = {name.value: value for name, value in at.value}
    for name, value in values.items():
        if name in found:
            changes.append((found[name].start_mark.index, found[name].end_mark.index, value))
    missing = [f"{name}: {value}" for name, value in values.items() if name not in found]
    if missing:
        last = at.value[-1][1].end_mark.index
        indent = " " * at.value[0][0].start_mark.column
        glue = ", " if at.flow_style else f"{newline}{indent}"
        if not at.flow_style:
            last = _line_end(text, last)
        changes.append((last, last, "".join(f"{glue}{line}" for line in missing)))
    for start, stop, value in sorted(changes, reverse=True):
        text = f"{text[:start]}{value}{text[stop:]}"
    return text


def _value_of(root: yaml.Node | None, key: str) -> yaml.Node | None:
    if not isinstance(root, yaml.MappingNode):
        return None
    return next((value for name, value in root.value if name.value == key), None)


def _line_end(text: str, at: int) -> int:
    """Where the line ends on which this character stands."""
    ends = [end for end in (text.find("\n", at), text.find("\r", at)) if end >= 0]
    return min(ends, default=len(text))
