"""Written rows, read to the letter. What the reader does not know it refuses: nothing is guessed or skipped.

The grammar is that of ``rowside rows PLAN``, learnt from its pages and from README; none of the program's words are
imported. Yarns are known from the list above the rows, so that their names may be any words.
"""

from __future__ import annotations

from collections.abc import Sequence

from tests.simulator.heading import read_heading, read_rules, read_sewn_on, read_sewn_up
from tests.simulator.parts import parts_told, side_toward
from tests.simulator.told import (
    BindOff,
    BindOffAll,
    CastOn,
    CastOnBefore,
    Catch,
    Count,
    Cross,
    Cut,
    Decrease,
    Do,
    Doing,
    Goes,
    InStrand,
    JoinRound,
    LayIn,
    Lead,
    Leave,
    Lift,
    Loops,
    Resting,
    RowEnd,
    Run,
    Slip,
    StrandAt,
    Take,
    Turn,
    Under,
    Written,
    WrittenRow,
)
from tests.simulator.words import Manner, NotUnderstood, Words


def read(lines: Sequence[str], manner: Manner) -> Written:
    """A whole written piece."""
    left = list(lines)
    yarns = read_heading(left, manner)
    seams = read_rules(left, manner)
    cast_on = _cast_on_line(left.pop(0), yarns) if left[0].startswith("Cast on") else None
    rows = []
    while left and left[0]:
        if left[0].startswith("The plan says: "):
            left.pop(0)  # words for whoever knits, not for the hands
        rows.append(_row(Words(left.pop(0), yarns), manner))
    read_sewn_on(left, manner)
    sewn_up = tuple(read_sewn_up(left))
    if sewn_up != tuple((first, last) for first, last, _ in seams):
        raise NotUnderstood(f"rows {seams} are worked flat and {sewn_up} are sewn up")
    if left:
        raise NotUnderstood(f"lines at the end: {left}")
    return Written(cast_on, tuple(rows))


METHODS = ("long-tail", "knitted", "cable")


def _cast_on_line(line: str, yarns: Sequence[str]) -> CastOn:
    words = Words(line, yarns)
    words.must("Cast on (")
    method = words.one_of(*METHODS)
    waits = words.may(", not joined yet")
    words.must("): ")
    sections = words.several(lambda: _section(words), "; cross, ")
    words.must(". (")
    stitches = words.counted("st", "sts")
    words.must(")")
    if words or stitches != sum(number for _, number in sections) or len(sections) < 2:
        words.fail("the end of the cast-on, its stitches added up")
    return CastOn(sections, method, waits=waits)


def _section(words: Words) -> tuple[str, int]:
    number = words.counted("st", "sts")
    words.must(" in ")
    return words.yarn(), number


def _row(words: Words, manner: Manner) -> WrittenRow:
    kind = words.one_of("Row", "Round")
    words.must(" ")
    number = words.number()
    part = ""
    if words.may(" of the "):
        part = words.one_of("left", "right")
        words.must(" part")
    words.must(" (")
    side = words.one_of("RS", "WS")
    words.must("): ")
    runs = words.several(lambda: _run(words, manner), "; ")
    words.must(".")
    ends: list[RowEnd] = []
    while words.may(" "):
        ends.append(_end(words, manner, len(runs)))
    if words:
        words.fail("the end of the row")
    return WrittenRow("Row" if kind == "Row" else "Round", part, number, side, runs, tuple(ends))


def _run(words: Words, manner: Manner) -> Run:
    leads: list[Lead] = []
    while not leads or not isinstance(leads[-1], Take):
        leads.append(_lead(words))
    is_new, take = leads[-1].how != "with", leads.pop()
    if words.may(", bring it under "):
        is_old = words.may("the old ")
        old = words.yarn()
        if is_old != (old == take.yarn):
            words.fail("the old strand of two that are alike")
        leads.append(Under(old))
        is_new = True
    leads.append(take)
    words.must(", " if is_new else " ")
    doings: list[Doing] = []
    is_more = False  # the stitches that come next after a bind-off are told as "more"
    while not doings or words.may(", "):
        if other := _other(words, manner):
            doings.append(other)
            is_more = is_more or isinstance(other, BindOff)
            continue
        doings += _stitches(words)
        while is_more and not words.may(" more"):
            words.must(", ")
            doings += _stitches(words)
        is_more = False
    return Run(tuple(leads), tuple(doings))


def _lead(words: Words) -> Lead:
    if words.may("cast on "):
        section = _section(words)
        method = "long-tail"
        if words.may(" ("):
            method = words.one_of("knitted", "cable")
            words.must(")")
        is_cut = words.may(", cut it")
        is_joined = words.may(", join into a round, the cast-on not twisted")
        words.must(", ")
        return CastOn((section,), method, is_cut, is_joined)
    if words.may("cross, "):
        return Cross()
    if words.may("join "):
        return Take(words.yarn(), "join")
    if words.may("start at the middle of a length of "):
        return Take(words.yarn(), "middle")
    if words.may("start with the other half of that length of "):
        return Take(words.yarn(), "other half")
    words.must("with ")
    is_other = words.may("the other ")
    yarn = words.yarn()
    if not words.may(" (hangs "):
        return Take(yarn, is_other=is_other)
    number = words.counted("st", "sts")
    way = words.one_of(" back)", " ahead)")
    return Take(yarn, on_needle=number if way == " ahead)" else -number, is_other=is_other)


DECREASES = ("sssk", "sssp", "k3tog", "p3tog", "ssk", "ssp", "k2tog", "p2tog")
LIFTS = ("m1R purlwise", "m1L purlwise", "m1R", "m1L")
"""The longer first where one begins like another."""


def _other(words: Words, manner: Manner) -> Doing | None:
    """Anything done in a run but plain stitches."""
    if words.may(f"{manner.bind_off} "):
        number = words.number()
        words.must(f" (1 on the {manner.coming} needle)")
        return BindOff(number)
    if words.may("cast on "):
        number = words.number()
        if words.may(" (knitted or cable)"):
            return CastOnBefore(number)
        words.must(" (backward loop)")
        return Loops(number)
    if words.may("make 1 by a backward loop"):
        return Loops(1)
    if words.may("lay the "):
        yarn = words.yarn()
        words.must(" tail in under the next ")
        return LayIn(yarn, words.number())
    if words.may("catch the resting ") or words.may("leave the resting "):
        return Resting(words.yarn())
    if words.may("catch "):
        return Catch(words.yarn())
    if how := next((how for how in DECREASES if words.may(how)), ""):
        return Decrease(how)
    if how := next((how for how in LIFTS if words.may(how)), ""):
        return Lift(how)
    return None


def _stitches(words: Words) -> list[Do | Slip]:
    """Knits and purls; a pair that is told with its number of times as often as it is done."""
    if not words.may("("):
        return [_same(words)]
    pair = words.several(lambda: _same(words), ", ")
    words.must(") ")
    times = words.number()
    words.must(" times")
    if len(pair) != 2 or times < 2:
        words.fail("a pair, and how often")
    return list(pair) * times


def _same(words: Words) -> Do | Slip:
    if words.may("sl"):
        number = words.number()
        words.may(" purlwise")
        return Slip(number)
    hand = words.one_of("k", "p")
    return Do("k" if hand == "k" else "p", words.number())


ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def _ordinal(words: Words) -> int:
    for number, name in enumerate(ORDINALS, 1):
        if words.may(f"{name} "):
            return number
    number = words.number()
    ending = words.one_of("st", "nd", "rd", "th")
    words.must(" ")
    usual = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    if number <= len(ORDINALS) or ending != ("th" if number // 10 % 10 == 1 else usual):
        words.fail(f"another ending than {number}{ending}")
    return number


def _place(words: Words, manner: Manner, runs: int) -> StrandAt:
    words.must("the ")
    yarn = words.yarn()
    if runs == 1:
        return StrandAt(yarn, 0, "", "")
    if words.may(" beside "):
        other = _beside(words, yarn)
        words.must(", first from the ")
        if words.one_of("right", "left") == manner.coming:
            return StrandAt(yarn, 0, "", other)
        return StrandAt(yarn, runs - 1, other, "")
    words.must(" between ")
    before = after = yarn
    if not words.may("two others"):
        before = _beside(words, yarn)
        words.must(" and ")
        after = _beside(words, yarn)
        if before == after == yarn:
            words.fail("two others")
    words.must(", ")
    run = _ordinal(words) - 1
    words.must(f"from the {manner.coming}")
    return StrandAt(yarn, run, before, after)


def _beside(words: Words, yarn: str) -> str:
    """The yarn of a strand beside one of a yarn; of the same it is "the other"."""
    is_other = words.may("the other ")
    beside = words.yarn()
    if is_other != (beside == yarn):
        words.fail("the other one of two that are alike")
    return beside


def _end(words: Words, manner: Manner, runs: int) -> RowEnd:
    if words.may("("):
        count = Count(words.counted("st", "sts"))
        words.must(")")
        return count
    if words.may("Cut, leaving a tail: "):
        cut = Cut(words.several(lambda: _place(words, manner, runs), "; "))
        words.must(".")
        return cut
    if words.may("Leave hanging, do not cut: "):
        left = Leave(words.several(lambda: _resting(words, manner, runs), "; "))
        words.must(".")
        return left
    if words.may("From here work flat: turn after every row."):
        return Goes("flat")
    if words.may("From here work round again, without turning, and pull the first stitch tight."):
        return Goes("round")
    if words.may(
        "From here work round, without turning: join the row into a round, nothing twisted, and pull the first "
        "stitch tight."
    ):
        return Goes("round", is_again=False)
    if words.may(f"{manner.bind_off.capitalize()} in pattern in "):
        yarn = words.yarn()
        words.must(", ")
        side = side_toward(words)
        words.must(", and cut it.")
        return BindOffAll(InStrand(yarn), side=side)
    if words.may(f"{manner.bind_off.capitalize()} in pattern, "):
        side = side_toward(words)
        words.must(", crossed at each change, each run in its own strand: ")
        first, *others = words.several(lambda: _in_strand(words), ", ")
        words.must(". Cut all ")
        if words.number() != len(others) + 1:
            words.fail("as many cut as bind off")
        words.must(".")
        return BindOffAll(first, tuple(others), side=side)
    if words.may("Join into a round, the cast-on not twisted."):
        return JoinRound()
    if words.may("Turn."):
        return Turn()
    return parts_told(words)


def _in_strand(words: Words) -> InStrand:
    stitches = words.number()
    words.must(" in ")
    return InStrand(words.yarn(), stitches)


def _resting(words: Words, manner: Manner, runs: int) -> tuple[StrandAt, int]:
    place = _place(words, manner, runs)
    words.must(" (rests ")
    number = words.number()
    words.must(" ")
    is_one = words.one_of("row", "round", "rows", "rounds") in ("row", "round")
    if is_one != (number == 1):
        words.fail("a noun that fits its number")
    words.must(")")
    return place, number
