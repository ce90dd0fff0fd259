"""The strands that hang: each of them is told, or how many are not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from at_the_needles import CUSHION, JUMPER, MAT, SWATCH
from rich.cells import cell_len
from rich.style import Style
from test_never_cut_off import positions

from companion.knitting.hands.hangs import Hang, hangs
from companion.progress.session import Session
from companion.screens.flowing import Line
from companion.screens.hanging import HangingPanel

ROOMS = [(80, 2), (60, 2), (59, 9), (99, 14), (40, 2), (24, 1), (80, 14)]


def there(session: Session) -> tuple[Hang, ...]:
    """The strands that hang."""
    return hangs(session.strands, session.row, session.done, session.cut, is_turned=session.act is None)


def drawn(session: Session, width: int, height: int) -> list[Line]:
    """What is shown of them in so much room."""
    panel = HangingPanel()
    panel.session = session
    return panel.draw(width, height)


def chips(lines: list[Line]) -> list[str]:
    """The symbols of the yarns, each on its colour, in order."""
    return [text for line in lines for text, how in line if isinstance(how, Style)]


@pytest.mark.parametrize(("width", "height"), ROOMS)
@pytest.mark.parametrize("plan", [SWATCH, MAT, CUSHION, JUMPER], ids=lambda plan: plan.stem)
def test_every_strand_is_shown_or_counted_and_no_line_is_cut(plan: Path, width: int, height: int) -> None:
    for session in positions(plan)[::4]:
        lines = drawn(session, width, height)
        texts = ["".join(text for text, _ in line) for line in lines]
        more = re.findall(r"(\d+) more", " ".join(texts))
        assert len(lines) <= height
        assert max(map(cell_len, texts), default=0) <= width
        assert len(chips(lines)) + sum(map(int, more)) == len(there(session))
        assert not more or chips(lines)


def test_as_many_as_hang_in_the_cushion_are_all_shown_on_the_usual_screen() -> None:
    most = max((session for session in positions(CUSHION)), key=lambda session: len(there(session)))
    assert len(there(most)) >= 12
    lines = drawn(most, 80, 2)
    symbols = [most.piece.yarn(hang.yarn).symbol for hang in there(most)]
    assert [chip.strip("▏▕") for chip in chips(lines)] == symbols
    text = " ".join("".join(text for text, _ in line) for line in lines)
    assert list(map(int, re.findall(r"\d+", text))) == [abs(hang.away) for hang in there(most) if hang.away]
    assert "in hand" in text


def test_every_chip_has_edges_that_are_seen_on_a_ground_of_its_own_colour() -> None:
    for session in positions(SWATCH)[::9]:
        for width, height in ((80, 2), (99, 14)):
            assert all(re.fullmatch("▏.▕", chip) for chip in chips(drawn(session, width, height)))


def test_those_that_are_left_out_hang_furthest_from_the_hand() -> None:
    most = max((session for session in positions(CUSHION)), key=lambda session: len(there(session)))
    [line] = drawn(most, 40, 1)
    shown = "".join(text for text, _ in line)
    *away, left_out = (int(number) for number in re.findall(r"\d+", shown))
    assert left_out == len(there(most)) - len(chips([line]))
    nearest = sorted(abs(hang.away) for hang in there(most) if hang.away)
    assert sorted(away) == nearest[:len(away)]
