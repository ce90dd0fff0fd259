"""A plan from a picture, from a chart in a sheet, or from written rows."""

from __future__ import annotations

import os
import re
import shlex
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from companion.commands import draft_questions, draft_rows, draft_sheet, new_files, options
from companion.commands.common import DONE, STANDARD_INPUT, report
from companion.commands.given import loaded_plan, planned_for
from companion.commands.group import example
from companion.dialogue.new.picture_questions import EXTRA
from companion.knitting.howfar import HowFar, part_of
from companion.pages import printing
from companion.pages.waiting import waiting
from companion.problems import Problem, Problems, plain, quoted

if TYPE_CHECKING:
    from rich.text import Text

    from companion.drafts.request import Request
    from companion.knitting.cloth.fabric import Gauge
    from companion.plan.loaded import Loaded

_COUNT, _COLOURS, _PRICE = (options.whole_number(*ends) for ends in ((1, 4_000), (1, 12), (0, 10_000)))


@click.command(epilog=example(
    "rowside draft boat.png -o boat.yaml --stitches 80 --gauge 20x28/10cm",
    "rowside draft boat.png --width 40cm --gauge swatch --choices",
    "rowside draft chart.xlsx -o boat.yaml --gauge 20x28/10cm",
    "rowside draft rows.txt -o shawl.yaml --gauge 20x28/10cm",
))  # fmt: skip
@click.argument("picture", type=click.Path(), metavar="FILE")
@click.option("-o", "--output", metavar="FILE", help="The plan to write; without it standard output.")
@click.option("--gauge", metavar="20x28/10cm", help="Stitches x rows over a length, or those of a plan.")
@click.option("--stitches", type=_COUNT, metavar="N", help="So many stitches are cast on.")
@click.option("--width", metavar="40cm", help="Instead: the picture is so wide.")
@click.option("--colours", type=_COLOURS, metavar="N", help="At most so many colours; 6 if not said.")
@click.option("--yarns", type=click.Path(), metavar="FILE", help="The yarns at hand, from which they are chosen.")
@click.option("--price", type=_PRICE, metavar="P", help="What sparing a strand is worth; 40.")
@click.option("--strands", type=_COUNT, metavar="N", help="Instead: so many strands at most.")
@click.option("--choices", "is_choosing", is_flag=True, help="Print what each price would cost, and write nothing.")
@click.option("--show", "is_shown", is_flag=True, help="The same, and how each would look.")
@click.option("--hold", multiple=True, metavar="ROW,ST", help="Stitches that stay, or a file: 40-44,20-26=navy.")
@click.option("--ground", metavar="COLOUR", help="What lies where it is transparent, or empty; none: no stitch.")
@click.option("--crop", metavar="X,Y,W,H", help="Only this part, from left and top, in pixels; of a sheet B2:K20.")
@click.option("--flip", "is_flipped", is_flag=True, help="Left for right.")
@click.option("--sideways", "is_sideways", is_flag=True, help="Knit it lying on its left side.")
@click.option("--terms", type=options.one_of("us", "uk"), help="Whose words the plan of written rows is told in.")
@click.option("--hands", type=options.one_of("right", "left"), help="Whose hands written rows are for.")
@new_files.is_forced
def draft(
    picture: str, output: str | None, is_choosing: bool, is_shown: bool, is_forced: bool, **asked: Any
) -> int:
    """Make a plan from a picture (PNG, JPEG, GIF, BMP, WEBP), a sheet (XLSX, ODS, CSV), or written rows.

    Of a picture, what each choice costs in strands and ends is told before the first stitch; its yarns have the names
    of colours. Names, colours and every stitch are yours to change.

    In a sheet a stitch is a cell that is filled with one colour or says one letter, and a merged cell is as many;
    in CSV 3A is three stitches of A. Numbers at the borders are seen, and names beside cells of a legend; --gauge,
    --ground (of empty cells) and --crop (the cells of the chart) are what it takes.

    Written rows lie in a text file, or come from standard input (-), such as "Row 1 (RS): k5 A, k3 B."; what can be
    read two ways is asked back.
    """
    if output is not None and output != STANDARD_INPUT:
        new_files.check_plan_name(output)
    others = {"is_choosing": is_choosing, "is_shown": is_shown}
    if Path(picture).suffix.lower() in draft_sheet.SUFFIXES:
        sheet = draft_sheet.from_sheet(Path(picture), asked | others, gauge_of)
        report(sheet.loaded.warnings)
        return _hand_over(sheet.text, sheet.loaded, output, is_forced=is_forced, known=sheet.notes)
    if draft_rows.is_written(picture):
        rows = draft_rows.drafted_from_rows(picture, asked | others, _words(picture, asked), gauge_of)
        report(rows.warnings)
        return _hand_over(rows.text, rows.loaded, output, is_forced=is_forced, known=rows.known)
    if output is not None and (is_choosing or is_shown):
        raise click.UsageError(f"--{'choices' if is_choosing else 'show'} writes nothing: leave -o out.")
    for name in ("terms", "hands"):
        if asked.pop(name) is not None:
            raise click.UsageError(f"--{name} is for written rows: a picture has no words.")
    try:
        import numpy  # noqa: F401
        import PIL  # noqa: F401
    except ImportError:
        raise Problems([Problem(EXTRA)]) from None
    from companion.drafts.request import Asked, Request

    if not (is_choosing or is_shown or output or any(asked.values())):
        output = draft_questions.all_of(Path(picture), asked)
    draft_questions.ask_for_what_is_missing(asked)
    words = _words(picture, asked)
    gauge = gauge_of(asked.pop("gauge"))
    with waiting("Drafting") as done:
        request = Request(Path(picture), gauge, Asked(**asked), words)
        if is_choosing or is_shown:
            choices = _Choices(request, done)  # all of them, while it is told how far they are
        else:
            drafted = request.drafted(done)
            text, loaded = request.plan(drafted)
    if is_choosing or is_shown:
        printing.say(map(plain, choices.lines()))
        if is_shown:
            printing.paint(choices.pictures(gauge))
        return DONE
    is_kept = output is not None and output != STANDARD_INPUT
    if is_kept:
        report(loaded.warnings)
    looks = f"; mean difference from the picture {drafted.difference:.2f} (CIEDE2000)"
    known = request.to_be_told(drafted, loaded.piece)
    return _hand_over(text, loaded, output, is_forced=is_forced, looks=looks, known=known)


def _hand_over(
    text: str, loaded: Loaded, output: str | None, *, is_forced: bool, looks: str = "", known: Iterable[str] = ()
) -> int:
    """Write the plan, and tell what it comes to and how it is knitted; on standard output the plan alone. ``looks``:
    how it goes on from there; ``known``: what else is to be known of it, a line each."""
    if output is None or output == STANDARD_INPUT:
        printing.write([text])
        return DONE
    new_files.write({Path(output): text}, is_forced=is_forced)
    from companion.pages import tables

    printing.tell(plain(f"{output}: {tables.summary(loaded.piece, planned_for(loaded.piece).strands)}{looks}."))
    for line in known:
        printing.tell(plain(line))
    printing.tell(plain(f"To knit it: rowside knit {shlex.quote(output)}"))
    return DONE


def _words(picture: str, asked: dict[str, Any]) -> str:
    """The command that makes the plan anew, without the folders of its files."""
    words = ["rowside", "draft", Path(picture).name]
    for name, value in asked.items():
        option = f"--{name.removeprefix('is_')}".replace("flipped", "flip")
        for one in value if isinstance(value, tuple) else (value,):
            if one is True:
                words.append(option)
            elif one is not None and one is not False:
                is_file = name in ("yarns", "gauge", "hold") and Path(one).is_file()
                words += [option, Path(one).name if is_file else str(one)]
    return shlex.join(words)


def gauge_of(word: str) -> Gauge:
    """The gauge that is written like 20x28/10cm, or that of a plan.

    Raises:
        Problems: it is neither.
    """
    from companion.plan import amount

    mend = "Write stitches x rows over a length: 20x28/10cm"
    try:
        gauge = amount.gauge(word)
    except amount.AmissError as amiss:
        what = f"The gauge {quoted(word)} is not understood: each number {amiss.what}"
        raise Problems([Problem(what, mend=mend)]) from None
    if gauge is None and re.match(r"\d|$", word) and not os.path.lexists(word):
        raise Problems([Problem(f"The gauge {quoted(word)} is not understood.", mend=mend)])
    if gauge is None:
        return loaded_plan(word).piece.gauge
    if "/" not in word:
        printing.tell(plain(f"The gauge {word} is taken over 10 cm; {word}/4in would be over 4 inches."))
    return gauge


class _Choices:
    """The charts at all prices, and what else would be cheaper."""

    def __init__(self, request: Request, done: HowFar) -> None:
        self._size = request.size
        self._meant = request.drafted(part_of(done, 0, 0.4))
        self._found = list(request.ladder(part_of(done, 0.4, 0.7)))
        self._offers = list(request.offers(part_of(done, 0.7, 1)))

    def lines(self) -> Iterator[str]:
        """The table of prices."""
        from companion.pages.drafted import Rung, rungs

        found = [
            Rung(one.price, len(one.yarns), figures, one.difference, one is self._meant)
            for one, figures in self._found
        ]
        yield from (self._size, "", *rungs(found, is_inches=options.settings().units == "in"), *self._offers)

    def pictures(self, gauge: Gauge) -> Iterator[Text]:
        """How they look."""
        from companion.pages.half_blocks import Picture, side_by_side

        seen = []
        for one, _ in self._found:
            yarns = {yarn.name: yarn for yarn in one.yarns}
            rows = [[yarns.get(name) for name in row] for row in one.grid]
            strands = "1 strand" if one.strands == 1 else f"{one.strands} strands"
            seen.append(Picture(f"{one.price}: {strands}", rows))
        return side_by_side(seen, gauge, printing.columns(), is_coloured=printing.is_coloured())
