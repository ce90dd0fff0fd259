"""Tables as text: the winding list, the small areas, the ledger of ends, the techniques compared.

The winding list has every strand in order of joining, how much yarn it needs and how that is wound, what to buy, and
the order in which the supplies are laid out. Strands are told by place, because yarn carries no number.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rich.cells import cell_len

from companion.knitting import words
from companion.knitting.cloth.areas import sewing, stitch_number
from companion.knitting.cloth.cast_on import is_begun
from companion.knitting.cloth.rows import Rows
from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.hands.ends import EndState
from companion.knitting.hands.steps import End
from companion.knitting.hands.weaving import backs_of
from companion.knitting.piece import Piece
from companion.knitting.reckoning import choices
from companion.knitting.reckoning.choices import Choice
from companion.knitting.reckoning.quantities import CAST_ON_STRAND, Length, lengths, totals
from companion.knitting.reckoning.savings import Saving
from companion.knitting.reckoning.sewing import SEWN_CM, lengths_of
from companion.knitting.reckoning.supplies import layouts
from companion.knitting.strands.strands import Strands, StrandSummary
from companion.knitting.value import Record
from companion.knitting.words import US, Terms
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import BEATEN, technique, what_strict_is, why_recommended
from companion.knitting.yarn.weights import classes_by_gauge
from companion.problems import plain

_WAY = 20
_GAP = "  "

WIDE = 1_000
"""Terminal cells that are room for every table."""


def _columns(rows: Rows) -> tuple[str, str]:
    noun = words.rows_noun(rows)
    heads = (
        f"{words.sentence(noun) + 's':>11}  {'Runs':>5}  {'Stitches':>8}  {'Carried':>7}  {'Length':>7}  "
        f"{'Wind':<{_WAY}}"
    )
    return heads, f"Joined in (places as that {noun} is held)"


def strand_table(piece: Piece, strands: Strands, terms: Terms = US, room: int = WIDE) -> Iterator[str]:
    """Every line of the list, without line ends: figures, a line for each strand, what to buy, how supplies lie.
    Where a line has no ``room``, places stand above the figures."""
    wound = lengths(piece, strands, is_inches=terms.is_inches)
    yield plain(piece.title)
    yield ""
    yield from figures(strands, terms)
    yield ""
    lines = [_columns(piece.rows), *(_set_out(line) for line in strand_lines(strands, wound, terms))]
    is_wide = all(cell_len(left) + len(_GAP) + cell_len(place) <= room for left, place in lines)
    for left, place in lines:
        yield from [f"{left}{_GAP}{place}"] if is_wide else [place, left.rstrip()]
    yield ""
    yield from yarn_words.what_lengths_hold(wound, piece.sample, terms, piece.cast_on, is_off_each=piece.is_off_each)
    yield ""
    yield f"Yarn for the piece, spare included. {yarn_words.gauge_class(classes_by_gauge(piece.gauge), terms)}"
    for total in totals(piece, wound):
        yield plain(f"  {yarn_words.yarn_needed(total, terms)}")
    if sewn := sewing(piece.fabric):
        longest = yarn_words.yarn_length(SEWN_CM, is_inches=terms.is_inches)
        yield ""
        yield f"Sewn on afterwards in {terms.duplicate_stitch}, with lengths of up to {longest}:"
        for area in sewn:
            yield plain(f"  {words.area_to_sew(piece.fabric, area, lengths_of(piece, area.stitches))}")
    yield ""
    yield yarn_words.supplies_title(None, terms)
    for layout in layouts(strands):
        yield plain(f"  {yarn_words.supplies(layout, strands)}")


def summary(piece: Piece, strands: Strands) -> str:
    """A piece in a few words: its size, yarns and strands."""
    stitches = max(stitches_across(row) for row in piece.fabric.picture)
    yarns, needed = words.how_many(len(piece.yarns), "yarn"), words.how_many(len(strands.first), "strand")
    rows = words.how_many(len(piece.fabric.levels), words.rows_noun(piece.rows))
    return f"{words.count(stitches)} x {rows}, {yarns}, {needed}"


def figures(strands: Strands, terms: Terms = US) -> Iterator[str]:
    """How many strands and ends, how far they are carried, how many hang at once and where that begins."""
    total = strands.total
    fullest = next(index for index, alive in enumerate(strands.alive) if len(alive) == total.most_at_once)
    row = strands.rows[fullest]
    carried = f"{words.stitches_in_full(total.carried)} carried in all" if total.carried else "nothing carried"
    ends = f"{words.how_many(total.ends, 'end')} to {terms.weave_in}"
    cast_on = " and the cast-on's own length" if strands.cast_on_ends else ""
    yield f"{words.how_many(total.strands, 'strand')}{cast_on}, {ends}, {carried}."
    yield f"Most at once: {total.most_at_once}, first in {words.row_named(row)}."


class StrandLine(Record):
    """A strand in the winding list, in words: the rows it is at work in, its runs, stitches, stitches carried, how
    long it is, how it is wound, and where it is joined in."""

    rows: str
    runs: str
    stitches: str
    carried: str
    length: str
    wind: str
    joined: str


def strand_lines(strands: Strands, wound: Sequence[Length], terms: Terms) -> Iterator[StrandLine]:
    """A cast-on that is a length of its own, and every strand in order of joining."""
    by_strand = {length.strand: length for length in wound}
    if own := by_strand.get(CAST_ON_STRAND):
        joined = f"{own.yarn}, cut before {words.row_named(strands.rows[0])}"
        yield StrandLine("cast-on", "", str(strands.rows[0].stitches), "", *_length(own, terms), joined)
    for summary in strands.summaries:
        yield _strand_line(strands, summary, by_strand, terms)


def _strand_line(
    strands: Strands, summary: StrandSummary, wound: Mapping[int, Length], terms: Terms
) -> StrandLine:
    first, last = strands.rows[summary.joined.row], strands.rows[summary.cut.row]
    spanned = words.row_key(first)
    if last is not first:
        spanned += f"-{last.number if first.part == last.part else words.row_key(last)}"
    length = wound[summary.strand]
    joined = words.strand_joined(first, summary.joined.segment, terms)
    if strands.rows.cast_on.is_each and is_begun(strands.rows, summary.joined):
        joined = f"cast on for {joined}"
    if length.shares_with is not None:
        joined += _other_half(strands, length, wound[length.shares_with], terms)
    runs, stitches, carried = str(summary.segments), str(summary.stitches), str(summary.carried)
    return StrandLine(spanned, runs, stitches, carried, *_length(length, terms), joined)


def _length(length: Length, terms: Terms) -> tuple[str, str]:
    return yarn_words.yarn_length(length.cm, is_inches=terms.is_inches), yarn_words.wound(length)


def _set_out(line: StrandLine) -> tuple[str, str]:
    """The figures of a strand, and where it is joined in."""
    figures = f"{line.rows:>11}  {line.runs:>5}  {line.stitches:>8}  {line.carried:>7}  {line.length:>7}"
    return f"{figures}  {line.wind:<{_WAY}}", plain(line.joined)


def _other_half(strands: Strands, length: Length, other: Length, terms: Terms) -> str:
    """Which strand is worked from the other end of the same length."""
    row = strands.rows[other.joined.row]
    place = words.strand_joined(row, other.joined.segment, terms)
    both = yarn_words.yarn_length(length.cm + other.cm, is_inches=terms.is_inches)
    return f"; one length of {both} with {place}"


def areas_table(
    piece: Piece, found: Sequence[Saving], together: tuple[int, int], idle: int, terms: Terms = US, room: int = WIDE
) -> Iterator[str]:
    """Every line, without line ends. ``together``: strands and ends that all of them save; ``idle``: so many small
    areas more do not save an end. Where a line has no ``room``, figures stand below what the area is."""
    yield plain(piece.title)
    yield ""
    if already := len(sewing(piece.fabric)):
        yield words.areas_sewn(already)
    if not found:
        yield "No small area would save an end by being sewn on."
        return
    wide = max(len("Knitted in"), *(len(saving.over) for saving in found))
    yarn = max(len("Yarn"), *(len(saving.area.yarn) for saving in found))
    saved = "Strands saved  Ends saved  Lengths to sew"
    place = f"   {words.sentence(words.rows_noun(piece.rows)):>5}  Stitch"
    heads = [f"{place}  {'Yarn':<{yarn}}  Stitches  {'Knitted in':<{wide}}"]
    figures = [saved]
    for number, saving in enumerate(found, 1):
        area, first = saving.area, saving.area.first
        place = f"{number:>2}  {piece.fabric.level(first.row) + 1:>4}  {stitch_number(piece.fabric, first):>6}"
        part = f"  {piece.fabric.rows[first.row].part} part" if piece.fabric.rows[first.row].part else ""
        heads.append(plain(f"{place}  {area.yarn:<{yarn}}  {area.stitches:>8}  {saving.over:<{wide}}"))
        figures.append(f"{saving.strands:>13}  {saving.ends:>10}  {saving.lengths:>14}{part}")
    for head, figure in zip(heads, figures, strict=True):
        is_wide = cell_len(heads[0]) + len(_GAP) + len(saved) + len(_GAP) + len("right part") <= room
        yield from [f"{head}{_GAP}{figure}"] if is_wide else [head.rstrip(), f"    {figure}"]
    yield ""
    yield words.areas_save(len(found), *together)
    if idle:
        yield f"{words.how_many(idle, 'small area')} more would not save an end."
    yield words.areas_placed(piece.rows)
    yield words.thick(terms)


Ledger = Sequence[tuple[End, EndState]]


def ledger(piece: Piece, strands: Strands, ends: Ledger, terms: Terms = US, shows_by: float = 0) -> Iterator[str]:
    """Every line, without line ends. ``shows_by``: behind a colour so much lighter (CIE L*) an end may show."""
    states = Counter(state for _, state in ends)
    yield plain(piece.title)
    yield ""
    counted = ", ".join(f"{number} {words.end_state(state, terms)}" for state, number in states.items())
    yield f"{words.how_many(len(ends), 'end')} to {terms.weave_in}: {counted}."
    yield words.NOT_TRIMMED
    yield words.TURNED_OVER
    backs = backs_of(piece, strands)
    for end, state in ends:
        weaving = backs.weaving(end)
        yield ""
        yield plain(f"{words.end_heading(strands, end, terms)} ({words.end_state(state, terms)})")
        yield plain("  " + " ".join(words.how_to_weave(weaving, terms, shows_by)))


FAINT, AS_BEFORE = "\x1b[2m", "\x1b[22m"


def comparison(
    piece: Piece, found: Sequence[Choice], terms: Terms = US, *, is_coloured: bool = False, room: int = WIDE
) -> Iterator[str]:
    """Every line, without line ends. ``is_coloured``: choices that are beaten are printed faint, and not only said
    to be. Where a line has no ``room``, figures stand below what the choice is called."""
    yield plain(piece.title)
    yield ""
    names = [technique(choice.limits, piece, len(choice.sewn)) for choice in found]
    wide = max(map(len, [*names, "Technique"]))
    title = "Longest float"
    already = len(sewing(piece.fabric))
    is_sewn = already or any(choice.sewn for choice in found)
    sewn = "  Sewn on" if is_sewn else ""
    heads = f"Strands   Ends{sewn}  Most at once  Carried  {title}     Yarn"
    is_wide = 4 + wide + len(_GAP) + len(heads) + len(_GAP) + len("today's, recommended") <= room
    yield f"    {'Technique':<{wide}}{_GAP}{heads}" if is_wide else f"    {heads}"
    beaten = choices.beaten(found)
    for number, (choice, name) in enumerate(zip(found, names, strict=True), 1):
        each = choice.figures
        float_ = words.measured(each.longest_cm, terms)
        yarn = yarn_words.yarn_length(each.yarn_cm, is_inches=terms.is_inches)
        sewn = f"  {already + len(choice.sewn):>7}" if is_sewn else ""
        figures = (
            f"{each.strands:>7}  {each.ends:>5}{sewn}  {each.most_at_once:>12}  {each.carried:>7}  "
            f"{float_:>{len(title)}}  {yarn:>7}"
        )
        marks = _choice_marks(piece, found, choice, beaten)
        lines = [f"{number:>2}  {name:<{wide}}  {figures}  {marks}".rstrip()]
        if not is_wide:
            lines = [f"{number:>2}  {name}{f' ({marks})' if marks else ''}", f"    {figures}"]
        for line in lines:
            yield f"{FAINT}{line}{AS_BEFORE}" if is_coloured and choice in beaten else line
    yield ""
    length = words.measured(choices.free_cm(piece), terms)
    yield why_recommended(piece, found, length)
    if strict := what_strict_is(found, piece):
        yield strict
    if is_sewn:
        yield words.SEWN_ON_COUNTED
    if piece.is_for_baby:
        yield words.for_baby(terms)
    if beaten:
        yield BEATEN


def _choice_marks(piece: Piece, found: Sequence[Choice], choice: Choice, beaten: frozenset[Choice]) -> str:
    marks = [
        ("today's", choice.limits == piece.carry and not choice.sewn),
        ("recommended", choice == choices.recommended(piece, found)),
        ("beaten", choice in beaten),
    ]
    return ", ".join(word for word, is_so in marks if is_so)
