"""What a piece is called that is knitted in one of several sizes, and how large that one is."""

from __future__ import annotations

from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.piece import Piece
from companion.knitting.reckoning.size import size as size_of
from companion.knitting.words.terms import Terms, measured


def sized_title(title: str, size: str) -> str:
    """What a plan is called in one of its sizes; as it is where it is of one size."""
    return f"{title}, size {size}" if size else title


def bare_title(title: str, size: str) -> str:
    """What a plan is called of which this is the title in a size."""
    return title.removesuffix(sized_title("", size))


def is_of_size(title: str, size: str) -> bool:
    """Whether something of this title is of a size; of any where none is named."""
    return not size or title.casefold().endswith(sized_title("", size).casefold())


def size_line(size: str, piece: Piece, terms: Terms) -> str:
    """A size in a line: its stitches, and how large it comes out."""
    wide, high = size_of(piece)
    stitches = max(stitches_across(row) for row in piece.fabric.picture)
    return f"{size}: {stitches} sts, {measured(wide, terms)} x {measured(high, terms)}"
