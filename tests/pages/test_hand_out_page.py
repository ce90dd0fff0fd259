"""The page of a hand-out: sound HTML whatever a plan says, nothing fetched, and every part with what it must have."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from on_paper import ALL, every, handed, name_of, not_begun, text_of, tree
from plan.plans import charted, read

from companion.commands.given import read_plan
from companion.knitting import words
from companion.knitting.hands.ends import ends_of
from companion.knitting.piece import Piece
from companion.knitting.words import US, Terms
from companion.pages import written
from companion.pages.hand_out.page import page
from companion.pages.hand_out.request import HandOut

DEMOS = [path.stem for path in sorted(Path("plans").glob("*.yaml"))]

PLAN = """\
plan: 1
title: {title}
gauge: {{stitches: 20, rows: 28}}
yarns:
  {one}: {{colour: tan, ball: {{metres: 100, grams: 50}}}}
  {other}: {{colour: brown}}
symbols: {{'{first}': {one}, '{second}': {other}, 'w': {{yarn: {one}, sewn: {other}}}}}
carry: {{reach: 1}}
rows:
  - chart: |
      {first}{first}{first}{first}{first}
      {first}{second}{second}{first}w
      {first}{first}{second}{second}{first}
      {first}{first}{first}{first}{first}
"""


def plan(title: str = "Quay", one: str = "sand", other: str = "brick", first: str = "s", second: str = "b") -> Piece:
    return read(PLAN.format(title=title, one=one, other=other, first=first, second=second)).piece


HOSTILE = [
    ("</title><script>alert(1)</script>", "</style><img src=x onerror=a()>", "]]><svg onload=alert(1)>", "<", "&"),
    ("--><!--", "a&amp;b", "x<!--", '"', "`"),
    ("港の灯り", "海", "砂 浜", "海", "砂"),
    ("מגדלור", "חול", "לבנה", "ח", "ל"),
    ("a" * 200, "b" * 40, "c" * 40, "𝕒", "é"),
]


def shape(root: Element) -> list[tuple[str, list[str]]]:
    """Every element and the names of what it has, but for those that keep names to themselves."""
    return [(name_of(one), sorted(one.keys())) for one in root.iter() if name_of(one) != "bdi"]


@pytest.mark.parametrize("named", HOSTILE)
def test_nothing_that_a_plan_says_becomes_an_element_or_an_attribute(named: tuple[str, ...]) -> None:
    title, one, other, first, second = named
    html = handed(plan(f'"{title}"', f'"{one}"', f'"{other}"', first, second))
    found = tree(html)
    tame = tree(handed(plan()))
    texts = {"text", "g"}  # letters that cannot stand together have texts of their own
    assert [one for one in shape(found) if one[0] not in texts] == [one for one in shape(tame) if one[0] not in texts]
    assert {name for name, _ in shape(found)} == {name for name, _ in shape(tame)}
    assert text_of(next(every(found, "h1"))) == title
    assert text_of(next(every(found, "title"))) == title


def test_a_title_that_would_turn_the_line_round_is_shown_and_not_obeyed() -> None:
    html = handed(replace(plan(), title="Quay\u202eyauQ\u2028\x1b[31m"))
    assert not re.search("[\u202e\u2028\x1b]", html)
    assert text_of(next(every(tree(html), "h1"))) == "Quay<202E>yauQ<2028><001B>[31m"


def test_names_written_from_right_to_left_keep_to_themselves_in_every_sentence() -> None:
    root = tree(handed(plan(one='"חול"', other='"לבנה"')))
    apart = {text_of(one) for one in every(root, "bdi")}
    assert {"חול", "לבנה"} <= apart
    for bdi in list(every(root, "bdi")):
        bdi.text = ""
    left = "".join(next(every(root, "main")).itertext())
    assert not re.search("[\u0590-\u05ff]", left)


@pytest.mark.parametrize("demo", DEMOS)
def test_the_page_of_every_demo_is_sound_html_that_fetches_nothing_and_runs_nothing(demo: str) -> None:
    root = tree(handed(read_plan(demo).piece))
    names = {name_of(one) for one in root.iter()}
    assert not names & {"script", "link", "iframe", "object", "embed", "image", "use", "foreignObject", "base"}
    for one in root.iter():
        for attribute, value in one.items():
            assert not attribute.startswith("on")
            assert attribute != "style"
            assert attribute not in ("src", "href") or value.startswith("data:image/png;base64,")
    assert "url(" not in text_of(next(every(root, "style")))
    assert "@import" not in text_of(next(every(root, "style")))


def test_the_page_allows_itself_its_own_style_and_nothing_else() -> None:
    root = tree(handed(plan()))
    style = next(every(root, "style")).text or ""
    allowed = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    [policy] = [one.get("content") for one in every(root, "meta") if one.get("http-equiv")]
    assert policy == f"default-src 'none'; img-src data:; style-src 'sha256-{allowed}'"


@pytest.mark.parametrize("parts", [ALL, ("chart",), ("rows", "chart"), ("back",), ("finishing",)])
def test_there_is_one_first_heading_and_none_is_left_out_below_another(parts: tuple[str, ...]) -> None:
    root = tree(handed(read_plan("swatch").piece, *parts))
    levels = [int(name[1]) for one in root.iter() if re.fullmatch("h[1-6]", name := name_of(one))]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_drawing_has_a_name_and_every_table_its_headings() -> None:
    root = tree(handed(read_plan("harbour-light-cushion").piece))
    for svg in every(root, "svg"):
        assert svg.get("role") == "img"
        assert svg.get("aria-label")
    for table in every(root, "table"):
        heads = [one for one in every(table, "th") if one.get("scope") == "col"]
        rows = list(every(next(every(table, "tbody")), "tr"))
        assert rows
        for row in rows:
            assert len(list(row)) == len(heads)
            assert [one.get("scope") for one in every(row, "th")] == ["row"]


@pytest.mark.parametrize("demo", DEMOS)
def test_the_rows_on_paper_are_word_for_word_those_that_are_printed(demo: str) -> None:
    piece = read_plan(demo).piece
    [boxes] = every(tree(handed(piece, "rows")), "ol", "boxes")
    strands = not_begun(piece).strands
    assert "".join(map(text_of, boxes)) == "".join(written.rows(piece, strands, 1, len(piece.rows), US))
    assert len(boxes) - len(piece.rows) == len(list(written.cast_on(piece, strands)))


def test_rows_are_told_in_the_terms_and_only_those_that_are_asked_for() -> None:
    root = tree(handed(read_plan("swatch").piece, "rows", terms=Terms("uk"), first=30, last=31))
    [boxes] = every(root, "ol", "boxes")
    assert [text_of(one).partition(":")[0] for one in boxes] == ["Row 31 (RS)", "Row 32 (WS)"]
    assert "Cast off in pattern in shell" in text_of(boxes)


def test_the_first_page_tells_what_is_needed_and_explains_only_abbreviations_that_are_used() -> None:
    root = tree(handed(read_plan("swatch").piece, "title"))
    said = text_of(next(every(root, "main")))
    assert "Size: 12.0 x 11.4 cm (4.7 x 4.5 in), 24 sts x 32 rows" in said
    assert "Gauge: 20 sts and 28 rows over 10 cm" in said
    # Craft Yarn Council, Standard Yarn Weight System: 16 to 20 stitches over 4 in are Medium, for 4.5 to 5.5 mm.
    assert "4.5 to 5.5 mm (US 7 to 9) for 4 Medium yarn" in said
    assert "shell (#f2e6cf): 13 m, 6.5 g: buy 1 ball of 100 m / 50 g" in said
    assert [text_of(one) for one in every(root, "dt")] == ["RS", "WS", "st", "sts", "k", "p"]
    shaped = tree(handed(read_plan("ferry-jumper-front").piece, "title"))
    found = {text_of(next(every(one, "dt"))): text_of(next(every(one, "dd"))) for one in every(shaped, "div")}
    assert found["ssk"] == "slip, slip, knit them together"
    assert "m1L" not in found


def test_cautions_for_babies_stand_there_for_babies_alone() -> None:
    usual = "Tired hands: stop at pain or tingling, take breaks, ask a professional when it stays."
    said = text_of(next(every(tree(handed(plan(), "title")), "main")))
    assert usual in said
    assert "safety rules" not in said
    baby = read(PLAN.format(title="Quay\nfor: baby", one="sand", other="brick", first="s", second="b")).piece
    said = text_of(next(every(tree(handed(baby, "title")), "main")))
    assert usual in said
    assert words.for_baby(US) in said
    assert "check your local safety rules" in said


def test_the_winding_list_has_every_strand_with_its_length() -> None:
    root = tree(handed(read_plan("swatch").piece, "winding"))
    rows = [[text_of(cell) for cell in row] for row in next(every(root, "tbody"))]
    # As the command for strands prints them: worked out in its own tests.
    assert [(row[1], row[5], row[6]) for row in rows] == [
        ("1-23", "8 m", "bobbin"), ("5-27", "6.5 m", "bobbin"), ("19-23", "90 cm", "loose, 27 wraps"),
        ("19-32", "5 m", "butterfly"), ("27", "50 cm", "loose, 9 wraps"), ("27-28", "90 cm", "loose, 27 wraps"),
    ]  # fmt: skip
    assert rows[2][7] == "row 19, the coral between shell and shell, second from the right"
    assert "rows 19 to 23: shell, coral, shell, tide" in text_of(root)


@pytest.mark.parametrize("demo", DEMOS)
def test_every_end_has_one_number_in_the_list_and_one_on_the_map(demo: str) -> None:
    piece = read_plan(demo).piece
    root = tree(handed(piece, "back"))
    ends = len(ends_of(not_begun(piece).strands))
    [listed] = every(root, "ol", "ends")
    assert len(list(listed)) == ends
    numbers = [int(text_of(one)) for one in every(root, "text", "number")]
    assert sorted(set(numbers)) == list(range(1, ends + 1))
    assert len(numbers) == ends or len(list(every(root, "svg", "map"))) > 1


def test_the_map_shows_ends_as_one_looks_at_the_wrong_side() -> None:
    root = tree(handed(charted("sssss", "sssbb", "sssss", more="").piece, "back"))
    [drawn] = every(root, "svg", "map")
    wide = max(
        float(x) + float(w) for one in every(drawn, "path")
        for x, w in re.findall(r"M([0-9.]+) [0-9.]+h([0-9.]+)", one.get("d", ""))
    )  # fmt: skip
    dots = [(float(one.get("cx", "")), float(one.get("cy", ""))) for one in every(drawn, "circle")]
    # Brick lies at the right edge on the right side, so at the left of the wrong side; row 2 of three rows is in the
    # middle. It is worked toward the right there: joined 2 stitches in, cut at the edge.
    height = 3 * wide / 5 * 20 / 28
    in_middle = sorted(x / wide for x, y in dots if abs(y - height / 2) < 0.1)
    assert in_middle == pytest.approx([0, 0.4], abs=0.01)


def test_too_many_ends_for_a_map_are_counted_and_told_where_to_look() -> None:
    piece = charted(*(["sb" * 60, "bs" * 60] * 6), more="carry: {reach: 0}\n").piece
    root = tree(handed(piece, "back"))
    assert "more than a map of the back has room for; rowside ends tells each." in text_of(root)
    assert not list(every(root, "svg", "map"))


def test_finishing_has_every_step_in_its_order_and_each_area_that_is_sewn_on_drawn() -> None:
    root = tree(handed(plan(), "finishing"))
    steps, area = every(root, "ol", "boxes")
    verbs = [text_of(one).split()[0] for one in steps]
    assert verbs == ["Bind", "Weave", "Sew", "Wash", "Trim"]
    assert "1 stitch of brick from row 3, stitch 1 from the right" in text_of(area)
    [drawn] = every(root, "svg", "area")
    letters = ["".join(one.itertext()) for one in every(next(every(drawn, "g", "letters")), "text")]
    assert letters == ["ssss", "bbsb", "sbbs", "ssss"]  # as the right side looks, three stitches round it


def test_crossing_is_drawn_for_both_sides_and_both_hands_in_the_words_of_the_row() -> None:
    root = tree(handed(plan(), "crossing"))
    figures = list(every(root, "figure"))
    assert [text_of(next(every(one, "h3"))) for one in figures] == [
        "Right-handed: right-side row", "Right-handed: wrong-side row",
        "Left-handed, worked mirrored: right-side row", "Left-handed, worked mirrored: wrong-side row",
    ]  # fmt: skip
    told = [text_of(next(every(one, "figcaption"))) for one in figures]
    assert told[0] == (
        "Cross the old strand before the new, at the back: lay the old to your left across the new, then take the "
        "new up from under it."
    )
    assert ["in front" in one for one in told] == [False, True, False, True]
    assert ["to your right" in one for one in told] == [False, False, True, True]
    # Strands lie behind the needles on right-side rows, above them as one looks down; for left hands left is right.
    turned = [re.findall(r"scale\((-?1) (-?1)\)", g.get("transform", "")) for f in figures for g in every(f, "g")]
    assert turned == [[one] for one in (("1", "-1"), ("1", "1"), ("-1", "-1"), ("-1", "1")) for _ in range(2)]


def test_where_a_piece_in_work_is_is_told_and_its_rows_are_ticked() -> None:
    session = not_begun(read_plan("swatch").piece).changed(row=4, done=1)
    html = "".join(page(HandOut(session, US, ("now", "rows", "chart"), now=["Row 5 of 32."])))
    root = tree(html)
    assert "Where the piece is nowRow 5 of 32." in text_of(root)
    [boxes] = every(root, "ol", "boxes")
    assert [one.get("class") for one in boxes] == ["done"] * 4 + ["to-do"] * 28
    marked = [text_of(one) for one in every(root, "text") if re.search("[◄►]", text_of(one))]
    assert marked == ["◄ 5"]


def test_why_gives_each_reason_once_for_the_steps_that_the_piece_has() -> None:
    told = [text_of(one) for one in every(tree(handed(plan(), "why", terms=Terms("uk"))), "p")]
    assert len(told) == len(set(told))
    heads = [one.partition(":")[0] for one in told]
    assert {"Cast on", "Cross", "Join", "Cut", "Cast off", "Sew in", "Sew on"} <= set(heads)
    assert not {"Divide", "Join half", "Go round"} & set(heads)


def test_what_the_plan_says_stands_above_its_row_and_has_no_box_of_its_own() -> None:
    piece = read_plan("swatch").piece
    html = "".join(page(HandOut(not_begun(piece).changed(row=4, done=1), US, ("rows",))))
    [boxes] = every(tree(html), "ol", "boxes")
    assert [one.get("class") for one in boxes] == ["done"] * 4 + ["to-do"] * 28
    said = [at for at, one in enumerate(boxes, 1) if text_of(one).startswith("The plan says: ")]
    assert said == [1, 5, 9, 12, 15, 19, 24, 26, 29]
    assert all(f"Row {at} (" in text_of(boxes[at - 1]) for at in said)
