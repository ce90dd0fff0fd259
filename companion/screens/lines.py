"""A widget drawn line by line from plain text: nothing in it is ever read as markup or obeyed as a control."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import chain, groupby, repeat

from rich.segment import Segment
from rich.style import Style
from textual.cache import LRUCache
from textual.color import Color
from textual.filter import LineFilter
from textual.geometry import Offset, Region, Size
from textual.reactive import Reactive
from textual.strip import Strip
from textual.widget import Widget

from companion.dialogue.saying import IN_FULL, Saying
from companion.dialogue.telling import Telling, telling
from companion.knitting.cloth.colour import ink_on
from companion.knitting.words import US, Terms
from companion.problems import plain
from companion.progress.session import Session
from companion.screens.flowing import Bit, Line

MOST_MADE = 256
"""So many lines of a widget are kept as they are painted: more than any terminal has."""


class Lines(Widget):
    """Shows the lines that ``draw`` makes of the session. Repaints only what changed of them.

    Whoever sets anything that ``draw`` reads calls ``redraw``, or ``draw_anew`` and paints it.
    """

    ALLOW_SELECT = False
    act_line: int | None = None
    """The line at which what is done now is told, None where it is told elsewhere."""
    session: Session | None = None
    terms: Terms = US
    saying: Saying = IN_FULL
    virtual_size: Reactive[Size] = Reactive(Size(0, 0), repaint=False)
    """As every widget's, but for one thing: nothing scrolls here, so another size asks for no second layout."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._lines: list[Line] = []
        self._strips: list[Strip] = []
        self._made: LRUCache[tuple[Bit, ...], Strip] = LRUCache(MOST_MADE)
        self._styles: dict[str | Style, Style] = {}
        self._drawn_for: tuple[int, int] | None = None
        self._painted: tuple[list[Strip], list[Strip]] = [], []  # lines, and what is painted of each
        self._painted_by: tuple[Sequence[LineFilter], Color] | None = None
        self._ground: Color | None = None

    @property
    def telling(self) -> Telling | None:
        """What is told of the session."""
        return None if self.session is None else telling(self.session, self.terms, self.saying)

    def draw(self, width: int, height: int) -> list[Line]:
        """The lines to show; at most ``height`` of them are shown, each cut at ``width`` cells."""
        raise NotImplementedError(f"{type(self).__name__} draws nothing")

    def redraw(self) -> None:
        """Draw again and repaint what differs, with the screen's next update."""
        self._drawn_anew(self.refresh)

    def draw_anew(self) -> bool:
        """Draw again; whether anything differs. It is known what then, and painting it is for whoever asks. Textual
        does not promise ``_set_dirty``; without it it is asked to paint as well."""
        return self._drawn_anew(getattr(self, "_set_dirty", self.refresh))

    def _drawn_anew(self, repaint: Callable[..., object]) -> bool:
        """Draw again, and have the regions that differ repainted; all where none are given. Whether there is
        anything."""
        size = self.size
        if not self.is_mounted or not size:
            # Hidden now: what was drawn is out of date when it is shown again.
            self._drawn_for = None
            return False
        is_resized, old = size != self._drawn_for, self._strips
        self._strips = self._make(size)
        if is_resized:
            repaint()
            return True
        changed: list[Region] = []
        for y, (strip, was) in enumerate(zip(self._strips, old, strict=True)):
            if strip is not was and strip != was:
                part = changed_part(was, strip, y)
                # Lines that follow each other are one region: all that is done with regions is done for each of them.
                if changed and changed[-1].bottom == y:
                    part = changed.pop().union(part)
                changed.append(part)
        if changed:
            repaint(*changed)
        else:
            self._strips = old
        return bool(changed)

    def _make(self, size: Size) -> list[Strip]:
        """The strips of the lines to show, and of those that are left below; those of lines that are as they were are
        taken over."""
        width, height = size
        old = zip(self._lines, self._strips, strict=False) if size == self._drawn_for else ()
        if size != self._drawn_for:
            self._made.clear()
        self._drawn_for = size
        self._lines = self.draw(width, height)[:height] if width and height else []
        if self.act_line is not None and self._lines:
            x, y = self.region.offset
            self.app.cursor_position = Offset(x, y + min(self.act_line, height - 1))
        strips = [
            strip if strip is not None and (was is line or was == line) else self._strip(line, width)
            for line, (was, strip) in zip(self._lines, chain(old, repeat((None, None))), strict=False)
        ]
        return [*strips, *[Strip.blank(width, self._style(""))] * (height - len(strips))]

    def _strip(self, line: Line, width: int) -> Strip:
        """A line as it is painted; the very same for a line that says the same, since a strip keeps all that is made
        of it on its way to the terminal."""
        said = tuple(line)
        found = self._made.get(said)
        if found is None:
            found = self._made[said] = self._strip_of(line, width)
        return found

    def _strip_of(self, line: Line, width: int) -> Strip:
        """Neighbours shown alike are one segment: all that is done to a strip on its way to the terminal is done for
        each of its segments."""
        segments, taken, ground = list[Segment](), 0, self._style("")
        for _, alike in groupby(line, lambda bit: id(bit[1])):  # styles that are equal are the same, as a rule
            bits = [*alike]
            if text := "".join([text for text, _ in bits]):
                segment = _segment(text, self._style(bits[0][1]))
                segments.append(segment)
                taken += segment.cell_length
        if taken > width:
            return Strip(segments).adjust_cell_length(width, ground)
        return Strip([*segments, Segment(" " * (width - taken), ground)] if taken < width else segments, width)

    def _style(self, manner: str | Style) -> Style:
        """A manner on this widget's ground; kept until the theme changes, since to find it the tree is walked up."""
        found = self._styles.get(manner)
        if found is None:
            if isinstance(manner, Style):
                found = self._style("") + manner
            else:
                found = self.rich_style
                if manner:
                    found += self.screen.get_component_rich_style(f"lines--{manner}", partial=True)
            self._styles[manner] = found
        return found

    def notify_style_update(self) -> None:
        """The theme changed: every line is drawn anew."""
        super().notify_style_update()
        self._styles.clear()
        self._ground = self._drawn_for = None

    def render_lines(self, crop: Region) -> list[Strip]:
        """The lines to paint, drawn again where the widget's size is another one; looked at once for all of them.
        Where nothing lies around them they are painted as they are: they fill the widget in its own colours, and what
        Textual does to a line before that takes longer than to draw it."""
        size = self.size
        if self._drawn_for != size:
            self._strips = self._make(size)
        if crop.size != size or size != self.outer_size:
            return super().render_lines(crop)
        if self._ground is None:
            self._ground = self.background_colors[1]
        by = self.get_line_filters(), self._ground
        if by != self._painted_by:
            self._painted, self._painted_by = ([], []), by
        drawn, painted = self._painted
        if drawn is not self._strips:
            known = dict(zip(map(id, drawn), painted, strict=True))
            painted = [known.get(id(strip)) or _filtered(strip, *by) for strip in self._strips]
            self._painted = self._strips, painted
        return painted

    def render_line(self, y: int) -> Strip:
        """One line of the widget."""
        if y < len(self._strips):
            return self._strips[y]
        return Strip.blank(self.size.width, self._style(""))


def _filtered(strip: Strip, filters: Sequence[LineFilter], ground: Color) -> Strip:
    """A line as all that is done to lines before they are painted leaves it."""
    for each in filters:
        strip = strip.apply_filter(each, ground)
    return strip


@lru_cache(maxsize=1024)
def _segment(text: str, style: Style) -> Segment:
    """A text as it is shown; the very same for the same text, since a line that is drawn anew has most of its own."""
    return Segment(plain(text), style)


def changed_part(was: Strip, now: Strip, y: int) -> Region:
    """The part of a line of the same width in which the two are not the same, which alone is painted."""
    before, after = [*was], [*now]
    start, end = _alike(before, after), _alike(before[::-1], after[::-1])
    return Region(start, y, now.cell_length - start - end, 1)


def _alike(before: Sequence[Segment], after: Sequence[Segment]) -> int:
    """So many cells are the same from here on."""
    found = 0
    for one, other in zip(before, after, strict=False):
        if one is not other and one != other:
            break
        found += one.cell_length
    return found


@lru_cache(maxsize=512)
def inked(
    colour: str, *, bold: bool | None = None, underline: bool | None = None, reverse: bool | None = None
) -> Style:
    """A yarn's colour with readable ink on it."""
    return Style(color=ink_on(colour), bgcolor=colour, bold=bold, underline=underline, reverse=reverse)
