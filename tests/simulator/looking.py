"""A random plan looked at whole: read, planned, printed, listed, knitted twice, and what is wrong with it by kind."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.plan.outline import mirrored_trouble
from companion.plan.read import load_text
from companion.problems import Problems
from tests.simulator import checking, told
from tests.simulator.plans import Drawn
from tests.simulator.runs import EDGES
from tests.simulator.stitches import CannotBeDone
from tests.simulator.words import Manner, NotUnderstood
from tests.simulator.working import Knitted, knit


class Fault(NamedTuple):
    """What is wrong: of the "printed" rows or the "listed" steps, its kind, and in words."""

    of: str
    kind: str
    what: str


class Refused(Exception):
    """The plan is told to be one that no hands can work."""


class Looked(NamedTuple):
    """The faults of a plan, and how much there was in it of what. Words that fit two strands of one yarn are no
    fault: either is right there, and to hold what follows the one that is planned is taken up."""

    faults: tuple[Fault, ...]
    held: Counter[str]


def piece_of(drawn: Drawn) -> tuple[Piece, Strands]:
    """The plan read, for these hands, and its strands.

    Raises:
        Refused: it is told to be wrong, or left hands cannot work it.
    """
    try:
        piece = load_text(drawn.text, "quay.yaml", drawn.files).piece
    except Problems as found:
        what = next(problem.what for problem in found.problems if not problem.is_warning)
        raise Refused(re.sub(r"[0-9][0-9,]*", "n", what).split("counted from the bottom, ")[-1]) from None
    piece = replace(piece.for_hands(is_mirrored=drawn.is_mirrored), is_trapping=drawn.is_trapping)
    if drawn.is_mirrored and mirrored_trouble(piece):
        raise Refused("cannot be worked mirrored")
    return piece, plan_strands(piece.rows, piece.carry).strands


def look(drawn: Drawn, *, is_uk: bool = False, changed: Callable[[Strands], Strands] = lambda same: same) -> Looked:
    """Everything that is wrong. ``changed``: the strands in place of those that are planned.

    Raises:
        Refused: as ``piece_of`` says.
    """
    piece, strands = piece_of(drawn)
    strands = changed(strands)
    manner = Manner(is_uk, drawn.is_mirrored)
    listed = checking.listed(piece, strands)
    printed, held = tuple(_printed(drawn, piece, strands, manner)), _held(drawn, listed, strands)
    held["words that fit two strands"] = sum(fault.kind == "fits two" for fault in printed)
    found = (fault for fault in printed if fault.kind != "fits two")
    return Looked((*found, *_listed(drawn, piece, strands, listed)), held)


def _printed(drawn: Drawn, piece: Piece, strands: Strands, manner: Manner) -> Iterator[Fault]:
    try:
        knitted = checking.as_printed(piece, strands, drawn.rows, manner)
    except (CannotBeDone, NotUnderstood) as fault:
        yield Fault("printed", kind_of(fault), str(fault))
    else:
        yield from _common("printed", drawn, knitted)


def _listed(drawn: Drawn, piece: Piece, strands: Strands, listed: told.Written) -> Iterator[Fault]:
    try:
        knitted = knit(listed, is_mirrored=piece.is_mirrored, column=min(drawn.rows[0].cells))
    except (CannotBeDone, NotUnderstood) as fault:
        yield Fault("listed", kind_of(fault), str(fault))
        return
    yield from _common("listed", drawn, knitted)
    yield from (Fault("listed", "strands", what) for what in checking.from_ledger(strands, knitted))
    yield from (Fault("listed", "ends", what) for what in checking.from_corners(strands, knitted))
    yield from (Fault("listed", "yarn", what) for what in checking.from_reckoning(piece, strands, knitted))


def _common(of: str, drawn: Drawn, knitted: Knitted) -> Iterator[Fault]:
    yield from (Fault(of, "chart", what) for what in checking.from_chart(drawn.rows, knitted))
    yield from (Fault(of, note.kind, note.what) for note in knitted.needles.notes)
    yield from (Fault(of, "shaped elsewhere", what) for what in _elsewhere(drawn, knitted))


def _elsewhere(drawn: Drawn, knitted: Knitted) -> Iterator[str]:
    """Decreases that do not lie as many stitches in as the plan asks for, in rows wide enough for all that is made
    and lost at both edges; nearer to the edge they may lie where the colour changes on the way."""
    for row in knitted.rows:
        for decrease in row.decreases:
            if decrease.of <= 2 * drawn.shaping + 10 or decrease.is_of_seam or decrease.inward == drawn.shaping:
                continue
            cells = {column: yarn for column, yarn, *_ in row.cells}
            is_right = (EDGES[decrease.how] == "right") != drawn.is_mirrored
            edge = sorted(cells, reverse=not is_right)[:drawn.shaping + 1]
            if decrease.inward > drawn.shaping or len({cells[column] for column in edge}) == 1:
                yield f"row {row.number} {row.part}: {decrease.how} lies {decrease.inward} stitches in"


KINDS = {
    "a count below nothing": r"expected a number at: '-",
    "more than there is": r"in the middle of a row|stitches are left to work",
    "after the bind-off": r"told after everything is bound off",
    "ends laid in": r"ends are told to be woven in",
    "tail elsewhere": r"no tail of \w+ hangs one stitch back",
}
"""What of that which cannot be done is of one kind."""


def kind_of(fault: CannotBeDone | NotUnderstood) -> str:
    """Where words did not find a strand, another one may have been taken up: what follows is of that kind."""
    if isinstance(fault, CannotBeDone) and any(note.kind == "on needle" for note in fault.notes):
        return "on needle"
    return next((kind for kind, pattern in KINDS.items() if re.search(pattern, str(fault))), "cannot be done")


def _held(drawn: Drawn, listed: told.Written, strands: Strands) -> Counter[str]:
    """How much of what there is in a plan."""
    held = Counter({"rows": len(listed.rows), "strands": len(strands.first)})
    held["sections narrower than the one below"] = drawn.narrower
    held["plain rows above a shaped chart"] = drawn.text.count("- plain") + drawn.text.count("- field")
    held["motifs on shaped charts"] = "motifs" in drawn.text and strands.rows.fabric.is_shaped
    held["edges in the yarn beside them"] = drawn.text.count("edges: {")
    held["plans for left hands"] = int(drawn.is_mirrored)
    offs = sum(isinstance(doing, told.BindOff) for row in listed.rows for run in row.runs for doing in run.doings)
    held["bind-offs of left hands, a row later"] = offs * drawn.is_mirrored
    runs = [run for row in listed.rows for run in row.runs]
    for doing in (doing for run in runs for doing in run.doings):
        held[_NAMES.get(type(doing), "")] += 1
    for lead in (lead for run in runs for lead in run.leads):
        match lead:
            case told.Share():
                held["runs that strands share"] += 1
                held["runs that three or more share"] += len(lead.works) > 2
            case told.Steady():
                held["strands steadied"] += 1
            case told.Take(_, "middle"):
                held["shared starts"] += 1
            case told.Take(_, "with", rested=int(rows)) if rows:
                held["strands that rested"] += 1
            case told.CastOn():
                held["cast-ons in several strands"] += len(lead.sections) > 1
                held["cast-ons that are cut"] += lead.is_cut
    for end in (end for row in listed.rows for end in row.ends):
        held["openings"] += isinstance(end, told.Divide)
        held["parts joined again"] += isinstance(end, told.JoinParts)
        held["parts joined with stitches between"] += isinstance(end, told.JoinParts) and end.between > 0
        held["parts joined across the one from the holder first"] += (
            isinstance(end, told.JoinParts) and end.held == end.first
        )
        held["strands cut"] += len(end.strands) if isinstance(end, told.Cut) else 0
        held["middles bound off"] += isinstance(end, told.Divide | told.TakeUp) and bool(_first(end))
        held["middles held"] += isinstance(end, told.Divide) and end.is_held
        held["runs bound off in their own strand"] += len(end.others) if isinstance(end, told.BindOffAll) else 0
        held["changes from flat to round or back"] += isinstance(end, told.Goes)
    cells = [cell for row in drawn.rows for cell in row.cells.values()]
    held["stitches of ribs"] = sum(look[0] == "rib" for _, look in cells)
    held["stitches of other textures"] = sum(look[0] not in ("rib", "stockinette") for _, look in cells)
    held["rows with stitches for a seam"] = sum(row.seam_stitches > 0 for row in strands.rows.fabric.rows)
    held["tubes with flat parts"] = int(len({row.is_round for row in drawn.rows}) > 1)
    held["moves behind"] = sum(len(set(row)) < len(row) for row in strands.strand_of)
    held["rounds"] = sum(row.kind == "Round" for row in listed.rows)
    del held[""]
    return held


def _first(end: told.Divide | told.TakeUp) -> int:
    return end.goes_first if isinstance(end, told.Divide) else end.middle


_NAMES = {
    told.BindOff: "bind-offs at a row's start", told.CastOnBefore: "cast-ons before a row", told.Loops: "loops",
    told.Decrease: "decreases", told.Lift: "lifted increases", told.Slip: "slipped edge stitches",
    told.Catch: "catches", told.Resting: "passed strands that rest", told.LayIn: "tails laid in",
}  # fmt: skip
