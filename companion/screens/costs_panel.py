"""What the drawing costs, always in sight: strands, ends, most at once, metres; and every yarn with what it would
cost or save at the stitch that is meant. A yarn that is clicked is the one in hand."""

from __future__ import annotations

from rich.style import Style
from textual import events

from companion.dialogue.painting import Painting
from companion.knitting.words import how_many
from companion.problems import shorten
from companion.screens.flowing import Line, cells, flowed, paragraphs
from companion.screens.lines import Lines
from companion.screens.now import swatch
from companion.screens.rowside import Answering

WAITING = "..."
"""In the place of a figure that is being worked out."""

LEAST_NAME, FIGURES = 6, 10
"""Cells that a yarn's name has at least above the chart, and those that what stands beside it takes: " +1 +0.4 m"."""

COST = 3
"""Cells for what a stitch costs, " +2", where it stands alone: whatever it is, all yarns keep their places."""

GAP = 2
"""Cells between the chart and what stands beside it."""

MOST_LINES = 100
"""More than there are above any chart."""

TOLD = 2
"""Lines for the stitch that is meant, and for what is in hand, so that nothing moves from stitch to stitch."""

PAINTED, SHORTLY = "Strands if painted:", "If painted:"
"""Above the yarns, or before them, whose first figure it is."""

HERE = "here"
"""Beside the yarn in which the stitch is."""


class CostsPanel(Lines):
    """Beside the chart (``is_beside``) each on a line of its own; above it all on as few lines as they take."""

    is_beside = False

    def __init__(self, painting: Painting, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._painting = painting
        self._spots: list[tuple[int, int, int, str]] = []

    def draw(self, width: int, height: int) -> list[Line]:
        """Figures, then yarns."""
        if not self.is_beside:
            return self._above(width, height)
        return [[(" " * GAP, ""), *line] for line in self._beside(width - GAP)]

    def lines_above(self, width: int) -> int:
        """How many lines it takes above the chart."""
        spots = self._spots
        lines = self._above(width, MOST_LINES)
        self._spots = spots  # clicked is what is drawn
        return len(lines)

    def _figures(self) -> list[str]:
        painting = self._painting
        strands, ends = painting.board.counts
        most, metres = WAITING, WAITING
        if painting.slow.figures:
            most, metres = str(painting.slow.figures.most_at_once), f"{float(painting.slow.figures.metres):.1f}"
        return [how_many(strands, "strand"), how_many(ends, "end"), f"{most} at once", f"{metres} m"]

    def _above(self, width: int, height: int) -> list[Line]:
        """What the yarns' figures are is said where that costs no line, and no yarn its place. However long figures
        are, as a rule there are as many lines: what lies below must not move from stroke to stroke."""
        figures: list[Line] = [[(text, "strong")] for text in self._figures()]
        lines = min((flowed(figures, width, gap) for gap in ("  ", " ")), key=len)
        yarns = self._yarns(width, has_names=True)
        if len(self._put(yarns, width, len(lines))) > 1:
            yarns = self._yarns(width, has_names=False)
        best = self._put(yarns, width, len(lines))
        seen = self._seen(height)
        for heading in (PAINTED, SHORTLY):
            way = self._put(yarns, width, len(lines), heading)
            if len(way) == len(best) and self._seen(height) == seen:
                return [*lines, *way]
        return [*lines, *self._put(yarns, width, len(lines))]

    def _seen(self, height: int) -> int:
        """How many yarns stand in so many lines."""
        return sum(y < height for y, *_ in self._spots)

    def _beside(self, width: int) -> list[Line]:
        painting = self._painting
        strands, ends, most, metres = self._figures()
        lines: list[Line] = [[(strands, "strong")], [(ends, "strong")], [(most, "strong")], [(metres, "strong")], []]
        for text, manner in ((painting.told, ""), (painting.hand, "quiet")):
            lines += [*paragraphs([text], width, manner), [], []][:TOLD]
        lines.append([(PAINTED, "quiet")] if painting.costs else [])
        self._spots = []
        for number, name in enumerate(painting.board.yarns, 1):
            self._spots.append((len(lines), 0, GAP + width, name))
            lines.append(self._yarn_beside(number, name, width))
        return lines

    def _yarn_beside(self, number: int, name: str, width: int) -> Line:
        """A yarn on a line of its own: its name gives way to figures, also to metres that are still to come."""
        head, told = self._chip(number, name), self._cost(name)
        if name in self._painting.slow.metres and told:
            told += self._metres(name)
        room = width - cells(head) - 1 - max(cells(told), FIGURES)
        return [*head, self._named(name, room), *told]

    def _yarns(self, width: int, *, has_names: bool) -> list[tuple[str, Line]]:
        """Each yarn by its name, and as it is shown above the chart: its name cut so that the line may fit."""
        found = list[tuple[str, Line]]()
        for number, name in enumerate(self._painting.board.yarns, 1):
            named = [self._named(name, max(LEAST_NAME, width - FIGURES))] if has_names else []
            told, room = self._cost(name, HERE if has_names else "·"), 1 + len(HERE) if has_names else COST
            found.append((name, [*self._chip(number, name), *named, *told, (" " * (room - cells(told)), "")]))
        return found

    def _chip(self, number: int, name: str) -> Line:
        """Its number, with a mark where it is in hand, and its symbol."""
        yarn, is_in_hand = self._painting.board.loaded.piece.yarn(name), name == self._painting.yarn
        mark = f"{'▶' if is_in_hand else ' '}{number}"
        return [(mark, "now" if is_in_hand else "quiet"), (f" {yarn.symbol} ", swatch(yarn))]

    def _named(self, name: str, room: int) -> tuple[str, str | Style]:
        return f" {shorten(name, max(1, room))}", "strong" if name == self._painting.yarn else ""

    def _cost(self, name: str, here: str = HERE) -> Line:
        """How many strands more or fewer it would be; nothing where that is not known."""
        stitch, cost = self._painting.stitch, self._painting.costs.get(name)
        if stitch and stitch.yarn == name:
            return [(f" {here}", "quiet")]
        if cost is None:
            return []
        return [(f" {cost:+d}" if cost else " 0", "strong" if cost else "quiet")]

    def _metres(self, name: str) -> Line:
        """And how much yarn; nothing where neither is more or less."""
        more = f"{float(self._painting.slow.metres[name]):+z.1f}"
        is_none = not self._painting.costs.get(name) and float(more) == 0
        return [] if is_none else [(f" {more} m", "quiet")]

    def _put(self, yarns: list[tuple[str, Line]], width: int, first: int, heading: str = "") -> list[Line]:
        """The yarns one after the other below each other, after what their figures are; and where each is clicked.
        Each begins with a cell that is empty unless it is in hand."""
        told = heading if self._painting.costs else " " * len(heading)
        lines: list[Line] = [[(told, "quiet")] if heading else []]
        self._spots = []
        for name, line in yarns:
            if lines[-1] and cells(lines[-1]) + cells(line) > width:
                lines.append([])
            start = cells(lines[-1])
            lines[-1] += line
            self._spots.append((first + len(lines) - 1, start, cells(lines[-1]), name))
        return lines

    def on_click(self, event: events.Click) -> None:
        """The yarn that is clicked is in hand."""
        event.stop()
        found = (name for y, start, stop, name in self._spots if y == event.y and start <= event.x < stop)
        if (name := next(found, None)) and isinstance(screen := self.screen, Answering):
            self._painting.pick(name)
            screen.show()
