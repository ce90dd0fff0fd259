"""The run in work, told so that it can be read from two metres, with what to do at the change into it.

Nothing of it is ever cut off: what has no room beside the figures is told below them.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.style import Style

from companion.knitting import words
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.hands.runs import RunSteps, run_steps
from companion.problems import plain, shorten
from companion.progress.finishing import next_step
from companion.progress.session import Session
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
        session = self.session
        if session is None:
            return []
        place = session.next_place
        if place is None or session.act is not None:
            return self._to_do(session, width, height)[:height]
        run = run_steps(session.strands, place, session.catching)
        scale = _scale(run, self.scale, width)
        if scale == PLAIN:
            top = _on_one_line(session, run, width, self.terms)
        else:
            top = self._figures(session, run, scale, width)
        top += [[] for _ in range(self.scale.lines - len(top))]
        if self.name_lines:
            below = _large(run.segment.yarn, width, self.name_lines - 1)
            top += [[], *below, *([] for _ in range(self.name_lines - 1 - len(below)))]
        return [*top, *_change(run, scale, width, self.terms)][:height]

    def _to_do(self, session: Session, width: int, height: int) -> list[Line]:
        """What is to be done now, below its verb in large letters; in few words where there is no room for both."""
        act = session.act
        step = next_step(session) if act is None else None
        doing = step.doing if step is not None else act
        large = _large(words.act_verb(doing, self.terms), width, self.scale.lines) if doing is not None else []
        full, short = (to_do_lines(session, width, self.terms, is_short=is_short) for is_short in (False, True))
        tries = ([*large, *full], [*large, *short], full)
        return next((lines for lines in tries if len(lines) <= height), short)

    def _figures(self, session: Session, run: RunSteps, scale: Scale, width: int) -> list[Line]:
        """The count, and beside it the yarn's name, how it is worked and what is still on the needle."""
        figures = drawn(str(run.segment.stitches), scale)
        beside = self._beside(session, run, scale, width)
        beside += [[] for _ in range(len(figures) - len(beside))]
        return [[(figure, "strong"), (GAP, ""), *line] for figure, line in zip(figures, beside, strict=True)]

    def _beside(self, session: Session, run: RunSteps, scale: Scale, width: int) -> list[Line]:
        """In large letters the yarn's name, or knit or purl where the name stands below; then the rest as text."""
        yarn = session.piece.yarn(run.segment.yarn)
        room = _room(run, scale, width)
        hands, last = _worked(run, room, self.terms)
        left, stitches = run.left, run.left + run.right
        needle = words.still_on_needle(left, stitches, self.terms)
        if cell_len(needle) > room + MARK:
            needle = words.still_to_work(left, stitches)
        if cell_len(needle) > room + MARK:
            needle = f"{left} of {stitches}"
        is_below = self.name_lines and can_draw(yarn.name)
        large = _large(words.verb_of(run.hands) if is_below else yarn.name, room + MARK, scale.lines - 2)
        if large:
            return [*large, [*marked(yarn), (f"{hands}{last}", "strong")], [(needle, "quiet")]]
        name = shorten(plain(yarn.name), max(room, 1))
        return [[*marked(yarn), (name, "strong")], [(f"{hands}{last}", "strong")], [(needle, "quiet")]]


def change_lines(
    session: Session, width: int, scales: Sequence[Scale], terms: words.Terms, *, is_short: bool = False
) -> tuple[int, ...]:
    """How many lines the change into the run takes, below figures of each of these sizes, or what is to be done at a
    row's end."""
    place = session.next_place
    if place is None or session.act is not None:
        return (len(to_do_lines(session, width, terms, is_short=is_short)),) * len(scales)
    run = run_steps(session.strands, place, session.catching)
    return tuple(len(_change(run, _scale(run, scale, width), width, terms)) for scale in scales)


def _scale(run: RunSteps, wanted: Scale, width: int) -> Scale:
    """The size of the figures: smaller than wanted where the yarn's name would have no room beside them."""
    sizes = (wanted, *(scale for scale in (LARGE, MIDDLE, SMALL) if scale < wanted))
    needed = cell_len(plain(run.segment.yarn))
    return next((scale for scale in sizes if _room(run, scale, width) >= needed), sizes[-1])


def _room(run: RunSteps, scale: Scale, width: int) -> int:
    """Cells right of the figures and of the yarn's mark."""
    figures = str(run.segment.stitches)
    if scale == PLAIN:
        return width - len(figures) - 3 - MARK
    return width - scale.columns(figures) - len(GAP) - MARK


def _on_one_line(session: Session, run: RunSteps, width: int, terms: words.Terms) -> list[Line]:
    """Count, yarn and, where it fits, how it is worked."""
    yarn = session.piece.yarn(run.segment.yarn)
    name = shorten(plain(yarn.name), max(_room(run, PLAIN, width), 1))
    hands, last = _worked(run, _room_on_one_line(run, width), terms)
    count: Line = [(f" {run.segment.stitches} ", "now"), (" ", "")]
    return [[*count, *marked(yarn), (f"{name}  {hands}{last}", "strong")]]


def _room_on_one_line(run: RunSteps, width: int) -> int:
    return _room(run, PLAIN, width) - cell_len(plain(run.segment.yarn)) - 2


def _worked(run: RunSteps, room: int, terms: words.Terms) -> tuple[str, str]:
    """Knits and purls in so many cells, in words, in short or not at all, and whether the strand is cut after it."""
    full, short = words.sentence(words.work_in_full(run, terms)), words.work_in_short(run, terms)
    last = LAST if run.is_last else ""
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


def _change(run: RunSteps, scale: Scale, width: int, terms: words.Terms) -> list[Line]:
    """What to do before the run's first stitch, and what had no room beside the figures."""
    told = words.into_run(run, terms)
    room = _room_on_one_line(run, width) if scale == PLAIN else _room(run, scale, width)
    hands, last = _worked(run, room, terms)
    if not hands:
        told.append(f"{words.sentence(words.work_in_full(run, terms))}.")
    if run.is_last and not last:
        told.append(f"{words.sentence(words.LAST_OF_STRAND)}.")
    return paragraphs([" ".join(told)], width, "strong")


def to_do_lines(session: Session, width: int, terms: words.Terms, *, is_short: bool = False) -> list[Line]:
    """What is to be done at a row's end, or when every row is worked."""
    if session.act is not None:
        texts = words.at_the_end(session.row_end[0], 0, terms, is_short=is_short)
    else:
        step = next_step(session)
        texts = words.to_finish(step.doing if step else None, terms)
    return paragraphs(texts, width, "strong")
