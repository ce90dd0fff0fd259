"""A small plan on the drawing board, keys pressed without a screen, the drawing read back from the file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from companion.board.board import Board
from companion.dialogue.deeds import deeds_of
from companion.dialogue.knitter import Knitter
from companion.dialogue.painting import Painting
from companion.dialogue.questions import Leave, Reading, Request

PIER = """\
plan: 1
title: Pier
gauge: {stitches: 20, rows: 28}
yarns: {sand: {colour: tan}, ink: {colour: black}, brick: {colour: brown}}
symbols: {s: sand, i: ink, b: brick}
rows:
  - plain: {rows: 1, yarn: sand}
  - chart: |  # from the top
"""
BLANK = ("ssssssss",) * 5

SAIL = ("ssssssss", "ssssssss", "ssssssis", "sssssiis", "ssssiiis")
"""A sail in ink."""


def plan(chart: Sequence[str] = BLANK, opening: str = "") -> str:
    """A plan whose first row is plain, and five rows of eight stitches drawn above it; ``opening``: a line before."""
    return PIER.replace("chart: |", opening + "chart: |") + "".join(f"      {row}\n" for row in chart)


class Easel:
    """``said``: what was shown to be read. ``left``: the board was left."""

    def __init__(
        self, folder: Path, chart: Sequence[str] = BLANK, knitter: Knitter | None = None, opening: str = ""
    ) -> None:
        self.file = folder / "pier.yaml"
        self.file.write_text(plan(chart, opening), encoding="utf-8")
        self.painting = Painting(knitter or Knitter(), Board(self.file))
        self.said: list[str] = []
        self.is_left = False

    def press(self, *keys: str, answers: Sequence[object] = ()) -> None:
        """Keys, one after the other; whatever is asked on the way is answered in turn, what is drawn saved."""
        waiting = list(answers)
        for key in keys:
            [deed] = [deed for deed in deeds_of("drawing", self.painting.knitter.deeds) if key in deed.keys]
            asking = deed.begin(self.painting)
            request = next(asking, None)
            while request is not None:
                try:
                    request = asking.send(self._answer(request, waiting))
                except StopIteration:
                    request = None
            self.painting.save()
        assert not waiting, "nothing asked for these"

    def release(self) -> None:
        """The mouse's button is let go, and what is drawn saved."""
        self.painting.mouse.release()
        self.painting.save()

    def _answer(self, request: Request, waiting: list[object]) -> object:
        if isinstance(request, Leave):
            self.is_left = True
            return None
        if isinstance(request, Reading):
            self.said += [request.title, *request.lines]
            return None
        return waiting.pop(0)

    def worked_out(self) -> None:
        """What takes time, at once."""
        slow = self.painting.slow
        slow.work_out(slow.wanted, lambda: False, self.painting.take_up)

    @property
    def chart(self) -> tuple[str, ...]:
        """The drawing as it stands in the file, from the top."""
        _, chart = self.file.read_text(encoding="utf-8").split("chart: |  # from the top\n")
        return tuple(line.strip() for line in chart.splitlines())


def selected(tmp_path: Path) -> Easel:
    """A sail, selected."""
    easel = Easel(tmp_path, SAIL)
    easel.press("left", "s", "left", "left", "up", "up", "space")
    assert easel.painting.hand == "Pen up, 3 x 3 selected"
    return easel


SLIT = ("bbbbbbbb", "ssssssss", "iii..sss", "iii..sss", "iii..sss", "iii..sss", "ssssssss")
"""A slit in seven rows, the top one in brick; on its left side ink."""


def with_a_slit(tmp_path: Path) -> Easel:
    """It on the board; the right side of the slit is worked first."""
    return Easel(tmp_path, SLIT, opening="opening: {first: right}\n    ")
