"""The JSON Schema beside the demo plans: fresh, and of one mind with the reader."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from companion.plan.demo import demo_plans
from companion.plan.editor_schema import json_schema
from companion.problems import Problems
from tests.plan.plans import CUSHION, read

FILE = Path(__file__).parents[2] / "plans" / "plan.schema.json"
SCHEMA: dict[str, Any] = json.loads(json_schema())
VALIDATOR = Draft202012Validator(SCHEMA)


def fits(value: Any) -> bool:
    """Whether a value fits, as a library that knows JSON Schema has it."""
    return bool(VALIDATOR.is_valid(value))


def test_the_schema_beside_the_plans_is_fresh() -> None:
    """Mend it with: python -m companion.plan.editor_schema > plans/plan.schema.json"""
    assert FILE.read_text(encoding="utf-8") == json_schema()


def test_the_command_that_mends_it_prints_it() -> None:
    command = [sys.executable, "-m", "companion.plan.editor_schema"]
    done = subprocess.run(command, capture_output=True, text=True, check=True, encoding="utf-8")
    assert done.stdout == json_schema()


def test_the_cushion_fits_the_schema() -> None:
    assert fits(yaml.safe_load(CUSHION))


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_every_demo_plan_fits_the_schema(path: Path) -> None:
    assert fits(yaml.safe_load(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("plan: 1", "plan: 2"),
        ("title:", "titel:"),
        ("rows: 28", "rows: 0"),
        ("10 cm", "10"),
        ('{colour: "#a8432f"}', "{}"),
        ("stitch: garter}\n  - chart", "stitch: gartr}\n  - chart"),
        ("repeat: 2", "repeat: 0"),
        ("repeat: 2", "repeet: 2"),
        ("    repeat: 2", "    plain: {rows: 6, stitches: 40, yarn: sand}"),
        ("{stitches: 4, yarn: sand, stitch: garter}", "{left: 4}"),
        ("{stitches: 4, yarn: sand, stitch: garter}", ""),
        ("carry: {reach: 3}", "sample: {stitches: 20}"),
        ("carry: {reach: 3}", "tail: 15"),
        ("carry: {reach: 3}", "winding: {loose: 1 mile}"),
        ("carry: {reach: 3}", "for: dog"),
    ],
)
def test_what_the_reader_refuses_the_schema_refuses_too(old: str, new: str) -> None:
    assert CUSHION.count(old) >= 1
    assert not fits(yaml.safe_load(CUSHION.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("stitch: garter}\n  - chart", "stitch: {rib: [2, 2]}}\n  - chart"),
        ("{stitches: 4, yarn: sand, stitch: garter}", "{left: {stitches: 8, yarn: sand}}"),
        ("carry: {reach: 3}", "carry: {reach: 0, behind: 1, rest: 2, share: true}"),
        ("carry: {reach: 3}", "sample: {stitches: 20, yarn: 38 cm}\ntail: 6 in\nfor: baby"),
        ("carry: {reach: 3}", "winding: {loose: 1 yd, bobbin: 30 m}"),
    ],
)
def test_what_the_reader_takes_the_schema_takes_too(old: str, new: str) -> None:
    assert CUSHION.count(old) >= 1
    assert fits(yaml.safe_load(CUSHION.replace(old, new)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("colour", "color"),
        ("gauge", "tension"),
        ("metres", "meters"),
        ("{metres: 120, grams: 50}", "{yards: 130, ounces: 1.75}"),
        ("stitch: garter}\ncarry", "stitch: Garter}\ncarry"),
        ("stitch: garter}\ncarry", "stitch: moss}\nterms: UK\ncarry"),
        ("stitches: 40, ", ""),
        ('"#a8432f"', "Dark-Blue"),
        ('"#a8432f"', "FireBrick"),
        ("rows: 6", 'rows: "6"'),
        ("rows: 28", 'rows: "28.5"'),
        ("title: Harbour light cushion", "title: 1848"),
        ("title: Harbour light cushion", "title: no"),
        ("repeat: 2", "mirror: yes"),
        ("repeat: 2", 'mirror: "on"'),
        ("repeat: 2", "worked: FLAT"),
        ("carry: {reach: 3}", 'seams: {left: "0.5"}'),
        ("carry: {reach: 3}", "cast_on: {method: Knitted}"),
        ("symbols:\n  s: sand\n  b: brick\n  g: {yarn: sand, stitch: garter}\n", ""),
    ],
)
def test_what_is_written_in_a_knitters_own_words_both_take(old: str, new: str) -> None:
    text = CUSHION.replace(old, new)
    assert text != CUSHION
    assert fits(yaml.safe_load(text))
    read(text)


LINES = CUSHION.splitlines(keepends=True)
WORDS = [
    "1", "0", "-1", "yes", "no", "sand", "brick", "brik", "garter", "#fff", '"#fff"', "10 cm", "4 in", "5 m", "{}",
    "[]", "2.5", "1.5", "flat", "us", "UK", "each", "left", "moss", "x", ".", "6s 34b", "{rib: [2, 2]}",
]  # fmt: skip


@given(st.data())
def test_what_the_schema_refuses_check_refuses(data: st.DataObject) -> None:
    """Any plan that comes about when a value is changed, or a line is lost or moved."""
    lines = list(LINES)
    for _ in range(data.draw(st.integers(1, 2))):
        at = data.draw(st.integers(0, len(lines) - 1))
        values = list(re.finditer(r"(?<=: )[^,:{}|\n]+", lines[at]))
        if values and data.draw(st.booleans()):
            value = data.draw(st.sampled_from(values))
            lines[at] = lines[at][: value.start()] + data.draw(st.sampled_from(WORDS)) + lines[at][value.end() :]
        else:
            lines.insert(data.draw(st.integers(0, len(lines) - 1)), lines.pop(at))
    text = "".join(lines)
    try:
        read(text)
    except Problems:
        return
    assert fits(yaml.safe_load(text))


def _holders(schema: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {"": schema} | schema["$defs"]


def test_every_key_is_described_and_no_name_of_the_code_is_shown() -> None:
    for name, holder in _holders(SCHEMA).items():
        for key, value in holder.get("properties", {}).items():
            told = value.get("description") or SCHEMA["$defs"][value["$ref"].rsplit("/", 1)[1]].get("description")
            assert told, (name, key)
            assert "title" not in value, (name, key)
    assert "Shape" not in json_schema()


def test_what_an_editor_fills_in_is_taken() -> None:
    """Every default, written out where it stands."""
    plan = yaml.safe_load(CUSHION)
    section, carry = plan["rows"][1], plan["carry"]
    section["chart"] = "6s 8b 18s"
    bare = yaml.safe_dump(plan, sort_keys=False)
    for name, holder in (("", plan), ("carry", carry), ("section", section)):
        for key, value in _holders(SCHEMA)[name]["properties"].items():
            if "default" in value:
                holder.setdefault(key, value["default"])
    assert len(carry) == 5
    assert fits(plan)
    assert read(yaml.safe_dump(plan, sort_keys=False)).piece == read(bare).piece


def test_a_program_that_checks_yaml_takes_schema_and_demo_plans_and_refuses_a_bad_one(tmp_path: Path) -> None:
    def checked(*words: str) -> int:
        command = [sys.executable, "-m", "check_jsonschema", *words]
        return subprocess.run(command, capture_output=True, check=False, timeout=300).returncode

    (tmp_path / "bad.yaml").write_text(CUSHION.replace("repeat", "repeet"), encoding="utf-8")
    assert checked("--check-metaschema", str(FILE)) == 0
    assert checked("--schemafile", str(FILE), *map(str, demo_plans())) == 0
    assert checked("--schemafile", str(FILE), str(tmp_path / "bad.yaml")) == 1


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_every_demo_plan_tells_an_editor_its_schema(path: Path) -> None:
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first == f"# yaml-language-server: $schema={FILE.name}"


@pytest.mark.parametrize("module", ["packed", "demo"])
def test_taking_a_piece_up_again_loads_neither_yaml_nor_pydantic(module: str) -> None:
    code = f"import sys, companion.plan.{module}; print([m for m in ('yaml', 'pydantic') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
