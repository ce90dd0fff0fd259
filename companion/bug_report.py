"""A bug becomes a file that can be sent to whoever mends it, never a traceback on the screen.

The file names the program, the system and the calls that led there; it holds no values from memory and nothing
of the plan but the words of the command line.
"""

from __future__ import annotations

import platform
import re
import sys
import traceback
from collections.abc import Sequence
from importlib import metadata
from pathlib import Path

from companion import __version__


def write(error: BaseException, folder: Path, words: Sequence[str]) -> Path:
    """Write the report into ``folder``, which is made when it is not there, and return its path.

    ``words`` is the command line. The name is numbered on from earlier reports, which stay.

    Raises:
        OSError: it cannot be written there.
    """
    folder.mkdir(parents=True, exist_ok=True)
    text = _report(error, words)
    number = 1
    while True:
        path = folder / f"bug-report-{number}.txt"
        try:
            with path.open("x", encoding="utf-8", errors="backslashreplace") as file:
                file.write(text)
            return path
        except FileExistsError:
            number += 1


def _libraries() -> list[str]:
    """Each library that Rowside asks for, and its version here: "click 8.1.8"."""
    try:
        asked = metadata.requires("rowside") or []
    except metadata.PackageNotFoundError:
        return ["libraries unknown: not installed"]
    names = [re.split(r"[^A-Za-z0-9_.-]", one, maxsplit=1)[0] for one in asked if "extra ==" not in one]
    found = {dist.name.lower(): dist.version for dist in metadata.distributions() if dist.name}
    return [f"{name} {found.get(name.lower(), 'missing')}" for name in names]


def _report(error: BaseException, words: Sequence[str]) -> str:
    told = "".join(traceback.format_exception(error))
    return (
        f"Rowside {__version__}\n"
        f"Python {sys.version.split()[0]} on {platform.platform()}\n"
        f"With {', '.join(_libraries())}\n"
        f"Command: rowside {' '.join(map(repr, words))}\n\n{told}"
    )
