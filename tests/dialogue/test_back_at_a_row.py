"""What the hands hold at a row's start when one comes back to it, and what is said once work is undone.

How stitches are unpicked, and how those of a ripped row sit on the needle, is common practice, no source.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.keys import keys_at_the_needles
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import look
from companion.dialogue.questions import YesNo
from companion.plan.read import load
from companion.settings import Settings
from tests.dialogue.keyboard import Keyboard
from tests.dialogue.test_same_journal import at_a_keyboard
from tests.plan.plans import HEAD
from tests.screens.at_the_needles import JUMPER, SWATCH, begun, shelf

HOW = (
    "Unpick stitch by stitch: the left needle goes from the front into the stitch below the first one on the right "
    "needle, that one slips off, and its strand is pulled out."
)


def acts(board: Keyboard) -> list[str]:
    """What stands in large letters."""
    return [act.text for act in board.sitting.telling.acts]


def at_its_end(board: Keyboard) -> str:
    """What stands at the row's end."""
    telling = board.sitting.telling
    return " ".join([telling.end_lead, *telling.end])


def asked(board: Keyboard) -> tuple[str, ...]:
    """What a question says."""
    assert isinstance(board.top.request, YesNo)
    return board.top.request.text


def leave(board: Keyboard) -> None:
    """Stop for today."""
    board.press("q")
    if board.open:
        board.press("y")


def test_the_work_is_turned_when_a_row_was_just_worked(tmp_path: Path) -> None:
    begun(tmp_path, row=2)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("space")
    assert acts(board) == ["TURN", "KNIT"]
    assert at_its_end(board).endswith("Turn, the needle's tip away from you.")


def test_who_comes_back_to_a_rows_start_holds_it_turned(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = at_a_keyboard(tmp_path, SWATCH)
    assert acts(board) == ["KNIT"]
    counted = "Row 2 is done. 24 stitches must be on the needle."
    assert at_its_end(board) == f"{counted} It is turned, right side toward you."
    board.press("space")
    assert acts(board) == ["TURN", "KNIT"], "the next one has to be made"
    board.press("backspace")
    assert acts(board) == ["KNIT"], "nothing was worked, so she holds it as when she came back"
    board.press("n", *"loose", "enter")
    assert acts(board) == ["KNIT"], "a note moves no hand"


def test_unpicking_to_a_rows_start_leaves_it_turned_and_says_where_the_hands_are(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("space", "space", "u")
    assert acts(board) == ["KNIT"]
    where = "Row 4, wrong side toward you: 24 stitches on the left needle; take the shell in hand."
    assert board.sitting.notice == f"{HOW} {where}"
    assert board.sitting.telling.full.startswith("Take the shell in hand. Knit 24")
    board.press("space", "u")
    assert board.sitting.notice == where, "how is said once in a sitting"


def test_unpicking_in_mid_row_says_what_is_on_which_needle(tmp_path: Path) -> None:
    begun(tmp_path, row=19, runs=2)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("u")
    assert board.sitting.notice.startswith(f"{HOW} Row 19, right side toward you. ")
    assert "TURN" not in acts(board)


def test_who_unpicks_behind_a_rows_start_that_was_held_turned_turns_back_first(tmp_path: Path) -> None:
    begun(tmp_path, row=20)
    board = at_a_keyboard(tmp_path, SWATCH, Settings(say="short"))
    board.press("u")
    assert board.sitting.notice.startswith("Turn the work back first. Row 19, right side toward you. ")
    board.press("space", "u")
    assert board.sitting.notice.startswith("Row 19, "), "it was not turned yet"


@pytest.mark.parametrize(("row", "side"), [("1", "wrong"), ("2", "right")])
def test_ripping_back_says_on_which_needle_the_stitches_go_and_leaves_them_turned(
    tmp_path: Path, row: str, side: str
) -> None:
    begun(tmp_path, row=7)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("r", *row, "enter")
    told = (
        f"Pull the strands out. 24 stitches must be left: they go on the left needle, {side} side toward you, each "
        "with its right leg in front."
    )
    assert told in asked(board)
    board.press("y")
    assert acts(board) == ["KNIT"]
    assert board.sitting.notice == (
        f"Row {int(row) + 1}, {side} side toward you: 24 stitches on the left needle; take the shell in hand."
    )


def test_a_cast_on_that_is_left_is_not_told_to_be_cast_on(tmp_path: Path) -> None:
    begun(tmp_path, row=4)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("r", "0", "enter", "y")
    assert acts(board) == ["KNIT"]
    assert board.sitting.telling.full == "Take the shell in hand. Knit 24 in shell."
    leave(board)
    again = at_a_keyboard(tmp_path, SWATCH)
    assert acts(again) == ["KNIT"]
    again.press("backspace")
    again.press("r", "0", "enter", "y", "space", "u")
    assert acts(again) == ["KNIT"]
    new = at_a_keyboard(tmp_path / "new", SWATCH)
    new.press("n", *"knot", "enter")
    assert acts(new)[0] == "CAST ON 24"


def test_a_left_handed_knitter_puts_them_on_the_other_needle(tmp_path: Path) -> None:
    shelf(tmp_path).start(load(SWATCH), SWATCH, is_mirrored=True).close()
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("w", "w", "r", "1", "enter")
    assert "they go on the right needle, wrong side toward you, each with its left leg in front." in (
        asked(board)[1]
    )
    board.press("y", "space", "u")
    assert board.sitting.notice.startswith("Unpick stitch by stitch: the right needle goes from the front into")


def test_who_says_at_which_rows_start_she_is_holds_it_turned(tmp_path: Path) -> None:
    begun(tmp_path, row=2)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("g", "4", "enter")
    assert acts(board) == ["KNIT"]


def test_what_is_done_at_a_rows_end_is_done_before_the_turn_also_after_coming_back(tmp_path: Path) -> None:
    begun(tmp_path, row=19)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("w")
    while board.sitting.session.act is None:
        board.press("w")
    leave(board)
    again = at_a_keyboard(tmp_path, SWATCH)
    assert again.sitting.session.act is not None
    while again.sitting.session.act is not None:
        again.press("space")
    assert acts(again)[0] == "TURN"


def test_a_mistake_that_is_ripped_down_to_is_held_to_be_unpicked(tmp_path: Path) -> None:
    begun(tmp_path, row=8)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("x", "end", "enter", "down", "down", "enter", "enter", "end", "enter")
    assert board.sitting.session.rows_done == 6
    assert board.sitting.notice.startswith(
        "24 stitches must be left: they go on the right needle, wrong side toward you, each with its right leg in "
        "front. Now unpick "
    )
    assert "TURN" in acts(board), "only what is unpicked next lies before it"


@pytest.mark.parametrize("sides", ["flat", "round"])
def test_the_strand_is_taken_in_hand_only_where_another_one_was(tmp_path: Path, sides: str) -> None:
    plan = tmp_path / "quay.yaml"
    plain = "  - plain: {rows: 5, stitches: 8, yarn: sand}\n"
    plan.write_text(f"{HEAD}rows:\n{plain}    worked: {sides}\n", encoding="utf-8")
    board = at_a_keyboard(tmp_path, plan)
    board.press("space")
    assert board.sitting.telling.full == ("Purl 8 in sand." if sides == "flat" else "Knit 8 in sand.")
    leave(board)
    again = at_a_keyboard(tmp_path, plan)
    assert again.sitting.telling.full.startswith("Take the sand in hand. ")
    again.press("u")
    assert ("Turn the work back" in again.sitting.notice) == (sides == "flat")


def test_ripping_back_over_a_part_asks_for_its_bind_off_and_the_divide_again(tmp_path: Path) -> None:
    """The right part's 14 rows go first; what was done at their end, and where the piece divides, is undone, too."""
    begun(tmp_path, JUMPER, row=101)
    board = at_a_keyboard(tmp_path, JUMPER)
    board.press("r", *"right", "space", *"14", "enter")
    assert "Undo the bind-off of the right part; put the stitches of the left part on a holder." in asked(board)
    board.press("y")
    assert acts(board) == ["BIND OFF 14"]
    board.press("space")
    assert acts(board)[0] == "TAKE UP"
    board.press("r", *"84", "enter", "y")
    assert acts(board)[0] == "DIVIDE"
    board.press("space")
    assert acts(board) == ["KNIT"], "held turned it was divided"


@pytest.mark.parametrize(("row", "said"), [
    (3, ""),  # row 2, a wrong-side row, is done: a good place
    (4, "The best place to stop is after wrong-side row 4, 24 stitches from here."),
])
def test_who_stops_at_a_rows_start_is_told_of_a_better_place(tmp_path: Path, row: int, said: str) -> None:
    begun(tmp_path, row=row)
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("q")
    assert (asked(board)[0] if board.open else "") == said


def test_who_stops_at_a_rows_end_is_told_what_must_be_done_there_with_this_side_facing(tmp_path: Path) -> None:
    begun(tmp_path, row=27)
    board = at_a_keyboard(tmp_path, SWATCH, Settings(offer_at=0))
    board.press("w", "q")
    assert asked(board)[0] == "Row 27 is done; before you stop: cut 2."
    board.press("n", "space", "q")
    assert asked(board)[0].startswith("The best place to stop")
    begun(tmp_path / "light", row=4)
    light = at_a_keyboard(tmp_path / "light", SWATCH)
    light.press("space")
    assert acts(light) == ["HAVE READY"]
    light.press("q")
    assert not light.open, "new yarn can be had ready next time"


def test_nobody_is_told_where_to_stop_before_the_first_stitch_and_after_the_last(tmp_path: Path) -> None:
    board = at_a_keyboard(tmp_path, SWATCH)
    board.press("q")
    assert not board.open
    begun(tmp_path / "worked", row=33)
    done = at_a_keyboard(tmp_path / "worked", SWATCH, Settings(offer_at=0))
    done.press("q")
    assert not done.open


@pytest.mark.parametrize("key", ["r", "g", "n", "x", "space", "u", "backspace", "w"])
def test_who_may_only_look_is_told_so_at_once_whatever_she_wants_to_do(tmp_path: Path, key: str) -> None:
    begun(tmp_path, row=9, runs=1)
    knitter = Knitter()
    board = Keyboard(knitter, look(knitter, shelf(tmp_path), SWATCH, "Harbour practice swatch"))
    board.sitting.notice = ""
    board.press(key)
    assert board.top.request is board.sitting, "nothing is asked"
    assert board.sitting.notice == "Opened for looking only."


def kept(board: Keyboard) -> list[str]:
    """The words of the keys that stand on the working screen however small it is."""
    return [told.word for told in keys_at_the_needles(board.sitting.session) if told.is_kept]


def test_the_key_to_the_ends_is_kept_where_some_are_ready(tmp_path: Path) -> None:
    board = at_a_keyboard(tmp_path, SWATCH)
    assert kept(board) == ["keys", "quit"]
    begun(tmp_path / "later", row=20)
    later = at_a_keyboard(tmp_path / "later", SWATCH)
    assert later.sitting.telling.ready == "2 ends ready"
    assert kept(later) == ["ends", "keys", "quit"]


def test_at_a_rows_end_it_is_said_which_key_marks_done(tmp_path: Path) -> None:
    begun(tmp_path, row=27)
    board = at_a_keyboard(tmp_path, SWATCH, Settings(keys={"on": ("j",)}))
    board.press("w")
    telling = board.sitting.telling
    assert telling.end == telling.end_in_short == ("Press j, then: turn.",)
    assert telling.pressed == "done"
    board.press("j")
    assert board.sitting.telling.pressed == ""
