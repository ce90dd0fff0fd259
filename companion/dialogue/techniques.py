"""What each technique would cost from here on; the one that is chosen is worked with from the next stitch."""

from __future__ import annotations

from collections.abc import Callable
from typing import ClassVar

from companion.dialogue.deeds import Where
from companion.dialogue.listing import Listing
from companion.dialogue.questions import Asking, Leave
from companion.dialogue.sitting import Sitting
from companion.knitting import words
from companion.knitting.reckoning import choices
from companion.knitting.reckoning.choices import Choice
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import technique, why_recommended
from companion.progress.actions import Replan
from companion.progress.replanning import past_of


class TechniquesList(Listing):
    """Choosing one plans the rows to come anew; what is worked stays. Those with names, or every combination of the
    usual limits."""

    where: ClassVar[Where] = "techniques"
    verbs = {"choose": "work on with this"}

    def __init__(self, sitting: Sitting) -> None:
        super().__init__()
        self._sitting = sitting
        self._is_grid = False
        self._found: list[Choice] = []

    def fill(self) -> None:
        """What is about to be reckoned, unless it is."""
        if not self.is_slow:
            return
        session = self._sitting.session
        self._piece = session.piece_under(session.limits)
        self._limits = choices.grid(self._piece) if self._is_grid else choices.named(self._piece)
        self.title, self.lines = f"Comparing {len(self._limits)} techniques ...", ()

    @property
    def is_slow(self) -> bool:
        """They are not compared yet."""
        return not self._found

    def work_out(self, is_left: Callable[[], bool]) -> None:
        """Reckon, and put in what is reckoned."""
        session, found = self._sitting.session, list[Choice]()
        renewed = len(session.strands.renewed)
        for choice in choices.compared(self._piece, self._limits, past_of(session), renewed):
            if is_left():
                return
            found.append(choice)
        length = words.measured(choices.free_cm(self._piece), self._sitting.terms)
        self._found = found
        self.title = f"From here on. {why_recommended(self._piece, found, length)}"
        self.lines = tuple(self._line(choice) for choice in found)

    def _line(self, choice: Choice) -> str:
        each, terms = choice.figures, self._sitting.terms
        yarn = yarn_words.yarn_length(each.yarn_cm, is_inches=terms.is_inches)
        line = (
            f"{technique(choice.limits, self._piece)}: {words.how_many(each.strands, 'strand')}, "
            f"{words.how_many(each.ends, 'end')}, {each.most_at_once} at once, {words.count(each.carried)} carried, "
            f"longest float {words.measured(each.longest_cm, terms)}, {yarn}"
        )
        if choice.limits == self._sitting.session.limits:
            line += "; worked with now"
        return f"{line}; beaten" if choice in choices.beaten(self._found) else line

    def change_grid(self) -> None:
        """Every combination, or only those with names."""
        self._is_grid = not self._is_grid
        self._found, self.said = [], ""

    def choose(self) -> Asking[None]:
        """This one it is."""
        assert self.at is not None
        limits = self._found[self.at].limits
        if self.try_to(lambda: self._sitting.knitting.do(Replan(limits))):
            yield Leave()
