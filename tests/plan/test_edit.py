"""Limits written into a plan: its comments, layout and everything else stay, or nothing is written."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.knitting.strands.limits import Carry
from companion.plan.demo import demo_plans
from companion.plan.edit import use
from companion.plan.files import replace_bytes
from companion.plan.read import load, load_text
from companion.problems import Problems

PLAN = """\
plan: 1                     # the harbour's own
title: Pier sign
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns: {sand: {colour: "#d9c9a5"}, brick: {colour: "#9c4a2f"}}
symbols: {s: sand, b: brick}
CARRY
rows:
  - chart: |
      ssbb
      sbbs
"""


def edited(tmp_path: Path, carry: str, limits: Carry) -> str:
    path = tmp_path / "pier.yaml"
    path.write_bytes(PLAN.replace("CARRY\n", carry).encode())
    use(path, limits)
    return path.read_bytes().decode()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("carry: {reach: 1}   # short\n", "carry: {reach: 2, behind: 3, rest: 4}   # short\n"),
        ("carry: { rest: 0,  reach: 1 }\n", "carry: { rest: 4,  reach: 2, behind: 3 }\n"),
        ("carry:\n  # as my aunt did\n  behind: 1   # one\n  reach: 5\n\n# end\n",
         "carry:\n  # as my aunt did\n  behind: 3   # one\n  reach: 2\n  rest: 4\n\n# end\n"),
        ("carry:\n    rest: 1 # a row\n", "carry:\n    rest: 4 # a row\n    reach: 2\n    behind: 3\n"),
        ("carry: {}\n", "carry: {reach: 2, behind: 3, rest: 4}\n"),
    ],
)  # fmt: skip
def test_the_keys_are_set_in_place(tmp_path: Path, before: str, after: str) -> None:
    assert edited(tmp_path, before, Carry(2, 3, 4)) == PLAN.replace("CARRY\n", after)


def test_where_nothing_is_said_a_line_is_added_at_the_end(tmp_path: Path) -> None:
    told = edited(tmp_path, "", Carry(2, 3, 4))
    assert told == PLAN.replace("CARRY\n", "") + "carry: {reach: 2, behind: 3, rest: 4}\n"


def test_shared_starts_are_written_only_when_they_change(tmp_path: Path) -> None:
    told = edited(tmp_path, "carry: {reach: 1}\n", Carry(1, 0, 0, True))
    assert "carry: {reach: 1, behind: 0, rest: 0, share: true}\n" in told


def test_limits_that_are_in_force_change_nothing(tmp_path: Path) -> None:
    assert edited(tmp_path, "", Carry(3)) == PLAN.replace("CARRY\n", "")


def test_line_ends_byte_order_mark_mode_and_link_stay(tmp_path: Path) -> None:
    real, link = tmp_path / "real.yaml", tmp_path / "pier.yaml"
    text = PLAN.replace("CARRY\n", "carry:\n  rest: 1\n").replace("\n", "\r\n")
    real.write_bytes(b"\xef\xbb\xbf" + text.encode())
    real.chmod(0o640)
    link.symlink_to(real)
    use(link, Carry(2, 3, 4))
    after = text.replace("  rest: 1\r\n", "  rest: 4\r\n  reach: 2\r\n  behind: 3\r\n")
    assert real.read_bytes() == b"\xef\xbb\xbf" + after.encode()
    assert link.is_symlink()
    assert real.stat().st_mode & 0o777 == 0o640
    assert sorted(os.listdir(tmp_path)) == ["pier.yaml", "real.yaml"]


def test_a_second_name_of_the_same_file_keeps_what_it_had(tmp_path: Path) -> None:
    plan, other = tmp_path / "pier.yaml", tmp_path / "kept.yaml"
    plan.write_text(PLAN.replace("CARRY\n", ""), encoding="utf-8")
    os.link(plan, other)
    before = plan.read_bytes()
    use(plan, Carry(2))
    assert plan.read_bytes() != before
    assert other.read_bytes() == before


@pytest.mark.skipif(os.name == "nt", reason="Windows has other rights")
def test_a_new_file_is_one_that_others_may_read(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        replace_bytes(tmp_path / "new.png", b"picture")
        assert os.umask(0o027) == 0o027
    finally:
        os.umask(before)
    assert (tmp_path / "new.png").stat().st_mode & 0o777 == 0o640


def test_a_demo_plan_stays_as_it_is() -> None:
    path = demo_plans()[0]
    before = path.read_bytes()
    with pytest.raises(Problems, match="A demo plan stays as it is") as found:
        use(path, Carry(1))
    assert found.value.problems[0].mend == "Copy it, and change the copy."
    assert path.read_bytes() == before


def test_a_plan_with_something_to_mend_is_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    path.write_text(PLAN.replace("CARRY", "carry: {reach: far}"), encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(Problems, match="must be a whole number"):
        use(path, Carry(1))
    assert path.read_bytes() == before


@settings(max_examples=35)
@given(st.data(), st.builds(Carry, *[st.integers(0, 30)] * 3, st.booleans()))
def test_a_demo_copied_says_what_was_asked_and_nothing_else(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject, limits: Carry
) -> None:
    demo = data.draw(st.sampled_from(demo_plans()))
    text = demo.read_text(encoding="utf-8")
    path = tmp_path_factory.mktemp("plans") / "copy.yaml"
    charts = {chart.name: chart.read_text(encoding="utf-8") for chart in demo.parent.glob("*.txt")}
    for name, drawn in charts.items():
        path.with_name(name).write_text(drawn, encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    use(path, limits)
    before, after = load(demo).piece, load(path).piece
    assert after.carry == limits
    assert after.fabric == before.fabric
    kept = [line for line in path.read_text(encoding="utf-8").splitlines() if line in text.splitlines()]
    assert len(kept) >= len(text.splitlines()) - 4
    assert load_text(path.read_text(encoding="utf-8"), "copy.yaml", charts).piece == after
