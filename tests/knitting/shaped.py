"""Random pieces whose edges come in and go out, that divide and are joined, or tubes worked partly flat, for both
hands.

Drawn by what hands can do: up to two stitches are decreased at either edge, more are bound off only where a row
starts; any number is made at either edge. A grid is read as in ``charts``: row 1 first, column 1 first.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, zip_longest

from hypothesis import strategies as st

from companion.knitting.cloth.fabric import STOCKINETTE, Fabric, FabricRow, Part, Run, Stitch
from companion.knitting.cloth.rows import Rows
from companion.knitting.piece import Piece
from tests.dice import dice
from tests.knitting.charts import TEXTURES, YARNS, drawn, piece_of
from tests.oracles import PlainRow

WIDTH = 12

Way = str
"""How a row is worked: "flat", "round", or flat with "1" or "2" stitches for a seam."""


@dataclass(frozen=True)
class Shaped:
    """Rows in working order, each of ``WIDTH`` cells or fewer: the part it is of, how it is worked, its cells."""

    rows_told: tuple[tuple[Part, Way, tuple[Stitch | None, ...]], ...]
    is_middle_held: bool = False
    is_mirrored: bool = False
    has_slipped_edges: bool = False
    inward: int = 0

    def fabric(self) -> Fabric:
        rows = []
        for part, way, cells in self.rows_told:
            runs = tuple(Run(len(list(group)), cell) for cell, group in groupby(cells))
            rows.append(FabricRow(runs, way == "round", part, seam(way)))
        openings = sum(bool(part) for part, _ in groupby(rows, key=lambda row: row.part)) // 2
        return Fabric(tuple(rows), frozenset(range(openings)) if self.is_middle_held else frozenset())

    def piece(self) -> Piece:
        return replace(
            piece_of(drawn("s")), fabric=self.fabric(), is_mirrored=self.is_mirrored, inward=self.inward,
            has_slipped_edges=self.has_slipped_edges,
        )  # fmt: skip

    def rows(self) -> Rows:
        return self.piece().rows

    @property
    def below(self) -> list[tuple[int, ...]]:
        """For every row those on whose stitches it is worked: a part's first row lies on the last whole one, a whole
        row above parts on the last one of each."""
        parts = [part for part, *_ in self.rows_told]
        last: dict[Part, int] = {}
        found: list[tuple[int, ...]] = []
        for index, part in enumerate(parts):
            under: Part = part if index and parts[index - 1] == part else ""
            is_joining = index and not part and parts[index - 1]
            joined = tuple(sorted(last[one] for one in ("right", "left") if is_joining))
            found.append(joined or ((last[under],) if index else ()))
            last[part] = index
        return found

    @property
    def sides(self) -> list[str]:
        """The side that faces the knitter: the right side in rounds, in row 1 and above a round, then in turn."""
        found: list[str] = []
        for (_, way, _), below in zip(self.rows_told, self.below, strict=True):
            is_new = way == "round" or not below or self.rows_told[below[0]][1] == "round"
            found.append("RS" if is_new or found[below[0]] == "WS" else "WS")
        return found

    def text(self) -> str:
        """The plan that draws it, for a right-handed knitter."""
        symbols: dict[Stitch, str] = {}
        for *_, cells in self.rows_told:
            for cell in cells:
                symbols.setdefault(cell or Stitch(""), chr(ord("a") + len(symbols)) if cell else ".")
        lines = [
            f"{symbol}: {{yarn: {stitch.yarn}, stitch: {_texture(stitch)}}}"
            for stitch, symbol in symbols.items() if symbol != "."
        ]
        keys = {"shaping": f"{{at: {self.inward}}}", "slipped_edges": str(self.has_slipped_edges).lower()}
        sections = list(self._sections(symbols))
        yarns = "".join(f"  {name}: {{colour: tan}}\n" for name in YARNS)
        return (
            "plan: 1\ntitle: Quay cloth\ngauge: {stitches: 20, rows: 28}\ncarry: {reach: 3}\n"
            + "".join(f"{key}: {value}\n" for key, value in keys.items())
            + f"yarns:\n{yarns}symbols:\n" + "".join(f"  {line}\n" for line in lines) + "rows:\n" + "".join(sections)
        )

    def _sections(self, symbols: dict[Stitch, str]) -> Iterator[str]:
        """Rows that are worked alike in a section; those of two parts side by side."""
        blocks = [(part, list(rows)) for part, rows in groupby(self.rows_told, key=lambda row: row[0])]
        for at, (part, rows) in enumerate(blocks):
            if part and not blocks[at - 1][0]:
                yield self._opening(part, {one: [row[2] for row in own] for one, own in blocks[at:at + 2]},
                                    is_joined=at + 2 < len(blocks), symbols=symbols)
            elif not part:
                for way, group in groupby(rows, key=lambda row: row[1]):
                    drawn = [_line(cells[:len(cells) - seam(way)], symbols) for _, _, cells in group]
                    more = f"    seam_stitches: {way}\n" if seam(way) else ""
                    yield _section("", drawn) + more + ("    worked: round\n" if way == "round" else "")

    def _opening(
        self, first: Part, parts: dict[Part, list[tuple[Stitch | None, ...]]], *, is_joined: bool,
        symbols: dict[Stitch, str],
    ) -> str:  # fmt: skip
        beside = list(zip_longest(*parts.values(), fillvalue=(None,) * WIDTH))
        drawn = [_line([a or b for a, b in zip(*both, strict=True)], symbols) for both in beside]
        keys = [f"first: {first}"]
        if "." not in drawn[0].strip("."):
            keys.append(f"at: {sum(cell is not None for cell in parts['right'][0])}")
            keys += [f"rows: {len(drawn)}"] if is_joined else []
        keys += ["middle: held"] if self.is_middle_held else []
        return _section(f"opening: {{{', '.join(keys)}}}\n    ", drawn)

    def plain(self) -> list[PlainRow]:
        """The same rows as the oracle reads them."""
        return [
            PlainRow(
                tuple(cell and cell.yarn for cell in cells),
                "left" if (side == "RS") != self.is_mirrored else "right",
                way == "round", below, self.is_middle_held,
            )
            for (_, way, cells), side, below in zip(self.rows_told, self.sides, self.below, strict=True)
        ]  # fmt: skip


def _line(cells: Sequence[Stitch | None], symbols: dict[Stitch, str]) -> str:
    """A row as it is drawn, column 1 at the right."""
    return "".join(symbols[cell or Stitch("")] for cell in reversed(cells))


def _section(keys: str, drawn: Sequence[str]) -> str:
    """A section from its rows, the first one at the bottom."""
    return f"  - {keys}chart: |\n" + "".join(f"      {line}\n" for line in reversed(drawn))


def _texture(stitch: Stitch) -> str:
    knit, purl = stitch.texture.rib
    return f"{{rib: [{knit}, {purl}]}}" if stitch.texture.kind == "rib" else stitch.texture.kind


def seam(way: Way) -> int:
    """The stitches that a row has for a seam."""
    return int(way) if way.isdigit() else 0


@st.composite
def shaped(draw: st.DrawFn, kinds: Sequence[str] = ("outline", "divided", "tube"), max_rows: int = 8) -> Shaped:
    """Pieces of up to about thrice ``max_rows`` rows in two or three yarns."""
    kind = draw(st.sampled_from(kinds))
    is_mirrored = draw(st.booleans())
    names = YARNS[:draw(st.integers(1, 3))]
    rows: list[tuple[Part, Way, range]] = []
    if kind == "tube":
        columns = range(draw(st.integers(2, WIDTH)))
        rows = [("", way, columns) for way in _tube_ways(draw)]
    else:
        first = draw(st.integers(0, WIDTH - 2))
        at = range(first, draw(st.integers(first + 2, WIDTH)))
        number = 0
        while True:
            for more in range(draw(st.integers(1, max_rows))):
                at = _next(draw, at, range(WIDTH), (number % 2 == 0) != is_mirrored) if more else at
                rows.append(("", "flat", at))
                number += 1
            if kind != "divided" or len(at) < 2 or number > max_rows:
                break
            is_joined = draw(st.booleans())
            parts = _parts(draw, at, number, is_mirrored, max_rows // 2, is_joined=is_joined)
            rows += parts
            if not is_joined:
                break
            number += len(parts) // 2
            right, left = (next(own for part, _, own in reversed(parts) if part == one) for one in ("right", "left"))
            at = range(right.start, left.stop)
    told = _coloured(draw, rows, names, is_tube=kind == "tube")
    held = any(part for part, *_ in rows) and draw(st.booleans())
    return Shaped(told, held, is_mirrored, draw(st.booleans()), draw(st.integers(0, 3)))


def _next(draw: st.DrawFn, at: range, room: range, is_leftward: bool) -> range:
    """The columns, from 0, of a row above: at the edge where it starts any number goes, at the other up to two."""
    calm = st.integers(-1, 1) | st.just(0)
    start = draw(calm | st.integers(-len(at) + 1, 5))
    end = draw(calm | st.integers(-2, 4))
    right, left = (start, end) if is_leftward else (end, start)
    first = max(room.start, min(at.start - right, at.stop - 1))
    past = min(room.stop, max(at.stop + left, at.start + 1))
    return range(first, past) if first < past else range(at.start, at.stop)


def _parts(
    draw: st.DrawFn, at: range, below: int, is_mirrored: bool, most: int, *, is_joined: bool
) -> list[tuple[Part, Way, range]]:
    """The rows of two parts, one after the other, with or without stitches between them; where there are some, either
    part may grow over them, and one column stays free. Those that are joined again are as high."""
    high = draw(st.integers(1, most))
    split = draw(st.integers(at.start + 1, at.stop - 1))
    gap = draw(st.integers(0, at.stop - 1 - split))
    free = draw(st.integers(split, split + gap - 1)) if gap else split
    begun: dict[Part, range] = {"right": range(at.start, split), "left": range(split + gap, at.stop)}
    rows: list[tuple[Part, Way, range]] = []
    for part in draw(st.permutations(list(begun))):
        own, room = begun[part], range(free) if part == "right" else range(free + bool(gap), WIDTH)
        for number in range(below, below + (high if is_joined else draw(st.integers(1, most)))):
            if number > below:
                own = _next(draw, own, room, (number % 2 == 0) != is_mirrored)
            rows.append((part, "flat", own))
    return rows


def _tube_ways(draw: st.DrawFn) -> list[Way]:
    """Rounds and flat parts in turn; between rounds an even number of flat rows."""
    ways: list[Way] = ["flat"] * draw(st.integers(0, 3))
    for _ in range(draw(st.integers(1, 3))):
        ways += ["round"] * draw(st.integers(1, 3))
        ways += [draw(st.sampled_from(["flat", "1", "2"]))] * (2 * draw(st.integers(0, 2)))
    return ways


def _coloured(
    draw: st.DrawFn, rows: Sequence[tuple[Part, Way, range]], names: Sequence[str], *, is_tube: bool
) -> tuple[tuple[Part, Way, tuple[Stitch | None, ...]], ...]:
    """Blocks of colour that lean and split, or noise, in one or two textures; for a seam the colour of column 1."""
    thrown = draw(dice(len(rows) * WIDTH))
    is_noise = draw(st.booleans())
    textures = [STOCKINETTE, draw(st.sampled_from([STOCKINETTE, *TEXTURES]))]
    told: list[tuple[Part, Way, tuple[Stitch | None, ...]]] = []
    last: list[str] = []
    for number, (part, way, columns) in enumerate(rows):
        own: list[str] = []
        for column in range(WIDTH):
            die = thrown[number * WIDTH + column]
            if not is_noise and last and die < 200:
                own.append(last[min(max(column + thrown[number * WIDTH] % 3 - 1, 0), WIDTH - 1)])
            elif not is_noise and own and die < 240:
                own.append(own[-1])
            else:
                own.append(names[die % len(names)])
        last = own
        width = len(columns) if is_tube else WIDTH
        cells = [
            Stitch(own[c], textures[thrown[number * WIDTH + c] // 16 % 2]) if c in columns else None
            for c in range(width)
        ]
        told.append((part, way, (*cells, *[cells[0]] * seam(way))))
    return tuple(told)
