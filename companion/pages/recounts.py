"""Several pieces as a table: how far each is and what was done at the needles; and what was noted."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from companion.knitting import words
from companion.pages.set_out import set_out
from companion.problems import plain
from companion.progress.recount import Recount


def recounts(found: Mapping[str, Recount], room: int) -> Iterator[str]:
    """Every line, without line ends; each piece by the file or name that it was given by. Where all have one name, it
    stands above them."""
    names = {one.card.name for one in found.values()}
    is_one = len(names) == 1
    if is_one:
        yield plain(*names)
    heads = ["Piece", *([] if is_one else ["Name"]), "Rows", "Unpicked", "Ripped back", "Minutes", "Ends left"]
    lines = [
        [plain(given), *([] if is_one else [plain(one.card.name)]), _how_far(one), *_figures(one)]
        for given, one in found.items()
    ]
    yield from set_out(heads, lines, room)
    for given, one in found.items():
        for row, text in one.notes:
            yield plain(f"{given}, {words.row_named(row)}: {text}")


def _how_far(one: Recount) -> str:
    """The rows done, or what is left when all are."""
    card = one.card
    done = f"{card.rows_done} of {card.rows}"
    return done if card.rows_done < card.rows else words.card_state(card.state, card.ends_left, card.areas_left)


def _figures(one: Recount) -> Iterator[str]:
    yield words.how_many(one.unpicked, "run") if one.unpicked else ""
    yield words.how_many(one.ripped, "row") if one.rips else ""
    yield str(one.minutes)
    yield str(one.card.ends_left)
