"""A class file: the plan read anew for each student, and everything that is wrong told at once, with whose it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from companion.knitting.hands.joins_and_cuts import casting_on
from companion.plan.classes import KnittingClass, load_class
from companion.plan.demo import demo_classes
from companion.problems import Problems, show

PLAN = """\
plan: 1
title: Mole head
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns:
  sand: {colour: tan, ball: {metres: 120, grams: 50}}
  brick: {colour: brown}
sample: {stitches: 20, yarn: 38 cm}
rows:
  - plain: {height: 10 cm, stitches: 12, yarn: sand}
  - chart: |
      3s 9b
      6s 6b
"""
"""Its symbols go without saying, the yarns' first letters. Brick shifts three stitches from one row to the next."""

HEAD = "class: 1\ntitle: Tuesday\nplan: mole.yaml\nstudents:\n"


def read(folder: Path, students: str, plan: str = PLAN) -> KnittingClass:
    """A class of these students, with the plan in a file beside it."""
    (folder / "mole.yaml").write_text(plan, encoding="utf-8")
    (folder / "class.yaml").write_text(HEAD + students, encoding="utf-8")
    return load_class(folder / "class.yaml")


def told(folder: Path, text: str) -> str:
    """All that is said of the text of a class, in a folder with the plan."""
    (folder / "mole.yaml").write_text(PLAN, encoding="utf-8")
    (folder / "class.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(Problems) as found:
        load_class(folder / "class.yaml")
    return "\n".join(show(problem) for problem in found.value.problems).replace(f"{folder}/", "")


def test_reach_and_rows_follow_each_students_gauge(tmp_path: Path) -> None:
    """Reach is 2.5 cm in stitches, rounded down, 3 at most: 5, so 3, at 20 stitches to 10 cm; 2.5, so 2, at 10. 10 cm
    are 28 rows, or 14. Row 29, or 15, is worked from the right: six brick, joined, and six sand, joined too, since
    sand hangs at the right edge. The next one begins with the sand that hangs there; brick hangs after column 6 and
    is wanted from column 9: one strand where three stitches may be passed, and two otherwise."""
    alma, bero = read(tmp_path, "  - name: Alma\n  - name: Bero\n    gauge: {stitches: 10, rows: 14}\n").students
    assert (alma.name, alma.piece.carry.reach, len(alma.piece.rows), len(alma.strands.first)) == ("Alma", 3, 30, 3)
    assert (bero.name, bero.piece.carry.reach, len(bero.piece.rows), len(bero.strands.first)) == ("Bero", 2, 16, 4)


def test_a_sample_of_yarn_holds_at_the_gauge_it_was_knitted_at(tmp_path: Path) -> None:
    students = (
        "  - name: Alma\n"
        "  - {name: Bero, tension: {stitches: 22, rows: 30}}\n"
        "  - {name: Cilla, gauge: {stitches: 22, rows: 30}, sample: {stitches: 10, yarn: 17 cm}}\n"
    )
    samples = [student.piece.sample for student in read(tmp_path, students).students]
    assert [sample and sample.loop_cm * 10 for sample in samples] == [19, None, 17]


def test_a_student_has_what_she_says_of_a_yarn_and_the_rest_as_the_plan_has_it(tmp_path: Path) -> None:
    students = (
        "  - name: Alma\n"
        "    yarns: {sand: {color: linen}, brick: {name: rust, ball: {yards: 100, ounces: 4}}}\n"
        "    terms: uk\n    units: in\n    hands: left\n"
    )
    [alma] = read(tmp_path, students).students
    sand, rust = alma.piece.yarns
    assert (sand.name, sand.colour, sand.ball.metres, sand.symbol) == ("sand", "#faf0e6", 120, "s")
    assert (rust.name, rust.colour, rust.symbol) == ("rust", "#a52a2a", "b")
    assert float(rust.ball.metres or 0) == 91.44
    assert (alma.piece.dialect, alma.piece.units, alma.piece.is_mirrored) == ("uk", "in", True)
    us = "  - {name: Alma, terms: us, units: cm}\n  - name: Bero\n"
    both = read(tmp_path, us, f"{PLAN}terms: uk\nunits: in\n").students
    assert [(one.piece.dialect, one.piece.units) for one in both] == [("us", "cm"), ("uk", "in")]
    assert {segment.yarn for row in alma.strands.rows for segment in row.segments} == {"sand", "rust"}


def test_yarns_may_change_names_and_every_stitch_goes_with_them(tmp_path: Path) -> None:
    sewn = "cast_on: {yarn: brick}\nsymbols: {s: sand, b: brick, k: {yarn: sand, sewn: brick}}\nrows:\n"
    plan = PLAN.replace("rows:\n", sewn).replace("3s 9b", "k 2s 9b")
    students = "  - name: Alma\n  - {name: Bero, yarns: {sand: {name: brick}, brick: {name: sand}}}\n"
    alma, bero = read(tmp_path, students, plan).students
    other = {"sand": "brick", "brick": "sand", "": ""}
    for one, turned in zip(alma.piece.fabric.rows, bero.piece.fabric.rows, strict=True):
        stitches = [(run.columns, other[run.stitch.yarn], other[run.stitch.sewn]) for run in one.runs if run.stitch]
        assert [(r.columns, r.stitch.yarn, r.stitch.sewn) for r in turned.runs if r.stitch] == stitches
    assert casting_on(alma.strands)[0].yarn == "brick"
    assert casting_on(bero.strands)[0].yarn == "sand"


def test_what_the_plan_says_of_a_yarn_is_said_of_hers(tmp_path: Path) -> None:
    says = "Sand first, then brick. Sandbanks stay, and so does brick-red."
    plan = PLAN.replace("rows:\n", f"rows:\n  - says: {says}\n    plain: {{rows: 2, stitches: 12, yarn: sand}}\n")
    students = "  - name: Alma\n  - {name: Bero, yarns: {sand: {name: brick}, brick: {name: rust (old)}}}\n"
    alma, bero = read(tmp_path, students, plan).students
    assert alma.piece.said == {0: says}
    assert bero.piece.said == {0: "Brick first, then rust (old). Sandbanks stay, and so does rust (old)-red."}


def test_what_only_some_are_warned_of_is_told_with_their_names(tmp_path: Path) -> None:
    students = (
        "  - name: Alma\n"
        "  - name: Bero\n    gauge: {stitches: 20, rows: 20}\n"
        "  - name: Cilla\n    gauge: {stitches: 20, rows: 20}\n"
    )
    plan = PLAN.replace("sample: {stitches: 20, yarn: 38 cm}\n", "  pine: {colour: green}\n")
    warnings = read(tmp_path, students, plan).warnings
    assert [(Path(one.file).name, one.line, one.what.partition(" has")[0]) for one in warnings] == [
        ("mole.yaml", 7, 'The yarn "pine" is not used.'), ("class.yaml", 7, 'Bero: "gauge"'),
        ("class.yaml", 9, 'Cilla: "gauge"'),
    ]  # fmt: skip
    assert all(one.is_warning for one in warnings)


def test_what_is_true_of_the_plan_as_it_is_stands_at_its_own_line(tmp_path: Path) -> None:
    plan = PLAN.replace("sample: {stitches: 20, yarn: 38 cm}\n", "").replace("rows: 28", "rows: 20")
    [warning] = read(tmp_path, "  - name: Alma\n  - name: Bero\n", plan).warnings
    assert (Path(warning.file).name, warning.line, warning.what[:12]) == ("mole.yaml", 3, '"gauge" has ')


def test_a_piece_that_cannot_be_worked_mirrored_is_told_where_her_hands_are(tmp_path: Path) -> None:
    """Mirrored, row 2 begins at the right edge and loses three stitches at its left one, where it ends."""
    plan = PLAN.partition("rows:\n")[0] + "rows:\n  - chart: |\n      12s\n      3. 9s\n      6s 6b\n"
    with pytest.raises(Problems) as found:
        read(tmp_path, "  - name: Alma\n  - name: Bero\n    hands: left\n", plan)
    [problem] = found.value.problems
    assert (Path(problem.file).name, problem.line, problem.mend) == ("class.yaml", 7, "Write hands: right")
    assert problem.what == "Bero: Worked mirrored, row 2 loses 3 stitches at its end, where none can be bound off."


def test_limits_that_are_too_wide_for_all_are_told_once(tmp_path: Path) -> None:
    rows = "carry: {behind: 4000}\nrows: [{chart: 1s 1b, across: 2000, repeat: 10}]\n"
    wide = PLAN.partition("rows:\n")[0] + rows
    with pytest.raises(Problems) as found:
        read(tmp_path, "  - name: Alma\n  - name: Bero\n", wide)
    [problem] = found.value.problems
    assert (problem.line, problem.what.partition(" for ")[0]) == (3, "Under these limits there are too many ways")


def test_what_is_wrong_in_a_class_of_one_is_told_with_her_name(tmp_path: Path) -> None:
    with pytest.raises(Problems, match="Alma: The plan has no yarn"):
        read(tmp_path, "  - {name: Alma, yarns: {sea: {}}}\n")


def test_what_is_wrong_with_any_students_piece_is_told_at_once(tmp_path: Path) -> None:
    """At the gauge of Bero and Cilla 10 cm are 1,399,900 rows of 12 stitches."""
    text = HEAD + (
        "  - name: Alma\n"
        "    yarns: {snad: {name: oat}, brick: {name: sand}}\n"
        "  - name: Bero\n"
        "    gauge: {stitches: 9999, rows: 13999, over: 1 mm}\n"
        "  - name: Cilla\n"
        "    gauge: {stitches: 9999, rows: 13999, over: 1 mm}\n"
        "    yarns: {pine: {}}\n"
    )
    assert told(tmp_path, text) == (
        'class.yaml:6:13  Alma: The plan has no yarn "snad".\n'
        "    6 |     yarns: {snad: {name: oat}, brick: {name: sand}}\n"
        "      |             ^\n"
        '  Did you mean "sand"?\n'
        'class.yaml:6:46  Alma: Two yarns of one student would be called "sand".\n'
        "    6 |     yarns: {snad: {name: oat}, brick: {name: sand}}\n"
        "      |                                              ^\n"
        "  Call one of them otherwise.\n"
        'class.yaml:11:13  Cilla: The plan has no yarn "pine".\n'
        "   11 |     yarns: {pine: {}}\n"
        "      |             ^\n"
        "  Yarns of the plan: sand, brick.\n"
        "mole.yaml:9:5  Bero and Cilla: With this section the piece has 16,798,800 stitches; it may have 4,000,000.\n"
        "    9 |   - plain: {height: 10 cm, stitches: 12, yarn: sand}\n"
        "      |     ^"
    )


WRONG = {
    "": "class.yaml  The file is empty.\n  A class begins with the line: class: 1",
    "just text": (
        'class.yaml:1:1  The class is told key by key, and is "just text".\n    1 | just text\n      | ^\n'
        "  A class begins with the line: class: 1"
    ),
    "class: 1\ntitle: Tuesday\n": (
        'class.yaml  The class has no "plan".\n'
        "  Add a line with the name of a demo plan or of a file beside this one: plan: swatch\n"
        'class.yaml  The class has no "students".\n'
        '  Add "students:" and below it a line for each, such as: - name: Alma'
    ),
    "class: 2\ntitel: Tuesday\nplan: swatch\nstudents: [{name: Alma}]\n": (
        'class.yaml:1:8  "class" must be 1, and is "2".\n    1 | class: 2\n      |        ^\n'
        'class.yaml:2:1  The key "titel" is not known here.\n    2 | titel: Tuesday\n      | ^\n'
        '  Did you mean "title"?'
    ),
    "class: 1\ntitle: Tuesday\nplan: swatch\nstudents: []\n": (
        'class.yaml:4:1  "students" needs one student at least, and may have 100.\n    4 | students: []\n      | ^'
    ),
    "class: 1\ntitle: Tuesday\nplan: swatch\nstudents:\n  name: Alma\n": (
        'class.yaml:4:1  "students" must be a list.\n    4 | students:\n      | ^\n'
        '  Each student has a line that begins with "- name:".'
    ),
    HEAD + "  - Alma\n": (
        'class.yaml:5:5  This student is told key by key, and is "Alma".\n    5 |   - Alma\n      |     ^\n'
        "  Keys that can stand here: name, gauge, sample, yarns, size, hands, terms, units."
    ),
    HEAD + "  - hands: lefty\n    yarns: {sand: brown}\n    gauge: 22\n": (
        'class.yaml:5:5  "name" is missing in this student.\n    5 |   - hands: lefty\n      |     ^\n'
        'class.yaml:5:12  "hands" must be right or left, and is "lefty".\n    5 |   - hands: lefty\n'
        '      |            ^\n  Did you mean "left"?\n'
        'class.yaml:6:19  "sand" is told key by key, and is "brown".\n    6 |     yarns: {sand: brown}\n'
        "      |                   ^\n  Keys that can stand here: name, colour, ball.\n"
        'class.yaml:7:12  "gauge" is told key by key, and is "22".\n    7 |     gauge: 22\n      |            ^\n'
        "  Write it like this: gauge: {stitches: 22, rows: 28, over: 10 cm}"
    ),
    HEAD.replace("mole.yaml", "swach") + "  - name: Alma\n": (
        'class.yaml:3:7  There is no file "swach" beside this one, and no demo plan of that name.\n'
        '    3 | plan: swach\n      |       ^\n  Did you mean "swatch"?'
    ),
    HEAD.replace("mole.yaml", "gone.yaml") + "  - name: Alma\n": (
        'class.yaml:3:7  The file "gone.yaml" is not there.\n    3 | plan: gone.yaml\n      |       ^'
    ),
    HEAD.replace("mole.yaml", "../mole.yaml") + "  - name: Alma\n": (
        'class.yaml:3:7  "plan" must name a plan in the folder of this file, or a demo plan, and is "../mole.yaml".\n'
        "    3 | plan: ../mole.yaml\n      |       ^\n"
        "  Put the plan beside this file and write its name alone, such as my-mat.yaml"
    ),
    PLAN: (
        "class.yaml:8:1  This is a plan, and no class: it has no students.\n    8 | rows:\n      | ^\n"
        "  rowside check tells what is in it."
    ),
    HEAD + "  - name: Alma\n    name: Bero\n": (
        'class.yaml:6:5  The key "name" stands here a second time; the first is on line 5.\n'
        "    6 |     name: Bero\n      |     ^\n  Keep one of the two."
    ),
}  # fmt: skip


@pytest.mark.parametrize("text", WRONG)
def test_what_is_wrong_with_a_class_file_is_told_where_it_stands(text: str, tmp_path: Path) -> None:
    assert told(tmp_path, text) == WRONG[text]


def test_a_plan_that_is_wrong_is_told_once_and_not_for_every_student(tmp_path: Path) -> None:
    with pytest.raises(Problems) as found:
        read(tmp_path, "  - name: Alma\n  - name: Bero\n", PLAN.replace("9b", "9x"))
    [problem] = found.value.problems
    assert (Path(problem.file).name, problem.line) == ("mole.yaml", 11)
    assert problem.what.startswith("Row 2")


def test_a_plan_beside_it_goes_before_a_demo_plan_of_its_name(tmp_path: Path) -> None:
    (tmp_path / "swatch").write_text(PLAN, encoding="utf-8")
    (tmp_path / "class.yaml").write_text(HEAD.replace("mole.yaml", "swatch") + "  - name: Alma\n", encoding="utf-8")
    assert load_class(tmp_path / "class.yaml").piece.title == "Mole head"


def test_a_plan_is_not_read_through_a_link_out_of_the_folder(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    (tmp_path / "mole.yaml").write_text(PLAN, encoding="utf-8")
    (inner / "mole.yaml").symlink_to(tmp_path / "mole.yaml")
    (inner / "class.yaml").write_text(HEAD + "  - name: Alma\n", encoding="utf-8")
    with pytest.raises(Problems) as found:
        load_class(inner / "class.yaml")
    [problem] = found.value.problems
    assert (problem.line, problem.what) == (3, '"mole.yaml" leads out of the plan\'s folder.')


@pytest.mark.parametrize("path", demo_classes(), ids=lambda path: path.stem)
def test_a_demo_class_has_eight_students_and_nothing_to_mend(path: Path) -> None:
    found = load_class(path)
    assert (len(found.students), found.warnings) == (8, ())
