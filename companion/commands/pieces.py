"""The pieces on the shelf, as the work basket lists them."""

from __future__ import annotations

import click

from companion.commands.given import answer, as_json
from companion.commands.group import example


@click.command(epilog=example("rowside pieces", "rowside pieces --json"))
@as_json
def pieces(is_json: bool) -> int:
    """Print every piece: how far it is, when it was worked, where its plan and its own file lie."""
    from companion.pages import as_json as json_of
    from companion.pages import shelf
    from companion.progress import folders
    from companion.progress.knitting import utc_now
    from companion.progress.shelf import Shelf

    found = Shelf(folders.pieces()).listed()
    return answer(is_json, json_of.pieces(found), shelf.as_text(found, utc_now()))
