"""What a knitter asks of a picture, read and checked; and the plans that answer it."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import numpy as np

from companion.drafts import held, picture, stash
from companion.drafts.colours import light_of
from companion.drafts.drafting import (
    MOST_STITCHES,
    NO_STITCH,
    PRICES,
    USUAL_PRICE,
    Drafted,
    Drafting,
    fewest_colours,
    yarns_at_hand,
    yarns_to_buy,
)
from companion.drafts.ground import NO_GROUND, ground_colour
from companion.drafts.outline import HALF, outline_of
from companion.drafts.palette import MOST_COLOURS
from companion.drafts.stitches import Looks, looks_of, parts_of, rows_of
from companion.drafts.written import plan_text
from companion.knitting.cloth.fabric import Gauge, Stitch, Yarn
from companion.knitting.howfar import HowFar, untold
from companion.knitting.piece import Piece
from companion.knitting.reckoning.choices import Figures, compared
from companion.knitting.reckoning.quantities import lengths, totals
from companion.knitting.strands.limits import default_reach
from companion.knitting.strands.plan import plan_strands
from companion.knitting.value import Record
from companion.plan.amount import AmissError, length_cm
from companion.plan.read import Loaded, load_text
from companion.problems import Problem, Problems, quoted

USUAL_COLOURS = 6
WITHIN = 1.0
"""So much more CIEDE2000 hardly anybody sees."""


class Asked(Record):
    """The options as they were typed; None where nothing was."""

    stitches: int | None = None
    width: str | None = None
    colours: int | None = None
    yarns: str | None = None
    price: int | None = None
    strands: int | None = None
    hold: tuple[str, ...] = ()
    ground: str | None = None
    crop: str | None = None
    is_flipped: bool = False
    is_sideways: bool = False


class Request:
    """A picture laid on stitches, the yarns for it, and the charts that were asked for."""

    def __init__(self, path: Path, gauge: Gauge, asked: Asked, words: str) -> None:
        """Raises:
        Problems: the picture, or what is asked of it, is amiss.
        """
        self._path, self._gauge, self._asked, self._words = path, gauge, asked, words
        self._reach = default_reach(gauge)
        self._held = tuple(one for word in asked.hold for one in held.held(word))
        self._stash = stash.at_hand(Path(asked.yarns)) if asked.yarns is not None else ()
        if len(self._stash) > MOST_COLOURS and asked.colours is None:
            what = f"There are {len(self._stash)} yarns at hand, and a draft takes {MOST_COLOURS} at most."
            mend = "Say how many of the best are to be chosen: --colours"
            raise Problems([Problem(what, asked.yarns or "", mend=mend)])
        is_outlined = asked.ground == NO_GROUND
        ground = None if asked.ground is None or is_outlined else light_of([ground_colour(asked.ground)])[0]
        shown = picture.opened(path, None if asked.crop is None else _box(asked.crop))
        if shown.cover is not None and asked.ground is None:
            what = "The picture is transparent in places."
            mend = f"Say what colour lies there, such as --ground white, or that no stitch does: --ground {NO_GROUND}"
            raise Problems([Problem(what, str(path), mend=mend)])
        self._pixels = f"{shown.width} x {shown.height} pixels"
        shown = shown.flipped() if asked.is_flipped else shown
        self._picture, self._is_outlined = shown, is_outlined and shown.cover is not None
        self._ground = None if self._is_outlined else np.ones(3) if ground is None else ground
        self._missed = 0.0
        self._looks = self._laid(is_sideways=asked.is_sideways)
        self._drafting = Drafting(self._looks, self._yarns(), self._held, self._reach)

    @property
    def size(self) -> str:
        """How large the piece is, in words."""
        wide, high = self._looks.stitches * self._gauge.stitch_cm, self._looks.rows * self._gauge.row_cm
        return f"{self._looks.stitches} sts x {self._looks.rows} rows, {float(wide):.0f} x {float(high):.0f} cm"

    def drafted(self, told: HowFar = untold) -> Drafted:
        """The chart that is asked for."""
        if self._asked.strands is not None:
            return self._drafting.with_strands(self._asked.strands, told)
        return self._drafting.at(USUAL_PRICE if self._asked.price is None else self._asked.price)

    def plan(self, drafted: Drafted) -> tuple[str, Loaded]:
        """A chart as the text of a plan, and that read as every plan is."""
        digest = hashlib.sha256(self._path.read_bytes()).hexdigest()[:16]
        notes = [
            f"Drafted from {self._path.name} ({self._pixels}, SHA-256 {digest}...) by",
            self._words,
            f"{drafted.strands} strands at a price of {drafted.price}; mean difference from the picture "
            f"{drafted.difference:.2f} (CIEDE2000).",
            "The yarns have the names of colours, which are yours to change, and so is every stitch.",
        ]
        symbol = {yarn.name: yarn.symbol for yarn in drafted.yarns}
        symbol[NO_STITCH] = "."
        drawn = ("".join(symbol[name] for name in reversed(row)) for row in reversed(drafted.grid))
        symbols = {yarn.symbol: Stitch(yarn.name) for yarn in drafted.yarns}
        text = plan_text(self._path.stem, self._gauge, self._reach, drafted.yarns, symbols, drawn, notes)
        return text, load_text(text, "the drafted plan", {})

    def ladder(self, told: HowFar = untold) -> Iterator[tuple[Drafted, Figures]]:
        """The chart at every price, and what each costs."""
        meant = self.drafted(told)
        prices = sorted({*PRICES, meant.price})
        for number, price in enumerate(prices):
            told(number / len(prices))
            drafted = self._drafting.at(price)
            piece = self.plan(drafted)[1].piece
            yield drafted, next(compared(piece, [piece.carry])).figures

    def offers(self, told: HowFar = untold) -> Iterator[str]:
        """What else would be cheaper, in words: fewer colours, and knitting it the other way."""
        meant = self.drafted()
        if self._asked.yarns is None:
            charts = []
            palettes = yarns_to_buy(self._looks, self._asked.colours or USUAL_COLOURS)
            for number, yarns in enumerate(palettes):
                told(number / (len(palettes) + 1))
                charts.append(self._in(yarns).at(meant.price))
            fewest = fewest_colours(charts, WITHIN)
            if len(fewest.yarns) < len(meant.yarns):
                yield (
                    f"With --colours {len(fewest.yarns)} the difference is {fewest.difference:.2f}: "
                    f"{fewest.strands} strands."
                )
        told(1)
        other = self._laid(is_sideways=not self._asked.is_sideways)
        if not self._held and other.rows * other.stitches <= MOST_STITCHES:
            turned = Drafting(other, self._drafting.yarns, (), self._reach).at(meant.price)
            if turned.strands < meant.strands:
                way = "Upright" if self._asked.is_sideways else "Knitted --sideways"
                yield (
                    f"{way} ({other.stitches} sts x {other.rows} rows) it takes {turned.strands} strands in place of "
                    f"{meant.strands}, the difference being {turned.difference:.2f}."
                )

    def to_be_told(self, drafted: Drafted, piece: Piece) -> Iterator[str]:
        """What is not as it was asked for."""
        if self._missed >= 0.02:
            yield f"Of what is there {self._missed:.0%} lies outside the outline: a row is one stretch of stitches."
        wanted = self._asked.strands
        if wanted is not None and drafted.strands > wanted:
            yield f"Not {wanted}, but {drafted.strands} strands are the fewest that were found."
        there = {yarn.name: yarn.metres for yarn in self._stash if yarn.metres is not None}
        if not there:
            return
        for total in totals(piece, lengths(piece, plan_strands(piece.rows, piece.carry).strands)):
            metres = there.get(total.yarn.name)
            if metres is not None and total.cm > 100 * metres:
                needed = f"{float(total.cm / 100):.1f} m"
                yield f"Of {total.yarn.name} it takes {needed}, and {float(metres):g} m are there."

    def _yarns(self) -> tuple[Yarn, ...]:
        if self._stash:
            return yarns_at_hand(self._looks, self._stash, self._asked.colours or MOST_COLOURS)
        return yarns_to_buy(self._looks, self._asked.colours or USUAL_COLOURS)[-1]

    def _in(self, yarns: tuple[Yarn, ...]) -> Drafting:
        return Drafting(self._looks, yarns, [one for one in self._held if not one.yarn], self._reach)

    def _laid(self, *, is_sideways: bool) -> Looks:
        """The picture on the stitches that were asked for.

        Raises:
            Problems: they are too many.
        """
        shown = self._picture.turned() if is_sideways else self._picture
        stitches = self._asked.stitches or self._across(shown, is_sideways=is_sideways)
        rows = rows_of(shown, stitches, self._gauge)
        if rows * stitches > MOST_STITCHES:
            what = f"The chart has {stitches:,} x {rows:,} stitches; {MOST_STITCHES:,} can be drafted."
            raise Problems([Problem(what, mend="Give fewer --stitches, or a smaller --width.")])
        parts = parts_of(shown, rows, stitches, self._ground)
        if not self._is_outlined:
            return looks_of(parts)
        outline = outline_of(parts.cover)
        if outline is None:
            what = f"Hardly anything of the picture is there: no {2 * HALF + 1} stitches side by side."
            mend = "Say what colour lies there, such as --ground white"
            raise Problems([Problem(what, str(self._path), mend=mend)])
        self._missed = outline.missed
        return looks_of(outline.part_of(parts), outline.there)

    def _across(self, shown: picture.Picture, *, is_sideways: bool) -> int:
        """So many stitches make the width, which is the picture's even where it is knitted sideways."""
        try:
            wide_cm = length_cm(self._asked.width or "")
        except AmissError as amiss:
            raise Problems([Problem(f'"width" {amiss.what}', mend=amiss.mend)]) from None
        if is_sideways:
            wide_cm *= Fraction(shown.width, shown.height)
        return max(1, round(wide_cm / self._gauge.stitch_cm))


def _box(word: str) -> picture.Box:
    numbers = re.fullmatch(r"(\d{1,5}),(\d{1,5}),(\d{1,5}),(\d{1,5})", word, re.ASCII)
    box = picture.Box(*map(int, numbers.groups())) if numbers else None
    if box is None or not box.width or not box.height:
        what = f"The part {quoted(word)} is not understood."
        raise Problems([Problem(what, mend="--crop is LEFT,TOP,WIDTH,HEIGHT in pixels, such as 0,40,300,200")])
    return box
