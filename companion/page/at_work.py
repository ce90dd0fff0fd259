"""The piece at the needles as data for the page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from companion.dialogue.aloud import row_lines
from companion.dialogue.deed import Deed
from companion.dialogue.keys import keys_at_the_needles
from companion.dialogue.marking import Marking
from companion.dialogue.sitting import Sitting
from companion.dialogue.telling import Telling
from companion.knitting import words
from companion.knitting.cloth.areas import stitch_number
from companion.knitting.cloth.colour import ink_on
from companion.knitting.cloth.fabric import Yarn
from companion.knitting.words.for_the_ear import spelled_out_but_quoted
from companion.page.chart import place_on_chart
from companion.progress.typed import row_named

BESIDE = ("on", "back", "row")
"""Deeds that have a button always."""


def at_work(sitting: Sitting, said: str, deeds: Iterable[Deed]) -> dict[str, Any]:
    """Everything that is shown of it. ``said``: what else must be said once."""
    now, session = sitting.telling, sitting.session
    keys = {name: key for key in keys_at_the_needles(session, deeds, now.pressed) for _, name in key.keys}
    is_row_mode = sitting.view.tells_row(now)
    row, once = now.row_of if now.is_in_rows else "", [*filter(None, (sitting.notice, said, *sitting.pace[:1]))]
    return {
        "title": session.piece.title,
        "row": row, "side": now.side_in_large, "side_in_words": now.side,
        "look_only": words.sentence(words.LOOK_ONLY) if sitting.knitting.is_look_only else "",
        "facts": [*filter(None, (now.needle, now.height, now.ready))],
        "acts": [
            {"text": act.text, "stitches": act.stitches, "is_main": act.is_main, "yarns": [*map(_chip, act.yarns)]}
            for act in (now.row_acts if is_row_mode else now.acts)
        ],
        "is_row": is_row_mode, "sentence": "" if is_row_mode else now.full,
        "rule": now.rule if now.act == "run" else "",
        "notices": [*once, *filter(None, [now.note])], "heard": _heard(sitting, once, row),
        "runs": [*_runs(now)], "end": [*_end(now)], "is_turn": now.is_turn,
        "buttons": {name: {"title": _title(deeds, name), "can": keys[name].is_possible} for name in BESIDE},
        "on": _title(deeds, "row") if is_row_mode else now.pressed,
        "strands": [f"{words.hanging_at(hang)}: {now.place_of(hang)}" for hang in now.hanging],
        "chart": place_on_chart(now),
    }  # fmt: skip


def _heard(sitting: Sitting, once: Iterable[str], row: str) -> str:
    """All that is read out: what must be said ``once``, the note as it was typed, where she is and what is to be done
    now."""
    aloud = Telling(sitting.session, sitting.terms._replace(is_aloud=True), sitting.saying)
    where = f"{row}, {sitting.telling.side}." if row else ""
    to_do = row_lines(aloud) if sitting.view.tells_row(aloud) else [aloud.short]
    return " ".join(filter(None, [*map(spelled_out_but_quoted, once), aloud.note, where, *to_do]))


def _title(deeds: Iterable[Deed], name: str) -> str:
    return next(deed.title for deed in deeds if deed.name == name)


def _chip(yarn: Yarn) -> dict[str, str]:
    """A yarn's name, and on which colour in which ink."""
    return {"name": yarn.name, "colour": yarn.colour, "ink": ink_on(yarn.colour)}


def _runs(now: Telling) -> Iterator[dict[str, Any]]:
    """The runs of the row in work, in working order."""
    if now.act not in ("run", "row end"):
        return
    for told, change in zip(now.runs, now.changes, strict=True):
        state = "now" if told.is_done is None else "done" if told.is_done else "to come"
        yield {"state": state, "work": told.work, "yarn": _chip(told.yarn), "change": change}


def _end(now: Telling) -> Iterator[str]:
    """What stands at the row's end."""
    if not now.session.is_bound_off:
        yield now.end_lead
        yield from now.end


def marked(marking: Marking) -> str:
    """Which stitch is meant, and how many are marked."""
    session, cell = marking.session, marking.at
    number = stitch_number(session.piece.fabric, cell)
    stitch = session.rows[cell.row].stitch_at(cell.column)
    row = f"{words.rows_noun(session.rows).capitalize()} {row_named(cell.row + 1, session.rows)}"
    yarn = f", {stitch.yarn}" if stitch else ""
    wrong = ", marked as wrong" if cell.column in marking.columns else ""
    return f"{row}, stitch {number} from the right{yarn}{wrong}"
