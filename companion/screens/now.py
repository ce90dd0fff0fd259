"""What the hands do now, told so that it can be read from two metres: every act of one press in its order, the side
and the yarn on a chip of its colour.

Below them stands a sentence for who sits near, as long as there is room for it; the terminal's cursor stands at its
beginning, where braille displays look.
"""

from __future__ import annotations

from collections.abc import Iterator

from rich.style import Style

from companion.dialogue.telling import Telling
from companion.knitting.cloth.fabric import Yarn
from companion.problems import plain, shorten
from companion.screens.figures import SMALL
from companion.screens.flowing import Line, paragraphs, sentences, whole_sentences
from companion.screens.large import large_lines, lines_alone
from companion.screens.large_row import row_in_letters
from companion.screens.layout import Sizes
from companion.screens.lines import Lines, inked


def swatch(yarn: Yarn) -> Style:
    """How the yarn's symbol is shown."""
    return inked(yarn.colour, bold=True)


class NowPanel(Lines):
    """The acts in large letters, and the sentence. ``sizes`` of the letters; ``is_alone``: nothing else is on the
    screen, so that the row stands here, too, and what must be said once (``notice``), ``more`` at its end where it is
    cut (``is_cut``); ``is_row``: a press is a row, whose acts stand here alone."""

    sizes = Sizes(SMALL, SMALL)
    is_row = False
    is_alone = is_cut = False
    notice = ""
    more = "..."

    def draw(self, width: int, height: int) -> list[Line]:
        """Letters on top, the sentence below them in the longest form that has room."""
        telling = self.telling
        if telling is None:
            return []
        if self.is_row:
            self.act_line = None
            return row_in_letters(telling, self.sizes.main, width, height)
        room, notice = height, list[Line]()
        if self.is_alone:
            top, notice = self._alone(telling, width, height)
            room -= len(notice)
        else:
            said = len(sentence_lines(telling, width, is_short=True)) if telling.known else 0
            top = large_lines(telling, self.sizes, width)
            if len(top) > room - said:
                top = large_lines(telling, self.sizes, width, room - max(said, fewest_lines(telling, width)))
        self.act_line = len(top)
        left = max(0, room - len(top))
        lines = next(form for form in _forms(telling, width, left) if len(form) <= left)
        needle = telling.needle
        if needle and len(lines) < left and not any(needle in text for line in top for text, _ in line):
            lines = [*lines, [(shorten(needle, width), "quiet")]]
        return [*top, *lines, *([[]] * (left - len(lines)) if notice else []), *notice]


    def _alone(self, telling: Telling, width: int, height: int) -> tuple[list[Line], list[Line]]:
        """The letters, and as much of what must be said once as leaves them room."""
        most = height
        while True:
            notice = whole_sentences(self.notice, most, width, "alert", self.more)
            self.is_cut = notice != paragraphs([self.notice], width, "alert")
            room = height - len(notice) - 1
            top = lines_alone(telling, width, room)
            if len(top) <= room or not notice:
                return top[:room], notice
            most = len(notice) - 1


def _forms(telling: Telling, width: int, left: int) -> Iterator[list[Line]]:
    """What is done now as text, the longest form first: in short without its first sentences, which the large letters
    say, then its stitches as in a written row; the last cut off at the end of a line or left out."""
    yield sentence_lines(telling, width)
    yield sentence_lines(telling, width, is_short=True)
    parts = sentences(telling.short)
    yield from (paragraphs([" ".join(parts[first:])], width, "strong") for first in range(1, len(parts)))
    if telling.run:
        yield _work_lines(telling, width)
    cut: list[Line] = [[(shorten(plain(telling.short), width), "strong")]]
    yield cut[:left]


def _work_lines(telling: Telling, width: int) -> list[Line]:
    """The stitches of the run in work as in a written row."""
    in_work = next(run for run in telling.runs if run.is_done is None)
    return paragraphs([f"{in_work.work} in {in_work.yarn.name}"], width, "strong")


def fewest_lines(telling: Telling, width: int) -> int:
    """How many lines it takes to say what large letters have no room for."""
    return len(_work_lines(telling, width) if telling.run else sentence_lines(telling, width, is_short=True))


def sentence_lines(telling: Telling, width: int, *, is_short: bool = False) -> list[Line]:
    """What is done now as text."""
    return paragraphs([telling.short if is_short else telling.full], width, "strong")
