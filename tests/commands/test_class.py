"""``rowside class``: what each student and all together need, and a hand-out each."""

from __future__ import annotations

import re
from pathlib import Path

import html5lib
import pytest
from the_program import run

from companion.progress.names import free_page_name

PLAN = """\
plan: 1
title: Quay square
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns: {sand: {colour: tan, ball: {metres: 40}}}
rows:
  - plain: {rows: 28, stitches: 20, yarn: sand}
"""

CLASS = """\
class: 1
title: Tuesday
plan: quay.yaml
students:
  - name: Alma
  - {name: Bero, gauge: {stitches: 25, rows: 35}}
  - {name: Cilla, gauge: {stitches: 16, rows: 22.4}}
  - {name: Dragan, hands: left}
  - {name: Edda, gauge: {stitches: 25, rows: 35}, units: in, terms: uk}
  - {name: Fenn, gauge: {stitches: 16, rows: 22.4}}
  - {name: Greta, yarns: {sand: {name: oat, colour: linen, ball: {metres: 13.25}}}}
  - name: Hessel
    gauge: {stitches: 25, rows: 35}
    yarns: {sand: {name: oat, colour: linen, ball: {metres: 13.25}}}
"""


def make(folder: Path, students: str = CLASS) -> Path:
    """A folder with a class and its plan."""
    (folder / "quay.yaml").write_text(PLAN, encoding="utf-8")
    (folder / "class.yaml").write_text(students, encoding="utf-8")
    return folder


def test_yarn_for_eight_is_the_sum_of_their_lengths_and_balls_are_rounded_up_once(tmp_path: Path) -> None:
    """By hand, with w the width of a stitch, which takes 4.1 w (``yarn/loops.py``): 20 stitches cast on take 4 w and
    a stitch each, 28 rows of 20 a stitch each, 20 bound off 5 w each: 162 w + 2296 w + 100 w = 2558 w. With a tenth
    to spare and two tails of 15 cm, rounded up to half metres:

    - 20 stitches to 10 cm, w = 0.5: 1279 cm, 1436.9 with spare and tails, 14.5 m;
    - 25 stitches, w = 0.4: 1023.2 cm, 1155.5, 12 m;
    - 16 stitches, w = 0.625: 1598.75 cm, 1788.6, 18 m.

    Of sand six students need 2 x (14.5 + 12 + 18) = 89 m, three balls of 40 m; a ball each would be six. Of oat two
    need 14.5 + 12 = 26.5 m, two balls of 13.25 m to the last centimetre; each for herself they would buy three. The
    square is 20 w wide, and 28 rows high: 10 cm, 8 cm or 12.5 cm each way.
    """
    ran = run(make(tmp_path), "class", "class.yaml")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out == (
        "Tuesday: Quay square, 8 students\n"
        "\n"
        "Name    Measures        Yarn    sand\n"
        "Alma    10.0 x 10.0 cm  14.5 m  14.5 m\n"
        "Bero    8.0 x 8.0 cm    12 m    12 m\n"
        "Cilla   12.5 x 12.5 cm  18 m    18 m\n"
        "Dragan  10.0 x 10.0 cm  14.5 m  14.5 m\n"
        "Edda    8.0 x 8.0 cm    12 m    12 m\n"
        "Fenn    12.5 x 12.5 cm  18 m    18 m\n"
        "Greta   10.0 x 10.0 cm  14.5 m  14.5 m oat\n"
        "Hessel  8.0 x 8.0 cm    12 m    12 m oat\n"
        "\n"
        "Yarn for all, spare included:\n"
        "  sand: 89 m: buy 3 balls of 40 m. For Alma, Bero, Cilla, Dragan, Edda and Fenn.\n"
        "  oat: 26.5 m: buy 2 balls of 13.2 m. For Greta and Hessel.\n"
        "\n"
        "To wind for all:\n"
        "  sand: 2 of 18 m, bobbin; 2 of 14.5 m, bobbin; 2 of 12 m, bobbin.\n"
        "  oat: 1 of 14.5 m, bobbin; 1 of 12 m, bobbin.\n"
    )


def test_the_same_as_json(tmp_path: Path) -> None:
    value = run(make(tmp_path), "class", "class.yaml", "--json").value
    assert [(one["name"], one["hands"], one["metres"], one["width_cm"]) for one in value["students"]][2:4] == [
        ("Cilla", "right", 18, 12.5), ("Dragan", "left", 14.5, 10),
    ]  # fmt: skip
    assert [(one["yarn"], one["metres"], one["balls"], len(one["students"])) for one in value["yarns"]] == [
        ("sand", 89, 3, 6), ("oat", 26.5, 2, 2),
    ]  # fmt: skip
    assert value["winding"][0] == {
        "yarn": "sand", "colour": "#d2b48c", "metres": 18, "wind": "bobbin", "both_ends": False, "lengths": 2,
    }  # fmt: skip


def test_a_table_without_room_tells_each_student_below_another_and_in_the_units_asked_for(tmp_path: Path) -> None:
    """Alma's 1436.9 cm are 15.7 yd, so 16 yd, and 25.4 of them are 10 cm: 3.9 in."""
    ran = run(make(tmp_path), "class", "class.yaml", "--units", "in", COLUMNS="30")
    assert ran.out.splitlines()[3:7] == ["Alma", "  Measures: 3.9 x 3.9 in", "  Yarn: 16 yd", "  sand: 16 yd"]


def test_yarns_of_one_name_in_two_colours_are_two_and_told_apart(tmp_path: Path) -> None:
    students = CLASS.replace("linen, ball: {metres: 13.25}}}}\n", "tan}}}\n", 1)
    out = run(make(tmp_path, students), "class", "class.yaml").out
    assert "  oat (#d2b48c): 14.5 m: buy 1 ball of 40 m. For Greta.\n" in out
    assert "  oat (#faf0e6): 12 m: buy 1 ball of 13.2 m. For Hessel.\n" in out
    assert "  oat (#faf0e6): 1 of 12 m, bobbin.\n" in out


def test_yarn_that_all_take_is_of_every_class_that_their_gauges_are_of(tmp_path: Path) -> None:
    """500 tex are 992 yards to the pound, which is Light; 22 stitches to 10 cm are Light, too, and 20 are Medium, the
    class beside it (``yarn/weights.py``)."""
    make(tmp_path, CLASS.partition("  -")[0] + "  - {name: Bero, gauge: {stitches: 22, rows: 30}}\n  - name: Alma\n")
    (tmp_path / "quay.yaml").write_text(PLAN.replace("metres: 40", "metres: 100, grams: 50"), encoding="utf-8")
    [line] = [line for line in run(tmp_path, "class", "class.yaml").out.splitlines() if "buy" in line]
    assert line.endswith(": buy 1 ball of 100 m / 50 g (500 tex, 3 Light or 4 Medium).")


def test_yarn_that_is_sold_otherwise_is_another_yarn(tmp_path: Path) -> None:
    out = run(make(tmp_path, CLASS.replace("13.25", "50", 1)), "class", "class.yaml").out
    assert ": 14.5 m: buy 1 ball of 50 m. For Greta.\n" in out
    assert ": 12 m: buy 1 ball of 13.2 m. For Hessel.\n" in out


def test_a_length_wound_from_both_ends_is_wound_once(tmp_path: Path) -> None:
    """Two bits of brick a stitch apart are begun in one row, from the two ends of one length. Each has 8 stitches of
    2.05 cm, 15 cm to spare and a tail of 15: 46.4 cm, measured off as 50."""
    make(tmp_path, CLASS.partition("  -")[0] + "  - name: Alma\n  - name: Bero\n")
    plan = PLAN.replace("{metres: 40}}}", "{metres: 40}}, brick: {colour: brown}}\ncarry: {share: true}")
    (tmp_path / "quay.yaml").write_text(f"{plan}  - {{chart: 8s 2b s 2b 7s, repeat: 4}}\n", encoding="utf-8")
    strands = run(tmp_path, "strands", "quay.yaml", "--json").value["strands"]
    halves = [one["metres"] for one in strands if one["shares_length_with"] is not None and one["yarn"] == "brick"]
    assert halves == [0.5, 0.5]
    wound = run(tmp_path, "class", "class.yaml", "--json").value["winding"]
    [brick] = [one for one in wound if one["yarn"] == "brick"]
    assert (brick["metres"], brick["lengths"], brick["both_ends"]) == (1, 2, True)
    assert "  brick: 2 of 1 m wound from both ends.\n" in run(tmp_path, "class", "class.yaml").out


def test_each_student_gets_a_hand_out_in_her_own_words_and_none_is_written_over(tmp_path: Path) -> None:
    few = (line for line in CLASS.splitlines(True)[:-3] if not re.search("Bero|Cilla|Dragan|Fenn", line))
    make(tmp_path, "".join(few))
    ran = run(tmp_path, "class", "class.yaml", "--hand-outs", "out/tuesday")
    assert (ran.code, ran.err) == (0, "out/tuesday has 3 hand-outs, to be printed from any browser.\n")
    assert ran.out.startswith("Tuesday: Quay square")
    folder = tmp_path / "out" / "tuesday"
    assert sorted(path.name for path in folder.iterdir()) == ["Alma.html", "Edda.html", "Greta.html"]
    edda, greta = ((folder / f"{name}.html").read_text(encoding="utf-8") for name in ("Edda", "Greta"))
    assert "Quay square: Edda" in edda
    assert "Tension: 25 sts" in edda
    assert "3.1 x 3.1 in" in edda
    assert "oat" in greta
    assert "sand" not in greta
    (folder / "Alma.html").write_text("mine", encoding="utf-8")
    (folder / "Edda.html").unlink()
    ran = run(tmp_path, "class", "class.yaml", "--hand-outs", "out/tuesday")
    assert (ran.code, ran.out) == (2, "")
    assert 'There is a file "out/tuesday/Alma.html" already.' in ran.err
    assert not (folder / "Edda.html").exists()
    assert run(tmp_path, "class", "class.yaml", "--hand-outs", "out/tuesday", "--force").code == 0
    assert "Quay square: Alma" in (folder / "Alma.html").read_text(encoding="utf-8")


def test_hostile_names_lead_out_of_no_folder_and_make_no_element(tmp_path: Path) -> None:
    names = ["../up", "<script>alert(1)</script>", "CON", "海辺", "海辺", "שרה", "alma", "Alma", "...", "A/B\\C:D"]
    lines = "".join(f"  - {{name: {name!r}}}\n" for name in names).replace("\\\\", "\\")
    make(tmp_path, CLASS.partition("  -")[0] + lines)
    ran = run(tmp_path, "class", "class.yaml", "--hand-outs", "out")
    assert ran.code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["class.yaml", "out", "quay.yaml"]
    assert sorted(path.stem for path in (tmp_path / "out").iterdir()) == [
        "A-B-C-D", "Alma-2", "alma", "script-alert-1-script", "student", "student-CON", "up", "שרה", "海辺", "海辺-2",
    ]  # fmt: skip
    for path in (tmp_path / "out").iterdir():
        page = html5lib.parse(path.read_bytes(), namespaceHTMLElements=False)
        assert page.find(".//script") is None
        assert page.findtext(".//title").startswith("Quay square: ")


def test_a_students_name_becomes_a_file_name_of_any_script() -> None:
    taken: list[str] = []
    for name in ("Åse Lund", "ÅSE LUND", "com¹", "\u0928\u093f\u0936\u093e", "/" * 9, "x" * 400):
        taken.append(free_page_name(name, taken))
    assert taken == [
        "Åse-Lund", "ÅSE-LUND-2", "student-com1", "\u0928\u093f\u0936\u093e", "student", "x" * 48,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["evening"], 'There is no file "evening" here, and no demo class of that name.\n'
                      '  Did you mean "evening-class"?\n'),
        (["gone.yaml"], 'gone.yaml  The file "gone.yaml" is not there.\n'),
        (["class.yaml", "--hand-outs", "quay.yaml"], '"quay.yaml" is no folder.\n'
                                                     "  Name one that is there, or a new one.\n"),
    ],
)  # fmt: skip
def test_what_is_given_wrong_is_told(words: list[str], told: str, tmp_path: Path) -> None:
    ran = run(make(tmp_path), "class", *words)
    assert (ran.code, ran.out, ran.err) == (2, "", told)


def test_what_is_wrong_with_anybodys_piece_is_told_and_nothing_is_written(tmp_path: Path) -> None:
    students = CLASS.replace("{name: Bero,", "{name: Bero, yarns: {sea: {name: mist}},")
    ran = run(make(tmp_path, students), "class", "class.yaml", "--hand-outs", "out")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith('class.yaml:6:26  Bero: The plan has no yarn "sea".\n')
    assert not (tmp_path / "out").exists()


def test_check_of_a_class_says_what_it_is(tmp_path: Path) -> None:
    ran = run(make(tmp_path), "check", "class.yaml")
    assert ran.code == 2
    assert ran.err.startswith("class.yaml:3:7  This is a class, and no plan.\n")


def test_the_demo_class_is_called_by_name(tmp_path: Path) -> None:
    ran = run(tmp_path, "class", "evening-class")
    assert (ran.code, ran.err) == (0, "")
    assert ran.out.startswith("Evening class at the harbour: Harbour practice swatch, 8 students\n")


def test_a_demo_class_is_copied_to_be_changed(tmp_path: Path) -> None:
    ran = run(tmp_path, "copy", "evening-class", "tuesday.yaml")
    assert (ran.code, ran.out) == (0, "")
    assert ran.err == (
        "tuesday.yaml is yours to change. To see what its students need: rowside class tuesday.yaml\n"
    )
    assert run(tmp_path, "class", "tuesday.yaml").out == run(tmp_path, "class", "evening-class").out
