"""The text of a plan on its way to a file: read as every plan is, and changed where it was answered otherwise."""

from __future__ import annotations

from collections.abc import Mapping

from companion.drafts.written import gauge_values, yarn_in_yaml
from companion.knitting.cloth.fabric import Gauge, Yarn
from companion.knitting.cloth.tubes import stitches_across
from companion.knitting.strands.limits import Carry
from companion.knitting.value import Record
from companion.knitting.words.places import rows_noun
from companion.knitting.words.sizes import bare_title
from companion.knitting.words.terms import count, how_many
from companion.plan.amount import AmissError
from companion.plan.edit import name_in_yaml, read_again, with_keys, with_names, with_value
from companion.plan.read import Loaded, load_text

_NAME = "the new plan"


class Made(Record):
    """``files``: those that it draws in, by their names. ``notes``: what is to be known of it, in sentences."""

    text: str
    loaded: Loaded
    notes: tuple[str, ...] = ()

    @property
    def files(self) -> Mapping[str, str]:
        """What it draws in."""
        return self.loaded.files

    @property
    def title(self) -> str:
        """What the plan is called, in whatever size."""
        return bare_title(self.loaded.piece.title, self.loaded.size)

    def anew(self, text: str) -> Made:
        """Its text changed, and read in the same size.

        Raises:
            Problems: it cannot be knitted so, in one of its sizes.
        """
        return Made(text, read_again(text, _NAME, self.loaded), self.notes)


def made(text: str, files: Mapping[str, str] | None = None, notes: tuple[str, ...] = ()) -> Made:
    """A text read.

    Raises:
        Problems: it is no plan that can be knitted.
    """
    return Made(text, load_text(text, _NAME, files or {}), notes)


def changed(made_of: Made, title: str, gauge: Gauge, yarns: tuple[Yarn, ...]) -> Made:
    """The same with another title, another gauge, its yarns in their order with other names, colours and balls; all
    else, and every comment, stays.

    Raises:
        Problems: it cannot be knitted so.
        AmissError: its text has no room for it.
    """
    text, piece = made_of.text, made_of.loaded.piece
    if title != made_of.title:
        text = with_value(text, "title", name_in_yaml(title))
    if gauge != piece.gauge:
        text = with_keys(text, "gauge", gauge_values(gauge))
    new = {
        old.name: yarn_in_yaml(yarn) for yarn, old in zip(yarns, piece.yarns, strict=True)
        if (yarn.colour, yarn.ball) != (old.colour, old.ball)
    }  # fmt: skip
    text = with_keys(text, "yarns", new) if new else text
    names = {old.name: yarn.name for yarn, old in zip(yarns, piece.yarns, strict=True) if yarn.name != old.name}
    text = with_names(text, names) if names else text
    again = made_of.anew(text)
    now = again.loaded.piece
    wanted = [(yarn.name, yarn.colour, yarn.ball) for yarn in yarns]
    found = [(yarn.name, yarn.colour, yarn.ball) for yarn in now.yarns]
    if (again.title, now.gauge) != (title, gauge) or found != wanted:
        raise AmissError("cannot be put into this plan.", "Keep what stands there, and change it by hand afterwards.")
    return again


def limited(made_of: Made, limits: Carry) -> Made:
    """The same under these limits."""
    piece = made_of.loaded.piece
    if limits == piece.carry:
        return made_of
    values = {key: str(value) for key, value in limits._asdict().items() if not key.startswith("share")}
    return made_of.anew(with_keys(made_of.text, "carry", values))


def summary(made_of: Made) -> str:
    """What it is, and what is to be known of it, a sentence a line."""
    piece, warnings = made_of.loaded.piece, made_of.loaded.warnings
    across = max(stitches_across(row) for row in piece.fabric.picture)
    rows = how_many(len(piece.fabric.levels), rows_noun(piece.rows))
    what = f"{piece.title}: {count(across)} x {rows}, {how_many(len(piece.yarns), 'yarn')}."
    return "\n".join((what, *made_of.notes, *(warning.what for warning in warnings)))
