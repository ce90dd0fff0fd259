"""The ends: every one the piece has or will have, how it is woven in and where it lies; marked as they go."""

from __future__ import annotations

from typing import ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.listing import Listing, ticking
from companion.dialogue.sitting import Sitting
from companion.dialogue.table import Cell, Column, Row, Table
from companion.knitting import words
from companion.knitting.hands.ends import EndState
from companion.knitting.hands.steps import End
from companion.progress.actions import Unweave, Weave
from companion.progress.ends import all_ends, how_woven, ready_ends
from companion.progress.mishaps import closes

FILTERS: tuple[tuple[str, frozenset[EndState]], ...] = (
    ("on the fabric", frozenset({"too fresh", "ready", "for the seam", "woven"})),
    ("ready", frozenset({"ready"})),
    ("", frozenset({"woven"})),
    ("all, those to come too", frozenset({"not yet", "too fresh", "ready", "for the seam", "woven"})),
)
"""Names, and the ends that each lets through; "": those that are woven in."""

_STATES: tuple[EndState, ...] = ("ready", "too fresh", "for the seam", "not yet", "woven")
"""As they are sorted: what can be done first."""

_COLUMNS = (
    Column("State", " ", order="up"), Column("Row", order="up"), Column("Which"), Column("Yarn", least=9, order="up"),
    Column("Of the strand, from the back", "From the back", least=16, yields=1),
)  # fmt: skip

_HUNG: frozenset[EndState] = frozenset({"too fresh", "ready", "for the seam"})


class EndsList(Listing):
    """A line an end that the filter lets through, as they lie: row by row, and from the left of the wrong side.

    ``hung``: where ends hang that are not woven in; ``is_map``: the map of the back is wanted in the list's place.
    """

    where: ClassVar[Where] = "ends"

    def __init__(self, sitting: Sitting, *, only_ready: bool = False) -> None:
        super().__init__()
        self.sitting = sitting
        self.verbs = ticking(sitting, sitting.terms.woven_in)
        self.is_map = False
        self.hung: frozenset[tuple[int, int]] = frozenset()
        self._filter = 1 if only_ready else 0
        self._listed: list[tuple[End, EndState]] = []

    def fill(self) -> None:
        """The ends that the filter lets through."""
        session, terms = self.sitting.session, self.sitting.terms
        name, states = FILTERS[self._filter]
        ends = all_ends(session)
        listed = [(end, state) for end, state in ends if state in states]
        self._listed = sorted(listed, key=lambda one: how_woven(session, one[0]).cells[0])
        self.title = words.ends_title(
            name or terms.woven_in, len(self._listed), ready_ends(session), terms, left=session.ends_left
        )  # fmt: skip
        state, row, *others = _COLUMNS
        row = row._replace(title=words.rows_title(session.rows))
        self.put(Table((state, row, *others), [self._row(*each) for each in self._listed]))
        self.hung = frozenset(how_woven(session, end).cells[0] for end, state in ends if state in _HUNG)

    def _row(self, end: End, state: EndState) -> Row:
        session, mark = self.sitting.session, words.END_MARKS[state]
        marked = f"{mark} {words.end_state(state, self.sitting.terms)}"
        row, kind, place = words.end_place(session.strands, end, self.sitting.terms)
        named = row if row == words.CAST_ON else words.row_listed(row, session.rows[end.place.row], session.rows)
        yarn = session.piece.yarn(how_woven(session, end).yarn)
        return (
            Cell(marked, mark, by=_STATES.index(state)), Cell(named, row, by=end.place.row), Cell(kind),
            Cell(yarn.name, yarn=yarn), Cell(place, words.place_in_short(place)),
        )  # fmt: skip

    def in_full(self) -> str:
        """Its state, and where it is."""
        if self.meant is None:
            return ""
        strands, terms = self.sitting.session.strands, self.sitting.terms
        return " ".join(words.end_line(strands, *self._listed[self.meant], terms).split())

    def next_filter(self) -> None:
        """The next filter."""
        self._filter = (self._filter + 1) % len(FILTERS)
        self.said = ""

    @property
    def route(self) -> tuple[tuple[int, int], ...]:
        """Where the end that is meant is woven in, from where it hangs; nowhere where none is."""
        end = self._meant()
        return () if end is None else how_woven(self.sitting.session, end).cells

    def about(self) -> list[str]:
        """How this one is woven in, and what it closes on its way."""
        session, end = self.sitting.session, self._meant()
        if end is None:
            return []
        holes = [words.close_hole(session.rows, hole) for hole, tail in closes(session).items() if tail == end]
        shows_by = self.sitting.knitter.settings.shows_by
        return [*holes, *words.how_to_weave(how_woven(session, end), self.sitting.terms, shows_by)]

    def choose(self) -> None:
        """Mark an end as woven in, or not; saved before it is shown."""
        assert self.meant is not None
        end, state = self._listed[self.meant]
        self.try_to(lambda: self.sitting.knitting.do(Unweave(end) if state == "woven" else Weave(end)))

    def _meant(self) -> End | None:
        return None if self.meant is None else self._listed[self.meant][0]
