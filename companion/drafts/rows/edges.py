"""Edges of rows in words: stitches bound off, cast on, decreased or increased where rows begin or end."""

from __future__ import annotations

from companion.drafts.rows.doings import Edge
from companion.drafts.rows.scanner import Scanner
from companion.plan.edge_words import act_of


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
