"""No garbage is looked for between the command and the first paint: what is made meanwhile is there to stay.

Looking through it again and again is a tenth of a start.
"""

from __future__ import annotations

import gc


def pause() -> None:
    """Before Textual is imported."""
    gc.disable()


def go_on() -> None:
    """The first screen is there: what it took is never looked through again. Does nothing without a pause."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()
