"""A plan's drawing as a file for other programs: a sheet, a picture, or written rows."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands import new_files, options
from companion.commands.common import DONE
from companion.commands.given import asked_for, loaded_plan, plan_word, planned_for
from companion.commands.group import example
from companion.pages import printing
from companion.problems import plain

if TYPE_CHECKING:
    from companion.knitting.cloth.fabric import Stitch
    from companion.knitting.piece import Piece

    _Drawing = list[list[Stitch | None]]

_KINDS = (".xlsx", ".csv", ".png", ".txt")
_MOST_COLOURS = 12
"""Of a picture that is drafted from; known here without what pictures need."""

_ROOM = 80
"""Written rows are as wide in a file, wherever it is written."""


@click.command(epilog=example(
    "rowside write swatch -o swatch.xlsx", "rowside write my-mat.yaml -o my-mat.png",
))  # fmt: skip
@plan_word
@click.option("-o", "--output", required=True, metavar="FILE", help="What to write, and by its ending as what.")
@options.size
@new_files.is_forced
def write(plan: str, output: str, size: str, is_forced: bool) -> int:
    """Write the drawing of PLAN as a sheet (.xlsx, .csv), a picture (.png) or written rows (.txt).

    In a sheet a stitch is a cell in its colour with its letter, with the numbers of rows and stitches and a legend;
    in a picture it is a rectangle of its colour. Both are in the proportions of the gauge. rowside draft makes a plan
    of them again; what they have no place for is told.
    """
    path = Path(output)
    kind = path.suffix.lower()
    if kind not in _KINDS:
        raise click.UsageError("The file must end in .xlsx, .csv, .png or .txt, to say what it is to be.")
    if kind == ".txt":
        new_files.write({path: _written_rows(plan, size)}, is_forced=is_forced)
        printing.tell(plain(f"{output}: the written rows."))
        return DONE
    piece = loaded_plan(plan, size).piece
    new_files.write({path: _drawn(piece, kind)}, is_forced=is_forced)
    from companion.drafts.sheets.laid_out import drawing

    drawn = drawing(piece)
    printing.tell(plain(f"{output}: {len(drawn[0])} sts x {len(drawn)} rows, {len(piece.yarns)} yarns."))
    for line in _not_in_it(piece, drawn, kind):
        printing.tell(plain(line))
    printing.tell(plain(f"To draft from it: {shlex.join(_again(output, piece, drawn, kind))}"))
    return DONE


def _written_rows(plan: str, size: str) -> str:
    from companion.pages import written

    piece, terms = asked_for(plan, {"hands": None, "terms": None, "units": None, "size": size})
    lines = written.whole(piece, planned_for(piece).strands, terms)
    return "".join(f"{part}\n" for line in lines for part in printing.fitted(line, _ROOM))


def _drawn(piece: Piece, kind: str) -> str | bytes:
    if kind == ".xlsx":
        from companion.drafts.sheets.as_xlsx import xlsx_bytes

        return xlsx_bytes(piece)
    if kind == ".csv":
        from companion.drafts.sheets.as_csv import csv_text

        return csv_text(piece)
    from companion.drafts.sheets.as_png import png_bytes

    return png_bytes(piece)


def _not_in_it(piece: Piece, drawn: _Drawing, kind: str) -> Iterator[str]:
    """What of the plan is not in the file, in sentences."""
    from companion.drafts.sheets.laid_out import not_in_sheets, own_letters
    from companion.knitting.cloth.fabric import STOCKINETTE

    found = not_in_sheets(piece)
    if kind != ".png":
        yield f"Not in it: {_listed(found)}."
        if letters := own_letters(piece):
            yield f"Stitches with letters of their own: {'; '.join(letters)}."
        return
    stitches = {stitch for row in drawn for stitch in row if stitch is not None}
    has_textures = any(stitch.texture != STOCKINETTE for stitch in stitches)
    is_sewn = any(stitch.sewn for stitch in stitches)
    found += ["names of yarns", *(["textures"] if has_textures else []), *(["what is sewn on"] if is_sewn else [])]
    yield f"Not in it: {_listed(found)}."
    of_colour = dict[str, list[str]]()
    for yarn in piece.yarns:
        of_colour.setdefault(yarn.colour, []).append(yarn.name)
    for names in of_colour.values():
        if len(names) > 1:
            yield f"One colour in a picture: {_listed(names)}."
    if len(of_colour) > _MOST_COLOURS:
        yield f"It has {len(of_colour)} colours, and a picture is drafted in {_MOST_COLOURS} at most."
    if any(None in row for row in drawn):
        yield "It is transparent where there is no stitch. An opening is not drafted from it, all other edges are."


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names[:-1]) + (" and " if names[:-1] else "") + names[-1]


def _again(output: str, piece: Piece, drawn: _Drawing, kind: str) -> list[str]:
    """The command that drafts from the file."""
    stitches, rows, over = (f"{float(number):.12g}" for number in piece.gauge)
    words = ["rowside", "draft", output, "--gauge", f"{stitches}x{rows}/{over}cm"]
    if kind != ".png":
        return words
    colours = min(_MOST_COLOURS, len({yarn.colour for yarn in piece.yarns}))
    words += ["--stitches", str(len(drawn[0])), "--price", "0", "--colours", str(colours)]
    return [*words, "--ground", "none"] if any(None in row for row in drawn) else words
