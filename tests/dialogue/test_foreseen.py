"""What is foreseen of the next step is what then comes, whatever was done between; and it is what is shown then."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from companion.dialogue.saying import How
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling
from companion.dialogue.working import foresee
from companion.settings import Settings
from tests.dialogue.test_same_journal import DEMOS, at_a_keyboard, journal, to_the_finish
from tests.screens.at_the_needles import begun


class Foresight:
    """Foresees before every press, and holds what was foreseen against what came, so many ``times``."""

    def __init__(self) -> None:
        self.told: Telling | None = None
        self.times = 0

    def __call__(self, sitting: Sitting) -> None:
        """Look at what came of the press before, and at what will come of the next."""
        if self.told is not None:
            now = sitting.telling
            assert now is self.told, "what was worked out is what is shown"
            assert everything(now) == everything(Telling(now.session, now.terms, now.saying))
            self.times += 1
        self.told = foresee(sitting)


def everything(told: Telling) -> tuple[object, ...]:
    """All that is told of a session, and the session."""
    runs = [(one.work, one.is_done) for one in told.runs] if told.run else []
    hanging = [told.place_of(hang) for hang in told.hanging] if told.is_in_rows else []
    return (
        told.session, told.act, told.acts, told.full, told.short, told.needle, told.row_of, told.side, told.height,
        runs, hanging, told.ready, told.end_lead if told.is_in_rows else "", told.end, told.end_in_short, told.known,
    )  # fmt: skip


@pytest.mark.parametrize(("demo", "how"), [
    ("swatch", "first"), ("wrist-warmer-left", "full"), ("bollard-coaster", "short"),
])  # fmt: skip
@pytest.mark.parametrize("mode", ["runs", "rows"])
def test_it_comes_as_foreseen_to_the_finish_and_the_journal_is_the_same(
    tmp_path: Path, demo: str, how: How, mode: str
) -> None:
    foresight, pieces = Foresight(), []
    for name, each in (("foreseen", foresight), ("not", lambda _: None)):
        board = at_a_keyboard(tmp_path / name, DEMOS[demo], Settings(say=how))
        board.press(*["m"] * (mode == "rows"))
        to_the_finish(board, each)
        board.press("q")
        pieces.append(journal(tmp_path / name))
    assert pieces[0] == pieces[1]
    assert foresight.times >= 12


@pytest.mark.parametrize("seed", range(12))
def test_what_is_done_between_is_not_overlooked(tmp_path: Path, seed: int) -> None:
    """Steps, steps back, stitches unpicked, more or less said: what was foreseen before is no more than that."""
    random, boards = Random(seed), []
    for name in ("foreseen", "not"):
        begun(tmp_path / name, row=20)
        boards.append(at_a_keyboard(tmp_path / name, DEMOS["swatch"]))
    foreseen, plain = boards
    for _ in range(40):
        key = random.choice(["space", "space", "space", "backspace", "u", "m", "k"])
        for _ in range(random.choice([0, 1, 2])):
            foresee(foreseen.sitting)
        for board in boards:
            board.press(key, *["escape"] * (len(board.open) > 1))
        one, other = (everything(board.sitting.telling)[1:] for board in boards)
        assert one == other
        assert foreseen.sitting.notice == plain.sitting.notice
    for board in boards:
        board.press("q")
    assert journal(tmp_path / "foreseen") == journal(tmp_path / "not")


def test_who_may_only_look_does_nothing_by_it(tmp_path: Path) -> None:
    begun(tmp_path, row=20)
    first = at_a_keyboard(tmp_path, DEMOS["swatch"])
    second = at_a_keyboard(tmp_path, DEMOS["swatch"])
    assert second.sitting.knitting.is_look_only
    before = second.sitting.session
    told = foresee(second.sitting)
    assert told is not None
    second.press("space")
    assert second.sitting.session is before
    assert "open in another window" in second.sitting.notice
    first.press("q")
