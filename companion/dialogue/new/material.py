"""A plan from what is there already: a demo plan, a picture, a sheet, or written rows."""

from __future__ import annotations

import shlex
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from functools import partial
from math import lcm
from pathlib import Path

from companion.dialogue.new import answers, asked, border, picture
from companion.dialogue.new.at_gauge import Named, at_gauge, typed
from companion.dialogue.new.made import Made, changed, limited
from companion.dialogue.new.steps import Step, Steps
from companion.dialogue.questions import Choice, Words
from companion.drafts.bordered import Border, Sides, bordered, sides_of, why_none
from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.words.terms import Terms
from companion.plan.amount import AmissError
from companion.plan.demo import TOLD, demo_plans
from companion.plan.files import plan_text
from companion.plan.read import load
from companion.problems import Problem, Problems, quoted

PICTURES = (".png", ".jpg", ".jpeg", ".gif", ".bmp", ".webp")
SHEETS = (".xlsx", ".ods", ".csv", ".tsv")
ROWS = (".txt",)

_MOST_LISTED = 50


def from_demo(_: Path, terms: Terms) -> Steps[Made]:
    """Ask which one, and what is to be other in it."""
    plans = demo_plans()
    lines = tuple(f"{plan.stem}: {TOLD[plan.stem]}" if plan.stem in TOLD else plan.stem for plan in plans)
    at: int = yield Step(Choice(("Which demo plan?",), lines))
    loaded = load(plans[at])
    named = Named(plans[at].stem, plans[at].stem)
    return (yield from _own(Made(loaded.text, loaded), terms, named, is_demo=True))


def from_picture(folder: Path, terms: Terms) -> Steps[Made]:
    """Ask for the picture, and how it is drafted."""
    path = yield from _file(folder, "picture", PICTURES, picture.has_ground)
    gauge = yield from asked.gauge(None, is_inches=terms.is_inches)
    found = yield from picture.drafted(path, gauge, typed(gauge), is_inches=terms.is_inches)
    return (yield from _own(found, terms))


def from_sheet(folder: Path, terms: Terms) -> Steps[Made]:
    """Ask for the sheet, and for what it does not say."""
    path = yield from _file(folder, "sheet", SHEETS)
    about = "A cell is a stitch: how large they come out the gauge says."
    gauge = yield from asked.gauge(None, is_inches=terms.is_inches, about=about)
    part: str = yield Step(Words("The cells of its chart, such as B2:K20; nothing has them found:"), str.strip)
    words = Words("What its empty cells are: a colour, or none where there is no stitch; nothing if there are none:")
    found: Made = yield Step(words, lambda typed: _sheet(path, gauge, part, typed.strip()))
    return (yield from _own(found, terms))


def from_rows(folder: Path, terms: Terms) -> Steps[Made]:
    """Ask for the text, and for its gauge where it says none."""
    path = yield from _file(folder, "text", ROWS, partial(_rows, ask=_no_gauge_yet))
    named: Named | None = None
    try:
        found = _rows(path, ask=_no_gauge_yet)
        plan = f"{path.stem}.yaml"
        named = Named(path.name, plan, shlex.join(["rowside", "draft", path.name, "-o", plan]))
    except _NoGauge:
        gauge = yield from asked.gauge(None, is_inches=terms.is_inches, about="The rows say no gauge.")
        found = _rows(path, gauge)
    return (yield from _own(found, terms, named))


def _file(folder: Path, what: str, suffixes: tuple[str, ...], check: Callable[[Path], object] = bool) -> Steps[Path]:
    """One of the files of this kind, or one that is named. ``check`` raises ``Problems`` where it is of no use."""

    def sound(path: Path) -> Path:
        with suppress(_NoGauge):
            check(path)
        return path

    there = [path for path in _in_folder(folder) if path.suffix.lower() in suffixes][:_MOST_LISTED]
    if there:
        lines = (*(path.name for path in there), "Another one, by its name")
        choice = Choice((f"Which {what}?",), lines)

        def listed(at: int) -> Path | str:
            return sound(there[at]) if at < len(there) else "another"

        chosen: Path | str = yield Step(choice, listed)
        if isinstance(chosen, Path):
            return chosen
    words = Words(f"The file of the {what} ({', '.join(suffixes)}):")

    def named(typed: str) -> Path:
        path = answers.path_in(folder, typed.strip())
        if not typed.strip() or path.suffix.lower() not in suffixes:
            raise AmissError(f"must be a file that ends in {', '.join(suffixes)}.")
        if not path.is_file():
            raise Problems([Problem(f"There is no file {quoted(path.name)} there.", str(path))])
        return sound(path)

    path: Path = yield Step(words, named)
    return path


def _in_folder(folder: Path) -> Iterator[Path]:
    try:
        yield from sorted(path for path in folder.iterdir() if path.is_file())
    except OSError:
        return


def _own(found: Made, terms: Terms, named: Named | None = None, *, is_demo: bool = False) -> Steps[Made]:
    """Ask what is to be other than in a plan: title, gauge where it has one of its own, colours, border, limits.
    ``named``: what the plan of a gauge of its own is made from; ``is_demo``: it has all the edges it is to have."""
    title = yield from asked.titled(found.title)
    about = ""
    if named:
        gauge = yield from asked.gauge(found.loaded.piece.gauge, is_inches=terms.is_inches)
        found, about = yield from at_gauge(found, gauge, named, terms)
    piece = found.loaded.piece
    yarns: list[Yarn] = []
    ways = ("They stay as they are", "Another name or colour, or what a ball holds: ask me yarn by yarn")
    listed = ", ".join(yarn.name for yarn in piece.yarns)
    at: int = yield Step(Choice((f"The yarns: {listed}.",), ways), about=about)
    for yarn in piece.yarns:
        yarns.append((yield from _other_yarn(yarn, yarns, piece.yarns)) if at else yarn)
    found = changed(found, title, piece.gauge, tuple(yarns))
    about = asked.piece_told(found.loaded.piece, terms)
    none = "those it has are drawn in its plan" if is_demo else why_none(found.loaded.piece)
    sides = Sides(False, False, False) if is_demo else sides_of(found.loaded.piece)
    if not any(sides):
        about += f"\nNo border is asked for: {none}."
    else:
        about += f"\nNo border at its sides: {none}." if none else ""
        found = yield from _in_border(found, sides, terms, about)
        about = ""
    limits = yield from asked.limits(found.loaded.piece, is_counted=True, about=about)
    return limited(found, limits)


def _in_border(found: Made, sides: Sides, terms: Terms, about: str) -> Steps[Made]:
    """Ask for the border that goes round what is drawn, as far as it can."""
    piece = found.loaded.piece
    is_round = any(row.is_round for row in piece.fabric.rows)
    noun = "round" if is_round else "row"
    stitches = columns_drawn(piece.fabric)
    rows = len(piece.fabric.rows)
    room = (answers.MOST_ACROSS - stitches) // 2, answers.MOST_ACROSS - rows
    worked = [run.stitch for row in piece.fabric.rows for run in row.runs if run.stitch]
    ribs = lcm(*(sum(stitch.texture.rib) for stitch in worked if stitch.texture.kind == "rib"))
    below_by = 1 if sides.beside or is_round else 2
    edge = yield from border.asked_for(
        piece.gauge, room, terms, about=about, usual=border.NONE, sides=sides, by=ribs, below_by=below_by, noun=noun
    )
    if edge == Border():
        return found
    names = [yarn.name for yarn in piece.yarns]
    first = Counter[str]()
    for run in piece.fabric.rows[0].runs:
        first.update({run.stitch.yarn: run.columns} if run.stitch else {})
    at = names.index(first.most_common(1)[0][0])
    if len(names) > 1:
        lines = tuple(names)
        at = yield Step(Choice(("The border goes round it, in which yarn?",), lines, at))
    again = found.anew(bordered(found.text, edge, names[at], stitches, is_round=is_round))
    uneven = border.not_even(edge, stitches) if is_round else ()
    return again._replace(notes=(*border.told(edge, terms, noun), *uneven, *again.notes))


def _other_yarn(yarn: Yarn, before: Sequence[Yarn], every: Sequence[Yarn]) -> Steps[Yarn]:
    """What one of a plan's yarns is to be instead. ``before``: what those before it are."""
    others = [*(other.name for other in before), *(other.name for other in every[len(before) + 1:])]
    words = Words(f"What do you call {quoted(yarn.name)}?", yarn.name)
    name: str = yield Step(words, answers.stripped(answers.new_name(others)))
    return (yield from asked.coloured(yarn._replace(name=name)))


def _sheet(path: Path, gauge: Gauge, part: str, ground: str) -> Made:
    from companion.drafts.sheets.drafted import from_sheet

    words = ["rowside", "draft", path.name, "--gauge", typed(gauge)]
    for option, value in (("--crop", part), ("--ground", ground)):
        words += [option, value] if value else []
    found = from_sheet(path, gauge, shlex.join(words), part or None, ground or None)
    return Made(found.text, found.loaded, found.notes)


class _NoGauge(Exception):
    """Written rows say none."""


def _no_gauge_yet() -> Gauge:
    raise _NoGauge


def _rows(path: Path, gauge: Gauge | None = None, ask: Callable[[], Gauge] | None = None) -> Made:
    from companion.drafts.rows.plan import Asked, drafted

    words = ["rowside", "draft", path.name, *(["--gauge", typed(gauge)] if gauge else [])]
    notes = (f"Drafted from written rows ({path.name}) by", shlex.join(words))
    found = drafted(plan_text(path), str(path), Asked(gauge, {}, "", "", path.stem, notes), ask)
    return Made(found.text, found.loaded, (*found.known, *(warning.what for warning in found.warnings)))
