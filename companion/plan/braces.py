"""Keys in braces: what is missing in them, or stands there once too often. Looked for only when a plan's parser
complains.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.knitting.value import Record
from companion.plan.source import Source
from companion.problems import Problem, quoted

_SIGN = re.compile(
    r"""(?P<quoted>"(?:[^"\\]|\\.)*"|'(?:[^']|'')*')|(?P<comment>(?:^|(?<=\s))\#.*)|(?P<open>[{\[])|(?P<close>[}\]])
    |(?P<comma>,)|(?P<colon>:(?=[\s,{}\[\]]|$))|(?P<word>(?:[^\s,{}\[\]:]|:(?![\s,{}\[\]]|$))+)""",
    re.VERBOSE,
)
_BEGINS = re.compile(
    r"""\ *(?:-\ +)*
    (?:(?:"[^"]*"|'[^']*'|[^\s\#"'{}\[\],:&*!|>%@`-](?:[^\#:{\[]*[^\s\#:{\[=;])?)
    (?:\ *:\ +|[ =;]+(?=[{\[]\ *\w+\ *:)))?
    (?=[{\[])""",
    re.VERBOSE,
)
_PAIR = {"{": "}", "[": "]"}
_DEEPEST = 20
_HOLD_KEYS = ("ball", "edges", "field", "left", "opening", "plain", "right", "stitch")


class _Sign(Record):
    """A piece of text in braces; line from 1, ``start`` from 0."""

    kind: str
    text: str
    line: int
    start: int

    @property
    def end(self) -> int:
        return self.start + len(self.text)


class _Group:
    """What was opened and is not closed yet: the signs of its entry so far, and where in them its ":" stands."""

    def __init__(self, opening: _Sign) -> None:
        self.opening = opening
        self.begin()

    def begin(self) -> None:
        """The next entry."""
        self.signs: list[_Sign] = []
        self.colon = 0

    @property
    def is_keyed(self) -> bool:
        return self.opening.text == "{"

    @property
    def is_whole(self) -> bool:
        """Whether a value has come to its end, as one in quotes or in braces has."""
        is_ended = len(self.signs) > self.colon and self.signs[-1].kind in ("quoted", "close")
        return is_ended and (self.colon > 0 or not self.is_keyed)


class Braces(Record):
    """The lines that a value in braces takes up, as far as the second number, and what is amiss in it."""

    last: int
    slip: Problem | None


def braces(source: Source, first: int, column: int, words: frozenset[str]) -> Braces | None:
    """The value in braces that begins in line ``first``, from 1, whose key stands so many columns in; None where none
    does. ``words``: keys that a plan may have."""
    begin = _BEGINS.match(source.line(first))
    if begin is None:
        return None
    groups: list[_Group] = []
    last, at = first, begin.end()
    for number, text in enumerate(source.lines[first - 1:], first):
        bare = text.lstrip()
        goes_on = number == first or bare[:1] in "{}[]#" or source.line(last).endswith(",")
        if not goes_on and len(text) - len(bare) <= column:
            break
        for found in _SIGN.finditer(text, at):
            sign = _Sign(found.lastgroup or "", found.group(), number, found.start())
            if sign.kind == "comment":
                break
            if len(groups) > _DEEPEST:
                return Braces(number, None)
            if (number, sign.start) == (first, begin.end()):
                groups = [_Group(sign)]
            elif slip := _taken(source, groups, sign, words) if groups else _after(source, sign):
                return Braces(number, slip)
        last, at = number if bare and bare[0] != "#" else last, 0
        if not groups:
            return Braces(number, None)
    return Braces(last, _unclosed(source, groups, last))


def _taken(source: Source, groups: list[_Group], sign: _Sign, words: frozenset[str]) -> Problem | None:
    """Take a sign into the group that is open; what is amiss with it."""
    group = groups[-1]
    match sign.kind:
        case "comma" | "close":
            if slip := _colonless(source, group, words):
                return slip
            if sign.kind == "comma":
                group.begin()
                return None
            if sign.text != _PAIR[group.opening.text]:
                return _crossed(source, group, sign, is_last=len(groups) == 1)
            groups.pop()
            if groups:
                groups[-1].signs.append(sign)
        case "colon":
            if group.colon and len(group.signs) - group.colon > 1:
                return _commaless(source, group, group.signs[-2], group.signs[-1])
            if group.colon and len(group.signs) > group.colon and group.signs[group.colon - 1].text in _HOLD_KEYS:
                return _nested(source, group.signs[group.colon - 1], group.signs[-1])
            group.colon = group.colon or len(group.signs)
        case "open" if group.is_keyed and group.signs and not group.colon:
            return _missing_colon(source, group.signs, sign)
        case _:
            if group.is_whole:
                return _commaless(source, group, group.signs[-1], sign)
            if sign.kind == "open":
                groups.append(_Group(sign))
            else:
                group.signs.append(sign)
    return None


def _colonless(source: Source, group: _Group, words: frozenset[str]) -> Problem | None:
    """An entry at its end that has a key and a value, and nothing between them."""
    signs = group.signs
    if not group.is_keyed or group.colon or len(signs) < 2 or not (signs[0].text in words or len(signs[0].text) == 1):
        return None
    return _missing_colon(source, signs[:1], signs[1])


def _missing_colon(source: Source, key: Sequence[_Sign], value: _Sign) -> Problem:
    name = " ".join(sign.text for sign in key).rstrip("=; ")
    line = source.line(value.line)
    told = f"{name}: {_value(line, value.start)}"
    return source.problem(key[-1].line, key[-1].end + 1, f'A ":" is missing after {quoted(name)}.', f"Write {told}")


def _commaless(source: Source, group: _Group, before: _Sign, after: _Sign) -> Problem:
    before = before._replace(text=before.text.rstrip(";.") or before.text)
    what = f'A "," is missing between {_named(before)} and {_named(after)}.'
    line = source.line(before.line)
    if before.line != after.line:
        return source.problem(before.line, before.end + 1, what, f"Write {without_comment(line).strip()},")
    start = group.signs[0].start if group.signs[0].line == before.line else before.start
    mend = f"Write {line[start:before.end]}, {_value(line, after.start)}"
    return source.problem(before.line, before.end + 1, what, mend)


def _nested(source: Source, key: _Sign, inner: _Sign) -> Problem:
    what = f'"{inner.text}" is a key within "{key.text}", and needs braces of its own.'
    mend = f"Write {key.text}: {{{_value(source.line(inner.line), inner.start)}}}"
    return source.problem(inner.line, inner.start + 1, what, mend)


def _named(sign: _Sign) -> str:
    return f"'{sign.text}'" if '"' in sign.text else f'"{sign.text}"'


def _value(line: str, start: int) -> str:
    """The text from here to where its entry ends."""
    depth, end = 0, len(line)
    for found in _SIGN.finditer(line, start):
        kind = found.lastgroup
        if kind == "comment" or (not depth and kind in ("comma", "close")):
            end = found.start()
            break
        depth += (kind == "open") - (kind == "close")
    return line[start:end].rstrip()


def _crossed(source: Source, group: _Group, sign: _Sign, *, is_last: bool) -> Problem:
    opening = group.opening
    right = _PAIR[opening.text]
    where = "" if opening.line == sign.line else f" in line {opening.line}"
    what = f'This "{sign.text}" stands where the "{opening.text}"{where} is to be closed.'
    line = source.line(sign.line)
    begun = line[opening.start:sign.start].rstrip() if opening.line == sign.line else line[:sign.start].strip()
    told = f'in its place: {begun}{right}' if is_last else f'before it: {begun}{right}{sign.text}'
    return source.problem(sign.line, sign.start + 1, what, f'Write "{right}" {told}')


def _after(source: Source, sign: _Sign) -> Problem | None:
    """What stands behind a value in braces that was closed."""
    if sign.kind not in ("close", "comma"):
        return None
    line = without_comment(source.line(sign.line))
    if sign.kind == "comma" and (more := line[sign.end:].strip()):
        closed = line.rindex("}", 0, sign.start) if "}" in line[:sign.start] else sign.start
        what = "Further keys stand behind the end of their braces."
        mend = f"Write {line[:closed].strip()}, {more.rstrip()}}}"
        return source.problem(sign.line, closed + 1, what, mend)
    what = f'This "{sign.text}" {"closes nothing" if sign.kind == "close" else "separates nothing"}.'
    return source.problem(sign.line, sign.start + 1, what, "Delete it.")


def _unclosed(source: Source, groups: Sequence[_Group], last: int) -> Problem:
    opening = groups[-1].opening
    ends = "".join(_PAIR[group.opening.text] for group in reversed(groups))
    what = f'A "{opening.text}" is opened here and never closed.'
    if last != opening.line:
        return source.problem(opening.line, opening.start + 1, what, f'Write "{ends}" at the end of line {last}.')
    begun = without_comment(source.line(opening.line)).strip()
    return source.problem(opening.line, opening.start + 1, what, f"Close it: {begun}{ends}")


def without_comment(text: str) -> str:
    """A line, or the end of one, without its comment and the spaces before it."""
    comment = next((found.start() for found in _SIGN.finditer(text) if found.lastgroup == "comment"), len(text))
    return text[:comment].rstrip()
