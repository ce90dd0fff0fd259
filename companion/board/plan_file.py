"""The file of a plan on the board: what was read from it or written to it last is known, so that nothing is written
over what somebody else wrote."""

from __future__ import annotations

import codecs
from io import BytesIO
from pathlib import Path

from companion.plan.files import MOST_BYTES, file_bytes, replace_text, text_from
from companion.plan.loaded import Loaded
from companion.plan.read import load


class PlanFile:
    """One of them, read in one of its sizes, else in the first."""

    def __init__(self, path: Path, size: str) -> None:
        self.path, self._size = path, size
        self._bytes = b""

    def read(self) -> tuple[Loaded, bytes]:
        """What it says now, for ``known``.

        Raises:
            Problems: it has something to mend, or is not there.
        """
        while True:
            data, loaded = self._now(), load(self.path, self._size)
            if text_from(BytesIO(data), str(self.path)).removeprefix("\ufeff") == loaded.text:
                return loaded, data  # else it was changed in between

    def known(self, data: bytes) -> None:
        """What it says is known."""
        self._bytes = data

    @property
    def is_changed(self) -> bool:
        """Whether it says something else than what is known.

        Raises:
            Problems: it is not there.
        """
        return self._now() != self._bytes

    def write(self, text: str) -> None:
        """Put a text into it, durably.

        Raises:
            OSError: it cannot be written; nothing is changed.
        """
        replace_text(self.path, text)
        mark = codecs.BOM_UTF8 if self._bytes.startswith(codecs.BOM_UTF8) else b""
        self._bytes = mark + text.encode()

    def _now(self) -> bytes:
        return file_bytes(self.path, str(self.path), MOST_BYTES)
