"""What line mode says: one run a line, the row where it changes, and what is asked for beside it."""

from __future__ import annotations

import re
from datetime import timedelta
from itertools import count
from pathlib import Path

import pytest
from the_program import PIER_SIGN

from companion.dialogue.basket import basket_here
from companion.dialogue.deed import LISTS
from companion.dialogue.deeds import DEEDS, deeds_of
from companion.dialogue.opening import open_plan
from companion.lines.commands import OWN, SHOWN_ALONE, TAKING_WORDS, Typist, Vocabulary, commands_of
from companion.lines.conversation import Conversation
from companion.lines.heard import AsItStands, heard
from companion.lines.talk import PAGE, Talk
from companion.plan.read import load
from companion.progress.actions import WholeRow
from companion.progress.events import Entry
from companion.progress.shelf import Shelf
from companion.settings import Settings
from tests.dialogue.test_same_journal import journal
from tests.lines.at_lines import AtLines, typed
from tests.screens.at_the_needles import COWL, CUSHION, EVENING, JUMPER, SWATCH, begun, on_disk, shelf, where


def sign(tmp_path: Path, *lines: str, settings: Settings | None = None) -> AtLines:
    """Line mode at the pier sign, which is worked out by hand where it stands."""
    plan = tmp_path / "sign.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    return typed(tmp_path, *lines, plan=plan, settings=settings)


def steps(home: Path) -> tuple[Entry, ...]:
    """All that was done to the only piece."""
    (entries,) = journal(home).values()
    return entries


def test_each_run_is_one_line_and_a_row_is_told_where_it_begins(tmp_path: Path) -> None:
    said = sign(tmp_path, "", "", " ", settings=Settings(say="short")).said
    assert said[0][:2] == ["Pier sign.", "Row 1 of 4, right side toward you."]
    assert said[0][2].endswith("Knit 5 in sand.")
    assert said[1] == [
        "Row 1 is done.", "5 stitches must be on the needle. Have ready: new brick, new sand.",
        "Press Enter, then: turn.",
    ]  # fmt: skip
    assert said[2] == [
        "Turn, the needle's tip toward you.", "Row 2 of 4, wrong side toward you.", "Purl 2 in sand.",
    ]  # fmt: skip
    assert re.fullmatch(r"Join new brick.*\. Cross: sand over brick\. Purl 2 in brick\.", said[3][0])


def test_each_kind_of_change_is_told_in_full_once_and_in_short_from_then_on(tmp_path: Path) -> None:
    told = [line for said in typed(tmp_path, *[""] * 14).said for line in said if "The plan says" not in line]
    lines = [line for line in told if "Cross" in line]
    assert lines[0].startswith("Join new tide (6.5 metres, bobbin) at the back: leave a tail, half-knot")
    assert [line.startswith("Cross the old strand before") for line in lines[1:]] == [True, False, False, False]
    assert lines[2] == "Cross: shell over tide. Knit 12 in tide."
    assert lines[3] == "Cross: tide over shell. Purl 10, then knit 2 in shell."


@pytest.mark.parametrize(("say", "is_full"), [("full", True), ("short", False), ("mark", False)])
def test_how_much_is_said_at_a_change_is_the_knitters_setting(tmp_path: Path, say: str, is_full: bool) -> None:
    begun(tmp_path, row=7, runs=1)
    said = typed(tmp_path, settings=Settings(say=say)).said[0][-1]  # type: ignore[arg-type]
    assert said.startswith("Cross the old strand before the new, at the back: lay shell to your left") == is_full


def test_f_tells_in_full_what_was_told_in_short_and_a_tells_it_again(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    said = typed(tmp_path, "f", "a", "again", settings=Settings(say="short")).said
    assert said[0][-1] == "Cross: shell over tide. Knit 12 in tide."
    assert said[1] == [
        "Cross the old strand before the new, at the back: lay shell to your left across tide, then take tide up "
        "from under it. Knit 12 in tide."
    ]
    assert said[2] == said[3] == said[0]


def test_a_row_of_the_chart_is_read_in_the_order_of_the_hands(tmp_path: Path) -> None:
    said = sign(tmp_path, "c", "c 2-3", "chart 3", "c 9", "c x", "c 3-2").said
    assert said[1] == ["Row 1, from the right: 5 sand."]
    assert said[2] == [
        "Row 2, from the left: 2 sand, 2 brick, 1 sand.", "Row 3, from the right: 2 sand, 2 brick, 1 sand.",
    ]  # fmt: skip
    assert said[3] == said[2][1:]
    assert said[4] == ["The piece has no such rows: 4 is the last."]
    assert said[5] == ["Type a row or several, such as 12, 12-15 or left 3."]
    assert said[6] == said[4]


def test_a_row_of_a_part_is_read_and_gone_to_by_its_own_number(tmp_path: Path) -> None:
    begun(tmp_path, JUMPER, row=75)
    rows = on_disk(tmp_path, "Ferry jumper, front").rows
    last = rows.in_part(next(at for at, row in enumerate(rows.fabric.rows) if row.part == "left"))
    said = typed(tmp_path, "c left 2-3", "g left 3", "g left 99", f"c left {last + 1}", plan=JUMPER).said
    assert [line.partition(",")[0] for line in said[1]] == ["Row 2 of the left part", "Row 3 of the left part"]
    assert any(line.startswith("Left part, row 3 of ") for line in said[2])
    assert said[3][-1] == said[4][0] == f"The left part has {last} rows."


def test_place_tells_the_row_and_every_strand_from_the_coming_hand(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    row, *strands = typed(tmp_path, "p").said[1]
    assert row == "Row 7 of 32, right side toward you, 12 of 24 still on the left needle, 2 of 11.5 centimetres high."
    assert strands == [
        "2 strands, from the right needle to the left:",
        "1. shell in hand: the shell beside tide, first from the right.",
        "2. tide at the tips: the tide beside shell, first from the left.",
    ]


def test_in_row_mode_a_row_is_told_run_by_run_each_with_its_change(tmp_path: Path) -> None:
    begun(tmp_path, row=7)
    said = typed(tmp_path, "m", "", "m").said
    assert said[1] == ["Enter is a whole row now.", "Knit 12 in shell.", "Cross: shell over tide. Knit 12 in tide."]
    assert said[2] == [
        "Row 7 is done. 24 stitches must be on the needle. Turn, the needle's tip toward you.",
        "Row 8 of 32, wrong side toward you.", "Knit 2, then purl 10 in tide.",
        "Cross: tide over shell. Purl 10, then knit 2 in shell.",
    ]  # fmt: skip
    assert said[3] == ["Enter is a run now.", "Knit 2, then purl 10 in tide."]


def test_in_row_mode_what_is_worked_of_a_row_is_not_told_again(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    assert typed(tmp_path, "m").said[1] == ["Enter is a whole row now.", "Cross: shell over tide. Knit 12 in tide."]


@pytest.mark.parametrize(("say", "new"), [("short", "new tide"), ("first", "new tide (6.5 metres, bobbin)")])
def test_what_a_turn_asks_for_is_told_as_short_as_she_wants(tmp_path: Path, say: str, new: str) -> None:
    begun(tmp_path, row=4)
    said = typed(tmp_path, "w", settings=Settings(say=say)).said[1]  # type: ignore[arg-type]
    turned = "Turn, the needle's tip away from you."
    assert said[0] == f"Row 4 is done. 24 stitches must be on the needle. Have ready: {new}. {turned}"


def test_how_long_the_rest_takes_is_told_with_the_row_that_is_done(tmp_path: Path) -> None:
    """48 seconds a row of 24 stitches: after the eleventh 21 rows are left, 1008 seconds."""
    times = (EVENING + timedelta(seconds=48 * n) for n in count())
    pieces, knitter = Shelf(tmp_path / "pieces", lambda: next(times)), Typist()
    with pieces.start(load(SWATCH), SWATCH) as knitting:
        while knitting.session.rows_done < 10:
            knitting.do(WholeRow())
    said = AtLines(open_plan(knitter, pieces, SWATCH), ["w"], knitter).said[1]
    assert said[0].startswith("Row 11 is done. ")
    assert said[0].endswith("About 1 minute for the next row, about 15 minutes left, 1800 stitches an hour.")


def test_signs_that_a_typewriter_lacks_are_said_as_it_has_them(tmp_path: Path) -> None:
    said = sign(tmp_path, "x" * 99).said[1][0]
    assert said.startswith(f'Nothing here is called "{"x" * 39}...". ')


def test_what_was_typed_is_said_as_it_was_typed_and_all_else_spelled_out(tmp_path: Path) -> None:
    assert sign(tmp_path, "5 sts").said[1][0].startswith('Nothing here is called "5 sts". ')
    begun(tmp_path, row=7, runs=1)
    assert "tide 12 stitches ahead" in typed(tmp_path, "back", "p").text


def test_text_of_a_file_is_said_as_it_stands_there_and_nothing_in_it_obeyed() -> None:
    assert heard(AsItStands("over: 10 cm\x1b[2J")) == "over: 10 cm<001B>[2J"


def test_a_round_is_called_one(tmp_path: Path) -> None:
    begun(tmp_path, COWL, row=9)
    said = typed(tmp_path, "w", "c 3", plan=COWL).said
    assert any(re.match(r"Round 10 of \d+, right side toward you\.", line) for line in said[1])
    assert said[2][0].startswith("Round 3, from the right: ")


def test_a_refusal_is_a_line_and_nothing_is_done(tmp_path: Path) -> None:
    said = sign(tmp_path, "back", "u", "g 99", "c 99", "w", "frobnicate", "unpik", "zoom", "light", "u 3").said
    assert all(said[1:-1]), "nothing is left without a word"
    assert said[1:3] == [["There is nothing to take back."], ["There is nothing to unpick."]]
    assert said[6] == ['Nothing here is called "frobnicate". "?" tells what can be done.']
    assert said[7] == ['Nothing here is called "unpik". Did you mean "unpick"? "?" tells what can be done.']
    assert said[8] == ['"Near or far" is for a screen alone.']
    assert said[9] == ['"Light or dark" is for a screen alone.']
    assert said[10] == ['"Unpick" takes no words: nothing is done.']
    assert len(steps(tmp_path)) == 2, "but for the row that was worked"


def test_every_deed_is_meant_by_each_of_its_keys_its_name_and_its_title() -> None:
    signs = {"comma": ",", "question_mark": "?", "plus": "+"}
    for place in ("work", *LISTS, "marking"):
        deeds = deeds_of(place)
        vocabulary = Vocabulary(deeds, commands_of(place))
        for deed in deeds:
            keys = [signs.get(key, key) for key in deed.keys]
            if deed.name in SHOWN_ALONE:
                keys = [key for key in keys if key not in {one.letter for one in OWN}]
            title = deed.title.removesuffix(" ...").lower()
            for line in (*keys, deed.name, deed.name.replace("_", " "), deed.name.upper()):
                meant = vocabulary.meant({"space": " ", "enter": ""}.get(line, line))
                assert meant is not None, (place, line)
                assert meant.what is deed or deed.name == meant.what.title.lower() == "chart", (place, line)
            named = vocabulary.meant(title)
            assert named is not None
            assert named.what.title == deed.title, (place, title)


def test_a_deed_that_asks_nothing_takes_no_words_and_every_other_does() -> None:
    """Each of the table but those of the drawing board, which needs a screen, is one or the other, so that no word is
    left without a meaning, unsaid."""
    asks_nothing = {
        "on", "back", "row", "mode", "say", "why", "unpick", "filter", "every", "sort",
        *(deed.name for deed in deeds_of("marking")), *(deed.name for deed in DEEDS if deed.where[0] in
          ("question", "yes or no", "reading")),
    }  # fmt: skip
    typed_here = {deed.name for deed in DEEDS if deed.where != ("drawing",)}
    assert typed_here == asks_nothing | TAKING_WORDS | SHOWN_ALONE
    assert not TAKING_WORDS & asks_nothing


def test_help_lists_what_can_be_done_now_by_its_letter_in_pages_of_20(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    said = typed(tmp_path, "?", "more", "more", "? stop", "? frobnicate").said
    assert len(said[1]) == PAGE + 1
    assert said[1][-1] == 'There is more: "more" reads on.'
    listed = [*said[1][:-1], *said[2]]
    assert listed[0] == "Enter: On. What is told now is done: a run, in row mode a row."
    assert "w: Whole row. Everything to the end of the row is done." in listed
    assert "i: Where am I? Find the row by the runs that lie on the needle." in listed
    assert not [line for line in listed if line.startswith(("z:", "home"))], "they are for a screen"
    assert said[3] == ["There is no more."]
    assert said[4] == ["q: Quit. Stop here. Everything is saved already."]
    assert not [line for line in sign(tmp_path, "?").said[1] if line.startswith(("u:", "k:"))], "nothing is done yet"
    assert said[5] == ['Nothing here is called "frobnicate".']


def test_what_stands_in_help_does_it(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    talked = typed(tmp_path, "?", "more")
    letters = [line.partition(":")[0] for line in (*talked.said[1][:-1], *talked.said[2])]
    vocabulary = Vocabulary(deeds_of("work"), commands_of("work"))
    assert {"k", "u", "r", ",", "?", "Enter", "f", "c", "p", "a", "more"} <= set(letters)
    for letter in letters:
        assert vocabulary.meant("" if letter == "Enter" else letter) is not None


def test_k_takes_back_unless_it_is_a_key_of_her_own(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    typed(tmp_path, "k")
    assert where(on_disk(tmp_path)) == (6, 2)
    typed(tmp_path, "k", settings=Settings(keys={"on": ("k",)}))
    assert where(on_disk(tmp_path)) == (7, 1)


def test_capital_letters_and_no_space_before_a_number_are_taken_as_meant(tmp_path: Path) -> None:
    begun(tmp_path, row=7)
    typed(tmp_path, "G10", "W", "WHOLE Row", "r9 y")
    assert where(on_disk(tmp_path)) == (9, 2)


def test_a_step_is_on_disk_before_it_is_said(tmp_path: Path) -> None:
    """Another reader of the file finds it there with each line that tells of it."""
    plan = tmp_path / "sign.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    found, lines = list[tuple[int, int]](), iter(["\n"] * 3 + ["k\n"])

    def say(_: str) -> None:
        found.append(where(on_disk(tmp_path, "Pier sign")))

    knitter = Typist()
    asking = open_plan(knitter, shelf(tmp_path), plan)
    with pytest.raises(StopIteration):
        Conversation(Talk(lambda: next(lines), say), knitter).carry_out(asking)
    assert list(dict.fromkeys(found)) == [(1, 0), (1, 1), (2, 1)]
    assert found[-1] == (1, 1), "taken back"


def test_a_list_and_its_way_out_are_told_again_too(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    said = typed(tmp_path, "e", "?", "again", "2", "a").said
    assert said[3] == said[1]
    assert len(said[1]) == 4
    assert said[5] == said[4]


def test_who_may_only_look_is_told_so_and_nothing_is_done(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    with shelf(tmp_path).resume("Harbour practice swatch"):
        said = typed(tmp_path, "", "n mine", "e").said
        assert "another window" in said[0][1]
        assert len(said[1]) == 1
        assert said[2] == [*said[1], 'Not used: "mine".']
        assert not said[3][-1].startswith("Enter"), "nothing is ticked off"
    assert where(on_disk(tmp_path)) == (7, 1)


def test_ends_are_offered_between_the_row_that_is_done_and_the_next(tmp_path: Path) -> None:
    begun(tmp_path, row=31)
    offered = typed(tmp_path, "", settings=Settings(offer_at=1)).said[1]
    assert offered[0].startswith("Row 31 is done. ")
    assert re.match(r"\d+ ends are ready to weave in, .* press e, or knit on\.", offered[1])
    assert offered[2] == "Row 32 of 32, wrong side toward you."


def test_a_note_is_said_where_it_is_written_and_when_she_comes_back(tmp_path: Path) -> None:
    begun(tmp_path, row=7, runs=1)
    said = typed(tmp_path, "n one stitch loose, mind it; y", "", "n", "-").said
    assert "Note: one stitch loose, mind it; y" in said[1]
    assert 'Enter keeps "one stitch loose, mind it; y", "-" takes it away.' in typed(tmp_path, "k", "n").text
    again = typed(tmp_path).said[0]
    assert "Note: one stitch loose, mind it; y" in again


def test_what_others_wrote_is_said_and_never_obeyed(tmp_path: Path) -> None:
    hostile = "\x1b]0;x\x07\u202esand\x85\x9b2J"
    path = tmp_path / "sign.yaml"
    path.write_text(PIER_SIGN.replace("sand", "saénd"), encoding="utf-8")
    lines = (f"n {hostile}", "n", hostile, "i", hostile, "", hostile, f"g {hostile}", "leave")
    talked = typed(tmp_path, *lines, plan=path)
    assert talked.text.replace("\n", "").isprintable()
    assert "<001B>]0;x<0007><202E>sand<0085><009B>2J" in talked.text
    assert "saénd" in talked.text, "a name that needs more is said as it is written"
    assert {letter for letter in talked.text if not letter.isascii()} == {"é"}


def test_the_basket_is_lines_with_numbers_and_a_piece_is_opened_by_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun(tmp_path, row=7, runs=1, name="Pier")
    monkeypatch.chdir(tmp_path)
    knitter = Typist()
    lines = ("1", "", "q y", "r 1 Quay", "2", "99", "x 1 y", "u 1", "q")
    talked = AtLines(basket_here(knitter, shelf(tmp_path)), lines, knitter)
    assert talked.said[0][:3] == ["Rowside: the work basket", "On the needles:", talked.said[0][2]]
    assert talked.said[0][2].startswith("1. Pier")
    assert talked.said[0][3] == "Demo plans:"
    assert talked.said[0][4].startswith("2. swatch, 24 stitches x 32 rows")
    assert talked.said[0][-1] == "Enter, line 1: open. q: leave."
    assert talked.said[1][-1] == "Enter, line 1: open. q: leave."
    assert talked.said[2][0] == "Harbour practice swatch."
    assert [card.name for card in shelf(tmp_path).cards()] == ["Quay"]
    assert talked.is_left


def test_trouble_with_the_basket_is_told_before_its_lines(tmp_path: Path) -> None:
    (tmp_path / "pieces").write_text("no folder", encoding="utf-8")
    knitter = Typist()
    said = AtLines(basket_here(knitter, shelf(tmp_path)), ["q"], knitter).said[0]
    assert said[0].endswith("is a file, not a folder; move it away, or set ROWSIDE_HOME to another folder.")


def test_a_list_is_told_in_pages_and_a_number_tells_one_line_in_full(tmp_path: Path) -> None:
    begun(tmp_path, CUSHION, row=43)
    said = typed(tmp_path, "s", "more", "22", "down", "end", "home", "up", "99", "zzz", plan=CUSHION).said
    numbers = [int(line.partition(".")[0]) for line in said[1] + said[2] if line[0].isdigit() and ". " in line[:4]]
    assert numbers == list(range(1, 39))
    assert len([line for line in said[1] if re.match(r"\d+\. ", line)]) == PAGE
    assert [lines[0].partition(".")[0] for lines in said[3:8]] == ["22", "23", "38", "1", "38"]
    assert said[8] == ["Type a number from 1 to 38."]
    assert said[9][0].startswith('Nothing here is called "zzz".')
