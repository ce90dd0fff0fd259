"""The fabric of a plan, or of a piece in work, as a picture."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from companion.commands import new_files, options
from companion.commands.common import DONE
from companion.commands.given import as_asked, loaded_plan, piece_in_work, piece_name, plan_word, planned_for
from companion.commands.group import example
from companion.commands.row_spans import RowSpan, in_working_order, some_rows
from companion.pages import printing
from companion.problems import plain

if TYPE_CHECKING:
    from companion.knitting.hands.looks import Made
    from companion.knitting.piece import Piece
    from companion.knitting.strands.strands import Strands

_KINDS = (".png", ".svg")


@click.command(epilog=example(
    "rowside picture swatch -o swatch.png", "rowside picture swatch -o back.svg --wrong-side --woven",
))  # fmt: skip
@plan_word
@click.option("-o", "--output", metavar="FILE", help="A .png or .svg file; without it the terminal shows it.")
@click.option("--wrong-side", "is_wrong_side", is_flag=True, help="The back, with crosses, carried strands and ends.")
@click.option("--woven", "is_woven", is_flag=True, help="On the wrong side: the ends as they are woven in.")
@some_rows
@piece_name
@options.size
@new_files.is_forced
def picture(
    plan: str, output: str | None, is_wrong_side: bool, is_woven: bool, span: RowSpan | None, name: str | None,
    size: str, is_forced: bool,
) -> int:
    """Draw the fabric of PLAN as it will look: stitches in the proportion of the gauge, textures, edges.

    Of a piece in work what is done is strong, the rest pale.
    """
    if output is None and not sys.stdout.isatty():
        raise click.UsageError("Say where the picture goes: -o FILE.png or -o FILE.svg.")
    if output is not None and Path(output).suffix.lower() not in _KINDS:
        raise click.UsageError("The file must end in .png or .svg, to say what it is to be.")
    if is_woven and not is_wrong_side:
        raise click.UsageError("Ends are woven in on the wrong side: --woven goes with --wrong-side.")
    piece, strands, made = _pictured(plan, name, size)
    from companion.pages import fabric_picture

    levels = _levels(strands, in_working_order(piece, span)) if span else None
    drawn = fabric_picture.drawing(
        piece, strands, "WS" if is_wrong_side else "RS", made=made, is_woven=is_woven, levels=levels
    )
    if output is None:
        from companion.pages.half_blocks import foot, side_by_side

        shown, room = fabric_picture.in_half_blocks(drawn, piece), printing.columns()
        printing.paint(side_by_side([shown], piece.gauge, room, is_coloured=printing.is_coloured()))
        if meaning := foot(shown, min(room, drawn.columns)):
            printing.say([meaning])
        return DONE
    path = Path(output)
    if path.suffix.lower() == ".png":
        new_files.write({path: fabric_picture.png(drawn)}, is_forced=is_forced)
    else:
        from companion.pages.fabric_svg import svg

        new_files.write({path: svg(drawn)}, is_forced=is_forced)
    seen = "wrong side" if is_wrong_side else "right side"
    printing.tell(plain(f"{output}: the {seen}, {drawn.columns} sts x {len(drawn.looks)} rows."))
    return DONE


def _pictured(plan: str, name: str | None, size: str) -> tuple[Piece, Strands, Made | None]:
    """The piece in work that follows a plan, and what is done of it; or the plan's where there is none."""
    session = piece_in_work(plan, name, size)
    if session is None:
        piece = as_asked(loaded_plan(plan, size).piece, {"hands": None}, options.settings())
        return piece, planned_for(piece).strands, None
    from companion.progress.made import made

    return session.piece, session.strands, made(session)


def _levels(strands: Strands, rows: tuple[int, int]) -> tuple[int, int]:
    """The heights, from 0, at which rows lie in the picture that have these places in working order, from 1."""
    heights = [strands.rows[index].level for index in range(rows[0] - 1, rows[1])]
    return min(heights), max(heights)
