"""A plan from a picture."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Any

from companion.dialogue.new.made import Made, made
from companion.dialogue.new.picture_questions import EXTRA, PRICE, WIDE, YARNS
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Lasting, Words
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.howfar import HowFar
from companion.problems import Problem, Problems


def drafted(path: Path, gauge: Gauge, gauge_told: str, *, is_inches: bool) -> Steps[Made]:
    """Ask for the chart of a picture, and draft it."""
    usual = "16in" if is_inches else WIDE.usual
    wide = yield WIDE._replace(usual=usual).step._replace(about="Without its border; how high it is follows from it.")
    yarns = yield YARNS.step
    asked: dict[str, Any] = {"stitches" if isinstance(wide, int) else "width": wide}
    asked["colours" if isinstance(yarns, int) else "yarns"] = yarns
    if has_ground(path):
        words = Words("What lies where it is transparent: a colour, or none where there is no stitch:", "white")
        asked["ground"] = yield Step(words, str.strip)
    found: Made = yield PRICE.step._replace(
        meant=lambda typed: _drafting(path, gauge, gauge_told, asked | {"price": PRICE.meant(typed.strip())})
    )
    return found


def has_ground(path: Path) -> bool:
    """Whether a picture is transparent in places.

    Raises:
        Problems: it cannot be opened, or what opens pictures is not installed.
    """
    try:
        from companion.drafts.picture import opened
    except ImportError:
        raise Problems([Problem(EXTRA)]) from None
    return opened(path).cover is not None


def _drafting(path: Path, gauge: Gauge, gauge_told: str, asked: dict[str, Any]) -> Lasting:
    return Lasting("Drafting the picture ...", lambda told: _draft(path, gauge, gauge_told, asked, told))


def _draft(path: Path, gauge: Gauge, gauge_told: str, asked: dict[str, Any], told: HowFar) -> Made:
    from companion.drafts.request import Asked, Request

    words = ["rowside", "draft", path.name, "--gauge", gauge_told]
    for name, value in asked.items():
        words += [f"--{name}", Path(value).name if name == "yarns" else str(value)]
    request = Request(path, gauge, Asked(**asked), shlex.join(words))
    chart = request.drafted(told)
    text, loaded = request.plan(chart)
    return made(text, notes=tuple(request.to_be_told(chart, loaded.piece)))
