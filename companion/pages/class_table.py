"""A class as text: how large each student's piece comes out, the yarn of each and of all, what is wound for all.

Lengths are those of the winding list, all in one unit, whatever each student's own is: the sums are of what is told.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import groupby

from companion.knitting.cloth.fabric import Yarn
from companion.knitting.reckoning.quantities import Length, Sold, YarnTotal, as_sold, lengths, together, totals
from companion.knitting.reckoning.size import Size, size
from companion.knitting.value import Record
from companion.knitting.words import Terms, how_many, listed
from companion.knitting.words import yarn as yarn_words
from companion.knitting.yarn.winding import Supply
from companion.pages import written
from companion.pages.set_out import set_out
from companion.plan.classes import KnittingClass, Student
from companion.problems import plain


class Needed(Record):
    """What one student's piece comes to and takes."""

    student: Student
    size: Size
    wound: tuple[Length, ...]
    totals: tuple[YarnTotal, ...]

    @property
    def cm(self) -> Fraction:
        """All yarn."""
        return sum((total.cm for total in self.totals), Fraction(0))


def needed(students: Iterable[Student], *, is_inches: bool) -> tuple[Needed, ...]:
    """What each needs, lengths measured off in centimetres and metres or in inches and yards."""
    return tuple(_needed(student, is_inches) for student in students)


def _needed(student: Student, is_inches: bool) -> Needed:
    wound = lengths(student.piece, student.strands, is_inches=is_inches)
    return Needed(student, size(student.piece), wound, tuple(totals(student.piece, wound)))


def for_all(each: Sequence[Needed]) -> Iterator[tuple[YarnTotal, Sequence[str]]]:
    """Every yarn that all take together, and the names of those who do."""
    for total in together(total for one in each for total in one.totals):
        sold = as_sold(total.yarn)
        yield total, [one.student.name for one in each if any(as_sold(own.yarn) == sold for own in one.totals)]


class Winding(Record):
    """How often a ``length`` of a yarn is wound in this ``way``; ``is_shared``: both its ends are worked from."""

    yarn: Yarn
    cm: Fraction
    way: Supply
    is_shared: bool
    times: int


def winding_for_all(each: Sequence[Needed]) -> Iterator[Winding]:
    """Every length that is wound for anybody: yarn by yarn, the longest first."""
    found = dict[Sold, Counter[tuple[Fraction, Supply, bool]]]()
    yarns = dict[Sold, Yarn]()
    for one in each:
        by_strand = {length.strand: length for length in one.wound}
        for length in one.wound:
            other = None if length.shares_with is None else by_strand[length.shares_with]
            if other and other.strand < length.strand:  # told with that one
                continue
            yarn = one.student.piece.yarn(length.yarn)
            yarns[as_sold(yarn)] = yarn
            cm = length.cm + (other.cm if other else 0)
            found.setdefault(as_sold(yarn), Counter())[cm, length.way, other is not None] += 1
    for sold, lengths_of_it in found.items():
        for (cm, way, is_shared), times in sorted(lengths_of_it.items(), reverse=True):
            yield Winding(yarns[sold], cm, way, is_shared, times)


def class_table(found: KnittingClass, each: Sequence[Needed], terms: Terms, room: int) -> Iterator[str]:
    """Every line, without line ends. ``each``: measured off in the units of ``terms``."""
    yield plain(f"{found.title}: {found.piece.title}, {how_many(len(each), 'student')}")
    yield ""
    heads = ["Name", "Measures", "Yarn", *(plain(yarn.name) for yarn in found.piece.yarns)]
    yield from set_out(heads, [[plain(cell) for cell in _cells(found, one, terms)] for one in each], room)
    yield ""
    yield "Yarn for all, spare included:"
    label = _labels([total.yarn for total, _ in for_all(each)])
    for total, names in for_all(each):
        called = total.yarn._replace(name=label[as_sold(total.yarn)])
        line = yarn_words.yarn_needed(total._replace(yarn=called), terms)
        whose = "" if len(names) == len(each) else f" For {listed(names)}."
        yield plain(f"  {line}{whose}")
    yield ""
    yield "To wind for all:"
    for sold, wound in groupby(winding_for_all(each), lambda one: as_sold(one.yarn)):
        yield plain(f"  {label[sold]}: {'; '.join(_wound(one, terms) for one in wound)}.")


def _cells(found: KnittingClass, one: Needed, terms: Terms) -> Iterator[str]:
    """A student's line: the yarns by their place in the plan, with her own name where it is another."""
    yield one.student.name
    yield written.measures(one.student.piece, terms)[0]
    yield yarn_words.yarn_length(one.cm, is_inches=terms.is_inches)
    for plans, total in zip(found.piece.yarns, one.totals, strict=True):
        length = yarn_words.yarn_length(total.cm, is_inches=terms.is_inches)
        yield length if total.yarn.name == plans.name else f"{length} {total.yarn.name}"


def _labels(yarns: Sequence[Yarn]) -> dict[Sold, str]:
    """What each yarn is called: with its colour where another one has its name, too."""
    named = Counter(yarn.name for yarn in yarns)
    return {
        as_sold(yarn): f"{yarn.name} ({yarn.colour})" if named[yarn.name] > 1 else yarn.name for yarn in yarns
    }


def _wound(one: Winding, terms: Terms) -> str:
    """So many lengths of a kind: "3 of 80 cm, loose"."""
    ends = " wound from both ends" if one.is_shared else f", {yarn_words.KEPT[one.way]}"
    return f"{one.times} of {yarn_words.yarn_length(one.cm, is_inches=terms.is_inches)}{ends}"
