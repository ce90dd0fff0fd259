"""The picture of the fabric, looked at by a program of others: Pillow reads its pixels, expat its SVG."""

from __future__ import annotations

import io
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from companion.knitting.cloth.fabric import cells_across
from companion.knitting.cloth.rows import Place
from companion.knitting.hands.ends import ends_of
from companion.knitting.hands.looks import Made
from companion.knitting.piece import Piece
from companion.knitting.strands.plan import plan_strands
from companion.knitting.strands.strands import Strands
from companion.pages.fabric_picture import Drawing, drawing, in_half_blocks, png
from companion.pages.fabric_svg import svg
from companion.pages.half_blocks import CROSS, END
from companion.plan.demo import demo_plans
from companion.plan.read import load, load_text
from tests.plan.plans import HEAD

DEMOS = [path.stem for path in demo_plans()]
PURLED = f"{HEAD}  B: {{yarn: brick, stitch: reverse}}\n"
GROUND = (255, 255, 255)
Pixel = tuple[int, int, int]


def demo(name: str) -> tuple[Piece, Strands]:
    return planned(next(load(path).piece for path in demo_plans() if path.stem == name))


def planned(piece: Piece) -> tuple[Piece, Strands]:
    return piece, plan_strands(piece.rows, piece.carry).strands


def quay(*lines: str, head: str = HEAD, rows: int = 28) -> tuple[Piece, Strands]:
    drawn = "".join(f"      {line}\n" for line in lines)
    text = f"{head.replace('rows: 28', f'rows: {rows}')}rows:\n  - chart: |\n{drawn}"
    return planned(load_text(text, "quay.yaml", {}.__getitem__).piece)


class Seen:
    """A picture as pixels: stitches lie in it from the left and from the foot, a stitch and a row from its edges, or
    more rows below where something hangs there."""

    def __init__(self, drawn: Drawing, least_px: int = 0) -> None:
        self.image = Image.open(io.BytesIO(png(drawn, least_px)))
        self.image.load()
        self.columns, self.rows = len(drawn.looks[0]), len(drawn.looks)
        across, down = self.columns + 2, self.rows + 1 + drawn.below
        self.wide, self.high = self.image.width // across, self.image.height // down
        assert self.image.size == (self.wide * across, self.high * down)

    def middle(self, from_left: int, level: int) -> Pixel:
        return self.at(from_left + 0.5, level + 0.5)

    def at(self, stitches: float, rows: float) -> Pixel:
        found = self.image.getpixel((int((stitches + 1) * self.wide), int((self.rows + 1 - rows) * self.high)))
        assert isinstance(found, tuple)
        return found[0], found[1], found[2]


def colour(piece: Piece, yarn: str) -> Pixel:
    red, green, blue = bytes.fromhex(piece.yarn(yarn).colour[1:])
    return red, green, blue


@pytest.mark.parametrize("name", DEMOS)
def test_the_middle_of_every_stitch_is_in_its_yarn_and_where_there_is_none_is_the_ground(name: str) -> None:
    """On the right side what is sewn on, on the wrong side what is knitted; nothing that lies loose is looked at. No
    demo has slipped edges, which would show a colour late."""
    piece, strands = demo(name)
    assert not piece.has_slipped_edges
    right, wrong = Seen(drawing(piece, strands)), Seen(drawing(piece, strands, "WS")._replace(threads=()))
    for level in range(len(piece.fabric.levels)):
        for column, stitch in enumerate(cells_across(piece.fabric, level)[:right.columns], 1):
            front, back = right.middle(right.columns - column, level), wrong.middle(column - 1, level)
            if stitch:
                assert (front, back) == (colour(piece, stitch.sewn or stitch.yarn), colour(piece, stitch.yarn))


def test_where_there_is_no_stitch_is_the_ground() -> None:
    seen = Seen(drawing(*quay(".ss.", ".ss.", "ssss", "ssss")))
    assert {seen.middle(0, 3), seen.middle(3, 3), seen.at(-0.5, 2), seen.at(4.5, 2), seen.at(1.5, 4.9)} == {GROUND}


@pytest.mark.parametrize(("rows", "columns"), [(28, 20), (20, 20), (30, 17), (24, 60)])
def test_stitches_have_the_proportion_of_the_gauge(rows: int, columns: int) -> None:
    """Twenty stitches are as wide as so many rows are high; a picture is right to half a row."""
    seen = Seen(drawing(*quay(*["s" * columns] * 12, rows=rows)))
    ratio, meant = Fraction(seen.wide, seen.high), Fraction(rows, 20)
    assert abs(ratio / meant - 1) <= Fraction(1, 2 * 12)


def test_the_legs_of_stitches_make_teeth_where_colours_meet_and_no_line_is_of_one_shade() -> None:
    piece, strands = quay("bbbb", "bbbb", "ssss", "ssss")
    seen = Seen(drawing(piece, strands), 24)
    sand, brick = colour(piece, "sand"), colour(piece, "brick")
    assert seen.at(1.5, 2.1) == brick, "the foot of a V is in its middle"
    assert (seen.at(1.275, 2.02), seen.at(1.725, 2.02)) == (sand, sand), "beside it stand the legs from below"
    across = [seen.at(x / 40, 0.6) for x in range(20, 140)]
    assert len(set(across)) > 6
    assert all({one, other} != {GROUND} for one, other in pairwise(across))


def test_the_first_ridge_of_purls_shows_the_yarn_below_among_its_own() -> None:
    piece, strands = quay("BBBB", "BBBB", "ssss", "ssbs", head=PURLED)
    seen = Seen(drawing(piece, strands), 24)
    foot, above = ({seen.at(1 + x / 20, level + 0.16) for x in range(20)} for level in (2, 3))
    assert {colour(piece, "sand"), colour(piece, "brick")} <= foot
    assert colour(piece, "sand") not in above


def test_what_is_not_worked_is_pale() -> None:
    """Two thirds of the way to white: brick, #a52a2a, becomes #e1b8b8 (165 + 60, 42 + 142)."""
    piece, strands = quay("bbbb", "bbbb")
    seen = Seen(drawing(piece, strands, made=Made(Place(0, 1), (), ())))
    assert (seen.middle(1, 0), seen.middle(1, 1)) == ((165, 42, 42), (225, 184, 184))


def test_some_rows_are_the_same_as_they_lie_in_the_whole() -> None:
    piece, strands = demo("swatch")
    whole, part = Seen(drawing(piece, strands), 24), Seen(drawing(piece, strands, levels=(6, 11)), 24)
    assert (part.rows, part.wide, part.high) == (6, whole.wide, whole.high)
    for level in range(6):
        for at in range(part.columns):
            assert part.middle(at, level) == whole.middle(at, level + 6)


@pytest.mark.parametrize("name", DEMOS)
def test_each_end_of_the_ledger_hangs_once_and_is_woven_in_if_it_is_wanted_so(name: str) -> None:
    piece, strands = demo(name)
    ends = ends_of(strands)
    kinds = [[thread.kind for thread in drawing(piece, strands, "WS", is_woven=one).threads] for one in (False, True)]
    assert [found.count("tail") for found in kinds] == [len(ends), 0]
    assert [found.count("woven") for found in kinds] == [0, len(ends)]
    made = Made(Place(len(piece.rows) - 1, len(piece.rows[-1].segments)), (), ends[:3])
    found = [thread.kind for thread in drawing(piece, strands, "WS", made=made).threads]
    assert (found.count("tail"), found.count("woven")) == (len(ends) - 3, 3)


def test_ends_and_crosses_that_are_not_there_yet_are_pale() -> None:
    piece, strands = quay("sbbs", "sbbs", "sbbs")
    made = Made(Place(1, 1), (), ())
    threads = drawing(piece, strands, "WS", made=made).threads
    crosses = [thread.is_worked for thread in threads if thread.kind == "cross"]
    assert crosses == [True] * 4 + [False] * 8, "two crosses in each row, two ways each; of row 2 one run is worked"
    assert [thread.is_worked for thread in threads if thread.kind == "tail"] == [True] * 3 + [False] * 3


def test_an_end_hangs_down_from_its_gap_on_the_side_of_its_own_stitches() -> None:
    """Brick is joined at the third gap from the right edge in row 5, and cut at the fourth; on the wrong side the
    right edge is at the left. In between lies its stitch, on which both ends hang."""
    piece, strands = quay("ssssss", "ssbsss", "ssssss", "ssssss", "ssssss", "ssssss")
    drawn = drawing(piece, strands, "WS")
    hung, bare = Seen(drawn, 24), Seen(drawn._replace(threads=()), 24)
    brick, sand = colour(piece, "brick"), colour(piece, "sand")
    ends = [one for one in drawn.threads if one.kind == "tail" and one.yarn == "brick"]
    assert sorted(one.at for one in ends) == [(3, 4), (4, 4)]
    for row in (2, 3):
        line = [x / 24 for x in range(3 * 24, 4 * 24 + 12)]
        assert brick in {hung.at(x, row + 0.4) for x in line}
        assert brick not in {bare.at(x, row + 0.4) for x in line}
    assert brick not in {hung.at(x / 24, row + 0.4) for x in range(1, 6 * 24) for row in (0, 5)}
    assert hung.at(5.5, 2.5) == bare.at(5.5, 2.5)
    soft = {hung.at(x / 24, 2.5) for x in range(60, 120)} - {bare.at(x / 24, 2.5) for x in range(60, 120)}
    assert all(max(brick[at], sand[at]) + 60 >= pixel[at] for pixel in soft for at in range(3))


def test_at_a_cross_the_old_strand_lies_on_top() -> None:
    """In row 1 the knitter comes from the right: sand is crossed over brick, then brick over sand."""
    piece, strands = quay("sbbs")
    crosses = [one for one in drawing(piece, strands, "WS").threads if one.kind == "cross"]
    assert [(one.yarn, one.at.gap) for one in crosses] == [("brick", 1), ("sand", 1), ("sand", 3), ("brick", 3)]
    seen = Seen(drawing(piece, strands, "WS"), 24)
    assert min(seen.at(1, 0.5)) > 100 > max(seen.at(3, 0.5)[1:]), "sand, then brick, with light on them"


def test_where_a_float_is_caught_the_stitch_that_catches_it_lies_over_it() -> None:
    """Brick passes twelve stitches of row 2 and is caught three times: once by its own yarn, twice by sand."""
    head = f"{HEAD}carry: {{reach: 12}}\n"
    piece, strands = quay("bbbbssssssssssss", "ssssssssssssbbbb", head=head)
    caught = [one for one in drawing(piece, strands, "WS").threads if one.kind == "catch" and one.at.level == 1]
    assert [(one.yarn, one.at.gap) for one in caught if one.at.gap in (5, 9, 13)] == [
        ("sand", 5), ("sand", 9), ("brick", 13),
    ]


def test_a_woven_end_lies_behind_the_stitches_of_its_route() -> None:
    """The only end of sand that begins: at the right edge of row 1, on the left of the wrong side; it is woven in
    through stitches of its own, each point in the middle of a column."""
    piece, strands = quay("ssssssssssss", "ssssssssssss")
    first = next(one for one in drawing(piece, strands, "WS", is_woven=True).threads if one.kind == "woven")
    assert first.at == (0, 0)
    places = [(x, y) for x, y in first.points[1:]]
    assert places[0][0] == 0.5
    assert all(x % 1 == 0.5 and 0 < x < 12 and 0 < y < 2 for x, y in places)


HOSTILE = ["</title><script>alert(1)</script>", "]]>", "\u202eevil", "港の灯 & <b>", '"/><image href="http://x"/>']


@pytest.mark.parametrize("title", HOSTILE)
def test_a_title_makes_no_element_in_svg_whatever_it_says(title: str) -> None:
    piece, strands = quay("sbs", "sbs")
    for side in ("RS", "WS"):
        drawn = drawing(piece, strands, side)._replace(title=title)
        written = svg(drawn)
        root = ElementTree.fromstring(written)
        names = {element.tag.removeprefix("{http://www.w3.org/2000/svg}") for element in root.iter()}
        assert names == {"svg", "title", "defs", "g", "path", "rect", "use"}
        assert {key for element in root.iter() for key in element.attrib} <= {
            "width", "height", "viewBox", "role", "id", "d", "fill", "href", "x", "y",
        }
        assert all(href.startswith("#k") for element in root.iter() if (href := element.get("href")))
        assert root[0].text == title.replace("\u202e", "<202E>")
        assert "\u202e" not in written


def test_svg_has_each_stitch_and_each_thread_where_pixels_have_it() -> None:
    piece, strands = demo("swatch")
    drawn = drawing(piece, strands, "WS")
    root = ElementTree.fromstring(svg(drawn))
    space = "{http://www.w3.org/2000/svg}"
    uses = root.findall(f"{space}use")
    stitches = sum(look is not None for row in drawn.looks for look in row)
    assert len(uses) == stitches + len(drawn.threads)
    seen = Seen(drawn)
    assert (root.get("width"), root.get("height")) == tuple(map(str, seen.image.size))
    kinds = {f"#{group.get('id')}": [path.get("fill") for path in group] for group in root.iter(f"{space}g")}
    bare = Seen(drawn._replace(threads=()))
    for use in uses[:stitches]:
        x, y = float(use.get("x", "")) + seen.wide / 2, float(use.get("y", "")) - seen.high / 2
        found = bare.image.getpixel((int(x), int(y)))
        assert isinstance(found, tuple)
        assert "#{:02x}{:02x}{:02x}".format(*found[:3]) in kinds[str(use.get("href"))]


def test_in_half_blocks_a_point_is_a_stitch_and_bumps_are_darker() -> None:
    piece, strands = quay("sB.", "bbb", head=PURLED)
    picture = in_half_blocks(drawing(piece, strands), piece)
    assert [[yarn and yarn.name for yarn in row] for row in picture.rows] == [
        ["brick", "brick", "brick"], [None, "brick", "sand"],
    ]
    bump, plain = picture.rows[1][1], picture.rows[0][1]
    assert bump is not None
    assert plain is not None
    assert plain.colour == "#a52a2a"
    assert int(bump.colour[1:3], 16) < 0xA5


def test_in_half_blocks_ends_lie_on_their_own_stitches_and_crosses_between_two_yarns() -> None:
    """From column 1, at the left of the wrong side: sand, brick, three sand. Row 1 goes to higher columns, and each
    strand begins where it is entered; row 2 comes back, and there it ends; but the strand at column 1 binds off all
    and ends at column 5. The strand that was worked with lies over the next one."""
    piece, strands = quay("sssbs", "sssbs")
    picture = in_half_blocks(drawing(piece, strands, "WS"), piece)
    ends = sorted((mark.level, mark.x) for mark in picture.marks if mark.sign == END)
    assert ends == [(0, 0.5), (0, 1.5), (0, 2.5), (1, 1.5), (1, 2.5), (1, 4.5)]
    sand, brick = piece.yarn("sand").colour, piece.yarn("brick").colour
    crosses = sorted((mark.level, mark.x, mark.colours) for mark in picture.marks if mark.sign == CROSS)
    assert crosses == [
        (0, 1, (sand, brick)), (0, 2, (brick, sand)), (1, 1, (brick, sand)), (1, 2, (sand, brick)),
    ]  # fmt: skip
    assert in_half_blocks(drawing(piece, strands), piece).marks == (), "on the right side there are none"
    upper = in_half_blocks(drawing(piece, strands, "WS", levels=(1, 1)), piece)
    assert {mark.level for mark in upper.marks} == {0}, "of some rows those that lie on them"


def test_in_half_blocks_of_a_piece_in_work_ends_that_are_not_there_or_woven_in_are_not_seen() -> None:
    piece, strands = quay("sssbs", "sssbs")
    made = Made(Place(1, 0), frozenset(), frozenset({ends_of(strands)[0]}))
    marks = in_half_blocks(drawing(piece, strands, "WS", made=made), piece).marks
    assert [(mark.level, mark.x) for mark in marks if mark.sign == END] == [(0, 1.5), (0, 2.5)]


@pytest.mark.parametrize("name", ["gull-on-the-quay", "anchor-pennant"])
def test_the_pictures_in_readme_are_those_that_are_drawn(name: str) -> None:
    """If not: rowside picture NAME -o tests/pages/pictures/NAME.png --force"""
    there = Path(__file__).parent / "pictures" / f"{name}.png"
    with Image.open(io.BytesIO(png(drawing(*demo(name))))) as new, Image.open(there) as old:
        assert new.tobytes() == old.tobytes()  # how well it is packed is the affair of zlib
