"""A plan at the gauge that came out: how large the piece would be, and a new plan that keeps its size."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from companion.commands import new_files, options
from companion.commands.common import DONE
from companion.commands.draft import gauge_of
from companion.commands.given import loaded_plan, plan_word, planned_for
from companion.commands.group import example
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import Problem, Problems, plain

if TYPE_CHECKING:
    from companion.drafts.regauged import Regauged, Regauging, Way
    from companion.pages.regauged import Drawn

_CALLED: dict[Way, str] = {"keep": "Kept", "redraw": "Redrawn"}


@click.command(epilog=example(
    "rowside regauge swatch 19x27/10cm", "rowside regauge my-plan.yaml 19x27/10cm --redraw -o my-new-plan.yaml",
))  # fmt: skip
@plan_word
@click.argument("gauge", metavar="GAUGE")
@click.option("-o", "--output", metavar="FILE", help="The new plan to write; the old one is left as it is.")
@click.option("--keep", "way", flag_value="keep", help="Its picture kept stitch by stitch, in more ground or less.")
@click.option("--redraw", "way", flag_value="redraw", help="Its picture drawn anew by area, in the same size.")
@options.size
@options.units
@new_files.is_forced
def regauge(
    plan: str, gauge: str, output: str | None, way: Way | None, size: str, units: Literal["cm", "in"] | None,
    is_forced: bool,
) -> int:  # fmt: skip
    """Print what becomes of PLAN at the GAUGE that came out, 19x27/10cm: its size, and what would keep it.

    With -o a new plan is written that has this gauge.
    """
    if (output is None) != (way is None):
        raise click.UsageError("Say which new plan is written where: --keep -o FILE, or --redraw -o FILE.")
    if output is not None:
        new_files.check_plan_name(output)
        new_files.check_other_file(output, plan)
    from companion.drafts.regauged import Regauging
    from companion.pages import tables
    from companion.pages.regauged import regauged

    wanted = gauge_of(gauge)
    with waiting("Drawing anew"):
        loaded = loaded_plan(plan, size)
        named = (*(("--size", loaded.size) if loaded.size else ()), *((f"--{way}",) if way else ()))
        words = shlex.join(["rowside", "regauge", Path(plan).name, gauge, *named])
        regauging = Regauging(loaded, Path(plan).name, wanted, words)
        drawn = {one: _drawn(regauging, one) for one in _CALLED if way in (None, one)}
    if output is not None and way is not None:
        new, figures = drawn[way]
        if new is None:
            raise Problems([Problem(figures.trouble)])
        new_files.write({Path(output): new.text}, is_forced=is_forced)
        assert figures.piece is not None
        assert figures.strands is not None
        printing.tell(plain(f"{output}: {tables.summary(figures.piece, figures.strands)}."))
        for line in regauging.not_kept:
            printing.tell(plain(line))
        return DONE
    terms = options.settings().terms_for(loaded.piece, None, units)
    ways = {_CALLED[one]: figures for one, (_, figures) in drawn.items()}
    printing.say(regauged(
        regauging.old, regauging.as_it_is, regauging.columns, regauging.rows, ways, terms, printing.columns()
    ))  # fmt: skip
    return DONE


def _drawn(regauging: Regauging, way: Way) -> tuple[Regauged | None, Drawn]:
    """The new plan and what it comes to; no plan where there is something amiss with it."""
    from companion.knitting.howfar import TooMuchToWeigh
    from companion.pages.regauged import Drawn

    if regauging.trouble:
        return None, Drawn(None, None, regauging.trouble)
    try:
        new = regauging.by(way)
        return new, Drawn(new.loaded.piece, planned_for(new.loaded.piece).strands)
    except (Problems, TooMuchToWeigh) as error:
        what = error.problems[0].what if isinstance(error, Problems) else str(error)
        return None, Drawn(None, None, what)
