"""What a knitter types of the runs on the needle to runs: "s 12, brick, s 22"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.knitting.cloth.fabric import Yarn
from companion.knitting.hands.whereabouts import OnNeedle
from companion.problems import Problem, Problems, nearest, quoted

_RUN = re.compile(r"(?P<name>.+?)[ ]*(?P<stitches>[0-9]{1,6})?")

MOST_RUNS = 1000


def runs_on_needle(told: str, yarns: Sequence[Yarn]) -> tuple[OnNeedle, ...]:
    """The runs, from left to right: yarns by name or symbol, each with its stitches where they are told.

    Raises:
        Problems: something is no yarn of the piece.
    """
    by_word = {yarn.symbol: yarn.name for yarn in yarns} | {yarn.name: yarn.name for yarn in yarns}
    parts = [part.strip() for part in told.split(",")]
    runs: list[OnNeedle] = []
    for part in parts[:MOST_RUNS]:
        found = _RUN.fullmatch(part)
        name = by_word.get(part) or (by_word.get(found["name"]) if found else None)
        if found is None or name is None:
            near = nearest(found["name"] if found else part, by_word)
            mend = f'Did you mean "{near}"?' if near else f"Yarns: {', '.join(yarn.name for yarn in yarns)}."
            raise Problems([Problem(f"{quoted(part)} is no yarn of this piece with its stitches.", mend=mend)])
        stitches = 0 if by_word.get(part) else int(found["stitches"] or 0)
        if runs and runs[-1].yarn == name:
            both = runs[-1].stitches and stitches
            runs[-1] = OnNeedle(name, runs[-1].stitches + stitches if both else 0)
        else:
            runs.append(OnNeedle(name, stitches))
    return tuple(runs)
