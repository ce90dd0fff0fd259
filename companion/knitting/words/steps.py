"""Every step in words, once, in every register: the only place where a doing of the hands becomes a sentence.

Strands lie on the fabric's wrong side: at the back on right-side rows, in front on wrong-side rows, so every
sentence about a cross or a carry has both forms. The hands go from right to left on both sides; a knitter who
works mirrored goes from left to right.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Literal, NamedTuple, assert_never

from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Hand, Side
from companion.knitting.hands.steps import (
    BindOff,
    CastOn,
    Catch,
    Count,
    Cross,
    CrossCastOn,
    Cut,
    CutCastOn,
    Divide,
    Fetch,
    GoFlat,
    GoRound,
    HaveReady,
    Hold,
    Join,
    JoinHalf,
    JoinRound,
    LayIn,
    Leave,
    Renew,
    Rest,
    SewOn,
    SewUp,
    Shape,
    Slip,
    Splice,
    Steady,
    Step,
    TakeUp,
    Trim,
    Turn,
    Wash,
    WeaveAtSeams,
    WeaveIn,
    Work,
)
from companion.knitting.words.places import spot_in_row, spot_told
from companion.knitting.words.terms import (
    Terms,
    count,
    how_many,
    listed,
    measured,
    sentence,
    stitches_in_full,
)
from companion.knitting.words.tubes import sew_tube

Register = Literal["full", "short", "verb", "written", "spoken"]
"""A sentence for the hands; the same in few words; the one word that is drawn in large letters; what a written row
has of it ("" = nothing); and what is read aloud, without any abbreviation."""


class _Words(NamedTuple):
    """A step in every register, in the order of ``Register``."""

    full: str
    short: str
    verb: str
    written: str
    spoken: str


def tell(step: Step, register: Register, terms: Terms) -> str:
    """One step in words."""
    words = _words(step, terms)
    match register:
        case "full":
            return words.full
        case "short":
            return words.short
        case "verb":
            return words.verb
        case "written":
            return words.written
        case "spoken":
            return words.spoken


def _words(step: Step, terms: Terms) -> _Words:
    match step:
        case CastOn(_, yarn, stitches, method):
            how = "" if method == "long-tail" else f" ({method})"
            cast = f"ast on {count(stitches)} in {yarn}{how}"
            aloud = f"Cast on {stitches_in_full(stitches)} in {yarn}, {method}."
            return _Words(f"C{cast}.", f"C{cast}.", f"cast on {stitches}", f"c{cast}", aloud)
        case CrossCastOn(old, new):
            old, new = told_apart(old, new)
            full = f"Cross: lay {old} over {new}, then take {new} up from under it."
            return _Words(full, f"Cross: {old} over {new}.", "cross", "cross", f"Cross: {old} over {new}.")
        case CutCastOn(yarn):
            full = f"Cut the {yarn}, leaving a tail."
            return _Words(full, f"Cut the {yarn}.", "cut", "cut it", full)
        case JoinRound():
            full = "Join into a round, the cast-on not twisted."
            return _Words(full, full, "join", full, full)
        case Steady(yarn, side):
            full = f"Take {yarn} to the back first." if side == "RS" else f"Bring {yarn} to the front first."
            return _Words(full, full, "to the back" if side == "RS" else "to the front", "", full)
        case Fetch():
            return _fetched(step, terms)
        case Join(yarn, old, side):
            knot = f", half-knot it round {old} or let it hang" if old else ""
            full = f"Join new {yarn} {where_strands_lie(side)}: leave a tail{knot}."
            return _Words(full, f"Join new {yarn}.", "join", f"join {yarn}", f"Join new {yarn}.")
        case JoinHalf():
            return _half(step)
        case Hold(old, new, side):
            old, new = told_apart(old, new)
            full = f"Hold the edge: bring {new} under {old} {where_strands_lie(side)}, then work."
            short = f"Bring {new} under {old}."
            return _Words(full, short, "hold", f"under {step.old}", short)
        case Cross(old, new, side):
            old, new = told_apart(old, new)
            full = (
                f"Cross the old strand before the new, {where_strands_lie(side)}: lay {old} to your "
                f"{terms.going} across {new}, then take {new} up from under it."
            )
            return _Words(full, f"Cross: {old} over {new}.", "cross", "cross", f"Cross: {old} over {new}.")
        case Slip(_, side):
            full = f"Slip the first stitch purlwise, the strand {where_strands_lie(side)}."
            return _Words(full, "slip 1 purlwise", "slip 1", "sl1 purlwise", "slip one purlwise")
        case Work(yarn, _, hands):
            full = in_full(hands)
            return _Words(f"{sentence(full)} in {yarn}.", full, verb_of(hands), in_short(hands), full)
        case Shape():
            return _shaped(step, terms)
        case Catch(yarn):
            return _on_the_way(f"catch {yarn}", "catch")
        case Rest(yarn, is_caught):
            verb = "catch" if is_caught else "leave"
            return _on_the_way(f"{verb} the resting {yarn}", verb)
        case LayIn(_, yarn, stitches):
            return _on_the_way(f"lay the {yarn} tail in under the next {stitches}", "lay in")
        case Renew(yarn, after, side):
            full = (
                f"{_after(after)} this {yarn} ends: leave a tail, join new {yarn} {where_strands_lie(side)} with a "
                f"tail too; lay the old {yarn} to your {terms.going} across the new, then take the new one up from "
                "under it."
            )
            return _on_the_way(f"join new {yarn}", "join", full)
        case Splice(yarn, after):
            full = f"{_after(after)} comes the splice in {yarn}: no end is left."
            return _on_the_way(f"splice {yarn}", "splice", full)
        case Count(stitches, more):
            changed = f", {abs(more)} {'more' if more > 0 else 'fewer'} than before" if more else ""
            full = f"{stitches_in_full(stitches)} must be on the needle{changed}."
            short, aloud = f"{count(stitches)} on the needle.", f"{stitches_in_full(stitches)} on the needle."
            return _Words(full, short, f"count {stitches}", f"({count(stitches)})", aloud)
        case Cut():
            return _cut(step, terms)
        case BindOff():
            return _bound_off(step, terms)
        case Leave(rests):
            places = [
                f"{spot_told(one, terms)} (rests {how_many(rows, 'row')})" for one, rows in rests
            ]
            full = f"Leave hanging, do not cut: {'; '.join(places)}."
            short = f"Leave hanging: {listed([spot_in_row(one) for one, _ in rests])}."
            return _Words(full, short, "leave", full, short)
        case Divide():
            return _divided(step, terms)
        case TakeUp(part, stitches, middle, side):
            back = stitches_in_full(stitches) + (f" and the {middle} in the middle" if middle else "")
            lead = f"ake up the {part_name(part, terms)}: its {back} back on the needle, {side_facing(side)}."
            short = f"Take up the {part} part: its {back}, {side_facing(side)}."
            return _Words(f"T{lead}", short, "take up", f"T{lead}", short)
        case GoFlat():
            full = "From here work flat: turn after every row."
            return _Words(full, full, "go flat", full, full)
        case GoRound(is_again):
            full = (
                "From here work round again, without turning, and pull the first stitch tight."
                if is_again else
                "From here work round, without turning: join the row into a round, nothing twisted, and pull the "
                "first stitch tight."
            )
            return _Words(full, "From here work round, not twisted.", "go round", full, full)
        case HaveReady(yarns, shared):
            lengths = [_new(yarn, n) for yarn, n in Counter(yarns).items()]
            lengths += [f"{_new(yarn, n)} wound from both ends" for yarn, n in Counter(shared).items()]
            full = f"Have ready: {', '.join(lengths)}."
            return _Words(full, full, "have ready", "", full.replace("(", "").replace(")", ""))
        case Turn(tip):
            full = f"Turn, the needle's tip {'toward' if tip == 'toward' else 'away from'} you."
            return _Words(full, "Turn.", "turn", "", full)
        case WeaveIn(ends):
            short = f"{sentence(terms.weave_in)} {how_many(ends, 'end')}"
            full = f"{short}; do not trim before the piece is washed and dry."
            return _Words(full, f"{short}.", "weave in", "", full)
        case SewOn(areas):
            full = f"Sew on {how_many(len(areas), 'area')} in {terms.duplicate_stitch}."
            return _Words(full, full, "sew on", "", full)
        case Wash():
            full = "Wash the piece as its yarns allow and dry it flat."
            return _Words(full, "Wash, dry flat.", "wash", "", full)
        case Trim():
            full = "Trim the ends, not too close to the fabric."
            return _Words(full, "Trim the ends.", "trim", "", full)
        case SewUp(edges, tubes):
            told = [f"Sew up {'the side edge' if edges == 1 else 'both side edges'}"] if edges else []
            full = f"{'. '.join([*told, *([sew_tube(tubes)] if tubes else [])])}."
            return _Words(full, "Sew the seams.", "sew up", full, full)
        case WeaveAtSeams(ends):
            full = f"{sentence(terms.weave_in)} {how_many(ends, 'end')} along the seams."
            return _Words(full, full, "weave in", "", full)
        case _:
            assert_never(step)


def act_verb(step: Step, terms: Terms) -> str:
    """An act in large letters: "CUT 2"."""
    return tell(step, "verb", terms).upper()


def _on_the_way(what: str, verb: str, full: str = "") -> _Words:
    """What is done to a strand in the course of a run."""
    return _Words(full or f"{sentence(what)}.", what, verb, what, what)


def _after(stitches: int) -> str:
    return f"After {stitches_in_full(stitches)}" if stitches else "Before the first stitch"


def _new(yarn: str, lengths: int) -> str:
    return f"new {yarn}" if lengths == 1 else f"new {yarn} ({lengths})"


def _fetched(step: Fetch, terms: Terms) -> _Words:
    """How a strand comes from where it hangs to the run."""
    yarn, over, lie = sentence(step.yarn), step.on_needle, where_strands_lie(step.side)
    rested = f" after {how_many(step.rows, 'row')}" if step.rows else ""
    if not step.stitches:
        full = f"{yarn} hangs{rested} below this very stitch: bring it up slack {lie}."
        short = f"{yarn} hangs below{rested}."
        return _Words(full, short, "bring up", "", short)
    if step.where == "behind":
        wide = f" ({measured(step.cm, terms)})" if step.cm else ""
        full = f"{yarn} waits {count(over)}{wide} back in this row: spread those stitches, carry it slack {lie}."
    elif step.where == "ahead":
        full = f"{yarn} hangs {count(over)} ahead: spread those stitches, bring it back slack {lie}."
    else:
        full = f"{yarn} hangs {count(over)} back: carry it on slack {lie}."
    is_ahead = step.where == "ahead"
    short = f"{yarn} hangs {count(over)} {'ahead' if is_ahead else 'back'}."
    aloud = f"{yarn} hangs {stitches_in_full(over)} {'ahead' if is_ahead else 'back'}."
    written = f"(carried {count(step.stitches)} {'from ahead' if is_ahead else 'on'})"
    return _Words(full, short, "bring back" if is_ahead else "carry on", written, aloud)


def _half(step: JoinHalf) -> _Words:
    """One half of a length started at its middle."""
    yarn, lie, apart = step.yarn, where_strands_lie(step.side), step.apart
    if step.half == "first":
        full = (
            f"Start new {yarn} {lie} at the middle of a length wound from both ends: no tail. "
            f"Its other half starts {count(apart)} further on."
        )
        short = f"Start {yarn} at the middle of a length."
        return _Words(full, short, "start", f"start at the middle of a length of {yarn}", short)
    full = f"Start the other half of the {yarn} begun {count(apart)} back: no tail, leave it slack {lie}."
    short = f"Start the other half of that {yarn}."
    return _Words(full, short, "start", f"start with the other half of that length of {yarn}", short)


_ALOUD = {
    "ssk": "slip, slip, knit them together", "ssp": "slip, slip, purl them together",
    "k2tog": "knit two together", "p2tog": "purl two together",
    "sssk": "slip three, knit them together", "sssp": "slip three, purl them together",
    "k3tog": "knit three together", "p3tog": "purl three together",
    "m1R": "make one right", "m1L": "make one left",
    "m1R purlwise": "make one right, purlwise", "m1L purlwise": "make one left, purlwise",
}  # fmt: skip


def _shaped(step: Shape, terms: Terms) -> _Words:
    """How stitches are made or lost, in the trade's abbreviations where there are some."""
    stitches = abs(step.more)
    match step.how:
        case "bind off":
            verb = f"{terms.bind_off} {stitches}"
            what, aloud = f"{verb} (1 on the {terms.coming} needle)", f"{verb}, one is on the {terms.coming} needle"
        case "cast on":
            what, verb = f"cast on {stitches} (knitted or cable)", f"cast on {stitches}"
            aloud = f"cast on {stitches}, knitted or cable"
        case "loops":
            what = verb = aloud = f"cast on {how_many(stitches, 'loop')}"
        case "loop":
            what = verb = aloud = "make 1 by a backward loop"
            verb = "make 1"
        case "lost":
            what, verb, aloud = f"{count(stitches)} fewer", f"{stitches} fewer", f"{stitches_in_full(stitches)} fewer"
        case how:
            what, verb, aloud = how, how, _ALOUD[how]
    return _Words(f"{sentence(what)}.", what, verb, what, aloud)


def _cut(step: Cut, terms: Terms) -> _Words:
    """What is cut at a row's end, all together, by place while the side just worked faces the knitter."""
    full, short = list[str](), list[str]()
    if step.spots:
        full.append(f"Cut, leaving a tail: {'; '.join(spot_told(one, terms) for one in step.spots)}.")
        short.append(f"Cut, counted from the {terms.coming}: {listed([spot_in_row(one) for one in step.spots])}.")
    stays = ""
    if step.spots and step.stays:
        names = listed([spot_in_row(one) for one in step.stays])
        stays = f" Counted from the {terms.coming}, {names} {'stays' if len(step.stays) == 1 else 'stay'}."
    if step.left_over:
        places = "; ".join(
            f"{'round' if one.is_round else 'row'} {_key(one.row.part, one.row.number)}, {spot_told(one.spot, terms)}"
            for one in step.left_over
        )
        full.append(f"Cut too, not needed any more: {places}.")
        short.append(f"Cut too: {places}.")
    number = len(step.spots) + len(step.left_over)
    written = " ".join(full)
    return _Words(written + stays, " ".join(short), f"cut {number}", written, " ".join(short))


def _key(part: Part, number: int) -> str:
    return f"{number} of the {part} part" if part else str(number)


def _bound_off(step: BindOff, terms: Terms) -> _Words:
    off, yarn = sentence(terms.bind_off), step.yarn
    full = (
        f"{off} {stitches_in_full(step.stitches)} in {yarn}, the strand in hand. Cut it, leaving a tail, draw it "
        "through the last stitch."
    )
    if step.held:
        full += f" The {stitches_in_full(step.held)} in the middle stay on their holder, for an edging."
    short = f"{off} {stitches_in_full(step.stitches)} in {yarn}."
    return _Words(full, short, f"{terms.bind_off} {step.stitches}", f"{off} in {yarn}.", f"{short} Cut it.")


_OTHER: dict[Part, Part] = {"left": "right", "right": "left"}


def _divided(step: Divide, terms: Terms) -> _Words:
    """Which part is worked first, and what waits on a holder."""
    first, other = (part_name(part, terms) for part in (step.first, _OTHER[step.first]))
    works = stitches_in_full(step.works)
    if step.is_bound_off_first:
        works = f"{stitches_in_full(step.works + step.middle)}, of which the {step.middle} in the middle go first"
    waiting = [f"{step.waits} of the {other}"]
    if step.middle and not step.is_bound_off_first:
        waiting.insert(0, f"{step.middle} in the middle{', to stay there' if step.is_held else ''}")
    waits = f"{', and '.join(waiting) if step.is_held and len(waiting) > 1 else listed(waiting)}"
    full = f"The piece divides here: the {first} is worked first, on {works}. On a holder wait {waits}."
    short = f"Divide: {step.first} part first, {works}; on a holder {listed(waiting)}."
    return _Words(full, short, "divide", full, full)


def part_name(part: Part, terms: Terms) -> str:
    """A part as seen from the right side, and of a garment as the wearer's: "left part (the wearer's right)"."""
    if not terms.worn:
        return f"{part} part"
    wearers = part if terms.worn == "back" else _OTHER[part]
    return f"{part} part (the wearer's {wearers})"


def told_apart(old: str, new: str) -> tuple[str, str]:
    """Names of two strands, different even when they are of one yarn."""
    return (old, new) if old != new else (f"the old {old}", f"the new {new}")


def where_strands_lie(side: Side) -> str:
    """The fabric's wrong side, as the knitter meets it on a row of this side."""
    return "at the back" if side == "RS" else "in front"


def side_facing(side: Side) -> str:
    """Which side faces the knitter while the row is worked."""
    return "right side toward you" if side == "RS" else "wrong side toward you"


def cross_rule(side: Side, terms: Terms) -> str:
    """How every change of a row is made, told once above the row."""
    return (
        f"At every change cross the old strand before the new, {where_strands_lie(side)}: lay the old to your "
        f"{terms.going} across the new, then take the new up from under it."
    )


VERBS: dict[Hand, str] = {"k": "knit", "p": "purl", "sl": "slip"}


def verb_of(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knit or purl where stitches are all one of them, else ""."""
    return VERBS[hands[0][0]] if len(hands) == 1 else ""


def in_full(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in words: "knit 8", "(knit 2, purl 2) 3 times, knit 2"."""
    return _repeats([f"{VERBS[hand]} {n}" for hand, n in hands])


def in_short(hands: Sequence[tuple[Hand, int]]) -> str:
    """Knits and purls in the trade's abbreviations: "k8", "(k2, p2) 3 times, k2"."""
    return _repeats([f"{hand}{n}" for hand, n in hands])


def _repeats(items: Sequence[str]) -> str:
    """The pieces in a list, a pair that repeats told once with its number of times."""
    parts: list[str] = []
    at = 0
    while at < len(items):
        pair = items[at:at + 2]
        times = 1
        while len(pair) == 2 and items[at + 2 * times:at + 2 * times + 2] == pair:
            times += 1
        if times > 1:
            parts.append(f"({', '.join(pair)}) {times} times")
            at += 2 * times
        else:
            parts.append(items[at])
            at += 1
    return ", ".join(parts)
