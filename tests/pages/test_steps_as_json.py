"""Every kind of step has a form in JSON that names it and says all that it holds."""

from __future__ import annotations

import json

import pytest

from companion.knitting.hands.steps import name_of
from companion.pages.as_json import step_as_json
from tests.knitting.charts import drawn, piece_of
from tests.knitting.every_step import EVERY_STEP

PIECE = piece_of(drawn(*["sssss"] * 8))


@pytest.mark.parametrize("kind", sorted({name_of(step) for step in EVERY_STEP}))
def test_a_step_is_named_and_written_with_all_that_it_holds(kind: str) -> None:
    steps = [step for step in EVERY_STEP if name_of(step) == kind]
    written = [json.loads(json.dumps(step_as_json(PIECE, step), allow_nan=False)) for step in steps]
    for step, value in zip(steps, written, strict=True):
        assert list(value) == ["step", *step.fields()]
        assert value["step"] == kind
        for name, held in step.fields().items():
            if isinstance(held, str | int | bool):
                assert value[name] == held
    assert len({json.dumps(value) for value in written}) == len(set(steps))


@pytest.mark.parametrize(
    ("kind", "name", "value"),
    [
        ("cut", "spots", [{"strand": 1, "yarn": "sand", "nth": 1, "of": 1, "before": "", "after": ""}]),
        ("leave", "rests", [[{"strand": 1, "yarn": "sand", "nth": 1, "of": 1, "before": "", "after": ""}, 1]]),
        # The end at run 1 (from 0) of row 4, after 2 of its stitches.
        ("lay in", "end", {"part": "", "row": 4, "segment": 1, "kind": "finish", "after": 2}),
        # Row 5 from the cast-on, stitch 2 from the right: 3 and 2 stitches.
        ("sew on", "areas", [{"yarn": "lamp", "row": 5, "stitch": 2, "column": 2, "stitches": 5}]),
        # Rows 11 to 30.
        ("sew up", "tubes", [{"first_row": 11, "last_row": 30, "stitches": 1}]),
        ("work", "hands", [["k", 8]]),
        ("have ready", "yarns", ["brick"]),
    ],
)
def test_what_a_step_holds_is_told_by_row_numbers_and_names(kind: str, name: str, value: object) -> None:
    first = next(step for step in EVERY_STEP if name_of(step) == kind and getattr(step, name))
    assert json.loads(json.dumps(step_as_json(PIECE, first)))[name] == value
