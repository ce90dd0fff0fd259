"""A plan is read by a process of its own while something else is done in this one."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from companion.plan.demo import demo_plans
from companion.plan.loaded import load_beside
from companion.plan.read import load
from companion.problems import Problems


@pytest.mark.parametrize("plan", demo_plans(), ids=lambda path: path.stem)
def test_it_gives_what_reading_the_plan_here_gives(plan: Path) -> None:
    done = []
    read, here = load_beside(plan, lambda: done.append(os.getpid())), load(plan)
    assert (read.piece, read.text, dict(read.files)) == (here.piece, here.text, dict(here.files))
    assert done == [os.getpid()]


@pytest.fixture
def children(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The processes that are made from here on."""
    fork, made = os.fork, list[int]()

    def fork_told() -> int:
        made.append(fork())
        return made[-1]

    monkeypatch.setattr(os, "fork", fork_told)
    return made


def test_what_is_wrong_with_the_plan_is_told_as_ever_and_no_process_is_left(
    tmp_path: Path, children: list[int]
) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("rowside: 1\ntitle: Pennant\nyarns: {}\n")
    with pytest.raises(Problems) as here:
        load(plan)
    with pytest.raises(Problems) as beside:
        load_beside(plan, lambda: None)
    assert beside.value.problems == here.value.problems
    with pytest.raises(ChildProcessError):
        os.waitpid(children[0], os.WNOHANG)


def test_without_a_process_of_its_own_it_is_read_here(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, done = demo_plans()[0], []

    def no_more() -> int:
        raise BlockingIOError

    monkeypatch.setattr(os, "fork", no_more)
    before = len(os.listdir("/proc/self/fd")) if os.path.isdir("/proc/self/fd") else 0
    assert load_beside(plan, lambda: done.append(1)).piece == load(plan).piece
    assert done == [1]
    if before:
        assert len(os.listdir("/proc/self/fd")) == before
    monkeypatch.delattr(os, "fork")
    assert load_beside(plan, lambda: done.append(1)).piece == load(plan).piece
    assert done == [1, 1]


def test_where_the_process_dies_the_plan_is_read_here(children: list[int]) -> None:
    plan = demo_plans()[0]
    assert load_beside(plan, lambda: os.kill(children[0], signal.SIGKILL)).piece == load(plan).piece
