"""Random outlines, openings and tubes drawn as plans are read as just those rows; nothing hands can do is refused."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given

from companion.plan.outline import mirrored_trouble
from companion.plan.packed import pack, unpack
from companion.plan.read import load_text
from companion.problems import Problems
from tests.knitting.shaped import Shaped, shaped

TOO_NARROW = "is too narrow for what is made and lost at both its edges."


@given(shaped())
def test_a_shaped_piece_that_is_drawn_is_read_row_by_row(one: Shaped) -> None:
    """All but a row of one stitch that is decreased at both its edges."""
    try:
        piece = load_text(replace(one, is_mirrored=False).text(), "quay.yaml", {}).piece
    except Problems as found:
        wrong = [each.what for each in found.problems if not each.is_warning]
        event("refused")
        assert one.is_mirrored or all(what.endswith(TOO_NARROW) for what in wrong)
        return
    assert piece.fabric == one.fabric()
    assert (piece.inward, piece.has_slipped_edges) == (one.inward, one.has_slipped_edges)
    assert unpack(pack(piece)) == piece
    if one.is_mirrored:
        assert mirrored_trouble(piece.fabric) is None
