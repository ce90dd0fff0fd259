"""A Textual app with the working screen's parts and nothing behind them: what any program of this shape must cost.

Eight widgets drawn line by line (a ninth is hidden, as the whole row is in run mode), the same containers, the same
rules of style, as many lines and pieces of styled text on 80 by 24 cells. Space counts a step; of the text it
changes what a run of knitting changes. Nothing is read, reckoned or saved. Imports nothing of the project.

    python -m parts_only
"""

from __future__ import annotations

import sys

from rich.segment import Segment
from rich.style import Style
from textual.app import App, ComposeResult
from textual.binding import Binding
from textual.containers import Container, Vertical
from textual.geometry import Region
from textual.reactive import reactive
from textual.screen import Screen
from textual.strip import Strip
from textual.widget import Widget

STEPS_A_ROW = 4
CHART_CELLS = 24

SHELL = Style(color="#000000", bgcolor="#f2e6cf", bold=True)
TIDE = Style(color="#ffffff", bgcolor="#225f6e")
DONE = Style(color="#ffffff", bgcolor="#225f6e", underline=True)
NOW = Style(color="#ffffff", bgcolor="#225f6e", bold=True, reverse=True)

Line = list[tuple[str, str | Style]]


class Part(Widget):
    """Shows the lines of one step; repaints those that the next one changes."""

    ALLOW_SELECT = False
    step: reactive[int] = reactive(0, repaint=False)

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._strips: list[Strip] = []
        self._drawn_for: tuple[int, int] | None = None

    def lines(self, row: int, run: int) -> list[Line]:
        """The text of a step."""
        raise NotImplementedError

    def watch_step(self) -> None:
        """Another step."""
        if not self.is_mounted or not self.size:
            return
        old, self._strips = self._strips, self._make()
        if len(old) != len(self._strips):
            self.refresh()
            return
        changed = [Region(0, y, self.size.width, 1) for y, strip in enumerate(self._strips) if strip != old[y]]
        if changed:
            self.refresh(*changed)

    def _make(self) -> list[Strip]:
        width, height = self.size
        self._drawn_for = (width, height)
        blank = self.rich_style
        lines = self.lines(*divmod(self.step, STEPS_A_ROW))[:height]
        return [Strip(self._segments(line, blank)).adjust_cell_length(width, blank) for line in lines]

    def _segments(self, line: Line, blank: Style) -> list[Segment]:
        return [Segment(text, self._style(style, blank)) for text, style in line if text]

    def _style(self, style: str | Style, blank: Style) -> Style:
        if isinstance(style, Style):
            return blank + style
        return self.screen.get_component_rich_style(f"part--{style}") if style else blank

    def render_line(self, y: int) -> Strip:
        """One line of the widget."""
        if self._drawn_for != tuple(self.size):
            self._strips = self._make()
        return self._strips[y] if y < len(self._strips) else Strip.blank(self.size.width, self.rich_style)


class Head(Part):
    """One line, another one every row."""

    def lines(self, row: int, run: int) -> list[Line]:
        return [[
            (f" Row {row + 1} of 90 ", "strong"), (" RS ", "strong"), ("◀── ", "strong"), ("  ", ""),
            ("right side toward you", "quiet"), ("  ", ""), ("Parts and nothing else", "quiet"),
        ]]  # fmt: skip


class Now(Part):
    """A word in large letters, below it large figures, a word, a yarn on its colour and the side, and two lines of
    text; other ones every step."""

    def lines(self, row: int, run: int) -> list[Line]:
        word = ("▄▀▀▀ █▀▀▀▄ ▄▀▀▀▄ ▄▀▀▀ ▄▀▀▀", "█    █▀▀█  █   █  ▀▀▄  ▀▀▄", " ▀▀▀ ▀   ▀  ▀▀▀  ▀▀▀  ▀▀▀ ")
        figures = ("██████  ██  ██", "██  ██  ██  ██", "██  ██  ██████", "██  ██      ██", "██████      ██")
        chip = (" ███ ", "█    ", " ██  ", "   █ ", "███  ")
        side = ("████   ███", "█   █ █   ", "████   ██ ", "█  █     █", "█   █ ███ ")
        if run % 2:
            word, figures, chip = word[::-1], figures[::-1], chip[::-1]
        return [
            *([(line, "strong")] for line in word),
            *(
                [(figure, "strong"), ("  ", ""), (part, "strong"), ("  ", ""), (f"▏{mark}▕", SHELL), ("  ", ""),
                 (other, "strong")]
                for figure, part, mark, other in zip(figures, figures, chip, side, strict=True)
            ),
            [(f"Cross: shell over tide. Knit {run} in tide.", "strong")],
            [(f"{run} of 70 still on the left needle", "quiet")],
        ]  # fmt: skip


class Hidden(Part):
    """Is not shown."""

    def lines(self, row: int, run: int) -> list[Line]:
        return []


class Runs(Part):
    """One line of short marks, of which two change every step."""

    def lines(self, row: int, run: int) -> list[Line]:
        line: Line = []
        for number in range(5):
            mark, manner = ("▶", "now") if number == run else ("✓", "done") if number < run else (" ", "")
            line += [(mark, manner), ("s", SHELL), (f" k{number + 3} shell", manner), ("  ", "")]
        return [line]


class End(Part):
    """Three lines, other ones every row."""

    def lines(self, row: int, run: int) -> list[Line]:
        return [
            [(f"At the end of row {row + 1}: 70 stitches must be on the needle. Turn, the needle's tip", "quiet")],
            [("toward you. Cut these: tide, shell and the coral in the middle, leaving a tail.", "quiet")],
            [(f"Have ready for row {row + 2}: new tide, new shell.", "quiet")],
        ]


class Chart(Part):
    """A grid of cells, each with a style of its own; a line changes every step, all of them every row."""

    def lines(self, row: int, run: int) -> list[Line]:
        return [self._cells(row, run, line) for line in range(row + 8, row, -1)]

    def _cells(self, row: int, run: int, line: int) -> Line:
        found: Line = [("   ", "")]
        for cell in range(CHART_CELLS):
            place = (cell + line) % 6
            style = NOW if line == row + 3 and cell // 6 == run else DONE if place < 2 else TIDE
            found.append((" t ", style if place < 4 else SHELL))
        return [*found, (f" {line}", "quiet")]


class Hanging(Part):
    """Two lines, other ones every step."""

    def lines(self, row: int, run: int) -> list[Line]:
        bit: Line = [("s", SHELL), (f" shell {run + 3} sts ahead", ""), ("  ", "")]
        return [[("Strands ", "quiet"), *bit, *bit], [*bit, *bit]]


class Keys(Part):
    """One line that stays."""

    def lines(self, row: int, run: int) -> list[Line]:
        keys = "space on  backspace back  w whole_row  m runs/rows  u unpick  ? keys  q quit"
        pairs = (told.split() for told in keys.split("  "))
        return [[bit for key, told in pairs for bit in ((f" {key} ", "now"), (f"{told} ", "quiet"))]]


class PartsScreen(Screen[None]):
    """Knows the manners of text."""

    COMPONENT_CLASSES = {"part--strong", "part--quiet", "part--now", "part--done", "part--alert"}


class PartsOnly(App[None]):
    """The parts, laid out."""

    CSS = """
    Screen { layout: vertical; background: $background; color: $foreground; }
    #work { layout: vertical; height: 1fr; }
    #main, #beside { height: auto; }
    #beside { width: 1fr; }
    #head, #keys { height: 1; }
    #now { height: 8; }
    #whole { display: none; }
    #runs { height: 1; }
    #end { height: 3; }
    #chart { height: 8; }
    #hanging { height: 2; }
    PartsScreen > .part--strong { text-style: bold; color: $foreground; }
    PartsScreen > .part--quiet { color: $foreground 70%; }
    PartsScreen > .part--now { text-style: bold reverse; color: $foreground; }
    PartsScreen > .part--done { color: $foreground 60%; }
    PartsScreen > .part--alert { text-style: bold reverse; color: $warning; }
    """
    BINDINGS = [Binding("space", "count", "on", show=False), Binding("q", "quit", "quit", show=False)]
    step: reactive[int] = reactive(0, repaint=False)

    def get_default_screen(self) -> Screen[None]:
        """The one screen there is."""
        return PartsScreen()

    def compose(self) -> ComposeResult:
        """All parts, each bound to the step."""
        with Container(id="work"):
            with Vertical(id="main"):
                yield Head(id="head").data_bind(PartsOnly.step)
                yield Now(id="now").data_bind(PartsOnly.step)
                yield Hidden(id="whole").data_bind(PartsOnly.step)
                yield Runs(id="runs").data_bind(PartsOnly.step)
                yield End(id="end").data_bind(PartsOnly.step)
            with Vertical(id="beside"):
                yield Chart(id="chart").data_bind(PartsOnly.step)
                yield Hanging(id="hanging").data_bind(PartsOnly.step)
        yield Keys(id="keys").data_bind(PartsOnly.step)

    def action_count(self) -> None:
        """One step on."""
        self.step += 1


def main() -> int:
    """Run it."""
    PartsOnly().run()
    return 0


if __name__ == "__main__":
    sys.exit(main())
