"""README and the pages it leads to keep their word: their commands, plans, JSON and keys are the real ones."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from textwrap import indent

import click
import pytest
from PIL import Image
from the_program import ROOT, run

from companion.commands.every import rowside
from companion.dialogue.deed import LISTS, PLACES, Deed, key_words
from companion.dialogue.deeds import DEEDS, deeds_of, with_keys
from companion.plan.demo import TOLD
from companion.plan.read import load
from companion.plan.schema.classes import ClassShape, OwnYarnShape, StudentShape
from companion.progress.actions import On
from companion.progress.shelf import Shelf
from companion.settings import parse
from tests.drafts.harbour import boat

README, PLANS, JSON = (
    (ROOT / page).read_text(encoding="utf-8")
    for page in ("README.md", "plans/README.md", "companion/pages/README.md")
)


def blocks(page: str, language: str) -> list[str]:
    """The fenced blocks of a page in this language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", page, re.DOTALL | re.MULTILINE)


def running(page: str) -> str:
    """A page without its blocks."""
    return re.sub(r"^```\w*\n.*?^```$", "", page, flags=re.DOTALL | re.MULTILINE)


def spans(page: str) -> list[str]:
    """What a page has between backticks outside its blocks, each as one line."""
    return [" ".join(span.split()) for span in re.findall(r"`([^`]+)`", running(page))]


def commands(group: click.Group) -> dict[str, click.Command]:
    """Every command by the words that name it."""
    found: dict[str, click.Command] = {}
    with click.Context(group) as context:
        for name in group.list_commands(context):
            command = group.get_command(context, name)
            assert command is not None
            found[name] = command
            if isinstance(command, click.Group):
                found |= {f"{name} {below}": one for below, one in commands(command).items()}
    return found


COMMANDS = commands(rowside)
ALL_SPANS = list(dict.fromkeys(span for page in (README, PLANS, JSON) for span in spans(page)))
WHOLE, *_MORE = blocks(PLANS, "yaml")
EXAMPLES = [example for example in _MORE if not example.startswith("class:")]


def begun_with(example: str) -> str:
    """An example as a whole plan: its lines in place of those of the same name in the plan that begins the page."""
    if example.startswith("- "):
        example = "rows:\n" + indent(example, "  ")
    named = re.findall(r"^(\w+):", example, re.MULTILINE)
    kept = [part for part in re.split(r"^(?=\w)", WHOLE, flags=re.MULTILINE) if part.partition(":")[0] not in named]
    return example + "".join(kept)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Everything that the commands on the pages speak of."""
    (tmp_path / "harbour.yaml").write_text(WHOLE, encoding="utf-8")
    (tmp_path / "my-mat.yaml").write_text(WHOLE, encoding="utf-8")
    (tmp_path / "torn.yaml").write_text(WHOLE.replace("sssssssbbbbbbs", "sssssssbbDbbbs"), encoding="utf-8")
    (tmp_path / "settings.yaml").write_text(*blocks(README, "yaml"), encoding="utf-8")
    for name, drawn in re.findall(r"^`(\w+\.txt)`:\n\n```text\n(.*?)^```$", PLANS, re.DOTALL | re.MULTILINE):
        (tmp_path / name).write_text(drawn, encoding="utf-8")
    return tmp_path


def begin(folder: Path) -> Path:
    """A piece named Pier, a few runs worked, and a copy of its file; where it lies."""
    plan = folder / "harbour.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan), plan, "Pier") as knitting:
        for _ in range(3):
            knitting.do(On())
    file = next((folder / "data" / "pieces").glob("*.rowside"))
    shutil.copy(file, folder / "copy.rowside")
    return file


def test_a_readme_is_read_in_one_sitting() -> None:
    assert len(README.splitlines()) < 200


def test_there_are_two_commands_of_one_line_each() -> None:
    start, test = blocks(README, "sh")
    assert re.fullmatch(r"python3 -m venv \.venv && .*rowside knit swatch\n", start)
    assert re.fullmatch(r"python3 -m venv \.venv && .*pytest -q\n", test)


def test_the_test_command_is_the_first_block_after_its_mark() -> None:
    _, after = README.split("<!-- the test command:")
    assert re.search(r"^```sh\n(.*?)^```$", after, re.DOTALL | re.MULTILINE)[1] == blocks(README, "sh")[1]


def test_what_the_pages_lead_to_is_there() -> None:
    links = [
        (ROOT / page).parent / link
        for page in ("README.md", "plans/README.md", "companion/pages/README.md")
        for link in re.findall(r"(?:\]\(|src=\")([^)\"]+)", (ROOT / page).read_text(encoding="utf-8"))
    ]
    assert len(links) > 4
    assert [link for link in links if not link.is_file()] == []


# The commands


def test_every_command_is_named_and_no_other() -> None:
    shown = [span.split()[1:] for span in spans(README) if span.startswith("rowside ")]
    named = {" ".join(words[: 2 if words[0] == "progress" else 1]) for words in shown}
    assert named == set(COMMANDS) - {"progress"}


def test_every_option_that_is_named_is_one() -> None:
    there = {"--help", *(word for one in COMMANDS.values() for param in one.params for word in param.opts)}
    named = {word for span in ALL_SPANS for word in re.findall(r"--[a-z-]+", span)}
    assert len(named) > 15
    assert named <= there


def test_every_command_that_is_shown_does_it(folder: Path) -> None:
    begin(folder)
    run(folder, "progress", "export", "Pier", "-o", "pier.json")
    Image.fromarray(boat()).save(folder / "boat.png")
    (folder / "rows.txt").write_text(run(folder, "rows", "swatch").out, encoding="utf-8")
    on_a_screen = ("knit", "watch", "draw")
    shown = [span for span in ALL_SPANS if span.startswith("rowside ") and span.split()[1] not in on_a_screen]
    assert len(shown) >= 36
    meant = {"PLAN": "harbour.yaml", "DEMO": "swatch", "NAME": "Pier", "COPY": "copy.rowside", "PICTURE": "boat.png"}
    for line in shown:
        words = shlex.split(line.replace("PLAN...", "PLAN"))[1:]
        if " ".join(words) in COMMANDS and words != ["pieces"]:
            words.append("--help")
        file = {"import": "pier.json", "restore": "copy.rowside"}.get(words[1] if words[1:] else "", "new.yaml")
        words = [(meant | {"FILE": file}).get(word, word) for word in words]
        for made in ("new.yaml", "plan.schema.json"):
            (folder / made).unlink(missing_ok=True)
        if words[:2] == ["copy", "mooring-mat"]:
            words.append("--force")
        shelf = folder / ("another machine" if "import" in words else "data")
        ran = run(folder, *words, ROWSIDE_HOME=str(shelf))
        assert (ran.code, bool(ran.out or ran.err)) == (2 if "torn.yaml" in words else 0, True), (line, ran)


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_each_shell_completes_with_its_line(shell: str, tmp_path: Path) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not installed")
    line = next(span for span in spans(README) if f"={shell}_source" in span)
    asked = {"bash": "complete -p rowside", "zsh": "echo $_comps[rowside]", "fish": "complete -c rowside"}[shell]
    folder = Path(sys.executable).parent
    done = subprocess.run(
        [shell, "-c", f"{line}\n{asked}"], capture_output=True, text=True, timeout=300, check=True,
        stdin=subprocess.DEVNULL,
        env={"PATH": f"{folder}{os.pathsep}{os.environ['PATH']}", "HOME": str(tmp_path), "TERM": "dumb"},
    )
    assert "_rowside_completion" in done.stdout
    assert done.stderr == ""


def test_the_demo_plans_it_names_are_all_there_are_easiest_first() -> None:
    told = README.partition("These plans come along")[2].partition("\n\n")[0]
    assert re.findall(r"`([\w-]+)`", told) == list(TOLD)


# The plans


def test_the_plan_is_right_as_it_stands(folder: Path) -> None:
    ran = run(folder, "check", "harbour.yaml")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("harbour.yaml: 40 sts x 16 rows, 2 yarns, 3 strands")


def test_there_is_an_example_for_every_question_on_plans() -> None:
    questions = PLANS.split("\n## ")[2:]
    assert len(questions) > 15
    without = [question.splitlines()[0] for question in questions if "```yaml" not in question]
    assert without == ["How do I look before I begin?"]


@pytest.mark.parametrize("example", EXAMPLES)
def test_every_example_of_a_plan_is_right(folder: Path, example: str) -> None:
    (folder / "example.yaml").write_text(begun_with(example), encoding="utf-8")
    problems = run(folder, "check", "example.yaml", "--json").value[0]["problems"]
    assert [problem["what"] for problem in problems if not problem["what"].endswith("is not used.")] == []


def test_every_key_of_a_plan_is_told() -> None:
    schema = json.loads((ROOT / "plans" / "plan.schema.json").read_text(encoding="utf-8"))
    shapes = [schema, *schema["$defs"].values()]
    keys = {key for shape in shapes for key in shape.get("properties", {})}
    assert len(keys) > 50
    assert sorted(key for key in keys if not re.search(rf"`{key}\b|\b{key}:", PLANS)) == []


def test_the_examples_of_a_class_are_right_and_have_every_key(folder: Path) -> None:
    examples = [one for one in _MORE if one not in EXAMPLES]
    for example in examples:
        (folder / "class.yaml").write_text(example, encoding="utf-8")
        ran = run(folder, "class", "class.yaml")
        assert (ran.code, ran.err) == (0, "")
    keys = {field.alias or name for shape in (ClassShape, StudentShape, OwnYarnShape)
            for name, field in shape.model_fields.items()}  # fmt: skip
    assert len(keys) > 10
    assert sorted(key for key in keys if not re.search(rf"\b{key}:", "".join(examples))) == []


# The JSON


def test_the_json_of_rows_and_strands_is_what_the_program_prints(folder: Path) -> None:
    rows, strands, _ = map(json.loads, blocks(JSON, "json"))
    assert run(folder, "rows", "harbour.yaml", "--rows", "7", "--json").value == rows
    assert run(folder, "strands", "harbour.yaml", "--json").value == strands


def test_the_json_of_check_is_what_the_program_prints(folder: Path) -> None:
    told = json.loads(blocks(JSON, "json")[2])
    assert run(folder, "check", "harbour.yaml", "torn.yaml", "--json").value == told


@pytest.mark.parametrize("command", ["compare swatch", "areas swatch", "ends swatch", "pieces", "progress show Pier",
                                     "class evening-class"])
def test_every_key_of_the_other_json_is_told(folder: Path, command: str) -> None:
    begin(folder)
    value = run(folder, *command.split(), "--json").value
    if isinstance(value, dict) and "areas" in value:
        value = [value, *value["areas"]]
    if isinstance(value, dict) and "students" in value:
        value = [value, *value["students"], *value["yarns"], *value["winding"]]
    keys = {key for one in (value if isinstance(value, list) else [value]) for key in one}
    name = command.removesuffix(" swatch").removesuffix(" Pier")
    told = next(part for part in JSON.split("\n`rowside ") if part.startswith(name))
    assert sorted(key for key in keys if f"`{key}`" not in told) == []


# Keys and settings


def places(deed: Deed) -> str:
    """Where something can be done, all lists in two words."""
    lists = set(LISTS) <= set(deed.where)
    named = [PLACES[place] for place in deed.where if not (lists and place in LISTS)]
    return ", ".join(["Every list", *named] if lists else named)


def test_the_tables_of_keys_are_the_table_of_actions() -> None:
    section = README.partition("\n## Keys\n")[2].partition("\n## ")[0]
    here, elsewhere = (re.findall(r"^\|.*\|$", part, re.MULTILINE)[2:] for part in section.split("\n\nThat was at"))
    chart = [deed for deed in deeds_of("work") if deed.name.startswith("scroll_")]
    assert here == [
        f"| {deed.title} | {key_words(deed.keys)} | {deed.about} | `{deed.name}` |"
        for deed in deeds_of("work") if deed not in chart
    ]
    groups = {"The chart, at the needles": chart}
    for deed in DEEDS:
        if "work" not in deed.where:
            groups.setdefault(places(deed), []).append(deed)
    assert elsewhere == [
        f"| {where} | {'; '.join(f'{deed.title}: {key_words(deed.keys)} (`{deed.name}`)' for deed in deeds)} |"
        for where, deeds in groups.items()
    ]


def test_the_settings_are_right_as_they_stand(folder: Path) -> None:
    (told,) = blocks(README, "yaml")
    settings, wrong = parse(told)
    assert (settings.terms, wrong) == ("us", ())
    assert with_keys(settings.keys)[1] == ()
    assert run(folder, "check", "settings.yaml").out == "settings.yaml: settings; nothing to mend.\n"


def test_every_setting_is_told_as_it_usually_is() -> None:
    settings, _ = parse(*blocks(README, "yaml"))
    usual = parse("")[0]
    assert settings.__struct_fields__ == usual.__struct_fields__
    for name in usual.__struct_fields__:
        assert re.search(rf"^{name}: ", *blocks(README, "yaml"), re.MULTILINE)
        assert name == "keys" or getattr(settings, name) == getattr(usual, name)


# The promises


def test_every_test_that_holds_to_a_promise_is_there() -> None:
    named = set(re.findall(r"`(test_\w+)`", README))
    there = set[str]()
    for file in Path(__file__).parent.rglob("test_*.py"):
        there |= set(re.findall(r"def (test_\w+)\(", file.read_text(encoding="utf-8")))
    assert len(named) > 15
    assert named <= there
