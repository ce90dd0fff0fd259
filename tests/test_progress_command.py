"""``rowside progress export`` and ``import``: from one machine's shelf to another's."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

from the_program import PIER_SIGN, run

from companion.plan.files import MOST_BYTES
from companion.plan.read import load
from companion.progress.actions import Note, On
from companion.progress.shelf import Shelf


def begun(folder: Path, steps: int = 3) -> Shelf:
    """A machine with the pier sign on its needles."""
    folder.mkdir(exist_ok=True)
    plan = folder / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    shelf = Shelf(folder / "data" / "pieces")
    knitting = shelf.resume("Pier sign") if shelf.cards() else shelf.start(load(plan), plan)
    with knitting:
        for _ in range(steps):
            knitting.do(On())
    return shelf


def test_a_piece_goes_to_another_machine_and_its_history_goes_on(tmp_path: Path) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    shelf = begun(here)
    there.mkdir()
    ran = run(here, "progress", "export", "Pier sign", "-o", "../pier.progress", is_fresh=True)
    assert (ran.code, ran.out, ran.err) == (0, "", '../pier.progress holds "Pier sign", 3 steps.\n')
    text = (tmp_path / "pier.progress").read_text(encoding="utf-8")
    assert run(here, "progress", "export", "Pier sign").out == text
    ran = run(there, "progress", "import", "../pier.progress", is_fresh=True)
    assert (ran.code, ran.out, ran.err) == (0, "", '"Pier sign" is on your shelf, with 3 steps.\n')
    begun(here, 1)
    run(here, "progress", "export", "Pier sign", "-o", "../later.progress")
    ran = run(there, "progress", "import", "../later.progress")
    assert ran.code == 2
    assert '"Pier sign" is here, with less done. Go on with the one that has 4 steps?' in ran.err
    ran = run(there, "progress", "import", "../later.progress", "--yes")
    assert (ran.code, ran.err) == (0, '"Pier sign" is on your shelf, with 4 steps.\n')
    assert Shelf(there / "data" / "pieces").contents("Pier sign").entries == shelf.contents("Pier sign").entries
    ran = run(there, "progress", "import", "../pier.progress")
    assert ran.code == 2
    assert '"Pier sign" is on your shelf, and as far on.' in ran.err


def test_it_is_told_how_far_a_piece_is_and_how_long_the_rest_takes(tmp_path: Path) -> None:
    """The pier sign has 20 stitches, too few to know its pace. The sign below is a hundred rows of five, ten seconds
    each, of which sixty are worked: forty are left, 400 seconds."""
    begun(tmp_path)
    ran = run(tmp_path, "progress", "show", "Pier sign", is_fresh=True)
    assert (ran.code, ran.out, ran.err) == (0, "Pier sign: on the needles, 1 of 4 rows, row 2, 2 of 5 sts.\n", "")
    assert json.loads(run(tmp_path, "progress", "show", "Pier sign", "--json").out)["pace"] is None
    plan = tmp_path / "long.yaml"
    head, _, _ = PIER_SIGN.replace("Pier", "Long").partition("rows:\n")
    plan.write_text(f"{head}rows:\n  - repeat: 100\n    chart: |\n      sssss\n", encoding="utf-8")
    at = datetime(2031, 3, 1, 18, tzinfo=UTC)

    def now() -> datetime:
        nonlocal at
        at += timedelta(seconds=10)
        return at

    with Shelf(tmp_path / "data" / "pieces", now).start(load(plan), plan) as knitting:
        for _ in range(60):
            knitting.do(On())
    ran = run(tmp_path, "progress", "show", "long sign")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "Long sign: on the needles, 60 of 100 rows.\n"
        "About 1 min for the next row, about 7 min left, 1800 stitches an hour.\n"
    )
    ran = run(tmp_path, "progress", "show", "Long sign", "--json")
    assert json.loads(ran.out) == {
        "name": "Long sign", "title": "Long sign", "state": "on the needles", "rows": 100, "rows_done": 60,
        "runs_done": 0, "ends_ready": 1, "ends_left": 2, "areas_left": 0, "worked_at": "2031-03-01T18:10:10+00:00",
        "pace": {"stitches_an_hour": 1800, "seconds_to_end_of_row": 10, "seconds_left": 400},
    }  # fmt: skip
    ran = run(tmp_path, "progress", "show", "pier")
    assert (ran.code, ran.out) == (2, "")
    assert 'No piece is called "pier".' in ran.err


def test_a_copy_is_put_in_a_damaged_pieces_place(tmp_path: Path) -> None:
    begun(tmp_path)
    file = tmp_path / "data" / "pieces" / "pier-sign.rowside"
    (tmp_path / "copy").write_bytes(file.read_bytes())
    file.write_bytes(b"torn")
    ran = run(tmp_path, "progress", "restore", "copy", is_fresh=True)
    kept = file.with_name("pier-sign.rowside.damaged-1")
    assert (ran.code, ran.out) == (0, "")
    assert ran.err == f'"Pier sign" is on your shelf, with 3 steps; what was there is kept as "{kept}".\n'
    assert kept.read_bytes() == b"torn"
    ran = run(tmp_path, "progress", "restore", str(kept))
    assert (ran.code, ran.out) == (1, "")
    assert f'"{kept}" is damaged; ' in ran.err
    assert run(tmp_path, "progress", "restore", str(file)).code == 0


def test_whatever_is_exported_can_be_taken_in_however_large(tmp_path: Path) -> None:
    """Larger than any plan may be, and with characters in it that YAML would refuse."""
    here, there = tmp_path / "here", tmp_path / "there"
    shelf = begun(here)
    there.mkdir()
    with shelf.resume("Pier sign") as knitting:
        for _ in range(17):
            knitting.do(Note(1, "\x7f\x85" + "count the pier again, " * 50_000))
    assert run(here, "progress", "export", "Pier sign", "-o", "../large.progress").code == 0
    assert (tmp_path / "large.progress").stat().st_size > MOST_BYTES
    ran = run(there, "progress", "import", "../large.progress")
    assert ran.err == '"Pier sign" is on your shelf, with 20 steps.\n'
    assert Shelf(there / "data" / "pieces").contents("Pier sign").entries == shelf.contents("Pier sign").entries


def test_what_cannot_be_is_told(tmp_path: Path) -> None:
    begun(tmp_path)
    (tmp_path / "there").write_text("mine", encoding="utf-8")
    (tmp_path / "torn").write_text("progress: 1\nname: [\n", encoding="utf-8")
    for words, told in [
        (("export", "Pier"), 'No piece is called "Pier".'),
        (("export", "Pier sign", "-o", "there"), 'There is a file "there" already.'),
        (("import", "nowhere"), 'The file "nowhere" is not there.'),
        (("import", "torn"), "torn:"),
        (("import", "pier.yaml"), "must have the keys progress, name, plans, history."),
    ]:
        ran = run(tmp_path, "progress", *words)
        assert (ran.code, ran.out) == (2, "")
        assert told in ran.err
    assert (tmp_path / "there").read_text(encoding="utf-8") == "mine"
