"""A plan's shape and its drawn sections to the piece: rows from the cast-on up, columns from the right edge.

Equal rows and equal runs share one value, so a piece costs what its plan draws, not what it repeats.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, chain
from string import ascii_letters, digits
from typing import TYPE_CHECKING, TypeVar

from companion.knitting.cloth.bumps import plain_first
from companion.knitting.cloth.fabric import Ball, Fabric, FabricRow, Part, Run, Stitch, TextureKind, Yarn
from companion.knitting.cloth.row_starts import bound_off_at_starts
from companion.knitting.cloth.rows import LONG_TAIL, Rows
from companion.knitting.cloth.seams import NO_SEAMS, Seams
from companion.knitting.cloth.tubes import with_seam_stitches
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import Carry, default_reach
from companion.knitting.yarn.loops import Sample
from companion.knitting.yarn.winding import USUAL
from companion.plan.chart import GROUND, Drawn
from companion.plan.opening import divided
from companion.plan.schema.plans import PlanShape, SymbolShape, kinds
from companion.plan.schema.sections import EdgeShape, SectionShape, SidesShape
from companion.plan.schema.shapes import Rib, texture
from companion.plan.sections import Section

if TYPE_CHECKING:
    from companion.plan.shape import Outline

_T = TypeVar("_T")

_OTHER: dict[Part, Part] = {"": "", "left": "right", "right": "left"}


def piece(plan: PlanShape, sections: Sequence[Section], sew_on: Callable[[Fabric], Fabric]) -> Piece:
    """The piece. Sections are of one width and use only what the plan declares; ``sew_on`` makes of what they draw
    what is knitted and what is sewn over it.

    Raises:
        Undivided: an opening is amiss.
    """
    gauges = plan.gauge.gauges
    fabric = _fabric(plan, sections, sew_on)
    carry = plan.carry
    # Where no reach is named, the least of the default ones at the gauges of the plan's textures.
    least = min(default_reach(gauges.get(kind, gauges["stockinette"])) for kind in kinds(plan))
    reach = least if carry.reach is None else carry.reach
    limits = Carry(reach, carry.behind, carry.rest, carry.share, carry.share_runs)
    return Piece(
        plan.title, gauges.pop("stockinette"), tuple(_yarns(plan)), fabric, limits,
        is_for_baby=plan.for_ == "baby", worn=plan.worn or "", dialect=plan.terms or "", units=plan.units or "",
        sample=Sample(plan.sample.stitches, plan.sample.yarn) if plan.sample else None, tail_cm=plan.tail,
        winding=plan.winding.winding if plan.winding else USUAL, gauges=gauges, seams=_seams(plan),
        small_areas=plan.small_areas or 0, inward=plan.shaping.at if plan.shaping else 0,
        cast_on=plan.cast_on.casting if plan.cast_on else LONG_TAIL, has_slipped_edges=plan.slipped_edges,
        is_off_each=plan.bind_off is not None and plan.bind_off.colours == "each", said=_said(sections),
    )  # fmt: skip


def _fabric(plan: PlanShape, sections: Sequence[Section], sew_on: Callable[[Fabric], Fabric]) -> Fabric:
    fabric = _drawn(plan, sections, sew_on)
    if not any(section.shape.seam_stitches for section in sections):
        return fabric
    return with_seam_stitches(fabric, _row_by_row(fabric, sections, lambda shape: shape.seam_stitches or 0))


def _drawn(plan: PlanShape, sections: Sequence[Section], sew_on: Callable[[Fabric], Fabric]) -> Fabric:
    rows, held = divided(sections, tuple(_Weaver(plan, begins(sections[0])).rows(sections)))
    if plan.mirror:
        turned = {id(row): _turned(row) for row in rows}
        rows = tuple(turned[id(row)] for row in rows)
    rows = _begun_narrower(sections, rows)
    fabric = sew_on(Fabric(rows, held))
    if not any(section.shape.plain_first for section in sections):
        return fabric
    made, is_plain = Rows(fabric), _row_by_row(fabric, sections, lambda shape: shape.plain_first)
    mended = (plain_first(made, i) if is_plain[i] else row for i, row in enumerate(fabric.rows))
    return replace(fabric, rows=tuple(mended))


def begins(first: Section) -> int:
    """So many columns of the piece lie to the right of the cast-on, from which ribs and seed stitch are counted."""
    return first.right + (first.shaped.outline.base if first.shaped else 0)


def _said(sections: Sequence[Section]) -> dict[int, str]:
    """What sections say, each by the level of its first row."""
    starts = accumulate((section.rows for section in sections), initial=0)
    begun = zip(starts, sections, strict=False)
    return {start: section.shape.says for start, section in begun if section.shape.says is not None}


def _begun_narrower(sections: Sequence[Section], rows: tuple[FabricRow, ...]) -> tuple[FabricRow, ...]:
    """What goes at both edges where a section is narrower than the one below, at each where a row begins."""
    starts = accumulate((section.rows for section in sections), initial=0)
    narrower = {start for start, section in zip(starts, sections, strict=False) if section.gone}
    if not narrower:
        return rows
    fabric = Fabric(rows)
    begun = {index for index in range(len(rows)) if fabric.level(index) in narrower}
    return bound_off_at_starts(fabric, is_mirrored=False, within=begun).rows


def _row_by_row(fabric: Fabric, sections: Sequence[Section], said: Callable[[SectionShape], _T]) -> list[_T]:
    """What the section of each row says of it."""
    upward = list(chain.from_iterable([said(section.shape)] * section.rows for section in sections))
    return [upward[fabric.level(index)] for index in range(len(fabric.rows))]


def _turned(row: FabricRow) -> FabricRow:
    """A row turned round, left for right."""
    runs = tuple(
        Run(run.columns, run.stitch and run.stitch._replace(texture=run.stitch.texture.turned(row.columns)))
        for run in reversed(row.runs)
    )
    return row._replace(runs=runs, part=_OTHER[row.part])


def _seams(plan: PlanShape) -> Seams:
    """The sewn edges; turned round with the piece."""
    if plan.seams is None:
        return NO_SEAMS
    left, right = plan.seams.left, plan.seams.right
    return Seams(right, left) if plan.mirror else Seams(left, right)


def _yarns(plan: PlanShape) -> Iterator[Yarn]:
    first = _first_symbols(plan)
    taken = set(plan.symbols)
    for name, yarn in plan.yarns.items():
        symbol = first.get(name) or _free_letter(name, taken)
        taken.add(symbol)
        ball = yarn.ball.ball if yarn.ball else Ball()
        yield Yarn(name, yarn.colour, symbol, ball)


def _first_symbols(plan: PlanShape) -> dict[str, str]:
    """For every yarn the symbol that stands for it: one of its own, else one where it is sewn over another."""
    own: dict[str, str] = {}
    sewn: dict[str, str] = {}
    for symbol, use in plan.symbols.items():
        if isinstance(use, SymbolShape) and use.sewn:
            sewn.setdefault(use.sewn, symbol)
        else:
            own.setdefault(use.yarn if isinstance(use, SymbolShape) else use, symbol)
    return sewn | own


def stitches(plan: PlanShape, begins: int) -> dict[str, Stitch]:
    """The stitch that each symbol of a plan stands for; ``begins``: the columns to the right of its cast-on."""
    return {
        symbol: Stitch(use.yarn, texture(use.stitch).begun_at(begins), use.sewn or "")
        if isinstance(use, SymbolShape) else Stitch(use)
        for symbol, use in plan.symbols.items()
    }


def _free_letter(name: str, taken: set[str]) -> str:
    """A letter for a yarn that no symbol stands for: of its name if one is free, else the first free one."""
    letters = [letter for letter in name.lower() + name.upper() if letter in ascii_letters]
    return next((letter for letter in [*letters, *ascii_letters, *digits] if letter not in taken), "?")


class _Weaver:
    """Makes fabric rows, each equal row, run and stitch once, so that identity stands for equality. ``begins``: the
    columns to the right of the cast-on."""

    def __init__(self, plan: PlanShape, begins: int) -> None:
        self._begins = begins
        self._stitches: dict[Stitch, Stitch] = {}
        self._symbols = {symbol: self._made(stitch) for symbol, stitch in stitches(plan, begins).items()}
        self._runs: dict[tuple[int, Stitch | None], Run] = {}
        self._rows: dict[tuple[int, ...], FabricRow] = {}

    def rows(self, sections: Sequence[Section]) -> Iterator[FabricRow]:
        """Every row of these sections from the first one's cast-on edge up."""
        width = max(section.right + section.columns for section in sections)
        for section in sections:
            shape = section.shape
            if section.shaped:
                yield from self._shaped(section, section.shaped.outline, width)
                continue
            right, left = self._edges(shape.edges)
            right = [*self._bare(section.right), *right]
            left = [*left, *self._bare(width - section.columns - section.right)]
            middles = self._middles(section)
            made: dict[int, FabricRow] = {}
            rows = []
            for middle in middles:
                if id(middle) not in made:
                    runs = [*right, *middle * shape.across, *left]
                    made[id(middle)] = self._row(runs, is_round=shape.worked == "round")
                rows.append(made[id(middle)])
            for _ in range(shape.repeat):
                yield from rows

    def _shaped(self, section: Section, outline: Outline, width: int) -> Iterator[FabricRow]:
        """The rows of a section within its outline."""
        from companion.plan.shaped import edges_of, within  # loaded where words are read

        middles, (right, left) = self._middles(section), self._edges(section.shape.edges)
        wide = sum(run.columns for run in right), sum(run.columns for run in left)
        for number, row in enumerate(outline.rows):
            runs, past = self._bare(section.right), 0
            drawn = [*right, *middles[number % len(middles)] * section.shape.across]
            for one in row.each:
                on_right, on_left = edges_of(one, wide)
                own = within(drawn, one.right + on_right, one.stitches - on_right - on_left)
                runs += [*self._bare(one.right - past), *(right if on_right else [])]
                runs += [*(self._run(*run) for run in own), *(left if on_left else [])]
                past = one.right + one.stitches
            yield self._row([*runs, *self._bare(width - section.right - past)], is_round=False)

    def _middles(self, section: Section) -> list[list[Run]]:
        """The rows between the edges, from the bottom up, once."""
        shape = section.shape
        if shape.plain:
            plain = self._run(shape.plain.stitches or 0, self._stitch(shape.plain.yarn, shape.plain.stitch))
            return [[plain]] * (section.rows // shape.repeat)
        assert section.drawn is not None
        if shape.field:
            ground = {GROUND: self._stitch(shape.field.yarn, shape.field.stitch)}
            return self._chart(section.drawn, self._symbols | ground)
        symbols: dict[str, Stitch | None] = {**self._symbols, GROUND: None}
        return [row for row in self._chart(section.drawn, symbols) for _ in range(shape.rows_per_square)]

    def _chart(self, drawn: Drawn, symbols: Mapping[str, Stitch | None]) -> list[list[Run]]:
        """The rows of a chart from the bottom up, each turned round: its right character is column 1."""
        known: dict[tuple[int, str], Run] = {}
        made: dict[int, list[Run]] = {}
        rows = []
        for row in drawn.rows:
            # Equal lines share their runs, so their identity tells them apart quickly enough.
            if id(row) not in made:
                for run in row:
                    if run not in known:
                        known[run] = self._run(run[0], symbols[run[1]])
                made[id(row)] = [known[run] for run in reversed(row)]
            rows.append(made[id(row)])
        return rows

    def _edges(self, edges: EdgeShape | SidesShape | None) -> tuple[list[Run], list[Run]]:
        """Runs at column 1 and at the last column: right and left as seen from the right side."""
        if edges is None:
            return [], []
        right, left = (edges, edges) if isinstance(edges, EdgeShape) else (edges.right, edges.left)
        return self._edge(right), self._edge(left)

    def _edge(self, edge: EdgeShape | None) -> list[Run]:
        return [self._run(edge.stitches or 0, self._stitch(edge.yarn or "", edge.stitch))] if edge else []

    def _bare(self, columns: int) -> list[Run]:
        """Columns of the piece in which a section has no stitch."""
        return [self._run(columns, None)] if columns else []

    def _row(self, runs: Iterable[Run], *, is_round: bool) -> FabricRow:
        merged: list[Run] = []
        last: Stitch | None = None
        for run in runs:
            if merged and run.stitch is last:
                merged[-1] = self._run(merged[-1].columns + run.columns, last)
            else:
                merged.append(run)
                last = run.stitch
        return self._rows.setdefault((is_round, *map(id, merged)), FabricRow(tuple(merged), is_round))

    def _run(self, count: int, stitch: Stitch | None) -> Run:
        return self._runs.setdefault((count, stitch), Run(count, stitch))

    def _stitch(self, yarn: str, stitch: TextureKind | Rib = "stockinette") -> Stitch:
        return self._made(Stitch(yarn, texture(stitch).begun_at(self._begins)))

    def _made(self, stitch: Stitch) -> Stitch:
        return self._stitches.setdefault(stitch, stitch)
