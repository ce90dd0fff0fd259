"""The plan of the quay as an edit may have it, and what is found when its piece is taken up then."""

from __future__ import annotations

from pathlib import Path

from plans_on_disk import QUAY, start

from companion.progress.session import Session

TOP = "      ssssbbbbssss\n      sssbbbbbbsss\n"
"""Rows 6 and 5 as drawn: the chart's first two lines."""

OTHER_TOP = "      sssssbbsssss\n      ssbbbbbbbbss\n"
"""Rows 6 and 5 as an edit may have them."""

FOLLOWS = "The plan file was edited; what is worked is the same, so the rows to come follow the edited plan."


def edit(old: str, new: str, count: int = 1) -> str:
    """The plan's text with something else in place of ``old``, which must stand there ``count`` times."""
    assert QUAY.count(old) >= 1
    return QUAY.replace(old, new, count)


def worked(tmp_path: Path, *actions: object) -> Session:
    """A piece begun, these actions done, put away. What it was left like."""
    with start(tmp_path) as knitting:
        for action in actions:
            knitting.do(action)
        return knitting.session


def yarns(session: Session, row: int) -> list[tuple[str, int]]:
    """The runs of a row, by number, in working order."""
    return [(segment.yarn, segment.stitches) for segment in session.rows[row - 1].segments]
