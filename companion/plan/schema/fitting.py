"""A tree of texts to the plan it describes, or everything in it that does not fit."""

from __future__ import annotations

from typing import Literal, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from companion.knitting.value import Record
from companion.plan.schema.plans import PlanShape
from companion.plan.schema.sections import SectionShape
from companion.plan.schema.shapes import Shape
from companion.plan.schema.values import TAG

_S = TypeVar("_S", bound=Shape)


class Misfit(Record):
    """Something that does not fit the shape, and the path of keys and list places (from 0) that leads to it.

    ``kind``: "amiss" (``what`` goes on from the key's name), "missing" or "unknown" (the path's last key is), or
    "no keys" (a ``value`` stands where keys should);
    ``known``: names the typed ``value`` or key may have been meant for. ``is_key``: the key itself is amiss.
    """

    path: tuple[str | int, ...]
    kind: Literal["amiss", "missing", "unknown", "no keys"]
    what: str = ""
    mend: str = ""
    known: tuple[str, ...] = ()
    value: str = ""
    is_key: bool = False


def fit(data: object) -> tuple[PlanShape | None, list[Misfit]]:
    """The plan that a tree of texts describes; None, and everything that does not fit, when something does not."""
    return fit_shape(PlanShape, data)


def fit_shape(shape: type[_S], data: object) -> tuple[_S | None, list[Misfit]]:
    """The same of another file's shape."""
    try:
        return shape.model_validate(data), []
    except ValidationError as error:
        return None, [_misfit(one) for one in error.errors(include_url=False)]


def fit_section(data: object) -> SectionShape | None:
    """One section by itself; None when it does not fit."""
    try:
        return SectionShape.model_validate(data)
    except ValidationError:
        return None


_TOO_FEW = {
    "yarns": "needs at least one yarn.", "rows": "needs at least one section.",
    "students": "needs one student at least, and may have 100.",
}  # fmt: skip


def _misfit(one: ErrorDetails) -> Misfit:
    path = tuple(part for part in one["loc"] if not (isinstance(part, str) and part.startswith(TAG)))
    is_key = path[-1:] == ("[key]",)
    path = path[:-1] if is_key else path
    context = one.get("ctx", {})
    match one["type"]:
        case "missing":
            return Misfit(path, "missing")
        case "unknown key":
            return Misfit(path, "unknown", known=context["known"], value=str(path[-1]))
        case "no keys":
            return Misfit(path, "no keys", known=context["known"], value=context["value"])
        case "amiss":
            known, value = context["known"], context["value"]
            return Misfit(path, "amiss", context["what"], context["mend"], known, value, is_key)
        case "list_type":
            return Misfit(path, "amiss", "must be a list.", _LIST_MEND.get(path[-1], ""))
        case "dict_type":
            return Misfit(path, "amiss", "must hold keys of its own.", _DICT_MEND.get(path[-1], ""))
    what = _TOO_FEW.get(str(path[-1]), "must be two numbers, knit columns and purl columns.")
    return Misfit(path, "amiss", what)


_LIST_MEND: dict[str | int, str] = {
    "rows": 'Each section begins with "- plain:" or "- chart:".',
    "students": 'Each student has a line that begins with "- name:".',
    "motifs": 'Each motif has a line that begins with "- ".',
    "rib": "Write the knit and the purl columns: {rib: [2, 2]}",
}
_DICT_MEND: dict[str | int, str] = {
    "yarns": 'Each yarn has a line such as: sand: {colour: "#d9c9a5"}',
    "symbols": "Each symbol has a line such as: s: sand",
}
