"""Which sign of a plan's text stands for which stitch of its piece, and why one does not stand there by itself."""

from __future__ import annotations

from functools import cached_property

from companion.knitting.cloth.areas import Cell
from companion.knitting.cloth.fabric import STOCKINETTE, Stitch, Texture, cells
from companion.plan.chart import ChartReader
from companion.plan.drawing import Drawing
from companion.plan.loaded import Loaded
from companion.plan.source import Found, Source
from companion.problems import Problem, Problems, quoted

NO_STITCH = "There is no stitch here."


class Signs:
    """Those of one plan, as it was read."""

    def __init__(self, loaded: Loaded, name: str) -> None:
        """``name``: the file's, as problems show it."""
        self._loaded, self._name = loaded, name
        self._fabric = loaded.piece.fabric
        self._reader = ChartReader(loaded.symbols, 0, Found())
        self._rows: dict[int, list[Stitch | None]] = {}
        self._signs: dict[int, list[str]] = {}

    def of(self, loaded: Loaded) -> Signs:
        """Those of the plan with other signs in its drawings, all else in it the same."""
        signs = object.__new__(Signs)
        signs.__dict__.update(self.__dict__)
        signs._loaded, signs._fabric, signs._rows, signs._signs = loaded, loaded.piece.fabric, {}, {}
        return signs

    def why_not(self, cell: Cell) -> Problem | None:
        """Why a stitch cannot be painted, at the line of the plan in which it is changed; None where it can be."""
        drawing, stitch = self.drawing_of(cell), self.stitch_at(cell)
        if drawing is not None:
            if stitch is None:
                number = drawing.lines.numbers[drawing.first - cell.row - 1]
                return self.problem("There is no stitch here: the chart draws the outline.", number)
            if stitch.sewn and not self._loaded.stitches[self.sign(cell)].sewn:
                number = drawing.lines.numbers[drawing.first - cell.row - 1]
                return self.problem('This stitch is sewn on: take its area out of "sewn_on" first.', number)
            return None
        if 0 <= cell.row < len(self._fabric.rows):
            level = self._fabric.level(cell.row)
            for one in self._loaded.fixed:
                if one.first <= level < one.past:
                    return self.problem(one.why, one.line, one.mend)
        return Problem(NO_STITCH, self._name)

    def problem(self, what: str, line: int, mend: str = "") -> Problem:
        """A problem at a line of the plan; 0: at none."""
        if not line:
            return Problem(what, self._name, mend=mend)
        return Source(self._name, self._loaded.text).problem(line, 0, what, mend)

    def drawing_of(self, cell: Cell) -> Drawing | None:
        """The drawing that a stitch stands in."""
        for one in self._loaded.drawings:
            if 0 <= cell.row - one.first < len(one.lines.texts) and 0 < cell.column - one.right <= one.wide:
                return one
        return None

    def stitch_at(self, cell: Cell) -> Stitch | None:
        """The stitch of a cell; None where there is none, and beside the fabric."""
        if not 0 <= cell.row < len(self._fabric.rows):
            return None
        if cell.row not in self._rows:
            self._rows[cell.row] = list(cells(self._fabric.rows[cell.row]))
        row = self._rows[cell.row]
        return row[cell.column - 1] if 0 < cell.column <= len(row) else None

    def sign(self, cell: Cell) -> str:
        """The symbol by which a stitch of a drawing stands in the text."""
        one = self.drawing_of(cell)
        assert one is not None
        if cell.row not in self._signs:
            self._signs[cell.row] = self._reader.signs(one.lines.texts[one.first - cell.row - 1])
        return self._signs[cell.row][one.right + one.wide - cell.column]

    def in_yarn(self, cell: Cell, yarn: str) -> str:
        """The symbol for a stitch of a drawing in another yarn: in its texture, where the plan has one for that.

        Raises:
            Problems: no symbol stands for the yarn.
        """
        if yarn not in self.yarns:
            mend = f"Write one under \"symbols\", such as {self._loaded.piece.yarn(yarn).symbol}: {yarn}"
            raise Problems([Problem(f"No symbol stands for the yarn {quoted(yarn)}.", self._name, mend=mend)])
        own = self._loaded.stitches[self.sign(cell)]
        return self._in_texture.get((yarn, own.texture)) or self._in_texture[yarn, None]

    @cached_property
    def yarns(self) -> tuple[str, ...]:
        """The yarns that a symbol stands for by themselves, in the plan's order."""
        drawn = {stitch.yarn for stitch in self._loaded.stitches.values() if not stitch.sewn}
        return tuple(yarn.name for yarn in self._loaded.piece.yarns if yarn.name in drawn)

    @cached_property
    def _in_texture(self) -> dict[tuple[str, Texture | None], str]:
        """The symbol for each yarn in each texture, and (None) where there is none for one: that of stockinette, or
        else the first."""
        found: dict[tuple[str, Texture | None], str] = {}
        for symbol, stitch in self._loaded.stitches.items():
            if not stitch.sewn:
                found.setdefault((stitch.yarn, stitch.texture), symbol)
        for (yarn, _), symbol in list(found.items()):
            found.setdefault((yarn, None), found.get((yarn, STOCKINETTE), symbol))
        return found
