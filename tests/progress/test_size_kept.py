"""The size in which a piece is knitted is kept with it: when it is taken up, when its plan is edited, when it is
taken to another machine, and when nothing but the plan's text is left of it."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from plans_on_disk import SIZED, plan, resume, shelf

from companion.plan.read import load
from companion.problems import Problems
from companion.progress.actions import AtRow
from companion.progress.exported import read, written
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf


def start(tmp_path: Path, size: str = "M") -> Knitting:
    path = plan(tmp_path, SIZED)
    return shelf(tmp_path).start(load(path, size), path)


def extent(knitting: Knitting) -> tuple[int, int]:
    return knitting.session.rows[0].stitches, len(knitting.session.rows)


def test_a_piece_is_taken_up_in_its_size(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
        assert knitting.card.name == "Quay, size M"
    with resume(tmp_path, "Quay, size M") as knitting:
        assert (extent(knitting), knitting.opened_plan.kind) == ((16, 9), "unchanged")


def test_an_edited_plan_is_read_in_the_size_of_the_piece(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
    plan(tmp_path, SIZED.replace("2 (3, 4)", "2 (5, 7)"))
    with resume(tmp_path, "Quay, size M") as knitting:
        assert (extent(knitting), knitting.opened_plan.kind) == ((16, 11), "adopted")
    two = SIZED.replace("sizes: [S, M, L]", "sizes: [S, L]")
    plan(tmp_path, two.replace("(2, 3)", "(3)").replace("(3, 4)", "(4)"))
    with resume(tmp_path, "Quay, size M") as knitting:
        assert (extent(knitting), knitting.opened_plan.kind) == ((16, 11), "not readable")
        assert knitting.opened_plan.problems[0].what == 'The plan has no size "M".'


def test_an_edited_plan_that_is_started_over_keeps_the_size(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
    plan(tmp_path, SIZED.replace("ssssbbbbssss", "ssssssssssss"))
    with resume(tmp_path, "Quay, size M") as knitting:
        state = knitting.opened_plan
        assert state.kind == "differs"
        assert state.loaded is not None
        assert state.loaded.size == "M"


def test_another_size_of_the_same_plan_is_another_piece(tmp_path: Path) -> None:
    start(tmp_path).close()
    start(tmp_path, "L").close()
    assert sorted(card.name for card in shelf(tmp_path).cards()) == ["Quay, size L", "Quay, size M"]


def test_a_piece_is_exported_and_taken_in_with_its_size(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
    contents = shelf(tmp_path).contents("Quay, size M")
    text = "".join(written(contents))
    found = read(text, "quay.json")
    assert found.plans[0].size == "M"
    other = Shelf(tmp_path / "elsewhere" / "pieces")
    name = other.take_in(found, tmp_path)
    with other.resume(name) as knitting:
        assert (extent(knitting), knitting.session.rows_done) == ((16, 9), 3)
    with pytest.raises(Problems):
        read(text.replace('size: "M"', 'size: "Q"'), "quay.json")


def test_where_the_cache_is_lost_the_text_is_read_in_the_size_of_the_piece(tmp_path: Path) -> None:
    start(tmp_path).close()
    [path] = (tmp_path / "pieces").glob("*.rowside")
    with closing(sqlite3.connect(path)) as db:
        db.execute("UPDATE plan SET packed = ''")
        db.commit()
    with resume(tmp_path, "Quay, size M") as knitting:
        assert extent(knitting) == (16, 9)


def test_where_the_text_is_damaged_that_of_the_plan_file_is_taken_in_the_same_size(tmp_path: Path) -> None:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
    [path] = (tmp_path / "pieces").glob("*.rowside")
    with closing(sqlite3.connect(path)) as db:
        db.execute("UPDATE plan SET text = 'torn'")
        db.commit()
    shelf(tmp_path).restore(path, before_damage=True)
    [stored] = shelf(tmp_path).contents("Quay, size M").plans.values()
    assert (stored.size, stored.text) == ("M", SIZED)
    with resume(tmp_path, "Quay, size M") as knitting:
        assert (extent(knitting), knitting.opened_plan.kind) == ((16, 9), "unchanged")


def test_a_size_that_another_hand_changed_is_damage(tmp_path: Path) -> None:
    start(tmp_path).close()
    [path] = (tmp_path / "pieces").glob("*.rowside")
    with closing(sqlite3.connect(path)) as db:
        db.execute("UPDATE plan SET size = 'L'")
        db.commit()
    with pytest.raises(Exception, match="damaged"):
        resume(tmp_path, "Quay, size M")
