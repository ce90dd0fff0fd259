"""Small questions over another screen: a number or some words, yes or no, one of some lines, something to read."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen, ScreenResultType
from textual.widget import Widget
from textual.widgets import Input, OptionList

from companion.dialogue.deed import Where
from companion.dialogue.questions import Before, Choice, Kept, PressKey, Reading, Request, Submit, Words, YesNo
from companion.problems import plain
from companion.screens.bound import bound
from companion.screens.chips import ChipField, Chips
from companion.screens.key_line import Foot
from companion.screens.offered import Offered
from companion.screens.plain_parts import STYLES, PlainList, lines_to_choose, shown
from companion.screens.rowside import Answering
from companion.screens.touch import LargePlace
from companion.screens.whole_pictures import lay_out_at_once

FEW, LONG = 12, 7
"""Words with their meanings that are offered all at once; and lines for those that are more."""

MOST_HIGH, FRAME = 95, 2
"""So much of the screen's height, in hundredths, a question takes at most; lines of its frame."""

LEAST_LISTED = 2
"""So many lines of a list are seen, however little room there is."""


class Question(Answering[ScreenResultType], ModalScreen[ScreenResultType]):
    """What is asked, what it is answered with, and the keys for that."""

    CSS_PATH: ClassVar[str] = STYLES
    BINDINGS: ClassVar[list[BindingType]] = bound("question")
    where: Where = "question"
    box: ClassVar[str] = ".question"
    stands_at_foot = True
    _has_room = False

    def __init__(self, *asked: str) -> None:
        super().__init__()
        self._asked = "\n".join(asked)

    def answers(self) -> Iterable[Widget]:
        """Fields or lists below the question."""
        return ()

    def on_resize(self, event: events.Resize) -> None:
        """A list, or what is read, has what room is left, and scrolls; what lies below keeps out of the way."""
        self.call_after_refresh(self._give_room)

    def _give_room(self) -> None:
        for long in (*self.query(PlainList), *self.query(VerticalScroll)):
            box = self.query_one(self.box)
            others = sum(part.outer_size.height for part in box.children if part is not long)
            room = self.size.height * MOST_HIGH // 100 - others - FRAME
            long.styles.max_height = max(LEAST_LISTED, min(room, LONG) if long.has_class("long") else room)
        lay_out_at_once(self)
        self.call_after_refresh(self._borrow)

    def on_screen_resume(self) -> None:
        """It is painted once what lies below has made room for it."""
        if self._below and not self._has_room:
            self.rowside.hold()

    def _take_keys(self) -> None:
        """Not before it is seen."""
        if self._has_room:
            super()._take_keys()
        else:
            self.call_after_refresh(self._take_keys)

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        """What lies below is painted once it has its room again, and has done what was answered."""
        if self._below and self.is_active:
            self.rowside.hold()
            self._below.lend(0)
        return super().dismiss(result)

    def _borrow(self) -> None:
        if self._below:
            self._below.lend(min(self.query_one(self.box).outer_size.height, self.size.height))
        self._has_room = True
        self.rowside.let_go()

    @property
    def _below(self) -> LargePlace | None:
        stack = self.app.screen_stack
        below = stack[stack.index(self) - 1] if self in stack[1:] else None
        return below if isinstance(below, LargePlace) else None

    def compose(self) -> ComposeResult:
        """One below the other."""
        with Vertical(classes="question"):
            yield shown(self._asked)
            yield from self.answers()
            yield Foot(self.keys)


class AskWords(Question[str | Before | Kept | None]):
    """Asks for one line, which may be empty. Below it stand the words that are likely: one that is clicked is put
    after those that stand there; or chips of colours, one of which takes their place."""

    def __init__(self, words: Words) -> None:
        super().__init__(words.text)
        self.here = words
        self.verbs = _before(words)
        self._offered, self._joined_by = words.offered, words.joined_by
        self.chips = Chips(words.colours, self._take) if words.colours else None
        digits = r"[0-9]*" if words.is_number else None
        self.field = ChipField(self.chips, plain(words.answer), max_length=500, restrict=digits)

    def answers(self) -> Iterable[Widget]:
        """The field, and what is offered."""
        yield self.field
        if self.chips:
            yield self.chips
        if any(meaning for _, meaning in self._offered):
            lines = lines_to_choose(f"{word} {meaning}".strip(" ") for word, meaning in self._offered)
            yield PlainList(*lines, markup=False, classes="long" if len(lines) > FEW else "")
        elif self._offered:
            yield Offered([word for word, _ in self._offered], self._add)

    def do_at_once(self, request: Request) -> bool:
        """What stands in the field."""
        if isinstance(request, Submit):
            self.dismiss(Kept(self.field.value) if request.keeps_rest else self.field.value)
            return True
        return super().do_at_once(request)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Answered."""
        self.dismiss(event.value)

    def on_input_changed(self, event: Input.Changed) -> None:
        """What is typed is shown as a chip, too."""
        if self.chips:
            self.chips.typed(event.value)

    def _take(self, text: str) -> None:
        """This in the place of what stands there: it is there to be answered with."""
        self.field.value = text
        self.field.cursor_position = len(text)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """One more of those that are offered."""
        self._add(self._offered[event.option_index][0])

    def _add(self, word: str) -> None:
        joined_by = self._joined_by
        already = "" if joined_by is None else self.field.value.strip(joined_by)
        self._take(f"{already}{joined_by}{word}" if already else word)
        self.field.focus()


def _before(asked: Words | Choice) -> dict[str, str]:
    """The way to the question before, and past those that come, stands at the foot where there is one before."""
    return {} if asked.goes_back else {"before": "", "keep_rest": ""}


class AskKey(Question[str | None], inherit_bindings=False):
    """Asks for a key, whichever is pressed."""

    BINDINGS: ClassVar[list[BindingType]] = []
    verbs = {"answer": "", "before": "", "keep_rest": ""}

    def __init__(self, asked: PressKey) -> None:
        super().__init__(*asked.text)

    def action_deed(self, name: str) -> None:
        """A click below; a key that does the same everywhere is none that could be meant."""
        if name == "leave_it":
            self.dismiss(None)

    def on_key(self, event: events.Key) -> None:
        """This one."""
        event.stop()
        if self.is_active and self.is_there:
            self.dismiss(None if event.key in self.rowside.deed("leave_it").keys else event.key)


class AskYes(Question[bool], inherit_bindings=False):
    """Asks a question that only yes says yes to; everything else leaves things as they are."""

    BINDINGS: ClassVar[list[BindingType]] = bound("yes or no")
    where = "yes or no"

    def __init__(self, question: YesNo) -> None:
        super().__init__(*question.text)
        self.verbs = {"yes": question.yes, "no": question.no}


class Choose(Question[int | Before | Kept | None]):
    """Asks which of some lines is meant."""

    def __init__(self, choice: Choice) -> None:
        super().__init__(*choice.text)
        self.here = choice
        self.verbs = {"answer": "choose", **_before(choice)}
        self._lines, self._at = choice.lines, choice.at

    def answers(self) -> Iterable[Widget]:
        """The lines."""
        self.options = PlainList(*lines_to_choose(self._lines), markup=False)
        self.options.highlighted = self._at
        yield self.options

    def do_at_once(self, request: Request) -> bool:
        """The line under the highlight."""
        if isinstance(request, Submit) and request.keeps_rest:
            self.dismiss(Kept(self.options.highlighted or 0))
            return True
        if isinstance(request, Submit):
            self.options.action_select()
            return True
        return super().do_at_once(request)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Chosen."""
        self.dismiss(event.option_index)


class ReadingScreen(Question[None], inherit_bindings=False):
    """Something to read and put away again."""

    BINDINGS: ClassVar[list[BindingType]] = bound("reading")
    where = "reading"
    box = ".reading"

    def __init__(self, reading: Reading) -> None:
        super().__init__(*reading.lines)
        self._reading = reading

    def compose(self) -> ComposeResult:
        """The title, the lines, scrolling where they must, and the keys."""
        with Vertical(classes="reading"):
            yield shown(self._reading.title, "strong")
            with VerticalScroll(classes="read"):
                yield shown(self._asked)
            yield Foot(self.keys)

