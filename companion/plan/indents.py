"""Where a plan's lines begin: which key or list each belongs to, and those that begin in no column that there is, or
without the sign that makes them a key or a section. Looked for only when the parser complains.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from companion.knitting.value import Record
from companion.plan.braces import braces, without_comment
from companion.plan.source import Source
from companion.problems import Problem, quoted

BLOCK = re.compile(
    r"^(?P<dash> *(?:- +)*)(?P<key>[^\s#'\"{\[-](?:[^:]*[^\s:])?)(?: *:)? +[|>][0-9+-]* *(?:#.*)?$"
)
"""A key whose text is drawn in the lines below it, its ":" forgotten or not."""

_BEFORE = re.compile(r" *(?:- +|-$)*")
_KEY = re.compile(
    r"""(?P<key>"[^"]*"|'[^']*'|[^\s#"'{}\[\],&*!|>%@`](?:[^:#{\[]*[^\s:#{\[])?) *:(?= |$)(?P<value>.*)"""
)
_SIGNS_BEFORE = re.compile(r"^[^\w\s\"']+ *(?=\w\w)")
_NO_KEY = r"""\s:\#"'{}\[\],|>="""
_COLONLESS = re.compile(
    rf"""(?P<key>[^{_NO_KEY}-](?:[^:\#"'{{}}\[\],|>=;]*[^{_NO_KEY};])?)[ =;]*"""
    r"""(?P<value>$|(?![{\[][^{}\[\]]*[}\]]\ *:)[{\["'\#|>].*)"""
)
WORD = re.compile(r"(?P<key>\w+|\S)[ =;]+(?P<value>[^\s:=;#].*)")
"""A key without its ":", and a value."""

_KINDS = ("plain", "chart", "field")
_NO_LISTS = ("yarns", "symbols", "gauge", "carry")


class _Level(Record):
    """Keys or list items that begin in one column, from 0; the key that holds them, and the first line of them."""

    column: int
    is_list: bool
    holder: str
    line: int
    name: str


class _Line(Record):
    """A line that is no part of a chart; ``column``, from 0, of the first sign behind its dashes."""

    number: int
    indent: int
    column: int
    text: str

    @property
    def is_item(self) -> bool:
        return self.column > self.indent


def known_keys() -> frozenset[str]:
    """Every key that the format has, in whichever spelling."""
    from companion.plan.natural import SPELT
    from companion.plan.schema import plans, sections  # noqa: F401  # whose shapes are looked at
    from companion.plan.schema.shapes import Shape

    fields = (field for shape in Shape.__subclasses__() for field in shape.model_fields.items())
    return frozenset(field.alias or name for name, field in fields) | frozenset(SPELT.values())


def plan_keys() -> frozenset[str]:
    """The keys of a plan itself, in whichever spelling."""
    from companion.plan.natural import SPELT
    from companion.plan.schema.plans import PlanShape

    keys = {field.alias or name for name, field in PlanShape.model_fields.items()}
    return frozenset(keys | {SPELT[key] for key in keys & SPELT.keys()})


def may_be_key(word: str) -> bool:
    """Whether a word is a key of the format, or as short as a symbol."""
    return len(word) == 1 or word in known_keys()


def begun_amiss(source: Source, last: int) -> Iterator[Problem]:
    """What is amiss in how the lines down to this one, from 1, begin: every ":" that is missing, and the first line
    that is out of its column or without its dash."""
    known = known_keys()
    lines = list(_lines(source, known))
    levels: list[_Level] = []
    waiting = ""  # the key that has no value yet
    goes_on = False  # whether a deeper line may be more of the text above
    for at, line in enumerate(lines):
        if line.number > last:
            return
        slip = _placed(source, lines, at, levels, waiting, goes_on=goes_on)
        if slip:
            yield slip
            return
        key = _KEY.match(line.text)
        if key is None and line.text and not (goes_on and line.indent > levels[-1].column):
            below = lines[at + 1] if at + 1 < len(lines) else None
            if told := _without_colon(line, levels[-1], known, below):
                name, value = told
                yield source.problem(
                    line.number, line.column + len(name) + 1, f'A ":" is missing after {quoted(name)}.',
                    f"Write {name}: {value}".rstrip(),
                )
                waiting, goes_on = ("" if value else name), False
                continue
        value = without_comment(key["value"]).strip() if key else line.text
        waiting = key["key"].strip("\"'") if key and not value else ""
        goes_on = not value or value[0] not in "{[\"'|>"


def _lines(source: Source, known: frozenset[str]) -> Iterator[_Line]:
    """The lines that are no blanks, comments, charts, or further lines of a value in braces."""
    number = 0
    while number < len(source.lines):
        text, number = source.lines[number], number + 1
        bare = text.lstrip(" ")
        if not bare.strip() or bare.startswith("#"):
            continue
        column = column_of(text)
        yield _Line(number, len(text) - len(bare), column, text[column:].rstrip())
        if block := BLOCK.match(text):
            number = block_end(source.lines, number, len(block["dash"]))[0]
        elif held := braces(source, number, column, known):
            number = held.last


def keys_of_sections() -> frozenset[str]:
    """The keys that a section may have."""
    from companion.plan.schema.sections import SectionShape

    return frozenset(SectionShape.model_fields)


def _only_in_sections() -> frozenset[str]:
    return keys_of_sections() - plan_keys()


def column_of(line: str) -> int:
    """How many columns stand before a line's first sign that is no dash of a list."""
    found = _BEFORE.match(line)
    return found.end() if found else 0


def block_end(lines: Sequence[str], first: int, key: int) -> tuple[int, list[int]]:
    """Of a text that begins after line ``first`` and whose key has so many columns before it: the line after which
    it ends, and the numbers of the lines below that stand too far left to be part of it, the
    first of them without a break."""
    deep, past, shallow = 0, first, list[int]()
    for number, text in enumerate(lines[first:], first + 1):
        indent = len(text) - len(text.lstrip(" "))
        if not text.strip():
            continue
        deep = deep or (indent if indent > key else 0)
        if not deep or indent < deep:
            word = re.match(r" *(\w{2,})(?: |$)", text)
            if ":" in text or text.lstrip()[0] in "-#" or (word and word[1] in keys_of_sections()):
                break
            if not shallow or shallow[-1] == number - 1:
                shallow.append(number)
        past = number
    return past, shallow


def _placed(
    source: Source, lines: Sequence[_Line], at: int, levels: list[_Level], waiting: str, *, goes_on: bool
) -> Problem | None:
    """Bring ``levels`` to this line: those that end before it go, one that it begins comes. What is amiss with its
    place."""
    line = lines[at]
    before = tuple(levels)
    while levels and levels[-1].column > line.indent:
        levels.pop()
    top = levels[-1] if levels else None
    if before and (top is None or (top.column < line.indent and not waiting)):
        is_text = goes_on and len(levels) == len(before) and not line.is_item and not _KEY.match(line.text)
        return None if is_text else _out_of_column(source, lines, at, before, too_deep=len(levels) == len(before))
    if len(levels) == 1 and "-" in {level.holder for level in before} and _name(line) in _only_in_sections():
        return _out_of_column(source, lines, at, before)
    is_new = top is None or top.column < line.indent
    if top and not is_new and top.is_list != line.is_item:
        if line.is_item and waiting and levels == list(before):
            is_new = True  # a list may begin in the column of its key
        elif len(levels) > 1 and levels[-2].column == line.indent and not levels[-2].is_list:
            levels.pop()
        elif line.is_item:
            return _parted(source, line, before)
        elif _begins_section(lines, at):
            is_alone = not line.text[:1].isalpha()  # another sign stands in the place of its dash
            told = dashless(_name(line), top.holder, is_first=is_alone)
            return source.problem(line.number, line.indent + 1, *told)
        else:
            return _out_of_column(source, lines, at, before)
    if is_new:
        if waiting in _NO_LISTS and line.is_item:
            return _no_list(source, line)
        if waiting == "rows" and len(levels) == 1 and not line.is_item:
            return source.problem(line.number, line.indent + 1, *dashless(_name(line)))
        levels.append(_Level(line.indent, line.is_item, waiting, line.number, _dash(line) + _name(line)))
    if line.is_item:
        levels.append(_Level(line.column, False, "-", line.number, _name(line)))
    return None


def _parted(source: Source, line: _Line, levels: Sequence[_Level]) -> Problem:
    """A line with a dash among the keys of a section, or of what else has keys."""
    lists = [level for level in levels if level.is_list]
    if not lists:
        return _no_list(source, line)
    what = 'A "- " begins a section, and this line begins where the keys of one do.'
    above = lists[-1]
    mend = f'Write "{_name(line)}:" without it; or, as a section, below {quoted(above.name)} (line {above.line}).'
    return source.problem(line.number, line.indent + 1, what, mend)


def _begins_section(lines: Sequence[_Line], at: int) -> bool:
    """Whether this line, and those below it down to the next dash, say of what kind a section is."""
    for line in lines[at:]:
        if line.is_item or line.indent < lines[at].indent:
            return False
        if not _KEY.match(line.text) or _name(line) in _KINDS:
            return True
    return False


def _no_list(source: Source, line: _Line) -> Problem:
    if _name(line) in keys_of_sections():
        what = 'A "- " begins a section, and sections stand under "rows:".'
        return source.problem(line.number, line.indent + 1, what, 'Write "rows:" above it, in the first column.')
    what = 'A "- " begins a section of "rows", and here keys stand.'
    return source.problem(line.number, line.indent + 1, what, f"Write {line.text}")


def _name(line: _Line) -> str:
    text = _SIGNS_BEFORE.sub("", line.text)
    found = _KEY.match(text) or WORD.match(text)
    return found["key"].strip("\"'") if found else text


def _dash(line: _Line) -> str:
    return "- " if line.is_item else ""


def _without_colon(line: _Line, level: _Level, known: frozenset[str], below: _Line | None) -> tuple[str, str] | None:
    """The key that a line was meant to begin with, and its value; None where it may be no key."""
    if level.holder == "title":
        return None
    if found := _COLONLESS.fullmatch(line.text):
        value = without_comment(found["value"])
        if value or found["key"] in known or (below is not None and below.indent > line.indent):
            return found["key"], value
    word = WORD.fullmatch(line.text)
    if word and (word["key"] in known or level.holder == "symbols"):
        return word["key"], without_comment(word["value"])
    return None


def dashless(typed: str, holder: str = "rows", *, is_first: bool = True) -> tuple[str, str]:
    """What is said of what is listed and typed without its dash, a section as a rule; and how to mend it."""
    whose = "A section begins" if holder == "rows" else f"What is listed under {quoted(holder)} begins"
    key = re.sub(r"\W.*", "", _SIGNS_BEFORE.sub("", typed)) or "plain"
    mend = f'Write "- {key}:".'
    if not is_first:
        mend += " What belongs to the section above stands two columns further right."
    return f'{whose} with "- ", and this line does not.', mend


def _out_of_column(
    source: Source, lines: Sequence[_Line], at: int, levels: Sequence[_Level], *, too_deep: bool = False
) -> Problem:
    """A line that begins where nothing does; or the one above it, where more lines begin as this one does, or as many
    and in an even column.
    ``too_deep``: nothing but the line above could hold it, and has a value already."""
    line, name = lines[at], _name(lines[at])
    alike = [level for level in levels if level.is_list == line.is_item]
    if too_deep and len(levels) == 1 and (key := _missing_above(line, name)):
        what = "This line belongs under a key, and the one above it holds nothing."
        return source.problem(line.number, line.indent + 1, what, f'Write "{key}:" above it, in the first column.')
    if not alike:
        return _no_list(source, line)
    again = any(other.indent == 0 and other is not line and _name(other) == name for other in lines)
    alike = [level for level in alike if level.holder or not again or len(alike) == 1]
    if too_deep and not line.is_item:
        alike = alike[-1:]
    meant = min(reversed(alike), key=lambda level: (not _may_hold(level, name), abs(level.column - line.indent)))
    here, there = _many(lines, meant, line, line.indent), _many(lines, meant, line, meant.column)
    if meant.holder != "-" and (here, -(line.indent % 2)) > (there, -(meant.column % 2)):
        return _move(source, meant.line, meant.column, line.indent, _dash(line) + name, line.number)
    if meant.holder == "-" and (line.indent % 2) < (meant.column % 2):
        dash = next(level.column for level in reversed(levels) if level.is_list)
        to = dash + line.indent - meant.column
        return _move(source, meant.line, dash, to, name, line.number, begins=quoted(meant.name))
    return _move(source, line.number, line.indent, meant.column, meant.name, meant.line)


def _missing_above(line: _Line, name: str) -> str:
    """The key of the plan without which a line stands, so far as it can be seen."""
    if line.is_item:
        return "rows"
    if re.search(r"\b(?:colou?r|ball)\b", line.text):
        return "yarns"
    return "symbols" if len(name) == 1 else ""


def _may_hold(level: _Level, key: str) -> bool:
    """Whether a plan has this key there."""
    if level.holder == "":
        return key in plan_keys()
    return level.is_list or (level.holder == "-" and key in keys_of_sections())


def _many(lines: Sequence[_Line], level: _Level, like: _Line, column: int) -> int:
    """How many lines beside those of the level begin in this column."""
    many = 0
    for line in lines:
        if line.number < level.line:
            continue
        if line.indent < min(level.column, like.indent) and line.number > like.number:
            break
        is_alike = level.holder or _may_hold(level, _name(line))
        many += bool(is_alike) and line.is_item == like.is_item and line.indent == column
    return many


def _move(
    source: Source, number: int, column: int, to: int, beside: str, other: int, *, begins: str = "it"
) -> Problem:
    by = abs(column - to)
    columns = "one column" if by == 1 else f"{by} columns"
    what = f"This line begins {columns} too far {'left' if column < to else 'right'}."
    spaces = "no space" if not to else "one space" if to == 1 else f"{to} spaces"
    mend = f"Put {spaces} before it, so that {begins} begins in the column of {quoted(beside)} in line {other}."
    return source.problem(number, column + 1, what, mend)
