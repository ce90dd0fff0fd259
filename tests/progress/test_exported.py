"""A piece to another machine: what is exported is read as the same piece, and nothing is believed unchecked."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plans_on_disk import QUAY, history, plan, resume, shelf, start

from companion.knitting.strands.limits import Carry
from companion.plan.read import load
from companion.problems import Problems
from companion.progress import exported, journal
from companion.progress.actions import AtRow, Note, On, Refused, Replan, RipBack, Weave, WholeRow
from companion.progress.ends import all_ends
from companion.progress.events import Cut, Planned
from companion.progress.exported import read, written
from companion.progress.shelf import Shelf
from companion.progress.stored import Contents

FILED = QUAY.split("\nrows:")[0] + "\nrows:\n  - chart: {from: 'boats\N{ANCHOR}.txt'}\n"
BOATS = "  ssssbbbbssss\n\n\tsssbbbbbbsss\n"


def knitted(tmp_path: Path) -> Contents:
    with start(tmp_path) as knitting:
        knitting.do(AtRow(4))
        knitting.do(On())
        knitting.do(Note(2, 'the "light" begins\u2028here: \x85 [red] \x1b[2J \N{ANCHOR}'))
        knitting.do(Weave(all_ends(knitting.session)[0][0]))
        knitting.do(RipBack(2))
    return shelf(tmp_path).contents("Quay")


def text_of(contents: Contents) -> str:
    return "".join(written(contents))


def other(tmp_path: Path) -> Shelf:
    return Shelf(tmp_path / "elsewhere" / "pieces")


def test_what_is_exported_is_taken_in_as_the_same_piece(tmp_path: Path) -> None:
    contents = knitted(tmp_path)
    text = text_of(contents)
    assert QUAY.rstrip().replace("\n", "\n      ") in text
    assert other(tmp_path).take_in(read(text, "quay.txt"), tmp_path) == "Quay"
    there = other(tmp_path).contents("Quay")
    assert (there.entries, there.times) == (contents.entries, contents.times)
    assert there.plans[0] == contents.plans[0]._replace(path=str((tmp_path / "quay.yaml").resolve()))
    with resume(tmp_path) as here, other(tmp_path).resume("Quay") as away:
        assert history(away.session) == history(here.session)
        assert away.card == here.card
        away.do(WholeRow())


def test_a_plan_file_that_was_renamed_is_taken_along_under_its_new_name(tmp_path: Path) -> None:
    knitted(tmp_path)
    new = (tmp_path / "quay.yaml").rename(tmp_path / "pier.yaml")
    with shelf(tmp_path).resume("Quay", plan_path=new) as knitting:
        knitting.do(On())
    text = text_of(shelf(tmp_path).contents("Quay"))
    assert "quay.yaml" not in text
    other(tmp_path).take_in(read(text, "quay.txt"), tmp_path)
    with other(tmp_path).resume("Quay") as away:
        assert away.card.plan_path == str(new.resolve())
        assert away.opened_plan.kind == "unchanged"


LEANING = QUAY.split("\nrows:")[0] + """
rows:
  - chart: |
      ssssssssbbbb
      ssssssbbbbbb
      bbbbssssssss
      ssssssssssss
"""


def test_a_left_handed_piece_is_taken_along_mirrored(tmp_path: Path) -> None:
    path = plan(tmp_path, LEANING)
    with shelf(tmp_path).start(load(path), path, is_mirrored=True) as knitting:
        for _ in range(3):
            left = knitting.do(On())
    text = text_of(shelf(tmp_path).contents("Quay"))
    other(tmp_path).take_in(read(text, "quay.txt"), tmp_path)
    with other(tmp_path).resume("Quay") as away:
        assert history(away.session) == history(left)
        assert away.session.rows.is_mirrored
        away.do(WholeRow())


SLOPING = QUAY.split("\nrows:")[0] + """
rows:
  - chart: |
      ssssssssssss
      ....ssssssss
      ssssssssssss
"""


def test_a_left_handed_piece_of_a_plan_that_cannot_be_worked_mirrored_is_not_taken_in(tmp_path: Path) -> None:
    with start(tmp_path, SLOPING):
        pass
    text = text_of(shelf(tmp_path).contents("Quay"))
    with pytest.raises(Problems) as found:
        read(text.replace("[[1],[1],[1]],[],0,[]]]", '[[1],[1],[1]],[],0,[]],["Mirrored"]]'), "quay.txt")
    [problem] = found.value.problems
    assert problem.what == "Worked mirrored, row 2 loses 4 stitches at its end, where none can be bound off."


def test_files_drawn_in_and_strange_line_ends_come_along_word_for_word(tmp_path: Path) -> None:
    (tmp_path / "boats\N{ANCHOR}.txt").write_bytes(BOATS.encode())
    with start(tmp_path, FILED.replace("\n", "\r\n")) as knitting:
        knitting.do(On())
    contents = shelf(tmp_path).contents("Quay")
    found = read(text_of(contents), "quay.txt")
    assert found.plans[0].text == FILED.replace("\n", "\r\n")
    assert found.plans[0].files == {"boats\N{ANCHOR}.txt": BOATS}


@given(st.lists(st.sampled_from(["sss\n", "  bb s\n", "\n", " \n", "# x: |\n", "\tb\n", "- [\r\n", "s"]), max_size=6))
def test_any_text_is_written_so_that_yaml_reads_it_again(lines: list[str]) -> None:
    from companion.plan.nodes import Keys, Text, tree
    from companion.plan.source import Found, Source

    text = "".join(lines)
    root = tree(Source("x", f"a:\n  - b: 1\n    c: {exported._block(text, 6)}"), Found())
    assert isinstance(root, Keys)
    [item] = root.entries["a"].value.items
    value = item.entries["c"].value
    assert isinstance(value, Text)
    assert value.value == text


def test_a_new_plan_for_the_rest_stores_what_it_changes_and_nothing_of_what_is_worked(tmp_path: Path) -> None:
    """In row 5 of six; with other limits the rows to come have other strands, or the same."""
    with start(tmp_path) as knitting:
        knitting.do(AtRow(5))
        for reach, behind in ((0, 0), (3, 0), (0, 4), (3, 0)):
            knitting.do(Replan(Carry(reach, behind)))
        left = knitting.session
    contents = shelf(tmp_path).contents("Quay")
    planned = [event for entry in contents.entries[2:] for event in entry if isinstance(event, Planned)]
    assert len(planned) == 4
    assert all(len(event.strand_of) <= 2 and event.start >= 4 for event in planned)
    with resume(tmp_path) as knitting:
        assert history(knitting.session) == history(left)
    assert history(read(text_of(contents), "quay.txt").session) == history(left)


def test_a_longer_history_of_the_same_beginning_goes_on_from_it(tmp_path: Path) -> None:
    early = knitted(tmp_path)
    with resume(tmp_path) as knitting:
        knitting.do(WholeRow())
    late = shelf(tmp_path).contents("Quay")
    away = other(tmp_path)
    away.take_in(read(text_of(early), "early"), tmp_path)
    assert away.stands_to(read(text_of(late), "late")) == "longer"
    assert away.take_in(read(text_of(late), "late"), tmp_path) == "Quay"
    assert away.contents("Quay").entries == late.entries
    assert len(away.cards()) == 1
    for again in (early, late):
        assert away.stands_to(read(text_of(again), "again")) == "no longer"
        with pytest.raises(Refused, match='"Quay" is on your shelf, and as far on\\.'):
            away.take_in(read(text_of(again), "again"), tmp_path)
    assert away.contents("Quay").entries == late.entries


def test_one_that_went_another_way_becomes_a_second_piece(tmp_path: Path) -> None:
    early = knitted(tmp_path)
    away = other(tmp_path)
    away.take_in(read(text_of(early), "early"), tmp_path)
    with away.resume("Quay") as knitting:
        knitting.do(On())
    with resume(tmp_path) as knitting:
        knitting.do(WholeRow())
    forked = read(text_of(shelf(tmp_path).contents("Quay")), "forked")
    assert away.stands_to(forked) == "forked"
    assert away.take_in(forked, tmp_path) == "Quay 2"
    assert sorted(card.name for card in away.cards()) == ["Quay", "Quay 2"]
    assert len(away.contents("Quay").entries) == len(early.entries) + 1


def test_a_piece_that_is_open_elsewhere_is_not_gone_on_with(tmp_path: Path) -> None:
    early = knitted(tmp_path)
    with resume(tmp_path) as knitting:
        knitting.do(WholeRow())
    late = read(text_of(shelf(tmp_path).contents("Quay")), "late")
    away = other(tmp_path)
    away.take_in(read(text_of(early), "early"), tmp_path)
    with away.resume("Quay"), pytest.raises(Refused, match="open in another window"):
        away.take_in(late, tmp_path)


def entry(events: str) -> str:
    return f"  2031-03-01T18:00:00.000+00:00 {events}\n"


@pytest.mark.parametrize(
    ("events", "told"),
    [
        ('[["Worked",0,0,"sand",4,1]]', ""),
        ('[["Worked",1,0,"sand",3,1]]', "step 2: Worked: It cannot have happened there"),
        ('[["Worked",0,0,"brick",4,1]]', "step 2: Worked: It cannot have happened there"),
        ('[["Worked",0,0,"sand",5,1]]', "step 2: Worked: It cannot have happened there"),
        ('[["Worked",0,0,"sand",4,7]]', "step 2: Worked: It cannot have happened there"),
        ('[["Unpicked",0,0]]', "step 2: Unpicked: There is nothing to unpick"),
        ('[["RippedBack",99]]', "step 2: RippedBack: There is nothing to rip back"),
        ('[["BoundOff"]]', "step 2: BoundOff: There are rows to work yet"),
        ('[["Wove",[[0,0],"start"]]]', "step 2: Wove: This end does not exist yet"),
        ('[["Wove",[[900,0],"start"]]]', "step 2: Wove: This end does not exist yet"),
        ('[["Noted",77,"words"]]', "step 2: Noted: Say a row from 1 to 6"),
        ('[["Planned",3,[3,0,0,false],[[1]]]]', "step 2: Planned: It follows a plan that is not there"),
        ('[["Planned",0,[3,0,0,false],[[1]]]]', "step 2: Planned: Its strands are not those of the plan"),
        ('[["Finished","trim"]]', "step 2: Finished: The piece is not bound off yet"),
        ('[["WentBack"]]', "step 2: WentBack: There is nothing to take back"),
        ('[["Sewed",500,1]]', "step 2: Sewed: Areas are sewn on when the piece is bound off"),
        ('[["Mistook",3,[1],"sand","leave"]]',
         "step 2: Mistook: Only stitches that are worked can be marked as wrong"),
        ('[["Cut",0,[9]]]', "step 2: Cut: It cannot have happened there"),
        ('[["Worked",0,0,"sand",4,1],["Cut",0,[1]]]', "step 2: Cut: It cannot have happened there"),
    ],
)
def test_a_step_that_cannot_have_happened_is_told_with_its_number(tmp_path: Path, events: str, told: str) -> None:
    with start(tmp_path):
        pass
    text = text_of(shelf(tmp_path).contents("Quay")) + entry(events)
    if not told:
        assert len(read(text, "quay.txt").entries) == 2
        return
    with pytest.raises(Problems) as found:
        read(text, "quay.txt")
    [problem] = found.value.problems
    assert problem.what == f"What stands here cannot have happened like that: {told}."
    assert problem.file == "quay.txt"


@pytest.mark.parametrize(
    "cut",
    [
        Cut(4, (2,)),  # in a row to come
        Cut(1, (2,)),  # in a row long done
        Cut(2, (3,)),  # a strand that works on in the next row
        Cut(2, (99,)),  # one that is not in the piece
        Cut(2, (2, 2)),  # twice
        Cut(2, ()),  # none
    ],
)
def test_a_cut_from_elsewhere_is_of_strands_that_hang_in_the_row_at_hand_and_are_not_needed_any_more(
    tmp_path: Path, cut: Cut
) -> None:
    """At the turn after row 3: row 4 is all sand, for which one of the sands goes on, and brick 2 is not needed."""
    all_sand = QUAY.replace("      ssbbssssbbss\n      ssbb", "      ssssssssssss\n      ssbb")
    with start(tmp_path, all_sand) as knitting:
        knitting.do(AtRow(4))
        assert knitting.session.strands.strand_of[3] == (3,)
    contents = shelf(tmp_path).contents("Quay")
    *others, end = contents.entries
    without = tuple(event for event in end if event != end[-1])
    assert isinstance(end[-1], Cut)
    assert 2 in end[-1].strands
    for events, is_right in (((*without, end[-1]), True), ((*without, cut), False)):
        text = text_of(contents._replace(entries=(*others, events)))
        if is_right:
            assert read(text, "quay.txt").session.cut == knitting.session.cut
            continue
        with pytest.raises(Problems) as found:
            read(text, "quay.txt")
        assert "Cut: It cannot have happened there" in found.value.problems[0].what


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("progress: 1", "progress: 2", "must be 1: another version of this program wrote it."),
        ("progress: 1\n", "", "must have the keys progress, name, plans, history."),
        ("history: |\n", "history: [|]\n", ""),
        ("version: 0", "version: none", "must be a number."),
        ("draws_in: {}", "draws_in: []", "must be files by name."),
        ("plans:\n", "plans: none\nplan:\n", "must have the keys"),
        ("  2031-03-01T18:00", "  yesterday", "is not a time and what was done then"),
        ("ssssbbbbssss", "ssssXbbbssss", 'uses the symbol "X"'),
    ],
)
def test_a_file_that_is_amiss_is_told_and_nothing_taken_in(tmp_path: Path, old: str, new: str, told: str) -> None:
    with start(tmp_path):
        pass
    text = text_of(shelf(tmp_path).contents("Quay"))
    assert old in text
    with pytest.raises(Problems) as found:
        read(text.replace(old, new, 1), "quay.txt")
    assert told in found.value.problems[0].what


def test_an_export_that_is_cut_short_anywhere_is_told_or_shorter(tmp_path: Path) -> None:
    contents = knitted(tmp_path)
    text = text_of(contents)
    read_whole = 0
    for at in range(0, len(text), 7):
        with suppress(Problems):
            found = read(text[:at], "cut.txt")
            read_whole += 1
            assert found.entries == contents.entries[: len(found.entries)]
    assert read_whole < 40


def test_the_journals_own_words_come_back(tmp_path: Path) -> None:
    contents = knitted(tmp_path)
    assert journal.read(shelf(tmp_path).file_of("Quay")) == contents
    assert json.loads(json.dumps(text_of(contents)))
    assert plan(tmp_path).exists()
