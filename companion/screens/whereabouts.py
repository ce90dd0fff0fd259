"""Where am I? The row is found by what lies on the needle; going there is left to the knitter."""

from __future__ import annotations

from textual.app import App, ComposeResult
from textual.containers import Vertical
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from companion.knitting import words
from companion.knitting.hands.whereabouts import rows_like
from companion.problems import Problems, show
from companion.progress.session import Session
from companion.screens.asking import AskWords, PlainInput, Reading, safe


class AskRuns(AskWords):
    """The same question with the piece's yarns below it: one that is clicked is the next run."""

    def __init__(self, session: Session) -> None:
        super().__init__(words.WHERE_QUESTION)
        self._yarns = session.piece.yarns

    def compose(self) -> ComposeResult:
        """The question, the field, the yarns."""
        with Vertical(classes="question"):
            yield Static(safe(self._question), markup=False)
            yield PlainInput(max_length=500)
            yield OptionList(*[Option(safe(f"{y.symbol} {y.name}")) for y in self._yarns], markup=False)
            yield Static("enter: answer   click: the next run   escape: leave it", markup=False, classes="quiet")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One more run."""
        field = self.query_one(PlainInput)
        told = field.value.strip().rstrip(",")
        symbol = self._yarns[event.option_index].symbol
        field.value = f"{told}, {symbol}" if told else symbol
        field.cursor_position = len(field.value)
        field.focus()


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
