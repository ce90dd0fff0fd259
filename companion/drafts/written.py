"""A drafted chart as the text of a plan: what it was made from in a comment, then everything that a plan says."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction

from companion.knitting.cloth.fabric import STOCKINETTE, Gauge, Stitch, Yarn
from companion.plan.amount import LONGEST_TITLE
from companion.plan.edit import name_in_yaml
from companion.problems import plain

_WIDE = 110


def plan_text(
    title: str, gauge: Gauge, reach: int, yarns: Sequence[Yarn], symbols: Mapping[str, Stitch], drawn: Iterable[str],
    notes: Sequence[str], opening: str = "",
) -> str:
    """The text of a plan; ``drawn`` are the lines of its chart, the last row first; ``notes`` are sentences of its
    first comment; ``opening``: the part that is worked first where the chart divides."""
    lines = [
        *heading(title, gauge, reach, yarns, symbols, notes),
        *([f"  - opening: {{first: {opening}}}", "    chart: |"] if opening else ["  - chart: |"]),
        *(f"      {line}" for line in drawn),
    ]
    return "\n".join(lines) + "\n"


def heading(
    title: str, gauge: Gauge, reach: int, yarns: Sequence[Yarn], symbols: Mapping[str, Stitch], notes: Sequence[str],
    more: Sequence[str] = (),
) -> list[str]:
    """The lines of a plan above its sections. ``notes`` are sentences of its first comment; ``more``: keys besides
    those that every plan has."""
    return [
        *as_notes(notes),
        "",
        "plan: 1",
        f"title: {name_in_yaml(_title(title))}",
        "",
        f"gauge: {gauge_in_yaml(gauge)}",
        "",
        "yarns:",
        *(f"  {name_in_yaml(yarn.name)}: {yarn_in_yaml(yarn)}" for yarn in yarns),
        "",
        *(["symbols:"] if symbols else []),
        *symbol_lines(symbols),
        *([""] if symbols else []),
        f"carry: {{reach: {reach}}}",
        *more,
        "",
        "rows:",
    ]


def gauge_in_yaml(gauge: Gauge) -> str:
    """A gauge as a plan has it, but for those of other stitches."""
    return f"{{{', '.join(f'{key}: {value}' for key, value in gauge_values(gauge).items())}}}"


def gauge_values(gauge: Gauge) -> dict[str, str]:
    """Its keys, each with its value as it is written."""
    over = f"{decimal(gauge.over_cm)} cm"
    return {"stitches": decimal(gauge.stitches), "rows": decimal(gauge.rows), "over": over}


def yarn_in_yaml(yarn: Yarn) -> str:
    """What a plan says of a yarn after its name: its colour, and how it is sold, if that is known."""
    sold = {"metres": yarn.ball.metres, "grams": yarn.ball.grams}
    told = ", ".join(f"{unit}: {decimal(amount)}" for unit, amount in sold.items() if amount is not None)
    ball = f", ball: {{{told}}}" if told else ""
    return f'{{colour: "{yarn.colour}"{ball}}}'


def as_notes(notes: Sequence[str]) -> list[str]:
    """Sentences as a comment."""
    return [f"# {line}" for note in notes for line in textwrap.wrap(plain(note), _WIDE, break_on_hyphens=False)]


def symbol_lines(symbols: Mapping[str, Stitch]) -> list[str]:
    """The lines below ``symbols:``."""
    return [f"  {symbol_in_yaml(symbol)}: {_stitch(stitch)}" for symbol, stitch in symbols.items()]


def symbol_in_yaml(symbol: str) -> str:
    """A symbol as a key; in quotes where YAML would take it for something else."""
    return symbol if symbol.isalnum() and symbol.isascii() else json.dumps(symbol, ensure_ascii=False)


def _stitch(stitch: Stitch) -> str:
    """What a symbol stands for: a yarn's name or, where there is more to say, its keys."""
    name = name_in_yaml(stitch.yarn)
    if (stitch.texture, stitch.sewn) == (STOCKINETTE, ""):
        return name
    kind, (knit, purl) = stitch.texture.kind, stitch.texture.rib
    texture = "" if kind == "stockinette" else f", stitch: {f'{{rib: [{knit}, {purl}]}}' if kind == 'rib' else kind}"
    sewn = f", sewn: {name_in_yaml(stitch.sewn)}" if stitch.sewn else ""
    return f"{{yarn: {name}{texture}{sewn}}}"


def _title(text: str) -> str:
    """A title of what a file is called."""
    words = " ".join(plain(text).replace("_", " ").split())[:LONGEST_TITLE].strip()
    return words[:1].upper() + words[1:] or "Picture"


def decimal(value: Fraction) -> str:
    """A number as a plan writes it; up to twelve digits after the point."""
    return f"{float(value):.12f}".rstrip("0").rstrip(".")
