"""Somebody who is asked for a plan, with keys and no screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.new.piece import new_plan
from companion.dialogue.questions import Asking, Choice, Reading, Words, YesNo
from companion.plan.read import Loaded, load
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard

KEYS = {" ": "space", ".": "full_stop", "-": "minus", ",": "comma"}


MOST = 100
"""More questions than there are."""


class Asked:
    """Somebody who is asked for a plan in a folder. ``path``: where it lies once it is written."""

    def __init__(self, folder: Path, file: str = "", settings: Settings | None = None) -> None:
        self.path: Path | None = None
        self.is_over = False
        self._folder, self._file = folder, file
        knitter = Knitter(settings or Settings())
        self.keyboard = Keyboard(knitter, self._asking(knitter))

    def _asking(self, knitter: Knitter) -> Asking[None]:
        self.path = yield from new_plan(knitter, self._folder, self._file)
        self.is_over = True

    @property
    def request(self) -> object:
        """What is asked now."""
        return self.keyboard.top.request

    @property
    def question(self) -> str:
        """It in words."""
        request = self.request
        assert isinstance(request, Words | Choice | YesNo)
        return request.text if isinstance(request, Words) else "\n".join(request.text)

    def keep(self, times: int = 1) -> None:
        """Answer with what stands there."""
        self.keyboard.press(*["enter"] * times)

    def type(self, text: str) -> None:
        """Answer with these words."""
        assert isinstance(self.request, Words), self.request
        self.keyboard.press(*["backspace"] * len(self.keyboard.top.field), *(KEYS.get(sign, sign) for sign in text))
        self.keep()

    def choose(self, begins: str) -> None:
        """Choose the line that begins so."""
        assert isinstance(self.request, Choice), self.request
        at = next(at for at, line in enumerate(self.request.lines) if line.startswith(begins))
        self.keyboard.press("home", *["down"] * at, "enter")

    def until(self, begins: str) -> None:
        """Keep every answer up to the question that begins so."""
        for _ in range(MOST):
            if not isinstance(self.request, Reading) and begins in self.question:
                return
            self.keep()
        pytest.fail(f"{begins!r} is not asked")

    def finish(self) -> Loaded:
        """Keep every answer that is left; the plan that is written then."""
        for _ in range(MOST):
            if not self.is_over:
                self.keep()
        assert self.path is not None, self.question
        return load(self.path)


def blank(folder: Path) -> Asked:
    """Somebody who chose a blank panel."""
    asked = Asked(folder)
    asked.choose("A blank panel")
    return asked
