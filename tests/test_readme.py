"""README keeps its word: its commands, its plan, its JSON and its keys are the real ones."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from the_program import ROOT, run

from companion.dialogue.deeds import DEEDS, PLACES, deeds_of, key_words, with_keys
from companion.settings import parse

README = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """The fenced blocks of README in this language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    plan, _ = blocks("yaml")
    (tmp_path / "harbour.yaml").write_text(plan, encoding="utf-8")
    (tmp_path / "torn.yaml").write_text(plan.replace("sssssssbbbbbbs", "sssssssbbDbbbs"), encoding="utf-8")
    return tmp_path


def test_there_are_two_commands_of_one_line_each() -> None:
    start, test = blocks("sh")
    assert re.fullmatch(r"python3 -m venv \.venv && .*rowside knit swatch\n", start)
    assert re.fullmatch(r"python3 -m venv \.venv && .*pytest -q\n", test)


def test_the_test_command_is_the_first_block_after_its_mark() -> None:
    _, after = README.split("<!-- the test command:")
    assert re.search(r"^```sh\n(.*?)^```$", after, re.DOTALL | re.MULTILINE)[1] == blocks("sh")[1]


def test_the_plan_is_right_as_it_stands(folder: Path) -> None:
    ran = run(folder, "check", "harbour.yaml")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("harbour.yaml: 40 sts x 16 rows, 2 yarns, 3 strands")


def test_the_json_of_rows_and_strands_is_what_the_program_prints(folder: Path) -> None:
    rows, strands, _ = map(json.loads, blocks("json"))
    assert run(folder, "rows", "harbour.yaml", "--rows", "7", "--json").value == rows
    assert run(folder, "strands", "harbour.yaml", "--json").value == strands


def test_the_json_of_check_has_the_keys_and_places_the_program_prints(folder: Path) -> None:
    told = json.loads(blocks("json")[2])
    real = run(folder, "check", "harbour.yaml", "torn.yaml", "--json").value
    assert [list(plan) for plan in told] == [list(plan) for plan in real]
    for plan, real_plan in zip(told, real, strict=True):
        places = [(list(p), p["line"], p["column"]) for p in plan["problems"]]
        assert places == [(list(p), p["line"], p["column"]) for p in real_plan["problems"]]


def test_every_command_it_names_is_there(tmp_path: Path) -> None:
    named = set(re.findall(r"`rowside ([a-z]+)", README))
    assert named == {
        "knit", "check", "rows", "strands", "compare", "areas", "ends", "where",
        "progress", "pieces", "copy", "schema",
    }  # fmt: skip
    for command in named:
        assert run(tmp_path, command, "--help").code == 0


def test_the_demo_plans_it_names_are_all_there_are(tmp_path: Path) -> None:
    demos = run(tmp_path, "rows", "nosuchplan").err.partition("Demo plans: ")[2].rstrip(".\n").split(", ")
    assert [demo for demo in demos if f"`{demo}`" not in README] == []


def test_the_table_of_keys_is_the_table_of_actions() -> None:
    section = README.partition("\n## Keys\n")[2].partition("\n## ")[0]
    work, elsewhere = ("".join(part).splitlines() for part in section.split("\n\nElsewhere:\n"))
    assert [line for line in work if line.startswith("|")][2:] == [
        f"| {deed.title} | {key_words(deed.keys)} | {deed.about} |" for deed in deeds_of("work")
    ]
    assert [line for line in elsewhere if line.startswith("|")][2:] == [
        f"| {', '.join(map(PLACES.__getitem__, deed.where))} | {deed.title} | {key_words(deed.keys)} | {deed.about} |"
        for deed in DEEDS if deed.where != ("work",)
    ]


def test_the_settings_are_right_as_they_stand_and_every_action_is_named() -> None:
    _, told = blocks("yaml")
    settings, wrong = parse(told)
    assert (settings.terms, wrong) == ("us", ())
    deeds, said = with_keys(settings.keys)
    assert said == ()
    named = README.split("The names are ")[1].split(". What")[0]
    assert re.findall(r"`(\w+)`", named) == [deed.name for deed in deeds]


def test_every_test_that_holds_to_a_promise_is_there() -> None:
    named = set(re.findall(r"`(test_\w+)`", README))
    there = set[str]()
    for file in Path(__file__).parent.rglob("test_*.py"):
        there |= set(re.findall(r"def (test_\w+)\(", file.read_text(encoding="utf-8")))
    assert len(named) > 15
    assert named <= there
