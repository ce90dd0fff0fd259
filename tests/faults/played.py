"""The app played at random: keys one by one and all at once, clicks, the wheel, a window of another size. Nothing but
leaving it ends it, and what is saved can be opened again.

Run by hand for many rounds: ``python -m tests.faults.played 300``.
"""

from __future__ import annotations

import asyncio
import os
import sys
import tempfile
import time
import traceback
from functools import partial
from pathlib import Path
from random import Random

from textual import events
from textual.pilot import Pilot

from companion.dialogue.basket import BasketList
from companion.dialogue.deeds import DEEDS
from companion.dialogue.knitter import Knitter
from companion.dialogue.opening import open_plan
from companion.dialogue.questions import Asking, show
from companion.plan.demo import demo_plans
from companion.plan.read import load
from companion.progress.actions import AtRow, On
from companion.progress.deciding import allowed
from companion.progress.shelf import Shelf
from companion.screens.app import RowsideApp

DEED_KEYS = [key for deed in DEEDS for key in deed.keys if deed.name != "quit"]
OTHER_KEYS = ["enter", "escape", "up", "down", "left", "right", "home", "end", "tab", *"0123456789yq", "ctrl+p"]
CHART_KEYS = ["up", "left", "right", "down", "c", "z", "m", "h"]
CHARACTERS = {"space": " ", "comma": ",", "question_mark": "?", "enter": "\r", "tab": "\t"}
MOVES = 60


async def _play(app: RowsideApp, pilot: Pilot[None], dice: Random) -> list[str]:
    """Random moves, told so that they can be made again."""
    told = []
    for _ in range(MOVES):
        if not app.is_running or app._exception is not None:
            break
        kind = dice.choices(("keys", "burst", "size", "click", "wheel"), (30, 12, 4, 4, 2))[0]
        if kind in ("keys", "burst"):
            pool = dice.choice((DEED_KEYS, DEED_KEYS, OTHER_KEYS, CHART_KEYS))
            keys = [dice.choice(pool)] * dice.randrange(1, 4) + [dice.choice(OTHER_KEYS)] * dice.randrange(3)
            told.append(f"{kind} {' '.join(keys)}")
            if kind == "keys":
                await pilot.press(*keys)
            else:
                for key in keys:
                    app.post_message(events.Key(key, CHARACTERS.get(key, key if len(key) == 1 else None)))
        elif kind == "size":
            size = dice.randrange(10, 210), dice.randrange(5, 61)
            told.append(f"size {size}")
            await pilot.resize_terminal(*size)
        else:
            at = dice.randrange(app.size.width), dice.randrange(app.size.height)
            told.append(f"{kind} {at}")
            if kind == "click":
                await pilot.click(offset=at)
            else:
                moved = dice.choice((events.MouseScrollUp, events.MouseScrollDown))
                app.post_message(moved(None, *at, 0, 0, 0, False, False, False))
        await pilot.pause(dice.choice((None, None, 0.01)))
    return told


async def played(home: Path, seed: int) -> None:
    """One round on a shelf of its own. Whatever ends the app is raised, with the moves that led there."""
    dice, shelf = Random(seed), Shelf(home / "pieces")
    plan = dice.choice(demo_plans())
    with shelf.start(load(plan), plan) as piece:
        row = dice.randrange(1, len(piece.session.rows) + 2)
        if row > 1:
            piece.do(AtRow(row))
        for _ in range(dice.randrange(3)):
            if On in allowed(piece.session):
                piece.do(On())

    def basket(knitter: Knitter) -> Asking[None]:
        return show(BasketList(knitter, shelf, home, demo_plans()))

    app = RowsideApp(dice.choice((basket, partial(open_plan, shelf=shelf, plan=plan))))
    told = [f"seed {seed}: {plan.stem}, row {row}"]
    try:
        async with app.run_test(size=(dice.randrange(40, 140), dice.randrange(15, 50))) as pilot:
            await pilot.pause()
            told += await _play(app, pilot, dice)
    except BaseException as error:
        error.add_note("; ".join(told))
        raise
    shelf.resume(piece.name, look_only=True)


def main(number: int, seed: int) -> None:
    """So many rounds, and every one that ended badly."""
    bad = 0
    for at in range(seed, seed + number):
        with tempfile.TemporaryDirectory() as home:
            os.environ["ROWSIDE_HOME"] = home
            try:
                asyncio.run(played(Path(home), at))
            except Exception as error:
                bad += 1
                print("".join(traceback.format_exception(error))[-3000:], flush=True)
    print(f"{number} rounds from seed {seed}: {bad} bad")


if __name__ == "__main__":
    main(int(sys.argv[1]), time.time_ns() % 1_000_000)
