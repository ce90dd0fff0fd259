"""The sections of a plan: plain rows, a chart or a field with motifs, their edges and their opening."""

from typing import Annotated

from pydantic import ConfigDict, Discriminator, Tag, ValidationError, model_validator

from companion.plan.schema import values as of
from companion.plan.schema.shapes import Shape, Stitch, hint, is_text
from companion.plan.schema.values import TAG, amiss


class PlainShape(Shape):
    """Rows in one yarn: so many, or as many as make a height by the gauge. Rows written beside a height hold. With
    neither there are as many as the section's shape tells of."""

    rows: Annotated[of.Count | None, hint("So many rows.")] = None
    height: Annotated[of.Length | None, hint('In place of rows, a length with its unit: "12 cm" or "5 in".')] = None
    stitches: Annotated[of.Count | None, hint("Without it, as many as lie on the needle.")] = None
    yarn: Annotated[of.YarnMeant, hint("The yarn, by its name.")]
    stitch: Stitch = "stockinette"

    @property
    def has_extent(self) -> bool:
        """Whether it says how many rows it has."""
        return self.rows is not None or self.height is not None


class FieldShape(PlainShape):
    """A ground in one yarn that motifs are placed on."""


class MotifShape(Shape):
    """A motif drawn in a file of its own and placed on the ground; "." in it lets the ground show."""

    from_: Annotated[of.FileName, hint("A text file in the plan's folder.", alias="from")]
    right: Annotated[of.Right, hint("Stitches of the ground to the right of it; or middle.")]
    bottom: Annotated[of.Limit, hint("Rows of the ground below it.")]
    mirror: Annotated[of.Switch, hint("Turned round, left for right.")] = False
    across: Annotated[of.Count, hint("So many side by side.")] = 1


class EdgeShape(Shape):
    """Stitches beside the chart."""

    stitches: Annotated[
        of.Count | None, hint("So many stitches wide; without it, as many as the piece is wider there.")
    ] = None
    yarn: Annotated[
        of.YarnMeant | None, hint("The yarn, by its name; without it the one that lies beside it.")
    ] = None
    stitch: Stitch = "stockinette"


class SidesShape(Shape):
    """Edges that differ, left and right as seen from the right side. One of the two may be left out."""

    left: EdgeShape | None = None
    right: EdgeShape | None = None


def _one_or_two(value: object) -> str:
    sides = isinstance(value, dict) and ("left" in value or "right" in value)
    return TAG + ("sides" if sides else "both")


Edges = Annotated[
    Annotated[EdgeShape, Tag(TAG + "both")] | Annotated[SidesShape, Tag(TAG + "sides")],
    Discriminator(_one_or_two),
    hint("The same edge on both sides, or left and right as seen from the right side."),
]


class FromShape(Shape):
    """A chart in a text file of its own."""

    from_: Annotated[of.FileName, hint("A text file in the plan's folder.", alias="from")]


Chart = Annotated[
    Annotated[of.Drawing, Tag(TAG + "text")] | Annotated[FromShape, Tag(TAG + "keys")],
    Discriminator(is_text),
    hint("Drawn as the fabric looks, the top line worked last; or run lengths: 6s 8b 18s"),
]


class OpeningShape(Shape):
    """From a row of the section on the piece is two parts, worked one after the other, until a row joins them."""

    first: Annotated[of.Side, hint("The part that is worked first, as seen from the right side.")]
    at: Annotated[
        of.Count | None,
        hint('Stitches to the right of it; without it, the first row with "." between its stitches.'),
    ] = None
    row: Annotated[of.Count, hint('With "at": in this row of the section, from the bottom.')] = 1
    rows: Annotated[
        of.Count | None,
        hint('So many rows high, then the parts are joined; without it, by the first row with no "." between them.'),
    ] = None
    middle: Annotated[of.Middle, hint("What becomes of stitches between the parts.")] = "bound off"

    @model_validator(mode="after")
    def _has_a_place(self) -> "OpeningShape":
        if self.at is None and "row" in self.model_fields_set:
            raise amiss('has "row" and no "at"; without it the opening begins in the first row with "." between.')
        return self


class SectionShape(Shape):
    """Some rows of the piece: plain ones, a chart, or a field with motifs."""

    model_config = ConfigDict(
        json_schema_extra={"oneOf": [{"required": ["plain"]}, {"required": ["chart"]}, {"required": ["field"]}]}
    )

    plain: PlainShape | None = None
    chart: Chart | None = None
    field: FieldShape | None = None
    motifs: Annotated[list[MotifShape], hint("What is placed on the field or the chart.")] = []
    mirror: Annotated[of.Switch, hint("The chart or field turned round, left for right.")] = False
    rows_per_square: Annotated[of.Squares, hint("2: a square of the chart is a garter ridge.")] = 1
    plain_first: Annotated[
        of.Switch, hint("A new colour's first stitches are knit as the right side looks, in any texture.")
    ] = False
    shape: Annotated[
        of.Wording | None, hint("In the trade's words, line by line: bind off 3 at the beginning of the next 2 rows.")
    ] = None
    edges: Edges | None = None
    opening: OpeningShape | None = None
    worked: Annotated[of.Worked, hint("Round: without turning, all rows right-side rows.")] = "flat"
    seam_stitches: Annotated[
        of.SeamStitches | None, hint("More stitches, for the seam where a tube is worked flat.")
    ] = None
    repeat: Annotated[of.Count, hint("Upwards: worked so many times.")] = 1
    across: Annotated[of.Count, hint("Sideways, between the edges.")] = 1
    says: Annotated[of.Said | None, hint("Told at its first row: a few sentences for whoever knits it.")] = None

    @property
    def has_no_width(self) -> bool:
        """Whether it is as wide as the other sections, without saying so."""
        ground = self.plain or self.field
        return self.is_filled or (ground is not None and ground.stitches is None)

    @property
    def is_filled(self) -> bool:
        """Whether an edge is as wide as the other sections leave room for."""
        sides = (self.edges.left, self.edges.right) if isinstance(self.edges, SidesShape) else (self.edges,)
        return any(edge is not None and edge.stitches is None for edge in sides)

    def of_width(self, stitches: int) -> "SectionShape":
        """The same, so many stitches wide between its edges."""
        return self._with({"stitches": stitches})

    def of_extent(self, stitches: int, rows: int) -> "SectionShape":
        """The same, so wide and so many rows high."""
        return self._with({"stitches": stitches, "rows": rows})

    def _with(self, wide: dict[str, int]) -> "SectionShape":
        return self.model_copy(update={
            "plain": self.plain and self.plain.model_copy(update=wide),
            "field": self.field and self.field.model_copy(update=wide),
        })  # fmt: skip

    @model_validator(mode="after")
    def _has_an_extent(self) -> "SectionShape":
        name, ground = ("field", self.field) if self.field else ("plain", self.plain)
        if ground is None or ground.has_extent:
            return self
        if self.shape is None:
            error = amiss('must say how many "rows" it has, or its "height".')
            raise ValidationError.from_exception_data("Section", [{"type": error, "loc": (name,), "input": None}])
        if self.repeat > 1:
            raise amiss('has "repeat", and its "shape" alone says how many rows it has.', 'Leave "repeat" out.')
        return self

    @model_validator(mode="after")
    def _can_be_shaped(self) -> "SectionShape":
        if self.shape is None:
            return self
        if self.worked == "round" or self.seam_stitches:
            what = 'has "shape" and is part of a tube, whose rows have no edges to shape.'
            raise amiss(what, "Only flat pieces are shaped.")
        if self.is_filled:
            what = 'has "shape", and its "edges" do not say how wide they are.'
            raise amiss(what, "Such as edges: {stitches: 4, stitch: garter}.")
        return self

    @model_validator(mode="after")
    def _is_one_of_three(self) -> "SectionShape":
        if sum(one is not None for one in (self.plain, self.chart, self.field)) != 1:
            raise amiss('must hold one of "plain", "chart" and "field".')
        if self.motifs and self.plain is not None:
            raise amiss('has "motifs" and no "field" or "chart" to place them on.')
        if self.rows_per_square > 1 and self.chart is None:
            raise amiss('has "rows_per_square" and no "chart"; the rows of plain ones and of fields are counted.')
        if self.seam_stitches and self.worked == "round":
            what = 'has "seam_stitches" and is worked round: rounds have no edges to sew up.'
            raise amiss(what, 'Leave it out, or "worked: round".')
        return self
