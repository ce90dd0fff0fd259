"""What sewing small areas on afterwards saves: strands and ends, and what it takes.

Every area sewn on spares its strands and the parts into which it divides its ground, and costs the two tails of each
length it is sewn with.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property

from companion.knitting.cloth.areas import Area, Cell, areas, is_small, sewn_on
from companion.knitting.cloth.cast_on import separate_yarn
from companion.knitting.cloth.fabric import FabricRow, Stitch, cells
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.howfar import HowFar, TooMuchToWeigh, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning.sewing import lengths_of
from companion.knitting.strands.changing import YarnMoves
from companion.knitting.strands.counting import StrandCount, is_counted
from companion.knitting.strands.plan import fewest, plan_strands
from companion.knitting.value import Record

USUAL_MOST = 10
"""So many stitches are small where nobody says otherwise (common practice, no source)."""


MOST_LOOKED_AT = 1_000_000
"""So many rows are looked at for all small areas together, where their strands cannot be counted; each takes about 13
microseconds."""


class Saving(Record):
    """What sewing an area on saves by itself. ``over``: the yarn it is knitted in then; ``strands`` and ``ends``
    fewer, the ends without the tails of ``lengths`` that it is sewn with. ``inside``: it touches that yarn in this
    other small area only, so that where both are sewn on, both have that one's ground."""

    area: Area
    over: str
    strands: int
    ends: int
    lengths: int
    inside: Area | None = None


def small_areas(piece: Piece, most: int) -> tuple[Area, ...]:
    """The areas of a shape to be sewn on, in stockinette, over which nothing is sewn yet; none at the seam of a
    tube."""
    fabric = piece.fabric
    small = [area for area in areas(fabric) if is_small(area, most, fabric) and not _is_for_seam(area, fabric.rows)]
    return tuple(area for area in small if all(_can_be_sewn(_stitch_at(piece, cell)) for cell in area.cells))


def _is_for_seam(area: Area, rows: Sequence[FabricRow]) -> bool:
    """Whether some of it is stitches for a seam."""
    at_seam = (strip for strip in area.strips if rows[strip.row].seam_stitches)
    return any(strip.first + strip.cells - 1 > stitches_across(rows[strip.row]) for strip in at_seam)


def _can_be_sewn(stitch: Stitch | None) -> bool:
    """Whether duplicate stitch can follow this one, and nothing is sewn over it yet."""
    return stitch is not None and stitch.texture.kind == "stockinette" and not stitch.sewn


def savings(piece: Piece, small: Sequence[Area]) -> Iterator[Saving | None]:
    """For each of the areas what sewing it on alone would save, over the yarn beside it with which it saves most;
    None where it saves no end. Another small area is its ground only if it is the larger of the two.

    Raises:
        TooMuchToWeigh: they are too many.
    """
    counting = _Counting(piece)
    if not counting.has_time_for(len(small)):
        raise TooMuchToWeigh(
            f"{len(small):,} small areas are too many to be weighed one by one in this piece: ask for areas of fewer "
            "stitches, or for shorter limits."
        )
    ranked = sorted(small, key=lambda area: (-area.stitches, area.first))
    rank = {cell: number for number, area in enumerate(ranked, 1) for cell in area.cells}
    lengths_for = {stitches: lengths_of(piece, stitches) for stitches in {area.stitches for area in small}}
    for area in small:
        lengths = lengths_for[area.stitches]
        best: Saving | None = None
        saved = counting.over(area)
        for over, inside in _grounds(area, piece, rank):
            strands, ends = saved(over)
            ends -= 2 * lengths
            if ends > 0 and (best is None or ends > best.ends):
                best = Saving(area, over, strands, ends, lengths, ranked[inside - 1] if inside else None)
        yield best


def worth_sewing(piece: Piece, small: Sequence[Area], done: HowFar = untold) -> list[Saving]:
    """Those of them that save an end, each by itself.

    Raises:
        TooMuchToWeigh: they are too many.
    """
    found = []
    for number, saving in enumerate(savings(piece, small), 1):
        found += [saving] if saving else []
        done(number / len(small))
    return found


def pairs(accepted: Sequence[Saving]) -> list[tuple[Area, str]]:
    """The areas that are sewn on together, each with the yarn it is knitted in then."""
    saving_of = {saving.area: saving for saving in accepted}
    found = []
    for saving in accepted:
        at = saving
        while at.inside in saving_of:
            at = saving_of[at.inside]
        found.append((saving.area, at.over))
    return found


def saved_together(piece: Piece, accepted: Sequence[Saving]) -> tuple[int, int]:
    """Strands and ends saved when all of these are sewn on."""
    sewn = pairs(accepted)
    strands, ends = _Counting(piece).saved(sewn, {yarn for area, over in sewn for yarn in (area.yarn, over)})
    return strands, ends - 2 * sum(saving.lengths for saving in accepted)


def _stitch_at(piece: Piece, cell: Cell) -> Stitch | None:
    """The stitch of a cell; None beside the row and where there is none."""
    return piece.rows[cell.row].stitch_at(cell.column)


def _grounds(area: Area, piece: Piece, rank: Mapping[Cell, int]) -> list[tuple[str, int]]:
    """The yarns beside an area in which it could be knitted, the one that touches it most first; with each the rank
    of the largest small area through which alone it touches that yarn, 0 where it touches it elsewhere too."""
    touching: dict[str, list[int]] = {}
    own = rank[area.first]
    for row, column in area.cells:
        for beside in map(Cell._make, piece.fabric.around(row, column)):
            stitch = _stitch_at(piece, beside)
            if stitch is not None and stitch.yarn != area.yarn and rank.get(beside, 0) < own:
                touching.setdefault(stitch.yarn, []).append(rank.get(beside, 0))
    return [(yarn, min(ranks)) for yarn, ranks in sorted(touching.items(), key=lambda each: (-len(each[1]), each[0]))]


class _Counting:
    """Counts the strands of a piece and of the same with areas sewn on, by the yarns that are touched. For an area
    alone nothing is solved where strands can be counted, and only what it touches otherwise, unless lengths are
    shared."""

    def __init__(self, piece: Piece) -> None:
        self._piece = piece
        self._before: dict[frozenset[str], tuple[int, int]] = {}
        self._moves: dict[str, YarnMoves] = {}

    def over(self, area: Area) -> Callable[[str], tuple[int, int]]:
        """Gives strands and ends fewer where an area alone is sewn on over the yarn that is named, the tails of
        sewing not counted."""
        if self._count is None:
            return lambda over: self._saved_around(area, over)
        count, gone = self._count, self._count.if_taken(area.yarn, area.strips)

        def saved(over: str) -> tuple[int, int]:
            fewer = -gone - count.if_given(over, area.strips)
            begins = any(strip.row == 0 for strip in area.strips)
            return fewer, 2 * fewer + (self._own_length_fewer(self._rows_with([(area, over)])) if begins else 0)

        return saved

    @cached_property
    def _count(self) -> StrandCount | None:
        rows = self._piece.rows
        if not is_counted(rows, self._piece.carry):
            return None
        grid = ([stitch.yarn for stitch in cells(row) if stitch is not None] for row in rows.fabric.rows)
        return StrandCount(grid, self._piece.carry.reach, is_leftward=rows[0].toward == "left")

    def has_time_for(self, areas: int) -> bool:
        """Whether so many can be looked at in some ten seconds."""
        rows, limits = self._piece.fabric.rows, self._piece.carry
        rest = min(limits.rest, len(rows))
        if limits.share_runs:  # two strands could meet at any stitch: that more do is ruled out one by one
            each = sum(row.columns for row in rows) * (rest + 2) // 11
        elif limits.share:
            each = 2 * sum(len(row.runs) for row in rows)
        else:  # a row on which one may go on takes thirty times as long as one that is only passed over
            each = len(rows) + 30 * (rest + 1) * (rest + 2)
        return self._count is not None or areas * each <= MOST_LOOKED_AT

    def _saved_around(self, area: Area, over: str) -> tuple[int, int]:
        if self._piece.carry.share:  # which joins share a length is settled for all yarns at once
            return self.saved([(area, over)], {area.yarn, over})
        rows = self._rows_with([(area, over)])
        changed = {strip.row for strip in area.strips}
        each = [self._moves_of(yarn) for yarn in (area.yarn, over)]
        fewer = sum(moves.strands - moves.in_rows(rows, changed).strands for moves in each)
        return fewer, 2 * fewer + self._own_length_fewer(rows)

    def _rows_with(self, sewn: Sequence[tuple[Area, str]]) -> Rows:
        return self._piece.rows.of(sewn_on(self._piece.fabric, sewn))

    def _own_length_fewer(self, rows: Rows) -> int:
        """Ends fewer of a cast-on that is a length of its own: it is one while row 1 begins in another yarn."""
        return _own_length_ends(self._piece.rows) - _own_length_ends(rows)

    def _moves_of(self, yarn: str) -> YarnMoves:
        if yarn not in self._moves:
            self._moves[yarn] = YarnMoves(self._piece.rows, self._piece.carry, yarn)
        return self._moves[yarn]

    def saved(self, sewn: Sequence[tuple[Area, str]], yarns: set[str]) -> tuple[int, int]:
        """Strands and ends fewer, the tails of sewing not counted."""
        touched = frozenset(yarns)
        if touched not in self._before:
            self._before[touched] = self._needed(self._piece.rows, touched)
        strands, ends = self._before[touched]
        rows = self._rows_with(sewn)
        after, ends_after = self._needed(rows, touched)
        return strands - after, ends - ends_after

    def _needed(self, rows: Rows, yarns: frozenset[str]) -> tuple[int, int]:
        limits = self._piece.carry
        if limits.share:
            total = plan_strands(rows, limits).strands.total
            return total.strands, total.ends
        strands = fewest(rows, limits, yarns)
        return strands, 2 * strands + _own_length_ends(rows)


def _own_length_ends(rows: Rows) -> int:
    return 2 * bool(separate_yarn(rows))
