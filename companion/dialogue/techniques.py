"""What each technique would cost from here on; the one that is chosen is worked with from the next stitch."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from companion.dialogue.deed import Where
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, Leave
from companion.dialogue.sitting import Sitting
from companion.dialogue.table import Cell, Column, Table
from companion.knitting import words
from companion.knitting.howfar import TooMuchToWeigh
from companion.knitting.reckoning import choices
from companion.knitting.reckoning.choices import Choice
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import nothing_to_gain, technique, technique_in_short, why_recommended
from companion.progress.actions import Replan
from companion.progress.replanning import past_of

_COLUMNS = (
    Column(""), Column("Technique", least=14), Column("Strands", is_number=True, yields=3, order="up"),
    Column("Ends", is_number=True, order="up"), Column("At once", is_number=True, yields=4, order="up"),
    Column("Carried", is_number=True, order="up"),
    Column("Longest float", "Float", is_number=True, yields=2, order="up"),
    Column("Yarn", is_number=True, yields=5, order="up"),
)  # fmt: skip


class TechniquesList(Listing):
    """Choosing one plans the rows to come anew; what is worked stays. Those with names, or every combination of the
    usual limits."""

    where: ClassVar[Where] = "techniques"

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self._sitting = sitting
        self.verbs = {"choose": "" if sitting.knitting.is_look_only else "work on with this"}
        self._is_grid = False
        self._found: list[Choice] = []

    def fill(self) -> None:
        """What is about to be reckoned, unless it is: then the lines in the order that is asked for."""
        if not self.is_slow:
            self._put_found()
            return
        session = self._sitting.session
        self._piece = session.piece_under(session.limits)
        past = past_of(session)
        self._limits = choices.grid(self._piece) if self._is_grid else choices.named(self._piece, past, session.rows)
        self.title = f"Comparing {len(self._limits)} techniques ..."
        self.put(Table(_COLUMNS))

    @property
    def is_slow(self) -> bool:
        """They are not compared yet."""
        return not self._found

    def work_out(self, is_left: Callable[[], bool]) -> None:
        """Reckon, and put in what is reckoned."""
        session, found = self._sitting.session, list[Choice]()
        renewed = len(session.strands.renewed)
        try:
            for choice in choices.compared(self._piece, self._limits, past_of(session), renewed, session.rows):
                if is_left():
                    return
                found.append(choice)
        except TooMuchToWeigh as much:
            self.title = str(much)
            return
        length = words.measured(choices.free_cm(self._piece), self._sitting.terms)
        self._best, self._beaten = choices.recommended(self._piece, found), choices.beaten(found)
        self.title = f"From here on. {why_recommended(self._piece, found, length)}"
        if len({choice.figures for choice in found}) == 1:
            self.title = nothing_to_gain(found)
            found = [choice for choice in found if choice.limits == session.limits]
        self._found = found
        self._put_found()

    def _put_found(self) -> None:
        self.put(Table(_COLUMNS, [self._row(choice) for choice in self._found]))

    def _row(self, choice: Choice) -> tuple[Cell, ...]:
        each, terms = choice.figures, self._sitting.terms
        name, short = technique(choice.limits, self._piece), technique_in_short(choice.limits, self._piece)
        is_now, is_best = choice.limits == self._sitting.session.limits, choice == self._best
        marks = ["★ best" * is_best, "worked with now" * is_now, "beaten" * (choice in self._beaten)]
        in_short = ("★" * is_best + " now" * is_now).strip() or " "
        return (
            Cell(", ".join(filter(None, marks)), in_short), Cell(name, short),
            Cell(str(each.strands), by=each.strands), Cell(str(each.ends), by=each.ends),
            Cell(str(each.most_at_once), by=each.most_at_once), Cell(str(each.carried), by=each.carried),
            Cell(words.measured(each.longest_cm, terms), by=each.longest_cm),
            Cell(yarn_words.yarn_length(each.yarn_cm, is_inches=terms.is_inches), by=float(each.yarn_cm)),
        )  # fmt: skip

    def in_full(self) -> str:
        """Everything it costs."""
        if self.meant is None:
            return ""
        marks, _, *costs = self._row(self._found[self.meant])
        named = (f"{column.title.lower()} {cell.text}" for column, cell in zip(_COLUMNS[2:], costs, strict=True))
        lead = technique(self._found[self.meant].limits, self._piece)
        return f"{words.sentence(lead)}: {', '.join(named)}{'; ' * bool(marks.text)}{marks.text}."

    def change_grid(self) -> None:
        """Every combination, or only those with names."""
        self._is_grid = not self._is_grid
        self._found, self.said = [], ""

    def choose(self) -> Asking[None]:
        """This one it is."""
        assert self.meant is not None
        limits = self._found[self.meant].limits
        if self.try_to(lambda: self._sitting.knitting.do(Replan(limits))):
            yield Leave()
