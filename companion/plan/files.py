"""Files on the disk to text: regular files of a plan's folder only, UTF-8, within the size limit; and back.

Nothing is opened before it is known to be a regular file, and nothing is read beyond the limit.
"""

from __future__ import annotations

import codecs
import os
import stat
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from companion.problems import Problem, Problems

MOST_BYTES = 16_000_000
"""The largest file, and the most that a plan and the files it draws in may hold together."""


def plan_text(path: Path, most: int = MOST_BYTES) -> str:
    """The text of a plan file, or of another one of at most so many bytes, without a byte order mark.

    Raises:
        Problems: it cannot be read as text.
    """
    return _text(path, str(path), most)


def text_beside(folder: Path, name: str, shown: str) -> str:
    """The text of a file in the plan's folder or below it. ``shown`` is its name in problems.

    Raises:
        Problems: it lies elsewhere, by a link too, or cannot be read as text. Problems without a file name belong
            to the place where the plan names it.
    """
    path = folder / name
    try:
        is_inside = path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):
        is_inside = True  # a loop of links or a name too long: opening it tells the reason
    if not is_inside:
        raise Problems([Problem(f'"{name}" leads out of the plan\'s folder.', mend="Copy the file there.")])
    try:
        return _text(path, shown)
    except Problems as found:
        here = [Problem(p.what, mend=p.mend) if not p.line else p for p in found.problems]
        raise Problems(here) from None


def text_from(stream: BinaryIO, shown: str) -> str:
    """The text of a stream that is open, to its end, without a byte order mark. ``shown`` is its name in problems.

    Raises:
        Problems: it is too much, or no text.
    """
    data = stream.read(MOST_BYTES + 1)
    if len(data) > MOST_BYTES:
        raise Problems([_too_large(shown, MOST_BYTES)])
    return _decoded(data, shown)


def _text(path: Path, shown: str, most: int = MOST_BYTES) -> str:
    return _decoded(file_bytes(path, shown, most), shown)


def _decoded(data: bytes, shown: str) -> str:
    data = data.removeprefix(codecs.BOM_UTF8)
    if kind := _kind(data):
        import shlex

        mend = f"Make a plan of it first: rowside draft {shlex.quote(shown)}"
        raise Problems([_refusal(shown, f"is a {kind}, and no text.", mend)])
    try:
        return data.decode()
    except UnicodeDecodeError as error:
        raise Problems([_not_text(data, error.start, shown)]) from None


def file_bytes(path: Path, shown: str, most: int) -> bytes:
    """What a regular file holds, at most so many bytes.

    Raises:
        Problems: it is none, cannot be read, or holds more.
    """
    try:
        if not stat.S_ISREG(os.stat(path).st_mode):
            raise Problems([_refusal(shown, "is a folder." if path.is_dir() else "is not a regular file.")])
        with path.open("rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                raise Problems([_refusal(shown, "is no longer a regular file.")])
            data = file.read(most + 1)
    except FileNotFoundError:
        raise Problems([_refusal(shown, "is not there.")]) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise Problems([_refusal(shown, f"cannot be opened: {reason}.")]) from None
    if len(data) > most:
        raise Problems([_too_large(shown, most)])
    return data


def _too_large(shown: str, most: int) -> Problem:
    return _refusal(shown, f"is larger than {most // 1_000_000} MB.")


def _refusal(shown: str, why: str, mend: str = "") -> Problem:
    return Problem(f'The file "{Path(shown).name or shown}" {why}', shown, mend=mend)


def _kind(data: bytes) -> str:
    """Whether bytes begin as a picture or a sheet does, which are taken for plans; "" where they do not: PNG (W3C,
    PNG, 5.2), JPEG (ITU-T T.81, B.1.1.3), GIF (GIF89a, 17), BMP (Microsoft, BITMAPFILEHEADER: two words that
    are zero), WebP (RFC 9649, 2.4); a sheet is a ZIP archive (PKWARE, APPNOTE, 4.3.7) with such names in it. The
    numbers of the sections are from memory."""
    if data.startswith((b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a")):
        return "picture"
    if (data[:2], data[6:10]) == (b"BM", bytes(4)) or (data[:4], data[8:12]) == (b"RIFF", b"WEBP"):
        return "picture"
    is_sheet = data.startswith(b"PK\x03\x04") and (b"xl/" in data or b"opendocument.spreadsheet" in data)
    return "sheet" if is_sheet else ""



def _not_text(data: bytes, offset: int, shown: str) -> Problem:
    from companion.plan.source import Source

    source = Source(shown, data.decode("utf-8", "replace"))
    before = data[:offset].decode()
    line, column = source.place(len(before))
    what = f"The file is not UTF-8 text: the byte {data[offset]:02X} stands here."
    return source.problem(line, column, what, 'Save it again with the encoding "UTF-8".')


def replace_text(path: Path, text: str) -> None:
    """Put a text in a file's place, whole or not at all; a link stays a link, the file keeps its mode
    and its byte order mark.

    Raises:
        OSError: it cannot be written; nothing is changed.
    """
    data = text.encode()
    if path.exists():
        with path.open("rb") as file:
            data = (codecs.BOM_UTF8 if file.read(3) == codecs.BOM_UTF8 else b"") + data
    replace_bytes(path, data)


def replace_bytes(path: Path, data: bytes) -> None:
    """Put bytes in a file's place, whole or not at all; a link stays a link, the file keeps its mode, and a new one
    has that of every new file. A second name of the same file (a hard link) keeps what it had: to change that, too,
    one would have to write into the file itself, and whoever is cut off there leaves half of it.

    Raises:
        OSError: they cannot be written; nothing is changed.
    """
    real = Path(os.path.realpath(path))
    mode = real.stat().st_mode & 0o7777 if real.exists() else 0o666 & ~_umask()
    try:
        handle, beside = tempfile.mkstemp(prefix=real.name, dir=real.parent)
    except OSError as error:  # which names a file that nobody asked for
        raise OSError(error.errno, error.strerror, str(path)) from error
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, mode)
        os.replace(beside, real)
    except BaseException:
        with suppress(OSError):
            os.unlink(beside)
        raise


def write_new(texts: Mapping[Path, str]) -> None:
    """Put each text in a file of its own, none over one that is there, but for one that holds just this; all of them
    or none.

    Raises:
        OSError: one is there, or cannot be written; nothing is changed.
    """
    made: list[Path] = []
    try:
        for path, text in texts.items():
            data = text.encode()
            if path.is_file() and path.stat().st_size == len(data) and path.read_bytes() == data:
                continue
            with path.open("xb") as file:
                made.append(path)
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
    except BaseException:
        for path in made:
            with suppress(OSError):
                path.unlink()
        raise


def _umask() -> int:
    """What new files are not given; it can be asked for by setting it alone."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
