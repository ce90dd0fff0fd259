"""How many stitches a strand passes on its way from the run where it hangs to the one that it works next."""

from __future__ import annotations

from companion.knitting.cloth.rows import Place, Row, Rows


def carry(rows: Rows, u: Place, v: Place) -> int:
    """Real stitches of v's row that the strand passes from where it hangs after ``u`` to where ``v`` starts.

    One formula for every move (design: gaps). Where the work is not turned between u's row and v's, the strand may
    go either way round the tube: ``min(c, N - c)`` with N the stitches of v's row, those for a seam not counted.
    """
    row = rows[v.row]
    at = row.upto if u.row == v.row else row.reached
    hang, entry = at(rows.segment(u).exit), at(rows.segment(v).entry)
    return carry_round(row, hang, entry) if goes_round(rows, u, v) else abs(hang - entry)


def carry_round(row: Row, hang: int, entry: int) -> int:
    """Stitches of a row between two places in it, the shorter way round the tube. Both are told by the stitches in
    the columns before them."""
    passed = abs(hang - entry)
    return min(passed, row.stitches_around - passed)


def goes_round(rows: Rows, u: Place, v: Place) -> bool:
    """Whether a strand may go either way round the tube from ``u`` to ``v``: there is no turn between them."""
    row: int | None = v.row
    while row is not None and row > u.row and rows.goes_on_round(row):
        row = next(iter(rows.before(row)), None)
    return u.row < v.row and row == u.row
