"""Mistakes, missed crosses and sewing as they are told in the course of a piece."""

from __future__ import annotations

from dataclasses import replace

import pytest

from companion.knitting.cloth.areas import Area, Cell, areas, sewn_on
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.mistakes import Mistake, ripping
from companion.knitting.hands.steps import End, SewOn, name_of
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Break
from companion.progress.actions import (
    Action,
    AtRow,
    Back,
    BindOff,
    EndLength,
    Finish,
    Mend,
    MissCross,
    On,
    Refused,
    RipBack,
    Sew,
    Unpick,
    Unsew,
    Weave,
)
from companion.progress.deciding import decide
from companion.progress.ends import all_ends, how_woven
from companion.progress.events import Mistook, Planned, RippedBack
from companion.progress.finishing import finishing, next_step, phase_of
from companion.progress.fold import apply, begin
from companion.progress.mishaps import closes, left_to_sew, to_sew
from companion.progress.session import Phase, Session
from tests.knitting.charts import drawn, piece_of

FLAG = piece_of(drawn("ssssssss", "sssbbsss", "sssbbsss", "sssbbsss", "ssssssss"))
WRONG = Mistake(1, (7,), "brick")
LATE = Mistake(1, (3,), "brick")


def does(session: Session, *actions: Action) -> Session:
    for action in actions:
        session = apply(session, decide(session, action))
    return session


def cast_on(piece: Piece = FLAG) -> Session:
    return begin({0: piece}, (Planned.of(0, piece.carry, plan_strands(piece.rows, piece.carry).strands),))


def refused(session: Session, action: Action) -> str:
    with pytest.raises(Refused) as found:
        decide(session, action)
    return str(found.value)


def test_a_mistake_to_sew_over_goes_on_the_finishing_list_and_its_choice_is_kept() -> None:
    session = does(cast_on(), AtRow(4), Mend(WRONG, "sew"))
    assert session.mended == {WRONG: "sew"}
    assert [(area.yarn, area.first) for area in to_sew(session)] == [("sand", Cell(1, 7))]
    assert [name_of(todo.doing) for todo in finishing(session)] == ["bind off", "weave in", "sew on", "wash", "trim"]
    session = does(session, AtRow(6), BindOff())
    session = does(session, *(Weave(end) for end, _ in all_ends(session)))
    todo = next_step(session)
    assert todo is not None
    assert todo.doing == SewOn(to_sew(session))
    assert refused(session, Finish()) == "There is something to sew on yet."
    session = does(session, Sew(Cell(1, 7)), Finish(), Finish())
    assert phase_of(session) is Phase.FINISHED
    left = [name_of(todo.doing) for todo in finishing(does(session, Unsew(Cell(1, 7)))) if not todo.is_done]
    assert left == ["sew on", "wash", "trim"]


def test_a_mistake_that_is_ripped_out_is_none_any_more_and_the_others_stay() -> None:
    session = does(cast_on(), AtRow(5), Mend(WRONG, "sew"), Mend(Mistake(2, (7,)), "ladder"))
    assert does(session, RipBack(2)).mended == {WRONG: "sew"}
    assert does(session, RipBack(1)).mended == {}
    session = does(cast_on(), AtRow(2), On(), Mend(WRONG, "sew"))
    assert does(session, Unpick()).mended == {}
    assert does(session, Unpick(), Back()).mended == {WRONG: "sew"}


def test_one_that_is_left_is_planned_on_from_where_the_strands_hang() -> None:
    """The brick of row 2 went on for a stitch, so it hangs a gap further on; straight up alone it must be cut."""
    piece = replace(FLAG, carry=FLAG.carry._replace(reach=0))
    session = does(cast_on(piece), AtRow(3))
    entry = decide(session, Mend(LATE, "leave"))
    assert [type(event) for event in entry[:2]] == [Mistook, Planned]
    after = apply(session, entry)
    assert after.strands.total.strands > session.strands.total.strands
    assert [segment.stitches for segment in after.rows[1].segments] == [3, 3, 2]
    assert after.piece == session.piece
    ripped = does(after, RipBack(1))
    assert ripped.rows == session.rows
    assert ripped.strands.strand_of == does(session, RipBack(1)).strands.strand_of
    assert does(after, Back()).strands == session.strands


def test_one_that_is_left_and_moves_no_strand_plans_nothing() -> None:
    session = does(cast_on(), AtRow(3))
    assert decide(session, Mend(WRONG, "leave")) == (Mistook(1, (7,), "brick", "leave"),)


def test_one_that_is_ripped_down_to_leaves_the_row_above_it() -> None:
    session = does(cast_on(), AtRow(5))
    entry = decide(session, Mend(WRONG, "rip"))
    assert entry[:2] == (Mistook(1, (7,), "brick", "rip"), RippedBack(2))
    after = apply(session, entry)
    assert after.rows_done == 3
    assert after.mended == {WRONG: "rip"}
    unpicked = does(after, *[Unpick()] * 6)
    assert (unpicked.row, unpicked.done, unpicked.mended) == (0, 1, {})


@pytest.mark.parametrize(("row", "runs"), [(4, 0), (3, 2), (3, 1), (2, 2), (2, 1), (2, 0)])
def test_as_many_rows_are_ripped_as_are_told_and_what_is_told_to_be_unpicked_ends_the_mistake(
    row: int, runs: int
) -> None:
    """The mistake is in the third run of row 2; rows 2 to 4 have three runs each. With row 4 begun, or whole and the
    next row begun, row 3 is the last that stays whole; in row 3 nothing is ripped."""
    session = does(cast_on(), AtRow(row + 1), *[On()] * runs)
    ripped = does(session, Mend(Mistake(1, (2,), "brick"), "rip"))
    told = ripping(Mistake(1, (2,), "brick"), session.rows, session.row, session.done)
    rows = {(4, 0): 1, (3, 2): 1, (3, 1): 1}.get((row, runs), 0)
    assert (told.rows, ripped.rows_done) == (rows, 3 if rows else session.rows_done)
    assert told.whole == ripped.rows_done
    assert ripped.row - (0 if rows else session.row) in (0, 2)
    unpicked = does(ripped, *[Unpick()] * told.runs)
    assert (unpicked.row, unpicked.done) == (1, 2)


@pytest.mark.parametrize(
    ("mistake", "way", "told"),
    [
        (Mistake(4, (1,)), "leave", "Only stitches that are worked can be marked as wrong."),
        (Mistake(1, ()), "leave", "Only stitches that are worked can be marked as wrong."),
        (Mistake(1, (3, 2)), "leave", "A stitch is marked once, from the right edge."),
        (Mistake(1, (2,), "chalk"), "leave", "The plan has no yarn of that name."),
        (Mistake(1, (2,), "sand"), "sew", "That is the yarn the plan has there."),
        (Mistake(1, (2,)), "sew", "It cannot be sewn over."),
        (Mistake(1, (2,), "brick"), "ladder", "Its columns cannot be dropped."),
        (WRONG, "leave", "That is told already."),
    ],
)
def test_what_cannot_be_done_about_it_is_refused(mistake: Mistake, way: str, told: str) -> None:
    session = does(cast_on(), AtRow(4), Mend(WRONG, "sew"))
    assert refused(session, Mend(mistake, way)) == told


def test_once_bound_off_nothing_is_ripped_or_dropped() -> None:
    session = does(cast_on(), AtRow(6), BindOff())
    assert refused(session, Mend(Mistake(1, (2,)), "rip")) == "The piece is bound off."
    assert refused(session, Mend(Mistake(1, (2,)), "ladder")) == "The piece is bound off."
    assert does(session, Mend(WRONG, "sew")).mended == {WRONG: "sew"}


def test_a_missed_cross_is_closed_by_the_nearest_tail() -> None:
    """Row 3, the cross of sand over brick at gap 3: the sand joined in row 2 hangs there, a row below."""
    hole, tail = Place(2, 1), End(Place(1, 2), "start")
    session = does(cast_on(), AtRow(4), MissCross(hole))
    assert closes(session) == {hole: tail}
    assert closes(does(session, Weave(tail))) == {}
    assert does(session, RipBack(2)).missed == frozenset()
    assert refused(session, MissCross(hole)) == "That is told already."
    assert refused(session, MissCross(Place(2, 0))) == "There is no change there that is worked."
    assert refused(session, MissCross(Place(3, 1))) == "There is no change there that is worked."


def test_areas_of_the_plan_are_sewn_on_once_the_piece_is_bound_off() -> None:
    [brick] = [area for area in areas(FLAG.fabric) if area.yarn == "brick"]
    session = cast_on(replace(FLAG, fabric=sewn_on(FLAG.fabric, [(brick, "sand")])))
    [found] = to_sew(session)
    assert (found.yarn, set(found.cells)) == ("brick", set(brick.cells))
    assert found == Area("brick", brick.strips)
    assert refused(session, Sew(found.first)) == "Areas are sewn on when the piece is bound off."
    session = does(session, AtRow(6), BindOff())
    assert refused(session, Sew(Cell(0, 1))) == "No area to be sewn on begins there."
    assert refused(session, Unsew(found.first)) == "This area is not marked as sewn on."
    session = does(session, Sew(found.first))
    assert refused(session, Sew(found.first)) == "This area is sewn on already."
    assert left_to_sew(session) == ()


@pytest.mark.parametrize("is_spliced", [False, True])
def test_a_length_told_to_end_in_stitches_of_another_yarn_does_not_end_there(is_spliced: bool) -> None:
    """The brick of row 2 was told to end after the first of its two stitches; then it is seen that the second one was
    worked in sand: no brick was joined there, and a splice is still in the yarn."""
    session = does(cast_on(), AtRow(2), On(), EndLength(1, is_spliced), On())
    assert session.strands.breaks == (Break(Place(1, 1), 1, is_spliced),)
    left = does(session, Mend(Mistake(1, (4,), "sand"), "leave"))
    assert left.rows.segment(Place(1, 1)).stitches == 1
    assert left.strands.breaks == ((Break(Place(2, 1), 0, True),) if is_spliced else ())
    while not left.is_worked:
        left = does(left, On())
        assert all(how_woven(left, end).cells for end, _ in all_ends(left))
