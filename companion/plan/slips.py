"""Slips of the pen in a plan's lines that its parser notices too late, or in its own terms.

Looked for only when the parser complains, in the lines as far as it came. What is found is told instead of the
complaint, where it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from companion.knitting.value import Record
from companion.plan.source import Source
from companion.problems import Problem

_BLOCK = re.compile(r"^(?P<dash> *(?:- +)*)(?P<key>[^\s#'\"{\[-][^:]*): *[|>][0-9+-]* *(?:#.*)?$")
_NO_SPACE = re.compile(r"^ *(?:- +)?(?P<key>[^\s:'\"{}\[\],#]+):(?P<value>[^\s:/].*)$")
_NO_COLON = re.compile(r"^ *(?:- +)?(?P<key>\w+)(?P<gap>[ =]+)(?P<value>[^\s:=#].*)$")
_NO_BREAK = re.compile("(?: *|[^\"'#]*?:)[\u00a0\u2007\u202f\u3000]")
_KIND = re.compile(r"^(?P<indent> *)(?P<key>plain|chart|field):")
_AFTER_QUOTE = " ,}]:#"


def _known_keys() -> frozenset[str]:
    """The keys that a plan may begin a line with."""
    from companion.plan.schema.plans import PlanShape

    return frozenset(field.alias or name for name, field in PlanShape.model_fields.items())


def slips(source: Source, line: int) -> Iterator[Problem]:
    """What is amiss in the lines down to this one, from 1."""
    lines, number = source.lines[:line], 0
    dashes: set[int] = set()
    while number < len(lines):
        text, number = lines[number], number + 1
        if text.lstrip().startswith("- "):
            dashes.add(len(text) - len(text.lstrip()))
        elif (kind := _KIND.match(text)) and len(kind["indent"]) in dashes:
            what = 'A section begins with "- ", and this line does not.'
            mend = f'Write "- {kind["key"]}:". What belongs to the section above stands two columns further right.'
            yield source.problem(number, len(kind["indent"]) + 1, what, mend)
        if block := _BLOCK.match(text):
            past, shallow = _block(source.lines, number, len(block["dash"]))
            if shallow:
                yield _too_shallow(source, number, block["key"], shallow)
            number = past
            continue
        if slip := _in_line(text):
            yield source.problem(number, slip.column, slip.what, slip.mend)
            if slip.is_open:
                return


class _Slip(Record):
    column: int
    what: str
    mend: str
    is_open: bool = False


def _block(lines: Sequence[str], first: int, key: int) -> tuple[int, list[int]]:
    """Of a text that begins after line ``first`` and whose key has so many columns before it: the line after which
    it ends, and the numbers of the lines below that stand too far left to be part of it."""
    deep, past, shallow = 0, first, list[int]()
    for number, text in enumerate(lines[first:], first + 1):
        indent = len(text) - len(text.lstrip(" "))
        if not text.strip():
            continue
        deep = deep or (indent if indent > key else 0)
        if shallow or not deep or indent < deep:
            if ":" in text or text.lstrip().startswith("-") or text.lstrip().startswith("#"):
                break
            shallow.append(number)
        past = number
    return past, shallow


def _too_shallow(source: Source, first: int, key: str, lines: Sequence[int]) -> Problem:
    which = "This line stands" if len(lines) == 1 else f"Lines {lines[0]} to {lines[-1]} stand"
    text = source.line(lines[0])
    what = f'{which} too far left to be part of "{key}" in line {first}.'
    which = "it" if len(lines) == 1 else "these lines"
    mend = f"Move {which} right: all lines of a chart start in one column, deeper than its key."
    return source.problem(lines[0], len(text) - len(text.lstrip()) + 1, what, mend)


def _in_line(text: str) -> _Slip | None:
    """The first slip in a line that is no part of a chart."""
    if found := _NO_BREAK.match(text):
        at = found.end() - 1
        what = f"A no-break space (U+{ord(text[at]):04X}) stands here, which only looks like a space."
        return _Slip(at + 1, what, "Type a space in its place.")
    if found := _NO_SPACE.match(text):
        key, value = found["key"], found["value"].strip()
        return _Slip(found.end("key") + 1, 'A space is missing after ":".', f"Write {key}: {value}")
    return _no_colon(text) or _in_values(text)


def _no_colon(text: str) -> _Slip | None:
    """A key without its ":": one that a plan has, or one before keys in braces."""
    found = _NO_COLON.match(text)
    if found is None:
        return None
    key, value = found["key"], found["value"].strip()
    is_key = found.start("key") == 0 and ":" not in text and key in _known_keys()
    if not is_key and not (value.startswith("{") and value.endswith("}")):
        return None
    return _Slip(found.end("key") + 1, f'A ":" is missing after "{key}".', f"Write {key}: {value}")


def _in_values(text: str) -> _Slip | None:
    """Quotes and "#" that end elsewhere than they were meant to."""
    depth, at, may_begin = 0, 0, True
    while at < len(text):
        sign = text[at]
        if sign in "'\"" and may_begin:
            end = _closing(text, at)
            if end is None:
                told = re.split(r"[,}\]]", text[at:])[0] if depth else text[at:]
                told = told.rstrip(" ,}]")
                return _Slip(at + 1, "A quote is opened here and never closed.", f"Close it: {told}{sign}", True)
            if end + 1 < len(text) and text[end + 1] not in _AFTER_QUOTE:
                return _inner(text, at, end)
            at = end
        elif sign == "#" and text[at - 1 : at].isspace():
            if depth and text[:at].rstrip().endswith(":"):
                value = re.split(r"[\s,}\]]", text[at:])[0]
                what = 'A "#" that is not in quotes begins a comment: the rest of this line does not count.'
                return _Slip(at + 1, what, f'Write "{value}", with the quotes.')
            return None
        depth += (sign in "{[") - (sign in "}]")
        may_begin = sign in "{[," or (sign == " " and (may_begin or text[at - 1 : at] in (":", "-")))
        at += 1
    return None


def _closing(text: str, opened: int) -> int | None:
    """Where a quote that opens here is closed in its line."""
    pattern = r'"(?:[^"\\]|\\.)*"' if text[opened] == '"' else r"'(?:[^']|'')*'"
    found = re.compile(pattern).match(text, opened)
    return found.end() - 1 if found else None


def _inner(text: str, opened: int, closed: int) -> _Slip:
    """A quote in the middle of a value, which ends it."""
    last, (name, other) = text.rfind(text[opened]), ("apostrophe", '"') if text[opened] == "'" else ("quote", "'")
    value = text[opened + 1 : last if last > closed else len(text)].strip()
    what = f"This {name} ends the text that was quoted from column {opened + 1} on."
    return _Slip(closed + 1, what, f"Put the whole in the other quotes: {other}{value}{other}")
