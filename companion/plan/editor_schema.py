"""The JSON Schema of a plan, for editors that complete and check YAML, made from the plan's own shape.

What it refuses, the reader refuses; the reader finds more. ``python -m companion.plan.editor_schema`` prints what
lies beside the demo plans.
"""

from __future__ import annotations

import json
import re
from typing import Any

from companion.plan.natural import SPELT
from companion.plan.schema.plans import PlanShape

_HOLDERS = {"colour": ["YarnShape"], "metres": ["BallShape"], "colours": ["CastOnShape", "BindOffShape"],
            "seed": ["GaugeShape"]}
"""Where keys lie that may be spelt otherwise; the others lie at the top."""


def json_schema() -> str:
    """The JSON Schema of a plan, for editors, as the text of its file."""
    schema = PlanShape.model_json_schema()
    _tidy(schema)
    for key, other in SPELT.items():
        for holder in [schema["$defs"][name] for name in _HOLDERS.get(key, [])] or [schema]:
            _spell(holder, key, other)
    schema["required"].remove("symbols")  # which may go without saying
    del schema["$defs"]["OpeningShape"]["properties"]["row"]["default"]  # which holds only where "at" stands, too
    schema["properties"]["symbols"]["additionalProperties"] = False
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Rowside plan", **schema}
    # An editor shows the names of parts: they are words, and no code's.
    return re.sub(r"\b(\w+)Shape\b", _words, json.dumps(schema, indent=2, ensure_ascii=False)) + "\n"


def _words(name: re.Match[str]) -> str:
    """ "OtherGauge" as "other-gauge"."""
    return re.sub(r"(?<!^)(?=[A-Z])", "-", name[1]).lower()


def _tidy(schema: object) -> None:
    """A key that may be left out may not be left empty; names of the code are no titles; and a default is one that
    can be typed as it stands, whatever else is said."""
    if isinstance(schema, list):
        for one in schema:
            _tidy(one)
    if not isinstance(schema, dict):
        return
    if {"type": "null"} in schema.get("anyOf", []):
        others = [one for one in schema.pop("anyOf") if one != {"type": "null"}]
        schema |= {**others[0], **schema} if len(others) == 1 else {"anyOf": others}
    if isinstance(schema.get("title"), str):
        del schema["title"]
    if not isinstance(schema.get("default"), bool | int):
        schema.pop("default", None)
    for one in schema.values():
        _tidy(one)


def _spell(schema: dict[str, Any], key: str, other: str) -> None:
    """A key that may be spelt otherwise."""
    schema["properties"][other] = schema["properties"][key]
    if key in schema.get("required", []):
        schema["required"].remove(key)
        schema["oneOf"] = [{"required": [key]}, {"required": [other]}]


if __name__ == "__main__":
    print(json_schema(), end="")
