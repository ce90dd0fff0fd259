"""What the computer's speaker is given of a sitting, by how much she wants to hear, and when it is silent."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import look, open_plan
from companion.dialogue.settings_list import SettingsList
from companion.dialogue.speaking import Speaking
from companion.lines.commands import Typist
from companion.progress.actions import On, Unpick
from companion.settings import Settings
from companion.speech import sayable
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.lines.at_lines import AtLines
from tests.patience import until
from tests.screens.at_the_needles import SWATCH, begun, shelf, work

pytestmark = pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="the speaker made here is called as here")


class Ears:
    """Hears what a speaker on the path is given, each time in a line; it speaks on until it is silenced."""

    def __init__(self, folder: Path) -> None:
        self._said, self._pid, self.heard_of = folder / "said", folder / "pid", 0
        self.speaker = folder / "espeak-ng"
        self.speaker.write_text(
            f"#!/bin/sh\necho $$ > {self._pid}.$$\n/bin/mv {self._pid}.$$ {self._pid}\n"
            f"/bin/cat >> {self._said}\nexec /bin/sleep 600\n", encoding="utf-8",
        )  # fmt: skip
        self.speaker.chmod(0o755)

    def hear(self) -> str:
        """What is said next."""
        self.heard_of += 1
        until(lambda: len(self.said) >= self.heard_of, "something is said")
        return self.said[self.heard_of - 1]

    @property
    def said(self) -> list[str]:
        return self._said.read_text(encoding="utf-8").splitlines() if self._said.exists() else []

    def wait_for_silence(self) -> None:
        pid = int(self._pid.read_text(encoding="utf-8"))
        until(lambda: not _is_there(pid), "silence")


def _is_there(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


@pytest.fixture
def ears(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Ears:
    folder = tmp_path / "bin"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))
    return Ears(folder)


def board_at(home: Path, speak: str, row: int = 7, runs: int = 0) -> Keyboard:
    begun(home, row=row, runs=runs)
    return at_a_keyboard(home, SWATCH, Settings(speak=speak))  # type: ignore[arg-type]  # one of its words


def test_in_short_each_step_is_said_and_the_row_where_it_begins(tmp_path: Path, ears: Ears) -> None:
    board = board_at(tmp_path, "short")
    assert ears.hear().endswith("Row 7 of 32, right side toward you. Knit 12 in shell.")
    board.press("space")
    assert ears.hear() == "Cross: shell over tide. Knit 12 in tide."
    board.press("space")
    assert ears.hear() == (
        "Row 7 is done. 24 stitches must be on the needle. Turn, the needle's tip toward you. "
        "Row 8 of 32, wrong side toward you. Knit 2, then purl 10 in tide."
    )
    board.press("q", "y")
    assert not board.open
    ears.wait_for_silence()


def test_a_count_is_yarn_and_stitches_alone_and_in_full_is_all_of_it(tmp_path: Path, ears: Ears) -> None:
    board = board_at(tmp_path, "count")
    assert ears.hear() == "Shell, knit 12."
    board.press("space")
    assert ears.hear() == "Tide, knit 12."
    board.press("m", "w")
    assert ears.hear() == "Tide, knit 2, then purl 10. Shell, purl 10, then knit 2."
    board.knitter.take_up(Settings(speak="full"))
    board.press("m", "backspace")
    assert ears.hear().startswith("Row 7 of 32, right side toward you. Cross the old strand before the new, at the")
    board.press("q", "y")


def test_what_must_be_said_once_and_how_long_the_rest_takes_are_said_in_whole_words(tmp_path: Path) -> None:
    board = board_at(tmp_path, "off")
    speaking = Speaking(board.sitting)
    board.sitting.notice = 'Noted at 12 sts: "12 sts". 80 cm are left.'
    assert speaking.text("short").startswith('Noted at 12 stitches: "12 sts". 80 centimetres are left. Row 7 of 32')
    board.press("w")
    board.sitting.pace = ("About 6 min for the next row, about 1 h 20 left.", "6 min")
    assert "About 6 minutes for the next row, about 1 hour 20 minutes left. Row 8 of 32" in speaking.text("full")


def test_a_refusal_is_said_too_and_off_is_silence(tmp_path: Path, ears: Ears) -> None:
    board = board_at(tmp_path, "count", row=1)
    assert ears.hear() == "Shell, knit 24."
    board.press("u")
    assert ears.hear() == "There is nothing to unpick. Cast on 24 stitches in shell, long-tail. Knit 24 in shell."
    board.knitter.take_up(Settings())
    ears.wait_for_silence()
    board.press("space")
    assert len(ears.said) == 2
    board.press("q", "y")


def test_what_comes_of_an_accident_is_said(tmp_path: Path, ears: Ears) -> None:
    board = board_at(tmp_path, "count", row=21, runs=2)
    ears.hear()
    board.press("x", "down", "enter", "1", "enter")
    assert board.sitting.notice.startswith("Told")
    while not ears.hear().startswith(sayable(board.sitting.notice)):  # the step by itself may be said before it
        pass
    board.press("q", "y")


def test_what_another_window_does_is_said_in_this_one_all_of_it_once(tmp_path: Path, ears: Ears) -> None:
    begun(tmp_path, row=7, runs=1)
    with shelf(tmp_path).resume("Harbour practice swatch") as writer:
        board = at_a_keyboard(tmp_path, SWATCH, Settings(speak="short"))
        ears.hear()
        work(writer, Unpick())
        assert board.sitting.follow_all()
        assert ears.hear().endswith("A run is unpicked. Knit 12 in shell.")
        work(writer, On(), Unpick(), On(), On())
        assert board.sitting.follow_all()
        assert board.sitting.notice == "A run is unpicked."
        assert not board.sitting.follow_all()
        board.press("q")
        ears.wait_for_silence()


def test_looking_at_a_chart_is_silent_once_it_is_left(tmp_path: Path, ears: Ears) -> None:
    knitter = Knitter(Settings(speak="count"))
    board = Keyboard(knitter, look(knitter, shelf(tmp_path), SWATCH))
    assert ears.hear() == "Shell, knit 24."
    board.press("q")
    ears.wait_for_silence()


def test_by_lines_it_is_said_as_well(tmp_path: Path, ears: Ears) -> None:
    begun(tmp_path, row=7)

    def lines() -> Iterator[str]:
        assert ears.hear() == "Shell, knit 12."
        yield ""
        assert ears.hear() == "Tide, knit 12."
        yield "q"
        yield "y"

    knitter = Typist(Settings(speak="count"))
    talked = AtLines(open_plan(knitter, shelf(tmp_path), SWATCH), lines(), knitter)
    assert talked.is_left
    ears.wait_for_silence()


@pytest.mark.usefixtures("ears")
def test_the_settings_name_who_speaks(tmp_path: Path) -> None:
    board = board_at(tmp_path, "short")
    listed = SettingsList(board.knitter)
    listed.fill()
    told = [row[0].text for row in listed.table.rows if not isinstance(row, str)]
    assert "Said aloud by this computer: each step in short (espeak-ng)" in told
    board.press("q")


def test_where_nobody_can_speak_that_is_said_once_and_all_goes_on(tmp_path: Path, ears: Ears) -> None:
    ears.speaker.unlink()
    board = board_at(tmp_path, "short")
    assert board.sitting.notice.endswith("no speaker that is known here (spd-say or espeak-ng).")
    board.press("space")
    assert board.sitting.notice == ""
    assert board.sitting.session.done == 1
    board.press("q", "y")


def test_a_yarn_with_a_name_like_an_order_is_said_and_not_obeyed(tmp_path: Path, ears: Ears) -> None:
    plan = tmp_path / "order.yaml"
    name = '"[[slnc 9]] $(id) !-!QUIT"'
    text = re.sub(r"\bshell(?=[:,\n])", lambda _: name, SWATCH.read_text(encoding="utf-8"))
    plan.write_text(text, encoding="utf-8")
    board = at_a_keyboard(tmp_path, plan, Settings(speak="count"))
    assert ears.hear() == "slnc 9 (id) - QUIT, knit 24."
    board.press("q")
