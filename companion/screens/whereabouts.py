"""Where am I? The row is found by what lies on the needle; going there is left to the knitter."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import App
from textual.widget import Widget
from textual.widgets import OptionList

from companion.knitting import words
from companion.knitting.hands.whereabouts import rows_like
from companion.problems import Problems, show
from companion.progress.session import Session
from companion.screens.asking import AskWords, Reading, lines_to_choose


class AskRuns(AskWords):
    """The same question with the piece's yarns below it: one that is clicked is the next run."""

    keys = "enter: answer   click: the next run   escape: leave it"

    def __init__(self, session: Session) -> None:
        super().__init__(words.WHERE_QUESTION)
        self._yarns = session.piece.yarns

    def answers(self) -> Iterable[Widget]:
        """The field, the yarns."""
        yield self.field
        yield OptionList(*lines_to_choose(f"{yarn.symbol} {yarn.name}" for yarn in self._yarns), markup=False)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One more run."""
        told = self.field.value.strip().rstrip(",")
        symbol = self._yarns[event.option_index].symbol
        self.field.value = f"{told}, {symbol}" if told else symbol
        self.field.cursor_position = len(self.field.value)
        self.field.focus()


async def tell_where(app: App[None], session: Session) -> None:
    """Ask what lies on the needle, and tell the rows that fit."""
    from companion.plan.needle import runs_on_needle

    told = await app.push_screen_wait(AskRuns(session))
    if not told:
        return
    try:
        runs = runs_on_needle(told, session.piece.yarns)
    except Problems as found:
        lines = [show(problem) for problem in found.problems]
    else:
        lines = words.rows_found(session.rows, rows_like(session.rows, runs))
    await app.push_screen_wait(Reading("Where am I?", lines))
