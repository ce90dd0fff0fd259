"""The run in work, told so that it can be read from two metres, with what to do at the change into it.

Nothing of it is ever cut off: what has no room beside the figures is told below them.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.style import Style

from companion.dialogue.telling import Telling
from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.problems import plain, shorten
from companion.screens.figures import LARGE, MIDDLE, PLAIN, SMALL, Scale, can_draw, drawn
from companion.screens.lines import Line, Lines, inked, paragraphs

GAP = "   "
MARK = 6
"""Cells of the swatch with the yarn's symbol and a space after it."""

LAST = f" · {words.LAST_OF_STRAND}"


def swatch(yarn: Yarn) -> Style:
    """How the yarn's symbol is shown."""
    return inked(yarn.colour, bold=True)


def marked(yarn: Yarn) -> Line:
    """The swatch with the symbol; its edges are seen on a ground of the same colour too."""
    style = swatch(yarn)
    return [(f"▏ {yarn.symbol} ▕", style), (" ", "")]


class NowPanel(Lines):
    """Count in very large figures, yarn, symbol and swatch, knits and purls, what is left, and the change."""

    scale = SMALL
    name_lines = 0

    def draw(self, width: int, height: int) -> list[Line]:
        """Figures on top, the change below them."""
        telling = self.telling
        if telling is None:
            return []
        if telling.yarn is None:
            return self._to_do(telling, width, height)[:height]
        scale = _scale(telling, self.scale, width)
        if scale == PLAIN:
            top = _on_one_line(telling, telling.yarn, width)
        else:
            top = self._figures(telling, telling.yarn, scale, width)
        top += [[] for _ in range(self.scale.lines - len(top))]
        if self.name_lines:
            below = _large(telling.yarn.name, width, self.name_lines - 1)
            top += [[], *below, *([] for _ in range(self.name_lines - 1 - len(below)))]
        return [*top, *_change(telling, scale, width)][:height]

    def _to_do(self, telling: Telling, width: int, height: int) -> list[Line]:
        """What is to be done now, below its verb in large letters; in few words where there is no room for both."""
        large = _large(telling.verb, width, self.scale.lines)
        full, short = to_do_lines(telling, width), to_do_lines(telling, width, is_short=True)
        tries = ([*large, *full], [*large, *short], full)
        return next((lines for lines in tries if len(lines) <= height), short)

    def _figures(self, telling: Telling, yarn: Yarn, scale: Scale, width: int) -> list[Line]:
        """The count, and beside it the yarn's name, how it is worked and what is still on the needle."""
        figures = drawn(str(telling.count), scale)
        beside = self._beside(telling, yarn, scale, width)
        beside += [[] for _ in range(len(figures) - len(beside))]
        return [[(figure, "strong"), (GAP, ""), *line] for figure, line in zip(figures, beside, strict=True)]

    def _beside(self, telling: Telling, yarn: Yarn, scale: Scale, width: int) -> list[Line]:
        """In large letters the yarn's name, or knit or purl where the name stands below; then the rest as text."""
        room = _room(telling, scale, width)
        hands, last = _worked(telling, room)
        needle = next((text for text in telling.needle if cell_len(text) <= room + MARK), telling.needle[-1])
        is_below = self.name_lines and can_draw(yarn.name)
        large = _large(telling.verb if is_below else yarn.name, room + MARK, scale.lines - 2)
        if large:
            return [*large, [*marked(yarn), (f"{hands}{last}", "strong")], [(needle, "quiet")]]
        name = shorten(plain(yarn.name), max(room, 1))
        return [[*marked(yarn), (name, "strong")], [(f"{hands}{last}", "strong")], [(needle, "quiet")]]


def change_lines(telling: Telling, width: int, scales: Sequence[Scale], *, is_short: bool = False) -> tuple[int, ...]:
    """How many lines the change into the run takes, below figures of each of these sizes, or what is to be done at a
    row's end."""
    if telling.run is None:
        return (len(to_do_lines(telling, width, is_short=is_short)),) * len(scales)
    return tuple(len(_change(telling, _scale(telling, scale, width), width)) for scale in scales)


def _scale(telling: Telling, wanted: Scale, width: int) -> Scale:
    """The size of the figures: smaller than wanted where the yarn's name would have no room beside them."""
    sizes = (wanted, *(scale for scale in (LARGE, MIDDLE, SMALL) if scale < wanted))
    needed = _name_cells(telling)
    return next((scale for scale in sizes if _room(telling, scale, width) >= needed), sizes[-1])


def _name_cells(telling: Telling) -> int:
    return cell_len(plain(telling.yarn.name)) if telling.yarn else 0


def _room(telling: Telling, scale: Scale, width: int) -> int:
    """Cells right of the figures and of the yarn's mark."""
    figures = str(telling.count)
    if scale == PLAIN:
        return width - len(figures) - 3 - MARK
    return width - scale.columns(figures) - len(GAP) - MARK


def _on_one_line(telling: Telling, yarn: Yarn, width: int) -> list[Line]:
    """Count, yarn and, where it fits, how it is worked."""
    name = shorten(plain(yarn.name), max(_room(telling, PLAIN, width), 1))
    hands, last = _worked(telling, _room_on_one_line(telling, width))
    count: Line = [(f" {telling.count} ", "now"), (" ", "")]
    return [[*count, *marked(yarn), (f"{name}  {hands}{last}", "strong")]]


def _room_on_one_line(telling: Telling, width: int) -> int:
    return _room(telling, PLAIN, width) - _name_cells(telling) - 2


def _worked(telling: Telling, room: int) -> tuple[str, str]:
    """Knits and purls in so many cells, in words, in short or not at all, and whether the strand is cut after it."""
    full, short = telling.work, telling.work_in_short
    last = LAST if telling.is_last else ""
    for hands, mark in ((full, last), (short, last), (full, ""), (short, "")):
        if cell_len(plain(hands + mark)) <= room:
            return hands, mark
    return "", ""


def _large(text: str, width: int, lines: int) -> list[Line]:
    """The text in the largest letters that fit, an empty line below them where there is one left; or nothing."""
    for across in range(6, 0, -1):
        scale = Scale(across, across)
        if text and scale.lines <= lines and scale.columns(text) <= width and can_draw(text):
            large: list[Line] = [[(line, "strong")] for line in drawn(text, scale)]
            return large + [[] for _ in range(min(1, lines - scale.lines))]
    return []


def _change(telling: Telling, scale: Scale, width: int) -> list[Line]:
    """What to do before the run's first stitch, and what had no room beside the figures."""
    room = _room_on_one_line(telling, width) if scale == PLAIN else _room(telling, scale, width)
    hands, last = _worked(telling, room)
    texts = [telling.into]
    if not hands:
        texts.append(f"{telling.work}.")
    if telling.is_last and not last:
        texts.append(f"{words.sentence(words.LAST_OF_STRAND)}.")
    return paragraphs([" ".join(texts)], width, "strong")


def to_do_lines(telling: Telling, width: int, *, is_short: bool = False) -> list[Line]:
    """What is to be done at a row's end, or when every row is worked."""
    return paragraphs(telling.to_do_in_short if is_short else telling.to_do, width, "strong")
