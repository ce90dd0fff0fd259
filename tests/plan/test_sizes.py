"""A plan in sizes is in each of them the plan that is written out by hand with the numbers of that size alone."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.plan.nodes import sound_tree
from companion.plan.read import Loaded, load_text
from companion.plan.sizes import in_size, sizes_of, told_together
from companion.plan.source import Found, Source
from companion.problems import Problem, Problems, show
from tests.plan.plans import HEAD, looks

NAMES = ("S", "M", "L")
TOP = HEAD.replace("title: Quay\n", "title: Quay\nsizes: [S, M, L]\n")
"""Ten lines; the sizes stand in line 3."""

BOAT = "..b.\n.bb.\nbbbb\n"


def read(rows: str, size: str = "", files: Mapping[str, str] | None = None) -> Loaded:
    """A plan in three sizes with these sections, in one of them."""
    return load_text(f"{TOP}rows:\n{rows}", "quay.yaml", files or {}, size=size)


def told(text: str, size: str = "S") -> list[str]:
    """Everything that is wrong with a plan's text in a size."""
    with pytest.raises(Problems) as found:
        load_text(text, "quay.yaml", {"boat.txt": BOAT}, size=size)
    return [show(one) for one in found.value.problems if not one.is_warning]


numbers = st.tuples(*[st.integers(1, 9)] * 3)


@st.composite
def sized_plans(draw: st.DrawFn) -> tuple[str, list[tuple[int, ...]]]:
    """A plan with a hole {} for each number that has sizes, and the numbers. Widths fit in every size: the ground of
    each section is what its own sides leave."""
    wide = draw(st.tuples(*[st.integers(14, 30)] * 3))
    side = draw(st.tuples(*[st.integers(1, 3)] * 3))
    ground = tuple(all_ - 2 * one - 4 for all_, one in zip(wide, side, strict=True))
    first = draw(st.sampled_from(["{{rows: {}, stitches: {}, yarn: sand}}", "\n      rows: {}\n      stitches: '{}'\n"
                                  "      yarn: sand"]))  # fmt: skip
    said = f"  - plain: {first}\n    repeat: {{}}\n"
    chart = "  - chart: |\n      {}s 4b\n      ssb ssb {}s\n"
    chart += "    edges: {{stitches: {}, yarn: brick}}\n    says: Now {}.\n"
    field = "  - field: {{height: {} cm, yarn: sand}}\n    motifs: [{{from: boat.txt, right: {}, bottom: {}}}]\n"
    less = tuple(one - 2 for one in ground)
    high = draw(st.tuples(*[st.integers(3, 6)] * 3))
    right, bottom, many, rows = draw(numbers), draw(st.tuples(*[st.integers(0, 5)] * 3)), draw(numbers), draw(numbers)
    return said + chart + field, [rows, wide, many, ground, less, side, wide, high, right, bottom]


def by_hand(text: str, numbers: list[tuple[int, ...]], at: int) -> str:
    """The plan with one size's numbers."""
    return HEAD + "rows:\n" + text.format(*(each[at] for each in numbers))


@settings(max_examples=15)
@given(sized_plans(), st.sampled_from(["{} ({}, {})", "{}({},{})", "{} ( {} , {} )"]))
def test_each_size_has_the_rows_of_the_plan_written_out_by_hand(
    plan: tuple[str, list[tuple[int, ...]]], form: str
) -> None:
    text, numbers = plan
    lists = text.format(*(form.format(*each) for each in numbers))
    for at, size in enumerate(NAMES):
        alone = load_text(by_hand(text, numbers, at), "quay.yaml", {"boat.txt": BOAT}).piece
        sized = read(lists, size, {"boat.txt": BOAT})
        assert sized.piece.fabric == alone.fabric
        assert sized.piece.said == alone.said
        assert sized.piece.title == f"Quay, size {size}"


def test_a_plan_of_one_size_is_what_it_was() -> None:
    loaded = load_text(f"{HEAD}rows:\n  - plain: {{rows: 2, stitches: 8, yarn: sand}}\n", "quay.yaml", {})
    assert (loaded.piece.title, loaded.size, loaded.sizes) == ("Quay", "", ())
    assert not [one for one in loaded.warnings if "size" in one.what]


PLAIN = "  - plain: {rows: 2, stitches: 8 (10, 12), yarn: sand}\n"


def test_without_a_size_it_is_the_first_and_that_is_said() -> None:
    loaded = read(PLAIN)
    assert (loaded.size, loaded.sizes, loaded.piece.fabric.columns) == ("S", NAMES, 8)
    assert [show(one) for one in loaded.warnings if "size" in one.what] == [
        "quay.yaml:3:1  Warning: This plan is in 3 sizes: S, M and L. Here it is in the first, S.\n"
        "    3 | sizes: [S, M, L]\n      | ^\n  Another one: --size M"
    ]
    assert not [one for one in read(PLAIN, "m").warnings if "size" in one.what]
    assert read(PLAIN, "m").size == "M"


WRONG = {
    "  - plain: {rows: 2, stitches: 8 (10, 12, 14), yarn: sand}\n": (
        "quay.yaml:12:32  Here are 4 numbers, and there are 3 sizes: S, M and L.\n"
        "   12 |   - plain: {rows: 2, stitches: 8 (10, 12, 14), yarn: sand}\n"
        "      |                                ^\n"
        "  Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"
    ),
    "  - plain: {rows: 2, stitches: 8 (10), yarn: sand}\n": (
        "quay.yaml:12:32  Here are 2 numbers, and there are 3 sizes: S, M and L.\n"
        "   12 |   - plain: {rows: 2, stitches: 8 (10), yarn: sand}\n"
        "      |                                ^\n"
        "  Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"
    ),
    "  - plain:\n      rows: 2\n      stitches: 8 (10, twelve)\n      yarn: sand\n": (
        'quay.yaml:14:17  The list of sizes "8 (10, twelve)" is not one that can be read.\n'
        "   14 |       stitches: 8 (10, twelve)\n"
        "      |                 ^\n"
        "  Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"
    ),
    "  - plain:\n      rows: 2\n      stitches: 8 (10,\n      yarn: sand\n": (
        'quay.yaml:14:17  The list of sizes "8 (10," is not one that can be read.\n'
        "   14 |       stitches: 8 (10,\n"
        "      |                 ^\n"
        "  Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"
    ),
    "  - chart: |\n      8s\n      6 (8)s 2b\n": (
        "quay.yaml:14:7  Here are 2 numbers, and there are 3 sizes: S, M and L.\n"
        "   14 |       6 (8)s 2b\n"
        "      |       ^\n"
        "  Write the first size's number, and the others in brackets: 60 (66, 72) or 10 (11, 12) cm"
    ),
    "  - plain: {rows: 2, stitches: 0 (10, 12), yarn: sand}\n": (
        'quay.yaml:12:32  "stitches" must be a whole number from 1 up, and is "0".\n'
        "   12 |   - plain: {rows: 2, stitches: 0 (10, 12), yarn: sand}\n"
        "      |                                ^"
    ),
    "  - plain: {rows: 2, stitches: 99999999999 (10, 12), yarn: sand}\n": (
        'quay.yaml:12:32  "stitches" must be 4,000,000 at most, and is "99999999999".\n'
        "   12 |   - plain: {rows: 2, stitches: 99999999999 (10, 12), yarn: sand}\n"
        "      |                                ^"
    ),
}


@pytest.mark.parametrize("rows", WRONG)
def test_a_list_that_is_amiss_is_told_once_and_where_it_stands(rows: str) -> None:
    assert told(f"{TOP}rows:\n{rows}") == [WRONG[rows]]


TORN = {
    "stitches: 60 (66, 72": "60 (66, 72", "stitches: 60 (66,\n      72)": "60 (66, 72)",
    "stitches: [60, 66, 72]": "[60, 66, 72]", "stitches: 60/66/72": "60/66/72", "stitches: 60; 66": "60; 66",
    "stitches: 60 (66; 72)": "60 (66; 72)", "stitches: 60, 66, 72": "60, 66, 72",
    "stitches: (60, 66, 72)": "(60, 66, 72)", "stitches: 60 (66 72)": "60 (66 72)",
    "stitches: 10, height: 10 cm (11 cm, 12 cm)": "10 cm (11 cm, 12 cm)",
    "stitches: 10, height: 10 cm (11, 12)": "10 cm (11, 12)",
}  # fmt: skip
"""What is written in braces for the sizes, and what is told of it."""


@pytest.mark.parametrize("typed", TORN)
def test_a_list_that_braces_tear_apart_is_told_as_one(typed: str) -> None:
    [problem] = told(f"{TOP}rows:\n  - plain: {{rows: 6, {typed}, yarn: sand}}\n", "M")
    assert problem.splitlines()[0].endswith(f'  The list of sizes "{TORN[typed]}" is not one that can be read.')
    assert problem.startswith(f"quay.yaml:12:{44 if 'height' in typed else 32}")


def test_another_slip_in_the_line_is_told_with_the_whole_list() -> None:
    [problem] = told(f"{TOP}rows:\n  - plain: {{rows: 6 stitches: 60 (66, 72), yarn: sand}}\n", "M")
    assert problem.endswith("  Write rows: 6, stitches: 60 (66, 72)")
    assert "\n   12 |   - plain: {rows: 6 stitches: 60 (66, 72), yarn: sand}\n" in problem


def test_keys_that_are_no_rest_of_a_list_are_told_as_ever() -> None:
    text = f"{TOP}rows:\n  - plain: {{rows: 6, yarn: sand, stitches: 12, 7: sand}}\n"
    [problem] = told(text)
    assert problem.startswith("quay.yaml:12:48  ")
    assert "list of sizes" not in problem


def test_of_a_list_that_is_too_long_the_size_has_its_own_number_so_that_nothing_else_is_told() -> None:
    rows = "  - plain: {rows: 2, stitches: 8 (10, 12, 14), yarn: sand}\n"
    assert len(told(f"{TOP}rows:\n{rows}{PLAIN}", "L")) == 1


def test_what_stands_beside_a_list_in_a_chart_is_told_at_its_own_place() -> None:
    [problem] = told(f"{TOP}rows:\n  - chart: |\n      8 (9, 10)s 2b\n      8 (9, 10)s bx\n", "L")
    assert "      8 (9, 10)s bx\n      |                   ^" in problem
    [problem] = told(f"{TOP}rows:\n  - chart: |\n      bx 8 (9, 10)s\n      bs 8 (9, 10)s\n", "L")
    assert "      bx 8 (9, 10)s\n      |        ^" in problem


SIZES = {
    "sizes: S": '3:1  "sizes" must be a list of the names of sizes.',
    "sizes: [[S], M]": '3:1  "sizes" must be a list of the names of sizes.',
    "sizes: []": '3:1  "sizes" names 2 sizes at least, and 20 at most.',
    "sizes: [M]": '3:1  "sizes" names 2 sizes at least, and 20 at most.',
    f"sizes: [{', '.join(map(str, range(21)))}]": '3:1  "sizes" names 2 sizes at least, and 20 at most.',
    "sizes: [S, M, s]": '3:15  The size "s" stands here a second time.',
    "sizes: [S, '']": '3:12  The size "" is empty.',
    f"sizes: [S, {'x' * 21}]": f'3:12  The size "{"x" * 21}" must be 20 characters long at most.',
}


@pytest.mark.parametrize("line", SIZES)
def test_names_of_sizes_that_are_amiss_are_told(line: str) -> None:
    text = f"{TOP.replace('sizes: [S, M, L]', line)}rows:\n{PLAIN}"
    assert [one.splitlines()[0].removeprefix("quay.yaml:") for one in told(text)] == [SIZES[line]]
    assert sizes_of(text) == ()


def test_a_size_that_the_plan_has_not_is_told_with_those_it_has() -> None:
    assert told(f"{TOP}rows:\n{PLAIN}", "XL") == [
        'quay.yaml:3:1  The plan has no size "XL".\n    3 | sizes: [S, M, L]\n      | ^\n'
        "  Sizes of this plan: S, M, L."
    ]
    one = f"{HEAD}rows:\n  - plain: {{rows: 2, stitches: 8, yarn: sand}}\n"
    assert told(one, "M") == ['quay.yaml  This plan is of one size, and "M" is asked for.']


def test_a_list_without_sizes_says_what_is_missing() -> None:
    [problem] = told(f"{HEAD}rows:\n{PLAIN}", "")
    assert problem.endswith("needs a line that names them, sizes: [S, M, L]; a gauge and a yarn have one for all.")


def test_lists_stand_in_lines_of_shaping_too() -> None:
    text = f"{TOP}rows:\n  - plain: {{rows: 9, stitches: 8, yarn: sand}}\n    shape:\n" + (
        "      - bind off 3 (4, 5) at the beginning of the next 2 rows\n      - work 4 (6, 8) rows even (2 times)\n"
    )
    source, found = Source("quay.yaml", text), Found()
    root = in_size(sound_tree(source), "L", source, found).root
    assert [one.value for one in root.entries["rows"].value.items[0].entries["shape"].value.items] == [
        "bind off 5 at the beginning of the next 2 rows", "work 8 rows even (2 times)",
    ]
    assert found.warnings == ()


def test_a_piece_shaped_in_words_has_each_sizes_own_outline() -> None:
    rows = (
        "  - plain: {{rows: 2, stitches: {1}, yarn: sand}}\n  - plain: {{rows: {0}, yarn: sand}}\n    shape:\n"
        "      - bind off {2} at the beginning of the next 2 rows\n      - dec 1 each end every RS row {3} times\n"
    )
    numbers = [(12, 14, 16), (40, 44, 48), (3, 4, 5), (2, 3, 4)]
    lists = rows.format(*("{} ({}, {})".format(*each) for each in numbers))
    for at, size in enumerate(NAMES):
        alone = load_text(f"{HEAD}rows:\n" + rows.format(*(each[at] for each in numbers)), "quay.yaml", {}).piece
        assert read(lists, size).piece.fabric == alone.fabric


def test_brackets_that_are_no_list_stay_in_what_a_section_says_and_in_titles() -> None:
    text = f"{TOP.replace('Quay', 'Quay 7 (8, 9)')}rows:\n{PLAIN}    says: Rows 1 (2) to 3 (4, 5), and (6, 7).\n"
    piece = load_text(text, "quay.yaml", {}, size="M").piece
    assert (piece.title, piece.said) == ("Quay 7 (8, 9), size M", {0: "Rows 1 (2) to 4, and (6, 7)."})


def test_a_chart_in_which_brackets_are_symbols_is_read_as_it_is_drawn() -> None:
    top = TOP + "  '(': sand\n  ')': sand\n"
    text = f"{top}rows:\n  - chart: |\n      2(2)b\n"
    assert load_text(text, "quay.yaml", {}, size="M").piece.fabric.columns == 5


# Grounds that grow


def test_edges_without_a_width_fill_the_piece() -> None:
    rows = "  - plain: {rows: 1, stitches: 6 (9, 4), yarn: sand}\n  - chart: 4b\n    edges: {yarn: sand}\n"
    assert looks(read(rows, "S")) == ["sbbbbs", "ssssss"]
    assert looks(read(rows, "M")) == ["sssbbbbss", "sssssssss"]  # five are left: one more at the left
    assert looks(read(rows, "L")) == ["bbbb", "ssss"]


def test_edges_fill_what_a_chart_set_side_by_side_leaves() -> None:
    rows = "  - plain: {rows: 1, stitches: 7, yarn: sand}\n  - chart: sb\n    across: 2\n    edges: {yarn: sand}\n"
    assert looks(read(rows, "S")) == ["sssbsbs", "sssssss"]


def test_one_edge_that_says_its_width_leaves_the_rest_to_the_other() -> None:
    rows = (
        "  - chart: 4b\n    edges: {left: {stitches: 1, yarn: sand}, right: {yarn: sand}}\n"
        "  - plain: {rows: 1, stitches: 8, yarn: sand}\n"
    )
    assert looks(read(rows, "S")) == ["ssssssss", "sbbbbsss"]


def test_a_chart_wider_than_the_piece_is_told_though_its_edges_would_give_way() -> None:
    rows = "  - plain: {rows: 1, stitches: 6 (3, 6), yarn: sand}\n  - chart: 4b\n    edges: {yarn: sand}\n"
    assert "This section is 4 stitches wide, the first one (line 12) 3." in told(f"{TOP}rows:\n{rows}", "M")[0]


def test_edges_that_nobody_gives_a_width_are_told() -> None:
    rows = "  - chart: 4b\n    edges: {yarn: sand}\n"
    assert "\"stitches\" is missing in \"edges\", and no other section says how many are meant." in (
        told(f"{TOP}rows:\n{rows}")[0]
    )
    rows = "  - plain: {rows: 1, yarn: sand}\n    edges: {yarn: brick}\n" + PLAIN
    assert "\"stitches\" is missing in \"plain\"" in told(f"{TOP}rows:\n{rows}")[0]


FIELD = (
    "  - field: {rows: 4, stitches: 8 (5, 3), yarn: sand}\n"
    "    motifs: [{from: boat.txt, right: middle, bottom: 1}]\n"
)


def test_a_motif_in_the_middle_stays_there_and_is_told_where_it_no_longer_fits() -> None:
    files = {"boat.txt": BOAT}
    assert looks(read(FIELD, "S", files)) == ["ssssbsss", "sssbbsss", "ssbbbbss", "ssssssss"]
    assert looks(read(FIELD, "M", files)) == ["sssbs", "ssbbs", "sbbbb", "sssss"]  # one stitch more at the left
    assert told(f"{TOP}rows:\n{FIELD}", "L") == [
        "quay.yaml:13:21  This motif has 4 stitches, and the field has 3.\n"
        "   13 |     motifs: [{from: boat.txt, right: middle, bottom: 1}]\n"
        "      |                     ^\n"
        "  Move it, or make the field larger."
    ]


def test_motifs_side_by_side_lie_in_the_middle_together() -> None:
    field = FIELD.replace("8 (5, 3)", "12").replace("bottom: 1", "bottom: 0, across: 2")
    assert looks(read(field, "S", {"boat.txt": BOAT}))[-1] == "ssbbbbbbbbss"


def test_a_chart_with_counts_for_several_sizes_is_not_painted_and_others_are() -> None:
    counted = "  - chart: |\n      8 (9, 10)s 2b\n      8 (9, 10)s 2b\n"
    rows = f"{counted}  - chart: |\n      ssbb\n    edges: {{yarn: sand}}\n"
    loaded = read(rows, "M")
    assert [(one.first, one.right) for one in loaded.drawings] == [(2, 3)]
    assert loaded.fixed[0].why == "This chart has counts for several sizes: change them in the plan."


def test_numbers_of_sizes_stand_in_words_that_say_which_part_is_meant() -> None:
    """In a list "Right part, on 4 (5, 6) sts:" is a key to YAML."""
    rows = (
        "  - plain: {rows: 2, stitches: 9 (11, 13), yarn: sand}\n"
        "  - plain: {yarn: sand}\n    opening: {first: right}\n    shape:\n"
        "      - Right part, on 4 (5, 6) sts:\n          - work 2 (2, 4) rows even\n"
        "      - Left part:\n          - work 2 (2, 4) rows even (5 (6, 7) sts)\n"
    )
    for size, right, high in (("S", 4, 2), ("M", 5, 2), ("L", 6, 4)):
        parts = [row.stitches for row in read(rows, size).piece.rows if row.part == "right"]
        assert parts == [right] * high


# All sizes at once


def test_what_is_true_of_some_sizes_is_told_once_with_their_names() -> None:
    one, two = Problem("Too wide."), Problem("Too high.")
    found = told_together({"S": [one], "M": [one, two], "L": [one, two]})
    assert [problem.what for problem in found] == ["Too wide.", "Size M and L: Too high."]


HOSTILE = ["8 (", "8 (,)", "8 ()", "8 (1, 2", "8 (1 2, 3)", "8 (1., 2)", "8 (.1, 2)", "8 (10, 12) (14)",
           "8 (10, 12)cm", "8 ((1, 2))", "8 (-1, 2)", "8 (1e9, 2)", f"8 ({'1, ' * 5000}1)", "8 (" * 5000,
           "9" * 50_000 + " (1, 2)", "8 (1\ue000 2)", "8 (١, ٢)"]  # fmt: skip


@pytest.mark.parametrize("value", HOSTILE, ids=range(len(HOSTILE)))
def test_no_list_however_odd_is_guessed_at(value: str) -> None:
    for rows in (f'  - plain: {{rows: 2, stitches: "{value}", yarn: sand}}\n',
                 f"  - plain:\n      rows: 2\n      stitches: {value}\n      yarn: sand\n"):  # fmt: skip
        problems = told(f"{TOP}rows:\n{rows}")
        assert len(problems) == 1
        assert re.match(r"quay.yaml:1[24]:", problems[0])
