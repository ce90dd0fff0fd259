"""The app: opens the basket or one piece, and hands what happens to the screens."""

from __future__ import annotations

import gc
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, ClassVar

from textual.binding import BindingType
from textual.driver import Driver
from textual.filter import LineFilter, Monochrome
from textual.screen import Screen
from textual.worker import WorkerFailed

from companion.dialogue.knitter import Knitter, own_settings
from companion.dialogue.opening import First, sit_down
from companion.dialogue.questions import Asking
from companion.progress import folders
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf
from companion.screens.bound import bound
from companion.screens.greys import Greys
from companion.screens.knitting import KnittingScreen
from companion.screens.rowside import Answering, Rowside, carry_out
from companion.screens.terminal import forgiving, told_to_end
from companion.settings import Settings

GREYS = Greys()

STARTED = 1.0
"""Seconds after which the first screen is surely painted."""


SELDOM = 10_000
"""After so many new values garbage is looked for, not after the usual 700, which two keys make."""


class RowsideApp(Rowside):
    """Shows what ``first`` opens, then ends. The working screen of a piece that is open already lies below all other
    screens, in place of an empty one that would be laid out and never seen; the piece is closed with the app."""

    CSS_PATH: ClassVar[str] = "styles.tcss"
    TITLE = "Rowside"
    ENABLE_COMMAND_PALETTE = False  # ours is ``finding``
    BINDINGS: ClassVar[list[BindingType]] = bound("anywhere")

    def __init__(self, first: First, settings: Settings | None = None, notice: str = "") -> None:
        super().__init__(Knitter(settings, notice))
        self._first = first

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Those of Textual, but greys of our own."""
        filters = super().get_line_filters()
        return [GREYS if isinstance(one, Monochrome) else one for one in filters] if self.no_color else filters

    def get_driver_class(self) -> type[Driver]:
        """The usual one, and bytes that are no text end nothing."""
        return forgiving(super().get_driver_class())

    def _fatal_error(self) -> None:
        """No traceback on the screen: whoever runs the app makes a report of what happened."""
        self._close_messages_no_wait()

    def get_default_screen(self) -> Screen[Any]:
        """The screen below all others."""
        if isinstance(self._first, Knitting):
            return KnittingScreen(sit_down(self.knitter, self._first))
        return super().get_default_screen()

    def on_mount(self) -> None:
        """Open what was asked for."""
        self.take_up()
        if not isinstance(self._first, Knitting):
            self.run_worker(self._open(self._first), exclusive=True)
        self.set_timer(STARTED, _look_for_garbage)

    def on_unmount(self) -> None:
        """Let go of the piece."""
        if isinstance(self._first, Knitting):
            self._first.close()

    async def _open(self, first: Callable[[Knitter], Asking[None]]) -> None:
        await carry_out(first(self.knitter), self.answer)
        self.exit()

    def action_deed(self, name: str) -> None:
        """A key that does the same everywhere: it is what the screen on top does with it."""
        if isinstance(self.screen, Answering):
            self.screen.action_deed(name)


def _look_for_garbage() -> None:
    """Again, where it was not looked for up to the first paint: what that took is never looked through."""
    if not gc.isenabled():
        gc.freeze()
        gc.set_threshold(SELDOM, *gc.get_threshold()[1:])
        gc.enable()


def watch(name: str) -> int:
    """Look at a piece in the app while another window writes it. Returns the exit code.

    Raises:
        NoSuchPiece: no piece has this name.
        Trouble: it could not be read.
    """
    return run(Shelf(folders.pieces()).resume(name, look_only=True), *own_settings())


def basket() -> int:
    """Open the work basket in the app. Returns the exit code.

    Raises:
        Trouble: there is no home folder to keep progress in.
    """
    from companion.dialogue.basket import basket_here

    shelf = Shelf(folders.pieces())
    return run(lambda knitter: basket_here(knitter, shelf), *own_settings())


def draw(plan: Path, size: str = "") -> int:
    """Open a plan on the drawing board in the app, in this of its sizes; a copy of it where it is a demo plan.
    Returns the exit code.

    Raises:
        Problems: the plan has something to mend.
    """
    from companion.dialogue import at_the_board

    settings, notice = own_settings()
    at_the_board.check(plan, size)
    return run(lambda knitter: at_the_board.draw(knitter, plan, Path.cwd(), size), settings, notice)


def new(file: str = "") -> int:
    """Ask for a new plan in the app. Returns the exit code. ``file``: the name that stands there for it.

    Raises:
        Trouble: there is no home folder to keep progress in.
    """
    from companion.dialogue.basket import new_here

    shelf = Shelf(folders.pieces())
    return run(lambda knitter: new_here(knitter, shelf, file), *own_settings())


def run(first: First, settings: Settings, notice: str) -> int:
    """Run the app and return the exit code; whatever happened in it is raised."""
    app = RowsideApp(first, settings, notice)
    with told_to_end(app.exit):
        app.run()
    if (error := app._exception) is not None:
        raise error.error if isinstance(error, WorkerFailed) else error
    return app.return_code or 0
