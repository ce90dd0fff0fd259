"""What each technique would cost from here on; the one that is picked is worked with from the next stitch."""

from __future__ import annotations

from textual.binding import Binding
from textual.worker import get_current_worker

from companion.knitting import words
from companion.knitting.reckoning import choices
from companion.knitting.reckoning.choices import Choice
from companion.knitting.words import yarn as yarn_words
from companion.knitting.words.choices import technique, why_recommended
from companion.progress.actions import Replan
from companion.progress.knitting import Knitting
from companion.progress.replanning import past_of
from companion.screens.picking import PickingScreen


class TechniquesScreen(PickingScreen):
    """Enter plans the rows to come anew; what is worked stays. ``g`` tries every combination of the usual limits."""

    BINDINGS = [Binding("g", "more", "every combination")]
    keys = "enter: work on with this   g: every combination   escape: back"

    def __init__(self, knitting: Knitting, terms: words.Terms) -> None:
        super().__init__()
        self._knitting = knitting
        self._terms = terms
        self._is_grid = False
        self._found: list[Choice] = []

    def fill(self) -> None:
        """Reckon, and show what is reckoned."""
        session = self._knitting.session
        self._piece = session.piece_under(session.limits)
        self._limits = choices.grid(self._piece) if self._is_grid else choices.named(self._piece)
        self._found = []
        self.put(f"Comparing {len(self._limits)} techniques ...", [])
        self.run_worker(self._reckon, thread=True, exclusive=True)

    def _reckon(self) -> None:
        worker, session = get_current_worker(), self._knitting.session
        found = []
        renewed = len(session.strands.renewed)
        for choice in choices.compared(self._piece, self._limits, past_of(session), renewed):
            if worker.is_cancelled:
                return
            found.append(choice)
        self.app.call_from_thread(self._show, found)

    def _show(self, found: list[Choice]) -> None:
        self._found = found
        length = words.measured(choices.free_cm(self._piece), self._terms)
        title = f"From here on. {why_recommended(self._piece, found, length)}"
        self.put(title, [self._line(choice) for choice in found])

    def _line(self, choice: Choice) -> str:
        each, session = choice.figures, self._knitting.session
        yarn = yarn_words.yarn_length(each.yarn_cm, is_inches=self._terms.is_inches)
        told = (
            f"{technique(choice.limits, self._piece)}: {words.how_many(each.strands, 'strand')}, "
            f"{words.how_many(each.ends, 'end')}, {each.most_at_once} at once, {words.count(each.carried)} carried, "
            f"longest float {words.measured(each.longest_cm, self._terms)}, {yarn}"
        )
        if choice.limits == session.limits:
            told += "; worked with now"
        return f"{told}; beaten" if choice in choices.beaten(self._found) else told

    def action_more(self) -> None:
        """Every combination, or only those with names."""
        self._is_grid = not self._is_grid
        self.said = ""
        self.fill()

    def choose(self, at: int) -> None:
        """This one it is."""
        limits = self._found[at].limits
        if self.try_to(lambda: self._knitting.do(Replan(limits))):
            self.dismiss(None)
        else:
            self._show(self._found)
