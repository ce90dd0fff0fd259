"""What is said aloud, by speakers of our own making on the path: what each is given, and that none is left."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from companion.speech import LONGEST, MOST_SECONDS, SPEAKERS, Voice, sayable, speakers_here
from tests.patience import until

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the speakers made here are shell scripts")

SAYS = 'echo "$*" >> "$0.words"; echo $$ > "$0.pid"; cat >> "$0.said"'


class Speakers:
    """A folder on the path with programs that are called like speakers."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def make(self, name: str, does: str = SAYS) -> None:
        program = self.folder / name
        program.write_text(f"#!/bin/sh\n{does}\n", encoding="utf-8")
        program.chmod(0o755)

    def read(self, name: str) -> list[str]:
        file = self.folder / name
        return file.read_text(encoding="utf-8").splitlines() if file.exists() else []


@pytest.fixture
def speakers(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Speakers:
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    return Speakers(tmp_path)


@pytest.fixture
def voice(speakers: Speakers) -> Iterator[Callable[..., Voice]]:
    made = list[Voice]()

    def make() -> Voice:
        ours = tuple(one for one in speakers_here("linux") if str(speakers.folder) in one.words[0])
        made.append(Voice(ours))
        return made[-1]

    yield make
    for one in made:
        one.close()


def is_there(pid: str) -> bool:
    """Whether a process is, be it only as one that nobody has asked how it ended."""
    try:
        os.kill(int(pid), 0)
    except ProcessLookupError:
        return False
    return True


def test_a_speaker_reads_the_words_and_has_none_of_them_as_an_argument(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    speakers.make("espeak-ng")
    voice().say("Cross: shell over tide. Purl 12 in tide.")
    until(lambda: speakers.read("espeak-ng.said"))
    assert speakers.read("espeak-ng.said") == ["Cross: shell over tide. Purl 12 in tide."]
    assert speakers.read("espeak-ng.words") == ["--stdin"]


def test_the_best_speaker_that_is_there_is_found_and_named(speakers: Speakers, voice: Callable[..., Voice]) -> None:
    assert voice().name == ""
    speakers.make("espeak-ng")
    assert voice().name == "espeak-ng"
    speakers.make("spd-say")
    assert voice().name == "spd-say"
    assert [one.name for one in speakers_here("darwin") + speakers_here("win32")] == []
    speakers.make("say")
    speakers.make("powershell")
    assert [one.words[1:] for one in speakers_here("darwin")] == [("-f", "-")]
    assert [one.name for one in speakers_here("win32")] == ["System.Speech"]


def test_a_new_step_silences_the_last_and_says_itself(speakers: Speakers, voice: Callable[..., Voice]) -> None:
    speakers.make("espeak-ng", f"{SAYS}; exec sleep 600")
    speaking = voice()
    speaking.say("One.")
    until(lambda: speakers.read("espeak-ng.said"))
    (first,) = speakers.read("espeak-ng.pid")
    speaking.say("Two.")
    until(lambda: len(speakers.read("espeak-ng.said")) == 2)
    until(lambda: not is_there(first))
    assert speakers.read("espeak-ng.said") == ["One.", "Two."]
    (second,) = speakers.read("espeak-ng.pid")
    speaking.close()
    until(lambda: not is_there(second), "when all is closed nobody speaks on")


def test_what_is_said_elsewhere_is_silenced_by_the_word_for_that(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    """spd-say ends once it has handed the words on, and "-C" cancels them (its manual)."""
    speakers.make("spd-say")
    speaking = voice()
    speaking.say("One.")
    until(lambda: speakers.read("spd-say.said"))
    speaking.say("Two.")
    until(lambda: len(speakers.read("spd-say.said")) == 2)
    speaking.say("")
    until(lambda: len(speakers.read("spd-say.words")) == 4)
    assert speakers.read("spd-say.words") == ["-e", "-C", "-e", "-C"]


def test_of_many_steps_at_once_the_newest_is_said_and_nobody_waits(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    """A speaker that never ends, and does not when it is asked to, is not waited for either."""
    speakers.make("espeak-ng", f"trap '' TERM; {SAYS}; sleep 600; sleep 600")
    speaking = voice()
    began = time.thread_time()
    for number in range(200):
        speaking.say(f"Knit {number}.")
    assert time.thread_time() - began < 0.2, "a key costs less than a millisecond"
    until(lambda: "Knit 199." in speakers.read("espeak-ng.said"))
    assert len(speakers.read("espeak-ng.said")) < 100, "had each been waited for, each would be said"
    (pid,) = speakers.read("espeak-ng.pid")
    speaking.close()
    until(lambda: not is_there(pid))


def test_nothing_is_left_of_a_speaker_that_has_ended(speakers: Speakers, voice: Callable[..., Voice]) -> None:
    speakers.make("espeak-ng")
    voice().say("Knit 3.")
    until(lambda: speakers.read("espeak-ng.pid"))
    (pid,) = speakers.read("espeak-ng.pid")
    until(lambda: not is_there(pid))


def test_one_that_speaks_for_longer_than_anything_takes_is_ended(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    speakers.make("espeak-ng", f"{SAYS}; exec sleep 600")
    speaking = voice()
    speaking.say("Knit 3.")
    until(lambda: speakers.read("espeak-ng.said"))
    (pid,) = speakers.read("espeak-ng.pid")
    assert is_there(pid)
    speaking.most_seconds = 0.2
    until(lambda: not is_there(pid))
    speaking.most_seconds = MOST_SECONDS
    speaking.say("Knit 4.")
    until(lambda: len(speakers.read("espeak-ng.said")) == 2)
    assert speaking.taken_trouble() == ""


def test_where_one_fails_the_next_says_the_same_and_where_none_is_left_that_is_told_once(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    speakers.make("spd-say", f"{SAYS}; exit 1")
    speakers.make("espeak-ng")
    speaking = voice()
    speaking.say("Knit 3.")
    until(lambda: speakers.read("espeak-ng.said"))
    assert (speaking.name, speaking.taken_trouble()) == ("espeak-ng", "")
    assert speakers.read("espeak-ng.said") == ["Knit 3."]
    speakers.make("espeak-ng", "exit 3")
    speaking.say("Knit 4.")
    until(lambda: speaking.name == "")
    assert speaking.taken_trouble() == "Nothing is said aloud any more: espeak-ng ended with an error."
    assert speaking.taken_trouble() == ""
    speaking.say("Knit 5.")


def test_one_that_cannot_be_started_or_dies_at_once_is_a_failed_one(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    speakers.make("spd-say", "kill -9 $$")
    speakers.make("espeak-ng")
    speaking = voice()
    (speakers.folder / "espeak-ng").write_text("#!/nowhere/at/all\n", encoding="utf-8")
    speaking.say("Knit 3.")
    until(lambda: speaking.name == "")
    assert "espeak-ng ended with an error" in speaking.taken_trouble()


def test_where_there_is_none_it_is_told_once_and_nothing_else_happens(voice: Callable[..., Voice]) -> None:
    speaking = voice()
    speaking.say("Knit 3.")
    assert speaking.taken_trouble() == (
        "Nothing is said aloud: this computer has no speaker that is known here "
        f"({' or '.join(one.name for one in SPEAKERS.get(sys.platform, SPEAKERS['']))})."
    )
    assert speaking.taken_trouble() == ""


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("!-!SET SELF VOLUME -100\n!-!QUIT", "- SET SELF VOLUME -100 - QUIT"),  # an order to spd-say (from memory)
        ("[[slnc 60000]] tide [[h@l'oU]]", "slnc 60000 tide h l'oU"),  # orders and sounds: manuals of say, espeak
        ('<break time="60s"/> & tide', "break time 60s tide"),
        ("$(touch x); `touch x` | touch x > y", "(touch x); touch x touch x y"),
        ("\x1b]0;x\x07 tide\r\n\x00kelp\u2028", "0;x tide kelp"),
        ("Möwengrau, λευκό, 藍 ٣", "Möwengrau, λευκό, 藍 ٣"),
        ("e\u0301te\u0301", "e\u0301te\u0301"),
    ],
)
def test_no_order_to_a_speaker_is_left_in_what_is_said(text: str, said: str) -> None:
    assert sayable(text) == said


def test_a_text_that_is_too_long_for_a_pipe_is_said_as_far_as_it_fits(
    speakers: Speakers, voice: Callable[..., Voice]
) -> None:
    """Nobody reads while it is written, and a pipe takes 16 kB at least (Linux 64, macOS 16; from memory)."""
    speakers.make("espeak-ng")
    voice().say("tide " * 10_000)
    until(lambda: speakers.read("espeak-ng.said") == [("tide " * 10_000)[:LONGEST].strip()])
    assert len(sayable("藍" * 10_000).encode()) < 16_384
