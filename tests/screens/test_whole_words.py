"""What has no room is left out whole, a sentence or a word, never the end of one."""

from __future__ import annotations

from pathlib import Path

import pytest
from at_the_needles import CUSHION, JUMPER, SWATCH, begun, on_disk, shelf
from rich.cells import cell_len

from companion.dialogue.coming_back import greeting
from companion.dialogue.telling import telling
from companion.knitting.words import US
from companion.progress.actions import On
from companion.screens.back_map import BackMap
from companion.screens.fitting import fitted
from companion.screens.flowing import Line, cut_off, paragraphs, sentences, whole_sentences
from companion.screens.hanging import HangingPanel
from companion.screens.head import HeadLine
from companion.screens.large import lines_alone
from companion.screens.now import NowPanel
from companion.screens.row_end import RowEndPanel

TEXT = "The piece is open elsewhere; here you may only look. Row 9 is done. You last worked the sand strand."


def texts(lines: list[Line]) -> list[str]:
    return ["".join(text for text, _ in line) for line in lines]


def test_sentences_that_have_no_room_are_left_out_whole() -> None:
    assert sentences(TEXT) == [
        "The piece is open elsewhere; here you may only look.", "Row 9 is done.", "You last worked the sand strand.",
    ]  # fmt: skip
    assert sentences('Cross. (knit 1) 2 times. "Bay" is. Over 2.5 cm') == [
        "Cross.", "(knit 1) 2 times.", '"Bay" is.', "Over 2.5 cm",
    ]  # fmt: skip
    assert texts(whole_sentences(TEXT, 3, 40)) == [
        "The piece is open elsewhere; here you", "may only look. Row 9 is done. You last", "worked the sand strand.",
    ]  # fmt: skip
    assert texts(whole_sentences(TEXT, 2, 40))[1:] == ["may only look. Row 9 is done. ..."]
    assert texts(whole_sentences(TEXT, 1, 40)) == ["The piece is open elsewhere; here ..."]
    assert whole_sentences(TEXT, 0, 40) == whole_sentences("", 3, 40) == []


def test_where_not_even_a_sentence_has_room_it_is_cut_between_words() -> None:
    told = paragraphs(["At the end of row 46: 80 stitches must be on the needle."], 40)
    assert texts(cut_off(told, 1, 40)) == ["At the end of row 46: 80 stitches ..."]
    assert texts(cut_off(paragraphs(["a" * 60], 40), 1, 40)) == ["a" * 36 + " ..."]


@pytest.mark.parametrize("plan", [SWATCH, CUSHION, JUMPER], ids=lambda plan: plan.stem)
def test_on_the_smallest_screen_no_sentence_below_the_letters_is_cut_when_a_piece_is_opened(
    tmp_path: Path, plan: Path
) -> None:
    """The greeting takes all the room that there is; the large letters say what is left out."""
    name = begun(tmp_path, plan, row=24)
    with shelf(tmp_path).resume(name) as knitting:
        for _ in range(12):
            session = knitting.do(On())
            if session.act is not None:
                continue
            plan_ = fitted(telling(session, US), 40, 15, notice=greeting(session, US))
            now = NowPanel()
            now.session = session
            now.sizes = plan_.sizes
            assert [line for line in texts(now.draw(40, plan_.now)) if "…" in line] == []


@pytest.mark.parametrize("runs", [0, 2], ids=["at the turn", "in mid-row"])
def test_what_must_be_said_once_loses_whole_sentences_alone(tmp_path: Path, runs: int) -> None:
    begun(tmp_path, row=22, runs=runs)
    end = RowEndPanel()
    end.session = on_disk(tmp_path)
    end.notice = TEXT
    about = len(end.draw(40, 40)) - 3
    drawn = texts(end.draw(40, 2 + (about if runs == 0 else 0)))
    assert drawn[:2] == ["The piece is open elsewhere; here you", "may only look. Row 9 is done. ..."]


def test_in_the_far_view_what_must_be_said_once_leaves_the_letters_whole(tmp_path: Path) -> None:
    """On the smallest screen, in the middle of a row that the picture has many runs in."""
    begun(tmp_path, CUSHION, row=46, runs=2)
    session = on_disk(tmp_path, "Harbour light cushion")
    now, told = NowPanel(), telling(session, US)
    now.session = session
    now.is_alone, now.notice = True, f"{TEXT} {greeting(session, US)}"
    drawn = texts(now.draw(40, 15))
    assert len(drawn) == 15
    large = texts(lines_alone(told, 40, 1))  # the smallest there are
    assert drawn[:len(large)] == large
    assert "The piece is open elsewhere; here you" in drawn
    assert drawn[-1].endswith(".")


@pytest.mark.parametrize("width", range(40, 130, 6))
def test_the_top_line_has_the_title_whole_or_not_at_all(tmp_path: Path, width: int) -> None:
    begun(tmp_path, row=24)
    head = HeadLine()
    head.session = on_disk(tmp_path)
    [line] = texts(head.draw(width, 1))
    assert cell_len(line) <= width
    assert "…" not in line
    title = "Harbour practice swatch"
    assert (title in line) == (width >= len("  Row 24 of 32  WS ──▶   2 ends ready") + len(title) + 1), line


def test_a_strand_that_is_the_only_one_of_its_yarn_is_named_once(tmp_path: Path) -> None:
    begun(tmp_path, row=3)
    hanging = HangingPanel()
    hanging.session = on_disk(tmp_path)
    told = texts(hanging.draw(80, 6))
    assert told[1:] == ["▏s▕ shell in hand"]


@pytest.mark.parametrize(("width", "lines"), [(40, 1), (24, 2)])
def test_below_the_map_of_the_back_stands_what_its_marks_mean(tmp_path: Path, width: int, lines: int) -> None:
    begun(tmp_path, row=24)
    back = BackMap()
    back.session = on_disk(tmp_path)
    assert back.draw(width, 10) == [], "there is no end to show"
    back.cells, back.top = ((4, 5), (5, 5)), 20
    drawn = texts(back.draw(width, 10))
    assert len(drawn) == 10
    assert "  ".join(drawn[-lines:]) == "◉ this end  • its way  ○ another end"
    assert "◉" in "".join(drawn[:-lines])
