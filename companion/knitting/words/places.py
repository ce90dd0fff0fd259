"""Strands and ends told by their place in a row: yarn carries no number, so nothing else tells two strands of one
yarn apart.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from companion.knitting.cloth.cast_on import is_begun, separate_yarn
from companion.knitting.cloth.fabric import FabricRow
from companion.knitting.cloth.rows import LONG_TAIL, Row, RowKey, Rows, Side
from companion.knitting.hands.ends import EndState, corner, is_of_bind_off, is_of_cast_on
from companion.knitting.hands.hangs import Hang
from companion.knitting.hands.joins_and_cuts import spot_among
from companion.knitting.hands.steps import End, Spot
from companion.knitting.hands.whereabouts import landmark
from companion.knitting.strands.strands import Strands, StrandSummary, Total
from companion.knitting.words.terms import Terms, count, how_many, ordinal, sentence


def row_number(row: Row | RowKey) -> str:
    """A row's number, and in a divided piece its part: "5", "5 of the left part"."""
    return f"{row.number} of the {row.part} part" if row.part else str(row.number)


def row_noun(row: Row | FabricRow) -> str:
    """What it is called: "row", "round"."""
    return "round" if row.is_round else "row"


def rows_noun(rows: Rows) -> str:
    """What they are called where several are meant: "round" where all of them are worked round."""
    return "round" if all(row.is_round for row in rows.fabric.rows) else "row"


def rows_title(rows: Rows, *, are_many: bool = False) -> str:
    """What stands above a column of them: "Row", "Round", in a piece that has both "Row or round"."""
    many = "s" * are_many
    return f"Row{many} or round{many}" if _has_both(rows) else f"{rows_noun(rows).capitalize()}{many}"


def begins_title(rows: Rows) -> tuple[str, str]:
    """What stands above a column of the rows in which something begins, and where there is little room."""
    noun = rows_noun(rows)
    return ("From", "from") if _has_both(rows) else (f"From {noun}", noun)


def row_listed(key: str, row: Row | FabricRow, rows: Rows) -> str:
    """A row with this number in such a column: "5", in a piece that has both "round 5"."""
    return f"{row_noun(row)} {key}" if _has_both(rows) else key


def span_listed(first: Row, last: Row, rows: Rows) -> str:
    """Several rows in such a column: "5 to 7", in a piece that has both "rounds 5 to 7", "row 5 to round 7"."""
    start, end = row_listed(row_key(first), first, rows), row_listed(row_key(last), last, rows)
    if first is last:
        return start
    if _has_both(rows) and first.is_round == last.is_round:
        return f"{row_noun(first)}s {row_key(first)} to {row_key(last)}"
    return f"{start} to {end}"


def _has_both(rows: Rows) -> bool:
    return len({row.is_round for row in rows.fabric.rows}) > 1


def row_named(row: Row) -> str:
    """A row with what it is called: "row 5 of the left part", "round 7"."""
    return f"{row_noun(row)} {row_number(row)}"


def rows_span(first: Row, last: Row) -> str:
    """Several rows: "row 7", "rows 7 to 10", "rows 1 to 4 of the left part", "round 1 to row 20"."""
    if first is last:
        return row_named(first)
    if first.is_round != last.is_round:
        return f"{row_named(first)} to {row_named(last)}"
    start = str(first.number) if first.part == last.part else row_number(first)
    return f"{row_noun(first)}s {start} to {row_number(last)}"


def row_key(row: Row) -> str:
    """The same as it is typed, and where there is little room: "5", "left 5"."""
    return f"{row.part} {row.number}".strip()


def strand_place(row: Row, segment: int, terms: Terms, *, is_turned: bool = False) -> str:
    """A strand told by its place in a row as that row is held: "the sand between brick and sea, third from the
    right". Yarn carries no number, so nothing else tells two strands of one yarn apart. ``is_turned``: the work
    is held the other way round now."""
    runs = row.segments[::-1] if is_turned else row.segments
    return spot_told(spot_among(runs, len(runs) - 1 - segment if is_turned else segment), terms)


def the_other(yarn: str) -> str:
    """A strand of the same yarn as the one that is told of, beside it in a run that they share."""
    return f"the other {yarn}"


def spot_told(spot: Spot, terms: Terms) -> str:
    """The same of a place that is known already. That of the first or last run may hang far from the edge."""
    if spot.of == 1:
        return f"the {spot.yarn}"
    before, after = (the_other(yarn) if yarn == spot.yarn else yarn for yarn in (spot.before, spot.after))
    if spot.nth == 1:
        return f"the {spot.yarn} beside {after}, first from the {terms.coming}"
    if spot.nth == spot.of:
        return f"the {spot.yarn} beside {before}, first from the {terms.going}"
    between = f"{before} and {after}" if before != after or before == spot.before else "two others"
    return f"the {spot.yarn} between {between}, {ordinal(spot.nth)} from the {terms.coming}"


def spot_in_row(spot: Spot) -> str:
    """The same in a list that says from which side it is counted: "rose third"."""
    return f"{spot.yarn} {ordinal(spot.nth)}" if spot.of > 1 else spot.yarn


def strand_joined(row: Row, segment: int, terms: Terms) -> str:
    """Where a strand is joined: "row 7, the brick between sand and sea, third from the right"."""
    return f"{row_named(row)}, {strand_place(row, segment, terms)}"


def hanging_at(hang: Hang) -> str:
    """Where one strand hangs: "sand in hand", "brick 8 sts ahead", "sand 12 sts back"."""
    if hang.is_in_hand:
        return f"{hang.yarn} in hand"
    if hang.away == 0:
        return f"{hang.yarn} at the tips"
    return f"{hang.yarn} {count(abs(hang.away))} {'ahead' if hang.away > 0 else 'back'}"


def hanging_place(strands: Strands, hang: Hang, row: int, terms: Terms) -> str:
    """A hanging strand told by its place, as the work is held while row ``row`` (from 0) is worked."""
    worked = strands.rows[hang.worked.row]
    is_turned = worked.toward != strands.rows[row].toward
    return strand_place(worked, hang.worked.segment, terms, is_turned=is_turned)


def strands_title(number: int, terms: Terms) -> str:
    """Above the list of hanging strands."""
    return f"{number} strand{'' if number == 1 else 's'}, from the {terms.coming} needle to the {terms.going}:"


def strand_line(strands: Strands, summary: StrandSummary, terms: Terms) -> str:
    """One strand: where it is joined, the rows it works, its stitches."""
    rows = strands.rows
    joined, cut = rows[summary.joined.row], rows[summary.cut.row]
    place = strand_place(joined, summary.joined.segment, terms)
    span = rows_span(joined, cut)
    carried = f", carried over {count(summary.carried)}" if summary.carried else ""
    begun = f"Joined in {row_named(joined)}"
    if is_begun(rows, summary.joined):
        begun = "Cast on" if rows.cast_on.is_each else "Begun in the cast-on"
    held = f" (the {row_noun(joined)} as it is held)" if " from the " in place else ""
    return f"{summary.yarn}: {span}, {count(summary.stitches)}{carried}. {begun} as {place}{held}."


def strand_totals(total: Total) -> str:
    """The piece's figures in one line."""
    return (
        f"{total.strands} strands, {total.ends} ends; at most {total.most_at_once} at once; "
        f"{count(total.carried)} carried over."
    )


def ends_ready_in_short(number: int) -> str:
    """How many ends can be woven in now, "" where there are none."""
    return f"{how_many(number, 'end')} ready" if number else ""


def ends_title(shown: str, number: int, ready: int, terms: Terms, *, left: int = 1) -> str:
    """Above the list of ends. ``left``: so many are not woven in yet."""
    if not left:
        return f"Ends, {shown}: {number}. All are {terms.woven_in}."
    to_do = f"ready to {terms.weave_in}"
    if shown == "ready":
        return f"Ends {to_do}: {number}."
    are = "None is" if not ready else "1 is" if ready == 1 else f"{'All' if ready == number else ready} are"
    return f"Ends, {shown}: {number}. {are} {to_do}{'' if ready else ' yet'}."


def side_facing(side: Side) -> str:
    """Which side faces the knitter while the row is worked."""
    return "right side toward you" if side == "RS" else "wrong side toward you"


def place_in_short(place: str) -> str:
    """The telling part of a strand's place, where its yarn is told already and there is little room: "third from
    right"."""
    found = re.search(r"(\S+) from the (left|right)(, after [0-9]+ sts?)?$", place)
    at_edge = re.search(r"at the \S+ edge$", place)
    return f"{found[1]} from {found[2]}{found[3] or ''}" if found else at_edge[0] if at_edge else place


def end_state(state: EndState, terms: Terms) -> str:
    """How far an end is, in a word or two."""
    return terms.woven_in if state == "woven" else state


END_MARKS: dict[EndState, str] = {"not yet": " ", "too fresh": "·", "ready": "○", "for the seam": "|", "woven": "✓"}


def end_line(strands: Strands, end: End, state: EndState, terms: Terms) -> str:
    """One end: its state, yarn, start or finish, and its place."""
    row, kind, place = end_place(strands, end, terms)
    where = row if row == CAST_ON else f"{row_noun(strands.rows[end.place.row])} {row}"
    return f"{END_MARKS[state]} {end_state(state, terms):<12}  {where}, {kind:<6} of {place}"


CAST_ON = "cast-on"
"""What stands in the place of a row."""


def end_place(strands: Strands, end: End, terms: Terms) -> tuple[str, str, str]:
    """The row of one end and its side, "left 7 RS"; whether it is a start, a finish or a tail; the strand it is of,
    by its place as one looks at the wrong side, where it is woven in."""
    row = strands.rows[end.place.row]
    if _is_told_of_cast_on(strands, end):
        return CAST_ON, _cast_on_kind(end), _cast_on_place(strands, end, terms)
    place = strand_place(row, end.place.segment, terms, is_turned=row.side == "RS")
    if is_of_bind_off(end, strands) and not row.is_round and not strands.rows.ends_in_each(end.place.row):
        place = f"the {row.segments[-1].yarn} at the {terms.going if row.side == 'RS' else terms.coming} edge"
    elif end.after:
        place += f", after {count(end.after)}"
    return f"{row_key(row)} {row.side}", end.kind, place


def end_heading(strands: Strands, end: End, terms: Terms) -> str:
    """Above how one end is woven in: "Row 7 RS, start of the sand", "Cast-on, tail of the sand"."""
    _, kind, place = end_place(strands, end, terms)
    if _is_told_of_cast_on(strands, end):
        return f"Cast-on, {kind} of {place}"
    row = strands.rows[end.place.row]
    return f"{sentence(row_named(row))} {row.side}, {kind} of {place}"


def _is_told_of_cast_on(strands: Strands, end: End) -> bool:
    """Where the plan says nothing of the cast-on, its tail is that of row 1's first strand."""
    return strands.rows.cast_on != LONG_TAIL and is_of_cast_on(end, strands)


def _cast_on_kind(end: End) -> str:
    return "finish" if end.kind == "cast-on finish" else "tail"


def _cast_on_place(strands: Strands, end: End, terms: Terms) -> str:
    """An end of the cast-on by its place as one looks at the wrong side."""
    rows = strands.rows
    if rows.cast_on.is_each:
        return strand_place(rows[0], end.place.segment, terms, is_turned=True)
    yarn = separate_yarn(rows) or rows[0].segments[0].yarn
    is_far = (corner(end, strands).inward > 0) != (rows[0].toward == "left")
    return f"the {yarn} at the {terms.coming if is_far else terms.going} edge"


WHERE_QUESTION = (
    "What lies on the needle, from left to right? Colours by name or symbol, counts if you have them: s 12, b 6, s 22"
)


def rows_found(rows: Rows, found: Sequence[int]) -> list[str]:
    """The rows that fit, each with its landmark."""
    noun = rows_noun(rows)
    if not found:
        return [f"No {noun} of this piece has such runs. Count again, or leave counts out that you are not sure of."]
    heading = f"One {noun} fits:" if len(found) == 1 else f"{how_many(len(found), noun)} are alike in this:"
    return [heading, *(_fits(rows, index) for index in found)]


def how_to_get_there(rows: Rows, forward: str, back: str) -> str:
    """Which keys go to a row that was found."""
    return f"{forward} and its number goes forward to a {rows_noun(rows)}, {back} rips back to one."


def _fits(rows: Rows, index: int) -> str:
    row = rows[index]
    name = row_noun(row)
    mark = landmark(rows, index)
    if mark is None:
        above = "above nothing but the first colours"
    elif mark.rows:
        above = f"{how_many(mark.rows, name)} above the first {mark.yarn} there"
    else:
        above = f"the first {name} with this {mark.yarn}"
    return f"{sentence(row_named(row))} ({row.side}) is on the needle, {above}."
