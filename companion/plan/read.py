"""A plan file to the piece it describes, or to every problem in it. Nothing is guessed and nothing half read."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate
from pathlib import Path, PurePath
from types import MappingProxyType

from companion.knitting.cloth.areas import Area, sewn_on
from companion.knitting.cloth.fabric import Fabric
from companion.knitting.piece import Piece
from companion.knitting.words.sizes import sized_title
from companion.plan import expand, small
from companion.plan.amount import MOST_RUNS, slip_in
from companion.plan.cautions import cautions, symbols_alike
from companion.plan.drawing import drawings, fixed, is_as_drawn
from companion.plan.files import MOST_BYTES, plan_text, text_beside
from companion.plan.lines import row_of_section
from companion.plan.loaded import Loaded as Loaded
from companion.plan.misfits import KeyPath, Spot, problems_of, spot
from companion.plan.natural import in_the_formats_words
from companion.plan.nodes import Keys, Node, Text, bare, tree
from companion.plan.opening import Undivided
from companion.plan.outline import outer_edges, troubles
from companion.plan.schema.fitting import fit, fit_section
from companion.plan.schema.plans import PlanShape, SewnShape
from companion.plan.schema.sections import SectionShape
from companion.plan.schema.values import VERSION
from companion.plan.section_charts import names_under
from companion.plan.sections import Section, SectionReader
from companion.plan.sizes import in_size
from companion.plan.source import Found, Source, unreadable
from companion.plan.widths import aligned
from companion.problems import Problems, nearest, quoted

Files = Mapping[str, str] | Callable[[str], str]
"""The chart files by the names the plan calls them. A callable raises Problems for one it cannot give."""


InHand = Callable[[PlanShape], PlanShape]
"""Makes of a plan what one knitter makes of it: at her gauge, in her yarns."""


def as_written(plan: PlanShape) -> PlanShape:
    """The plan as it is."""
    return plan


def load(path: Path, size: str = "") -> Loaded:
    """The plan in this file, with the chart files in its folder. ``size``: of a plan in sizes this one, and without
    it the first.

    Raises:
        Problems: everything that is wrong with it, by line.
    """
    name = str(path)
    return load_text(
        plan_text(path), name, lambda file: text_beside(path.parent, file, _shown(name, file)), size=size
    )


def load_text(text: str, name: str, files: Files, in_hand: InHand = as_written, size: str = "") -> Loaded:
    """The plan with this text, in this ``size``; ``name`` is the file name that problems show. No file is opened.

    Raises:
        Problems: everything that is wrong with it, by line.
    """
    source, found = Source(name, text.removeprefix("\ufeff")), Found()
    if len(text) > MOST_BYTES:
        found.add(source.problem(0, 0, f"The plan is larger than {MOST_BYTES // 1_000_000} MB."))
        found.stop()
    for problem in unreadable(source, tabs=True):
        found.add(problem)
    found.stop()
    return _Reading(source, found, files, in_hand).loaded(size)


def _shown(name: str, file: str) -> str:
    return str(PurePath(name).parent / file)


class _Reading:
    """One plan on its way from text to piece."""

    def __init__(self, source: Source, found: Found, files: Files, in_hand: InHand) -> None:
        self._source = source
        self._found = found
        self._files = files
        self._in_hand = in_hand
        self._drawn_in: dict[str, str] = {}
        self._room = MOST_BYTES - len(source.text)

    def loaded(self, size: str) -> Loaded:
        root = tree(self._source, self._found)
        self._check_version(root)
        root, size, sizes = in_size(root, size, self._source, self._found)
        data = in_the_formats_words(bare(root))
        plan, misfits = fit(data)
        if misfits:
            from companion.plan.strays import brought_under  # what a sound plan has no need of is not loaded for it

            root = brought_under(root, self._source, self._found)
            data = in_the_formats_words(bare(root))
            plan, misfits = fit(data)
        plan = plan and self._in_hand(plan)
        undivided = plan or fit(_undivided(data))[0]  # an opening that is amiss hides nothing of the rest
        for problem in problems_of(misfits, root, self._source):
            self._found.add(problem)
        amiss = self._found.mistakes
        symbols, gauges = dict(_symbols(data)), undivided.gauge.gauges if undivided else None
        reader = SectionReader(root, symbols, self._source, self._found, self._fetch, gauges)
        self._check_yarns(data, root)
        sections = _read_sections(undivided, data, reader)
        self._tell_tubeless(undivided, root)
        self._warn(data, root, reader)
        if undivided and not plan and self._found.mistakes == amiss:
            self._tell_outer_edges(undivided, sections, data, root)
        self._found.stop()
        assert plan is not None
        try:
            piece = expand.piece(plan, sections, lambda fabric: self._sewn_on(fabric, plan.sewn_on, root))
        except Undivided as trouble:
            self._tell(spot(root, ("rows", trouble.section, "opening")).place, trouble.what, trouble.mend)
            self._tell_outer_edges(plan, sections, data, root)
            self._found.stop()
            raise
        runs = sum(len(row.runs) for row in piece.fabric.rows)
        if runs > MOST_RUNS:
            what = f"The piece has {runs:,} runs of one colour, as noise has; it may have {MOST_RUNS:,}."
            self._tell(spot(root, ("rows",)).key_place, what, "Draw larger areas.")
            self._found.stop()
        starts = list(accumulate((section.rows for section in sections), initial=0))
        self._tell_outline(piece, sections, starts, root)
        for caution in cautions(plan, piece, starts):
            self._tell(spot(root, caution.path).key_place, caution.what, caution.mend, is_warning=True)
        drawn = tuple(drawings(plan, sections, starts, reader.lines_of))
        held = tuple(fixed(plan, sections, starts, reader.lines_of, root))
        files = MappingProxyType(self._drawn_in)
        piece = replace(piece, title=sized_title(piece.title, size))
        told = tuple(line for section in sections if section.shaped for line in section.shaped.told)
        stitches = MappingProxyType(expand.stitches(plan, expand.begins(sections[0])))
        return Loaded(
            piece, self._source.text, files, self._found.warnings, MappingProxyType(symbols), drawn,
            stitches=stitches, fixed=held, is_as_drawn=is_as_drawn(plan), shapes=told, size=size, sizes=tuple(sizes),
        )

    def _check_yarns(self, data: object, root: Node) -> None:
        """Every yarn that is named and not declared."""
        yarns, line = names_under(root, "yarns"), spot(root, ("yarns",)).key_place[0]
        for path, name in _yarns_named(data) if yarns else ():
            if name not in yarns and name.strip():
                near = nearest(name, yarns[:500])
                mend = f"Did you mean {quoted(near)}?" if near else f"Yarns of this plan: {', '.join(yarns[:40])}."
                what = f'The yarn {quoted(name)} is not under "yarns" (line {line}).'
                self._tell(spot(root, path).place, what, mend)

    def _tell_tubeless(self, plan: PlanShape | None, root: Node) -> None:
        """Stitches for the seam of a tube, where there is none; told once."""
        shapes = plan.rows if plan else []
        has_rounds = any(shape.worked == "round" for shape in shapes)
        is_divided = False
        for index, shape in enumerate(shapes):
            is_divided = is_divided or shape.opening is not None
            if shape.seam_stitches and (is_divided or not has_rounds):
                what = '"seam_stitches" is for flat sections of a tube, and no section of this plan is worked round.'
                mend = 'Write "worked: round" in its rounds; the side edges of a flat piece stand under "seams".'
                if has_rounds:
                    what = '"seam_stitches" is for flat sections of a tube, and here the piece divides.'
                    mend = 'Leave it out; where the section begins with rows of the tube, make those a section.'
                self._tell(spot(root, ("rows", index, "seam_stitches")).key_place, what, mend)
                return

    def _tell_outline(
        self, piece: Piece, sections: Sequence[Section], starts: Sequence[int], root: Node,
        but_for: Collection[int] = (),
    ) -> None:
        """What no hands could work, told with the section and its row."""
        for trouble in troubles(piece.rows):
            if trouble.row in but_for:
                continue
            level = piece.fabric.level(trouble.row)
            section = bisect_right(starts, level) - 1
            what = f"{row_of_section(piece.rows[trouble.row], level, starts[section])}, {trouble.what}"
            shaped = sections[section].shaped
            part = piece.fabric.rows[trouble.row].part
            place = shaped.place(level - starts[section], part) if shaped else spot(root, ("rows", section)).place
            self._tell(place, what, trouble.mend)
        self._found.stop()

    def _tell_outer_edges(
        self, plan: PlanShape, sections: Sequence[Section], data: object, root: Node
    ) -> None:
        """The same of the outer edges of a piece whose opening is amiss, so that nobody knows how it divides."""
        starts = list(accumulate((section.rows for section in sections), initial=0))
        rows = _part(data, "rows", [])
        held = enumerate(rows if isinstance(rows, list) else [])
        first = next(index for index, row in held if isinstance(row, dict) and "opening" in row)  # be it empty
        whole = [one._replace(shape=one.shape.model_copy(update={"opening": None})) for one in sections]
        piece = expand.piece(plan, whole, lambda fabric: fabric)
        if sum(len(row.runs) for row in piece.fabric.rows) <= MOST_RUNS:
            fabric, unknown = outer_edges(piece.fabric, starts[first])
            self._tell_outline(replace(piece, fabric=fabric), whole, starts, root, unknown)

    def _sewn_on(self, fabric: Fabric, shapes: Sequence[SewnShape], root: Node) -> Fabric:
        """The fabric with the areas that the plan names sewn on."""
        pairs: list[tuple[Area, str]] = []
        for index, (shape, area) in enumerate(zip(shapes, small.named(shapes, fabric), strict=True)):
            if isinstance(area, str):
                at = spot(root, ("sewn_on", index)).place
                self._tell(at, area, "rowside areas lists the small areas of a plan.")
            else:
                pairs.append((area, shape.over))
        self._found.stop()
        return sewn_on(fabric, pairs)

    def _check_version(self, root: Node) -> None:
        at = spot(root, ("plan",))
        if at.key is not None and isinstance(at.node, Text) and at.node.value != VERSION:
            what = f"This plan is of version {quoted(at.node.value)}; only version {VERSION} is understood."
            if isinstance(root, Keys) and "class" in root.entries:
                self._tell(at.place, "This is a class, and no plan.", "rowside class tells what its students need.")
            else:
                self._tell(at.place, what)
            self._found.stop()

    def _fetch(self, name: str, at: Spot) -> Source | None:
        """A chart file, remembered with the plan. What is wrong with it is told, at its own place if it has one."""
        try:
            text = self._files[name] if isinstance(self._files, Mapping) else self._files(name)
        except KeyError:
            self._tell(at.place, f"The chart file {quoted(name)} is not kept with this plan.")
            return None
        except Problems as found:
            for problem in found.problems:
                if problem.line:
                    self._found.add(problem)
                else:
                    self._tell(at.place, problem.what, problem.mend)
            return None
        source = Source(_shown(self._source.name, name), text.removeprefix("\ufeff"))
        self._room -= len(text)
        if self._room < 0:
            self._tell(at.place, f"With this file the plan is larger than {MOST_BYTES // 1_000_000} MB.")
            self._found.stop()
        problems = list(unreadable(source, tabs=False))
        for problem in problems:
            self._found.add(problem)
        self._drawn_in[name] = source.text
        return None if problems else source

    def _tell(self, place: tuple[int, int], what: str, mend: str = "", *, is_warning: bool = False) -> None:
        self._found.add(self._source.problem(*place, what, mend, is_warning=is_warning))

    def _warn(self, data: object, root: Node, reader: SectionReader) -> None:
        """What is easily misread; and what is declared and not used, only where every chart was read, so that it is
        true."""
        for symbol, what in symbols_alike(names_under(root, "symbols")):
            at = spot(root, ("symbols", symbol)).key_place
            self._tell(at, what, "Another letter spares you a look.", is_warning=True)
        title = _part(data, "title", "")
        if isinstance(title, str) and slip_in(title.strip("\u2018\u2019")).startswith("Type"):
            self._tell(spot(root, ("title",)).place, '"title" has curly quotes, which are part of it.',
                       slip_in(title), is_warning=True)
        rows = _part(data, "rows", None)
        if not rows or not isinstance(rows, list) or reader.is_unsure or _is_to_be_painted(reader):
            return
        has_symbols = isinstance(root, Keys) and "symbols" in root.entries
        used = {yarn for path, yarn in _yarns_named(data) if path[0] in ("rows", "cast_on")}
        sewn = {yarn for symbol, yarn in _symbols(data, "sewn") if symbol in reader.charts.used}
        for symbol, yarn in _symbols(data):
            if symbol in reader.charts.used:
                used.add(yarn)
            elif yarn not in sewn and has_symbols:  # the symbol by which a yarn is shown that is sewn alone
                at = spot(root, ("symbols", symbol)).key_place
                self._tell(at, f"The symbol {quoted(symbol)} is not used.", is_warning=True)
        yarns = _part(data, "yarns", None)
        for name in yarns if isinstance(yarns, dict) else ():
            if name not in used | sewn:
                at = spot(root, ("yarns", name)).key_place
                self._tell(at, f"The yarn {quoted(name)} is not used.", is_warning=True)


_GROUND = 4
"""So many rows all in one symbol are a ground, and no slip."""


def _is_to_be_painted(reader: SectionReader) -> bool:
    """All that is drawn is one ground, some rows high: its other yarns are there for what will be painted on it."""
    highest = max((len(lines.texts) for lines in reader.lines_of.values()), default=0)
    return len(reader.charts.used) == 1 and highest >= _GROUND


def _undivided(data: object) -> object:
    """The same plan without its openings."""
    rows = _part(data, "rows", None)
    if not isinstance(data, dict) or not isinstance(rows, list):
        return data
    bare = [{k: v for k, v in row.items() if k != "opening"} if isinstance(row, dict) else row for row in rows]
    return {**data, "rows": bare}


def _read_sections(plan: PlanShape | None, data: object, reader: SectionReader) -> list[Section]:
    """The sections, measured. Where the plan does not fit its shape, those parts that fit are read all the same."""
    rows = _part(data, "rows", [])
    told = rows if isinstance(rows, list) else []
    shapes = list(plan.rows) if plan else [fit_section(row) for row in told]
    for i, shape in enumerate(shapes):
        if shape is None:
            if chart := fit_section({"chart": _part(told[i], "chart", None)}):
                reader.chart(i, chart)
            else:
                reader.is_unsure = True
    # A section that says no width has that of the one below it, or the first of all that of the others.
    # A shape counts its rows from those below it, so that it is never read before them.
    early = (i for i, shape in enumerate(shapes) if shape and (not i if shape.shape else not shape.has_no_width))
    first = next(early, None)
    found: list[Section | None] = []
    known = None if first is None else _read(reader, first, shapes)
    for i in range(len(shapes)):
        found.append(known if i == first else _read(reader, i, shapes))
        reader.lies_below(found[-1])
    sections = [section for section in found if section] if plan else []
    rights = aligned([section.right for section in sections])
    return [section._replace(right=right) for section, right in zip(sections, rights, strict=True)]


def _read(reader: SectionReader, index: int, shapes: Sequence[SectionShape | None]) -> Section | None:
    shape = shapes[index]
    return reader.read(index, shape) if shape else None


def _symbols(data: object, key: str = "yarn") -> Iterator[tuple[str, str]]:
    """Every symbol of the plan with the yarn it is knitted or ("sewn") sewn in, "" where there is none or it is
    amiss."""
    symbols = _part(data, "symbols", None)
    for symbol, use in symbols.items() if isinstance(symbols, dict) else ():
        yarn = _part(use, key, use if key == "yarn" else "")
        yield symbol, yarn if isinstance(yarn, str) else ""


def _yarns_named(data: object, path: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    """Every yarn that a plan names, and the path that leads to it. No deeper than the tree may be, so recursion is
    safe."""
    match data, path:
        case str(), (*_, "yarn" | "sewn" | "over") | ("symbols", _):
            yield path, data
        case list(), _:
            for index, one in enumerate(data):
                yield from _yarns_named(one, (*path, index))
        case dict(), _:
            for key, value in data.items():
                if path or key in ("symbols", "rows", "cast_on", "sewn_on"):
                    yield from _yarns_named(value, (*path, key))


def _part(data: object, key: str, otherwise: object) -> object:
    return data.get(key, otherwise) if isinstance(data, dict) else otherwise

