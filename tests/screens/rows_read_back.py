"""What is drawn in row mode, read back letter by letter and yarn by yarn, and what the
steps say should stand there."""

from __future__ import annotations

import string
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Literal

from rich.style import Style
from test_never_cut_off import Shown
from test_two_metres import SCALES
from wcag import LEAST, contrast

from companion.knitting.cloth.rows import Place
from companion.knitting.hands import steps as do
from companion.knitting.hands.runs import RunSteps, run_steps
from companion.progress.actions import On, WholeRow
from companion.progress.deciding import decide
from companion.progress.fold import apply
from companion.progress.session import Session
from companion.screens.figures import CLOSE, drawn


def rows_of(session: Session) -> Iterator[Session]:
    """The sessions at which a press is a row, from the one before the first stitch."""
    while not session.is_worked:
        yield session
        session = apply(session, decide(session, WholeRow()))
        while session.act is not None:
            session = apply(session, decide(session, On()))


def standing(lines: Iterable[str]) -> tuple[str, ...]:
    """What is drawn, without the empty lines below it."""
    kept = list(lines)
    while kept and not kept[-1].strip():
        kept.pop()
    return tuple(kept)


MARKS = {"tide before the storm": "TIDE B", "Tide after the storm": "TIDE A"}
"""What stands for yarns with long names."""

GLYPHS = {
    standing(drawn(one, scale)): (one, scale.across)
    for scale in (*SCALES, CLOSE) for one in string.digits + string.ascii_uppercase + "-.,/+"
}
"""Every character in every size by what is drawn for it, and how wide a dot of it is."""


def text_in(lines: Iterable[str]) -> str:
    """What stands there in large letters."""
    text, gap = "", 0
    for is_gap, group in groupby(zip(*lines, strict=True), lambda column: not "".join(column).strip()):
        columns = list(group)
        if is_gap:
            gap = len(columns)
        else:
            letter, across = GLYPHS[standing(map("".join, zip(*columns, strict=True)))]
            text += " " * (gap > across) + letter
    return text.strip()


def read(shown: Shown, session: Session) -> str:
    """All that stands there in large letters, commas left out, yarns in brackets, each on its own colour."""
    found, lines, high = list[str](), shown.now, shown.plan.sizes.main.lines
    while lines:
        block, lines = lines[:high], lines[high:]
        cells = [[(one, style) for text, style in line for one in text] for line in block]
        for style, group in groupby(zip(*cells, strict=True), lambda column: column[0][1]):
            rows = ["".join(one for one, _ in row) for row in zip(*group, strict=True)]
            if isinstance(style, Style):
                mark = text_in(row[1:-1] for row in rows)
                [yarn] = {yarn for yarn in session.piece.yarns if on_colour_of(style, yarn.colour)}
                assert chip_of(yarn.name, session) == f"[{mark}]"
                found.append(f"[{mark}]")
            else:
                found.append(text_in(rows))
        while lines and not lines[0]:  # keeps two rows apart
            lines = lines[1:]
    return " ".join(" ".join(found).replace(",", "").split())


def on_colour_of(style: Style, colour: str) -> bool:
    """The ground is of this colour, and the ink reads well on it."""
    assert style.color is not None
    assert style.bgcolor is not None
    assert contrast(style.color.get_truecolor(), style.bgcolor.get_truecolor()) >= LEAST
    return style.bgcolor.name == colour


def chip_of(yarn: str, session: Session) -> str:
    """What is read of a yarn."""
    return f"[{MARKS.get(yarn, session.piece.yarn(yarn).symbol.upper())}]"


def to_come(session: Session) -> list[RunSteps]:
    """The runs of the row that are to be worked."""
    place = session.next_place
    assert place is not None
    runs = range(place.segment, len(session.rows[place.row].segments))
    return [run_steps(session.strands, Place(place.row, run), session.piece.catching) for run in runs]


def wanted(session: Session, *, in_words: Literal["", "ready", "reach"] = "") -> str:
    """What must be read, in this order. ``in_words``: but for what is to be had ready, which is told where it is
    joined; but for that and for strands within reach, which are seen as one comes to them."""
    said, verb = [*at_the_turn(session, is_whole=not in_words), session.rows[session.at.row].side], ""
    runs = to_come(session)
    if any(isinstance(step, do.Cross) for run in runs for step in run.into):
        said.append("CROSS")
    for run in runs:
        said += begun(run, session)
        for step in run.into:
            match step:
                case do.Fetch(_, _, on_needle, _, where):
                    verbs = {"below": "BRING UP", "ahead": f"FETCH {on_needle}"}
                    said += [verbs.get(where, f"CARRY {on_needle}")] * (in_words != "reach" or where == "behind")
                case do.Join() | do.Hold():
                    said.append("JOIN" if isinstance(step, do.Join) else "HOLD")
                case do.Steady(_, side):
                    said.append("TO BACK" if side == "RS" else "TO FRONT")
                case do.Share(_, works):
                    said.append(f"SHARE {sum(works)}")
                case _:
                    assert isinstance(step, do.Cross)
        inside, verb = worked_in(run, session, verb)
        said += inside
    return " ".join(said)


def every_run(session: Session) -> tuple[str, str, str]:
    """The same as a whole and in either way with something in words."""
    return wanted(session), wanted(session, in_words="ready"), wanted(session, in_words="reach")


def worked_in(run: RunSteps, session: Session, verb: str = "") -> tuple[list[str], str]:
    """What is read of a run's stitches, and how the last of them are worked; ``verb``: those before it."""
    said, chip = list[str](), chip_of(run.segment.yarn, session)
    for step in run.inside:
        match step:
            case do.Work(_, _, hands):
                for stitches, text in stretches(hands):
                    said += [str(stitches), *[text] * (text != verb), chip]
                    verb = text
            case do.Catch(yarn) | do.Rest(yarn, True):
                said += ["CATCH", chip_of(yarn, session)]
            case do.Rest(yarn, False):
                said += ["LEAVE", chip_of(yarn, session)]
            case do.Shape(_, "bind off" | "cast on" | "loops" as how, more, _):
                said.append(f"{'BIND OFF' if how == 'bind off' else 'CAST ON'} {abs(more)}")
            case _:
                assert isinstance(step, do.Shape)
                said.append(step.how.upper())
    return [*said, *[chip] * (said[-1] != chip)], verb


def at_the_turn(session: Session, *, is_whole: bool) -> Iterator[str]:
    """What is left to do at the end of the row before."""
    for step in session.row_end[-1] if session.is_at_turn and session.done else ():
        match step:
            case do.Turn():
                yield "TURN"
            case do.HaveReady(yarns, shared) if is_whole:
                yield from ("HAVE READY", *(chip_of(one, session) for one in (*yarns, *shared)))
            case do.GoFlat() | do.GoRound():
                yield "GO FLAT" if isinstance(step, do.GoFlat) else "GO ROUND"
            case _:
                assert isinstance(step, do.Count | do.HaveReady)


def begun(run: RunSteps, session: Session) -> Iterator[str]:
    """What is cast on."""
    if cast := [step for step in run.before if isinstance(step, do.CastOn)]:
        yield f"CAST ON {sum(step.stitches for step in cast)}"
        yield from (chip_of(one, session) for one in dict.fromkeys(step.yarn for step in cast))
    yield from ("JOIN" for step in run.before if isinstance(step, do.JoinRound))


def stretches(hands: tuple[tuple[str, int], ...]) -> Iterator[tuple[int, str]]:
    """Stitches that are worked alike, or in turn: as many as go on in that way, four stretches at least, or three of
    few stitches."""
    while hands:
        many = next((n for n in range(len(hands), 2, -1) if is_in_turn(hands[:n])), 1)
        stitches, alike = sum(n for _, n in hands[:many]), hands[:min(many, 2)]
        yield stitches, " ".join(f"{hand}{n}" for hand, n in alike).upper() if many > 1 else VERBS[hands[0][0]]
        hands = hands[many:]


def is_in_turn(hands: tuple[tuple[str, int], ...]) -> bool:
    """Two stretches over and over."""
    is_enough = len(hands) > 3 or max(n for _, n in hands) <= 4
    return is_enough and all(one == other for one, other in zip(hands, hands[2:], strict=False))


VERBS = {"k": "KNIT", "p": "PURL"}
