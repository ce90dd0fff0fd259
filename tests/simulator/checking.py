"""A piece knitted as its rows are printed and as its steps are listed, held against its chart and its ledgers.

Of the package it takes what it prints, and plain values: the fabric, which strand works which run, where ends are
said to be, what yarn is said to be needed. What these must be is added up from what happened on the needles.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from math import ceil, hypot, isclose

from companion.knitting.hands.ends import corner, ends_of
from companion.knitting.piece import Piece
from companion.knitting.reckoning.quantities import Length, lengths
from companion.knitting.strands.strands import Strands
from companion.knitting.words import Terms
from companion.pages import as_json, written
from tests.simulator import reading, steps
from tests.simulator.charts import Wanted, differences
from tests.simulator.needles import Needles
from tests.simulator.stitches import Made, Strand
from tests.simulator.told import Written
from tests.simulator.words import Manner
from tests.simulator.working import Knitted, knit

CAST_ON_WIDTHS, BIND_OFF_WIDTHS, LOOP_WIDTHS = 4, 5, 4.1
"""The yarn of a stitch cast on (its loop besides), bound off, worked, in widths of a stitch. Sources stand with the
figures in ``reckoning/quantities.py`` and ``yarn/loops.py``; here they are written down once more, not imported."""
SPARE, LEAST_SPARE_CM = 0.1, 15


def as_printed(piece: Piece, strands: Strands, asked: Sequence[Wanted], manner: Manner) -> Knitted:
    """The piece as a reader of its written rows knits it, who where words fit two strands takes the one planned."""
    terms = Terms("uk" if manner.is_uk else "us", manner.is_mirrored, worn=piece.worn)
    told = reading.read(list(written.whole(piece, strands, terms)), manner)
    known = {
        Made(place.row + 1, place.segment): Made(before.row + 1, before.segment)
        for place in strands.rows.places() if (before := strands.before(place))
    }
    return knit(told, is_mirrored=manner.is_mirrored, column=min(asked[0].cells), known=known)


def listed(piece: Piece, strands: Strands) -> Written:
    """All its steps, from its JSON."""
    return steps.read(json.loads("".join(as_json.rows(piece, strands, 1, len(piece.rows)))))


def as_listed(piece: Piece, strands: Strands, asked: Sequence[Wanted]) -> Knitted:
    """The piece as it is knitted step by step."""
    return knit(listed(piece, strands), is_mirrored=piece.is_mirrored, column=min(asked[0].cells))


def from_chart(asked: Sequence[Wanted], knitted: Knitted) -> Iterator[str]:
    """Where it is not what is drawn."""
    keys = [(row.part, row.number, row.is_round, row.side) for row in asked]
    worked = [(row.part, row.number, row.kind == "Round", row.side) for row in knitted.rows]
    if keys != worked:
        yield f"rows {worked} were knitted, {keys} are drawn"
        return
    for want, row in zip(asked, knitted.rows, strict=True):
        for told in differences(want, row.cells):
            yield f"row {want.number} {want.part}: {told}"


def from_ledger(strands: Strands, knitted: Knitted) -> Iterator[str]:
    """Where a strand hangs elsewhere than its plan says, after any row, or an end does."""
    for index, row in enumerate(knitted.rows):
        planned = {}
        for number, place in strands.last.items():
            latest = strands.latest(number, (index + 1, 0)) if place.row > index else None
            if latest is not None:
                planned[number] = (latest.row + 1, latest.segment), strands.rows.segment(latest).exit
        hanging = {number: ((at.used.row, at.used.run), at.gap) for number, at in row.hanging.items()}
        if hanging != planned:
            yield f"after row {row.number} {row.part}: {hanging} hang, {planned} are planned"
    planned_ends = sorted((end.kind, end.place.row, end.place.segment, end.after) for end in ends_of(strands))
    ends = sorted(_ends(knitted.needles))
    if ends != planned_ends:
        yield f"ends {ends}, planned {planned_ends}"


def _ends(needles: Needles) -> Iterator[tuple[str, int, int, int]]:
    """Every end by kind, row and run, from 0; one of the cast-on at the run that works its strand first."""
    for tail in needles.tails:
        at = tail.at if tail.at.row else tail.strand.first
        own = "" if tail.strand.number else "cast-on "
        yield f"{own}{tail.kind}", at.row - 1, at.run, tail.after


def from_corners(strands: Strands, knitted: Knitted) -> Iterator[str]:
    """Where an end hangs at another gap than is said: by the column of the stitch beside it."""
    said = {}
    for end in ends_of(strands):
        said[end.kind, *end.place, end.after] = corner(end, strands).gap
    for end, tail in zip(_ends(knitted.needles), knitted.needles.tails, strict=True):
        if said.get(end, tail.gap) != tail.gap:
            yield f"{tail.strand.yarn} {end} hangs at gap {tail.gap}, said is {said[end]}"


def from_reckoning(piece: Piece, strands: Strands, knitted: Knitted) -> Iterator[str]:
    """Where the yarn of a strand is not what it took on the needles."""
    found = {length.strand: length for length in lengths(piece, strands)}
    if found.keys() != {strand.number for strand in knitted.needles.strands}:
        yield f"lengths of {sorted(found)}"
        return
    for strand in knitted.needles.strands:
        length = found[strand.number]
        worked = _worked_cm(piece, strand)
        tails = sum(tail.strand is strand for tail in knitted.needles.tails)
        if not isclose(length.worked_cm, worked, abs_tol=1e-6):
            yield f"strand {strand.number} is reckoned to take {length.worked_cm:.2f} cm and takes {worked:.2f} cm"
        elif length.tails != tails or length.cm != _measured_cm(worked, tails, length):
            yield f"strand {strand.number} with {tails} tails is told as {length.cm} cm with {length.tails}"


def _worked_cm(piece: Piece, strand: Strand) -> float:
    """What it took: stitches, floats, cast-on, bind-off."""
    width, height = float(piece.gauge.over_cm / piece.gauge.stitches), float(piece.gauge.over_cm / piece.gauge.rows)
    loop = float(piece.sample.yarn_cm / piece.sample.stitches) if piece.sample else LOOP_WIDTHS * width
    floats = sum(hypot(stitches * width, rows * height) for stitches, rows in strand.floats)
    cast_on, bound_off = strand.spent["cast on"], strand.spent["bind off"]
    ends = cast_on * (CAST_ON_WIDTHS * width + loop) + bound_off * BIND_OFF_WIDTHS * width
    return strand.spent["stitch"] * loop + floats + ends


def _measured_cm(worked: float, tails: int, length: Length) -> int:
    """With spare and tails, rounded up to 10 cm as far as 1 m and to 50 cm beyond."""
    whole = worked + max(LEAST_SPARE_CM, SPARE * worked) + tails * float(length.tail_cm)
    step = 10 if round(whole, 3) <= 100 else 50
    return ceil(round(whole / step, 6)) * step
