"""What every command says of itself, what is said of words that are none, and that all of it fits the terminal."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from rich.cells import cell_len
from the_program import PIER_SIGN, run

from companion.pages.printing import fitted

COMMANDS = (
    "areas", "check", "compare", "copy", "draw", "ends", "knit", "new", "picture", "pieces", "print", "progress",
    "progress export", "progress import", "progress restore", "progress show", "rows", "schema", "strands", "where",
)  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def examples(folder: Path, command: str) -> list[str]:
    """The lines below "For example:" in a command's help."""
    told = run(folder, *command.split(), "--help").out
    return [line.strip() for line in re.split(r"\n  (?:For example|Examples):\n", told)[1].splitlines()]


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_every_help_has_an_example_of_the_command_itself(folder: Path, command: str) -> None:
    found = examples(folder, command)
    assert found
    assert all(line.startswith(f"rowside {command}".strip()) for line in found)


def test_the_examples_do_what_they_say(folder: Path) -> None:
    (folder / "my-plan.yaml").write_text(PIER_SIGN.replace("reach: 1", "reach: 0"), encoding="utf-8")
    tried = [line for command in COMMANDS for line in examples(folder, command)]
    by_hand = [line for line in tried if re.match("rowside (knit|draw|new|progress)", line)]  # a terminal, or a piece
    assert len(by_hand) == 15
    for line in tried:
        if line not in by_hand:
            ran = run(folder, *shlex.split(line)[1:], is_fresh=True)  # so each command is loaded on its own
            assert (ran.code, bool(ran.out or ran.err)) == (0, True), line


@pytest.mark.parametrize("words", [[], ["progress"]])
def test_no_summary_is_cut_in_the_list_of_commands(folder: Path, words: list[str]) -> None:
    told = run(folder, *words, "--help").out
    assert "..." not in told.partition("Commands:")[2]
    listed = " ".join(told.partition("Commands:")[2].split())
    for command in COMMANDS:
        if command.split()[:-1] == words:
            summary = run(folder, *command.split(), "--help").out.split("\n\n")[1]
            first = re.split(r"(?<=\.)\s", " ".join(summary.split()))[0]
            assert f"{command.split()[-1]} {first}" in listed


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("knitt swatch", 'No command is called "knitt". Did you mean "rowside knit"?'),
        ("progress exprt x", 'No command is called "exprt". Did you mean "rowside progress export"?'),
        ("zzzzzz", 'No command is called "zzzzzz".'),
        ("pier.yaml", 'No command is called "pier.yaml". To knit this plan: rowside knit pier.yaml'),
        ("gone.yml", 'No command is called "gone.yml". To knit this plan: rowside knit gone.yml'),
        ("boat.png", 'No command is called "boat.png". To make a plan of it: rowside draft boat.png'),
        ("swatch", 'No command is called "swatch". To knit this plan: rowside knit swatch'),
        ("'my pier.yaml'", "No command is called \"my pier.yaml\". To knit this plan: rowside knit 'my pier.yaml'"),
    ],
)
def test_words_that_are_no_command_are_told_with_what_was_meant(folder: Path, words: str, told: str) -> None:
    ran = run(folder, *shlex.split(words))
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith(f"Error: {told}\n")


@pytest.mark.parametrize(
    "words",
    [
        ["\x1b[31mred"], ["rows", "\x1b[31mred"], ["rows", "swatch", "--\x1b[31m"],
        ["rows", "swatch", "--reach=\x1b[1m"],
        ["rows", "swatch", "--terms", "\x1b]0;x\x07"], ["where", "swatch", "\x1b[2Js"], ["copy", "\x1b[2J"],
        ["copy", "swatch", "\x1b[2J/x"], ["progress", "export", "\x1b[31m"], ["progress", "restore", "\x1b[31m"],
        ["progress", "import", "\x1b[31m"], ["progress", "\x1b[31m"], ["check", "\x9b31mx.yaml"],
        ["schema", "-o", "\x1b[31m/y"], ["ends", "swatch", "--name", "\x1b[31m"],
    ],
)  # fmt: skip
def test_control_characters_in_arguments_never_reach_the_terminal(folder: Path, words: list[str]) -> None:
    ran = run(folder, *words)
    assert ran.code in (1, 2)
    assert ran.err
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", ran.out + ran.err)


@pytest.mark.parametrize("command", ["", "draft", "areas", "progress export", "where"])
def test_help_fits_a_narrow_terminal_and_its_examples_can_still_be_typed(folder: Path, command: str) -> None:
    told = run(folder, *command.split(), "--help", COLUMNS="40").out
    assert [line for line in told.splitlines() if cell_len(line) > 40] == []
    assert "<=" not in told
    _, narrow = re.split(r"\n  (?:For example|Examples):\n", told)
    whole = examples(folder, command)
    assert [" ".join(line.split()) for line in narrow.replace(" \\\n", " ").splitlines()] == whole


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("rows --reach 100001", "'--reach': It takes a whole number from 0 to 100,000, not \"100001\"."),
        ("rows --rest -1", "'--rest': It takes a whole number from 0 to 100,000, not \"-1\"."),
        ("areas --most x", "'--most': It takes a whole number from 1 on, not \"x\"."),
        ("compare --use 0", "'--use': It takes a whole number from 1 on, not \"0\"."),
    ],
)
def test_a_number_that_is_too_large_or_none_is_told_with_those_that_are_taken(
    folder: Path, words: str, told: str
) -> None:
    ran = run(folder, *words.split(), "swatch")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith(f"Error: Invalid value for {told}\n")
    assert run(folder, "rows", "swatch", "--reach", "100000", "--rest", "0").code == 0


@pytest.mark.parametrize("columns", ["", "60", "132"])
@pytest.mark.parametrize(
    "words",
    [
        "rows swatch", "strands ferry-jumper-front", "compare swatch --areas 8", "ends swatch", "areas pier.yaml",
        "check torn.yaml", "rows swach", "pieces", "where swatch s,t,s", "--help", "compare --help",
    ],
)  # fmt: skip
def test_what_is_printed_fits_the_terminal_and_80_columns_in_a_pipe(folder: Path, words: str, columns: str) -> None:
    torn = PIER_SIGN.replace("sbbss", f"sbDss{60 * 's'}").replace("Pier sign", "Pier sign " + 30 * "and sign ")
    (folder / "torn.yaml").write_text(torn, encoding="utf-8")
    ran = run(folder, *words.split(), COLUMNS=columns)
    lines = [*ran.out.splitlines(), *ran.err.splitlines()]
    assert lines
    room = int(columns or 80)
    assert [line for line in lines if cell_len(line) > room] == []


def test_what_is_broken_is_the_same_words_in_the_same_order(folder: Path) -> None:
    for words in ("rows swatch", "ends swatch"):
        whole, broken = run(folder, *words.split()), run(folder, *words.split(), COLUMNS="50")
        assert len(broken.out.splitlines()) > len(whole.out.splitlines())
        assert broken.out.split() == whole.out.split()


def test_a_table_that_has_no_room_keeps_its_figures_under_their_titles(folder: Path) -> None:
    lines = run(folder, "strands", "pier.yaml", COLUMNS="80").out.splitlines()
    head = lines.index(next(line for line in lines if "Carried" in line))
    assert lines[head].endswith("Wind")
    assert lines[head - 1] == "Joined in (places as that row is held)", "what it is stands above its figures"
    figures = lines[head + 2]
    assert figures[:11].strip() == "1-4"
    assert figures.split()[:4] == ["1-4", "4", str(5 + 2 + 1 + 5), "1"]
    assert lines[head + 1] == "row 1, the sand"
    compared = run(folder, "compare", "pier.yaml", COLUMNS="80").out.splitlines()
    head = compared.index(next(line for line in compared if "Carried" in line))
    ends = compared[head].index("Ends")
    assert compared[head + 1].startswith(" 1  ")
    assert compared[head + 2][ends:ends + 4].strip().isdecimal()


def test_json_is_never_broken(folder: Path) -> None:
    narrow, wide = (run(folder, "rows", "swatch", "--json", COLUMNS=columns) for columns in ("20", "1000"))
    assert narrow.out == wide.out
    assert narrow.value


def test_a_number_stays_with_what_is_counted_and_a_long_word_stays_whole() -> None:
    assert list(fitted("  with shell k12 and then 24 sts", 28)) == ["  with shell k12 and then", "    24 sts"]
    path = "/" + 40 * "a"
    assert list(fitted(f"file: {path} there", 20)) == ["file:", f"  {path}", "  there"]
    assert list(fitted("", 20)) == [""]
