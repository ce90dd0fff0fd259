"""Trouble with the disk: every failure to read or save becomes one sentence that names the file and what to do. And
what is refused though the disk is sound.

What could not be saved did not happen; nothing saved before is touched.
"""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Literal

from companion.problems import plain

TroubleKind = Literal[
    "full", "read-only", "not permitted", "not ours", "damaged", "newer", "old plan", "busy", "clash", "gone",
    "no folder", "no home", "disk",
]

_WHAT: dict[TroubleKind, tuple[str, str]] = {
    "full": ("The disk is full: {file} cannot be saved", "make room on it, then do the last step again"),
    "read-only": ("{file} lies where nothing can be written", "copy its folder to a disk that can be, or free it"),
    "not permitted": ("{file} may not be opened by you", "give yourself the right to read and write it"),
    "not ours": ("{file} is not a piece of knitting", "move it to another folder"),
    "damaged": (
        "{file} is damaged{since}",
        'put a copy from your backup in its place: "rowside progress restore COPY", or what is sound of it: '
        '"rowside progress restore --before-damage FILE"; the other pieces are untouched',
    ),
    "newer": ("{file} was written by a newer version of this program", "install that version to open it"),
    "busy": ("{file} is in use by another program", "close that, then try again"),
    "clash": ("{file} was written by another window meanwhile", "close this one and open the piece again"),
    "gone": ("{file} is not there", "look whether it was moved, and move it back"),
    "no folder": ("{file} is a file, not a folder", "move it away, or set ROWSIDE_HOME to another folder"),
    "old plan": ("{file} holds a plan that this version cannot read", "open it with the version that wrote it"),
    "no home": ("You have no home folder to keep progress in", "set ROWSIDE_HOME to a folder of yours"),
    "disk": ("{file} cannot be read or written ({detail})", "see that the disk is there, then try again"),
}

_KINDS: dict[int, TroubleKind] = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "full",
    errno.EFBIG: "full",
    errno.EROFS: "read-only",
    errno.EACCES: "not permitted",
    errno.EPERM: "not permitted",
    errno.ENOENT: "gone",
    errno.ENOTDIR: "no folder",
    errno.EEXIST: "no folder",
}


class Trouble(Exception):
    """Progress could not be read or saved. The message is one sentence; ``kind`` sorts it, ``path`` is the file.
    ``step``: the first one that is damaged; 0: none is sound, or it is not known."""

    def __init__(self, kind: TroubleKind, path: Path, detail: str = "", step: int = 0) -> None:
        self.kind = kind
        self.path, self.step = path, step
        what, mend = _WHAT[kind]
        since = f" from step {step} on" if step else ""
        told = what.format(file=f'"{plain(str(path))}"', detail=plain(detail) or "no reason given", since=since)
        super().__init__(f"{told}; {mend}.")


class Refused(Exception):
    """What was asked for is not possible now; the message says why, in the knitter's words."""


def from_os(error: OSError, path: Path) -> Trouble:
    """The trouble that an operating system's error makes with a file."""
    kind = _KINDS.get(error.errno or 0, "disk")
    return Trouble(kind, path, error.strerror or str(error))
