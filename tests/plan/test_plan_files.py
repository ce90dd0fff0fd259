"""Plan files on a real disk: what is read, and what is refused before it is opened."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import pytest

from companion.plan.read import Loaded, load
from companion.problems import Problems
from tests.plan.plans import CUSHION, HEAD, looks, read

DRAWN_IN = HEAD + "rows:\n  - chart: {from: light.txt}\n"


def plan(folder: Path, text: str | bytes = DRAWN_IN) -> Path:
    path = folder / "quay.yaml"
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    return path


def refused(path: Path) -> str:
    with pytest.raises(Problems) as caught:
        load(path)
    return str(caught.value)


def test_a_plan_file_is_the_piece_of_its_text(tmp_path: Path) -> None:
    loaded = load(plan(tmp_path, CUSHION))
    assert loaded.piece == read(CUSHION).piece
    assert loaded.text == CUSHION


def test_a_byte_order_mark_is_no_part_of_the_text(tmp_path: Path) -> None:
    assert load(plan(tmp_path, b"\xef\xbb\xbf" + CUSHION.encode())).text == CUSHION


def test_a_chart_file_beside_the_plan_or_below_it_is_drawn_in(tmp_path: Path) -> None:
    (tmp_path / "charts").mkdir()
    (tmp_path / "charts" / "light.txt").write_bytes(b"\xef\xbb\xbfsb\r\n")
    loaded = load(plan(tmp_path, DRAWN_IN.replace("light", "charts/light")))
    assert looks(loaded) == ["sb"]
    assert dict(loaded.files) == {"charts/light.txt": "sb\r\n"}


def test_a_mistake_in_a_chart_file_is_told_by_that_files_path(tmp_path: Path) -> None:
    (tmp_path / "light.txt").write_text("sb\nsx\n")
    assert refused(plan(tmp_path)).startswith(f"{tmp_path / 'light.txt'}:2:2  Row 1 of this section")


def test_a_missing_chart_file_is_told_where_the_plan_names_it(tmp_path: Path) -> None:
    path = plan(tmp_path, DRAWN_IN + "  - plain: {rows: 1, stitches: 2, yarn: brik}\n")
    report = refused(path)
    assert f'{path}:11:19  The file "light.txt" is not there.\n' in report
    assert f'{path}:12:41  The yarn "brik" is not under "yarns" (line 4).\n' in report
    assert "Warning" not in report


def test_a_plan_that_is_not_there_is_told(tmp_path: Path) -> None:
    path = tmp_path / "quay.yaml"
    assert refused(path) == f'{path}  The file "quay.yaml" is not there.'


def test_a_folder_is_no_plan(tmp_path: Path) -> None:
    assert refused(tmp_path) == f'{tmp_path}  The file "{tmp_path.name}" is a folder.'


def test_the_folder_one_is_in_is_told_by_the_name_that_was_typed() -> None:
    assert refused(Path(".")) == '.  The file "." is a folder.'


SHEET = b"PK\x03\x04\x14\x00\x00\x00xl/workbook.xml\xff"
"""As a sheet begins: the signature of a ZIP archive (APPNOTE 4.3.7, from memory), and a name in it."""


@pytest.mark.parametrize(
    ("name", "data", "kind"),
    [
        ("boat.png", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", "picture"),  # W3C, PNG specification, 5.2
        ("boat.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF", "picture"),  # ITU-T T.81, B.1.1.3, from memory
        ("boat.gif", b"GIF89a\x01\0\x01\0", "picture"),  # GIF89a specification, 17, from memory
        ("boat.bmp", b"BM\x46\0\0\0\0\0\0\0\x36", "picture"),  # BITMAPFILEHEADER, from memory
        ("boat.webp", b"RIFF\x24\0\0\0WEBPVP8 ", "picture"),  # RFC 9649, 2.4, from memory
        ("boat.xlsx", SHEET, "sheet"),
        ("my boat.ods", SHEET.replace(b"xl/", b"mimetypeapplication/vnd.oasis.opendocument.spreadsheet"), "sheet"),
    ],
)
def test_a_picture_or_a_sheet_is_no_plan_but_one_can_be_made_of_it(
    tmp_path: Path, name: str, data: bytes, kind: str
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    told = f"{path}  The file \"{name}\" is a {kind}, and no text.\n  Make a plan of it first: rowside draft "
    assert refused(path) == told + shlex.quote(str(path))


def test_another_archive_is_told_to_be_no_text(tmp_path: Path) -> None:
    (tmp_path / "boat.zip").write_bytes(SHEET.replace(b"xl/", b"a/b"))
    assert "The file is not UTF-8 text: the byte FF stands here." in refused(tmp_path / "boat.zip")


def test_a_folder_is_no_chart(tmp_path: Path) -> None:
    (tmp_path / "light.txt").mkdir()
    assert ':11:19  The file "light.txt" is a folder.' in refused(plan(tmp_path))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes in the file system here")
def test_a_pipe_is_refused_without_waiting_for_its_writer(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "light.txt")
    assert ':11:19  The file "light.txt" is not a regular file.' in refused(plan(tmp_path))
    os.mkfifo(tmp_path / "pipe.yaml")
    assert refused(tmp_path / "pipe.yaml").endswith('The file "pipe.yaml" is not a regular file.')


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no device files here")
def test_a_device_is_refused_though_it_could_be_read_for_ever() -> None:
    assert refused(Path("/dev/zero")) == '/dev/zero  The file "zero" is not a regular file.'


@pytest.mark.skipif(os.name == "nt", reason="devices as POSIX has them")
def test_a_file_that_becomes_a_device_while_it_is_opened_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Between the look at it and the opening; what could be read for ever is not read."""
    path = tmp_path / "pier.yaml"
    path.write_text("plan: 1\n", encoding="utf-8")
    look, waiting = os.stat, [path]

    def swapped(seen: Path, **how: bool) -> os.stat_result:
        found = look(seen, **how)  # type: ignore[arg-type]  # only dir_fd is of another kind
        if seen == path and waiting:
            waiting.pop().unlink()
            path.symlink_to("/dev/zero")
        return found

    monkeypatch.setattr(os, "stat", swapped)
    with pytest.raises(Problems) as found:
        load(path)
    [problem] = found.value.problems
    assert problem.what == 'The file "pier.yaml" is no longer a regular file.'


@pytest.mark.skipif(os.name == "nt", reason="links need a privilege there")
def test_a_link_out_of_the_plans_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "secret.txt").write_text("sb\n")
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "light.txt").symlink_to(tmp_path / "secret.txt")
    report = refused(plan(folder))
    assert ":11:19  \"light.txt\" leads out of the plan's folder.\n" in report
    assert "Copy the file there." in report


@pytest.mark.skipif(os.name == "nt", reason="links need a privilege there")
def test_a_link_within_the_folder_and_a_link_to_the_plan_are_followed(tmp_path: Path) -> None:
    folder = tmp_path / "plans"
    folder.mkdir()
    (folder / "drawn.txt").write_text("sb\n")
    (folder / "light.txt").symlink_to("drawn.txt")
    loaded: Loaded = load(plan(folder))
    assert looks(loaded) == ["sb"]
    (tmp_path / "linked").symlink_to(folder)
    assert looks(load(tmp_path / "linked" / "quay.yaml")) == ["sb"]


@pytest.mark.skipif(os.name == "nt", reason="links need a privilege there")
def test_links_in_a_ring_are_a_problem_like_any_other(tmp_path: Path) -> None:
    (tmp_path / "light.txt").symlink_to("light.txt")
    assert ':11:19  The file "light.txt" cannot be opened: ' in refused(plan(tmp_path))


def test_a_name_too_long_for_the_disk_is_a_problem_like_any_other(tmp_path: Path) -> None:
    assert ":11:19  The file " in refused(plan(tmp_path, DRAWN_IN.replace("light", "l" * 5000)))


def test_text_in_another_encoding_is_told_at_its_first_strange_byte(tmp_path: Path) -> None:
    path = plan(tmp_path, CUSHION.replace("title: Harbour", "title: Caf\xe9 H").encode("latin-1"))
    assert refused(path) == (
        f"{path}:2:11  The file is not UTF-8 text: the byte E9 stands here.\n"
        "    2 | title: Caf� H light cushion\n"
        "      |           ^\n"
        '  Save it again with the encoding "UTF-8".'
    )


def test_a_chart_file_in_another_encoding_is_told_by_its_own_name(tmp_path: Path) -> None:
    (tmp_path / "light.txt").write_bytes(b"sb\ns\xff\n")
    assert refused(plan(tmp_path)).startswith(f"{tmp_path / 'light.txt'}:2:2  The file is not UTF-8 text")


def test_control_characters_in_a_chart_file_are_told_there(tmp_path: Path) -> None:
    (tmp_path / "light.txt").write_bytes(b"sb\n\x1b[31msb\n")
    report = refused(plan(tmp_path))
    assert report.startswith(f"{tmp_path / 'light.txt'}:2:1  A control character (U+001B) stands here.")
    assert "\x1b" not in report


def test_a_file_beyond_the_size_limit_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "quay.yaml"
    with path.open("wb") as file:
        file.truncate(2**40)  # a sparse file: reading it whole would fill the memory
    assert refused(path) == f'{path}  The file "quay.yaml" is larger than 16 MB.'
