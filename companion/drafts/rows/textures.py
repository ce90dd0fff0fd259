"""Knits and purls to the stitches that a plan names: where rows of them make garter stitch, seed stitch or a rib,
they are called so, and elsewhere stockinette and its reverse.

Every stitch is called what it looks like; a face that is not told takes after those beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from companion.drafts.rows.laying import Face
from companion.knitting.cloth.fabric import STOCKINETTE, Stitch, Texture
from companion.knitting.value import Record

REVERSE, GARTER, SEED = Texture("reverse"), Texture("garter"), Texture("seed")

_LEAST_SEED = 4
"""So many stitches side by side, knit and purl in turn, that they are seed stitch."""


class Level(Record):
    """A row of the picture: its stitches by column, from 1 at the right edge."""

    is_round: bool
    side: str
    cells: Mapping[int, tuple[str, Face]]


def stitches(picture: Sequence[Level]) -> list[dict[int, Stitch]]:
    """What every stitch of the picture is called, by rows from the cast-on and by columns."""
    faces = [{column: face for column, (_, face) in level.cells.items()} for level in picture]
    seed = [_seed(faces, row) for row in range(len(picture))]
    found: list[dict[int, Texture]] = []
    for row, level in enumerate(picture):
        named = dict.fromkeys(seed[row], SEED)
        for columns in _runs(level):
            if not named.keys() & set(columns):
                named |= dict.fromkeys(columns, rib) if (rib := _rib(columns, faces[row])) else {}
        found.append(named)
    for row in range(len(picture)):
        for column, face in faces[row].items():
            if face and column not in found[row]:
                is_garter = _is_garter(picture, faces, found, row, column)
                found[row][column] = GARTER if is_garter else STOCKINETTE if face == "k" else REVERSE
    _last_ridge(picture, faces, found)
    return [
        {column: Stitch(level.cells[column][0], _named(found[row], column)) for column in level.cells}
        for row, level in enumerate(picture)
    ]


def _named(named: Mapping[int, Texture], column: int) -> Texture:
    """The texture in a column; where none is told, that of the nearest stitch beside it."""
    if column in named:
        return named[column]
    for away in range(1, 9):
        for beside in (column + away, column - away):
            if beside in named:
                return named[beside]
    return STOCKINETTE


def _runs(level: Level) -> Iterator[list[int]]:
    """The columns of each yarn's stitches that lie side by side."""
    ordered = sorted(level.cells)
    for _, group in groupby(ordered, key=lambda column: level.cells[column][0]):
        yield list(group)


def _seed(faces: Sequence[Mapping[int, Face]], row: int) -> set[int]:
    """The columns of a row that lie in seed stitch: in turn along the row, and in turn with the row above or
    below."""
    own = faces[row]
    found: set[int] = set()
    stretch: list[int] = []
    for column in [*sorted(own), 0]:
        if stretch and column and own[column] and own[column] != own[stretch[-1]] and own[stretch[-1]]:
            stretch.append(column)
            continue
        if len(stretch) >= _LEAST_SEED:
            found |= {one for one in stretch if _is_in_turn(faces, row, one)}
        stretch = [column] if column else []
    return found


def _is_in_turn(faces: Sequence[Mapping[int, Face]], row: int, column: int) -> bool:
    own = faces[row][column]
    if (own == "k") != ((row + 1 + column) % 2 == 0):
        return False
    for beside in (row - 1, row + 1):
        if 0 <= beside < len(faces):
            other = faces[beside]
            if other.get(column, "") not in ("", own) and own in (other.get(column - 1), other.get(column + 1)):
                return True
    return False


def _rib(columns: Sequence[int], faces: Mapping[int, Face]) -> Texture | None:
    """The rib in which a run lies, twice at least; None where it is none."""
    stretches = [(face, len(list(group))) for face, group in groupby(faces[column] for column in columns)]
    inner = [stretch for stretch in stretches[1:-1] if stretch[0]]
    if len(inner) < 2:
        return None
    wide = {inner[0][0]: inner[0][1], inner[1][0]: inner[1][1]}
    if set(wide) != {"k", "p"} or len(columns) < 2 * sum(wide.values()):
        return None
    knit, purl = wide["k"], wide["p"]
    looks = all(not faces[c] or (faces[c] == "k") == ((c - 1) % (knit + purl) < knit) for c in columns)
    return Texture("rib", (knit, purl)) if looks else None


def _is_garter(
    picture: Sequence[Level], faces: Sequence[Mapping[int, Face]], named: Sequence[Mapping[int, Texture]], row: int,
    column: int,
) -> bool:
    """Whether a stitch is one of two that make a ridge: knitted on the right side, and purl-faced in the row
    above."""
    face = faces[row][column]
    is_lower = row % 2 == 0 if picture[row].is_round else picture[row].side == "RS"
    if (face == "k") != is_lower:
        return False
    other = row + 1 if is_lower else row - 1
    if not 0 <= other < len(picture) or picture[other].is_round != picture[row].is_round:
        return False
    if not picture[row].is_round and picture[other].side == picture[row].side:
        return False
    if faces[other].get(column) != ("p" if face == "k" else "k"):
        return False
    upper = max(row, other) + 1
    goes_on_purled = upper < len(picture) and faces[upper].get(column) == "p"
    return not goes_on_purled and all(named[one].get(column) in (None, GARTER) for one in (row, other))


def _last_ridge(
    picture: Sequence[Level], faces: Sequence[Mapping[int, Face]], named: list[dict[int, Texture]]
) -> None:
    """The last row, where it may be the first half of a ridge that is never ended."""
    last = len(picture) - 1
    is_lower = last % 2 == 0 if picture[last].is_round else picture[last].side == "RS"
    if last and is_lower and picture[last - 1].is_round == picture[last].is_round:
        for column, face in faces[last].items():
            if face == "k" and named[last].get(column) == STOCKINETTE and named[last - 1].get(column) == GARTER:
                named[last][column] = GARTER
