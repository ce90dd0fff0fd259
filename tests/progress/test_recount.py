"""What a journal tells of how a piece was worked, counted by hand; and pieces sent in as files, shown without being
taken in."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from the_program import PIER_SIGN, run

from companion.plan.read import load
from companion.progress.actions import Action, AtRow, Back, Note, On, RipBack, TrapTails, Unpick
from companion.progress.recount import Recount, recount
from companion.progress.shelf import Shelf

START = datetime(2031, 3, 1, 18, tzinfo=UTC)


def work(folder: Path, deeds: Sequence[tuple[int, Action]]) -> Shelf:
    """A machine on which the pier sign was begun and these were done, each so many seconds after the one before."""
    folder.mkdir(exist_ok=True)
    plan = folder / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    at = START
    shelf = Shelf(folder / "data" / "pieces", lambda: at)
    with shelf.start(load(plan), plan) as knitting:
        for seconds, deed in deeds:
            at += timedelta(seconds=seconds)
            knitting.do(deed)
    return shelf


def told(folder: Path, *deeds: Action, seconds: Sequence[int] = ()) -> Recount:
    """What is told of it; a minute for each, or so many ``seconds``."""
    shelf = work(folder, list(zip(seconds or [60] * len(deeds), deeds, strict=True)))
    kept = shelf.contents("Pier sign")
    return recount("Pier sign", shelf.resume("Pier sign", look_only=True).session, kept.entries, kept.times)


def test_runs_unpicked_are_counted_but_for_those_taken_back(tmp_path: Path) -> None:
    """Row 1 and two runs of row 2; both are unpicked, one of the two times by mistake."""
    found = told(tmp_path, AtRow(2), On(), On(), Unpick(), Unpick(), Back(), On())
    assert (found.unpicked, found.rips, found.ripped) == (1, 0, 0)
    assert (found.card.rows_done, found.card.runs_done) == (1, 2)


def test_rows_ripped_back_are_counted_one_begun_as_one(tmp_path: Path) -> None:
    """Rows 1 and 2 and a run of row 3: back to row 1 undoes two rows. Row 2 again: back to row 1 undoes one. Then two
    runs of row 2 are unpicked, so that nothing of it is left, and back to the cast-on undoes row 1 alone."""
    first = told(tmp_path / "a", AtRow(3), On(), RipBack(1))
    assert (first.rips, first.ripped) == (1, 2)
    second = told(tmp_path / "b", AtRow(3), On(), RipBack(1), AtRow(3), RipBack(1))
    assert (second.rips, second.ripped) == (2, 3)
    third = told(tmp_path / "c", AtRow(2), On(), On(), Unpick(), Unpick(), RipBack(0))
    assert (third.unpicked, third.rips, third.ripped) == (2, 1, 1)
    taken_back = told(tmp_path / "d", AtRow(3), On(), RipBack(1), Back())
    assert (taken_back.rips, taken_back.ripped, taken_back.card.rows_done) == (0, 0, 2)


def test_rows_ripped_back_twice_in_a_row_are_counted_each_from_where_the_other_left_off(tmp_path: Path) -> None:
    found = told(tmp_path, AtRow(4), RipBack(2), RipBack(0))
    assert (found.rips, found.ripped) == (2, 3)


def test_a_setting_is_not_what_is_taken_back(tmp_path: Path) -> None:
    found = told(tmp_path, AtRow(2), On(), Unpick(), TrapTails(True), Back())
    assert (found.unpicked, found.card.runs_done) == (0, 1)


def test_minutes_are_those_between_steps_without_a_pause(tmp_path: Path) -> None:
    """Five minutes count, a second more is a pause; what was taken back took its time. 300 + 40 + 50 + 30 s are 7
    minutes."""
    found = told(tmp_path, On(), On(), On(), Back(), On(), seconds=[300, 40, 301, 50, 30])
    assert (found.seconds, found.minutes) == (420, 7)


def test_notes_stand_with_their_rows_and_one_that_was_emptied_is_none(tmp_path: Path) -> None:
    found = told(tmp_path, AtRow(2), Note(2, "loose"), Note(1, "tight"), Note(2, ""), AtRow(3), Note(3, "low"))
    assert [(row.number, text) for row, text in found.notes] == [(1, "tight"), (3, "low")]


def test_pieces_sent_in_are_a_table_and_are_not_taken_in(tmp_path: Path) -> None:
    """Alma is in row 2, which she ripped back once and of which she then unpicked two runs; Bero has worked all four
    rows. Either has three strands, two of sand and one of brick, so six ends."""
    noted = Note(2, "too [tight] \x1b[31m")
    deeds = AtRow(2), On(), RipBack(1), AtRow(3), Unpick(), Unpick(), noted
    alma = work(tmp_path / "alma", [(60, deed) for deed in deeds])
    bero = work(tmp_path / "bero", [(120, AtRow(4)), (60, On())])
    for shelf, name in ((alma, "alma"), (bero, "bero")):
        assert shelf.cards()
        run(tmp_path / name, "progress", "export", "Pier sign", "-o", f"../{name}.json")
    ran = run(tmp_path, "progress", "show", "alma.json", "bero.json")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "Pier sign\n"
        "Piece      Rows    Unpicked  Ripped back  Minutes  Ends left\n"
        "alma.json  1 of 4  2 runs    1 row        7        6\n"
        "bero.json  worked                         3        6\n"
        "alma.json, row 2: too [tight] <001B>[31m\n"
    )
    assert run(tmp_path, "progress", "show", "alma.json", COLUMNS="30").out.splitlines()[1:4] == [
        "alma.json", "  Rows: 1 of 4", "  Unpicked: 2 runs",
    ]  # fmt: skip
    assert run(tmp_path, "pieces", "--json").value == []
    first, second = run(tmp_path, "progress", "show", "alma.json", "bero.json", "--json").value
    assert (first["file"], first["name"], first["rows_done"], first["runs_done"]) == ("alma.json", "Pier sign", 1, 1)
    assert (first["unpicked"], first["ripped_back"], first["rows_ripped"], first["minutes"]) == (2, 1, 1, 7)
    assert first["notes"] == [{"part": "", "row": 2, "text": "too [tight] \x1b[31m"}]
    assert (second["state"], second["minutes"], second["notes"]) == ("worked", 3, [])


def test_a_file_that_is_no_piece_is_told_by_itself_and_the_others_are_shown(tmp_path: Path) -> None:
    work(tmp_path, [(60, On())])
    run(tmp_path, "progress", "export", "Pier sign", "-o", "good.json")
    good = (tmp_path / "good.json").read_text(encoding="utf-8")
    (tmp_path / "torn.json").write_text(good.replace('["Worked",0,0', '["Worked",0,7'), encoding="utf-8")
    (tmp_path / "bytes.json").write_bytes(b"\xff\xfe\x00")
    names = ["torn.json", "bytes.json", "good.json", "Pier sign", "gone.json", "nobody"]
    ran = run(tmp_path, "progress", "show", *names)
    assert ran.code == 2
    assert [line.split()[0] for line in ran.out.splitlines()] == ["Pier", "Piece", "good.json", "Pier"]
    assert "torn.json:" in ran.err
    assert "cannot have happened like that" in ran.err
    assert 'gone.json  The file "gone.json" is not there.' in ran.err
    assert 'No piece is called "nobody".' in ran.err
    assert "bytes.json:1:1  The file is not UTF-8 text" in ran.err
    ran = run(tmp_path, "progress", "show", "torn.json", "gone.json", "--json")
    assert (ran.code, json.loads(ran.out)) == (2, [])


def test_a_piece_whose_name_looks_like_a_file_is_still_that_piece(tmp_path: Path) -> None:
    plan = tmp_path / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    with Shelf(tmp_path / "data" / "pieces").start(load(plan), plan, "Pier 1.5"):
        pass
    ran = run(tmp_path, "progress", "show", "pier 1.5")
    assert (ran.code, ran.out, ran.err) == (0, "Pier 1.5: not begun, 0 of 4 rows.\n", "")


def test_pieces_with_other_names_are_told_by_them(tmp_path: Path) -> None:
    work(tmp_path, [(60, On())])
    run(tmp_path, "progress", "export", "Pier sign", "-o", "a.json")
    text = (tmp_path / "a.json").read_text(encoding="utf-8").replace('name: "Pier sign"', 'name: "Quay\\u202e"')
    (tmp_path / "b.json").write_text(text, encoding="utf-8")
    out = run(tmp_path, "progress", "show", "a.json", "b.json").out
    assert [line.split("  ")[1] for line in out.splitlines()] == [" Name", "Pier sign", "Quay<202E>"]
