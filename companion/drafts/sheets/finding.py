"""The chart of a sheet: which cells it is, without the numbers at its borders, and the legend beside it.

What is not sure is asked, with the addresses of the cells, and never guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from companion.drafts.sheets.blocks import (
    MOST_BLOCKS,
    Box,
    Named,
    View,
    is_marked,
    is_number,
    legend_of,
    without_numbers,
)
from companion.drafts.sheets.sheet import EMPTY, Cell, Sheet, Span
from companion.knitting.value import Record
from companion.problems import Problem, Problems, quoted

NO_STITCH = Cell(".")
"""How a chart says that there is none; as in a plan."""

_NAMED = 5
"""So many cells are named one by one."""


class Chart(Record):
    """``rows``: the cells from the top, in each from the left; an empty one is of the ground. ``where``: its first
    and last cell, in words; ``notes``: what was left out, in sentences."""

    rows: Sequence[Sequence[Cell]]
    where: str
    view: View
    box: Box
    legend: Sequence[Named]
    notes: Sequence[str]


def chart_of(sheet: Sheet, shown: str, part: tuple[Span, Span] | None, *, has_ground: bool) -> Chart | None:
    """The chart of a sheet; None where it has none. ``part``: the rows and columns it stands in, if somebody said so.

    Raises:
        Problems: there are several, or cells of it are empty, or say what no stitch is.
    """
    view = View(sheet)
    legends = {index: legend_of(view, block) for index, block in enumerate(view.blocks)}
    others = [block for index, block in enumerate(view.blocks) if not legends[index]]
    notes = [*sheet.notes, *_hidden(sheet)]
    if part is not None:
        box = view.box_of(*part)
        if box is None:
            raise Problems([Problem("No cell of the part that --crop names is in use.", shown)])
        legend = [one for found in legends.values() for one in found if not box.has(one.place)]
    elif not others or all(block.is_numbers and len(block.cells) < 4 for block in others):
        return None
    elif len(view.blocks) > MOST_BLOCKS:
        what = f"More than {MOST_BLOCKS:,} cells stand by themselves, and no chart is seen among them."
        raise Problems([Problem(what, shown, mend="Which cells are it? Say so, such as --crop B2:K20")])
    else:
        stitches = [block for block in others if not block.is_numbers] or others[:1]
        box = stitches[0].box
        beside = [block.box for block in stitches[1:] if box.with_others([block.box]) != box]
        if beside and has_ground:
            box = box.with_others(beside)
        elif beside:
            raise Problems([_several(view, box, beside, shown)])
        taken = without_numbers(view, box)
        box = taken.box
        if taken.borders:
            notes.append(f"Numbers at the borders are not stitches: {', '.join(taken.borders)}.")
        if taken.is_downward:
            notes.append("Its rows are numbered from the top; the lowest one is knitted first, and is row 1 here.")
        if taken.is_by_more:
            notes.append("Its row numbers leave some out; every row that is drawn is knitted once.")
        legend = [one for found in legends.values() for one in found]
    if headings := _headings(view, box):
        notes.append(f"Filled cells that say a word are no stitches: {_some(headings)}.")
    rows = [
        [view.at(row, column) for column in range(box.left, box.right + 1)] for row in range(box.top, box.bottom + 1)
    ]
    chart = Chart(rows, view.box_words(box), view, box, legend, notes)
    _check(chart, shown, has_ground=has_ground)
    return chart


def _hidden(sheet: Sheet) -> list[str]:
    """What is hidden within what is in use."""
    rows = len({row for row, _ in sheet.cells} - set(sheet.rows))
    columns = len({column for _, column in sheet.cells} - set(sheet.columns))
    many = [f"{many} hidden {what}{'s' * (many > 1)}" for many, what in ((rows, "row"), (columns, "column")) if many]
    return [f"Left out: {' and '.join(many)}."] if many else []


def _headings(view: View, box: Box) -> list[str]:
    """Filled cells round the chart that are none of it for what they say."""
    around = Box(box.top - 1, box.bottom + 1, box.left - 1, box.right + 1)
    places = product(range(around.top, around.bottom + 1), range(around.left, around.right + 1))
    found = ((place, view.at(*place)) for place in places if not box.has(place))
    return [view.where(*place) for place, cell in found if cell.fill and not is_marked(cell)]


def _several(view: View, box: Box, beside: Sequence[Box], shown: str) -> Problem:
    places = ", ".join(map(view.box_words, beside[:_NAMED]))
    more = f" and {len(beside) - _NAMED} more" if len(beside) > _NAMED else ""
    whole = view.box_words(box.with_others(beside))
    what = f"Beside the chart {view.box_words(box)} there are more cells that may be stitches: {places}{more}."
    mend = f"Which are the chart? Say so, such as --crop {whole}; a yarn's name stands beside its cell in a legend."
    return Problem(what, shown, mend=mend)


def _check(chart: Chart, shown: str, *, has_ground: bool) -> None:
    """That every cell is a stitch, or says that it is none."""
    empty, odd = list[str](), list[str]()
    for row, cells in enumerate(chart.rows, chart.box.top):
        for column, cell in enumerate(cells, chart.box.left):
            if cell == EMPTY:
                empty.append(chart.view.where(row, column))
            elif not cell.fill and len(cell.text) > 1 and not is_number(cell.text):
                odd.append(f"{chart.view.where(row, column)} says {quoted(cell.text, 20)}")
    problems = []
    if empty and not has_ground:
        what = f"{_counted(empty, 'cell')} in the chart {chart.where}: {_some(empty)}. What is knitted there?"
        mend = (
            "Fill them with one solid colour, give them a letter, or say what all of them are: --ground white, or "
            '--ground none if they are no stitches; a cell that says "." is no stitch.'
        )
        problems.append(Problem(what, shown, mend=mend))
    if odd:
        what = f"A stitch is a colour or one letter, and in the chart {chart.where} {_some(odd)}."
        mend = "If these are no stitches say which cells are: --crop B2:K20"
        problems.append(Problem(what, shown, mend=mend))
    if problems:
        raise Problems(problems)


def _counted(found: Sequence[str], what: str) -> str:
    return f"{len(found):,} empty {what}s" if len(found) > 1 else f"One empty {what}"


def _some(found: Sequence[str]) -> str:
    more = f" and {len(found) - _NAMED:,} more" if len(found) > _NAMED else ""
    return f"{', '.join(found[:_NAMED])}{more}"
