"""The table of deeds is one for all places: a name is one deed's, no key does two things in a place, and keys of
one's own reach every deed, those of the drawing board too."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from the_program import run

from companion.dialogue.deed import PLACES, Deed
from companion.dialogue.deeds import DEEDS, USUAL, deeds_of, with_keys
from companion.dialogue.finding import Finding
from companion.dialogue.keys_list import KeysList
from companion.dialogue.knitter import Knitter
from companion.dialogue.painting_keys import PAINTING_GROUPS, keys_at_the_board, painting_deeds
from companion.settings import Settings, own_keys
from tests.dialogue.at_the_easel import BLANK, Easel


def test_a_name_is_one_deeds_alone_in_all_places() -> None:
    assert [name for name, times in Counter(deed.name for deed in DEEDS).items() if times > 1] == []
    assert {deed.name for deed in deeds_of("drawing")} <= USUAL.keys()
    assert {place for deed in DEEDS for place in deed.where} == PLACES.keys()


def test_no_key_does_two_things_in_one_place() -> None:
    assert own_keys(USUAL, {deed.name: deed.keys for deed in DEEDS})[1] == {}
    for place in PLACES:
        here = [key for deed in {*deeds_of(place), *deeds_of("anywhere")} for key in deed.keys]
        assert sorted(set(here)) == sorted(here)


@pytest.mark.parametrize("deed", deeds_of("drawing"), ids=lambda deed: deed.name)
def test_every_deed_of_the_board_can_have_a_key_of_ones_own_and_nothing_else_changes(deed: Deed) -> None:
    deeds, wrong = with_keys({deed.name: ("f20", "ctrl+e")})
    assert wrong == ()
    assert [one for one in deeds if one not in DEEDS] == [deed._replace(keys=("f20", "ctrl+e"))]


def test_keys_of_ones_own_paint_and_are_told_wherever_keys_stand(tmp_path: Path) -> None:
    knitter = Knitter(Settings(keys={
        "paint": ("f5",), "board_left": ("f6",), "yarn_2": ("i",), "insert": ("2",), "line": ("f7",),
        "help": ("f9",), "board_quit": ("f10",), "let_go": ("f11",),
    }))  # fmt: skip
    assert knitter.notice == ""
    easel = Easel(tmp_path, knitter=knitter)
    easel.press("f6", "i", "f5")
    assert easel.chart == (*BLANK[:4], "ssssssis")
    easel.press("f7")
    assert easel.painting.notice == "A line begins here: go to its other end and press f5, or drag."
    assert {told.keys[0]: told.word for told in keys_at_the_board(easel.painting)}.items() >= {
        ("f5", "paint"): "to here", ("f7", "line"): "line", ("f9", "help"): "all", ("f10", "board_quit"): "quit",
        ("f11", "let_go"): "let go",
    }.items()  # fmt: skip
    finding = Finding("drawing", painting_deeds(knitter.deeds, 3), PAINTING_GROUPS)
    finding.typed = "f6"
    finding.fill()
    assert [row[1].text for row in finding.table.rows if not isinstance(row, str)] == ["A stitch left"]
    with pytest.raises(ValueError, match="not enough values"):
        easel.press("left")  # nothing any more


def test_the_keys_on_the_board_are_those_of_whoever_draws(tmp_path: Path) -> None:
    for folder, key in (("one", "f5"), ("other", "f6"), ("third", "f5")):
        (tmp_path / folder).mkdir()
        easel = Easel(tmp_path / folder, knitter=Knitter(Settings(keys={"paint": (key,)})))
        assert keys_at_the_board(easel.painting)[0].keys == ((key, "paint"),)


def test_the_list_of_keys_has_those_of_the_board_in_a_part_of_their_own() -> None:
    listing = KeysList(Knitter(), lambda _: "")
    listing.fill()
    rows = listing.table.rows
    start = rows.index("The drawing board")
    part = next((rows[start + 1:at] for at in range(start + 1, len(rows)) if isinstance(rows[at], str)), ())
    told = [row[0].text for row in part if not isinstance(row, str)]
    assert told == [deed.title for deed in DEEDS if deed.where == ("drawing",)]
    assert {"Paint", "Fill", "Yarn 9"} <= {*told}


def test_a_key_that_the_board_has_twice_is_told_at_its_line(tmp_path: Path) -> None:
    (tmp_path / "settings.yaml").write_text(
        "keys:\n  unpick: [l]\n  paint: [e]\n  help: [k]\n  row: [e]\n  fill: [f12]\n  tidy: [f]\n  why: [u]\n",
        encoding="utf-8",
    )
    ran = run(tmp_path, "check", "settings.yaml")
    assert (ran.code, ran.out) == (2, "settings.yaml: settings; 5 to mend.\n")
    assert [line for line in ran.err.splitlines() if line.startswith("settings.yaml:")] == [
        'settings.yaml:2:3  The key "l" for "unpick" is taken: it is "Light or dark".',
        'settings.yaml:3:3  The key "e" for "paint" is taken: it is "Shape".',
        'settings.yaml:4:3  The key "k" for "help" is taken: it is "This yarn".',
        'settings.yaml:5:3  The key "e" for "row" is taken: it is "Ends".',
        'settings.yaml:8:3  The key "u" for "why" is taken: it is "Unpick".',
    ]


def test_a_name_of_the_board_that_is_nearly_right_is_offered(tmp_path: Path) -> None:
    (tmp_path / "settings.yaml").write_text("keys: {pait: [f5]}\n", encoding="utf-8")
    assert run(tmp_path, "check", "settings.yaml").err == (
        'settings.yaml:1:8  No action is called "pait".\n    1 | keys: {pait: [f5]}\n      |        ^\n'
        '  Did you mean "paint"?\n'
    )
