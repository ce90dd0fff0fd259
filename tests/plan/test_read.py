"""Plans that can be read, and what piece they are: written out by hand, or drawn again cell by cell."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.knitting.cloth.fabric import Ball, FabricRow, Gauge, Run, Stitch, Texture, Yarn
from companion.knitting.strands.limits import Carry
from companion.problems import show
from tests.plan.plans import CUSHION, HEAD, charted, grouped, looks, read

GARTER = Stitch("sand", Texture("garter"))


def test_the_cushion_of_the_format_is_exactly_the_piece_it_describes() -> None:
    loaded = read(CUSHION)
    piece = loaded.piece
    assert piece.title == "Harbour light cushion"
    assert piece.gauge == Gauge(Fraction(20), Fraction(28), Fraction(10))
    assert piece.carry == Carry(reach=3, behind=0, rest=0, share=False)
    assert piece.yarns == (
        Yarn("sand", "#d9c9a5", "s", Ball(Fraction(120), Fraction(50))),
        Yarn("brick", "#a8432f", "b", Ball()),
    )
    plain = FabricRow((Run(40, GARTER),))
    sand, brick = Stitch("sand"), Stitch("brick")
    # Column 1 is the right edge, so each drawn line is turned round: 19, 6 and 7 stitches between the edges.
    lower = FabricRow((Run(4, GARTER), Run(19, sand), Run(6, brick), Run(7, sand), Run(4, GARTER)))
    upper = FabricRow((Run(4, GARTER), Run(18, sand), Run(8, brick), Run(6, sand), Run(4, GARTER)))
    assert piece.fabric.rows == (*[plain] * 6, lower, upper, lower, upper)
    assert loaded.text == CUSHION
    assert dict(loaded.files) == {}
    assert [show(warning) for warning in loaded.warnings] == [
        'quay.yaml:10:3  Warning: The symbol "g" is not used.\n'
        "   10 |   g: {yarn: sand, stitch: garter}\n"
        "      |   ^"
    ]


def test_equal_rows_are_one_value() -> None:
    rows = read(CUSHION).piece.fabric.rows
    assert rows[0] is rows[5]
    assert rows[6] is rows[8]


def test_a_chart_is_repeated_upwards_and_across_between_its_edges() -> None:
    edges = "    edges: {right: {stitches: 1, yarn: brick}, left: {stitches: 2, yarn: sand}}\n"
    loaded = charted("sb", "bs", more=edges + "    across: 2\n    repeat: 2\n")
    assert looks(loaded) == 2 * ["sssbsbb", "ssbsbsb"]


def test_one_edge_alone_may_be_given() -> None:
    assert looks(charted("bb", more="    edges: {left: {stitches: 1, yarn: sand}}\n")) == ["sbb"]


def test_plain_rows_take_edges_and_repeats_too() -> None:
    text = HEAD + (
        "rows:\n  - plain: {rows: 1, stitches: 2, yarn: brick}\n"
        "    edges: {stitches: 1, yarn: sand}\n    across: 2\n    repeat: 2\n"
    )
    assert looks(read(text)) == ["sbbbbs", "sbbbbs"]


def test_an_edge_of_the_charts_own_yarn_and_stitch_is_one_run_with_it() -> None:
    loaded = charted("sb", more="    edges: {stitches: 3, yarn: sand}\n")
    assert [run.columns for run in loaded.piece.fabric.rows[0].runs] == [3, 1, 4]


def test_two_symbols_of_one_yarn_and_stitch_are_one_run() -> None:
    loaded = charted("stb", symbols="s: sand, t: sand, b: brick")
    assert [run.columns for run in loaded.piece.fabric.rows[0].runs] == [1, 2]


def test_stitches_of_every_kind_are_understood() -> None:
    symbols = (
        "s: sand, b: {yarn: brick}, r: {yarn: sand, stitch: reverse}, g: {yarn: sand, stitch: garter}, "
        "m: {yarn: sand, stitch: seed}, x: {yarn: sand, stitch: {rib: [2, 3]}}, k: {yarn: sand, stitch: stockinette}"
    )
    runs = charted("xmgrbs", symbols=symbols).piece.fabric.rows[0].runs
    assert [(run.stitch.yarn, run.stitch.texture) for run in runs if run.stitch] == [
        ("sand", Texture()),
        ("brick", Texture()),
        ("sand", Texture("reverse")),
        ("sand", Texture("garter")),
        ("sand", Texture("seed")),
        ("sand", Texture("rib", (2, 3))),
    ]


def test_without_carry_the_reach_comes_from_the_gauge() -> None:
    # One inch and a bit: 2.5 cm hold 2.5 stitches at 10 to 10 cm.
    assert read(HEAD.replace("20", "10") + "rows: [{chart: sb}]").piece.carry == Carry(2)


def test_every_limit_of_carry_may_be_set() -> None:
    text = HEAD + "carry: {reach: 0, behind: 4, rest: 2, share: yes}\nrows: [{chart: sb}]"
    assert read(text).piece.carry == Carry(0, 4, 2, True)


@pytest.mark.parametrize(("over", "cm"), [("4 in", "10.16"), ("100 mm", "10"), ("10cm", "10"), ('"2.5 in"', "6.35")])
def test_a_length_is_exact_in_any_unit(over: str, cm: str) -> None:
    text = HEAD.replace("rows: 28", f"rows: 28, over: {over}") + "rows: [{chart: sb}]"
    assert read(text).piece.gauge.over_cm == Fraction(cm)


@pytest.mark.parametrize("symbol", ["y", "n", "-", "0", "'#'", "'*'", "'!'", "'\"'", "'?'", "é", "船", "☼", "~", "="])
def test_any_visible_character_can_be_a_symbol(symbol: str) -> None:
    bare = symbol.strip("'")
    loaded = charted(f"{bare}s", symbols=f"s: sand, {symbol}: brick")
    assert looks(loaded) == [f"{bare}s"]


def test_yaml_never_turns_text_into_something_else() -> None:
    text = (
        "plan: 1\ntitle: 1:30\ngauge: {stitches: 020, rows: 28}\n"
        "yarns: {no: {colour: tan}, 012: {colour: brown}, null: {colour: red}, ~: {colour: navy}}\n"
        "symbols: {y: no, n: 012, 0: null, t: ~}\nrows: [{chart: yn0t}]\n"
    )
    piece = read(text).piece
    assert piece.title == "1:30"
    assert piece.gauge.stitches == 20
    names = [(yarn.name, yarn.symbol) for yarn in piece.yarns]
    assert names == [("no", "y"), ("012", "n"), ("null", "0"), ("~", "t")]


def test_a_yarn_without_a_symbol_takes_a_free_letter_of_its_name() -> None:
    text = HEAD.replace("  brick: {colour: brown}", "  bass: {colour: brown}").replace("b: brick", "b: sand")
    loaded = read(text + "rows:\n  - chart: sb\n  - plain: {rows: 1, stitches: 2, yarn: bass}\n")
    assert [(yarn.name, yarn.symbol) for yarn in loaded.piece.yarns] == [("sand", "s"), ("bass", "a")]


def test_what_is_not_used_is_a_warning_only() -> None:
    loaded = read(HEAD + "rows:\n  - chart: ss\n")
    assert [(warning.line, warning.what) for warning in loaded.warnings] == [
        (6, 'The yarn "brick" is not used.'),
        (9, 'The symbol "b" is not used.'),
    ]


def test_on_a_ground_that_is_still_to_be_painted_its_other_yarns_are_no_slip() -> None:
    blank = HEAD + "rows:\n  - plain: {rows: 2, stitches: 2, yarn: sand}\n  - chart: |\n" + "      ss\n" * 4
    assert read(blank).warnings == ()
    assert len(read(blank.replace("      ss\n", "", 1)).warnings) == 2  # three rows are a slip
    two = blank.replace("b: brick", "b: brick\n  x: sand").replace("ss\n", "xs\n", 1)
    assert [warning.what for warning in read(two).warnings] == [
        'The yarn "brick" is not used.', 'The symbol "b" is not used.',
    ]  # fmt: skip


def test_a_chart_file_is_drawn_in_and_kept_by_its_name() -> None:
    text = HEAD + "rows:\n  - chart: {from: light.txt}\n    repeat: 2\n  - chart: {from: light.txt}\n"
    loaded = read(text, {"light.txt": "s s b\r\n\r\n\t3b\r\n", "other.txt": "x"})
    assert looks(loaded) == 3 * ["ssb", "bbb"]
    assert dict(loaded.files) == {"light.txt": "s s b\r\n\r\n\t3b\r\n"}


def test_a_plan_is_read_again_from_what_was_kept_of_it() -> None:
    text = HEAD + "rows:\n  - chart: {from: light.txt}\n"
    loaded = read(text, {"light.txt": "sb"})
    assert read(loaded.text, loaded.files) == loaded


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    assert read("\ufeff" + CUSHION.replace("\n", "\r\n")).piece == read(CUSHION).piece
    assert read(CUSHION.replace("\n", "\r")).piece == read(CUSHION).piece


LINES = st.integers(1, 12).flatmap(lambda n: st.lists(st.text("sb", min_size=n, max_size=n), min_size=1, max_size=6))


@given(LINES, st.data())
def test_drawn_lines_and_run_lengths_mean_the_same_fabric(lines: list[str], data: st.DataObject) -> None:
    mixed = [grouped(line) if data.draw(st.booleans()) else " ".join(line) for line in lines]
    assert looks(charted(*mixed)) == lines


@given(LINES, st.integers(1, 3), st.integers(1, 3), st.integers(0, 2), st.integers(0, 2))
def test_repeats_and_edges_are_what_drawing_it_all_out_would_be(
    lines: list[str], up: int, across: int, left: int, right: int
) -> None:
    sides = {"left": left, "right": right}
    edges = ", ".join(f"{side}: {{stitches: {n}, yarn: brick}}" for side, n in sides.items() if n)
    more = f"    repeat: {up}\n    across: {across}\n" + (f"    edges: {{{edges}}}\n" if edges else "")
    drawn = ["b" * left + line * across + "b" * right for line in lines]
    loaded = charted(*lines, more=more)
    assert looks(loaded) == drawn * up
    for row in loaded.piece.fabric.rows:
        neighbours = zip(row.runs, row.runs[1:], strict=False)
        assert all(one.stitch != other.stitch for one, other in neighbours)
