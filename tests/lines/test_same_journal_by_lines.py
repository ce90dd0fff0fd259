"""Every demo by lines through the real program, on pipes and in a terminal: the journal that the keys give but for
times, and nothing but plain words in plain bytes."""

from __future__ import annotations

import os
import re
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.dialogue.test_same_journal import DEMOS, in_first_size, journal, worked_by_keys
from tests.knitting.words.test_every_step import ABBREVIATIONS
from tests.patience import PATIENCE
from tests.the_program import run

FINISHED = "Finished: bound off, every end woven in, washed and trimmed.\n"
STOPPED = "Stopped here. Everything is saved.\n"


def on_pipes(home: Path, demo: str, lines: Sequence[str]) -> str:
    """All that the program says to these lines; the swatch's is loaded anew."""
    given = "".join(f"{line}\n" for line in lines).encode()
    words = ("knit", demo, "--plain")
    ran = run(home, *words, given=given, is_fresh=demo == "swatch", ROWSIDE_HOME=str(home), TERM="xterm-256color")
    assert (ran.code, ran.err) == (0, "")
    return ran.out


def in_a_terminal(home: Path, demo: str, lines: Sequence[str]) -> str:
    """The same where they are typed one by one, without what the terminal itself shows of them."""
    from tests.terminal.pseudo_terminal import Terminal

    with Terminal(home, "knit", demo, "--plain", is_fresh=False) as terminal:
        terminal.wait_until(lambda: bool(terminal.written), "the first words")
        for line in lines:
            said = len(terminal.written)
            terminal.send(f"{line}\n".encode())
            while terminal.written.count(b"\n", said) < 2:  # its echo, and what came of it
                assert terminal.take(PATIENCE), bytes(terminal.written[-300:])
        terminal.send(b"\x04")
        assert terminal.wait_for_end() == 0
        return terminal.written.decode().replace("\r\n", "\n")


WAYS = (on_pipes, in_a_terminal) if os.name == "posix" else (on_pipes,)


@pytest.mark.parametrize("demo", DEMOS)
def test_lines_work_every_demo_to_its_finish_with_the_journal_of_the_keys(tmp_path: Path, demo: str) -> None:
    """Row by row from the first stitch on, the swatch run by run."""
    by_keys = tmp_path / "by_keys"
    keys = worked_by_keys(by_keys, demo, is_by_rows=demo != "swatch")
    asked = ["1"] if in_first_size(DEMOS[demo]).size else []  # of a plan in sizes
    lines = [*asked, *({"space": " ", "enter": ""}.get(key, key) for key in keys)]
    worked = journal(by_keys)
    for way in WAYS:
        home = tmp_path / way.__name__
        home.mkdir()
        said = way(home, demo, lines)
        assert journal(home) == worked
        assert said.endswith(FINISHED + STOPPED)
        assert said.isascii()
        assert said.replace("\n", "").isprintable(), "no escape, and no carriage return alone"
        assert re.search(ABBREVIATIONS, said) is None, "nothing is left to be spelled letter by letter"
