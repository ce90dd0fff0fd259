"""Written rows drafted, and what comes of them: fabrics drawn as letters."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from companion.drafts.rows.plan import Asked, Drafted, drafted
from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.faces import looks_knit
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.words import US, Terms
from companion.pages import written
from companion.pages.printing import fitted
from companion.problems import Problem, Problems

GAUGE = Gauge(Fraction(20), Fraction(28))


def read(text: str, **asked: object) -> Drafted:
    return drafted(text, "rows.txt", Asked(gauge=GAUGE)._replace(**asked))  # type: ignore[arg-type]


def drawn(piece: Piece) -> list[str]:
    """Every row from the cast-on up, as the right side looks: the first letter of each stitch's yarn, large where it
    shows a knit stitch, "." where there is none."""
    rows = []
    for row in piece.rows:
        letters, column = "", 0
        for run in row.fabric.runs:
            for _ in range(run.columns):
                column += 1
                if run.stitch is None:
                    letters += "."
                else:
                    letter = run.stitch.yarn[0]
                    letters += letter.upper() if looks_knit(row, run.stitch.texture, column) else letter.lower()
        rows.append(letters[::-1])
    return rows


def looks(text: str, **asked: object) -> list[str]:
    return drawn(read(text, **asked).loaded.piece)


def refused(text: str, **asked: object) -> list[Problem]:
    """What is told of a text that is refused, by place."""
    try:
        got = read(text, **asked)
    except Problems as found:
        return list(found.problems)
    raise AssertionError(f"it was read:\n{got.text}")


def printed(piece: Piece, terms: Terms = US, room: int = 80) -> str:
    """What ``rowside rows`` prints of a piece."""
    lines = written.whole(piece, plan_strands(piece.rows, piece.carry).strands, terms)
    return "".join(f"{part}\n" for line in lines for part in fitted(line, room))


def laid(piece: Piece) -> list[tuple[object, ...]]:
    """Every row: what it is called, its side, and its stitches' yarns and faces from the piece's right edge on."""
    least = min(row.fabric.stretches[0][0] for row in piece.rows)
    return [
        (row.part, row.number, row.side, row.is_round, row.fabric.seam_stitches, row.fabric.stretches[0][0] - least,
         *_stitches(letters))
        for row, letters in zip(piece.rows, drawn(piece), strict=True)
    ]  # fmt: skip


def _stitches(letters: str) -> Iterable[str]:
    return letters.strip(".")
