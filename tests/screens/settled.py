"""A pilot that goes on as soon as the app has done all there is to do, and not before.

Textual's own waits until the process is idle by the clock: some 60 ms for every key, most of it for nothing, and on a
busy machine now and then not long enough. Here everything counts that can be done without more time passing: whatever
the event loop has ready, and what is to be painted or called at the screen's next update, which comes at once; and so
does another size of the terminal, where Textual waits some milliseconds whether that is the last.
"""

from __future__ import annotations

import asyncio
from time import process_time

from textual._context import active_app


async def settled(_least: float = 0) -> None:
    """Wait until there is nothing to do but to wait for time, a thread or a key; not longer for being asked to.

    Raises:
        TimeoutError: that takes more than 20 seconds of this process, however long it is kept from working.
    """
    loop, start = asyncio.get_running_loop(), process_time()
    while process_time() - start < 20:
        await asyncio.sleep(0)
        if not loop._ready and not _update():
            return
    raise TimeoutError("There is always something to do.")


def _update() -> bool:
    """Have the terminal's new size taken up now, and what waits for the next update of a screen painted and called;
    whether there was anything."""
    app = active_app.get()
    is_resized = app._resize_timer is not None
    if is_resized:
        app._check_resize()
    waiting = [screen for screen in app._screen_stack if screen._update_timer._active.is_set()]
    for screen in waiting:
        screen._on_timer_update()
    return is_resized or bool(waiting)
