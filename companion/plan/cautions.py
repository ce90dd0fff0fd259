"""What can be knitted as planned, and may not come out as meant: warnings about the piece that a plan describes."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from companion.knitting.cloth.bumps import Bumps, two_coloured
from companion.knitting.cloth.carries import carry_round
from companion.knitting.cloth.rows import Row, Rows
from companion.knitting.cloth.seams import SeamTrouble, seam_troubles
from companion.knitting.cloth.slipped import shown_late
from companion.knitting.cloth.tubes import left_open, tube_seam_troubles, tube_seams
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.value import Record
from companion.knitting.words.places import row_key, row_number
from companion.knitting.yarn.loops import is_like_stockinette
from companion.plan.lines import row_of_section
from companion.plan.schema.plans import PlanShape, kinds


class Caution(Record):
    """A warning, and the path of keys to what it is about."""

    path: tuple[str | int, ...]
    what: str
    mend: str


def cautions(plan: PlanShape, piece: Piece, starts: Sequence[int]) -> Iterator[Caution]:
    """Every warning; ``starts``: so many rows lie below each section, and last all of them."""
    yield from _gauge(piece)
    if kinds(plan) != {"stockinette"}:
        yield from _bumps(piece, starts)
    yield from _rounds(piece, starts)
    for trouble in seam_troubles(piece.fabric, piece.seams):
        yield _seam(piece, trouble)
    yield from _tubes(piece, starts)
    if rows := list(shown_late(piece.rows)):
        yield _slipped(piece, rows)


_ALIKE = ("lI1|", "oO0")
"""Symbols of one of these look alike in many a font."""


def symbols_alike(symbols: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Symbols that are easily taken for another one of the plan, or for no symbol, and what is to be said of each."""
    for group in _ALIKE:
        first, *others = [symbol for symbol in symbols if symbol in group] or [""]
        for other in others:
            yield other, f'The symbols "{first}" and "{other}" look alike in many a font.'
        if first == "|":
            yield first, 'The symbol "|" looks like a line in the chart.'


def _gauge(piece: Piece) -> Iterator[Caution]:
    """A gauge that is not stockinette's, where it has to tell how much yarn a stitch takes."""
    gauge = piece.gauge
    if piece.sample is None and not is_like_stockinette(gauge):
        yield Caution(
            ("gauge",),
            f'"gauge" has {float(gauge.rows / gauge.stitches):.2f} rows to a stitch; stockinette has 1.2 to 1.5, so '
            "lengths of yarn told from it may be wrong.",
            "Measure it over washed stockinette, or unpick 20 stitches and write what they took: "
            "sample: {stitches: 20, yarn: 38 cm}",
        )


def _rounds(piece: Piece, starts: Sequence[int]) -> Iterator[Caution]:
    """Blocks of colour worked round, and what the solver makes of them: every strand ends its run on the far side of
    where the next round needs it, which is why blocks are worked flat (tubes: three technique articles)."""
    rounds = [i for i, row in enumerate(piece.rows) if row.is_round and len(row.segments) > 1]
    if not rounds:
        return
    is_flat = tuple(row._replace(is_round=False) for row in piece.fabric.rows)
    flat = Rows(replace(piece.fabric, rows=is_flat), cast_on=piece.cast_on)
    try:
        needed = len(plan_strands(piece.rows, piece.carry).strands.first)
        instead = len(plan_strands(flat, piece.carry).strands.first)
    except TooMuchToWeigh:  # whoever plans its strands is told
        return
    if needed <= instead:
        return
    far = [stitches for row in rounds for stitches in away(piece.rows, row) if stitches > piece.carry.reach]
    section = bisect_right(starts, rounds[0]) - 1
    yield Caution(
        ("rows", section),
        f"Blocks of colour in the round: it takes {needed:,} strands, worked flat {instead:,}; {len(far):,} times a "
        f"strand waits up to {max(far, default=0):,} stitches from where the next round needs it.",
        'Work those rows flat, with "seam_stitches: 1" in their section for the seam, or knit the ground and sew '
        "small motifs on.",
    )


def away(rows: Rows, index: int) -> Iterator[int]:
    """For every run of a row how far the nearest strand of its yarn hangs from where it is entered."""
    row, is_round = rows[index], rows.goes_on_round(index)
    hung: defaultdict[str, list[int]] = defaultdict(list)
    for below in rows.before(index):
        for segment in sorted(rows[below].segments, key=lambda one: one.exit):
            hung[segment.yarn].append(row.reached(segment.exit))
    for segment in row.segments:
        if gaps := hung.get(segment.yarn):
            entry = row.reached(segment.entry)
            at = bisect_right(gaps, entry)
            # The nearest on either side; round the tube the first and the last one may be nearer.
            near = {gaps[at - 1], gaps[at % len(gaps)], gaps[0], gaps[-1]}
            yield min(carry_round(row, gap, entry) if is_round else abs(gap - entry) for gap in near)


def _bumps(piece: Piece, starts: Sequence[int]) -> Iterator[Caution]:
    found: defaultdict[int, list[Bumps]] = defaultdict(list)
    for bumps in two_coloured(piece.rows):
        found[bisect_right(starts, piece.fabric.level(bumps.row)) - 1].append(bumps)
    for section, told in found.items():
        first = told[0]
        rows = len({bumps.row for bumps in told})
        row = row_of_section(piece.rows[first.row], piece.fabric.level(first.row), starts[section])
        again = "." if rows == 1 else f", and so in {rows:,} rows."
        yield Caution(
            ("rows", section),
            f"{row}, begins {first.yarn} on another colour with purl bumps on the right side, "
            f"{_stitches(piece.rows[first.row], first)}; they will show both colours{again}",
            'Write "plain_first: true" in the section: such stitches are then knit as the right side looks. In '
            "garter stitch, begin the colour on a right-side row.",
        )


def _stitches(row: Row, bumps: Bumps) -> str:
    first, last = row.upto(bumps.first), row.upto(bumps.last)
    return f"stitch {first:,} from the right" if first == last else f"stitches {first:,} to {last:,} from the right"


def _seam(piece: Piece, trouble: SeamTrouble) -> Caution:
    taken = piece.seams.right if trouble.edge == "right" else piece.seams.left
    assert taken is not None
    return Caution(
        ("seams", trouble.edge), _at_seam(piece, trouble, taken),
        'Give the section "edges", so that the seam runs between stitches of one colour.',
    )


def _at_seam(piece: Piece, trouble: SeamTrouble, taken: Fraction) -> str:
    first, rows = row_number(piece.rows[trouble.rows[0]]), len(trouble.rows)
    where = f"in row {first}" if rows == 1 else f"in {rows:,} rows, first in row {first}"
    stitches = "1 stitch" if taken == 1 else f"{float(taken):g} stitches"
    if trouble.where == "within":
        return f"The seam at the {trouble.edge} edge takes in {stitches} and hides colours drawn there, {where}."
    return f"A change of colour lies within a stitch of the seam at the {trouble.edge} edge, {where}."


def _tubes(piece: Piece, starts: Sequence[int]) -> Iterator[Caution]:
    """Flat parts of a tube: what lies at their seams, and pictures whose edges stay open."""
    for seam in tube_seams(piece.fabric):
        for trouble in tube_seam_troubles(piece.fabric, seam):
            section = bisect_right(starts, trouble.rows[0]) - 1
            yield Caution(
                ("rows", section, "seam_stitches"), _at_seam(piece, trouble, seam.taken),
                "Draw the first and the last two stitches of those rows in one colour, so that the seam runs between "
                "stitches of it.",
            )
    for first, last in left_open(piece.fabric):
        coloured = (row for row in range(first, last + 1) if len(piece.rows[row].segments) > 1)
        if (row := next(coloured, None)) is not None:
            yield Caution(
                ("rows", bisect_right(starts, row) - 1),
                f"Rows {first + 1:,} to {last + 1:,} of the piece are worked flat between rounds, and the edges of "
                "these rows stay open.",
                'Write "seam_stitches: 1" in the section to sew them up, 2 for a seam a whole stitch deep; or leave '
                "it so where an opening is wanted.",
            )


MOST_NAMED = 8
"""So many rows, or stretches of rows, are named before the rest of them are counted."""


def _slipped(piece: Piece, rows: Sequence[int]) -> Caution:
    """Edge stitches that are slipped where the colour of the edge changes."""
    which = in_words([row + 1 for row in rows], lambda place: row_key(piece.rows[place - 1]), MOST_NAMED)
    return Caution(
        ("slipped_edges",),
        f"The edge changes colour at the start of {which}: the stitch slipped there keeps the "
        "colour of the row below, so that the new one shows a row late.",
        f"Work {'that stitch' if len(rows) == 1 else 'those stitches'} instead of slipping, or keep the edge in one "
        'colour: give the section "edges".',
    )


def in_words(places: Sequence[int], named: Callable[[int], str] = str, most: int | None = None) -> str:
    """Places of rows, rising, as a list to read: "rows 3, 7 to 9 and 12"; 0 is the cast-on. ``named``: what each is
    called; after ``most`` of them, or stretches, the rest are counted: "rows 3, 5 and 40 more"."""
    if places[0] == 0:
        return f"the cast-on, {in_words(places[1:], named, most)}" if places[1:] else "the cast-on"
    stretches = list(_stretches(places))
    parts = [named(one) if one == last else f"{named(one)} to {named(last)}" for one, last in stretches[:most]]
    if rest := sum(last - first + 1 for first, last in stretches[len(parts):]):
        parts.append(f"{rest:,} more")
    listed = " and ".join([", ".join(parts[:-1]), parts[-1]] if len(parts) > 1 else parts)
    return f"row {listed}" if len(places) == 1 else f"rows {listed}"


def _stretches(places: Sequence[int]) -> Iterator[tuple[int, int]]:
    first = places[0]
    for place, following in zip(places, [*places[1:], None], strict=True):
        if following != place + 1:
            yield first, place
            first = following or 0
