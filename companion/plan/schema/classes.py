"""A class: one plan, and what each student has that is another than the plan's."""

from typing import Annotated

from companion.plan.schema import values as of
from companion.plan.schema.plans import BallShape, GaugeShape, PlanShape, SampleShape, YarnShape
from companion.plan.schema.shapes import Shape, hint


class OwnYarnShape(Shape):
    """What a student has in place of a yarn of the plan; what she does not say is as with the plan's."""

    name: of.Name | None = None
    colour: of.Colour | None = None
    ball: BallShape | None = None

    def in_place_of(self, yarn: YarnShape) -> YarnShape:
        """The yarn of the plan as the student has it."""
        return YarnShape.model_construct(colour=self.colour or yarn.colour, ball=self.ball or yarn.ball)


class StudentShape(Shape):
    """One student."""

    name: of.Name
    gauge: GaugeShape | None = None
    sample: SampleShape | None = None
    yarns: Annotated[dict[of.Name, OwnYarnShape], hint("By the plan's names.")] = {}
    size: Annotated[of.Name | None, hint("Hers, where the plan is in sizes.")] = None
    hands: of.Hands = "right"
    terms: of.Dialect | None = None
    units: of.Unit | None = None

    def in_hand(self, plan: PlanShape) -> PlanShape:
        """The plan at the student's gauge, in her yarns and words. At a gauge of her own the plan's sample of yarn,
        which was knitted at another one, tells nothing."""
        yarns = {
            name: self.yarns[name].in_place_of(yarn) if name in self.yarns else yarn
            for name, yarn in plan.yarns.items()
        }
        return plan.model_copy(update={
            "gauge": self.gauge or plan.gauge, "sample": self.sample or (None if self.gauge else plan.sample),
            "yarns": yarns, "terms": self.terms or plan.terms, "units": self.units or plan.units,
        })  # fmt: skip


class ClassShape(Shape):
    """One plan that several students knit."""

    class_: Annotated[of.Version, hint("Version of this way of writing.", alias="class")]
    title: of.Title
    plan: of.PlanName
    students: Annotated[list[StudentShape], hint("Each with a name.", min_length=1, max_length=100)]
