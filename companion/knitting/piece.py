"""A piece: everything one plan says, ready to be worked."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import field, replace
from fractions import Fraction
from functools import cached_property
from typing import Literal

from companion.knitting.cloth.fabric import Fabric, Gauge, Stitch, TextureKind, Yarn
from companion.knitting.cloth.row_starts import bound_off_at_starts
from companion.knitting.cloth.rows import LONG_TAIL, Casting, Rows
from companion.knitting.cloth.seams import NO_SEAMS, Seams
from companion.knitting.strands.floats import Catching, catching
from companion.knitting.strands.limits import Carry
from companion.knitting.value import Value
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import USUAL, Winding


class Piece(Value, has_defaults=True):
    """One plan, expanded. ``carry`` holds the limits the plan asks for, or the defaults at its gauge; ``sample`` and
    ``tail_cm``, the length left at every end of a strand, are None where the plan does not say. ``is_mirrored``: its
    knitter is left-handed and works it mirrored; chosen when the piece is begun, never by the plan. ``gauge`` is that
    of stockinette; ``gauges`` those of the other textures that were measured. ``dialect`` and ``units``: whose terms
    the plan wants it told in, and in what its lengths ("" = it does not say). ``small_areas``: the most stitches
    of an area for which the plan asks whether to sew it on afterwards; 0 = it does not ask. ``inward``: edges are
    shaped so many stitches in. ``is_trapping``: its
    knitter lays tails in as they come; a setting, never the plan's. ``cast_on``: how its first stitches come onto the
    needle; ``has_slipped_edges``: the first stitch of flat rows is slipped; ``is_off_each``: at the end every run is
    bound off in the strand that worked it. ``said``: what the plan says, by the level of the rows it is told at."""

    title: str
    gauge: Gauge
    yarns: tuple[Yarn, ...]
    fabric: Fabric
    carry: Carry
    is_for_baby: bool = False
    sample: Sample | None = None
    tail_cm: Fraction | None = None
    winding: Winding = USUAL
    is_mirrored: bool = False
    gauges: Mapping[TextureKind, Gauge] = field(default_factory=dict)
    seams: Seams = NO_SEAMS
    dialect: Literal["", "us", "uk"] = ""
    units: Literal["", "cm", "in"] = ""
    small_areas: int = 0
    inward: int = 0
    worn: Literal["", "front", "back"] = ""
    is_trapping: bool = False
    cast_on: Casting = LONG_TAIL
    has_slipped_edges: bool = False
    is_off_each: bool = False
    said: Mapping[int, str] = field(default_factory=dict)

    @cached_property
    def catching(self) -> Catching:
        """When floats of this piece are caught."""
        return catching(self.gauge, is_for_baby=self.is_for_baby, is_trapping=self.is_trapping)

    @cached_property
    def rows(self) -> Rows:
        """The fabric in working order."""
        return Rows(
            self.fabric, is_mirrored=self.is_mirrored, cast_on=self.cast_on, has_slipped_edges=self.has_slipped_edges,
            inward=self.inward, is_off_each=self.is_off_each,
        )  # fmt: skip

    def said_at(self, row: int) -> str:
        """What the plan says at a row (its index in working order), "" = nothing. Where a section lies in both parts
        of a divided piece, it is said in each."""
        return self.said.get(self.fabric.level(row), "") if self.said else ""

    def gauge_of(self, kind: TextureKind) -> Gauge:
        """The gauge of a texture, as measured or else the piece's own."""
        return self.gauges.get(kind, self.gauge)

    def for_hands(self, *, is_mirrored: bool) -> Piece:
        """The piece as its plan is read for a knitter who works mirrored, or for one who does not. Mirrored, what is
        bound off at an edge goes where such hands begin a row: a row later than drawn.

        Raises:
            ValueError: it was made for one who works mirrored, and is wanted as drawn.
        """
        if is_mirrored == self.is_mirrored:
            return self
        if self.is_mirrored:
            raise ValueError("a piece for left hands is read anew from its plan")
        return replace(self, is_mirrored=True, fabric=bound_off_at_starts(self.fabric, is_mirrored=True))

    def renamed(self, names: Mapping[str, str]) -> Piece:
        """The piece with its yarns called as ``names`` says, those in it; no two of them may be called alike. What
        the plan says of them it says by these names, wherever one stands as a word."""
        if not names:
            return self
        rows = {
            id(row): row._replace(runs=tuple(run._replace(stitch=_renamed(run.stitch, names)) for run in row.runs))
            for row in self.fabric.rows
        }
        yarns = tuple(yarn._replace(name=names.get(yarn.name, yarn.name)) for yarn in self.yarns)
        fabric = replace(self.fabric, rows=tuple(rows[id(row)] for row in self.fabric.rows))
        cast_on = self.cast_on._replace(yarn=names.get(self.cast_on.yarn, self.cast_on.yarn))
        said = {level: _renamed_in(text, names) for level, text in self.said.items()}
        return replace(self, yarns=yarns, fabric=fabric, cast_on=cast_on, said=said)

    def yarn(self, name: str) -> Yarn:
        """The yarn of that name.

        Raises:
            KeyError: the piece has no such yarn.
        """
        return self._by_name[name]

    @cached_property
    def _by_name(self) -> dict[str, Yarn]:
        return {yarn.name: yarn for yarn in self.yarns}


def _renamed_in(text: str, names: Mapping[str, str]) -> str:
    """A text with every name exchanged, at a sentence's beginning too."""
    all_names = {**names} | {name.capitalize(): new.capitalize() for name, new in names.items() if name.islower()}
    longest_first = sorted(map(re.escape, all_names), key=len, reverse=True)
    return re.sub(rf"\b(?:{'|'.join(longest_first)})\b", lambda found: all_names[found[0]], text)


def _renamed(stitch: Stitch | None, names: Mapping[str, str]) -> Stitch | None:
    if stitch is None:
        return None
    return stitch._replace(yarn=names.get(stitch.yarn, stitch.yarn), sewn=names.get(stitch.sewn, stitch.sewn))
