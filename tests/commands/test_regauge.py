"""A plan at the gauge that came out, by the real program: what is told, and the new plan."""

from __future__ import annotations

import shlex
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from the_program import PIER_SIGN, run

from companion.knitting.cloth.fabric import Gauge
from companion.knitting.cloth.tubes import columns_drawn
from companion.knitting.piece import Piece
from companion.knitting.reckoning.bands import bands
from companion.plan.demo import demo_plans
from companion.plan.read import load

DEMOS = {path.stem: path for path in demo_plans()}

SIGN = """\
# The sign on the pier.
plan: 1
title: Pier sign
mirror: true
tension: {stitches: 20, rows: 20, over: 10 cm, garter: {rows: 40}}
yarns:
  sand: {colour: "#d9c9a5", ball: {metres: 120, grams: 50}}   # one ball
  brick: {colour: "#a8432f"}
symbols:
  s: sand
  b: brick
  k: {yarn: sand, sewn: brick}
sample: {stitches: 20, yarn: 38 cm}
tail: 12 cm
carry: {reach: 1}
# All of it.
rows:
  - says: It hangs on the pier.
    chart: |
      ssssssssss
      ssssssssss
      ssbbbbksss
      ssbsssssss
      ssssssssss
      ssssssssss
"""
"""Ten stitches and six rows, 5 x 3 cm; mirrored."""

TOLD = """\
Pier sign
Gauge: 20 sts and 20 rows over 10 cm
Now: Gauge: 16 sts and 25 rows over 10 cm
Gauges of other stitches change in proportion: nobody has measured them anew.

            Sts x rows  Size          Off by (cm)  In %          Strands  Ends
As planned  10 x 6      5.0 x 3.0 cm
Unchanged   10 x 6      6.2 x 2.4 cm  +1.2, -0.6   +25.0, -20.0
Same size   8 x 8       5.0 x 3.2 cm  +0.0, +0.2   +0.0, +6.7
Kept        8 x 8       5.0 x 3.2 cm  +0.0, +0.2   +0.0, +6.7    4        8
Redrawn     8 x 8       5.0 x 3.2 cm  +0.0, +0.2   +0.0, +6.7    3        6

Kept stitch by stitch the picture comes out 25.0 % wider and 20.0 % lower; ground makes up for it as far as there is \
any.
Redrawn it keeps its size: in each stitch what takes up most of its area. Lines of one stitch may go.
"""
"""16 stitches to 10 cm: 5 cm are 8; 25 rows: 3 cm are 7.5, as near to 8 as to 7 and rounded to the even one.
Strands: mirrored, row 3 begins with sand 2, brick 1, sand 7; brick goes 3 to its place in row 4, further than its
reach, so there are two of it, and two of sand. Redrawn row 3 has lost its brick, and one strand of brick is left."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(SIGN, encoding="utf-8")
    return tmp_path


def rows_of(text: str) -> list[str]:
    """What stands below "rows:"."""
    return text.partition("\nrows:\n")[2].splitlines()


def test_what_becomes_of_a_plan_is_told(folder: Path) -> None:
    ran = run(folder, "regauge", "pier.yaml", "16x25/10cm")
    assert (ran.code, ran.out) == (0, TOLD)
    assert sorted(path.name for path in folder.iterdir() if path.suffix) == ["pier.yaml"]
    inches = run(folder, "regauge", "pier.yaml", "16x25/10cm", "--units", "in").out
    assert "Unchanged   10 x 6      2.5 x 0.9 in  +0.5, -0.2   +25.0, -20.0" in inches


def test_the_picture_is_kept_stitch_by_stitch(folder: Path) -> None:
    ran = run(folder, "regauge", "pier.yaml", "16x25/10cm", "--keep", "-o", "new.yaml")
    assert ran.code == 0
    assert ran.err.splitlines()[0] == "new.yaml: 8 sts x 8 rows, 2 yarns, 4 strands."
    assert rows_of((folder / "new.yaml").read_text(encoding="utf-8")) == [
        "  - plain: {rows: 3, stitches: 8, yarn: sand}", "  - chart: |", *["      ssssssss"] * 3, "      sbbbbkss",
        "      sbssssss",
    ]  # fmt: skip


def test_the_picture_is_redrawn_by_area(folder: Path) -> None:
    """Four new stitches cover five old ones, four new rows three. From the left the third covers 2.5 to 3.75 of the
    old: brick in the upper row, while of the single brick below it covers half a stitch, as the second does: there
    sand has more. The fifth covers 5 to 6.25, a stitch of brick; the sixth 6.25 to 7.5, most of it sewn on. Row 4
    covers 2.25 to 3 and row 5 3 to 3.75 of the old rows, so one row of the two has brick."""
    assert run(folder, "regauge", "pier.yaml", "16x25/10cm", "--redraw", "-o", "new.yaml").code == 0
    assert rows_of((folder / "new.yaml").read_text(encoding="utf-8")) == [
        "  - plain: {rows: 4, stitches: 8, yarn: sand}", "  - chart: |", *["      ssssssss"] * 3, "      ssbbbkss",
    ]  # fmt: skip


def test_the_rest_of_the_plan_is_taken_over_and_what_is_not_is_told(folder: Path) -> None:
    ran = run(folder, "regauge", "pier.yaml", "16x25/10cm", "--redraw", "-o", "new.yaml")
    text = (folder / "new.yaml").read_text(encoding="utf-8")
    assert text.startswith(
        "# pier.yaml, drawn anew by area, at another gauge:\n# rowside regauge pier.yaml 16x25/10cm --redraw\n\n"
        "plan: 1\ntitle: Pier sign\n\n"
        "gauge: {stitches: 16, rows: 25, over: 10 cm, garter: {stitches: 16, rows: 50}}\n\nmirror: true\n"
    )
    assert '  sand: {colour: "#d9c9a5", ball: {metres: 120, grams: 50}}   # one ball\n' in text
    assert "tail: 12 cm\n" in text
    assert "All of it." not in text
    assert ran.err.splitlines()[1:] == [
        "The sample of yarn is left out: it was knitted at another gauge.", "What sections say is left out.",
        "Gauges of other stitches are changed in proportion: measure them anew.",
    ]  # fmt: skip
    old, new = load(folder / "pier.yaml").piece, load(folder / "new.yaml").piece
    assert new.gauge == Gauge(Fraction(16), Fraction(25))
    assert (new.yarns, new.carry, new.tail_cm) == (old.yarns, old.carry, old.tail_cm)
    sewn = [[run.stitch.sewn for run in row.runs if run.stitch and run.stitch.sewn] for row in new.fabric.rows]
    assert [one for row in sewn for one in row] == ["brick"]


def test_nothing_is_written_over_a_file_that_is_there(folder: Path) -> None:
    (folder / "other.yaml").write_text(SIGN, encoding="utf-8")
    ran = run(folder, "regauge", "pier.yaml", "16x25/10cm", "--keep", "-o", "other.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith('There is a file "other.yaml" already.')
    assert (folder / "other.yaml").read_text(encoding="utf-8") == SIGN


def test_the_new_plan_never_goes_over_the_old_one_by_whatever_name_and_force(folder: Path) -> None:
    (folder / "other.yaml").hardlink_to(folder / "pier.yaml")
    for name in ("pier.yaml", "./pier.yaml", "other.yaml"):
        ran = run(folder, "regauge", "pier.yaml", "19x27/10cm", "--keep", "-o", name, "--force")
        assert (ran.code, ran.out, ran.err) == (
            2, "", 'The new plan would be written over "pier.yaml", from which it is made.\n'
            "  Name another file: the old plan is left as it is.\n",
        )  # fmt: skip
    assert (folder / "pier.yaml").read_text(encoding="utf-8") == SIGN


def test_the_same_gauge_changes_no_stitch(folder: Path) -> None:
    for demo, way in (("mooring-mat", "--keep"), ("anchor-pennant", "--redraw"), ("swatch", "--redraw")):
        assert run(folder, "regauge", demo, "20x28/10cm", way, "-o", f"{demo}.yaml").code == 0
        assert load(folder / f"{demo}.yaml").piece.fabric == load(DEMOS[demo]).piece.fabric


@pytest.mark.parametrize("gauge", ["16x21/10cm", "25x25/10cm", "22x31/4in"])
def test_a_shaped_piece_is_drawn_anew_as_hands_can_work_it(folder: Path, gauge: str) -> None:
    ran = run(folder, "regauge", "anchor-pennant", gauge, "--redraw", "-o", "new.yaml")
    assert ran.code == 0
    old, new = load(DEMOS["anchor-pennant"]).piece, load(folder / "new.yaml").piece
    share = new.fabric.stitches * new.gauge.stitch_cm * new.gauge.row_cm / (
        old.fabric.stitches * old.gauge.stitch_cm * old.gauge.row_cm
    )  # fmt: skip
    assert abs(share - 1) < Fraction(3, 100)


def test_one_size_of_several_is_regauged(folder: Path) -> None:
    ran = run(folder, "regauge", "sailing-headband", "16x22/10cm", "--size", "M", "--keep", "-o", "new.yaml")
    assert (ran.code, ran.err.splitlines()[-1]) == (0, "It is in one size, M.")
    piece = load(folder / "new.yaml").piece
    # 66 stitches at 14 to 10 cm are 47.1 cm, 75.4 at 16; 24 rows at 20 are 12 cm, 26.4 at 22.
    assert (piece.title, piece.fabric.columns, len(piece.fabric.rows)) == ("Sailing headband, size M", 75, 26)


ALL_KINDS = {
    "ferry-jumper-front": (59, 94),  # 62 x 19/20 = 58.9, 98 x 27/28 = 94.5, and the even one
    "breakwater-cowl": (106, 61),  # 100 x 19/18 = 105.6, 54 x 27/24 = 60.75
    "wrist-warmer-left": (36, 54),  # 40 x 19/22 = 34.5, in ribs of four stitches 36; 60 x 27/30 = 54
}
"""A piece with armholes and a neck, a tube that is sewn up, and one with a slit, turned round: stitches and rows that
keep the size at 19 x 27."""


@pytest.mark.parametrize("demo", ALL_KINDS)
def test_tubes_and_pieces_that_divide_keep_every_stitch(folder: Path, demo: str) -> None:
    assert run(folder, "regauge", demo, "19x27/10cm", "--keep", "-o", "new.yaml").code == 0
    old, new = load(DEMOS[demo]).piece, load(folder / "new.yaml").piece
    assert new.fabric == old.fabric
    assert (new.gauge, new.seams, new.worn) == (Gauge(Fraction(19), Fraction(27)), old.seams, old.worn)


def by_yarn(piece: Piece) -> Counter[str]:
    """The stitches of each yarn, those sewn on in the yarn that shows."""
    found = Counter[str]()
    for row in piece.fabric.rows:
        for stretch in row.runs:
            if stretch.stitch:
                found[stretch.stitch.sewn or stretch.stitch.yarn] += stretch.columns
    return found


@pytest.mark.parametrize("demo", ALL_KINDS)
def test_tubes_and_pieces_that_divide_are_redrawn_in_their_size(folder: Path, demo: str) -> None:
    """Every yarn covers as much of the fabric as before, but for 2 % of all of it."""
    assert run(folder, "regauge", demo, "19x27/10cm", "--redraw", "-o", "new.yaml").code == 0
    old, new = load(DEMOS[demo]).piece, load(folder / "new.yaml").piece
    assert (columns_drawn(new.fabric), len(new.fabric.levels)) == ALL_KINDS[demo]
    now, was = by_yarn(new), by_yarn(old)
    for yarn in was:
        assert abs(now[yarn] / now.total() - was[yarn] / was.total()) < 0.02
    kinds = [[(one.is_round, one.seam, one.first) for one in bands(piece.fabric)] for piece in (old, new)]
    assert kinds[0] == kinds[1]
    assert run(folder, "check", "new.yaml").code == 0


def test_the_neck_of_a_jumper_is_shaped_as_it_was(folder: Path) -> None:
    """By hand, at 19 x 27 for 20 x 28: of 62 stitches 3 are bound off at either armhole and 3 decreased; 2.85 each.
    The neck of 12 bound off, 11.4, and 2 x 5 decreased, 4.75, leaves 14, 13.3, at each shoulder."""
    assert run(folder, "regauge", "ferry-jumper-front", "19x27/10cm", "--redraw", "-o", "new.yaml").code == 0
    told = run(folder, "rows", "new.yaml", "--shape").out
    assert "bind off 3 sts at the beginning of the next 2 rows. (53 sts)" in told
    assert "dec 1 st at each end of every RS row 3 times. (47 sts)" in told
    assert "bind off 11 sts at the neck edge of the next row. (18 sts)" in told
    assert told.count("work 3 rows even.") == 2
    assert told.count("(13 sts)") == 2


def test_a_stripe_in_the_round_stays_one(folder: Path) -> None:
    """A rib's first round is plain: no round mixes its yarn with that of the round below."""
    assert run(folder, "regauge", "wrist-warmer-left", "19x27/10cm", "--redraw", "-o", "new.yaml").code == 0
    rows = load(folder / "new.yaml").piece.fabric.rows
    assert all(len({one.stitch.yarn for one in row.runs if one.stitch}) == 1 for row in rows)


@pytest.mark.parametrize("gauge", ["999999999999x999999999999/10cm", "0.000001x1/10cm", "1x999999999999/10cm"])
def test_a_gauge_beyond_all_reason_is_told_and_makes_no_giant(folder: Path, gauge: str) -> None:
    ran = run(folder, "regauge", "pier.yaml", gauge)
    assert ran.code == 0


USAGE = {
    "pier.yaml 16x25/10cm --keep": "Say which new plan is written where: --keep -o FILE, or --redraw -o FILE.",
    "pier.yaml 16x25/10cm -o new.yaml": "Say which new plan is written where: --keep -o FILE, or --redraw -o FILE.",
    "pier.yaml 16x25/10cm --keep -o new.txt": "The name of a plan ends in .yaml or .yml",
    "pier.yaml ''": 'The gauge "" is not understood.',
    "pier.yaml 16*25": 'The gauge "16*25" is not understood.',
    "pier.yaml 0x25/10cm": 'The gauge "0x25/10cm" is not understood',
    "pier.yaml": "Missing argument 'GAUGE'",
}


@pytest.mark.parametrize("words", USAGE)
def test_what_is_not_understood_is_told(folder: Path, words: str) -> None:
    ran = run(folder, "regauge", *shlex.split(words))
    assert (ran.code, ran.out) == (2, "")
    assert USAGE[words] in ran.err


def test_a_plan_that_is_wrong_is_told_as_everywhere(folder: Path) -> None:
    (folder / "pier.yaml").write_text(PIER_SIGN.replace("sbbss", "sbDss"), encoding="utf-8")
    ran = run(folder, "regauge", "pier.yaml", "16x25/10cm")
    assert ran.code == 2
    assert ran.err.startswith("pier.yaml:14:9  Row 3 of this section")


def test_the_note_in_a_plan_of_one_size_names_the_size(tmp_path: Path) -> None:
    """Typed again, the command in it makes the same plan."""
    (tmp_path / "band.yaml").write_text(DEMOS["sailing-headband"].read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "sloop.txt").write_text(
        DEMOS["sailing-headband"].with_name("sloop.txt").read_text(encoding="utf-8"), encoding="utf-8"
    )
    words = ["regauge", "band.yaml", "15x21/10cm", "--size", "M", "--keep"]
    assert run(tmp_path, *words, "-o", "m.yaml").code == 0
    note = (tmp_path / "m.yaml").read_text(encoding="utf-8").splitlines()[1]
    assert note == "# rowside regauge band.yaml 15x21/10cm --size M --keep"
