"""Something that takes long, while it is done: what it is, and a bar. Keys that come meanwhile are for nothing."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import ProgressBar

from companion.dialogue.questions import Lasting
from companion.screens.plain_parts import STYLES, shown
from companion.screens.rowside import Answering

PATIENCE = 0.5
"""Seconds that nobody minds waiting without being told for what."""


class WaitingScreen(Answering[object], ModalScreen[object]):
    """Left when it is done."""

    CSS_PATH: ClassVar[str] = STYLES
    where = "question"

    def __init__(self, lasting: Lasting) -> None:
        super().__init__()
        self._lasting = lasting

    def compose(self) -> ComposeResult:
        """What is done, and a bar that moves even where nobody tells how far it is."""
        with Vertical(classes="question"):
            yield shown(self._lasting.what, "strong")
            yield ProgressBar(show_percentage=False, show_eta=False)

    def on_mount(self) -> None:
        """Begin; be seen after a while."""
        self._box = self.query_one(Vertical)
        self._box.display = False
        self.set_timer(PATIENCE, self._appear)
        self.run_worker(self._do, thread=True, group="lasting")

    def _appear(self) -> None:
        self._box.display = True

    def _do(self) -> None:
        came = self._lasting.do(lambda part: self.app.call_from_thread(self._told, part))
        self.app.call_from_thread(self.dismiss, came)

    def _told(self, part: float) -> None:
        self.query_one(ProgressBar).update(total=1, progress=part)
