"""A plan file to the piece it describes, or to every problem in it. Nothing is guessed and nothing half read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePath
from types import MappingProxyType

from companion.knitting.piece import Piece
from companion.plan import expand
from companion.plan.files import MOST_BYTES, plan_text, text_beside
from companion.plan.misfits import Spot, problems_of, spot
from companion.plan.nodes import Node, Text, bare, tree
from companion.plan.schema import VERSION, PlanShape, SymbolShape, fit, fit_section
from companion.plan.sections import Section, SectionReader
from companion.plan.source import Found, Source, unreadable
from companion.problems import Problem, Problems, quoted

Files = Mapping[str, str] | Callable[[str], str]
"""The chart files by the names the plan calls them. A callable raises Problems for one it cannot give."""


@dataclass(frozen=True)
class Loaded:
    """A plan read: the piece, the text it was read from, and the text of every file drawn in, by its name there."""

    piece: Piece
    text: str
    files: Mapping[str, str]
    warnings: tuple[Problem, ...] = ()


def load(path: Path) -> Loaded:
    """The plan in this file, with the chart files in its folder.

    Raises:
        Problems: everything that is wrong with it, by line.
    """
    name = str(path)
    return load_text(plan_text(path), name, lambda file: text_beside(path.parent, file, _shown(name, file)))


def load_text(text: str, name: str, files: Files) -> Loaded:
    """The plan with this text; ``name`` is the file name that problems show. No file is opened here.

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
    return _Reading(source, found, files).loaded()


def _shown(name: str, file: str) -> str:
    return str(PurePath(name).parent / file)


class _Reading:
    """One plan on its way from text to piece."""

    def __init__(self, source: Source, found: Found, files: Files) -> None:
        self._source = source
        self._found = found
        self._files = files
        self._drawn_in: dict[str, str] = {}
        self._room = MOST_BYTES - len(source.text)

    def loaded(self) -> Loaded:
        root = tree(self._source, self._found)
        self._check_version(root)
        data = bare(root)
        plan, misfits = fit(data)
        for problem in problems_of(misfits, root, self._source):
            self._found.add(problem)
        reader = SectionReader(root, self._source, self._found, self._fetch)
        self._use_symbols(plan, data, root, reader)
        sections = _read_sections(plan, data, reader)
        if plan is not None:
            self._warn(plan, root, reader)
        self._found.stop()
        assert plan is not None
        piece = expand.piece(plan, sections)
        return Loaded(piece, self._source.text, MappingProxyType(self._drawn_in), self._found.warnings)

    def _check_version(self, root: Node) -> None:
        at = spot(root, ("plan",))
        if at.key is not None and isinstance(at.node, Text) and at.node.value != VERSION:
            what = f"This plan is of version {quoted(at.node.value)}; only version {VERSION} is understood."
            self._found.add(self._source.problem(*at.place, what))
            self._found.stop()

    def _fetch(self, name: str, at: Spot) -> Source | None:
        """A chart file, remembered with the plan. What is wrong with it is told, at its own place if it has one."""
        try:
            text = self._files[name] if isinstance(self._files, Mapping) else self._files(name)
        except KeyError:
            self._tell(at, f"The chart file {quoted(name)} is not kept with this plan.")
            return None
        except Problems as found:
            for problem in found.problems:
                if problem.line:
                    self._found.add(problem)
                else:
                    self._tell(at, problem.what, problem.mend)
            return None
        source = Source(_shown(self._source.name, name), text.removeprefix("\ufeff"))
        self._room -= len(text)
        if self._room < 0:
            self._tell(at, f"With this file the plan is larger than {MOST_BYTES // 1_000_000} MB.")
            self._found.stop()
        problems = list(unreadable(source, tabs=False))
        for problem in problems:
            self._found.add(problem)
        self._drawn_in[name] = source.text
        return None if problems else source

    def _tell(self, at: Spot, what: str, mend: str = "") -> None:
        self._found.add(self._source.problem(*at.place, what, mend))

    def _use_symbols(self, plan: PlanShape | None, data: object, root: Node, reader: SectionReader) -> None:
        """Every yarn that a symbol stands for must be one of the plan's."""
        symbols = plan.symbols if plan else _part(data, "symbols", {})
        for symbol, use in symbols.items() if isinstance(symbols, dict) else ():
            name = use.yarn if isinstance(use, SymbolShape) else _part(use, "yarn", use)
            path = ("symbols", symbol, "yarn")
            if isinstance(name, str) and name:
                reader.check_yarn(name, spot(root, path))

    def _warn(self, plan: PlanShape, root: Node, reader: SectionReader) -> None:
        used = set(reader.used_yarns)
        for symbol, use in plan.symbols.items():
            if symbol in reader.charts.used:
                used.add(use.yarn if isinstance(use, SymbolShape) else use)
            else:
                self._warn_unused(f"The symbol {quoted(symbol)} is not used.", spot(root, ("symbols", symbol)))
        for name in plan.yarns:
            if name not in used:
                self._warn_unused(f"The yarn {quoted(name)} is not used.", spot(root, ("yarns", name)))

    def _warn_unused(self, what: str, at: Spot) -> None:
        self._found.add(self._source.problem(*at.key_place, what, is_warning=True))


def _read_sections(plan: PlanShape | None, data: object, reader: SectionReader) -> list[Section]:
    """The sections, measured. Where the plan does not fit its shape, those parts that fit are read all the same."""
    if plan is not None:
        read = [reader.read(i, shape) for i, shape in enumerate(plan.rows)]
        return [section for section in read if section]
    rows = _part(data, "rows", [])
    for i, row in enumerate(rows if isinstance(rows, list) else []):
        whole = fit_section(row)
        chart = fit_section({"chart": _part(row, "chart", None)})
        if whole:
            reader.read(i, whole)
        elif chart:
            reader.chart(i, chart)
    return []


def _part(data: object, key: str, otherwise: object) -> object:
    return data.get(key, otherwise) if isinstance(data, dict) else otherwise

