"""A drafted chart as the text of a plan: what it was made from in a comment, then everything that a plan says."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from fractions import Fraction

from companion.drafts.drafting import Drafted
from companion.knitting.cloth.fabric import Gauge
from companion.plan.amount import LONGEST_TITLE
from companion.plan.edit import name_in_yaml
from companion.problems import plain

_WIDE = 110


def plan_text(title: str, gauge: Gauge, reach: int, drafted: Drafted, notes: Sequence[str]) -> str:
    """The text of a plan; ``notes`` are sentences of its first comment."""
    lines = [f"# {line}" for note in notes for line in textwrap.wrap(plain(note), _WIDE, break_on_hyphens=False)]
    over = _decimal(gauge.over_cm)
    lines += [
        "",
        "plan: 1",
        f"title: {name_in_yaml(_title(title))}",
        "",
        f"gauge: {{stitches: {_decimal(gauge.stitches)}, rows: {_decimal(gauge.rows)}, over: {over} cm}}",
        "",
        "yarns:",
        *(f'  {name_in_yaml(yarn.name)}: {{colour: "{yarn.colour}"}}' for yarn in drafted.yarns),
        "",
        "symbols:",
        *(f"  {yarn.symbol}: {name_in_yaml(yarn.name)}" for yarn in drafted.yarns),
        "",
        f"carry: {{reach: {reach}}}",
        "",
        "rows:",
        "  - chart: |",
    ]
    symbol = {yarn.name: yarn.symbol for yarn in drafted.yarns}
    lines += ["      " + "".join(symbol[name] for name in reversed(row)) for row in reversed(drafted.grid)]
    return "\n".join(lines) + "\n"


def _title(text: str) -> str:
    """A title of what a file is called."""
    words = " ".join(plain(text).replace("_", " ").split())[:LONGEST_TITLE].strip()
    return words[:1].upper() + words[1:] or "Picture"


def _decimal(value: Fraction) -> str:
    """A number as a plan writes it; up to twelve digits after the point."""
    return f"{float(value):.12f}".rstrip("0").rstrip(".")
