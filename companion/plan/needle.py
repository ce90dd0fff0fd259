"""What a knitter types of the runs on the needle to runs: "s 12, brick, s 22", "12 sand, 3 brick" or "12s 3b"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from companion.knitting.cloth.fabric import Yarn
from companion.knitting.hands.whereabouts import OnNeedle
from companion.problems import Problem, Problems, nearest, quoted

_RUN = re.compile(r"(?P<name>.+?)[ ]*(?P<stitches>[0-9]{1,6})?")
_COUNTED = re.compile(r"(?P<stitches>[0-9]{1,6})[ ]*(?P<name>.+)")

MOST_RUNS = 1000


def runs_on_needle(typed: str, yarns: Sequence[Yarn]) -> tuple[OnNeedle, ...]:
    """The runs, from left to right: yarns by name or symbol, each with its stitches where they are told.

    Raises:
        Problems: something is no yarn of the piece.
    """
    by_word = {yarn.symbol: yarn.name for yarn in yarns} | {yarn.name: yarn.name for yarn in yarns}
    parts = [one for part in typed.split(",") for one in _runs_in(part.strip(), by_word)]
    runs: list[OnNeedle] = []
    for part in parts[:MOST_RUNS]:
        found = _told(part, by_word)
        if found is None:
            typed_name = re.sub("[0-9]+", "", part).strip()
            near = nearest(typed_name, by_word)
            mend = f'Did you mean "{near}"?' if near else f"Yarns: {', '.join(yarn.name for yarn in yarns)}."
            raise Problems([Problem(f"{quoted(part)} is no yarn of this piece with its stitches.", mend=mend)])
        name, stitches = found
        if runs and runs[-1].yarn == name:
            both = runs[-1].stitches and stitches
            runs[-1] = OnNeedle(name, runs[-1].stitches + stitches if both else 0)
        else:
            runs.append(OnNeedle(name, stitches))
    return tuple(runs)


def _told(part: str, by_word: Mapping[str, str]) -> tuple[str, int] | None:
    """One run as it is typed: its yarn, and its stitches, 0 where they are left out; None where there is no such
    yarn. What is a yarn's name as it stands is that, with whatever digits it has."""
    if part in by_word:
        return by_word[part], 0
    for form in (_RUN, _COUNTED):
        if (found := form.fullmatch(part)) and (name := by_word.get(found["name"])):
            return name, int(found["stitches"] or 0)
    return None


def _runs_in(part: str, by_word: Mapping[str, str]) -> list[str]:
    """The runs that stand between commas: one, or where commas are left out several, all with their stitches before
    them or all after them."""
    if _told(part, by_word):
        return [part]
    names = "|".join(re.escape(word) for word in sorted(by_word, key=len, reverse=True))
    for run in (rf"[0-9]{{1,6}} *(?:{names})", rf"(?:{names}) *[0-9]{{1,6}}"):
        if re.fullmatch(rf"{run}(?: *{run})*", part):
            return re.findall(run, part)
    return [part]
