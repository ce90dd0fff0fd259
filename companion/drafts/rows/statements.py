"""A text cut into what it states: its heading, a line each, and then rows and what stands between them, each over as
many lines as it takes. What stands further in goes on from the line above, as printed rows do."""

from __future__ import annotations

import re
from itertools import pairwise

from companion.drafts.rows.heading import is_rule
from companion.drafts.rows.labels import INSIDE, STARTS
from companion.knitting.value import Record
from companion.plan.phrases import compiled
from companion.plan.source import Source

_STRICT = re.compile(r"\s*(?:rows?|rounds?|rnds?)\b\.?\s*\d[^:;.]{0,60}:", re.IGNORECASE)
"""A row wherever it stands; others may be words within a row."""

_BETWEEN = compiled(
    r"\s*(?:rep(?:eat)?\b\.? (?:the |last |rows?|rounds?|rnds?|these)|bind off|cast off|bo\b"
    r"|(?:cast on|co) \d|dec(?:rease)?\b|inc(?:rease)?\b|sewn on\b|sew\b|weave\b|darn\b|block\b|wash\b|press\b"
    r"|steam\b|finish|fasten off|making up|to make up|break\b|work \d|cast on \()"
)
"""What stands between rows and after them."""


class Statement(Record):
    """A stretch of the text. ``is_heading``: it stands above the first row; ``is_row``: it begins with a row's
    label."""

    start: int
    end: int
    is_heading: bool
    is_row: bool


def statements(source: Source) -> list[Statement]:
    """All of them, in order."""
    found: list[Statement] = []
    indent, is_heading, was_blank, offset = 0, True, True, 0
    for line in source.text.splitlines(keepends=True):
        start, offset = offset, offset + len(line)
        if not line.strip():
            was_blank = True
            continue
        further_in = bool(found) and not was_blank and len(line) - len(line.lstrip()) > indent
        is_row = STARTS.match(line) is not None and not is_rule(line) and (
            not further_in or _STRICT.match(line) is not None
        )
        is_heading = is_heading and not is_row
        is_between = not further_in and _BETWEEN.match(line) is not None
        begins = is_row or is_between or was_blank or found[-1].is_heading if found else True
        is_new = not further_in if is_heading else begins
        if is_new:
            indent = len(line) - len(line.lstrip())
            found.append(Statement(start, offset, is_heading, is_row))
        else:
            found[-1] = found[-1]._replace(end=offset)
        was_blank = False
    return [part for one in found for part in _parted(source.text, one)]


def _parted(text: str, one: Statement) -> list[Statement]:
    """The rows that stand in one line, each by itself."""
    if not one.is_row:
        return [one]
    cuts = [one.start, *(match.end() for match in INSIDE.finditer(text, one.start, one.end)), one.end]
    return [one._replace(start=start, end=end) for start, end in pairwise(cuts)]
