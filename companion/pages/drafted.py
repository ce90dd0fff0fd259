"""What a picture costs to knit at one price of a strand after another, as a table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from companion.knitting.reckoning.choices import Figures
from companion.knitting.value import Record
from companion.knitting.words.yarn import yarn_length


class Rung(Record):
    """One chart: the price it was drafted at, its yarns, what it costs, and its mean CIEDE2000 from the picture.
    ``is_meant``: the one that is drafted if nothing else is asked for."""

    price: int
    yarns: int
    figures: Figures
    difference: float
    is_meant: bool


def rungs(found: Sequence[Rung], *, is_inches: bool = False) -> Iterator[str]:
    """Every line, without line ends; it has room in 80 columns."""
    yield "Price  Yarns  Strands   Ends  Most at once     Yarn  Difference"
    for one in found:
        yarn = yarn_length(one.figures.yarn_cm, is_inches=is_inches)
        line = (
            f"{one.price:>5}  {one.yarns:>5}  {one.figures.strands:>7}  {one.figures.ends:>5}  "
            f"{one.figures.most_at_once:>12}  {yarn:>7}  {one.difference:>10.2f}"
        )
        yield f"{line}  <" if one.is_meant else line
    yield ""
    yield (
        "Difference: the mean CIEDE2000 of the stitches from the picture; from 1 on an eye may see it. Price: so "
        "much of it, over stitches, is given for a strand; 0 is every stitch in the colour most like it. The line "
        "with < is what is drafted without --choices."
    )
