"""A demo is worked to its finish on a page with the journal of the keys but for times. What is asked on the way,
``tests/dialogue/test_every_front_end.py`` has answered."""

from __future__ import annotations

import shutil
from pathlib import Path

from companion.plan.read import load
from companion.progress.actions import AtRow, Weave
from companion.progress.ends import all_ends
from companion.settings import Settings
from tests.dialogue.test_same_journal import (
    DEMOS,
    at_a_keyboard,
    journal,
    to_the_finish,
)
from tests.page.at_page import as_presses, page_of, play
from tests.screens.at_the_needles import shelf, work

DEMO = "ferry-jumper-front"
LAST_ROWS = 4


def take_up_late(home: Path, plan: Path) -> None:
    """A piece with few rows to come, and few ends."""
    with shelf(home).start(load(plan), plan) as knitting:
        work(knitting, AtRow(len(knitting.session.rows) - LAST_ROWS))
        work(knitting, *(Weave(end) for end, state in all_ends(knitting.session) if state == "ready"))


def test_a_page_works_a_demo_of_several_parts_to_its_finish_with_the_journal_of_the_keys(tmp_path: Path) -> None:
    by_keys, by_page = tmp_path / "by_keys", tmp_path / "by_page"
    take_up_late(by_keys, DEMOS[DEMO])
    shutil.copytree(by_keys, by_page)
    keys = [key for those in to_the_finish(at_a_keyboard(by_keys, DEMOS[DEMO])) for key in those]
    again = tmp_path / "again"
    shutil.copytree(by_page, again)
    with page_of(by_page, DEMOS[DEMO], Settings()) as page:
        play(page, as_presses(at_a_keyboard(again, DEMOS[DEMO]), keys))
        assert page.state["work"]["sentence"].startswith("Finished: bound off")
    assert journal(by_page) == journal(by_keys)
