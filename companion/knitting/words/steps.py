"""Every step in words, once, in every register: the only place where a doing of the hands becomes a sentence.

Strands lie on the fabric's wrong side: at the back on right-side rows, in front on wrong-side rows, so every
sentence about a cross or a carry has both forms. The hands go from right to left on both sides; a knitter who
works mirrored goes from left to right.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Literal, assert_never

from companion.knitting.cloth.fabric import Part
from companion.knitting.cloth.rows import Side
from companion.knitting.hands import steps as do
from companion.knitting.value import Record
from companion.knitting.words.bound_off import bound_off as _bound_off  # told by ``tell``
from companion.knitting.words.places import row_number, side_facing, spot_in_row, spot_told, the_other
from companion.knitting.words.seams import sew_tube, sew_up
from companion.knitting.words.stitches import SPELLED_OUT, aloud, in_full, in_short, verb_of
from companion.knitting.words.terms import Terms, count, how_many, listed, measured, sentence, stitches_in_full

Register = Literal["full", "short", "verb", "written", "spoken"]
"""A sentence for the hands; the same in few words; the one word that is drawn in large letters; what a written row
has of it ("" = nothing); and what is read aloud, without any abbreviation. In the course of a run short and spoken
are parts of the run's sentence: "knit 8", "catch sand"."""


class _Words(Record):
    """A step in words. ``short`` "" = as in full, ``spoken`` "" = as in short."""

    full: str
    verb: str
    short: str = ""
    written: str = ""
    spoken: str = ""


def tell(step: do.Step, register: Register, terms: Terms, length: str = "") -> str:
    """One step in words; to those who hear them, full and short are said without any abbreviation, too. ``length``:
    of a new strand, how long it is and how it is kept; of all that are to be had ready, each with that; "" = not to
    be told."""
    if terms.is_aloud:
        return _tell_aloud(step, register, terms, length)
    full, verb, short, written, spoken = _words(step, terms, length)
    short = short or full
    return {"full": full, "short": short, "verb": verb, "written": written, "spoken": spoken or short}[register]


def _tell_aloud(step: do.Step, register: Register, terms: Terms, length: str) -> str:
    from companion.knitting.words.for_the_ear import length_aloud, spelled_out  # only who listens waits for it

    full, verb, short, written, spoken = _words(step, terms, length_aloud(length))
    spoken = spoken or short or full
    return spelled_out({"full": full, "short": spoken, "verb": verb, "written": written, "spoken": spoken}[register])


def _words(step: do.Step, terms: Terms, length: str) -> _Words:
    its_length = f" ({length})" if length else ""
    match step:
        case do.CastOn(_, yarn, stitches, method):
            how = "; ".join(filter(None, ["" if method == "long-tail" else method, length]))
            cast = f"ast on {count(stitches)} in {yarn}{f' ({how})' if how else ''}"
            spoken = f"Cast on {stitches_in_full(stitches)} in {yarn}, {method}."
            return _Words(f"C{cast}.", f"cast on {stitches}", written=f"c{cast}", spoken=spoken)
        case do.CrossCastOn(old, new):
            old, new = told_apart(old, new)
            full = f"Cross: lay {old} over {new}, then take {new} up from under it."
            return _Words(full, "cross", f"Cross: {old} over {new}.", "cross")
        case do.CutCastOn(yarn):
            return _Words(f"Cut the {yarn}, leaving a tail.", "cut", written="cut it")
        case do.JoinRound():
            full = "Join into a round, the cast-on not twisted."
            return _Words(full, "join", written=full)
        case do.Steady(yarn, side):
            is_back = side == "RS"
            full = f"Take {yarn} to the back first." if is_back else f"Bring {yarn} to the front first."
            return _Words(full, "to back" if is_back else "to front")
        case do.Fetch():
            return _fetched(step, terms)
        case do.Join(yarn, old, side):
            knot = f", half-knot it round {old} or let it hang" if old else ""
            full = f"Join new {yarn}{its_length} {where_strands_lie(side)}: leave a tail{knot}."
            return _Words(full, "join", f"Join new {yarn}{its_length}.", f"join {yarn}")
        case do.JoinHalf():
            return _half(step, its_length)
        case do.Hold(old, new, side):
            old, new = told_apart(old, new)
            full = f"Hold the edge: bring {new} under {old} {where_strands_lie(side)}, then work."
            return _Words(full, "hold", f"Bring {new} under {old}.", f"bring it under {old}")
        case do.Cross(old, new, side):
            if old == new:
                old, new = f"this {old}", the_other(new)
            full = (
                f"Cross the old strand before the new, {where_strands_lie(side)}: lay {old} to your "
                f"{terms.going} across {new}, then take {new} up from under it."
            )
            return _Words(full, "cross", f"Cross: {old} over {new}.", "cross")
        case do.Share():
            return _shared(step)
        case do.Slip(_, side):
            full = f"Slip the first stitch purlwise, the strand {where_strands_lie(side)}."
            return _Words(full, "slip 1", "slip 1 purlwise", "sl1 purlwise", "slip one purlwise")
        case do.Work(yarn, _, hands):
            full = in_full(hands)
            told = f"{sentence(full)} in {yarn}."
            return _Words(told, verb_of(hands) or "work", full, in_short(hands), aloud(hands))
        case do.Shape():
            return _shaped(step, terms)
        case do.Catch(yarn):
            return _on_the_way(f"catch {yarn}", "catch")
        case do.Rest(yarn, is_caught):
            verb = "catch" if is_caught else "leave"
            return _on_the_way(f"{verb} the resting {yarn}", verb)
        case do.LayIn(_, yarn, stitches):
            return _on_the_way(f"lay the {yarn} tail in under the next {stitches}", "lay in")
        case do.Renew(yarn, after, side):
            full = (
                f"{_after(after)} this {yarn} ends: leave a tail, join new {yarn} {where_strands_lie(side)} with a "
                f"tail too; lay the old {yarn} to your {terms.going} across the new, then take the new one up from "
                "under it."
            )
            return _on_the_way(f"join new {yarn}", "join", full)
        case do.Splice(yarn, after):
            full = f"{_after(after)} comes the splice in {yarn}, which leaves no end."
            return _on_the_way(f"splice {yarn}", "splice", full)
        case do.Count(stitches, more):
            changed = f", {abs(more)} {'more' if more > 0 else 'fewer'} than before" if more else ""
            full = f"{stitches_in_full(stitches)} must be on the needle{changed}."
            short, spoken = f"{count(stitches)} on the needle.", f"{stitches_in_full(stitches)} on the needle."
            return _Words(full, f"count {stitches}", short, f"({count(stitches)})", spoken)
        case do.Cut():
            return _cut(step, terms)
        case do.BindOff():
            return _Words(*_bound_off(step, terms))
        case do.Leave(rests, is_round):
            noun = "round" if is_round else "row"
            places = [f"{spot_told(one, terms)} (rests {how_many(rows, noun)})" for one, rows in rests]
            full = f"Leave hanging, do not cut: {'; '.join(places)}."
            return _Words(full, "leave", f"Leave hanging{_counted([one for one, _ in rests], terms)}.", full)
        case do.Divide():
            return _divided(step, terms)
        case do.TakeUp(part, stitches, middle, side):
            back = stitches_in_full(stitches) + (f" and the {middle} in the middle" if middle else "")
            full = f"Take up the {part_name(part, terms)}: its {back} back on the needle, {side_facing(side)}."
            return _Words(full, "take up", f"Take up the {part} part: its {back}, {side_facing(side)}.", full)
        case do.SetAside(part, stitches, is_hung):
            waits, hangs = stitches_in_full(stitches), "; its strands hang there" if is_hung else ""
            full = f"Put the {waits} of the {part_name(part, terms)} on a holder{hangs}."
            return _Words(full, "set aside", f"Put the {part} part on a holder: {waits}.", full, full)
        case do.JoinParts():
            return _parts_joined(step, terms)
        case do.GoFlat():
            full = "From here work flat: turn after every row."
            return _Words(full, "go flat", written=full)
        case do.GoRound(is_again):
            how = " again, without turning," if is_again else (
                ", without turning: join the row into a round, nothing twisted,"
            )
            full = f"From here work round{how} and pull the first stitch tight."
            return _Words(full, "go round", "From here work round, not twisted.", full, full)
        case do.HaveReady(yarns, shared):
            return _ready(Counter(yarns), Counter(shared), length)
        case do.Turn(tip):
            full = f"Turn, the needle's tip {'toward' if tip == 'toward' else 'away from'} you."
            return _Words(full, "turn", "Turn.", spoken=full)
        case do.WeaveIn(ends):
            short = f"{sentence(terms.weave_in)} {how_many(ends, 'end')}"
            full = f"{short}; do not trim before the piece is washed and dry."
            return _Words(full, terms.weave_in, f"{short}.", spoken=full)
        case do.SewOn(areas):
            return _Words(f"Sew on {how_many(len(areas), 'area')} in {terms.duplicate_stitch}.", "sew on")
        case do.Wash():
            full = "Wash the piece as its yarns allow and dry it flat."
            return _Words(full, "wash", "Wash, dry flat.", spoken=full)
        case do.Trim():
            full = "Trim the ends, not too close to the fabric."
            return _Words(full, "trim", "Trim the ends.", spoken=full)
        case do.SewUp(edges, tubes):
            sewn = [sew_up(edges, terms)] if edges else []
            full = f"{'. '.join([*sewn, *([sew_tube(tubes)] if tubes else [])])}."
            return _Words(full, "sew up", "Sew the seams.", full, full)
        case do.WeaveAtSeams(ends):
            return _Words(f"{sentence(terms.weave_in)} {how_many(ends, 'end')} along the seams.", terms.weave_in)
        case _:
            assert_never(step)


def act_verb(step: do.Step, terms: Terms) -> str:
    """An act in large letters: "CUT 2"."""
    return tell(step, "verb", terms).upper()


def _on_the_way(what: str, verb: str, full: str = "") -> _Words:
    """What is done to a strand in the course of a run."""
    return _Words(full or f"{sentence(what)}.", verb, what, what)


def _after(stitches: int) -> str:
    return f"After {stitches_in_full(stitches)}" if stitches else "Before the first stitch"


def _fetched(step: do.Fetch, terms: Terms) -> _Words:
    """How a strand comes from where it hangs to the run."""
    over, lie = step.on_needle, where_strands_lie(step.side)
    noun = "round" if step.is_round else "row"
    yarn = sentence(the_other(step.yarn) if step.is_other else step.yarn)
    rested = f"rested {how_many(step.rows, noun)} and " if step.rows else ""
    if step.where == "below":
        full = f"{yarn} {rested}hangs below this very stitch: bring it up slack {lie}."
        return _Words(full, "bring up", f"{yarn} {rested}hangs below.")
    way, spread = "ahead" if step.where == "ahead" else "back", "spread those stitches, " if over > 1 else ""
    if step.where == "behind":
        wide = f" ({measured(step.cm, terms)})" if step.cm else ""
        full = f"{yarn} waits {count(over)}{wide} back in this {noun}: {spread}carry it slack {lie}."
    elif way == "ahead":
        full = f"{yarn} {rested}hangs {count(over)} ahead: {spread}bring it back slack {lie}."
    else:
        full = f"{yarn} {rested}hangs {count(over)} back: carry it on slack {lie}."
    return _Words(
        full, f"{'fetch' if way == 'ahead' else 'carry'} {over}", f"{yarn} hangs {count(over)} {way}.",
        f"(hangs {count(over)} {way})",
        f"{yarn} hangs {stitches_in_full(over)} {way}.",
    )  # fmt: skip


def _shared(step: do.Share) -> _Words:
    """Who works what of a shared run."""
    first, *between, last = step.works
    others = [*(f"the next {stitches}" for stitches in between), f"the {'last' if between else 'other'} {last}"]
    each, all_of_it = ", ".join([f"this one works {first}", *others]), stitches_in_full(step.stitches)
    full = f"{len(step.works)} strands of {step.yarn} share this run of {all_of_it}: {each}."
    return _Words(
        full, f"share {step.stitches}", f"A shared run of {count(step.stitches)}: {each}.",
        spoken=f"A shared run of {all_of_it}: {each}.",
    )  # fmt: skip


def _half(step: do.JoinHalf, its_length: str) -> _Words:
    """One half of a length started at its middle."""
    yarn, lie, apart = step.yarn, where_strands_lie(step.side), count(step.apart)
    if step.half == "first":
        full = (
            f"Start new {yarn} {lie} at the middle of a length{its_length} wound from both ends: no tail. "
            f"Its other half starts {apart} further on."
        )
        short = f"Start {yarn} at the middle of a length{its_length}."
        written = "start at the middle of a length"
    else:
        full = f"Start the other half of the {yarn} begun {apart} back: no tail, leave it slack {lie}."
        short, written = f"Start the other half of that {yarn}.", "start with the other half of that length"
    return _Words(full, "start", short, f"{written} of {yarn}")


def _shaped(step: do.Shape, terms: Terms) -> _Words:
    """How stitches are made or lost, in the trade's abbreviations where there are some."""
    stitches = abs(step.more)
    match step.how:
        case "bind off":
            verb = f"{terms.bind_off} {stitches}"
            text, spoken = f"{verb} (1 on the {terms.coming} needle)", f"{verb}, one is on the {terms.coming} needle"
        case "cast on":
            verb = f"cast on {stitches}"
            text, spoken = f"{verb} (knitted or cable)", f"{verb}, knitted or cable"
        case "loops":
            verb = f"cast on {stitches}"
            text, spoken = f"{verb} (backward loop)", f"{verb}, backward loop"
        case "loop":
            verb, text, spoken = "make 1", "make 1 by a backward loop", ""
        case "lost":
            verb = f"{stitches} fewer"
            text, spoken = f"{count(stitches)} fewer", f"{stitches_in_full(stitches)} fewer"
        case how:
            called = "" if terms.is_aloud else f" ({how})"
            return _Words(f"{sentence(SPELLED_OUT[how])}{called}.", how, how, how, SPELLED_OUT[how])
    return _Words(f"{sentence(text)}.", verb, text, text, spoken)


def _cut(step: do.Cut, terms: Terms) -> _Words:
    """What is cut at a row's end, all together, by place while the side just worked faces the knitter."""
    full, short, written = list[str](), list[str](), list[str]()
    if step.spots:
        written.append(f"Cut, leaving a tail: {'; '.join(spot_told(one, terms) for one in step.spots)}.")
        short.append(f"Cut{_counted(step.spots, terms)}.")
        full += written
        if step.stays:
            names = listed([spot_in_row(one) for one in step.stays])
            stay = f"{names} {'stays' if len(step.stays) == 1 else 'stay'}."
            full.append(f"Counted from the {terms.coming}, {stay}")
            short.append(sentence(stay))
    if step.left_over:
        places = "; ".join(
            f"{'round' if one.is_round else 'row'} {row_number(one.row)}, {spot_told(one.spot, terms)}"
            for one in step.left_over
        )
        full.append(f"Cut too, not needed any more: {places}.")
        written.append(full[-1])
        short.append(f"Cut too: {places}.")
    verb = f"cut {len(step.spots) + len(step.left_over)}"
    return _Words(" ".join(full), verb, " ".join(short), " ".join(written))


def _counted(spots: Sequence[do.Spot], terms: Terms) -> str:
    """Strands of a row by place alone: ", counted from the right: rose third and lamplight fourth"."""
    if spots[0].of == 1:
        return f": the {spots[0].yarn}"
    return f", counted from the {terms.coming}: {listed([spot_in_row(one) for one in spots])}"


_OTHER: dict[Part, Part] = {"left": "right", "right": "left"}


def _divided(step: do.Divide, terms: Terms) -> _Words:
    """Which part is worked first, and what waits on a holder."""
    first, other = (part_name(part, terms) for part in (step.first, _OTHER[step.first]))
    works, waits = stitches_in_full(step.works), f"{step.waits} of the {other}"
    if step.is_bound_off_first:
        works = f"{stitches_in_full(step.works + step.middle)}, of which the {step.middle} in the middle go first"
    elif step.middle:
        stay = ", to stay there," if step.is_held else ""
        waits = f"{step.middle} in the middle{stay} and {waits}"
    full = f"The piece divides here: the {first} is worked first, on {works}. On a holder wait {waits}."
    return _Words(full, "divide", f"Divide: {step.first} part first, {works}; on a holder {waits}.", full, full)


def _parts_joined(step: do.JoinParts, terms: Terms) -> _Words:
    """In which order the next row is worked across both parts."""
    held, first, then = (part_name(part, terms) for part in (step.held, step.first, step.then))
    waited = step.stitches if step.held == step.first else step.then_stitches
    cast = f", {step.between} cast on between them" if step.between else ""
    full = (
        f"Join the parts: put the {stitches_in_full(waited)} of the {held} back on the needle. The next row is "
        f"worked across the {first}, {stitches_in_full(step.stitches)}, then the {then}, "
        f"{stitches_in_full(step.then_stitches)}{cast}."
    )
    short = f"Join the parts: across the {step.first} part, then the {step.then} part{cast}."
    return _Words(full, "join the parts", short, full, full)


def _ready(yarns: Counter[str], shared: Counter[str], lengths: str) -> _Words:
    """The new lengths of the next row; in few words without how long they are."""
    both = [(yarn, n, "") for yarn, n in yarns.items()]
    both += [(yarn, n, " wound from both ends") for yarn, n in shared.items()]
    short = ", ".join(f"new {yarn}{f' ({n})' if n > 1 else ''}{wound}" for yarn, n, wound in both)
    spoken = ", ".join(f"{f'{n} lengths of ' if n > 1 else ''}new {yarn}{wound}" for yarn, n, wound in both)
    return _Words(
        f"Have ready: {lengths or short}.", "have ready", f"Have ready: {short}.", spoken=f"Have ready: {spoken}."
    )


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


def cross_rule(side: Side, terms: Terms) -> str:
    """How every change of a row is made, told once above the row."""
    return (
        f"At every change cross the old strand before the new, {where_strands_lie(side)}: lay the old to your "
        f"{terms.going} across the new, then take the new up from under it."
    )


CROSS_RULE_IN_SHORT = "At every change cross: old over new."
"""The same in few words."""
