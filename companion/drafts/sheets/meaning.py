"""What the cells of a chart mean: each is a stitch in a yarn, and yarns have the names of the legend, or else of
their colours.

A letter that always stands on one colour, or on none, tells stitches apart; letters that stand on several colours
tell nothing of the yarn: there the colours do.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from companion.drafts.names import colour_names, symbols_of
from companion.drafts.sheets import legend
from companion.drafts.sheets.finding import NO_STITCH, Chart
from companion.drafts.sheets.legend import Use
from companion.drafts.sheets.sheet import EMPTY, Cell
from companion.knitting.cloth.fabric import Stitch, Yarn
from companion.knitting.value import Record
from companion.plan.amount import AmissError, symbol
from companion.plan.colours import NAMED
from companion.problems import Problem, Problems, quoted

MOST_YARNS = 40
"""A chart of more colours is a photograph."""

_MADE_UP = (
    "oldlace", "steelblue", "indianred", "goldenrod", "seagreen", "saddlebrown", "slateblue", "orchid", "black",
    "darkgray", "coral", "teal", "navy", "yellowgreen", "pink", "maroon",
)  # fmt: skip
"""Colours for letters that stand on none, so that a screen can tell them apart."""


class Meant(Record):
    """``symbols``: what each symbol of the chart stands for; ``drawn``: its lines from the top; ``notes``: what a
    knitter should know, in sentences."""

    yarns: Sequence[Yarn]
    symbols: Mapping[str, Stitch]
    drawn: Sequence[str]
    notes: Sequence[str]


def meant(chart: Chart, ground: str, shown: str) -> Meant:
    """The chart as a plan draws it. ``ground``: the colour of empty cells.

    Raises:
        Problems: it has too many yarns or none, or its legend is amiss.
    """
    known, notes = _keys(chart, ground)
    many = Counter(known[cell] for row in chart.rows for cell in row if known[cell] is not None)
    keys = [key for key, _ in many.most_common() if key is not None]
    if len(keys) > MOST_YARNS:
        what = f"The chart {chart.where} has {len(keys)} colours and letters; up to {MOST_YARNS} are yarns."
        mend = "Is it a photograph? Save it as a picture, and draft from that: so many --colours are chosen then."
        raise Problems([Problem(what, shown, mend=mend)])
    if not keys:
        raise Problems([Problem(f"The chart {chart.where} has no stitches.", shown)])
    lines = list(legend.lines(chart, shown))
    uses = _named([_with_legend(key, lines) for key in keys])
    colours = _colours(uses, lines, shown)
    if made_up := [name for name, colour in colours.items() if not colour]:
        spare = [NAMED[name] for name in _MADE_UP if NAMED[name] not in colours.values()]
        colours |= {name: spare[at % len(spare)] for at, name in enumerate(made_up)}
        notes.append(f"No colour is shown for {', '.join(made_up)}: those in the plan are made up, yours to change.")
    symbols = dict(zip(keys, _symbols(uses), strict=True))
    of_yarn = {use.stitch.yarn: symbols[key] for key, use in reversed(list(zip(keys, uses, strict=True)))}
    of_cell = {cell: "." if key is None else symbols[key] for cell, key in known.items()}
    return Meant(
        [Yarn(name, colour, of_yarn.get(name, "?")) for name, colour in colours.items()],
        {symbols[key]: use.stitch for key, use in zip(keys, uses, strict=True)},
        ["".join(of_cell[cell] for cell in row) for row in chart.rows], notes,
    )


def _keys(chart: Chart, ground: str) -> tuple[dict[Cell, Use | None], list[str]]:
    """For every cell what tells its stitch from others, None where there is none; and what is said of that."""
    cells = dict.fromkeys(cell for row in chart.rows for cell in row)
    colours_of, letters_of = dict[str, set[str]](), dict[str, set[str]]()
    for cell in cells:
        if cell.text and cell.fill and cell != NO_STITCH:
            colours_of.setdefault(cell.text, set()).add(cell.fill)
            letters_of.setdefault(cell.fill, set()).add(cell.text)
    several = sorted(letter for letter, colours in colours_of.items() if len(colours) > 1)
    known = dict[Cell, Use | None]()
    for cell in cells:
        letter, fill = ("", ground) if cell == EMPTY else cell
        if several and fill:
            letter = ""
        elif not letter and len(letters_of.get(fill, ())) == 1:
            (letter,) = letters_of[fill]
        elif letter and not fill:
            (fill,) = colours_of.get(letter, {""}) if not several else ("",)
        known[cell] = None if cell == NO_STITCH else Use(letter, fill)
    said = ", ".join(map(quoted, several[:5]))
    notes = [f"Cells of several colours say {said}: the colour counts there, not the letter."] if several else []
    return known, notes


def _with_legend(key: Use, lines: Sequence[Use]) -> Use:
    """A key with what the legend says of it."""
    by_letter = [line for line in lines if key.letter and line.letter == key.letter]
    by_colour = [line for line in lines if key.fill and line.fill == key.fill and not (key.letter and line.letter)]
    line = next(iter([*by_letter, *by_colour]), key)
    return line._replace(letter=key.letter, fill=key.fill or line.fill)


def _named(uses: Sequence[Use]) -> list[Use]:
    """Every use with a name for its yarn: that of its colour, or its letter, where the legend says none."""
    taken = {name for use in uses for name in use.stitch[::2] if name}
    nameless = [use for use in uses if not use.stitch.yarn and use.fill]
    names = dict(zip(nameless, colour_names([use.fill for use in nameless]), strict=True))
    found = []
    for use in uses:
        name = use.stitch.yarn or names.get(use, use.letter)
        if not use.stitch.yarn and name in taken:
            name = next(one for number in range(2, MOST_YARNS + 3) if (one := f"{name} {number}") not in taken)
        taken.add(name)
        found.append(use._replace(stitch=use.stitch._replace(yarn=name)))
    return found


def _colours(uses: Sequence[Use], lines: Sequence[Use], shown: str) -> dict[str, str]:
    """The colour of every yarn that is knitted or sewn, "" where nobody says one.

    Raises:
        Problems: one name stands for two colours.
    """
    colours = dict[str, str]()
    for use in uses:
        name, fill = use.stitch.yarn, "" if use.stitch.sewn else use.fill
        if fill and colours.get(name, fill) not in ("", fill):
            what = f"Two colours are called {quoted(name)} in the legend: {colours[name]} and {fill}."
            raise Problems([Problem(what, shown, mend="Give each yarn a name of its own.")])
        colours[name] = colours.get(name, "") or fill
    sewn = {use.stitch.sewn: use.fill for use in uses if use.stitch.sewn}
    said = {line.stitch.yarn: line.fill for line in lines if not line.stitch.sewn}
    for name in [*colours, *sewn]:
        colours[name] = colours.get(name) or said.get(name) or sewn.get(name, "")
    return colours


def _symbols(uses: Sequence[Use]) -> list[str]:
    """A symbol for every use: its letter if a plan may have it."""
    kept = {use.letter for use in uses if _is_symbol(use.letter)}
    others = [use.stitch.yarn for use in uses if use.letter not in kept]
    spare = iter(symbols_of(others, kept))
    return [use.letter if use.letter in kept else next(spare) for use in uses]


def _is_symbol(letter: str) -> bool:
    try:
        return symbol(letter) == letter and letter.isprintable()
    except AmissError:
        return False
