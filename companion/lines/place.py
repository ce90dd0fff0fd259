"""Where one is, until it is left: at the needles, in a list, marking stitches. A typed line is a deed done here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from companion.dialogue.deed import Deed, Where
from companion.dialogue.deeds import deeds_of
from companion.lines.commands import SHOWN_ALONE, Command, Meant, Vocabulary, commands_of, typed_for
from companion.lines.talk import Talk
from companion.problems import nearest, quoted

if TYPE_CHECKING:
    from companion.lines.conversation import Conversation


class Place:
    """``here`` is what deeds are done to; ``answer``: what it was left with."""

    where: Where

    def __init__(self, conversation: Conversation, here: object) -> None:
        self.conversation, self.here = conversation, here
        self.is_left = False
        self.answer: object = None
        self._deeds: tuple[Deed, ...] = ()
        self._vocabulary: Vocabulary | None = None

    @property
    def talk(self) -> Talk:
        """What is said and typed."""
        return self.conversation.talk

    def leave(self, answer: object) -> None:
        """It is left with this answer."""
        self.is_left, self.answer = True, answer

    def begin(self) -> None:
        """What is told on coming here."""
        raise NotImplementedError(f"{type(self).__name__} tells nothing at first")

    def after(self, deed: Deed) -> None:
        """What is told once a deed is done here."""
        raise NotImplementedError(f"{type(self).__name__} tells nothing afterwards")

    def obey(self, command: Command, rest: str) -> None:
        """A command of this place alone."""
        raise NotImplementedError(f"{type(self).__name__} has no commands")

    def take(self, line: str) -> None:
        """Do what a line says."""
        meant = self.vocabulary.meant(line)
        if meant is None:
            self._unknown(line)
        elif meant.rest and not meant.takes_words:
            self.talk.say(f'"{meant.what.title}" takes no words: nothing is done.')
        elif isinstance(meant.what, Command):
            self._obey(meant.what, meant.rest)
        else:
            self.do(meant)

    def do(self, meant: Meant) -> None:
        """A deed; the words after it answer what it asks."""
        deed = meant.what
        assert isinstance(deed, Deed)
        if deed.name in ("help", "palette"):
            self.talk.read_out(self.helped(meant.rest))
            return
        if deed.name in SHOWN_ALONE:
            self.talk.say(f'"{deed.title}" is for a screen alone.')
            return
        self.talk.waiting = meant.rest
        self.conversation.carry_out(deed.begin(self.here), self)
        if not self.is_left:
            self.after(deed)
        self.talk.drop()

    @property
    def vocabulary(self) -> Vocabulary:
        """What can be typed here; the very same until she has other keys."""
        deeds = self.conversation.knitter.deeds
        if self._vocabulary is None or self._deeds is not deeds:
            here = [*deeds_of(self.where, deeds), *deeds_of("anywhere", deeds)]
            self._deeds, self._vocabulary = deeds, Vocabulary(here, commands_of(self.where))
        return self._vocabulary

    def can(self, deed: Deed) -> bool:
        """Whether it can be done now."""
        return True

    def called(self, what: Deed | Command) -> str:
        """What it is called here, and what it does."""
        return f"{what.title.rstrip(' .')}{'' if what.title.endswith('?') else '.'} {what.about}"

    def helped(self, typed: str) -> Iterator[str]:
        """Everything that can be done here now with what is typed for it, or what of it has all these words."""
        looked_for, is_found = typed.casefold().split(), False
        for what in self.vocabulary.all:
            if isinstance(what, Command) or self.can(what):
                line = f"{typed_for(what)}: {self.called(what)}"
                if all(word in line.casefold() for word in looked_for):
                    is_found = True
                    yield line
        if not is_found:
            yield f"Nothing here is called {quoted(typed)}."

    def _obey(self, command: Command, rest: str) -> None:
        match command.name:
            case "again":
                self.talk.tell_again()
            case "more":
                self.talk.read_on()
            case _:
                self.obey(command, rest)

    def _unknown(self, line: str) -> None:
        if not line.strip():
            self.talk.say('Nothing is done with that here. "?" tells what can be.')
            return
        near = nearest(line.strip(), self.vocabulary.names)
        mean = f'Did you mean "{near}"? ' if near else ""
        self.talk.say(f'Nothing here is called {quoted(line.strip())}. {mean}"?" tells what can be done.')
