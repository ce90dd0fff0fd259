"""Random outlines, openings and tubes drawn as plans are read as just those rows; nothing hands can do is refused."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import event, given

from companion.knitting.cloth.fabric import cells
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.piece import Piece
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
        assert mirrored_trouble(piece) is None


def looks(piece: Piece, columns: int) -> list[list[tuple[str, bool]]]:
    """Yarn and face of every stitch as the right side looks, row by row from column 1."""
    return [
        [
            (stitch.yarn, looks_knit(row, stitch.texture, column))
            for column, stitch in enumerate(list(cells(row.fabric))[:columns], 1) if stitch
        ]
        for row in piece.rows
    ]


@given(shaped(("tube",)))
def test_a_piece_that_is_turned_round_looks_turned_round(one: Shaped) -> None:
    """Ribs and seed stitch too, whose pattern is counted from the right edge."""
    columns = min(len(line) for _, _, line in one.rows_told)
    piece, turned = (load_text(one.text().replace("title", f"{key}title"), "quay.yaml", {}).piece
                     for key in ("", "mirror: true\n"))
    assert looks(turned, columns) == [row[::-1] for row in looks(piece, columns)]
    assert unpack(pack(turned)) == turned


def test_a_rib_turned_round_by_hand() -> None:
    """Five columns of a rib of two: knit, knit, purl, purl, knit from the right; turned round knit, purl, purl, knit,
    knit. Of seed stitch over four columns row 1 begins with a knit stitch, turned round with a purl one."""
    plan = (
        "plan: 1\ntitle: Post\nmirror: MIRROR\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}}\n"
        "symbols: {s: sand}\nrows:\n  - plain: {rows: 1, stitches: COLUMNS, yarn: sand, stitch: KIND}\n"
    )
    for kind, columns, faces in (("{rib: [2, 2]}", 5, "kkppk"), ("{rib: [3, 1]}", 6, "kkkpkk"), ("seed", 4, "kpkp")):
        for mirror, wanted in (("false", faces), ("true", faces[::-1])):
            text = plan.replace("MIRROR", mirror).replace("COLUMNS", str(columns)).replace("KIND", kind)
            [row] = looks(load_text(text, "post.yaml", {}).piece, columns)
            assert "".join("k" if is_knit else "p" for _, is_knit in row) == wanted
