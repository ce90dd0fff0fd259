"""Every sign of a plan's form taken away, one at a time, and every line moved by a column: what is told stands in the
line that was changed, and it is all that is told.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from companion.plan.demo import demo_plans
from companion.problems import Problems
from tests.plan.plans import SECTIONED, read

MAT = next(path for path in demo_plans() if path.stem == "mooring-mat")


def _changed(line: str) -> Iterator[str]:
    """The line with a slip in each place of it where one can be; none of a line of a chart or a comment."""
    form = line.split("   #")[0]
    if not form.strip() or form.lstrip().startswith("#") or not re.search(r"[:{-]", form):
        return
    for at, sign in enumerate(form):
        if sign in ":,{}-[]\"|":
            yield line[:at] + line[at + 1:]
    yield " " + line
    if line.startswith(" "):
        yield line[1:]


@pytest.mark.parametrize("text", [SECTIONED, MAT.read_text(encoding="utf-8")], ids=["three sections", "mooring mat"])
def test_a_sign_that_is_missing_is_told_in_its_line_and_alone(text: str) -> None:
    lines = text.split("\n")
    amiss = 0
    for number, line in enumerate(lines, 1):
        for changed in _changed(line):
            told = _lines_told("\n".join([*lines[:number - 1], changed, *lines[number:]]))
            assert told in ([], [number]), changed
            amiss += len(told)
    assert amiss > 50


def _lines_told(text: str) -> list[int]:
    """The line of everything that is to mend; nothing where the plan is read."""
    try:
        read(text)
    except Problems as found:
        return [one.line for one in found.problems if not one.is_warning]
    return []
