"""The acts of one press for large letters, in the order in which the hands do them: a word or two and a number each.

A run whose stitches are not worked all alike is told pattern by pattern: "4 K1 P1" and then "71 KNIT". Whatever
is done before, inside or after stitches is an act of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from companion.knitting.cloth.rows import Hand, Side
from companion.knitting.hands import steps as do
from companion.knitting.hands.runs import RunSteps
from companion.knitting.value import Record
from companion.knitting.words.steps import act_verb
from companion.knitting.words.stitches import Hands, verb_of
from companion.knitting.words.terms import Terms


class Large(Record):
    """One act. ``text``: what is done, its number in it, "CUT 2"; ``stitches``: of a run, drawn larger than its text
    (0: there are none). ``yarns``: those it is done with, or to, in their order. ``is_main``:
    the first act that works stitches, or what a press at a row's end is for; where a whole row is told, its side and
    all that is worked in its first run. ``waits``: where a whole row is told and letters have little room a sentence
    is enough, the sooner the greater the number; 0: it is not."""

    text: str
    stitches: int = 0
    yarns: tuple[str, ...] = ()
    is_main: bool = False
    waits: int = 0


FINISHED = Large("FINISHED", is_main=True)
"""Nothing is left to do."""


def run_in_large(run: RunSteps, turn: Iterable[do.AtEnd], terms: Terms) -> tuple[Large, ...]:
    """The acts of a run. ``turn``: what is left to do at the end of the row before, which is told with it."""
    turned, before = _turned(turn, terms), [*_cast_on(run, terms)]
    into, inside = [_act(step, terms) for step in run.into], [*_inside(run, terms)]
    yarn = (run.segment.yarn,)
    if before and before[0].yarns != yarn:
        inside = [one._replace(yarns=yarn) if one.stitches else one for one in inside]
    first, *more = before or inside
    main = first._replace(yarns=first.yarns or yarn, is_main=True)
    return (*turned, main, *more, *into, *inside) if before else (*turned, *into, main, *more)


def runs_in_large(
    runs: Sequence[RunSteps], turn: Iterable[do.AtEnd], side: Side, terms: Terms
) -> tuple[Large, ...]:
    """The acts of several runs of a row, one after the other, after what is left to do at the ``turn`` before it and
    the ``side`` that then faces the knitter. Stitches have their yarn, each stretch of them; how they are worked is
    told where it changes, and once that every change is crossed. What is to be had ready waits first, since it is
    told where it is joined, then a strand that hangs within reach."""
    crosses = [_act(step, terms) for run in runs for step in run.into if isinstance(step, do.Cross)]
    acts = [*_turned(turn, terms), Large(side, is_main=True), *crosses[:1]]
    told = ""
    for run in runs:
        acts += [act._replace(is_main=run is runs[0]) for act in _cast_on(run, terms)]
        acts += [_act(step, terms) for step in run.into if not isinstance(step, do.Cross)]
        inside = [*_inside(run, terms)]
        for act in inside:
            yarns = act.yarns or (run.segment.yarn,) * (act.stitches > 0 or act is inside[-1])
            text = "" if act.stitches and act.text == told else act.text
            acts.append(act._replace(text=text, yarns=yarns, is_main=run is runs[0]))
            told = act.text if act.stitches else told
    return tuple(acts)


def _turned(turn: Iterable[do.AtEnd], terms: Terms) -> list[Large]:
    return [_act(step, terms) for step in turn if not isinstance(step, do.Count | do.BindOff)]


def end_in_large(steps: Sequence[do.AtEnd], terms: Terms) -> tuple[Large, ...]:
    """The acts of a row's end that are marked done together; the last of them is what the press is for."""
    *before, last = [step for step in steps if not isinstance(step, do.Count)]
    main = _act(last, terms)._replace(is_main=True)
    return (*(_act(step, terms) for step in before), main, *_details(last))


def finishing_in_large(step: do.Finishing | None, terms: Terms) -> tuple[Large, ...]:
    """What is to be done once every row is worked; None: nothing any more."""
    return (FINISHED,) if step is None else (_act(step, terms)._replace(is_main=True),)


def _cast_on(run: RunSteps, terms: Terms) -> Iterator[Large]:
    """All sections of a cast-on as one: how many stitches each has, and what lies between, its sentence tells."""
    if cast := [step for step in run.before if isinstance(step, do.CastOn)]:
        whole = do.CastOn(0, "", sum(step.stitches for step in cast), cast[0].method)
        yield Large(act_verb(whole, terms), 0, tuple(dict.fromkeys(step.yarn for step in cast)))
    yield from (_act(step, terms) for step in run.before if isinstance(step, do.CutCastOn | do.JoinRound))


def _inside(run: RunSteps, terms: Terms) -> Iterator[Large]:
    for step in run.inside:
        if isinstance(step, do.Work):
            for hands in _alike(step.hands):
                yield Large(_pattern(hands), sum(stitches for _, stitches in hands))
        else:
            yield _act(step, terms)


def _alike(hands: Hands) -> Iterator[Hands]:
    """Stitches in stretches that are worked all alike, or in turn in one pattern."""
    at = 0
    while at < len(hands):
        end = at + 2
        while end < len(hands) and hands[end] == hands[end - 2]:
            end += 1
        is_pattern = end - at > 3 or (end - at == 3 and max(n for _, n in hands[at:end]) <= _SMALL)
        end = end if is_pattern else at + 1
        yield hands[at:end]
        at = end


_SMALL = 4
"""Of no more stitches three stretches are a pattern; of more they are three things to count."""

_SHORT: dict[Hand, str] = {"k": "K", "p": "P", "sl": "SL"}


def _pattern(hands: Hands) -> str:
    """KNIT, PURL, or what repeats: "K2 P2"."""
    return verb_of(hands).upper() or " ".join(f"{_SHORT[hand]}{stitches}" for hand, stitches in hands[:2])


def _act(step: do.Step, terms: Terms) -> Large:
    return Large(act_verb(step, terms), 0, _yarns(step), waits=_waits(step))


def _waits(step: do.Step) -> int:
    if isinstance(step, do.HaveReady):
        return 2
    return int(isinstance(step, do.Fetch) and step.where != "behind")


def _yarns(step: do.Step) -> tuple[str, ...]:
    """The yarns that must be told with a step."""
    match step:
        case do.Cut(spots, _, left_over):
            return (*(one.yarn for one in spots), *(one.spot.yarn for one in left_over))
        case do.Leave(rests):
            return tuple(one.yarn for one, _ in rests)
        case do.HaveReady(yarns, shared):
            return (*yarns, *shared)
        case do.BindOff():
            return tuple(dict.fromkeys(one.yarn for one in step.every))
        case do.Catch() | do.Rest() | do.LayIn():
            return (step.yarn,)
        case _:
            return ()


def _details(step: do.AtEnd) -> Iterator[Large]:
    """What must be known to do it: which part, on how many stitches."""
    match step:
        case do.Divide(first, works, waits, middle, _, is_bound_off_first):
            yield Large(f"{first.upper()} {works + middle * is_bound_off_first}")
            yield Large(f"WAIT {waits + middle * (not is_bound_off_first)}")
        case do.TakeUp(part, stitches, middle, _):
            yield Large(f"{part.upper()} {stitches + middle}")
        case do.SetAside(part, stitches, _):
            yield Large(f"{part.upper()} {stitches}")
        case do.JoinParts(first, stitches, then, then_stitches, between, _):
            yield Large(f"{first.upper()} {stitches}")
            yield Large(f"{then.upper()} {then_stitches}")
            if between:
                yield Large(f"BETWEEN {between}")
