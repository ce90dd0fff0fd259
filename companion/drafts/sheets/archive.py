"""The parts of a zipped document, by name, inflated within bounds.

Nothing is unpacked to the disk, no part is inflated that is not asked for, and all that are come out of one budget.
"""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from companion.plan.files import file_bytes
from companion.problems import Problem, Problems, quoted

MOST_FILE_BYTES = 64_000_000
MOST_INFLATED = 64_000_000
"""So much may come out of all parts of a file together."""

MOST_CELLS = 300_000
"""Of a file, those that merged cells, repeats and filled columns stand for included."""

_CHUNK = 1 << 16
_COMPOUND = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""What old binary documents, and new ones behind a password, begin with."""

_IS_ENCRYPTED = 0x1
_KNOWN = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_AMISS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError)
"""What the library raises for archives that are damaged, by what it stumbles over."""

SAVE_AS = "Save it again as .xlsx, .ods or .csv, without a password, and draft from that."


class SheetFile:
    """A file that sheets are read from. ``shown`` is its name in problems."""

    def __init__(self, shown: str) -> None:
        self.shown = shown
        self._cells_left = MOST_CELLS

    def spend(self, cells: int) -> None:
        """So many cells are looked at.

        Raises:
            Problems: they are too many.
        """
        self._cells_left -= cells
        if self._cells_left < 0:
            mend = "Leave only the chart in it, without colours in whole rows and columns."
            raise self.amiss(f"has more than {MOST_CELLS:,} cells that say something or are filled.", mend)

    def amiss(self, what: str, mend: str = SAVE_AS) -> Problems:
        """A sentence about the file, to be raised."""
        return Problems([Problem(f"The file {quoted(Path(self.shown).name)} {what}", self.shown, mend=mend)])


class Archive(SheetFile):
    """A zipped document that is open."""

    def __init__(self, path: Path, shown: str) -> None:
        """Raises:
        Problems: it is no zipped document, or too large.
        """
        super().__init__(shown)
        data = file_bytes(path, shown, MOST_FILE_BYTES)
        if data.startswith(_COMPOUND):
            raise self.amiss("is an old binary document, or one behind a password.")
        if not data:
            raise self.amiss("is empty.")
        try:
            self._file = zipfile.ZipFile(BytesIO(data))
            self._parts = {info.filename: info for info in self._file.infolist()}
        except _AMISS:
            raise self.amiss("is no spreadsheet, or only part of one.") from None
        self._left = MOST_INFLATED

    def __contains__(self, name: str) -> bool:
        return name in self._parts

    def chunks(self, name: str) -> Iterator[bytes]:
        """What a part holds, piece by piece.

        Raises:
            Problems: it is not there, cannot be inflated, or is too much.
        """
        info = self._parts.get(name)
        if info is None:
            raise self.amiss(f"has no part {quoted(name)}, which every such document has.")
        if info.flag_bits & _IS_ENCRYPTED:
            raise self.amiss("is behind a password.")
        if info.compress_type not in _KNOWN:
            raise self.amiss("is zipped in a way that spreadsheets are not.")
        try:
            with self._file.open(info) as part:
                while chunk := part.read(_CHUNK):
                    self._left -= len(chunk)
                    if self._left < 0:
                        raise self.amiss(f"holds more than {MOST_INFLATED // 1_000_000} MB when it is unpacked.")
                    yield chunk
        except _AMISS:
            raise self.damaged(name) from None

    def damaged(self, name: str) -> Problems:
        """What is said of a part that cannot be read."""
        return self.amiss(f"is damaged in its part {quoted(name)}.")
