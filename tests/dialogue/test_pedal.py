"""A pedal that is held down counts once, where she wants that; times are given."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.opening import open_plan
from companion.dialogue.pedal import Pedal
from companion.lines.commands import Typist
from companion.lines.conversation import Conversation
from companion.lines.talk import Ended, Talk
from companion.settings import Settings
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.screens.at_the_needles import SWATCH, begun, on_disk, shelf, where


@pytest.mark.parametrize(
    ("times", "count"),
    [
        ((0.0,), 1),
        ((0.0, 0.08), 2),  # the first that is no longer too soon
        ((0.0, 0.0799), 1),
        ((0.0, 0.033, 0.066, 0.099, 0.132), 1),  # each is measured from the one before, not from the one that counted
        ((0.0, 0.5, 0.533, 0.566, 0.9), 3),
        ((5.0, 5.0), 1),
    ],
)
def test_a_press_within_80_ms_of_the_last_counts_for_nothing(times: tuple[float, ...], count: int) -> None:
    pedal = Pedal()
    assert sum(pedal.counts(at) for at in times) == count


def test_only_on_is_measured_and_only_where_she_wants_it(tmp_path: Path) -> None:
    begun(tmp_path, row=7)
    usual = at_a_keyboard(tmp_path, SWATCH).sitting
    assert all(usual.counts("on", 0.0) for _ in range(9))
    usual.knitter.take_up(Settings(pedal="on"))
    assert [usual.counts(name, at) for name, at in (("on", 1.0), ("on", 1.01), ("back", 1.02), ("row", 1.03))] == [
        True, False, True, True,
    ]  # fmt: skip
    assert usual.counts("on", 1.09)


@pytest.mark.parametrize(("pedal", "is_typed", "runs"), [("on", True, 2), ("on", False, 4), ("off", True, 4)])
def test_in_line_mode_lines_count_by_when_they_are_typed_and_on_a_pipe_all_of_them(
    tmp_path: Path, pedal: str, is_typed: bool, runs: int
) -> None:
    """Enter is held for a moment, and pressed once more."""
    begun(tmp_path, row=21)
    lines, times = iter(["\n", "\n", "\n", "\n", ""]), iter([1.0, 1.03, 1.06, 2.0])
    knitter = Typist(Settings(pedal=pedal))  # type: ignore[arg-type]  # its words are the setting's
    talk = Talk(lambda: next(lines), lambda _: None, (lambda: next(times)) if is_typed else None)
    with pytest.raises(Ended):
        Conversation(talk, knitter).carry_out(open_plan(knitter, shelf(tmp_path), SWATCH))
    assert where(on_disk(tmp_path)) == (21, runs)
