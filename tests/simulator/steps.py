"""The steps of ``rowside rows PLAN --json``, read to the letter: every name, every key. A step or a key that the
reader does not know it refuses, and a key that is missing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from tests.simulator.reading import DECREASES, LIFTS
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
    Divide,
    Do,
    Doing,
    Goes,
    HaveReady,
    InStrand,
    JoinParts,
    JoinRound,
    LayIn,
    Lead,
    Leave,
    Lift,
    Loops,
    Renew,
    Resting,
    RowEnd,
    Run,
    SetAside,
    Share,
    Slip,
    Steady,
    StrandAt,
    Take,
    TakeUp,
    Turn,
    Under,
    Written,
    WrittenRow,
)
from tests.simulator.words import NotUnderstood

Step = Mapping[str, Any]

KEYS: Mapping[str, str] = {
    "cast on": "strand yarn stitches method",
    "cross cast on": "old new",
    "cut cast on": "yarn",
    "join round": "",
    "steady": "yarn side",
    "fetch": "yarn stitches on_needle rows where cm side is_round is_other",
    "join": "yarn old side",
    "join half": "yarn half apart side",
    "hold": "old new side",
    "cross": "old new side",
    "share": "yarn works",
    "slip": "yarn side",
    "work": "yarn stitches hands",
    "shape": "yarn how more makes",
    "catch": "yarn",
    "rest": "yarn is_caught",
    "lay in": "end yarn stitches",
    "renew": "yarn after side",
    "splice": "yarn after",
    "count": "stitches more",
    "cut": "spots stays left_over",
    "bind off": "strand yarn stitches held side others",
    "leave": "rests is_round",
    "divide": "first works waits middle is_held is_bound_off_first",
    "set aside": "part stitches is_hung",
    "take up": "part stitches middle side",
    "join parts": "first stitches then then_stitches between held",
    "go flat": "",
    "go round": "is_again",
    "have ready": "yarns shared",
    "turn": "tip",
    "weave in": "ends",
    "sew on": "areas",
    "wash": "",
    "trim": "",
    "sew up": "edges tubes",
    "weave at seams": "ends",
}
"""Every step that there is, and what it says."""

BEFORE = ("cast on", "cross cast on", "cut cast on", "join round")
INTO = ("steady", "fetch", "join", "join half", "hold", "cross", "share")
INSIDE = ("slip", "work", "shape", "catch", "rest", "lay in", "renew", "splice")


def read(value: Mapping[str, Any]) -> Written:
    """A whole piece."""
    rows: list[WrittenRow] = []
    names = [step["step"] for step in value["rows"][0]["steps"]]
    is_round = "join round" in names  # before row 1, or at its end where every section is cast on in its own strand
    for row in value["rows"]:
        rows.append(_row(row, is_round=is_round))
        going = [end.how for end in rows[-1].ends if isinstance(end, Goes)]
        is_round = going == ["round"] if going else is_round
    last = [step for row in value["rows"] for step in row["steps"] if step["step"] == "bind off"][-1]
    return Written(None, tuple(rows), is_full=True, ends=_finishing(value["finishing"], last))


def _known(step: Step) -> Step:
    keys = set(KEYS[step["step"]].split()) | {"step"}
    if step.keys() - {"segment"} != keys:
        raise NotUnderstood(f"{step}: expected {sorted(keys)}")
    return step


def _finishing(steps: Sequence[Step], last: Step) -> int:
    """The steps after the last row, in their order; how many ends they weave in."""
    names = [_known(step)["step"] for step in steps]
    sewn, seams = ("sew on" in names) * ["sew on"], ("sew up" in names) * ["sew up", "weave at seams"]
    if names != ["bind off", "weave in", *sewn, "wash", "trim", *seams] or steps[0] != last:
        raise NotUnderstood(f"{names}, {steps[0]}, {last}")
    return sum(step["ends"] for step in steps if "ends" in step)


def _row(row: Mapping[str, Any], *, is_round: bool) -> WrittenRow:
    steps = [_known(step) for step in row["steps"]]
    runs = [
        _run(segment, [step for step in steps if step.get("segment") == number])
        for number, segment in enumerate(row["segments"])
    ]
    order = [step.get("segment", len(runs)) for step in steps]
    if order != sorted(order):
        raise NotUnderstood("steps out of order")
    ends = [end for step in steps if "segment" not in step for end in _end(step)]
    return WrittenRow("Round" if is_round else "Row", row["part"], row["row"], row["side"], tuple(runs), tuple(ends))


def _run(segment: Mapping[str, Any], steps: Sequence[Step]) -> Run:
    order = [_stage(step) for step in steps]
    if order != sorted(order):
        raise NotUnderstood(f"steps out of order: {[step['step'] for step in steps]}")
    leads: list[Lead] = list(_cast_on([step for step in steps if _stage(step) == 0]))
    into = {step["step"]: step for step in steps if _stage(step) == 1}
    if len(into) != sum(_stage(step) == 1 for step in steps):
        raise NotUnderstood(f"a step twice: {[step['step'] for step in steps]}")
    if "steady" in into:
        leads.append(Steady(into["steady"]["yarn"]))
    if "cross" in into:
        leads.append(Cross())
    if "hold" in into:
        leads.append(Under(into["hold"]["old"]))
    if "share" in into:
        leads.append(Share(into["share"]["yarn"], tuple(into["share"]["works"])))
    leads.append(_take(segment, into))
    doings = [doing for step in steps if _stage(step) == 2 for doing in _doings(step, segment["yarn"])]
    return Run(tuple(leads), tuple(doings))


def _stage(step: Step) -> int:
    name = step["step"]
    return 0 if name in BEFORE else 1 if name in INTO else 2 if name in INSIDE else 3


def _cast_on(steps: Sequence[Step]) -> list[CastOn]:
    if not steps:
        return []
    cast = [step for step in steps if step["step"] == "cast on"]
    names = [step["step"] for step in steps]
    is_cut, is_joined = "cut cast on" in names, "join round" in names
    usual = ["cast on", *["cross cast on", "cast on"] * (len(cast) - 1)]
    if names != [*usual, *is_cut * ["cut cast on"], *is_joined * ["join round"]]:
        raise NotUnderstood(f"{names}")
    crossed = [(step["old"], step["new"]) for step in steps if step["step"] == "cross cast on"]
    if crossed != [(one["yarn"], other["yarn"]) for one, other in pairwise(cast)]:
        raise NotUnderstood(f"{crossed} are crossed")
    sections = tuple((step["yarn"], step["stitches"]) for step in cast)
    [method] = {step["method"] for step in cast}
    return [CastOn(sections, method, is_cut, is_joined, strands=tuple(step["strand"] for step in cast))]


def _take(segment: Mapping[str, Any], into: Mapping[str, Step]) -> Take:
    yarn, strand = segment["yarn"], segment["strand"]
    for step in into.values():
        if step.get("new", step.get("yarn") if step["step"] in ("fetch", "join", "join half") else yarn) != yarn:
            raise NotUnderstood(f"{step} into a run of {yarn}")
    if "join" in into:
        return Take(yarn, "join", strand=strand)
    if "join half" in into:
        half = into["join half"]
        return Take(yarn, "middle" if half["half"] == "first" else "other half", strand=strand, apart=half["apart"])
    is_other = "cross" in into and into["cross"]["old"] == yarn
    if "fetch" not in into:
        return Take(yarn, over=0, strand=strand, rested=0, is_other=is_other)
    fetch = into["fetch"]
    if fetch["is_other"] != is_other:
        raise NotUnderstood(f"{fetch}, and {into.get('cross')}")
    way = 1 if fetch["where"] == "ahead" else -1
    return Take(
        yarn, "with", way * fetch["on_needle"], fetch["stitches"], strand, fetch["rows"], is_other=is_other
    )


def _doings(step: Step, yarn: str) -> list[Doing]:
    name = step["step"]
    if name in ("slip", "work", "shape", "renew", "splice", "lay in") and step["yarn"] != yarn:
        raise NotUnderstood(f"{step} in a run of {yarn}")
    match name:
        case "slip":
            return [Slip(1)]
        case "work":
            if sum(number for _, number in step["hands"]) != step["stitches"]:
                raise NotUnderstood(f"{step}: its stitches added up")
            return [Slip(number) if hand == "sl" else Do(hand, number) for hand, number in step["hands"]]
        case "shape":
            return [_shape(step["how"], step["more"], step["makes"])]
        case "catch":
            return [Catch(step["yarn"])]
        case "rest":
            return [Resting(step["yarn"])]
        case "lay in":
            end = step["end"]
            return [LayIn(step["yarn"], step["stitches"], (end["part"], end["row"], end["segment"], end["kind"]))]
        case _:
            return [Renew(step["yarn"], name == "splice")]


def _shape(how: str, more: int, made: int) -> Doing:
    found: tuple[Doing, int, int]
    match how:
        case "bind off":
            found = BindOff(-more), more, 1
        case "cast on":
            found = CastOnBefore(more), more, 0
        case "loops" | "loop":
            found = Loops(more), more, more
        case _ if how in DECREASES:
            found = Decrease(how), -(2 if how.startswith("sss") or "3" in how else 1), 1
        case _ if how in LIFTS:
            found = Lift(how), 1, 1
        case _:
            raise NotUnderstood(how)
    if (more, made) != found[1:]:
        raise NotUnderstood(f"{how} makes {made}, {more} more")
    return found[0]


def _spot(value: Mapping[str, Any]) -> StrandAt:
    if value.keys() != {"strand", "yarn", "nth", "of", "before", "after"}:
        raise NotUnderstood(f"{value}")
    return StrandAt(value["yarn"], value["nth"] - 1, value["before"], value["after"], value["strand"])


def _end(step: Step) -> list[RowEnd]:
    match step["step"]:
        case "count":
            return [Count(step["stitches"], step["more"])]
        case "cut":
            if step["left_over"]:
                raise NotUnderstood("strands are left over, and all was worked as planned")
            return [Cut(tuple(map(_spot, step["spots"])), tuple(map(_spot, step["stays"])))]
        case "bind off":
            runs = [InStrand(one["yarn"], one["stitches"], one["strand"]) for one in [step, *step["others"]]]
            return [BindOffAll(runs[0], tuple(runs[1:]), step["held"], step["side"])]
        case "leave":
            return [Leave(tuple((_spot(spot), rows) for spot, rows in step["rests"]))]
        case "divide":
            is_first = step["is_bound_off_first"]
            works, middle = step["works"], step["middle"]
            more = middle if is_first else 0
            return [Divide(step["first"], works + more, more, middle - more, step["is_held"], step["waits"])]
        case "take up":
            return [TakeUp(step["part"], step["stitches"], step["middle"], step["side"])]
        case "set aside":
            return [SetAside(step["part"], step["stitches"], step["is_hung"])]
        case "join parts":
            held, first, then = step["held"], step["first"], step["then"]
            numbers = step["stitches"], step["then_stitches"]
            return [JoinParts(held, numbers[held == then], first, numbers[0], then, numbers[1], step["between"])]
        case "join round":
            return [JoinRound()]
        case "go flat":
            return [Goes("flat")]
        case "go round":
            return [Goes("round", step["is_again"])]
        case "have ready":
            return [HaveReady(tuple(step["yarns"]), tuple(step["shared"]))]
        case "turn":
            return [Turn(step["tip"])]
        case name:
            raise NotUnderstood(f"{name} at a row's end")
