"""The settings file: what is right in it counts, what is wrong is told, and nothing else changes with a setting."""

from __future__ import annotations

import string
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from the_program import run

from companion.dialogue.deeds import USUAL
from companion.problems import Problems, show
from companion.progress import folders
from companion.settings import CHOICES, KEYS, Settings, own_keys, parse, read, with_value, write

FULL = """# mine
terms: uk      # as my mother says
hands: left
units: in
light: light
tails: trap
say: mark
pace: off
speak: short
pedal: on
keys:
  on: [space, x]
  back: b
"""


def test_every_setting_is_read() -> None:
    settings, wrong = parse(FULL)
    keys = {"on": ("space", "x"), "back": ("b",)}
    assert settings == Settings("uk", "left", "in", "light", "trap", "mark", "off", "short", "on", keys)
    assert wrong == ()


def test_without_a_file_the_usual_settings_count(tmp_path: Path) -> None:
    assert read(tmp_path / "settings.yaml") == (Settings(), ())


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "\n\n"])
def test_an_empty_file_is_right(text: str) -> None:
    assert parse(text) == (Settings(), ())


@pytest.mark.parametrize(
    ("text", "report"),
    [
        ("term: uk\n", 's.yaml:1:1  The setting "term" is not known.\n    1 | term: uk\n      | ^\n'
                       '  Did you mean "terms"?'),
        ("light: pink\n", 's.yaml:1:8  "light" must be dark, light or contrast, and is "pink".\n'
                            "    1 | light: pink\n      |        ^"),
        ("hands: [left]\n", 's.yaml:1:1  "hands" must be a single value, not a list or a group of keys.\n'
                            '    1 | hands: [left]\n      | ^'),
        ("- uk\n", "s.yaml:1:1  Settings are keys with a value each.\n    1 | - uk\n      | ^\n  Such as: terms: uk"),
        ("keys: space\n", 's.yaml:1:1  "keys" holds names of actions, each with its keys.\n    1 | keys: space\n'
                          "      | ^\n  Such as: on: [space, pagedown]"),
        ("keys: {on: []}\n", 's.yaml:1:8  "on" needs the names of one to 8 keys.\n    1 | keys: {on: []}\n'
                             "      |        ^\n  Such as: [space, pagedown]"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_place(text: str, report: str) -> None:
    settings, wrong = parse(text, "s.yaml")
    assert settings == Settings()
    assert [show(problem) for problem in wrong] == [report]


def test_everything_that_is_wrong_is_told_at_once_with_its_line_and_the_nearest_name() -> None:
    text = (
        "terms: ukk\nhands: left\nhands: right\noffer_at: many\nkeys:\n  on: [spce]\n  back: [w]\n  bak: [x]\n"
        '  row: ["?"]\n'
    )
    settings, wrong = parse(text, "s.yaml", USUAL)
    assert (settings.hands, settings.terms) == ("left", "us")
    assert [(one.line, one.what, one.mend) for one in wrong] == [
        (1, '"terms" must be us or uk, and is "ukk".', 'Did you mean "uk"?'),
        (3, 'The key "hands" stands here a second time; the first is on line 2.', "Keep one of the two."),
        (4, '"offer_at" must be a whole number from 0 to 100, and is "many".', ""),
        (6, '"spce" is not the name of a key.', 'Did you mean "space"?'),
        (7, 'The key "w" for "back" is taken: it is "Whole row".', ""),
        (8, 'No action is called "bak".', 'Did you mean "back"?'),
        (9, '"?" is not the name of a key.', 'Did you mean "question_mark"?'),
    ]


def test_the_names_of_the_keys_are_those_of_the_library_that_reads_them() -> None:
    """Textual, whose own function names the key that types a sign."""
    from textual.keys import Keys, _character_to_key

    signs = [*string.ascii_lowercase, *string.digits, *string.punctuation, " "]
    named = {key.value for key in Keys if "+" not in key.value and not key.value.startswith("<")}
    ours = KEYS - {_character_to_key(sign) for sign in signs}
    assert ours <= named
    assert {_character_to_key(sign) for sign in signs} <= KEYS


@given(st.permutations([("on", ("v",)), ("back", ("space",)), ("row", ("backspace",)), ("unpick", ("w", "ctrl+u"))]))
def test_keys_are_moved_in_whichever_order_they_stand(pairs: list[tuple[str, tuple[str, ...]]]) -> None:
    """Space goes from On to Back, backspace from Back to Whole row, w from Whole row to Unpick."""
    assert own_keys(USUAL, dict(pairs)) == (dict(pairs), {})


@given(st.permutations([("on", ("v",)), ("back", ("v",)), ("row", ("h",))]))
def test_a_key_for_two_actions_is_refused_in_whichever_order(pairs: list[tuple[str, tuple[str, ...]]]) -> None:
    own, wrong = own_keys(USUAL, dict(pairs))
    assert own == {}
    assert wrong == {
        "on": ('The key "v" for "on" is taken: it is "Back".', ""),
        "back": ('The key "v" for "back" is taken: it is "On".', ""),
        "row": ('The key "h" for "row" is taken: it is "As held".', ""),
    }


def test_a_key_may_do_two_things_in_two_places_but_nothing_beside_what_it_does_anywhere() -> None:
    assert own_keys(USUAL, {"unpick": ("o",)}) == ({"unpick": ("o",)}, {})  # the other order of a list
    _, wrong = own_keys(USUAL, {"unpick": ("ctrl+p",), "filter": ("ctrl+p",)})
    assert wrong.keys() == {"unpick", "filter"}
    assert wrong["filter"][0].startswith('The key "ctrl+p" for "filter" is taken')


def test_check_knows_a_file_of_settings(tmp_path: Path) -> None:
    path = tmp_path / "settings.yaml"
    path.write_text("terms: uk\n", encoding="utf-8")
    ran = run(tmp_path, "check", "settings.yaml")
    assert (ran.code, ran.out, ran.err) == (0, "settings.yaml: settings; nothing to mend.\n", "")
    path.write_text("keys: {on: spce}\n", encoding="utf-8")
    ran = run(tmp_path, "check", "settings.yaml")
    assert (ran.code, ran.out, ran.err) == (
        2,
        "settings.yaml: settings; 1 to mend.\n",
        'settings.yaml:1:8  "spce" is not the name of a key.\n    1 | keys: {on: spce}\n      |        ^\n'
        '  Did you mean "space"?\n',
    )


def test_what_is_right_beside_what_is_wrong_counts() -> None:
    settings, wrong = parse("terms: uk\nlight: pink\n")
    assert settings == Settings(terms="uk")
    assert len(wrong) == 1


@given(st.text(max_size=200))
def test_any_text_gives_settings_and_problems_and_never_an_error(text: str) -> None:
    settings, wrong = parse(text)
    assert isinstance(settings, Settings)
    assert all(problem.what for problem in wrong)


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
@pytest.mark.parametrize("key", CHOICES)
def test_changing_a_setting_keeps_comments_line_ends_and_all_else(tmp_path: Path, key: str, ending: str) -> None:
    path = tmp_path / "settings.yaml"
    text = FULL.replace("\n", ending)
    path.write_bytes(text.encode())
    write(path, key, CHOICES[key][0])
    changed = path.read_bytes().decode()
    assert getattr(read(path)[0], key) == CHOICES[key][0]
    old, new = text.split(ending), changed.split(ending)
    assert len(old) == len(new)
    assert [line for line in old if not line.startswith(key)] == [line for line in new if not line.startswith(key)]
    assert "# as my mother says" in changed


def test_a_setting_that_is_not_there_is_added_at_the_end(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "settings.yaml"
    write(path, "terms", "uk")
    write(path, "light", "light")
    assert path.read_text() == "terms: uk\nlight: light\n"
    assert with_value("# mine", "terms", "uk") == "# mine\nterms: uk\n"


def test_a_file_that_cannot_be_read_is_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "settings.yaml"
    path.write_bytes(b"\xff\xfe")
    with pytest.raises(Problems):
        write(path, "terms", "uk")
    path.write_text("terms: [uk\n")
    with pytest.raises(Problems):
        write(path, "terms", "us")
    assert path.read_text() == "terms: [uk\n"
    assert [p.name for p in tmp_path.iterdir()] == ["settings.yaml"]


def test_no_other_value_is_written(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="terms: french"):
        write(tmp_path / "settings.yaml", "terms", "french")


def test_rowside_home_keeps_the_settings_too(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("ROWSIDE_HOME", str(tmp_path))
    assert folders.settings_file() == tmp_path / "settings.yaml"
    monkeypatch.delenv("ROWSIDE_HOME")
    assert folders.settings_file().is_absolute()
