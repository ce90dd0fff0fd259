"""What is said of the cast-on: section by section, in the written rows, in headings, and of its ends."""

from __future__ import annotations

import pytest

from companion.knitting import words
from companion.knitting.cloth.rows import Casting, Method, Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.joins_and_cuts import casting_on
from companion.knitting.hands.row_ends import row_end
from companion.knitting.hands.runs import row_runs
from companion.knitting.hands.steps import End
from companion.knitting.reckoning.quantities import lengths
from companion.knitting.words import US, Terms
from companion.knitting.words import yarn as yarn_words
from tests.knitting.cast_ons import EACH, WALL, begun, cast
from tests.knitting.charts import Chart, drawn
from tests.knitting.every_step import METHODS


def said(chart: Chart, cast_on: Casting) -> str:
    """What is read at the needles before the first stitch."""
    return " ".join(words.into_run(row_runs(cast(chart, cast_on)[1], 0)[0], US))


def test_section_by_section_with_the_crosses() -> None:
    assert said(WALL, EACH) == (
        "Cast on 10 sts (long-tail), each section in a strand of its own: 4 sts in sand; cross, 3 sts in brick; "
        "cross, 3 sts in sand. At each cross lay the old strand over the new one, then take the new one up from "
        "under it. Row 1 goes back over them with the strands as they hang."
    )


def test_a_tube_is_joined_at_the_end_of_round_1() -> None:
    told = said(drawn("ssbb", is_round=True), Casting("cable", is_each=True))
    assert told.startswith("Cast on 4 sts (cable), each section in a strand of its own: 2 sts in sand; cross, 2 sts")
    assert told.endswith(
        "Do not join yet: round 1 goes back over them with the strands as they hang, and is joined at its end."
    )


def test_all_in_one_yarn() -> None:
    assert said(WALL, Casting()) == "Cast on 10 sts in sand."
    assert said(WALL, Casting("knitted")) == "Cast on 10 sts in sand (knitted)."
    assert said(WALL, Casting("cable", yarn="kelp")) == (
        "Cast on 10 sts in kelp (cable). Cut the kelp, leaving a tail. Join new sand at the back: leave a tail."
    )
    tube = drawn("ssbb", is_round=True)
    assert said(tube, Casting()) == "Cast on 4 sts in brick. Join into a round, the cast-on not twisted."


def test_more_sections_than_can_be_listed_are_told_by_the_runs_of_row_1() -> None:
    """Twenty are listed."""
    assert said(drawn("sb" * 10), EACH).count("; cross") == 19
    told = said(drawn("sb" * 10 + "s"), EACH)
    assert "a strand of its own for every run of row 1, from the last run to the first, crossed at each" in told
    assert len(told) < 300
    assert words.written_cast_on(begun(drawn("sb" * 10 + "s"), EACH), is_round=False).count("; cross") == 20


@pytest.mark.parametrize(
    ("cast_on", "lines"),
    [
        (EACH, [
            "Cast on (long-tail): 4 sts in sand; cross, 3 sts in brick; cross, 3 sts in sand. (10 sts)",
            "Row 1 (RS): with sand k3; cross, with brick k3; cross, with sand k4. (10 sts)",
        ]),
        (Casting("knitted"), [
            "",
            "Row 1 (RS): cast on 10 sts in sand (knitted), with sand k3; cross, join brick, k3; cross, join sand, "
            "k4. (10 sts)",
        ]),
        (Casting(yarn="kelp"), [
            "",
            "Row 1 (RS): cast on 10 sts in kelp, cut it, join sand, k3; cross, join brick, k3; cross, join sand, "
            "k4. (10 sts)",
        ]),
    ],
)  # fmt: skip
def test_the_written_rows(cast_on: Casting, lines: list[str]) -> None:
    _, strands = cast(WALL, cast_on)
    row = words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), US)
    assert [words.written_cast_on(begun(WALL, cast_on), is_round=False), row] == lines


def test_a_written_tube_in_several_strands_is_not_joined_before_round_1() -> None:
    chart = drawn("ssbb", is_round=True)
    _, strands = cast(chart, Casting("cable", is_each=True))
    assert words.written_cast_on(casting_on(strands), is_round=True) == (
        "Cast on (cable, not joined yet): 2 sts in sand; cross, 2 sts in brick. (4 sts)"
    )
    assert words.written_row(strands.rows[0], row_runs(strands, 0), row_end(strands, 0), US) == (
        "Round 1 (RS): with brick k2; cross, with sand k2. (4 sts) Cut, leaving a tail: the brick beside sand, "
        "first from the right. Join into a round, the cast-on not twisted. Bind off in pattern in sand, right side "
        "toward you, and cut it."
    )


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (Casting(), "Cast on: 10 sts in sand"),
        (Casting("cable"), "Cast on: 10 sts in sand (cable)"),
        (Casting(yarn="kelp"), "Cast on: 10 sts in kelp, cut after it"),
        (EACH, "Cast on: 10 sts, each section of row 1 in a strand of its own (long-tail)"),
    ],
)
def test_the_heading(cast_on: Casting, told: str) -> None:
    assert words.cast_on_heading(begun(WALL, cast_on), US, is_round=False) == told


@pytest.mark.parametrize("method", METHODS)
def test_which_corner_the_tail_tells_the_sides_apart_by(method: Method) -> None:
    """Row 1 begins at the right edge: there a long-tail cast-on has its tail while the right side faces you."""
    at_start = method == "long-tail"
    cue = words.sides_cue("RS", US, cast_on=Casting(method))
    assert cue == f"The cast-on tail hangs at the lower {'right' if at_start else 'left'} now ({method} cast-on)."
    assert ("lower left" in words.sides_cue("WS", US, cast_on=Casting(method))) == at_start
    mirrored = words.sides_cue("RS", Terms(is_mirrored=True), Casting(method))
    assert ("lower left" in mirrored) == at_start
    own = words.sides_cue("WS", US, cast_on=Casting(method, yarn="kelp"), is_cut=True)
    assert own == "The first strand was joined in at the lower left now, and its tail hangs there."


def test_the_ends_of_the_cast_on_are_told_by_their_place() -> None:
    """As one looks at the wrong side: the tail of a knitted cast-on, at the left of row 1, lies at the right."""
    _, strands = cast(WALL, Casting("knitted", yarn="kelp"))
    tail, finish, first = (words.end_line(strands, end, "ready", US) for end in ends_of(strands)[:3])
    assert tail == "○ ready         cast-on, tail   of the kelp at the right edge"
    assert finish == "○ ready         cast-on, finish of the kelp at the left edge"
    assert first.startswith("○ ready         row 1 RS, start  of the sand beside brick, first from the left")
    _, each = cast(WALL, EACH)
    assert words.end_line(each, End(Place(0, 1), "start"), "woven", US) == (
        "✓ woven in      cast-on, tail   of the brick between sand and sand, second from the right"
    )
    assert words.end_heading(each, End(Place(0, 1), "start"), US) == (
        "Cast-on, tail of the brick between sand and sand, second from the right"
    )
    assert words.strand_line(each, each.summaries[1], US).endswith(
        "Cast on as the brick between sand and sand, second from the right (the row as it is held)."
    )


@pytest.mark.parametrize(
    ("cast_on", "told"),
    [
        (EACH, "each strand begun in the cast-on its own part of it (long-tail), the one"),
        (Casting("cable"), "the first one the cast-on (cable), the one"),
        (Casting(yarn="kelp"), "the cast-on (long-tail) is a length of its own, the one"),
    ],
)
def test_which_lengths_hold_the_cast_on(cast_on: Casting, told: str) -> None:
    piece, strands = cast(WALL, cast_on)
    assert yarn_words.what_lengths_hold(lengths(piece, strands), None, US, cast_on)[2].startswith(told)
