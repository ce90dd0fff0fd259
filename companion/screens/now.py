"""The run in work, told so that it can be read from two metres, with what to do at the change into it."""

from __future__ import annotations

from rich.cells import cell_len
from rich.style import Style
from textual.reactive import reactive

from companion.knitting import words
from companion.knitting.colour import ink_on
from companion.knitting.fabric import Yarn
from companion.knitting.steps import RunSteps, Work, run_steps
from companion.problems import shorten
from companion.progress.session import Session, is_finished
from companion.screens.figures import SMALL, Scale, can_draw, drawn
from companion.screens.lines import Line, Lines, paragraphs


def swatch(yarn: Yarn) -> Style:
    """The yarn's colour with readable ink on it."""
    return Style(color=ink_on(yarn.colour), bgcolor=yarn.colour, bold=True)


class NowPanel(Lines):
    """Count in very large figures, yarn, symbol and swatch, knits and purls, what is left, and the change."""

    scale: reactive[Scale] = reactive(SMALL, repaint=False)
    def watch_scale(self) -> None:
        """Another size of figures: draw again."""
        self.redraw()

    def draw(self, width: int, height: int) -> list[Line]:
        """Figures on top, the change below them."""
        if self.session is None:
            return []
        place = self.session.next_place
        if place is None:
            return paragraphs(after_the_last_row(self.session, self.terms), width, "strong")[:height]
        run = run_steps(self.session.strands, place, self.session.piece.catching)
        top = self._figures(self.session, run, width)
        return [*top, *self._change(run, width, height - len(top))]

    def _figures(self, session: Session, run: RunSteps, width: int) -> list[Line]:
        """The count, and beside it the yarn's name, how it is worked and what is still on the needle."""
        figures = drawn(str(run.segment.stitches), self.scale)
        beside = self._beside(session, run, width - cell_len(figures[0]) - 3)
        beside += [[] for _ in range(len(figures) - len(beside))]
        return [[(figure, "strong"), ("   ", ""), *line] for figure, line in zip(figures, beside, strict=False)]

    def _beside(self, session: Session, run: RunSteps, width: int) -> list[Line]:
        """Name, verb and needle beside the count; the name in large letters where there is room for them."""
        yarn = session.piece.yarn(run.segment.yarn)
        hands = words.sentence(words.work_in_full(run.work))
        mark: Line = [(f"  {yarn.symbol}  ", swatch(yarn)), (" ", "")]
        needle = words.still_on_needle(run.left, session.rows[run.place.row].stitches, self.terms)
        if cell_len(needle) > width:
            needle = words.still_to_work(run.left, session.rows[run.place.row].stitches)
        last = [(f" · {words.LAST_OF_STRAND}", "strong")] if run.is_last else []
        lines = self._large(yarn.name, words.verb_of(run.work.hands), width)
        if lines:
            lines.append([*mark, (shorten(hands, max(width - 6, 1)), "strong"), *last])
        else:
            lines.append([*mark, (shorten(yarn.name, max(width - 6, 1)), "strong")])
            lines.append([(shorten(hands, max(width, 1)), "strong"), *last])
        lines.append([(needle, "quiet")])
        return lines

    def _large(self, name: str, verb: str, width: int) -> list[Line]:
        """The yarn's name in large letters and, where there is room for it too, knit or purl below it."""
        spare = self.scale.lines - 2
        below = drawn(verb, SMALL) if verb and spare >= 8 else []
        for across in range(self.scale.across, 0, -1):
            scale = Scale(across, across)
            if scale.lines + len(below) <= spare and scale.columns(name) <= width and can_draw(name):
                large: list[Line] = [[(line, "strong")] for line in drawn(name, scale)]
                return large + [[(line, "")] for line in below]
        return []

    def _change(self, run: RunSteps, width: int, height: int) -> list[Line]:
        """What to do before the run's first stitch, the cross in bold."""
        told = [words.tell(step, self.terms) for step in run.steps if not isinstance(step, Work)]
        if not told:
            told = [words.same_strand(run)]
        lines = paragraphs([" ".join(told)], width, "strong")
        if len(lines) > height:
            # The cross is never cut off: what comes before it gives way first.
            lines = paragraphs([told[-1]], width, "strong")
        return lines[:height]


def after_the_last_row(session: Session, terms: words.Terms) -> list[str]:
    """What is left to do when every row is worked."""
    if not session.is_bound_off:
        return words.bind_off_now(session.rows[session.row].stitches, terms)
    return words.remaining_ends(session.ends_left, is_finished(session))
