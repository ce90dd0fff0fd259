"""Where progress lives: the folder that ROWSIDE_HOME names, else the user's data folder. Made when first needed."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from companion.progress.trouble import Trouble, from_os

VARIABLE = "ROWSIDE_HOME"


def home() -> Path:
    """The data folder, absolute. Nothing is made.

    Raises:
        Trouble: there is no home folder, and ROWSIDE_HOME names no other.
    """
    chosen = os.environ.get(VARIABLE, "").strip()
    if chosen:
        return Path(os.path.abspath(os.path.expanduser(chosen)))
    from platformdirs import user_data_dir

    return _own(user_data_dir)


def pieces() -> Path:
    """The folder of the pieces. Nothing is made.

    Raises:
        Trouble: as ``home``.
    """
    return home() / "pieces"


def settings_file() -> Path:
    """The knitter's settings: in the folder that ROWSIDE_HOME names, else in the user's config folder. Nothing is
    made.

    Raises:
        Trouble: as ``home``.
    """
    if os.environ.get(VARIABLE, "").strip():
        return home() / "settings.yaml"
    from platformdirs import user_config_dir

    return _own(user_config_dir) / "settings.yaml"


def _own(where: Callable[..., str]) -> Path:
    """Our folder among the user's.

    Raises:
        Trouble: the system knows no home of the user.
    """
    try:
        folder = Path(where("rowside", appauthor=False))
    except (RuntimeError, KeyError) as error:  # how its newer versions and the system say so
        raise Trouble("no home", Path("~")) from error
    if not folder.is_absolute():
        raise Trouble("no home", folder)
    return folder


def make(folder: Path) -> None:
    """Make the folder, for its owner alone, where there is none.

    Raises:
        Trouble: it cannot be made.
    """
    try:
        folder.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        folder.mkdir(mode=0o700, exist_ok=True)
    except OSError as error:
        raise from_os(error, folder) from None
