"""Words said aloud by the system's own speaker: a child process that reads them on its standard input.

No shell sees them, no argument holds them, and of what a speaker might take for an order nothing is left in them.
Whoever speaks never waits: a thread of its own starts the child, silences the one before, and sees each to its end.
"""

from __future__ import annotations

import atexit
import os
import shutil
import signal
import subprocess
import sys
import threading
import time
import unicodedata
from collections.abc import Mapping, Sequence
from contextlib import suppress

from companion.knitting.value import Record

LONGEST = 1500
"""So many characters are said at most; a pipe takes them all at once, whether anybody reads them or not."""

MOST_SECONDS = 120.0
"""After so long a speaker hangs, and is ended."""

PATIENCE = 0.3
"""Seconds for one that is told to end."""

_LOOKED_AT = 0.1
_MARKS = frozenset(" .,;:?'()-")
_WINDOWS = (
    "[Console]::InputEncoding = [Text.Encoding]::UTF8; Add-Type -AssemblyName System.Speech; "
    "(New-Object System.Speech.Synthesis.SpeechSynthesizer).Speak([Console]::In.ReadToEnd())"
)


class Speaker(Record):
    """A program that says what it reads. ``silence``: the words that silence one that says it elsewhere, after it has
    ended itself; () = ending it is enough."""

    name: str
    words: tuple[str, ...]
    silence: tuple[str, ...] = ()


SPEAKERS: Mapping[str, tuple[Speaker, ...]] = {
    "darwin": (Speaker("say", ("say", "-f", "-")),),
    "win32": (Speaker("System.Speech", ("powershell", "-NoProfile", "-NonInteractive", "-Command", _WINDOWS)),),
    "": (
        Speaker("spd-say", ("spd-say", "-e"), ("spd-say", "-C")),
        Speaker("espeak-ng", ("espeak-ng", "--stdin")),
    ),
}
"""Those of a system, "" = of every other one, the best first (their own manuals)."""


def speakers_here(platform: str = sys.platform) -> tuple[Speaker, ...]:
    """The speakers that this computer has, the best first."""
    found = list[Speaker]()
    for one in SPEAKERS.get(platform, SPEAKERS[""]):
        if path := shutil.which(one.words[0]):
            silence = (path, *one.silence[1:]) if one.silence else ()
            found.append(one._replace(words=(path, *one.words[1:]), silence=silence))
    return tuple(found)


def sayable(text: str) -> str:
    """The text in one line of letters, numbers and the marks of a sentence: no sign is left by which a speaker takes
    orders, such as "[[" or "!-!" at the beginning of a line (their manuals; the last one from memory)."""
    kept = (sign if unicodedata.category(sign)[0] in "LMN" or sign in _MARKS else " " for sign in text)
    return " ".join("".join(kept).split())[:LONGEST].rstrip()


class Voice:
    """Says one thing at a time, what is newest; ``speakers``: who may say it, the best first. Silent once closed.
    ``most_seconds``: whoever speaks for longer is ended."""

    def __init__(self, speakers: Sequence[Speaker]) -> None:
        self._speakers = list(speakers)
        self.most_seconds = MOST_SECONDS
        self._changed = threading.Condition()
        self._text: str | None = None
        self._is_closed = False
        self._thread: threading.Thread | None = None
        self._trouble = "" if speakers else f"Nothing is said aloud: {_none_here()}"

    @property
    def name(self) -> str:
        """That of who speaks; "" where nobody can."""
        return self._speakers[0].name if self._speakers else ""

    def taken_trouble(self) -> str:
        """Why nothing is said aloud, once; "" where it is."""
        trouble, self._trouble = self._trouble, ""
        return trouble

    def say(self, text: str) -> None:
        """Say this instead of whatever is being said; "" = be silent. It comes back at once."""
        with self._changed:
            if self._is_closed or not (text or self._thread) or not self._speakers:
                return
            self._text = sayable(text)
            if self._thread is None:
                self._thread = threading.Thread(target=self._speak, name="voice", daemon=True)
                self._thread.start()
                atexit.register(self.close)
            self._changed.notify()

    def close(self) -> None:
        """Be silent for good; nothing that spoke is left. Twice does no harm."""
        with self._changed:
            self._is_closed = True
            self._changed.notify()
        if self._thread is not None:
            self._thread.join(4 * PATIENCE)
            atexit.unregister(self.close)

    def _speak(self) -> None:
        """What the thread does until all is closed."""
        saying: _Saying | None = None
        while True:
            with self._changed:
                self._changed.wait_for(self._is_told, None if saying is None or saying.is_said else _LOOKED_AT)
                text, self._text, is_closed = self._text, None, self._is_closed
            if saying and (is_closed or text is not None or saying.seconds > self.most_seconds):
                saying.silence()
                saying = None
            elif saying and saying.has_failed:
                text, saying = saying.text, None
                self._give_up()
            if is_closed:
                return
            if text and self._speakers:
                saying = self._begin(text)

    def _is_told(self) -> bool:
        return self._text is not None or self._is_closed

    def _begin(self, text: str) -> _Saying | None:
        while self._speakers:
            try:
                return _Saying(self._speakers[0], text)
            except OSError:
                self._give_up()
        return None

    def _give_up(self) -> None:
        """Who has failed is asked no more; the next one is."""
        failed = self._speakers.pop(0)
        if not self._speakers:
            self._trouble = f"Nothing is said aloud any more: {failed.name} ended with an error."


def _none_here() -> str:
    names = " or ".join(one.name for one in SPEAKERS.get(sys.platform, SPEAKERS[""]))
    return f"this computer has no speaker that is known here ({names})."


class _Saying:
    """One text being said.

    Raises:
        OSError: the speaker cannot be started.
    """

    def __init__(self, speaker: Speaker, text: str) -> None:
        self.text, self._speaker, self._began = text, speaker, time.monotonic()
        self._child = subprocess.Popen(
            speaker.words, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True, creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )  # fmt: skip
        assert self._child.stdin
        with suppress(OSError):  # it reads nothing: how it ends tells more
            self._child.stdin.write(f"{text}\n".encode())
        with suppress(OSError):
            self._child.stdin.close()

    @property
    def is_running(self) -> bool:
        """It has not ended."""
        return self._child.poll() is None

    @property
    def is_said(self) -> bool:
        """It ended by itself, and well."""
        return self._child.poll() == 0

    @property
    def has_failed(self) -> bool:
        """It ended by itself, and not well."""
        return bool(self._child.poll())

    @property
    def seconds(self) -> float:
        """How long it has been said; of one that is said, none."""
        return time.monotonic() - self._began if self.is_running else 0

    def silence(self) -> None:
        """End it, and see that it has ended."""
        for end in (signal.SIGTERM, getattr(signal, "SIGKILL", signal.SIGTERM)):
            if self.is_running:
                self._send(end)
                with suppress(subprocess.TimeoutExpired):
                    self._child.wait(PATIENCE)
        if self._speaker.silence:
            with suppress(OSError, subprocess.TimeoutExpired):
                subprocess.run(
                    self._speaker.silence, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                    stderr=subprocess.DEVNULL, timeout=PATIENCE, check=False,
                )  # fmt: skip

    def _send(self, end: int) -> None:
        """To it and to whatever it has started."""
        with suppress(ProcessLookupError):
            if sys.platform == "win32":
                self._child.terminate()
            else:
                os.killpg(self._child.pid, end)
