"""A run that is forked from the loaded program is like one that is begun afresh."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from tests.loaded_program import LoadedProgram

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="every run is begun afresh here")

PLAN = PIER_SIGN.replace("Pier sign", "Fjære")
TELLING = """\
import os, signal, sys
print(sys.argv[1:], sys.path[0], os.getcwd(), sys.stdin.buffer.read(), sorted(os.environ.items()))
for stream in (sys.stdin, sys.stdout, sys.stderr):
    print(stream.encoding, stream.errors, stream.line_buffering, stream.isatty(), stream.fileno())
print(signal.getsignal(signal.SIGINT), __name__, __file__, sorted(os.listdir("/dev/fd")))
sys.stdout.buffer.write(b"\\xff")
sys.exit("\\udcfe went wrong")
"""
"""In place of the program: all that a process is given, told."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "fjære.yaml").write_text(PLAN, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    ("words", "given", "code"),
    [
        (["rows", "fjære.yaml"], b"", 0),
        (["check", "-", "gone.yaml"], PLAN.replace("sbbss", "sbDss").encode(), 2),
        (["strands", "swatch", "--json", "--units", "in"], b"", 0),
        (["progress", "show", "no\udcffne"], b"", 2),
        (["knit", "swatch"], b"", 1),
    ],
)
def test_a_run_that_is_forked_comes_to_what_one_begun_afresh_does(
    folder: Path, words: list[str], given: bytes, code: int
) -> None:
    forked, fresh = (run(folder, *words, given=given, is_fresh=is_fresh) for is_fresh in (False, True))
    assert forked == fresh
    assert forked.code == code


def test_what_a_process_is_given_is_the_same_and_nothing_is_left_of_the_run_before(tmp_path: Path) -> None:
    (tmp_path / "companion").mkdir()
    (tmp_path / "companion" / "__init__.py").write_text("", encoding="utf-8")
    (tmp_path / "companion" / "__main__.py").write_text(TELLING, encoding="utf-8")
    bare = {"PYTHONPATH": str(tmp_path), "PYTHONUTF8": "1", "PATH": os.environ["PATH"]}
    program = LoadedProgram(bare)
    try:
        for number in range(2):
            folder = tmp_path / str(number)
            folder.mkdir()
            words, given, environment = ("a", f"ü\udcff{number}"), b"\xfe%d" % number, bare | {f"ROOM{number}": "é"}
            fresh = subprocess.run(
                [sys.executable, "-m", "companion", *words], cwd=folder, env=environment, input=given,
                capture_output=True, check=False,
            )
            code, out, err = program.run(folder, words, environment, given, 60)
            assert out.splitlines() == fresh.stdout.splitlines()
            assert (code, err) == (fresh.returncode, fresh.stderr) == (1, b"\\udcfe went wrong\n")
    finally:
        program.end()


def test_at_a_terminal_it_is_a_session_of_its_own_and_shows_what_one_begun_afresh_shows(tmp_path: Path) -> None:
    from tests.terminal.pseudo_terminal import Terminal  # POSIX only

    shown = []
    for is_fresh in (True, False):
        with Terminal(tmp_path, "copy", "swatch", "-", columns=60, is_fresh=is_fresh) as terminal:
            assert os.getsid(terminal.process.pid) == terminal.process.pid
            assert terminal.wait_for_end() == terminal.process.poll() == 0
            shown.append(bytes(terminal.written))
    assert shown[0] == shown[1] != b""


def test_a_run_that_takes_too_long_is_ended(tmp_path: Path) -> None:
    (tmp_path / "companion").mkdir()
    (tmp_path / "companion" / "__init__.py").write_text("", encoding="utf-8")
    (tmp_path / "companion" / "__main__.py").write_text(
        "import os; print(os.getpid(), flush=True)\nwhile True: pass", encoding="utf-8"
    )
    bare = {"PYTHONPATH": str(tmp_path)}
    program = LoadedProgram(bare)
    try:
        with pytest.raises(subprocess.TimeoutExpired) as ended:
            program.run(tmp_path, (), bare, b"", 1)
        with pytest.raises(ProcessLookupError):
            os.kill(int(ended.value.stdout), 0)
    finally:
        program.end()


def test_a_run_is_begun_afresh_where_variables_are_read_as_python_starts(folder: Path) -> None:
    assert run(folder, "rows", "fjære.yaml").out.startswith("Fjære\n")
    ran = run(folder, "rows", "fjære.yaml", PYTHONUTF8="0", PYTHONIOENCODING="ascii")
    assert ran.out.startswith("Fj\\xe6re\n")


