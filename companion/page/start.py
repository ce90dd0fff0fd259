"""Where the page begins: a plan's piece opened, a server beside it, its address told; until it is left or stopped."""

from __future__ import annotations

import errno
import gc
import sys
from collections.abc import Callable
from pathlib import Path
from threading import Thread

from companion.dialogue.knitter import Knitter, own_settings
from companion.dialogue.opening import First, Start, first_of, work_on
from companion.knitting.strands.limits import Carry
from companion.page import address
from companion.page.address import HERE, in_address
from companion.page.opened import Tapper
from companion.page.server import PageServer, is_taken
from companion.page.turns import STOPPED, Turns
from companion.pages import printing
from companion.problems import Problem, Problems, quoted
from companion.progress import folders
from companion.progress.knitting import Knitting
from companion.progress.shelf import Shelf

DONE = 0

SHARED = (
    "Whoever has this address may press. It is plain http: others on this network may",
    "read along, and browsers let a tablet's screen go dark by itself.",
)

LAST_NEWS = 0.3
"""Seconds in which pages are told that it is over."""


def knit(
    plan: Path, *, name: str | None = None, limits: Callable[[Carry], Carry] = lambda carry: carry, size: str = "",
    lan: str = "",
) -> int:
    """Open a plan's piece and serve it; start one where there is none. Returns the exit code. ``limits`` changes
    those of the rows to come; ``size``: of a plan in sizes the one that is knitted; ``lan``: this computer's address
    on a network, for all browsers on it; "": for those here.

    Raises:
        Problems: a plan that is to be started has something to mend, or this computer has no such address.
        Refused: the name belongs to another piece.
        Trouble: progress could not be read or saved.
        OSError: it cannot be served.
    """
    shelf = Shelf(folders.pieces())
    settings, notice = own_settings()
    first = first_of(shelf, plan, name, Start(is_mirrored=settings.hands == "left", limits=limits, size=size))
    knitter = Tapper(settings, notice)
    turns = Turns()
    try:
        server = served(turns, address.file_for(folders.home() / "page", plan, name, lan or HERE), lan or HERE)
    except BaseException:
        if isinstance(first, Knitting):
            first.close()
        raise
    printing.write(f"{line}\n" for line in told(server, is_shared=bool(lan)))
    with server:
        serve(server, turns, knitter, shelf, first)
    printing.say([STOPPED])
    return DONE


def served(turns: Turns, file: Path, host: str) -> PageServer:
    """A server with the tokens and at the port that are kept in the file, so that pages that are open find it again.
    Where somebody else has that port, it is another one, with other tokens.

    Raises:
        Problems: this computer has no such address.
        OSError: nothing can be served there.
    """
    tokens = address.kept(file)
    try:
        try:
            server = PageServer(host, tokens.port, tokens, turns)
        except OSError as error:
            if not tokens.port or not is_taken(error):
                raise
            return PageServer(host, 0, address.new_tokens(), turns)
    except OSError as error:
        if error.errno != errno.EADDRNOTAVAIL:
            raise
        what = f"This computer has not the address {quoted(host)}."
        raise Problems([Problem(what, mend="Its addresses stand in the system's network settings.")]) from None
    address.keep(file, tokens._replace(port=server.port))
    return server


def told(server: PageServer, *, is_shared: bool) -> list[str]:
    """Where the page is, for whom, and how it ends."""
    tokens = server.house.tokens
    press, look = link(server, tokens.press), link(server, tokens.look)
    lines = ["Open this address in a browser on this computer:", "", f"  {press}", ""]
    if is_shared:
        lines[0] = "Open this address in a browser on this network:"
        lines += [*_drawn(press), *SHARED, ""]
    return [*lines, "To look at alone, large, for a projector:", "", f"  {look}", "",
            "Every step is saved. Ctrl-C stops."]


def link(server: PageServer, token: str) -> str:
    """The page's address with a token."""
    host = in_address(str(server.server_address[0]))
    return f"http://{host}:{server.port}/?token={token}"


def _drawn(link: str) -> list[str]:
    """The address as a square code, where it can be drawn."""
    from companion.page.square_code import drawn

    return drawn(link, sys.stdout)


def serve(server: PageServer, turns: Turns, knitter: Knitter, shelf: Shelf, first: First) -> None:
    """Until the piece is left or the program interrupted; what is done is done in this thread."""
    asking = work_on(knitter, shelf, first) if isinstance(first, Knitting) else first(knitter)
    thread = Thread(target=server.serve_forever, name="page", daemon=True)
    thread.start()
    gc.freeze()  # what the start made is never looked through
    gc.enable()
    try:
        turns.run(knitter, asking)
    except KeyboardInterrupt:
        pass  # it is saved
    finally:
        server.wait_for_last(LAST_NEWS)
        server.shutdown()
