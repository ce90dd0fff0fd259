"""The shelf: pieces side by side, each at the stitch where it was left, whatever the others' files hold."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from plans_on_disk import BEGUN, QUAY, history, plan, resume, shelf, start, state

from companion.knitting.strands.limits import Carry
from companion.plan.read import load, load_text
from companion.progress import folders
from companion.progress.actions import AtRow, Back, BindOff, Finish, Note, On, Refused, RipBack, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.progress.journal import Journal, read
from companion.progress.shelf import LookOnly, NameTaken, NoSuchPiece, Shelf
from companion.progress.trouble import Trouble


def test_a_piece_is_taken_up_at_the_stitch_where_it_was_left(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(3))
        knitting.do(On())
        knitting.do(On())
        knitting.do(Note(2, "the harbour light begins here"))
        left = history(knitting.session)
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == left
        assert (knitting.session.row, knitting.session.done) == (2, 2)
        assert not knitting.is_look_only
        assert (knitting.opened_plan.kind, knitting.opened_plan.sentence) == ("unchanged", "")


def test_what_is_done_is_on_the_disk_before_do_returns(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        for n in range(2, 8):
            knitting.do(On())
            assert len(read(tmp_path / "pieces" / "quay.rowside").entries) == n


def test_an_action_that_is_refused_writes_nothing(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        before = state(knitting.session)
        with pytest.raises(Refused):
            knitting.do(BindOff())
        assert state(knitting.session) == before
        assert len(read(tmp_path / "pieces" / "quay.rowside").entries) == 1


def test_limits_too_wide_to_be_weighed_are_refused_and_no_piece_is_begun(tmp_path: Path) -> None:
    wide = load_text(
        "plan: 1\ntitle: Quay\ngauge: {stitches: 20, rows: 28}\nyarns: {sand: {colour: tan}, ink: {colour: black}}\n"
        "symbols: {s: sand, i: ink}\nrows: [{chart: si, across: 1000, repeat: 4}]\n", "wide.yaml", {},
    )  # fmt: skip
    with pytest.raises(Refused, match="too many ways for the strands of this piece"):
        Shelf(tmp_path).start(wide, tmp_path / "wide.yaml", limits=Carry(3, 2000))
    assert Shelf(tmp_path).cards() == ()


def test_a_step_that_cannot_be_saved_is_not_done(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(On())
        before, card = knitting.session, knitting.card
        (tmp_path / "pieces" / "quay.rowside").unlink()
        with pytest.raises(Trouble):
            knitting.do(On())
        assert knitting.session is before
        assert knitting.card is card


def test_the_card_tells_how_far_the_piece_is(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        assert (knitting.card.state, knitting.card.rows_done, knitting.card.rows) == ("not begun", 0, 6)
        assert knitting.card.ends_left == 2 * len(knitting.session.strands.first)
        knitting.do(WholeRow())
        knitting.do(On())
        card = knitting.card
        assert (card.state, card.rows_done, card.runs_done) == ("on the needles", 1, 1)
        assert card.worked_at == BEGUN + timedelta(minutes=2)
        knitting.do(AtRow(7))
        assert (knitting.card.state, knitting.card.rows_done, knitting.card.runs_done) == ("worked", 6, 0)
        knitting.do(BindOff())
        assert (knitting.card.state, knitting.card.ready_ends) == ("bound off", knitting.card.ends_left)
        for end, _ in all_ends(knitting.session):
            knitting.do(Weave(end))
        assert (knitting.card.state, knitting.card.ready_ends, knitting.card.ends_left) == ("bound off", 0, 0)
        knitting.do(Finish())
        knitting.do(Finish())
        assert (knitting.card.state, knitting.card.ready_ends, knitting.card.ends_left) == ("finished", 0, 0)
        assert shelf(tmp_path).cards() == (knitting.card,)


def test_an_empty_shelf_has_no_cards_and_is_not_made_by_looking(tmp_path: Path) -> None:
    assert shelf(tmp_path).cards() == ()
    assert shelf(tmp_path).find(tmp_path / "quay.yaml") == ()
    with pytest.raises(NoSuchPiece, match='No piece is called "Quay"\\.'):
        shelf(tmp_path).resume("Quay")
    assert list(tmp_path.iterdir()) == []


def test_the_shelfs_folder_is_for_its_owner_alone(tmp_path: Path) -> None:
    start(tmp_path).close()
    if sys.platform != "win32":
        assert (tmp_path / "pieces").stat().st_mode & 0o777 == 0o700


def test_several_knits_of_one_plan_are_separate_named_pieces(tmp_path: Path) -> None:
    path = plan(tmp_path)
    on_shelf = shelf(tmp_path)
    for name in (None, None, "For Ida", None):
        with on_shelf.start(load(path), path, name) as knitting:
            knitting.do(On())
    with on_shelf.resume("quay 2") as knitting:
        assert knitting.name == "Quay 2"
        knitting.do(WholeRow())
    cards = on_shelf.find(path)
    assert [(card.name, card.rows_done) for card in cards] == [
        ("Quay 2", 1), ("Quay 3", 0), ("For Ida", 0), ("Quay", 0)
    ]
    assert {card.title for card in cards} == {"Quay"}
    assert on_shelf.find(tmp_path / "mole.yaml") == ()


def test_a_plan_is_found_by_any_way_to_its_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    start(tmp_path).close()
    (tmp_path / "sub").mkdir()
    monkeypatch.chdir(tmp_path)
    for way in (Path("quay.yaml"), Path("sub/../quay.yaml"), tmp_path / "quay.yaml"):
        assert [card.name for card in shelf(tmp_path).find(way)] == ["Quay"]


def test_a_name_is_given_once_capitals_apart(tmp_path: Path) -> None:
    start(tmp_path).close()
    with pytest.raises(NameTaken, match='Another piece is called "QUAY"\\.'):
        start(tmp_path, name=" QUAY ")
    assert [card.name for card in shelf(tmp_path).cards()] == ["Quay"]


def test_names_alike_but_for_signs_lie_in_files_of_their_own(tmp_path: Path) -> None:
    names = ["Quay!", "quay?", "Кай", "Причал", "CON", "x" * 90, "x" * 91, "\x1b[31m[red]", "../../up", "a\nb"]
    for name in names:
        start(tmp_path, name=name).close()
    files = [found.stem for found in (tmp_path / "pieces").glob("*.rowside")]
    assert len({stem.casefold() for stem in files}) == len(names)
    assert all(set(stem) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and len(stem) < 60 for stem in files)
    assert "con" not in files
    for card in shelf(tmp_path).cards():
        assert card.name.isprintable()
        with resume(tmp_path, card.name) as knitting:
            assert knitting.name == card.name


def test_limits_may_differ_from_the_plans(tmp_path: Path) -> None:
    path = plan(tmp_path)
    with shelf(tmp_path).start(load(path), path, limits=Carry(0)) as knitting:
        knitting.do(On())
        strands = knitting.session.strands.strand_of
    with resume(tmp_path) as knitting:
        assert knitting.session.limits == Carry(0)
        assert knitting.session.strands.strand_of == strands
        assert knitting.session.piece.carry == Carry(3)


def test_a_damaged_file_is_a_card_that_says_so_and_costs_no_other_piece(tmp_path: Path) -> None:
    start(tmp_path).close()
    bad = tmp_path / "pieces" / "mole.rowside"
    bad.write_bytes(b"garbage" * 1000)
    newer = tmp_path / "pieces" / "pier.rowside"
    start(tmp_path, name="Pier").close()
    with closing(sqlite3.connect(newer)) as db:
        db.execute("PRAGMA user_version = 99")
    cards = {card.name: card for card in shelf(tmp_path).cards()}
    assert shelf(tmp_path).cards()[0].name == "Quay"
    assert cards["Quay"].trouble == ""
    assert (cards["mole"].state, cards["pier"].state) == ("damaged", "cannot be opened")
    assert cards["mole"].trouble.startswith(f'"{bad}" is damaged;')
    with pytest.raises(Trouble, match="is damaged"):
        resume(tmp_path, "mole")
    with pytest.raises(Trouble, match="newer version"):
        resume(tmp_path, "pier")
    resume(tmp_path).close()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_what_is_no_regular_file_is_passed_over(tmp_path: Path) -> None:
    start(tmp_path).close()
    os.mkfifo(tmp_path / "pieces" / "pipe.rowside")
    (tmp_path / "pieces" / "folder.rowside").mkdir()
    assert [card.name for card in shelf(tmp_path).cards()] == ["Quay"]


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM plan",
        "UPDATE entry SET events = '[[\"Worked\",0,0,\"sand\",4,1]]' WHERE seq = 0",
        "UPDATE entry SET events = '[[\"Planned\",7,[3,0,0,false],[[1]]]]' WHERE seq = 1",
        "UPDATE entry SET events = '[[\"Noted\",0,\"x\"],[\"WentBack\"]]' WHERE seq = 1",
    ],
)
def test_a_journal_that_makes_no_sense_is_damage(tmp_path: Path, statement: str) -> None:
    with start(tmp_path) as knitting:
        knitting.do(On())
    with closing(sqlite3.connect(tmp_path / "pieces" / "quay.rowside", isolation_level=None)) as db:
        db.execute(statement)
    with pytest.raises(Trouble, match="is damaged"):
        resume(tmp_path)
    with pytest.raises(Trouble, match="is damaged"):  # the failed opening has let go of the lock
        resume(tmp_path)


@pytest.mark.parametrize("packed", ["", "{}", '{"form": 0}', "null"])
def test_a_cache_of_another_form_is_made_anew_from_the_stored_plan(tmp_path: Path, packed: str) -> None:
    with start(tmp_path) as knitting:
        knitting.do(On())
        left = state(knitting.session)
    file = tmp_path / "pieces" / "quay.rowside"
    good = read(file).plans[0].packed
    with closing(Journal(file)) as writer:
        writer.keep_packed(0, packed)
    with resume(tmp_path, look_only=True) as knitting:
        assert state(knitting.session) == left
    assert read(file).plans[0].packed == packed
    with resume(tmp_path) as knitting:
        assert state(knitting.session) == left
    assert read(file).plans[0].packed == good


def test_taking_up_an_unchanged_plan_loads_no_parser_and_no_screen(tmp_path: Path) -> None:
    with start(tmp_path, QUAY) as knitting:
        knitting.do(On())
    program = (
        "import sys; from pathlib import Path; from companion.progress.shelf import Shelf\n"
        "shelf = Shelf(Path(sys.argv[1])); shelf.cards(); shelf.find(Path('x'))\n"
        "with shelf.resume('Quay') as knitting: print(knitting.opened_plan.kind, knitting.session.done)\n"
        "print([name for name in ('yaml', 'pydantic', 'click', 'rich.console', 'textual', 'companion.plan.read')"
        " if name in sys.modules])"
    )
    out = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path / "pieces")], capture_output=True, text=True, check=True
    )
    assert out.stdout.splitlines() == ["unchanged 1", "[]"]


def test_a_second_window_may_look_and_not_write(tmp_path: Path) -> None:
    with start(tmp_path) as first:
        first.do(On())
        with resume(tmp_path) as second:
            assert second.is_look_only
            assert state(second.session) == state(first.session)
            assert second.opened_plan.kind == "not compared"
            with pytest.raises(LookOnly, match="open in another window; here you may only look"):
                second.do(On())
        first.do(On())
    with resume(tmp_path) as third:
        assert not third.is_look_only
        assert third.session.done == 2


def test_looking_only_by_wish_holds_nobody_up_and_leaves_nothing(tmp_path: Path) -> None:
    start(tmp_path).close()
    before = sorted(found.name for found in (tmp_path / "pieces").iterdir())
    with resume(tmp_path, look_only=True) as looking:
        assert sorted(found.name for found in (tmp_path / "pieces").iterdir()) == before
        with resume(tmp_path) as writing:
            writing.do(On())
        with pytest.raises(LookOnly, match="looking only"):
            looking.do(On())


def test_a_closed_piece_takes_no_action(tmp_path: Path) -> None:
    knitting = start(tmp_path)
    knitting.close()
    knitting.close()
    with pytest.raises(LookOnly, match=r"The piece is closed\."):
        knitting.do(On())


def test_two_pieces_are_worked_side_by_side(tmp_path: Path) -> None:
    with start(tmp_path) as one, start(tmp_path) as other:
        one.do(WholeRow())
        other.do(On())
        one.do(Back())
        other.do(RipBack(0))
        assert (one.session.done, other.session.done) == (0, 0)
        assert len({card.name for card in shelf(tmp_path).cards()}) == 2


def test_a_file_in_place_of_the_shelf_is_told(tmp_path: Path) -> None:
    (tmp_path / "pieces").write_text("")
    told = f'"{tmp_path / "pieces"}" is a file, not a folder; move it away, or set ROWSIDE_HOME to another folder.'
    with pytest.raises(Trouble) as found:
        shelf(tmp_path).cards()
    assert str(found.value) == told
    with pytest.raises(Trouble) as found:
        start(tmp_path)
    assert str(found.value) == told


def test_progress_lives_where_rowside_home_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path / "own"))
    assert folders.pieces() == tmp_path / "own" / "pieces"
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("ROWSIDE_HOME", "near")
    assert folders.home() == tmp_path / "near"
    monkeypatch.setenv("ROWSIDE_HOME", " ")
    assert folders.home().name == "rowside"
    assert folders.home().is_absolute()
    assert not (tmp_path / "own").exists()


AS_SOMEBODY_WITHOUT_RIGHTS = """
import os, sys, urllib.parse
from pathlib import Path
sys.path.insert(0, "tests/progress")
from plans_on_disk import resume, start
import companion.progress.following  # loaded before the rights are gone: the program may lie where they are needed
from companion.plan.read import load
from companion.progress.actions import On
from companion.progress.shelf import LookOnly, Shelf
from companion.progress.trouble import Trouble
home = Path(sys.argv[1])
loaded = load(home / "quay.yaml")
if os.geteuid() == 0:
    os.seteuid(65534)  # rights do not bind the superuser
with resume(home) as knitting:
    print(knitting.is_look_only, knitting.session.done)
    try:
        knitting.do(On())
    except LookOnly as refused:
        print(refused)
try:
    Shelf(home / "pieces").start(loaded, home / "quay.yaml")
except Trouble as trouble:
    print(trouble)
print([card.rows for card in Shelf(home / "pieces").cards()])
"""


@pytest.mark.skipif(sys.platform == "win32", reason="takes away rights as POSIX has them")
def test_a_piece_where_nothing_can_be_written_may_be_looked_at() -> None:
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        with start(home) as knitting:
            knitting.do(On())
        home.chmod(0o555)
        for file in (home / "pieces").iterdir():
            file.chmod(0o444)
        (home / "pieces").chmod(0o555)
        program = [sys.executable, "-c", AS_SOMEBODY_WITHOUT_RIGHTS, name]
        out = subprocess.run(program, capture_output=True, text=True, check=False)
        home.chmod(0o755)
        (home / "pieces").chmod(0o755)
    assert out.stderr == ""
    assert out.stdout.splitlines() == [
        "True 1",
        "Nothing can be saved where the piece lies; here you may only look.",
        f'"{home / "pieces" / "shelf.lock"}" may not be opened by you; give yourself the right to read and write it.',
        "[6]",
    ]


def test_the_shelf_asks_the_clock_it_was_given(tmp_path: Path) -> None:
    path = plan(tmp_path)
    with Shelf(tmp_path / "pieces", lambda: BEGUN + timedelta(days=3)).start(load(path), path) as knitting:
        assert knitting.do(On()).done == 1
    assert shelf(tmp_path).cards()[0].worked_at == BEGUN + timedelta(days=3)
