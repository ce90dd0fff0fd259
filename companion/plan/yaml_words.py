"""What YAML's parser complains of, in plain words. Both its C and its Python form are known here."""

from __future__ import annotations

import re

import yaml

from companion.plan.source import Source
from companion.problems import Problem

_QUOTE = "Write the text in quotes: a value or key that begins with * & ! % @ ` | > { [ or # needs them."
_ALIGN = "Keys of one level start in the same column, the lines of a chart likewise, deeper than their key."

_WORDS: list[tuple[str, str, str]] = [
    ("did not find expected key|expected <block end>", "This line stands in no order with the lines above.",
     _ALIGN),
    ("mapping values are not allowed", 'A ":" stands where no key can be.',
     "Quote text that holds a colon and a space. " + _ALIGN),
    ("could not find expected ':'", 'This line has no ":" after its key.', ""),
    ("unexpected end of stream", "A quote is opened here and never closed.", ""),
    ("cannot start any token|alphabetic or numeric character|directive name|comment or line break"
     "|did not find URI|chomping or indentation", "This character cannot stand here unquoted.", _QUOTE),
    (r"expected ',' or", 'A "," or the closing bracket is missing here.', ""),
    ("expected '-' indicator", 'A list item or a key is missing its place: items begin with "- ".', _ALIGN),
    ("sequence entries", 'A list item cannot begin here: "- " starts a line of its own.', ""),
    ("expected node content", "A value is missing here.", "Quote a value that begins with a comma or a bracket."),
    ("escape", 'A "\\" between double quotes must be doubled.', "Or use single quotes."),
    ("incompatible YAML document", "This YAML version is not understood.", "Delete the %YAML line."),
]  # fmt: skip

_FROM_THE_START = re.compile("unexpected end of stream|could not find expected ':'")
"""Told where the thing began, not where the parser gave up."""


def in_plain_words(error: yaml.YAMLError, source: Source) -> Problem:
    """The parser's complaint as a located problem."""
    said = str(getattr(error, "problem", None) or getattr(error, "reason", None) or "")
    mark = getattr(error, "problem_mark", None)
    if _FROM_THE_START.search(said):
        mark = getattr(error, "context_mark", None) or mark
    line, column = (mark.line + 1, mark.column + 1) if mark is not None else (0, 0)
    if line > len(source.lines):
        # The parser counts on after the last line; what is missing there is missing at the text's end.
        line, column = source.place(len(source.text))
    for pattern, what, mend in _WORDS:
        if re.search(pattern, said):
            return source.problem(line, column, what, mend)
    return source.problem(line, column, f"This cannot be read as YAML ({said or 'no reason given'}).")
