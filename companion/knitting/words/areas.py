"""Small areas that are sewn on afterwards, in words."""

from __future__ import annotations

from companion.knitting.cloth.areas import Area, stitch_number
from companion.knitting.cloth.fabric import Fabric
from companion.knitting.cloth.rows import Rows
from companion.knitting.words.places import row_noun, rows_noun
from companion.knitting.words.terms import Terms, how_many, stitches_in_full

SEWN_ON_COUNTED = "Ends and yarn are with those of what is sewn on."

NOTHING_SEWN_ON = "Nothing is sewn on to this piece."

def areas_placed(rows: Rows) -> str:
    """How the places of areas are counted."""
    noun = rows_noun(rows).capitalize()
    return f"{noun} from the cast-on, stitch from the right edge, seen from the right side: where each begins."


def thick(terms: Terms) -> str:
    """What is to be borne in mind before choosing to sew."""
    return f"{terms.duplicate_stitch.capitalize()} lies double: thicker, and it gives less. Keep it to small areas."


def areas_save(number: int, strands: int, ends: int) -> str:
    """What all of them save together, the tails that sewing leaves taken off."""
    which = "It saves" if number == 1 else f"All {number} together save"
    return f"{which} {how_many(strands, 'strand')} and {how_many(ends, 'end')}, the tails of sewing taken off."


def areas_sewn(number: int) -> str:
    """How many the plan has already."""
    return f"Sewn on by the plan: {how_many(number, 'area')}."


def area_to_sew(fabric: Fabric, area: Area, lengths: int) -> str:
    """One area of a fabric to be sewn on: "8 stitches of lamplight from row 54, stitch 13 from the right, with 1
    length". Its row is counted from the cast-on."""
    stitch = stitch_number(fabric, area.first)
    row = fabric.rows[area.first.row]
    part = f" of the {row.part} part" if row.part else ""
    place = f"from {row_noun(row)} {fabric.level(area.first.row) + 1}, stitch {stitch} from the right{part}"
    return f"{stitches_in_full(area.stitches)} of {area.yarn} {place}, with {how_many(lengths, 'length')}"


def sewing_title(left: int, terms: Terms) -> str:
    """Above the list of what is sewn on."""
    return f"{terms.duplicate_stitch.capitalize()}: {how_many(left, 'area')} to sew on."


def sewing_line(fabric: Fabric, area: Area, lengths: int, *, is_sewn: bool) -> str:
    """One area in that list."""
    return f"{'done' if is_sewn else 'to do'}: {area_to_sew(fabric, area, lengths)}"


def how_to_sew(area: Area, tail: str, terms: Terms) -> list[str]:
    """How one area is sewn on ("How to work duplicate stitch"; left-handed the other way: common practice, no
    source). ``tail``: what is left of the yarn at both ends, in words."""
    way = f"{terms.coming} to {terms.going}"
    return [
        f"{area.yarn.capitalize()}, {way}, from the bottom up; leave {tail} at both ends to {terms.weave_in}.",
        "Up through the base of the stitch, behind the two legs of the one above, down through the base again.",
    ]
