"""Another answer to shared runs, from their statement alone: a smallest flow with lower bounds (networkx), and every
division of every run tried in turn. Segments and moves are those of the oracle, one cell at a time."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, pairwise

import networkx as nx

from companion.knitting.strands.limits import Carry
from tests import oracles
from tests.oracles import PlainRow, PlainSegment

Figures = tuple[int, int, int]
"""Strands, meetings and stitches carried, in this order the fewer the better."""

Cuts = Mapping[tuple[int, int], Sequence[int]]
"""Runs that are divided, by row and index, each after so many of its stitches."""

Way = tuple[PlainSegment, PlainSegment]


def divided(rows: Sequence[PlainRow], cuts: Cuts) -> list[list[PlainSegment]]:
    """The segments of every row, some runs being several one after the other."""
    found: list[list[PlainSegment]] = [[] for _ in rows]
    for run in oracles.segments(rows):
        stops = [0, *cuts.get(run.place, ()), len(run.columns)]
        step = rows[run.row].toward == "left"
        for start, stop in pairwise(stops):
            part = run.columns[start:stop]
            leave, entry = part[-1] - (not step), part[0] - step
            own = found[run.row]
            own.append(PlainSegment(run.row, len(own), run.yarn, part, entry, leave))
    return found


def meetings_in(row: PlainRow, run: PlainSegment) -> Iterator[PlainSegment]:
    """The places between two of its stitches, in working order, as segments of none; no index is theirs."""
    is_left = row.toward == "left"
    for before, behind in pairwise(run.columns):
        yield replace(run, index=-1, columns=(), entry=behind - is_left, exit=before - (not is_left))


def moves(
    rows: Sequence[PlainRow], every: Sequence[Sequence[PlainSegment]], limits: Carry
) -> Iterator[tuple[Way, int]]:
    """Every legal move between such segments; within a row none from or to a place where strands meet, but the strand
    that began a run may go on with the rest."""
    reach, behind, rest = limits.reach, limits.behind, limits.rest
    for row, here in enumerate(every):
        for way in oracles.ways_down(rows, row, rest + 1):
            either = len({rows[number].toward for number in way}) == 1
            there = oracles.there_already(rows, row)
            for u in every[way[-1]]:
                for v in here:
                    cost = oracles.carry(there, u.exit, v.entry, either)
                    if u.yarn == v.yarn and cost <= reach and oracles.may_go_on(rows, way, u.exit, v.index):
                        yield (u, v), cost
        real = [one for one in here if one.index >= 0]
        yield from (((u, v), 0) for u, v in pairwise(real) if u.yarn == v.yarn)  # the one that began it goes on
        for u, v in combinations(real, 2) if behind else ():
            cost = oracles.carry(rows[row], u.exit, v.entry, False)
            is_left = _is_alone(real, u.index, u.index + 1) and _is_alone(real, v.index - 1, v.index)
            if u.yarn == v.yarn and cost <= behind and is_left:
                yield (u, v), cost


def _is_alone(runs: Sequence[PlainSegment], one: int, other: int) -> bool:
    """Whether two runs side by side are of two yarns, or there are not two."""
    return not 0 <= one < other < len(runs) or runs[one].yarn != runs[other].yarn


def smallest_flow(
    rows: Sequence[PlainRow], limits: Carry, cuts: Cuts | None = None,
    position: tuple[int, int] = (0, 0), hanging: Collection[tuple[int, int]] = (),
    settled: Mapping[tuple[int, int], bool] | None = None,
) -> Figures:  # fmt: skip
    """The figures of a smallest flow: one unit through every run, one at most through every meeting.

    ``cuts``: how runs are divided already. From ``position`` on runs are to come, those before it are worked, and of
    them only strands in ``hanging`` go on. ``settled``: runs to come that are worked by strands of their own, and
    whether those may go on. Strands that are begun already are not counted.
    """
    settled = settled or {}
    every, graph = divided(rows, cuts or {}), nx.DiGraph()
    to_come = [run for runs in every for run in runs if run.place >= position and run.place not in settled]
    ends = [run for runs in every for run in runs if run.place in hanging or settled.get(run.place)]
    met = [meeting for run in to_come for meeting in meetings_in(rows[run.row], run)] if limits.share_runs else []
    for meeting in met:
        every[meeting.row].append(meeting)
    listed: dict[Way, int] = {}
    for way, cost in moves(rows, every, limits):
        listed[way] = min(cost, listed.get(way, cost))
    dear = 1 + sum(listed.values())
    a_strand = dear * (len(met) + 1)
    graph.add_node("source", demand=0)
    for run in to_come:
        graph.add_node(("in", run), demand=1)
        graph.add_node(("out", run), demand=-1)
        graph.add_edge("source", ("in", run), capacity=1, weight=a_strand)
        graph.add_edge(("out", run), "source", capacity=1, weight=0)
    for run in ends:
        graph.add_edge("source", ("out", run), capacity=1, weight=0)
    for meeting in met:
        graph.add_edge(("in", meeting), ("out", meeting), capacity=1, weight=dear)
    is_in, is_out = {*to_come, *met}, {*to_come, *ends, *met}
    for (u, v), cost in listed.items():
        if u in is_out and v in is_in:
            graph.add_edge(("out", u), ("in", v), capacity=1, weight=cost)
    cost, _ = nx.network_simplex(graph)
    strands, left = divmod(cost, a_strand)
    return strands, *divmod(left, dear)


def every_division(rows: Sequence[PlainRow], limits: Carry, most: int) -> Figures:
    """The best of all plans for all divisions with at most ``most`` meetings, each tried in turn: nothing is known of
    flows or of matchings."""
    runs = oracles.segments(rows)
    gaps = [(run.place, after) for run in runs for after in range(1, len(run.columns))]
    found = []
    for many in range(most + 1):
        for chosen in combinations(gaps, many):
            cuts: dict[tuple[int, int], list[int]] = {}
            for place, after in chosen:
                cuts.setdefault(place, []).append(after)
            every = divided(rows, cuts)
            legal: oracles.MovesBetween = {}
            for (u, v), cost in moves(rows, every, limits):
                legal[u.place, v.place] = min(cost, legal.get((u.place, v.place), cost))
            places = [run.place for own in every for run in own]
            strands, carried = min(oracles.plans(places, legal, frozenset(places)))
            found.append((strands, many, carried))
    return min(found)
