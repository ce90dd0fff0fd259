"""The plan of a text of written rows: read, worked, drawn and written, and then held against the text once more."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise, zip_longest
from typing import Literal

from companion.drafts.names import symbols_of
from companion.drafts.rows.colours import colours_of
from companion.drafts.rows.doings import Divide, OffAll
from companion.drafts.rows.heading import Said
from companion.drafts.rows.laying import Laid, as_drawn, laid, sided
from companion.drafts.rows.pattern import Pattern, pattern_of
from companion.drafts.rows.sections import Line, Opening, drawn_stitches, sections
from companion.drafts.rows.textures import Level, stitches
from companion.drafts.rows.working import RowWorked, named, worked
from companion.drafts.written import heading
from companion.knitting.cloth.fabric import STOCKINETTE, Gauge, Part, Stitch, Yarn
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.cloth.slipped import is_slipped
from companion.knitting.piece import Piece
from companion.knitting.strands.limits import default_reach
from companion.knitting.value import Record
from companion.plan.edit import name_in_yaml
from companion.plan.outline import for_hands
from companion.plan.phrases import Amiss
from companion.plan.read import Loaded, load_text
from companion.plan.source import Found, Source, unreadable
from companion.problems import Problem, Problems, nearest, quoted

MOST_STITCHES = 120_000
"""A larger piece takes longer than anybody waits."""

MOST_LETTERS = 2_000_000
"""Written rows of more letters are more than a piece of that size takes."""

_MOST_SYMBOLS = 46


class Asked(Record):
    """What is asked besides the text. ``hands`` and ``terms`` "" = as the text has them."""

    gauge: Gauge | None = None
    at_hand: Mapping[str, str] = {}
    hands: Literal["", "left", "right"] = ""
    terms: Literal["", "us", "uk"] = ""
    title: str = "Written rows"
    notes: tuple[str, ...] = ()


class Drafted(Record):
    """The text of a plan, that read as every plan is, warnings about the text, and what is to be known of the
    plan."""

    text: str
    loaded: Loaded
    warnings: tuple[Problem, ...]
    known: tuple[str, ...]


class _Rows(Record):
    """The rows as the text has them, and as a plan draws them."""

    worked: Sequence[RowWorked]
    told: Sequence[Laid]
    drawn: Sequence[Laid]


def drafted(text: str, file: str, asked: Asked, ask_gauge: Callable[[], Gauge] | None = None) -> Drafted:
    """The plan of written rows. ``file``: their name in problems; ``ask_gauge``: gives the gauge where neither the
    text nor the command says it.

    Raises:
        Problems: everything that is amiss in the text.
    """
    source, found = Source(file, text.removeprefix("\ufeff")), Found()
    for problem in unreadable(source, tabs=False):
        found.add(problem._replace(mend="Delete it: written rows are plain text."))
    if len(text) > MOST_LETTERS:
        found.add(Problem(f"The text has {len(text):,} letters; {MOST_LETTERS:,} are read.", file))
    found.stop()
    pattern = pattern_of(source, found)
    if not pattern.rows and not found.mistakes:
        what, mend = "No row stands here.", 'A row is called like this: "Row 1:", "Row 2 (WS):", "Rows 3-8:".'
        found.add(source.problem(1, 1, what, mend))
    is_mirrored = (asked.hands or pattern.hands) == "left"
    rows = _worked(pattern, source, found, is_mirrored=is_mirrored)
    found.stop()
    assert rows is not None
    gauge = asked.gauge or pattern.gauge or (ask_gauge() if ask_gauge else None)
    if gauge is None:
        what = "The text says no gauge, and a plan needs one."
        mend = 'Give it: --gauge 20x28/10cm, or write "Gauge: 20 sts and 28 rows over 10 cm" above the rows.'
        raise Problems([Problem(what, file, mend=mend)])
    written, known = _written(pattern, rows, gauge, asked, source)
    loaded = _read_back(written, rows, source, is_mirrored=is_mirrored)
    _tell_left_out(pattern, rows, source, found)
    return Drafted(written, loaded, (*found.warnings, *loaded.warnings), tuple(known))


def _amiss(source: Source, found: Found, amiss: Amiss) -> None:
    place = source.place(min(amiss.at, len(source.text)))
    found.add(source.problem(*place, amiss.what, amiss.mend), cause=amiss.cause)


def _worked(pattern: Pattern, source: Source, found: Found, *, is_mirrored: bool) -> _Rows | None:
    """The rows worked and laid; None where something is amiss, which is told."""
    yarns = {pattern.cast_on.yarn, *(yarn for row in pattern.rows if row.words for yarn in named(row.words.items))}
    default = yarns.pop() if len(yarns := yarns - {""}) == 1 else ""
    labels = []
    for label in sided([row.label for row in pattern.rows]):
        if isinstance(label, Amiss):
            _amiss(source, found, label)
        else:
            labels.append(label)
    told = tuple(row._replace(label=label) for row, label in zip(pattern.rows, labels, strict=True))
    rows: list[RowWorked] = []
    total = 0
    for row in worked(pattern._replace(rows=told), default, is_mirrored):
        if isinstance(row, Amiss):
            _amiss(source, found, row)
            continue
        rows.append(row)
        total += row.stitches
        if total > MOST_STITCHES:
            what = f"With this row the piece has more than {MOST_STITCHES:,} stitches, and no more are drafted."
            _amiss(source, found, Amiss(row.label.at, what))
            break
    if found.mistakes or not rows:
        return None
    for amiss in _strange(rows):
        _amiss(source, found, amiss)
    if found.mistakes:
        return None
    lying = laid(rows, is_mirrored=is_mirrored)
    for amiss in _apart(rows, lying):
        _amiss(source, found, amiss)
    return _Rows(rows, lying, as_drawn(lying, is_mirrored=is_mirrored))


def _strange(rows: Sequence[RowWorked]) -> Iterator[Amiss]:
    """What a plan cannot say."""
    for row, above in pairwise(rows):
        if row.off and above.label.part == row.label.part:
            yield Amiss(above.label.at, "This row stands above a bind-off of all stitches.", cause="above")
    if any(row.label.part for row in rows) and not any(row.divide for row in rows):
        first = next(row for row in rows if row.label.part)
        yield Amiss(first.label.at, "Rows of a part stand here, and nowhere is it said how the piece divides.",
                    cause="divide")  # fmt: skip
    if rows[0].is_slipped:
        yield Amiss(rows[0].label.at, "Row 1 slips its first stitch, which a plan does not do.", cause="slip")


def _apart(rows: Sequence[RowWorked], lying: Sequence[Laid]) -> Iterator[Amiss]:
    """Rows that join two parts and do not cast on just what lies between them."""
    last: dict[Part, Laid] = {}
    for row, there in zip(rows, lying, strict=True):
        if row.label.begins == "whole":
            between = last["left"].first - last["right"].last - 1
            if between != row.between:
                what = (
                    f"Row {row.label.number} joins the parts, between which {between} stitches are gone, and "
                    f"{row.between} are cast on there."
                )
                yield Amiss(row.label.at, what, "Cast on as many, behind the part that is worked first.", "between")
        last[there.label.part] = there


def _written(
    pattern: Pattern, rows: _Rows, gauge: Gauge, asked: Asked, source: Source
) -> tuple[str, list[str]]:
    """The text of the plan, and what is to be known of it."""
    picture, openings = _picture(rows.drawn), _openings(rows)
    seams = _seams(picture)
    # What is drawn a row earlier is worked like the stitch beside it, which is called what it is beside all others.
    looks = [
        {column: stitch for column, stitch in called.items() if column in level.cells}
        for called, level in zip(stitches(_picture(rows.told)), picture, strict=True)
    ]
    wide = max(max(cells) for cells in looks)
    round_wide = max((max(level.cells) for level in picture if level.is_round), default=wide)
    wide = round_wide if any(seams) else wide
    lines = [
        Line(tuple(cells.get(column) for column in range(wide, 0, -1)), level.is_round, seam)
        for cells, level, seam in zip(looks, picture, seams, strict=True)
    ]
    drawn = drawn_stitches(lines, openings)
    used = list(dict.fromkeys(cell.yarn for line in dict.fromkeys(lines) for cell in line.cells if cell))
    cast = pattern.cast_on.yarn
    names = [name for name in pattern.yarns if name in used or name == cast]
    listed = {name: said.colour for name, said in pattern.said.items()}
    colours, chosen = colours_of(names, listed, asked.at_hand)
    order = {name: number for number, name in enumerate(names)}
    symbol = _symbols(sorted(drawn, key=lambda stitch: (stitch.texture != STOCKINETTE, order[stitch.yarn])), pattern,
                      source)  # fmt: skip
    yarns = [
        Yarn(name, colours[name], "", pattern.said.get(name, Said()).ball) for name in names
    ]
    uk = asked.terms or ("uk" if pattern.is_uk else "")
    notes = [*asked.notes]
    if chosen:
        told = ", ".join(f"{name} {colours[name]}" for name in chosen)
        notes.append(f"The rows name no colours for these, and others may be meant: {told}.")
    more = [*_more(pattern, rows), *([f"terms: {uk}"] if uk else [])]
    symbols = {sign: stitch for stitch, sign in symbol.items()}
    title = pattern.title or asked.title
    head = heading(title, gauge, default_reach(gauge), yarns, symbols, notes, more)
    text = "\n".join([*head, *sections(lines, openings, symbol)]) + "\n"
    known = [f"Colours were chosen for {', '.join(chosen)}: the rows do not name them."] if chosen else []
    return text, known


def _symbols(drawn: Sequence[Stitch], pattern: Pattern, source: Source) -> dict[Stitch, str]:
    """A letter for every stitch that is drawn: that which the text lists for a yarn, where it does."""
    if len(drawn) > _MOST_SYMBOLS:
        what = f"The rows have {len(drawn)} kinds of stitches in their yarns; {_MOST_SYMBOLS} can be drawn."
        raise Problems([Problem(what, source.name)])
    listed: dict[Stitch, str] = {}
    for stitch in drawn:
        said = pattern.said.get(stitch.yarn)
        sign = said.symbol if said and stitch.texture == STOCKINETTE else ""
        if sign.isascii() and sign.isalpha() and sign not in listed.values():
            listed[stitch] = sign
    others = [stitch for stitch in drawn if stitch not in listed]
    taken = [sign for sign in listed.values() if sign not in "lIoO"]  # which are chosen for none
    made = symbols_of([*taken, *(stitch.yarn for stitch in others)])[len(taken):]
    signs = listed | dict(zip(others, made, strict=True))
    return {stitch: signs[stitch] for stitch in drawn}


def _more(pattern: Pattern, rows: _Rows) -> Iterator[str]:
    """Keys at the top of the plan, besides those that every plan has."""
    first = next(iter(rows.worked[0].runs))
    told = pattern.cast_on
    keys = [f"method: {told.method}"] if told.method and told.method != "long-tail" else []
    if told.is_each:
        keys.append("colours: each")
    elif told.yarn and told.yarn != first.yarn:
        keys.append(f"yarn: {name_in_yaml(told.yarn)}")
    if keys:
        yield f"cast_on: {{{', '.join(keys)}}}"
    off = _off(rows)
    if off and off.is_each:
        yield "bind_off: {colours: each}"
    if any(row.is_slipped for row in rows.worked):
        yield "slipped_edges: true"
    if inward := max(row.inward for row in rows.worked):
        yield f"shaping: {{at: {inward}}}"
    if pattern.is_for_baby:
        yield "for: baby"
    divide = next((row.divide for row in rows.worked if row.divide), None)
    if divide and divide.worn:
        yield f"worn: {divide.worn}"


def _off(rows: _Rows) -> OffAll | None:
    return next((row.off for row in reversed(rows.worked) if row.off), None)


def _picture(rows: Sequence[Laid]) -> list[Level]:
    """The rows as they lie in the fabric, those of two parts side by side."""
    levels: list[Level] = []
    for row in rows:
        cells = dict(enumerate(row.cells, row.first))
        if row.level == len(levels):
            levels.append(Level(row.label.is_round, row.label.side, cells))
        else:
            levels[row.level] = levels[row.level]._replace(cells={**levels[row.level].cells, **cells})
    return levels


def _openings(rows: _Rows) -> list[Opening]:
    """Where the piece divides, from the cast-on up."""
    divides = [row.divide for row in rows.worked if row.divide]
    begins = [at for at, row in enumerate(rows.drawn) if row.label.begins == "part"][::2]
    joins = [row.level for row in rows.drawn if row.label.begins == "whole"]
    return [_opening(rows, *one) for one in zip_longest(divides[:len(begins)], begins, joins[:len(begins)])]


def _opening(rows: _Rows, divide: Divide, begins: int, past: int | None) -> Opening:
    """One opening: the place of the first row of its parts, and the level of the row that joins them."""
    level = rows.drawn[begins].level
    beside: dict[int, dict[Part, Laid]] = {}
    for row in rows.drawn[begins:]:
        if row.label.part and (past is None or row.level < past):
            beside.setdefault(row.level, {})[row.label.part] = row
    both = [own for _, own in sorted(beside.items()) if len(own) == 2]
    touch = any(own["right"].last + 1 == own["left"].first for own in both)
    at = len(both[0]["right"].cells) if touch else 0
    high = past - level if past is not None and touch else 0
    return Opening(divide.first, level, at, high, divide.is_held and divide.middle > 0)


def _seams(picture: Sequence[Level]) -> list[int]:
    """For every row the stitches that it has more than the rounds of its tube."""
    rounds = {len(level.cells) for level in picture if level.is_round}
    if len(rounds) != 1:
        return [0] * len(picture)
    [wide] = rounds
    return [
        len(level.cells) - wide
        if not level.is_round and 0 < len(level.cells) - wide <= 2 and min(level.cells) == 1 else 0
        for level in picture
    ]


def _read_back(
    text: str, rows: _Rows, source: Source, *, is_mirrored: bool
) -> Loaded:
    """The plan read as every plan is, and held against the rows as they were told.

    Raises:
        Problems: a plan cannot say what they say.
    """
    try:
        loaded = load_text(text, "the drafted plan", {})
        piece = for_hands(loaded.piece, is_mirrored=is_mirrored)
    except Problems as found:
        whats = [problem.what for problem in found.problems if not problem.is_warning]
        raise Problems([
            Problem(f"A plan cannot say what these rows say: {what}", source.name,
                    mend="Tell these rows as a plan works them: edges shaped where rows begin, rounds of one width.")
            for what in whats[:3]
        ]) from None  # fmt: skip
    for index, row in enumerate(rows.worked if piece.has_slipped_edges else ()):
        if row.is_slipped != is_slipped(piece.rows, index):
            there = "not." if row.is_slipped else "do so, too."
            what = f"Some rows slip their first stitch; here a plan would {there}"
            mend = "A plan slips it in every flat row but row 1, unless that edge is shaped, or in none."
            raise Problems([source.problem(*source.place(row.label.at), what, mend)])
    if (wrong := _differs(piece, rows)) is not None:
        label = rows.told[wrong].label
        what = "A plan cannot say what this row says: it would be worked otherwise."
        if is_mirrored:
            what = "A plan is drawn for right hands, and from it left hands would not come to what this row says."
        mend = "See plans/README.md on shaping and on tubes."
        raise Problems([source.problem(*source.place(label.at), what, mend)])
    return loaded


def _differs(piece: Piece, rows: _Rows) -> int | None:
    """The first row, from 0, that is not in the piece as it was told; None where all are."""
    if len(piece.rows) != len(rows.told):
        return min(len(piece.rows), len(rows.told)) - 1
    shift = 0
    for index, told in enumerate(rows.told):
        row = piece.rows[index]
        label = told.label
        if (row.side, row.is_round, row.part, row.number) != (label.side, label.is_round, label.part, label.number):
            return index
        columns = [column for first, last in row.fabric.stretches for column in range(first, last + 1)]
        if len(columns) != len(told.cells):
            return index
        if not index:
            shift = columns[0] - told.first
        if columns[0] != told.first + shift:
            return index
        column = 0
        cells = iter(told.cells)
        for run in row.fabric.runs:
            for _ in range(run.columns):
                column += 1
                if run.stitch is None:
                    continue
                yarn, face = next(cells)
                if run.stitch.yarn != yarn:
                    return index
                if face and (face == "k") != looks_knit(row, run.stitch.texture, column):
                    return index
    return None


_LEFT_OUT = {
    "above": ("What stands here above the rows is left out: it says nothing that is understood.", ""),
    "says": ("What the plan says of its rows is left out.", 'Write it anew, with "says" in their section.'),
    "after": ("What is done after the last row is left out of the plan.", ""),
    "sewn": (
        "What is sewn on afterwards is left out of the plan: these words do not say which stitches it covers.",
        'Draw it into the plan\'s chart, or name it under "sewn_on": plans/README.md shows how.',
    ),
}  # fmt: skip


def _tell_left_out(pattern: Pattern, rows: _Rows, source: Source, found: Found) -> None:
    """What of the text is not in the plan, as warnings."""
    for at, where in pattern.left_out:
        found.add(source.problem(*source.place(at), *_LEFT_OUT[where], is_warning=True), cause=where)
    long = [name for name in pattern.yarns if len(name) > 3 and name not in pattern.said]
    for number, name in enumerate(long):
        if near := nearest(name, long[:number]):
            what = f"The yarns {quoted(near)} and {quoted(name)} are spelled nearly alike; both are in the plan."
            at = source.text.find(name)
            found.add(source.problem(*source.place(max(0, at)), what, is_warning=True))
    off = _off(rows)
    last = rows.worked[-1].runs[-1].yarn
    if off and off.yarn and off.yarn != last:
        what = f"All is bound off in {last}, with which the last row ends, and not in {quoted(off.yarn)}."
        mend = "For another colour let one row of it come last."
        found.add(source.problem(*source.place(off.at), what, mend, is_warning=True))
