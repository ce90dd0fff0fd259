"""What the page is made of: one sound document that asks for nothing, a chart on which the row in work is found, and
what is open as data."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import html5lib
import pytest

from companion.dialogue.opening import open_plan
from companion.page.chart import drawn, parts
from companion.page.document import document
from companion.page.opened import ELSEWHERE, NotHere, Opened, Tapper
from companion.page.shown import shown
from companion.progress.actions import AtRow, On
from companion.settings import Settings
from tests.screens.at_the_needles import JUMPER, SWATCH, begun, shelf
from tests.the_program import PIER_SIGN

HTML, SVG = "{http://www.w3.org/1999/xhtml}", "{http://www.w3.org/2000/svg}"


@pytest.fixture
def pier(tmp_path: Path) -> Iterator[Opened]:
    """The pier sign, not begun."""
    plan = tmp_path / "pier.yaml"
    plan.write_text(PIER_SIGN, encoding="utf-8")
    opened = at(tmp_path, plan)
    yield opened
    opened.close()


def at(home: Path, plan: Path = SWATCH, settings: Settings | None = None) -> Opened:
    """A plan's piece as the page opens it."""
    knitter = Tapper(settings)
    return Opened(knitter, open_plan(knitter, shelf(home), plan))


def work(opened: Opened) -> Any:
    """The piece as it is shown."""
    return shown(opened)["work"]


# The document


@pytest.mark.parametrize("role", ["press", "look"])
def test_the_document_is_sound_by_the_standard_and_asks_for_nothing(role: Any) -> None:
    parser = html5lib.HTMLParser(strict=True)
    root = parser.parse(document("0" * 32, role, role))
    names = [one.get("id") for one in root.iter() if one.get("id")]
    assert len(names) == len(set(names)) > 20
    links = [one.get(name, "") for one in root.iter() for name in ("src", "href", "action", "data") if one.get(name)]
    assert [link for link in links if not link.startswith("data:")] == ["/?view", "/"]
    assert not [name for one in root.iter() for name in one.attrib if name.startswith("on") or name == "style"]
    assert {one.get("nonce") for one in root.iter() if one.tag in (f"{HTML}script", f"{HTML}style")} == {"0" * 32}
    text = document("0" * 32, role, role)
    assert "@import" not in text
    assert "url(" not in text
    assert "innerHTML" not in text
    assert set(re.findall(r"https?://[^\s'\"&]+", text)) == {"http://www.w3.org/2000/svg"}


def test_whoever_cannot_see_is_told_each_step() -> None:
    root = html5lib.parse(document("0", "press", "press"))
    told = next(one for one in root.iter() if one.get("id") == "said")
    assert (told.get("aria-live"), told.get("aria-atomic")) == ("polite", "true")
    assert root.get("lang") == "en"
    for one in root.iter():
        if one.tag in (f"{HTML}button", f"{HTML}a"):
            assert one.text
        if one.tag == f"{HTML}img":
            assert one.get("alt")


# The chart


def test_the_chart_is_a_sound_picture_with_every_row_numbered_where_it_begins(pier: Opened) -> None:
    assert pier.sitting
    session = pier.sitting.session
    part, = parts(session.piece, session.rows)
    root = ElementTree.fromstring("".join(drawn(session.piece, part)))
    wide, high = map(float, root.get("viewBox", "").split()[2:])
    assert (wide, high) == pytest.approx(part.size, abs=0.01)
    texts = {one.text: one for one in root.iter(f"{SVG}text") if (one.text or "").isdigit()}
    assert list(texts) == ["4", "3", "2", "1"], "from the top down"
    middle = wide / 2
    assert {row: float(one.get("x", "")) > middle for row, one in texts.items()} == {
        "1": True, "2": False, "3": True, "4": False,  # right-side rows at the right edge
    }


@pytest.mark.parametrize(("presses", "row", "columns"), [
    (0, 1, (1, 5)), (2, 2, (4, 5)), (3, 2, (2, 3)), (4, 2, (1, 1)), (5, 3, (1, 2)), (6, 3, (3, 4)), (7, 3, (5, 5)),
])
def test_the_row_in_work_and_its_run_are_found_on_the_chart(
    pier: Opened, presses: int, row: int, columns: tuple[int, int]
) -> None:
    """Worked out by hand from the chart: five stitches of 4 x 28/20 mm, four rows of 4 mm, column 1 at the right,
    row 1 at the foot; 12 mm beside them, 1.5 mm over and under them. At the end of row 1 the brick is had ready."""
    for _ in range(presses):
        pier.do("on")
    place = work(pier)["chart"]
    wide, high = 5 * 5.6 + 24, 4 * 4 + 3
    assert (place["part"], place["columns"], place["rows"]) == (0, 5, 4)
    assert place["ratio"] == pytest.approx(wide / high)
    assert place["top"] == pytest.approx((1.5 + 4 * (4 - row)) / high)
    assert place["height"] == pytest.approx(4 / high)
    assert place["row"] == pytest.approx({"left": 12 / wide, "width": 28 / wide})
    low, last = columns
    left, stitches = 12 + (5 - last) * 5.6, last - low + 1
    assert place["run"] == pytest.approx({"left": left / wide, "width": stitches * 5.6 / wide})


def test_of_a_part_its_own_chart_is_looked_at(tmp_path: Path) -> None:
    begun(tmp_path, JUMPER, row=96)
    opened = at(tmp_path, JUMPER)
    assert opened.sitting
    rows = opened.sitting.session.rows
    places = [work(opened)["chart"]["part"]]
    while opened.sitting.session.row < len(rows) - 2:
        opened.do("row")
        if chart := work(opened)["chart"]:
            places.append(chart["part"])
    assert sorted(set(places)) == list(dict.fromkeys(places)) == [1, 2], "one after the other"
    opened.close()


# What is open


def test_what_is_shown_is_what_the_teller_tells(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    opened = at(tmp_path)
    assert opened.sitting
    now, found = opened.sitting.telling, work(opened)
    assert (found["sentence"], found["row"], found["side"]) == (now.full, now.row_of, "RS")
    assert now.run
    segment = now.run.segment
    assert found["heard"].endswith(f"Knit {segment.stitches} in {segment.yarn}.")
    assert [act["text"] for act in found["acts"]] == [act.text for act in now.acts]
    main = next(act for act in found["acts"] if act["is_main"])
    assert (main["stitches"], main["text"]) == (now.run and now.run.segment.stitches, "KNIT")
    assert [run["state"] for run in found["runs"]] == ["done", "done", "now", "to come"]
    assert found["buttons"]["back"] == {"title": "Back", "can": True}
    assert found["end"] == [now.end_lead, *now.end]
    opened.close()


def test_at_a_rows_end_every_run_is_done_and_its_acts_are_what_is_pressed(tmp_path: Path) -> None:
    begun(tmp_path, row=27)
    opened = at(tmp_path)
    assert opened.sitting
    while opened.sitting.telling.act != "row end":
        opened.do("on")
    found = work(opened)
    assert {run["state"] for run in found["runs"]} == {"done"}
    assert found["acts"][0]["text"].startswith("CUT")
    assert found["on"] == "done"
    assert found["end"][-1].startswith('Press "On", then: ')
    assert found["chart"]["run"] is None
    opened.close()


def test_what_is_said_once_stays_until_the_next_thing_is_done(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    opened = at(tmp_path)
    opened.do("sew")
    told = work(opened)["notices"]
    assert len(told) == 1
    opened.do("on")
    assert told[0] not in work(opened)["notices"]
    opened.close()


def test_what_is_said_once_is_read_out_with_nothing_abbreviated_but_what_stands_in_quotation_marks(
    pier: Opened,
) -> None:
    assert pier.sitting
    pier.sitting.notice = 'Noted at 12 sts: "12 sts". 80 cm are left.'
    found = work(pier)
    assert found["notices"] == [pier.sitting.notice]
    row = f"{found['row']}, {found['side_in_words']}."
    assert found["heard"].startswith(f'Noted at 12 stitches: "12 sts". 80 centimetres are left. {row} Cast on 5 ')


def test_how_long_the_rest_takes_is_told_where_there_is_room_for_it(pier: Opened) -> None:
    assert pier.sitting
    pier.sitting.pace = ("About 4 minutes for the next row.", "4 min")
    assert work(pier)["notices"][-1] == "About 4 minutes for the next row."


def test_in_row_mode_on_is_the_whole_row(pier: Opened) -> None:
    assert work(pier)["on"] == ""
    pier.do("mode")
    assert work(pier)["on"] == "Whole row"
    pier.do("on")
    assert pier.sitting
    assert pier.sitting.session.is_at_turn


def test_in_row_mode_all_that_is_left_of_the_row_stands_there_in_working_order_and_is_heard(tmp_path: Path) -> None:
    """Row 21 of the swatch: 4 shell, 6 coral, 2 shell, 12 tide, all knitted; coral and shell hang a stitch away."""
    begun(tmp_path, row=21, runs=1)
    opened = at(tmp_path)
    assert not work(opened)["is_row"]
    opened.do("mode")
    found = work(opened)
    assert found["is_row"]
    assert [(act["text"], act["stitches"], [yarn["name"] for yarn in act["yarns"]]) for act in found["acts"]] == [
        ("RS", 0, []), ("CROSS", 0, []), ("FETCH 1", 0, []), ("KNIT", 6, ["coral"]), ("CARRY 1", 0, []),
        ("", 2, ["shell"]), ("", 12, ["tide"]),
    ]  # fmt: skip
    assert found["sentence"] == "", "that is told of each run below"
    assert found["heard"].endswith(
        "Coral hangs 1 stitch ahead, cross: shell over coral. Knit 6 in coral. Shell hangs 1 stitch back, cross: "
        "coral over shell. Knit 2 in shell. Cross: shell over tide. Knit 12 in tide."
    )
    opened.do("row")
    assert opened.sitting
    assert opened.sitting.session.is_at_turn
    opened.close()


def test_in_row_mode_what_is_done_at_a_rows_end_stands_there_alone(tmp_path: Path) -> None:
    begun(tmp_path, row=27)
    opened = at(tmp_path)
    opened.do("mode")
    opened.do("on")
    found = work(opened)
    assert found["acts"][0]["text"].startswith("CUT")
    assert not found["is_row"]
    assert found["sentence"]
    opened.close()


def test_what_a_page_has_not_is_said_to_be_done_elsewhere_and_left(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    opened = at(tmp_path)
    opened.do("settings")
    lines = shown(opened)["asked"]["lines"]
    opened.do("choose", next(line["at"] for line in lines if line["text"].startswith("Keys")))
    opened.do("add_key", next(line["at"] for line in shown(opened)["asked"]["lines"] if "at" in line))
    assert ELSEWHERE in shown(opened)["asked"]["text"]
    opened.answer(None)
    opened.answer(None)
    opened.do("why")
    assert shown(opened)["asked"]["kind"] == "reading"
    assert ELSEWHERE not in shown(opened)["asked"]["lines"]
    opened.close()


def test_a_picture_is_for_screens_and_not_offered(tmp_path: Path) -> None:
    opened = at(tmp_path)
    opened.do("help")
    found = shown(opened)["asked"]
    titles = [line["text"].partition(" (")[0] for line in found["lines"] if "text" in line]
    assert {"On", "Back", "Ends", "Where am I?", "Quit"} <= set(titles)
    assert {"Picture", "Far view", "Near or far", "Chart up"} & set(titles) == set()
    assert found["text"] == ["At the needles."], "nothing is typed there"
    opened.do("palette")
    assert len(opened.open) == 2, "it is open already"
    opened.close()


def test_what_is_asked_says_how_it_is_answered_and_takes_no_other_answer(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    opened = at(tmp_path)
    opened.do("rip")
    assert shown(opened)["asked"]["kind"] == "words"
    for wrong in (1, True, "x" * 501):
        with pytest.raises(NotHere):
            opened.answer(wrong)
    opened.answer("18")
    asked = shown(opened)["asked"]
    assert (asked["kind"], asked["yes"], asked["no"]) == ("yes or no", "rip back", "leave it")
    opened.answer("yes")
    assert opened.sitting
    assert opened.sitting.session.row == 20, "only yes is yes"
    opened.do("happened")
    for wrong in (-1, 99, True, "0"):
        with pytest.raises(NotHere, match="no answer"):
            opened.answer(wrong)
    opened.answer(None)
    assert shown(opened)["asked"] is None
    opened.close()


def test_a_number_is_asked_for_as_one(tmp_path: Path) -> None:
    begun(tmp_path, row=21, runs=2)
    opened = at(tmp_path)
    opened.do("happened")
    opened.answer(0)
    asked = shown(opened)["asked"]
    assert (asked["kind"], asked["is_number"]) == ("words", True)
    with pytest.raises(NotHere, match='This takes a number, not "many"'):
        opened.answer("many")
    opened.answer("1")
    assert shown(opened)["asked"] is None
    opened.close()


def test_control_characters_are_shown_and_not_obeyed(pier: Opened) -> None:
    pier.do("note")
    pier.answer(" loose\x1b[2J \u202e here")
    found = work(pier)
    assert found["notices"][-1].endswith("loose<001B>[2J <202E> here")
    assert found["notices"][-1] in found["heard"]


def test_keys_are_called_as_browsers_call_them_and_are_her_own(tmp_path: Path) -> None:
    """W3C, UI Events KeyboardEvent key Values."""
    opened = at(tmp_path, settings=Settings(keys={"on": ("f5", "k"), "back": ("minus",)}))
    keys = shown(opened)["keys"]
    assert (keys["F5"], keys["k"], keys["-"], keys[","], keys["?"], keys["w"]) == (
        "on", "on", "back", "settings", "help", "row",
    )
    assert " " not in keys
    assert "c" not in keys, "the chart is always there"
    opened.close()


def test_who_looks_only_is_told_so(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    first = at(tmp_path)
    second = at(tmp_path)
    assert work(first)["look_only"] == ""
    assert work(second)["look_only"] == "Look only"
    assert "open in another window" in work(second)["notices"][0]
    assert second.sitting
    before = second.sitting.session
    second.do("on")
    assert second.sitting.session is before
    first.close()
    second.close()


def test_everything_that_is_held_open_is_let_go_of(tmp_path: Path) -> None:
    begun(tmp_path, row=21)
    opened = at(tmp_path)
    opened.do("ends")
    opened.do("help")
    opened.close()
    with shelf(tmp_path).resume("Harbour practice swatch") as again:
        assert not again.is_look_only
        again.do(AtRow(22))
        again.do(On())
