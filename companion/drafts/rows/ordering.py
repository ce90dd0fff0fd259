"""The rows of a text in working order: the whole piece, where it divides its parts, and what lies above where they
are joined. Rows of the whole piece are numbered as they lie above each other, those of a part by themselves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from companion.drafts.rows.doings import Divide, Label, RowTold
from companion.knitting.cloth.fabric import Part
from companion.plan.phrases import Amiss


def in_order(rows: Mapping[tuple[Part, int], RowTold]) -> Iterator[RowTold | Amiss]:
    """The rows, each first one of a part, and of what lies above two, marked as such; and what is missing."""
    parts = {part: _of(rows, part) for part in dict.fromkeys(part for part, _ in rows if part)}
    expected: dict[Part, int] = dict.fromkeys(["", *parts], 1)
    first: Part | None = None  # of the row below, where it divides: the part that is worked first, "" = not known
    for row in _of(rows, ""):
        high = row.label.number - expected[""]
        if first is not None and high > 0:
            for part in sorted(parts, key=lambda part: part != first):
                past = expected[part] + high
                own = [one for one in parts[part] if one.label.number < past]
                del parts[part][:len(own)]
                yield from _one_by_one(own, part, expected, "part")
                yield from _missing(row.label, expected[part], past, f" of the {part} part")
            expected[""] = row.label.number
            yield from _one_by_one([row], "", expected, "whole")
        else:
            yield from _one_by_one([row], "", expected, "")
        divides = [end.first for end in (row.words.ends if row.words else ()) if isinstance(end, Divide)]
        first = divides[0] if divides else "" if row.words is None and parts else None
    for part in sorted(parts, key=lambda part: part != first):
        yield from _one_by_one(parts[part], part, expected, "part")


def _of(rows: Mapping[tuple[Part, int], RowTold], part: Part) -> list[RowTold]:
    return [rows[key] for key in sorted(rows, key=lambda key: key[1]) if key[0] == part]


def _one_by_one(
    rows: Sequence[RowTold], part: Part, expected: dict[Part, int], begins: Literal["", "part", "whole"]
) -> Iterator[RowTold | Amiss]:
    """Rows of a part, the first of which begins it; ``expected``: the number of the next one."""
    for row in rows:
        yield from _missing(row.label, expected[part], row.label.number)
        expected[part] = row.label.number + 1
        yield row._replace(label=row.label._replace(begins=begins if row is rows[0] else ""))


def _missing(label: Label, first: int, past: int, where: str = "") -> Iterator[Amiss]:
    """Rows that nothing tells of, from the first one up to another and without it."""
    if first < past:
        missing = f"rows {first} to {past - 1}{where} are" if past > first + 1 else f"row {first}{where} is"
        what = f"{row_named(label)} is told, and {missing} missing."
        yield Amiss(label.at, what, "Tell every row, from row 1 on.", "missing")


def row_named(label: Label) -> str:
    """A row with what it is called."""
    where = f" of the {label.part} part" if label.part else ""
    return f"{'Round' if label.is_round else 'Row'} {label.number}{where}"
