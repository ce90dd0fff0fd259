"""Questions as lines: what is asked, how it can be answered, and what Enter alone does.

Words that were typed after a deed answer in turn. What is no answer is said so, and the question stays.
"""

from __future__ import annotations

import string
from collections.abc import Iterator
from itertools import chain

from companion.dialogue.knitter import Knitter
from companion.dialogue.questions import BEFORE, Before, Choice, Kept, PressKey, Reading, Words, YesNo
from companion.lines.heard import AsItStands
from companion.lines.talk import AGAIN, MORE, Talk
from companion.problems import plain, quoted
from companion.settings import key_of

LEAVING = ("leave", "leave it", "\x1b")
"""What is typed in place of an answer."""

GOING_BACK = "before"
"""What is typed for the question before, where there is one."""

KEEPING = "keep"
"""What is typed for what stands there and at all questions after it, where there are several."""

NOTHING = "-"
"""What is typed for no words where some stand there already."""

LONGEST = 500
"""So many characters are in an answer."""

MOVES = ("down", "up", "home", "end")


def moved(move: str, at: int, count: int) -> int:
    """The line, from 0, that one of ``MOVES`` leads to among so many, round at either end."""
    return {"down": (at + 1) % count, "up": (at - 1) % count, "home": 0}.get(move, count - 1)


class Answering:
    """Asks one knitter."""

    def __init__(self, talk: Talk, knitter: Knitter) -> None:
        self.talk, self.knitter = talk, knitter

    def answer(self, request: Words | Choice | YesNo | PressKey | Reading) -> object:
        """What comes back for a request.

        Raises:
            Ended: nobody types any more.
        """
        match request:
            case Words():
                return self._words(request)
            case Choice():
                return self._choice(request)
            case YesNo():
                return self._yes(request)
            case PressKey():
                return self._key(request)
            case Reading():
                self._read(request)
                return None

    def _words(self, asked: Words) -> str | Before | Kept | None:
        likely = ", ".join([*(f"{word} {meaning}" for word, meaning in asked.offered), *dict(asked.colours)])
        stands = f'Enter keeps "{asked.answer}", "{NOTHING}" takes it away.' if asked.answer else ""
        before = self._how_to_go_back.strip() if asked.goes_back else ""
        self.talk.ask(asked.text, f"Likely: {likely}." if likely else "", f"{stands} {before}".strip())
        while True:
            text = self._taken(asked)
            if text == MORE and self.talk.has_more:
                self.talk.read_on()
                continue
            if asked.goes_back and self._is_going_back(text):
                return BEFORE
            if asked.goes_back and self._is_typed(text, "keep_rest", KEEPING):
                return Kept(asked.answer)
            if self._is_leaving(text):
                return None
            if not text:
                return asked.answer
            if text == NOTHING and asked.answer:
                return ""
            if len(text) > LONGEST:
                self.talk.ask_again(f"That is longer than {LONGEST} characters.")
            elif asked.is_number and not (text.isascii() and text.isdigit()):
                self.talk.ask_again(f"Type a number, not {quoted(text)}." + self._how_to_leave)
            else:
                return plain(text)

    def _taken(self, asked: Words) -> str:
        """All words of the line, of a number one, of a row another one where the first is a part."""
        if not asked.is_number and not asked.is_row:
            return self.talk.line().strip()
        word = self.talk.words(1)
        is_part = asked.is_row and word.casefold() in ("left", "right") and self.talk.waiting
        return f"{word} {self.talk.words(1)}" if is_part else word

    def _choice(self, asked: Choice) -> int | Before | Kept | None:
        lines = [f"{number}. {line}" for number, line in enumerate(asked.lines, 1)]
        at = asked.at
        before = self._how_to_go_back if asked.goes_back else ""
        self.talk.ask(*asked.text, *lines, f"Type a number.{self._how_to_leave}{before} Enter is {at + 1}.")
        while True:
            word = self.talk.words(1)
            if asked.goes_back and self._is_going_back(word):
                return BEFORE
            if asked.goes_back and self._is_typed(word, "keep_rest", KEEPING):
                return Kept(at)
            if self._is_leaving(word):
                return None
            if not word:
                return at
            if word in MOVES:
                at = moved(word, at, len(lines))
                self.talk.say(f"{lines[at]} Enter is {at + 1}.")
            elif word.isascii() and word.isdigit() and 1 <= int(word[:9]) <= len(lines):
                return int(word) - 1
            elif not self._is_heard_again(word):
                self.talk.ask_again(f"Type a number from 1 to {len(lines)}, not {quoted(word)}.{self._how_to_leave}")

    def _yes(self, asked: YesNo) -> bool:
        keys = {name: deed.keys for deed in self.knitter.deeds for name in [deed.name] if name in ("yes", "no")}
        yes, no = (next((key for key in keys[name] if len(key) == 1), name) for name in ("yes", "no"))
        how = f"{yes}: {asked.yes}. {no}, or Enter: {asked.no}."
        self.talk.tell(*asked.text, how)
        while True:
            word = self.talk.words(1)
            if word.casefold() in ("yes", *keys["yes"]):
                return True
            if not word or word.casefold() in ("no", *keys["no"]) or self._is_leaving(word):
                return False
            if not self._is_heard_again(word):
                self.talk.ask_again(how)

    def _key(self, asked: PressKey) -> str | None:
        self.talk.ask(*asked.text, f"Type the key or its name, such as k, space, f5 or ctrl+k.{self._how_to_leave}")
        line = self.talk.line()
        word = line.strip().casefold()
        if self._is_leaving(word):
            return None
        if not word:
            return "space" if line else "enter"
        return key_of(word) if word in string.printable else word.replace("page ", "page")

    def _read(self, reading: Reading) -> None:
        self.talk.tell(f"{reading.title}:".replace("?:", "?"))
        lines = chain.from_iterable(line.split("\n") for line in reading.lines)
        self.talk.read_out(map(AsItStands, lines) if reading.is_file else lines, is_told=True)

    def _is_heard_again(self, word: str) -> bool:
        """Whether what was typed asks to hear the question, or more of it."""
        if word in (*AGAIN, "?", MORE):
            self.talk.tell_again()
            return True
        return False

    @property
    def _leaving(self) -> Iterator[str]:
        yield from LEAVING
        for deed in self.knitter.deeds:
            if deed.name == "leave_it":
                yield from deed.keys

    def _is_leaving(self, text: str) -> bool:
        return text.casefold() in self._leaving

    def _is_going_back(self, text: str) -> bool:
        return self._is_typed(text, "before", GOING_BACK)

    def _is_typed(self, text: str, name: str, word: str) -> bool:
        """Whether it is this word, or a key of the deed of that name."""
        keys = (deed.keys for deed in self.knitter.deeds if deed.name == name)
        return text.casefold() in (word, *chain.from_iterable(keys))

    @property
    def _how_to_go_back(self) -> str:
        return f' "{GOING_BACK}" goes to the question before, "{KEEPING}" keeps this answer and all after it.'

    @property
    def _how_to_leave(self) -> str:
        return f' "{LEAVING[0]}" leaves it.'
