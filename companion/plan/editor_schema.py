"""The JSON Schema of a plan, for editors that complete and check YAML, made from the plan's own shape.

``python -m companion.plan.editor_schema`` prints what lies beside the demo plans.
"""

from __future__ import annotations

import json

from companion.plan.schema.plans import PlanShape


def json_schema() -> str:
    """The JSON Schema of a plan, for editors, as the text of its file."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **PlanShape.model_json_schema()}
    _drop_nulls(schema)
    schema["title"] = "Rowside plan"
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _drop_nulls(schema: object) -> None:
    """A key that may be left out may not be left empty: take the null alternatives out again."""
    if isinstance(schema, list):
        for one in schema:
            _drop_nulls(one)
    if isinstance(schema, dict):
        if {"type": "null"} in schema.get("anyOf", []):
            (other,) = (one for one in schema.pop("anyOf") if one != {"type": "null"})
            schema |= other
            schema.pop("default", None)
        for one in schema.values():
            _drop_nulls(one)


if __name__ == "__main__":
    print(json_schema(), end="")
