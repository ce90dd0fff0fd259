"""In a piece of rows and rounds every list says which of the two a number is of; in another its title does."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.dialogue.ends import FILTERS, EndsList
from companion.dialogue.knitter import Knitter
from companion.dialogue.listing import Listing
from companion.dialogue.opening import open_plan
from companion.dialogue.strands import StrandsList
from tests.dialogue.keyboard import Keyboard
from tests.screens.at_the_needles import COWL, SWATCH, shelf


def filled(listing: Listing) -> list[tuple[str, str]]:
    """The column's title and what stands in it, line by line, long and short; the title first. Of
    ends all, those to come too."""
    if isinstance(listing, EndsList):
        for _ in FILTERS[1:]:
            listing.next_filter()
    listing.fill()
    at = next(at for at, one in enumerate(listing.table.columns) if one.title.startswith(("Row", "Round")))
    lines = [row[at] for row in listing.table.rows if not isinstance(row, str)]
    return [(listing.table.columns[at].title, ""), *((cell.text, cell.short) for cell in lines)]


def test_rows_and_rounds_of_a_tube_that_goes_flat(tmp_path: Path) -> None:
    """The cowl is worked round up to round 10, flat up to row 44, and round again."""
    knitter = Knitter(None)
    sitting = Keyboard(knitter, open_plan(knitter, shelf(tmp_path), COWL)).sitting
    strands = StrandsList(sitting)
    strands.fill()
    strands.at = 0
    assert strands.in_full().startswith("sea: round 1 to row 20, 1284 sts,")
    title, *lines = filled(StrandsList(sitting))
    assert title == ("Rows or rounds", "")
    for text, short in lines:
        numbers = [int(word) for word in text.split() if word.isdigit()]
        assert " to ".join(map(str, numbers)) == short
        kinds = ["row" if 11 <= number <= 44 else "round" for number in numbers]
        assert all(kind in text for kind in kinds), text
    assert {text.split()[0] for text, _ in lines} == {"round", "row", "rows"}
    [(heading, _), *ends] = filled(EndsList(sitting))
    assert heading == "Row or round"
    assert all(text in (f"row {short}", f"round {short}", short) for text, short in ends)
    assert {text.split()[0] for text, _ in ends} >= {"round", "row"}


@pytest.mark.parametrize("listing", [StrandsList, EndsList])
def test_where_all_are_rows_the_title_says_so_once(
    tmp_path: Path, listing: type[StrandsList] | type[EndsList]
) -> None:
    knitter = Knitter(None)
    title, *lines = filled(listing(Keyboard(knitter, open_plan(knitter, shelf(tmp_path), SWATCH)).sitting))
    assert title[0] in ("Rows", "Row")
    assert not any("row" in text for text, _ in lines)
