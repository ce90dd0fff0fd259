"""Edges of rows in words: stitches bound off, cast on, decreased or increased where rows begin or end."""

from __future__ import annotations

from companion.drafts.rows.doings import Edge
from companion.drafts.rows.labels import MOST_ROWS
from companion.drafts.rows.scanner import Scanner
from companion.plan.edge_words import act_of, rows_of
from companion.plan.phrases import Amiss


def edge_of(scanner: Scanner) -> Edge | None:
    """What is made or lost at the edges of rows, read; None where it is nothing of the kind.

    Raises:
        Amiss: no hands could do it there.
    """
    at = scanner.at
    act = act_of(scanner)
    match act and act.place:
        case "beginning":
            return act and Edge(act.more, 0, act.at)
        case "end":
            return act and Edge(0, act.more, act.at)
        case "each end":
            return act and Edge(act.more, act.more, act.at)
    scanner.at = at  # which edge that is, a row's side says
    return None


def edges_of_rows(scanner: Scanner, last: int) -> list[Edge]:
    """The edges of the rows after the ``last``, told between rows: those of every row up to the last that is shaped;
    none where nothing of the kind is told.

    Raises:
        Amiss: no hands could do it there, or it can be read two ways in which rows: "every other row" may begin with
            the next one.
    """
    at = scanner.here
    edge = edge_of(scanner)
    if edge is None:
        return []
    whens = list(rows_of(scanner))
    if len(whens) != 1 or whens[0].every > 1 or not whens[0].times or scanner.look(r"(?:and|,? ?then)\b"):
        raise Amiss(
            at, "It is not said in which rows this is done, or it can be read two ways.",
            'Such as "... of the next 2 rows"; or number the rows: "Row 9: dec 1 st at each end".', "which rows",
        )  # fmt: skip
    [when], edges = whens, list[Edge]()
    left = min(when.times, MOST_ROWS + 1)
    while left:
        is_meant = not when.side or (when.side == "RS") == ((last + len(edges)) % 2 == 0)
        edges.append(edge if is_meant else Edge(0, 0, at))
        left -= is_meant
    return edges
