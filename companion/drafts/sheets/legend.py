"""A legend's words to what they say of a stitch: its yarn's name and colour, its texture, what is sewn over it; and
back."""

from __future__ import annotations

import re
from collections.abc import Iterator

from companion.drafts.sheets.finding import Chart
from companion.knitting.cloth.fabric import STOCKINETTE, Stitch, Texture
from companion.knitting.value import Record
from companion.plan import amount
from companion.plan.amount import AmissError
from companion.plan.colours import hex_of
from companion.problems import Problem, Problems

_SEWN = "sewn in "
_RIB = re.compile(r"rib ([1-9][0-9]{0,2}) ([1-9][0-9]{0,2})")


class Use(Record):
    """One kind of stitch: its letter and its colour, "" where there is none, and what it is: its yarn has no name
    where nobody says one."""

    letter: str
    fill: str
    stitch: Stitch = Stitch("")


def lines(chart: Chart, shown: str) -> Iterator[Use]:
    """The lines of a chart's legend.

    Raises:
        Problems: a yarn cannot be called so.
    """
    for place, cell, said, more in chart.legend:
        where = chart.view.where(*place)
        found = Use(cell.text, cell.fill, Stitch(_name(re.sub(r"^[=:\-–] +", "", said), where, shown)))
        for word in more:
            if (texture := _texture(word)) is not None:
                found = found._replace(stitch=found.stitch._replace(texture=texture))
            elif word.startswith(_SEWN):
                sewn = _name(word.removeprefix(_SEWN), where, shown)
                found = found._replace(stitch=found.stitch._replace(sewn=sewn))
            elif not found.fill:
                found = found._replace(fill=hex_of(word) or "")
        yield found if found.fill or found.stitch.sewn else found._replace(fill=hex_of(found.stitch.yarn) or "")


def words(stitch: Stitch) -> list[str]:
    """What a legend says of a stitch after its yarn's name."""
    kind, (knit, purl) = stitch.texture.kind, stitch.texture.rib
    texture = f"rib {knit} {purl}" if kind == "rib" else kind
    return [*([texture] if kind != "stockinette" else []), *([_SEWN + stitch.sewn] if stitch.sewn else [])]


def _name(text: str, where: str, shown: str) -> str:
    try:
        return amount.name(text)
    except AmissError as amiss:
        what = f"The name of a yarn beside {where} {amiss.what}"
        raise Problems([Problem(what, shown, mend=amiss.mend)]) from None


def _texture(word: str) -> Texture | None:
    """A texture; None for other words."""
    if rib := _RIB.fullmatch(word):
        return Texture("rib", (int(rib[1]), int(rib[2])))
    known = {"stockinette": STOCKINETTE, **{kind: Texture(kind) for kind in ("reverse", "garter", "seed")}}
    return known.get(word)
