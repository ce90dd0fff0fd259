"""The JSON that README.md beside this file promises: the same steps as the written rows, for programs.

Keys and their order are the contract. Pieces of one JSON value come one at a time; joined they are ASCII only,
so that no terminal or file encoding can spoil them. Rows are told by number (from 1), segments by their index in
working order (from 0), strands by number in order of joining (from 1).
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from companion.knitting import words
from companion.knitting.cloth.areas import Area, sewing, stitch_number
from companion.knitting.cloth.rows import Row, Rows
from companion.knitting.cloth.tubes import TubeSeam
from companion.knitting.hands.ends import EndState, ends_of
from companion.knitting.hands.finishing import after_last_row
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.hands.needles import makes
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import RunSteps, row_runs
from companion.knitting.hands.steps import CastOn, CutCastOn, End, LayIn, Shape, Step, name_of
from companion.knitting.hands.weaving import Leg, Weaving, backs_of
from companion.knitting.piece import Piece
from companion.knitting.reckoning import choices as comparing
from companion.knitting.reckoning.choices import Choice
from companion.knitting.reckoning.quantities import CAST_ON_STRAND, Length, YarnTotal, lengths, totals
from companion.knitting.reckoning.savings import Saving
from companion.knitting.reckoning.sewing import lengths_of
from companion.knitting.strands.meetings import Node
from companion.knitting.strands.plan import StrandPlan
from companion.knitting.strands.strands import Strands, StrandSummary
from companion.knitting.value import Value
from companion.problems import Problem

if TYPE_CHECKING:
    from companion.pages.class_table import Needed
    from companion.pages.shelf import Listed
    from companion.plan.classes import KnittingClass
    from companion.progress.card import Card
    from companion.progress.pace import Forecast
    from companion.progress.recount import Recount


def rows(piece: Piece, strands: Strands, first: int, last: int) -> Iterator[str]:
    """Rows ``first`` to ``last`` (numbers, from 1) of a piece."""
    cast_on = f'"cast_on": {json.dumps(_cast_on(strands))}, '
    yield f'{{"title": {json.dumps(piece.title)}, {cast_on}"rows": ['
    for index in range(first - 1, last):
        comma = "," if index + 1 < last else ""
        yield f"\n{json.dumps(_row(piece, strands, index))}{comma}"
    finishing = [step_as_json(piece, step) for step in _after_last_row(piece, strands)]
    yield f'\n], "finishing": {json.dumps(finishing)}}}\n'


def _after_last_row(piece: Piece, strands: Strands) -> tuple[Step, ...]:
    backs, laid_in = backs_of(piece, strands), set[End]()
    for row in range(len(strands.rows) if piece.catching.is_trapping else 0):
        inside = (step for run in row_runs(strands, row, piece.catching) for step in run.inside)
        laid_in.update(step.end for step in inside if isinstance(step, LayIn))
    at_seams = [backs.weaving(end).is_for_seam for end in ends_of(strands) if end not in laid_in]
    areas = sewing(piece.fabric) or None
    ends, waiting = at_seams.count(False), at_seams.count(True)
    return after_last_row(piece, strands, ends=ends, at_seams=waiting, areas=areas)


def strands(piece: Piece, plan: StrandPlan) -> Iterator[str]:
    """The strands of a piece and their yarn, its figures, and the proof that no plan has fewer strands."""
    rows = plan.strands.rows
    wound = lengths(piece, plan.strands)
    by_strand = {length.strand: length for length in wound}
    yield '{"strands": ['
    yield from _listed(
        {**_strand(rows[s.joined.row], rows[s.cut.row], s), **_length(by_strand[s.strand])}
        for s in plan.strands.summaries
    )
    proof = {"exits": _places(rows, plan.proof.exits), "entries": _places(rows, plan.proof.entries)}
    yarns = [_yarn(total) for total in totals(piece, wound)]
    own, cast_on = by_strand.get(CAST_ON_STRAND), ""
    if own:
        cast_on_length = {"yarn": own.yarn, "stitches": rows[0].stitches, **_length(own)}
        cast_on = f'"cast_on": {json.dumps(cast_on_length)},\n'
    yield f'],\n{cast_on}"total": {json.dumps(plan.strands.total._asdict())},\n'
    yield f'"yarns": {json.dumps(yarns)},\n"proof": {json.dumps(proof)}}}\n'


def choices(piece: Piece, found: Sequence[Choice]) -> Iterator[str]:
    """What every choice of limits would cost."""
    beaten, best = comparing.beaten(found), comparing.recommended(piece, found)
    counts = ("strands", "ends", "most_at_once", "carried")
    yield "["
    yield from _listed(
        {
            **choice.limits._asdict(), **dict(zip(counts, choice.figures, strict=False)),
            "longest_float_cm": round(choice.figures.longest_cm, 2), "metres": float(choice.figures.yarn_cm / 100),
            "today": choice.limits == piece.carry and not choice.sewn,
            "recommended": choice == best, "beaten": choice in beaten,
            "sewn_on": [_saving(piece, saving) for saving in choice.sewn],
        }
        for choice in found
    )
    yield "]\n"


def areas(piece: Piece, found: Sequence[Saving], together: tuple[int, int]) -> Iterator[str]:
    """The small areas that are worth sewing on, and what they save together."""
    sewn = [{**_area(piece, area), "lengths": lengths_of(piece, area.stitches)} for area in sewing(piece.fabric)]
    total = {"strands": together[0], "ends": together[1]}
    yield '{"areas": ['
    yield from _listed(_saving(piece, saving) for saving in found)
    yield f'],\n"together": {json.dumps(total)},\n"sewn_on": {json.dumps(sewn)}}}\n'


def _area(piece: Piece, area: Area) -> dict[str, object]:
    fabric, first = piece.fabric, area.first
    place = {"row": fabric.level(first.row) + 1, "stitch": stitch_number(fabric, first), "column": first.column}
    return {"yarn": area.yarn, **place, "stitches": area.stitches}


def _saving(piece: Piece, saving: Saving) -> dict[str, object]:
    saved = {"over": saving.over, "strands": saving.strands, "ends": saving.ends, "lengths": saving.lengths}
    return {**_area(piece, saving.area), **saved}


def ends(piece: Piece, strands: Strands, ledger: Iterable[tuple[End, EndState]]) -> Iterator[str]:
    """Every end and how it is woven in."""
    backs = backs_of(piece, strands)
    yield "["
    yield from _listed(_end(strands, end, state, backs.weaving(end)) for end, state in ledger)
    yield "]\n"


def _end(strands: Strands, end: End, state: EndState, weaving: Weaving) -> dict[str, object]:
    row = strands.rows[end.place.row]
    return {
        "part": row.part, "row": row.number, "segment": end.place.segment, "after": end.after, "kind": end.kind,
        "strand": None if end.kind.startswith("cast-on") else strands.at(end.place),
        "yarn": weaving.yarn, "neighbour": weaving.neighbour or None, "state": state,
        "rows_needed": weaving.rows, "closes": weaving.closes or None,
        "route": [_leg(leg) for leg in weaving.legs],
        "cells": [[strands.rows[row].level + 1, column] for row, column in weaving.cells],
        "cm": round(weaving.cm, 1), "split": weaving.is_split, "hides": weaving.hides or None,
        "lighter_by": round(weaving.lighter_by, 1), "for_seam": weaving.is_for_seam,
    }  # fmt: skip


def _leg(leg: Leg) -> list[str | int]:
    leans: list[str | int] = ["right" if leg.leans > 0 else "left", abs(leg.leans)] if leg.leans else []
    return [leg.way, leg.length, *leans]


def row_numbers(piece: Piece, rows: Iterable[int]) -> Iterator[str]:
    """Rows by number."""
    found = (piece.rows[row] for row in rows)
    yield f"{json.dumps([words.row_key(row) if row.part else row.number for row in found])}\n"


def checked(plans: Sequence[tuple[str, Sequence[Problem]]]) -> Iterator[str]:
    """The problems of every plan that was checked, each plan with the name it was given by."""
    yield "["
    yield from _listed({"file": file, "problems": [_problem(p) for p in problems]} for file, problems in plans)
    yield "]\n"


def piece_in_work(card: Card, forecast: Forecast | None) -> Iterator[str]:
    """How far a piece is, and how long the rest of it takes."""
    pace = None if forecast is None else {
        "stitches_an_hour": round(forecast.stitches_an_hour), "seconds_to_end_of_row": round(forecast.row),
        "seconds_left": round(forecast.piece),
    }  # fmt: skip
    yield f"{json.dumps(_card(card) | {'pace': pace})}\n"


def recounted(found: Mapping[str, Recount]) -> Iterator[str]:
    """How far several pieces are and what was done at the needles, each with the file or name it was given by."""
    yield "["
    yield from _listed(
        {"file": given} | _card(one.card) | {
            "unpicked": one.unpicked, "ripped_back": one.rips, "rows_ripped": one.ripped, "minutes": one.minutes,
            "notes": [{"part": row.part, "row": row.number, "text": text} for row, text in one.notes],
        }
        for given, one in found.items()
    )
    yield "]\n"


def pieces(found: Listed) -> Iterator[str]:
    """Every piece, how far it is, what keeps it from being opened, and where its plan and its own file lie."""
    yield "["
    yield from _listed(
        _card(card) | {"trouble": card.trouble, "plan": card.plan_path, "file": str(file)} for card, file in found
    )
    yield "]\n"


def _card(card: Card) -> dict[str, object]:
    return {
        "name": card.name, "title": card.title, "state": card.state, "rows": card.rows, "rows_done": card.rows_done,
        "runs_done": card.runs_done, "ends_ready": card.ready_ends, "ends_left": card.ends_left,
        "areas_left": card.areas_left,
        "worked_at": card.worked_at and card.worked_at.isoformat(timespec="seconds"),
    }  # fmt: skip


def knitting_class(found: KnittingClass, needed: Sequence[Needed]) -> Iterator[str]:
    """What every student of a class knits and needs, and what all need together."""
    from companion.pages.class_table import for_all, winding_for_all

    yield f'{{"title": {json.dumps(found.title)}, "plan": {json.dumps(found.piece.title)}, "students": ['
    yield from _listed(
        {
            "name": one.student.name, "hands": "left" if one.student.piece.is_mirrored else "right",
            "width_cm": round(float(one.size.width_cm), 1), "height_cm": round(float(one.size.height_cm), 1),
            "strands": len(one.student.strands.first), "ends": one.student.strands.total.ends,
            "metres": float(one.cm / 100), "yarns": [_yarn(total) for total in one.totals],
        }
        for one in needed
    )
    yarns = [
        _yarn(total) | {"colour": total.yarn.colour, "students": list(names)} for total, names in for_all(needed)
    ]
    wound = [
        {"yarn": one.yarn.name, "colour": one.yarn.colour, "metres": float(one.cm / 100), "wind": one.way,
         "both_ends": one.is_shared, "lengths": one.times}
        for one in winding_for_all(needed)
    ]  # fmt: skip
    yield f'],\n"yarns": {json.dumps(yarns)},\n"winding": {json.dumps(wound)}}}\n'


def _listed(values: Iterable[object]) -> Iterator[str]:
    """The values of a JSON list, a line each, without its brackets."""
    comma = ""
    for value in values:
        yield f"{comma}\n{json.dumps(value)}"
        comma = ","
    yield "\n" if comma else ""


def _cast_on(strands: Strands) -> dict[str, object]:
    steps = casting_on(strands)
    return {
        "method": strands.rows.cast_on.method,
        "sections": [{"yarn": s.yarn, "stitches": s.stitches} for s in steps if isinstance(s, CastOn)],
        "cut": any(isinstance(step, CutCastOn) for step in steps),
    }


def _row(piece: Piece, strands: Strands, index: int) -> dict[str, object]:
    row, runs = strands.rows[index], row_runs(strands, index, piece.catching)
    steps = [{**step_as_json(piece, step), "segment": run.place.segment} for run in runs for step in run.steps]
    return {
        "part": row.part, "row": row.number, "side": row.side, "toward": row.toward, "stitches": row.stitches,
        "says": piece.said_at(index),
        "segments": [_segment(run) for run in runs],
        "steps": steps + [step_as_json(piece, step) for step in row_end(strands, index)],
    }  # fmt: skip


def step_as_json(piece: Piece, step: Step) -> dict[str, object]:
    """A step by its name, "cast on" or "cross", and what it says."""
    return {"step": name_of(step), **{key: _plain(piece, value) for key, value in step.fields().items()}}


def _plain(piece: Piece, value: object) -> object:
    """A value of a step as JSON has it: rows by number, areas by where they begin."""
    match value:
        case Area():
            return _area(piece, value)
        case End(place, kind, after):
            part, number = piece.rows[place.row].key
            return {"part": part, "row": number, "segment": place.segment, "kind": kind, "after": after}
        case TubeSeam(first, last, stitches):
            return {"first_row": first + 1, "last_row": last + 1, "stitches": stitches}
        case Fraction():
            return float(value)
        case Value():
            return {key: _plain(piece, one) for key, one in value.fields().items()}
        case tuple():
            plain, fields = [_plain(piece, one) for one in value], getattr(value, "_fields", ())
            return dict(zip(fields, plain, strict=True)) if fields else plain
        case _:
            return value


def _segment(run: RunSteps) -> dict[str, object]:
    own = run.segment
    return {
        "yarn": own.yarn, "stitches": own.stitches, "from": own.first, "to": own.last,
        "strand": run.strand, "start": run.start, "carry": run.carry, "last": run.is_last,
        "work": run.hands, "shaping": list(_shaping(run)),
    }  # fmt: skip


def _shaping(run: RunSteps) -> Iterator[list[object]]:
    """What is made and lost in a run, and after how many of its stitches."""
    after = 0
    for step in run.inside:
        if isinstance(step, Shape):
            yield [after, step.how, abs(step.more)]
        after += makes(step)


def _strand(first: Row, last: Row, summary: StrandSummary) -> dict[str, object]:
    return {
        "strand": summary.strand, "yarn": summary.yarn,
        "first_part": first.part, "first_row": first.number, "last_part": last.part, "last_row": last.number,
        "segments": summary.segments, "stitches": summary.stitches, "carried": summary.carried,
    }  # fmt: skip


def _length(length: Length) -> dict[str, object]:
    return {"metres": float(length.cm / 100), "wind": length.way, "shares_length_with": length.shares_with}


def _yarn(total: YarnTotal) -> dict[str, object]:
    return {
        "yarn": total.yarn.name, "metres": float(total.cm / 100),
        "grams": None if total.grams is None else round(float(total.grams), 1),
        "balls": total.balls,
        "tex": None if total.tex is None else round(float(total.tex), 1),
        "weight_class": total.classes[0].number if len(total.classes) == 1 else None,
    }  # fmt: skip


def _places(rows: Rows, nodes: Iterable[Node]) -> list[list[object]]:
    """Each as its row's number and its segment, with the row's part before them where it has one; a place inside a
    run where strands could meet, and after how many of its stitches."""
    keys = ((rows[node.row].key, node[1:]) for node in sorted(nodes))
    return [[part, row, *where] if part else [row, *where] for (part, row), where in keys]


def _problem(problem: Problem) -> dict[str, object]:
    place = {"line": problem.line, "column": problem.column}
    return {**place, "what": problem.what, "mend": problem.mend, "warning": problem.is_warning}
