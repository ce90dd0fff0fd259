"""The written rows of the demo plans that are real pieces, as they were read by eye once. A change in them is looked
at before its golden file is written anew: ``python -m tests.pages.test_demos_written``."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.knitting.strands.plan import plan_strands
from companion.pages import written
from companion.plan.demo import demo_plans
from companion.plan.read import load

GOLDEN = Path(__file__).parent / "golden"
READ_BY_EYE = ("breakwater-cowl", "ferry-jumper-front", "wrist-warmer-left", "wrist-warmer-right")


def rows_of(name: str) -> str:
    [path] = [path for path in demo_plans() if path.stem == name]
    piece = load(path).piece
    told = written.whole(piece, plan_strands(piece.rows, piece.carry).strands)
    return "".join(f"{line}\n" for line in told)


@pytest.mark.parametrize("name", READ_BY_EYE)
def test_the_written_rows_of_a_demo_are_those_read_by_eye(name: str) -> None:
    assert rows_of(name) == (GOLDEN / f"{name}.txt").read_text(encoding="utf-8")


if __name__ == "__main__":
    for each in READ_BY_EYE:
        (GOLDEN / f"{each}.txt").write_text(rows_of(each), encoding="utf-8")
