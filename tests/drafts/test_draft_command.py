"""A picture to a plan, by the real program."""

from __future__ import annotations

import os
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from the_program import ROOT, Ran, run

from companion.drafts.picture import opened
from companion.knitting.cloth.fabric import cells
from companion.knitting.strands.plan import plan_strands
from companion.plan.read import Loaded, load
from tests.drafts.harbour import boat, town

SIZE = ("--stitches", "40", "--gauge", "20x28/10cm")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    Image.fromarray(boat()).save(tmp_path / "boat.png")
    return tmp_path


def drafted(folder: Path, *words: str, picture: str = "boat.png") -> tuple[Ran, Loaded]:
    ran = run(folder, "draft", picture, "-o", "plan.yaml", "--force", *words)
    assert ran.code == 0, ran.err
    return ran, load(folder / "plan.yaml")


def charted(loaded: Loaded) -> list[str]:
    return [line.strip() for line in loaded.text.partition("chart: |\n")[2].splitlines()]


def test_a_picture_becomes_a_plan_whose_figures_are_those_of_check(folder: Path) -> None:
    ran, loaded = drafted(folder, *SIZE)
    checked = run(folder, "check", "plan.yaml")
    assert checked.out.endswith("; nothing to mend.\n")
    summary = checked.out.partition(";")[0]
    assert ran.err.startswith(f"{summary}; mean difference from the picture ")
    strands = plan_strands(loaded.piece.rows, loaded.piece.carry).strands.total.strands
    assert f", {strands} strands;" in ran.err
    assert f"# {strands} strands at a price of 40;" in loaded.text
    assert (loaded.piece.fabric.columns, len(loaded.piece.fabric.rows)) == (40, 42)


def test_the_plan_says_where_it_came_from_and_its_command_makes_it_again_byte_for_byte(folder: Path) -> None:
    (folder / "deep er").mkdir()
    os.rename(folder / "boat.png", folder / "deep er" / "boat.png")
    _, loaded = drafted(folder, *SIZE, "--colours", "5", "--flip", picture="deep er/boat.png")
    assert loaded.text.startswith("# Drafted from boat.png (160 x 120 pixels, SHA-256 ")
    command = "rowside draft boat.png --stitches 40 --gauge 20x28/10cm --colours 5 --flip"
    assert f"\n# {command}\n" in loaded.text
    os.rename(folder / "deep er" / "boat.png", folder / "boat.png")
    again = run(folder, *command.split()[1:], is_fresh=True)
    assert again.out == loaded.text


def test_yarns_have_names_of_colours_and_symbols_of_their_letters(folder: Path) -> None:
    _, loaded = drafted(folder, *SIZE)
    names = [yarn.name for yarn in loaded.piece.yarns]
    assert len(set(names)) == len(names)
    assert all(yarn.symbol in yarn.name for yarn in loaded.piece.yarns)
    assert "teal" in names or "darkslategray" in names


def test_nothing_is_written_over_without_force(folder: Path) -> None:
    (folder / "plan.yaml").write_text("mine", encoding="utf-8")
    ran = run(folder, "draft", "boat.png", "-o", "plan.yaml", *SIZE)
    assert ran.code == 2
    assert ran.err.startswith('There is a file "plan.yaml" already.')
    assert (folder / "plan.yaml").read_text(encoding="utf-8") == "mine"
    drafted(folder, *SIZE)


def test_fewer_strands_are_asked_for_and_come(folder: Path) -> None:
    Image.fromarray(town()).save(folder / "town.png")
    _, usual = drafted(folder, *SIZE, picture="town.png")
    many = plan_strands(usual.piece.rows, usual.piece.carry).strands.total.strands
    _, few = drafted(folder, *SIZE, "--strands", str(many - 5), picture="town.png")
    assert 5 < plan_strands(few.piece.rows, few.piece.carry).strands.total.strands <= many - 5
    ran, _ = drafted(folder, *SIZE, "--strands", "1", "--hold", "1,1", "--hold", "30,20", picture="town.png")
    assert re.search(r"Not 1, but \d+ strands are the fewest that were found\.", ran.err)


def test_a_higher_price_never_has_more_strands_in_the_table_of_this_picture(folder: Path) -> None:
    ran = run(folder, "draft", "boat.png", *SIZE, "--choices")
    assert ran.out.startswith("40 sts x 42 rows, 20 x 15 cm\n\nPrice  Yarns  Strands   Ends  Most at once")
    lines = [line.split() for line in re.findall(r"^ +\d.*$", ran.out, re.MULTILINE)]
    assert [int(line[0]) for line in lines] == [0, 10, 20, 40, 80, 160]
    strands = [int(line[2]) for line in lines]
    assert strands == sorted(strands, reverse=True)
    assert [int(line[3]) for line in lines] == [2 * each for each in strands]
    assert [line[-1] for line in lines if line[-1] == "<"] == ["<"]
    assert not (folder / "plan.yaml").exists()
    _, plain_colours = drafted(folder, *SIZE, "--price", "0")
    assert plan_strands(plain_colours.piece.rows, plain_colours.piece.carry).strands.total.strands == strands[0]


def test_what_else_would_be_cheaper_is_told_where_it_is(folder: Path) -> None:
    """A slope so shallow that its strands reach no further by rows; by columns they do. Halves gain nothing."""
    down, across = np.mgrid[0:120, 0:160]
    for name, is_dark in (("slope", down > 20 + across / 8), ("halves", across > 80)):
        Image.fromarray(np.where(is_dark, 0, 255).astype(np.uint8)).save(folder / f"{name}.png")
    words = ("--width", "20 cm", "--gauge", "20x28/10cm", "--colours", "2", "--price", "0", "--choices")
    slope = run(folder, "draft", "slope.png", *words).out
    offered = re.search(r"Knitted --sideways \(30 sts x 56 rows\) it takes (\d+) strands in place of (\d+)", slope)
    assert offered
    assert int(offered[1]) < int(offered[2])
    ran, sideways = drafted(folder, *words[:-1], "--sideways", picture="slope.png")
    assert f", {offered[1]} strands;" in ran.err
    assert sideways.piece.fabric.columns == 30
    halves = run(folder, "draft", "halves.png", *words).out
    assert "sideways" not in halves
    assert "--colours" not in halves


def test_a_stitch_that_is_held_stays_in_the_yarn_that_is_named(folder: Path) -> None:
    stash = 'sea: "#2c6a7b"\nsun: {colour: gold, metres: 1}\nmast: {colour: black, metres: 30}\n'
    (folder / "stash.yaml").write_text(stash, encoding="utf-8")
    words = (*SIZE, "--yarns", "stash.yaml", "--price", "160")
    ran, without = drafted(folder, *words)
    sun = next(yarn.symbol for yarn in without.piece.yarns if yarn.name == "sun")
    assert charted(without)[-12][-31:-29] != 2 * sun
    assert re.search(r"Of sun it takes [\d.]+ m, and 1 m are there\.", ran.err)
    assert ran.err.count(" m are there.") == 1
    (folder / "eye.txt").write_text("# the light in the hull\n12,30-31=sun  # two stitches\n", "utf-8")
    _, with_eye = drafted(folder, *words, "--hold", "eye.txt")
    assert {yarn.name for yarn in with_eye.piece.yarns} == {"sea", "sun", "mast"}
    sun = next(yarn.symbol for yarn in with_eye.piece.yarns if yarn.name == "sun")
    assert charted(with_eye)[-12][-31:-29] == 2 * sun


def test_sideways_the_picture_lies_on_its_left_side_and_is_as_wide(folder: Path) -> None:
    codes = np.zeros((40, 80, 3), np.uint8)
    codes[:, :20] = 255
    Image.fromarray(codes).save(folder / "left.png")
    words = ("--width", "40 cm", "--gauge", "20x28/10cm")
    _, upright = drafted(folder, *words, picture="left.png")
    _, sideways = drafted(folder, *words, "--sideways", picture="left.png")
    assert (upright.piece.fabric.columns, len(upright.piece.fabric.rows)) == (80, 56)
    assert (sideways.piece.fabric.columns, len(sideways.piece.fabric.rows)) == (40, 112)
    white = next(yarn.symbol for yarn in sideways.piece.yarns if yarn.colour == "#ffffff")
    assert [line.count(white) for line in charted(sideways)] == [0] * 84 + [40] * 28
    assert {line.count(white) for line in charted(upright)} == {20}
    assert charted(upright)[0].startswith(white)
    _, flipped = drafted(folder, *words, "--flip", picture="left.png")
    assert charted(flipped)[0].endswith(white)
    _, cropped = drafted(folder, *words, "--crop", "0,0,20,40", picture="left.png")
    assert [yarn.colour for yarn in cropped.piece.yarns] == ["#ffffff"]


def test_where_a_picture_is_transparent_the_ground_must_be_said(folder: Path) -> None:
    image = Image.fromarray(boat()).convert("RGBA")
    image.paste((0, 0, 0, 0), (0, 0, 160, 60))
    image.save(folder / "clear.png")
    ran = run(folder, "draft", "clear.png", *SIZE)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err == (
        "clear.png  The picture is transparent in places.\n"
        "  Say what colour lies there, such as --ground white, or that no stitch does: --ground none\n"
    )
    _, loaded = drafted(folder, *SIZE, "--ground", "white", picture="clear.png")
    assert "#ffffff" in {yarn.colour for yarn in loaded.piece.yarns}


def test_where_a_picture_is_transparent_there_may_be_no_stitch(folder: Path) -> None:
    image = Image.new("RGBA", (80, 80))
    image.paste((200, 60, 50, 255), (0, 40, 40, 80))  # the left half of the lower half
    image.paste((40, 100, 120, 255), (20, 0, 40, 40))  # a narrower tower on it
    image.save(folder / "tower.png")
    words = ("--stitches", "20", "--gauge", "20x20/10cm", "--ground", "none")
    _, loaded = drafted(folder, *words, picture="tower.png")
    # Row 11 begins at the right edge: of the five that go at the left one two are decreased, the others a row later.
    assert charted(loaded) == ["." * 5 + "d" * 5] * 9 + ["." * 2 + "d" * 8] + ["c" * 10] * 10
    assert {yarn.colour for yarn in loaded.piece.yarns} == {"#c83c32", "#286478"}  # nothing of what is not there
    assert len(plan_strands(loaded.piece.rows, loaded.piece.carry).strands.first) == 2


SHAPED = """\
plan: 1
title: Pennant
gauge: {stitches: 20, rows: 28, over: 10 cm}
yarns: {tide: {colour: "#2c6a7b"}, sand: {colour: "#d9c9a5"}}
carry: {reach: 3}
rows:
  - chart: |
      ...sss....
      .ssssss...
      sssttss...
      ttttttt...
      tttttttttt
      tttttttttt
      ssttttttt.
      ssttttttt.
"""


def test_a_shaped_plan_comes_back_from_its_picture(folder: Path) -> None:
    (folder / "pennant.yaml").write_text(SHAPED, encoding="utf-8")
    written = run(folder, "write", "pennant.yaml", "-o", "pennant.png")
    again = " ".join(written.err.partition("To draft from it: rowside ")[2].split())
    ran = run(folder, *again.split(), "-o", "back.yaml")
    assert ran.code == 0, ran.err
    assert "outside" not in ran.err
    drawn, back = (in_colours(load(folder / name)) for name in ("pennant.yaml", "back.yaml"))
    assert back == drawn


def in_colours(loaded: Loaded) -> list[list[str]]:
    """The colour of every cell, "" where there is no stitch."""
    piece = loaded.piece
    return [
        [piece.yarn(stitch.yarn).colour if stitch else "" for stitch in cells(row)] for row in piece.fabric.rows
    ]


def test_of_a_picture_in_two_places_it_is_told_how_much_is_left_out(folder: Path) -> None:
    image = Image.new("RGBA", (80, 80))
    image.paste((200, 60, 50, 255), (0, 0, 30, 80))
    image.paste((40, 100, 120, 255), (60, 0, 80, 80))
    image.save(folder / "apart.png")
    words = ("--stitches", "40", "--gauge", "20x20/10cm", "--ground", "none")
    ran, _ = drafted(folder, *words, picture="apart.png")
    assert "Of what is there 40% lies outside the outline: a row is one stretch of stitches.\n" in ran.err
    Image.new("RGBA", (80, 80)).save(folder / "nothing.png")
    ran = run(folder, "draft", "nothing.png", *words)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("nothing.png  Hardly anything of the picture is there: no 3 stitches side by side.\n")

def test_a_gauge_without_a_length_is_told_over_what_it_is_taken(folder: Path) -> None:
    ran = run(folder, "draft", "boat.png", "--stitches", "40", "--gauge", "20x28", "--choices")
    assert ran.err == "The gauge 20x28 is taken over 10 cm; 20x28/4in would be over 4 inches.\n"
    assert "The line with < is what is drafted without --choices.\n" in ran.out
    (meant,) = [line for line in ran.out.splitlines() if line.endswith("  <")]
    assert meant.split()[0] == "40", "the usual price"


def test_the_gauge_may_be_that_of_another_plan(folder: Path) -> None:
    _, loaded = drafted(folder, "--stitches", "40", "--gauge", "swatch")
    assert loaded.piece.gauge == load(ROOT / "plans" / "swatch.yaml").piece.gauge


def test_a_camera_held_upright_is_seen_so(folder: Path) -> None:
    """Exif orientation 6: the picture is turned a quarter to the right to be seen (Exif 2.32, tag 274)."""
    codes = np.zeros((40, 80, 3), np.uint8)
    codes[:, :40] = 255
    exif = Image.Exif()
    exif[274] = 6
    Image.fromarray(codes).save(folder / "held.png", exif=exif)
    seen = opened(folder / "held.png")
    assert (seen.height, seen.width) == (80, 40)
    assert seen.codes[:40].min() == 255
    assert seen.codes[40:].max() == 0


def test_without_the_extra_one_sentence_says_what_to_install(folder: Path) -> None:
    bare = folder / "bare" / "numpy"
    bare.mkdir(parents=True)
    (bare / "__init__.py").write_text("raise ImportError\n", encoding="utf-8")
    ran = run(folder, "draft", "boat.png", *SIZE, PYTHONPATH=os.pathsep.join([str(bare.parent), str(ROOT)]))
    assert ran.code == 2
    assert ran.err == 'To draft from pictures install numpy and Pillow: pip install "rowside[draft]"\n'


AMISS = {
    "no size": (("--gauge", "20x28/10cm"), "How large is it to be? Give --stitches or --width."),
    "no gauge": (("--stitches", "40"), "How large is it to be? Give --gauge, such as 20x28/10cm."),
    "two sizes": ((*SIZE, "--width", "4cm"), "--stitches and --width say the same thing: give one of them."),
    "a price and strands": (
        (*SIZE, "--price", "4", "--strands", "5"), "--price and --strands say the same thing: give one of them."),
    "a gauge of nothing": (("--stitches", "40", "--gauge", "0x28"), 'The gauge "0x28" is not understood'),
    "a gauge with another sign": (("--stitches", "40", "--gauge", "20*28"), 'The gauge "20*28" is not understood.\n'),
    "a file and only choices": ((*SIZE, "--choices"), "--choices writes nothing: leave -o out."),
    "a file and only a show": ((*SIZE, "--show"), "--show writes nothing: leave -o out."),
    "a plan that is a picture": (
        (*SIZE, "-o", "q.png"), "The name of a plan ends in .yaml or .yml, such as q.yaml; q.png does not."),
    "a plan that is not there": (("--stitches", "40", "--gauge", "nowhere"), 'There is no plan file "nowhere" here'),
    "a crop beyond": ((*SIZE, "--crop", "100,0,100,20"), "The part to be cropped ends at 200, 20"),
    "a crop of nothing": ((*SIZE, "--crop", "0,0,0,20"), 'The part "0,0,0,20" is not understood.'),
    "a hold beyond": ((*SIZE, "--hold", "99,1"), "The chart has 42 rows of 40 stitches; row 99, stitch 1"),
    "a hold of no yarn": ((*SIZE, "--hold", "9,1=kelp"), 'No yarn "kelp" is there to hold stitches in.'),
    "a hold of nothing": ((*SIZE, "--hold", "9,0"), '"9,0" holds no stitches.'),
    "a ground of no colour": ((*SIZE, "--ground", "sandish"), '"ground" must be a CSS colour name'),
    "a width of no length": (("--gauge", "20x28", "--width", "40"), '"width" must be a length such as 10 cm'),
    "too many stitches": (("--gauge", "20x28", "--stitches", "4000"), "The chart has 4,000 x 4,200 stitches"),
    "yarns that are not there": ((*SIZE, "--yarns", "nothing.yaml"), 'The file "nothing.yaml" is not there.'),
}


@pytest.mark.parametrize("name", AMISS)
def test_what_is_amiss_is_told_with_what_to_do(folder: Path, name: str) -> None:
    words, said = AMISS[name]
    ran = run(folder, "draft", "boat.png", "-o", "plan.yaml", *words)
    assert ran.code == 2
    assert said in ran.err
    assert sorted(path.name for path in folder.iterdir() if path.name != "data") == ["boat.png"]


@pytest.mark.parametrize(("text", "said"), [
    ("yarns:\n  sea: blu\n", 'stash.yaml:2:8  "colour" must be a CSS colour name or of the form "#a8432f", and is '),
    ("sea: {metres: 4}\n", 'stash.yaml:1:1  The yarn "sea" has no colour.'),
    ("sea: {colour: blue, metres: lots}\n", 'stash.yaml:1:29  "metres" must be a number above 0'),
    ("- blue\n", "stash.yaml:1:1  No yarns stand here."),
    ("".join(f"y{number}: blue\n" for number in range(13)), "There are 13 yarns at hand, and a draft takes 12"),
])  # fmt: skip
def test_what_is_amiss_in_the_yarns_at_hand_is_told_by_line(folder: Path, text: str, said: str) -> None:
    (folder / "stash.yaml").write_text(text, encoding="utf-8")
    ran = run(folder, "draft", "boat.png", *SIZE, "--yarns", "stash.yaml")
    assert (ran.code, ran.out) == (2, "")
    assert said in ran.err
