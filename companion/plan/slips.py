"""Slips of the pen in a plan's lines that its parser notices too late, or in its own terms.

Looked for only when the parser complains, in the lines as far as it came. What is found is told instead of the
complaint, where it was typed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from companion.knitting.value import Record
from companion.plan.braces import braces, without_comment
from companion.plan.indents import BLOCK, begun_amiss, block_end, column_of, known_keys
from companion.plan.source import Source
from companion.problems import Problem, shorten

_NO_SPACE = re.compile(r"^ *(?:- +)?(?P<key>[^\s:'\"{}\[\],#]+):(?P<value>[^\s:/].*)$")
_NO_BREAK = re.compile("(?: *|[^\"'#]*?:)[\u00a0\u2007\u202f\u3000]")
_TWO_KEYS = re.compile(
    r"""^ *(?:- +)*(?P<key>[^\s:#"'{}\[\],-](?:[^:#"'{}\[\],]*[^\s:#"'{}\[\],])?) *: +(?P<rest>[^\s"'{\[|>#].*)$"""
)
_DRAWN_BESIDE = re.compile(r"^ *(?:- +)*(?P<key>\w+): *[|>][0-9+-]* +[^\s#]")
_LONGEST_MEND = 400
"""A longer line, in terminal cells, nobody copies from a message."""
_OWN_LINE = "Each key has a line of its own, or all stand in braces with commas between them."
_AFTER_QUOTE = " ,}]:#"


def slips(source: Source, line: int) -> Iterator[Problem]:
    """What is amiss in the lines down to this one, from 1: in their values; otherwise in where and how they begin."""
    values, begun = list(_values_amiss(source, line)), list(begun_amiss(source, line))
    for slip in begun if begun and (not values or begun[0].line < values[0].line) else values:
        yield slip._replace(mend=shorten(slip.mend, _LONGEST_MEND))


def _values_amiss(source: Source, last: int) -> Iterator[Problem]:
    number, held, known = 0, 0, known_keys()
    while number < last:
        text, number = source.lines[number], number + 1
        if text.lstrip(" ").startswith("#"):
            continue
        if block := BLOCK.match(text):
            past, shallow = block_end(source.lines, number, len(block["dash"]))
            if shallow:
                yield _too_shallow(source, number, block["key"], shallow)
            number = past
        elif slip := _in_line(text):
            yield source.problem(number, slip.column, slip.what, slip.mend)
            if slip.is_open:
                return
        elif number > held and (value := braces(source, number, column_of(text), known)):
            held = value.last
            if value.slip:
                yield value.slip
        elif number > held and (slip := _second_key(text)):
            yield source.problem(number, slip.column, slip.what, slip.mend)


class _Slip(Record):
    column: int
    what: str
    mend: str
    is_open: bool = False


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
    return _in_values(text)


def _second_key(text: str) -> _Slip | None:
    """Keys behind a key in one line, without braces; or a value with ":" in it, without quotes."""
    if drawn := _DRAWN_BESIDE.match(text):
        what = f'The lines of "{drawn["key"]}" begin below it.'
        return _Slip(drawn.end(), what, f'Write "{drawn["key"]}: |" alone, and a line for each row below it.')
    found = _TWO_KEYS.match(text)
    rest = without_comment(found["rest"]) if found else ""
    inner = re.search(r":(?: |$)", rest)
    if found is None or inner is None:
        return None
    key = found["key"]
    first = rest.lstrip("(")[:inner.start()].strip("( :")
    if first in known_keys():
        what, told = f'Keys in the line of "{key}" stand in braces.', rest.strip("(){} ").rstrip(",")
        return _Slip(found.start("rest") + 1, what, f"Write {key}: {{{told}}}")
    if re.search(r", *\S+: ", rest):
        return _Slip(found.start("rest") + inner.start() + 1, "A second key stands in this line.", _OWN_LINE)
    what, quote = 'A ":" stands where no key can be.', "'" if '"' in rest else '"'
    return _Slip(found.start("rest") + inner.start() + 1, what, f"Write {key}: {quote}{rest}{quote}")


def _in_values(text: str) -> _Slip | None:
    """Quotes and "#" that end elsewhere than they were meant to."""
    depth, at, may_begin = 0, 0, True
    while at < len(text):
        sign = text[at]
        if sign in "'\"" and may_begin:
            end = _closing(text, at)
            if end is None:
                told = re.split(r"[,}\]]", text[at:])[0] if depth else text[at:]
                told = told.rstrip(" ,}]").rstrip("'\"") if told[:-1] else told
                return _Slip(at + 1, "A quote is opened here and never closed.", f"Close it: {told}{sign}", True)
            behind = text[end + 1:]
            if behind and (behind[0] not in _AFTER_QUOTE or (not depth and re.match(r" +[^\s#:,}\]]", behind))):
                return _inner(text, at, end)
            at = end
        elif sign == "#" and text[at - 1 : at].isspace():
            if depth and text[:at].rstrip().endswith(":"):
                value = re.split(r"[\s,}\]\"']", text[at:])[0]
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
    is_part = last == closed and text[closed + 1] == " "
    value = text[opened + (not is_part):last if last > closed else len(text)].strip()
    what = f"This {name} ends the text that was quoted from column {opened + 1} on."
    return _Slip(closed + 1, what, f"Put the whole in the other quotes: {other}{value}{other}")
