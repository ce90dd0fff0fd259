"""Plans from standard input, demo plans copied, the schema printed, pieces listed and completed."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import PIER_SIGN, ROOT, run

from companion.plan.read import load
from companion.progress.actions import On, WholeRow
from companion.progress.shelf import Shelf

PLANS = ROOT / "plans"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    return tmp_path


def begun(folder: Path, name: str | None = None) -> None:
    """A piece of the pier sign, two runs into its second row."""
    plan = folder / "pier.yaml"
    with Shelf(folder / "data" / "pieces").start(load(plan), plan, name) as knitting:
        for action in (WholeRow(), On(), On()):
            knitting.do(action)


@pytest.mark.parametrize("words", ["rows {}", "strands {}", "ends {}", "compare {}", "areas {}", "where {} s,b,s"])
def test_a_plan_on_standard_input_is_told_as_the_file_is(folder: Path, words: str) -> None:
    of_file = run(folder, *words.format("pier.yaml").split())
    of_input = run(folder, *words.format("-").split(), given=PIER_SIGN.encode())
    assert (of_input.code, of_input.out, of_input.err) == (of_file.code, of_file.out, of_file.err)
    assert of_file.out


def test_check_tells_the_places_of_problems_on_standard_input(folder: Path) -> None:
    assert run(folder, "check", "-", given=b"\xef\xbb\xbf" + PIER_SIGN.encode()).code == 0
    ran = run(folder, "check", "-", given=PIER_SIGN.replace("sbbss", "sbDss").encode())
    assert (ran.code, ran.out) == (2, "-: 1 to mend.\n")
    assert ran.err.startswith('standard input:14:9  Row 3 of this section, counted from the bottom, uses')
    bytes_ = run(folder, "check", "-", given=b"plan: 1\ntitle: \xff\n")
    assert bytes_.err.startswith("standard input:2:8  The file is not UTF-8 text: the byte FF stands here.")


def test_a_plan_on_standard_input_draws_in_files_of_the_folder_one_is_in(folder: Path) -> None:
    plan = PIER_SIGN.partition("  - chart")[0] + "  - chart: {from: drawn.txt}\n"
    (folder / "drawn.txt").write_text("sssss\nsbbss\n", encoding="utf-8")
    assert run(folder, "check", "-", given=plan.encode()).out.startswith("-: 5 sts x 2 rows")
    (folder.parent / "outside.txt").write_text("sssss\n", encoding="utf-8")
    ran = run(folder, "check", "-", given=plan.replace("drawn.txt", "../outside.txt").encode())
    assert ran.code == 2
    assert "outside.txt" in ran.err


@pytest.mark.parametrize(
    ("words", "instead"),
    [
        ("knit -", "Save it in a file and knit that: rowside knit FILE"),
        ("areas - --use all", "Save it in a file: --use writes into that."),
        ("compare - --use 1", "Save it in a file: --use writes into that."),
    ],
)
def test_what_needs_a_file_says_what_to_do_instead(folder: Path, words: str, instead: str) -> None:
    ran = run(folder, *words.split(), given=PIER_SIGN.encode())
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == f"This needs a plan in a file, and none lies on standard input.\n  {instead}\n"


def test_a_demo_plan_is_copied_and_never_over_a_file(folder: Path) -> None:
    ran = run(folder, "copy", "swatch")
    assert (ran.code, ran.out) == (0, "")
    assert ran.err == "swatch.yaml is yours to change. To knit it: rowside knit swatch.yaml\n"
    assert (folder / "swatch.yaml").read_bytes() == (PLANS / "swatch.yaml").read_bytes()
    (folder / "swatch.yaml").write_text("mine", encoding="utf-8")
    again = run(folder, "copy", "swatch")
    assert (again.code, again.out) == (2, "")
    assert again.err == (
        'There is a file "swatch.yaml" already.\n  Name another one, or write over it with --force.\n'
    )
    assert (folder / "swatch.yaml").read_text(encoding="utf-8") == "mine"
    assert run(folder, "copy", "swatch", "--force").code == 0
    assert (folder / "swatch.yaml").read_bytes() == (PLANS / "swatch.yaml").read_bytes()


def test_a_demo_plan_is_copied_under_another_name_into_a_folder_and_to_standard_output(folder: Path) -> None:
    assert run(folder, "copy", "mooring-mat", "my mat.yaml").err.endswith("rowside knit 'my mat.yaml'\n")
    (folder / "plans").mkdir()
    assert run(folder, "copy", "mooring-mat", "plans").code == 0
    text = (PLANS / "mooring-mat.yaml").read_text(encoding="utf-8")
    assert [(folder / name).read_text(encoding="utf-8") for name in ("my mat.yaml", "plans/mooring-mat.yaml")] == [
        text, text,
    ]  # fmt: skip
    assert run(folder, "copy", "mooring-mat", "-").out == text


def test_what_a_demo_plan_draws_in_is_copied_with_it_or_nothing_is(folder: Path) -> None:
    (folder / "pair").mkdir()
    assert run(folder, "copy", "wrist-warmer-left", "pair").code == 0
    assert run(folder, "check", "pair/wrist-warmer-left.yaml").code == 0
    assert run(folder, "copy", "wrist-warmer-right", "pair").code == 0, "the shoal lies there as it is"
    (folder / "shoal.txt").write_text("my own shoal", encoding="utf-8")
    ran = run(folder, "copy", "wrist-warmer-left")
    assert ran.code == 2
    assert '"shoal.txt"' in ran.err
    assert not (folder / "wrist-warmer-left.yaml").exists()
    assert (folder / "shoal.txt").read_text(encoding="utf-8") == "my own shoal"


@pytest.mark.skipif(os.name == "nt", reason="links are made by their owner's right there")
def test_nothing_is_written_through_a_link_that_leads_nowhere(folder: Path) -> None:
    (folder / "swatch.yaml").symlink_to(folder / "elsewhere.yaml")
    assert run(folder, "copy", "swatch").code == 2
    assert not (folder / "elsewhere.yaml").exists()


def test_a_demo_plan_that_is_none_is_told_with_the_nearest(folder: Path) -> None:
    ran = run(folder, "copy", "mooring-mt")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith('No demo plan is called "mooring-mt".\n  Did you mean "mooring-mat"? Demo plans: ')
    assert run(folder, "copy", "pier.yaml").code == 2, "which is a plan, and no demo"


def test_the_schema_is_printed_or_written_and_never_over_a_file(folder: Path) -> None:
    schema = (PLANS / "plan.schema.json").read_text(encoding="utf-8")
    assert run(folder, "schema").out == schema
    assert run(folder, "schema", "-o", "s.json").code == 0
    assert (folder / "s.json").read_text(encoding="utf-8") == schema
    (folder / "s.json").write_text("{}", encoding="utf-8")
    assert run(folder, "schema", "-o", "s.json").code == 2
    assert (folder / "s.json").read_text(encoding="utf-8") == "{}"
    assert run(folder, "schema", "-o", "s.json", "--force").code == 0
    assert (folder / "s.json").read_text(encoding="utf-8") == schema


def test_pieces_are_listed_with_how_far_they_are_and_where_they_lie(folder: Path) -> None:
    none = run(folder, "pieces")
    assert (none.code, none.out) == (0, "No piece is on your needles yet. One is begun with: rowside knit PLAN\n")
    assert run(folder, "pieces", "--json").value == []
    begun(folder)
    (folder / "data" / "pieces" / "torn.rowside").write_bytes(b"\x00" * 4096)
    ran = run(folder, "pieces")
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert lines[:3] == [
        "Pier sign: on the needles, 1 of 4 rows, 2 runs of the next, today", f"  plan: {folder / 'pier.yaml'}",
        f"  file: {folder / 'data' / 'pieces' / 'pier-sign.rowside'}",
    ]  # fmt: skip
    assert lines[3] == "torn: damaged"
    assert "put a copy from your backup in its place" in lines[4]
    piece, torn = run(folder, "pieces", "--json").value
    assert list(piece) == [
        "name", "title", "state", "rows", "rows_done", "runs_done", "ends_ready", "ends_left", "areas_left",
        "worked_at", "trouble", "plan", "file",
    ]  # fmt: skip
    assert (piece["rows_done"], piece["rows"], piece["runs_done"], piece["state"]) == (1, 4, 2, "on the needles")
    assert piece["plan"] == str(folder / "pier.yaml")
    assert (torn["state"], torn["worked_at"]) == ("damaged", None)


@pytest.mark.parametrize("words", [["progress", "export", "Pier sing"], ["ends", "pier.yaml", "--name", "pier sing"]])
def test_a_name_that_no_piece_has_is_told_with_the_nearest(folder: Path, words: list[str]) -> None:
    begun(folder)
    ran = run(folder, *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == f'No piece is called "{words[-1]}". Did you mean "Pier sign"?\n'


@pytest.mark.skipif(os.name == "nt", reason="the shells are POSIX ones")
@pytest.mark.parametrize(
    ("shell", "variables", "told"),
    [
        ("fish", {"COMP_WORDS": "rowside progress export pi", "COMP_CWORD": "pi"}, "plain,Pier sign\n"),
        ("zsh", {"COMP_WORDS": "rowside knit pier.yaml --name P", "COMP_CWORD": "4"}, "plain\nPier sign\n_\n"),
        ("bash", {"COMP_WORDS": "rowside ends pier.yaml --name P", "COMP_CWORD": "4"}, "plain,Pier\\ sign\n"),
        ("bash", {"COMP_WORDS": 'rowside ends pier.yaml --name "P', "COMP_CWORD": "4"}, "plain,Pier sign\n"),
        ("bash", {"COMP_WORDS": "rowside copy moor", "COMP_CWORD": "2"}, "plain,mooring-mat\n"),
    ],
)
def test_the_shell_completes_names_of_pieces_and_demo_plans(
    folder: Path, shell: str, variables: dict[str, str], told: str
) -> None:
    begun(folder)
    ran = run(folder, _ROWSIDE_COMPLETE=f"{shell}_complete", **variables)
    assert (ran.code, ran.out) == (0, told)


def test_what_is_listed_as_json_is_ascii_and_one_value(folder: Path) -> None:
    begun(folder, "Fjære")
    out = run(folder, "pieces", "--json").out
    assert out.isascii()
    assert json.loads(out)[0]["name"] == "Fjære"


@pytest.mark.skipif(os.name == "nt", reason="the signal of an interrupt is a POSIX one")
def test_stopped_while_it_waits_for_the_rest_of_a_plan_it_says_so_in_our_words(folder: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "companion", "check", "-"], cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as running:
        assert running.stdin
        running.stdin.write(b"# more than a pipe holds: it is being read\n" * 50_000)
        running.stdin.flush()
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=300)
    assert (running.returncode, out) == (130, b"")
    assert err == b"\nrowside: Stopped by you. Nothing that was saved is lost.\n"


def test_a_folder_that_is_not_there_is_told_by_the_name_that_was_typed(folder: Path) -> None:
    ran = run(folder, "copy", "swatch", "nosuch/x.yaml")
    assert (ran.code, ran.out, ran.err) == (1, "", "rowside: nosuch/x.yaml: No such file or directory\n")
