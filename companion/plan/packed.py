"""A piece as one compact JSON text and back, without loss, so that taking a piece up again parses no plan.

Equal stitches and equal rows are written once; a row is runs, the fabric a list of which row comes when. The text is
a cache: whoever keeps it must be able to make it anew from the plan, since ``unpack`` reads its own form only.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace
from fractions import Fraction
from itertools import groupby

from msgspec import MsgspecError, Struct
from msgspec.json import decode, encode

from companion.knitting.cloth.fabric import FabricRow, Run, Stitch
from companion.knitting.piece import Piece

FORM = " ".join(["12", *(field.name for field in fields(Piece))])
"""Changes whenever the form of the text does: with a field of the piece by itself, else by its number."""


class _Packed(Struct, array_like=True):
    """``piece`` without its rows; ``rows`` without their runs, which follow, in turn how many and the number of their
    stitch; ``order``: the number of a row, and how many times on end it comes."""

    form: str
    piece: Piece
    stitches: list[Stitch | None]
    rows: list[tuple[FabricRow, list[int]]]
    order: list[tuple[int, int]]


def pack(piece: Piece) -> str:
    """The piece as JSON text on one line. A Fraction, which alone JSON does not know, is text in it: "7/2"."""
    stitches: dict[Stitch | None, int] = {}
    rows: dict[FabricRow, int] = {}
    order = [rows.setdefault(row, len(rows)) for row in piece.fabric.rows]
    packed_rows = [
        (row._replace(runs=()),
         [number for run in row.runs for number in (run.columns, stitches.setdefault(run.stitch, len(stitches)))])
        for row in rows
    ]  # fmt: skip
    places = [(row, len(list(same))) for row, same in groupby(order)]
    bare = replace(piece, fabric=replace(piece.fabric, rows=()))
    return encode(_Packed(FORM, bare, list(stitches), packed_rows, places), enc_hook=str).decode()


def pack_read(piece: Piece, text: str, files: Mapping[str, str]) -> bytes:
    """A piece with the texts that it was read from."""
    return encode((pack(piece), text, dict(files)))


def unpack_read(packed: bytes) -> tuple[Piece, str, dict[str, str]]:
    """What was packed with its texts.

    Raises:
        ValueError: it is no such thing.
    """
    try:
        piece, text, files = decode(packed, type=tuple[str, str, dict[str, str]])
    except MsgspecError as error:
        raise ValueError(f"not a piece with its texts: {error!r}") from error
    return unpack(piece), text, files


def unpack(text: str) -> Piece:
    """The piece that was packed.

    Raises:
        ValueError: the text is no packed piece of this form.
    """
    try:
        packed = decode(text, type=_Packed, dec_hook=lambda _, number: Fraction(number))
        if packed.form != FORM:
            raise ValueError(packed.form)
        rows = [
            row._replace(runs=tuple(map(Run, runs[::2], map(packed.stitches.__getitem__, runs[1::2]))))
            for row, runs in packed.rows
        ]
        order = [rows[row] for row, times in packed.order for _ in range(times)]
    except (MsgspecError, LookupError, ValueError, TypeError, ArithmeticError, RecursionError) as error:
        raise ValueError(f"not a packed piece: {error!r}") from error
    return replace(packed.piece, fabric=replace(packed.piece.fabric, rows=tuple(order)))
