"""A class file to the piece that each student knits, or to every problem in it and in anybody's piece, told once.

The plan is read anew for every student: at her gauge reach, catches, heights in rows and lengths of yarn are others.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from companion.knitting.howfar import HowFar, TooMuchToWeigh, part_of, untold
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.knitting.value import Record
from companion.knitting.words.sizes import bare_title
from companion.knitting.words.terms import listed
from companion.plan.demo import demo_plans
from companion.plan.files import plan_text, text_beside
from companion.plan.misfits import KeyPath, problems_of, spot
from companion.plan.natural import class_in_our_words
from companion.plan.nodes import Keys, Node, bare, tree
from companion.plan.outline import for_hands
from companion.plan.read import Loaded, load, load_text
from companion.plan.schema.classes import ClassShape, StudentShape
from companion.plan.schema.fitting import fit_shape
from companion.plan.source import Found, Source, unreadable
from companion.problems import Problem, Problems, nearest, quoted


class Student(Record):
    """Who knits, and the piece as she does it, with the fewest strands."""

    name: str
    piece: Piece
    strands: Strands


class KnittingClass(Record):
    """Several students who knit one ``piece``; each as she does it, and the piece as its plan has it."""

    title: str
    piece: Piece
    students: tuple[Student, ...]
    warnings: tuple[Problem, ...] = ()


def load_class(path: Path, done: HowFar = untold) -> KnittingClass:
    """The class in this file; its plan is a file in the same folder or below it, or a demo plan.

    Raises:
        Problems: everything that is wrong with it, with its plan and with any student's piece.
    """
    source, found = Source(str(path), plan_text(path)), Found()
    for problem in unreadable(source, tabs=True):
        found.add(problem)
    found.stop()
    root = tree(source, found, "class")
    if isinstance(root, Keys) and "rows" in root.entries and "students" not in root.entries:
        what = "This is a plan, and no class: it has no students."
        raise Problems([source.problem(*spot(root, ("rows",)).key_place, what, "rowside check tells what is in it.")])
    shape, misfits = fit_shape(ClassShape, class_in_our_words(bare(root)))
    for problem in problems_of(misfits, root, source, "class"):
        found.add(problem)
    found.stop()
    assert shape is not None
    return _Reading(shape, root, source).loaded(path.parent, done)


class _Reading:
    """One class that is soundly written, on its way to the pieces of its students."""

    def __init__(self, shape: ClassShape, root: Node, source: Source) -> None:
        self._shape = shape
        self._root = root
        self._source = source
        self._of: dict[Problem, list[str]] = {}
        """What is wrong with somebody's piece, and with whose."""

    def loaded(self, folder: Path, done: HowFar) -> KnittingClass:
        name, plan = self._plan(folder)
        students, many = list[Student](), len(self._shape.students)
        for index, student in enumerate(self._shape.students):
            part = part_of(done, index / many, (index + 1) / many)
            try:
                students.append(self._student(index, student, name, plan, part))
            except Problems as found:
                self._keep(student, found.problems)
        problems = tuple(self._told())
        if not all(problem.is_warning for problem in problems):
            raise Problems(problems)
        piece = replace(plan.piece, title=bare_title(plan.piece.title, plan.size))
        return KnittingClass(self._shape.title, piece, tuple(students), problems)

    def _keep(self, student: StudentShape, problems: Iterable[Problem]) -> None:
        for problem in problems:
            self._of.setdefault(problem, []).append(student.name)

    def _plan(self, folder: Path) -> tuple[str, Loaded]:
        """The plan as it is written, and the name by which problems show its file."""
        name, demos = self._shape.plan, {path.stem: path for path in demo_plans()}
        path = folder / name
        if not os.path.isfile(path) and name in demos:
            return str(demos[name]), load(demos[name])
        if not os.path.isfile(path) and not Path(name).suffix:
            near = nearest(name, demos)
            mend = f"Did you mean {quoted(near)}?" if near else f"Demo plans: {', '.join(demos)}."
            what = f"There is no file {quoted(name)} beside this one, and no demo plan of that name."
            raise Problems([self._problem(("plan",), what, mend)])
        try:
            text_beside(folder, name, str(path))
        except Problems as found:
            here = [one if one.line else self._problem(("plan",), one.what, one.mend) for one in found.problems]
            raise Problems(here) from None
        return str(path), load(path)

    def _student(self, index: int, student: StudentShape, name: str, plan: Loaded, done: HowFar) -> Student:
        """A student's piece; what she is to be warned of, and what is wrong with her yarns' names, is kept.

        Raises:
            Problems: it cannot be knitted so.
        """
        at, own = ("students", index), self._own_names(index, student, plan)
        self._check_size(at, student, plan)
        loaded = load_text(plan.text, name, plan.files, student.in_hand, student.size or "")
        for one in loaded.warnings:
            is_hers = student.gauge and one.what.startswith('"gauge"')  # which is not the one in the plan's line
            told = self._problem((*at, "gauge"), one.what, one.mend)._replace(is_warning=True) if is_hers else one
            self._keep(student, [told])
        try:
            piece = for_hands(loaded.piece, is_mirrored=student.hands == "left").renamed(own)
            strands = plan_strands(piece.rows, piece.carry, done=done).strands
        except Problems as found:
            here = (self._problem((*at, "hands"), one.what, "Write hands: right") for one in found.problems)
            raise Problems(here) from None
        except TooMuchToWeigh as much:
            raise Problems([self._problem(("plan",), str(much))]) from None
        return Student(student.name, piece, strands)

    def _check_size(self, at: KeyPath, student: StudentShape, plan: Loaded) -> None:
        """Raise what is wrong with the size a student has.

        Raises:
            Problems: the plan is in sizes, and hers is none of them, or is not one of them.
        """
        mend = f"Sizes of the plan: {', '.join(plan.sizes)}."
        if plan.sizes and student.size is None:
            raise Problems([self._problem(at, "She has no size, and the plan is in sizes.", mend)])
        if student.size and student.size.casefold() not in [size.casefold() for size in plan.sizes]:
            what = f"The plan has no size {quoted(student.size)}."
            raise Problems([self._problem((*at, "size"), what, mend if plan.sizes else "It is of one size.")])

    def _own_names(self, index: int, student: StudentShape, plan: Loaded) -> Mapping[str, str]:
        """The names of the plan's yarns that the student has others for; none where that would be unclear."""
        names, path = [yarn.name for yarn in plan.piece.yarns], ("students", index, "yarns")
        for name in student.yarns:
            if name not in names:
                near = nearest(name, names)
                mend = f"Did you mean {quoted(near)}?" if near else f"Yarns of the plan: {', '.join(names[:40])}."
                what = f"The plan has no yarn {quoted(name)}."
                self._keep(student, [self._problem((*path, name), what, mend, at_key=True)])
        own = {name: yarn.name for name, yarn in student.yarns.items() if yarn.name}
        twice = [name for name, times in Counter(own.get(name, name) for name in names).items() if times > 1]
        for name in twice:
            plans = next(yarn for yarn, called in own.items() if called == name)
            what = f"Two yarns of one student would be called {quoted(name)}."
            self._keep(student, [self._problem((*path, plans, "name"), what, "Call one of them otherwise.")])
        return {} if twice else own

    def _problem(self, path: KeyPath, what: str, mend: str = "", *, at_key: bool = False) -> Problem:
        at = spot(self._root, path)
        return self._source.problem(*(at.key_place if at_key else at.place), what, mend)

    def _told(self) -> Iterator[Problem]:
        """Each problem once, with the names of those it is true of, where it is not true of all."""
        everybody = len(self._shape.students)
        for problem, names in self._of.items():
            whose = "" if len(names) == everybody > 1 else f"{listed(names)}: "
            yield problem._replace(what=f"{whose}{problem.what}")
