"""A plan from written rows: what the command line says of them, checked, and the text read."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import draft_questions
from companion.commands.common import STANDARD_INPUT
from companion.knitting.cloth.fabric import Gauge

if TYPE_CHECKING:
    from collections.abc import Callable

    from companion.drafts.rows.plan import Drafted

SUFFIX = ".txt"

_OWN = ("gauge", "yarns", "terms", "hands")
"""The options that mean something for written rows."""

_CALLED = {"is_flipped": "flip", "is_choosing": "choices", "is_shown": "show"}

_ON_INPUT = "standard input"


def is_written(word: str) -> bool:
    """Whether a word names written rows: a text file, or standard input."""
    return word == STANDARD_INPUT or Path(word).suffix.lower() == SUFFIX


def drafted_from_rows(
    word: str, asked: Mapping[str, Any], command: str, gauge_of: Callable[[str], Gauge]
) -> Drafted:
    """The plan of written rows. ``command`` makes it anew; ``gauge_of`` reads a gauge; on a terminal one is asked for
    where neither text nor command says it.

    Raises:
        click.UsageError: an option has no meaning for rows.
        Problems: everything that is amiss in the text.
    """
    from companion.drafts.rows.plan import Asked, drafted
    from companion.drafts.stash import at_hand
    from companion.plan.files import plan_text, text_from

    for name, value in asked.items():
        if name not in _OWN and value not in (None, False, ()):
            option = _CALLED.get(name, name.removeprefix("is_"))
            raise click.UsageError(f"--{option} is for pictures: written rows have their stitches and yarns already.")
    is_input = word == STANDARD_INPUT
    text = text_from(sys.stdin.buffer, _ON_INPUT) if is_input else plan_text(Path(word))
    gauge = None if asked["gauge"] is None else gauge_of(asked["gauge"])
    yarns = {} if asked["yarns"] is None else {yarn.name: yarn.colour for yarn in at_hand(Path(asked["yarns"]))}
    what = _ON_INPUT if is_input else Path(word).name
    wanted = Asked(
        gauge, yarns, asked["hands"] or "", asked["terms"] or "", "Written rows" if is_input else Path(word).stem,
        (f"Drafted from written rows ({what}) by", command),
    )  # fmt: skip
    is_asked = not is_input and sys.stdin.isatty() and sys.stderr.isatty()
    ask = (lambda: gauge_of(draft_questions.answer(*draft_questions.GAUGE))) if is_asked else None
    return drafted(text, _ON_INPUT if is_input else word, wanted, ask)
