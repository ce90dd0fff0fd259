"""A piece as one compact JSON text and back, without loss, so that taking a piece up again parses no plan.

Equal stitches and equal rows are written once; a row is runs, the fabric a list of which row comes when. The text is
a cache: whoever keeps it must be able to make it anew from the plan, since ``unpack`` reads its own form only.
"""

from __future__ import annotations

import json
from fractions import Fraction
from itertools import groupby
from typing import Any

from companion.knitting.cloth.fabric import Ball, Fabric, FabricRow, Gauge, Part, Run, Stitch, Texture, Yarn
from companion.knitting.cloth.rows import Casting
from companion.knitting.cloth.seams import Seams
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import Winding

FORM = 10
"""Changes whenever the form of the text does."""

_PARTS: tuple[Part, ...] = ("", "left", "right")


def pack(piece: Piece) -> str:
    """The piece as JSON text, ASCII, on one line."""
    stitches: dict[Stitch | None, int] = {}
    rows: dict[FabricRow, int] = {}
    order = [rows.setdefault(row, len(rows)) for row in piece.fabric.rows]
    packed_rows = []
    for row in rows:
        packed_rows.append([int(row.is_round), _PARTS.index(row.part), row.seam_stitches])
        for run in row.runs:
            packed_rows[-1] += (run.count, stitches.setdefault(run.stitch, len(stitches)))
    gauge, carry, sample, winding = piece.gauge, piece.carry, piece.sample, piece.winding
    parts = {
        "form": FORM,
        "title": piece.title,
        "gauge": [str(gauge.stitches), str(gauge.rows), str(gauge.over_cm)],
        "gauges": {kind: [str(g.stitches), str(g.rows), str(g.over_cm)] for kind, g in piece.gauges.items()},
        "seams": [_text(piece.seams.left), _text(piece.seams.right)],
        "carry": [carry.reach, carry.behind, carry.rest, carry.share],
        "for_baby": piece.is_for_baby,
        "mirrored": piece.is_mirrored,
        "told": [piece.dialect, piece.units],
        "small_areas": piece.small_areas,
        "inward": piece.inward,
        "worn": piece.worn,
        "middle_held": piece.fabric.is_middle_held,
        "cast_on": [piece.cast_on.method, piece.cast_on.is_each, piece.cast_on.yarn],
        "slipped_edges": piece.has_slipped_edges,
        "sample": sample and [sample.stitches, str(sample.yarn_cm)],
        "tail": _text(piece.tail_cm),
        "winding": [str(winding.loose_cm), str(winding.butterfly_cm), str(winding.bobbin_cm)],
        "yarns": [[y.name, y.colour, y.symbol, _text(y.ball.metres), _text(y.ball.grams)] for y in piece.yarns],
        "stitches": [_pack_stitch(stitch) for stitch in stitches],
        "rows": packed_rows,
        "order": [[index, len(list(same))] for index, same in groupby(order)],
    }
    return json.dumps(parts, separators=(",", ":"))


def unpack(text: str) -> Piece:
    """The piece that was packed.

    Raises:
        ValueError: the text is no packed piece of this form.
    """
    try:
        parts = json.loads(text)
        if parts["form"] != FORM:
            raise KeyError(FORM)
        return _piece(parts)
    except (AttributeError, LookupError, TypeError, ValueError, ArithmeticError, RecursionError) as error:
        raise ValueError(f"not a packed piece: {error!r}") from error


def _piece(parts: dict[str, Any]) -> Piece:
    stitches = [_stitch(one) for one in parts["stitches"]]
    rows = [_row(numbers, stitches) for numbers in parts["rows"]]
    order = [row for index, times in parts["order"] for row in [rows[index]] * times]
    reach, behind, rest, share = parts["carry"]
    loose, butterfly, bobbin = map(Fraction, parts["winding"])
    yarns = tuple(
        Yarn(name, colour, symbol, Ball(_number(metres), _number(grams)))
        for name, colour, symbol, metres, grams in parts["yarns"]
    )
    left, right = map(_number, parts["seams"])
    method, is_each, yarn = parts["cast_on"]
    fabric = Fabric(tuple(order), bool(parts["middle_held"]))
    return Piece(
        parts["title"], _gauge(parts["gauge"]), yarns, fabric, Carry(reach, behind, rest, share),
        bool(parts["for_baby"]), _sample(parts["sample"]), _number(parts["tail"]), Winding(loose, butterfly, bobbin),
        bool(parts["mirrored"]), {kind: _gauge(told) for kind, told in parts["gauges"].items()}, Seams(left, right),
        parts["told"][0], parts["told"][1], int(parts["small_areas"]), int(parts["inward"]),
        parts["worn"], cast_on=Casting(method, bool(is_each), yarn), has_slipped_edges=bool(parts["slipped_edges"]),
    )  # fmt: skip


def _gauge(told: list[str]) -> Gauge:
    stitches, rows, over_cm = map(Fraction, told)
    return Gauge(stitches, rows, over_cm)


def _row(numbers: list[int], stitches: list[Stitch | None]) -> FabricRow:
    is_round, part, seam_stitches, *cells = numbers
    runs = tuple(Run(n, stitches[i]) for n, i in zip(cells[::2], cells[1::2], strict=True))
    return FabricRow(runs, bool(is_round), _PARTS[part], seam_stitches)


def _pack_stitch(stitch: Stitch | None) -> list[str | int] | None:
    if stitch is None:
        return None
    shift = [stitch.texture.shift] if stitch.texture.shift else []
    return [stitch.yarn, stitch.texture.kind, *stitch.texture.rib, stitch.sewn, *shift]


def _stitch(packed: list[Any] | None) -> Stitch | None:
    if packed is None:
        return None
    yarn, kind, knit, purl, sewn, *shift = packed
    return Stitch(yarn, Texture(kind, (knit, purl), *shift), sewn)


def _sample(packed: list[Any] | None) -> Sample | None:
    if packed is None:
        return None
    stitches, yarn_cm = packed
    return Sample(int(stitches), Fraction(yarn_cm))


def _text(number: Fraction | None) -> str | None:
    return None if number is None else str(number)


def _number(text: str | None) -> Fraction | None:
    return None if text is None else Fraction(text)
