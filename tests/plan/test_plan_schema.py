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

from companion.plan.demo import demo_plans
from companion.plan.editor_schema import json_schema
from tests.plan.plans import CUSHION

FILE = Path(__file__).parents[2] / "plans" / "plan.schema.json"
SCHEMA: dict[str, Any] = json.loads(json_schema())
TYPES: dict[str, tuple[type, ...]] = {
    "object": (dict,), "array": (list,), "string": (str,), "integer": (int,), "number": (int, float),
    "boolean": (bool,),
}  # fmt: skip


def fits(value: Any, schema: dict[str, Any]) -> bool:
    """Whether a value fits, by the words of JSON Schema that ours is written in."""
    if "$ref" in schema:
        schema = {**SCHEMA["$defs"][schema["$ref"].rsplit("/", 1)[1]], **schema}
    kinds = schema.get("type", list(TYPES))
    allowed = tuple(t for kind in ([kinds] if isinstance(kinds, str) else kinds) for t in TYPES[kind])
    if not isinstance(value, allowed) or value not in schema.get("enum", [value]):
        return False
    if "const" in schema and value != schema["const"]:
        return False
    if "oneOf" in schema and sum(fits(value, one) for one in schema["oneOf"]) != 1:
        return False
    if isinstance(value, dict):
        return _fits_keys(value, schema)
    if isinstance(value, list):
        items = all(fits(one, schema["items"]) for one in value)
        return items and schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", 10**9)
    if isinstance(value, str):
        return re.search(schema.get("pattern", ""), value) is not None
    return schema.get("minimum", value) <= value and value > schema.get("exclusiveMinimum", value - 1)


def _fits_keys(value: dict[str, Any], schema: dict[str, Any]) -> bool:
    known, more = schema.get("properties", {}), schema.get("additionalProperties", True)
    return all(key in value for key in schema.get("required", [])) and all(
        fits(one, known[key]) if key in known else (more is True or (more and fits(one, more)))
        for key, one in value.items()
    )


def test_the_schema_beside_the_plans_is_fresh() -> None:
    """Mend it with: python -m companion.plan.editor_schema > plans/plan.schema.json"""
    assert FILE.read_text(encoding="utf-8") == json_schema()


def test_the_command_that_mends_it_prints_it() -> None:
    command = [sys.executable, "-m", "companion.plan.editor_schema"]
    done = subprocess.run(command, capture_output=True, text=True, check=True, encoding="utf-8")
    assert done.stdout == json_schema()


def test_the_cushion_fits_the_schema() -> None:
    assert fits(yaml.safe_load(CUSHION), SCHEMA)


@pytest.mark.parametrize("path", demo_plans(), ids=lambda path: path.stem)
def test_every_demo_plan_fits_the_schema(path: Path) -> None:
    assert fits(yaml.safe_load(path.read_text(encoding="utf-8")), SCHEMA)


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
    assert not fits(yaml.safe_load(CUSHION.replace(old, new)), SCHEMA)


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
    assert fits(yaml.safe_load(CUSHION.replace(old, new)), SCHEMA)


@pytest.mark.parametrize("module", ["packed", "demo"])
def test_taking_a_piece_up_again_loads_neither_yaml_nor_pydantic(module: str) -> None:
    code = f"import sys, companion.plan.{module}; print([m for m in ('yaml', 'pydantic') if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
