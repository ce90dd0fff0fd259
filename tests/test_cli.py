"""The commands as somebody meets them: exit code, output and messages of the real program."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import pytest
from the_program import PIER_SIGN, ROOT, run

UNKNOWN_SYMBOL = PIER_SIGN.replace("sbbss", "sbDss")
UNUSED_YARN = PIER_SIGN.replace("symbols:", "  sea: {colour: teal}\nsymbols:")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(PIER_SIGN, encoding="utf-8")
    (tmp_path / "torn.yaml").write_text(UNKNOWN_SYMBOL, encoding="utf-8")
    (tmp_path / "spare.yaml").write_text(UNUSED_YARN, encoding="utf-8")
    return tmp_path


def test_a_good_plan_gets_its_line_and_exit_code_0(folder: Path) -> None:
    ran = run(folder, "check", "pier.yaml")
    assert (ran.code, ran.out, ran.err) == (
        0, "pier.yaml: 5 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\n", ""
    )


def test_one_bad_plan_among_several_leaves_the_others_their_lines(folder: Path) -> None:
    ran = run(folder, "check", "pier.yaml", "torn.yaml", "gone.yaml", "spare.yaml")
    assert ran.code == 2
    assert ran.out == (
        "pier.yaml: 5 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\n"
        "torn.yaml: 1 to mend.\n"
        "gone.yaml: 1 to mend.\n"
        "spare.yaml: 5 sts x 4 rows, 3 yarns, 3 strands; 1 warning.\n"
    )
    assert "torn.yaml:14:9  " in ran.err
    assert '"D"' in ran.err
    assert "gone.yaml" in ran.err
    assert "spare.yaml:7:3  Warning: " in ran.err


def test_a_warning_is_told_and_does_not_fail_the_check(folder: Path) -> None:
    ran = run(folder, "check", "spare.yaml")
    assert ran.code == 0
    assert "Warning" in ran.err


def test_check_as_json_tells_every_problem_of_every_plan(folder: Path) -> None:
    ran = run(folder, "check", "--json", "pier.yaml", "torn.yaml", "spare.yaml")
    assert (ran.code, ran.err) == (2, "")
    good, torn, spare = ran.value
    assert good == {"file": "pier.yaml", "problems": []}
    assert list(torn["problems"][0]) == ["line", "column", "what", "mend", "warning"]
    assert [(p["line"], p["column"], p["warning"]) for p in torn["problems"]] == [(14, 9, False)]
    assert [(p["line"], p["column"], p["warning"]) for p in spare["problems"]] == [(7, 3, True)]


@pytest.mark.parametrize("command", ["rows", "strands"])
@pytest.mark.parametrize("words", [[], ["--json"]])
def test_a_bad_plan_prints_nothing_but_its_problems(folder: Path, command: str, words: list[str]) -> None:
    ran = run(folder, command, "torn.yaml", *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("torn.yaml:14:9  ")


@pytest.mark.parametrize("command", ["rows", "strands"])
def test_warnings_do_not_disturb_the_json(folder: Path, command: str) -> None:
    ran = run(folder, command, "spare.yaml", "--json")
    assert ran.code == 0
    assert ran.value
    assert "Warning" in ran.err


def test_the_written_rows_say_cross_at_each_change(folder: Path) -> None:
    ran = run(folder, "rows", "pier.yaml")
    assert (ran.code, ran.err) == (0, "")
    row_2, row_3 = (line for line in ran.out.splitlines() if line.startswith(("Row 2", "Row 3")))
    assert row_2.count("cross") == row_3.count("cross") == 2


def test_one_row_or_a_span_of_rows_can_be_asked_for(folder: Path) -> None:
    for rows, numbers in (("3", [3]), ("2-4", [2, 3, 4])):
        value = run(folder, "rows", "pier.yaml", "--rows", rows, "--json").value
        assert [row["row"] for row in value["rows"]] == numbers
    told = run(folder, "rows", "pier.yaml", "--rows", "2-3").out.splitlines()
    assert told[0] == "Pier sign: rows 2 to 3 of 4"
    assert [line[:5] for line in told[2:]] == ["Row 2", "Row 3"]


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("5", "This plan has rows 1 to 4."),
        ("0", "This plan has rows 1 to 4."),
        ("3-9", "This plan has rows 1 to 4."),
        ("3-2", "Rows are told upward: 2-3."),
        ("two", 'Rows are told as 7, 5-12 or "left 3-7", not as "two".'),
        ("-1", 'Rows are told as 7, 5-12 or "left 3-7", not as "-1".'),
        ("1\x1b[31m", 'Rows are told as 7, 5-12 or "left 3-7", not as "1<001B>[31m".'),
    ],
)
def test_rows_that_are_not_there_are_a_usage_error(folder: Path, rows: str, told: str) -> None:
    ran = run(folder, "rows", "pier.yaml", f"--rows={rows}")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.endswith(f"Error: {told}\n")


@pytest.mark.parametrize(
    "words", [["rows"], ["weave"], ["rows", "pier.yaml", "--jsno"], ["--json", "rows", "pier.yaml"], ["check"]]
)
def test_a_command_line_that_is_wrong_exits_with_2(folder: Path, words: list[str]) -> None:
    ran = run(folder, *words)
    assert (ran.code, ran.out) == (2, "")
    assert "Error: " in ran.err


def test_a_demo_plan_is_known_by_name_from_anywhere(tmp_path: Path) -> None:
    demos = ["swatch", "harbour-light-cushion", "mooring-mat", "breakwater-cowl"]
    ran = run(tmp_path, "check", *demos)
    assert (ran.code, ran.err) == (0, "")
    assert [line.split(":")[0] for line in ran.out.splitlines()] == demos


def test_a_file_of_the_name_goes_before_the_demo_plan_and_a_folder_does_not(tmp_path: Path) -> None:
    (tmp_path / "swatch").write_text(PIER_SIGN, encoding="utf-8")
    (tmp_path / "mooring-mat").mkdir()
    mine = run(tmp_path, "rows", "swatch", "--json")
    assert mine.value["title"] == "Pier sign"
    assert run(tmp_path, "check", "mooring-mat").code == 0


def test_a_name_that_is_neither_is_told_with_the_nearest_demo_plan(tmp_path: Path) -> None:
    ran = run(tmp_path, "rows", "swach")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        'There is no plan file "swach" here, and no demo plan of that name.\n'
        '  Did you mean "swatch"? Demo plans: swatch, mooring-mat, bollard-coaster, sailing-headband, '
        "anchor-pennant, wrist-warmer-right, wrist-warmer-left, breakwater-cowl, gull-on-the-quay, "
        "harbour-light-cushion, ferry-jumper-front.\n"
    )


def test_a_name_too_long_for_the_system_is_not_there(tmp_path: Path) -> None:
    ran = run(tmp_path, "rows", "n" * 5000)
    assert (ran.code, ran.out) == (2, "")


@pytest.mark.parametrize("words", [[], ["knit", "swatch"]])
def test_without_a_terminal_the_app_says_so_in_one_sentence(tmp_path: Path, words: list[str]) -> None:
    ran = run(tmp_path, *words)
    assert (ran.code, ran.out) == (1, "")
    assert ran.err == "rowside: The rows can only be shown in a terminal; rowside rows prints them as text.\n"


def test_an_encoding_without_the_letter_spells_it_out(folder: Path) -> None:
    plan = PIER_SIGN.replace("Pier sign", "Fjære").replace("sand", "sjø")
    (folder / "fjære.yaml").write_text(plan.replace("sssss\n", "sssDs\n", 1), encoding="utf-8")
    (folder / "fjord.yaml").write_text(plan, encoding="utf-8")
    ascii_only = {"PYTHONUTF8": "0", "PYTHONIOENCODING": "ascii", "NO_COLOR": "1"}
    written = run(folder, "rows", "fjord.yaml", **ascii_only)
    assert (written.code, written.err) == (0, "")
    assert written.out.startswith("Fj\\xe6re\n")
    assert run(folder, "rows", "fjord.yaml", "--json", **ascii_only).value["title"] == "Fjære"
    wrong = run(folder, "check", "fjære.yaml", **ascii_only)
    assert wrong.code == 2
    assert "fj\\xe6re.yaml:13:" in wrong.err


def test_markup_in_a_plan_is_text(folder: Path) -> None:
    plan = PIER_SIGN.replace("title: Pier sign", 'title: "[MC] [/ [red]x"').replace("  brick:", '  "[b]x":')
    (folder / "markup.yaml").write_text(plan.replace("b: brick", 'b: "[b]x"'), encoding="utf-8")
    ran = run(folder, "rows", "markup.yaml")
    assert ran.out.startswith("[MC] [/ [red]x\n")
    assert "join [b]x, p2" in ran.out


def test_characters_that_would_turn_a_line_around_are_shown_and_not_obeyed(folder: Path) -> None:
    (folder / "turned.yaml").write_text(PIER_SIGN.replace("brick", "bri\u202eck"), encoding="utf-8")
    ran = run(folder, "check", "turned.yaml")
    assert ran.code == 2
    assert "bri<202E>ck" in ran.err
    assert "\u202e" not in ran.err


@pytest.mark.parametrize("words", ["check", "rows", "strands", "ends", "where", "compare", "areas"])
def test_whoever_prints_a_plan_is_asked_whose_words_hands_and_units(folder: Path, words: str) -> None:
    runs = ["s 5"] if words == "where" else []
    plain = run(folder, words, "pier.yaml", *runs)
    spoken = run(folder, words, "pier.yaml", *runs, "--terms", "uk", "--hands", "right", "--units", "in")
    assert (plain.code, spoken.code, spoken.err) == (0, 0, "")
    if words in ("check", "where"):
        assert spoken.out == plain.out, "nothing in it is told another way"


def test_a_plan_is_checked_for_the_hands_it_is_to_be_worked_with(folder: Path) -> None:
    from companion.plan.outline import mirrored_trouble
    from companion.plan.read import load
    from tests.plan.plans import HEAD

    notched = "rows:\n  - chart: |\n      sssss\n      ss...\n      sssss\n      sssss\n"
    (folder / "notched.yaml").write_text(f"{HEAD}{notched}")
    trouble = mirrored_trouble(load(folder / "notched.yaml").piece)
    assert trouble is not None
    assert run(folder, "check", "notched.yaml").code == 0
    assert run(folder, "check", "ferry-jumper-front", "--hands", "left").code == 0
    ran = run(folder, "check", "pier.yaml", "notched.yaml", "--hands", "left")
    assert ran.code == 2
    assert ran.out == "pier.yaml: 5 sts x 4 rows, 2 yarns, 3 strands; nothing to mend.\nnotched.yaml: 1 to mend.\n"
    assert trouble.what in ran.err


def test_the_version_and_the_help_are_printed(tmp_path: Path) -> None:
    assert run(tmp_path, "--version").out == "rowside 0.1.0\n"
    told = run(tmp_path, "--help")
    assert told.code == 0
    assert all(f"  {command} " in told.out for command in ("check", "knit", "rows", "strands"))


@pytest.mark.skipif(os.name == "nt", reason="needs a POSIX shell")
@pytest.mark.parametrize("words", ["rows harbour-light-cushion", "rows harbour-light-cushion --json", "check swatch"])
def test_a_reader_that_goes_away_is_no_failure(tmp_path: Path, words: str) -> None:
    script = f'"$0" -m companion {words} | true; echo "${{PIPESTATUS[0]}}"'
    done = subprocess.run(
        ["bash", "-c", script, sys.executable], cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True, text=True, check=False, timeout=300,
    )
    assert (done.stdout, done.stderr) == ("0\n", "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
@pytest.mark.parametrize("words", [["rows", "swatch"], ["check", "swatch"], ["--help"]])
def test_a_full_disk_is_the_machines_failure(tmp_path: Path, words: list[str]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "companion", *words], cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=full, stderr=subprocess.PIPE, text=True, check=False, timeout=300,
        )
    assert (done.returncode, done.stderr) == (1, "rowside: No space left on device\n")


def test_a_bug_becomes_a_report_and_one_sentence(folder: Path) -> None:
    # A module of the same name before the real one stands for any bug.
    broken = folder / "broken" / "companion"
    broken.mkdir(parents=True)
    (broken / "__init__.py").write_text(
        f'__path__ = [{str(broken)!r}, {str(ROOT / "companion")!r}]\n__version__ = "0"\n', encoding="utf-8"
    )
    (broken / "pages").mkdir()
    (broken / "pages" / "__init__.py").write_text(
        f'__path__ = [{str(broken / "pages")!r}, {str(ROOT / "companion" / "pages")!r}]\n', encoding="utf-8"
    )
    whole = "def whole(piece, strands, terms):\n    return 1 // 0\n"
    (broken / "pages" / "written.py").write_text(whole, encoding="utf-8")
    ran = run(folder, "rows", "pier.yaml", PYTHONPATH=str(folder / "broken"))
    report = folder / "data" / "bug-report-1.txt"
    assert (ran.code, ran.out) == (1, "")
    assert ran.err == f"rowside: This is a bug in Rowside, not in your plan; {report} tells more.\n"
    told = report.read_text(encoding="utf-8")
    assert "ZeroDivisionError" in told
    assert "'rows' 'pier.yaml'" in told


def test_a_second_bug_leaves_the_first_report(folder: Path) -> None:
    from companion import bug_report

    first = bug_report.write(ValueError("a"), folder, ["rows"])
    second = bug_report.write(ValueError("b"), folder, ["rows"])
    assert first != second
    text = first.read_text(encoding="utf-8")
    assert f"textual {metadata.version('textual')}" in text
    assert f"pydantic {metadata.version('pydantic')}" in text
    assert "pytest" not in text, "only what the program itself needs"
    assert "ValueError: a" in first.read_text(encoding="utf-8")


@pytest.mark.skipif(os.name == "nt", reason="the signal of an interrupt is a POSIX one")
def test_an_interrupt_exits_with_130_and_one_sentence(tmp_path: Path) -> None:
    read, write = os.pipe()
    with subprocess.Popen(
        [sys.executable, "-m", "companion", "rows", "harbour-light-cushion", "--json"], cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)}, stdout=write, stderr=subprocess.PIPE, text=True,
    ) as running:
        os.close(write)
        # After the first character nobody reads on, so the program waits with its answer half written.
        assert os.read(read, 1) == b"{"
        running.send_signal(signal.SIGINT)
        _, err = running.communicate(timeout=300)
    os.close(read)
    assert (running.returncode, err.strip()) == (130, "rowside: Stopped by you. Nothing that was saved is lost.")


@pytest.mark.parametrize(
    ("shell", "variables"),
    [
        ("bash", {"COMP_WORDS": "rowside rows sw", "COMP_CWORD": "2"}),
        ("zsh", {"COMP_WORDS": "rowside check sw", "COMP_CWORD": "2"}),
        ("fish", {"COMP_WORDS": "rowside knit sw", "COMP_CWORD": "sw"}),
    ],
)
def test_the_shell_completes_demo_plans_and_plan_files(folder: Path, shell: str, variables: dict[str, str]) -> None:
    (folder / "swift.yml").write_text(PIER_SIGN, encoding="utf-8")
    ran = run(folder, _ROWSIDE_COMPLETE=f"{shell}_complete", **variables)
    assert ran.code == 0
    assert "swatch" in ran.out
    assert "swift.yml" in ran.out


def test_the_shell_finds_files_in_folders_by_itself(folder: Path) -> None:
    ran = run(folder, _ROWSIDE_COMPLETE="bash_complete", COMP_WORDS="rowside rows charts/pi", COMP_CWORD="2")
    assert (ran.code, ran.out) == (0, "file,charts/pi\n")
